//! Cases of a rule, read from its page `tests/rules/<family>/<fault>.md`.
//!
//! A page has a heading with the rule's name, and under `## fires`, `## passes` and `## limit` a sentence or two and the
//! case itself as a block of TOML: one traveler, or several files, each with its name behind the block's `toml`. What
//! a case leaves unsaid is filled in (`fill.rs`). `# fires: a, b` at the end of a line marks the rules that fire there.

use std::collections::BTreeSet;
use std::path::PathBuf;

use shophead::report::Finding;
use shophead::rules::Rule;

use super::fill::{Filled, fill};
use super::{Judged, judge_project};

/// The three kinds of case that every rule has.
pub const KINDS: [&str; 3] = ["fires", "passes", "limit"];

/// A finding's place and rule: `line 12: edge = "0.22"`, or what was filled in.
pub type Mark = (String, String);

/// One case.
#[derive(Debug)]
pub struct Case {
    /// What the page says about it.
    pub says: String,
    /// Its files by name, sorted.
    pub files: Vec<Filled>,
    /// The lines that are marked, with the rules that they name.
    pub marks: BTreeSet<Mark>,
}

/// A path beside the other pages and pinned diagnostics of a rule's family.
pub fn beside(rule: &Rule, end: &str) -> PathBuf {
    let name = format!("{}.{end}", rule.name);
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/rules").join(rule.family).join(name)
}

/// The case of a kind on a rule's page.
pub fn read(rule: &Rule, kind: &str) -> Case {
    let path = beside(rule, "md");
    let page = std::fs::read_to_string(&path).unwrap_or_else(|failure| panic!("{}: {failure}", path.display()));
    assert!(page.starts_with(&format!("# {}\n", rule.name)), "{}: the heading is not the rule's name", path.display());
    let headings: Vec<&str> = page.lines().filter_map(|line| line.strip_prefix("## ")).collect();
    assert_eq!(headings, KINDS, "{}", path.display());
    case(kind, &page)
}

/// The case under a heading of a page.
pub fn case(kind: &str, page: &str) -> Case {
    let heading = format!("## {kind}");
    let lines = page.lines().enumerate().map(|(index, line)| (index + 1, line));
    let below = lines.skip_while(|(_, line)| *line != heading).skip(1);
    let mut case = Case { says: String::new(), files: Vec::new(), marks: BTreeSet::new() };
    let mut open: Option<(String, Vec<(usize, &str)>)> = None;
    for (at, line) in below.take_while(|(_, line)| !line.starts_with("## ")) {
        match (&mut open, line.strip_prefix("```")) {
            (None, Some(info)) => {
                let name = info.strip_prefix("toml").unwrap_or_else(|| panic!("line {at}: a block of `{info}`")).trim();
                let name = if name.is_empty() { format!("{kind}.toml") } else { name.to_owned() };
                open = Some((name, Vec::new()));
            }
            (None, None) => case.says.push_str(line),
            (Some(_), Some(_)) => {
                let (name, lines) = open.take().unwrap();
                case.files.push(fill(&name, &lines));
            }
            (Some((_, lines)), None) => {
                let names = line.split_once("# fires:").into_iter().flat_map(|(_, names)| names.split(','));
                case.marks.extend(names.map(|name| (place(at, line), name.trim().to_owned())));
                lines.push((at, line));
            }
        }
    }
    assert!(open.is_none(), "`{kind}` has a block without an end");
    case.files.sort_by(|one, other| one.name.cmp(&other.name));
    case
}

fn place(at: usize, line: &str) -> String {
    format!("line {at}: {}", line.split("# fires:").next().unwrap_or_default().trim())
}

impl Case {
    /// The case under all rules, beside its own project file or that of all cases.
    pub fn judge(&self) -> Judged {
        let own = self.files.iter().find(|file| file.name == "build.toml");
        let project = own.map_or(include_str!("../../rules/build.toml"), |file| &file.text);
        let travelers = self.files.iter().filter(|file| file.name != "build.toml");
        let travelers: Vec<(&str, &str)> = travelers.map(|file| (file.name.as_str(), file.text.as_str())).collect();
        judge_project(project, &travelers)
    }

    /// What was found, each at the line of the page that it is about.
    pub fn found(&self, page: &str, judged: &Judged) -> BTreeSet<Mark> {
        let place = |finding: &Finding| {
            let name = judged.files.path(finding.span.file);
            let line = judged.files.position(finding.span).line;
            let Some(file) = self.files.iter().find(|file| file.name == name) else { return format!("{name}: {line}") };
            match file.origin[line - 1] {
                Some(at) => place(at, page.lines().nth(at - 1).unwrap()),
                None => format!("filled in: {}", file.text.lines().nth(line - 1).unwrap()),
            }
        };
        judged.standing().map(|finding| (place(finding), finding.rule.to_owned())).collect()
    }
}
