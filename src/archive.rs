//! ARCHIVE: issued sheets, signatures, files, discrepancies, visits: an append-only ledger of small text files, and
//! the files that it names.
//!
//! Nothing that was recorded is ever rewritten; a correction is a new record. The archive stores bytes and facts and
//! says whether they are still whole. It does not know the specs, draws no page and reads no clock.

#[macro_use]
mod kind;
mod blob;
mod enter;
mod entry;
mod entry_line;
mod failure;
mod folder;
mod head;
mod line;
mod named;
mod names;
mod older;
mod page;
mod record;
mod requirement;
mod sign;
mod stage;
mod state;
mod store;
mod value;
mod verify;
mod writer;

pub use blob::NewBlob;
pub use enter::{EnterFacts, Entered, OpenBox, TodayStep, enter, open_boxes, sheets_meant};
pub use entry::{
    Added, Answered, Begun, Corrected, DiscrepancyClosed, DiscrepancyOpened, Entry, Finding, Imported, Issued, KINDS,
    Lost, Noticed, ReadThrough, Renamed, Reprinted, Signed, Struck, Superseded, Visited, Voided,
};
pub use failure::Failure;
pub use folder::{LOCK, README};
pub use head::Head;
pub use kind::{KindForm, LineForm, Often};
pub use line::{Lines, Reader, TextFault};
pub use named::At;
pub use page::explain_archive;
pub use record::{Posting, PostingForm, Record};
pub use requirement::{
    About, Aspect, ComparedFacts, Fact, FactValue, Form, KitSide, LayerFacts, Limits, NO_UNIT, PartFacts, RecordSide,
    Scope, SheetRequirement, Side, SpaceUse, StepRequirement, exact_value, fact_lines, shown_name, shown_value,
};
pub use sign::{NOT_APPLICABLE, RoleFacts, SignerFacts, Signings, correct, sign, strike};
pub use stage::{StageFacts, StageStanding};
pub use state::{Aircraft, Basis, Discrepancy, Issue, Print, Signature, Standing, State, Visit};
pub use store::Archive;
pub use value::{
    BlobRef, Capacity, Carried, Carry, Cause, Class, Disposition, EntryNumber, IssuedStep, KeptPage, Reading, Stops,
    Value,
};
pub use verify::{Flaw, FlawKind, Posted, Survey};
pub use writer::{NewPosting, Writer};
