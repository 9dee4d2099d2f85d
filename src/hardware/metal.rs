//! Which metal a material is, and which pairs of bare metals corrode each other.
//!
//! It reads the words of a spec; coatings, sealants and barriers are for the rules to look at.

use std::sync::LazyLock;

use serde::Deserialize;

use super::source::{Graded, Sureness};
use super::table::{self, Table};

/// A metal, or carbon fibre, as far as corrosion beside another is concerned.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Metal {
    /// Aluminium alloys.
    Aluminium,
    /// Magnesium alloys.
    Magnesium,
    /// Carbon and low-alloy steel.
    Steel,
    /// Stainless (corrosion-resistant) steel.
    Stainless,
    /// Titanium.
    Titanium,
    /// Monel and other nickel alloys.
    Monel,
    /// Copper, brass, bronze.
    Copper,
    /// Carbon-fibre laminate.
    Carbon,
}

impl Metal {
    /// The metal in words.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Aluminium => "aluminium",
            Self::Magnesium => "magnesium",
            Self::Steel => "steel",
            Self::Stainless => "stainless steel",
            Self::Titanium => "titanium",
            Self::Monel => "Monel",
            Self::Copper => "copper alloy",
            Self::Carbon => "carbon fibre",
        }
    }

    const fn group(self) -> u8 {
        match self {
            Self::Magnesium => 0,
            Self::Aluminium => 1,
            Self::Steel => 2,
            Self::Copper => 3,
            Self::Stainless | Self::Titanium | Self::Monel => 4,
            Self::Carbon => 5,
        }
    }
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    metal: Metal,
    words: Vec<String>,
    prefixes: Vec<String>,
}

static METALS: LazyLock<Table<Row>> = LazyLock::new(|| table::read("metal"));

/// The metal of a material in words or by alloy number: `2024-T3`, `4130`, `stainless steel`.
#[must_use]
pub fn metal_of(material: &str) -> Option<Metal> {
    let lower = material.to_lowercase();
    let words: Vec<&str> = lower
        .split(|c: char| c.is_whitespace() || matches!(c, ',' | '/' | '(' | ')'))
        .filter(|word| !word.is_empty())
        .collect();
    let found = METALS.rows.iter().find(|row| {
        words.iter().any(|word| {
            let parts = word.split('-').next().unwrap_or(word);
            row.words.iter().any(|known| known == word || known == parts)
                || row.prefixes.iter().any(|known| word.starts_with(known.as_str()))
        })
    });
    found.map(|row| row.metal)
}

/// Words of a material that is plated with cadmium or zinc, which corrode with aluminium no more than it with itself.
const PLATED: [&str; 4] = ["cadmium", "cad", "zinc", "galvanized"];
/// Words of a material with a coat that keeps metals apart.
const COATED: [&str; 8] = ["painted", "primed", "coated", "powder", "enamelled", "enameled", "anodised", "anodized"];

/// The metal that touches a material's neighbours, by the material's words: none under paint or another coat; the plating
/// of `4130, cadmium plated` counts as aluminium (MIL-HDBK-419A, Table 1-24: one group).
#[must_use]
pub fn bare_metal(material: &str) -> Option<Metal> {
    let lower = material.to_lowercase();
    let has = |known: &[&str]| lower.split(|c: char| !c.is_alphanumeric()).any(|word| known.contains(&word));
    let metal = metal_of(material).filter(|_| !has(&COATED))?;
    Some(if metal == Metal::Steel && has(&PLATED) { Metal::Aluminium } else { metal })
}

/// Whether two bare metals in contact corrode in use.
#[must_use]
pub fn metals_corrode(one: Metal, other: Metal) -> Graded<bool> {
    Graded::published(one.group() != other.group(), "common-practice", Sureness::C)
}

/// A word that looks like an alloy and is none of the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AlloySlip {
    /// As written.
    pub word: String,
    /// What was probably meant.
    pub nearest: Option<String>,
}

/// Digits of an alloy's number.
const NUMBER: usize = 4;

/// A word as number and what follows, where it begins with the four digits of an alloy.
fn alloy_word(word: &str) -> Option<(&str, &str)> {
    let digits = word.bytes().take_while(u8::is_ascii_digit).count();
    (digits == NUMBER).then(|| word.split_at(NUMBER))
}

fn alloy_words(material: &str) -> impl Iterator<Item = &str> {
    material.split(|c: char| c.is_whitespace() || matches!(c, ',' | '/' | '(' | ')'))
}

/// The word of a material that looks like an alloy and is none that the list of metals has, or lacks the dash before
/// its temper.
#[must_use]
pub fn alloy_slip(material: &str) -> Option<AlloySlip> {
    let known = || METALS.rows.iter().flat_map(|row| row.words.iter().chain(&row.prefixes));
    let slip = |word: &str| {
        let (number, rest) = alloy_word(word)?;
        let is_known = known().any(|own| own == number || own.strip_suffix('-') == Some(number));
        let is_plain = rest.is_empty() || rest.starts_with('-') || known().any(|own| *own == word.to_lowercase());
        if is_known && is_plain {
            return None;
        }
        let temper = if is_plain { rest.to_owned() } else { format!("-{rest}") };
        let near = || known().find(|own| own.len() == NUMBER && strsim::damerau_levenshtein(own, number) == 1);
        let nearest = if is_known { Some(number) } else { near().map(String::as_str) };
        Some(AlloySlip { word: word.to_owned(), nearest: nearest.map(|number| format!("{number}{temper}")) })
    };
    alloy_words(material).find_map(slip)
}

/// Whether a material is the annealed temper of an alloy that gets its strength from heat treatment: 2000, 6000 and 7000.
#[must_use]
pub fn is_soft_temper(material: &str) -> bool {
    alloy_words(material)
        .filter_map(alloy_word)
        .any(|(number, rest)| number.starts_with(['2', '6', '7']) && matches!(rest, "-O" | "-0" | "-o"))
}
