//! The keys of `[[step]]` and of the values that it asks to measure.
//!
//! It refuses limits between which no reading lies.

use super::form::{Count, Decimal, Duration, Filled, Flag, Id, Markdown, Size, Tables, Text, Texts, Word};
use super::list::section;
use super::read::Reading;
use crate::words::{Measures, StepKind};

section! {
    /// One step, signed once.
    StepSpec = "step" {
        /// Stable name. The number on paper may change, this may not.
        id "id": need Id => work,
        /// Title in the imperative.
        title "title": need Filled => wording,
        /// What the step does.
        kind "do": need Word<StepKind> => work,
        /// Joints that it works on.
        joints "joints": any Texts => work,
        /// Size that a drilling or reaming step reaches. Absent: the final size.
        to "to": may Size => work,
        /// Parts that it works on.
        parts "parts": any Texts => work,
        /// What to do, with values such as `{{ joint.J1.hole.final }}` and pictures such as `![caption](file.svg)`:
        /// PNG, JPEG or SVG from the folder of pictures, printed over their caption.
        text "text": may Markdown => reread,
        /// Drawing views.
        drawings "drawings": any Texts => work,
        /// Pages of the builder's manual, as `p. 6-12`, printed beside the views.
        manual "manual": any Texts => wording,
        /// Tools beyond those that follow from the joints.
        tools "tools": any Texts => wording,
        /// `TRAVELER/step` that must be done first, beyond order and `after`.
        needs "needs": any Texts => work,
        /// Spaces that must be open.
        spaces "spaces" was "zones": any Texts => work,
        /// Spaces that this step closes.
        closes "closes": any Texts => work,
        /// Closed spaces that this step opens again.
        opens "opens": any Texts => work,
        /// Nothing touches the parts until then.
        cure "cure": may Duration => work,
        /// End of the recoat window.
        cure_latest "cure-latest": may Duration => work,
        /// Work stops until this role has signed.
        hold "hold": may Filled => work,
        /// This role is invited; work may go on.
        witness "witness": may Filled => work,
        /// The stage that is signed at this step; what follows waits for it.
        stage "stage": may Filled => work,
        /// Values to measure.
        records "records": any Tables<Record> => work,
        /// Cautions beyond those that the step's kind and materials bring by themselves.
        cautions "cautions": any Texts => wording,
        /// Photo prompt, printed with a box for the photo's number.
        photo "photo": may Text => wording,
        /// Whether a second person is needed.
        helper "helper": or Flag = false => wording,
        /// Estimated time.
        minutes "minutes": may Count<1> => wording,
    }

    /// One value to measure.
    Record = "records" checked by check_limits {
        /// Id, unique in the step.
        id "id": need Id => work,
        /// What is measured.
        label "label": need Filled => work,
        /// Unit.
        unit "unit": may Text => work,
        /// Smallest value that passes; printed with the digits that were written, also where it is a number: `0.5000`.
        min "min": may Decimal => work,
        /// Largest value that passes, likewise.
        max "max": may Decimal => work,
        /// Instrument.
        tool "tool": may Text => work,
        /// What it measures of the step's joints, where its label does not say so in English: its limits then stand in
        /// the place of the table's wherever the sheet says them.
        measures "measures": may Word<Measures> => wording,
    }
}

fn check_limits(record: &Record, reading: &mut Reading) {
    if let (Some(low), Some(high)) = (&record.min, &record.max)
        && low.value > high.value
    {
        let message = format!("`min` is {}, above `max` at {}: no reading passes", low.value, high.value);
        reading.invalid(low.span, message);
    }
}
