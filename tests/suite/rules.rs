//! The rules: their fixtures, their pages, what `[[allow]]` does, and what the tables promise.

mod allow;
pub mod case;
mod fill;
mod fixtures;
mod guards;
mod metric;
mod page;
mod quiet;
mod rows;
mod said;

use shophead::job::{Job, resolve};
use shophead::plan::{PrintForm, suspects, tall_steps};
use shophead::render::{Templates, too_tall};
use shophead::report::Unjudged;
use shophead::report::{Finding, Report};
use shophead::rules::{check, unjudged};
use shophead::spec::{Spec, read_project, read_traveler};
use shophead::text::Files;

use crate::build::text::{self, part, step, steps_on, traveler};

/// A project of some traveler texts, judged.
pub struct Judged {
    pub files: Files,
    pub report: Report,
    pub job: Job,
}

impl Judged {
    /// The findings that no entry accepts.
    pub fn standing(&self) -> impl Iterator<Item = &Finding> {
        self.report.findings.iter().filter(|finding| finding.allowed.is_none())
    }

    /// Each standing finding as `rule: message`.
    pub fn lines(&self) -> Vec<String> {
        self.standing().map(|finding| format!("{}: {}", finding.rule, finding.message)).collect()
    }

    /// The standing findings of one rule.
    pub fn of(&self, rule: &str) -> Vec<&Finding> {
        self.standing().filter(|finding| finding.rule == rule).collect()
    }

    /// What could not be judged.
    pub fn unjudged(&self) -> Vec<Unjudged> {
        unjudged(&self.job)
    }
}

/// Judges traveler texts by all rules, beside the project file of the fixtures.
pub fn judge(travelers: &[(&str, &str)]) -> Judged {
    judge_project(include_str!("../rules/build.toml"), travelers)
}

/// Judges traveler texts by all rules, beside a project file.
pub fn judge_project(project: &str, travelers: &[(&str, &str)]) -> Judged {
    let (mut files, mut report) = (Files::default(), Report::default());
    let id = files.add("build.toml", project);
    let project = read_project(id, &files, &mut report);
    let mut spec = Spec { project, travelers: Vec::new(), unread: 0 };
    for (path, text) in travelers {
        let id = files.add(*path, *text);
        match read_traveler(id, &spec.project, &files, &mut report) {
            Some(traveler) => spec.travelers.push(traveler),
            None => spec.unread += 1,
        }
    }
    let job = resolve(spec, &mut report);
    check(&job, &mut report);
    // As the program does after the rules.
    let measure = |document: &_| too_tall(document, &Templates::load(None).unwrap());
    // What is only said of forms that nobody asked for is no verdict on the case.
    let mut asked = suspects(&job, &report);
    asked.retain(|suspect| suspect.form == PrintForm::Asked);
    report.findings.extend(tall_steps(&job, &asked, measure).unwrap());
    report.sort(&files);
    Judged { files, report, job }
}

/// A traveler with two sheets, one joint and the usual steps; `joint` is the rest of the joint's table.
pub fn one_joint(stack: [&str; 2], joint: &str) -> String {
    let [outer, inner] = stack;
    traveler("T", "")
        + &part("OUTER", "skin", outer)
        + &part("INNER", "rib", inner)
        + &text::joint("J1", &["OUTER", "INNER"], &format!("count = 10\n{joint}"))
        + &steps_on("J1", &["drill", "deburr"])
        + &step("fasten", "rivet", "joints = [\"J1\"]\ncautions = [\"keep-cold\"]")
}

/// Judges a traveler of one joint.
pub fn judge_joint(stack: [&str; 2], joint: &str) -> Judged {
    judge(&[("t.toml", &one_joint(stack, joint))])
}
