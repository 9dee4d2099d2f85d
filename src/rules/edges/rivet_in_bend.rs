//! # rivet-in-bend
//!
//! ## What it checks
//! With `bend-distance`, from the hole's centre to where the bend begins: at least the radius of the shop head, .75 D
//! (error), and 1/16 in more for the set (warning). `limits = { bend = ".." }` of the plans takes the place of the second.
//!
//! ## Why it matters
//! A head that lies in the bend stands on its edge, and the set marks the radius, from which it cracks.
//!
//! ## Source
//! - `geometry` geometry: the shop head is 1.5 D wide.
//! - `common-practice` common practice: a sixteenth of room for the set.
//!
//! ## Example that fires
//! ```toml
//! fastener = "MS20470AD4-4"
//! bend-distance = "0.08"          # the shop head reaches .094
//! ```
//!
//! ## How to put it right
//! Move the row away from the bend while the holes are undrilled.
//!
//! ## When to allow it
//! When the manufactured head lies on that side, and the drawing shows it there.

use crate::hardware::{limit, reaches};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{diameter_words, solid};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let (Some(rivet), Some(distance)) = (solid(joint), joint.bend_distance) else { return };
    let head = rivet.diameter.times(limit::shop_head_wide().value).fraction(1, 2);
    // The plans' own distance outranks the room for the set; under the head itself there is none.
    let plans = joint.limits.as_ref().and_then(|limits| Some((limits.bend?, &limits.because)));
    let room = plans.map_or(head + limit::bend_room().value, |(ratio, _)| rivet.diameter.times(ratio.value).max(head));
    if reaches(distance.value, room) {
        return;
    }
    let begins = format!("bend begins {} from the hole", sink.style.length(distance.value));
    let room = sink.style.at_least(room);
    let finding = match plans {
        _ if !reaches(distance.value, head) => sink
            .error(distance.span, format!("{begins}, under the shop head, which reaches {}", sink.style.length(head))),
        Some((ratio, because)) => sink
            .error(distance.span, format!("{begins}; the plans' limit is {} D, {room}", ratio.value))
            .label(ratio.span, "limit of the plans")
            .source(format!("plans: {}", because.value)),
        None => sink.warning(distance.span, format!("{begins}; head and set want {room}")),
    };
    let finding = finding.label(joint.spec.fastener.span, diameter_words(rivet.diameter, sink.style));
    sink.push(finding.help(format!("{room} or more passes")));
}
