//! Findings as JSON, version 1.
//!
//! Keys and their order are part of the contract with other programs; new keys may be added, none renamed.

use serde_json::{Value, json};

use super::{Finding, Report, Severity, Unjudged};
use crate::text::Files;

/// The whole report as pretty JSON text with a final line break.
#[must_use]
pub fn render(report: &Report, files: &Files) -> String {
    let findings: Vec<Value> = report.findings.iter().map(|finding| finding_value(finding, files)).collect();
    let value = json!({
        "version": 1,
        "travelers": report.travelers,
        "errors": report.count(Severity::Error),
        "warnings": report.count(Severity::Warning),
        "notes": report.count(Severity::Note),
        "findings": findings,
        "unjudged": report.unjudged.iter().map(unjudged_value).collect::<Vec<Value>>(),
    });
    format!("{value:#}\n")
}

fn finding_value(finding: &Finding, files: &Files) -> Value {
    let position = files.position(finding.span);
    let place = &finding.place;
    json!({
        "rule": finding.rule,
        "severity": finding.severity.word(),
        "file": files.path(finding.span.file),
        "line": position.line,
        "column": position.column,
        "start": finding.span.start,
        "end": finding.span.end,
        "traveler": place.traveler,
        "joint": place.joint,
        "step": place.step,
        "part": place.part,
        "message": finding.message,
        "help": finding.help,
        "source": finding.source,
        "allowed": finding.allowed,
    })
}

fn unjudged_value(unjudged: &Unjudged) -> Value {
    let place = &unjudged.place;
    json!({
        "traveler": place.traveler,
        "joint": place.joint,
        "step": place.step,
        "part": place.part,
        "why": unjudged.why,
        "rules": unjudged.rules,
    })
}
