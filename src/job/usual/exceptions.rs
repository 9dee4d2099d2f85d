//! What the `[[step]]` entries of a file do: change a usual step, leave it out, or be a step of their own.
//!
//! It refuses a step without what makes it one, a place that does not exist, and a usual step left out without a reason.

use super::own::place_of;
use super::{Made, Omitted};
use crate::job::{Origin, Text};
use crate::report::{Finding, Severity, fault};
use crate::spec::{StepEntry, StepSpec, nearest};
use crate::text::{Span, Spanned};

/// Steps that are all written in full.
pub(super) fn written(entries: Vec<StepEntry>) -> Made {
    let mut made = Made::default();
    for entry in entries {
        for key in placing(&entry) {
            let message = format!("`{}` is written beside no usual step", key.value);
            made.findings.push(invalid(key.span, message).help(
                "with `steps = \"usual\"` under [traveler] the steps follow from parts and joints, and each [[step]] changes, \
                 adds or leaves one out",
            ));
        }
        made.take(entry, Origin::Written, |_| {
            Some("`steps = \"usual\"` under [traveler]: then this entry changes the usual step of its id".to_owned())
        });
    }
    made
}

/// The usual steps as the entries change them, where `all` are those that there would be without any.
/// Where a part or a joint could not be read (`is_short`), a usual step may be missing for that reason alone.
pub(super) fn changed(usual: Vec<StepSpec>, entries: Vec<StepEntry>, all: &[StepSpec], is_short: bool) -> Made {
    let mut made = Made { steps: usual.into_iter().map(|step| (step, Origin::Usual)).collect(), ..Made::default() };
    let known: Vec<String> = all.iter().map(|step| step.id.value.clone()).collect();
    let mut places: Vec<Place> = Vec::new();
    for entry in entries {
        let place = Place::of(&entry);
        let id = entry.id.clone();
        let is_usual = known.contains(&id.value);
        made.check_reason(&entry);
        if is_usual && entry.omit.is_some_and(|omit| omit.value) {
            made.omit(entry);
            continue;
        }
        if is_short && !is_usual && entry.title.is_none() && entry.kind.is_none() {
            made.left_out.push(id);
        } else if let Some((step, origin)) =
            made.steps.iter_mut().find(|(step, origin)| step.id.value == id.value && *origin == Origin::Usual)
        {
            change(step, entry);
            *origin = Origin::Changed;
        } else if made.take(entry, Origin::Written, |entry| Some(no_such(entry, &known)))
            && place.anchor.is_none()
            && !made.put_in_own_place(all)
        {
            made.findings.push(
                invalid(id.span, format!("step `{}` has no place among the usual steps", id.value))
                    .help(format!("write `before = \"..\"` or `behind = \"..\"` with one of: {}", known.join(", "))),
            );
        } else {
            // It is a step, and its place is looked for when all steps are there.
        }
        places.extend((place.anchor.is_some()).then_some(place));
    }
    made.put_in_place(places);
    made
}

fn invalid(span: Span, message: String) -> Finding {
    Finding::new(fault::VALUE_INVALID, Severity::Error, span, message)
}

/// The keys of an entry that only mean something among usual steps, by name.
fn placing(entry: &StepEntry) -> Vec<Text> {
    let of = |name: &str, span: Option<Span>| span.map(|span| Spanned { value: name.to_owned(), span });
    let keys = [
        of("before", entry.before.as_ref().map(|text| text.span)),
        of("behind", entry.behind.as_ref().map(|text| text.span)),
        of("omit", entry.omit.as_ref().map(|flag| flag.span)),
        of("because", entry.because.as_ref().map(|text| text.span)),
    ];
    keys.into_iter().flatten().collect()
}

/// Where an entry wants its step.
struct Place {
    id: String,
    /// The step beside which it stands, and whether it comes behind it.
    anchor: Option<(Text, bool)>,
    /// The second of two places.
    other: Option<Span>,
}

impl Place {
    fn of(entry: &StepEntry) -> Self {
        let before = entry.before.clone().map(|text| (text, false));
        let behind = entry.behind.clone().map(|text| (text, true));
        let other = before.as_ref().and(behind.as_ref()).map(|(text, _)| text.span);
        Self { id: entry.id.value.clone(), anchor: before.or(behind), other }
    }
}

/// What is meant by an entry that is neither a usual step nor written in full.
fn no_such(entry: &StepEntry, known: &[String]) -> String {
    let id = &entry.id.value;
    if known.contains(id) {
        return format!("leave it out: other steps do all that `{id}` does");
    }
    let of_kind: Vec<&str> =
        known.iter().map(String::as_str).filter(|own| own.starts_with(&format!("{id}-"))).collect();
    if !of_kind.is_empty() {
        return format!("the usual steps of that kind are here: {}", of_kind.join(", "));
    }
    match nearest(id, known.iter().map(String::as_str)) {
        Some(near) => format!("did you mean the usual step `{near}`?"),
        None => format!("the usual steps are: {}", known.join(", ")),
    }
}

impl Made {
    /// Takes an entry that is written in full; says what it lacks otherwise.
    fn take(&mut self, entry: StepEntry, origin: Origin, hint: impl Fn(&StepEntry) -> Option<String>) -> bool {
        let missing = entry.missing();
        let hint = hint(&entry);
        let id = entry.id.clone();
        let span = entry.span;
        if let Some(step) = entry.complete() {
            self.steps.push((step, origin));
            return true;
        }
        for (key, sentence) in missing {
            let more = hint.as_ref().map_or(String::new(), |hint| format!("; or {hint}"));
            let finding = invalid(span, format!("`step` has no `{key}`"));
            self.findings.push(finding.help(format!("add `{key} = ...`: {}{more}", sentence.trim_end_matches('.'))));
        }
        self.left_out.push(id);
        false
    }

    /// A reason belongs to a step that is left out, and none is left out without one.
    fn check_reason(&mut self, entry: &StepEntry) {
        let omits = entry.omit.is_some_and(|omit| omit.value);
        match (omits, &entry.because) {
            (true, None) => {
                let span = entry.omit.map_or(entry.span, |omit| omit.span);
                let finding = invalid(span, format!("`{}` is left out without a reason", entry.id.value));
                self.findings.push(finding.help("write `because = \"..\"` beside it: it prints on the front page"));
            }
            (false, Some(because)) => {
                let finding =
                    invalid(because.span, format!("`because` of `{}` gives a reason for nothing", entry.id.value));
                self.findings.push(finding.help("it is the reason of `omit = true`"));
            }
            _ => {}
        }
    }

    fn omit(&mut self, entry: StepEntry) {
        let Some(at) = self.steps.iter().position(|(step, _)| step.id.value == entry.id.value) else { return };
        let (step, _) = self.steps.remove(at);
        let because =
            entry.because.unwrap_or_else(|| Spanned { value: "no reason given".to_owned(), span: entry.span });
        self.omitted.push(Omitted { id: entry.id, title: step.title.value, because });
    }

    /// Moves the newest step to where the usual one would stand of which it takes the place; whether there is one.
    fn put_in_own_place(&mut self, all: &[StepSpec]) -> bool {
        let Some(newest) = self.steps.pop() else { return false };
        let now = self.steps.iter().map(|(step, _)| step.id.value.as_str());
        let place = place_of(&newest.0, all, now);
        self.steps.insert(place.unwrap_or(self.steps.len()), newest);
        place.is_some()
    }

    /// Moves steps to the places that their entries give; several at one place keep the order of the file.
    fn put_in_place(&mut self, places: Vec<Place>) {
        let mut behind: Vec<(String, String)> = Vec::new();
        for Place { id, anchor, other } in places {
            let Some((anchor, is_behind)) = anchor else { continue };
            if let Some(other) = other {
                self.findings.push(
                    invalid(other, format!("`{id}` has two places")).help("write `before` or `behind`, not both"),
                );
            }
            let Some(from) = self.steps.iter().position(|(step, _)| step.id.value == id) else { continue };
            let step = self.steps.remove(from);
            let at = self.steps.iter().position(|(step, _)| step.id.value == anchor.value);
            let Some(at) = at else {
                self.findings.push(self.no_anchor(&anchor, &id));
                self.steps.insert(from, step);
                continue;
            };
            let to = if is_behind {
                // Behind those that were put behind the same step before.
                let earlier = behind.iter().filter(|(_, of)| *of == anchor.value).map(|(id, _)| id.as_str());
                let last = earlier.filter_map(|id| self.steps.iter().position(|(step, _)| step.id.value == id)).max();
                behind.push((id, anchor.value));
                last.unwrap_or(at) + 1
            } else {
                at
            };
            self.steps.insert(to, step);
        }
    }

    fn no_anchor(&self, anchor: &Text, own: &str) -> Finding {
        let known: Vec<&str> = self.steps.iter().map(|(step, _)| step.id.value.as_str()).collect();
        let help = match nearest(&anchor.value, known.iter().copied().filter(|id| *id != own)) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("known: {}", known.join(", ")),
        };
        let message = format!("there is no step `{}`", anchor.value);
        let missing = Some(("step", anchor.value.clone()));
        Finding { missing, ..Finding::new(fault::REFERENCE_DANGLING, Severity::Error, anchor.span, message) }.help(help)
    }
}

/// Puts the keys of an entry in the place of those that a usual step has by itself; records, tools and cautions are added.
fn change(step: &mut StepSpec, written: StepEntry) {
    if let Some(Ok(title)) = &written.title {
        step.title.clone_from(title);
    }
    if let Some(Ok(kind)) = written.kind {
        step.kind = kind;
    }
    step.helper = written.helper.unwrap_or(step.helper);
    let usual = std::mem::replace(&mut step.entry, written);
    let own = &mut step.entry;
    let lists = [
        (&mut own.joints, usual.joints),
        (&mut own.parts, usual.parts),
        (&mut own.drawings, usual.drawings),
        (&mut own.manual, usual.manual),
        (&mut own.needs, usual.needs),
        (&mut own.sets, usual.sets),
        (&mut own.undoes, usual.undoes),
        (&mut own.during, usual.during),
        (&mut own.spaces, usual.spaces),
        (&mut own.closes, usual.closes),
        (&mut own.opens, usual.opens),
        (&mut own.procedure, usual.procedure),
    ];
    for (list, usual) in lists {
        if list.is_empty() {
            *list = usual;
        }
    }
    own.to = own.to.or(usual.to);
    own.cure = own.cure.or(usual.cure);
    own.cure_latest = own.cure_latest.or(usual.cure_latest);
    own.minutes = own.minutes.or(usual.minutes);
    if own.fit.is_none() {
        own.fit = usual.fit;
    }
    let texts = [
        (&mut own.text, usual.text),
        (&mut own.hold, usual.hold),
        (&mut own.witness, usual.witness),
        (&mut own.stage, usual.stage),
        (&mut own.photo, usual.photo),
    ];
    for (text, usual) in texts {
        if text.is_none() {
            *text = usual;
        }
    }
    let is_written = |id: &str| own.records.iter().any(|record| record.id.value == id);
    let kept = usual.records.into_iter().filter(|record| !is_written(&record.id.value)).collect::<Vec<_>>();
    own.records.splice(0..0, kept);
    own.tools.splice(0..0, usual.tools);
    own.uses.splice(0..0, usual.uses);
    own.cautions.splice(0..0, usual.cautions);
}
