//! What tests stand on: small projects, a builder's folder, outside programs that judge. Holds no test of its own.

pub mod bracket;
pub mod picture;
pub mod random;
pub mod shop;
pub mod signed;
pub mod validator;

use shophead::job::Job;
use shophead::report::{Finding, Report};
use shophead::rules::check;

pub use shop::job_of;

/// The findings of the rules that watch the order.
pub fn order_findings(job: &Job) -> Vec<Finding> {
    const RULES: [&str; 4] = ["order-circular", "access-lost", "close-unfinished", "cure-ignored"];
    let mut report = Report::default();
    check(job, &mut report);
    report.findings.into_iter().filter(|finding| RULES.contains(&finding.rule)).collect()
}
