//! # calls-look-alike
//!
//! ## What it checks
//! No two calls of one traveler are of one diameter and head and differ in the alloy, and no step uses two lengths of one
//! call that are a size apart. Other sets of lengths, and other diameters, are told apart by eye or by the first one that
//! does not fit. Parts that are easily mixed up name each other under `look-alike`.
//!
//! ## Why it matters
//! A4-5 goes into the hole of AD4-5, drives well, and holds half as much. AD4-5 in the place of AD4-5.5 makes a head that is
//! a little small. Nothing at the bench shows either.
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
//! fastener = "MS20470A4-5"
//! ```
//!
//! ## How to put it right
//! Nothing is wrong with either call. Keep them in separate cups, marked with the joint; set the two lengths in steps of
//! their own.
//!
//! ## When to allow it
//! When both are needed: the reason then says how they are kept apart at the bench.

use crate::hardware::{Fastener, limit};
use crate::job::{Joint, Traveler};
use crate::report::{Place, Severity};
use crate::rules::{At, Check, Looks, Sink};
use crate::text::Span;
use crate::units::Length;

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Traveler(look) };

/// One call at the first place that uses it.
struct Use<'a> {
    call: Call<'a>,
    joint: &'a str,
    span: Span,
    steps: Vec<usize>,
}

/// A call as it looks in the hand, and what makes it another.
#[derive(PartialEq)]
struct Call<'a> {
    usual: &'a str,
    /// Family, head and diameter: what can be told apart by eye.
    looks: String,
    /// Alloy letters of a rivet, material letters of a bolt.
    alloy: &'a str,
    length: Option<Length>,
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
            alike.iter().map(|earlier| format!("{} of joint {}", earlier.call.usual, earlier.joint)).collect();
        let message = format!("{} is easily taken for {}", later.call.usual, names.join(" and "));
        let mut finding =
            sink.warning(later.span, message).help("keep them apart at the bench, and say how in an `[[allow]]` entry");
        for earlier in alike {
            finding = finding.label(earlier.span, format!("{} here", earlier.call.usual));
        }
        sink.push_about(Place { joint: Some(later.joint.to_owned()), ..Place::default() }, finding);
    }
}

fn first_uses(traveler: &Traveler) -> Vec<Use<'_>> {
    let mut uses: Vec<Use<'_>> = Vec::new();
    for joint in &traveler.joints {
        let Some(call) = call(joint) else { continue };
        let steps = joint.fastenings().map(|fastened| fastened.step);
        match uses.iter_mut().find(|known| known.call.usual == call.usual) {
            Some(known) => known.steps.extend(steps),
            None => {
                uses.push(Use { call, joint: &joint.id.value, span: joint.spec.fastener.span, steps: steps.collect() });
            }
        }
    }
    uses
}

/// The call of what goes through the stack, where its number tells the alloy; a nut or washer shows its own size.
fn call(joint: &Joint) -> Option<Call<'_>> {
    let fastener = joint.fastener.as_ref().ok()?;
    let (alloy, length) = match fastener {
        Fastener::SolidRivet(rivet) => (rivet.alloy.map_or("", |alloy| alloy.letter.as_str()), rivet.length),
        Fastener::Bolt(bolt) => (metal_word(fastener), bolt.length.as_ref().map(|length| length.value)),
        _ => return None,
    };
    let kind = if matches!(fastener, Fastener::Bolt(_)) { fastener.usual_call().get(..3)? } else { "rivet" };
    let looks = format!("{kind} {:?} {:?}", fastener.head(), fastener.diameter());
    Some(Call { usual: fastener.usual_call(), looks, alloy, length })
}

fn metal_word(fastener: &Fastener) -> &'static str {
    fastener.metal().map_or("", crate::hardware::Metal::word)
}

fn look_alike(one: &Use<'_>, other: &Use<'_>) -> bool {
    if one.call.looks != other.call.looks {
        return false;
    }
    let (Some(length), Some(other_length)) = (one.call.length, other.call.length) else { return false };
    let apart = length.distance(other_length);
    if one.call.alloy.is_empty() || other.call.alloy.is_empty() {
        return false;
    }
    if one.call.alloy != other.call.alloy {
        return apart <= limit::length_step().value;
    }
    // In one step both lie in one hand; the next size in another step is caught by its own stack.
    apart > Length::ZERO
        && apart <= limit::length_step().value
        && one.steps.iter().any(|step| other.steps.contains(step))
}
