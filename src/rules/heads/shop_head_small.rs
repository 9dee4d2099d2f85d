//! # shop-head-small
//!
//! ## What it checks
//! The smallest shop head measured in a joint (`shop-head`) is at least 1.5 D wide and 0.5 D high, else a warning; under
//! 1.3 D, or 1.4 D for 7050, or under 0.4 D high, an error.
//!
//! ## Why it matters
//! A small head holds less, and shows that the rivet was short, the hole large or the bar light.
//!
//! ## Source
//! - `H5H` MIL-HDBK-5H, par. 8.1.2: at least 1.3 times the shank, 1.4 for 7050 (shall); grade A.
//! - `M47196-Q` MIL-R-47196A, Table III, as quoted: at least 0.4 D high (shall); grade B.
//! - `AC-F4-6` AC 43.13-1B, Figure 4-6: 1.5 D x 0.5 D (should); from memory, grade C, so it makes the warning.
//!
//! ## Example that fires
//! ```toml
//! fastener = "MS20470AD4-4"                         # 1/8: least .163 x .050
//! shop-head = { diameter = "0.155", height = "0.050" }
//! ```
//!
//! ## How to put it right
//! Drill the rivet out and drive a longer one; look at the hole before.
//!
//! ## When to allow it
//! When whoever may say so has looked at the head, and the reason names the person and the date.

use crate::hardware::{Graded, reaches, shop_head};
use crate::job::Joint;
use crate::report::{Finding, Severity};
use crate::rules::facts::{in_diameters, solid};
use crate::rules::{At, Check, Looks, Sink};
use crate::text::Spanned;
use crate::units::Length;

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let (Some(rivet), Some(measured)) = (solid(joint), &joint.shop_head) else { return };
    let (d, head) = (rivet.diameter, shop_head(rivet.diameter, rivet.alloy));
    let width = judge("wide", measured.diameter, d, (&head.least_diameter, &head.diameter), sink);
    let height = judge("high", measured.height, d, (&head.least_height, &head.height), sink);
    for finding in width.into_iter().chain(height) {
        sink.push(finding.label(
            joint.spec.fastener.span,
            format!("aim {} x {}", sink.style.length(head.diameter.value), sink.style.length(head.height.value)),
        ));
    }
}

/// One measure against the least that passes and the one to aim at.
fn judge(
    word: &str,
    measured: Spanned<Length>,
    d: Length,
    (least, aim): (&Graded<Length>, &Graded<Length>),
    sink: &Sink<'_>,
) -> Option<Finding> {
    let is = format!("shop head is {} {word}, {}", sink.style.length(measured.value), in_diameters(measured.value, d));
    let finding = if !reaches(measured.value, least.value) {
        let message =
            format!("{is}; the least is {}, {}", in_diameters(least.value, d), sink.style.length(least.value));
        sink.at_most_error(&least.basis, measured.span, message)
    } else if !reaches(measured.value, aim.value) {
        let message = format!("{is}; the aim is {}, {}", in_diameters(aim.value, d), sink.style.length(aim.value));
        sink.warning(measured.span, message).source(aim.basis.cite())
    } else {
        return None;
    };
    Some(finding.help(format!("{} or more passes", sink.style.length(aim.value))))
}
