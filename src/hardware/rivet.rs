//! Solid rivets: part number, alloy, length against a stack, next larger size, substitutes.
//!
//! It proposes lengths and states limits; whether a joint passes is for the rules to say.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

use super::alloy::{KeepCold, RivetAlloy, rivet_alloys};
use super::family::{Common, Family};
use super::head::Head;
use super::hole::{self, HoleRow, ListedHole};
use super::kit::KitFastener;
use super::limit::{self, reaches, within};
use super::metal::Metal;
use super::number::{Call, Parts, Undecoded, clip, split_digits, split_letters, whole_number};
use super::source::Graded;
use super::table::{self, Sourced, Table};
use crate::units::{Length, Size, Style};

/// Diameter dashes of solid rivets, in 1/32 in (AC-4-16).
pub const RIVET_DASHES: [u16; 8] = [2, 3, 4, 5, 6, 8, 10, 12];

/// Diameter of the largest solid rivet.
#[must_use]
pub fn largest_rivet() -> Length {
    RIVET_DASHES.into_iter().max().map_or(Length::ZERO, Length::from_32nds)
}

/// Shortest and longest length dash that a rivet drawing could give, in half sizes of 1/32 in.
const HALVES: std::ops::RangeInclusive<i64> = 2..=128;

#[derive(Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
struct Standard {
    number: String,
    head: String,
    #[serde(default)]
    form: Form,
    /// Material letters with the alloys of the table that they stand for; none where they are those of aluminium.
    #[serde(default)]
    letters: BTreeMap<String, String>,
    #[serde(default)]
    successor: Option<String>,
}

/// How a number is put together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Form {
    /// `MS20470AD4-5`.
    #[default]
    LettersFirst,
    /// `MS20615-4M5`.
    DiameterFirst,
}

impl Form {
    fn stem(self, number: &str, letters: &str, dash: u16) -> String {
        match self {
            Self::DiameterFirst => format!("{number}-{dash}{letters}"),
            Self::LettersFirst => {
                format!("{number}{}{letters}{dash}", if letters.is_empty() { "-" } else { "" })
            }
        }
    }

    const fn before_length(self) -> &'static str {
        match self {
            Self::DiameterFirst => "",
            Self::LettersFirst => "-",
        }
    }
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Substitute {
    original: String,
    replacement: String,
    #[serde(deserialize_with = "table::length")]
    largest: Length,
    sizes_larger: usize,
}

static STANDARDS: LazyLock<Table<Standard>> = LazyLock::new(|| table::read("rivet_standard"));
static HOLES: LazyLock<Table<HoleRow>> = LazyLock::new(|| table::read("solid_rivet_hole"));
static SUBSTITUTES: LazyLock<Table<Substitute>> = LazyLock::new(|| table::read("substitute"));

/// A solid rivet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SolidRivet {
    /// The part number.
    pub call: Call,
    /// Shape of the manufactured head.
    pub head: Head,
    /// The head in words: `universal`, `flush`, `reduced flush`.
    pub head_word: String,
    /// The alloy, where the number or the kit's material names one of the table.
    pub alloy: Option<&'static RivetAlloy>,
    /// Nominal shank diameter.
    pub diameter: Length,
    /// Length as the standard measures it: under a protruding head, over all for a flush one; none in a
    /// call of family and diameter alone.
    pub length: Option<Length>,
    numbers: Numbers,
}

/// What a rivet's number is put together from.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Numbers {
    number: String,
    successor: Option<String>,
    letters: String,
    form: Form,
}

impl Numbers {
    /// The number in a diameter and length; a kit's own is as it is.
    fn full(&self, number: &str, dash: Option<u16>, length: Option<Length>) -> String {
        let Some(dash) = dash else { return number.to_owned() };
        let stem = self.form.stem(number, &self.letters, dash);
        length
            .map_or_else(|| stem.clone(), |length| format!("{stem}{}{}", self.form.before_length(), dash_text(length)))
    }
}

fn decode(parts: &Parts) -> Result<SolidRivet, Undecoded> {
    let standard = STANDARDS.rows.iter().find(|row| row.number == parts.standard);
    let standard = standard
        .ok_or_else(|| parts.fault("is not a solid rivet", "solid rivets are MS20470 and MS20426", "AC-4-16"))?;
    let (letters, digits, rest) = match standard.form {
        Form::LettersFirst => {
            let (letters, rest) = split_letters(parts.rest);
            let (digits, rest) = split_digits(rest.strip_prefix('-').unwrap_or(rest));
            (letters, digits, rest)
        }
        Form::DiameterFirst => {
            let (digits, rest) = split_digits(parts.rest);
            let (letters, rest) = split_letters(rest);
            (letters, digits, rest)
        }
    };
    let alloy = alloy_of(parts, standard, letters)?;
    let dash = diameter_dash(parts, digits)?;
    let length = length_dash(parts, standard.form, rest)?;
    let head = head_of(&standard.head);
    let rivet = SolidRivet {
        call: Call::of(parts.text, String::new()),
        head,
        head_word: standard.head.clone(),
        alloy: Some(alloy),
        diameter: Length::from_32nds(dash),
        length: None,
        numbers: Numbers {
            number: standard.number.clone(),
            successor: standard.successor.clone(),
            letters: letters.to_owned(),
            form: standard.form,
        },
    };
    let usual = rivet.numbers.full(&standard.number, Some(dash), length);
    Ok(SolidRivet { call: Call::of(parts.text, usual), length, ..rivet })
}

/// The letters of a standard with their alloys: its own, else those of aluminium.
fn letters_of(standard: &'static Standard) -> Vec<(&'static str, &'static RivetAlloy)> {
    if standard.letters.is_empty() {
        let aluminium = rivet_alloys().filter(|alloy| alloy.metal == Metal::Aluminium);
        return aluminium.map(|alloy| (alloy.letter.as_str(), alloy)).collect();
    }
    let own = standard.letters.iter().map(|(letter, name)| (letter.as_str(), name));
    own.filter_map(|(letter, name)| Some((letter, rivet_alloys().find(|alloy| alloy.alloy == *name)?))).collect()
}

fn alloy_of(parts: &Parts, standard: &'static Standard, letters: &str) -> Result<&'static RivetAlloy, Undecoded> {
    let known = letters_of(standard);
    let help = || {
        let list: Vec<String> = known.iter().map(|(letter, alloy)| format!("{letter} ({})", alloy.alloy)).collect();
        format!("the alloy letters of {} are {}", standard.number, list.join(", "))
    };
    let found = known.iter().find(|(letter, _)| *letter == letters).map(|(_, alloy)| *alloy);
    if letters.is_empty() && found.is_none() {
        return Err(parts.fault("has no alloy letter", help(), "AC-4-16"));
    }
    found.ok_or_else(|| parts.fault(&format!("has an unknown alloy letter: {}", clip(letters)), help(), "AC-4-16"))
}

fn diameter_dash(parts: &Parts, digits: &str) -> Result<u16, Undecoded> {
    let list = "2 3 4 5 6 8 10 12, in 1/32 in";
    let Some(written) = whole_number(digits) else {
        return Err(parts.fault("has no diameter dash", format!("the diameters are {list}"), "AC-4-16"));
    };
    let found = RIVET_DASHES.iter().copied().find(|dash| i64::from(*dash) == written);
    found.ok_or_else(|| {
        let what = format!("has a diameter dash that does not exist: {written}");
        parts.fault(&what, format!("the diameters are {list}"), "AC-4-16")
    })
}

fn length_dash(parts: &Parts, form: Form, rest: &str) -> Result<Option<Length>, Undecoded> {
    if rest.is_empty() {
        return Ok(None);
    }
    let help = "the length dash counts 1/16 in, half sizes are written -5.5, from -1 to -64";
    let fault = || parts.fault(&format!("has a length dash that does not exist: {}", clip(rest)), help, "AC-4-16");
    let number = match form {
        Form::LettersFirst => rest.strip_prefix('-').ok_or_else(fault)?,
        Form::DiameterFirst => rest.strip_prefix('-').unwrap_or(rest),
    };
    // A bag spells the half size -3.5 as -3-5.
    let (whole, half) =
        number.split_once(['.', '-']).map_or((number, 0), |(whole, part)| (whole, if part == "5" { 1 } else { -1 }));
    let whole = if whole.is_empty() { None } else { whole_number(whole) }.ok_or_else(fault)?;
    let halves = if half < 0 { 0 } else { 2 * whole + half };
    if HALVES.contains(&halves) { Ok(Some(half_sizes(halves))) } else { Err(fault()) }
}

fn head_of(word: &str) -> Head {
    match word {
        "flush" => Head::Flush100,
        "reduced flush" => Head::FlushReduced100,
        _ => Head::Protruding,
    }
}

const fn half_sizes(n: i64) -> Length {
    Length::from_64ths(2 * n)
}

impl Family for SolidRivet {
    fn documents() -> Vec<&'static str> {
        STANDARDS.rows.iter().map(|row| row.number.as_str()).collect()
    }

    fn decode(parts: &Parts<'_>) -> Result<Self, Undecoded> {
        decode(parts)
    }

    fn every_call() -> impl Iterator<Item = String> {
        every_call()
    }

    fn common(&self) -> Common<'_> {
        let of_kit = self.call.kit.as_ref().and_then(KitFastener::metal);
        Common {
            diameter: Some(self.diameter),
            head: self.head,
            metal: self.alloy.map(|alloy| alloy.metal).or(of_kit),
            lacks_length: self.length.is_none(),
            ..Common::of(&self.call)
        }
    }

    fn superseded_by(&self) -> Option<String> {
        let number = self.numbers.successor.as_ref()?;
        Some(self.numbers.full(number, self.dash(), self.length))
    }

    fn holes(&self) -> Vec<ListedHole> {
        solid_rivet_holes(self.diameter)
    }

    fn fitted(&self, stack: Length, hole: Option<Length>, _washers: (Length, Length)) -> Option<Self> {
        let hole = hole.or_else(|| self.usual_hole().map(|hole| hole.value.length)).unwrap_or(self.diameter);
        self.lengths_for(stack, hole).first().map(|length| self.with_length(*length))
    }
}

impl SolidRivet {
    pub(super) fn of_kit(text: &str, own: &KitFastener) -> Self {
        let alloy =
            rivet_alloys().find(|alloy| alloy.alloy == own.material.trim() || alloy.letter == own.material.trim());
        let head_word = if own.head == Head::Protruding { "protruding" } else { "flush" };
        Self {
            call: Call::kit(text, own),
            head: own.head,
            head_word: head_word.to_owned(),
            alloy,
            diameter: own.diameter,
            length: own.length,
            numbers: Numbers {
                number: own.id.clone(),
                successor: None,
                letters: String::new(),
                form: Form::LettersFirst,
            },
        }
    }

    /// The diameter dash in 1/32 in, where the diameter is one of the standards' sizes.
    #[must_use]
    pub fn dash(&self) -> Option<u16> {
        RIVET_DASHES.into_iter().find(|dash| Length::from_32nds(*dash) == self.diameter)
    }

    /// The same rivet in a given length; the call gets the length dash, `MS20470AD4-5.5`.
    #[must_use]
    pub fn with_length(&self, length: Length) -> Self {
        let dash = self.dash().filter(|_| self.call.kit.is_none());
        let usual = self.numbers.full(&self.numbers.number, dash, Some(length));
        Self {
            call: Call { text: usual.clone(), usual, kit: self.call.kit.clone() },
            length: Some(length),
            ..self.clone()
        }
    }

    /// The same rivet in another diameter of the standards, without a length; none for a kit's own rivet.
    #[must_use]
    pub fn with_diameter(&self, diameter: Length) -> Option<Self> {
        let new =
            RIVET_DASHES.into_iter().find(|dash| self.call.kit.is_none() && Length::from_32nds(*dash) == diameter)?;
        let usual = self.numbers.full(&self.numbers.number, Some(new), None);
        let call = Call { text: usual.clone(), usual, kit: None };
        Some(Self { call, diameter, length: None, ..self.clone() })
    }

    /// Plain words for paper: `universal head, 2117-T4, 1/8 in dia, 5/16 in long`.
    #[must_use]
    pub fn describe(&self, style: &Style) -> String {
        let mut words = vec![match self.head {
            Head::Flush100 => "100 deg flush head".to_owned(),
            Head::FlushReduced100 => "100 deg reduced flush head".to_owned(),
            _ => format!("{} head", self.head_word),
        }];
        words.extend(
            self.alloy
                .map(|alloy| alloy.alloy.clone())
                .or_else(|| self.call.kit.as_ref().map(|kit| kit.material.clone())),
        );
        words.push(format!("{} dia", style.rivet(self.diameter)));
        let over_all = if self.head == Head::Protruding { "" } else { " over all" };
        words.extend(self.length.map(|length| format!("{} long{over_all}", style.short(length))));
        words.retain(|word| !word.is_empty());
        words.join(", ")
    }

    /// The part of the shank that sticks out of a stack, none where the length is not known or too short.
    #[must_use]
    pub fn free_shank(&self, stack: Length) -> Option<Length> {
        self.length.map(|length| length - stack)
    }

    /// Whether it is kept cold until driven.
    #[must_use]
    pub fn is_kept_cold(&self) -> bool {
        match self.alloy.map(|alloy| alloy.keep_cold) {
            Some(KeepCold::All) => true,
            Some(KeepCold::OverThreeSixteenths) => self.diameter > Length::from_32nds(6),
            Some(KeepCold::Never) | None => false,
        }
    }

    /// The hole to drill where the drawing gives none.
    #[must_use]
    pub fn usual_hole(&self) -> Option<Graded<Size>> {
        hole::usual(&self.call.kit.as_ref().map_or_else(|| self.holes(), hole::of_kit), None)
    }

    /// The size to drill where the drawing gives none.
    #[must_use]
    pub fn nominal_hole(&self) -> Option<Graded<Size>> {
        hole::nominal(self.call.kit.as_ref().map_or_else(|| self.holes(), hole::of_kit))
    }

    /// The next larger diameter of the standards.
    #[must_use]
    pub fn next_larger(&self) -> Option<Length> {
        next_larger_rivet(self.diameter)
    }

    /// Every length that suits a stack and a hole without a warning, the one nearest to stack + 1.5 D first.
    #[must_use]
    pub fn lengths_for(&self, stack: Length, hole: Length) -> Vec<Length> {
        let d = self.diameter;
        let limits = free_shank_limits(d);
        let least = limits.full.value.max(limits.enough.value + hole_fill(stack, hole, d));
        let suits = |length: &Length| reaches(*length - stack, least) && within(*length - stack, limits.usual.value);
        let best = stack + d.times(limit::free_shank_wanted().value);
        let mut lengths: Vec<Length> = HALVES.map(half_sizes).filter(suits).collect();
        lengths.sort_by_key(|length| (length.distance(best), *length));
        lengths
    }

    /// Whether this rivet may replace `original` where it had to be drilled out, by the table of substitutes.
    ///
    /// `None` where the table does not speak of the pair: same alloy in the same or a larger size is not a
    /// substitute, and neither is a pair of alloys that the source does not name.
    #[must_use]
    pub fn substitutes(&self, original: &Self) -> Option<Graded<bool>> {
        let (new, old) = (self.alloy?, original.alloy?);
        if new.letter == old.letter {
            return None;
        }
        let row = SUBSTITUTES.rows.iter().find(|row| row.replacement == new.letter && row.original == old.letter)?;
        let (old_place, new_place) = (place_of(original.diameter)?, place_of(self.diameter)?);
        let good = original.diameter <= row.largest && new_place >= old_place + row.sizes_larger;
        Some(row.graded(good))
    }
}

fn place_of(diameter: Length) -> Option<usize> {
    RIVET_DASHES.iter().position(|dash| Length::from_32nds(*dash) == diameter)
}

/// Length dash in 1/16 in with half sizes: `5`, `5.5`.
fn dash_text(length: Length) -> String {
    let halves = length.nm() / half_sizes(1).nm();
    if halves % 2 == 0 { (halves / 2).to_string() } else { format!("{}.5", halves / 2) }
}

/// The next larger rivet diameter of the standards.
#[must_use]
pub fn next_larger_rivet(diameter: Length) -> Option<Length> {
    RIVET_DASHES.into_iter().map(Length::from_32nds).find(|larger| *larger > diameter)
}

/// Limits of the free shank (length less stack) of a solid rivet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FreeShankLimits {
    /// Least metal for a 1.3 D x 0.4 D head, before the hole is filled.
    pub enough: Graded<Length>,
    /// Enough for a 1.5 D x 0.5 D head.
    pub full: Graded<Length>,
    /// Upper end of the usual range.
    pub usual: Graded<Length>,
    /// More than this folds over.
    pub most: Graded<Length>,
}

/// Limits of the free shank of a solid rivet of diameter `d`.
#[must_use]
pub fn free_shank_limits(d: Length) -> FreeShankLimits {
    FreeShankLimits {
        enough: limit::free_shank_enough().at(d),
        full: limit::free_shank_full().at(d),
        usual: limit::free_shank_usual().at(d),
        most: limit::free_shank_most().at(d),
    }
}

/// Free shank that goes into filling a hole of diameter `hole` through `stack` around a shank of diameter `d`.
#[must_use]
pub fn hole_fill(stack: Length, hole: Length, d: Length) -> Length {
    if hole <= d || d <= Length::ZERO {
        return Length::ZERO;
    }
    // stack x (hole squared - d squared) / d squared, as (hole - d)(hole + d) so that it stays in range.
    let (wide, sum, d) = (i128::from((hole - d).nm()), i128::from((hole + d).nm()), i128::from(d.nm()));
    let fill = i128::from(stack.nm().max(0)) * (wide * sum) / (d * d);
    // Beyond any length of a rivet; the rule that asks says that it is too much.
    Length::from_nm(i64::try_from(fill).unwrap_or(i64::MAX))
}

/// Every listed hole for a solid rivet of a diameter.
#[must_use]
pub fn solid_rivet_holes(diameter: Length) -> Vec<ListedHole> {
    HOLES.rows.iter().filter(|row| Length::from_32nds(row.dash) == diameter).map(Sourced::listed).collect()
}

/// One call of every document, alloy and diameter, in lengths from -2 to -12 with half sizes.
fn every_call() -> impl Iterator<Item = String> {
    STANDARDS.rows.iter().flat_map(|row| letters_of(row).into_iter().map(move |(letters, _)| (row, letters))).flat_map(
        |(row, letters)| {
            RIVET_DASHES.into_iter().flat_map(move |dash| {
                let stem = row.form.stem(&row.number, letters, dash);
                let lengths = (4..=24).map(|n| format!("{}{}", row.form.before_length(), dash_text(half_sizes(n))));
                std::iter::once(String::new()).chain(lengths).map(move |length| format!("{stem}{length}"))
            })
        },
    )
}
