//! The keys of evening files and of `progress.toml`: what the pen marks on the paper say, typed in by hand.
//!
//! One language for both. A fault in one entry leaves that entry out, and the rest is still read; whether an evening
//! with a fault may be entered is said elsewhere. Nothing is resolved here.

mod boxes;
mod form;
mod name;
mod written;

pub use boxes::{BoxName, box_key, named_box};
pub use form::{Marks, Readings, Steps, StopsWord};
pub use name::{StepFault, StepName, named_steps};
pub use written::WrittenEntry;

use super::form::{Count, Filled, Flag, Id, Tables, Text, Texts, ValueMap, When, Word};
use super::list::section;
use crate::words::{Capacity, Class, Disposition, Hand, WaitFor};

section! {
    /// A file of an evening, and `progress.toml`. What stands at its top holds for every entry that does not say otherwise.
    EveningSpec = "" {
        /// Initials of whoever signs.
        by "by": may Filled => apart,
        /// Day of the work. A date alone counts as the end of that day when something cures. Absent: today.
        on "on": may When => apart,
        /// Initials of those who helped with all of it.
        helpers "helpers": may Texts => apart,
        /// Minutes of work on all of it together: shared evenly among the steps whose entries give none.
        minutes "minutes": may Count<1> => apart,
        /// Where the work was done.
        place "place": may Filled => apart,
        /// Signatures: steps that were done, holds that were released, stages that were signed.
        sign "sign" was "done": any Tables<SignSpec> => apart,
        /// Steps that are begun and not signed off. In `progress.toml` only.
        started "started": any Tables<StartedSpec> => apart,
        /// Steps that cannot go on until an answer, a person or a delivery comes. In `progress.toml` only.
        waiting "waiting": any Tables<WaitingSpec> => apart,
        /// Discrepancies that were found; an open one stops what it says.
        discrepancy "discrepancy": any Tables<DiscrepancySpec> => apart,
        /// Discrepancies that were decided and dealt with.
        close "close": any Tables<CloseSpec> => apart,
        /// Visits. In the archive only, as all that follows.
        visit "visit": any Tables<VisitSpec> => apart,
        /// Answers to what a visitor found.
        answer "answer": any Tables<AnswerSpec> => apart,
        /// Lines of entries that were wrong.
        correct "correct": any Tables<CorrectSpec> => apart,
        /// Entries that no longer count.
        strike "strike": any Tables<StrikeSpec> => apart,
        /// Change notes that were read.
        read "read": any Tables<SheetSpec> => apart,
        /// Replaced sheets that were marked and taken off the bench.
        mark "mark": any Tables<SheetSpec> => apart,
        /// Sheets whose paper cannot be found.
        lost "lost": any Tables<SheetSpec> => apart,
        /// Sheets that no longer count, and none takes their place.
        void "void": any Tables<SheetSpec> => apart,
    }

    /// One signature on each of its steps. It needs `traveler`, `sheet`, or steps written `TRAVELER/step`.
    SignSpec = "sign" {
        /// The traveler whose sheet is in force.
        traveler "traveler": may Id => apart,
        /// The hand, where the traveler is built in two. In `progress.toml` absent: both.
        hand "hand": may Word<Hand> => apart,
        /// Code of the sheet, in the place of traveler and hand.
        sheet "sheet": may Id => apart,
        /// The steps: numbers as printed or ids, ranges of them (`"010..070"`, `"040.."`), or a list.
        steps "steps" also "step": need Steps => apart,
        /// Steps of those that were not done.
        except "except": any Steps => apart,
        /// What the signature is for. Absent: the work was done, or a stage where one or an outcome is given.
        capacity "for": may Word<Capacity> => apart,
        /// Id of the stage, where the step has more than one.
        stage "stage": may Id => apart,
        /// The outcome of a stage, in the words of the project.
        outcome "outcome": may Filled => apart,
        /// In which role. Absent: the first of the signer's that fits.
        role "role": may Id => apart,
        /// Initials, where others than those at the top.
        by "by": may Filled => apart,
        /// What stands in the fields beside the box, by their names.
        asked "asked": any ValueMap => apart,
        /// Day of the work, where another than that at the top.
        on "on": may When => apart,
        /// Minutes of work; of several steps, shared evenly among them.
        minutes "minutes": may Count<1> => apart,
        /// Initials of those who helped.
        helpers "helpers": may Texts => apart,
        /// Initials of those who helped for pay.
        paid_helpers "paid-helpers": any Texts => apart,
        /// Readings by the number beside the box (`060.1`), by `step/record`, or, where only one of the steps has it, by the
        /// record's id or label. `"N/A"` where there was nothing to measure.
        readings "readings" was "values": any Readings => apart,
        /// Numbers of photos. Of one step, as the three that follow.
        photos "photos": any Marks => apart,
        /// Numbers of discrepancies that stand in the margin.
        discrepancies "discrepancies": any Marks => apart,
        /// What was fitted, where the plans leave a choice.
        as_built "as-built": any Texts => apart,
        /// From what a signature of a lost sheet is put together again.
        reconstructed_from "reconstructed-from": may Filled => apart,
        /// Where the work was done, where elsewhere than the top says.
        place "place": may Filled => apart,
        /// Anything else.
        note "note": may Filled => apart,
        /// Why a space is closed although something is left in it.
        despite "despite": may Filled => apart,
        /// Why it is signed although a step before it is open, a cure runs or a discrepancy stops it.
        because "because": may Filled => apart,
    }

    /// Steps that are begun.
    StartedSpec = "started" {
        /// The traveler.
        traveler "traveler": may Id => apart,
        /// The hand. Absent: every hand that the traveler is built in.
        hand "hand": may Word<Hand> => apart,
        /// The steps, as in `[[sign]]`.
        steps "steps" also "step": need Steps => apart,
        /// When they were begun. Absent: as at the top.
        on "on": may When => apart,
        /// Where the work stopped, and what comes next.
        note "note": may Text => apart,
    }

    /// Steps that cannot go on.
    WaitingSpec = "waiting" {
        /// The traveler.
        traveler "traveler": may Id => apart,
        /// The hand. Absent: every hand that the traveler is built in.
        hand "hand": may Word<Hand> => apart,
        /// The steps, as in `[[sign]]`. A whole job waits by `wait` under `[board]` of `build.toml`.
        steps "steps" also "step": need Steps => apart,
        /// What they wait for.
        wait "for": need Word<WaitFor> => apart,
        /// Who or what, in words.
        what "what": need Filled => apart,
        /// Since when.
        since "since": may When => apart,
        /// When the wait is over; from then on it no longer holds the step.
        until "until": may When => apart,
    }

    /// One discrepancy.
    DiscrepancySpec = "discrepancy" {
        /// Its number, as written in the margin. Absent: the next one; in `progress.toml` it is needed.
        number "number" was "id": may Id => apart,
        /// What is wrong, in words.
        what "what": need Filled => apart,
        /// What should be.
        should_be "should-be": may Filled => apart,
        /// What is.
        is "is": may Filled => apart,
        /// The traveler at whose step it was found.
        traveler "traveler": may Id => apart,
        /// The hand.
        hand "hand": may Word<Hand> => apart,
        /// Code of the sheet, in the place of traveler and hand.
        sheet "sheet": may Id => apart,
        /// The step: its number as printed, its id, or `TRAVELER/step`.
        step "step": any Steps => apart,
        /// The space.
        space "space" also "zone": may Id => apart,
        /// The joint; another traveler's as the step names it, `FUS-10/J2`.
        joint "joint": may Id => apart,
        /// How far it stops the work. Absent: the step.
        stops "stops": may StopsWord => apart,
        /// How much it weighs. Absent: major.
        class "class" also "weight": may Word<Class> => apart,
        /// Numbers of photos.
        photos "photos": any Marks => apart,
        /// Who found it.
        by "by": may Filled => apart,
        /// When.
        on "on" was "opened": may When => apart,
    }

    /// One discrepancy that was decided and dealt with.
    CloseSpec = "close" {
        /// Its number.
        discrepancy "discrepancy": need Id => apart,
        /// What was decided.
        disposition "disposition": need Word<Disposition> => apart,
        /// On whose word.
        authority "authority": need Filled => apart,
        /// Letter, table or paragraph.
        reference "reference": may Filled => apart,
        /// Values read afterwards.
        after "after": any ValueMap => apart,
        /// What was fitted or changed for good.
        as_built "as-built": any Texts => apart,
        /// Initials.
        by "by": may Filled => apart,
        /// Day.
        on "on": may When => apart,
        /// Who looked at it.
        looked_at_by "looked-at-by": may Filled => apart,
    }

    /// A line of an entry that was wrong.
    CorrectSpec = "correct" {
        /// Number of the entry.
        entry "entry": need Count<1> => apart,
        /// Key of the line; of a reading, `reading` and its id.
        field "field": need Filled => apart,
        /// What holds. Absent: nothing.
        now "now": may Filled => apart,
        /// Initials.
        by "by": may Filled => apart,
        /// Day.
        on "on": may When => apart,
        /// Why.
        because "because": need Filled => apart,
    }

    /// An entry that no longer counts.
    StrikeSpec = "strike" {
        /// Number of the entry.
        entry "entry": need Count<1> => apart,
        /// Initials.
        by "by": may Filled => apart,
        /// Day.
        on "on": may When => apart,
        /// Why.
        because "because": need Filled => apart,
    }

    /// Somebody came to look.
    VisitSpec = "visit" {
        /// Initials of the visitor.
        by "by": may Filled => apart,
        /// In which role. Absent: the visitor's first.
        role "role": may Id => apart,
        /// Day.
        on "on": may When => apart,
        /// Spaces that were open.
        spaces "spaces" also "zones": any Texts => apart,
        /// The visitor's own report number.
        reference "reference": may Filled => apart,
        /// Anything else.
        note "note": may Filled => apart,
        /// What was found.
        finding "finding": any Tables<FindingSpec> => apart,
    }

    /// What a visitor found.
    FindingSpec = "finding" {
        /// Number on the visit's page. Absent: counted.
        number "number": any Marks => apart,
        /// What, in the visitor's words.
        what "what": need Filled => apart,
        /// The space.
        space "space" also "zone": may Id => apart,
        /// The traveler.
        traveler "traveler": may Id => apart,
        /// What the visitor suggests.
        suggested "suggested": may Filled => apart,
        /// Whether it must be dealt with before the space closes. Absent: yes. Such a finding opens a discrepancy.
        before_close "before-close": may Flag => apart,
    }

    /// The answer to what a visitor found.
    AnswerSpec = "answer" {
        /// Entry of the finding.
        finding "finding": need Count<1> => apart,
        /// What was done.
        answer "answer": need Filled => apart,
        /// Initials.
        by "by": may Filled => apart,
        /// Day.
        on "on": may When => apart,
    }

    /// What became of the paper of one sheet.
    SheetSpec = "sheet" {
        /// Code of the sheet.
        sheet "sheet": need Id => apart,
        /// Initials.
        by "by": may Filled => apart,
        /// Day.
        on "on": may When => apart,
        /// Why; for lost and void.
        because "because": may Filled => apart,
        /// Pages counted; for mark.
        pages "pages": may Count<1> => apart,
    }
}

impl EveningSpec {
    /// Whether it has no entry, perhaps because none could be read.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        let sheets = [&self.read, &self.mark, &self.lost, &self.void];
        let found = self.discrepancy.len() + self.close.len() + self.visit.len() + self.answer.len();
        let said = self.correct.len() + self.strike.len() + sheets.iter().map(|own| own.len()).sum::<usize>();
        self.sign.len() + self.started.len() + self.waiting.len() + found + said == 0
    }
}

/// Minutes shared evenly among steps: whole ones, the first steps take what is left over.
pub fn shared(minutes: u32, steps: usize) -> impl Iterator<Item = u32> {
    let count = u32::try_from(steps).unwrap_or(u32::MAX).max(1);
    (0..count).map(move |nth| minutes / count + u32::from(nth < minutes % count))
}
