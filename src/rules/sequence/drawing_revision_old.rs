//! # drawing-revision-old
//!
//! ## What it checks
//! Every `SHEET:REVISION` of a traveler's `drawings` is the revision that the project's drawing register says is current. A sheet without its
//! revision is a warning: nothing then tells when it changes.
//!
//! ## Why it matters
//! A traveler written against an old sheet prints holes and parts that the designer has changed since.
//!
//! ## Source
//! - `practice` shop practice of this project: the register is the one place that says which revision counts.
//!
//! ## Example that fires
//! ```toml
//! # build.toml: [[drawing]] sheet = "W-210", revision = "C"
//! [traveler]
//! drawings = ["W-210:B"]
//! ```
//!
//! ## How to put it right
//! Compare the spec with the current sheet, change what the sheet changed, then write the current revision.
//!
//! ## When to allow it
//! When this aircraft is built to the older revision on purpose, with the designer's word; say whose.

use crate::job::Traveler;
use crate::report::Severity;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Traveler(look) };

fn look(traveler: &Traveler, at: &At<'_>, sink: &mut Sink<'_>) {
    for drawing in &traveler.drawings {
        // A sheet that the register does not have is reported where references are followed.
        let Some(current) = drawing.register.map(|index| &at.job.project.drawings[index]) else { continue };
        let Some(written) = &drawing.revision else {
            let now = current.revision.value.trim();
            let message = format!("{} is named without the revision that the spec was written against", drawing.sheet);
            let finding = sink.warning(drawing.span, message).label(current.revision.span, "the current revision");
            sink.push(finding.help(format!("compare the spec with the sheet, then write \"{}:{now}\"", drawing.sheet)));
            continue;
        };
        let now = current.revision.value.trim();
        if written.eq_ignore_ascii_case(now) {
            continue;
        }
        let message =
            format!("written against {} revision {written}, but the register says revision {now}", drawing.sheet);
        let finding = sink.error(drawing.span, message).label(current.revision.span, "the current revision");
        sink.push(
            finding.help(format!("compare the spec with revision {now}, then write \"{}:{now}\"", drawing.sheet)),
        );
    }
}
