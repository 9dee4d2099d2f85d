//! Follows the references of one step.
//!
//! What it does not say itself it takes from its procedures.

use super::Resolving;
use super::names::{Names, repeated};
use crate::job::procedure::take;
use crate::job::{Index, Joint, NamedJoint, Origin, Step, Text, sheet_of_view};
use crate::report::Place;
use crate::spec::StepSpec;
use crate::text::Spanned;

/// Texts, those that say the same once.
fn each_once(texts: impl Iterator<Item = Text>) -> Vec<Text> {
    let mut once: Vec<Text> = Vec::new();
    for text in texts {
        if !once.iter().any(|known| known.value.eq_ignore_ascii_case(&text.value)) {
            once.push(text);
        }
    }
    once
}

impl Resolving<'_> {
    pub(super) fn resolve_step(
        &mut self,
        spec: StepSpec,
        (number, origin): (u32, Origin),
        (parts, joints): (&Names, &Names),
        known: &[Vec<Joint>],
    ) -> Step {
        let place = Place { step: Some(spec.id.value.clone()), ..self.place() };
        self.report.extend(repeated(spec.records.iter().map(|r| &r.id), "record", &place));
        self.follow_views(&spec.drawings, &place);
        let joints = self.follow_joints(&spec.joints, joints, (known, &place));
        let parts = self.follow_all(&spec.parts, "part", parts, &place);
        let (taken, findings) = {
            // As paper names them: another traveler's behind that one's id.
            let name = |own: &NamedJoint| match spec.joints.iter().find(|text| text.span == own.span) {
                Some(text) if own.joint.traveler != self.traveler => text.value.replace('/', " "),
                _ => known[own.joint.traveler][own.joint.joint].id.value.clone(),
            };
            let joint = |own: &NamedJoint| (name(own), &known[own.joint.traveler][own.joint.joint]);
            let named: Vec<(String, &Joint)> = joints.iter().map(joint).collect();
            take(&spec, (&named, &parts), &known[self.traveler], (&self.project.procedures, origin))
        };
        for finding in findings {
            self.push(finding, place.clone());
        }
        Step {
            number,
            origin,
            procedures: taken.procedures,
            text: spec.text.clone().or(taken.text),
            tools: spec.tools.iter().cloned().chain(taken.tools).collect(),
            uses: each_once(spec.uses.iter().cloned().chain(taken.uses)),
            cure: spec.cure.or(taken.cure),
            minutes: spec.minutes.or(taken.minutes),
            joints,
            parts,
            needs: spec.needs.iter().filter_map(|text| self.resolve_step_ref(text, place.clone())).collect(),
            spaces: self.follow_spaces(&spec.spaces, &place),
            closes: self.follow_spaces(&spec.closes, &place),
            opens: self.follow_spaces(&spec.opens, &place),
            stage: self.follow_regime(&spec, &place),
            // Known once every traveler is resolved.
            fills: Vec::new(),
            follows: Vec::new(),
            spec,
        }
    }

    fn follow_all(&mut self, texts: &[Text], kind: &'static str, names: &Names, place: &Place) -> Vec<Index> {
        let mut found = Vec::with_capacity(texts.len());
        for text in texts {
            match names.get(&text.value) {
                Some(value) => found.push(Spanned { value, span: text.span }),
                None => self.dangling(text, kind, names.known(), place.clone()),
            }
        }
        found
    }

    fn follow_spaces(&mut self, texts: &[Text], place: &Place) -> Vec<Index> {
        let spaces = &self.project.spaces;
        let mut found = Vec::with_capacity(texts.len());
        for text in texts {
            match spaces.iter().position(|space| space.id.value == text.value) {
                Some(value) => found.push(Spanned { value, span: text.span }),
                None => self.dangling(text, "space", spaces.iter().map(|space| space.id.value.as_str()), place.clone()),
            }
        }
        found
    }

    /// Drawing views stay as written; their first word must be a sheet of the register.
    fn follow_views(&mut self, views: &[Text], place: &Place) {
        let register = &self.project.drawings;
        for view in views {
            let sheet = sheet_of_view(&view.value);
            if !register.iter().any(|drawing| drawing.sheet.value == sheet) {
                let named = Spanned { value: sheet.to_owned(), span: view.span };
                self.dangling(&named, "drawing sheet", register.iter().map(|d| d.sheet.value.as_str()), place.clone());
            }
        }
    }
}
