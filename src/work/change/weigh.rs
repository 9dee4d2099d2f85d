//! What each class of difference does to a signature: the table that the notice rests on.
//!
//! | what changed | signed |
//! |---|---|
//! | nothing, or words only | stands |
//! | a drawing that the step cites | stands after one read-through |
//! | a limit widened, an inspection, a photo or a wait dropped | stands |
//! | a limit narrowed | recorded number inside: stands by record; outside or only a tick: look again |
//! | an inspection or a measurement added | look again |
//! | what must come before, added | stands if it was so on the day of the work, else look again |
//! | label of a reading | look again: a number says nothing without what was measured |
//! | its instrument, a text that is the work, its procedure, a picture, a source | stands after one read-through |
//! | structure, limits of the plans, heat, movement | a step that looks: look again; else one read-through |
//! | hole as delivered; spacing, for who fastens | look again: it can still be seen |
//! | fit-up hardware of a joint that is fastened | stands: it is out again |
//! | part, stack, size, fastener, torque, kind of work | rework or ask; a step that only looks: look again |
//! | a name that several new things may have taken | asked |
//!
//! Common practice; the aspects of the facts are the classes. It never says that changed work is right.

mod compared;

use super::comparison::Comparison;
use super::{Difference, Measured, Verdict, order, words};
use crate::archive::{
    About, Aspect, Capacity, FactValue, KitSide, Limits, NO_UNIT, NOT_APPLICABLE, RecordSide, Side, Signature,
    SpaceUse, StepRequirement,
};
use crate::hardware::Fastener;
use crate::job::{Item, Joint, StepKind};
use crate::units::Minutes;

const MINUTES_OF_DAY: i64 = 1440;

/// What one signed step is weighed by.
pub(super) struct Weighing<'a, 'b> {
    pub with: &'b Comparison<'a>,
    pub signature: &'a Signature,
    pub old: &'b StepRequirement,
    pub new: &'b StepRequirement,
}

/// The outcome.
pub(super) struct Weighed {
    pub verdict: Verdict,
    pub reasons: Vec<String>,
    pub measured: Vec<Measured>,
}

impl Weighed {
    fn take(&mut self, verdict: Verdict, reason: String) {
        self.verdict = self.verdict.max(verdict);
        if !self.reasons.contains(&reason) {
            self.reasons.push(reason);
        }
    }
}

/// Weighs every difference; the worst decides, and every reason is kept.
pub(super) fn weigh(own: &Weighing<'_, '_>, differences: &[Difference]) -> Weighed {
    let mut weighed = Weighed { verdict: Verdict::Stands, reasons: Vec::new(), measured: Vec::new() };
    let mut records: Vec<&str> = Vec::new();
    for difference in differences {
        let Some(about) = difference.about() else { continue };
        let mut facts = difference.is.iter().chain(&difference.was);
        if let Some(question) = facts.find_map(|fact| own.with.names.question_of(fact)) {
            weighed.take(Verdict::WhichOne, question);
        } else if let About::Record(id, _) = about {
            if !records.contains(&id.as_str()) {
                records.push(id);
            }
        } else {
            let (verdict, reason) = one(own, about, difference);
            weighed.take(verdict, reason);
        }
    }
    for id in records {
        record(own, id, &mut weighed);
    }
    weighed
}

/// Whether a step only looks: there is nothing in it to rework.
fn only_looks(step: &StepRequirement) -> bool {
    use StepKind::{Inspect, Measure, Photograph, Prepare, Test};
    matches!(step.kind(), Some(Inspect | Measure | Photograph | Prepare | Test))
}

fn one(own: &Weighing<'_, '_>, about: &About, difference: &Difference) -> (Verdict, String) {
    let said = words::of(difference, &own.with.job.project.style);
    let looks = only_looks(own.new);
    match about {
        About::Space(space) => (of_space(own, space, difference), said),
        About::Needs(traveler, step) => needs(own, traveler, step, difference, said),
        About::Joint(_, Side::HoleStart) => (Verdict::LookAgain, said),
        About::Joint(_, Side::Edge | Side::Pitch | Side::Rows | Side::RowGap) if fastens(own.new) => {
            (Verdict::LookAgain, said)
        }
        About::Joint(joint, Side::Temporary | Side::PutIn) if is_fastened(own, joint) => {
            (Verdict::Stands, format!("{said}; it is out again"))
        }
        About::Kit(call, KitSide::Hole) if holes_lie_inside(own, call, difference) => {
            (Verdict::Stands, format!("{said}; the hole lies inside"))
        }
        About::Cure | About::CureLatest => cure(own, difference, said),
        About::Procedure(_) if own.old.value(&About::Text) == own.new.value(&About::Text) => {
            (Verdict::StandsAfterReading, format!("{said}; its words are the same"))
        }
        About::Joint(_, Side::Count) if !looks && let Some(counts) = words::counts(difference) => {
            (of_aspect(about.aspect(), looks, difference), format!("{said}: {}", words::more(counts)))
        }
        _ => (of_aspect(about.aspect(), looks, difference), said),
    }
}

fn of_aspect(aspect: Aspect, looks: bool, difference: &Difference) -> Verdict {
    match aspect {
        Aspect::Drawing | Aspect::Read => Verdict::StandsAfterReading,
        Aspect::Inspection | Aspect::Order if difference.is.is_none() => Verdict::Stands,
        Aspect::Judged if !looks => Verdict::StandsAfterReading,
        Aspect::Inspection | Aspect::Order | Aspect::Cure | Aspect::Tolerance | Aspect::Judged => Verdict::LookAgain,
        Aspect::Work => Verdict::ReworkOrAsk,
        Aspect::Part | Aspect::Stack | Aspect::Size | Aspect::Fastener | Aspect::Torque => {
            if looks {
                Verdict::LookAgain
            } else {
                Verdict::ReworkOrAsk
            }
        }
    }
}

fn fastens(step: &StepRequirement) -> bool {
    step.kind().is_some_and(StepKind::fastens)
}

/// Whether every step that fastens a joint is signed.
fn is_fastened(own: &Weighing<'_, '_>, joint: &str) -> bool {
    let on_joint = |step: &&StepRequirement| step.facts.iter().any(|fact| fact.about.joint() == Some(joint));
    let mut fastening = own.with.new.steps.iter().filter(|step| fastens(step)).filter(on_joint).peekable();
    let is_done = |step: &StepRequirement| {
        let issued = &own.with.issue.issued;
        own.with.state.is_signed(&issued.item(&step.id), Capacity::Done)
    };
    let mut elsewhere = fastened_elsewhere(own, joint).peekable();
    (fastening.peek().is_some() || elsewhere.peek().is_some())
        && fastening.all(is_done)
        && elsewhere.all(|item| own.with.state.is_signed(&own.with.job.name_of(item), Capacity::Done))
}

/// The items of other travelers that fasten a joint of the sheet.
fn fastened_elsewhere(own: &Weighing<'_, '_>, joint: &str) -> impl Iterator<Item = Item> {
    let job = own.with.job;
    let at = own.with.item(&own.new.id);
    let found = at.and_then(|item| {
        let of = job.travelers[item.at.traveler].joints.iter().find(|known| known.id.value == joint)?;
        Some((item, of))
    });
    found.into_iter().flat_map(move |(item, of)| {
        let others =
            of.fastenings().filter(move |lived| lived.at.traveler != item.at.traveler && lived.is_on(item.hand));
        others.flat_map(move |lived| job.items_facing(item.hand, lived.at))
    })
}

/// Whether the holes of a step for a kit's fastener lie inside its new range, where only that changed.
fn holes_lie_inside(own: &Weighing<'_, '_>, call: &str, difference: &Difference) -> bool {
    let Some(FactValue::Range(least, most)) = difference.is.as_ref().map(|fact| &fact.value) else { return false };
    let Some(item) = own.with.item(&own.new.id) else { return false };
    let job = own.with.job;
    let joints = job.step(item.at).joints.iter().map(|named| job.joint(named.joint));
    let takes_it = |joint: &&Joint| {
        let kit = joint.fastener.as_ref().ok().and_then(Fastener::kit);
        kit.is_some_and(|kit| kit.id == call)
    };
    let hole =
        |joint: &Joint| joint.hole_after(item.at).map(|hole| hole.size).or_else(|| joint.last.map(|last| last.size));
    let mut holes = joints.filter(takes_it).map(hole).peekable();
    holes.peek().is_some() && holes.all(|hole| hole.is_some_and(|hole| *least <= hole.length && hole.length <= *most))
}

/// Unit and limits of a measured value against what was read, then its label and instrument.
fn record(own: &Weighing<'_, '_>, id: &str, weighed: &mut Weighed) {
    let text = |step: &StepRequirement, side| step.record_text(id, side).map(str::to_owned);
    let limits = |step: &StepRequirement| text(step, RecordSide::Unit).map(|_| step.limits_text(id));
    let changed = |side| text(own.old, side) != text(own.new, side);
    let was = limits(own.old);
    let is = limits(own.new);
    let label = label(own, id);
    if changed(RecordSide::Unit) || own.old.limits(id) != own.new.limits(id) {
        let (verdict, reason, measured) = tolerance(own, (id, &label), was.clone(), is.clone());
        weighed.take(verdict, reason);
        weighed.measured.push(measured);
    }
    compared::weigh(own, (id, &label), weighed);
    // A value that is new or gone was told of above.
    if was.is_none() || is.is_none() {
        return;
    }
    if let (Some(was), Some(is)) = (text(own.old, RecordSide::Label), text(own.new, RecordSide::Label))
        && was != is
    {
        weighed.take(Verdict::LookAgain, format!("\"{was}\" was read; it is \"{is}\" now"));
    }
    if changed(RecordSide::Tool) {
        let named = |tool: Option<String>| tool.unwrap_or_else(|| "any instrument".to_owned());
        let is = named(text(own.new, RecordSide::Tool));
        let was = named(text(own.old, RecordSide::Tool));
        weighed.take(Verdict::StandsAfterReading, format!("{label}: now measured with {is}, was {was}"));
    }
}

/// What is measured, as the bench says it; an older sheet recorded no label, and one that is gone from the specs has its
/// id alone.
fn label(own: &Weighing<'_, '_>, id: &str) -> String {
    let archived = [own.new, own.old].into_iter().find_map(|step| step.record_text(id, RecordSide::Label));
    let today = || {
        let records = &own.with.job.step(own.with.item(&own.new.id)?.at).records;
        records.iter().find(|record| record.id.value == id).map(|record| record.label.value.as_str())
    };
    archived.or_else(today).unwrap_or(id).to_owned()
}

fn tolerance(
    own: &Weighing<'_, '_>,
    (id, label): (&str, &str),
    was: Option<String>,
    is: Option<String>,
) -> (Verdict, String, Measured) {
    let unit = |step: &StepRequirement| step.record_text(id, RecordSide::Unit).map(str::to_owned);
    let before = own.old.limits(id);
    let now = own.new.limits(id);
    let reading = own.signature.reading(id).filter(|value| *value != NOT_APPLICABLE);
    let read = |value: &str| match unit(own.old).filter(|unit| unit != NO_UNIT) {
        Some(unit) => format!("{value} {unit}"),
        None => value.to_owned(),
    };
    let (verdict, reason) = match (&was, &is) {
        (_, None) => (Verdict::Stands, format!("{label}: no longer asked for")),
        (None, Some(new)) => (Verdict::LookAgain, format!("{label}: to be recorded now, {new}")),
        (Some(old), Some(new)) if unit(own.old) != unit(own.new) => {
            (Verdict::LookAgain, format!("{label}: now recorded in another unit, {new}, was {old}"))
        }
        (Some(old), Some(new)) if !is_narrower(before, now) => {
            (Verdict::Stands, format!("{label}: wider limits, {new}, was {old}"))
        }
        (Some(old), Some(new)) => match reading.and_then(|value| Some((value, now.contain(value)?))) {
            Some((value, true)) => {
                (Verdict::StandsByRecord, format!("{label}: read as {}, inside the narrower limits {new}", read(value)))
            }
            Some((value, false)) => (
                Verdict::LookAgain,
                format!("{label}: read as {}, outside the narrower limits {new}, was {old}", read(value)),
            ),
            None => {
                (Verdict::LookAgain, format!("{label}: narrower limits, {new}, was {old}, and no number was recorded"))
            }
        },
    };
    let measured =
        Measured { id: id.to_owned(), label: label.to_owned(), reading: reading.map(read), old: was, new: is };
    (verdict, reason, measured)
}

fn is_narrower(old: Limits, new: Limits) -> bool {
    let above = match (old.min, new.min) {
        (_, None) => false,
        (None, Some(_)) => true,
        (Some(old), Some(new)) => new > old,
    };
    let below = match (old.max, new.max) {
        (_, None) => false,
        (None, Some(_)) => true,
        (Some(old), Some(new)) => new < old,
    };
    above || below
}

/// A step that must be done first stands if it was done on the day of the work.
fn needs(
    own: &Weighing<'_, '_>,
    traveler: &str,
    step: &str,
    difference: &Difference,
    said: String,
) -> (Verdict, String) {
    if difference.is.is_none() {
        (Verdict::Stands, said)
    } else if order::was_done(own.with, traveler, step, own.signature.signed.worked) {
        (Verdict::Stands, format!("{said}; it was done before this step"))
    } else {
        (Verdict::LookAgain, format!("{said}; it was not done before this step"))
    }
}

/// A space that must be open stands if it was open on the day of the work.
fn of_space(own: &Weighing<'_, '_>, space: &str, difference: &Difference) -> Verdict {
    let was_open = || !own.with.spaces.was_closed(own.with.state, space, own.with.hand, own.signature.signed.worked);
    match difference.is.as_ref().map(|fact| &fact.value) {
        None => Verdict::Stands,
        Some(FactValue::Space(SpaceUse::Open)) if was_open() => Verdict::Stands,
        Some(_) => Verdict::LookAgain,
    }
}

/// A longer cure, or a shorter recoat window, is met if the days between this step and the next one say so.
fn cure(own: &Weighing<'_, '_>, difference: &Difference, said: String) -> (Verdict, String) {
    let minutes = |fact: &Option<crate::archive::Fact>| match fact.as_ref().map(|fact| &fact.value) {
        Some(FactValue::Minutes(Minutes(minutes))) => Some(*minutes),
        _ => None,
    };
    let latest = difference.about() == Some(&About::CureLatest);
    let stricter = match (minutes(&difference.was), minutes(&difference.is)) {
        (_, None) => None,
        (Some(old), Some(new)) => Some(new).filter(|new| if latest { *new < old } else { *new > old }),
        (None, new) => new,
    };
    let (Some(new), Some(days)) = (stricter, days_to_next(own)) else { return (Verdict::Stands, said) };
    // Only the days are known: between them lies at least one day less, and at most one day more.
    let met = if latest { (days + 1) * MINUTES_OF_DAY <= new } else { (days - 1) * MINUTES_OF_DAY >= new };
    let said = format!("{said}; the next step was signed {days} d later");
    (if met { Verdict::StandsByRecord } else { Verdict::LookAgain }, said)
}

/// Days from this step to the next that is signed.
fn days_to_next(own: &Weighing<'_, '_>) -> Option<i64> {
    let next = order::next_signed(own.with, &own.new.id)?;
    Some(next.signed.worked.days_after(own.signature.signed.worked))
}
