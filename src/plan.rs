//! PLAN: what stands on paper, as plain data: every count, size, total and word decided before anything is drawn.
//!
//! One document a file or folder; what several of them say of a joint, a torque or a reading stands beside them. It prints
//! verdicts and makes none. It reads no clock.

mod act;
mod board;
mod book;
mod decided;
mod discrepancy;
mod document;
mod drawings;
mod holders;
mod hole;
mod joint;
mod last_look;
mod measured;
mod named;
mod notice;
mod packet;
mod pick;
mod room;
mod said;
mod spare;
mod tall;
mod told;
mod torque;
mod visit;
mod whereabouts;

pub use board::{
    Batch, Board, BoardOptions, Counts, DiscrepancyLine, JobRow, JobState, Row, SheetInForce, Tonight, WaitKind,
    WaitLine, WaitingRow, board,
};
pub use book::{
    AllSheets, Assembly, Book, BookFacts, BookLine, BuiltJoint, DiscrepancyEntry, FileLine, Person, Shown, TaskLine,
    Tasks, VisitEntry, book,
};
pub use discrepancy::{
    BlankRow, Check, DiscrepancySheet, DiscrepancySubject, Earlier, HoleSet, NextRivet, Share, blank_discrepancy,
    discrepancy_of,
};
pub use document::{Document, Edition, Frame, Pieces, Thumbnail, Thumbnails};
pub use drawings::{BenchLine, CitedLine, DrawingIndex, SheetLine, drawing_index};
pub use joint::LayerLine;
pub use last_look::{LastLook, LookRow};
pub use notice::{Bundle, Notice, NoticeFacts, NoticeSheet, Part, bundles, notice};
pub use packet::{
    AtPrinting, BenchPage, BenchPrint, Caution, ChangePages, Changed, CloseOut, Cover, Cure, Departure, DrawingLine,
    Figures, HandText, HardwareLine, Head, HistoryLine, JointFigures, JointLayer, JointSheet, LeftOpen, NextSize,
    OpenNow, Options, Packet, PartLine, Point, Preparation, RecordLine, Refused, Run, Rung, Runs, Sign, Signatory,
    Signed, Source, SpaceSteps, StepJoint, StepRun, StepSheet, StripSheet, TemporaryLine, ToolLine, TravelerLine, Use,
    WeakenedLine, change_pages, in_words, next_session, packet, packet_of_both, packets, pieces_of, pieces_of_both,
    print_of_layout, section_of, values,
};
pub use pick::{Choice, HolderLine, PickLine, PickList, PickUse, PiecesLine, pick_list};
pub use said::Piece;
pub use tall::{PrintForm, Suspect, TooTall, suspects, tall_steps};
pub use torque::{Setting, TorqueStrip};
pub use visit::{
    BoltLook, DiscrepancyLook, DrawingInForce, LeftKind, LeftLine, LookJoint, PhotoLine, ReadingLine, ReadingVerdict,
    Recorded, Since, SpaceLine, SpaceLook, StageLine, Tone, VisitChoice, VisitPacket, Visitor, visit,
};
pub use whereabouts::{JointWhere, MarkedPicture, PlacedMark, Whereabouts, whereabouts};
