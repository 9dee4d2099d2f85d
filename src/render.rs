//! RENDER: a planned document becomes Typst text, a layout and a PDF.
//!
//! Only this module knows minijinja and Typst. It decides nothing about the work: it prints what the plan holds,
//! and it reads no clock, no file but template overrides, and no network.

mod apart;
mod bounds;
mod boxes;
mod drawing;
mod failure;
mod literal;
mod markdown;
mod parallel;
mod pdf;
mod picture;
mod places;
mod qr;
mod say;
mod template;
mod text;
mod texts;
mod thumbnail;
mod world;

pub use apart::{carry_out, order, order_to_measure, read_answer, read_measured};
pub use boxes::{BoxPlace, Micrometres};
pub use failure::Failure;
pub use parallel::{print_many, render_many};
pub use pdf::{Laid, Printed};
pub use picture::{MOST_PIXELS, Picture, Pictures};
pub use places::{Area, ItemPlace, StepPlace, TextPlace};
pub use template::Templates;
pub use text::{PictureUse, TextFault, check_text, pictures_of};
pub use thumbnail::thumbnail;

use crate::plan::{Document, TooTall};

/// The fonts that are embedded in every document.
#[must_use]
pub fn fonts() -> &'static [typst::text::Font] {
    world::fonts()
}

/// Lays a document out.
///
/// # Errors
/// When a template cannot be filled in, or Typst has an error or a warning.
pub fn lay_out(document: &Document, templates: &Templates) -> Result<Laid, Failure> {
    pdf::lay_out(document, templates)
}

/// The steps of a document that are taller than a page in the smallest type of its edition.
///
/// # Errors
/// When a template cannot be filled in, or Typst has an error or a warning.
pub fn too_tall(document: &Document, templates: &Templates) -> Result<Vec<TooTall>, Failure> {
    pdf::too_tall(document, templates)
}

/// Lays a document out and writes its PDF.
///
/// # Errors
/// As [`lay_out`], and when the PDF would not keep to PDF/A-2b.
pub fn print(document: &Document, templates: &Templates) -> Result<Printed, Failure> {
    lay_out(document, templates)?.print(document)
}
