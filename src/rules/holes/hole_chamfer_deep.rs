//! # hole-chamfer-deep
//!
//! ## What it checks
//! The burr chamfer of a rivet hole is no deeper than 10 per cent of the thinnest layer, and no deeper than .032 in.
//!
//! ## Why it matters
//! Deburring is meant to take the burr, not the sheet: a deep chamfer is a small countersink, and the rivet bears on less.
//!
//! ## Source
//! - `M47196` MIL-R-47196A: chamfer for deburring at most 10 per cent of the thickness or .032 in (shall); grade B.
//!
//! ## Example that fires
//! ```toml
//! stack = ["WNG-211", "WNG-212"]          # .032 and .040 thick
//! holes = { final = "#30", chamfer = "0.010" }
//! ```
//!
//! ## How to put it right
//! Deburr with fewer turns; give the depth that the help names.
//!
//! ## When to allow it
//! When the chamfer makes room for the fillet under a bolt or rivet head, and the drawing gives its depth.

use crate::hardware::limit;
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{NO_THICKNESS, rivet_diameter};
use crate::rules::{At, Check, Looks, Sink};
use crate::units::Length;

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    // The specification is for rivet holes.
    let (Some(chamfer), Some(_)) = (joint.holes.chamfer, rivet_diameter(joint)) else { return };
    let thicknesses: Option<Vec<Length>> = joint.layers.iter().map(|layer| layer.thickness).collect();
    let Some(thinnest) = thicknesses.and_then(|all| all.into_iter().min()) else { return sink.cannot(NO_THICKNESS) };
    let most = thinnest.times(limit::chamfer_of_sheet().value).min(limit::chamfer_most().value);
    if chamfer.value.length <= most {
        return;
    }
    let message = format!(
        "chamfer {} is deeper than {}, the most for a layer of {thinnest}",
        sink.style.length(chamfer.value.length),
        sink.style.length(most),
        thinnest = sink.style.length(thinnest)
    );
    let help = format!("keep the chamfer to {most} or less", most = sink.style.at_most(most));
    sink.push(
        sink.warning(chamfer.span, message)
            .label(joint.spec.stack.span, format!("thinnest layer {thinnest}", thinnest = sink.style.length(thinnest)))
            .help(help),
    );
}
