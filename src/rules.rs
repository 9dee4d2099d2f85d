//! CHECK: every rule of the validator, the list of them, and their pages.
//!
//! A rule is one file: its page, its record, its check. This file registers them and runs nothing itself;
//! [`check`] walks a job. A rule never asks another rule, and never decides whether something is printed.

mod allow;
mod facts;
mod page;
mod walk;

mod calls {
    pub(super) mod blind_rivet_in_primary_structure;
    pub(super) mod call_superseded;
    pub(super) mod calls_look_alike;
    pub(super) mod fastener_unknown;
    pub(super) mod rivet_keep_cold_missing;
    pub(super) mod rivet_small_in_structure;
    pub(super) mod rivet_soft_in_structure;
    pub(super) mod rivet_unreachable;
}
mod holes {
    pub(super) mod hole_chamfer_deep;
    pub(super) mod hole_not_final;
    pub(super) mod hole_not_nominal;
    pub(super) mod hole_shrinks;
    pub(super) mod hole_too_large;
    pub(super) mod hole_too_small;
    pub(super) mod hole_undeburred;
}
mod edges {
    pub(super) mod edge_distance_lean;
    pub(super) mod edge_distance_long;
    pub(super) mod edge_distance_short;
    pub(super) mod edge_no_room_for_next_size;
    pub(super) mod pitch_long;
    pub(super) mod pitch_short;
    pub(super) mod rivet_large_for_sheet;
    pub(super) mod rivet_small_for_tube;
    pub(super) mod rivet_wide_for_stringer;
    pub(super) mod row_gap_short;
}
mod heads {
    pub(super) mod countersink_knife_edge;
    pub(super) mod countersink_over_dimple;
    pub(super) mod countersink_too_deep;
    pub(super) mod dimple_too_thick;
    pub(super) mod flat_head_in_recess;
    pub(super) mod flush_head_unprepared;
    pub(super) mod grip_out_of_range;
    pub(super) mod rivet_long;
    pub(super) mod rivet_short;
    pub(super) mod shop_head_small;
    pub(super) mod substitute_too_weak;
}
mod bolts {
    pub(super) mod bolt_aluminium_often_removed;
    pub(super) mod bolt_small_for_structure;
    pub(super) mod castle_nut_on_undrilled_bolt;
    pub(super) mod cotter_reused;
    pub(super) mod cotter_wrong_size;
    pub(super) mod fibre_nut_on_drilled_bolt;
    pub(super) mod fibre_nut_too_hot;
    pub(super) mod grip_long;
    pub(super) mod grip_short;
    pub(super) mod lock_washer_in_structure;
    pub(super) mod locknut_on_rotating_joint;
    pub(super) mod locknut_worn;
    pub(super) mod nut_unsafetied;
    pub(super) mod thread_mismatch;
    pub(super) mod torque_on_lubricated_thread;
    pub(super) mod torque_out_of_range;
    pub(super) mod washer_metal;
    pub(super) mod washers_too_many;
    pub(super) mod wrench_calibration_old;
}
mod sheet {
    pub(super) mod bend_too_tight;
    pub(super) mod metals_dissimilar;
    pub(super) mod sheet_not_standard;
}
mod completeness {
    pub(super) mod allow_unused;
    pub(super) mod fastened_twice;
    pub(super) mod id_repeated;
    pub(super) mod joint_never_drilled;
    pub(super) mod joint_never_fastened;
    pub(super) mod key_unknown;
    pub(super) mod part_unused;
    pub(super) mod reference_dangling;
    pub(super) mod spec_unreadable;
    pub(super) mod temporary_left;
    pub(super) mod value_invalid;
}
mod sequence {
    pub(super) mod access_lost;
    pub(super) mod caution_unknown;
    pub(super) mod caution_weakened;
    pub(super) mod close_unfinished;
    pub(super) mod close_uninspected;
    pub(super) mod cure_ignored;
    pub(super) mod drawing_revision_old;
    pub(super) mod drawing_unread;
    pub(super) mod finish_before_forming;
    pub(super) mod order_circular;
    pub(super) mod wording_out_of_place;
}

use crate::job::{Job, Joint, Order, Step, Traveler};
use crate::report::Severity;

pub use page::rules_page;
pub use walk::{At, Sink, Unjudged, check, unjudged};

/// One rule of the validator.
#[derive(Debug)]
pub struct Rule {
    /// The fault in kebab-case; reads after "allow ... because".
    pub name: &'static str,
    /// The folder of its file.
    pub family: &'static str,
    /// The heaviest severity it gives.
    pub severity: Severity,
    /// Keys of the sources that its limit rests on, the one that findings cite first.
    pub sources: &'static [&'static str],
    /// The text of its own file.
    pub page: &'static str,
    /// What it looks at.
    pub looks: Looks,
}

/// What a rule looks at, with the function that does.
#[derive(Debug, Clone, Copy)]
pub enum Looks {
    /// The text of the specs: raised while they are read and their references followed.
    Reading,
    /// The `[[allow]]` entries: raised after all other rules.
    Allows,
    /// One joint.
    Joint(fn(&Joint, &At<'_>, &mut Sink<'_>)),
    /// One step.
    Step(fn(&Step, &At<'_>, &mut Sink<'_>)),
    /// One traveler.
    Traveler(fn(&Traveler, &At<'_>, &mut Sink<'_>)),
    /// The whole job.
    Job(fn(&Job, &mut Sink<'_>)),
    /// The order of the whole job; its findings name the traveler that they are about, which may accept them.
    Order(fn(&Job, &Order, &mut Sink<'_>)),
}

/// Every rule; the order is that of the generated rule page.
pub static RULES: &[&Rule] = &[
    &calls::fastener_unknown::RULE,
    &calls::call_superseded::RULE,
    &calls::calls_look_alike::RULE,
    &calls::rivet_soft_in_structure::RULE,
    &calls::rivet_small_in_structure::RULE,
    &calls::rivet_keep_cold_missing::RULE,
    &calls::blind_rivet_in_primary_structure::RULE,
    &calls::rivet_unreachable::RULE,
    &holes::hole_too_small::RULE,
    &holes::hole_too_large::RULE,
    &holes::hole_not_nominal::RULE,
    &holes::hole_shrinks::RULE,
    &holes::hole_not_final::RULE,
    &holes::hole_undeburred::RULE,
    &holes::hole_chamfer_deep::RULE,
    &edges::edge_distance_short::RULE,
    &edges::edge_distance_lean::RULE,
    &edges::edge_distance_long::RULE,
    &edges::edge_no_room_for_next_size::RULE,
    &edges::pitch_short::RULE,
    &edges::pitch_long::RULE,
    &edges::row_gap_short::RULE,
    &edges::rivet_wide_for_stringer::RULE,
    &edges::rivet_small_for_tube::RULE,
    &edges::rivet_large_for_sheet::RULE,
    &heads::rivet_short::RULE,
    &heads::rivet_long::RULE,
    &heads::countersink_too_deep::RULE,
    &heads::countersink_knife_edge::RULE,
    &heads::dimple_too_thick::RULE,
    &heads::flush_head_unprepared::RULE,
    &heads::flat_head_in_recess::RULE,
    &heads::countersink_over_dimple::RULE,
    &heads::grip_out_of_range::RULE,
    &heads::shop_head_small::RULE,
    &heads::substitute_too_weak::RULE,
    &bolts::grip_short::RULE,
    &bolts::grip_long::RULE,
    &bolts::washers_too_many::RULE,
    &bolts::thread_mismatch::RULE,
    &bolts::castle_nut_on_undrilled_bolt::RULE,
    &bolts::nut_unsafetied::RULE,
    &bolts::locknut_on_rotating_joint::RULE,
    &bolts::fibre_nut_too_hot::RULE,
    &bolts::fibre_nut_on_drilled_bolt::RULE,
    &bolts::cotter_wrong_size::RULE,
    &bolts::cotter_reused::RULE,
    &bolts::lock_washer_in_structure::RULE,
    &bolts::bolt_small_for_structure::RULE,
    &bolts::bolt_aluminium_often_removed::RULE,
    &bolts::washer_metal::RULE,
    &bolts::torque_out_of_range::RULE,
    &bolts::torque_on_lubricated_thread::RULE,
    &bolts::wrench_calibration_old::RULE,
    &bolts::locknut_worn::RULE,
    &sheet::bend_too_tight::RULE,
    &sheet::sheet_not_standard::RULE,
    &sheet::metals_dissimilar::RULE,
    &completeness::joint_never_fastened::RULE,
    &completeness::joint_never_drilled::RULE,
    &completeness::fastened_twice::RULE,
    &completeness::part_unused::RULE,
    &completeness::reference_dangling::RULE,
    &completeness::id_repeated::RULE,
    &completeness::temporary_left::RULE,
    &sequence::drawing_revision_old::RULE,
    &sequence::drawing_unread::RULE,
    &sequence::order_circular::RULE,
    &sequence::access_lost::RULE,
    &sequence::close_unfinished::RULE,
    &sequence::close_uninspected::RULE,
    &sequence::cure_ignored::RULE,
    &sequence::finish_before_forming::RULE,
    &sequence::caution_unknown::RULE,
    &sequence::caution_weakened::RULE,
    &sequence::wording_out_of_place::RULE,
    &completeness::allow_unused::RULE,
    &completeness::spec_unreadable::RULE,
    &completeness::key_unknown::RULE,
    &completeness::value_invalid::RULE,
];

/// The headings of a rule's page, in this order.
pub const HEADINGS: [&str; 6] =
    ["What it checks", "Why it matters", "Source", "Example that fires", "How to put it right", "When to allow it"];

/// The rule of a name.
#[must_use]
pub fn explain(name: &str) -> Option<&'static Rule> {
    RULES.iter().copied().find(|rule| rule.name == name)
}

impl Rule {
    /// The rule's page: the head of its file as Markdown.
    #[must_use]
    pub fn page_text(&self) -> String {
        let head = self.page.lines().map_while(|line| line.strip_prefix("//!"));
        let lines: Vec<&str> = head.map(|line| line.strip_prefix(' ').unwrap_or(line)).collect();
        format!("{}\n", lines.join("\n").trim_end())
    }

    /// Whether an `[[allow]]` entry can accept its findings.
    #[must_use]
    pub const fn can_be_allowed(&self) -> bool {
        matches!(self.looks, Looks::Joint(_) | Looks::Step(_) | Looks::Traveler(_) | Looks::Order(_))
    }
}
