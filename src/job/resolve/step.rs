//! Follows the references of one step.
//!
//! A step's number on paper is ten times its place in the traveler.

use super::Resolving;
use super::names::{Names, repeated};
use crate::job::{Index, Record, Step, Text, sheet_of_view};
use crate::report::Place;
use crate::spec::{RecordSpec, StepSpec};
use crate::text::Spanned;

impl Resolving<'_> {
    pub(super) fn resolve_step(&mut self, spec: StepSpec, index: usize, parts: &Names, joints: &Names) -> Step {
        let place = Place { step: Some(spec.id.value.clone()), ..self.place() };
        self.report.extend(repeated(spec.records.iter().map(|r| &r.id), "record", &place));
        Step {
            number: u32::try_from(index + 1).map_or(u32::MAX, |n| n.saturating_mul(10)),
            kind: spec.kind,
            joints: self.follow_all(&spec.joints, "joint", joints, &place),
            to: spec.to,
            parts: self.follow_all(&spec.parts, "part", parts, &place),
            text: spec.text,
            drawings: self.follow_views(spec.drawings, &place),
            tools: spec.tools,
            needs: spec.needs.iter().filter_map(|text| self.resolve_step_ref(text, place.clone())).collect(),
            zones: self.follow_zones(&spec.zones, &place),
            closes: self.follow_zones(&spec.closes, &place),
            opens: self.follow_zones(&spec.opens, &place),
            cure: spec.cure,
            cure_latest: spec.cure_latest,
            hold: spec.hold,
            witness: spec.witness,
            records: spec.records.into_iter().map(record).collect(),
            cautions: spec.cautions,
            photo: spec.photo,
            helper: spec.helper.is_some_and(|helper| helper.value),
            minutes: spec.minutes.map(|minutes| minutes.value),
            id: spec.id,
            title: spec.title,
        }
    }

    fn follow_all(&mut self, texts: &[Text], kind: &str, names: &Names, place: &Place) -> Vec<Index> {
        let mut found = Vec::with_capacity(texts.len());
        for text in texts {
            match names.get(&text.value) {
                Some(value) => found.push(Spanned { value, span: text.span }),
                None => self.dangling(text, kind, names.known(), place.clone()),
            }
        }
        found
    }

    fn follow_zones(&mut self, texts: &[Text], place: &Place) -> Vec<Index> {
        let zones = &self.project.zones;
        let mut found = Vec::with_capacity(texts.len());
        for text in texts {
            match zones.iter().position(|zone| zone.id.value == text.value) {
                Some(value) => found.push(Spanned { value, span: text.span }),
                None => self.dangling(text, "zone", zones.iter().map(|zone| zone.id.value.as_str()), place.clone()),
            }
        }
        found
    }

    /// Drawing views stay as written; their first word must be a sheet of the register.
    fn follow_views(&mut self, views: Vec<Text>, place: &Place) -> Vec<Text> {
        let register = &self.project.register;
        for view in &views {
            let sheet = sheet_of_view(&view.value);
            if !register.iter().any(|drawing| drawing.sheet.value == sheet) {
                let named = Spanned { value: sheet.to_owned(), span: view.span };
                self.dangling(&named, "drawing sheet", register.iter().map(|d| d.sheet.value.as_str()), place.clone());
            }
        }
        views
    }
}

fn record(spec: RecordSpec) -> Record {
    Record { id: spec.id, label: spec.label, unit: spec.unit, min: spec.min, max: spec.max, tool: spec.tool }
}
