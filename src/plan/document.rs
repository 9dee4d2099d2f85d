//! What rendering takes: a template's name and the values that fill it, for any kind of document.
//!
//! Plain data; it knows nothing of templates but the name.

use std::collections::BTreeMap;

use serde_json::Value;

use crate::calendar::Day;
use crate::job::Paper;

/// A small grey picture, one byte a pixel, line by line from the top: black on white survives a photocopier.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Thumbnail {
    /// Pixels across.
    pub width: u32,
    /// Pixels down.
    pub height: u32,
    /// `width` times `height` bytes, 255 is white.
    pub grey: Vec<u8>,
}

/// Thumbnails by the name under which a template asks for them.
pub type Thumbnails = BTreeMap<String, Thumbnail>;

/// How a document is printed; the same words and boxes in every edition.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Edition {
    /// Type a quarter larger, for poor light and old eyes.
    pub large: bool,
    /// For both sides of a sheet: margins change sides with the page.
    pub duplex: bool,
}

/// A document ready to be rendered.
#[derive(Debug, Clone, PartialEq)]
pub struct Document {
    /// File name of the template.
    pub template: &'static str,
    /// Name of the PDF without its ending.
    pub stem: String,
    /// Paper size.
    pub paper: Paper,
    /// Sheet code; pages without one carry no machine-readable code.
    pub code: Option<String>,
    /// The run of steps, where the document is only a part of what the sheet code stands for.
    pub part: Option<String>,
    /// How it is printed.
    pub edition: Edition,
    /// The day in the PDF's description.
    pub date: Option<Day>,
    /// What the template sees, by name.
    pub data: Value,
    /// What `{{ }}` in the builder's own texts sees, by name.
    pub values: Value,
    /// Thumbnails that the template may show.
    pub thumbnails: Thumbnails,
}

impl Document {
    /// What identifies the PDF: the same for the same sheet, whatever day it is printed.
    #[must_use]
    pub fn identifier(&self) -> String {
        format!("shophead {} {} {}", self.template, self.stem, self.code.as_deref().unwrap_or("no code"))
    }
}

/// A text as part of a file's name: anything that a file system dislikes becomes a dash.
pub(super) fn file_name(text: &str) -> String {
    let plain: String = text
        .chars()
        .map(|c| if c.is_alphanumeric() || matches!(c, '-' | '_' | '.') { c } else { '-' })
        .take(80)
        .collect();
    plain.trim_start_matches('.').to_owned()
}
