//! The printed visit packet: the sentences, counts and notes of its pages. The data behind it has every text in full; a
//! row of a page takes so many letters of one and no more.
//!
//! How many rows fit a page only the layout knows: it cuts, and prints how many it cut.

use serde::Serialize;
use serde_json::Value;

use super::VisitPacket;
use super::extract::{DiscrepancyLook, ReadingLine, ReadingVerdict};
use super::lacks::{empty, unready};
use super::left::{DrawingInForce, LeftKind, LeftLine, PhotoLine};
use super::look::{LookJoint, SpaceLook};
use super::space::SpaceLine;
use super::stage::{StageOnPage, stages_on_page};
use super::tone::{Sentences, Tone};
use crate::phrase::{say, say_count};
use crate::plan::said::{Piece, Said};
use crate::units::counted;
use crate::work::LedgerLine;

/// What the packet prints.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct VisitPage {
    /// Paper size as Typst names it.
    pub paper: &'static str,
    /// Name, serial number and registration of the aircraft.
    pub aircraft: String,
    /// Day of printing.
    pub printed: String,
    /// Day for which the visit is planned.
    pub planned: Option<String>,
    /// Code of the packet.
    pub code: String,
    /// That the builder's files have errors, where they have.
    pub warning: Option<String>,
    /// That the work is not ready to be looked at, where it is not.
    pub unready: Option<&'static str>,
    /// What is missing, or what else to know before anybody comes.
    pub lacks: Vec<String>,
    /// Sentences that the visitor's role brings.
    pub words: Sentences,
    /// What a signature of the visitor's role means, in the builder's words.
    pub says: Vec<String>,
    /// Stages, with their boxes.
    pub stages: Vec<StageOnPage>,
    /// When the visit is planned and the packet was printed.
    pub days: String,
    /// Whether there are so many spaces that each has only a few lines.
    pub crowded: bool,
    /// What is to be closed.
    pub spaces: Vec<SpaceOnPage>,
    /// Spaces that have no place.
    pub omitted: Option<String>,
    /// Measuring tools to have ready.
    pub gauges: Option<String>,
    /// What names on these pages mean.
    pub key: Vec<Piece>,
    /// What changed since somebody looked last.
    pub since: SinceOnPage,
    /// Drawings in force.
    pub drawings: Vec<DrawingInForce>,
    /// What to look at, space by space.
    pub looks: Vec<LooksOnPage>,
    /// How many readings there are, and how they stand.
    pub counts: String,
    /// Readings.
    pub readings: Vec<ReadingOnPage>,
    /// Discrepancies that are open.
    pub open: Vec<DiscrepancyLook>,
    /// Discrepancies that are decided.
    pub decided: Vec<DiscrepancyLook>,
    /// Temporary hardware that is in.
    pub temporary: Vec<Vec<Piece>>,
    /// What is open or loose on purpose.
    pub purpose: Vec<Vec<Piece>>,
    /// What was fitted beyond the drawings.
    pub built: Vec<String>,
    /// Departures from a rule.
    pub departures: Vec<String>,
    /// What is left to do, space by space.
    pub left: Vec<LeftOnPage>,
    /// Photos of what is covered.
    pub photos: Vec<PhotoLine>,
}

/// One space that is to be closed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct SpaceOnPage {
    /// Its name.
    pub space: String,
    /// By what it is closed, what comes before, who looks.
    pub words: Vec<Piece>,
}

/// What changed since somebody looked last.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct SinceOnPage {
    /// Since when.
    pub title: &'static str,
    /// Who came then.
    pub note: String,
    /// A line each.
    pub lines: Vec<String>,
    /// What stands there where nothing changed.
    pub empty: &'static str,
}

/// What to look at in one space.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct LooksOnPage {
    /// The space.
    pub space: String,
    /// How many sets there are.
    pub note: String,
    /// Looked at in any case.
    pub always: [&'static str; 6],
    /// Sets of fasteners.
    pub joints: Vec<LookOnPage>,
}

/// One set of fasteners.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct LookOnPage {
    /// The set.
    #[serde(flatten)]
    pub joint: LookJoint,
    /// Whether it is set, and when.
    pub standing: String,
}

/// One reading.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct ReadingOnPage {
    /// What stands in front; nothing in front of one that is well inside or has no limits.
    pub flag: Option<&'static str>,
    /// Whether the flag stands in a frame.
    pub framed: bool,
    /// What is measured, and at which step where another reading has the same label.
    pub label: String,
    /// Where, and who signed.
    pub place: String,
    /// What was read.
    pub read: Option<String>,
    /// The limits in words.
    pub limits: String,
}

/// What is left to do in one space.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct LeftOnPage {
    /// The space.
    pub space: String,
    /// How many lines of each kind.
    pub note: String,
    /// A line each.
    pub lines: Vec<LeftRow>,
}

/// One thing that is left to do.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct LeftRow {
    /// Traveler, hand and step number, or the number of a discrepancy.
    pub place: String,
    /// What is left, as pieces of plain and strong text.
    pub what: Vec<Piece>,
    /// Whether a photo is asked for.
    pub photo: bool,
}

/// What stands at the head of the pages.
pub(super) struct Heading {
    pub paper: &'static str,
    pub aircraft: String,
    pub printed: String,
    pub planned: Option<String>,
}

/// The longest text that a row takes; what is cut off ends with an ellipsis.
const LONGEST: usize = 180;

/// The longest name of a tool in the list of what to have ready, and the letters of the whole list.
const LONGEST_TOOL: usize = 60;
const LONGEST_LIST: usize = 240;

/// More spaces than this stand close.
const FEW_SPACES: usize = 2;

/// Lines of what is missing that are printed.
const LACKS: usize = 2;

/// Names of omitted spaces that are printed.
const NAMED: usize = 4;

/// The data of the pages, with every text in the length that rows have room for.
pub(super) fn data(packet: &VisitPacket, heading: Heading) -> Value {
    let mut data =
        serde_json::to_value(page(packet, heading)).expect("plain data with text keys is always a JSON value");
    clip_all(&mut data);
    data
}

fn clip_all(value: &mut Value) {
    match value {
        Value::String(text) => *text = clip(text, LONGEST),
        Value::Array(all) => all.iter_mut().for_each(clip_all),
        Value::Object(fields) => fields.values_mut().for_each(clip_all),
        _ => {}
    }
}

fn clip(text: &str, most: usize) -> String {
    match text.char_indices().nth(most) {
        Some((end, _)) => format!("{}…", &text[..end]),
        None => text.to_owned(),
    }
}

fn page(packet: &VisitPacket, heading: Heading) -> VisitPage {
    let planned = heading.planned.as_ref().map(|day| say!("planned for a visit on {day}; ", day)).unwrap_or_default();
    let crowded = packet.spaces.len() > FEW_SPACES;
    VisitPage {
        days: say!("{planned}printed {printed}", planned, printed = heading.printed),
        paper: heading.paper,
        aircraft: heading.aircraft,
        printed: heading.printed,
        planned: heading.planned,
        code: packet.code.clone(),
        warning: (packet.errors > 0)
            .then(|| say!("{errors} errors in the builder's files: this packet may be wrong.", errors = packet.errors)),
        crowded,
        unready: packet.lacks.iter().any(|lack| lack.contains(unready()) || lack.contains(empty())).then(unready),
        lacks: lacks(&packet.lacks),
        words: packet.visitor.sentences(),
        says: packet.visitor.says.clone(),
        stages: stages_on_page(&packet.stages),
        spaces: packet.spaces.iter().map(|line| space(line, packet.visitor.tone)).collect(),
        omitted: omitted(&packet.left_out),
        gauges: (!packet.gauges.is_empty())
            .then(|| say!("the builder, measuring tools: {gauges}", gauges = gauges(&packet.gauges))),
        key: key(packet),
        since: since(packet, crowded),
        drawings: packet.drawings.clone(),
        looks: packet.looks.iter().map(looks).collect(),
        counts: reading_counts(&packet.readings),
        readings: packet.readings.iter().map(reading).collect(),
        open: packet.open.clone(),
        decided: packet.decided.clone(),
        temporary: packet.temporary.iter().map(parked).collect(),
        purpose: packet.on_purpose.iter().map(parked).collect(),
        built: packet.as_built.clone(),
        departures: packet.departures.clone(),
        left: packet.spaces.iter().map(|space| left(packet, space)).collect(),
        photos: packet.photos.clone(),
    }
}

/// The first of what is missing, and how much more; what stands in large letters above is not said again.
fn lacks(all: &[String]) -> Vec<String> {
    let shown = all.iter().take(LACKS).map(|lack| lack.replace(&format!("{}. ", unready()), ""));
    let rest = all.len().saturating_sub(LACKS);
    shown.chain((rest > 0).then(|| say!("and {rest} more: ask the builder", rest))).collect()
}

fn space(line: &SpaceLine, tone: Tone) -> SpaceOnPage {
    let (done, all) = line.done;
    let said = match (&line.closed, &line.closes) {
        (Some(day), by) => Said::new()
            .strong(say!("Closed on {day} by {who}.", day, who = by.as_deref().unwrap_or(say!("none"))))
            .plain(say!(" It must be opened again to be looked at.")),
        (None, None) if !line.is_space => Said::new().plain(say!("The steps of this stage.")),
        (None, None) => Said::new().plain(say!("No step of the builder’s plan closes it.")),
        (None, Some(by)) => {
            let said = Said::new().plain(say!("It will be closed by ")).strong(by).plain(".");
            match (line.before, &line.time) {
                (0, _) => said.plain(say!(" Nothing else comes before it.")),
                (_, Some(time)) => said.plain(say!(
                    " About {time} of the builder’s work come before that, in this space and elsewhere.",
                    time
                )),
                (_, None) => said,
            }
        }
    };
    let said = if line.closed.is_some() {
        said
    } else {
        let left = all - done;
        let listed = if left > 0 { say!(", listed in part 3") } else { "" };
        let steps = say_count!(all, "{n} step", "{n} steps");
        let place = if line.is_space { say!("in this space before it is closed") } else { say!("of it") };
        let signed = say_count!(done, "{n} is signed", "{n} are signed");
        let open = say_count!(left, "{n} is still to do", "{n} are still to do");
        said.plain(say!(" Of {steps} {place}, {signed}; {open}{listed}.", steps, place, signed, open, listed))
    };
    let said = if line.reopened { said.plain(say!(" A later step opens it again.")) } else { said };
    let said = said.maybe(line.hold.as_ref(), |said, role| {
        // What several roles must do is said of several.
        let before = if role.contains(say!(" and ")) {
            say!(" look before it closes.")
        } else {
            say!(" looks before it closes.")
        };
        let rule = if tone == Tone::Advice { say!(" The builder’s own rule: the ") } else { say!(" The ") };
        said.plain(rule).strong(role).plain(before)
    });
    SpaceOnPage { space: line.space.clone(), words: said.pieces() }
}

fn omitted(names: &[String]) -> Option<String> {
    let shown: Vec<String> = names.iter().take(NAMED).map(|name| clip(name, LONGEST)).collect();
    let rest = if names.len() > NAMED { " ..." } else { "" };
    (!names.is_empty()).then(|| {
        say!("{count} more: {shown}{rest}: ask the builder", count = names.len(), shown = shown.join("; "), rest)
    })
}

/// As many names as a few lines hold, and how many more there are.
fn gauges(names: &[String]) -> String {
    let mut shown: Vec<String> = Vec::new();
    let mut letters = 0;
    for name in names.iter().map(|name| clip(name, LONGEST_TOOL)) {
        letters += name.chars().count() + 2;
        if !shown.is_empty() && letters > LONGEST_LIST {
            break;
        }
        shown.push(name);
    }
    let rest = names.len() - shown.len();
    let more = if rest > 0 { say!(", and {rest} more: ask the builder", rest) } else { String::new() };
    format!("{}{more}", shown.join(", "))
}

fn key(packet: &VisitPacket) -> Vec<Piece> {
    let mut said = Said::new();
    for (name, means) in &packet.key {
        said = said.strong(name).plain(format!(": {means}. "));
    }
    said.strong(&packet.code).plain(say!(": this packet; the same code means the same contents.")).pieces()
}

fn since(packet: &VisitPacket, crowded: bool) -> SinceOnPage {
    let since = &packet.since;
    let findings = since.findings.iter().map(|finding| say!("found then: {finding}", finding));
    let drawings = since.drawings.iter().map(|drawing| say!("drawing revised: {drawing}", drawing));
    SinceOnPage {
        title: match (&since.visit, crowded) {
            (Some(_), _) => say!("Since the last visit"),
            (None, true) => say!("Signed so far in these spaces"),
            (None, false) => say!("Signed so far in this space"),
        },
        note: since.visit.clone().unwrap_or_else(|| say!("newest first; no earlier visit is recorded").to_owned()),
        lines: findings.chain(drawings).chain(since.signed.iter().cloned()).collect(),
        empty: if since.visit.is_some() { say!("nothing was signed since") } else { say!("nothing yet") },
    }
}

fn looks(look: &SpaceLook) -> LooksOnPage {
    LooksOnPage {
        space: look.space.clone(),
        note: say!(
            "{joints}, those that are installed first",
            joints = say_count!(look.joints.len(), "{n} set of fasteners", "{n} sets of fasteners")
        ),
        always: look.always,
        joints: look.joints.iter().map(look_at).collect(),
    }
}

fn look_at(joint: &LookJoint) -> LookOnPage {
    let unset = if joint.begun { say!("not finished") } else { say!("not installed yet") };
    LookOnPage {
        standing: joint.set.as_ref().map_or_else(|| unset.to_owned(), |day| say!("installed {day}", day)),
        joint: joint.clone(),
    }
}

fn reading_counts(readings: &[ReadingLine]) -> String {
    use ReadingVerdict as V;
    let count = |verdicts: &[V]| readings.iter().filter(|own| verdicts.contains(&own.verdict)).count();
    say!(
        "{readings}; outside: {outside}, missing: {missing}, on the limit: {on_limit}",
        readings = say_count!(readings.len(), "{n} reading", "{n} readings"),
        outside = count(&[V::Outside]),
        missing = count(&[V::NotWritten, V::NoNumber]),
        on_limit = count(&[V::OnLimit])
    )
}

fn reading(line: &ReadingLine) -> ReadingOnPage {
    let at = line.step.as_ref().map(|step| say!(", at “{step}”", step)).unwrap_or_default();
    let flag = match line.verdict {
        ReadingVerdict::Outside => Some(say!("OUTSIDE")),
        ReadingVerdict::NotWritten => Some(say!("NOT WRITTEN")),
        ReadingVerdict::NoNumber => Some(say!("NO NUMBER")),
        ReadingVerdict::OnLimit => Some(say!("ON THE LIMIT")),
        ReadingVerdict::NoLimits | ReadingVerdict::Inside => None,
    };
    ReadingOnPage {
        flag,
        framed: line.verdict != ReadingVerdict::OnLimit,
        label: format!("{}{at}", line.label),
        place: format!("{}, {}", line.place, line.by),
        read: line.read.clone(),
        limits: if line.verdict == ReadingVerdict::NoLimits {
            say!("none given").to_owned()
        } else {
            line.limits.clone()
        },
    }
}

fn parked(line: &LedgerLine) -> Vec<Piece> {
    let said = Said::new()
        .strong(format!("{} x {}", line.count, line.kind))
        .plain(say!(", {joint} in {traveler}", joint = line.joint, traveler = line.traveler))
        .maybe(line.hand, |said, hand| said.plain(" ").strong(hand.to_uppercase()))
        .plain(say!(": {call}, since {since}, ", call = line.call, since = line.since));
    let said = match &line.until {
        Some(until) => said.plain(say!("until {until}", until)),
        None => said.strong(say!("no step ends it")),
    };
    said.maybe(line.why.as_ref(), |said, why| said.plain(format!(" ({why})"))).pieces()
}

fn left(packet: &VisitPacket, space: &SpaceLine) -> LeftOnPage {
    let lines: Vec<&LeftLine> = packet.left.iter().filter(|line| line.space == space.space).collect();
    let kinds = [
        (LeftKind::Step, say!("step to do"), say!("steps to do")),
        (LeftKind::Photo, say!("photo missing"), say!("photos missing")),
        (LeftKind::Parked, say!("still in or open"), say!("still in or open")),
        (LeftKind::Discrepancy, "discrepancy", "discrepancies"),
    ];
    let counts = kinds.into_iter().filter_map(|(kind, one, many)| {
        let count = lines.iter().filter(|line| line.kind == kind).count();
        (count > 0).then(|| counted(count, one, many))
    });
    LeftOnPage {
        space: space.space.clone(),
        note: counts.collect::<Vec<_>>().join(", "),
        lines: lines.into_iter().map(left_row).collect(),
    }
}

fn left_row(line: &LeftLine) -> LeftRow {
    let lead = match line.kind {
        LeftKind::Step => "",
        LeftKind::Photo => say!("photo: "),
        LeftKind::Parked => say!("still in or open: "),
        LeftKind::Discrepancy => say!("discrepancy: "),
    };
    LeftRow {
        place: line.place.clone(),
        what: Said::new().strong(lead).plain(&line.what).pieces(),
        photo: line.photo && line.kind != LeftKind::Photo,
    }
}
