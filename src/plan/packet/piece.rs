//! Pieces of a packet that may be printed apart, each with a digest of what is printed of it: by these a later print knows
//! which pages on the bench still say what they should.
//!
//! Nothing that depends on the state of the work goes in: what was signed since falsifies no page.

use serde::Serialize;

use super::change_pages::{END, FRONT, JOINT, STEP, TEMPLATES};
use super::figures::Figures;
use super::source::{Signed, Source};
use super::values::values_of;
use super::{close_out, joint, sign, step, values};
use crate::ident::Digest;
use crate::phrase;
use crate::plan::document::Pieces;

/// The digests of a whole packet's pieces; none of a print that may not be signed, and of an excerpt.
pub(super) fn pieces(source: Source<'_>) -> Pieces {
    // A print in another language is another print of the same pieces.
    let _english = phrase::speak(None);
    let options = source.options;
    if options.draft || options.reference || source.is_excerpt() {
        return Pieces::new();
    }
    let mut bare =
        Source { work: None, signed: Signed::Nothing, change: None, pages: None, requirement: None, ..source };
    bare.options.date = None;
    let mut pieces = Pieces::new();
    let mut add = |kind: &str, id: &str, what: String| {
        pieces.insert((kind.to_owned(), id.to_owned()), Digest::of_bytes(what.as_bytes()).hex());
    };
    let figures = Figures::of(bare);
    for (joint, figure) in joint::sheets(bare).iter().zip(&figures.joints) {
        add(JOINT, &joint.id, format!("{}{}", text(joint), text(figure)));
    }
    let all = values(bare.job, bare.index, bare.hand);
    for ((at, _), step) in bare.steps().zip(step::sheets(bare, &sign::marks(bare))) {
        let filled = step.text.as_ref().map(|text| values_of(text, &all));
        // What a step requires may change where its print does not.
        let required = bare.step_digest(at).hex();
        add(STEP, &step.id, format!("{required}{}{}", text(&step), text(&filled)));
    }
    add(FRONT, "", String::new());
    add(END, "", text(&close_out::plan(bare)));
    add(TEMPLATES, "", text(&figures.strips));
    pieces
}

/// The digests of the pieces of a packet of both hands, from those of each: either may differ.
pub(super) fn joined(left: &Pieces, right: &Pieces) -> Pieces {
    let one = |(piece, digest): (&(String, String), &String)| {
        let other = right.get(piece).map(String::as_str);
        (piece.clone(), Digest::of_bytes(format!("{digest}+{other:?}").as_bytes()).hex())
    };
    left.iter().map(one).collect()
}

/// Every piece of a whole packet in the order in which it is printed, and their digests.
#[must_use]
pub fn pieces_of(source: Source<'_>) -> (Vec<(String, String)>, Pieces) {
    let now = pieces(source);
    let named = |kind: &str, id: &str| (kind.to_owned(), id.to_owned());
    let traveler = source.traveler();
    let joints = traveler.joints.iter().map(|joint| named(JOINT, &joint.id.value));
    let steps = traveler.steps.iter().map(|step| named(STEP, &step.id.value));
    let has_templates = !Figures::of(source).strips.is_empty();
    let templates = has_templates.then(|| named(TEMPLATES, ""));
    let all = [named(FRONT, "")].into_iter().chain(joints).chain(steps).chain([named(END, "")]).chain(templates);
    (all.collect(), now)
}

/// The same of the packet of both hands, from the sources of the left and of the right one.
#[must_use]
pub fn pieces_of_both(left: Source<'_>, right: Source<'_>) -> (Vec<(String, String)>, Pieces) {
    let own = pieces_of(left);
    (own.0, joined(&own.1, &pieces(right)))
}

/// Plain data as text.
fn text(data: &impl Serialize) -> String {
    crate::plan::document::plain(data).to_string()
}
