//! What comes next: order, spaces, cure, the state of the work, and that ready steps always finish a build that passes.

mod board;
mod builds;
mod command;
mod facing;
mod growth;
mod order;
mod pick;
mod progress;
mod run;

use shophead::job::{Job, resolve};
use shophead::report::{Finding, Report};
use shophead::rules::check;
use shophead::spec::{Spec, read_project, read_traveler};
use shophead::text::Files;

/// Resolves a project text and traveler texts.
pub fn job_of(project: &str, travelers: &[String]) -> (Job, Files, Report) {
    let (mut files, mut report) = (Files::default(), Report::default());
    let id = files.add("build.toml", project);
    let project = read_project(id, &files, &mut report);
    let mut spec = Spec { project, travelers: Vec::new(), unread: 0 };
    for (index, text) in travelers.iter().enumerate() {
        let id = files.add(format!("specs/{index}.toml"), text.as_str());
        spec.travelers.extend(read_traveler(id, &spec.project, &files, &mut report));
    }
    let job = resolve(spec, &mut report);
    (job, files, report)
}

/// The findings of the rules that watch the order.
pub fn order_findings(job: &Job) -> Vec<Finding> {
    const RULES: [&str; 4] = ["order-circular", "access-lost", "close-unfinished", "cure-ignored"];
    let mut report = Report::default();
    check(job, &mut report);
    report.findings.into_iter().filter(|finding| RULES.contains(&finding.rule)).collect()
}
