//! QUIET: what only follows from an entry that could not be read is not said: the fault itself was.
//!
//! A joint whose count is a text is left out; that its part is then in no stack, that a step names a joint that is not
//! there, says nothing new. It judges nothing and takes no fault of a value out.

use std::collections::BTreeSet;

use crate::job::{Job, Traveler, nearest};
use crate::report::{Finding, Report, Severity, fault};
use crate::text::{FileId, Span};

/// Rules that fire because something is not there: a step, a joint, a key. Their findings may follow from a fault in what
/// was written for it.
pub const FIRE_WHERE_NOTHING_STANDS: &[&str] = &[
    "allow-unused",
    "bolt-small-for-structure",
    "close-uninspected",
    "drawing-unread",
    "flush-head-unprepared",
    "hole-not-final",
    "hole-undeburred",
    "joint-never-drilled",
    "joint-never-fastened",
    "metals-dissimilar",
    "nut-unsafetied",
    "part-unused",
    "process-unrecorded",
    "rivet-keep-cold-missing",
    "seam-dry",
    "tank-untested",
    "temper-soft",
    "temporary-left",
    "torque-open-on-rotating-joint",
];

/// Tables without which others of the same traveler look forgotten.
const LOOKED_FOR: [&str; 3] = ["part", "joint", "step"];

/// What a step names of the work: without it the work looks forgotten.
const OF_A_STEP: [&str; 2] = ["part", "joint"];

/// Keys of a step without which its work looks forgotten.
const WORK_OF_A_STEP: [&str; 6] = ["do", "joints", "parts", "to", "closes", "spaces"];

/// Takes out of the findings of the rules what only follows from faults of reading.
pub(super) fn quiet(job: &Job, report: &Report, findings: &mut Vec<Finding>) {
    let faults = Faults::of(report);
    if faults.places.is_empty() && report.left_out.is_empty() {
        return;
    }
    findings.retain(|finding| !follows(job, report, &faults, finding));
}

/// Whether a fault of reading leaves something out that a rule looks for: a value, or a joint or part that is named.
fn takes_away(finding: &Finding) -> bool {
    match finding.rule {
        fault::VALUE_INVALID | fault::KEY_UNKNOWN | fault::SPEC_UNREADABLE => true,
        fault::REFERENCE_DANGLING => {
            finding.missing.as_ref().is_some_and(|(kind, _)| kind.split(" or ").any(|kind| OF_A_STEP.contains(&kind)))
        }
        _ => false,
    }
}

/// Whether a fault that stands in a step is one of its work: by the key that the message names.
fn is_of_work(finding: &Finding) -> bool {
    let quoted: Vec<&str> = finding.message.split('`').skip(1).step_by(2).collect();
    match (finding.rule, quoted.as_slice()) {
        (fault::VALUE_INVALID, [key, ..]) => WORK_OF_A_STEP.contains(key),
        (fault::KEY_UNKNOWN, [_, key, ..]) => nearest(key, WORK_OF_A_STEP.into_iter()).is_some(),
        _ => true,
    }
}

/// Faults of reading: where they stand.
struct Faults {
    places: Vec<Span>,
    /// Those among them that, in a step, take away its work.
    of_work: Vec<Span>,
    /// Files that are not TOML, of which anything may be missing.
    broken: BTreeSet<FileId>,
    /// Joints of other travelers that steps name and that are not there: `FUS-10/J22`.
    strangers: Vec<String>,
}

impl Faults {
    fn of(report: &Report) -> Self {
        let faults = report.findings.iter().filter(|own| own.severity == Severity::Error && takes_away(own));
        let broken = faults.clone().filter(|own| own.rule == fault::SPEC_UNREADABLE);
        let broken = broken.map(|own| own.span.file).collect();
        let of_work = faults.clone().filter(|own| is_of_work(own));
        let of_work = of_work.map(|own| own.span).collect();
        let missing = faults.clone().filter_map(|own| own.missing.clone());
        let strangers = missing.map(|(_, id)| id).filter(|id| id.contains('/')).collect();
        Self { strangers, places: faults.map(|own| own.span).collect(), of_work, broken }
    }

    /// Whether a joint may be meant by a step of another traveler that names one which is not there, or that could not be read.
    fn may_mean(&self, job: &Job, traveler: &str, joint: &str) -> bool {
        let is_meant = |name: &String| {
            let Some((named, rest)) = name.split_once('/') else { return false };
            let is_known = job.travelers.iter().any(|own| own.id.value == named);
            if is_known { named == traveler } else { rest.rsplit('/').next() == Some(joint) }
        };
        job.unread > 0 || self.strangers.iter().any(is_meant)
    }

    /// Whether one stands between two bytes of a file.
    fn any_in(&self, file: FileId, from: usize, to: usize) -> bool {
        self.places.iter().any(|place| place.file == file && (from..to).contains(&place.start))
    }

    /// Whether one that takes away work stands between two bytes of a file.
    fn any_of_work_in(&self, file: FileId, from: usize, to: usize) -> bool {
        self.of_work.iter().any(|place| place.file == file && (from..to).contains(&place.start))
    }
}

fn follows(job: &Job, report: &Report, faults: &Faults, finding: &Finding) -> bool {
    // Hardware of the kit whose own entry could not be read is not known for that reason.
    let kit = report.left_out.iter().filter(|own| own.table == "fastener").filter_map(|own| own.id.as_ref());
    if finding.rule == "fastener-unknown" && kit.into_iter().any(|id| finding.message.contains(&format!("`{id}`"))) {
        return true;
    }
    if !FIRE_WHERE_NOTHING_STANDS.contains(&finding.rule) {
        return false;
    }
    let id = finding.place.traveler.as_ref();
    let Some(traveler) = job.travelers.iter().find(|own| Some(&own.id.value) == id) else { return false };
    let file = traveler.file;
    // It may have been meant by a step that names a joint which is not there, or stand in a file that could not be read.
    if finding.place.joint.as_ref().is_some_and(|joint| faults.may_mean(job, &traveler.id.value, joint)) {
        return true;
    }
    let any_left_out = report.left_out.iter().any(|own| own.span.file == file && LOOKED_FOR.contains(&own.table));
    let entries = Entries::of(traveler);
    let any_step = entries.steps.iter().any(|start| faults.any_of_work_in(file, *start, entries.end_of(*start)));
    if any_left_out || any_step || faults.broken.contains(&file) {
        return true;
    }
    // A joint with a fault of its own looks like one that was forgotten, and what it names looks unused.
    let has_fault = |start: &usize| faults.any_in(file, *start, entries.end_of(*start));
    let place = &finding.place;
    let named = traveler.joints.iter().find(|joint| Some(&joint.id.value) == place.joint.as_ref());
    match named {
        Some(joint) => has_fault(&joint.spec.span.start),
        None => traveler.joints.iter().any(|joint| has_fault(&joint.spec.span.start)),
    }
}

/// Where the entries of a traveler's file begin.
struct Entries {
    all: Vec<usize>,
    steps: Vec<usize>,
}

impl Entries {
    fn of(traveler: &Traveler) -> Self {
        let steps: Vec<usize> = traveler.steps.iter().map(|step| step.spec.span.start).collect();
        let parts = traveler.parts.iter().map(|part| part.span.start);
        let joints = traveler.joints.iter().map(|joint| joint.spec.span.start);
        let allows = traveler.allows.iter().map(|allow| allow.span.start);
        let mut all: Vec<usize> = parts.chain(joints).chain(allows).chain(steps.iter().copied()).collect();
        all.push(traveler.spec.span.start);
        all.sort_unstable();
        Self { all, steps }
    }

    /// The first byte of the entry after one; the last one has no end.
    fn end_of(&self, start: usize) -> usize {
        self.all.iter().copied().find(|next| *next > start).unwrap_or(usize::MAX)
    }
}
