//! # part-unused
//!
//! ## What it checks
//! Every part is a layer of some joint's stack or is named by some step.
//!
//! ## Why it matters
//! A part that no joint and no step uses is either forgotten work or a part number with a slip in it.
//!
//! ## Source
//! - `completeness` completeness of the spec: every part that is listed is also used.
//!
//! ## Example that fires
//! ```toml
//! [[part]]
//! id = "WNG-219"     # in no `stack` and in no step's `parts`
//! name = "Shim"
//! ```
//!
//! ## How to put it right
//! Put the part into the stack it belongs to or into the step that fits it, or take it out.
//!
//! ## When to allow it
//! When a part only travels along in the bag, for a later assembly.

use crate::job::Traveler;
use crate::report::{Place, Severity};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Traveler(look) };

fn look(traveler: &Traveler, _: &At<'_>, sink: &mut Sink<'_>) {
    let in_stacks = traveler.joints.iter().flat_map(|joint| &joint.layers).filter_map(|layer| layer.part);
    let in_steps = traveler.steps.iter().flat_map(|step| &step.parts).map(|part| part.value);
    let mut used = vec![false; traveler.parts.len()];
    for index in in_stacks.chain(in_steps) {
        used[index] = true;
    }
    for (part, _) in traveler.parts.iter().zip(used).filter(|(_, used)| !used) {
        let message = format!("part {} ({}) is in no stack and in no step", part.id.value, part.name.value);
        let finding = sink
            .warning(part.id.span, message)
            .help("add it to a joint's `stack` or to a step's `parts`, or take it out");
        sink.push_about(Place { part: Some(part.id.value.clone()), ..Place::default() }, finding);
    }
}
