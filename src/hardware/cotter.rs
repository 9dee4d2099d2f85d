//! Cotter pins: diameter and length from the number, the hole a pin passes, the least pin of a bolt.
//!
//! It knows pins, not safety wire.

mod iso;

use std::sync::LazyLock;

use serde::Deserialize;

use super::bolt::Bolt;
use super::family::{Common, Family};
use super::kit::KitFastener;
use super::metal::Metal;
use super::number::{Call, Parts, Undecoded, clip, whole_number};
use super::source::{Basis, Graded, Sureness};
use super::table::{self, Table};
use super::thread::Thread;
use crate::units::{Length, Size, Style};

/// A cotter pin.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CotterPin {
    /// The part number.
    pub call: Call,
    /// Nominal diameter; none in a call of the family alone.
    pub diameter: Option<Graded<Length>>,
    /// Length under the head; none where the dash names only a diameter.
    pub length: Option<Graded<Length>>,
    /// Metal.
    pub metal: Metal,
    successor: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct PinRow {
    dash: i64,
    #[serde(deserialize_with = "table::length")]
    diameter: Length,
    #[serde(deserialize_with = "table::length")]
    length: Length,
    #[serde(default)]
    metal: Option<Metal>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct SizeRow {
    #[serde(deserialize_with = "table::length")]
    diameter: Length,
    #[serde(deserialize_with = "table::length")]
    shank_low: Length,
    #[serde(deserialize_with = "table::length")]
    shank_high: Length,
    #[serde(deserialize_with = "table::length")]
    hole: Length,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct MinimumRow {
    sixteenths: u16,
    #[serde(deserialize_with = "table::size")]
    shank_hole: Size,
    #[serde(deserialize_with = "table::length")]
    pin: Length,
}

static PINS: LazyLock<Table<PinRow>> = LazyLock::new(|| table::read("cotter_pin"));
static SIZES: LazyLock<Table<SizeRow>> = LazyLock::new(|| table::read("cotter_size"));
static MINIMUM: LazyLock<Table<MinimumRow>> = LazyLock::new(|| table::read("cotter_minimum"));

fn decode(parts: &Parts) -> Result<CotterPin, Undecoded> {
    if iso::DOCUMENTS.contains(&parts.standard) {
        return iso::decode(parts);
    }
    let whole = Call::of(parts.text, parts.standard.to_owned());
    if parts.rest.is_empty() {
        let metal = if parts.standard == "AN381" { Metal::Stainless } else { Metal::Steel };
        return Ok(CotterPin { call: whole, diameter: None, length: None, metal, successor: None });
    }
    if parts.standard.starts_with("AN") { decode_an(parts) } else { decode_ms(parts) }
}

fn decode_an(parts: &Parts) -> Result<CotterPin, Undecoded> {
    let help = "AN380 gives the diameter in 1/32 in and the length in 1/4 in: AN380-2-2 is 1/16 x 1/2";
    let fault = || parts.fault("is not a pin of the form AN380-2-2", help, "AN380");
    let stainless = parts.standard == "AN381" || parts.rest.starts_with('C');
    let metal = if stainless { Metal::Stainless } else { Metal::Steel };
    let (diameter, length) =
        parts.rest.trim_start_matches('C').trim_start_matches('-').split_once('-').ok_or_else(fault)?;
    let diameter_dash = whole_number(diameter).filter(|n| (1..=16).contains(n)).ok_or_else(fault)?;
    let length_dash = whole_number(length).filter(|n| (1..=32).contains(n)).ok_or_else(fault)?;
    let (diameter, length) = (Length::from_64ths(2 * diameter_dash), Length::from_64ths(16 * length_dash));
    let same = PINS
        .rows
        .iter()
        .find(|row| row.diameter == diameter && row.length == length && row.metal.unwrap_or(Metal::Steel) == metal);
    let successor = same.map_or_else(|| "MS24665".to_owned(), |row| format!("MS24665-{}", row.dash));
    let graded = |value| Some(Graded::published(value, "AN380", Sureness::A));
    let letter = if stainless && parts.standard == "AN380" { "C" } else { "" };
    Ok(CotterPin {
        call: Call::of(parts.text, format!("{}{letter}-{diameter_dash}-{length_dash}", parts.standard)),
        diameter: graded(diameter),
        length: graded(length),
        metal,
        successor: Some(successor),
    })
}

fn decode_ms(parts: &Parts) -> Result<CotterPin, Undecoded> {
    let row = whole_number(parts.rest).and_then(|dash| PINS.rows.iter().find(|row| row.dash == dash));
    let row = row.ok_or_else(|| {
        let known: Vec<String> = PINS.rows.iter().map(|row| row.dash.to_string()).collect();
        let what = format!("has a dash that the tables do not list: {}", clip(parts.rest));
        parts.fault(&what, format!("listed are {}", known.join(", ")), "MS24665")
    })?;
    let graded = |value| Some(row.graded(value));
    Ok(CotterPin {
        call: Call::of(parts.text, format!("MS24665-{}", row.dash)),
        diameter: graded(row.diameter),
        length: graded(row.length),
        metal: row.metal.unwrap_or(Metal::Steel),
        successor: None,
    })
}

impl Family for CotterPin {
    fn documents() -> Vec<&'static str> {
        [["MS24665", "AN380", "AN381"].as_slice(), iso::DOCUMENTS.as_slice()].concat()
    }

    fn decode(parts: &Parts<'_>) -> Result<Self, Undecoded> {
        decode(parts)
    }

    fn every_call() -> impl Iterator<Item = String> {
        every_call().chain(iso::every_call())
    }

    fn common(&self) -> Common<'_> {
        Common {
            diameter: self.diameter.as_ref().map(|diameter| diameter.value),
            metal: Some(self.metal),
            ..Common::of(&self.call)
        }
    }

    fn superseded_by(&self) -> Option<String> {
        self.successor.clone()
    }
}

impl CotterPin {
    pub(super) fn of_kit(text: &str, own: &KitFastener) -> Self {
        let given = |value| Graded { value, basis: Basis::given(&own.source) };
        Self {
            call: Call::kit(text, own),
            diameter: Some(given(own.diameter)),
            length: own.length.map(given),
            // As a number without a letter for its metal is read; corrosion asks the entry's own words.
            metal: own.metal().unwrap_or(Metal::Steel),
            successor: None,
        }
    }

    /// Plain words for paper: `cotter pin, 1/16 in x 1/2 in`.
    #[must_use]
    pub fn describe(&self, style: &Style) -> String {
        let mut words = vec!["cotter pin".to_owned()];
        words.extend(Some(self.metal).filter(|metal| *metal != Metal::Steel).map(|metal| metal.word().to_owned()));
        let length = self.length.as_ref().map(|length| format!(" x {}", style.short(length.value)));
        // A number that gives no length gives no size worth printing, a kit's entry does.
        let known = self.diameter.as_ref().filter(|_| length.is_some() || self.call.kit.is_some());
        words.extend(known.map(|diameter| style.short(diameter.value)).map(|across| match length {
            Some(length) => across + &length,
            None => across,
        }));
        words.join(", ")
    }
}

/// Thinnest and thickest shank of a cotter pin and the hole it is sure to pass, by nominal diameter.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CotterSize {
    /// Thinnest shank.
    pub shank_low: Length,
    /// Thickest shank.
    pub shank_high: Length,
    /// Gauge hole.
    pub gauge_hole: Length,
}

/// The limits of a cotter pin of a nominal diameter.
#[must_use]
pub fn cotter_size(diameter: Length) -> Option<Graded<CotterSize>> {
    let Some(row) = SIZES.rows.iter().find(|row| row.diameter == diameter) else { return iso::size(diameter) };
    let value = CotterSize { shank_low: row.shank_low, shank_high: row.shank_high, gauge_hole: row.hole };
    Some(row.graded(value))
}

/// The cotter hole of a bolt's shank and the least pin for it.
#[must_use]
pub fn cotter_minimum(bolt: &Bolt) -> Option<Graded<(Size, Length)>> {
    let sixteenths = bolt.thread.and_then(Thread::sixteenths)?;
    let row = MINIMUM.rows.iter().find(|row| row.sixteenths == sixteenths)?;
    Some(row.graded((row.shank_hole, row.pin)))
}

/// One call of every pin.
fn every_call() -> impl Iterator<Item = String> {
    let an = (2..=4).flat_map(|diameter| (2..=6).map(move |length| format!("AN380-{diameter}-{length}")));
    PINS.rows.iter().map(|row| format!("MS24665-{}", row.dash)).chain(an)
}
