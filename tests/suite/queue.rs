//! What comes next: order, spaces, cure, the state of the work, and that ready steps always finish a build that passes.

mod board;
mod builds;
mod command;
mod facing;
pub mod growth;
mod order;
mod pick;
mod progress;
mod run;

use shophead::job::Job;
use shophead::report::{Finding, Report};
use shophead::rules::check;

pub use crate::shop::job_of;

/// The findings of the rules that watch the order.
pub fn order_findings(job: &Job) -> Vec<Finding> {
    const RULES: [&str; 4] = ["order-circular", "access-lost", "close-unfinished", "cure-ignored"];
    let mut report = Report::default();
    check(job, &mut report);
    report.findings.into_iter().filter(|finding| RULES.contains(&finding.rule)).collect()
}
