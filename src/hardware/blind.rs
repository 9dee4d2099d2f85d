//! Blind rivets: commercial codes, military numbers, ISO designations; grip range and the one that fits.
//!
//! It does not say whether a blind rivet may be used at all: that is for the plans and the rules.

mod iso;

use std::sync::LazyLock;

use serde::Deserialize;

use super::family::{Common, Family};
use super::head::Head;
use super::hole::{HoleRow, ListedHole};
use super::kit::KitFastener;
use super::limit::{self, reaches, within};
use super::number::{Call, Parts, Undecoded, clip, split_digits, split_letters, whole_number};
use super::source::{Basis, Graded};
use super::table::{self, Sourced, Table};
use crate::units::{Length, Size, Style};

/// Family of a blind rivet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum BlindFamily {
    /// Commercial break-mandrel rivet by its code of diameter and grip.
    Commercial,
    /// MS20600 and the like, by number, diameter and greatest grip.
    Military,
    /// ISO 15981, by diameter and length in millimetres.
    Iso,
    /// Supplied with a kit.
    Kit,
}

/// A blind rivet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BlindRivet {
    /// The part number.
    pub call: Call,
    /// Its family.
    pub family: BlindFamily,
    /// Shape of the manufactured head.
    pub head: Head,
    /// Nominal diameter.
    pub diameter: Length,
    /// Thinnest and thickest stack it fits; none in a call of family and diameter alone.
    pub grip: Option<(Length, Length)>,
    /// What the grip range rests on.
    pub basis: Basis,
    /// Material of the body in words.
    pub material: String,
    /// The grade of a commercial rivet, where the call names one.
    pub grade: Option<String>,
    /// Code of diameter and grip of a commercial rivet: `43`.
    pub code: Option<String>,
    /// Length of the body, of a rivet whose grip is not listed.
    pub length: Option<Length>,
    /// Whether its body is oversize, so that it has holes of its own.
    pub bulbed: bool,
    stem: String,
    tail: String,
    dashed: bool,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct CodeRow {
    code: String,
    dash: u16,
    #[serde(deserialize_with = "table::length")]
    low: Length,
    #[serde(deserialize_with = "table::length")]
    high: Length,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct MilitaryRow {
    number: String,
    head: String,
    letters: Vec<String>,
    #[serde(default)]
    bulbed: bool,
    #[serde(default)]
    dashed: bool,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct IsoRow {
    #[serde(deserialize_with = "table::lengths")]
    diameters: Vec<Length>,
    #[serde(deserialize_with = "table::length")]
    length: Length,
    #[serde(deserialize_with = "table::length")]
    low: Length,
    #[serde(deserialize_with = "table::length")]
    high: Length,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct StrengthRow {
    standard: String,
    grade: String,
    #[serde(deserialize_with = "table::length")]
    diameter: Length,
    shear: i64,
    tension: i64,
    unit: String,
}

static CODES: LazyLock<Table<CodeRow>> = LazyLock::new(|| table::read("blind_commercial"));
static MILITARY: LazyLock<Table<MilitaryRow>> = LazyLock::new(|| table::read("blind_military"));
static ISO: LazyLock<Table<IsoRow>> = LazyLock::new(|| table::read("blind_iso"));
static HOLES: LazyLock<Table<HoleRow>> = LazyLock::new(|| table::read("blind_hole"));
static STRENGTHS: LazyLock<Table<StrengthRow>> = LazyLock::new(|| table::read("blind_strength"));

/// Documents that are not rows of a table of numbers.
const COMMERCIAL: &str = "IFI114";

/// Grades of commercial blind rivets that the tables know, with their body material (IFI-114).
const GRADES: [(&str, &str); 4] = [("10", "5050"), ("18", "5056"), ("30", "steel"), ("51", "stainless steel")];

impl Sourced<CodeRow> {
    fn rivet(&'static self, tail: &str, head: Head, grade: Option<String>) -> BlindRivet {
        let stem = format!("IFI114-{}", self.dash);
        let usual = format!("IFI114-{}{tail}", self.code);
        BlindRivet {
            call: Call { text: usual.clone(), usual, kit: None },
            family: BlindFamily::Commercial,
            head,
            diameter: Length::from_32nds(self.dash),
            grip: Some((self.low, self.high)),
            basis: self.basis.clone(),
            material: material_of_grade(grade.as_deref()),
            grade,
            code: Some(self.code.clone()),
            length: None,
            stem,
            tail: tail.to_owned(),
            bulbed: false,
            dashed: false,
        }
    }
}

fn material_of_grade(grade: Option<&str>) -> String {
    GRADES
        .iter()
        .find(|(its_grade, _)| Some(*its_grade) == grade)
        .map_or_else(String::new, |(_, material)| (*material).to_owned())
}

fn decode(parts: &Parts) -> Result<BlindRivet, Undecoded> {
    match parts.standard {
        COMMERCIAL => decode_commercial(parts),
        _ => iso::decode(parts).unwrap_or_else(|| decode_military(parts)),
    }
}

fn decode_commercial(parts: &Parts) -> Result<BlindRivet, Undecoded> {
    let (code, words) = split_digits(parts.rest);
    let (flush, grade) = read_words(parts, words)?;
    let head = if flush { Head::Flush120 } else { Head::Protruding };
    let grade_words = grade.as_ref().map_or_else(String::new, |grade| format!(" GRADE {grade}"));
    let tail = format!("{}{grade_words}", if flush { " FLUSH" } else { "" });
    if let Some(row) = CODES.rows.iter().find(|row| row.code == code) {
        let found = row.rivet(&tail, head, grade);
        return Ok(BlindRivet { call: Call::of(parts.text, found.call.usual), ..found });
    }
    let same = CODES.rows.iter().find(|row| row.dash.to_string() == code);
    if let Some(row) = same {
        let found = row.rivet(&tail, head, grade);
        let usual = format!("{}{tail}", found.stem);
        return Ok(BlindRivet { call: Call::of(parts.text, usual), grip: None, code: None, ..found });
    }
    let near: Vec<&str> = CODES
        .rows
        .iter()
        .map(|row| row.code.as_str())
        .filter(|known| known.chars().next() == code.chars().next())
        .collect();
    let list =
        if near.is_empty() { "41 to 48 (1/8), 52 to 56 (5/32), 62 to 68 (3/16)".to_owned() } else { near.join(", ") };
    let what = if code.is_empty() {
        "has no code of diameter and grip".to_owned()
    } else {
        format!("has an unknown code: {code}")
    };
    Err(parts.fault(
        &what,
        format!("the code is the diameter in 1/32 in and the greatest grip in 1/16 in: {list}"),
        "TM-221",
    ))
}

/// The words after a commercial code: `FLUSH`, `GRADE 10`, in any order.
fn read_words(parts: &Parts, words: &str) -> Result<(bool, Option<String>), Undecoded> {
    let (mut flush, mut grade, mut rest) = (false, None, words);
    while !rest.is_empty() {
        rest = rest.trim_start_matches('-');
        if let Some(after) = rest.strip_prefix("FLUSH") {
            (flush, rest) = (true, after);
        } else if let Some(after) = rest.strip_prefix("GRADE") {
            let (digits, after) = split_digits(after);
            let known = GRADES.iter().find(|(its_grade, _)| *its_grade == digits);
            let known = known.ok_or_else(|| {
                parts.fault(
                    "names an unknown grade",
                    "the grades are 10 (5050), 18 (5056), 30 (steel), 51 (stainless)",
                    "IFI114",
                )
            })?;
            (grade, rest) = (Some(known.0.to_owned()), after);
        } else if !rest.is_empty() {
            let what = format!("has words that do not belong: {}", clip(rest));
            return Err(parts.fault(&what, "after the code only `flush` and `grade 10` may follow", "IFI114"));
        }
    }
    Ok((flush, grade))
}

/// Material letters of the military numbers (AN-DWG, from memory).
const MATERIALS: [(&str, &str); 7] =
    [("AD", "2117"), ("B", "5056"), ("D", "2017"), ("E", "7050"), ("M", "Monel"), ("MS", "Monel"), ("MW", "Monel")];

fn decode_military(parts: &Parts) -> Result<BlindRivet, Undecoded> {
    let row = MILITARY.rows.iter().find(|row| row.number == parts.standard);
    let row = row
        .ok_or_else(|| parts.fault("is not a military blind rivet", "the tables know MS20600 to MS20605", "MS20600"))?;
    let (letters, rest) = split_letters(parts.rest);
    let material =
        MATERIALS.iter().find(|(letter, _)| *letter == letters && row.letters.iter().any(|own| own == letters));
    let (_, material) = material.ok_or_else(|| {
        let help = format!("the letters of {} are {}", row.number, row.letters.join(", "));
        parts.fault("has no known material letter", help, "MS20600")
    })?;
    let (digits, rest) = split_digits(rest.strip_prefix('-').unwrap_or(rest));
    let dash = whole_number(digits).and_then(|n| [4_u16, 5, 6, 8].into_iter().find(|dash| i64::from(*dash) == n));
    let dash = dash.ok_or_else(|| {
        parts.fault("has an unknown diameter dash", "the diameters are 4 5 6 8, in 1/32 in", "MS20600")
    })?;
    let grip_digits = rest.trim_start_matches(['-', 'W', 'K']);
    let grip = match whole_number(grip_digits) {
        Some(n @ 1..=32) => Some(n),
        None if rest.is_empty() => None,
        _ => {
            return Err(parts.fault(
                "has an unknown grip dash",
                "the last dash is the greatest grip in 1/16 in, 1 to 32",
                "MS20600",
            ));
        }
    };
    let head = if row.head == "flush" { Head::Flush100 } else { Head::Protruding };
    let stem = format!("{}{letters}{}{dash}", row.number, if row.dashed { "-" } else { "" });
    let rivet = BlindRivet {
        bulbed: row.bulbed,
        dashed: row.dashed,
        call: Call::of(parts.text, stem.clone()),
        family: BlindFamily::Military,
        head,
        diameter: Length::from_32nds(dash),
        grip: None,
        basis: row.basis.clone(),
        material: (*material).to_owned(),
        grade: None,
        code: None,
        length: None,
        stem,
        tail: String::new(),
    };
    let text = parts.text;
    Ok(grip.map_or(rivet.clone(), |n| {
        let full = rivet.in_sixteenths(n);
        BlindRivet { call: Call::of(text, full.call.usual), ..full }
    }))
}

impl Family for BlindRivet {
    fn documents() -> Vec<&'static str> {
        let military = MILITARY.rows.iter().map(|row| row.number.as_str());
        std::iter::once(COMMERCIAL).chain(iso::documents()).chain(military).collect()
    }

    fn decode(parts: &Parts<'_>) -> Result<Self, Undecoded> {
        decode(parts)
    }

    fn every_call() -> impl Iterator<Item = String> {
        every_call().chain(iso::every_call())
    }

    fn common(&self) -> Common<'_> {
        Common {
            diameter: Some(self.diameter),
            head: self.head,
            metal: super::metal::metal_of(&self.material),
            lacks_length: self.grip.is_none() && self.length.is_none(),
            ..Common::of(&self.call)
        }
    }

    fn superseded_by(&self) -> Option<String> {
        iso::successor(self).map(|(numbers, _)| numbers.to_owned())
    }

    fn successor_differs(&self) -> Option<&str> {
        iso::successor(self).map(|(_, differs)| differs)
    }

    fn holes(&self) -> Vec<ListedHole> {
        if self.family == BlindFamily::Iso {
            let least = limit::iso_blind_hole_least();
            let low = self.diameter + least.value;
            let high = self.diameter + limit::iso_blind_hole_most().value;
            return vec![ListedHole {
                size: Size::plain(low),
                low,
                high,
                nominal: true,
                usual: false,
                basis: least.basis.clone(),
            }];
        }
        let rows = HOLES
            .rows
            .iter()
            .filter(|row| Length::from_32nds(row.dash) == self.diameter && row.series.is_some() == self.bulbed);
        rows.map(Sourced::listed).collect()
    }

    fn fitted(&self, stack: Length, _hole: Option<Length>, _washers: (Length, Length)) -> Option<Self> {
        self.fitting(stack)
    }
}

impl BlindRivet {
    pub(super) fn of_kit(text: &str, own: &KitFastener) -> Self {
        Self {
            call: Call::kit(text, own),
            family: BlindFamily::Kit,
            head: own.head,
            diameter: own.diameter,
            grip: own.grip,
            basis: Basis::given(&own.source),
            material: own.material.clone(),
            grade: None,
            code: None,
            length: own.length,
            stem: own.id.clone(),
            tail: String::new(),
            bulbed: false,
            dashed: false,
        }
    }

    /// Whether it is a commercial pull-type rivet, which the circular keeps out of certificated structure.
    #[must_use]
    pub const fn is_commercial(&self) -> bool {
        matches!(self.family, BlindFamily::Commercial | BlindFamily::Iso)
    }

    /// Whether a stack lies in the grip range; `None` where the range is not known.
    #[must_use]
    pub fn fits(&self, stack: Length) -> Option<bool> {
        self.grip.map(|(low, high)| reaches(stack, low) && within(stack, high))
    }

    /// The rivets of the same family, diameter and head.
    fn siblings(&self) -> Vec<Self> {
        match self.family {
            BlindFamily::Commercial => {
                let rows = CODES.rows.iter().filter(|row| Length::from_32nds(row.dash) == self.diameter);
                rows.map(|row| row.rivet(&self.tail, self.head, self.grade.clone())).collect()
            }
            BlindFamily::Military => (1..=32).map(|n| self.in_sixteenths(n)).collect(),
            BlindFamily::Iso if !iso::has_grips(self) => Vec::new(),
            BlindFamily::Iso => self.iso_rows().map(|row| self.in_row(row)).collect(),
            BlindFamily::Kit => vec![self.clone()],
        }
    }

    /// The least and the largest grip of its family, diameter and head; none where no grip is listed.
    #[must_use]
    pub fn grips(&self) -> Option<(Length, Length)> {
        let grips: Vec<(Length, Length)> = self.siblings().iter().filter_map(|rivet| rivet.grip).collect();
        Some((grips.iter().map(|grip| grip.0).min()?, grips.iter().map(|grip| grip.1).max()?))
    }

    /// The rivet of the same family, diameter and head that fits a stack: of several the one with the smallest grip.
    #[must_use]
    pub fn fitting(&self, stack: Length) -> Option<Self> {
        self.siblings()
            .into_iter()
            .filter(|rivet| rivet.fits(stack) == Some(true))
            .min_by_key(|rivet| rivet.grip.map(|(_, high)| high))
    }

    /// Whether its diameters are those of the inch standards.
    #[must_use]
    pub const fn is_of_inch_series(&self) -> bool {
        matches!(self.family, BlindFamily::Commercial | BlindFamily::Military)
    }

    /// Plain words for paper: `blind rivet, protruding head, 1/8 in dia, grip 0.063 to 0.125 in`.
    #[must_use]
    pub fn describe(&self, style: &Style) -> String {
        let head = match self.head {
            Head::Protruding => "protruding head",
            Head::Flush120 => "120 deg flush head",
            Head::Flush82 | Head::Flush100 | Head::FlushReduced100 => "100 deg flush head",
        };
        let mut words = vec!["blind rivet".to_owned(), head.to_owned()];
        words.extend(Some(self.material.clone()).filter(|material| !material.is_empty()));
        words.push(if self.family == BlindFamily::Iso {
            format!("{} mm dia", self.diameter.mm_exact())
        } else {
            format!("{} dia", style.rivet(self.diameter))
        });
        words.extend(self.length.map(|length| format!("{} mm long", length.mm_exact())));
        words.extend(self.grip.map(|(low, high)| format!("grip {}", style.range(low, high))));
        words.join(", ")
    }

    fn in_sixteenths(&self, n: i64) -> Self {
        let usual = if self.dashed { format!("{}-{n:02}", self.stem) } else { format!("{}-{n}", self.stem) };
        let grip = Some((Length::from_64ths(4 * (n - 1)), Length::from_64ths(4 * n)));
        Self { call: Call { text: usual.clone(), usual, kit: None }, grip, ..self.clone() }
    }

    fn in_row(&self, row: &IsoRow) -> Self {
        let usual = format!("{}X{}{}", self.stem, row.length.mm_exact(), self.tail);
        Self { call: Call { text: usual.clone(), usual, kit: None }, grip: Some((row.low, row.high)), ..self.clone() }
    }

    fn iso_rows(&self) -> impl Iterator<Item = &'static Sourced<IsoRow>> {
        ISO.rows.iter().filter(|row| row.diameters.contains(&self.diameter))
    }

    /// Least shear and tension strength with the unit, `lb` or `N`, where the call names a listed grade.
    #[must_use]
    pub fn strength(&self) -> Option<Graded<(i64, i64, &'static str)>> {
        let grade = self.grade.as_deref()?;
        let row = STRENGTHS
            .rows
            .iter()
            .find(|row| row.standard == "IFI114" && row.grade == grade && row.diameter == self.diameter)?;
        Some(row.graded((row.shear, row.tension, row.unit.as_str())))
    }
}

/// The commercial blind rivet of a diameter and head that fits a stack.
#[must_use]
pub fn commercial_blind_for(stack: Length, diameter: Length, head: Head) -> Option<BlindRivet> {
    let tail = if head.is_flush() { " FLUSH" } else { "" };
    let head = if head.is_flush() { Head::Flush120 } else { Head::Protruding };
    let row = CODES.rows.iter().find(|row| Length::from_32nds(row.dash) == diameter)?;
    row.rivet(tail, head, None).fitting(stack)
}

/// One call of every row of the blind rivet tables.
fn every_call() -> impl Iterator<Item = String> {
    let commercial = CODES.rows.iter().map(|row| format!("IFI114-{}", row.code));
    let military = MILITARY.rows.iter().flat_map(|row| {
        let dashes: &[u16] = if row.bulbed { &[4, 5, 6] } else { &[4, 5, 6, 8] };
        let letters = row.letters.first().map_or("", String::as_str);
        dashes.iter().flat_map(move |dash| {
            (1..=8).map(move |n| {
                if row.dashed {
                    format!("{}{letters}-{dash}-{n:02}", row.number)
                } else {
                    format!("{}{letters}{dash}-{n}", row.number)
                }
            })
        })
    });
    let iso = ISO.rows.iter().flat_map(|row| {
        row.diameters.iter().map(move |d| format!("ISO15981-{}X{}", d.mm_exact(), row.length.mm_exact()))
    });
    commercial.chain(military).chain(iso)
}
