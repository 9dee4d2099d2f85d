//! # pitch-short
//!
//! ## What it checks
//! From rivet to rivet in a row there are at least 3 D in one row, 4 D in two rows, 3 D in three or more (there a warning).
//! `limits` of the joint replace the table.
//!
//! ## Why it matters
//! Holes too close leave a perforated sheet that tears from hole to hole.
//!
//! ## Source
//! - `AC-4-57c` AC 43.13-1B, par. 4-57c: 3 D in a single row (should); grade B.
//! - `AC-F4-5` AC 43.13-1B, Figure 4-5: 4 D in two rows, 3 D in three (should); grade A-calc by the example of par. 4-58g.
//! - `TM-229` TM 10-5410-229-13&P, par. 5-6 (rivet replacement in a shelter): never less than three diameters (must);
//!   grade A-else.
//! - `TM-303` TM 9-2320-303-24-2, WP 0289, par. 3 (body repair of a truck): the patterns of two and three rows drawn
//!   (should); grade A-else.
//!
//! ## Example that fires
//! ```toml
//! fastener = "MS20470AD4-5"     # 1/8: 4 D is .500
//! rows = 2
//! pitch = "0.45"
//! ```
//!
//! ## How to put it right
//! Use fewer rivets in the row, or one more row, if the drawing leaves it open.
//!
//! ## When to allow it
//! When the drawing dimensions the holes. Better give `limits = { pitch = "2.5 D", because = ".." }`.

use crate::hardware::{reaches, rivet_pitch};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{NO_PITCH, diameter_words, in_diameters, rivet_diameter};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(d) = rivet_diameter(joint) else { return };
    let Some(pitch) = joint.pitch else {
        // A lone rivet has no neighbour.
        if joint.count.value > 1 {
            sink.cannot(NO_PITCH);
        }
        return;
    };
    let plans = joint.limits.as_ref().and_then(|limits| limits.pitch.map(|ratio| (ratio, &limits.because)));
    let table = rivet_pitch(joint.rows.value);
    // Three rows and more are drawn in one source only.
    let severity = if joint.rows.value > 2 { Severity::Warning } else { Severity::Error };
    let ratio = plans.map_or(table.value, |(ratio, _)| ratio.value);
    let least = d.times(ratio);
    if reaches(pitch.value, least) {
        return;
    }
    let rows = if joint.rows.value > 1 { format!("{} rows", joint.rows.value) } else { "one row".to_owned() };
    let limit = if plans.is_some() { "the plans' limit is".to_owned() } else { format!("rivets in {rows} want") };
    let message = format!(
        "pitch {} is {}; {limit} {ratio} D, {least}",
        sink.style.length(pitch.value),
        in_diameters(pitch.value, d),
        least = sink.style.at_least(least)
    );
    let finding = if let Some((ratio, because)) = plans {
        sink.error(pitch.span, message)
            .label(ratio.span, "limit of the plans")
            .source(format!("plans: {}", because.value))
    } else {
        sink.finding(severity, pitch.span, message).source(table.basis.cite())
    };
    sink.push(
        finding
            .label(joint.spec.fastener.span, diameter_words(d, sink.style))
            .help(format!("at least {least} passes", least = sink.style.at_least(least))),
    );
}
