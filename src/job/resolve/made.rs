//! Makes the steps of every traveler: those that follow from parts and joints, and what the file says of them. What a step of
//! another traveler does to a joint, no usual step does again.

use super::names::repeated;
use super::{Begun, Resolving, Whole};
use crate::job::usual::{Done, Made, Making, done_elsewhere};
use crate::job::{Issued, Joint, Project, Text};
use crate::report::{LeftOut, Report};
use crate::text::FileId;
use crate::words::other_joint;

/// The table of a step.
const STEP: &str = "step";

/// Makes the steps of every traveler: once for those whose entries name joints of others, to know what is done elsewhere, then
/// for all with that.
pub(super) fn make_steps(
    begun: &mut [Begun],
    joints: &[Vec<Joint>],
    (project, whole, issued): (&Project, &Whole, &Issued),
    report: &mut Report,
) {
    let ids: Vec<String> = begun.iter().map(|own| own.spec.id.value.clone()).collect();
    let all: Vec<(&str, &[Joint])> = ids.iter().map(String::as_str).zip(joints.iter().map(Vec::as_slice)).collect();
    let is_made_from = |own: &&LeftOut| ["part", "joint"].contains(&own.table);
    let short: Vec<FileId> = report.left_out.iter().filter(is_made_from).map(|own| own.span.file).collect();
    let make = |index: usize, own: &Begun, elsewhere: &[Done]| {
        let making = Making {
            traveler: &own.spec,
            parts: &own.parts,
            joints: &joints[index],
            project: &project.spec,
            shop: &project.shop,
            style: &project.style,
            issued: issued.of(&ids[index]),
            is_short: short.contains(&own.file),
            elsewhere,
            all: &all,
        };
        making.steps(own.entries.clone())
    };
    let names_others = |own: &Begun| {
        own.entries.iter().flat_map(|entry| &entry.joints).any(|joint| other_joint(&joint.value).is_some())
    };
    let others = begun.iter().enumerate().filter(|(_, own)| names_others(own));
    let elsewhere: Vec<(String, Done)> =
        others.flat_map(|(index, own)| done_elsewhere(&ids[index], &make(index, own, &[]).steps)).collect();
    for (index, own) in begun.iter_mut().enumerate() {
        let id = ids[index].clone();
        let done: Vec<Done> =
            elsewhere.iter().filter(|(traveler, _)| *traveler == id).map(|(_, done)| done.clone()).collect();
        let steps = make(index, own, &done);
        let mut at = Resolving { project, whole, traveler: index, id, report: &mut *report };
        at.take_steps(own, steps);
    }
}

impl Resolving<'_> {
    /// Takes the steps as made, with what was found in making them.
    fn take_steps(&mut self, begun: &mut Begun, made: Made) {
        let place = self.place();
        for finding in made.findings {
            self.push(finding, place.clone());
        }
        let left_out = |id: Text| LeftOut { table: STEP, span: id.span, id: Some(id.value) };
        self.report.left_out.extend(made.left_out.into_iter().map(left_out));
        self.report.extend(repeated(made.steps.iter().map(|(step, _)| &step.id), "step", &place));
        begun.steps = made.steps;
        begun.omitted = made.omitted;
    }
}
