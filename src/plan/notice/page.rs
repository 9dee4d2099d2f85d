//! The printed notice: each sheet beside the one in its place, steps by what becomes of them, changes in words.
//!
//! It repeats the comparison and judges nothing.

use serde::Serialize;

use super::{Notice, NoticeSheet, StepLine};
use crate::calendar::Day;
use crate::job::{Job, OwnDocument};
use crate::phrase::say;
use crate::plan::document::{Document, plain};
use crate::plan::said::{Piece, Said};
use crate::work::{Reopening, Verdict};

/// What the notice prints.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct NoticePage {
    /// Paper size as Typst names it.
    pub paper: &'static str,
    /// Number of the notice.
    pub number: String,
    /// The day.
    pub on: String,
    /// Aircraft and serial number.
    pub aircraft: String,
    /// On what it rests, and which drawings changed.
    pub ground: Vec<Piece>,
    /// Sheets to take out, each with the one to put in.
    pub swaps: Vec<Swap>,
    /// How many pages are taken out, where they were counted.
    pub out: Option<u32>,
    /// Steps that need somebody.
    pub act: Vec<ActLine>,
    /// Spaces that would have to be opened again.
    pub reopenings: Vec<ReopeningLine>,
    /// Steps whose signatures stand after one read-through.
    pub read: Vec<StandGroup>,
    /// Steps whose signatures stand by record.
    pub recorded: Vec<StepLine>,
    /// Steps whose signatures stand: traveler and hand, and how many.
    pub stand: Vec<(String, usize)>,
    /// What has another name and is the same otherwise.
    pub renamed: Vec<String>,
    /// Steps whose words changed.
    pub reworded: Vec<String>,
    /// Hardware.
    pub hardware: Vec<HardwareChange>,
}

/// What is taken out, and what comes in its place.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Swap {
    /// The sheets; more than one where hands that had a packet each get one for both.
    pub out: Vec<NoticeSheet>,
    /// What comes in their place; more than one where hands that shared a packet get one each.
    pub put: Vec<NoticeSheet>,
}

/// A step that needs somebody.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct ActLine {
    /// What to do, in capitals.
    pub word: String,
    /// The step.
    #[serde(flatten)]
    pub line: StepLine,
}

/// A space that would have to be opened again.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct ReopeningLine {
    /// The space.
    pub space: String,
    /// Day of its closing.
    pub closed_on: Option<String>,
    /// Steps that need it.
    pub wanted_by: Vec<String>,
    /// Steps whose signatures fall.
    pub falls: Vec<String>,
}

/// Steps of one sheet that stand for one reason.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct StandGroup {
    /// Traveler and hand.
    pub sheet: String,
    /// Numbers of the steps.
    pub steps: Vec<String>,
    /// Why they stand.
    pub reasons: Vec<String>,
}

/// More or fewer pieces of one call.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct HardwareChange {
    /// By how many, with its sign.
    pub by: String,
    /// The call.
    pub call: String,
}

impl Notice {
    /// The notice as rendering takes it.
    #[must_use]
    pub fn document(&self, job: &Job, date: Option<Day>) -> Document {
        let page = NoticePage {
            paper: job.project.settings.paper.value.word(),
            number: self.number.clone(),
            on: self.on.clone(),
            aircraft: self.aircraft.clone(),
            ground: ground(self),
            swaps: swaps(self),
            out: self.remove.iter().map(|sheet| sheet.pages).sum(),
            act: self.act.iter().map(act).collect(),
            reopenings: self.reopenings.iter().map(reopening).collect(),
            read: grouped(&self.read),
            recorded: self.by_record.clone(),
            stand: self.stand.clone(),
            renamed: self.renamed.clone(),
            reworded: self.reworded.clone(),
            hardware: self
                .hardware
                .iter()
                .map(|(call, by)| HardwareChange { by: format!("{by:+}"), call: call.clone() })
                .collect(),
        };
        Document::of_build(job, "notice.typ.j2", OwnDocument::Notice.stem(Some(&self.number)), date, plain(&page))
    }
}

fn ground(notice: &Notice) -> Vec<Piece> {
    let mut said =
        Said::new().maybe(notice.source.as_ref(), |said, source| said.plain(say!("because of ")).strong(source));
    let mut gap = if notice.source.is_some() { "; " } else { "" };
    for (sheet, old, new) in &notice.drawings {
        said = said.plain(gap).plain(say!("drawing ")).strong(sheet).plain(say!(": revision ")).strong(new);
        said = said.plain(say!(", was {old}", old));
        gap = "; ";
    }
    said.pieces()
}

/// Sheets that are taken out, with what comes in their place.
fn swaps(notice: &Notice) -> Vec<Swap> {
    let mut swaps: Vec<Swap> = Vec::new();
    for out in &notice.remove {
        let put: Vec<NoticeSheet> = notice.insert.iter().filter(|line| comes_for(notice, out, line)).cloned().collect();
        match swaps.iter_mut().find(|own| !put.is_empty() && own.put == put) {
            Some(own) => own.out.push(out.clone()),
            None => swaps.push(Swap { out: vec![out.clone()], put }),
        }
    }
    swaps
}

/// Whether a sheet is put in for one that is taken out.
fn comes_for(notice: &Notice, out: &NoticeSheet, put: &NoticeSheet) -> bool {
    let in_place = |code: &String| {
        let new = notice.sheets.iter().find(|sheet| sheet.old == *code).and_then(|sheet| sheet.new.as_ref());
        put.codes.contains(code) || new.is_some_and(|new| put.codes.contains(new))
    };
    out.codes.iter().any(in_place)
}

fn act(line: &StepLine) -> ActLine {
    let word = match line.change.verdict {
        Verdict::UndoOrKeep => say!("UNDO OR KEEP?").to_owned(),
        Verdict::ReworkOrAsk => say!("REWORK OR ASK").to_owned(),
        Verdict::Retrofit => say!("RETROFIT").to_owned(),
        Verdict::LookAgain => say!("LOOK AGAIN").to_owned(),
        other => other.words().to_uppercase(),
    };
    ActLine { word, line: line.clone() }
}

fn reopening(own: &Reopening) -> ReopeningLine {
    let mut falls: Vec<String> = own.falls.iter().map(|(_, step)| step.clone()).collect();
    falls.dedup();
    ReopeningLine {
        space: own.access.space.clone(),
        closed_on: own.access.closed_on.clone(),
        wanted_by: own.wanted_by.clone(),
        falls,
    }
}

fn grouped(lines: &[StepLine]) -> Vec<StandGroup> {
    let mut groups: Vec<StandGroup> = Vec::new();
    for line in lines {
        let reasons = &line.change.reasons;
        match groups.iter_mut().find(|group| group.sheet == line.sheet && group.reasons == *reasons) {
            Some(group) => group.steps.push(line.change.number.clone()),
            None => groups.push(StandGroup {
                sheet: line.sheet.clone(),
                steps: vec![line.change.number.clone()],
                reasons: reasons.clone(),
            }),
        }
    }
    groups
}
