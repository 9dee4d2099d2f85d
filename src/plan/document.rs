//! What rendering takes: a template's name and the values that fill it, for any kind of document.
//!
//! Plain data; it knows nothing of templates but the name.

use std::collections::BTreeMap;

use serde::Serialize;
use serde_json::{Value, json};

use crate::calendar::Day;
use crate::job::{Job, Paper};

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
    /// A document of the whole build, on the project's paper, without a code and without texts of the builder's own.
    pub(super) fn of_build(job: &Job, template: &'static str, stem: String, day: Option<Day>, data: Value) -> Self {
        Self {
            template,
            stem,
            paper: job.project.settings.paper.value,
            code: None,
            part: None,
            edition: Edition::default(),
            date: day,
            data,
            values: json!({}),
            thumbnails: Thumbnails::new(),
        }
    }

    /// What identifies the PDF: the same for the same sheet, whatever day it is printed.
    #[must_use]
    pub fn identifier(&self) -> String {
        format!("shophead {} {} {}", self.template, self.stem, self.code.as_deref().unwrap_or("no code"))
    }
}

/// What stands on every landscape page.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Frame {
    /// Paper size as Typst names it.
    pub paper: &'static str,
    /// Aircraft name.
    pub aircraft: String,
    /// Serial number.
    pub serial: Option<String>,
    /// Day, and time where it matters.
    pub moment: String,
}

impl Frame {
    pub(super) fn of(job: &Job, moment: String) -> Self {
        let project = &job.project;
        Self {
            paper: project.settings.paper.value.word(),
            aircraft: project.aircraft.value.clone(),
            serial: project.serial().map(|serial| serial.value.clone()),
            moment,
        }
    }
}

/// Plain data as templates see it.
///
/// # Panics
/// Never: plain data with text keys is always a JSON value.
pub(super) fn plain(page: &impl Serialize) -> Value {
    serde_json::to_value(page).expect("plain data with text keys is always a JSON value")
}
