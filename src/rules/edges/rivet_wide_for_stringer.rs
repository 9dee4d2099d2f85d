//! # rivet-wide-for-stringer
//!
//! ## What it checks
//! A rivet through the leg of a stringer is no wider than a quarter of the leg (`stringer-leg`).
//!
//! ## Why it matters
//! The hole takes its width out of the leg, and a quarter is the most that it can spare.
//!
//! ## Source
//! - `AC-4-36` AC 43.13-1B, par. 4-58k and l: must not exceed one fourth of the leg width (must); grade A.
//!
//! ## Example that fires
//! ```toml
//! fastener = "MS20470AD5-6"     # 5/32: the leg must be .625 or wider
//! stringer-leg = "0.50"
//! ```
//!
//! ## How to put it right
//! Use the smaller rivet that the help names, and more of them, if the drawing leaves it open.
//!
//! ## When to allow it
//! When the drawing calls for this rivet in this stringer; the circular is about repairs.

use crate::hardware::limit;
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::rivet_diameter;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    // Only where the spec says that it is a stringer.
    let (Some(d), Some(leg)) = (rivet_diameter(joint), joint.stringer_leg) else { return };
    let ratio = limit::stringer_leg().value;
    let needed = d.times(ratio);
    if needed <= leg.value {
        return;
    }
    let most = leg.value.divided_by(ratio);
    let message = format!(
        "rivet diameter {d} is over a quarter of the stringer leg, {most}",
        d = sink.style.length(d),
        most = sink.style.at_most(most)
    );
    let fits = sink.shop.rivets().into_iter().rev().find(|fits| *fits <= most);
    let help = match fits {
        Some(fits) => {
            format!(
                "the largest rivet for this leg is {}; this rivet needs a leg of {}",
                sink.style.rivet(fits),
                sink.style.length(needed)
            )
        }
        None => format!("this rivet needs a leg of {needed}", needed = sink.style.at_least(needed)),
    };
    sink.push(
        sink.error(joint.spec.fastener.span, message)
            .label(leg.span, format!("leg {}", sink.style.length(leg.value)))
            .help(help),
    );
}
