//! # calls-look-alike
//!
//! ## What it checks
//! No two calls of one traveler are of one diameter and head and differ in the alloy, and no step uses two lengths of one
//! call that are a size apart. Other sets of lengths, and other diameters, are told apart by eye or by the first one that
//! does not fit. No two parts of one traveler are left and right of one another, by their ids, without one of them naming the
//! other under `look-alike`: the sheet then prints *not the same as*.
//!
//! ## Why it matters
//! A4-5 goes into the hole of AD4-5, drives well, and holds half as much. AD4-5 in the place of AD4-5.5 makes a head that is
//! a little small. Nothing at the bench shows either. A right rib in the left wing is found when the skin does not fit.
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
//! their own. Of two parts, one gets `look-alike = ".."` with the id of the other.
//!
//! ## When to allow it
//! When both are needed: the reason then says how they are kept apart at the bench.

use crate::hardware::{Fastener, limit};
use crate::job::{Joint, Part, StepRef, Traveler};
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
    steps: Vec<StepRef>,
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
    calls(traveler, sink);
    parts(traveler, sink);
}

fn calls(traveler: &Traveler, sink: &mut Sink<'_>) {
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
        let steps = joint.fastenings().map(|fastened| fastened.at);
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

/// What tells the sides apart in an id.
const SIDES: [(&str, &str); 3] = [("L", "R"), ("LH", "RH"), ("LEFT", "RIGHT")];

fn parts(traveler: &Traveler, sink: &mut Sink<'_>) {
    for (index, later) in traveler.parts.iter().enumerate() {
        let names =
            |one: &Part, other: &Part| one.look_alike.as_ref().is_some_and(|named| named.value == other.id.value);
        let twin = traveler.parts[..index].iter().find(|earlier| are_sides(&earlier.id.value, &later.id.value));
        let Some(earlier) = twin.filter(|earlier| !names(earlier, later) && !names(later, earlier)) else { continue };
        let (one, other) = (&earlier.id, &later.id);
        let message = format!("part {} is easily taken for {}, its other hand", other.value, one.value);
        let finding = sink.warning(other.span, message).label(one.span, format!("{} here", one.value));
        let help = format!("write `look-alike = \"{}\"` at {}: the sheet then says so", one.value, other.value);
        sink.push_about(Place { part: Some(other.value.clone()), ..Place::default() }, finding.help(help));
    }
}

/// Whether two ids are equal but for one word that tells the side: `RIB-3L` and `RIB-3R`, `left-skin` and `right-skin`.
fn are_sides(one: &str, other: &str) -> bool {
    let (one, other) = (side_words(one), side_words(other));
    let mut differing = one.iter().zip(&other).filter(|(one, other)| one != other);
    let Some((first, second)) = differing.next().filter(|_| one.len() == other.len()) else { return false };
    let is_pair =
        SIDES.iter().any(|(left, right)| (first == left && second == right) || (first == right && second == left));
    is_pair && differing.next().is_none()
}

/// An id in capitals, split at its marks and between digits and letters.
fn side_words(id: &str) -> Vec<String> {
    let capitals = id.to_uppercase();
    let words = capitals.split(|c: char| !c.is_alphanumeric());
    // Between digits and letters, on either side: `3L`, `L3`.
    words.flat_map(|word| word.split_inclusive(|c: char| c.is_ascii_digit())).flat_map(halves).collect()
}

fn halves(word: &str) -> [String; 2] {
    let (letters, digit) = word.split_at(word.find(|c: char| c.is_ascii_digit()).unwrap_or(word.len()));
    [letters.to_owned(), digit.to_owned()]
}
