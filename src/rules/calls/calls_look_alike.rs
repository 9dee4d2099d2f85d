//! # calls-look-alike
//!
//! ## What it checks
//! No two calls of one traveler differ in a single character, or only in their length.
//!
//! ## Why it matters
//! AD4-5 and AD4-6 lie on one bench, look the same in the hand, and one of them is too short. The packet marks such pairs.
//!
//! ## Source
//! - `practice` shop practice of this project: what is easily mixed up is told apart before the bags are open.
//!
//! ## Example that fires
//! ```toml
//! [[joint]]
//! id = "J1"
//! fastener = "MS20470AD4-5"
//! [[joint]]
//! id = "J2"
//! fastener = "MS20470AD4-6"
//! ```
//!
//! ## How to put it right
//! Nothing is wrong with either call. Keep them in separate cups, marked with the joint.
//!
//! ## When to allow it
//! When both are needed, which is usual: the reason then says how they are kept apart at the bench.

use crate::hardware::Fastener;
use crate::job::{Joint, Traveler};
use crate::report::{Place, Severity};
use crate::rules::facts::others;
use crate::rules::{At, Check, Looks, Sink};
use crate::text::Span;

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Traveler(look) };

/// One call at the first place that uses it.
struct Use<'a> {
    usual: &'a str,
    joint: &'a str,
    span: Span,
    has_length: bool,
}

fn look(traveler: &Traveler, _: &At<'_>, sink: &mut Sink<'_>) {
    let uses = first_uses(traveler);
    for (index, later) in uses.iter().enumerate() {
        // One finding a call, against all that came before it.
        let alike: Vec<&Use<'_>> = uses[..index].iter().filter(|earlier| look_alike(earlier, later)).collect();
        if alike.is_empty() {
            continue;
        }
        let names: Vec<String> =
            alike.iter().map(|earlier| format!("{} of joint {}", earlier.usual, earlier.joint)).collect();
        let message = format!("{} is easily taken for {}", later.usual, names.join(" and "));
        let mut finding =
            sink.warning(later.span, message).help("keep them apart at the bench, and say how in an `[[allow]]` entry");
        for earlier in alike {
            finding = finding.label(earlier.span, format!("{} here", earlier.usual));
        }
        sink.push_about(Place { joint: Some(later.joint.to_owned()), ..Place::default() }, finding);
    }
}

fn first_uses(traveler: &Traveler) -> Vec<Use<'_>> {
    let mut uses: Vec<Use<'_>> = Vec::new();
    for joint in &traveler.joints {
        for (fastener, span) in calls(joint) {
            let usual = fastener.usual_call();
            if uses.iter().all(|known| known.usual != usual) {
                let has_length = matches!(
                    fastener,
                    Fastener::SolidRivet(_) | Fastener::Bolt(_) | Fastener::Screw(_) | Fastener::BlindRivet(_)
                );
                uses.push(Use { usual, joint: &joint.id.value, span, has_length });
            }
        }
    }
    uses
}

/// The calls of a joint that decode.
fn calls(joint: &Joint) -> impl Iterator<Item = (&Fastener, Span)> {
    let own = joint.fastener.as_ref().ok().map(|fastener| (fastener, joint.spec.fastener.span));
    own.into_iter().chain(
        others(joint).filter_map(|other| other.fastener.as_ref().ok().map(|fastener| (fastener, other.written.span))),
    )
}

fn look_alike(one: &Use<'_>, other: &Use<'_>) -> bool {
    let stem =
        |call: &'_ Use<'_>| call.usual.rsplit_once('-').filter(|_| call.has_length).map(|(stem, _)| stem.to_owned());
    let only_in_length = stem(one).is_some() && stem(one) == stem(other);
    only_in_length || strsim::damerau_levenshtein(one.usual, other.usual) == 1
}
