//! WHAT IS OPEN at printing: temporary hardware, holes, discrepancies of a packet, and what must be looked at before its
//! closing steps.
//!
//! It is right on the day of printing, and the page says so; the boxes beside the numbers are for the days after.

use serde::Serialize;

use super::source::Source;
use crate::job::Discrepancy;
use crate::phrase::say_count;
use crate::plan::last_look::{self, LastLook};
use crate::work::{OpenCounts, open_counts};

/// What is open in one packet on the day of printing.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct OpenNow {
    /// The hand, on a packet of both.
    pub hand: Option<&'static str>,
    /// Temporary hardware, open holes, fasteners put off, nuts not torqued.
    #[serde(flatten)]
    pub counts: OpenCounts,
    /// Open discrepancies of its steps: number and what is wrong.
    pub discrepancies: Vec<String>,
}

/// What is open in a packet, where the state of the work is known.
pub(super) fn open_now(source: Source<'_>) -> Option<OpenNow> {
    let state = source.work?.state;
    let concerns =
        |one: &&Discrepancy| one.items.iter().any(|item| item.at.traveler == source.index && item.hand == source.hand);
    Some(OpenNow {
        hand: None,
        counts: open_counts(source.job, state, source.index, source.hand),
        discrepancies: state.open_discrepancies().filter(concerns).map(words).collect(),
    })
}

/// The open discrepancies of a step.
pub(super) fn discrepancies(source: Source<'_>, step: usize) -> Vec<String> {
    let open = source.work.into_iter().flat_map(|work| work.state.open_discrepancies());
    open.filter(|one| one.items.contains(&source.item(step))).map(words).collect()
}

fn words(discrepancy: &Discrepancy) -> String {
    format!("{}: {}", discrepancy.id, discrepancy.what)
}

/// The last look before what a step closes, as long as it is open.
pub(super) fn last_looks(source: Source<'_>, step: usize) -> Vec<LastLook> {
    let closing = source.item(step);
    let looks = source.work.into_iter().flat_map(|work| &work.looks);
    looks
        .filter(|(by, chance)| *by == closing && !chance.closed)
        .map(|(_, chance)| last_look::at_step(chance))
        .collect()
}

impl OpenNow {
    /// Everything that is open, in a few words; nothing where nothing is.
    #[must_use]
    pub fn words(&self) -> Option<String> {
        let OpenCounts { temporary, left_open, put_off, not_torqued } = self.counts;
        let discrepancies = self.discrepancies.len();
        let all = [
            (temporary > 0, say_count!(temporary, "{n} temporary fastener", "{n} temporary fasteners")),
            (left_open > 0, say_count!(left_open, "{n} hole left open", "{n} holes left open")),
            (put_off > 0, say_count!(put_off, "{n} fastener put off", "{n} fasteners put off")),
            (not_torqued > 0, say_count!(not_torqued, "{n} nut not torqued", "{n} nuts not torqued")),
            (discrepancies > 0, say_count!(discrepancies, "{n} discrepancy", "{n} discrepancies")),
        ];
        let open: Vec<String> = all.into_iter().filter(|(is_any, _)| *is_any).map(|(_, words)| words).collect();
        (!open.is_empty()).then(|| open.join(", "))
    }
}
