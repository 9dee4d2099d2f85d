//! Which facts of a traveler are requirements: what must be true of the work, not how it is worded.
//!
//! Titles, texts, tools, cautions, photo prompts, estimated times and the order of files are wording or
//! presentation and leave the digest alone. A step's digest does not hold the traveler's revision; a packet's does.

use crate::ident::{Digest, Requirement};
use crate::job::{Hand, HoleLife, Job, Joint, Layer, Part, Step, StepRef, Text, Traveler};
use crate::units::Length;

/// The digest of one step: what it does, to which parts and joints, and what must be measured and seen.
#[must_use]
pub fn step_digest(job: &Job, at: StepRef) -> Digest {
    let mut requirement = Requirement::new();
    requirement.text("traveler", &job.travelers[at.traveler].id.value);
    requirement.group("step", |out| step(out, job, at));
    requirement.digest()
}

/// The digest of one hand's packet: the traveler, its revision and drawings, and every part, joint and step.
#[must_use]
pub fn packet_digest(job: &Job, index: usize, hand: Option<Hand>) -> Digest {
    let traveler = &job.travelers[index];
    let mut out = Requirement::new();
    out.text("aircraft", &job.project.aircraft.value);
    out.some_text("serial", job.project.serial.as_ref().map(|serial| serial.value.as_str()));
    out.text("traveler", &traveler.id.value).text("revision", &traveler.revision.value);
    out.some_text("hand", hand.map(Hand::word));
    for drawing in &traveler.drawings {
        out.group("drawing", |out| {
            out.text("sheet", &drawing.sheet).some_text("revision", drawing.revision.as_deref());
        });
    }
    for after in &traveler.after {
        out.text("after", &job.travelers[after.value].id.value);
    }
    for one in &traveler.parts {
        out.group("part", |out| part(out, one));
    }
    for one in &traveler.joints {
        out.group("joint", |out| joint(out, one, traveler));
    }
    for number in 0..traveler.steps.len() {
        out.group("step", |out| step(out, job, StepRef { traveler: index, step: number }));
    }
    for allow in &traveler.allows {
        out.group("allow", |out| {
            out.text("rule", &allow.rule.value);
            for (name, at) in [("joint", &allow.joint), ("step", &allow.step), ("part", &allow.part)] {
                out.some_text(name, at.as_ref().map(|at| at.value.as_str()));
            }
        });
    }
    out.digest()
}

fn step(out: &mut Requirement, job: &Job, at: StepRef) {
    let traveler = &job.travelers[at.traveler];
    let Step { id, kind, joints, to, parts, needs, zones, closes, opens, cure, cure_latest, hold, witness, records, .. } = job.step(at);
    out.text("id", &id.value).text("do", kind.value.word());
    out.some_number("to", to.as_ref().map(|to| to.value.length.nm()));
    for number in joints {
        let one = &traveler.joints[number.value];
        out.group("joint", |out| {
            joint(out, one, traveler);
            let reached = one.life.iter().find(|life| life.step == at.step).and_then(|life| life.hole);
            out.some_number("reaches", reached.map(|HoleLife { size, .. }| size.length.nm()));
        });
    }
    for number in parts {
        out.group("part", |out| part(out, &traveler.parts[number.value]));
    }
    for need in needs {
        out.text("needs", &job.step_name(need.value));
    }
    for (name, list) in [("zone", zones), ("closes", closes), ("opens", opens)] {
        for number in list {
            out.text(name, &job.zone(number.value).id.value);
        }
    }
    out.some_number("cure", cure.as_ref().map(|cure| cure.value.0));
    out.some_number("cure-latest", cure_latest.as_ref().map(|cure| cure.value.0));
    out.some_text("hold", hold.as_ref().map(|role| role.value.word()));
    out.some_text("witness", witness.as_ref().map(|role| role.value.word()));
    for record in records {
        out.group("record", |out| {
            out.text("id", &record.id.value).some_text("unit", record.unit.as_ref().map(|unit| unit.value.as_str()));
            out.some_number("min", record.min.as_ref().map(|min| min.value.micro()));
            out.some_number("max", record.max.as_ref().map(|max| max.value.micro()));
        });
    }
}

fn part(out: &mut Requirement, part: &Part) {
    out.text("id", &part.id.value).number("quantity", i64::from(part.quantity));
    out.some_text("material", text(part.material.as_ref()));
    out.some_number("thickness", part.thickness.as_ref().map(|size| size.value.length.nm()));
    if let Some(bend) = &part.bend {
        out.number("bend-radius", bend.radius.value.nm()).number("bend-angle", i64::from(bend.angle));
    }
}

fn joint(out: &mut Requirement, joint: &Joint, traveler: &Traveler) {
    out.text("id", &joint.id.value).text("call", &joint.call).number("count", i64::from(joint.count.value));
    for one in &joint.layers {
        out.group("layer", |out| layer(out, one, traveler));
    }
    out.some_number("start", joint.start.as_ref().map(|size| size.value.length.nm()));
    out.some_number("final", joint.last.map(|hole| hole.size.length.nm()));
    out.some_number("chamfer", joint.chamfer.as_ref().map(|size| size.value.length.nm()));
    for edge in &joint.edge {
        out.number("edge", edge.value.nm());
    }
    out.some_number("pitch", nm(joint.pitch.as_ref())).number("rows", i64::from(joint.rows));
    out.some_number("row-gap", nm(joint.row_gap.as_ref()));
    for (along, across) in joint.places.iter().flatten() {
        out.group("hole", |out| {
            out.number("along", along.nm()).number("across", across.nm());
        });
    }
    out.some_text("structure", joint.structure.as_ref().map(|structure| structure.value.word()));
    out.some_text("wet", text(joint.wet.as_ref()));
    if let Some(open) = &joint.leave_open {
        out.number("leave-open", i64::from(open.count.value)).text("until", &open.until_written.value);
    }
    out.some_text("nut", joint.nut.as_ref().map(|nut| nut.call.as_str()));
    for washer in &joint.washers_head {
        out.text("washer-head", &washer.call);
    }
    for washer in &joint.washers_nut {
        out.text("washer-nut", &washer.call);
    }
    out.some_text("cotter", joint.cotter.as_ref().map(|pin| pin.call.as_str()));
    out.some_number("torque-low", joint.torque.as_ref().map(|torque| torque.value.low.micro()));
    out.some_number("torque-high", joint.torque.as_ref().map(|torque| torque.value.high.micro()));
    if let Some(temporary) = &joint.temporary {
        out.text("temporary", &temporary.fastener.call);
        out.some_text("temporary-nut", temporary.nut.as_ref().map(|nut| nut.call.as_str()));
    }
}

fn layer(out: &mut Requirement, layer: &Layer, traveler: &Traveler) {
    out.some_text("part", layer.part.map(|at| traveler.parts[at].id.value.as_str()));
    out.some_text("material", layer.material.as_deref());
    out.some_number("thickness", layer.thickness.map(Length::nm)).text("prepare", layer.preparation.word());
}

fn text(text: Option<&Text>) -> Option<&str> {
    text.map(|text| text.value.as_str())
}

fn nm(length: Option<&crate::text::Spanned<Length>>) -> Option<i64> {
    length.map(|length| length.value.nm())
}
