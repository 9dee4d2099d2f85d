//! CHECK: every rule of the validator, the list of them, and their pages.
//!
//! A rule is one file: its page, its record, its check. This file registers them and runs nothing itself;
//! [`check`] walks a job. A rule never asks another rule, and never decides whether something is printed.

mod allow;
mod facts;
mod page;
mod plans;
mod quiet;
mod walk;

use crate::job::{Job, Joint, Order, Step, Traveler};
use crate::report::Severity;

pub use page::rules_page;
pub use quiet::FIRE_WHERE_NOTHING_STANDS;
pub use walk::{At, Sink, check, unjudged};

/// One rule of the validator.
#[derive(Debug)]
pub struct Rule {
    /// The fault in kebab-case, the name of its file; reads after "allow ... because".
    pub name: &'static str,
    /// The folder of its file.
    pub family: &'static str,
    /// The heaviest severity it gives.
    pub severity: Severity,
    /// The text of its own file.
    pub page: &'static str,
    /// What it looks at.
    pub looks: Looks,
}

/// What the file of a rule says of itself, as its `RULE`; all else follows from where it stands.
#[derive(Debug, Clone, Copy)]
pub struct Check {
    /// The heaviest severity it gives.
    pub severity: Severity,
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
    /// What is printed of the specs: raised by laying it out, which rules do not.
    Paper,
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

/// Registers rules: family, then a file of its folder a line. Module, name, family and page follow from the two words.
macro_rules! rules {
    ($($family:ident { $($file:ident,)+ })+) => {
        $(mod $family {
            $(pub(super) mod $file;)+
        })+

        /// Every rule; the order is that of the generated rule page.
        pub static RULES: &[Rule] = &[$($(
            Rule {
                name: {
                    const NAME: [u8; stringify!($file).len()] = page::kebab(stringify!($file));
                    page::ascii(&NAME)
                },
                family: stringify!($family),
                severity: $family::$file::RULE.severity,
                page: include_str!(concat!("rules/", stringify!($family), "/", stringify!($file), ".rs")),
                looks: $family::$file::RULE.looks,
            },
        )+)+];
    };
}

rules! {
    calls {
        fastener_unknown,
        call_superseded,
        calls_look_alike,
        rivet_soft_in_structure,
        rivet_soft_for_steel,
        rivet_small_in_structure,
        rivet_keep_cold_missing,
        blind_rivet_in_primary_structure,
        rivet_unreachable,
    }
    holes {
        hole_too_small,
        hole_too_large,
        close_fit_lost,
        hole_not_nominal,
        hole_shrinks,
        hole_not_final,
        hole_undeburred,
        hole_chamfer_deep,
    }
    edges {
        edge_distance_short,
        edge_distance_lean,
        edge_distance_long,
        edge_no_room_for_next_size,
        pitch_short,
        pitch_long,
        row_gap_short,
        rivet_wide_for_stringer,
        rivet_small_for_tube,
        rivet_large_for_sheet,
        rivet_small_for_sheet,
        stack_thick_for_rivet,
        rivet_in_bend,
    }
    heads {
        rivet_short,
        rivet_long,
        countersink_too_deep,
        countersink_knife_edge,
        countersink_shallow_for_dimple,
        flush_screw_in_thin_sheet,
        dimple_too_thick,
        dimple_before_size,
        flush_head_unprepared,
        flat_head_in_recess,
        head_on_thick_side,
        countersink_over_dimple,
        grip_out_of_range,
        shop_head_small,
        substitute_too_weak,
    }
    bolts {
        bolt_short,
        grip_short,
        grip_long,
        washers_too_many,
        thread_mismatch,
        castle_nut_on_undrilled_bolt,
        nut_unsafetied,
        locknut_on_rotating_joint,
        locknut_often_removed,
        fibre_nut_too_hot,
        fibre_nut_on_drilled_bolt,
        cotter_holds_nothing,
        cotter_wrong_size,
        cotter_reused,
        lock_washer_in_structure,
        bolt_small_for_structure,
        screw_not_structural,
        bolt_aluminium_often_removed,
        washer_metal,
        washer_wrong_size,
        torque_out_of_range,
        torque_open_on_rotating_joint,
        torque_on_lubricated_thread,
        wrench_calibration_old,
        locknut_worn,
    }
    sheet {
        bend_too_tight,
        bend_along_grain,
        sheet_not_standard,
        metals_dissimilar,
        layer_soft,
        material_unknown,
        temper_soft,
    }
    sequence {
        drawing_revision_old,
        drawing_unread,
        order_circular,
        access_lost,
        close_unfinished,
        close_uninspected,
        seam_dry,
        tank_untested,
        cure_ignored,
        finish_before_forming,
        caution_unknown,
        caution_weakened,
        wording_out_of_place,
    }
    process {
        process_unrecorded,
        reading_incomparable,
        state_not_set,
    }
    regime {
        role_not_allowed,
        stage_unsignable,
        stage_releases_nothing,
    }
    completeness {
        joint_never_fastened,
        joint_never_drilled,
        joint_unmarked,
        fastened_twice,
        part_unused,
        part_contradicts,
        reference_dangling,
        step_too_tall,
        id_repeated,
        id_odd,
        file_name_shared,
        temporary_left,
        allow_unused,
        spec_unreadable,
        key_unknown,
        value_invalid,
    }
}

/// The headings of a rule's page, in this order.
pub const HEADINGS: [&str; 6] =
    ["What it checks", "Why it matters", "Source", "Example that fires", "How to put it right", "When to allow it"];

/// The rule of a name.
#[must_use]
pub fn explain(name: &str) -> Option<&'static Rule> {
    RULES.iter().find(|rule| rule.name == name)
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
