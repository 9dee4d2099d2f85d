//! What the plans' own limits say of a value: inside them nothing is said, outside them the plans are cited.
//!
//! It knows no table; what the part itself can bear is for the rule.

use crate::job::PlansRange;
use crate::report::Finding;
use crate::rules::Sink;
use crate::text::Span;
use crate::units::Length;

/// A value against the plans' range.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum ByPlans {
    /// The plans set none.
    Open,
    /// Below the smallest.
    Below,
    /// Inside.
    Inside,
    /// Above the largest.
    Above,
}

/// Where a value lies in the plans' range, give or take `slack`.
pub(super) fn by_plans(range: Option<&PlansRange<'_>>, value: Length, slack: Length) -> ByPlans {
    match range {
        None => ByPlans::Open,
        Some(range) if range.has(value, slack) => ByPlans::Inside,
        Some(range) if range.is_reached(value, slack) => ByPlans::Above,
        Some(_) => ByPlans::Below,
    }
}

/// An error about a value outside the plans' range; `what` names the value and ends before the verb.
pub(super) fn outside_plans(range: &PlansRange<'_>, sink: &Sink<'_>, span: Span, what: &str) -> Finding {
    let words = range.words(sink.style);
    let finding = sink.error(span, format!("{what} is outside the plans' limit, {words}"));
    let finding = finding.label(range.span, "limit of the plans").source(format!("plans: {}", range.because.value));
    finding.help(format!("{words} passes"))
}
