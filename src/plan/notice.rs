//! The notice of a change: one page for the bench, with the sheets to take out and to put in, and what becomes of
//! every signature.
//!
//! Plain data for paper and for JSON. Nothing in it says that changed work is right.

mod bundle;
mod cause;
mod page;

use std::collections::{BTreeMap, BTreeSet};

pub use bundle::{Bundle, Part, bundles};

use serde::Serialize;

use crate::archive::{DiscrepancyOpened, State};
use crate::calendar::Day;
use crate::ident::SheetCode;
use crate::job::{Job, Space};
use crate::phrase::say;
use crate::plan::packet::{ChangePages, in_words};
use crate::work::{Reopening, SheetChange, Spaces, StepChange, Verdict};

/// What the caller knows and the comparison does not.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NoticeFacts {
    /// The day of the notice.
    pub on: Day,
    /// The plan change notice, letter or drawing on which it rests.
    pub source: Option<String>,
    /// Initials of whoever enters it.
    pub by: String,
}

/// A sheet to take out or to put in; or those of both hands, whose boxes are on the same pages.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct NoticeSheet {
    /// Its code; of both hands the left one's and the right one's.
    pub codes: Vec<String>,
    /// Traveler, hand and title.
    pub what: String,
    /// Revision.
    pub revision: String,
    /// Pages, where they were counted.
    pub pages: Option<u32>,
    /// Their numbers, where only these are taken out or put in.
    pub which: Option<String>,
    /// Whether each of these pages goes with the one on its back.
    pub both_sides: bool,
    /// Whether it carries signatures and is kept.
    pub signed: bool,
}

/// One line of a list of steps.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct StepLine {
    /// Traveler and hand.
    pub sheet: String,
    /// The step.
    #[serde(flatten)]
    pub change: StepChange,
    /// The discrepancy that is opened for it.
    pub discrepancy: Option<String>,
}

/// The notice.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Notice {
    /// Its number.
    pub number: String,
    /// The day.
    pub on: String,
    /// Initials of whoever entered it.
    pub by: String,
    /// Aircraft and serial number.
    pub aircraft: String,
    /// What it rests on.
    pub source: Option<String>,
    /// Drawing sheets whose revision changed: sheet, before, now.
    pub drawings: Vec<(String, String, String)>,
    /// Sheets to take out.
    pub remove: Vec<NoticeSheet>,
    /// Sheets to put in.
    pub insert: Vec<NoticeSheet>,
    /// Steps that need somebody: rework or ask, undo or keep, retrofit, look again.
    pub act: Vec<StepLine>,
    /// Steps whose signatures stand after one read-through.
    pub read: Vec<StepLine>,
    /// Steps whose signatures stand by record; where drawings changed, after the read-through as well.
    pub by_record: Vec<StepLine>,
    /// Steps whose signatures stand: traveler and hand, and how many.
    pub stand: Vec<(String, usize)>,
    /// Steps whose words changed.
    pub reworded: Vec<String>,
    /// What has another name and is the same otherwise: `WNG-210 left: joint J1 is now J9`.
    pub renamed: Vec<String>,
    /// Spaces that would have to be opened again.
    pub reopenings: Vec<Reopening>,
    /// Hardware: call, and by how many more or fewer.
    pub hardware: Vec<(String, i64)>,
    /// Everything, sheet by sheet.
    pub sheets: Vec<SheetChange>,
    /// Discrepancies to be opened.
    #[serde(skip)]
    pub discrepancies: Vec<DiscrepancyOpened>,
}

/// Puts the notice together.
#[must_use]
pub fn notice(job: &Job, state: &State, sheets: Vec<SheetChange>, facts: &NoticeFacts) -> Notice {
    let discrepancies = cause::discrepancies(job, state, &sheets, facts);
    let lines: Vec<StepLine> =
        sheets.iter().flat_map(|sheet| sheet.steps.iter().map(|step| line(sheet, step, &discrepancies))).collect();
    let of = |verdicts: &[Verdict]| {
        lines.iter().filter(|line| verdicts.contains(&line.change.verdict)).cloned().collect::<Vec<_>>()
    };
    let mut act =
        of(&[Verdict::ReworkOrAsk, Verdict::UndoOrKeep, Verdict::Retrofit, Verdict::LookAgain, Verdict::WhichOne]);
    act.sort_by_key(|line| std::cmp::Reverse(line.change.verdict));
    let exchanges = bundle::exchanges(job, state, &sheets);
    let drawings: BTreeSet<_> = sheets.iter().flat_map(|sheet| sheet.drawings.clone()).collect();
    let mut hardware: BTreeMap<String, i64> = BTreeMap::new();
    for (call, by) in sheets.iter().flat_map(|sheet| &sheet.hardware) {
        *hardware.entry(call.clone()).or_default() += by;
    }
    let aircraft = &job.project;
    let serial = aircraft.serial().map(|serial| say!(", serial {serial}", serial = serial.value)).unwrap_or_default();
    Notice {
        number: state.next_notice(),
        on: facts.on.to_string(),
        by: facts.by.clone(),
        aircraft: format!("{}{serial}", aircraft.aircraft.value),
        source: facts.source.clone(),
        drawings: drawings.into_iter().collect(),
        remove: exchanges.iter().flat_map(|own| own.remove.clone()).collect(),
        insert: exchanges.iter().filter_map(|own| own.insert.clone()).collect(),
        read: of(&[Verdict::StandsAfterReading]).into_iter().filter(|line| line.change.measured.is_empty()).collect(),
        by_record: of(&[Verdict::StandsByRecord, Verdict::StandsAfterReading]).into_iter().filter(by_record).collect(),
        stand: sheets
            .iter()
            .map(|sheet| (sheet.packet().to_string(), standing(sheet)))
            .filter(|(_, count)| *count > 0)
            .collect(),
        reworded: lines
            .iter()
            .filter(|line| line.change.reworded && !line.change.is_read_again())
            .map(|line| format!("{} {}", line.sheet, line.change.number))
            .chain(
                sheets
                    .iter()
                    .filter(|sheet| sheet.reworded)
                    .map(|sheet| say!("{packet}: titles, names, cautions", packet = sheet.packet())),
            )
            .collect(),
        renamed: sheets
            .iter()
            .flat_map(|sheet| sheet.renamed.iter().map(|own| format!("{}: {}", sheet.packet(), own.words())))
            .collect(),
        reopenings: reopenings(job, state, &act),
        act,
        hardware: hardware.into_iter().filter(|(_, by)| *by != 0).collect(),
        sheets,
        discrepancies,
    }
}

/// Whether a recorded number carries the signature, be it that the change note is read as well.
fn by_record(line: &StepLine) -> bool {
    line.change.verdict == Verdict::StandsByRecord || !line.change.measured.is_empty()
}

fn standing(sheet: &SheetChange) -> usize {
    sheet.steps.iter().filter(|step| step.verdict == Verdict::Stands && step.done.is_some()).count()
}

fn line(sheet: &SheetChange, step: &StepChange, discrepancies: &[DiscrepancyOpened]) -> StepLine {
    let own = discrepancies.iter().find(|opened| {
        opened.traveler.as_deref() == Some(&sheet.traveler)
            && opened.hand == sheet.hand
            && opened.step.iter().chain(&opened.also).any(|own| *own == step.step)
    });
    StepLine {
        sheet: sheet.packet().to_string(),
        change: step.clone(),
        discrepancy: own.map(|opened| opened.number.clone()),
    }
}

/// The closed spaces that steps would need, with what falls when they are opened.
fn reopenings(job: &Job, state: &State, act: &[StepLine]) -> Vec<Reopening> {
    let spaces = Spaces::of(job);
    let mut wanted: BTreeMap<Space, Vec<String>> = BTreeMap::new();
    for line in act {
        for shut in line.change.access.iter().filter(|access| access.closed_by.is_some()) {
            let space = spaces.all().find(|space| {
                job.space_spec(space.of).id.value == shut.id && space.hand.map(crate::job::Hand::word) == shut.hand
            });
            if let Some(space) = space {
                wanted.entry(space).or_default().push(format!("{} {}", line.sheet, line.change.number));
            }
        }
    }
    let reopening = |(space, wanted_by)| {
        let falls = spaces.closing_signatures(state, space).into_iter().map(|(entry, step)| (entry.0, step)).collect();
        Reopening { access: spaces.access(state, space), wanted_by, falls }
    };
    wanted.into_iter().map(reopening).collect()
}

impl Notice {
    /// Names the pages to take out and to put in of what was printed together: of change pages their numbers, else all.
    pub fn name_pages(&mut self, bundle: &Bundle<'_>, chosen: Option<&ChangePages>, duplex: bool, printed: &[String]) {
        // More pages than a number can say are printed by nobody.
        let count = |pages: usize| u32::try_from(pages).ok();
        let old: Vec<String> = bundle.parts.iter().map(|part| part.old().to_string()).collect();
        for line in self.remove.iter_mut().filter(|line| line.codes.iter().any(|code| old.contains(code))) {
            let Some(chosen) = chosen else { continue };
            line.pages = count(chosen.remove.len());
            line.which = Some(in_words(&chosen.remove.iter().map(|page| page.label.clone()).collect::<Vec<_>>()));
            line.both_sides = duplex;
        }
        let new: Vec<String> = bundle.parts.iter().map(Part::new_code).collect();
        for line in self.insert.iter_mut().filter(|line| line.codes == new) {
            line.pages = count(printed.len());
            line.which = chosen.map(|_| in_words(printed));
            line.both_sides = duplex && chosen.is_some();
        }
    }

    /// The codes of sheets that are no longer in force, and of those that are in their place: a sheet whose pages alone are
    /// printed anew is neither.
    #[must_use]
    pub fn sheets_out_and_in(&self) -> (Vec<SheetCode>, Vec<SheetCode>) {
        let codes = |lines: &[NoticeSheet]| -> Vec<SheetCode> {
            lines.iter().flat_map(|line| &line.codes).filter_map(|code| SheetCode::parse(code).ok()).collect()
        };
        let out = codes(&self.remove);
        let put = codes(&self.insert);
        let without = |all: &[SheetCode], others: &[SheetCode]| -> Vec<SheetCode> {
            all.iter().copied().filter(|code| !others.contains(code)).collect()
        };
        (without(&out, &put), without(&put, &out))
    }

    /// Whether there is nothing to tell.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.sheets.is_empty()
    }
}
