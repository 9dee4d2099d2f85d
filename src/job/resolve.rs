//! Follows every reference of the specs and reports those that lead nowhere.
//!
//! Ids are looked up in their scope: parts and joints in their traveler, spaces and drawings in the project,
//! steps and travelers in the whole build. A reference that cannot be followed is left out of the result.

mod board;
mod caution;
mod joint;
mod made;
mod named;
mod names;
mod part;
mod regime;
mod step;

use std::collections::{BTreeMap, BTreeSet};

use self::names::{Names, repeated};
use super::number::numbers;
use super::procedure::procedures;
use super::{
    Allow, DrawingRef, Hand, Issued, IssuedSteps, Job, Joint, Omitted, Origin, Part, Project, Queue, Role, StepRef,
    StepSpec, Text, Traveler, TravelerSpec,
};
use crate::hardware::{Head, KitFastener, OwnTorque, Shop};
use crate::report::{Finding, LeftOut, Place, Report, Severity, fault};
use crate::spec::{FastenerSpec, HeadForm, JointSpec, ProjectSpec, Spec, StepEntry, TorqueSpec, TravelerFile};
use crate::text::{FileId, Spanned};
use crate::units::{Length, Size, Style, TorqueRange};
use crate::words::{May, Packets};
pub(super) use names::dangling;

/// Resolves a whole project of which nothing was issued; what cannot be followed is a finding.
pub fn resolve(spec: Spec, report: &mut Report) -> Job {
    resolve_as_issued(spec, &Issued::default(), report)
}

/// Resolves a whole project: what stood on issued sheets keeps its number and its form.
pub fn resolve_as_issued(spec: Spec, issued: &Issued, report: &mut Report) -> Job {
    let mut project = resolve_project(spec.project, report);
    let mut whole = Whole::of(&spec.travelers);
    regime::resolve_regime(&mut project, &whole, report);
    report_repeated_travelers(&spec.travelers, report);
    part::follow_fitted(&project, &whole, report);
    let mut begun: Vec<Begun> = Vec::with_capacity(spec.travelers.len());
    let mut joints: Vec<Vec<Joint>> = Vec::with_capacity(spec.travelers.len());
    for (index, traveler) in spec.travelers.into_iter().enumerate() {
        let id = traveler.traveler.id.value.clone();
        let mut at = Resolving { project: &project, whole: &whole, traveler: index, id, report: &mut *report };
        let (traveler, own) = at.begin_traveler(traveler);
        begun.push(traveler);
        joints.push(own);
    }
    made::make_steps(&mut begun, &joints, (&project, &whole, issued), report);
    for (index, traveler) in begun.iter().enumerate() {
        whole.add_steps(index, &traveler.steps);
    }
    project.queue = board::resolve_queue(&project, &whole, report);
    let mut travelers = Vec::with_capacity(begun.len());
    for (index, traveler) in begun.into_iter().enumerate() {
        let id = traveler.spec.id.value.clone();
        let issued = issued.of(&id);
        let mut at = Resolving { project: &project, whole: &whole, traveler: index, id, report: &mut *report };
        at.follow_fills(&mut joints[index]);
        travelers.push(at.finish_traveler(traveler, &joints, issued));
    }
    for (traveler, own) in travelers.iter_mut().zip(joints) {
        traveler.joints = own;
    }
    joint::trace_lives(&mut travelers);
    super::measure::trace_readings(&mut travelers);
    joint::trace_shares(&mut travelers, report);
    joint::trace_fills(&mut travelers);
    report.travelers = travelers.len();
    report.drop_followers();
    let mut job = Job { project, travelers, unread: spec.unread, pictures: BTreeMap::new() };
    job.order_lives();
    job
}

/// Travelers and steps of the whole build by id.
pub(in crate::job) struct Whole {
    travelers: BTreeMap<String, usize>,
    steps: BTreeMap<(usize, String), usize>,
    after: Vec<Vec<usize>>,
    /// Of each traveler.
    heads: Vec<TravelerHead>,
}

/// What steps of other travelers ask of one.
struct TravelerHead {
    file: FileId,
    hands: Vec<Hand>,
}

impl Whole {
    fn of(travelers: &[TravelerFile]) -> Self {
        let head = |own: &TravelerFile| TravelerHead {
            file: own.span.file,
            hands: own.traveler.hands.iter().map(|hand| hand.value).collect(),
        };
        let heads = travelers.iter().map(head).collect();
        let mut whole = Self { travelers: BTreeMap::new(), steps: BTreeMap::new(), after: Vec::new(), heads };
        for (index, traveler) in travelers.iter().enumerate() {
            whole.travelers.entry(traveler.traveler.id.value.clone()).or_insert(index);
        }
        whole.followed(travelers);
        whole
    }

    /// The steps of a traveler, which are known when its joints are.
    fn add_steps(&mut self, traveler: usize, steps: &[(StepSpec, Origin)]) {
        for (index, (step, _)) in steps.iter().enumerate() {
            self.steps.entry((traveler, step.id.value.clone())).or_insert(index);
        }
    }
}

fn report_repeated_travelers(travelers: &[TravelerFile], report: &mut Report) {
    report.extend(repeated(travelers.iter().map(|t| &t.traveler.id), "traveler", &Place::default()));
}

fn resolve_project(mut spec: ProjectSpec, report: &mut Report) -> Project {
    give_usual_role(&mut spec);
    let nowhere = Place::default();
    report.extend(repeated(spec.signers.iter().map(|s| &s.initials), "signer", &nowhere));
    report.extend(repeated(spec.spaces.iter().map(|z| &z.id), "space", &nowhere));
    report.extend(repeated(spec.drawings.iter().map(|d| &d.sheet), "drawing sheet", &nowhere));
    report.extend(repeated(spec.parts.iter().map(|p| &p.id), "part", &nowhere));
    report.extend(repeated(spec.fasteners.iter().map(|f| &f.id), "fastener", &nowhere));
    report.extend(repeated(spec.tools.iter().map(|t| &t.id), "tool", &nowhere));
    report.extend(repeated(spec.roles.iter().map(|r| &r.id), "role", &nowhere));
    report.extend(repeated(spec.stages.iter().map(|s| &s.id), "stage", &nowhere));
    report.extend(repeated(spec.cautions.iter().map(|c| &c.id), "caution", &nowhere));
    let shop = shop(&spec);
    let unnamed = || Spanned { value: "unnamed aircraft".into(), span: spec.span };
    Project {
        aircraft: spec.aircraft.as_ref().and_then(|aircraft| aircraft.name.clone()).unwrap_or_else(unnamed),
        style: Style { drills: shop.named_drills(), ..spec.settings.style() },
        shop,
        kit: spec.fasteners.iter().map(kit_fastener).collect(),
        torques: spec.torques.iter().map(own_torque).collect(),
        cautions: caution::resolve_cautions(&spec.cautions, report),
        procedures: procedures(&spec),
        roles: Role::all(&spec.roles),
        stages: Vec::new(),
        queue: Queue::default(),
        spec,
    }
}

/// Who is given no role signs work: in the first role that may.
fn give_usual_role(spec: &mut ProjectSpec) {
    let roles = Role::all(&spec.roles);
    let Some(usual) = roles.iter().find(|role| role.may(May::Do)) else { return };
    for signer in spec.signers.iter_mut().filter(|signer| signer.roles.is_empty()) {
        signer.roles.push(Spanned { value: usual.id.clone(), span: signer.span });
    }
}

fn shop(spec: &ProjectSpec) -> Shop {
    let unit = spec.settings.unit.value;
    let Some(own) = &spec.shop else { return Shop::usual(unit) };
    let lengths = |list: &[Spanned<Size>]| list.iter().map(|size| size.value.length).collect();
    Shop::of(unit, own.drills.iter().map(|drill| drill.value).collect(), lengths(&own.sheets), lengths(&own.rivets))
}

fn kit_fastener(spec: &FastenerSpec) -> KitFastener {
    let lengths = |(low, high): (Spanned<Length>, Spanned<Length>)| (low.value, high.value);
    let mut kit = KitFastener::new(&spec.id.value, spec.kind.value, spec.diameter.value.length);
    kit.hole = spec.hole.map(lengths);
    kit.grip = spec.grip.map(lengths);
    kit.head = match spec.head.map(|head| head.value) {
        Some(HeadForm::Flush) => Head::Flush100,
        Some(HeadForm::Protruding) | None => Head::Protruding,
    };
    // An entry need not name a material; no metal is known of such a fastener.
    kit.material = spec.material.as_ref().map(|text| text.value.clone()).unwrap_or_default();
    kit.thread = spec.thread.as_ref().map(|text| text.value.clone());
    let length = |size: Option<Spanned<Size>>| size.map(|size| size.value.length);
    kit.length = length(spec.length);
    kit.thread_length = length(spec.thread_length);
    kit.thickness = length(spec.thickness);
    kit.height = length(spec.height);
    kit.self_locking = spec.self_locking.is_some_and(|flag| flag.value);
    kit.castle = spec.castle.is_some_and(|flag| flag.value);
    kit.pin_hole = length(spec.pin_hole);
    kit.drilled_shank = spec.drilled_shank.map(|flag| flag.value);
    kit.property_class = spec.property_class.as_ref().map(|text| text.value.trim().to_owned());
    kit.source.clone_from(&spec.source.value);
    kit
}

fn own_torque(spec: &TorqueSpec) -> OwnTorque {
    OwnTorque {
        thread: spec.thread.value.clone(),
        class: spec.class.as_ref().map(|class| class.value.trim().to_owned()),
        nut: spec.nut.map(|nut| nut.value),
        lubrication: spec.lubrication.value,
        range: TorqueRange { low: spec.low.value.low, high: spec.high.value.high },
        most: spec.most.map(|most| most.value.low),
        source: spec.source.value.clone(),
    }
}

/// A traveler whose steps are made and not followed yet.
struct Begun {
    file: FileId,
    spec: TravelerSpec,
    parts: Vec<Part>,
    entries: Vec<StepEntry>,
    steps: Vec<(StepSpec, Origin)>,
    omitted: Vec<Omitted>,
    allows: Vec<Allow>,
}

/// What is at hand while one traveler is resolved.
pub(in crate::job) struct Resolving<'a> {
    project: &'a Project,
    whole: &'a Whole,
    traveler: usize,
    id: String,
    report: &'a mut Report,
}

impl Resolving<'_> {
    fn place(&self) -> Place {
        Place { traveler: Some(self.id.clone()), ..Place::default() }
    }

    fn push(&mut self, mut finding: Finding, place: Place) {
        finding.place = place;
        self.report.push(finding);
    }

    /// Reports a reference that leads nowhere, with the nearest that exists.
    fn dangling<'n>(&mut self, text: &Text, kind: &'static str, known: impl Iterator<Item = &'n str>, place: Place) {
        self.push(names::dangling(text, kind, known), place);
    }

    /// One packet for both hands is asked for only where there are two.
    fn share_packet(&mut self, traveler: &TravelerSpec, place: &Place) {
        let Some(packet) = traveler.packet.as_ref().filter(|own| own.value == Packets::BothHands) else { return };
        if traveler.hands.len() < 2 {
            let message = format!("`{}` is a packet of two hands, and {} has not two", packet.value, traveler.id.value);
            let finding = Finding::new(fault::VALUE_INVALID, Severity::Error, packet.span, message);
            self.push(
                finding.help("give the traveler `hands = [\"left\", \"right\"]`, or take the line out"),
                place.clone(),
            );
        }
    }

    /// Leaves joints out that have no id of their own where the usual one is another's.
    fn leave_nameless_out(&mut self, joints: &mut Vec<JointSpec>, place: &Place) {
        let mut taken: BTreeSet<String> = BTreeSet::new();
        let is_named = |own: &JointSpec| own.id.span != own.span;
        taken.extend(joints.iter().filter(|own| is_named(own)).map(|own| own.id.value.clone()));
        joints.retain(|own| {
            if is_named(own) || taken.insert(own.id.value.clone()) {
                return true;
            }
            // One of so many is free.
            let free = (1..=taken.len() + 1).map(|n| format!("J{n}")).find(|id| !taken.contains(id));
            let message = format!("joint has no `id`, and `{}` is another's", own.id.value);
            let finding = Finding::new(fault::ID_REPEATED, Severity::Error, own.span, message);
            let help = free.into_iter().fold(finding, |finding, free| {
                taken.insert(free.clone());
                finding.help(format!("write `id = \"{free}\"`"))
            });
            self.report.push(Finding { place: place.clone(), ..help });
            self.report.left_out.push(LeftOut { table: "joint", span: own.span, id: None });
            false
        });
    }

    /// Parts and joints; steps are not known yet.
    fn begin_traveler(&mut self, mut written: TravelerFile) -> (Begun, Vec<Joint>) {
        let place = self.place();
        self.leave_nameless_out(&mut written.joints, &place);
        self.share_packet(&written.traveler, &place);
        self.report.extend(repeated(written.parts.iter().map(|p| &p.id), "part", &place));
        self.report.extend(repeated(written.joints.iter().map(|j| &j.id), "joint", &place));
        let parts = self.resolve_parts(written.parts);
        let part_names = Names::of(parts.iter().map(|p| &p.id));
        let mut joints = Vec::with_capacity(written.joints.len());
        for joint in written.joints {
            joints.push(self.resolve_joint(joint, &parts, &part_names));
        }
        let begun = Begun {
            file: written.span.file,
            spec: written.traveler,
            parts,
            entries: written.steps,
            steps: Vec::new(),
            omitted: Vec::new(),
            allows: written.allows,
        };
        (begun, joints)
    }

    /// Follows what names steps, and the steps themselves; its joints are put in when all travelers are followed.
    fn finish_traveler(&mut self, begun: Begun, joints: &[Vec<Joint>], issued: Option<&IssuedSteps>) -> Traveler {
        let Begun { file, spec, parts, steps: made, omitted, allows, .. } = begun;
        let part_names = Names::of(parts.iter().map(|p| &p.id));
        let joint_names = Names::of(joints[self.traveler].iter().map(|j| &j.id));
        let step_names = Names::of(made.iter().map(|(step, _)| &step.id));
        let ids: Vec<&str> = made.iter().map(|(step, _)| step.id.value.as_str()).collect();
        let numbers = numbers(&ids, issued);
        let mut steps = Vec::with_capacity(made.len());
        for ((step, origin), number) in made.into_iter().zip(numbers) {
            let names = (&part_names, &joint_names);
            steps.push(self.resolve_step(step, (number, origin), names, joints));
        }
        self.check_allows(&allows, &part_names, &joint_names, &step_names);
        for (joint, _) in spec.picture.iter().flat_map(|picture| &picture.marks) {
            if joint_names.get(&joint.value).is_none() {
                self.dangling(joint, "joint", joint_names.known(), self.place());
            }
        }
        Traveler {
            file,
            drawings: spec.drawings.iter().map(|text| self.resolve_drawing(text)).collect(),
            after: spec.after.iter().filter_map(|text| self.resolve_after(text)).collect(),
            spec,
            parts,
            joints: Vec::new(),
            steps,
            omitted,
            allows,
        }
    }

    fn check_allows(&mut self, allows: &[Allow], parts: &Names, joints: &Names, steps: &Names) {
        for allow in allows {
            let scopes = [(&allow.part, parts, "part"), (&allow.joint, joints, "joint"), (&allow.step, steps, "step")];
            for (text, names, kind) in scopes {
                if let Some(text) = text
                    && names.get(&text.value).is_none()
                {
                    self.dangling(text, kind, names.known(), self.place());
                }
            }
        }
    }

    fn resolve_drawing(&mut self, text: &Text) -> DrawingRef {
        let (sheet, revision) = match text.value.split_once(':') {
            Some((sheet, revision)) => (sheet.trim().to_owned(), Some(revision.trim().to_owned())),
            None => (text.value.trim().to_owned(), None),
        };
        let register = self.project.drawings.iter().position(|drawing| drawing.sheet.value == sheet);
        if register.is_none() {
            let named = Spanned { value: sheet.clone(), span: text.span };
            let project = self.project;
            self.dangling(
                &named,
                "drawing sheet",
                project.drawings.iter().map(|d| d.sheet.value.as_str()),
                self.place(),
            );
        }
        DrawingRef { sheet, revision, register, span: text.span }
    }

    fn resolve_after(&mut self, text: &Text) -> Option<Spanned<usize>> {
        let whole = self.whole;
        let found = whole.travelers.get(&text.value);
        if found.is_none() {
            self.dangling(text, "traveler", whole.travelers.keys().map(String::as_str), self.place());
        }
        found.map(|index| Spanned { value: *index, span: text.span })
    }

    /// A step named `TRAVELER/step`, or `step` within this traveler.
    fn resolve_step_ref(&mut self, text: &Text, place: Place) -> Option<Spanned<StepRef>> {
        let whole = self.whole;
        let (traveler, step) = match text.value.split_once('/') {
            Some((traveler, step)) => {
                let Some(index) = whole.travelers.get(traveler.trim()) else {
                    let named = Spanned { value: traveler.trim().to_owned(), span: text.span };
                    self.dangling(&named, "traveler", whole.travelers.keys().map(String::as_str), place);
                    return None;
                };
                (*index, step.trim())
            }
            None => (self.traveler, text.value.trim()),
        };
        let Some(index) = whole.steps.get(&(traveler, step.to_owned())) else {
            let known = whole.steps.keys().filter(|(owner, _)| *owner == traveler).map(|(_, id)| id.as_str());
            let named = Spanned { value: step.to_owned(), span: text.span };
            self.dangling(&named, "step", known, place);
            return None;
        };
        Some(Spanned { value: StepRef { traveler, step: *index }, span: text.span })
    }
}
