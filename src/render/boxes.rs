//! Where the boxes are that people fill in by hand, read back from the layout.
//!
//! Nothing is computed a second time: a template marks the two corners of each box, and Typst says where they lie.

use serde::{Deserialize, Serialize};
use typst::foundations::{Content, Dict, Label, Selector, Value};
use typst::introspection::Introspector;
use typst::layout::{Abs, Point};
use typst::utils::PicoStr;
use typst_layout::PagedDocument;

use super::failure::Failure;

/// Whole thousandths of a millimetre.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Micrometres(pub i64);

/// A box on a page, measured from the page's top left corner to the middle of the box's line.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct BoxPlace {
    /// Page, counted from one.
    pub page: usize,
    /// Left edge.
    pub x: Micrometres,
    /// Upper edge.
    pub y: Micrometres,
    /// Width.
    pub width: Micrometres,
    /// Height.
    pub height: Micrometres,
    /// Id of the step, or of the part of the packet that is no step.
    pub step: String,
    /// Who fills it in.
    pub role: String,
    /// What goes in: `initials`, `date`, `void`, or the id of a record.
    pub field: String,
    /// The hand whose box it is, on a packet of both hands; absent where one box stands for the packet.
    pub hand: Option<String>,
}

/// Labels of the marks in the two corners of a box.
const START: &str = "box-start";
const END: &str = "box-end";

pub(super) fn of(document: &PagedDocument) -> Result<Vec<BoxPlace>, Failure> {
    let starts = marks(document, START)?;
    let ends = marks(document, END)?;
    if starts.len() != ends.len() {
        return Err(Failure::new(format!("a template marks {} box starts but {} box ends", starts.len(), ends.len())));
    }
    let mut boxes = Vec::with_capacity(starts.len());
    for ((content, page, from), (_, end_page, to)) in starts.iter().zip(&ends) {
        if page != end_page {
            return Err(Failure::new(format!("a box starts on page {page} and ends on page {end_page}")));
        }
        boxes.push(place(content, *page, *from, *to)?);
    }
    boxes.sort_by_key(|one| (one.page, one.y, one.x));
    Ok(boxes)
}

pub(super) fn marks(document: &PagedDocument, name: &str) -> Result<Vec<(Content, usize, Point)>, Failure> {
    let label = Label::new(PicoStr::intern(name)).ok_or_else(|| Failure::new("a label cannot be empty"))?;
    let introspector = document.introspector();
    let found = introspector.query(&Selector::Label(label));
    let lost = || Failure::new(format!("a mark `{name}` lies on no page"));
    let placed = found.into_iter().map(|content| {
        let position = content.location().and_then(|location| introspector.position(location)).ok_or_else(lost)?;
        Ok((content, position.page.get(), position.point))
    });
    placed.collect()
}

fn place(content: &Content, page: usize, from: Point, to: Point) -> Result<BoxPlace, Failure> {
    // Without its values every field of the box is missed below, by name.
    let fields = content.get_by_name("value").ok().and_then(|value| value.cast::<Dict>().ok()).unwrap_or_default();
    let field = |name: &str| match fields.get(name) {
        Ok(Value::Str(text)) => Ok(text.to_string()),
        _ => Err(Failure::new(format!("a box on page {page} does not say its `{name}`"))),
    };
    let hand = match fields.get("hand") {
        Ok(Value::Str(text)) => Some(text.to_string()),
        // A template of the builder's own may know nothing of hands.
        Ok(Value::None) | Err(_) => None,
        Ok(_) => return Err(Failure::new(format!("a box on page {page} does not say its `hand`"))),
    };
    let (x, y) = (micrometres(from.x), micrometres(from.y));
    Ok(BoxPlace {
        page,
        x,
        y,
        width: Micrometres(micrometres(to.x).0 - x.0),
        height: Micrometres(micrometres(to.y).0 - y.0),
        step: field("step")?,
        role: field("role")?,
        field: field("field")?,
        hand,
    })
}

#[expect(
    clippy::float_arithmetic,
    clippy::cast_possible_truncation,
    reason = "places on paper are Typst's own floats; no verdict rests on them"
)]
pub(super) fn micrometres(length: Abs) -> Micrometres {
    Micrometres((length.to_mm() * 1_000.0).round() as i64)
}
