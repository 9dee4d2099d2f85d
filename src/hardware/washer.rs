//! Washers: kind, bolt size, thickness, metal.
//!
//! Lock washers are listed so that the rules can name them; none is recommended here.

mod iso;

use std::sync::LazyLock;

use serde::Deserialize;

use super::family::{Common, Family};
use super::kit::KitFastener;
use super::limit;
use super::metal::Metal;
use super::number::{Call, Parts, Undecoded, clip, split_digits, split_letters};
use super::source::{Basis, Graded, Sureness};
use super::table::{self, Sourced, Table};
use super::thread::Thread;
use crate::units::{Length, Style, Unit};

/// Kind of a washer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
pub enum WasherKind {
    /// Plain.
    #[serde(rename = "plain")]
    Plain,
    /// Plain, of large area.
    #[serde(rename = "large area")]
    LargeArea,
    /// Spring (split) lock washer.
    #[serde(rename = "spring lock")]
    SpringLock,
    /// Toothed lock washer.
    #[serde(rename = "tooth lock")]
    ToothLock,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    number: String,
    words: String,
    kind: WasherKind,
    /// Whether the tables know its sizes.
    #[serde(default = "yes")]
    sized: bool,
    #[serde(default)]
    successor: Option<String>,
}

const fn yes() -> bool {
    true
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct SizeRow {
    kind: WasherKind,
    code: String,
    #[serde(default)]
    second_code: Option<String>,
    #[serde(default)]
    sixteenths: Option<u16>,
    #[serde(deserialize_with = "table::length")]
    bolt: Length,
    #[serde(deserialize_with = "table::length")]
    inner: Length,
    #[serde(deserialize_with = "table::length")]
    outer: Length,
    #[serde(default, deserialize_with = "table::some_length")]
    thickness: Option<Length>,
    /// Thickness of the thin form, where it is not that of the whole series.
    #[serde(default, deserialize_with = "table::some_length")]
    thin: Option<Length>,
}

/// Longest text that may follow a document whose sizes are not in the tables.
const LONGEST_UNSIZED: usize = 12;

static WASHERS: LazyLock<Table<Row>> = LazyLock::new(|| table::read("washer"));
static SIZES: LazyLock<Table<SizeRow>> = LazyLock::new(|| table::read("washer_size"));

/// A washer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Washer {
    /// The part number.
    pub call: Call,
    /// What it is, in words.
    pub words: String,
    /// Its kind.
    pub kind: WasherKind,
    /// Nominal bolt diameter; none in a call of the family alone.
    pub bolt: Option<Length>,
    /// Inner and outer diameter, where listed.
    pub diameters: Option<Graded<(Length, Length)>>,
    /// Thickness.
    pub thickness: Option<Graded<Length>>,
    /// Metal; none where the number does not tell.
    pub metal: Option<Metal>,
    successor: Option<String>,
    differs: Option<&'static str>,
}

fn decode(parts: &Parts) -> Result<Washer, Undecoded> {
    if let Some(metric) = iso::decode(parts) {
        return metric;
    }
    let row = WASHERS.rows.iter().find(|row| row.number == parts.standard);
    let row =
        row.ok_or_else(|| parts.fault("is not a washer of the tables", "plain washers are AN960 and NAS1149", "AN-2"))?;
    if !row.sized {
        return decode_unsized(parts, row);
    }
    if row.number == "NAS1149" { decode_nas(parts, row) } else { decode_an(parts, row) }
}

/// A number whose sizes are not in the tables: it decodes by kind alone.
fn decode_unsized(parts: &Parts, row: &'static Row) -> Result<Washer, Undecoded> {
    let rest = parts.rest;
    let plain = rest.len() <= LONGEST_UNSIZED && rest.chars().all(|c| c.is_ascii_alphanumeric() || c == '-');
    if !plain || !(rest.is_empty() || rest.contains(|c: char| c.is_ascii_digit())) {
        let help = "the size is the dash of the drawing, as in MS35333-39";
        return Err(parts.fault(&format!("has an unknown ending: {}", clip(rest)), help, "AN-2"));
    }
    let dash = if rest.starts_with(|c: char| c.is_ascii_digit()) { "-" } else { "" };
    let metal = Some(Metal::Steel).filter(|_| row.number != "NAS1515");
    let call = Call::of(parts.text, format!("{}{dash}{}", row.number, rest.trim_end_matches('-')));
    Ok(Washer { call, metal, ..row.family(parts.text, Metal::Steel) })
}

fn decode_an(parts: &Parts, row: &'static Row) -> Result<Washer, Undecoded> {
    let (letters, rest) = split_letters(parts.rest);
    let metal = match letters {
        "" => Metal::Steel,
        "C" => Metal::Stainless,
        "A" | "B" if row.kind == WasherKind::ToothLock => Metal::Steel,
        "D" | "PD" | "JD" | "KD" => Metal::Aluminium,
        "B" => Metal::Copper,
        _ => {
            let what = format!("has unknown letters after the standard: {}", clip(letters));
            return Err(parts.fault(
                &what,
                "C is stainless, D, PD, JD and KD aluminium, B brass; a steel washer has none",
                "AN-2",
            ));
        }
    };
    let (digits, tail) = split_digits(rest.strip_prefix('-').unwrap_or(rest));
    let thin = match (tail, row.kind) {
        ("", _) => false,
        ("L", WasherKind::Plain) => true,
        _ => {
            return Err(parts.fault(
                &format!("has an unknown ending: {}", clip(tail)),
                "L is the thin washer of AN960",
                "AN-2",
            ));
        }
    };
    let mut washer = row.family(parts.text, metal);
    if digits.is_empty() {
        return Ok(washer);
    }
    let size = SIZES.rows.iter().filter(|size| size.kind == row.kind).find(|size| {
        let code = if row.number == "MS35338" { size.second_code.as_ref() } else { Some(&size.code) };
        code.is_some_and(|code| code == digits)
    });
    let size = size.ok_or_else(|| {
        let known: Vec<&str> =
            SIZES.rows.iter().filter(|size| size.kind == row.kind).map(|size| size.code.as_str()).collect();
        parts.fault(
            &format!("has an unknown size: {}", clip(digits)),
            format!("the sizes of AN numbers are {}", known.join(", ")),
            "AN-2",
        )
    })?;
    size.fill(&mut washer);
    if row.kind == WasherKind::Plain {
        washer.thickness = size.plain_thickness(thin);
    }
    let dash = if letters.is_empty() { "-" } else { "" };
    washer.successor = row.successor.as_ref().map(|number| successor_of(number, size, metal, thin));
    washer.call = Call::of(parts.text, format!("{}{letters}{dash}{digits}{tail}", row.number));
    Ok(washer)
}

/// AN960 in the form of NAS1149: material, size in 1/16 in, thickness in thousandths, finish.
fn successor_of(number: &str, size: &SizeRow, metal: Metal, thin: bool) -> String {
    let (letter, finish) = match metal {
        Metal::Steel => ("F", "P"),
        Metal::Aluminium => ("D", "J"),
        Metal::Stainless => ("C", "R"),
        _ => return number.to_owned(),
    };
    match size.sixteenths {
        Some(sixteenths) if number == "NAS1149" => {
            format!("{number}{letter}{sixteenths:02}{}{finish}", if thin { 32 } else { 63 })
        }
        None if number == "NAS1149" => {
            format!("{number}{letter}N{}{}{finish}", size.code, if thin { 16 } else { 32 })
        }
        _ => number.to_owned(),
    }
}

fn decode_nas(parts: &Parts, row: &'static Row) -> Result<Washer, Undecoded> {
    let help = "write material, size in 1/16 in, thickness in thousandths and finish: F0363P is steel, 3/16, .063";
    let (letters, rest) = split_letters(parts.rest);
    let (material, number_size) = letters.strip_suffix('N').map_or((letters, false), |material| (material, true));
    let metal = match material {
        "F" => Metal::Steel,
        "C" | "E" => Metal::Stainless,
        "D" => Metal::Aluminium,
        "B" => Metal::Copper,
        "" if rest.is_empty() => return Ok(row.family(parts.text, Metal::Steel)),
        _ => return Err(parts.fault(&format!("has an unknown material letter: {}", clip(letters)), help, "NAS1149")),
    };
    let (digits, finish) = split_digits(rest);
    let (size_digits, thickness) = match (number_size, digits.len()) {
        (false, 4) => (digits.split_at(2).0, digits.split_at(2).1),
        (true, 3) => (digits.split_at(1).0, digits.split_at(1).1),
        _ => {
            return Err(parts.fault(
                &format!("has no size and thickness of the usual form: {}", clip(digits)),
                help,
                "NAS1149",
            ));
        }
    };
    if finish.len() > 1 || !finish.bytes().all(|b| b.is_ascii_uppercase()) {
        return Err(parts.fault(&format!("has an unknown finish: {}", clip(finish)), help, "NAS1149"));
    }
    let plain = SIZES.rows.iter().filter(|size| size.kind == WasherKind::Plain);
    let size = plain.into_iter().find(|size| match size.sixteenths {
        Some(n) => !number_size && size_digits.parse() == Ok(n),
        None => number_size && size.code == size_digits,
    });
    let size = size.ok_or_else(|| parts.fault(&format!("has an unknown size: {size_digits}"), help, "NAS1149"))?;
    let mils = thickness.parse().ok().filter(|mils| (10..=99).contains(mils));
    let mils = mils.ok_or_else(|| parts.fault(&format!("has an unknown thickness: {thickness}"), help, "NAS1149"))?;
    let mut washer = row.family(parts.text, metal);
    size.fill(&mut washer);
    washer.thickness = Some(Graded::published(Length::from_mils(mils), "NAS1149", Sureness::A));
    washer.call = Call::of(parts.text, format!("{}{letters}{digits}{finish}", row.number));
    Ok(washer)
}

impl Row {
    fn family(&'static self, text: &str, metal: Metal) -> Washer {
        let letters = match metal {
            Metal::Stainless => "C",
            Metal::Aluminium => "D",
            Metal::Copper => "B",
            _ => "",
        };
        Washer {
            call: Call::of(text, format!("{}{letters}", self.number)),
            words: self.words.clone(),
            kind: self.kind,
            bolt: None,
            diameters: None,
            thickness: None,
            metal: Some(metal),
            successor: self.successor.clone(),
            differs: None,
        }
    }
}

impl Sourced<SizeRow> {
    /// 1/16, thin 1/32, was read for the number as a whole (AN-2); the number sizes are 1/32 and 1/64 (.016), from memory.
    fn plain_thickness(&self, thin: bool) -> Option<Graded<Length>> {
        if self.sixteenths.is_some() {
            let read = if thin { limit::washer_thin() } else { limit::washer_thick() };
            return Some(read.clone());
        }
        self.thin.filter(|_| thin).or(self.thickness).map(|thickness| self.graded(thickness))
    }

    fn fill(&self, washer: &mut Washer) {
        washer.bolt = Some(self.bolt);
        washer.diameters = Some(self.graded((self.inner, self.outer)));
        washer.thickness = self.thickness.map(|thickness| self.graded(thickness));
    }
}

impl Family for Washer {
    fn documents() -> Vec<&'static str> {
        WASHERS.rows.iter().map(|row| row.number.as_str()).chain(iso::documents()).collect()
    }

    fn decode(parts: &Parts<'_>) -> Result<Self, Undecoded> {
        decode(parts)
    }

    fn every_call() -> impl Iterator<Item = String> {
        every_call().chain(iso::every_call())
    }

    fn common(&self) -> Common<'_> {
        Common { diameter: self.bolt, metal: self.metal, ..Common::of(&self.call) }
    }

    fn superseded_by(&self) -> Option<String> {
        self.successor.clone()
    }

    fn successor_differs(&self) -> Option<&str> {
        self.differs
    }
}

impl Washer {
    pub(super) fn of_kit(text: &str, own: &KitFastener) -> Self {
        Self {
            call: Call::kit(text, own),
            words: "washer".to_owned(),
            kind: WasherKind::Plain,
            bolt: Some(own.diameter),
            diameters: None,
            thickness: own.thickness.map(|value| Graded { value, basis: Basis::given(&own.source) }),
            metal: own.metal(),
            successor: None,
            differs: None,
        }
    }

    /// Whether it is a lock washer.
    #[must_use]
    pub const fn is_lock(&self) -> bool {
        matches!(self.kind, WasherKind::SpringLock | WasherKind::ToothLock)
    }

    /// What its kind rests on.
    #[must_use]
    pub fn basis(&self) -> Basis {
        let row = WASHERS.rows.iter().find(|row| self.call.usual.starts_with(&row.number));
        match (&self.call.kit, row) {
            (Some(own), _) => Basis::given(&own.source),
            (None, Some(row)) => row.basis.clone(),
            (None, None) => iso::basis(&self.call.usual).unwrap_or_else(|| WASHERS.basis.clone()),
        }
    }

    /// Plain words for paper: `plain washer, 3/16 in, 0.063 in thick`.
    #[must_use]
    pub fn describe(&self, style: &Style) -> String {
        let mut words = vec![self.words.clone()];
        words.extend(self.metal.map(|metal| metal.word().to_owned()));
        words.extend(self.bolt.map(|bolt| {
            if bolt == Length::from_mils(190) && style.unit == Unit::Inch {
                format!("#10 ({})", style.short(bolt))
            } else {
                style.short(bolt)
            }
        }));
        words.extend(self.thickness.as_ref().map(|thickness| format!("{} thick", style.length(thickness.value))));
        words.join(", ")
    }
}

/// One call of every washer in every size.
fn every_call() -> impl Iterator<Item = String> {
    let an = WASHERS.rows.iter().filter(|row| row.sized && row.number != "NAS1149").flat_map(|row| {
        SIZES.rows.iter().filter(|size| size.kind == row.kind).filter_map(|size| {
            let code = if row.number == "MS35338" { size.second_code.as_ref() } else { Some(&size.code) };
            code.map(|code| format!("{}-{code}", row.number))
        })
    });
    let plain = SIZES.rows.iter().filter_map(|size| size.sixteenths.filter(|_| size.kind == WasherKind::Plain));
    let other = WASHERS.rows.iter().filter(|row| !row.sized).map(|row| format!("{}-10", row.number));
    other
        .chain(an)
        .chain(plain.flat_map(|n| ["32", "63"].into_iter().map(move |mils| format!("NAS1149F{n:02}{mils}P"))))
}

/// A plain steel washer of a bolt's own series.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlainWasher {
    /// Its number, where it has one for this size.
    pub call: Option<String>,
    /// Thickness.
    pub thickness: Length,
}

/// The plain washers for a thread, the thinnest first: ISO 7089 for a metric one, the two of NAS1149 for an inch one.
#[must_use]
pub fn plain_washers(thread: &Thread) -> Vec<PlainWasher> {
    if thread.is_metric() {
        let listed = iso::plain_for(thread.diameter).into_iter();
        return listed.map(|(call, thickness)| PlainWasher { call: Some(call), thickness }).collect();
    }
    let size = thread.sixteenths();
    let of_inch = |mils: &str, thickness| {
        let call = size.map(|sixteenths| format!("NAS1149F{sixteenths:02}{mils}P"));
        PlainWasher { call, thickness }
    };
    vec![of_inch("32", limit::washer_thin().value), of_inch("63", limit::washer_thick().value)]
}
