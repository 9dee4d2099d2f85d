//! Heads: the shop head, the flush head, how thin a countersunk sheet and how thick a dimpled one may be.
//!
//! It gives the published values side by side and the one in use; it judges no joint.

use std::sync::LazyLock;

use serde::{Deserialize, Deserializer};

use super::source::{Basis, Graded, Sureness};
use super::table::{self, Table};
use super::{alloy::RivetAlloy, limit};
use crate::units::Length;

/// Shape of a manufactured head.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Head {
    /// Stands on the sheet.
    Protruding,
    /// 100 degree flush head, as MS20426.
    Flush100,
    /// 100 degree flush head of reduced size, as NAS1097.
    FlushReduced100,
    /// 82 degree flush head of commercial screws.
    Flush82,
    /// 120 degree flush head of commercial blind rivets.
    Flush120,
}

impl Head {
    /// Whether the head is let into the sheet.
    #[must_use]
    pub const fn is_flush(self) -> bool {
        !matches!(self, Self::Protruding)
    }

    /// The angle of the cone, in degrees; none for a protruding head.
    #[must_use]
    pub const fn degrees(self) -> Option<u16> {
        match self {
            Self::Protruding => None,
            Self::Flush82 => Some(82),
            Self::Flush100 | Self::FlushReduced100 => Some(100),
            Self::Flush120 => Some(120),
        }
    }

    const fn table_word(self) -> &'static str {
        match self {
            Self::Flush100 => "flush",
            Self::FlushReduced100 => "reduced flush",
            Self::Protruding | Self::Flush82 | Self::Flush120 => "",
        }
    }
}

/// A published shop head.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PublishedHead {
    /// Diameter of the formed head.
    pub diameter: Length,
    /// Height.
    pub height: Length,
    /// Greatest height, where the source gives one.
    pub height_most: Option<Length>,
    /// Where it stands.
    pub basis: Basis,
}

/// The shop head that the shop aims at and the least that it accepts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShopHead {
    /// Diameter to aim at.
    pub diameter: Graded<Length>,
    /// Height to aim at.
    pub height: Graded<Length>,
    /// Least diameter; that of 7050 is larger.
    pub least_diameter: Graded<Length>,
    /// Least height.
    pub least_height: Graded<Length>,
    /// Greatest height, where a source gives one.
    pub most_height: Option<Graded<Length>>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct DrivenRow {
    dash: u16,
    #[serde(deserialize_with = "table::length")]
    diameter: Length,
    #[serde(deserialize_with = "table::length")]
    height: Length,
    #[serde(default, deserialize_with = "table::some_length")]
    height_most: Option<Length>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct FlushRow {
    head: String,
    dash: u16,
    #[serde(deserialize_with = "table::length")]
    diameter: Length,
    #[serde(deserialize_with = "table::length")]
    height: Length,
    #[serde(default, deserialize_with = "some_pair")]
    countersink: Option<(Length, Length)>,
    #[serde(default, deserialize_with = "table::some_length")]
    floor: Option<Length>,
    #[serde(default)]
    floor_source: Option<String>,
    #[serde(default)]
    floor_sureness: Option<Sureness>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct MinimumRow {
    head: String,
    dash: u16,
    #[serde(deserialize_with = "table::length")]
    sheet: Length,
    #[serde(default)]
    used: bool,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct DimpleRow {
    limit: String,
    #[serde(deserialize_with = "table::length")]
    sheet: Length,
}

fn some_pair<'de, D: Deserializer<'de>>(reader: D) -> Result<Option<(Length, Length)>, D::Error> {
    let both = table::lengths(reader)?;
    Ok(both.first().copied().zip(both.get(1).copied()))
}

static DRIVEN: LazyLock<Table<DrivenRow>> = LazyLock::new(|| table::read("shop_head"));
static FLUSH: LazyLock<Table<FlushRow>> = LazyLock::new(|| table::read("flush_head"));
static MINIMUM: LazyLock<Table<MinimumRow>> = LazyLock::new(|| table::read("countersink_minimum"));
static DIMPLE: LazyLock<Table<DimpleRow>> = LazyLock::new(|| table::read("dimple"));

/// The shop heads that the sources print for a diameter.
#[must_use]
pub fn published_shop_heads(d: Length) -> Vec<PublishedHead> {
    let rows = DRIVEN.rows.iter().filter(|row| Length::from_32nds(row.dash) == d);
    rows.map(|row| PublishedHead {
        diameter: row.diameter,
        height: row.height,
        height_most: row.height_most,
        basis: row.basis.clone(),
    })
    .collect()
}

/// The shop head of a rivet of diameter `d`; 7050 needs a wider one.
#[must_use]
pub fn shop_head(d: Length, alloy: Option<&RivetAlloy>) -> ShopHead {
    let wider = alloy.is_some_and(|alloy| alloy.alloy.starts_with("7050"));
    let least_wide = if wider { limit::shop_head_least_wide_7050() } else { limit::shop_head_least_wide() };
    let with_most = published_shop_heads(d).into_iter().find_map(|head| head.height_most.zip(Some(head.basis)));
    ShopHead {
        diameter: limit::shop_head_wide().at(d),
        height: limit::shop_head_high().at(d),
        least_diameter: least_wide.at(d),
        least_height: limit::shop_head_least_high().at(d),
        most_height: with_most.map(|(value, basis)| Graded { value, basis }),
    }
}

/// A flush head.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FlushHead {
    /// Diameter of the head.
    pub diameter: Length,
    /// Height of the head: what it takes up of the sheet.
    pub height: Length,
    /// Countersink diameters that a manual gives.
    pub countersink: Option<(Length, Length)>,
    /// What diameter and height rest on.
    pub basis: Basis,
    /// The thinnest sheet that takes the head at all: thinner ones lose the hole.
    pub floor: Graded<Length>,
}

/// The flush head of a rivet of diameter `d`, where one is listed.
#[must_use]
pub fn flush_head(d: Length, head: Head) -> Option<FlushHead> {
    let row = FLUSH.rows.iter().find(|row| row.head == head.table_word() && Length::from_32nds(row.dash) == d)?;
    let basis = row.basis.clone();
    let own_floor = row.floor.zip(row.floor_source.as_deref());
    let floor = match own_floor {
        Some((value, key)) => Graded::published(value, key, row.floor_sureness.unwrap_or(Sureness::C)),
        None => Graded { value: row.height, basis: basis.clone() },
    };
    Some(FlushHead { diameter: row.diameter, height: row.height, countersink: row.countersink, basis, floor })
}

/// The thinnest sheet to countersink for a rivet of diameter `d`: the row in use.
#[must_use]
pub fn countersink_minimum(d: Length, head: Head) -> Option<Graded<Length>> {
    published_countersink_minimums(d, head).into_iter().find(|(_, used)| *used).map(|(row, _)| row)
}

/// Every published thinnest sheet to countersink, with the flag of the row in use.
#[must_use]
pub fn published_countersink_minimums(d: Length, head: Head) -> Vec<(Graded<Length>, bool)> {
    let rows = MINIMUM.rows.iter().filter(|row| row.head == head.table_word() && Length::from_32nds(row.dash) == d);
    rows.map(|row| (row.graded(row.sheet), row.used)).collect()
}

/// Thickest sheets for a dimple: the best range ends at the first, the second is the most.
///
/// # Panics
/// When the embedded table lacks one of the two rows: a fault of the program.
#[must_use]
pub fn dimple_limits() -> (Graded<Length>, Graded<Length>) {
    let limit = |name: &str| {
        let row =
            DIMPLE.rows.iter().find(|row| row.limit == name).expect("the dimple table has the rows `best` and `most`");
        row.graded(row.sheet)
    };
    (limit("best"), limit("most"))
}
