//! The values that `{{ }}` in a builder's own text can name: the traveler's facts as words ready to print.
//!
//! It names what the job knows; a name that is not here is an error of the text, never an empty word.

use serde_json::{Map, Value, json};

use super::joint::rungs;
use crate::job::{Hand, Hardware, Job, Joint, Part, operation};
use crate::plan::hole;
use crate::plan::joint::delivered;
use crate::plan::measured::requirement;
use crate::units::{Length, Style};

/// The values of one traveler's texts; `joint`, `part`, `space` and `record` are by id, as in `joint.J1.hole.final`
/// or `joint["J-1"].count`.
///
/// # Panics
/// When the job has no traveler of that index.
#[must_use]
pub fn values(job: &Job, index: usize, hand: Option<Hand>) -> Value {
    let traveler = &job.travelers[index];
    let project = &job.project;
    let style = &project.style;
    let by_id = |entries: Vec<(String, Value)>| Value::Object(entries.into_iter().collect::<Map<_, _>>());
    let spaces = project.spaces.iter().map(|space| (space.id.value.clone(), json!({ "name": space.name.value })));
    json!({
        "joint": by_id(joints(job, index)),
        "part": by_id(traveler.parts.iter().map(|one| (one.id.value.clone(), part(one, style))).collect()),
        "space": by_id(spaces.collect()),
        "record": by_id(traveler.steps.iter().map(|step| (step.id.value.clone(), records(step))).collect()),
        "step": by_id(traveler.steps.iter().map(|step| (step.id.value.clone(), json!({
            "number": operation(step.number), "title": step.title.value,
        }))).collect()),
        "traveler": {
            "id": traveler.id.value, "title": traveler.title.value, "revision": traveler.revision.value,
            "hand": hand.map_or("", Hand::word),
        },
        "aircraft": {
            "name": project.aircraft.value,
            "serial": project.serial().map(|serial| serial.value.as_str()),
            "registration": project.registration().map(|registration| registration.value.as_str()),
        },
    })
}

/// What a text prints of the values: those that it names one by one, else all of them.
pub(super) fn values_of(text: &str, all: &Value) -> Value {
    if !text.contains("{{") && !text.contains("{%") {
        return Value::Null;
    }
    let named = |expression: &str| {
        let path = expression.split('|').next()?.trim();
        path.split('.').try_fold(all, |value, name| value.get(name)).cloned()
    };
    let expressions = text.split("{{").skip(1).map(|rest| rest.split("}}").next().and_then(named));
    let found: Option<Vec<Value>> = expressions.collect();
    // What is more than a name, or decides or repeats, may print any of them.
    found.filter(|_| !text.contains("{%")).map_or_else(|| all.clone(), Value::Array)
}

/// The traveler's joints by id, and those of others that its steps name, as they name them.
fn joints(job: &Job, index: usize) -> Vec<(String, Value)> {
    let traveler = &job.travelers[index];
    let own = traveler.joints.iter().map(|one| (one.id.value.clone(), joint(one, job, index)));
    let named = traveler.steps.iter().flat_map(|step| &step.joints).filter(|named| named.joint.traveler != index);
    let others = named.map(|named| {
        let value = joint(job.joint(named.joint), job, index);
        (job.joint_name(named.joint, named.hand, index), value)
    });
    own.chain(others).collect()
}

fn joint(joint: &Joint, job: &Job, traveler: usize) -> Value {
    let style = &job.project.style;
    let both = |length: Length| style.length(length);
    let decoded = joint.fastener.as_ref().ok();
    let ladder: Vec<String> = rungs(joint, job, traveler).into_iter().map(|rung| rung.short).collect();
    let mut known = json!({
        "name": joint.name.as_ref().map_or(&joint.id.value, |name| &name.value),
        "call": joint.call,
        "count": joint.count.value,
        "rows": joint.rows.value,
        "hole": { "ladder": ladder.join(" -> ") },
        "layers": joint.layers.iter().map(|layer| layer.name.as_str()).collect::<Vec<_>>().join(", "),
    });
    put(&mut known, "decode", decoded.map(|fastener| fastener.describe(style)));
    put(&mut known, "diameter", joint.diameter().map(both));
    put(&mut known, "stack", joint.thickness().map(both));
    put(&mut known, "pitch", joint.pitch.as_ref().map(|pitch| both(pitch.value)));
    put(&mut known, "edge", joint.edge.iter().map(|edge| edge.value).min().map(both));
    put(&mut known, "nut", joint.nut.as_ref().map(call));
    put(&mut known, "cotter", joint.cotter.as_ref().map(call));
    put(&mut known, "torque", joint.called_torque().map(|torque| style.joint_torque(torque.value)));
    put(&mut known, "wet", joint.wet.as_ref().map(|wet| wet.value.clone()));
    put(&mut known, "leave_open", joint.leave_open.as_ref().map(|open| open.count.value.to_string()));
    put(&mut known["hole"], "start", delivered(joint, style));
    put(&mut known["hole"], "final", joint.final_hole().map(|last| hole::full(joint, last.size, style)));
    known
}

fn call(hardware: &Hardware) -> String {
    hardware.call.clone()
}

/// Adds a value only where it is known, so that a text cannot print an empty word in its place.
fn put(object: &mut Value, name: &str, value: Option<String>) {
    if let Some(value) = value {
        object[name] = Value::String(value);
    }
}

fn part(part: &Part, style: &Style) -> Value {
    let mut known = json!({ "name": part.name.value, "quantity": part.quantity.value });
    put(&mut known, "material", part.material.as_ref().map(|material| material.value.clone()));
    put(&mut known, "thickness", part.thickness.as_ref().map(|thickness| style.length(thickness.value.length)));
    known
}

fn records(step: &crate::job::Step) -> Value {
    let entries = step.records.iter().map(|record| (record.id.value.clone(), Value::String(requirement(record))));
    Value::Object(entries.collect())
}
