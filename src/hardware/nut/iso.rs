//! Metric nuts, `ISO 7040-M6-8`: kind, thread and height.
//!
//! A document whose heights were in no page decodes by kind and thread alone.

use std::sync::LazyLock;

use serde::Deserialize;

use super::{Nut, NutDuty, NutKind};
use crate::hardware::iso::{self, designation};
use crate::hardware::metal::Metal;
use crate::hardware::number::{Call, Parts, Undecoded, clip};
use crate::hardware::nut_height::nut_height;
use crate::hardware::source::{Graded, Sureness};
use crate::hardware::table::{self, Sourced, Table};
use crate::hardware::thread::threads;
use crate::units::Temperature;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Document {
    number: String,
    words: String,
    kind: NutKind,
    duty: NutDuty,
    #[serde(default)]
    limit_f: Option<i64>,
    #[serde(default)]
    successor: Option<String>,
    /// In what the successor differs.
    #[serde(default)]
    differs: Option<String>,
}

static DOCUMENTS: LazyLock<Table<Document>> = LazyLock::new(|| table::read("iso_nut"));

impl iso::Document for Document {
    fn number(&self) -> &str {
        &self.number
    }
}

pub(super) fn documents() -> impl Iterator<Item = &'static str> {
    iso::documents(&DOCUMENTS)
}

pub(super) fn decode(parts: &Parts) -> Option<Result<Nut, Undecoded>> {
    iso::decode(&DOCUMENTS, parts, read)
}

fn read(parts: &Parts, document: &'static Sourced<Document>) -> Result<Nut, Undecoded> {
    let found = designation(parts.rest).filter(|found| found.length.is_none()).ok_or_else(|| {
        let what = format!("has an unknown thread: {}", clip(parts.rest));
        parts.fault(&what, "write thread and property class, as in ISO 7040-M6-8", "ISO7040-Q")
    })?;
    let thread = found.thread.map_or_else(String::new, |thread| format!("-{}", thread.name.to_ascii_uppercase()));
    let class = if found.class.is_empty() { String::new() } else { format!("-{}", found.class) };
    let stainless = found.class.starts_with('A');
    let successor = document.successor.as_ref().map(|number| format!("{number}{thread}{class}"));
    Ok(Nut {
        call: Call::of(parts.text, format!("{}{thread}{class}", document.number)),
        words: document.words.clone(),
        kind: document.kind,
        duty: document.duty,
        basis: document.basis.clone(),
        thread: found.thread,
        left_hand: false,
        height: found.thread.and_then(|thread| nut_height(&document.number, thread)),
        temperature_limit: document
            .limit_f
            .map(|f| Graded::published(Temperature::from_fahrenheit(f), "ISO-DWG", Sureness::C)),
        metal: Some(if stainless { Metal::Stainless } else { Metal::Steel }),
        successor,
        differs: document.differs.as_deref(),
    })
}

/// One call of every document and metric thread, alone and with a class.
pub(super) fn every_call() -> impl Iterator<Item = String> {
    documents().flat_map(|number| {
        let metric = threads().filter(|thread| thread.is_metric());
        metric.flat_map(move |thread| {
            let name = thread.name.to_ascii_uppercase();
            ["", "-8"].map(|tail| format!("{number}-{name}{tail}"))
        })
    })
}
