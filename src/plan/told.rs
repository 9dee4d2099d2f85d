//! What is made in English below planning, told in the language that is spoken: plain words of hardware, titles and texts of
//! usual steps.
//!
//! Those modules know no language, for requirements stand on what they make. A text is told again as a whole or by the
//! pattern that made it; a builder's own text is not looked at.

use crate::figure::{Drawing, Mark};
use crate::hardware::Fastener;
use crate::job::{Job, Origin, Project, Record, Step, StepRef};
use crate::phrase;
use crate::units::Style;

/// The pieces of a part number in plain words.
const HARDWARE: [&str; 11] = phrase::patterns![
    "{head} head",
    "{size} dia",
    "{size} long over all",
    "{size} long",
    "{size} thick",
    "grip {range}",
    "thread from {size}",
    "class {class}",
    "{words} (from memory)",
    "for {size}",
    "{words} x {size}",
];

/// Titles of usual steps.
const TITLES: [&str; 6] = phrase::patterns![
    "Verify and {one}",
    "Verify, {one}, {two}",
    "Bolt, {some} and {last}",
    "Bolt and {one}",
    "Close: {space}",
    "Close {space}",
];

/// Captions and notes of figures.
const FIGURES: [&str; 17] = phrase::patterns![
    "Section, {scale}",
    "Hole pattern, {scale}",
    "Where the holes lie",
    "Outline of the manufactured head drawn by eye.",
    "Outlines of the head and of the pulled end drawn by eye.",
    "Outline of the pulled end drawn by eye.",
    "Outlines of the head and of the nutplate drawn by eye; thread depth not to scale.",
    "Outlines of the head and of the nut drawn by eye; thread depth not to scale.",
    "Outline of the head drawn by eye; thread depth not to scale.",
    "Outline of the nutplate drawn by eye; thread depth not to scale.",
    "Outline of the nut drawn by eye; thread depth not to scale.",
    "Thread depth not to scale.",
    "{first}; where either is off by more than the rule's finest line, do not use the strip.",
    "{first}; where it is off by more than the rule's finest line, do not use the strip.",
    "Dashed arc: {distance} ({words}), the smallest edge distance. It may touch the edge, not cross it.",
    "Dotted arc: {distance}, what the next size ({name}) would need.",
    "Lay strips over each other so that the hole and the edge at equal letters lie on each other.",
];

/// What stands in a figure beside sizes and names.
const LABELLED: [&str; 2] = phrase::patterns!["{edge}; left: {end}", "{edge}; right: {end}"];

/// Labels of the values that usual steps ask for.
const LABELS: [&str; 1] = phrase::patterns!["Smallest shop head of {joint}, {what}"];

/// Tools that usual steps name.
const TOOLS: [&str; 1] = phrase::patterns!["drill {name}"];

/// Limits of a reading.
const LIMITS: [&str; 4] =
    phrase::patterns!["exactly {limit}", "at least {limit}", "at most {limit}", "{low} to {high}"];

/// A figure with its caption, its notes and what stands in it.
pub(super) fn drawing(mut drawn: Drawing) -> Drawing {
    let told = |words: &str| phrase::retold(words, &FIGURES, phrase::word);
    for words in std::iter::once(&mut drawn.caption).chain(&mut drawn.notes) {
        *words = told(words);
    }
    for mark in &mut drawn.marks {
        // A whole label is a name or a size.
        if let Mark::Label { text, .. } = mark
            && text.contains("; ")
        {
            *text = phrase::retold(text, &LABELLED, str::to_owned);
        }
    }
    drawn
}

/// The limits of a reading in words; values stay as they are. Those that lie as far below nothing as above are said once.
pub(super) fn limits(words: &str) -> String {
    if let Some(limit) = either_way(words) {
        return format!("±{limit}");
    }
    phrase::retold(words, &LIMITS, str::to_owned)
}

/// The upper limit with its unit, where the lower one is the same below nothing: of `-0.1 to 0.1 deg`, `0.1 deg`.
fn either_way(words: &str) -> Option<&str> {
    let (low, rest) = words.split_once(' ')?;
    let below = low.strip_prefix('-')?;
    // Only a range begins with a sign; between its ends stands one word.
    let high = rest.split_once(' ')?.1;
    (high.split(' ').next() == Some(below)).then_some(high)
}

/// A part number in plain words.
pub(super) fn described(fastener: &Fastener, style: &Style) -> String {
    hardware(&fastener.describe(style))
}

/// Plain words of hardware, piece by piece.
pub(super) fn hardware(words: &str) -> String {
    if phrase::spoken().is_none() {
        return words.to_owned();
    }
    words.split(", ").map(|piece| phrase::retold(piece, &HARDWARE, phrase::word)).collect::<Vec<_>>().join(", ")
}

/// The title of a step.
pub(super) fn title(job: &Job, at: StepRef) -> String {
    let step = job.step(at);
    let title = step.title.value.as_str();
    // The title of an entry that changes a usual step is the builder's own.
    let is_own = match step.origin {
        Origin::Usual => false,
        Origin::Changed => step.spec.entry.title.is_some(),
        Origin::Written => true,
    };
    if is_own || phrase::spoken().is_none() {
        return title.to_owned();
    }
    let whole = |title: &str| {
        phrase::retold(title, &TITLES, |value| value.split(", ").map(phrase::word).collect::<Vec<_>>().join(", "))
    };
    // `Rivet J1: Plate to rib`: the joint's name is the builder's own.
    let joint = step.joints.first().map(|named| &job.joint(named.joint).id.value);
    let of_joint = joint.map(|id| format!(" {id}")).and_then(|id| title.find(&id).map(|at| title.split_at(at)));
    match of_joint {
        Some((verb, name)) => whole(verb) + name,
        None => whole(title),
    }
}

/// The text of a step where it is that of built-in procedures, line by line; Markdown in, Markdown out, and no word of a
/// translation is code in it. The lines of the project's own procedures stay.
pub(super) fn text(project: &Project, step: &Step) -> Option<String> {
    let text = step.text.as_ref().map(|text| text.value.as_str())?;
    if step.spec.text.is_some() || phrase::spoken().is_none() {
        return Some(text.to_owned());
    }
    let own = step.procedures.iter().map(|index| &project.procedures[*index]).filter(|own| own.span.is_some());
    let own: Vec<&str> = own.flat_map(|own| own.text.lines()).collect();
    let told = text.lines().map(|written| if own.contains(&written) { written.to_owned() } else { line(written) });
    Some(told.collect::<Vec<_>>().join("\n"))
}

/// What a photo must show; usual steps say it by themselves.
pub(super) fn photo(step: &Step) -> Option<String> {
    let photo = step.photo.as_ref()?;
    let is_usual = step.origin != Origin::Written;
    Some(if is_usual { phrase::word(&photo.value) } else { photo.value.clone() })
}

/// The tools of a step; drills that a usual step names by itself.
pub(super) fn tools(step: &Step) -> Vec<String> {
    let is_usual = step.origin != Origin::Written;
    let told = |tool: &str| if is_usual { phrase::retold(tool, &TOOLS, str::to_owned) } else { tool.to_owned() };
    step.tools.iter().map(|tool| told(&tool.value)).collect()
}

/// Whether a usual step made a record, and no builder: all of it then stands at one place.
fn is_made(record: &Record) -> bool {
    record.id.span == record.label.span
}

/// What is measured.
pub(super) fn label(record: &Record) -> String {
    let label = &record.label.value;
    if is_made(record) { phrase::retold(label, &LABELS, phrase::word) } else { label.clone() }
}

/// With what it is measured.
pub(super) fn tool(record: &Record) -> Option<String> {
    let tool = record.tool.as_ref()?;
    Some(if is_made(record) { phrase::word(&tool.value) } else { tool.value.clone() })
}

fn line(line: &str) -> String {
    let words = line.trim_start_matches(['-', ' ']);
    let mark = &line[..line.len() - words.len()];
    let told = phrase::word(words);
    if told != words {
        return format!("{mark}{}", escaped(&told));
    }
    // `J1, J2: drive one ...` begins small what begins large where it stands alone.
    let Some((joints, rest)) = words.split_once(": ") else { return line.to_owned() };
    let large = capitalised(rest);
    let told = phrase::word(&large);
    if told == large { line.to_owned() } else { format!("{mark}{joints}: {}", escaped(&told)) }
}

fn capitalised(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// Words with every mark of Markdown and of templates as itself.
fn escaped(words: &str) -> String {
    let mut escaped = String::new();
    for c in words.chars() {
        match c {
            // A template would begin; what is said of no value needs no brace.
            '{' | '}' => escaped.push(if c == '{' { '(' } else { ')' }),
            c if c.is_ascii_punctuation() && !".,;:()/%'".contains(c) => escaped.extend(['\\', c]),
            c => escaped.push(c),
        }
    }
    escaped
}
