//! # bolt-small-for-structure
//!
//! ## What it checks
//! In primary structure a steel bolt or screw is 10-32 or larger, and one of aluminium 1/4 or larger.
//!
//! ## Why it matters
//! A small bolt is twisted off or overstressed by the wrench before it carries any load.
//!
//! ## Source
//! - `AC-7-41` AC 43.13-1B, par. 7-41 and 7-42: steel under 10-32 and aluminium under 1/4 are not used in primary
//!   structure (should); grade A.
//!
//! ## Example that fires
//! ```toml
//! structure = "primary"
//! fastener = "AN3DD-6A"          # 2024, under 1/4
//! ```
//!
//! ## How to put it right
//! Use the size that the help names, as the drawing has it.
//!
//! ## When to allow it
//! When the drawing calls for it, as on a small fitting that shares its load with rivets.

use crate::hardware::{Metal, limit};
use crate::job::{Joint, Structure};
use crate::report::Severity;
use crate::rules::facts::{NO_STRUCTURE, Through, through};
use crate::rules::{At, Check, Looks, Sink};
use crate::units::Size;

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let (Ok(fastener), Some((Through::Bolt, d))) = (&joint.fastener, through(joint)) else { return };
    let Some(metal) = fastener.metal() else { return sink.cannot("the bolt's metal is not known") };
    let is_aluminium = metal == Metal::Aluminium;
    let least = if is_aluminium { limit::aluminium_bolt_in_structure() } else { limit::steel_bolt_in_structure() };
    let least = least.value;
    if d >= least {
        return;
    }
    let Some(structure) = joint.structure else { return sink.cannot(NO_STRUCTURE) };
    if structure.value != Structure::Primary {
        return;
    }
    // A steel bolt goes by its thread.
    let name = if is_aluminium {
        sink.style.size(Size::plain(least))
    } else {
        format!("10-32, {}", sink.style.at_least(least))
    };
    let message = format!(
        "{} is {} of {d}; the least in primary structure is {name}",
        joint.call,
        metal.word(),
        d = sink.style.length(d)
    );
    let finding = sink.warning(joint.spec.fastener.span, message).label(structure.span, "primary structure");
    sink.push(finding.help(format!("{name} or larger passes")));
}
