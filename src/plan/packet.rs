//! The bench packet as a whole: what every page carries, and its parts in the order of the pages.
//!
//! Everything that it depends on goes in at once and a finished packet comes out: nothing is added to it or cut from it
//! afterwards. It refuses to plan a packet that the report stops. How it looks is the templates' affair.

mod at_step;
mod both;
mod caution;
mod change_pages;
mod close_out;
mod cover;
mod departure;
mod figures;
mod hand_text;
mod hardware;
mod history;
mod joint;
mod open;
mod piece;
mod preparation;
mod session;
mod sign;
mod source;
mod step;
mod tool;
mod trigger;
mod values;

use std::collections::BTreeMap;

use serde::Serialize;

pub use at_step::StepJoint;
pub use both::packet_of_both;
pub use caution::{Caution, WeakenedLine};
pub use change_pages::{BenchPage, BenchPrint, ChangePages, Run, change_pages, in_words, print_of_layout};
pub use close_out::CloseOut;
pub(super) use cover::role_words;
pub use cover::{Cover, LeftOpen, Point, Signatory, SpaceSteps, TemporaryLine, TravelerLine};
pub use departure::Departure;
pub use figures::{Figures, JointFigures, StripSheet, section_of};
pub use hand_text::HandText;
pub use hardware::{HardwareLine, Use};
pub use history::HistoryLine;
pub use joint::{JointLayer, JointSheet, NextSize, Rung};
pub use open::OpenNow;
pub use piece::{pieces_of, pieces_of_both};
pub use preparation::{PartLine, Preparation};
pub use session::next_session;
pub use sign::Sign;
pub use source::{AtPrinting, Changed, Options, Signed, Source, StepRun};
pub use step::{Cure, RecordLine, StepSheet};
pub use tool::ToolLine;
pub use values::values;

use super::document::{Document, Edition, Pieces, Thumbnails};
use super::whereabouts::{Whereabouts, whereabouts};
use crate::calendar::Day;
use crate::job::{Hand, Job, Paper, PrintKind, operation, packet_stem};
use crate::phrase::say;
use crate::report::{Finding, Report};

/// A packet of one traveler, for one hand or for both.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Packet {
    /// What every page carries.
    pub head: Head,
    /// What it is for, who signs.
    pub cover: Cover,
    /// Where the joints lie; of a whole packet, as far as the spec says.
    pub whereabouts: Option<Whereabouts>,
    /// Parts, hardware and tools to lay out.
    pub preparation: Preparation,
    /// One entry a joint.
    pub joints: Vec<JointSheet>,
    /// One entry a step, in working order.
    pub steps: Vec<StepSheet>,
    /// Figures to scale.
    pub figures: Figures,
    /// Rows for steps that the plan forgot.
    pub extra: usize,
    /// The close-out; an excerpt without the last step has none.
    pub closeout: Option<CloseOut>,
    /// Where only pages are replaced, the numbers that pages begin anew with; absent before what does not begin any.
    pub runs: Runs,
    /// Values for the builder's own texts.
    #[serde(skip)]
    pub values: serde_json::Value,
    /// Paper size.
    #[serde(skip)]
    pub paper_size: Paper,
    /// The day in the PDF's description.
    #[serde(skip)]
    pub date: Option<Day>,
    /// The run of steps of an excerpt, as `040-070`.
    #[serde(skip)]
    pub part: Option<String>,
    /// How it is printed.
    #[serde(skip)]
    pub edition: Edition,
    /// Digests of its pieces.
    #[serde(skip)]
    pub pieces: Pieces,
}

/// What every page carries.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Head {
    /// Aircraft name.
    pub aircraft: String,
    /// Serial number.
    pub serial: Option<String>,
    /// Registration.
    pub registration: Option<String>,
    /// Traveler id.
    pub traveler: String,
    /// Title of the traveler.
    pub title: String,
    /// `left` or `right`; absent for a one-off, and where the packet is for both.
    pub hand: Option<&'static str>,
    /// Both hands, where the packet is for both; else none.
    pub hands: Vec<&'static str>,
    /// Revision of the traveler.
    pub revision: String,
    /// Drawing sheets and revisions that it was written against.
    pub drawings: Vec<DrawingLine>,
    /// Sheet code; absent in a draft. Of both hands the two codes with a plus between.
    pub code: Option<String>,
    /// The sheet code of each hand, where the packet is for both.
    pub codes: Vec<String>,
    /// What is open on the day of printing, in a few words.
    pub open: Option<String>,
    /// Whether this is a draft: watermark, no boxes.
    pub draft: bool,
    /// Whether this is for reading only: no boxes, and a word that says so.
    pub reference: bool,
    /// The run of steps of an excerpt, in words.
    pub part: Option<String>,
    /// Whether it is a small job, which goes on one sheet where it can be set so close.
    pub small: bool,
    /// Day of printing, where the caller gave one.
    pub date: Option<String>,
    /// Paper size as Typst names it.
    pub paper: &'static str,
    /// Units of the bars at the foot, `in` and `mm`, the first unit first.
    pub bars: Vec<&'static str>,
    /// Where only pages are replaced, the pages that stay, by the sheet whose code they carry.
    pub keep: Vec<String>,
    /// How many pages the packet has, where this print is only some of them.
    pub total: Option<usize>,
}

/// The numbers of replaced pages at what they begin with.
#[derive(Debug, Clone, Default, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct Runs {
    /// At the front.
    pub front: Option<Vec<String>>,
    /// At joints, by id.
    pub joints: BTreeMap<String, Vec<String>>,
    /// At steps, by id.
    pub steps: BTreeMap<String, Vec<String>>,
    /// At the close-out.
    pub end: Option<Vec<String>>,
    /// At the templates.
    pub templates: Option<Vec<String>>,
}

/// A drawing sheet with its revision.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct DrawingLine {
    /// Sheet number.
    pub sheet: String,
    /// Revision that the traveler was written against.
    pub revision: Option<String>,
    /// Title from the register.
    pub title: Option<String>,
    /// Revision in the register, where it is another one.
    pub register_revision: Option<String>,
}

/// Why a packet is not planned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refused {
    /// The traveler's id.
    pub traveler: String,
    /// Number of errors that stop it.
    pub errors: usize,
    /// The first of them.
    pub first: String,
}

impl std::fmt::Display for Refused {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Self { traveler, errors, first } = self;
        let noun = if *errors == 1 { "error stops" } else { "errors stop" };
        write!(f, "{traveler} is not printed: {errors} {noun} it ({first})")
    }
}

impl std::error::Error for Refused {}

/// The packet of one traveler and hand.
///
/// # Errors
/// Refuses when a finding of the traveler or of the project stops printing and no draft is asked for.
///
/// # Panics
/// When the job has no traveler of that index.
pub fn packet(source: Source<'_>) -> Result<Packet, Refused> {
    may_print(source)?;
    let marks = sign::marks(source);
    let steps = step::sheets(source, &marks);
    let options = source.options;
    let pages = source.pages;
    let prints = |kind: &str, id: &str| pages.is_none_or(|pages| pages.has(kind, id));
    Ok(Packet {
        head: Head::plan(source),
        cover: cover::plan(source, &steps, &marks),
        whereabouts: (!source.is_excerpt()).then(|| whereabouts(source.job, source.index, source.hand)).flatten(),
        preparation: preparation::plan(source, hardware::hardware(source)),
        joints: joint::sheets(source)
            .into_iter()
            .filter(|joint| prints(change_pages::JOINT, &joint.id))
            .map(|joint| joint.beside(&steps))
            .collect(),
        figures: Figures::of(source).only(|id| prints(change_pages::JOINT, id), prints(change_pages::TEMPLATES, "")),
        extra: if source.is_excerpt() { 1 } else { 2 },
        closeout: close_out::plan(source).filter(|_| prints(change_pages::END, "")),
        runs: pages.map_or_else(Runs::default, ChangePages::starts),
        steps: steps.into_iter().filter(|step| prints(change_pages::STEP, &step.id)).collect(),
        values: values(source.job, source.index, source.hand),
        paper_size: options.paper.unwrap_or(source.job.project.settings.paper.value),
        date: options.date,
        part: part(source).map(|(first, last)| if first == last { first } else { format!("{first}-{last}") }),
        edition: Edition { both_hands: false, ..options.edition },
        pieces: piece::pieces(source),
    })
}

/// The packets of one traveler by its spec alone: one for each hand, or one for a one-off.
///
/// # Errors
/// As [`packet`].
///
/// # Panics
/// When the job has no traveler of that index.
pub fn packets(job: &Job, index: usize, report: &Report, options: &Options) -> Result<Vec<Packet>, Refused> {
    let of_hand = |hand| packet(Source::of_specs(job, index, hand, report, *options));
    job.hands_of(index).into_iter().map(of_hand).collect()
}

fn may_print(source: Source<'_>) -> Result<(), Refused> {
    let traveler = source.traveler();
    let id = &traveler.id.value;
    // A fault of another traveler's file does not stop this one; a fault of the project file stops all.
    let files = [traveler.file, source.job.project.aircraft.span.file];
    // A joint that the packet prints, of whatever traveler.
    let named = traveler.steps.iter().flat_map(|step| &step.joints).map(|named| named.joint);
    let others: Vec<(&str, &str)> = named
        .map(|at| (source.job.travelers[at.traveler].id.value.as_str(), source.job.joint(at).id.value.as_str()))
        .collect();
    let is_named = |finding: &Finding| {
        let place = finding.place.traveler.as_deref().zip(finding.place.joint.as_deref());
        place.is_some_and(|place| others.contains(&place))
    };
    let is_own =
        |finding: &Finding| finding.place.traveler.as_ref().map_or(files.contains(&finding.span.file), |at| at == id);
    let concerns = |finding: &Finding| is_own(finding) || is_named(finding);
    let mut stopping = source.report.findings.iter().filter(|finding| finding.stops() && concerns(finding));
    if !source.options.draft
        && let Some(first) = stopping.next()
    {
        return Err(Refused { traveler: id.clone(), errors: 1 + stopping.count(), first: first.message.clone() });
    }
    Ok(())
}

/// Numbers of the first and the last step of an excerpt.
fn part(source: Source<'_>) -> Option<(String, String)> {
    let first = source.is_excerpt().then(|| source.steps().next())??;
    let last = source.steps().next_back()?;
    Some((operation(first.1.number), operation(last.1.number)))
}

impl Packet {
    /// Name of the PDF without its ending: traveler id and hand, with anything that a file system dislikes as a dash.
    #[must_use]
    pub fn stem(&self) -> String {
        let kind = PrintKind { reference: self.head.reference, large: self.edition.large, draft: self.head.draft };
        let some_pages = (!self.head.keep.is_empty()).then_some("change");
        let part = self.part.as_deref().or(some_pages);
        let hands: Vec<Hand> =
            self.head.hand.iter().chain(&self.head.hands).filter_map(|hand| Hand::parse(hand)).collect();
        packet_stem(&self.head.traveler, &hands, part, kind)
    }

    /// A small job, and what is done of an evening, should take no more than the two sides of a sheet, templates at 1:1
    /// apart.
    fn most_pages(&self) -> Option<usize> {
        const SIDES: usize = 2;
        const EVENING_STEPS: usize = 3;
        // Some pages of a print are laid out as that print was.
        let is_whole = self.head.keep.is_empty();
        // Set close there is no room beside the text for the boxes of two hands.
        let is_short = is_whole
            && !self.edition.both_hands
            && (self.head.small || (self.part.is_some() && self.steps.len() <= EVENING_STEPS));
        is_short.then_some(SIDES + usize::from(!self.figures.strips.is_empty()))
    }

    /// The packet as rendering takes it.
    ///
    /// # Panics
    /// Never: a packet is plain data that always serialises.
    #[must_use]
    pub fn document(&self) -> Document {
        Document {
            template: "packet.typ.j2",
            stem: self.stem(),
            paper: self.paper_size,
            code: self.head.code.clone().filter(|_| !self.head.reference),
            part: self.part.clone(),
            edition: self.edition,
            pages: self.most_pages(),
            date: self.date,
            data: serde_json::to_value(self).expect("a packet is maps with text keys"),
            values: self.values.clone(),
            thumbnails: Thumbnails::new(),
            pieces: self.pieces.clone(),
        }
    }
}

impl Head {
    fn plan(source: Source<'_>) -> Self {
        let project = &source.job.project;
        let traveler = source.traveler();
        let options = source.options;
        let pages = source.pages;
        let text = |text: Option<&crate::job::Text>| text.map(|text| text.value.clone());
        let code = || source.code().to_string();
        let run = |(first, last): (String, String)| {
            if first == last { say!("step {first}", first) } else { say!("steps {first} to {last}", first, last) }
        };
        Self {
            aircraft: project.aircraft.value.clone(),
            serial: text(project.serial()),
            registration: text(project.registration()),
            traveler: traveler.id.value.clone(),
            title: traveler.title.value.clone(),
            hand: source.hand.map(Hand::word),
            hands: Vec::new(),
            revision: traveler.revision.value.clone(),
            drawings: drawings(source),
            code: (!options.draft).then(code),
            codes: Vec::new(),
            open: open::open_now(source).and_then(|open| open.words()),
            draft: options.draft,
            reference: options.reference,
            part: part(source).map(run),
            small: source.is_small(),
            date: options.date.map(|date| date.to_string()),
            paper: options.paper.unwrap_or(project.settings.paper.value).word(),
            bars: project.style.bars(),
            keep: pages.map_or_else(Vec::new, |pages| change_pages::kept_in_words(&pages.keep)),
            total: pages.map(|pages| pages.remove.len() + pages.keep.len()),
        }
    }
}

fn drawings(source: Source<'_>) -> Vec<DrawingLine> {
    let register = &source.job.project.drawings;
    let line = |drawing: &crate::job::DrawingRef| {
        let known = drawing.register.and_then(|at| register.get(at));
        let current = known.map(|known| known.revision.value.clone());
        DrawingLine {
            sheet: drawing.sheet.clone(),
            revision: drawing.revision.clone(),
            title: known.and_then(|known| known.title.as_ref()).map(|title| title.value.clone()),
            register_revision: current.filter(|current| drawing.revision.as_ref() != Some(current)),
        }
    };
    source.traveler().drawings.iter().map(line).collect()
}
