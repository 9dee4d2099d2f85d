//! The head of a new traveler: what it is, its parts and its joints, from a few words each.
//!
//! It reads the words of the command line; whether parts and calls exist is found when the text is loaded.

use super::{list, quoted};
use crate::hardware::{Fastener, decode};
use crate::job::{Project, nearest};
use crate::units::Unit;

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

impl PartOutline {
    /// Reads a part as it is typed; examples are in the project's unit.
    ///
    /// # Errors
    /// Says what is to be written.
    pub fn read(text: &str, project: &Project) -> Result<Self, OutlineFault> {
        let words = words(text);
        let word = |at: usize| words.get(at).cloned().flatten();
        let name = word(1);
        // The number alone stands for a part that the whole build knows.
        let Some(id) = word(0).filter(|_| words.len() == 1 || words.iter().skip(1).any(Option::is_some)) else {
            return Err(OutlineFault(format!(
                "`{text}` is no part: write ID:NAME:MATERIAL:THICKNESS, or the id of a part of build.toml, as in \"P1:Rib web:2024-T3:{}\"",
                by_unit(project, "0.032", "0.8")
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
         has them joined by + or is given again; {TEMPORARY}; {LEAVE_OPEN}; {PATTERN}"
    )
}

const TEMPORARY: &str = "temporary=CALL+WHY, CALL+NUT+WHY, or NUT+WHY where the bolt stays in";
const LEAVE_OPEN: &str = "leave-open=COUNT+TRAVELER/STEP+WHY";
const PATTERN: &str = "pattern=END or END+stagger, with END from the part's end to the first hole";

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

impl Kind {
    /// What its values look like.
    const fn form(self) -> &'static str {
        match self {
            Self::Text | Self::Hole => "a text",
            Self::Number => "a whole number",
            Self::Flag => "true or false",
            Self::Several | Self::Washers => "one word, or several joined by +",
            Self::Temporary => TEMPORARY,
            Self::LeaveOpen => LEAVE_OPEN,
            Self::Pattern => PATTERN,
        }
    }
}

impl JointOutline {
    /// Reads a joint as it is typed; examples are in the project's unit.
    ///
    /// # Errors
    /// Says which word is none, and what is to be written.
    pub fn read(text: &str, project: &Project) -> Result<Self, OutlineFault> {
        let form = || {
            let example =
                by_unit(project, "J1:P1+P2:MS20470AD4:24:0.35:pitch=0.75", "J1:P1+P2:ISO 15981-4:24:8:pitch=20");
            format!("write ID:PART+PART:CALL:COUNT, then edge distance, preparation or KEY=VALUE, as in \"{example}\"")
        };
        let words = words(text);
        let word = |at: usize| words.get(at).cloned().flatten();
        let (Some(id), Some(stack), Some(fastener), Some(count)) = (word(0), word(1), word(2), word(3)) else {
            return Err(OutlineFault(format!("`{text}` is no joint: {}", form())));
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
                (None, _) => {
                    return Err(OutlineFault(format!("`{word}` in `{text}` names no key: {}", form())));
                }
            };
            joint.set(key, value, project).map_err(|fault| OutlineFault(format!("`{text}`: {fault}")))?;
        }
        Ok(joint)
    }

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
    pub fn set(&mut self, key: &str, value: &str, project: &Project) -> Result<(), OutlineFault> {
        let known = JOINT_KEYS.into_iter().find(|(name, _)| *name == key);
        let (key, kind) = known.ok_or_else(|| no_key(key))?;
        let text = value_text(kind, value, project);
        let text = text.ok_or_else(|| OutlineFault(format!("`{value}` is no {key}: write {}", kind.form())))?;
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

fn no_key(key: &str) -> OutlineFault {
    let keys = JOINT_KEYS.map(|(key, _)| key);
    OutlineFault(match nearest(key, keys.into_iter()) {
        Some(near) => format!("a joint has no key `{key}`; did you mean `{near}`?"),
        None => format!("a joint has no key `{key}`; its keys are {}", keys.join(", ")),
    })
}

/// The items of a list as TOML writes it, or the one value.
fn inner(text: &str) -> &str {
    text.strip_prefix('[').and_then(|text| text.strip_suffix(']')).unwrap_or(text)
}

fn value_text(kind: Kind, value: &str, project: &Project) -> Option<String> {
    match kind {
        Kind::Number => value.parse::<u32>().ok().map(|number| number.to_string()),
        Kind::Flag => value.parse::<bool>().ok().map(|flag| flag.to_string()),
        Kind::Washers => Some(list(value.split('+').map(str::trim))),
        Kind::Several if value.contains('+') => Some(list(value.split('+').map(str::trim))),
        Kind::Temporary => temporary_text(value, project),
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

/// What a call or a callout stands for, where the tables or the kit have it.
fn decoded(call: &str, project: &Project) -> Option<Fastener> {
    let callout = project.callouts.iter().find(|(name, _)| name.value == call);
    decode(callout.map_or(call, |(_, meaning)| meaning.value.as_str()), &project.kit).ok()
}

fn temporary_text(value: &str, project: &Project) -> Option<String> {
    let is_nut = |call: &str| matches!(decoded(call, project), Some(Fastener::Nut(_)));
    let keys = match between_plus(value, 3)?.as_slice() {
        [nut, why] if is_nut(nut) => vec![("nut", *nut), ("why", *why)],
        [fastener, why] => vec![("fastener", *fastener), ("why", *why)],
        [fastener, nut, why] => vec![("fastener", *fastener), ("nut", *nut), ("why", *why)],
        _ => return None,
    };
    let keys: Vec<String> = keys.into_iter().map(|(key, text)| format!("{key} = {}", quoted(text))).collect();
    Some(format!("{{ {} }}", keys.join(", ")))
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

/// The text of a traveler: what it is, its parts and its joints, and nothing that follows by itself.
#[must_use]
pub fn outline_text(outline: &Outline, project: &Project) -> String {
    let texts = |list: &[String]| super::list(list.iter().map(String::as_str));
    let mut lines = vec!["[traveler]".to_owned()];
    lines.push(format!("id = {}", quoted(&outline.id)));
    lines.push(format!("title = {}", quoted(&outline.title)));
    let lists = [("hands", &outline.hands), ("drawings", &outline.drawings), ("after", &outline.after)];
    lines.extend(lists.iter().filter(|(_, own)| !own.is_empty()).map(|(key, own)| format!("{key} = {}", texts(own))));
    lines.extend(outline.closes.iter().map(|space| format!("closes = {}", list([space.as_str()]))));
    outline.parts.iter().for_each(|part| lines.extend(part_lines(part)));
    for (nth, joint) in outline.joints.iter().enumerate() {
        lines.extend(joint_lines(joint, nth == 0, project));
    }
    lines.join("\n") + "\n"
}

/// The example of the project's unit.
const fn by_unit(project: &Project, inch: &'static str, mm: &'static str) -> &'static str {
    match project.style.unit {
        Unit::Inch => inch,
        Unit::Mm => mm,
    }
}

fn part_lines(part: &PartOutline) -> Vec<String> {
    let known = [("name", &part.name), ("material", &part.material), ("thickness", &part.thickness)];
    let known = known.into_iter().filter_map(|(key, value)| Some(format!("{key} = {}", quoted(value.as_ref()?))));
    [String::new(), "[[part]]".to_owned(), format!("id = {}", quoted(&part.id))].into_iter().chain(known).collect()
}

/// Holes as a comment: with a pilot below the final size of this fastener, so that it is right when it is taken in. None where
/// the final hole is no larger than the pilot, or of a call that the tables do not have.
fn holes_example(joint: &JointOutline, project: &Project) -> Option<String> {
    let shop = &project.shop;
    let last = shop.usual_hole(&decoded(&joint.fastener, project)?, None)?;
    let start = Some(shop.pilot()).filter(|start| last.value.length > start.length)?;
    Some(format!("# holes = {{ start = {} }}   # where they are delivered so", quoted(&project.style.typed(start))))
}

fn joint_lines(joint: &JointOutline, is_first: bool, project: &Project) -> Vec<String> {
    let of = |key: &str| joint.keys.iter().rev().find(|(name, _)| *name == key).map(|(_, value)| value.as_str());
    let stack = list(joint.stack.iter().map(String::as_str));
    let order = if is_first { "   # manufactured-head side first" } else { "" };
    let mut lines = vec![
        String::new(),
        "[[joint]]".to_owned(),
        format!("id = {}", quoted(&joint.id)),
        format!("stack = {stack}{order}"),
        format!("fastener = {}", quoted(&joint.fastener)),
        format!("count = {}", joint.count),
    ];
    let holes: Vec<String> =
        ["start", "final"].into_iter().filter_map(|key| Some(format!("{key} = {}", of(key)?))).collect();
    match holes.as_slice() {
        [] => lines.extend(holes_example(joint, project)),
        holes => lines.push(format!("holes = {{ {} }}", holes.join(", "))),
    }
    for (key, kind) in JOINT_KEYS {
        match (kind, of(key)) {
            (Kind::Hole, _) | (_, None) => {}
            (Kind::Washers, Some(value)) => lines.push(format!("washers = {{ nut = {value} }}")),
            (_, Some(value)) => lines.push(format!("{key} = {value}")),
        }
    }
    lines
}
