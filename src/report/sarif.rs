//! Findings as SARIF 2.1.0 (OASIS), for programs that show them beside the changed lines of a repository.
//!
//! What the rules say of themselves comes in as plain text; accepted findings stay in the list as suppressed ones,
//! with the builder's reason.

use std::fmt::Write;

use serde_json::{Map, Value, json};

use super::{Finding, Place, Report, Severity};
use crate::text::{Files, Span};

/// What a rule says of itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RuleText {
    /// The rule's name.
    pub name: String,
    /// One sentence on what it checks.
    pub short: String,
    /// Its page, as Markdown.
    pub page: String,
    /// The heaviest severity it gives.
    pub severity: Severity,
}

/// Where the schema of the format is published.
const SCHEMA: &str = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";

/// The whole report as pretty JSON text with a final line break.
#[must_use]
pub fn render(report: &Report, files: &Files, rules: &[RuleText]) -> String {
    let results: Vec<Value> = report.findings.iter().map(|finding| result_value(finding, files, rules)).collect();
    let notifications: Vec<Value> =
        report.unjudged.iter().map(|one| json!({ "level": "note", "message": { "text": one.sentence() } })).collect();
    let value = json!({
        "$schema": SCHEMA,
        "version": "2.1.0",
        "runs": [{
            "tool": { "driver": {
                "name": env!("CARGO_PKG_NAME"),
                "version": env!("CARGO_PKG_VERSION"),
                "semanticVersion": env!("CARGO_PKG_VERSION"),
                "shortDescription": { "text": env!("CARGO_PKG_DESCRIPTION") },
                "rules": rules.iter().map(rule_value).collect::<Vec<Value>>(),
            } },
            "invocations": [{ "executionSuccessful": true, "toolExecutionNotifications": notifications }],
            "columnKind": "unicodeCodePoints",
            "results": results,
        }],
    });
    format!("{value:#}\n")
}

fn rule_value(rule: &RuleText) -> Value {
    json!({
        "id": rule.name,
        "shortDescription": { "text": rule.short },
        "help": { "text": rule.page, "markdown": rule.page },
        "defaultConfiguration": { "level": rule.severity.word() },
    })
}

fn result_value(finding: &Finding, files: &Files, rules: &[RuleText]) -> Value {
    let mut result = Map::new();
    result.insert("ruleId".into(), json!(finding.rule));
    if let Some(index) = rules.iter().position(|rule| rule.name == finding.rule) {
        result.insert("ruleIndex".into(), json!(index));
    }
    result.insert("level".into(), json!(finding.severity.word()));
    result.insert("message".into(), json!({ "text": message(finding) }));
    let mut location = json!({ "physicalLocation": physical(finding.span, files) });
    if let Some(logical) = logical(&finding.place) {
        location["logicalLocations"] = json!([logical]);
    }
    result.insert("locations".into(), json!([location]));
    if !finding.labels.is_empty() {
        let numbered = finding.labels.iter().enumerate();
        let related = numbered.map(
            |(index, label)| json!({ "id": index + 1, "physicalLocation": physical(label.span, files), "message": { "text": label.text } }),
        );
        result.insert("relatedLocations".into(), related.collect());
    }
    // Present on every result or on none: an empty list says that nothing accepts the finding.
    let accepted = finding
        .allowed
        .iter()
        .map(|reason| json!({ "kind": "inSource", "status": "accepted", "justification": reason }));
    result.insert("suppressions".into(), accepted.collect());
    // Lines move; rule and ids stay.
    result.insert("partialFingerprints".into(), json!({ "ruleAndIds/v1": fingerprint(finding) }));
    Value::Object(result)
}

/// The headline, then what would pass, the source and the reason, a line each.
fn message(finding: &Finding) -> String {
    let mut text = finding.message.clone();
    let further = [("help: ", &finding.help), ("source: ", &finding.source), ("allowed because ", &finding.allowed)];
    for (lead, words) in further {
        if let Some(words) = words {
            text.push('\n');
            text.push_str(lead);
            text.push_str(words);
        }
    }
    text
}

fn physical(span: Span, files: &Files) -> Value {
    let (start, end) = (files.position(span), files.position(Span { start: span.end.max(span.start), ..span }));
    let path = files.path(span.file);
    let uri = uri(path);
    // A path that leaves the folder of the run is relative to nothing that a reader of the log knows.
    let is_inside = !path.starts_with("..") && !path.starts_with('/');
    let artifact = if is_inside { json!({ "uri": uri, "uriBaseId": "%SRCROOT%" }) } else { json!({ "uri": uri }) };
    json!({
        "artifactLocation": artifact,
        "region": {
            "startLine": start.line,
            "startColumn": start.column,
            "endLine": end.line,
            "endColumn": end.column,
            "byteOffset": span.start,
            "byteLength": span.end.saturating_sub(span.start),
        },
    })
}

/// A path as a URI reference: absolute ones as `file:` URIs, every byte outside the unreserved set escaped.
fn uri(path: &str) -> String {
    let mut uri = String::from(if path.starts_with('/') { "file://" } else { "" });
    for byte in path.bytes() {
        if byte.is_ascii_alphanumeric() || b"-._~/".contains(&byte) {
            uri.push(char::from(byte));
        } else {
            let _ = write!(uri, "%{byte:02X}");
        }
    }
    uri
}

/// The thing in the spec: a joint, step or part of a traveler, or the traveler itself.
fn logical(place: &Place) -> Option<Value> {
    let traveler = place.traveler.as_ref()?;
    let inner = [("joint", &place.joint), ("step", &place.step), ("part", &place.part)];
    let (kind, name) =
        inner.into_iter().find_map(|(kind, id)| id.as_ref().map(|id| (kind, id))).unwrap_or(("traveler", traveler));
    let full = if kind == "traveler" { traveler.clone() } else { format!("{traveler}/{name}") };
    Some(json!({ "name": name, "fullyQualifiedName": full, "kind": kind }))
}

fn fingerprint(finding: &Finding) -> String {
    let place = &finding.place;
    let ids = [&place.traveler, &place.joint, &place.step, &place.part];
    let words = ids.map(|id| id.as_deref().unwrap_or("-"));
    format!("{}|{}", finding.rule, words.join("|"))
}
