//! Which facts of a traveler are requirements: what must be true of the work, not how it is worded.
//!
//! Titles, texts of steps with joints, tools, cautions, the words of a photo prompt, estimated times and the order of
//! files are wording or presentation and leave digest and code alone. A step names of its joints only what its own
//! work depends on, so that a change reaches the steps that it concerns and no others. What a change means is for the
//! change notice.
//!
//! A requirement can be had in either archived form: an older sheet is compared with today's specs by the facts that
//! its own form recorded.

mod joint;
mod wording;

use super::before_closing::find_item;
use super::stage::stage_facts;
use crate::archive::{
    About, ComparedFacts, Fact, FactValue, Form, NO_UNIT, PartFacts, RecordSide, Scope, SheetRequirement, Signature,
    SpaceUse, State, StepRequirement,
};
use crate::ident::Digest;
use crate::job::{Acts, Hand, Item, Job, NamedJoint, Part, Record, ShownPicture, Step, StepRef};
use crate::words::PacketName;

/// The digest of one step: what it does, to which parts and joints, and what must be measured and seen.
#[must_use]
pub fn step_digest(job: &Job, item: Item) -> Digest {
    step_requirement_as(job, item, Form::NEWEST).digest()
}

/// The digests of one step in every form: an older signature may name any of them.
#[must_use]
pub fn step_digests(job: &Job, item: Item) -> Vec<Digest> {
    Form::ALL.into_iter().map(|form| step_requirement_as(job, item, form).digest()).collect()
}

/// What a reading was taken under. A sheet of form 1 does not record it: today's label holds where no word of the step
/// changed since, and for an import where the step requires the same.
#[must_use]
pub fn reading_label(job: &Job, signature: &Signature, signed: Option<&StepRequirement>, id: &str) -> Option<String> {
    if let Some(label) = signed.and_then(|step| step.record_text(id, RecordSide::Label)) {
        return Some(label.to_owned());
    }
    record_as_signed(job, signature, signed, id).map(|record| record.label.value.clone())
}

/// The unit in which a value was read: as the sheet recorded it, or as today's spec says it where that is what was signed.
#[must_use]
pub fn unit_as_read(job: &Job, signature: &Signature, signed: Option<&StepRequirement>, id: &str) -> Option<String> {
    if let Some(unit) = signed.and_then(|step| step.record_text(id, RecordSide::Unit)) {
        return Some(unit.to_owned());
    }
    Some(record_as_signed(job, signature, signed, id)?.unit.as_ref()?.value.clone())
}

/// The record of today's spec, where its words are those under which somebody signed.
fn record_as_signed<'a>(
    job: &'a Job,
    signature: &Signature,
    signed: Option<&StepRequirement>,
    id: &str,
) -> Option<&'a Record> {
    let item = find_item(job, &signature.item())?;
    let step = job.step(item.at);
    let same_words = || signed.is_some_and(|signed| signed.wording == wording::of_step(step));
    let same_import = || signature.sheet().is_none() && step_digests(job, item).contains(&signature.signed.requirement);
    let record = step.records.iter().find(|record| record.id.value == id)?;
    (same_words() || same_import()).then_some(record)
}

/// The digest of one hand's packet, from which its code follows.
#[must_use]
pub fn packet_digest(job: &Job, index: usize, hand: Option<Hand>) -> Digest {
    sheet_requirement(job, index, hand).digest()
}

/// What the steps of one traveler and hand require, in the newest form.
#[must_use]
pub fn sheet_requirement(job: &Job, index: usize, hand: Option<Hand>) -> SheetRequirement {
    sheet_requirement_as(job, index, hand, Form::NEWEST)
}

/// What is printed now for one traveler and hand: in the form of the sheet in force where that requires the same, so
/// that a sheet keeps its code, else in the newest form.
#[must_use]
pub fn sheet_to_print(job: &Job, state: &State, index: usize, hand: Option<Hand>) -> SheetRequirement {
    let in_force = state.in_force(&PacketName::new(job.travelers[index].id.value.as_str(), hand));
    let as_issued = in_force.and_then(|issue| {
        let forms = Form::ALL.into_iter().map(|form| sheet_requirement_as(job, index, hand, form));
        forms.into_iter().find(|sheet| sheet.code() == issue.issued.sheet)
    });
    as_issued.unwrap_or_else(|| sheet_requirement(job, index, hand))
}

/// What the steps of one traveler and hand require, with the facts that a form records.
#[must_use]
pub fn sheet_requirement_as(job: &Job, index: usize, hand: Option<Hand>, form: Form) -> SheetRequirement {
    let traveler = &job.travelers[index];
    let drawings = traveler.drawings.iter().map(|drawing| match &drawing.revision {
        Some(revision) => format!("{}:{revision}", drawing.sheet),
        None => drawing.sheet.clone(),
    });
    let steps = 0..traveler.steps.len();
    let item = |step| Item { at: StepRef { traveler: index, step }, hand };
    SheetRequirement {
        form,
        traveler: traveler.id.value.clone(),
        hand,
        revision: traveler.revision.value.clone(),
        drawings: drawings.collect(),
        wording: (form >= Form::Two).then(|| wording::of_sheet(job, traveler)),
        facts: whole_sheet(job, index),
        steps: steps.map(|step| step_requirement_as(job, item(step), form)).collect(),
    }
}

/// What one step requires, with the facts that a form records.
#[must_use]
fn step_requirement_as(job: &Job, item: Item, form: Form) -> StepRequirement {
    let step = job.step(item.at);
    StepRequirement {
        id: step.id.value.clone(),
        number: step.number,
        title: step.title.value.clone(),
        wording: wording::of_step(step),
        form,
        facts: step_facts(job, item, form),
    }
}

/// Facts in the making.
struct Facts {
    form: Form,
    list: Vec<Fact>,
}

impl Facts {
    fn add(&mut self, about: About, value: FactValue) {
        self.list.push(Fact::new(about, value));
    }

    fn maybe(&mut self, about: About, value: Option<FactValue>) {
        if let Some(value) = value {
            self.add(about, value);
        }
    }

    /// A fact that form 1 did not record.
    fn since_two(&mut self, about: About, value: Option<FactValue>) {
        if self.form >= Form::Two {
            self.maybe(about, value);
        }
    }
}

/// What holds for the sheet as a whole: what must be finished first, and accepted departures.
fn whole_sheet(job: &Job, index: usize) -> Vec<Fact> {
    let traveler = &job.travelers[index];
    let after = traveler.after.iter().map(|after| About::After(job.travelers[after.value].id.value.clone()));
    let departures = traveler.allows.iter().map(|allow| {
        let places = [(Scope::Joint, &allow.joint), (Scope::Step, &allow.step), (Scope::Part, &allow.part)];
        let place = places.into_iter().find_map(|(scope, id)| Some((scope, id.as_ref()?.value.clone())));
        About::Departure(allow.rule.value.clone(), place)
    });
    let named = traveler.steps.iter().filter(|step| step.kind.value.makes_holes() || step.kind.value.fastens());
    let mut named: Vec<NamedJoint> = named.flat_map(|step| &step.joints).copied().collect();
    named.retain(|named| named.joint.traveler != index);
    named.dedup_by_key(|named| (named.joint, named.hand));
    let of_others = named.into_iter().flat_map(|named| {
        let id = &job.joint(named.joint).id.value;
        let allows = job.travelers[named.joint.traveler].allows.iter();
        let here = allows.filter(move |allow| allow.joint.as_ref().is_some_and(|joint| joint.value == *id));
        let name = job.joint_name(named.joint, named.hand, index);
        here.map(move |allow| About::Departure(allow.rule.value.clone(), Some((Scope::Joint, name.clone()))))
    });
    after.chain(departures).chain(of_others).map(|about| Fact::new(about, FactValue::Stated)).collect()
}

fn text(text: &str) -> FactValue {
    FactValue::Text(text.to_owned())
}

fn step_facts(job: &Job, item: Item, form: Form) -> Vec<Fact> {
    let at = item.at;
    let traveler = &job.travelers[at.traveler];
    let step = job.step(at);
    let mut facts = Facts { form, list: Vec::new() };
    facts.add(About::Kind, FactValue::Kind(step.kind.value));
    // Where a step has no joint, its words are the work: how to level, rig, install.
    let pictures = job.pictures.get(&item).map_or(&[][..], Vec::as_slice);
    let words = job.project.own_words(step).filter(|_| step.joints.is_empty());
    facts.since_two(About::Text, words.map(|words| text(&without_file_names(&words.value, pictures))));
    if form >= Form::Four && words.is_some() && step.spec.text.is_none() {
        procedures(&mut facts, job, step);
    }
    for picture in pictures {
        facts.since_two(About::Picture, Some(FactValue::File(Digest::of_sha256(picture.sha256))));
    }
    for view in &step.drawings {
        facts.add(About::View(view.value.clone()), FactValue::Stated);
    }
    for index in &step.parts {
        let part = &traveler.parts[index.value];
        facts.add(About::Part(part.id.value.clone()), FactValue::Part(part_facts(part)));
    }
    let handled = job.handled(item);
    for named in &step.joints {
        joint::add(&mut facts, job, at, *named, &handled);
    }
    for other in handled.iter().filter(|one| one.what.is_final() && !step.names(one.joint)) {
        joint::add_filled(&mut facts, job, at, other);
    }
    for record in &step.records {
        add_record(&mut facts, record);
    }
    for own in traveler.compared(at.step) {
        let about = About::Record(traveler.reading_name(own.one, at.step), RecordSide::Less);
        let other = traveler.reading_name(own.other, at.step);
        facts.since_two(about, Some(FactValue::Compared(ComparedFacts { other, limits: own.limits })));
    }
    inspection(&mut facts, job, at);
    for need in &step.needs {
        let needed = &job.travelers[need.value.traveler].id.value;
        facts.add(About::Needs(needed.clone(), job.step(need.value).id.value.clone()), FactValue::Stated);
    }
    for (acts, word) in [(Acts::Sets, "set"), (Acts::Undoes, "ended"), (Acts::During, "needed")] {
        for state in acts.of(step) {
            facts.since_two(About::State(state.value.clone()), Some(text(word)));
        }
    }
    let spaces = [(&step.spaces, SpaceUse::Open), (&step.closes, SpaceUse::Closed), (&step.opens, SpaceUse::Opened)];
    for (list, used) in spaces {
        for space in list {
            facts.add(About::Space(job.space_spec(space.value).id.value.clone()), FactValue::Space(used));
        }
    }
    facts.maybe(About::Cure, step.cure.as_ref().map(|cure| FactValue::Minutes(cure.value)));
    facts.maybe(About::CureLatest, step.cure_latest.as_ref().map(|cure| FactValue::Minutes(cure.value)));
    facts.list
}

/// A text whose pictures keep their captions and lose the names of their files: what they show is a fact of its own.
fn without_file_names(text: &str, pictures: &[ShownPicture]) -> String {
    let mut out = text.to_owned();
    // From the last to the first, so that the places before stay right.
    for picture in pictures.iter().rev() {
        let written = out.get(picture.place.clone()).filter(|written| written.starts_with("!["));
        if let Some(caption) = written.and_then(|written| written.rfind("](")) {
            out.replace_range(picture.place.start + caption + 1..picture.place.end, "");
        }
    }
    out
}

/// The revisions of the procedures from which a step has its words.
fn procedures(facts: &mut Facts, job: &Job, step: &Step) {
    for own in step.procedures.iter().map(|index| &job.project.procedures[*index]) {
        let revision = own.revision.as_ref().filter(|_| own.span.is_some());
        facts.maybe(About::Procedure(own.id.clone()), revision.map(|revision| text(revision)));
    }
}

/// Holds, witness, stages and photo.
fn inspection(facts: &mut Facts, job: &Job, at: StepRef) {
    let step = job.step(at);
    let mut holds: Vec<&str> = job.holds(step);
    holds.sort_unstable();
    for hold in holds {
        facts.add(About::Hold, text(hold));
    }
    facts.maybe(About::Witness, step.witness.as_ref().map(|role| text(&role.value)));
    for stage in job.stages_at(at) {
        let stage = &job.project.stages[stage];
        facts.add(About::Stage(stage.id.value.clone()), FactValue::Stage(stage_facts(stage)));
    }
    facts.maybe(About::Photo, step.photo.as_ref().map(|_| FactValue::Stated));
}

/// A value to be measured. Its label is a requirement: a number says nothing without what was measured.
fn add_record(facts: &mut Facts, record: &Record) {
    let about = |side| About::Record(record.id.value.clone(), side);
    let words = |words: &Option<crate::job::Text>| words.as_ref().map(|words| text(&words.value));
    facts.since_two(about(RecordSide::Label), Some(text(&record.label.value)));
    facts.add(about(RecordSide::Unit), words(&record.unit).unwrap_or_else(|| text(NO_UNIT)));
    facts.maybe(about(RecordSide::Min), record.min.as_ref().map(|min| FactValue::Limit(min.value)));
    facts.maybe(about(RecordSide::Max), record.max.as_ref().map(|max| FactValue::Limit(max.value)));
    facts.since_two(about(RecordSide::Tool), words(&record.tool));
}

fn part_facts(part: &Part) -> PartFacts {
    PartFacts {
        quantity: part.quantity.value,
        material: part.material.as_ref().map(|material| material.value.clone()),
        thickness: part.thickness.as_ref().map(|size| size.value.length),
        bend: part.bend.as_ref().map(|bend| (bend.angle.value, bend.radius.value)),
    }
}
