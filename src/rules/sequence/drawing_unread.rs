//! # drawing-unread
//!
//! ## What it checks
//! Every sheet of the drawing register is cited by some traveler's `drawings` or by some step's `drawings`.
//!
//! ## Why it matters
//! A sheet that no traveler cites is work that nobody has written down yet, or a note that nobody has read.
//!
//! ## Source
//! - `practice` shop practice of this project: the register and the travelers are read against each other.
//!
//! ## Example that fires
//! ```toml
//! [[drawing]]
//! sheet = "W-299"      # and no traveler names it
//! revision = "A"
//! ```
//!
//! ## How to put it right
//! Name the sheet in the traveler that it belongs to. A general-notes sheet belongs to every traveler that follows it.
//!
//! ## When to allow it
//! Never: a note about the project as a whole stops nothing.

use std::collections::BTreeSet;

use crate::job::Job;
use crate::report::Severity;
use crate::rules::{Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Note, looks: Looks::Job(look) };

fn look(job: &Job, sink: &mut Sink<'_>) {
    let cited = job.travelers.iter().flat_map(|traveler| &traveler.drawings).map(|drawing| drawing.sheet.as_str());
    let steps = job.travelers.iter().flat_map(|traveler| &traveler.steps);
    let views = steps.flat_map(|step| &step.drawings).map(|view| crate::job::sheet_of_view(&view.value));
    let read: BTreeSet<&str> = cited.chain(views).collect();
    for drawing in job.project.drawings.iter().filter(|drawing| !read.contains(drawing.sheet.value.as_str())) {
        let title = drawing.title.as_ref().map(|title| format!(" ({})", title.value)).unwrap_or_default();
        let message = format!("no traveler cites sheet {}{title}", drawing.sheet.value);
        sink.push(
            sink.note(drawing.sheet.span, message).help("name it in the `drawings` of the traveler that it belongs to"),
        );
    }
}
