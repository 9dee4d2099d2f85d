//! Alloy letters of the rivet standards: what each is for, how it is kept, how strong it is.
//!
//! It says what the sources say of an alloy; whether a joint may use it is for the rules.

use std::sync::LazyLock;

use serde::Deserialize;

use super::metal::Metal;
use super::source::{Basis, Graded, Sureness};
use super::table::{self, Table};

/// How long a rivet may lie at room temperature before it is driven.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub enum KeepCold {
    /// Driven as received.
    #[serde(rename = "never")]
    Never,
    /// Kept cold until driven where the diameter is over 3/16 in.
    #[serde(rename = "over 3/16")]
    OverThreeSixteenths,
    /// Kept cold until driven in every size.
    #[serde(rename = "all")]
    All,
}

/// One alloy of the rivet standards.
#[derive(Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RivetAlloy {
    /// The letter in the part numbers of aluminium and nickel-copper rivets; none where each standard has its own.
    pub letter: String,
    /// Alloy and temper as received.
    pub alloy: String,
    /// Temper once driven, where it differs.
    #[serde(default)]
    pub driven: Option<String>,
    /// The metal it counts as beside other metals.
    pub metal: Metal,
    /// Whether it may carry structure.
    pub structural: bool,
    /// What it is for.
    pub use_for: String,
    /// Whether it is kept cold until driven.
    pub keep_cold: KeepCold,
    /// The mark on the manufactured head, where known.
    #[serde(default)]
    pub head_mark: Option<String>,
    #[serde(default)]
    shear_ksi: Option<i64>,
    #[serde(default)]
    shear_source: Option<String>,
    #[serde(default)]
    shear_sureness: Option<Sureness>,
}

impl RivetAlloy {
    /// Ultimate shear strength as driven, in thousands of pounds per square inch.
    #[must_use]
    pub fn shear_ksi(&'static self) -> Option<Graded<i64>> {
        let (ksi, key) = (self.shear_ksi?, self.shear_source.as_deref()?);
        Some(Graded::published(ksi, key, self.shear_sureness.unwrap_or(Sureness::C)))
    }

    /// What its use and its keep-cold rule rest on.
    #[must_use]
    pub fn basis(&'static self) -> Basis {
        let row = ALLOYS.rows.iter().find(|row| row.alloy == self.alloy && row.letter == self.letter);
        row.map_or_else(|| ALLOYS.basis.clone(), |row| row.basis.clone())
    }
}

static ALLOYS: LazyLock<Table<RivetAlloy>> = LazyLock::new(|| table::read("rivet_alloy"));

/// The alloy letters of the rivet standards.
pub fn rivet_alloys() -> impl Iterator<Item = &'static RivetAlloy> {
    ALLOYS.rows.iter().map(|row| &row.row)
}
