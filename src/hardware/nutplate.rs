//! Nutplates: form, thread, rivets.
//!
//! The distance of the rivets is from memory and only good for a pick list: lay out from the nutplate in hand.

use std::sync::LazyLock;

use serde::Deserialize;

use super::family::{Common, Family};
use super::kit::KitFastener;
use super::limit;
use super::metal::Metal;
use super::number::{Call, Parts, Undecoded, clip, split_digits, split_letters};
use super::source::{Basis, Graded};
use super::table::{self, Table};
use super::thread::{Thread, thread, thread_of_code, thread_of_sixteenths};
use crate::units::{Length, Style, Temperature};

/// A nutplate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Nutplate {
    /// The part number.
    pub call: Call,
    /// What it is, in words.
    pub words: String,
    /// One or two lugs; none for a corner nutplate.
    pub lugs: u8,
    /// Whether the nut floats.
    pub floating: bool,
    /// Whether its lugs are countersunk for flush rivets in a dimpled or countersunk skin.
    pub countersunk: bool,
    /// Thread; none in a call of the family alone.
    pub thread: Option<&'static Thread>,
    /// Highest temperature that it is meant for.
    pub temperature_limit: Option<Graded<Temperature>>,
    /// Distance between its two rivets, where listed.
    pub rivet_pitch: Option<Graded<Length>>,
    /// Diameter of its rivets.
    pub rivet_diameter: Option<Graded<Length>>,
    /// What its form rests on.
    pub basis: Basis,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    number: String,
    words: String,
    lugs: u8,
    floating: bool,
    #[serde(default)]
    countersunk: bool,
    #[serde(default)]
    by_thread: bool,
    limit_f: i64,
    #[serde(default)]
    pitch: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct SizeRow {
    pitch: String,
    code: String,
    thread: String,
    #[serde(deserialize_with = "table::length")]
    rivet_pitch: Length,
}

static NUTPLATES: LazyLock<Table<Row>> = LazyLock::new(|| table::read("nutplate"));
static SIZES: LazyLock<Table<SizeRow>> = LazyLock::new(|| table::read("nutplate_size"));

fn decode(parts: &Parts) -> Result<Nutplate, Undecoded> {
    let row = NUTPLATES.rows.iter().find(|row| row.number == parts.standard);
    let row =
        row.ok_or_else(|| parts.fault("is not a nutplate of the tables", "two-lug nutplates are MS21047", "FAA-HB-7"))?;
    let (letters, rest) = split_letters(parts.rest);
    let (code, tail) = split_digits(rest.strip_prefix('-').unwrap_or(rest));
    if !matches!(letters, "" | "L" | "F" | "C" | "D") || !matches!(tail, "" | "K" | "N" | "A") {
        let what = format!("has unknown letters: {}", clip(parts.rest));
        return Err(parts.fault(&what, "L (dry film) may stand before the size, K or N after it", "FAA-HB-7"));
    }
    let found = if code.is_empty() {
        None
    } else {
        let by_size = || thread_of_sixteenths(code).filter(|_| SIZES.rows.iter().any(|size| size.code == code));
        Some(if row.by_thread { thread_of_code(code) } else { by_size() })
    };
    let thread = match found {
        Some(None) => {
            let what = format!("has an unknown size: {}", clip(code));
            return Err(parts.fault(
                &what,
                "the sizes are 06 (6-32), 08 (8-32), 3 (10-32), 4 (1/4-28), 5, 6",
                "FAA-HB-7",
            ));
        }
        found => found.flatten(),
    };
    let basis = row.basis.clone();
    let size = SIZES.rows.iter().find(|size| {
        Some(size.code.as_str()) == thread.and_then(Thread::short_code).as_deref()
            && Some(&size.pitch) == row.pitch.as_ref()
    });
    let dash = if letters.is_empty() { "-" } else { "" };
    let usual = if code.is_empty() {
        format!("{}{letters}", row.number)
    } else {
        format!("{}{letters}{dash}{code}{tail}", row.number)
    };
    Ok(Nutplate {
        call: Call::of(parts.text, usual),
        words: row.words.clone(),
        lugs: row.lugs,
        floating: row.floating,
        countersunk: row.countersunk,
        thread,
        temperature_limit: Some(Graded { value: Temperature::from_fahrenheit(row.limit_f), basis: basis.clone() }),
        rivet_pitch: size
            .filter(|size| Some(size.thread.as_str()) == thread.map(|thread| thread.name.as_str()))
            .map(|size| size.graded(size.rivet_pitch)),
        rivet_diameter: Some(limit::nutplate_rivet().clone()),
        basis,
    })
}

impl Family for Nutplate {
    fn documents() -> Vec<&'static str> {
        NUTPLATES.rows.iter().map(|row| row.number.as_str()).collect()
    }

    fn decode(parts: &Parts<'_>) -> Result<Self, Undecoded> {
        decode(parts)
    }

    fn every_call() -> impl Iterator<Item = String> {
        every_call()
    }

    fn common(&self) -> Common<'_> {
        Common {
            diameter: self.thread.map(|thread| thread.diameter),
            thread: self.thread,
            metal: Some(Metal::Steel),
            ..Common::of(&self.call)
        }
    }
}

impl Nutplate {
    pub(super) fn of_kit(text: &str, own: &KitFastener) -> Self {
        Self {
            call: Call::kit(text, own),
            words: "nutplate".to_owned(),
            lugs: 2,
            floating: false,
            countersunk: false,
            thread: own.known_thread(),
            temperature_limit: None,
            rivet_pitch: None,
            rivet_diameter: None,
            basis: Basis::given(&own.source),
        }
    }

    /// Plain words for paper: `two-lug nutplate, all-metal, 10-32`.
    #[must_use]
    pub fn describe(&self, _: &Style) -> String {
        self.thread.map_or_else(|| self.words.clone(), |thread| format!("{}, {}", self.words, thread.name))
    }
}

/// One call of every nutplate in every size.
fn every_call() -> impl Iterator<Item = String> {
    NUTPLATES.rows.iter().flat_map(|row| {
        SIZES.rows.iter().map(move |size| {
            let code = if row.by_thread { thread(&size.thread).map_or("", Thread::code) } else { &size.code };
            format!("{}-{code}", row.number)
        })
    })
}
