//! The head of a new traveler: what it is, its parts and its joints, from a few words each.
//!
//! It reads the words of the command line; whether parts and calls exist is found when the text is loaded.

use super::{list, quoted};
use crate::hardware::{Shop, decode};
use crate::units::{Style, Unit};

/// What a new traveler is made from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Outline {
    /// Its name in other specs, as `WNG-210`.
    pub id: String,
    /// What is built, as on every page.
    pub title: String,
    /// `left`, `right`; empty for a one-off.
    pub hands: Vec<String>,
    /// `SHEET:REVISION` of the drawings.
    pub drawings: Vec<String>,
    /// Travelers that must be finished first.
    pub after: Vec<String>,
    /// The space of the project that its last step closes.
    pub closes: Option<String>,
    /// Parts in the order of the file.
    pub parts: Vec<PartOutline>,
    /// Joints in the order of the file.
    pub joints: Vec<JointOutline>,
}

/// A part: `ID:name:material:thickness`, the last two optional.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartOutline {
    /// Part number.
    pub id: String,
    /// Name on paper.
    pub name: Option<String>,
    /// Alloy and temper, or another material.
    pub material: Option<String>,
    /// Thickness of its sheet, as typed.
    pub thickness: Option<String>,
}

/// A joint: `ID:PART+PART:CALL:COUNT`, then an edge distance, a preparation, or `key=value`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JointOutline {
    id: String,
    stack: Vec<String>,
    fastener: String,
    count: u32,
    /// Keys and their values as TOML.
    keys: Vec<(&'static str, String)>,
}

/// Why a few words are no part or joint.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OutlineFault(String);

impl std::fmt::Display for OutlineFault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for OutlineFault {}

/// The words between colons, trimmed; an empty one counts as absent.
fn words(text: &str) -> Vec<Option<String>> {
    text.split(':').map(str::trim).map(|word| (!word.is_empty()).then(|| word.to_owned())).collect()
}

impl std::str::FromStr for PartOutline {
    type Err = OutlineFault;

    fn from_str(text: &str) -> Result<Self, OutlineFault> {
        let words = words(text);
        let word = |at: usize| words.get(at).cloned().flatten();
        let name = word(1);
        // The number alone stands for a part that the whole build knows.
        let Some(id) = word(0).filter(|_| name.is_some() || words.len() == 1) else {
            return Err(OutlineFault(format!(
                "`{text}` is no part: write ID:NAME:MATERIAL:THICKNESS, or the id of a part of build.toml, as in \"P1:Rib web:2024-T3:0.032\""
            )));
        };
        if words.len() > 4 {
            return Err(OutlineFault(format!(
                "`{text}` has {} words between colons, but a part has at most 4",
                words.len()
            )));
        }
        Ok(Self { id, name, material: word(2), thickness: word(3) })
    }
}

/// Keys that a joint may be given after its count, and how their values stand in the text.
const JOINT_KEYS: [(&str, Kind); 22] = [
    ("name", Kind::Text),
    ("start", Kind::Hole),
    ("final", Kind::Hole),
    ("edge", Kind::Text),
    ("pitch", Kind::Text),
    ("rows", Kind::Number),
    ("row-gap", Kind::Text),
    ("prepare", Kind::Several),
    ("structure", Kind::Text),
    ("access", Kind::Text),
    ("wet", Kind::Text),
    ("nut", Kind::Text),
    ("washer", Kind::Washers),
    ("cotter", Kind::Text),
    ("torque", Kind::Text),
    ("check-nut", Kind::Text),
    ("rotates", Kind::Flag),
    ("clamped", Kind::Text),
    ("lubricated", Kind::Flag),
    ("temporary", Kind::Temporary),
    ("leave-open", Kind::LeaveOpen),
    ("pattern", Kind::Pattern),
];

/// What the help of the command line says of a joint.
#[must_use]
pub fn joint_help() -> String {
    let keys = JOINT_KEYS.map(|(key, _)| key).join(", ");
    format!(
        "A joint: ID:PART+PART:CALL:COUNT, then edge distance, preparation or KEY=VALUE with {keys}; a key that takes several \
         has them joined by + or is given again; temporary=CALL+WHY or CALL+NUT+WHY, leave-open=COUNT+TRAVELER/STEP+WHY, \
         pattern=END or END+stagger, with END from the part's end to the first hole"
    )
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Text,
    Number,
    /// `true` or `false`.
    Flag,
    /// One text, or several joined by `+`.
    Several,
    /// Part of `holes`.
    Hole,
    /// Under the nut.
    Washers,
    /// Fit-up hardware: a call, its nut where it has one, and why.
    Temporary,
    /// Holes left open: how many, the step that fills them, and why.
    LeaveOpen,
    /// Equal rows: the first hole's distance from the end, and whether rows are staggered.
    Pattern,
}

impl std::str::FromStr for JointOutline {
    type Err = OutlineFault;

    fn from_str(text: &str) -> Result<Self, OutlineFault> {
        let usage = || {
            let keys = JOINT_KEYS.map(|(key, _)| key).join(", ");
            OutlineFault(format!(
                "`{text}` is no joint: write ID:PART+PART:CALL:COUNT, then edge distance, preparation or KEY=VALUE ({keys}), \
                 as in \"J1:P1+P2:MS20470AD4:24:0.35\""
            ))
        };
        let words = words(text);
        let word = |at: usize| words.get(at).cloned().flatten();
        let (Some(id), Some(stack), Some(fastener), Some(count)) = (word(0), word(1), word(2), word(3)) else {
            return Err(usage());
        };
        let count =
            count.parse().map_err(|_| OutlineFault(format!("`{count}` in `{text}` is not a number of fasteners")))?;
        let mut joint = Self::new(id, &stack, fastener, count);
        for (place, word) in words.iter().skip(4).enumerate() {
            let Some(word) = word else { continue };
            let (key, value) = match (word.split_once('='), place) {
                (Some((key, value)), _) => (key.trim(), value.trim()),
                (None, 0) => ("edge", word.as_str()),
                (None, 1) => ("prepare", word.as_str()),
                (None, _) => return Err(usage()),
            };
            joint.set(key, value).map_err(|_| usage())?;
        }
        Ok(joint)
    }
}

impl JointOutline {
    /// A joint with nothing but its stack, `P1+P2` with the side of the manufactured heads first, and its fasteners.
    #[must_use]
    pub fn new(id: String, stack: &str, fastener: String, count: u32) -> Self {
        let stack = stack.split('+').map(|part| part.trim().to_owned()).collect();
        Self { id, stack, fastener, count, keys: Vec::new() }
    }

    /// The call as written.
    #[must_use]
    pub fn fastener(&self) -> &str {
        &self.fastener
    }

    /// Its id.
    #[must_use]
    pub fn id(&self) -> &str {
        &self.id
    }

    /// Gives it one of its keys, a value as it is typed.
    ///
    /// # Errors
    /// When there is no such key, or the value is none of its kind.
    pub fn set(&mut self, key: &str, value: &str) -> Result<(), OutlineFault> {
        let known = JOINT_KEYS.into_iter().find(|(name, _)| *name == key);
        let (key, kind) = known.ok_or_else(|| OutlineFault(format!("a joint has no key `{key}`")))?;
        let text = value_text(kind, value).ok_or_else(|| OutlineFault(format!("`{value}` is no {key}")))?;
        let earlier = self.keys.iter_mut().find(|(name, _)| *name == key);
        match (earlier, kind) {
            // A second washer, a second layer: both count.
            (Some((_, before)), Kind::Washers | Kind::Several) => {
                *before = format!("[{}, {}]", inner(before), inner(&text));
            }
            (Some((_, before)), _) => *before = text,
            (None, _) => self.keys.push((key, text)),
        }
        Ok(())
    }
}

/// The items of a list as TOML writes it, or the one value.
fn inner(text: &str) -> &str {
    text.strip_prefix('[').and_then(|text| text.strip_suffix(']')).unwrap_or(text)
}

fn value_text(kind: Kind, value: &str) -> Option<String> {
    match kind {
        Kind::Number => value.parse::<u32>().ok().map(|number| number.to_string()),
        Kind::Flag => value.parse::<bool>().ok().map(|flag| flag.to_string()),
        Kind::Washers => Some(list(value.split('+').map(str::trim))),
        Kind::Several if value.contains('+') => Some(list(value.split('+').map(str::trim))),
        Kind::Temporary => temporary_text(value),
        Kind::LeaveOpen => leave_open_text(value),
        Kind::Pattern => pattern_text(value),
        Kind::Text | Kind::Hole | Kind::Several => Some(quoted(value)),
    }
}

/// The words of a value between `+`; none where one of them is empty.
fn between_plus(value: &str, most: usize) -> Option<Vec<&str>> {
    let words: Vec<&str> = value.splitn(most, '+').map(str::trim).collect();
    words.iter().all(|word| !word.is_empty()).then_some(words)
}

fn temporary_text(value: &str) -> Option<String> {
    let text = |fastener: &str, nut: &str, why: &str| {
        format!("{{ fastener = {}{nut}, why = {} }}", quoted(fastener), quoted(why))
    };
    match between_plus(value, 3)?.as_slice() {
        [fastener, why] => Some(text(fastener, "", why)),
        [fastener, nut, why] => Some(text(fastener, &format!(", nut = {}", quoted(nut)), why)),
        _ => None,
    }
}

fn leave_open_text(value: &str) -> Option<String> {
    let words = between_plus(value, 3)?;
    let [count, until, why] = words.as_slice() else { return None };
    let count: u32 = count.parse().ok()?;
    Some(format!("{{ count = {count}, until = {}, why = {} }}", quoted(until), quoted(why)))
}

fn pattern_text(value: &str) -> Option<String> {
    match between_plus(value, 2)?.as_slice() {
        [end] => Some(format!("{{ end = {} }}", quoted(end))),
        [end, "stagger"] => Some(format!("{{ end = {}, stagger = true }}", quoted(end))),
        _ => None,
    }
}

/// The text of a traveler up to its steps.
#[must_use]
pub fn outline_text(outline: &Outline, shop: &Shop, style: &Style) -> String {
    let mut lines = vec!["[traveler]".to_owned()];
    lines.push(format!("id = {}", quoted(&outline.id)));
    lines.push(format!("title = {}", quoted(&outline.title)));
    lines.push(
        "revision = \"A\"                    # of this spec: raise it with every change of a requirement".to_owned(),
    );
    if outline.hands.is_empty() {
        lines.push(
            "# hands = [\"left\", \"right\"]       # one packet each, all counts per hand; absent: a one-off"
                .to_owned(),
        );
    } else {
        lines.push(format!(
            "hands = {}       # one packet each, all counts per hand",
            list(outline.hands.iter().map(String::as_str))
        ));
    }
    if outline.drawings.is_empty() {
        lines.push("# drawings = [\"W-210:A\"]         # sheet:revision that this spec was written against".to_owned());
    } else {
        lines.push(format!("drawings = {}", list(outline.drawings.iter().map(String::as_str))));
    }
    if outline.after.is_empty() {
        lines.push("# after = [\"WNG-120\"]            # travelers that must be finished first".to_owned());
    } else {
        lines.push(format!("after = {}", list(outline.after.iter().map(String::as_str))));
    }
    if let Some(space) = &outline.closes {
        lines.push(format!("closes = {}", list([space.as_str()])));
    }
    lines.push("# summary = \"What is built here and why: printed on the cover.\"".to_owned());
    outline.parts.iter().for_each(|part| lines.extend(part_lines(part, style.unit)));
    outline.joints.iter().for_each(|joint| lines.extend(joint_lines(joint, shop, style)));
    lines.join("\n") + "\n"
}

/// The example of a unit.
const fn by_unit(unit: Unit, inch: &'static str, mm: &'static str) -> &'static str {
    match unit {
        Unit::Inch => inch,
        Unit::Mm => mm,
    }
}

fn part_lines(part: &PartOutline, unit: Unit) -> Vec<String> {
    let known = |key: &str, value: &Option<String>, example: &str| match value {
        Some(value) => format!("{key} = {}", quoted(value)),
        None => format!("# {key} = {example}"),
    };
    let Some(name) = &part.name else {
        return vec![String::new(), "[[part]]".to_owned(), format!("id = {}", quoted(&part.id))];
    };
    vec![
        String::new(),
        "[[part]]".to_owned(),
        format!("id = {}", quoted(&part.id)),
        format!("name = {}", quoted(name)),
        known("material", &part.material, "\"2024-T3\""),
        known("thickness", &part.thickness, by_unit(unit, "\"0.032\"", "0.8")),
    ]
}

/// Holes as a comment: with the final size of this fastener, so that it is right when it is taken in.
fn holes_example(joint: &JointOutline, shop: &Shop, style: &Style) -> String {
    let last = decode(&joint.fastener, &[]).ok().and_then(|fastener| shop.usual_hole(&fastener, None));
    let (start, last) = match last {
        Some(last) if last.value.length > shop.pilot().length => (style.typed(shop.pilot()), style.typed(last.value)),
        // A hole of the pilot's size is delivered as it stays; of a callout nobody knows the size yet.
        Some(last) => (style.typed(last.value), style.typed(last.value)),
        None => ("...".to_owned(), "...".to_owned()),
    };
    format!(
        "# holes = {{ start = {}, final = {} }}   # as delivered; what the drawing says",
        quoted(&start),
        quoted(&last)
    )
}

fn joint_lines(joint: &JointOutline, shop: &Shop, style: &Style) -> Vec<String> {
    let of = |key: &str| joint.keys.iter().rev().find(|(name, _)| *name == key).map(|(_, value)| value.as_str());
    let stack = list(joint.stack.iter().map(String::as_str));
    let mut lines = vec![
        String::new(),
        "[[joint]]".to_owned(),
        format!("id = {}", quoted(&joint.id)),
        format!("stack = {stack}   # manufactured-head side first"),
        format!("fastener = {}", quoted(&joint.fastener)),
        format!("count = {}", joint.count),
    ];
    let holes: Vec<String> =
        ["start", "final"].into_iter().filter_map(|key| Some(format!("{key} = {}", of(key)?))).collect();
    lines.push(match holes.as_slice() {
        [] => holes_example(joint, shop, style),
        holes => format!("holes = {{ {} }}", holes.join(", ")),
    });
    for (key, kind) in JOINT_KEYS {
        match (kind, of(key)) {
            (Kind::Hole, _) => {}
            (Kind::Washers, Some(value)) => lines.push(format!("washers = {{ nut = {value} }}")),
            (_, Some(value)) => lines.push(format!("{key} = {value}")),
            (_, None) if key == "edge" => {
                let example = by_unit(style.unit, "\"0.30\"", "8");
                lines.push(format!("# edge = {example}        # smallest distance from hole centre to edge"));
            }
            (_, None) if key == "pitch" => lines.push(format!("# pitch = {}", by_unit(style.unit, "\"0.75\"", "20"))),
            (_, None) if key == "structure" => {
                lines.push("# structure = \"primary\"   # primary, secondary, none".to_owned());
            }
            (_, None) if key == "access" => lines.push("# access = \"both sides\"   # or one side".to_owned()),
            (_, None) => {}
        }
    }
    lines
}
