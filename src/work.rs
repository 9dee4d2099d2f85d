//! STAND: what the work requires, and how it stands: what is done, what a change does to it, what is ready, open, closing.
//!
//! It reads specs and archive and writes neither; it reads no clock. How any of it is laid out on paper is for the
//! plan; a difference, a reason and a limit are put into words here, once for paper, messages and data alike.

mod against;
mod before_closing;
mod change;
mod ledger;
mod needs;
mod out_of_order;
mod readiness;
mod requirement;
mod space;
mod stage;
mod state;

pub use against::Stages;
pub use before_closing::{find_item, left_before_closing, open_under_hold};
pub use change::{
    Archived, Difference, DoneBy, Measured, Renamed, SheetChange, StepChange, Thing, Touched, TouchedStep, Unread,
    Verdict, changes, outdated_sheets, register_touches, set_here, tell_what_to_read, unread,
};
pub use ledger::{
    Held, LastChance, LedgerLine, LookLine, OpenCounts, OpenDiscrepancy, chances_by_space, last_chances,
    last_chances_of, ledger, open_counts,
};
pub use needs::{GUESSED_MINUTES, Need, Needs, Shelf, counted_as, shelf_name, taken};
pub use out_of_order::against_signing;
pub use readiness::{Condition, Readiness, Wait};
pub use requirement::{
    packet_digest, reading_label, sheet_requirement, sheet_requirement_as, sheet_to_print, step_digest, step_digests,
    unit_as_read,
};
pub use space::{Access, Reopening, Spaces};
pub use stage::{stage_facts, stage_items, stage_missing};
pub use state::{with_opened, work_state};
