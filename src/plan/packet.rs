//! The bench packet as a whole: what every page carries, and its parts in the order of the pages.
//!
//! Plain data; how it looks is the templates' affair.

use serde::Serialize;

use super::figure::Figures;
use super::requirement::packet_digest;
use super::{CloseOut, Cover, Date, Document, JointSheet, Options, Pictures, Preparation, Source, StepSheet, values};
use crate::job::{Hand, Paper};

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
    /// Last page.
    pub close_out: CloseOut,
    /// Values for the builder's own texts.
    #[serde(skip)]
    pub values: serde_json::Value,
    /// Paper size.
    #[serde(skip)]
    pub paper_size: Paper,
    /// The day in the PDF's description.
    #[serde(skip)]
    pub date: Option<Date>,
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
    /// Whether this is a draft: watermark, no boxes.
    pub draft: bool,
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
        Self {
            head: Head::plan(source, options, code),
            cover: super::cover::plan(source, &steps),
            preparation: super::preparation::plan(source, hardware.clone()),
            joints: super::joint::sheets(source),
            figures: Figures::of(source.job, source.traveler, source.hand),
            close_out: super::close_out::plan(source, hardware, &steps),
            steps,
            values: values(source.job, source.index, source.hand),
            paper_size: source.job.project.settings.paper,
            date: options.date,
        }
    }

    /// Name of the PDF without its ending: traveler id and hand, with anything that a file system dislikes as a dash.
    #[must_use]
    pub fn stem(&self) -> String {
        let plain = |text: &str| -> String {
            text.chars().map(|c| if c.is_alphanumeric() || matches!(c, '-' | '_' | '.') { c } else { '-' }).take(80).collect()
        };
        let id = plain(&self.head.traveler);
        let id = id.trim_start_matches('.');
        let draft = if self.head.draft { "-draft" } else { "" };
        match self.head.hand {
            Some(hand) => format!("{id}-{hand}{draft}"),
            None => format!("{id}{draft}"),
        }
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
            code: self.head.code.clone(),
            date: self.date,
            data: serde_json::to_value(self).expect("a packet is maps with text keys"),
            values: self.values.clone(),
            pictures: Pictures::new(),
        }
    }
}

impl Head {
    fn plan(source: Source<'_>, options: &Options, code: String) -> Self {
        let project = &source.job.project;
        let text = |text: &Option<crate::job::Text>| text.as_ref().map(|text| text.value.clone());
        Self {
            aircraft: project.aircraft.value.clone(),
            serial: text(&project.serial),
            registration: text(&project.registration),
            traveler: source.traveler.id.value.clone(),
            title: source.traveler.title.value.clone(),
            hand: source.hand.map(Hand::word),
            revision: source.traveler.revision.value.clone(),
            drawings: drawings(source),
            code: (!options.draft).then_some(code),
            draft: options.draft,
            date: options.date.map(|date| date.to_string()),
            paper: project.settings.paper.word(),
        }
    }
}

fn drawings(source: Source<'_>) -> Vec<DrawingLine> {
    let register = &source.job.project.register;
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
