//! VISIT: the packet for somebody who comes to look before a space closes: six pages, by space, for a reader who knows
//! neither the project nor this program.
//!
//! It repeats the spec, the order and the records, what is out of tolerance first. It says nothing for the visitor and
//! nothing that reads like an approval.

mod extract;
mod key;
mod left;
mod look;
mod scene;

use serde::Serialize;
use serde_json::{Value, json};

pub use extract::{DiscrepancyLook, ReadingLine, ReadingVerdict};
pub use left::{DrawingInForce, LeftLine, PhotoLine, Since};
pub use look::{BoltLook, LookJoint, SpaceLook};

use self::scene::{Chosen, Scene};
use super::document::{Document, Edition, Thumbnails, file_name};
use crate::archive::State as Archived;
use crate::calendar::Moment;
use crate::ident::Requirement;
use crate::job::{Hand, Job, Order, Role, State, operation};
use crate::report::{Report, Severity};
use crate::work::LedgerLine;

/// What a packet is for; without zones the spaces that close next.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct VisitChoice {
    /// These zones.
    pub zones: Vec<usize>,
    /// Only this hand.
    pub hand: Option<Hand>,
}

/// The packet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct VisitPacket {
    /// Code of the packet: the same for the same contents.
    pub code: String,
    /// What names on these pages mean: an example of each, and its meaning.
    pub key: Vec<(String, String)>,
    /// What is to be closed.
    pub spaces: Vec<SpaceLine>,
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

/// One space that is to be closed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct SpaceLine {
    /// Its name on paper.
    pub space: String,
    /// Id of the zone.
    pub zone: String,
    /// The step that closes it: traveler, hand, number, title.
    pub closes: Option<String>,
    /// Who must have looked before.
    pub hold: Option<&'static str>,
    /// The day on which it was closed, where it is.
    pub closed: Option<String>,
    /// Steps that are not done and come before the closing.
    pub before: usize,
    /// Their time, where it is given.
    pub time: Option<String>,
    /// Steps in the space that are done, and all of them; the step that closes it is not counted.
    pub done: (usize, usize),
    /// Whether a later step opens it again.
    pub reopened: bool,
}

/// The longest text that a row takes from a spec; what is cut off ends with an ellipsis.
const LONGEST: usize = 180;

/// The longest name of a tool in the list of what to have ready.
const LONGEST_TOOL: usize = 60;

/// A text in the length that rows have room for.
fn clip(text: &str) -> String {
    clip_to(text, LONGEST)
}

fn clip_to(text: &str, most: usize) -> String {
    let short: String = text.chars().take(most).collect();
    if short.len() == text.len() { short } else { format!("{short}…") }
}

/// The packet for a choice of spaces; `archived` where there is an archive.
#[must_use]
pub fn visit(
    job: &Job,
    order: &Order,
    state: &State,
    archived: Option<&Archived>,
    choice: &VisitChoice,
) -> VisitPacket {
    let scene = Scene::of(job, order, state, archived, choice);
    let (open, decided) = extract::discrepancies(&scene);
    let (temporary, on_purpose) = extract::parked(&scene);
    let mut packet = VisitPacket {
        code: String::new(),
        key: key::key(&scene),
        spaces: scene.chosen.iter().map(|chosen| space(&scene, chosen)).collect(),
        left_out: scene.left_out.iter().map(|space| clip(&job.space_name(*space))).collect(),
        since: left::since(&scene),
        drawings: left::drawings(&scene),
        gauges: gauges(&scene),
        looks: look::looks(&scene),
        readings: extract::readings(&scene),
        as_built: extract::as_built(&scene),
        departures: extract::departures(&scene),
        open,
        decided,
        temporary,
        on_purpose,
        left: left::left(&scene),
        photos: left::photos(&scene),
        typed: Vec::new(),
        errors: 0,
    };
    packet.code = code(&packet);
    packet.typed = typed(&scene, &packet.code);
    packet
}

/// The code follows from what the packet says, so that a second print of the same contents has the same.
fn code(packet: &VisitPacket) -> String {
    let text = serde_json::to_string(packet).expect("plain data with text keys is always a JSON value");
    let mut contents = Requirement::new();
    contents.text("visit", &text);
    contents.digest().code().to_string()
}

fn space(scene: &Scene<'_>, chosen: &Chosen) -> SpaceLine {
    let closing = chosen.closing.as_ref();
    let chance = closing.map(|(_, chance)| chance);
    let closes = closing.map(|(by, chance)| {
        let number = operation(scene.job.step(by.at).number);
        clip(&format!("{} step {number}, {}", scene.place(by.at.traveler, by.hand), chance.title))
    });
    let shut = closing.and_then(|(by, _)| scene.state.done.get(by)).map(|done| done.on.earliest.day().to_string());
    let steps = || chosen.users.iter().filter(|item| closing.is_none_or(|(by, _)| by != *item));
    SpaceLine {
        space: clip(&scene.job.space_name(chosen.space)),
        zone: clip(&scene.job.zone(chosen.space.zone).id.value),
        closes,
        hold: chance.and_then(|chance| chance.hold),
        closed: shut,
        before: chance.map_or(0, |chance| chance.before),
        time: chance.and_then(|chance| chance.time.clone()),
        done: (steps().filter(|item| scene.state.is_done(**item)).count(), steps().count()),
        reopened: chance.is_some_and(|chance| chance.reopened),
    }
}

/// Measuring tools that records of the visit's steps name, each once.
fn gauges(scene: &Scene<'_>) -> Vec<String> {
    let records = scene.items.iter().flat_map(|item| &scene.job.step(item.at).records);
    let mut tools: Vec<String> =
        records.filter_map(|record| Some(clip_to(&record.tool.as_ref()?.value, LONGEST_TOOL))).collect();
    tools.sort();
    tools.dedup();
    tools
}

/// What is typed into a file afterwards, so that the visit and its findings stand in the archive.
fn typed(scene: &Scene<'_>, code: &str) -> Vec<String> {
    let quoted = |text: &str| Value::from(text).to_string();
    let signers = &scene.job.project.signers;
    let visitor = signers.iter().find(|signer| matches!(signer.role.value, Role::TechnicalCounselor | Role::Inspector));
    let by = visitor.map_or("??", |signer| signer.initials.value.as_str());
    let mut zones: Vec<&str> =
        scene.chosen.iter().map(|own| scene.job.zone(own.space.zone).id.value.as_str()).collect();
    zones.dedup();
    let list: Vec<String> = zones.iter().map(|zone| quoted(zone)).collect();
    vec![
        "[[visit]]".to_owned(),
        format!("by = {}", quoted(by)),
        "on = DAY".to_owned(),
        format!("zones = [{}]", list.join(", ")),
        format!("note = {}", quoted(&format!("visit packet {code}"))),
        "[[visit.finding]]".to_owned(),
        "number = 1".to_owned(),
        format!("zone = {}", quoted(zones.first().copied().unwrap_or_default())),
        "what = \"\"".to_owned(),
        "suggested = \"\"".to_owned(),
        "before-close = true".to_owned(),
    ]
}

impl VisitPacket {
    /// The packet with the number of errors of a report.
    #[must_use]
    pub fn with_errors(mut self, report: &Report) -> Self {
        self.errors = report.count(Severity::Error);
        self
    }

    /// The packet as a document; `planned` is the day on which somebody comes, where that is known.
    ///
    /// # Panics
    /// Never: plain data with text keys is always a JSON value.
    #[must_use]
    pub fn document(&self, job: &Job, now: Moment, planned: Option<Moment>) -> Document {
        let names = [("", Some(&job.project.aircraft)), ("serial ", job.project.serial())];
        let names = names.into_iter().chain([("", job.project.registration())]);
        let names: Vec<String> =
            names.filter_map(|(word, text)| Some(clip(&format!("{word}{}", text?.value)))).collect();
        Document {
            template: "visit.typ.j2",
            stem: self.stem(),
            paper: job.project.settings.paper.value,
            code: None,
            part: None,
            edition: Edition::default(),
            date: Some(now.day()),
            data: json!({
                "visit": self,
                "paper": job.project.settings.paper.value.word(),
                "aircraft": names.join(", "),
                "printed": now.day().to_string(),
                "planned": planned.map(|planned| planned.day().to_string()),
            }),
            values: json!({}),
            thumbnails: Thumbnails::new(),
        }
    }

    /// `visit-tank-interior`: packets for different zones do not overwrite each other.
    fn stem(&self) -> String {
        let mut zones: Vec<String> = self.spaces.iter().map(|space| file_name(&space.zone)).collect();
        zones.dedup();
        match zones.as_slice() {
            [one] => format!("visit-{one}"),
            _ => "visit".to_owned(),
        }
    }
}
