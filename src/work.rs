//! STAND: what the work requires, and how it stands: what is done, what a change does to it, what is ready, open, closing.
//!
//! It reads specs and archive and writes neither; it reads no clock. How any of it is worded or laid out on paper is
//! for the plan.

mod change;
mod closing;
mod ledger;
mod needs;
mod readiness;
mod requirement;
mod stand;

pub use change::{
    Access, Archived, Difference, DoneBy, Measured, Reopening, SheetChange, StepChange, Touched, TouchedStep, Verdict,
    access, changes, closing_signatures, difference_words, outdated_sheets, register_touches, shown,
};
pub use closing::{find_item, left_before_closing};
pub use ledger::{
    Held, LastChance, LedgerLine, LookLine, OpenCounts, OpenDiscrepancy, chances_by_space, last_chances,
    last_chances_of, ledger, open_counts,
};
pub use needs::{Need, Needs, Shelf, counted_as};
pub use readiness::{Condition, Readiness, Wait};
pub use requirement::{packet_digest, sheet_requirement, step_digest, step_requirement};
pub use stand::{with_opened, work_state};
