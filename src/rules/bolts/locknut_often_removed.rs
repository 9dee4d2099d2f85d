//! # locknut-often-removed
//!
//! ## What it checks
//! No loose self-locking nut stands where the joint is opened again and again (`often-removed = true`). Nutplates are
//! exempt.
//!
//! ## Why it matters
//! The insert or the pinched thread wears with every turn; after some flights the nut no longer holds itself, and nothing
//! shows it.
//!
//! ## Source
//! - `AC-7-64` AC 43.13-1B, par. 7-64d, first sentence: not to be used for access panels and doors, and what is routinely
//!   taken apart before or after each flight (should); grade A.
//!
//! ## Example that fires
//! ```toml
//! nut = "MS21044N3"
//! often-removed = true
//! ```
//!
//! ## How to put it right
//! Call a nutplate, a wing nut or a castle nut with a pin, as the drawing has it.
//!
//! ## When to allow it
//! When it is opened once a year, and the nut is replaced or its drag is measured each time.

use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::nut;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(often) = joint.often_removed.filter(|often| often.value) else { return };
    let Some((_, written)) = nut(joint).filter(|(nut, _)| nut.kind.is_self_locking()) else { return };
    let message = format!("self-locking nut {} on a joint that is opened again and again", written.value);
    let finding = sink.warning(written.span, message).label(often.span, "often removed");
    sink.push(finding.help("call a nutplate, or a castle nut with a pin"));
}
