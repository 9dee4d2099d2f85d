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
//! | part, stack, size, fastener, torque, kind of work | rework or ask; a step that only looks: look again |
//!
//! Common practice; the aspects of the fields are the classes. It never says that changed work is right.

use super::{Comparison, Difference, Measured, Verdict, aspect, order, words, zone};
use crate::archive::{Aspect, Signature, StepRequirement, lies_inside, limits, limits_text};
use crate::units::Decimal;

const MINUTES_OF_DAY: i64 = 1440;

/// What one signed step is weighed by.
pub(super) struct Facts<'a, 'b> {
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

/// Weighs every difference; the worst decides, and every reason is kept.
pub(super) fn weigh(facts: &Facts<'_, '_>, differences: &[Difference]) -> Weighed {
    let mut weighed = Weighed { verdict: Verdict::Stands, reasons: Vec::new(), measured: Vec::new() };
    for difference in differences.iter().filter(|difference| aspect(difference) != Aspect::Tolerance) {
        let (verdict, reason) = one(facts, difference);
        weighed.verdict = weighed.verdict.max(verdict);
        weighed.reasons.push(reason);
    }
    let mut ids: Vec<&str> =
        differences.iter().filter(|d| aspect(d) == Aspect::Tolerance).filter_map(|d| record_id(&d.name)).collect();
    ids.dedup();
    for id in ids {
        let (verdict, reason, measured) = tolerance(facts, id);
        weighed.verdict = weighed.verdict.max(verdict);
        weighed.reasons.push(reason);
        weighed.measured.push(measured);
    }
    weighed
}

/// Whether a step only looks: there is nothing in it to rework.
fn only_looks(step: &StepRequirement) -> bool {
    matches!(step.value("do"), Some("inspect" | "measure" | "photograph" | "prepare"))
}

fn one(facts: &Facts<'_, '_>, difference: &Difference) -> (Verdict, String) {
    let said = words::of(difference);
    match aspect(difference) {
        Aspect::Drawing => (Verdict::StandsAfterReading, said),
        Aspect::Inspection if difference.new.is_none() => (Verdict::Stands, said),
        Aspect::Inspection => (Verdict::LookAgain, said),
        Aspect::Order => order_of(facts, difference, said),
        Aspect::Cure => cure(facts, difference, said),
        Aspect::Tolerance => (Verdict::Stands, said),
        Aspect::Work => (Verdict::ReworkOrAsk, said),
        Aspect::Part | Aspect::Stack | Aspect::Size | Aspect::Fastener | Aspect::Torque => {
            (if only_looks(facts.new) { Verdict::LookAgain } else { Verdict::ReworkOrAsk }, said)
        }
    }
}

/// The id in `record ID min`.
fn record_id(name: &str) -> Option<&str> {
    let rest = name.strip_prefix("record ")?;
    [" unit", " min", " max"].iter().find_map(|end| rest.strip_suffix(end))
}

fn tolerance(facts: &Facts<'_, '_>, id: &str) -> (Verdict, String, Measured) {
    let unit = |step: &StepRequirement| step.value(&format!("record {id} unit")).map(str::to_owned);
    let text = |step: &StepRequirement| unit(step).map(|_| limits_text(step, id));
    let reading = facts.signature.reading(id).filter(|value| *value != crate::archive::NOT_APPLICABLE);
    let measured =
        Measured { id: id.to_owned(), reading: reading.map(str::to_owned), old: text(facts.old), new: text(facts.new) };
    let (verdict, reason) = match (&measured.old, &measured.new) {
        (_, None) => (Verdict::Stands, format!("`{id}` is no longer asked for")),
        (None, Some(new)) => (Verdict::LookAgain, format!("`{id}` is to be recorded now: {new}")),
        (Some(old), Some(new)) if unit(facts.old) != unit(facts.new) => {
            (Verdict::LookAgain, format!("`{id}` is now recorded in another unit: {new}, was {old}"))
        }
        (Some(old), Some(new)) if !is_narrower(limits(facts.old, id), limits(facts.new, id)) => {
            (Verdict::Stands, format!("the limits of `{id}` are wider: {new}, was {old}"))
        }
        (Some(old), Some(new)) => {
            match reading.and_then(|value| Some((value, lies_inside(value, limits(facts.new, id))?))) {
                Some((value, true)) => {
                    (Verdict::StandsByRecord, format!("`{id}` was read as {value}, inside the narrower limits {new}"))
                }
                Some((value, false)) => (
                    Verdict::LookAgain,
                    format!("`{id}` was read as {value}, outside the narrower limits {new}, was {old}"),
                ),
                None => (
                    Verdict::LookAgain,
                    format!("the limits of `{id}` are narrower, {new}, was {old}, and no number was recorded"),
                ),
            }
        }
    };
    (verdict, reason, measured)
}

type Limits = (Option<Decimal>, Option<Decimal>);

fn is_narrower(old: Limits, new: Limits) -> bool {
    let above = match (old.0, new.0) {
        (_, None) => false,
        (None, Some(_)) => true,
        (Some(old), Some(new)) => new > old,
    };
    let below = match (old.1, new.1) {
        (_, None) => false,
        (None, Some(_)) => true,
        (Some(old), Some(new)) => new < old,
    };
    above || below
}

/// A new condition stands if it was met on the day of the work.
fn order_of(facts: &Facts<'_, '_>, difference: &Difference, said: String) -> (Verdict, String) {
    let worked = facts.signature.signed.worked;
    let Some(new) = &difference.new else { return (Verdict::Stands, said) };
    if let Some(need) = difference.name.strip_prefix("needs ") {
        return if order::was_done(facts.with, need, worked) {
            (Verdict::Stands, format!("{said}; it was done before this step"))
        } else {
            (Verdict::LookAgain, format!("{said}; it was not done before this step"))
        };
    }
    match difference.name.strip_prefix("zone ") {
        Some(zone) if new == "open" && !zone::was_closed(facts.with, zone, worked) => {
            (Verdict::Stands, format!("{said}; it was open on that day"))
        }
        _ => (Verdict::LookAgain, said),
    }
}

/// A longer cure, or a shorter recoat window, is met if the days between this step and the next one say so.
fn cure(facts: &Facts<'_, '_>, difference: &Difference, said: String) -> (Verdict, String) {
    let minutes =
        |value: &Option<String>| value.as_ref().and_then(|value| value.split(' ').next()?.parse::<i64>().ok());
    let (old, new) = (minutes(&difference.old), minutes(&difference.new));
    let latest = difference.name == "cure-latest";
    let stricter = match (old, new) {
        (_, None) => false,
        (None, Some(_)) => true,
        (Some(old), Some(new)) => {
            if latest {
                new < old
            } else {
                new > old
            }
        }
    };
    let next = order::next_signed(facts.with, &facts.new.id);
    let (Some(new), Some(next), true) = (new, next, stricter) else { return (Verdict::Stands, said) };
    let days = next.signed.worked.days_after(facts.signature.signed.worked);
    // Only the days are known: between them lies at least one day less, and at most one day more.
    let met = if latest { (days + 1) * MINUTES_OF_DAY <= new } else { (days - 1) * MINUTES_OF_DAY >= new };
    let said = format!("{said}; the next step was signed {days} d later");
    (if met { Verdict::StandsByRecord } else { Verdict::LookAgain }, said)
}
