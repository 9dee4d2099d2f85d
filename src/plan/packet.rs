//! The bench packet as a whole: what every page carries, and its parts in the order of the pages.
//!
//! Plain data; how it looks is the templates' affair.

use serde::Serialize;

use super::excerpt;
use super::figures::Figures;
use super::{
    CloseOut, Cover, Document, Edition, JointSheet, Options, Preparation, Source, StepSheet, Thumbnails, values,
};
use crate::calendar::Day;
use crate::job::{Hand, Paper};
use crate::work::packet_digest;

/// A packet for one hand of one traveler.
#[derive(Debug, Clone, Serialize)]
pub struct Packet {
    /// What every page carries.
    pub head: Head,
    /// First pages.
    pub cover: Cover,
    /// Parts, hardware and tools to lay out.
    pub preparation: Preparation,
    /// One entry a joint.
    pub joints: Vec<JointSheet>,
    /// One entry a step, in working order.
    pub steps: Vec<StepSheet>,
    /// Figures to scale.
    pub figures: Figures,
    /// Rows for steps that the plan forgot.
    pub extra_rows: usize,
    /// Last page; an excerpt without the last step has none.
    pub close_out: Option<CloseOut>,
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
}

/// What every page carries.
#[derive(Debug, Clone, Serialize)]
pub struct Head {
    /// Aircraft name.
    pub aircraft: String,
    /// Serial number.
    pub serial: Option<String>,
    /// Registration.
    pub registration: Option<String>,
    /// Traveler id.
    pub traveler: String,
    /// Title.
    pub title: String,
    /// `left` or `right`; absent for a one-off.
    pub hand: Option<&'static str>,
    /// Revision of the traveler.
    pub revision: String,
    /// Drawing sheets and revisions that it was written against.
    pub drawings: Vec<DrawingLine>,
    /// Sheet code; absent in a draft.
    pub code: Option<String>,
    /// What is open on the day of printing, in a few words.
    pub open: Option<String>,
    /// Whether this is a draft: watermark, no boxes.
    pub draft: bool,
    /// Whether this is for reading only: no boxes, and a word that says so.
    pub reference: bool,
    /// The run of steps of an excerpt, in words.
    pub part: Option<String>,
    /// Day of printing, where the caller gave one.
    pub date: Option<String>,
    /// Paper size as Typst names it.
    pub paper: &'static str,
}

/// A drawing sheet with its revision.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
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

impl Packet {
    pub(super) fn plan(source: Source<'_>, options: &Options) -> Self {
        let code = packet_digest(source.job, source.index, source.hand).code().to_string();
        let hardware = super::pick::hardware(source);
        let steps = super::step::sheets(source);
        let mut packet = Self {
            head: Head::plan(source, options, code),
            cover: super::cover::plan(source, &steps),
            preparation: super::preparation::plan(source, hardware.clone()),
            joints: super::joint::sheets(source),
            figures: Figures::of(source.job, source.traveler, source.hand),
            extra_rows: 6,
            close_out: Some(super::close_out::plan(source, hardware, &steps)),
            steps,
            values: values(source.job, source.index, source.hand),
            paper_size: options.paper.unwrap_or(source.job.project.settings.paper.value),
            date: options.date,
            part: None,
            edition: options.edition,
        };
        if options.edition.large {
            // The estimate of what fits a page is made for the usual type.
            packet.steps.iter_mut().for_each(|step| step.short = false);
        }
        if let Some(run) = options.steps {
            excerpt::cut(&mut packet, source, run);
        }
        packet
    }

    /// Name of the PDF without its ending: traveler id and hand, with anything that a file system dislikes as a dash.
    #[must_use]
    pub fn stem(&self) -> String {
        let mut stem = plain_name(&self.head.traveler);
        let kinds = [(self.head.reference, "reference"), (self.edition.large, "large"), (self.head.draft, "draft")];
        let kinds = kinds.into_iter().filter_map(|(is, word)| is.then_some(word));
        for more in self.head.hand.into_iter().chain(self.part.as_deref()).chain(kinds) {
            stem.push('-');
            stem.push_str(more);
        }
        stem
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
            date: self.date,
            data: serde_json::to_value(self).expect("a packet is maps with text keys"),
            values: self.values.clone(),
            thumbnails: Thumbnails::new(),
        }
    }
}

/// A text as part of a file's name: anything that a file system dislikes becomes a dash.
pub(super) fn plain_name(text: &str) -> String {
    let plain: String = text
        .chars()
        .map(|c| if c.is_alphanumeric() || matches!(c, '-' | '_' | '.') { c } else { '-' })
        .take(80)
        .collect();
    plain.trim_start_matches('.').to_owned()
}

impl Head {
    fn plan(source: Source<'_>, options: &Options, code: String) -> Self {
        let project = &source.job.project;
        let text = |text: Option<&crate::job::Text>| text.map(|text| text.value.clone());
        Self {
            aircraft: project.aircraft.value.clone(),
            serial: text(project.serial()),
            registration: text(project.registration()),
            traveler: source.traveler.id.value.clone(),
            title: source.traveler.title.value.clone(),
            hand: source.hand.map(Hand::word),
            revision: source.traveler.revision.value.clone(),
            drawings: drawings(source),
            code: (!options.draft).then_some(code),
            open: None,
            draft: options.draft,
            reference: options.reference,
            part: None,
            date: options.date.map(|date| date.to_string()),
            paper: options.paper.unwrap_or(project.settings.paper.value).word(),
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
    source.traveler.drawings.iter().map(line).collect()
}
