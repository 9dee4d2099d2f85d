//! # rivet-small-for-tube
//!
//! ## What it checks
//! A rivet through a hollow tube is at least one eighth of the tube's outside diameter (`tube`).
//!
//! ## Why it matters
//! A thin rivet across a wide tube bends in the hollow instead of filling both walls.
//!
//! ## Source
//! - `AC-4-25` AC 43.13-1B, par. 4-58a: at least one eighth of the outside diameter (must); grade A.
//!
//! ## Example that fires
//! ```toml
//! fastener = "MS20470AD3-20"    # 3/32 through a 1 in tube: 1/8 is the least
//! tube = "1.00"
//! ```
//!
//! ## How to put it right
//! Use the rivet size that the help names, if the drawing leaves it open.
//!
//! ## When to allow it
//! When the drawing calls for this rivet in this tube.

use crate::hardware::limit;
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{diameter_words, rivet_diameter};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    // Only where the spec says that it is a tube.
    let (Some(d), Some(tube)) = (rivet_diameter(joint), joint.tube) else { return };
    let ratio = limit::tube_across().value;
    if d.times(ratio) >= tube.value {
        return;
    }
    let least = tube.value.divided_by(ratio);
    let message = format!(
        "rivet diameter {d} is under one eighth of the tube, {least}",
        d = sink.style.length(d),
        least = sink.style.at_least(least)
    );
    let finding = sink.error(joint.spec.fastener.span, message).label(
        tube.span,
        format!("tube {}; the rivet: {}", sink.style.length(tube.value), diameter_words(d, sink.style)),
    );
    let fits = sink.shop.rivets().into_iter().find(|fits| *fits >= least);
    sink.push(finding.help(match fits {
        Some(fits) => format!("the smallest rivet for this tube is {}", sink.style.rivet(fits)),
        None => "no rivet of the standards is large enough: the joint wants a bolt".to_owned(),
    }));
}
