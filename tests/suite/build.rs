//! What tests stand on: small projects, a builder's folder, outside programs that judge. Holds no test of its own.

pub mod bracket;
pub mod picture;
pub mod random;
pub mod regime;
pub mod shop;
pub mod signed;
pub mod text;
pub mod validator;

use shophead::job::{Job, Order, State, resolve_progress};
use shophead::report::{Finding, Report};
use shophead::rules::check;
use shophead::spec::read_evening;
use shophead::text::Files;

pub use shop::job_of;

/// The order of a job, and how its work stands by the text of a progress file; what was found in that is in the report.
pub fn stand(job: &Job, files: &mut Files, progress: &str) -> (Order, State, Report) {
    let order = Order::of(job);
    let mut report = Report::default();
    let id = files.add("progress.toml", progress);
    let state = resolve_progress(read_evening(id, files, &mut report), job, &order, &mut report);
    (order, state, report)
}

/// The findings of the rules that watch the order.
pub fn order_findings(job: &Job) -> Vec<Finding> {
    const RULES: [&str; 4] = ["order-circular", "access-lost", "close-unfinished", "cure-ignored"];
    let mut report = Report::default();
    check(job, &mut report);
    report.findings.into_iter().filter(|finding| RULES.contains(&finding.rule)).collect()
}
