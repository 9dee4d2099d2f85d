//! # stack-thick-for-rivet
//!
//! ## What it checks
//! The stack of a solid rivet is no thicker than four diameters. A joint that gives `tube` is left alone.
//!
//! ## Why it matters
//! A long rivet bends in its hole instead of filling it. More often than a design it is a slip: .63 in for .063 in, or
//! millimetres without their unit.
//!
//! ## Source
//! - `common-practice` common practice: a stack over 4 D wants a bolt.
//!
//! ## Example that fires
//! ```toml
//! [[part]]
//! id = "WNG-211"
//! thickness = "0.63"              # .063 was meant
//! ```
//!
//! ## How to put it right
//! Correct the thickness; else call a larger rivet or a bolt.
//!
//! ## When to allow it
//! When the drawing rivets a thick fitting, and a trial piece was cut open.

use crate::hardware::{limit, within};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{NO_THICKNESS, diameter_words, solid};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    // Through a tube and its plug the rivet is as long as the tube is wide.
    let Some(rivet) = solid(joint).filter(|_| joint.tube.is_none()) else { return };
    let Some(stack) = joint.thickness() else { return sink.cannot(NO_THICKNESS) };
    let ratio = limit::stack_of_rivet().value;
    let most = rivet.diameter.times(ratio);
    if within(stack, most) {
        return;
    }
    let message = format!(
        "stack {stack} is thicker than {ratio} D, {most}",
        stack = sink.style.length(stack),
        most = sink.style.at_most(most)
    );
    let finding = sink
        .warning(joint.spec.stack.span, message)
        .label(joint.spec.fastener.span, diameter_words(rivet.diameter, sink.style));
    sink.push(finding.help("look for a slip in a thickness; else a larger rivet or a bolt"));
}
