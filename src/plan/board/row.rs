//! The rows of the board: few words, what it takes, what it blocks.
//!
//! A row says nothing that the sheet does not say; it points to the sheet.

use std::collections::BTreeSet;

use serde::Serialize;

use super::Source;
use crate::calendar::{Moment, When};
use crate::job::{Hand, Item, StepKind, operation};
use crate::phrase::say;
use crate::plan::hole;
use crate::plan::named::{said_item, said_role, said_signers, said_space};
use crate::plan::told;
use crate::words::WaitFor;
use crate::work::{Needs, Readiness, Shelf, counted_as};

/// One item on the board.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Row {
    /// The item that the row stands for.
    #[serde(skip)]
    pub item: Item,
    /// `TRAVELER/step`.
    pub step: String,
    /// Traveler id.
    pub traveler: String,
    /// The number on paper.
    pub number: String,
    /// The hand.
    pub hand: Option<&'static str>,
    /// What the traveler is called.
    pub job: String,
    /// The step's title.
    pub title: String,
    /// What is done in a word or two.
    pub kind: &'static str,
    /// Estimated minutes.
    pub minutes: Option<u32>,
    /// Whether a second person is needed.
    pub helper: bool,
    /// The spaces that it works in.
    pub spaces: Vec<String>,
    /// How many later steps wait for it.
    pub blocks: usize,
    /// The tool that it is set up for, where other steps may share it.
    pub set_up: Option<String>,
    /// What it starts or must keep, in words: a cure, a window, a hold, a closing, an opening.
    pub remarks: Vec<String>,
}

/// One item that is held.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct WaitingRow {
    /// The item.
    #[serde(flatten)]
    pub row: Row,
    /// What holds it.
    pub waits: Vec<WaitLine>,
}

/// What kind of thing holds an item, in the order in which the board lists them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum WaitKind {
    /// A cure.
    Cure,
    /// A part, hardware or a tool.
    Part,
    /// An answer to a question or a discrepancy.
    Answer,
    /// A helper, a counselor, an inspector.
    Person,
    /// A decision of the builder's own.
    Decision,
    /// A closed space.
    Access,
    /// Anything else.
    Other,
}

impl WaitKind {
    pub(super) const fn of(written: WaitFor) -> Self {
        match written {
            WaitFor::Answer => Self::Answer,
            WaitFor::Person => Self::Person,
            WaitFor::Part => Self::Part,
            WaitFor::Decision => Self::Decision,
            WaitFor::Other => Self::Other,
        }
    }

    /// The word on the page.
    pub(super) fn words(self) -> &'static str {
        match self {
            Self::Cure => say!("cure"),
            Self::Part => say!("parts"),
            Self::Answer => say!("answer"),
            Self::Person => say!("person"),
            Self::Decision => say!("decision"),
            Self::Access => say!("access"),
            Self::Other => say!("other"),
        }
    }
}

/// One thing that holds an item.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct WaitLine {
    /// What kind of thing it is.
    pub kind: WaitKind,
    /// Who or what.
    pub words: String,
    /// Until when, where that is known.
    pub until: Option<String>,
    /// The same moment.
    #[serde(skip)]
    pub ends: Option<Moment>,
}

impl WaitLine {
    pub(super) const fn new(kind: WaitKind, words: String) -> Self {
        Self { kind, words, until: None, ends: None }
    }

    pub(super) fn cure(words: String, until: Moment) -> Self {
        Self { until: Some(until.long()), ends: Some(until), ..Self::new(WaitKind::Cure, words) }
    }

    pub(super) fn written(wait: WaitFor, what: String, until: Option<When>) -> Self {
        let own = Self::new(WaitKind::of(wait), what);
        let Some(until) = until else { return own };
        let end = if until.earliest == until.latest { until.latest.long() } else { until.earliest.day().long() };
        Self { until: Some(end), ends: Some(until.latest), ..own }
    }

    pub(super) fn short(words: &[String]) -> Self {
        Self::new(WaitKind::Part, words.join("; "))
    }

    pub(super) fn visitor(who: &str) -> Self {
        Self::new(WaitKind::Person, say!("{who} must look; invite", who))
    }
}

impl WaitingRow {
    /// Cures in the order of their ends, then what somebody must bring, the one that blocks most first.
    pub(super) fn key(&self) -> (Option<WaitKind>, Option<Moment>, std::cmp::Reverse<usize>, String) {
        let first = self.waits.iter().map(|wait| wait.kind).min();
        let ends = self.waits.iter().find_map(|wait| wait.ends);
        (first, ends, std::cmp::Reverse(self.row.blocks), self.row.step.clone())
    }
}

/// Makes rows.
pub(super) struct Rows<'a> {
    source: &'a Source<'a>,
    readiness: &'a Readiness<'a>,
}

impl<'a> Rows<'a> {
    pub(super) const fn of(source: &'a Source<'a>, readiness: &'a Readiness<'a>) -> Self {
        Self { source, readiness }
    }

    pub(super) fn row(&self, item: Item) -> Row {
        let job = self.source.job;
        let (step, traveler) = (job.step(item.at), &job.travelers[item.at.traveler]);
        let mut spaces: Vec<String> = Vec::new();
        for space in step.spaces.iter().chain(&step.closes) {
            for space in job.spaces(space.value, item.hand) {
                // The row says the hand already.
                let name = if space.hand == item.hand {
                    job.space_spec(space.of).name.value.clone()
                } else {
                    said_space(job, space)
                };
                if !spaces.contains(&name) {
                    spaces.push(name);
                }
            }
        }
        Row {
            item,
            step: job.step_name(item.at),
            traveler: traveler.id.value.clone(),
            number: operation(step.number),
            hand: item.hand.map(Hand::word),
            job: traveler.title.value.clone(),
            title: told::title(job, item.at),
            kind: step.kind.value.word(),
            minutes: step.minutes.map(|minutes| minutes.value),
            helper: step.helper.value,
            spaces,
            blocks: self.source.order.all_after(item).count(),
            set_up: set_up(self.source, item),
            remarks: self.remarks(item),
        }
    }

    pub(super) fn waiting(&self, item: Item, waits: impl Iterator<Item = WaitLine>) -> WaitingRow {
        let mut waits: Vec<WaitLine> = waits.collect();
        waits.sort_by(|one, other| (one.kind.words(), &one.words).cmp(&(other.kind.words(), &other.words)));
        WaitingRow { row: self.row(item), waits }
    }

    fn remarks(&self, item: Item) -> Vec<String> {
        let (job, step) = (self.source.job, self.source.job.step(item.at));
        let mut remarks = Vec::new();
        if let Some((latest, after)) = self.readiness.latest(item) {
            let after = said_item(job, after);
            remarks.push(if latest < self.source.options.now {
                say!("LATE: window after {after} ended {latest}", after, latest = latest.long())
            } else {
                say!("not after {latest} ({after})", latest = latest.long(), after)
            });
        }
        if let Some(cure) = step.cure {
            remarks.push(say!("starts a cure of {cure}", cure = cure.value));
        }
        if let Some(hold) = &step.hold {
            remarks.push(say!("hold: {hold}", hold = said_role(job, &hold.value)));
        }
        for stage in job.stages_at(item.at) {
            let stage = &job.project.stages[stage];
            remarks.push(say!("stage {stage}: {who}", stage = stage.id.value, who = said_signers(job, stage)));
        }
        let closes =
            step.closes.iter().map(|space| say!("closes {name}", name = job.space_spec(space.value).name.value));
        let opens =
            step.opens.iter().map(|space| say!("opens {name} again", name = job.space_spec(space.value).name.value));
        remarks.extend(closes.chain(opens));
        let spoiled = job.spoiled_by(self.source.order, self.source.state, item);
        remarks.extend(spoiled.into_iter().map(|(state, other)| {
            say!("ENDS {state}, which {other} still needs", state, other = said_item(job, other))
        }));
        if let Some(note) = self.source.state.started.get(&item).and_then(|started| started.note.as_ref()) {
            remarks.push(say!("stopped: {note}", note));
        }
        remarks
    }
}

/// The tool that an item is set up for: a drill, a reamer, a countersink, dies.
pub(super) fn set_up(source: &Source<'_>, item: Item) -> Option<String> {
    let job = source.job;
    let step = job.step(item.at);
    let style = &job.project.style;
    let joints = step.joints.iter().map(|named| job.joint(named.joint));
    let holes = || step.joints.iter().flat_map(|named| &job.joint(named.joint).life);
    let size = |word: &str| {
        let mut sizes: Vec<_> = holes().filter(|lived| lived.at == item.at).filter_map(|lived| lived.hole).collect();
        sizes.dedup_by_key(|hole| hole.size.length);
        // A step with several drills is no set-up to share.
        match sizes[..] {
            [made] => Some(format!("{word} {}", hole::cut_short(step.kind.value, made.size, style))),
            _ => None,
        }
    };
    let rivet = |words: &str| {
        let mut joints = joints.clone();
        let d = joints.next()?.diameter()?;
        joints
            .all(|joint| joint.diameter() == Some(d))
            .then(|| say!("{words} for {rivet}", words, rivet = style.rivet(d)))
    };
    // A step that does two kinds of work has more than one set-up.
    let kinds: BTreeSet<StepKind> = joints.clone().flat_map(|joint| joint.works_at(item.at)).collect();
    if kinds.len() > 1 {
        return None;
    }
    match step.kind.value {
        StepKind::Drill => size(say!("drill")),
        StepKind::Ream => size(say!("reamer")),
        StepKind::Countersink => rivet(say!("countersink")),
        StepKind::Dimple => rivet(say!("dimple dies")),
        StepKind::Rivet => rivet(say!("rivet set")),
        _ => None,
    }
}

/// Splits what is ready by the shelf, in order: what an earlier item takes is gone for a later one.
pub(super) fn stocked(source: &Source<'_>, ready: Vec<Item>) -> (Vec<Item>, Vec<(Item, Vec<String>)>) {
    let (needs, mut shelf) = (Needs::of(source.job), Shelf::of(source.job));
    let (mut stocked, mut short) = (Vec::new(), Vec::new());
    for item in ready {
        let mut tray = shelf.clone();
        let mut missing = Vec::new();
        for need in needs.hardware(item) {
            let call = counted_as(&need.hardware);
            if let Err(left) = tray.take(&call, need.count) {
                missing.push(say!("{call}: needs {count}, {left} left on the shelf", call, count = need.count, left));
            }
        }
        for (part, count) in needs.parts(item) {
            let id = &source.job.travelers[item.at.traveler].parts[part].id.value;
            if let Err(left) = tray.take(id, count) {
                missing.push(say!("part {id}: needs {count}, {left} on the shelf", id, count, left));
            }
        }
        if missing.is_empty() {
            shelf = tray;
            stocked.push(item);
        } else {
            short.push((item, missing));
        }
    }
    (stocked, short)
}
