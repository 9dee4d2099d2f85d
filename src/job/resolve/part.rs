//! Parts of travelers with what the whole build knows of them, and which of them are on the aircraft already.
//!
//! What a traveler says goes before what `build.toml` says; that the two agree is for the rules.

use std::collections::BTreeSet;

use super::names::dangling;
use super::{Resolving, Whole};
use crate::job::{Part, Project, Text, nearest};
use crate::report::{Finding, Place, Report, Severity, fault};
use crate::spec::{Fitted, PartSpec, TravelerFile};
use crate::text::{Span, Spanned};

impl Resolving<'_> {
    pub(super) fn resolve_parts(&mut self, specs: Vec<PartSpec>) -> Vec<Part> {
        let starts: Vec<usize> = specs.iter().skip(1).map(|spec| spec.span.start).chain([usize::MAX]).collect();
        specs.into_iter().zip(starts).map(|(spec, next)| self.resolve_part(spec, next)).collect()
    }

    /// One part; the next one begins at `next`.
    fn resolve_part(&mut self, spec: PartSpec, next: usize) -> Part {
        let known = self.project.parts.iter().find(|part| part.id.value == spec.id.value);
        let name = spec.name.clone().or_else(|| known.map(|part| part.name.clone()));
        let fitted = spec.fitted.as_ref().or_else(|| known.and_then(|part| part.fitted.as_ref()));
        if let Some(own) = &spec.fitted {
            let place = Place { part: Some(spec.id.value.clone()), ..self.place() };
            self.report.extend(unknown_traveler(own, self.whole, place));
        }
        let is_fitted = fitted.is_some_and(|fitted| self.is_fitted(&fitted.value));
        Part {
            name: name.unwrap_or_else(|| self.unnamed(&spec, next)),
            material: spec.material.or_else(|| known.and_then(|part| part.material.clone())),
            thickness: spec.thickness.or_else(|| known.and_then(|part| part.thickness)),
            look_alike: spec.look_alike.or_else(|| known.and_then(|part| part.look_alike.clone())),
            bend: spec.bend.or_else(|| known.and_then(|part| part.bend.clone())),
            span: spec.span,
            quantity: spec.quantity,
            id: spec.id,
            is_fitted,
        }
    }

    /// A part that nothing names is called by its number; where nothing else is said of it either, one of `build.toml` is meant.
    fn unnamed(&mut self, spec: &PartSpec, next: usize) -> Text {
        let id = &spec.id;
        if spec.material.is_some() || spec.thickness.is_some() {
            return id.clone();
        }
        // A name that could not be read has its own finding.
        let inside = |span: Span| span.file == spec.span.file && (spec.span.start..next).contains(&span.start);
        if self.report.findings.iter().any(|finding| finding.rule == fault::VALUE_INVALID && inside(finding.span)) {
            return id.clone();
        }
        let message = format!("part {} has no `name`, and build.toml has no such part", id.value);
        let project = self.project;
        let near = nearest(&id.value, project.parts.iter().map(|part| part.id.value.as_str()));
        let help = near.map_or_else(
            || "add `name`, and what else is known of it, here or as a `[[part]]` of build.toml".to_owned(),
            |near| format!("did you mean `{near}`? Else add `name`"),
        );
        let place = Place { part: Some(id.value.clone()), ..self.place() };
        let finding = Finding::new(fault::VALUE_INVALID, Severity::Error, spec.span, message);
        self.push(finding.help(help), place);
        id.clone()
    }

    /// Whether it is on the aircraft before this traveler: not in the one that fits it, nor in those that come before that.
    fn is_fitted(&self, fitted: &Fitted) -> bool {
        match fitted {
            Fitted::FromTheStart => true,
            Fitted::With(id) => self
                .whole
                .travelers
                .get(id)
                .is_some_and(|by| *by != self.traveler && !self.whole.comes_before(self.traveler, *by)),
        }
    }
}

/// Follows the travelers that fit the parts of the whole build.
pub(super) fn follow_fitted(project: &Project, whole: &Whole, report: &mut Report) {
    for part in &project.parts {
        let place = Place { part: Some(part.id.value.clone()), ..Place::default() };
        report.extend(part.fitted.as_ref().and_then(|fitted| unknown_traveler(fitted, whole, place)));
    }
}

fn unknown_traveler(fitted: &Spanned<Fitted>, whole: &Whole, place: Place) -> Option<Finding> {
    let Fitted::With(traveler) = &fitted.value else { return None };
    let is_known = whole.travelers.contains_key(traveler);
    let named = Spanned { value: traveler.clone(), span: fitted.span };
    let finding = || dangling(&named, "traveler", whole.travelers.keys().map(String::as_str));
    (!is_known).then(|| Finding { place, ..finding() })
}

impl Whole {
    /// Whether a traveler must be finished before another one, by `after` of the travelers.
    fn comes_before(&self, one: usize, other: usize) -> bool {
        let mut seen = BTreeSet::new();
        let mut open = vec![other];
        while let Some(at) = open.pop() {
            for before in self.after[at].iter().copied().filter(|before| seen.insert(*before)) {
                if before == one {
                    return true;
                }
                open.push(before);
            }
        }
        false
    }

    /// The travelers that each names under `after`, as far as they exist.
    pub(super) fn followed(&mut self, travelers: &[TravelerFile]) {
        let named = |file: &TravelerFile| {
            let texts = file.traveler.after.iter();
            texts.filter_map(|text| self.travelers.get(&text.value).copied()).collect()
        };
        self.after = travelers.iter().map(named).collect();
    }
}
