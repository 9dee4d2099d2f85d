//! Rendering: what stands on the laid-out pages, whatever the texts hold; boxes; faults of templates; same bytes twice.

mod apart;
mod boxes;
pub mod data;
mod endless;
mod hangar;
pub mod layout;
mod order;
mod paper;
pub mod pictures;
mod templates;
mod texts;
pub mod thumbnail;
mod units;

use shophead::plan::Document;
use shophead::render::{Laid, Templates, lay_out};

pub fn laid(document: &Document) -> Laid {
    lay_out(document, &Templates::load(None).unwrap()).unwrap_or_else(|failure| panic!("{failure}"))
}

/// Text without white space: the layout may break a line anywhere.
pub fn packed(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).collect()
}

/// The packed text of all pages.
pub fn whole(laid: &Laid) -> String {
    laid.page_texts().iter().map(|page| packed(page)).collect()
}
