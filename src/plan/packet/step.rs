//! Steps as they are printed: what governs them first, then the joints with this step's drill or fastener, then the
//! values to record and the marks to make.
//!
//! What the hand needs is repeated at the step; what else there is to know of a joint or a part stands with it, once.

use serde::Serialize;

use super::at_step::{self, StepJoint, is_torqued, joint_id};
use super::caution::{self, Caution};
use super::departure::{self, Departure};
use super::hand_text::HandText;
use super::sign::{self, Marks, Sign, signs};
use super::source::Source;
use super::{history, open};
use crate::archive::{Limits, Signature};
use crate::job::{
    Acts, Compared, Hand, Handled, Handling, JointRef, ReadingRef, Record, Step, StepRef, operation, same_side,
};
use crate::phrase::say;
use crate::plan::joint::{fill, leave_open};
use crate::plan::last_look::LastLook;
use crate::plan::measured::requirement;
use crate::plan::told;
use crate::plan::torque::{self, TorqueStrip};
use crate::units::{Decimal, spent};

/// One step.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct StepSheet {
    /// Stable name.
    pub id: String,
    /// Operation number: `010`.
    pub number: String,
    /// Title of the step.
    pub title: String,
    /// What it does.
    pub kind: &'static str,
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
    /// Holes that were left open and are filled now.
    pub fill: Vec<String>,
    /// What must be done or open first.
    pub needs: Vec<String>,
    /// States that it needs, sets and ends.
    pub states: Vec<String>,
    /// What it closes or opens.
    pub closes: Vec<String>,
    /// The last look before what it closes, where the state of the work is known.
    pub last_looks: Vec<LastLook>,
    /// Its open discrepancies, where the state of the work is known.
    pub discrepancies: Vec<String>,
    /// Parts it works on.
    pub parts: Vec<String>,
    /// Drawing views, then pages of the builder's manual.
    pub drawings: Vec<String>,
    /// Tools as named.
    pub tools: Vec<String>,
    /// Consumables.
    pub uses: Vec<String>,
    /// Joints with this step's drill or fastener.
    pub joints: Vec<StepJoint>,
    /// What is the same for several of them, each with their ids.
    pub common: Vec<String>,
    /// Torques, at the step that applies them.
    pub torques: Vec<TorqueStrip>,
    /// Markdown with values.
    pub text: Option<String>,
    /// The same for each hand, on a packet of both whose hands read it differently; else none.
    pub hand_texts: Vec<HandText>,
    /// Values to measure.
    pub records: Vec<RecordLine>,
    /// Readings that are compared with each other, and states that are read again.
    pub compared: Vec<ComparedLine>,
    /// Waiting time after it.
    pub cure: Option<Cure>,
    /// Photo prompt.
    pub photo: Option<String>,
    /// Who marks it.
    pub signs: Vec<Sign>,
    /// Revision with which it changed, where this print is the first since.
    pub changed: Option<String>,
}

/// A value to measure.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct RecordLine {
    /// Id of the value, as the archive keeps the reading.
    pub id: String,
    /// What is measured, behind the number by which a reading is typed: `060.1`.
    pub label: String,
    /// The limits in words, with unit.
    pub requirement: String,
    /// Unit beside the blank.
    pub unit: Option<String>,
    /// Instrument.
    pub tool: Option<String>,
    /// What was read, where the step is signed.
    pub read: Option<String>,
    /// Of a packet of both hands the same for each; else none.
    pub reads: Vec<Option<String>>,
}

/// Two readings that are compared: what is to be taken from what, and what the difference may be.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct ComparedLine {
    /// What is taken from what.
    pub label: String,
    /// What the difference may be, with unit.
    pub requirement: String,
    /// Unit beside the blank.
    pub unit: Option<String>,
    /// The difference of what was read, where the step is signed and has both.
    pub read: Option<String>,
    /// Of a packet of both hands the same for each; else none.
    pub reads: Vec<Option<String>>,
}

/// Waiting time after a step.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct Cure {
    /// Earliest.
    pub earliest: Option<String>,
    /// Latest, of a recoat window.
    pub latest: Option<String>,
}

/// The steps that are printed, in working order.
pub(super) fn sheets(source: Source<'_>, marks: &Marks<'_>) -> Vec<StepSheet> {
    source.steps().map(|(at, step)| sheet(source, at, step, marks)).collect()
}

fn sheet(source: Source<'_>, at: usize, step: &Step, marks: &Marks<'_>) -> StepSheet {
    let handled = source.job.handled(source.item(at));
    let texts = |list: &[crate::job::Text]| list.iter().map(|text| text.value.clone()).collect::<Vec<_>>();
    let (joints, common) = at_step::joints(source, at);
    let done = sign::done(marks, &step.id.value);
    StepSheet {
        id: step.id.value.clone(),
        number: operation(step.number),
        title: told::title(source.job, source.item(at).at),
        kind: step.kind.value.word(),
        helper: step.helper.value,
        time: step.minutes.map(|minutes| spent(minutes.value)),
        cautions: caution::of_step(source, at),
        departures: departure::of_step(source, step),
        leave_open: stay_open(source, &handled),
        fill: handled
            .iter()
            .filter_map(|one| fill(source.job, &joint_id(source, one.joint, one.hand), one, source.index))
            .collect(),
        needs: needs(source, step),
        states: states(step),
        closes: closes(source, step),
        last_looks: open::last_looks(source, at),
        discrepancies: open::discrepancies(source, at),
        parts: parts(source, step),
        drawings: texts(&step.drawings)
            .into_iter()
            .chain(step.manual.iter().map(|page| say!("manual {page}", page = page.value)))
            .collect(),
        tools: told::tools(step),
        uses: texts(&step.uses),
        joints,
        common,
        torques: torques(source, at, &handled),
        text: told::text(&source.job.project, step),
        hand_texts: Vec::new(),
        records: step.records.iter().enumerate().map(|(nth, own)| record(step.number, nth + 1, own, done)).collect(),
        compared: compared(source, at, done).into_iter().chain(read_again(source, at)).collect(),
        cure: cure(step),
        photo: told::photo(step),
        signs: signs(source, at, step, marks),
        changed: history::revision_of(source, step),
    }
}

/// Holes that stay open are named before the step that would fill them.
fn stay_open(source: Source<'_>, handled: &[Handled]) -> Vec<String> {
    let sentence = |one: &Handled| {
        let joint = source.job.joint(one.joint);
        Some(format!("{}: {}", joint.id.value, leave_open(source.job, joint)?))
    };
    let leaves = |one: &&Handled| matches!(one.what, Handling::Fasten { open } if open > 0);
    handled.iter().filter(leaves).filter_map(sentence).collect()
}

/// Torques that the step applies: of its own joints where none is torqued later, and of what it fills for another traveler.
fn torques(source: Source<'_>, at: usize, handled: &[Handled]) -> Vec<TorqueStrip> {
    let traveler = source.traveler();
    let step = &traveler.steps[at];
    let at = source.item(at).at;
    let own = step.joints.iter().filter(|named| is_torqued(source.job.joint(named.joint), at));
    let own = own.filter_map(|named| strip(source, named.joint, named.hand));
    let others = handled.iter().filter(|one| !step.names(one.joint) && one.joint.traveler != source.index);
    let others = others.filter(|one| one.what.is_final());
    own.chain(others.filter_map(|one| strip(source, one.joint, one.hand))).collect()
}

/// The torque of a joint under the name that the packet has for it.
fn strip(source: Source<'_>, joint: JointRef, hand: Option<Hand>) -> Option<TorqueStrip> {
    let strip = torque::strip(source.job.joint(joint), &source.job.project.style)?;
    Some(TorqueStrip { joint: joint_id(source, joint, hand), ..strip })
}

/// Steps of other travelers that are done before a step: those that it needs, and those that work on its joints before it, on
/// the hand that is printed.
pub(super) fn first_elsewhere<'a>(source: Source<'a>, step: &'a Step) -> impl Iterator<Item = StepRef> {
    let needed = step.needs.iter().map(|need| need.value).filter(move |need| need.traveler != source.index);
    let followed = step.follows.iter().filter(move |own| same_side(own.hand, source.hand)).map(|own| own.at);
    needed.chain(followed)
}

fn needs(source: Source<'_>, step: &Step) -> Vec<String> {
    let job = source.job;
    let mut lines: Vec<String> = Vec::new();
    for at in first_elsewhere(source, step) {
        lines.push(say!(
            "done: {id} step {number} {title}",
            id = job.travelers[at.traveler].id.value,
            number = operation(job.step(at).number),
            title = told::title(job, at)
        ));
    }
    let own = step.needs.iter().filter(|need| need.value.traveler == source.index);
    let own: Vec<String> = own.map(|need| operation(job.step(need.value).number)).collect();
    if !own.is_empty() {
        // Who reads it may go ahead of the steps that stand before.
        lines.push(say!("of this traveler only step {numbers}, no other", numbers = own.join(", ")));
    }
    for number in &step.spaces {
        lines.push(say!("{name} open", name = job.space_spec(number.value).name.value));
    }
    for number in &step.opens {
        lines.push(say!("opens: {name}", name = job.space_spec(number.value).name.value));
    }
    lines
}

/// The states that it needs, sets and ends.
fn states(step: &Step) -> Vec<String> {
    let during = Acts::During.of(step).iter().map(|state| say!("while {state}", state = state.value));
    let sets = Acts::Sets.of(step).iter().map(|state| say!("sets {state}", state = state.value));
    let ends = Acts::Undoes.of(step).iter().map(|state| say!("ENDS {state}", state = state.value));
    during.chain(sets).chain(ends).collect()
}

fn closes(source: Source<'_>, step: &Step) -> Vec<String> {
    step.closes.iter().map(|number| source.job.space_spec(number.value).name.value.clone()).collect()
}

fn parts(source: Source<'_>, step: &Step) -> Vec<String> {
    let name = |number: &crate::job::Index| {
        let part = &source.traveler().parts[number.value];
        let warning =
            part.look_alike.as_ref().map_or(String::new(), |other| say!(" (NOT {other})", other = other.value));
        format!("{}{warning}", part.id.value)
    };
    let named: Vec<String> = step.parts.iter().map(name).collect();
    let parts = &source.traveler().parts;
    let is_all = parts.len() > 1 && parts.iter().all(|part| named.contains(&part.id.value));
    // On the one sheet of a small job all parts stand in front, above the steps.
    if source.is_small() && is_all { vec![say!("all {n}", n = parts.len())] } else { named }
}

fn record(number: u32, nth: usize, record: &Record, done: Option<&Signature>) -> RecordLine {
    RecordLine {
        id: record.id.value.clone(),
        label: format!("{number:03}.{nth} {}", told::label(record)),
        requirement: requirement(record),
        unit: record.unit.as_ref().map(|unit| unit.value.clone()),
        tool: told::tool(record),
        read: done.and_then(|signature| signature.reading(&record.id.value)).map(str::to_owned),
        reads: Vec::new(),
    }
}

fn compared(source: Source<'_>, at: usize, done: Option<&Signature>) -> Vec<ComparedLine> {
    let traveler = source.traveler();
    let line = |own: Compared| {
        let label = |reading: ReadingRef| {
            let label = told::label(traveler.record(reading));
            let step = operation(traveler.steps[reading.step].number);
            if reading.step == at { label } else { say!("{label} (step {step})", label, step) }
        };
        let unit = traveler.record(own.one).unit.as_ref().map(|unit| unit.value.clone());
        let limits = if own.limits.is_distance() {
            Limits { min: None, max: Some(own.limits.high) }
        } else {
            Limits { min: Some(own.limits.low), max: Some(own.limits.high) }
        };
        let value = |reading: ReadingRef| {
            let id = &traveler.record(reading).id.value;
            let own = (reading.step == at).then_some(done).flatten()?;
            Decimal::parse(own.reading(id)?).ok()
        };
        let read = value(own.one)
            .zip(value(own.other))
            .map(|(one, other)| Decimal::from_micro(one.micro().saturating_sub(other.micro())).to_string());
        let words = if own.is_fit { say!("Interference: ") } else { say!("Difference: ") };
        ComparedLine {
            label: say!("{words}{one} less {other}", words, one = label(own.one), other = label(own.other)),
            // One limit is always there.
            requirement: limits.words(unit.as_deref()).map(|words| told::limits(&words)).unwrap_or_default(),
            unit,
            read,
            reads: Vec::new(),
        }
    };
    traveler.compared(at).map(line).collect()
}

/// States that must hold while the step is worked: what the step that set one read is read again.
fn read_again(source: Source<'_>, at: usize) -> Vec<ComparedLine> {
    let job = source.job;
    let item = source.item(at);
    let mut lines = Vec::new();
    for state in Acts::During.of(job.step(item.at)) {
        let Some(setter) = job.acting(Acts::Sets, &state.value, item).next() else { continue };
        let set = job.step(setter.at);
        let id = &job.travelers[setter.at.traveler].id.value;
        let number = operation(set.number);
        let state = &state.value;
        if set.records.is_empty() {
            let label = say!("Still {state} as at {id} step {number}? Look again", state, id, number);
            lines.push(ComparedLine { label, requirement: String::new(), unit: None, read: None, reads: Vec::new() });
        }
        lines.extend(set.records.iter().map(|own| ComparedLine {
            label: say!(
                "Still {state}? Read again as at {id} step {number}: {label}",
                state,
                id,
                number,
                label = told::label(own)
            ),
            requirement: requirement(own),
            unit: own.unit.as_ref().map(|unit| unit.value.clone()),
            read: None,
            reads: Vec::new(),
        }));
    }
    lines
}

fn cure(step: &Step) -> Option<Cure> {
    let text = |minutes: &Option<crate::text::Spanned<crate::units::Minutes>>| {
        minutes.as_ref().map(|minutes| minutes.value.to_string())
    };
    let cure = Cure { earliest: text(&step.cure), latest: text(&step.cure_latest) };
    (cure.earliest.is_some() || cure.latest.is_some()).then_some(cure)
}
