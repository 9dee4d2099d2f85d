//! The keys of `[[step]]` and of the values that it asks to measure.
//!
//! It refuses limits between which no reading lies.

use super::form::{
    Count, Decimal, Duration, Filled, Flag, Id, Markdown, Names, Size, SizePair, Table, Tables, Text, Texts, Tried,
    Word,
};
use super::list::section;
use super::read::Reading;
use crate::text::Spanned;
use crate::units;
use crate::words::{Measures, StepKind};

section! {
    /// One step, signed once. Among usual steps, an entry with the id of one of them changes that one: its keys take the
    /// place of those that the step has by itself; records, tools and cautions are added. What another entry does to a joint, no usual
    /// step does again.
    StepEntry = "step" {
        /// Stable name. Neither it nor the number on an issued sheet changes.
        id "id": need Id => work,
        /// Title in the imperative. Must be there, but for a usual step.
        title "title": may Tried<Filled> => wording,
        /// What the step does. Must be there, but for a usual step.
        kind "do": may Tried<Word<StepKind>> => work,
        /// Joints that it works on. Another traveler's joint has that one's id before it, as `FUS-10/J2`: drilled there, fastened here,
        /// and the usual steps there leave it out. Where both have hands each works its own; a step of a traveler without hands
        /// names each, as `WING-10/left/J2`. One set of holes is not worked by two hands.
        joints "joints": any Texts => work,
        /// Size that a drilling or reaming step reaches. Absent: the final size.
        to "to": may Size => work,
        /// Parts that it works on.
        parts "parts": any Texts => work,
        /// What to do. Absent: the text of its procedure. It may hold values such as `{{ joint.J1.hole.final }}` and pictures such as `![caption](file.svg)`:
        /// PNG, JPEG or SVG from the folder of pictures, printed over their caption.
        text "text": may Markdown => reread,
        /// Drawing views.
        drawings "drawings": any Texts => work,
        /// Pages of the builder's manual, as `p. 6-12`, printed beside the views.
        manual "manual": any Texts => wording,
        /// Tools beyond those that follow from the joints.
        tools "tools": any Texts => wording,
        /// Consumables: tape, sealant, abrasive, ties. They stand on preparation and pick lists.
        uses "uses": any Texts => wording,
        /// `TRAVELER/step` that must be done first, beyond order and `after`. Where it names steps of its own traveler, it waits for
        /// those alone, and not for all that stand before it.
        needs "needs": any Texts => work,
        /// States that it brings about, in words of your own as `fuselage-level`; they last until a step undoes them.
        sets "sets": any Names => work,
        /// States that it ends.
        undoes "undoes": any Names => work,
        /// States that must hold while it is worked; the sheet asks to read them again.
        during "while": any Names => work,
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
        /// A press fit, whose interference follows from two readings.
        fit "fit": may Table<FitSpec> => work,
        /// Values to measure.
        records "records": any Tables<Record> => work,
        /// Cautions beyond those that the step's kind and materials bring by themselves.
        cautions "cautions": any Texts => wording,
        /// Photo prompt, printed with a box for the photo's number.
        photo "photo": may Text => wording,
        /// Whether a second person is needed.
        helper "helper": may Flag => wording,
        /// Estimated time. Absent: what its procedure says.
        minutes "minutes": may Count<1> => wording,
        /// Procedures by which it is done, in place of the one of its kind: their texts print where it has no `text`.
        procedure "procedure": any Names => work,
        /// Among usual steps: the step that it comes before.
        before "before": may Text => work,
        /// Among usual steps: the step behind which it comes.
        behind "behind": may Text => work,
        /// Leaves a usual step out.
        omit "omit": may Flag => work,
        /// Why it is left out, printed on the front page.
        because "because": may Filled => wording,
    }

    /// A press fit: two readings of this step, or `step/reading`, whose difference is the interference.
    FitSpec = "fit" {
        /// The reading of the bore.
        bore "bore": need Filled => work,
        /// The reading of the pin, bushing or bearing that goes in.
        pin "pin": need Filled => work,
        /// Least and most interference: pin less bore.
        interference "interference": need SizePair => work,
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
        /// How far it may be from another reading, as `0.06 of left`: of this step, or `step/reading` of this traveler. Both have
        /// the same unit.
        within "within": may Filled => work,
        /// What it measures, where its label does not say so in English. Of the step's joints: its limits then stand in the
        /// place of the table's wherever the sheet says them. Of a test or a heat: pressure, time or temperature.
        measures "measures": may Word<Measures> => wording,
    }
}

/// A step that is complete: as written in full, or made from parts and joints and changed by an entry.
#[derive(Debug, Clone)]
pub struct StepSpec {
    /// All other keys.
    pub entry: StepEntry,
    /// Title in the imperative.
    pub title: Spanned<String>,
    /// What the step does.
    pub kind: Spanned<StepKind>,
    /// Whether a second person is needed.
    pub helper: Spanned<bool>,
}

impl std::ops::Deref for StepSpec {
    type Target = StepEntry;

    fn deref(&self) -> &StepEntry {
        &self.entry
    }
}

/// The built-in procedure of a test for leaks.
pub const LEAK_TEST: &str = "leak-test";

impl StepSpec {
    /// Whether it is a test for leaks: by its procedure, or by a word of its title.
    #[must_use]
    pub fn tests_for_leaks(&self) -> bool {
        let named = || self.procedure.iter().any(|own| own.value == LEAK_TEST);
        self.kind.value == StepKind::Test && (named() || self.title.value.to_lowercase().contains("leak"))
    }
}

impl StepEntry {
    /// An entry that says nothing but its id.
    #[must_use]
    pub const fn named(id: Spanned<String>) -> Self {
        Self {
            span: id.span,
            id,
            title: None,
            kind: None,
            joints: Vec::new(),
            to: None,
            parts: Vec::new(),
            text: None,
            drawings: Vec::new(),
            manual: Vec::new(),
            tools: Vec::new(),
            uses: Vec::new(),
            needs: Vec::new(),
            sets: Vec::new(),
            undoes: Vec::new(),
            during: Vec::new(),
            spaces: Vec::new(),
            closes: Vec::new(),
            opens: Vec::new(),
            cure: None,
            cure_latest: None,
            hold: None,
            witness: None,
            stage: None,
            fit: None,
            records: Vec::new(),
            cautions: Vec::new(),
            photo: None,
            helper: None,
            minutes: None,
            procedure: Vec::new(),
            before: None,
            behind: None,
            omit: None,
            because: None,
        }
    }

    /// The step, where the entry is written in full.
    #[must_use]
    pub fn complete(self) -> Option<StepSpec> {
        let title = self.title.clone()?.ok()?;
        let kind = self.kind?.ok()?;
        let helper = self.helper.unwrap_or(Spanned { value: false, span: self.span });
        Some(StepSpec { entry: self, title, kind, helper })
    }

    /// The keys without which it is no step, in the order of the format, with their sentences.
    #[must_use]
    pub fn missing(&self) -> Vec<(&'static str, String)> {
        let absent = [("title", self.title.is_none()), ("do", self.kind.is_none())];
        let keys = absent.into_iter().filter(|(_, is_absent)| *is_absent);
        keys.filter_map(|(name, _)| Some((name, <Self as super::read::Entry>::SECTION.key(name)?.sentence()))).collect()
    }
}

/// The reading that a step names, as step and record: its own by the record's id alone (no step then), else `step/record`.
#[must_use]
pub fn named_reading(name: &str, is_own: impl Fn(&str) -> bool) -> Option<(Option<&str>, &str)> {
    if is_own(name) {
        return Some((None, name));
    }
    let (step, record) = name.rsplit_once('/')?;
    Some((Some(step.trim()), record.trim()))
}

/// How far from which other reading, of `0.06 of left`.
#[must_use]
pub fn parse_within(text: &str) -> Option<(units::Decimal, &str)> {
    let (most, other) = text.split_once(" of ")?;
    let most = units::Decimal::parse(most).ok().filter(|most| most.micro() >= 0)?;
    Some((most, other.trim())).filter(|(_, other)| !other.is_empty())
}

fn check_limits(record: &Record, reading: &mut Reading) {
    if let Some(within) = record.within.as_ref().filter(|within| parse_within(&within.value).is_none()) {
        let message = format!("`within` is `{}`, which is not a number and another reading", within.value);
        reading.invalid(within.span, message).help =
            Some("write it as `0.06 of left`, in the unit of both readings".into());
    }
    if let (Some(low), Some(high)) = (&record.min, &record.max)
        && low.value > high.value
    {
        let message = format!("`min` is {}, above `max` at {}: no reading passes", low.value, high.value);
        reading.invalid(low.span, message);
    }
}
