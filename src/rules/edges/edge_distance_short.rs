//! # edge-distance-short
//!
//! ## What it checks
//! From the centre of the hole to the edge of a sheet there is at least 2 D, judged at the final fastener from the first day.
//! `limits` of the joint replace the table. Bolts: under 1.5 D an error, under 2 D a warning.
//!
//! ## Why it matters
//! A hole too near the edge tears out, and nothing can be added to the sheet afterwards.
//!
//! ## Source
//! - `AC-4-57c` AC 43.13-1B, par. 4-57c: 2 D for rivets (should); grade B, quoted by several pages that were read.
//! - `TM-229` TM 10-5410-229-13&P, par. 5-6 (rivet replacement in a shelter): never less than two diameters (must);
//!   grade A-else.
//! - `TM-BD74` TM 1-1520-240-BD, par. 2-5 and 2-6 (battle-damage repair of a helicopter): bolts, 1.5 D the least and 2
//!   D preferred (should); grade A-else.
//!
//! ## Example that fires
//! ```toml
//! fastener = "MS20470AD4-5"     # 1/8: 2 D is .250
//! edge = "0.22"
//! ```
//!
//! ## How to put it right
//! Move the row in while the holes are still undrilled, or ask whoever drew the part. A smaller rivet needs less edge and
//! carries less load: that is the drawing's decision.
//!
//! ## When to allow it
//! When the drawing dimensions the hole there. Better give `limits = { edge = "1.5 D", because = ".." }`: it is printed, and
//! what is below even that is still found.

use crate::hardware::{Head, bolt_edge, reaches, rivet_edge};
use crate::job::{Joint, Text};
use crate::report::{Finding, Severity};
use crate::rules::facts::{NO_DIAMETER, NO_EDGE, Through, diameter_words, edges, in_diameters, kind};
use crate::rules::{At, Check, Looks, Sink};
use crate::text::Spanned;
use crate::units::{Length, Ratio};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(kind) = kind(joint) else { return };
    let Some(d) = joint.diameter() else { return sink.cannot(NO_DIAMETER) };
    if joint.edge.is_empty() {
        return sink.cannot(NO_EDGE);
    }
    let plans = joint.limits.as_ref().and_then(|limits| limits.edge.map(|ratio| (ratio, &limits.because)));
    for (layer, edge) in edges(joint) {
        let finding = match plans {
            Some((ratio, because)) => by_plans(&layer, edge, d, (ratio, because), sink),
            None => by_table(&layer, edge, d, kind, sink),
        };
        if let Some(finding) = finding {
            sink.push(finding.label(joint.spec.fastener.span, diameter_words(d, sink.style)));
        }
    }
}

/// The plans' own multiple outranks the table.
fn by_plans(
    layer: &str,
    edge: Spanned<Length>,
    d: Length,
    (ratio, because): (Spanned<Ratio>, &Text),
    sink: &Sink<'_>,
) -> Option<Finding> {
    let least = d.times(ratio.value);
    if reaches(edge.value, least) {
        return None;
    }
    let finding = sink.error(edge.span, message(layer, edge.value, (d, ratio.value), "the plans' limit", sink));
    let finding = finding.label(ratio.span, "limit of the plans").source(format!("plans: {}", because.value));
    Some(finding.help(format!("at least {least} passes", least = sink.style.at_least(least))))
}

/// The least weighs an error where its page speaks of aircraft; short of what is preferred for bolts weighs a warning. A flush rivet has a rule of its own.
fn by_table(layer: &str, edge: Spanned<Length>, d: Length, kind: Through, sink: &Sink<'_>) -> Option<Finding> {
    let table = match kind {
        Through::Rivet => rivet_edge(Head::Protruding),
        Through::Bolt => bolt_edge(),
    };
    let tiers = [(&table.least, Severity::Error), (&table.recommended, Severity::Warning)];
    // Reaches every multiple: long enough.
    let (ratio, severity) = tiers.into_iter().find(|(ratio, _)| !reaches(edge.value, d.times(ratio.value)))?;
    let message = message(layer, edge.value, (d, ratio.value), &format!("a {}", kind.word()), sink);
    let finding = match severity {
        Severity::Error => sink.at_most_error(&ratio.basis, edge.span, message),
        _ => sink.finding(severity, edge.span, message).source(ratio.basis.cite()),
    };
    Some(finding.help(format!("at least {} passes", sink.style.at_least(table.recommended.at(d).value))))
}

fn message(layer: &str, edge: Length, (d, ratio): (Length, Ratio), limit: &str, sink: &Sink<'_>) -> String {
    let least = d.times(ratio);
    format!(
        "edge distance {edge}{layer} is {}; {limit} wants {ratio} D, {least}",
        in_diameters(edge, d),
        edge = sink.style.length(edge),
        least = sink.style.at_least(least)
    )
}
