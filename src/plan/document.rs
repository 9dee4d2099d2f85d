//! What rendering takes: a template's name and the values that fill it, for any kind of document.
//!
//! Plain data; it knows nothing of templates but the name.

use std::collections::BTreeMap;

use serde::Serialize;
use serde_json::{Value, json};

use crate::calendar::Day;
use crate::ident::{Digest, Requirement};
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

/// Digests of pieces of a packet, by kind and id.
pub type Pieces = BTreeMap<(String, String), String>;

/// How a document is printed; the same words and boxes in every edition.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Edition {
    /// Type a quarter larger, for poor light and old eyes.
    pub large: bool,
    /// For both sides of a sheet: margins change sides with the page.
    pub duplex: bool,
    /// For both hands: the boxes of each hand side by side.
    pub both_hands: bool,
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
    /// How many pages it should take at most: where it takes more, it is set closer.
    pub pages: Option<usize>,
    /// The day in the PDF's description.
    pub date: Option<Day>,
    /// What the template sees, by name.
    pub data: Value,
    /// What `{{ }}` in the builder's own texts sees, by name.
    pub values: Value,
    /// Thumbnails that the template may show.
    pub thumbnails: Thumbnails,
    /// Of a packet, for each piece that may be printed apart, kind and id, the digest of what is printed of it.
    pub pieces: Pieces,
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
            pages: None,
            date: day,
            data,
            values: json!({}),
            thumbnails: Thumbnails::new(),
            pieces: Pieces::new(),
        }
    }

    /// What tells the layout of this document from every other, for the code of each page: whatever its pages depend on goes in,
    /// the size of its type in per cent too. Digits and capitals, without a dash.
    #[must_use]
    pub fn print_code<'a>(
        &self,
        templates: &str,
        pictures: impl Iterator<Item = (&'a str, impl AsRef<[u8]>)>,
        size: u32,
    ) -> String {
        let mut print = Requirement::new();
        print
            .text("program", env!("CARGO_PKG_VERSION"))
            .text("templates", templates)
            .text("template", self.template)
            .text("paper", self.paper.word())
            .text("size", &size.to_string())
            .text("type", if self.edition.large { "large" } else { "usual" })
            .text("sides", if self.edition.duplex { "two" } else { "one" })
            .some_text("part", self.part.as_deref())
            .text("page", &self.data.to_string())
            .text("values", &self.values.to_string());
        for (name, bytes) in pictures {
            print.text("picture", name).text("bytes", &Digest::of_bytes(bytes.as_ref()).hex());
        }
        print.digest().code().to_string().replace('-', "")
    }

    /// What the code of a page says; nothing reads it where the document has no code.
    #[must_use]
    pub fn page_text(&self, page: u32, print: &str) -> String {
        let part = self.part.as_ref().map(|part| format!("{part}/")).unwrap_or_default();
        format!("{}/{part}{page}/{print}", self.code.as_deref().unwrap_or_default())
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
