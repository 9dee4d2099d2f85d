//! Published limits by name: each a row of `tables/limit.toml` and a line below, with source, grade and force.
//!
//! It says what the sources say. What falling short of a limit weighs is for the rules, and the plans outrank every one.

use std::sync::LazyLock;

use serde::{Deserialize, Deserializer, de::Error};

use super::source::Graded;
use super::table::{self, Table};
use crate::units::{Length, Ratio};

/// How strongly the source says it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Force {
    /// An obligation.
    Must,
    /// An obligation of a specification.
    Shall,
    /// Good practice.
    Should,
    /// A recommendation.
    Recommended,
    /// What the trade does.
    #[serde(rename = "common practice")]
    CommonPractice,
    /// It follows from other limits.
    Derived,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    limit: String,
    #[serde(default, deserialize_with = "ratio")]
    times: Option<Ratio>,
    #[serde(default, deserialize_with = "table::some_length")]
    length: Option<Length>,
    #[serde(default)]
    count: Option<u32>,
    force: Force,
    #[serde(default)]
    #[allow(dead_code, reason = "kept for the reader of the table")]
    of: Option<String>,
}

fn ratio<'de, D: Deserializer<'de>>(reader: D) -> Result<Option<Ratio>, D::Error> {
    let text = String::deserialize(reader)?;
    Ratio::parse(&text).map(Some).map_err(D::Error::custom)
}

static LIMITS: LazyLock<Table<Row>> = LazyLock::new(|| table::read("limit"));

/// The limit of a name.
///
/// # Panics
/// When the embedded table has no such row, or the row another kind of value: a fault of the program.
fn find<T>(name: &str, value: impl Fn(&Row) -> Option<T>) -> Graded<T> {
    let found = LIMITS.rows.iter().find(|row| row.limit == name);
    let graded = found.and_then(|row| value(row).map(|value| row.graded(value)));
    graded.unwrap_or_else(|| panic!("embedded file hardware/tables/limit.toml is broken: no `{name}` of its kind"))
}

/// How strongly the source of a limit says it, by the limit's name in the table.
#[must_use]
pub fn force_of(name: &str) -> Option<Force> {
    LIMITS.rows.iter().find(|row| row.limit == name).map(|row| row.force)
}

macro_rules! limits {
    ($($column:ident: $type:ty { $($(#[doc = $doc:literal])+ $name:ident;)+ })+) => {
        $($(
            $(#[doc = $doc])+
            pub fn $name() -> &'static Graded<$type> {
                static FOUND: LazyLock<Graded<$type>> = LazyLock::new(|| find(stringify!($name), |row| row.$column));
                &FOUND
            }
        )+)+

        /// Every limit with its column of the table.
        pub const LIMITS_BY_COLUMN: &[(&str, &str)] = &[$($((stringify!($name), stringify!($column)),)+)+];
    };
}

limits! {
    times: Ratio {
        /// Centre of a rivet's hole to the edge of a sheet, the least.
        rivet_edge;
        /// The same for a flush rivet, recommended.
        flush_rivet_edge;
        /// Centre of a bolt's hole to the edge of a sheet, the least.
        bolt_edge;
        /// The same, preferred.
        bolt_edge_preferred;
        /// Centre of a rivet's hole to the edge, the most.
        edge_most;
        /// Rivet to rivet in a single row, the least.
        pitch_in_one_row;
        /// Rivet to rivet in each of two rows, the least.
        pitch_in_two_rows;
        /// Rivet to rivet in each of three rows and more, the least.
        pitch_in_more_rows;
        /// Rivet to rivet, the upper end of what is usual.
        pitch_usual;
        /// Rivet to rivet, the most of any source.
        pitch_most;
        /// Row to row as one source draws it.
        row_gap;
        /// Row to row as another source demands.
        row_gap_wanted;
        /// The leg of a stringer over the rivet through it, the least.
        stringer_leg;
        /// The outside diameter of a tube over the rivet through it, the most.
        tube_across;
        /// The rivet over its thickest sheet, about the most.
        rivet_in_sheet;
        /// Free shank that makes the smallest acceptable head, before the hole is filled.
        free_shank_enough;
        /// Free shank that makes a full head.
        free_shank_full;
        /// Free shank to choose.
        free_shank_wanted;
        /// Free shank, the upper end of what is usual.
        free_shank_usual;
        /// Free shank above which the shank folds over.
        free_shank_most;
        /// Width of the shop head to aim at.
        shop_head_wide;
        /// Height of the shop head to aim at.
        shop_head_high;
        /// Width of the shop head, the least.
        shop_head_least_wide;
        /// The same of 7050 rivets.
        shop_head_least_wide_7050;
        /// Height of the shop head, the least.
        shop_head_least_high;
        /// Width of a flush head in drawings, where no table lists it.
        flush_head_drawn;
        /// Depth of a burr chamfer over the thinnest sheet, the most.
        chamfer_of_sheet;
        /// The rivet over its thickest sheet, above which the sheet suffers.
        rivet_in_sheet_most;
        /// The stack over the rivet, the most.
        stack_of_rivet;
        /// A bend radius along the grain over that across it.
        bend_along_grain;
        /// The first layer over the last, above which the shop head lies on much thinner sheet.
        much_thicker;
        /// How much deeper a countersink is under a dimpled sheet, over the sheet's thickness.
        deeper_for_dimple;
        /// Run-out between full shank and full thread of a metric bolt, over the pitch.
        thread_run_out;
        /// What the pitch takes from the diameter that carries the pull, over the pitch.
        stress_diameter;
        /// The hole of a kit's washer over its bolt, the most.
        washer_hole_most;
        /// Length of a cotter pin over its bolt, the least.
        pin_length;
        /// A cotter pin over the hole of its bolt, the least.
        pin_of_hole;
        /// Torque over diameter and pull with the most friction there is.
        nut_factor_most;
    }
    length: Length {
        /// Depth of a burr chamfer in any sheet, the most.
        chamfer_most;
        /// The smallest rivet in structure.
        rivet_in_structure;
        /// Washers that take up grip, both sides together, the most.
        washers_most;
        /// The thin washer of the usual standards.
        washer_thin;
        /// The thick washer of the usual standards.
        washer_thick;
        /// How far a bolt's shank may be below its nominal diameter.
        bolt_under_nominal;
        /// The smallest steel bolt in primary structure: 10-32.
        steel_bolt_in_structure;
        /// The smallest aluminium bolt in primary structure.
        aluminium_bolt_in_structure;
        /// The size from which an insert survives the cotter hole of a drilled bolt.
        fibre_nut_on_drilled_bolt;
        /// Metal that a reamer is left to take.
        reamer_takes;
        /// Metal that a reamer is left to take, where drills come in tenths of a millimetre.
        reamer_takes_metric;
        /// The thickness from which plate comes in whole steps.
        plate_from;
        /// The step of plate.
        plate_step;
        /// The hole of an ISO blind rivet over its diameter, the least.
        iso_blind_hole_least;
        /// The hole of an ISO blind rivet over its diameter, the most.
        iso_blind_hole_most;
        /// The rivets of a nutplate.
        nutplate_rivet;
        /// Given away on edges, pitches and lengths.
        slack;
        /// Given away on washer stacks.
        washer_slack;
        /// The step of rivet lengths, as bags are marked.
        length_step;
        /// Room for the rivet set beside a bend.
        bend_room;
        /// A letter drill's hole over the bolt: where a close fit is lost.
        close_fit_lost;
        /// Given away on bend radii.
        bend_slack;
        /// The sheet below which an old manual never drills a countersink.
        countersink_never_below;
        /// The length of a metric bolt up to which its thread is as long as the table says.
        thread_longer_above;
        /// How much longer the thread is above that.
        thread_longer_by;
        /// How far a countersunk head may reach through its sheet before the hole is lost.
        countersink_through;
    }
    count: u32 {
        /// Oversize holes in per cent of the rivets of one pattern, the most.
        oversize_share;
        /// Oversize holes in any pattern, the most.
        oversize_most;
        /// Years from one calibration of a wrench to the next, the most.
        wrench_calibration_years;
        /// The angle that the table of bend radii is for, in degrees.
        bend_of_table;
    }
}

/// The slack of a length with washers in it: that of washer stacks, where there is any washer.
#[must_use]
pub fn slack_with(washers: Length) -> Length {
    if washers == Length::ZERO { slack().value } else { washer_slack().value }
}

/// Whether washers of this thickness together may take up grip.
#[must_use]
pub fn may_take_up_grip(washers: Length) -> bool {
    washers_most().value.reaches(washers, washer_slack().value)
}

/// Whether a value is at least its limit, give or take the slack.
#[must_use]
pub fn reaches(value: Length, least: Length) -> bool {
    value.reaches(least, slack().value)
}

/// Whether a value is at most its limit, give or take the slack.
#[must_use]
pub fn within(value: Length, most: Length) -> bool {
    most.reaches(value, slack().value)
}
