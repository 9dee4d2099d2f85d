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

/// Whether two bare metals in contact corrode in use.
#[must_use]
pub fn metals_corrode(one: Metal, other: Metal) -> Graded<bool> {
    Graded::published(one.group() != other.group(), "common-practice", Sureness::C)
}
