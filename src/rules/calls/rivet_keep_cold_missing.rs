//! # rivet-keep-cold-missing
//!
//! ## What it checks
//! Where the project leaves the built-in caution `keep-cold` out, each step that drives DD rivets, or D rivets over 3/16,
//! names it. Without such an entry the caution stands at these steps by itself.
//!
//! ## Why it matters
//! These alloys harden at room temperature after heat treatment. Driven late they crack; so they are kept cold and driven
//! at once.
//!
//! ## Source
//! - `AC-4-57d` AC 43.13-1B, par. 4-57d: keep cold until driven (should); from memory, grade C.
//!
//! ## Example that fires
//! ```toml
//! [[joint]]
//! id = "J1"
//! fastener = "MS20470DD5-8"
//! [[step]]
//! do = "rivet"
//! joints = ["J1"]               # in build.toml: [[caution]] id = "keep-cold", omit = true
//! ```
//!
//! ## How to put it right
//! Take the entry out of build.toml, or add `cautions = ["keep-cold"]` to the step.
//!
//! ## When to allow it
//! When the rivets come in another condition, and their papers say so.

use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{from_memory, solid};
use crate::rules::{At, Check, Looks, Sink};

/// Id of the caution that says: keep cold, drive at once.
const CAUTION: &str = "keep-cold";

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, at: &At<'_>, sink: &mut Sink<'_>) {
    if at.job.project.cautions.rules.iter().any(|rule| rule.id == CAUTION) {
        return;
    }
    let Some(alloy) = solid(joint).filter(|rivet| rivet.is_kept_cold()).and_then(|rivet| rivet.alloy) else { return };
    for fastened in joint.fastenings() {
        if at.job.step(fastened.at).cautions.iter().any(|caution| caution.value == CAUTION) {
            continue;
        }
        let message = format!(
            "step {} drives {} of {}, and the project leaves the caution `{CAUTION}` out",
            at.step_name(fastened.at),
            joint.call,
            alloy.alloy
        );
        let finding = sink
            .warning(fastened.span, message)
            .label(joint.spec.fastener.span, format!("{}, kept cold until driven", alloy.alloy));
        sink.push(
            finding
                .source(from_memory("AC-4-57d"))
                .help(format!("add `cautions = [\"{CAUTION}\"]` to the step, or take the entry out of build.toml")),
        );
    }
}
