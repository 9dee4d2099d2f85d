//! FACING THE REST OF THE BUILD: what a packet says about the state of the work: what of it is open now, and what must
//! be looked at before its closing steps.
//!
//! It is right on the day of printing, and the page says so; the boxes beside the numbers are for the days after.

use serde::Serialize;

use super::Packet;
use crate::job::{Hand, Item, Job, Order, State, StepRef};
use crate::units::counted;
use crate::work::{LastChance, OpenCounts, last_chances, open_counts};

/// The whole build as packets look at it: made once for all packets of a run.
#[derive(Debug)]
pub struct Facing<'a> {
    job: &'a Job,
    state: &'a State,
    chances: Vec<LastChance>,
}

/// What is open in one packet on the day of printing.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct OpenNow {
    /// Temporary hardware, open holes, fasteners put off, nuts not torqued.
    #[serde(flatten)]
    pub counts: OpenCounts,
    /// Open discrepancies of its steps: number and what is wrong.
    pub discrepancies: Vec<String>,
}

impl<'a> Facing<'a> {
    /// The build at one state of the work.
    #[must_use]
    pub fn of(job: &'a Job, order: &Order, state: &'a State) -> Self {
        Self { job, state, chances: last_chances(job, order, state) }
    }

    fn open_now(&self, traveler: usize, hand: Option<Hand>) -> OpenNow {
        let own = self
            .state
            .open_discrepancies()
            .filter(|one| one.items.iter().any(|item| item.at.traveler == traveler && item.hand == hand));
        OpenNow {
            counts: open_counts(self.job, self.state, traveler, hand),
            discrepancies: own.map(|one| format!("{}: {}", one.id, one.what)).collect(),
        }
    }
}

impl OpenNow {
    /// Everything that is open, in a few words; nothing where nothing is.
    #[must_use]
    pub fn words(&self) -> Option<String> {
        let OpenCounts { temporary, left_open, put_off, not_torqued } = self.counts;
        let discrepancies = u32::try_from(self.discrepancies.len()).unwrap_or(u32::MAX);
        let all = [
            (temporary, counted(temporary, "temporary fastener", "temporary fasteners")),
            (left_open, counted(left_open, "hole left open", "holes left open")),
            (put_off, counted(put_off, "fastener put off", "fasteners put off")),
            (not_torqued, counted(not_torqued, "nut not torqued", "nuts not torqued")),
            (discrepancies, counted(discrepancies, "discrepancy", "discrepancies")),
        ];
        let open: Vec<String> = all.into_iter().filter(|(count, _)| *count > 0).map(|(_, words)| words).collect();
        (!open.is_empty()).then(|| open.join(", "))
    }
}

impl Packet {
    /// Prints what is open now, and the last look at each closing step, onto the packet of one traveler and hand.
    ///
    /// # Panics
    /// When the job has no traveler of that index.
    pub fn mark_open(&mut self, facing: &Facing<'_>, index: usize, hand: Option<Hand>) {
        let open = facing.open_now(index, hand);
        self.head.open = open.words();
        self.cover.open_now = Some(open);
        let traveler = &facing.job.travelers[index];
        for (step, sheet) in self.steps.iter_mut().enumerate() {
            let item = Item { at: StepRef { traveler: index, step }, hand };
            let own = facing.state.open_discrepancies().filter(|one| one.items.contains(&item));
            sheet.discrepancies = own.map(|one| format!("{}: {}", one.id, one.what)).collect();
            sheet.short &= sheet.discrepancies.is_empty();
            if traveler.steps[step].closes.is_empty() {
                continue;
            }
            let name = facing.job.item_name(item);
            sheet.last_chances =
                facing.chances.iter().filter(|chance| chance.closes == name && !chance.closed).cloned().collect();
            sheet.short = false;
        }
    }
}
