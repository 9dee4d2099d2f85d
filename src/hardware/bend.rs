//! Bend radius by alloy and thickness, and set-back.
//!
//! The table is a recommendation for 90 degrees in flat sheet; it says nothing of heat treatment after forming.

use std::sync::LazyLock;

use serde::{Deserialize, Deserializer, de::Error};

use super::sheet::sheet_equivalent;
use super::source::Graded;
use super::table::{self, Table};
use crate::units::{Length, Ratio};

/// Thickness columns of Table 4-6, in thousandths of an inch.
const COLUMNS: [i64; 6] = [16, 32, 64, 128, 182, 258];

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    alloy: String,
    #[serde(deserialize_with = "multiples")]
    multiples: Vec<(Ratio, Ratio)>,
}

fn multiples<'de, D: Deserializer<'de>>(reader: D) -> Result<Vec<(Ratio, Ratio)>, D::Error> {
    let texts = Vec::<(String, String)>::deserialize(reader)?;
    let read = |text: &str| Ratio::parse(text).map_err(D::Error::custom);
    texts.iter().map(|(low, high)| Ok((read(low)?, read(high)?))).collect()
}

static BENDS: LazyLock<Table<Row>> = LazyLock::new(|| table::read("bend_radius"));

/// Least inside radius by the two columns of the table around a thickness.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BendMinimum {
    /// By the column that asks for less: below this is too tight in any reading.
    pub least: Length,
    /// By the column that asks for more: below this is doubtful. Equal to `least` on a column.
    pub cautious: Length,
    /// The multiples of the thickness behind `least` and `cautious`.
    pub multiples: (Ratio, Ratio),
    /// Upper end of the recommended range, by the column that asks for more.
    pub roomy: Length,
}

/// The least inside radius for 90 degrees; `None` for an alloy or a thickness (over .258) that the table lacks.
#[must_use]
pub fn bend_minimum(alloy: &str, thickness: Length) -> Option<Graded<BendMinimum>> {
    let wanted = plain_alloy(alloy);
    let row = BENDS.rows.iter().find(|row| row.alloy == wanted)?;
    let (below, above) = columns_around(thickness)?;
    let (one, other) = (row.multiples.get(below)?, row.multiples.get(above)?);
    let (least, cautious) = (one.0.min(other.0), one.0.max(other.0));
    let value = BendMinimum {
        least: thickness.times(least),
        cautious: thickness.times(cautious),
        multiples: (least, cautious),
        roomy: thickness.times(one.1.max(other.1)),
    };
    Some(row.graded(value))
}

/// Indices of the columns below and above a thickness; twice the same on a column and below the first.
fn columns_around(thickness: Length) -> Option<(usize, usize)> {
    let column = |mils: &i64| Length::from_mils(*mils);
    if let Some(on) = COLUMNS.iter().position(|mils| sheet_equivalent(column(mils), thickness)) {
        return Some((on, on));
    }
    let above = COLUMNS.iter().position(|mils| column(mils) > thickness)?;
    Some((above.saturating_sub(1), above))
}

/// The table's name of an alloy: without cladding and spaces, `O` for the annealed temper.
fn plain_alloy(alloy: &str) -> String {
    let lower = alloy.to_uppercase().replace(['(', ')', ','], " ");
    // Words without a number name no alloy of the table.
    let word = lower
        .split_whitespace()
        .find(|word| word.starts_with(|c: char| c.is_ascii_digit()))
        .unwrap_or_default()
        .to_owned();
    match word.split_once('-') {
        Some((number, "0")) => format!("{number}-O"),
        // -T351, -T3511 and the like are stress-relieved forms of the same temper.
        Some((number, temper)) if temper.starts_with("T351") => format!("{number}-T3"),
        Some((number, temper)) if temper.starts_with("T651") => format!("{number}-T6"),
        _ => word,
    }
}

/// Alloys that the bend table lists.
pub fn bend_alloys() -> impl Iterator<Item = &'static str> {
    BENDS.rows.iter().map(|row| row.alloy.as_str())
}

/// Set-back of a bend: tan(angle / 2) x (radius + thickness), the angle in thousandths of a degree, below 180.
///
/// `None` at 180 degrees and more, where there is no corner to set back from.
#[must_use]
pub fn setback(angle: i64, radius: Length, thickness: Length) -> Option<Length> {
    let (top, bottom) = half_tangent(angle)?;
    let corner = i128::from((radius + thickness).nm());
    let value = (corner * top + bottom / 2) / bottom;
    i64::try_from(value).ok().map(Length::from_nm)
}

/// Cosine of an angle in thousandths of a degree, from 0 to 180, in thousand-millionths.
pub(super) fn cosine(angle: i64) -> Option<i64> {
    // One less twice the squared sine of the half angle: whole at 0, 90 and 180 degrees after rounding.
    let (sine, _) = half_angle(angle)?;
    let part = SCALE / 1_000_000_000;
    let value = SCALE - 2 * sine * sine / SCALE;
    i64::try_from((value + value.signum() * part / 2) / part).ok()
}

/// Sine and cosine of half an angle below 180 degrees, scaled alike.
fn half_tangent(angle: i64) -> Option<(i128, i128)> {
    half_angle(angle).filter(|(_, cosine)| *cosine > 0 && angle < 180_000)
}

/// What sine and cosine call one.
const SCALE: i128 = 1_000_000_000_000;

/// Sine and cosine of half an angle, scaled alike, by their series: exact to far below a nanometre on a sheet.
fn half_angle(angle: i64) -> Option<(i128, i128)> {
    // Pi scaled; half the angle in radians is angle x pi / 360 000.
    const PI: i128 = 3_141_592_653_590;
    if !(0..=180_000).contains(&angle) {
        return None;
    }
    let x = i128::from(angle) * PI / 360_000;
    let (mut sine, mut cosine, mut term) = (0, 0, SCALE);
    for n in 0_i128..24 {
        match n % 4 {
            0 => cosine += term,
            1 => sine += term,
            2 => cosine -= term,
            _ => sine -= term,
        }
        term = term * x / SCALE / (n + 1);
    }
    Some((sine, cosine))
}
