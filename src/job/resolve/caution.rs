//! Joins the project's `[[caution]]` entries with the built-in list.
//!
//! What fires a built-in caution can be widened here, never narrowed: a DANGER cannot be talked out of its step.

use crate::job::{CautionRule, Cautions, OnlyWhere, StepKind, Trigger, Weakened};
use crate::report::{Finding, Report, Severity, fault};
use crate::spec::{CautionSpec, built_in_cautions};

/// The cautions of a project; an entry that cannot be followed is a finding and changes nothing.
pub(super) fn resolve_cautions(specs: &[CautionSpec], report: &mut Report) -> Cautions {
    let mut cautions = Cautions { rules: built_in_cautions().to_vec(), weakened: Vec::new() };
    let mut seen: Vec<String> = Vec::new();
    for spec in specs {
        // Of two entries with one id the first counts; the other was reported.
        if seen.contains(&spec.id.value) {
            continue;
        }
        seen.push(spec.id.value.clone());
        match cautions.rules.iter().position(|rule| rule.id == spec.id.value) {
            Some(at) => {
                if let Some(closes) = &spec.closes {
                    let message = format!("`closes` would narrow what fires the built-in caution `{}`", spec.id.value);
                    let finding = Finding::new(fault::VALUE_INVALID, Severity::Error, closes.span, message);
                    report.push(finding.help("take `closes` out, or give the caution an id of your own"));
                }
                change(&mut cautions, at, spec);
            }
            None => match added(spec) {
                Ok(rule) => cautions.rules.push(rule),
                Err(finding) => report.push(*finding),
            },
        }
    }
    cautions.rules.sort_by_key(|rule| rule.word);
    cautions
}

/// Changes a built-in caution, or takes it out, and keeps what it was where it became weaker.
fn change(cautions: &mut Cautions, at: usize, spec: &CautionSpec) {
    let built_in = cautions.rules[at].clone();
    let omitted = spec.omit.is_some_and(|omit| omit.value);
    let word = spec.word.map_or(built_in.word, |word| word.value);
    let general = spec.general.map_or(built_in.general, |general| general.value);
    let moved = general && !built_in.general;
    let span = if omitted { spec.omit.map(|omit| omit.span) } else { spec.word.map(|word| word.span) };
    let span = span.or(spec.general.map(|general| general.span)).unwrap_or(spec.id.span);
    if omitted || word > built_in.word || moved {
        let now = (!omitted).then_some(word);
        cautions.weakened.push(Weakened { built_in, now, moved, because: spec.because.clone(), span });
    }
    if omitted {
        cautions.rules.remove(at);
        return;
    }
    let rule = &mut cautions.rules[at];
    rule.word = word;
    rule.general = general;
    let more = widened(&rule.when, spec);
    rule.when.extend(more);
    if let Some(text) = &spec.text {
        rule.text.clone_from(&text.value);
    }
    if !spec.signs.is_empty() {
        rule.signs = spec.signs.iter().map(|sign| sign.value.0).collect();
    }
}

/// What fires a built-in caution beyond what does already: its kinds with the project's words, the project's kinds with
/// both.
fn widened(built_in: &[Trigger], spec: &CautionSpec) -> Vec<Trigger> {
    let kinds: Vec<StepKind> = spec.kinds.iter().map(|kind| kind.value).collect();
    let words: Vec<String> = spec.words.iter().map(|word| word.value.to_lowercase()).collect();
    let mut more = Vec::new();
    if !words.is_empty() {
        // No kind means any: adding one to it would narrow.
        let any_kind = built_in.iter().any(|trigger| trigger.kinds.is_empty());
        let of_both = built_in.iter().flat_map(|trigger| &trigger.kinds).chain(&kinds).copied();
        more.push(Trigger {
            kinds: if any_kind { Vec::new() } else { of_both.collect() },
            words,
            ..Trigger::default()
        });
    }
    if !kinds.is_empty() {
        let of_kinds = built_in.iter().filter(|trigger| !trigger.kinds.is_empty());
        more.extend(of_kinds.map(|trigger| Trigger { kinds: kinds.clone(), ..trigger.clone() }));
    }
    more
}

/// A caution of the project's own.
fn added(spec: &CautionSpec) -> Result<CautionRule, Box<Finding>> {
    let id = &spec.id;
    if spec.omit.is_some_and(|omit| omit.value) {
        let known = built_in_cautions().iter().map(|rule| rule.id.as_str());
        return Err(Box::new(super::dangling(id, "built-in caution", known)));
    }
    if id.value.contains(char::is_whitespace) {
        let message = format!("a caution's id is one word, and `{}` is several", id.value);
        let finding = Finding::new(fault::VALUE_INVALID, Severity::Error, id.span, message);
        return Err(Box::new(
            finding.help("join the words with `-`: a step's `cautions` takes several words as the caution itself"),
        ));
    }
    let missing = |name: &str| {
        let message = format!("the caution `{}` is not a built-in one and has no `{name}`", id.value);
        let finding = Finding::new(fault::VALUE_INVALID, Severity::Error, id.span, message);
        let near = crate::spec::nearest(&id.value, built_in_cautions().iter().map(|rule| rule.id.as_str()));
        let meant = near.map_or_else(String::new, |near| format!(", or did you mean the built-in `{near}`?"));
        Box::new(finding.help(format!("add `{name} = ...`{meant}")))
    };
    let word = spec.word.ok_or_else(|| missing("word"))?.value;
    let text = spec.text.as_ref().ok_or_else(|| missing("text"))?.value.clone();
    let general = spec.general.is_some_and(|general| general.value);
    let closes = spec.closes.is_some_and(|closes| closes.value);
    let fires = !spec.kinds.is_empty() || !spec.words.is_empty() || closes || general;
    let trigger = Trigger {
        kinds: spec.kinds.iter().map(|kind| kind.value).collect(),
        words: spec.words.iter().map(|word| word.value.to_lowercase()).collect(),
        only: closes.then_some(OnlyWhere::Closes),
        ..Trigger::default()
    };
    Ok(CautionRule {
        word,
        when: if fires { vec![trigger] } else { Vec::new() },
        general,
        signs: spec.signs.iter().map(|sign| sign.value.0).collect(),
        text,
        id: spec.id.value.clone(),
    })
}
