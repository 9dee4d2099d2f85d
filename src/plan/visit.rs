//! VISIT: the packet for somebody who comes to look before a space closes: six pages at most, by space, for a reader
//! who knows neither the project nor this program.
//!
//! It repeats the spec, the order and the records, what is out of tolerance first. It says nothing for the visitor and
//! nothing that reads like an approval.

mod extract;
mod key;
mod lacks;
mod left;
mod look;
mod page;
mod scene;
mod space;
mod stage;
mod tone;

use serde::Serialize;
use serde_json::Value;

pub use extract::{DiscrepancyLook, ReadingLine, ReadingVerdict};
pub use left::{DrawingInForce, LeftKind, LeftLine, PhotoLine, Since};
pub use look::{BoltLook, LookJoint, SpaceLook};
pub use space::SpaceLine;
pub use stage::StageLine;
pub use tone::{Tone, Visitor};

use self::scene::Scene;
use super::AllSheets;
use super::document::Document;
use crate::archive::State as Archived;
use crate::calendar::Moment;
use crate::ident::Requirement;
use crate::job::{Hand, Job, Order, OwnDocument, State};
use crate::phrase::{self, say};
use crate::report::{Report, Severity};
use crate::work::LedgerLine;

/// What a packet is for; without spaces the spaces that close next.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct VisitChoice {
    /// These spaces.
    pub spaces: Vec<usize>,
    /// These stages, with the spaces that they are about.
    pub stages: Vec<usize>,
    /// Only this hand.
    pub hand: Option<Hand>,
    /// Initials of the person, or id of the role, for whom it is made.
    pub visitor: Option<String>,
}

/// What the archive tells a packet.
#[derive(Debug, Clone, Copy)]
pub struct Recorded<'a> {
    /// What its records say.
    pub state: &'a Archived,
    /// What the sheets required on which somebody signed.
    pub sheets: &'a AllSheets,
}

/// The packet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct VisitPacket {
    /// Code of the packet: the same for the same contents.
    pub code: String,
    /// What names on these pages mean: an example of each, and its meaning.
    pub key: Vec<(String, String)>,
    /// For whom it is made.
    pub visitor: Visitor,
    /// Why it is empty or the work not ready, a sentence each.
    pub lacks: Vec<String>,
    /// What is to be closed, and stages that are about no space.
    pub spaces: Vec<SpaceLine>,
    /// Stages, each at a step at which it is signed.
    pub stages: Vec<StageLine>,
    /// Names of spaces that were asked for and have no place.
    pub left_out: Vec<String>,
    /// What changed since somebody looked last.
    pub since: Since,
    /// Drawings in force, by sheet.
    pub drawings: Vec<DrawingInForce>,
    /// Measuring tools that the records name.
    pub gauges: Vec<String>,
    /// What to look at.
    pub looks: Vec<SpaceLook>,
    /// Readings: those outside first, then those that are missing, then those on a limit.
    pub readings: Vec<ReadingLine>,
    /// What was fitted beyond the drawings.
    pub as_built: Vec<String>,
    /// Departures from a rule, with the builder's reason.
    pub departures: Vec<String>,
    /// Discrepancies that are open.
    pub open: Vec<DiscrepancyLook>,
    /// Discrepancies that are decided.
    pub decided: Vec<DiscrepancyLook>,
    /// Temporary hardware that is in.
    pub temporary: Vec<LedgerLine>,
    /// What is open or loose on purpose.
    pub on_purpose: Vec<LedgerLine>,
    /// What needs the spaces and is not done, steps in working order.
    pub left: Vec<LeftLine>,
    /// Photos of what is covered.
    pub photos: Vec<PhotoLine>,
    /// What the builder types afterwards, a line each.
    pub typed: Vec<String>,
    /// Errors in the project that nothing allows: with any, the packet may be wrong.
    pub errors: usize,
}

/// The packet for a choice of spaces; `recorded` where there is an archive.
#[must_use]
pub fn visit(
    job: &Job,
    order: &Order,
    state: &State,
    recorded: Option<Recorded<'_>>,
    choice: &VisitChoice,
) -> VisitPacket {
    let scene = Scene::of(job, order, state, recorded, choice);
    let mut packet = contents(&scene, choice);
    // The code stands for what the packet says, in whatever language it says it.
    packet.code = if phrase::spoken().is_none() { code(&packet) } else { english_code(&scene, choice) };
    packet.typed = typed(&scene, &packet);
    packet
}

fn english_code(scene: &Scene<'_>, choice: &VisitChoice) -> String {
    let _english = phrase::speak(None);
    code(&contents(scene, choice))
}

/// All but the code and what is typed in afterwards.
fn contents(scene: &Scene<'_>, choice: &VisitChoice) -> VisitPacket {
    let (open, decided) = extract::discrepancies(scene);
    let (temporary, on_purpose) = extract::parked(scene);
    let mut packet = VisitPacket {
        code: String::new(),
        key: key::key(scene),
        visitor: Visitor::of(scene, choice.visitor.as_deref()),
        lacks: Vec::new(),
        spaces: scene.chosen.iter().map(|chosen| space::space(scene, chosen)).collect(),
        stages: stage::stages(scene),
        left_out: scene.left_out.clone(),
        since: left::since(scene),
        drawings: left::drawings(scene),
        gauges: gauges(scene),
        looks: look::looks(scene),
        readings: extract::readings(scene),
        as_built: extract::as_built(scene),
        departures: extract::departures(scene),
        open,
        decided,
        temporary,
        on_purpose,
        left: left::left(scene),
        photos: left::photos(scene),
        typed: Vec::new(),
        errors: 0,
    };
    packet.lacks = lacks::lacks(scene, &packet);
    packet
}

/// The code follows from what the packet says, so that a second print of the same contents has the same.
fn code(packet: &VisitPacket) -> String {
    let text = serde_json::to_string(packet).expect("plain data with text keys is always a JSON value");
    let mut contents = Requirement::new();
    contents.text("visit", &text);
    contents.digest().code().to_string()
}

/// Measuring tools that records of the visit's steps name, each once.
fn gauges(scene: &Scene<'_>) -> Vec<String> {
    let records = scene.items.iter().flat_map(|item| &scene.job.step(item.at).records);
    let mut tools: Vec<String> = records.filter_map(|record| Some(record.tool.as_ref()?.value.clone())).collect();
    tools.sort();
    tools.dedup();
    tools
}

/// Stages whose box, and whose lines to type, have room in a packet; the others are signed on their sheets alone.
const STAGE_BOXES: usize = 1;

/// What is typed into a file afterwards, so that the visit and its findings stand in the archive.
fn typed(scene: &Scene<'_>, packet: &VisitPacket) -> Vec<String> {
    let quoted = |text: &str| Value::from(text).to_string();
    // Whoever comes is named by whoever types it in.
    let by = packet.visitor.initials.as_deref().unwrap_or("INITIALS");
    let chosen = scene.chosen.iter().filter(|own| own.space.is_some());
    let mut spaces: Vec<&str> = chosen.map(|own| own.id(scene.job)).collect();
    spaces.dedup();
    let list: Vec<String> = spaces.iter().map(|space| quoted(space)).collect();
    let traveler = scene.items.first().map(|item| scene.job.travelers[item.at.traveler].id.value.as_str());
    let place = match (spaces.first(), traveler) {
        (None, Some(traveler)) => format!("traveler = {}", quoted(traveler)),
        // A visit without spaces leaves the value to be filled in, as those below.
        (space, _) => format!("space = {}", quoted(space.copied().unwrap_or_default())),
    };
    let mut lines = vec![
        "[[visit]]".to_owned(),
        format!("by = {}", quoted(by)),
        "on = DAY".to_owned(),
        format!("spaces = [{}]", list.join(", ")),
        format!("note = {}", quoted(&format!("visit packet {}", packet.code))),
        "[[visit.finding]]".to_owned(),
        "number = 1".to_owned(),
        place,
        "what = \"\"".to_owned(),
        "suggested = \"\"".to_owned(),
        "before-close = true".to_owned(),
    ];
    lines.extend(
        packet
            .stages
            .iter()
            .filter(|stage| !stage.missing.is_empty())
            .take(STAGE_BOXES)
            .flat_map(|stage| signing(stage, by)),
    );
    lines
}

/// The signature of a stage, where its sheet is in force and it is open.
fn signing(stage: &StageLine, by: &str) -> Vec<String> {
    let quoted = |text: &str| Value::from(text).to_string();
    let Some(sheet) = stage.sheet.as_ref() else { return Vec::new() };
    let fields: Vec<String> = stage.fields.iter().map(|field| format!("{} = \"\"", quoted(field))).collect();
    let sheet = format!("sheet = {}", quoted(sheet));
    let head = ["[[sign]]".to_owned(), sheet, format!("step = {}", quoted(&stage.number))];
    let outcome = (!stage.outcomes.is_empty()).then(|| "outcome = \"\"".to_owned());
    let asked = (!fields.is_empty()).then(|| format!("asked = {{ {} }}", fields.join(", ")));
    let who = [format!("stage = {}", quoted(&stage.id)), format!("by = {}", quoted(by)), "on = DAY".to_owned()];
    head.into_iter().chain(who).chain(outcome).chain(asked).collect()
}

impl VisitPacket {
    /// The packet with the number of errors of a report.
    #[must_use]
    pub fn with_errors(mut self, report: &Report) -> Self {
        self.errors = report.count(Severity::Error);
        self
    }

    /// The packet as a document; `planned` is the day on which somebody comes, where that is known.
    #[must_use]
    pub fn document(&self, job: &Job, now: Moment, planned: Option<Moment>) -> Document {
        let names = [("", Some(&job.project.aircraft)), (say!("serial "), job.project.serial())];
        let names = names.into_iter().chain([("", job.project.registration())]);
        let names: Vec<String> = names.filter_map(|(word, text)| Some(format!("{word}{}", text?.value))).collect();
        let heading = page::Heading {
            paper: job.project.settings.paper.value.word(),
            aircraft: names.join(", "),
            printed: now.day().to_string(),
            planned: planned.map(|planned| planned.day().to_string()),
        };
        let document = Document::of_build(job, "visit.typ.j2", self.stem(), Some(now.day()), page::data(self, heading));
        Document { code: Some(self.code.clone()), ..document }
    }

    /// `visit-tank-interior`: packets for different spaces do not overwrite each other.
    fn stem(&self) -> String {
        let mut spaces: Vec<&str> = self.spaces.iter().map(|space| space.id.as_str()).collect();
        spaces.dedup();
        OwnDocument::Visit.stem(if let [one] = spaces[..] { Some(one) } else { None })
    }
}
