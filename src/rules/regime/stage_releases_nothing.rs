//! # stage-releases-nothing
//!
//! ## What it checks
//! A stage says under `releases` which space or traveler it is about. Without, it only stops the next step, as a `hold`
//! does: a note; with `outcomes` it is a warning, because nothing else depends on what is written down.
//!
//! ## Why it matters
//! What a stage releases says which steps must be done before it may be signed, and what the visit packet lists.
//!
//! ## Source
//! - `practice` shop practice of this project: a stage names what is looked at.
//!
//! ## Example that fires
//! ```toml
//! [[stage]]
//! id = "S1"
//! name = "Ribs before the skin"
//! sign = { all = ["inspector"] }
//! outcomes = ["released", "refused"]     # and no `releases`
//! ```
//!
//! ## How to put it right
//! Add `releases` with the ids of spaces or travelers, or use `hold` at the step.
//!
//! ## When to allow it
//! Never needed: where several persons sign and nothing more is meant, leave the note as it is.

use crate::job::Job;
use crate::report::Severity;
use crate::rules::{Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Job(look) };

fn look(job: &Job, sink: &mut Sink<'_>) {
    for (index, stage) in job.project.stages.iter().enumerate() {
        let is_space = |space: usize| job.stages_of_space(space).contains(&index);
        if !stage.spec.releases.is_empty() || (0..job.project.spaces.len()).any(is_space) {
            continue;
        }
        let id = &stage.id.value;
        let finding = if stage.outcomes.is_empty() {
            sink.note(stage.id.span, format!("stage {id} releases nothing: it stops the next step, as a hold does"))
        } else {
            sink.warning(stage.id.span, format!("stage {id} has outcomes and releases nothing"))
        };
        sink.push(finding.help("add `releases` with the ids of the spaces or travelers that it is about"));
    }
}
