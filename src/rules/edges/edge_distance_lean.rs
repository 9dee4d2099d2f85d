//! # edge-distance-lean
//!
//! ## What it checks
//! A flush rivet has at least 2.5 D to the edge. Between 2 D and 2.5 D it passes with this warning; below 2 D
//! `edge-distance-short` speaks. `limits` of the joint replace the table and silence this rule.
//!
//! ## Why it matters
//! The countersink or dimple takes sheet away around the hole, so the edge that is left carries less than it measures.
//!
//! ## Source
//! - `FAA-HB` FAA-H-8083-31, chapter 4: 2.5 D for flush rivets (recommended); grade B, read in an unattributed copy.
//!
//! ## Example that fires
//! ```toml
//! fastener = "MS20426AD3-4"     # 3/32 flush: 2.5 D is .234
//! edge = "0.20"
//! ```
//!
//! ## How to put it right
//! Move the row in while the holes are still undrilled.
//!
//! ## When to allow it
//! When the drawing dimensions the holes there; 2 D is what the circular asks for.

use crate::hardware::{reaches, rivet_edge};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{NO_EDGE, diameter_words, edges, in_diameters, rivet_diameter};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let (Ok(fastener), Some(d)) = (&joint.fastener, rivet_diameter(joint)) else { return };
    // The plans' own multiple outranks a recommendation.
    let by_plans = joint.limits.as_ref().is_some_and(|limits| limits.edge.is_some());
    if !fastener.head().is_flush() || by_plans {
        return;
    }
    if joint.edge.is_empty() {
        return sink.cannot(NO_EDGE);
    }
    // Below the least of any rivet another rule speaks.
    let multiple = rivet_edge(fastener.head());
    let (least, wanted) = (multiple.least.at(d).value, multiple.recommended.at(d).value);
    for (layer, edge) in edges(joint) {
        if reaches(edge.value, wanted) || !reaches(edge.value, least) {
            continue;
        }
        let message = format!(
            "edge distance {}{layer} is {}; {} D, {wanted}, is recommended for a flush rivet",
            sink.style.length(edge.value),
            in_diameters(edge.value, d),
            multiple.recommended.value,
            wanted = sink.style.at_least(wanted)
        );
        let finding = sink
            .warning(edge.span, message)
            .label(joint.spec.fastener.span, format!("flush, {}", diameter_words(d, sink.style)));
        sink.push(finding.help(format!("at least {wanted} passes", wanted = sink.style.at_least(wanted))));
    }
}
