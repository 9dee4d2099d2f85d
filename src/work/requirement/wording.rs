//! The words of a print that are no requirement, as digests: to say that a print differs although no work changed.
//!
//! They take no part in any code. What the print looks like is not in them.

use crate::ident::{Digest, Requirement};
use crate::job::{Job, Step, Traveler};

/// The digest of a step's words. Labels and instruments stand in it for sheets of form 1, which record them nowhere else.
pub(super) fn of_step(step: &Step) -> Digest {
    let mut words = Requirement::new();
    words.text("title", &step.title.value).some_text("text", step.text.as_ref().map(|text| text.value.as_str()));
    for (name, list) in [("tool", &step.tools), ("caution", &step.cautions)] {
        for one in list {
            words.text(name, &one.value);
        }
    }
    for record in &step.records {
        words
            .text("label", &record.label.value)
            .some_text("with", record.tool.as_ref().map(|tool| tool.value.as_str()));
    }
    words.some_text("photo", step.photo.as_ref().map(|photo| photo.value.as_str()));
    words.digest()
}

/// The digest of the words that a traveler's print takes from elsewhere than its steps.
pub(super) fn of_sheet(job: &Job, traveler: &Traveler) -> Digest {
    let mut words = Requirement::new();
    words
        .text("title", &traveler.title.value)
        .some_text("summary", traveler.summary.as_ref().map(|summary| summary.value.as_str()));
    for part in &traveler.parts {
        let look_alike = part.look_alike.as_ref().map(|other| other.value.as_str());
        words.text("part", &part.id.value).text("name", &part.name.value).some_text("look-alike", look_alike);
    }
    for joint in &traveler.joints {
        let open = joint.leave_open.as_ref().map(|open| open.why.value.as_str());
        let temporary = joint.temporary.as_ref().map(|temporary| temporary.why.value.as_str());
        let limits = joint.limits.as_ref().map(|limits| limits.because.value.as_str());
        words
            .text("joint", &joint.id.value)
            .some_text("name", joint.name.as_ref().map(|name| name.value.as_str()))
            .text("written", &joint.spec.fastener.value)
            .some_text("left open", open)
            .some_text("temporary", temporary)
            .some_text("limits", limits);
    }
    for own in &traveler.omitted {
        words.text("left out", &own.id.value).text("because", &own.because.value);
    }
    // A step's own words hold what its procedure says; the revision stands on the cover.
    for (index, own) in job.project.procedures.iter().enumerate() {
        let is_used = traveler.steps.iter().any(|step| step.procedures.contains(&index));
        if let Some(revision) = own.revision.as_ref().filter(|_| is_used) {
            words.text("procedure", &own.id).text("revision", revision);
        }
    }
    for allow in &traveler.allows {
        words.text("because", &allow.because.value);
    }
    let spaces = traveler.steps.iter().flat_map(|step| step.spaces.iter().chain(&step.closes).chain(&step.opens));
    for space in spaces {
        words.text("space", &job.space_spec(space.value).name.value);
    }
    for drawing in traveler.drawings.iter().filter_map(|drawing| job.project.drawings.get(drawing.register?)) {
        words.some_text("drawing", drawing.title.as_ref().map(|title| title.value.as_str()));
    }
    // Which cautions a step prints is for the plan: every caution of the project counts here.
    for rule in &job.project.cautions.rules {
        words.text("caution", &rule.id).text("word", rule.word.word()).text("text", &rule.text);
    }
    words.digest()
}
