//! # row-gap-short
//!
//! ## What it checks
//! Two rows of rivets are at least 2 D apart; below 2.5 D there is a warning. `limits` of the joint replace both.
//!
//! ## Why it matters
//! Rows too close act as one row of holes at half the pitch.
//!
//! ## Source
//! - `TM-303` TM 9-2320-303-24-2, WP 0289, par. 3 (body repair of a truck): 2 D as drawn for two rows (should); grade
//!   A-else.
//! - `TM-229` TM 10-5410-229-13&P, par. 5-6 (rivet replacement in a shelter): not less than 2.5 D (must); grade A-else.
//! - `TRADE` trade article on aircraft riveting, 1999: not less than 2.5 D (must); grade A.
//!
//! The sources differ: below both is an error, between them a warning.
//!
//! ## Example that fires
//! ```toml
//! fastener = "MS20470AD4-5"     # 1/8: 2 D is .250
//! rows = 2
//! row-gap = "0.20"
//! ```
//!
//! ## How to put it right
//! Move the rows apart; then look at the edge distance again.
//!
//! ## When to allow it
//! When the drawing dimensions the rows. Better give `limits = { row-gap = "1.8 D", because = ".." }`.

use crate::hardware::{Graded, LeastMultiple, reaches, rivet_row_gap};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{NO_ROW_GAP, diameter_words, in_diameters, rivet_diameter};
use crate::rules::{At, Check, Looks, Sink};
use crate::units::Ratio;

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(d) = rivet_diameter(joint) else { return };
    // One row has no gap.
    if joint.rows.value < 2 {
        return;
    }
    let Some(gap) = joint.row_gap else { return sink.cannot(NO_ROW_GAP) };
    if let Some((ratio, because)) =
        joint.limits.as_ref().and_then(|limits| limits.row_gap.map(|ratio| (ratio, &limits.because)))
    {
        let least = d.times(ratio.value);
        if !reaches(gap.value, least) {
            let multiple = in_diameters(gap.value, d);
            let message = format!(
                "row gap {} is {multiple}; the plans' limit is {} D, {least}",
                sink.style.length(gap.value),
                ratio.value,
                least = sink.style.at_least(least)
            );
            let finding = sink
                .error(gap.span, message)
                .label(ratio.span, "limit of the plans")
                .label(joint.spec.fastener.span, diameter_words(d, sink.style));
            sink.push(
                finding
                    .source(format!("plans: {}", because.value))
                    .help(format!("at least {least} passes", least = sink.style.at_least(least))),
            );
        }
        return;
    }
    let table = rivet_row_gap();
    let tiers = [(&table.least, Severity::Error), (&table.recommended, Severity::Warning)];
    let missed = tiers.into_iter().find(|(ratio, _)| !reaches(gap.value, d.times(ratio.value)));
    let Some((ratio, severity)) = missed else { return };
    let message = format!(
        "row gap {} is {}; rows of rivets want {} D, {}",
        sink.style.length(gap.value),
        in_diameters(gap.value, d),
        ratio.value,
        sink.style.at_least(d.times(ratio.value))
    );
    let finding = sink
        .finding(severity, gap.span, message)
        .label(joint.spec.fastener.span, diameter_words(d, sink.style))
        .source(source_of(ratio, &table));
    sink.push(finding.help(format!("at least {} passes", sink.style.at_least(table.recommended.at(d).value))));
}

/// The page of the limit that is missed; one about something else than aircraft with the one that is missed too.
fn source_of(missed: &Graded<Ratio>, table: &LeastMultiple) -> String {
    if missed.basis.backs_an_error() {
        return missed.basis.cite();
    }
    format!("{}; also {}", missed.basis.cite(), table.recommended.basis.cite())
}
