//! # wrench-calibration-old
//!
//! ## What it checks
//! A tool that a step names under `tools`, and that `build.toml` lists under `[[tool]]`, was calibrated no more than a
//! year before the project's `date`.
//!
//! ## Why it matters
//! A torque wrench drifts, and nothing on it shows that it does.
//!
//! ## Source
//! - `AC-7-40a` AC 43.13-1B, par. 7-40a: calibrate the wrench periodically, at least once a year (should); grade B.
//!
//! ## Example that fires
//! ```toml
//! # build.toml: [project] date = 2026-03-02, [[tool]] id = "TW-1", calibrated = 2024-12-01
//! [[step]]
//! do = "torque"
//! tools = ["TW-1"]
//! ```
//!
//! ## How to put it right
//! Have the wrench calibrated and enter the new day, or use another one.
//!
//! ## When to allow it
//! When the wrench was compared with a calibrated one that day, and the reason says which.

use crate::hardware::limit;
use crate::job::Step;
use crate::report::Severity;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Step(look) };

fn look(step: &Step, at: &At<'_>, sink: &mut Sink<'_>) {
    let project = &at.job.project;
    for named in &step.tools {
        // A tool that is no entry of the project is not calibrated: a bar, a drill.
        let Some(tool) = project.tools.iter().find(|tool| tool.id.value == named.value) else { continue };
        let Some(date) = &project.settings.date else { return sink.cannot("no `date` is given under `[project]`") };
        let years = limit::wrench_calibration_years().value;
        let until = tool.calibrated.value.years_later(years).filter(|until| date.value > *until);
        let Some(until) = until else { continue };
        let message =
            format!("{} was calibrated on {}, over a year before {}", tool.id.value, tool.calibrated.value, date.value);
        let finding = sink.warning(named.span, message).label(tool.calibrated.span, "last calibration");
        sink.push(finding.help(format!("have it calibrated: it was good until {until}")));
    }
}
