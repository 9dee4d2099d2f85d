//! Which facts of a traveler are requirements: what must be true of the work, not how it is worded.
//!
//! Titles, texts, tools, cautions, the words of a photo prompt, estimated times and the order of files are wording or
//! presentation and leave digest and code alone. A step names of its joints only what its own work depends on, so
//! that a change reaches the steps that it concerns and no others. What a change means is for the change notice.

mod joint;

use crate::archive::{Aspect, Field, SheetRequirement, StepRequirement};
use crate::ident::{Digest, Requirement};
use crate::job::{Hand, Job, Part, Record, Step, StepRef, Traveler};

/// The digest of one step: what it does, to which parts and joints, and what must be measured and seen.
#[must_use]
pub fn step_digest(job: &Job, at: StepRef) -> Digest {
    step_requirement(job, at).digest()
}

/// The digest of one hand's packet, from which its code follows.
#[must_use]
pub fn packet_digest(job: &Job, index: usize, hand: Option<Hand>) -> Digest {
    sheet_requirement(job, index, hand).digest()
}

/// What the steps of one traveler and hand require.
#[must_use]
pub fn sheet_requirement(job: &Job, index: usize, hand: Option<Hand>) -> SheetRequirement {
    let traveler = &job.travelers[index];
    let drawings = traveler.drawings.iter().map(|drawing| match &drawing.revision {
        Some(revision) => format!("{}:{revision}", drawing.sheet),
        None => drawing.sheet.clone(),
    });
    SheetRequirement {
        traveler: traveler.id.value.clone(),
        hand,
        revision: traveler.revision.value.clone(),
        drawings: drawings.collect(),
        fields: whole_sheet(job, traveler),
        steps: (0..traveler.steps.len()).map(|step| step_requirement(job, StepRef { traveler: index, step })).collect(),
    }
}

/// What one step requires.
#[must_use]
pub fn step_requirement(job: &Job, at: StepRef) -> StepRequirement {
    let step = job.step(at);
    StepRequirement {
        id: step.id.value.clone(),
        number: step.number,
        title: step.title.value.clone(),
        wording: wording(step),
        fields: step_fields(job, at).finish(),
    }
}

/// Fields in the making; a second field of one name gets a number, so that no two are the same.
#[derive(Default)]
struct Fields {
    list: Vec<Field>,
}

impl Fields {
    fn add(&mut self, aspect: Aspect, name: impl Into<String>, value: impl Into<String>) {
        // The archived form separates name and value by ` = `.
        let name = name.into().replace(" = ", "=");
        let same = |name: &str, list: &[Field]| list.iter().any(|field| field.name == name);
        let names = (2_u32..).map(|nth| format!("{name}, {nth}"));
        let free = std::iter::once(name.clone()).chain(names).find(|name| !same(name, &self.list)).unwrap_or(name);
        self.list.push(Field { aspect, name: free, value: value.into() });
    }

    fn maybe(&mut self, aspect: Aspect, name: impl Into<String>, value: Option<String>) {
        if let Some(value) = value {
            self.add(aspect, name, value);
        }
    }

    fn finish(self) -> Vec<Field> {
        self.list
    }
}

/// What holds for the sheet as a whole: what must be finished first, and accepted departures.
fn whole_sheet(job: &Job, traveler: &Traveler) -> Vec<Field> {
    let mut fields = Fields::default();
    for after in &traveler.after {
        fields.add(Aspect::Order, format!("after {}", job.travelers[after.value].id.value), "finished");
    }
    for allow in &traveler.allows {
        let places = [("joint", &allow.joint), ("step", &allow.step), ("part", &allow.part)];
        let place = places.into_iter().find_map(|(word, id)| id.as_ref().map(|id| format!(" at {word} {}", id.value)));
        fields.add(Aspect::Work, format!("departure {}{}", allow.rule.value, place.unwrap_or_default()), "allowed");
    }
    fields.finish()
}

fn step_fields(job: &Job, at: StepRef) -> Fields {
    let (traveler, step) = (&job.travelers[at.traveler], job.step(at));
    let mut fields = Fields::default();
    fields.add(Aspect::Work, "do", step.kind.value.word());
    for drawing in &step.drawings {
        fields.add(Aspect::Drawing, drawing.value.clone(), "cited");
    }
    for index in &step.parts {
        let part = &traveler.parts[index.value];
        fields.add(Aspect::Part, format!("part {}", part.id.value), part_value(part));
    }
    for index in &step.joints {
        joint::add(&mut fields, traveler, &traveler.joints[index.value], at.step);
    }
    for record in &step.records {
        add_record(&mut fields, record);
    }
    // A closing step is held for whoever must have looked into the zones that it closes.
    let of_zones = step.closes.iter().filter_map(|zone| job.zone(zone.value).hold);
    let mut holds: Vec<&str> = step.hold.into_iter().chain(of_zones).map(|role| role.value.word()).collect();
    holds.sort_unstable();
    holds.dedup();
    for hold in holds {
        fields.add(Aspect::Inspection, "hold", hold);
    }
    fields.maybe(Aspect::Inspection, "witness", step.witness.as_ref().map(|role| role.value.word().to_owned()));
    fields.maybe(Aspect::Inspection, "photo", step.photo.as_ref().map(|_| "asked for".to_owned()));
    for need in &step.needs {
        fields.add(Aspect::Order, format!("needs {}", job.step_name(need.value)), "done");
    }
    for (list, word) in [(&step.zones, "open"), (&step.closes, "closed by this"), (&step.opens, "opened by this")] {
        for zone in list {
            fields.add(Aspect::Order, format!("zone {}", job.zone(zone.value).id.value), word);
        }
    }
    fields.maybe(Aspect::Cure, "cure", step.cure.as_ref().map(|cure| format!("{} min", cure.value.0)));
    fields.maybe(Aspect::Cure, "cure-latest", step.cure_latest.as_ref().map(|cure| format!("{} min", cure.value.0)));
    fields
}

fn add_record(fields: &mut Fields, record: &Record) {
    let id = &record.id.value;
    let unit = record.unit.as_ref().map_or("none", |unit| unit.value.as_str());
    fields.add(Aspect::Tolerance, format!("record {id} unit"), unit);
    fields.maybe(Aspect::Tolerance, format!("record {id} min"), record.min.as_ref().map(|min| min.value.to_string()));
    fields.maybe(Aspect::Tolerance, format!("record {id} max"), record.max.as_ref().map(|max| max.value.to_string()));
}

fn part_value(part: &Part) -> String {
    let material = part.material.as_ref().map(|material| format!(" of {}", material.value));
    let thickness = part.thickness.as_ref().map(|size| format!(", {} nm thick", size.value.length.nm()));
    let bend =
        part.bend.as_ref().map(|bend| format!(", bent {} degrees at {} nm", bend.angle.value, bend.radius.value.nm()));
    let words = [Some(part.quantity.value.to_string()), material, thickness, bend];
    words.into_iter().flatten().collect()
}

/// The digest of a step's words: everything that is printed and is not a requirement.
fn wording(step: &Step) -> Digest {
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
