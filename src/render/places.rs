//! Where things lie on the pages of a layout: the body of each page, its steps, every piece of text.
//!
//! Read from Typst's own frames and marks; nothing is computed a second time. What is drawn is not looked at.

use serde::{Deserialize, Serialize};
use typst::foundations::{Content, Dict, Value};
use typst::layout::{Abs, Frame, FrameItem, Point};
use typst_layout::PagedDocument;

use super::boxes::{Micrometres, marks, micrometres};
use super::failure::Failure;

/// A rectangle on a page, from the page's top left corner.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Area {
    /// Page, counted from one.
    pub page: usize,
    /// Left edge.
    pub left: Micrometres,
    /// Upper edge.
    pub top: Micrometres,
    /// Right edge.
    pub right: Micrometres,
    /// Lower edge.
    pub bottom: Micrometres,
}

/// A step of a packet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepPlace {
    /// Its number on paper.
    pub number: String,
    /// The page on which it begins.
    pub page: usize,
    /// Its upper end.
    pub top: Micrometres,
    /// The page on which it ends.
    pub end_page: usize,
    /// Its lower end.
    pub bottom: Micrometres,
    /// The height that it takes, which may be more than its page has; zero where nobody measured.
    pub height: Micrometres,
    /// Pitch of the lines of its text; zero where nobody measured.
    pub line: Micrometres,
}

/// A piece of a packet that may be printed apart: where it begins.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ItemPlace {
    /// What it is: `front`, which ends there, `joint`, `step`, `end` or `templates`.
    pub kind: String,
    /// Id of the joint or step; empty of what is there once.
    pub id: String,
    /// The page.
    pub page: usize,
}

/// A piece of text that was set in one go.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TextPlace {
    /// From the height of its capitals to its foot.
    pub area: Area,
    /// The text.
    pub text: String,
}

/// Two marks that belong together: what the first says, and the page and place of each.
struct Span {
    content: Content,
    page: usize,
    from: Point,
    end_page: usize,
    to: Point,
}

/// The spans between marks of two names, in the order of the document.
fn spans(document: &PagedDocument, start: &str, end: &str) -> Result<Vec<Span>, Failure> {
    let starts = marks(document, start)?;
    let ends = marks(document, end)?;
    if starts.len() != ends.len() {
        return Err(Failure::new(format!("a template marks {} `{start}` but {} `{end}`", starts.len(), ends.len())));
    }
    let span = |((content, page, from), (_, end_page, to))| Span { content, page, from, end_page, to };
    Ok(starts.into_iter().zip(ends).map(span).collect())
}

/// The body of each page, where the template marks it.
pub(super) fn bodies(document: &PagedDocument) -> Result<Vec<Area>, Failure> {
    let area = |span: Span| Area {
        page: span.page,
        left: micrometres(span.from.x),
        top: micrometres(span.from.y),
        right: micrometres(span.to.x),
        bottom: micrometres(span.to.y),
    };
    Ok(spans(document, "body-start", "body-end")?.into_iter().map(area).collect())
}

/// Whether a step fills the body of its page: one that is taller is drawn no longer than that.
pub(super) fn fills(step: &StepPlace, body: &Area) -> bool {
    const NEARLY: i64 = 6_000;
    let room = body.bottom.0 - body.top.0;
    step.page == step.end_page && step.page == body.page && step.bottom.0 - step.top.0 + NEARLY >= room
}

/// The steps in their order.
pub(super) fn steps(document: &PagedDocument) -> Result<Vec<StepPlace>, Failure> {
    spans(document, "step-start", "step-end")?.iter().map(step).collect()
}

fn step(span: &Span) -> Result<StepPlace, Failure> {
    let value = span.content.get_by_name("value").ok().and_then(|value| value.cast::<Dict>().ok());
    // Without its values every one of them is missed below, by name.
    let fields = value.unwrap_or_default();
    let missing = |name: &str| Failure::new(format!("a step on page {} does not say its `{name}`", span.page));
    let length = |name: &str| match fields.get(name) {
        Ok(Value::Length(length)) => Ok(micrometres(length.abs)),
        _ => Err(missing(name)),
    };
    let Ok(Value::Str(number)) = fields.get("number") else { return Err(missing("number")) };
    Ok(StepPlace {
        number: number.to_string(),
        page: span.page,
        top: micrometres(span.from.y),
        end_page: span.end_page,
        bottom: micrometres(span.to.y),
        height: length("height")?,
        line: length("line")?,
    })
}

/// The pieces of a packet in their order.
pub(super) fn items(document: &PagedDocument) -> Result<Vec<ItemPlace>, Failure> {
    let item = |(content, page, _): (Content, usize, Point)| {
        let fields = values(&content);
        Ok(ItemPlace { kind: text_of(&fields, "kind", page)?, id: text_of(&fields, "id", page)?, page })
    };
    marks(document, "item")?.into_iter().map(item).collect()
}

/// The number that each page carries, page by page.
pub(super) fn labels(document: &PagedDocument) -> Result<Vec<String>, Failure> {
    marks(document, "page-label")?.iter().map(|(content, page, _)| text_of(&values(content), "label", *page)).collect()
}

/// What a mark says; without its values every one of them is missed by name.
fn values(content: &Content) -> Dict {
    content.get_by_name("value").ok().and_then(|value| value.cast::<Dict>().ok()).unwrap_or_default()
}

fn text_of(fields: &Dict, name: &str, page: usize) -> Result<String, Failure> {
    match fields.get(name) {
        Ok(Value::Str(text)) => Ok(text.to_string()),
        _ => Err(Failure::new(format!("a mark on page {page} does not say its `{name}`"))),
    }
}

/// Every piece of text of a page.
pub(super) fn texts(page: usize, frame: &Frame) -> Vec<TextPlace> {
    let mut found = Vec::new();
    collect(page, frame, Point::zero(), &mut found);
    found
}

fn collect(page: usize, frame: &Frame, origin: Point, found: &mut Vec<TextPlace>) {
    for (at, item) in frame.items() {
        let at = origin + *at;
        match item {
            // What is turned is a caption in the margin, whose frame says nothing of its place on the page.
            FrameItem::Group(group) if group.transform.ky.is_zero() => {
                collect(page, &group.frame, at + Point::new(group.transform.tx, group.transform.ty), found);
            }
            FrameItem::Text(piece) => {
                let capitals = piece.font.metrics().cap_height.at(piece.size);
                found.push(TextPlace { area: area(page, at, piece.width(), capitals), text: piece.text.to_string() });
            }
            _ => {}
        }
    }
}

fn area(page: usize, foot: Point, width: Abs, height: Abs) -> Area {
    Area {
        page,
        left: micrometres(foot.x),
        top: micrometres(foot.y - height),
        right: micrometres(foot.x + width),
        bottom: micrometres(foot.y),
    }
}
