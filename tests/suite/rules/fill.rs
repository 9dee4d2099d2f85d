//! Fills in what a case of a rule leaves unsaid, so that a case says only what it is about.
//!
//! A case is TOML with short headings, one line each; every other heading and every `[[heading]]` stays as written:
//!
//! | heading | stands for | filled in |
//! |---|---|---|
//! | `[rivets.J1]` | `[[joint]]` J1 | a row of 1/8 solid rivets through .032 and .040 that suits them: see [`RIVETS`] |
//! | `[bolts.J1]` | `[[joint]]` J1 | a row of AN3 bolts through two sheets of .125, nut and washer: see [`BOLTS`] |
//! | `[part.P1]` | `[[part]]` P1 | a name and 2024-T3; with a name as `S032` also the thickness, .032 |
//! | `[drill.pilot]` | `[[step]]` pilot, `do = "drill"` | a title; any word that stands here is the step's kind; `[drill]` has its kind as id |
//! | `[usual]` | the usual steps of these joints | drill, deburr, then rivet the rivets and bolt the bolts |
//! | `[allow.pitch-long]` | `[[allow]]` of that rule | a reason |
//! | `[traveler]` | itself | id, title, revision; `[traveler]` itself where nobody wrote it, with the id `FIX-1`, or `A` in `a.toml` |
//!
//! A key that the case writes takes the place of the one filled in, in the same place; `without = ["edge"]` leaves some
//! out. Parts named as `S032` in a stack are filled in where the case does not describe them. A case without steps
//! gets the usual ones at its end. A `build.toml` gets an aircraft where it names none, and nothing else.
//!
//! Refuses a key that says what would be filled in anyway, and a `without` that takes nothing away.

/// A joint of rivets that no rule has anything against, as `[rivets.J1]` without a key.
const RIVETS: &[(&str, &str)] = &[
    ("name", "\"Rivet row\""),
    ("stack", "[\"S032\", \"S040\"]"),
    ("fastener", "\"MS20470AD4-4\""),
    ("count", "12"),
    ("holes", "{ final = \"#30\" }"),
    ("edge", "\"0.32\""),
    ("pitch", "\"0.75\""),
    ("structure", "\"secondary\""),
    ("access", "\"both sides\""),
];

/// A joint of bolts that no rule has anything against, as `[bolts.J1]` without a key.
const BOLTS: &[(&str, &str)] = &[
    ("name", "\"Bolts\""),
    ("stack", "[\"S125\", \"S125\"]"),
    ("fastener", "\"AN3-5A\""),
    ("count", "12"),
    ("holes", "{ final = \"#11\" }"),
    ("edge", "\"0.6\""),
    ("pitch", "\"1.5\""),
    ("structure", "\"secondary\""),
    ("access", "\"both sides\""),
    ("nut", "\"MS21044N3\""),
    ("washers", "{ nut = [\"NAS1149F0363P\"] }"),
];

/// A file of a case as the program reads it.
#[derive(Debug)]
pub struct Filled {
    /// Its name: `fires.toml`, `a.toml`, `build.toml`.
    pub name: String,
    /// Its text.
    pub text: String,
    /// For each line of the text the line of the page where it was written; none where it was filled in.
    pub origin: Vec<Option<usize>>,
}

/// A line with its number on the page, none where it is filled in.
type Line = (Option<usize>, String);

/// A heading with the lines below it.
struct Block<'a> {
    at: usize,
    heading: &'a str,
    mark: &'a str,
    keys: Vec<Key<'a>>,
}

/// A key with its lines: more than one where its value goes on below.
struct Key<'a> {
    name: &'a str,
    lines: Vec<(usize, &'a str)>,
}

impl<'a> Block<'a> {
    /// The word and the name of a heading as `[drill.pilot]`, and nothing of any other heading.
    fn short(&self) -> Option<(&'a str, &'a str)> {
        let inner = self.heading.strip_prefix('[')?.strip_suffix(']')?;
        (!inner.starts_with('[')).then(|| inner.split_once('.').unwrap_or((inner, inner)))
    }

    fn written(&self) -> Vec<Line> {
        let heading = (Some(self.at), format!("{}{}", self.heading, self.mark));
        let below = self.keys.iter().flat_map(|key| key.lines.iter().map(|(at, line)| (Some(*at), (*line).to_owned())));
        std::iter::once(heading).chain(below).collect()
    }

    /// The block as a table of the format: its heading, its id, what is filled in or written in its place, and the rest.
    fn filled(&self, heading: &str, id: Option<(&str, &str)>, given: &[(&str, String)]) -> Vec<Line> {
        let mut lines = vec![(None, heading.to_owned())];
        if id.is_none() {
            lines[0].0 = Some(self.at);
            lines[0].1.push_str(self.mark);
        }
        lines.extend(id.map(|(key, name)| (Some(self.at), format!("{key} = \"{name}\"{}", self.mark))));
        let without = self.without();
        for name in &without {
            let taken = given.iter().any(|(key, _)| key == name) && !self.keys.iter().any(|key| key.name == *name);
            assert!(taken, "line {}: `without` {name} takes nothing away", self.at);
        }
        for (name, value) in given {
            let filled = format!("{name} = {value}");
            match self.keys.iter().find(|key| key.name == *name) {
                Some(key) => {
                    assert!(key.lines[0].1 != filled, "line {}: is filled in anyway", key.lines[0].0);
                    lines.extend(key.lines.iter().map(|(at, line)| (Some(*at), (*line).to_owned())));
                }
                None if without.contains(name) => {}
                None => lines.push((None, filled)),
            }
        }
        let others =
            self.keys.iter().filter(|key| key.name != "without" && given.iter().all(|(name, _)| *name != key.name));
        lines.extend(others.flat_map(|key| key.lines.iter().map(|(at, line)| (Some(*at), (*line).to_owned()))));
        lines
    }

    fn without(&self) -> Vec<&'a str> {
        let keys = self.keys.iter().filter(|key| key.name == "without");
        keys.flat_map(|key| quoted(key.lines[0].1)).collect()
    }
}

/// The texts in quotes of a line.
fn quoted(line: &str) -> Vec<&str> {
    line.split("# fires:").next().into_iter().flat_map(|line| line.split('"').skip(1).step_by(2)).collect()
}

fn blocks<'a>(lines: &[(usize, &'a str)]) -> Vec<Block<'a>> {
    let mut blocks: Vec<Block> = Vec::new();
    for &(at, line) in lines.iter().filter(|(_, line)| !line.trim().is_empty()) {
        if line.starts_with('[') {
            let cut = line.find("     # fires:").unwrap_or(line.len());
            blocks.push(Block { at, heading: &line[..cut], mark: &line[cut..], keys: Vec::new() });
            continue;
        }
        let block = blocks.last_mut().unwrap_or_else(|| panic!("line {at}: a case begins with a heading"));
        let name = line.split(['=', ' ']).next().unwrap_or_default();
        match block.keys.last_mut().filter(|_| name.is_empty() || name.starts_with(']')) {
            Some(key) => key.lines.push((at, line)),
            None => block.keys.push(Key { name, lines: vec![(at, line)] }),
        }
    }
    blocks
}

/// Name, metal and, where the name tells it, thickness of a part.
fn part(id: &str) -> Vec<(&'static str, String)> {
    let metal = ("material", "\"2024-T3\"".to_owned());
    match id.strip_prefix('S').filter(|digits| digits.len() > 2 && digits.bytes().all(|byte| byte.is_ascii_digit())) {
        Some(digits) => {
            vec![("name", format!("\"Sheet .{digits}\"")), metal, ("thickness", format!("\"0.{digits}\""))]
        }
        None => vec![("name", "\"Plate\"".to_owned()), metal],
    }
}

/// The parts that stacks name by their thickness and nobody described, in the order in which they are named.
fn parts(blocks: &[Block]) -> Vec<Line> {
    let described: Vec<&str> = blocks
        .iter()
        .filter_map(|block| match (block.heading, block.short()) {
            ("[[part]]", _) => quoted(block.keys.iter().find(|key| key.name == "id")?.lines[0].1).first().copied(),
            (_, Some(("part", id))) => Some(id),
            _ => None,
        })
        .collect();
    let mut named: Vec<String> = Vec::new();
    for (_, line) in blocks.iter().flat_map(expanded).filter(|(_, line)| line.starts_with("stack = ")) {
        for id in quoted(&line) {
            if part(id).len() == 3 && !described.contains(&id) && !named.iter().any(|name| name == id) {
                named.push(id.to_owned());
            }
        }
    }
    let table = |id: &String| {
        let facts = part(id).into_iter().map(|(key, value)| format!("{key} = {value}"));
        ["[[part]]".to_owned(), format!("id = \"{id}\"")]
            .into_iter()
            .chain(facts)
            .chain([String::new()])
            .collect::<Vec<_>>()
    };
    named.iter().flat_map(table).map(|line| (None, line)).collect()
}

/// The usual steps of the joints that were written short.
fn usual(blocks: &[Block]) -> Vec<Line> {
    let of = |words: &[&str]| -> Vec<&str> {
        let joints = blocks.iter().filter_map(Block::short).filter(|(word, _)| words.contains(word));
        joints.map(|(_, id)| id).collect()
    };
    let both = ["rivets", "bolts"];
    let steps = [
        ("drill", "Drill to final size", of(&both)),
        ("deburr", "Take apart and deburr both sides", of(&both)),
        ("rivet", "Fasten", of(&["rivets"])),
        ("bolt", "Fasten", of(&["bolts"])),
    ];
    let mut lines = Vec::new();
    for (kind, title, joints) in steps.into_iter().filter(|(.., joints)| !joints.is_empty()) {
        let table = format!("[[step]]\nid = \"{kind}\"\ntitle = \"{title}\"\ndo = \"{kind}\"\njoints = {joints:?}\n");
        lines.extend(table.split('\n').map(|line| (None, line.to_owned())));
    }
    lines
}

/// A block as the format has it; `[traveler]` and `[usual]`, which need more than themselves, stay as written.
fn expanded(block: &Block) -> Vec<Line> {
    let model = |keys: &[(&'static str, &str)]| keys.iter().map(|(key, value)| (*key, (*value).to_owned())).collect();
    let Some((word, name)) = block.short() else { return block.written() };
    let (heading, key, given): (&str, &str, Vec<(&str, String)>) = match word {
        "traveler" | "usual" => return block.written(),
        "rivets" => ("[[joint]]", "id", model(RIVETS)),
        "bolts" => ("[[joint]]", "id", model(BOLTS)),
        "part" => ("[[part]]", "id", part(name)),
        "allow" => ("[[allow]]", "rule", model(&[("because", "\"the case is about something else\"")])),
        kind => ("[[step]]", "id", vec![("title", title(name)), ("do", format!("\"{kind}\""))]),
    };
    block.filled(heading, Some((key, name)), &given)
}

/// `fit-again` as `"Fit again"`.
fn title(id: &str) -> String {
    let mut letters = id.chars();
    let first = letters.next().map(|letter| letter.to_ascii_uppercase());
    format!("\"{}{}\"", first.unwrap_or_default(), letters.as_str().replace('-', " "))
}

/// Id, title and revision of a traveler: `FIX-1`, or `A` in `a.toml`.
fn head(name: &str) -> [(&'static str, String); 3] {
    let letter = name.strip_suffix(".toml").filter(|stem| stem.len() == 1).map(str::to_uppercase);
    let id = letter.as_deref().unwrap_or("FIX-1");
    let title = letter.as_ref().map_or("Fixture".to_owned(), |letter| format!("Fixture {letter}"));
    [("id", format!("\"{id}\"")), ("title", format!("\"{title}\"")), ("revision", "\"A\"".to_owned())]
}

/// A file of a case, filled in; `lines` are those of the page with their numbers.
pub fn fill(name: &str, lines: &[(usize, &str)]) -> Filled {
    let blocks = blocks(lines);
    let all = if name == "build.toml" { project(&blocks) } else { traveler(name, &blocks) };
    let mut filled = Filled { name: name.to_owned(), text: String::new(), origin: Vec::new() };
    for (at, line) in all {
        filled.text.push_str(&line);
        filled.text.push('\n');
        filled.origin.push(at);
    }
    filled
}

fn project(blocks: &[Block]) -> Vec<Line> {
    let named = blocks.iter().any(|block| block.heading == "[aircraft]");
    let aircraft = ["[aircraft]", "name = \"Dunlin two-seat\"", ""].map(|line| (None, line.to_owned()));
    let aircraft = aircraft.into_iter().filter(|_| !named);
    aircraft.chain(blocks.iter().flat_map(|block| apart(block.written()))).collect()
}

fn traveler(name: &str, blocks: &[Block]) -> Vec<Line> {
    let table = blocks.iter().find(|block| block.heading == "[traveler]");
    let unwritten = Block { at: 0, heading: "[traveler]", mark: "", keys: Vec::new() };
    let mut all = apart(table.unwrap_or(&unwritten).filled("[traveler]", None, &head(name)));
    if table.is_none() {
        all[0].0 = None;
    }
    all.extend(parts(blocks));
    let is_step = |block: &Block| {
        block.heading == "[[step]]"
            || block.short().is_some_and(|(word, _)| !["traveler", "rivets", "bolts", "part", "allow"].contains(&word))
    };
    for block in blocks.iter().filter(|block| block.heading != "[traveler]") {
        all.extend(if block.heading == "[usual]" { usual(blocks) } else { apart(expanded(block)) });
    }
    if !blocks.iter().any(is_step) {
        all.extend(usual(blocks));
    }
    all
}

/// With an empty line behind.
fn apart(mut lines: Vec<Line>) -> Vec<Line> {
    lines.push((None, String::new()));
    lines
}
