//! Steps as they are printed: what governs them first, then the joints with this step's drill or fastener, then the
//! values to record and the marks to make.
//!
//! Everything a step needs is repeated at the step; nobody has to turn back a page with a tool in hand.

use serde::Serialize;

use super::Source;
use super::caution::{self, Caution};
use super::cover::Departure;
use super::joint::{decode, head_side, hole_before, leave_open, named, prepared};
use super::torque::{self, TorqueStrip};
use crate::hardware::Fastener;
use crate::job::{Joint, Preparation, Record, Role, Step, StepKind, StepRef, operation};
use crate::units::{Length, counted, spent};
use crate::work::LastChance;

/// One step.
#[derive(Debug, Clone, Serialize)]
pub struct StepSheet {
    /// Stable name.
    pub id: String,
    /// Operation number: `010`.
    pub number: String,
    /// Title.
    pub title: String,
    /// What it does.
    pub kind: &'static str,
    /// First sixteen digits of the step's digest.
    pub digest: String,
    /// Whether a helper is needed.
    pub helper: bool,
    /// Estimated time.
    pub time: Option<String>,
    /// Cautions of this step.
    pub cautions: Vec<Caution>,
    /// Accepted departures that concern it.
    pub departures: Vec<Departure>,
    /// Holes that stay open, said before the fastening.
    pub leave_open: Vec<String>,
    /// What must be done or open first.
    pub needs: Vec<String>,
    /// What it closes or opens.
    pub closes: Vec<String>,
    /// The last look before what it closes, where the state of the work is known.
    pub last_chances: Vec<LastChance>,
    /// Its open discrepancies, where the state of the work is known.
    pub discrepancies: Vec<String>,
    /// Parts it works on.
    pub parts: Vec<String>,
    /// Drawing views.
    pub drawings: Vec<String>,
    /// Tools as named.
    pub tools: Vec<String>,
    /// Joints with this step's drill or fastener.
    pub joints: Vec<StepJoint>,
    /// Torques, at the step that applies them.
    pub torques: Vec<TorqueStrip>,
    /// Markdown with values.
    pub text: Option<String>,
    /// Values to measure.
    pub records: Vec<RecordLine>,
    /// Waiting time after it.
    pub cure: Option<Cure>,
    /// Photo prompt.
    pub photo: Option<String>,
    /// Who marks it.
    pub signs: Vec<Sign>,
    /// Number of the session that ends with this step, where one does.
    pub ends_session: Option<usize>,
    /// Revision with which it changed, where this print is the first since.
    pub changed: Option<String>,
    /// Whether it surely fits a page, so that the layout need not measure it.
    pub short: bool,
}

/// A joint at a step.
#[derive(Debug, Clone, Serialize)]
pub struct StepJoint {
    /// Id.
    pub id: String,
    /// Name.
    pub name: Option<String>,
    /// How many holes or fasteners, in words.
    pub count: String,
    /// The size or call to work with, to be read at arm's length.
    pub lead: String,
    /// More about it, a line each.
    pub lines: Vec<String>,
}

/// A value to measure.
#[derive(Debug, Clone, Serialize)]
pub struct RecordLine {
    /// Id.
    pub id: String,
    /// What is measured.
    pub label: String,
    /// The limits in words, with unit.
    pub requirement: String,
    /// Unit beside the blank.
    pub unit: Option<String>,
    /// Instrument.
    pub tool: Option<String>,
    /// What was read, where the step is signed.
    pub read: Option<String>,
}

/// Waiting time after a step.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
pub struct Cure {
    /// Earliest.
    pub earliest: Option<String>,
    /// Latest, of a recoat window.
    pub latest: Option<String>,
}

/// Who marks a step.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
pub struct Sign {
    /// `done`, `hold` or `witness`.
    pub kind: &'static str,
    /// Role in words.
    pub role: &'static str,
    /// What the mark says.
    pub words: String,
    /// Whether it is given before the step is worked: the hold of a closing.
    pub first: bool,
    /// Where it was signed before; then there is no box.
    pub signed: Option<String>,
}

pub(super) fn sheets(source: Source<'_>) -> Vec<StepSheet> {
    let sessions = super::session::plan(source.traveler);
    let steps = source.traveler.steps.iter().enumerate();
    let sheets = steps.map(|(at, step)| {
        let sheet = sheet(source, at, step);
        StepSheet { ends_session: super::session::ending_with(&sessions, at), short: is_short(&sheet), ..sheet }
    });
    sheets.collect()
}

fn sheet(source: Source<'_>, at: usize, step: &Step) -> StepSheet {
    let traveler = source.traveler;
    let joints: Vec<&Joint> = step.joints.iter().map(|number| &traveler.joints[number.value]).collect();
    let texts = |list: &[crate::job::Text]| list.iter().map(|text| text.value.clone()).collect::<Vec<_>>();
    let digest = crate::work::step_digest(source.job, StepRef { traveler: source.index, step: at }).hex();
    StepSheet {
        id: step.id.value.clone(),
        number: operation(step.number),
        title: step.title.value.clone(),
        kind: step.kind.value.word(),
        digest: digest.chars().take(16).collect(),
        helper: step.helper.value,
        time: step.minutes.map(|minutes| spent(minutes.value)),
        cautions: caution::of_step(&source.job.project.cautions, traveler, step),
        departures: super::cover::departures_of_step(source, step),
        leave_open: exceptions(source, step, &joints),
        needs: needs(source, step),
        closes: closes(source, step),
        last_chances: Vec::new(),
        discrepancies: Vec::new(),
        parts: parts(source, step),
        drawings: texts(&step.drawings),
        tools: texts(&step.tools),
        joints: joints.iter().map(|joint| at_step(joint, at, step.kind.value)).collect(),
        torques: joints.iter().filter(|joint| is_torqued(joint, at)).filter_map(|joint| torque::strip(joint)).collect(),
        text: step.text.as_ref().map(|text| text.value.clone()),
        records: step.records.iter().map(record).collect(),
        cure: cure(step),
        photo: step.photo.as_ref().map(|photo| photo.value.clone()),
        signs: signs(source, step),
        ends_session: None,
        changed: None,
        short: false,
    }
}

/// An upper estimate of a step's lines against what any page holds; a wrong guess costs time, not the layout.
fn is_short(step: &StepSheet) -> bool {
    const LETTERS_A_LINE: usize = 45;
    const LINES_A_PAGE: usize = 30;
    let lines = |text: &str| text.lines().map(|line| 1 + line.chars().count() / LETTERS_A_LINE).sum::<usize>();
    let all = |texts: &[String]| texts.iter().map(|text| lines(text)).sum::<usize>();
    let joint = |joint: &StepJoint| 2 + lines(&joint.lead) + joint.name.as_deref().map_or(0, lines) + all(&joint.lines);
    let total = 3
        + lines(&step.title)
        + step.cautions.iter().map(|caution| 1 + lines(&caution.text) * 3 / 2).sum::<usize>()
        + step
            .departures
            .iter()
            .map(|one| 3 + lines(&one.because) + one.found.as_deref().map_or(0, lines))
            .sum::<usize>()
        + [&step.leave_open, &step.needs, &step.closes, &step.parts, &step.drawings, &step.tools]
            .map(|list| all(list))
            .iter()
            .sum::<usize>()
        + step.joints.iter().map(joint).sum::<usize>()
        + step.torques.len() * 6
        + step.text.as_deref().map_or(0, |text| lines(text) * 2 + text.matches("![").count() * LINES_A_PAGE)
        + step.records.iter().map(|record| 3 + lines(&record.label) * 3 + lines(&record.requirement)).sum::<usize>()
        + step.cure.iter().count() * 4
        + step.photo.as_deref().map_or(0, |photo| 2 + lines(photo))
        + step.signs.len() * 4;
    total < LINES_A_PAGE
}

/// Holes that stay open are named before the step that would fill them.
fn exceptions(source: Source<'_>, step: &Step, joints: &[&Joint]) -> Vec<String> {
    if !step.kind.value.fastens() {
        return Vec::new();
    }
    let sentence = |joint: &&Joint| leave_open(source.job, joint).map(|words| format!("{}: {words}", joint.id.value));
    joints.iter().filter_map(sentence).collect()
}

fn needs(source: Source<'_>, step: &Step) -> Vec<String> {
    let job = source.job;
    let mut lines: Vec<String> = Vec::new();
    for need in &step.needs {
        let needed = job.step(need.value);
        let id = &job.travelers[need.value.traveler].id.value;
        lines.push(format!("done: {id} step {} {}", operation(needed.number), needed.title.value));
    }
    for number in &step.zones {
        lines.push(format!("open: {}", job.zone(number.value).name.value));
    }
    for number in &step.opens {
        lines.push(format!("opens: {}", job.zone(number.value).name.value));
    }
    lines
}

fn closes(source: Source<'_>, step: &Step) -> Vec<String> {
    step.closes.iter().map(|number| source.job.zone(number.value).name.value.clone()).collect()
}

fn parts(source: Source<'_>, step: &Step) -> Vec<String> {
    let name = |number: &crate::job::Index| {
        let part = &source.traveler.parts[number.value];
        let warning =
            part.look_alike.as_ref().map_or(String::new(), |other| format!(" (not the same as {})", other.value));
        format!("{} {}{warning}", part.id.value, part.name.value)
    };
    step.parts.iter().map(name).collect()
}

fn at_step(joint: &Joint, at: usize, kind: StepKind) -> StepJoint {
    let before = hole_before(joint, at);
    let (count, lead, lines) = match kind {
        StepKind::Drill | StepKind::Ream => made(joint, at, kind),
        StepKind::Rivet | StepKind::Bolt => fastened(joint, at),
        StepKind::Torque => torqued(joint),
        StepKind::Countersink => formed(joint, Preparation::Countersink, "countersink 100 deg"),
        StepKind::Dimple => formed(joint, Preparation::Dimple, "dimple"),
        // Once a fastener is in, it is what there is to look at.
        _ if is_set(joint, at) => looked_at(joint),
        _ => (counted(joint.count.value, "hole", "holes"), String::new(), Vec::new()),
    };
    let mut lines = lines;
    if !kind.makes_holes()
        && !kind.fastens()
        && kind != StepKind::Torque
        && !is_set(joint, at)
        && let Some(size) = before
    {
        lines.push(format!("hole now {}", size.full()));
    }
    StepJoint {
        id: joint.id.value.clone(),
        name: joint.name.as_ref().map(|name| name.value.clone()),
        count,
        lead,
        lines,
    }
}

type AtStep = (String, String, Vec<String>);

fn made(joint: &Joint, at: usize, kind: StepKind) -> AtStep {
    let reached = joint.life.iter().find(|life| life.step == at).and_then(|life| life.hole);
    let tool = if kind == StepKind::Ream { "ream" } else { "drill" };
    let lead = reached.map_or_else(|| "size not known".to_owned(), |hole| format!("{tool} {}", hole.size.full()));
    let from = hole_before(joint, at)
        .map_or_else(|| "undrilled until now".to_owned(), |size| format!("opens {}", size.full()));
    let final_size = joint.final_hole().map(|hole| hole.size);
    let last = match (reached, final_size) {
        (Some(reached), Some(last)) if reached.size.length == last.length => "final size".to_owned(),
        (_, Some(last)) => format!("final size later: {}", last.full()),
        (_, None) => "final size not given".to_owned(),
    };
    (counted(joint.count.value, "hole", "holes"), lead, vec![format!("{from}; {last}")])
}

fn fastened(joint: &Joint, at: usize) -> AtStep {
    let set = joint.set_here();
    let count = if set == joint.count.value { format!("{set}") } else { format!("{set} of {}", joint.count.value) };
    let mut lines = vec![decode(joint)];
    let solid = matches!(joint.fastener, Ok(Fastener::SolidRivet(_)));
    if let Some(side) = head_side(joint) {
        lines.push(format!("{} on {side}", if solid { "manufactured head" } else { "head" }));
    }
    if let Some(line) = shop_head(joint) {
        lines.push(line);
    }
    if let Some(size) = hole_before(joint, at) {
        let stack = joint.thickness().map_or(String::new(), |total| format!("; stack {}", total.both()));
        lines.push(format!("hole {}{stack}", size.full()));
    }
    if let Some(wet) = &joint.wet {
        lines.push(format!("WET: set with {}", wet.value));
    }
    bolt_lines(joint, &mut lines);
    (count, joint.call.clone(), lines)
}

/// Whether a step is the one that applies the joint's torque: a step of that kind, or the bolting where none follows.
fn is_torqued(joint: &Joint, at: usize) -> bool {
    let kind_here = joint.life.iter().find(|life| life.step == at).map(|life| life.kind);
    let later = || joint.life.iter().any(|life| life.step > at && life.kind == StepKind::Torque);
    kind_here == Some(StepKind::Torque) || (kind_here == Some(StepKind::Bolt) && !later())
}

/// Whether the joint was fastened for good before a step.
fn is_set(joint: &Joint, at: usize) -> bool {
    joint.fastenings().any(|life| life.step < at)
}

/// What can be seen of a joint that is fastened.
fn looked_at(joint: &Joint) -> AtStep {
    let torque =
        torque::strip(joint).map(|strip| format!("torque {}, {}, without the nut's drag", strip.range, strip.source));
    let lines =
        head_side(joint).map(|side| format!("head on {side}")).into_iter().chain(shop_head(joint)).chain(torque);
    (joint.set_here().to_string(), joint.call.clone(), lines.collect())
}

/// The torque itself stands in the strip below; here is what it is applied to.
fn torqued(joint: &Joint) -> AtStep {
    let nut = joint.nut.iter().map(|nut| format!("nut: {}", named(nut)));
    let pin = joint.cotter.iter().map(|pin| format!("new cotter pin: {}", named(pin)));
    (format!("{}", joint.set_here()), joint.call.clone(), nut.chain(pin).collect())
}

/// The shop head to aim at and the least that passes.
pub(super) fn shop_head(joint: &Joint) -> Option<String> {
    let Ok(Fastener::SolidRivet(rivet)) = &joint.fastener else { return None };
    let head = crate::hardware::driven_head(rivet.diameter, rivet.alloy);
    let both =
        |diameter: Length, height: Length| format!("{} in wide, {} in high", diameter.inch_text(), height.inch_text());
    let aim = both(head.diameter.value, head.height.value);
    let least = both(head.least_diameter.value, head.least_height.value);
    Some(format!("shop head: aim at {aim}; at least {least}"))
}

fn bolt_lines(joint: &Joint, lines: &mut Vec<String>) {
    let stack = |list: &[crate::job::Hardware]| list.iter().map(named).collect::<Vec<_>>().join(" + ");
    for (place, list) in [("washers under head", &joint.washers_head), ("washers under nut", &joint.washers_nut)] {
        if !list.is_empty() {
            lines.push(format!("{place}: {}", stack(list)));
        }
    }
    for (what, hardware) in [("nut", &joint.nut), ("new cotter pin", &joint.cotter)] {
        if let Some(hardware) = hardware {
            lines.push(format!("{what}: {}", named(hardware)));
        }
    }
}

fn formed(joint: &Joint, preparation: Preparation, verb: &str) -> AtStep {
    let size = joint
        .diameter()
        .map_or_else(String::new, |d| d.fraction_text().map_or_else(|| d.both(), |text| format!("{text} in")));
    let layers = prepared(joint, preparation).map(|layer| {
        let thickness = layer.thickness.map_or(String::new(), |thickness| format!(", {}", thickness.both()));
        format!("{verb} {}{thickness}", layer.name)
    });
    let plain = prepared(joint, Preparation::Plain).map(|layer| format!("leave {} plain", layer.name));
    let lines = layers.chain(plain).collect();
    (counted(joint.count.value, "hole", "holes"), format!("for {size} {}", joint.call), lines)
}

fn record(record: &Record) -> RecordLine {
    RecordLine {
        id: record.id.value.clone(),
        label: record.label.value.clone(),
        requirement: requirement(record),
        unit: record.unit.as_ref().map(|unit| unit.value.clone()),
        tool: record.tool.as_ref().map(|tool| tool.value.clone()),
        read: None,
    }
}

/// The limits of a measured value in words.
pub(super) fn requirement(record: &Record) -> String {
    let unit = record.unit.as_ref().map_or(String::new(), |unit| format!(" {}", unit.value));
    match (&record.min, &record.max) {
        (Some(min), Some(max)) if min.value == max.value => format!("exactly {}{unit}", min.value),
        (Some(min), Some(max)) => format!("{} to {}{unit}", min.value, max.value),
        (Some(min), None) => format!("at least {}{unit}", min.value),
        (None, Some(max)) => format!("at most {}{unit}", max.value),
        (None, None) => "write the value".to_owned(),
    }
}

fn cure(step: &Step) -> Option<Cure> {
    let text = |minutes: &Option<crate::text::Spanned<crate::units::Minutes>>| {
        minutes.as_ref().map(|minutes| minutes.value.to_string())
    };
    let cure = Cure { earliest: text(&step.cure), latest: text(&step.cure_latest) };
    (cure.earliest.is_some() || cure.latest.is_some()).then_some(cure)
}

/// The builder's own mark, then whoever must or may look: the step's own points and those of the zones it closes.
fn signs(source: Source<'_>, step: &Step) -> Vec<Sign> {
    let mut signs = vec![Sign {
        kind: "done",
        role: Role::Builder.word(),
        words: "done by".to_owned(),
        first: false,
        signed: None,
    }];
    let zones = step.closes.iter().filter_map(|number| source.job.zone(number.value).hold);
    let mut holds: Vec<Role> = step.hold.into_iter().chain(zones).map(|role| role.value).collect();
    holds.dedup();
    for role in holds {
        if !signs.iter().any(|sign| sign.kind == "hold" && sign.role == role.word()) {
            let first = !step.closes.is_empty();
            let until = if first { "nothing is closed" } else { "the next step is not begun" };
            let words = format!("{until} until the {} has looked and signed", role.word());
            signs.push(Sign { kind: "hold", role: role.word(), words, first, signed: None });
        }
    }
    if let Some(witness) = &step.witness {
        let role = witness.value.word();
        signs.push(Sign {
            kind: "witness",
            role,
            words: format!("the {role} is invited; work may go on"),
            first: false,
            signed: None,
        });
    }
    signs
}
