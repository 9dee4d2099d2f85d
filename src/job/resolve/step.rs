//! Follows the references of one step.
//!
//! A step's number on paper is ten times its place in the traveler.

use super::Resolving;
use super::names::{Names, repeated};
use crate::job::{Index, Step, Text, sheet_of_view};
use crate::report::Place;
use crate::spec::StepSpec;
use crate::text::Spanned;

impl Resolving<'_> {
    pub(super) fn resolve_step(&mut self, spec: StepSpec, index: usize, parts: &Names, joints: &Names) -> Step {
        let place = Place { step: Some(spec.id.value.clone()), ..self.place() };
        self.report.extend(repeated(spec.records.iter().map(|r| &r.id), "record", &place));
        self.follow_views(&spec.drawings, &place);
        Step {
            number: u32::try_from(index + 1).map_or(u32::MAX, |n| n.saturating_mul(10)),
            joints: self.follow_all(&spec.joints, "joint", joints, &place),
            parts: self.follow_all(&spec.parts, "part", parts, &place),
            needs: spec.needs.iter().filter_map(|text| self.resolve_step_ref(text, place.clone())).collect(),
            spaces: self.follow_spaces(&spec.spaces, &place),
            closes: self.follow_spaces(&spec.closes, &place),
            opens: self.follow_spaces(&spec.opens, &place),
            stage: self.follow_regime(&spec, &place),
            // Known once every traveler is resolved.
            fills: Vec::new(),
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
