//! # joint-never-drilled
//!
//! ## What it checks
//! Every joint has a step that drills or reams its holes, unless they are delivered at their final size. A bolt without a nut
//! that is wired by its drilled head goes into a tapped part, and its flange comes drilled to that part: not judged.
//!
//! ## Why it matters
//! A joint without a drilling step has no size on the hole schedule of the evening, so the drill is chosen at the bench.
//!
//! ## Source
//! - `completeness` completeness of the spec: every joint that is described is also worked.
//!
//! ## Example that fires
//! ```toml
//! [[joint]]
//! id = "J1"
//! holes = { start = "#40", final = "#30" }   # and no step with do = "drill" lists "J1"
//! ```
//!
//! ## How to put it right
//! List the joint in a step with `do = "drill"` or `do = "ream"`, in another traveler as `FUS-10/J2`; or give `holes` whose
//! `start` is the final size.
//!
//! ## When to allow it
//! When the holes are drilled in an assembly for which no traveler is written yet.

use crate::job::{Hand, Joint, Safety};
use crate::report::Severity;
use crate::rules::facts::goes_through;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, at: &At<'_>, sink: &mut Sink<'_>) {
    let is_drilled = |hand: &Option<Hand>| joint.drillings().any(|drilled| drilled.is_on(*hand));
    let hands = at.job.hands_of(at.traveler_index);
    let left: Vec<&Option<Hand>> = hands.iter().filter(|hand| !is_drilled(hand)).collect();
    // What goes through no hole is a wrong call, which is a finding of its own.
    if left.is_empty() || !goes_through(joint) {
        return;
    }
    let one = left.into_iter().flatten().next().filter(|_| joint.drillings().next().is_some());
    let title = one.map_or_else(|| joint.title(), |hand| format!("{} of the {hand} hand", joint.title()));
    if joint.holes.start.is_empty() && joint.safety() == Safety::Wire {
        return sink.cannot("no `holes` are given, and the bolt goes into a tapped part");
    }
    let Some(start) = joint.delivered() else {
        let undrilled = joint.holes.start.iter().zip(&joint.layers).find(|(start, _)| start.value.is_none());
        let what = undrilled.map_or_else(
            || "which are not delivered drilled".to_owned(),
            |(_, layer)| format!("and {} is delivered undrilled", layer.name),
        );
        let message = format!("no step drills the holes of joint {title}, {what}");
        let help = if joint.final_hole().is_none() {
            format!(
                "no table lists a hole for {}: write `holes = {{ final = \"..\" }}` as the drawing has it, and the usual step \
                 drills to it",
                joint.call
            )
        } else {
            "add the joint to a step with `do = \"drill\"`, or give `holes = { start = .. }` where they are delivered"
                .to_owned()
        };
        sink.push(sink.error(joint.id.span, message).help(help));
        return;
    };
    // Delivered at or above the final size: nothing to drill; whether the size is right is for the hole rules.
    let Some(last) = joint.final_hole().filter(|last| start.size.length < last.size.length) else { return };
    let message = format!(
        "no step opens the holes of joint {title} from {} to {}",
        sink.style.size(start.size),
        sink.style.size(last.size)
    );
    let help = format!(
        "add the joint to a step with `do = \"drill\"`, or write `final = \"{}\"` if that is the final size",
        sink.style.typed(start.size)
    );
    let mut finding = sink.error(joint.id.span, message).help(help);
    for (span, text) in [(start.span, "as delivered"), (last.span, "final")] {
        finding = span.into_iter().fold(finding, |finding, span| finding.label(span, text));
    }
    sink.push(finding);
}
