//! # tank-untested
//!
//! ## What it checks
//! Before a step closes a space with `holds = "fuel"`, a step of its traveler tests it: one with `do = "test"`, or one
//! whose title speaks of a test or a leak. A step that names other spaces alone tests those.
//!
//! ## Why it matters
//! A leak that is found with the wing on is drained, opened and sealed from the wrong side.
//!
//! ## Source
//! - `common-practice` common practice: a tank is tested with air or fuel before it is covered.
//!
//! ## Example that fires
//! ```toml
//! # build.toml: [[space]] id = "tank", holds = "fuel"
//! [[step]]
//! do = "close"
//! closes = ["tank"]              # and no step before it is a leak test
//! ```
//!
//! ## How to put it right
//! Add a step with `do = "test"` before the tank is closed.
//!
//! ## When to allow it
//! When the test stands in another traveler, and the reason names it.

use crate::job::{Step, StepKind};
use crate::report::Severity;
use crate::rules::{At, Check, Looks, Sink};

/// Words of a step that tests.
const TESTS: [&str; 2] = ["test", "leak"];

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Step(look) };

fn look(step: &Step, at: &At<'_>, sink: &mut Sink<'_>) {
    let Some(tank) = step.closes.iter().find(|space| at.job.space_spec(space.value).holds.is_some()) else { return };
    let tests = |step: &Step| {
        let title = step.title.value.to_lowercase();
        let is_test = step.kind.value == StepKind::Test || TESTS.iter().any(|word| title.contains(word));
        is_test && (step.spaces.is_empty() || step.spaces.iter().any(|space| space.value == tank.value))
    };
    if at.traveler.steps[..at.index].iter().any(tests) {
        return;
    }
    let name = &at.job.space_spec(tank.value).name.value;
    let message = format!("step {} closes the tank {name}, and no step before it tests it", step.id.value);
    sink.push(sink.warning(tank.span, message).help("add a step with `do = \"test\"` before it"));
}
