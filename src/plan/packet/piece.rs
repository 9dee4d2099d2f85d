//! Pieces of a packet that may be printed apart, each with a digest of what is printed of it: by these a later print knows
//! which pages on the bench still say what they should.
//!
//! Nothing that depends on the state of the work goes in: what was signed since falsifies no page.

use serde::Serialize;

use super::figures::Figures;
use super::source::{Signed, Source};
use super::{close_out, joint, sign, step, values};
use crate::ident::Digest;
use crate::plan::document::Pieces;

/// Kind of the piece that ends before the joints; its page and all before it are always printed anew.
pub const FRONT: &str = "front";
/// Kind of a joint's card.
pub const JOINT: &str = "joint";
/// Kind of a step.
pub const STEP: &str = "step";
/// Kind of the close-out.
pub const END: &str = "end";
/// Kind of the templates at 1:1.
pub const TEMPLATES: &str = "templates";

/// The digests of a whole packet's pieces; none of a print that may not be signed, and of an excerpt.
pub(super) fn pieces(source: Source<'_>) -> Pieces {
    let options = source.options;
    if options.draft || options.reference || source.is_excerpt() {
        return Pieces::new();
    }
    let mut bare = Source { work: None, signed: Signed::Nothing, change: None, requirement: None, ..source };
    bare.options.date = None;
    let mut pieces = Pieces::new();
    let mut add = |kind: &str, id: &str, what: String| {
        pieces.insert((kind.to_owned(), id.to_owned()), Digest::of_bytes(what.as_bytes()).hex());
    };
    let figures = Figures::of(bare);
    for (joint, figure) in joint::sheets(bare).iter().zip(&figures.joints) {
        add(JOINT, &joint.id, format!("{}{}", text(joint), text(figure)));
    }
    for step in step::sheets(bare, &sign::marks(bare)) {
        // A text that asks for values prints whatever they are.
        let filled = step.text.as_ref().is_some_and(|text| text.contains("{{") || text.contains("{%"));
        let filled = filled.then(|| values(bare.job, bare.index, bare.hand));
        add(STEP, &step.id, format!("{}{}", text(&step), text(&filled)));
    }
    add(FRONT, "", String::new());
    add(END, "", text(&close_out::plan(bare)));
    add(TEMPLATES, "", text(&figures.strips));
    pieces
}

/// Plain data as text.
fn text(data: &impl Serialize) -> String {
    crate::plan::document::plain(data).to_string()
}
