//! Typed questions over the published tables: what a part number means, which hole, grip, torque or radius it has.
//!
//! Every answer carries its source and how sure it is. Nothing here judges a joint, reads a spec, or
//! guesses: a number that is not in the tables stays undecoded, a value that is not listed stays absent.

mod bend;
mod blind;
mod bolt;
mod call;
mod cotter;
mod head;
mod hole;
mod kit;
pub mod limit;
mod metal;
mod nut;
mod nutplate;
mod oversize;
mod propose;
mod rivet;
mod screw;
mod sheet;
mod source;
mod spacing;
mod strength;
mod table;
mod thread;
mod torque;
mod washer;

pub use bend::{BendMinimum, bend_alloys, bend_minimum, setback};
pub use blind::{BlindFamily, BlindRivet, commercial_blind_for};
pub use bolt::{Bolt, BoltSeries};
pub use call::{Call, Undecoded, decode, known_standards};
pub use cotter::{CotterPin, CotterSize, cotter_minimum, cotter_size};
pub use head::{
    DrivenHead, FlushHead, Head, PublishedHead, countersink_minimum, dimple_limits, driven_head, flush_head,
    published_countersink_minimums, published_driven_heads,
};
pub use hole::{ListedHole, holes_for, largest_hole, nominal_hole, smallest_hole, solid_rivet_holes};
pub use kit::KitFastener;
pub use metal::{Metal, metal_of, metals_corrode};
pub use nut::{Nut, NutDuty, NutKind};
pub use nutplate::Nutplate;
pub use oversize::most_oversize;
pub use propose::{
    BendProposal, BendVerdict, BlindProposal, BlindQuestion, BoltProposal, LengthFit, NoProposal, RivetCount,
    RivetProposal, TorqueProposal, WrenchSetting, count_rivets, judge_length, propose_bend, propose_blind,
    propose_bolt, propose_rivet, propose_torque, rivet_of_diameter, set_wrench,
};
pub use rivet::{
    FreeShankLimits, KeepCold, RIVET_DASHES, RivetAlloy, SolidRivet, free_shank_limits, hole_fill, next_larger_rivet,
    rivet_alloys, rivet_diameters,
};
pub use screw::Screw;
pub use sheet::{is_standard_sheet, modern_sheet, nearest_sheets, sheet_basis, sheet_equivalent, standard_sheets};
pub use source::{Basis, Graded, Source, Sureness, all_sources, find_source, source};
pub use spacing::{LeastDistance, LeastMultiple, bolt_edge, rivet_edge, rivet_pitch, rivet_row_gap};
pub use strength::{CountTable, rivets_for_width, rivets_per_inch, single_shear, single_shear_in, thin_sheet_factor};
pub use table::{table_digest_input, table_names, table_text};
pub use thread::{Thread, thread, threads};
pub use torque::{TableTorque, prevailing_torque, torque_for, torque_threads, wrench_setting};
pub use washer::{Washer, WasherKind};

use crate::units::Length;
use crate::words::FastenerKind;

/// The slack of a length with washers in it: that of washer stacks, where there is any washer.
#[must_use]
pub fn slack_with(washers: Length) -> Length {
    if washers == Length::ZERO { limit::slack().value } else { limit::washer_slack().value }
}

/// Whether washers of this thickness together may take up grip.
#[must_use]
pub fn may_take_up_grip(washers: Length) -> bool {
    limit::washers_most().value.reaches(washers, limit::washer_slack().value)
}

/// Whether a value is at least its limit, give or take the slack.
#[must_use]
pub fn reaches(value: Length, least: Length) -> bool {
    value.reaches(least, limit::slack().value)
}

/// Whether a value is at most its limit, give or take the slack.
#[must_use]
pub fn within(value: Length, most: Length) -> bool {
    most.reaches(value, limit::slack().value)
}

/// A decoded part number.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Fastener {
    /// A solid rivet.
    SolidRivet(SolidRivet),
    /// A blind rivet.
    BlindRivet(BlindRivet),
    /// A bolt.
    Bolt(Bolt),
    /// A screw.
    Screw(Screw),
    /// A nut.
    Nut(Nut),
    /// A washer.
    Washer(Washer),
    /// A cotter pin.
    CotterPin(CotterPin),
    /// A nutplate.
    Nutplate(Nutplate),
}

impl Fastener {
    pub(crate) fn of_kit(text: &str, own: &KitFastener) -> Self {
        match own.kind {
            FastenerKind::SolidRivet => Self::SolidRivet(SolidRivet::of_kit(text, own)),
            FastenerKind::BlindRivet => Self::BlindRivet(BlindRivet::of_kit(text, own)),
            FastenerKind::Bolt => Self::Bolt(Bolt::of_kit(text, own)),
            FastenerKind::Screw => Self::Screw(Screw::of_kit(text, own)),
            FastenerKind::Nut => Self::Nut(Nut::of_kit(text, own)),
            FastenerKind::Washer => Self::Washer(Washer::of_kit(text, own)),
            FastenerKind::Nutplate => Self::Nutplate(Nutplate::of_kit(text, own)),
        }
    }

    fn part_number(&self) -> &Call {
        match self {
            Self::SolidRivet(it) => &it.call,
            Self::BlindRivet(it) => &it.call,
            Self::Bolt(it) => &it.call,
            Self::Screw(it) => &it.call,
            Self::Nut(it) => &it.call,
            Self::Washer(it) => &it.call,
            Self::CotterPin(it) => &it.call,
            Self::Nutplate(it) => &it.call,
        }
    }

    /// The part number as written.
    #[must_use]
    pub fn call(&self) -> &str {
        &self.part_number().text
    }

    /// The part number in its usual form: for totals and for comparing.
    #[must_use]
    pub fn usual_call(&self) -> &str {
        &self.part_number().usual
    }

    /// The kit's entry behind it, where no standard covers it.
    #[must_use]
    pub fn kit(&self) -> Option<&KitFastener> {
        self.part_number().kit.as_ref()
    }

    /// Nominal diameter of what goes into the hole, or of the thread; none where the number does not tell it.
    #[must_use]
    pub fn diameter(&self) -> Option<Length> {
        match self {
            Self::SolidRivet(it) => Some(it.diameter),
            Self::BlindRivet(it) => Some(it.diameter),
            Self::Bolt(it) => Some(it.diameter),
            Self::Screw(it) => it.diameter,
            Self::Nut(it) => it.thread.map(|thread| thread.diameter),
            Self::Washer(it) => it.bolt,
            Self::CotterPin(it) => it.diameter.as_ref().map(|diameter| diameter.value),
            Self::Nutplate(it) => it.thread.map(|thread| thread.diameter),
        }
    }

    /// Shape of the manufactured head; protruding for hardware without one.
    #[must_use]
    pub fn head(&self) -> Head {
        match self {
            Self::SolidRivet(it) => it.head,
            Self::BlindRivet(it) => it.head,
            Self::Screw(it) => it.head,
            _ => Head::Protruding,
        }
    }

    /// Thread, for hardware that has one.
    #[must_use]
    pub fn thread(&self) -> Option<&'static Thread> {
        match self {
            Self::Bolt(it) => it.thread,
            Self::Screw(it) => it.thread,
            Self::Nut(it) => it.thread,
            Self::Nutplate(it) => it.thread,
            _ => None,
        }
    }

    /// Plain words for paper.
    #[must_use]
    pub fn describe(&self) -> String {
        match self {
            Self::SolidRivet(it) => it.describe(),
            Self::BlindRivet(it) => it.describe(),
            Self::Bolt(it) => it.describe(),
            Self::Screw(it) => it.describe(),
            Self::Nut(it) => it.describe(),
            Self::Washer(it) => it.describe(),
            Self::CotterPin(it) => it.describe(),
            Self::Nutplate(it) => it.describe(),
        }
    }

    /// The number that succeeded this one, where there is one.
    #[must_use]
    pub fn superseded_by(&self) -> Option<String> {
        match self {
            Self::SolidRivet(it) => it.superseded_by(),
            Self::Screw(it) => it.superseded_by(),
            Self::Nut(it) => it.superseded_by(),
            Self::Washer(it) => it.superseded_by(),
            Self::CotterPin(it) => it.superseded_by(),
            Self::BlindRivet(_) | Self::Bolt(_) | Self::Nutplate(_) => None,
        }
    }

    /// Metal, where the number or the kit's entry tells it.
    #[must_use]
    pub fn metal(&self) -> Option<Metal> {
        match self {
            Self::SolidRivet(it) => {
                it.alloy.map(|alloy| alloy.metal).or_else(|| self.kit().and_then(KitFastener::metal))
            }
            Self::BlindRivet(it) => it.metal(),
            Self::Bolt(it) => it.metal,
            Self::Screw(it) => it.metal,
            Self::Nut(it) => it.metal,
            Self::Washer(it) => it.metal,
            Self::CotterPin(_) | Self::Nutplate(_) => Some(Metal::Steel),
        }
    }

    /// Whether the call lacks the length or grip that it needs: a family and diameter alone.
    #[must_use]
    pub fn lacks_length(&self) -> bool {
        match self {
            Self::SolidRivet(it) => it.length.is_none(),
            Self::BlindRivet(it) => it.grip.is_none(),
            Self::Bolt(it) => it.dash.is_none() && it.series != BoltSeries::Kit,
            _ => false,
        }
    }
}

impl Fastener {
    /// The full call that fits a stack, for a call of family and diameter alone: a rivet's length, a blind rivet's
    /// grip, a bolt's dash. `washers` are the washer stacks under head and nut; `hole` defaults to the nominal hole.
    ///
    /// `None` where nothing in the tables fits or where the hardware has no length to choose.
    #[must_use]
    pub fn fitted(&self, stack: Length, hole: Option<Length>, washers: (Length, Length)) -> Option<Self> {
        match self {
            Self::SolidRivet(rivet) => {
                let hole =
                    hole.or_else(|| rivet.nominal_hole().map(|hole| hole.value.length)).unwrap_or(rivet.diameter);
                rivet.lengths_for(stack, hole).first().map(|length| Self::SolidRivet(rivet.with_length(*length)))
            }
            Self::BlindRivet(rivet) => rivet.fitting(stack).map(Self::BlindRivet),
            Self::Bolt(bolt) => bolt.lengths_for(stack, washers.0, washers.1).into_iter().next().map(Self::Bolt),
            Self::Screw(_) | Self::Nut(_) | Self::Washer(_) | Self::CotterPin(_) | Self::Nutplate(_) => None,
        }
    }
}

/// A part number of every row of the tables, with the lengths in common use: what property tests run over.
pub fn every_call() -> impl Iterator<Item = String> {
    rivet::every_call()
        .chain(blind::every_call())
        .chain(bolt::every_call())
        .chain(screw::every_call())
        .chain(nut::every_call())
        .chain(washer::every_call())
        .chain(cotter::every_call())
        .chain(nutplate::every_call())
}
