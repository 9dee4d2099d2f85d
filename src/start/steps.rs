//! The usual steps for a traveler's joints, in the order of the trade: common practice, no plan's own sequence.
//!
//! verify, lay out, pin, drill, match-drill, take apart, deburr, countersink, dimple, clean, prime, cure, fit, fasten,
//! torque, inspect, photograph, close. A step that no joint asks for is not written.

use std::collections::BTreeSet;

use super::closing::{Closing, works_inside};
use super::{list, quoted, sentences};
use crate::hardware::{Fastener, Shop, ShopHead, shop_head};
use crate::job::{Joint, Preparation, Safety, Traveler};
use crate::units::{Length, Size, Style};

/// One step while it is put together.
struct Start {
    id: String,
    title: String,
    kind: &'static str,
    /// Lines of TOML between `do` and the text.
    keys: Vec<String>,
    /// Lines of Markdown.
    text: Vec<&'static str>,
    /// Comments above the step.
    comments: Vec<&'static str>,
}

impl Start {
    fn new(id: impl Into<String>, title: impl Into<String>, kind: &'static str) -> Self {
        Self { id: id.into(), title: title.into(), kind, keys: Vec::new(), text: Vec::new(), comments: Vec::new() }
    }

    fn joints(mut self, joints: &[&Joint]) -> Self {
        self.keys.push(format!("joints = {}", list(joints.iter().map(|joint| joint.id.value.as_str()))));
        self
    }

    fn parts(mut self, traveler: &Traveler) -> Self {
        if !traveler.parts.is_empty() {
            self.keys.push(format!("parts = {}", list(traveler.parts.iter().map(|part| part.id.value.as_str()))));
        }
        self
    }

    fn key(mut self, line: impl Into<String>) -> Self {
        self.keys.push(line.into());
        self
    }

    fn text(mut self, lines: &[&'static str]) -> Self {
        self.text.extend(lines);
        self
    }

    fn comment(mut self, lines: &[&'static str]) -> Self {
        self.comments.extend(lines);
        self
    }
}

/// The steps of a traveler as TOML; `closes` is the space that the last step closes, `shop` what there is to drill with, `style` how the project writes sizes.
#[must_use]
pub fn steps_text(traveler: &Traveler, closes: Option<&Closing>, shop: &Shop, style: &Style) -> String {
    let joints: Vec<&Joint> = traveler.joints.iter().collect();
    let mut steps = prepare(traveler, &joints);
    steps.extend(make_holes(traveler, &joints, shop, style));
    steps.extend(form(&joints));
    steps.extend(protect(traveler, &joints));
    steps.extend(fasten(&joints));
    steps.extend(finish(traveler, &joints, closes, style));
    let mut out = String::from(
        "\n# The usual steps for these joints, in the order of the trade. The drawing decides: change, drop and add as it says.\n\
         # Add `minutes` to each, so that the packet can be divided into evenings; `shophead check` says what does not fit.\n",
    );
    let mut taken = BTreeSet::new();
    for mut step in steps {
        if let Some(closing) = closes.filter(|_| works_inside(step.kind)) {
            step.keys.push(format!("spaces = {}", list([closing.space.as_str()])));
        }
        write_step(&mut out, &step, &mut taken);
    }
    if closes.is_none() {
        out.push_str("\n# [[step]]\n# id = \"close\"\n# title = \"Close the bay\"\n# do = \"close\"\n# closes = [\"left-wing-bay-3\"]     # a space of build.toml\n");
    }
    out
}

fn write_step(out: &mut String, step: &Start, taken: &mut BTreeSet<String>) {
    let mut id = step.id.clone();
    let mut number = 2;
    while !taken.insert(id.clone()) {
        id = format!("{}-{number}", step.id);
        number += 1;
    }
    out.push('\n');
    let mut line = |text: &str| {
        out.push_str(text);
        out.push('\n');
    };
    step.comments.iter().for_each(|comment| line(&format!("# {comment}")));
    line("[[step]]");
    for (key, value) in [("id", id.as_str()), ("title", &step.title), ("do", step.kind)] {
        line(&format!("{key} = {}", quoted(value)));
    }
    step.keys.iter().for_each(|key| line(key));
    if !step.text.is_empty() {
        line("text = \"\"\"");
        step.text.iter().for_each(|text| line(&format!("- {text}")));
        line("\"\"\"");
    }
}

/// The joint's id as part of a step's.
fn slug(text: &str) -> String {
    let plain: String =
        text.chars().map(|c| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' }).collect();
    plain.trim_matches('-').to_owned()
}

fn named(verb: &str, joint: &Joint) -> String {
    match &joint.name {
        Some(name) => format!("{verb}: {}", name.value),
        None => format!("{verb} {}", joint.id.value),
    }
}

fn prepare(traveler: &Traveler, joints: &[&Joint]) -> Vec<Start> {
    let verify = Start::new("verify", "Verify documents, parts and hardware", "prepare").parts(traveler).text(&[
        "Compare the revision on each drawing in hand with the one printed on the cover.",
        "Count the parts, measure their thickness, mark each with its id and which way is up.",
        "Pull the hardware of the list; measure one of each call.",
    ]);
    let undrilled: Vec<&Joint> = joints.iter().copied().filter(|joint| joint.delivered_most().is_none()).collect();
    let mut steps = vec![verify];
    if !undrilled.is_empty() {
        steps.push(Start::new("lay-out", "Lay out the holes", "lay-out").joints(&undrilled).text(&[
            "Mark edge lines, then rows, then holes, on the upper part alone.",
            "Measure the smallest edge distance before anything is drilled.",
        ]));
    }
    if traveler.parts.len() > 1 {
        let step = Start::new("pin", "Pin the parts together", "fit").parts(traveler);
        let step = step.text(&["Clamp on the lines, square and straight; check the hand."]);
        steps.push(step.text(sentences::pinned(joints).as_slice()));
    }
    steps
}

/// A pilot through undrilled stacks, then the final size; bolt holes by drill and reamer.
fn make_holes(traveler: &Traveler, joints: &[&Joint], shop: &Shop, style: &Style) -> Vec<Start> {
    let mut steps = Vec::new();
    let pilot = shop.pilot();
    let larger = |joint: &&Joint| {
        joint.delivered_most().is_none() && joint.last.is_some_and(|last| last.size.length > pilot.length)
    };
    let piloted: Vec<&Joint> = joints.iter().copied().filter(larger).collect();
    if !piloted.is_empty() {
        let step = Start::new("pilot", "Drill pilot holes through all layers", "drill").joints(&piloted);
        let step = step.key(format!("to = {}", quoted(&style.typed(pilot))));
        steps.push(step.text(&["Drill square to the sheet; hold each end first, then from the middle outward."]));
    }
    steps.extend(sized_steps(
        joints,
        is_reamed,
        "drill-under",
        "Open to reaming size",
        "drill",
        |joint| under_size(joint, shop),
        style,
    ));
    let drilled = |joint: &Joint| !is_reamed(joint);
    let last = |joint: &Joint| joint.last.map(|hole| hole.size).filter(|size| needs_drilling(joint, *size));
    steps.extend(sized_steps(joints, drilled, "match-drill", "Match-drill to final size", "drill", last, style));
    steps.extend(sized_steps(joints, is_reamed, "ream", "Ream to final size", "ream", last, style));
    let worked: Vec<&Joint> = joints
        .iter()
        .copied()
        .filter(|joint| joint.last.is_some_and(|hole| needs_drilling(joint, hole.size)))
        .collect();
    if traveler.parts.len() > 1 && !worked.is_empty() {
        let text = &["Mark mating faces and ends before anything comes apart."];
        steps.push(Start::new("take-apart", "Take the parts apart", "take-apart").parts(traveler).text(text));
    }
    if !worked.is_empty() {
        let step = Start::new("deburr", "Deburr holes and edges", "deburr").joints(&worked);
        steps.push(step.text(&["Both faces of every layer, then all edges; break the burr, do not countersink."]));
    }
    steps
}

fn is_reamed(joint: &Joint) -> bool {
    matches!(joint.fastener, Ok(Fastener::Bolt(_)))
}

fn needs_drilling(joint: &Joint, last: Size) -> bool {
    joint.delivered().is_none_or(|start| start.size.length < last.length)
}

/// The drill before the reamer, where it is larger than what is there before.
fn under_size(joint: &Joint, shop: &Shop) -> Option<Size> {
    let under = shop.under(joint.last?.size.length)?;
    let before = joint.delivered_most().map_or(shop.pilot().length, |start| start.size.length);
    (under.length > before).then_some(under)
}

/// One step for each size, smallest first, with the joints that reach it there.
fn sized_steps(
    joints: &[&Joint],
    wanted: impl Fn(&Joint) -> bool,
    id: &str,
    title: &str,
    kind: &'static str,
    size: impl Fn(&Joint) -> Option<Size>,
    style: &Style,
) -> Vec<Start> {
    let sizes: BTreeSet<Size> = joints.iter().filter(|joint| wanted(joint)).filter_map(|joint| size(joint)).collect();
    let one = |wanted_size: &Size| {
        let at_size: Vec<&Joint> =
            joints.iter().copied().filter(|joint| wanted(joint) && size(joint) == Some(*wanted_size)).collect();
        let first = at_size.first().map_or(String::new(), |joint| slug(&joint.id.value));
        let step =
            Start::new(format!("{id}-{first}"), format!("{title}: {}", names_of(&at_size)), kind).joints(&at_size);
        // The final size stands with the joint alone, so that a change there cannot leave another number here.
        let ends = at_size.iter().all(|joint| joint.last.is_some_and(|last| last.size == *wanted_size));
        let step = if ends { step } else { step.key(format!("to = {}", quoted(&style.typed(*wanted_size)))) };
        step.text(&[match (kind, ends) {
            ("ream", _) => "Try the reamer in scrap of the same stack first, and the bolt in its hole.",
            (_, true) => "Try the drill in scrap of the same stack first, and the fastener in its hole.",
            (_, false) => "Try the drill in scrap of the same stack first.",
        }])
    };
    sizes.iter().map(one).collect()
}

/// The joints' ids for a title; long lists are cut.
fn names_of(joints: &[&Joint]) -> String {
    const MOST: usize = 5;
    let shown: Vec<&str> = joints.iter().take(MOST).map(|joint| joint.id.value.as_str()).collect();
    let more = joints.len().saturating_sub(MOST);
    if more > 0 { format!("{} and {more} more", shown.join(", ")) } else { shown.join(", ") }
}

fn form(joints: &[&Joint]) -> Vec<Start> {
    let with = |wanted: fn(Preparation) -> bool| -> Vec<&Joint> {
        joints.iter().copied().filter(|joint| joint.layers.iter().any(|layer| wanted(layer.preparation))).collect()
    };
    let cut = with(Preparation::is_cut);
    let formed = with(|preparation| preparation == Preparation::Dimple);
    let mut steps = Vec::new();
    if !cut.is_empty() {
        let text = [sentences::countersunk(&cut), "Check the first three, then every tenth."];
        steps.push(Start::new("countersink", "Countersink", "countersink").joints(&cut).text(&text));
    }
    if !formed.is_empty() {
        let text = &[
            "Try the dies on scrap of the same sheet: sharp edge, flat around it, no crack.",
            "Check the side of the head for every part.",
        ];
        steps.push(Start::new("dimple", "Dimple", "dimple").joints(&formed).text(text));
    }
    steps
}

fn protect(traveler: &Traveler, joints: &[&Joint]) -> Vec<Start> {
    if traveler.parts.is_empty() || joints.is_empty() {
        return Vec::new();
    }
    let clean = Start::new("clean", "Clean for primer", "clean")
        .parts(traveler)
        .text(&["Degrease, abrade, wipe until the cloth stays clean; gloves from here on."]);
    let prime = Start::new("prime", "Prime", "prime").parts(traveler).key("cure = \"24 h\"");
    let prime = prime.comment(&[
        "Cure time and recoat window come from the primer's data sheet: put its numbers in place of these.",
    ]);
    let mut steps = vec![
        clean,
        prime.text(&["Thin and even, also on faces that will meet; write batch and time of mixing on the sheet."]),
    ];
    if traveler.parts.len() > 1 {
        let step = Start::new("fit", "Fit together for fastening", "fit").parts(traveler);
        steps.push(step.text(&[sentences::fitted(joints)]));
    }
    steps
}

fn fasten(joints: &[&Joint]) -> Vec<Start> {
    let mut steps = Vec::new();
    for joint in joints {
        let id = slug(&joint.id.value);
        let step = |prefix: &str, verb: &str, kind: &'static str, text: &[&'static str]| {
            Start::new(format!("{prefix}-{id}"), named(verb, joint), kind).joints(&[*joint]).text(text)
        };
        match &joint.fastener {
            Ok(Fastener::SolidRivet(_)) => steps.push(step("rivet", "Rivet", "rivet", &sentences::driven(joint))),
            Ok(Fastener::BlindRivet(_)) => steps.push(step("rivet", "Pull rivets", "rivet", &PULLED)),
            Ok(Fastener::Bolt(_) | Fastener::Screw(_)) => {
                steps.push(step("bolt", "Bolt", "bolt", &sentences::bolted(joint)));
                if joint.nut.is_some() || joint.safety() == Safety::Wire {
                    let verb = sentences::tighten_verb(joint);
                    steps.push(step("torque", verb, "torque", &sentences::tightened(joint)));
                }
            }
            _ => {}
        }
    }
    steps
}

const PULLED: [&str; 2] = ["Hold the sheets together while pulling; the head must sit all round.", "Count the stems."];
fn finish(traveler: &Traveler, joints: &[&Joint], closes: Option<&Closing>, style: &Style) -> Vec<Start> {
    let mut inspect = Start::new("inspect", "Inspect", "inspect").joints(joints).text(&sentences::inspected(joints));
    if joints.is_empty() {
        inspect.keys.clear();
        inspect = inspect.parts(traveler);
    }
    let records = head_records(joints, style);
    if !records.is_empty() {
        inspect.keys.push(format!("records = [\n    {},\n]", records.join(",\n    ")));
    }
    let inspect = inspect
        .comment(&["hold = \"technical counselor\" stops the work until that role has signed; witness = ... invites."]);
    let photograph = Start::new("photograph", "Photograph what will be covered", "photograph").parts(traveler);
    let photograph = photograph.key("photo = \"whole assembly, then each joint; you in one of them\"");
    let mut steps = vec![inspect, photograph];
    if let Some(closing) = closes {
        let close = Start::new("close", "Close", "close").key(format!("closes = {}", list([closing.space.as_str()])));
        let close = closing.asks.iter().fold(close, |close, (key, value)| close.key(format!("{key} = {value}")));
        steps.push(close.text(&["Tools counted out, loose rivets and swarf out, photos made, holds signed."]));
    }
    steps
}

/// Unit and smallest reading, as the sheet says it of the joint.
fn least_reading(least: Length, style: &Style) -> String {
    format!("unit = {}, min = {}", quoted(style.word()), style.least_number(least))
}

/// The smallest shop head of each rivet joint, to be measured.
fn head_records(joints: &[&Joint], style: &Style) -> Vec<String> {
    let mut lines = Vec::new();
    for joint in joints {
        if let Ok(Fastener::SolidRivet(rivet)) = &joint.fastener {
            let ShopHead { least_diameter, least_height, .. } = shop_head(rivet.diameter, rivet.alloy);
            for (id, what, least) in [("wide", "width", least_diameter.value), ("high", "height", least_height.value)] {
                lines.push(format!(
                    "{{ id = {}, label = {}, {}, tool = \"head gauge\" }}",
                    quoted(&format!("{}-{id}", slug(&joint.id.value))),
                    quoted(&format!("Smallest shop head of {}, {what}", joint.id.value)),
                    least_reading(least, style)
                ));
            }
        }
    }
    lines
}
