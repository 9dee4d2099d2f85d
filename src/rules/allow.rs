//! `[[allow]]` entries: marks the findings they accept, and reports the entries that accept nothing.
//!
//! An entry accepts findings of its own traveler only. What was found while reading, or about the project as a
//! whole, cannot be accepted.

use super::completeness::allow_unused;
use super::{RULES, explain};
use crate::job::{Allow, Job, Text, Traveler, nearest};
use crate::report::{Finding, Place, fault};

/// Marks accepted findings with their reason and adds one finding for each entry that accepted none.
pub(super) fn apply(job: &Job, findings: &mut Vec<Finding>) {
    let mut unused = Vec::new();
    for traveler in &job.travelers {
        for entry in &traveler.allows {
            // An id that does not exist was reported when references were followed.
            if accept(entry, (job, traveler), findings) == 0 && names_exist(entry, traveler) {
                unused.push(report_unused(entry, traveler, findings));
            }
        }
    }
    findings.extend(unused);
}

/// Marks what an entry accepts; how many findings these were, among them those that an earlier entry accepted.
fn accept(entry: &Allow, (job, traveler): (&Job, &Traveler), findings: &mut [Finding]) -> usize {
    let twins = job.travelers.iter().filter(|other| other.id.value == traveler.id.value);
    let is_alone = twins.count() == 1;
    // By file as well as by id: two travelers with one id are a fault, and one must not accept for the other.
    let meant = |finding: &&mut Finding| {
        finding.rule == entry.rule.value
            && explain(finding.rule).is_some_and(super::Rule::can_be_allowed)
            && finding.place.traveler.as_deref() == Some(traveler.id.value.as_str())
            // What a step of another traveler does to a joint stands in that one's file.
            && (finding.span.file == traveler.file || is_alone)
            && narrows(entry.joint.as_ref().map(|id| id.value.as_str()), finding.place.joint.as_deref())
            && narrows(entry.step.as_ref().map(|id| id.value.as_str()), finding.place.step.as_deref())
            && narrows(entry.part.as_ref().map(|id| id.value.as_str()), finding.place.part.as_deref())
    };
    let mut accepted = 0;
    for finding in findings.iter_mut().filter(meant) {
        finding.allowed.get_or_insert_with(|| entry.because.value.clone());
        accepted += 1;
    }
    accepted
}

/// An entry without an id means every one.
fn narrows(wanted: Option<&str>, found: Option<&str>) -> bool {
    wanted.is_none_or(|wanted| found == Some(wanted))
}

fn names_exist(entry: &Allow, traveler: &Traveler) -> bool {
    let joint = |id: &Text| traveler.joints.iter().any(|joint| joint.id.value == id.value);
    let step = |id: &Text| traveler.steps.iter().any(|step| step.id.value == id.value);
    let part = |id: &Text| traveler.part(&id.value).is_some();
    entry.joint.as_ref().is_none_or(joint)
        && entry.step.as_ref().is_none_or(step)
        && entry.part.as_ref().is_none_or(part)
}

fn report_unused(entry: &Allow, traveler: &Traveler, findings: &[Finding]) -> Finding {
    let name = entry.rule.value.as_str();
    let (message, help) = match explain(name) {
        None => (
            format!("`{name}` is not the name of a rule"),
            nearest(name, RULES.iter().map(|rule| rule.name)).map_or_else(
                || format!("there are {} rules; findings print their names in brackets", RULES.len()),
                |near| format!("did you mean `{near}`?"),
            ),
        ),
        Some(rule) if !rule.can_be_allowed() => (
            format!("`{name}` cannot be allowed: it is not a judgement of this traveler's joints, steps or parts"),
            "take the entry out and correct what the finding names".to_owned(),
        ),
        Some(_) => (
            format!("this traveler has no finding `{name}`{} to allow", narrowed(entry)),
            match keys_of_others(name, traveler, findings) {
                Some(keys) => format!("it has that finding with {keys}: write one of them, or take the entry out"),
                None => "take the entry out, or correct its joint, step or part".to_owned(),
            },
        ),
    };
    let place = Place {
        traveler: Some(traveler.id.value.clone()),
        joint: entry.joint.as_ref().map(|id| id.value.clone()),
        step: entry.step.as_ref().map(|id| id.value.clone()),
        part: entry.part.as_ref().map(|id| id.value.clone()),
    };
    Finding {
        place,
        ..Finding::new(fault::ALLOW_UNUSED, allow_unused::RULE.severity, entry.rule.span, message).help(help)
    }
}

/// The keys by which an entry would accept what the traveler has of a rule: `step = "trim"`.
fn keys_of_others(name: &str, traveler: &Traveler, findings: &[Finding]) -> Option<String> {
    let of_traveler = |own: &&Finding| own.place.traveler.as_deref() == Some(traveler.id.value.as_str());
    let found = findings.iter().filter(|own| own.rule == name && own.allowed.is_none()).filter(of_traveler);
    let mut keys: Vec<String> = found
        .flat_map(|own| {
            let all = [("joint", &own.place.joint), ("step", &own.place.step), ("part", &own.place.part)];
            all.map(|(key, id)| id.as_ref().map(|id| format!("`{key} = \"{id}\"`"))).into_iter().flatten()
        })
        .collect();
    keys.sort();
    keys.dedup();
    (!keys.is_empty()).then(|| keys.join(", "))
}

/// ` on joint J1`, for the sentence about an entry that names one.
fn narrowed(entry: &Allow) -> String {
    let named = [("joint", &entry.joint), ("step", &entry.step), ("part", &entry.part)];
    let words = named.iter().filter_map(|(word, id)| id.as_ref().map(|id| format!("{word} {}", id.value)));
    let words: Vec<String> = words.collect();
    if words.is_empty() { String::new() } else { format!(" on {}", words.join(", ")) }
}
