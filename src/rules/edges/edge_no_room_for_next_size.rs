//! # edge-no-room-for-next-size
//!
//! ## What it checks
//! Whether the edge distance would still be 2 D, or the plans' multiple, with the next larger solid rivet.
//!
//! ## Why it matters
//! A hole that is spoilt is usually saved by the next size. Where there is no room for it, a slip with the drill costs the
//! part, and it is good to know that before drilling: the hole schedule prints it.
//!
//! ## Source
//! - `AC-4-57b` AC 43.13-1B, par. 4-57b: replacement by the next larger size (should); grade B.
//! - `AC-4-57c` AC 43.13-1B, par. 4-57c: 2 D (should); grade B.
//!
//! ## Example that fires
//! ```toml
//! fastener = "MS20470AD4-5"     # 2 D is .250; of the next size, 5/32, it is .313
//! edge = "0.28"
//! ```
//!
//! ## How to put it right
//! Nothing is wrong. Drill undersize first, use a drill guide, and stop at the first hole that wanders.
//!
//! ## When to allow it
//! It is a note and stops nothing; allow it where the sheet should not repeat it.

use crate::hardware::reaches;
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{NO_EDGE, edges, solid};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Note, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(rivet) = solid(joint) else { return };
    // The largest size has no next one.
    let Some(room) = joint.room_for_next() else { return };
    if joint.edge.is_empty() {
        return sink.cannot(NO_EDGE);
    }
    for (layer, edge) in edges(joint) {
        // Too short for the rivet itself is an error, and no longer a matter of room.
        if room.is_enough(edge.value) || !reaches(edge.value, rivet.diameter.times(room.ratio)) {
            continue;
        }
        let name = sink.style.rivet(room.next);
        let message = format!(
            "edge distance {}{layer} leaves no room for the next size, {name}: that needs {} D, {}",
            sink.style.length(edge.value),
            room.ratio,
            sink.style.at_least(room.needed)
        );
        let finding = sink
            .note(edge.span, message)
            .label(joint.spec.fastener.span, format!("{} rivet", sink.style.rivet(rivet.diameter)));
        sink.push(finding.help("drill undersize first: a spoilt hole cannot take the next larger rivet"));
    }
}
