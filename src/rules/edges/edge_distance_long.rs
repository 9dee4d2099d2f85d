//! # edge-distance-long
//!
//! ## What it checks
//! A rivet is no more than 4 D from the edge.
//!
//! ## Why it matters
//! The sheet beyond the row stands off between rivets: it lets water in, drums, and the edge curls.
//!
//! ## Source
//! - `AC65-15A` AC 65-15A, chapter 5, as quoted: at most 4 D (recommended); grade B.
//! - `TRADE` trade article on aircraft riveting, 1999: the same (common practice); grade A.
//!
//! ## Example that fires
//! ```toml
//! fastener = "MS20470AD4-5"     # 1/8: 4 D is .500
//! edge = "0.75"
//! ```
//!
//! ## How to put it right
//! Move the row out, or trim the sheet, if the drawing leaves it open.
//!
//! ## When to allow it
//! When another row, a bond or a seal holds the edge down. `edge` is the smallest distance: give the right one first.

use crate::hardware::{limit, within};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{NO_EDGE, diameter_words, edges, in_diameters, rivet_diameter};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(d) = rivet_diameter(joint) else { return };
    if joint.edge.is_empty() {
        return sink.cannot(NO_EDGE);
    }
    let ratio = limit::edge_most().value;
    let most = d.times(ratio);
    for (layer, edge) in edges(joint).filter(|(_, edge)| !within(edge.value, most)) {
        let multiple = in_diameters(edge.value, d);
        let message = format!(
            "edge distance {}{layer} is {multiple}; more than {ratio} D, {most}, is not recommended",
            sink.style.length(edge.value),
            most = sink.style.at_most(most)
        );
        let finding = sink.warning(edge.span, message).label(joint.spec.fastener.span, diameter_words(d, sink.style));
        sink.push(finding.help(format!("at most {most} passes", most = sink.style.at_most(most))));
    }
}
