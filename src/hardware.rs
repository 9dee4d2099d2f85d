//! Typed questions over the published tables: what a part number means, which hole, grip, torque or radius it has.
//!
//! Every answer carries its source and how sure it is. Nothing here judges a joint, reads a spec, or
//! guesses: a number that is not in the tables stays undecoded, a value that is not listed stays absent.

mod alloy;
mod bend;
mod call;
mod family;
mod fastener;
mod head;
mod hexagon;
mod holder;
mod hole;
mod iso;
mod kit;
pub mod limit;
mod metal;
mod number;
mod nut_height;
mod oversize;
mod propose;
mod screw_head;
mod sheet;
mod shop;
mod source;
mod spacing;
mod strength;
mod table;
mod thread;
mod torque;

pub use alloy::{KeepCold, RivetAlloy, rivet_alloys};
pub use bend::{BendMinimum, bend_alloys, bend_minimum, setback};
pub use blind::{BlindFamily, commercial_blind_for};
pub use bolt::BoltSeries;
pub use call::{decode, known_standards};
pub use cotter::{CotterSize, cotter_minimum, cotter_size};
pub use fastener::{holes_for, largest_hole, nominal_hole, smallest_hole, usual_hole};
pub use head::{
    FlushHead, Head, PublishedHead, ShopHead, countersink_minimum, dimple_limits, flush_head,
    published_countersink_minimums, published_shop_heads, shop_head,
};
pub use hexagon::{Hexagon, hexagon_head, hexagon_nut};
pub use holder::SheetHolder;
pub use hole::ListedHole;
pub use kit::KitFastener;
pub use limit::{may_take_up_grip, reaches, slack_with, within};
pub use metal::{AlloySlip, Metal, alloy_slip, bare_metal, is_soft_temper, metal_of, metals_corrode};
pub use number::{Call, Undecoded};
pub use nut::{NutDuty, NutKind};
pub use oversize::most_oversize;
pub use propose::{
    BendProposal, BendVerdict, BlindProposal, BlindQuestion, BoltProposal, LengthFit, NoProposal, RivetCount,
    RivetProposal, RivetShear, TorqueProposal, WrenchSetting, count_bolts, count_rivets, judge_length, propose_bend,
    propose_blind, propose_bolt, propose_own_torque, propose_rivet, propose_torque, rivet_of_diameter, set_wrench,
};
pub use rivet::{
    FreeShankLimits, RIVET_DASHES, free_shank_limits, hole_fill, largest_rivet, next_larger_rivet, solid_rivet_holes,
};
pub use screw_head::flush_screw_head;
pub use sheet::{is_standard_sheet, metric_sheets, modern_sheet, sheet_basis, sheet_equivalent, standard_sheets};
pub use shop::{Shop, is_same_rivet};
pub use source::{Basis, Graded, Source, Sureness, all_sources, find_source, source};
pub use spacing::{LeastDistance, LeastMultiple, bolt_edge, rivet_edge, rivet_pitch, rivet_row_gap};
pub use strength::{
    CountTable, FlushShear, bolts_per_inch, flush_shear_in, flush_shear_listed, rivets_for_width, rivets_per_inch,
    single_shear, single_shear_in, thin_sheet_factor,
};
pub use table::{table_digest_input, table_names, table_text};
pub use thread::{Thread, same_thread, thread, threads};
pub use torque::{
    OwnTorque, TableTorque, TorqueAsked, prevailing_torque, torque_for, torque_that_breaks, torque_threads,
    wrench_setting,
};
pub use washer::{PlainWasher, WasherKind, plain_washers};

use crate::units::{Length, Style};
use crate::words::FastenerKind;
use call::Reader;
use family::{Common, Family};

/// Registers the families of fasteners, a line each: file and type, the kind in words, and the word of `build.toml` by
/// which a kit may supply one.
macro_rules! families {
    ($($(#[$doc:meta])+ $file:ident::$Type:ident, $words:literal $(, kit $kind:ident)?;)+) => {
        $(mod $file;)+
        $(pub use $file::$Type;)+

        /// A decoded part number.
        #[derive(Debug, Clone, PartialEq, Eq)]
        pub enum Fastener {
            $($(#[$doc])+ $Type($Type),)+
        }

        /// The documents of each family, with what reads their numbers.
        static FAMILIES: &[(fn() -> Vec<&'static str>, Reader)] =
            &[$((<$Type as Family>::documents, |parts| <$Type as Family>::decode(parts).map(Fastener::$Type)),)+];

        impl Fastener {
            fn of_kit(text: &str, own: &KitFastener) -> Self {
                match own.kind {
                    $($(FastenerKind::$kind => Self::$Type($Type::of_kit(text, own)),)?)+
                }
            }

            fn common(&self) -> Common<'_> {
                match self {
                    $(Self::$Type(own) => own.common(),)+
                }
            }

            fn holes(&self) -> Vec<ListedHole> {
                match self {
                    $(Self::$Type(own) => own.holes(),)+
                }
            }

            /// Its kind in words: `solid rivet`, `cotter pin`.
            #[must_use]
            pub const fn kind_words(&self) -> &'static str {
                match self {
                    $(Self::$Type(_) => $words,)+
                }
            }

            /// Plain words for paper.
            #[must_use]
            pub fn describe(&self, style: &Style) -> String {
                match self {
                    $(Self::$Type(own) => own.describe(style),)+
                }
            }

            /// The number that succeeded this one, where there is one.
            #[must_use]
            pub fn superseded_by(&self) -> Option<String> {
                match self {
                    $(Self::$Type(own) => own.superseded_by(),)+
                }
            }

            /// In what the successor differs, where it is not the same part under another number.
            #[must_use]
            pub fn successor_differs(&self) -> Option<&str> {
                match self {
                    $(Self::$Type(own) => own.successor_differs(),)+
                }
            }

            /// The full call that fits a stack, for a call of family and diameter alone: a rivet's length, a blind
            /// rivet's grip, a bolt's dash. `washers` are the washer stacks under head and nut; `hole` defaults to the
            /// nominal hole.
            ///
            /// `None` where nothing in the tables fits or where the hardware has no length to choose.
            #[must_use]
            pub fn fitted(&self, stack: Length, hole: Option<Length>, washers: (Length, Length)) -> Option<Self> {
                match self {
                    $(Self::$Type(own) => own.fitted(stack, hole, washers).map(Self::$Type),)+
                }
            }
        }

        /// A part number of every row of the tables, with the lengths in common use: what property tests run over.
        pub fn every_call() -> impl Iterator<Item = String> {
            std::iter::empty()$(.chain(<$Type as Family>::every_call()))+
        }
    };
}

families! {
    /// A solid rivet.
    rivet::SolidRivet, "solid rivet", kit SolidRivet;
    /// A blind rivet.
    blind::BlindRivet, "blind rivet", kit BlindRivet;
    /// A bolt.
    bolt::Bolt, "bolt", kit Bolt;
    /// A screw.
    screw::Screw, "screw", kit Screw;
    /// A nut.
    nut::Nut, "nut", kit Nut;
    /// A washer.
    washer::Washer, "washer", kit Washer;
    /// A cotter pin.
    cotter::CotterPin, "cotter pin", kit CotterPin;
    /// A nutplate.
    nutplate::Nutplate, "nutplate", kit Nutplate;
    /// Other hardware, which decodes and is judged by no rule.
    other::OtherPart, "other hardware";
}
