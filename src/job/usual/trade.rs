//! The usual steps of parts and joints, in the order of the trade: common practice, no plan's own sequence.
//!
//! verify, lay out, pin, pilot, drill to size, take apart, deburr, countersink, dimple, clean, prime, fit, fasten, torque,
//! inspect, photograph, close. A step that nothing asks for is not made. An id follows from the kind of work and the joint
//! or space, so that no other joint changes it.

mod holes;

use super::lines;
use super::own::Own;
use crate::hardware::{Fastener, Shop, shop_head};
use crate::job::{IssuedSteps, Joint, Part, Preparation, Text};
use crate::spec::{ProjectSpec, Record, StepEntry, StepSpec};
use crate::text::{Span, Spanned};
use crate::units::{Decimal, Length, Size, Style};
use crate::words::{Measures, StepKind};

/// What usual steps are made from.
pub(super) struct Trade<'a> {
    pub parts: &'a [Part],
    pub joints: &'a [Joint],
    pub closes: &'a [Text],
    pub project: &'a ProjectSpec,
    pub style: &'a Style,
    pub shop: &'a Shop,
    /// Where the traveler is named.
    pub span: Span,
    /// Steps that fall together are one.
    pub together: bool,
    /// Steps that were issued: paper keeps its form.
    pub issued: Option<&'a IssuedSteps>,
    /// What steps of the builder's own do already.
    pub own: &'a Own,
}

impl Trade<'_> {
    /// Every step that something asks for, in working order.
    pub(super) fn steps(&self) -> Vec<StepSpec> {
        let mut steps = self.prepare();
        steps.extend(self.make_holes());
        steps.extend(self.fit_up());
        steps.extend(self.open_up());
        steps.extend(self.form());
        steps.extend(self.protect());
        steps.extend(self.fasten());
        steps.extend(self.finish());
        for step in steps.iter_mut().filter(|step| works_inside(step.kind.value)) {
            step.entry.spaces = self.closes.to_vec();
        }
        steps
    }

    /// A step that the traveler as a whole asks for.
    fn step(&self, id: &str, title: impl Into<String>, kind: StepKind) -> StepSpec {
        self.at(self.span, id, title, kind)
    }

    /// A step that one joint or space asks for.
    #[allow(clippy::unused_self, reason = "reads as its sibling")]
    fn at(&self, span: Span, id: impl Into<String>, title: impl Into<String>, kind: StepKind) -> StepSpec {
        StepSpec {
            entry: StepEntry::named(Spanned { value: id.into(), span }),
            title: Spanned { value: title.into(), span },
            kind: Spanned { value: kind, span },
            helper: Spanned { value: false, span },
        }
    }

    fn of_joint(&self, verb: &str, title: &str, joint: &Joint, kind: StepKind) -> StepSpec {
        let id = format!("{verb}-{}", slug(&joint.id.value));
        with_joints(self.at(joint.id.span, id, named(title, joint), kind), &[joint])
    }

    /// On the parts that come to the bench: what is on the aircraft already stays there, and is named by its joints.
    fn with_parts(&self, mut step: StepSpec) -> StepSpec {
        let is_loose = |part: &&Part| !part.is_fitted;
        let named = if self.parts.iter().any(|part| is_loose(&part)) { is_loose } else { |_: &&Part| true };
        step.entry.parts = self.parts.iter().filter(named).map(|part| part.id.clone()).collect();
        step
    }

    fn by(&self, step: StepSpec, procedures: &[&str]) -> StepSpec {
        by(step, procedures, self.span)
    }

    fn such(&self, is_such: impl Fn(&Joint) -> bool) -> Vec<&Joint> {
        self.joints.iter().filter(|joint| is_such(joint)).collect()
    }

    fn is_several(&self) -> bool {
        self.parts.len() > 1
    }

    fn has_fit_up(&self) -> bool {
        self.joints.iter().any(|joint| joint.temporary.is_some())
    }

    fn prepare(&self) -> Vec<StepSpec> {
        let undrilled = self.such(|joint| joint.delivered_most().is_none());
        let verify = self.with_parts(self.step("verify", "Verify documents, parts and hardware", StepKind::Prepare));
        let pin = || self.with_parts(self.by(self.step("pin", "Pin the parts together", StepKind::Fit), &["pin"]));
        if self.together {
            let lays_out = (!undrilled.is_empty()).then_some(("lay-out", "lay out"));
            let pins = self.is_several().then_some(("pin", "pin together"));
            let more: Vec<(&str, &str)> = lays_out.into_iter().chain(pins).collect();
            let procedures: Vec<&str> =
                std::iter::once("prepare").chain(more.iter().map(|(procedure, _)| *procedure)).collect();
            let title = match more.as_slice() {
                [] => "Verify documents, parts and hardware".to_owned(),
                [(_, one)] => format!("Verify and {one}"),
                [(_, one), (_, two), ..] => format!("Verify, {one}, {two}"),
            };
            let mut step = with_joints(by(verify, &procedures, self.span), &undrilled);
            step.title.value = title;
            return vec![step];
        }
        let lay_out = with_joints(self.step("lay-out", "Lay out the holes", StepKind::LayOut), &undrilled);
        let lay_out = (!undrilled.is_empty()).then_some(lay_out);
        std::iter::once(verify).chain(lay_out).chain(self.is_several().then(pin)).collect()
    }

    /// Whether two kinds of work are one step of the id `one`: where both are asked for, unless paper has them apart.
    fn are_one(&self, one: &str, apart: [&str; 2], both: bool) -> bool {
        let has = |id: &str| self.issued.is_some_and(|issued| issued.number(id).is_some());
        self.together && (has(one) || (both && !apart.into_iter().any(has)))
    }

    /// Fit-up hardware goes in as soon as its holes are made.
    fn fit_up(&self) -> Vec<StepSpec> {
        let joints = self.such(|joint| joint.temporary.is_some());
        let one = |joint: &&Joint| self.of_joint("fit-up", "Put the fit-up hardware in", joint, StepKind::Fit);
        joints.iter().map(one).collect()
    }

    fn open_up(&self) -> Vec<StepSpec> {
        let worked = self.such(needs_work);
        let apart = (self.is_several() && !worked.is_empty()) || self.has_fit_up();
        let one = self.together && !self.has_fit_up() && !worked.is_empty();
        let mut steps = Vec::new();
        if apart && !one {
            let step = self.with_parts(self.step("take-apart", "Take the parts apart", StepKind::TakeApart));
            let fitted = self.such(|joint| joint.temporary.is_some());
            steps.push(with_joints(step, &fitted));
        }
        let left = self.own.left(StepKind::Deburr, true, worked);
        if !left.is_empty() {
            let title = if apart && one { "Take apart, deburr holes and edges" } else { "Deburr holes and edges" };
            let step = with_joints(self.step("deburr", title, StepKind::Deburr), &left);
            let step = if one { self.with_parts(step) } else { step };
            steps.push(if apart && one { self.by(step, &["take-apart", "deburr"]) } else { step });
        }
        steps
    }

    fn form(&self) -> Vec<StepSpec> {
        let with = |wanted: fn(Preparation) -> bool| {
            self.such(|joint| joint.layers.iter().any(|layer| wanted(layer.preparation)))
        };
        let cut = self.own.left(StepKind::Countersink, true, with(Preparation::is_cut));
        let formed = self.own.left(StepKind::Dimple, true, with(|preparation| preparation == Preparation::Dimple));
        if self.are_one("form", ["countersink", "dimple"], !cut.is_empty() && !formed.is_empty()) {
            let is_other = |joint: &&Joint| !cut.iter().any(|own| own.id.value == joint.id.value);
            let all: Vec<&Joint> = cut.iter().copied().chain(formed.iter().copied().filter(is_other)).collect();
            let step = with_joints(self.step("form", "Countersink and dimple", StepKind::Countersink), &all);
            return if all.is_empty() { Vec::new() } else { vec![self.by(step, &["countersink", "dimple"])] };
        }
        let cut = (!cut.is_empty())
            .then(|| with_joints(self.step("countersink", "Countersink", StepKind::Countersink), &cut));
        let formed =
            (!formed.is_empty()).then(|| with_joints(self.step("dimple", "Dimple", StepKind::Dimple), &formed));
        cut.into_iter().chain(formed).collect()
    }

    fn protect(&self) -> Vec<StepSpec> {
        if self.parts.is_empty() || self.joints.is_empty() {
            return Vec::new();
        }
        let clean = self.with_parts(self.step("clean", "Clean for primer", StepKind::Clean));
        let title = if self.together { "Clean and prime" } else { "Prime" };
        let prime = self.with_parts(self.step("prime", title, StepKind::Prime));
        if self.together {
            return vec![self.by(prime, &["clean", "prime"])];
        }
        let fit = self.step("fit", "Fit together for fastening", StepKind::Fit);
        let fit = self.is_several().then(|| self.with_parts(fit));
        [clean, prime].into_iter().chain(fit).collect()
    }

    fn fasten(&self) -> Vec<StepSpec> {
        let joints = self.such(|joint| joint.open_count() < joint.count.value);
        if self.together {
            self.fasten_together(&joints)
        } else {
            joints.iter().flat_map(|joint| self.fasten_one(joint)).collect()
        }
    }

    fn fasten_one(&self, joint: &Joint) -> Vec<StepSpec> {
        let steps = match Fastening::of(joint) {
            Fastening::Rivets => vec![self.of_joint("rivet", rivet_verb(&[joint]), joint, StepKind::Rivet)],
            Fastening::Bolts => {
                let bolt = self.of_joint("bolt", "Bolt", joint, StepKind::Bolt);
                let torque = self.of_joint("torque", lines::tighten_verb(joint), joint, StepKind::Torque);
                std::iter::once(bolt).chain(is_tightened(joint).then_some(torque)).collect()
            }
            Fastening::Nothing => Vec::new(),
        };
        let is_left = |step: &StepSpec| !self.own.left(step.kind.value, true, vec![joint]).is_empty();
        steps.into_iter().filter(is_left).collect()
    }

    /// One step for the rivets, one for the bolts, which are tightened as they go in.
    fn fasten_together(&self, joints: &[&Joint]) -> Vec<StepSpec> {
        let of = |wanted: Fastening| -> Vec<&Joint> {
            joints.iter().copied().filter(|joint| Fastening::of(joint) == wanted).collect()
        };
        let fits = |first: bool| if first && self.is_several() { Some("fit") } else { None };
        let rivets = self.own.left(StepKind::Rivet, true, of(Fastening::Rivets));
        let bolts = self.own.left(StepKind::Bolt, true, of(Fastening::Bolts));
        let mut steps = Vec::new();
        if !rivets.is_empty() {
            let step = with_joints(self.step("rivet", rivet_verb(&rivets), StepKind::Rivet), &rivets);
            let any = |such: fn(&Fastener) -> bool| rivets.iter().any(|joint| joint.fastener.as_ref().is_ok_and(such));
            let pulls = any(|fastener| matches!(fastener, Fastener::BlindRivet(_)));
            let drives = !pulls || rivets.iter().any(|joint| !matches!(joint.fastener, Ok(Fastener::BlindRivet(_))));
            let work = drives.then_some("rivet").into_iter().chain(pulls.then_some("pull"));
            let procedures: Vec<&str> = fits(true).into_iter().chain(work).collect();
            steps.push(self.by(step, &procedures));
        }
        if !bolts.is_empty() {
            let tightened = bolts.iter().any(|joint| is_tightened(joint));
            let title = bolting(&bolts);
            let work = std::iter::once("bolt").chain(tightened.then_some("torque"));
            let procedures: Vec<&str> = fits(rivets.is_empty()).into_iter().chain(work).collect();
            steps.push(self.by(with_joints(self.step("bolt", title, StepKind::Bolt), &bolts), &procedures));
        }
        steps
    }

    fn finish(&self) -> Vec<StepSpec> {
        let all: Vec<&Joint> = self.joints.iter().collect();
        let joints = by_name(self.own.left(StepKind::Inspect, true, all));
        // What others fasten they look at; the parts are looked at here.
        let is_needed = !joints.is_empty() || self.joints.is_empty() || self.own.is_elsewhere(StepKind::Inspect);
        let inspect = self.step("inspect", "Inspect", StepKind::Inspect);
        let mut inspect = if joints.is_empty() { self.with_parts(inspect) } else { with_joints(inspect, &joints) };
        let records = |joint: &&Joint| head_records(joint, &joint.id.value, (joint.id.span, self.style));
        inspect.entry.records = joints.iter().flat_map(records).collect();
        let photo =
            Some(Spanned { value: "whole assembly, then each joint; you in one of them".to_owned(), span: self.span });
        let mut steps = if self.together {
            inspect.entry.photo = photo;
            "Inspect and photograph".clone_into(&mut inspect.title.value);
            vec![self.by(inspect, &["inspect", "photograph"])]
        } else {
            let step = self.step("photograph", "Photograph what will be covered", StepKind::Photograph);
            let mut photograph = self.with_parts(step);
            photograph.entry.photo = photo;
            vec![inspect, photograph]
        };
        steps.retain(|step| is_needed || step.kind.value != StepKind::Inspect);
        steps.extend(self.closes.iter().map(|space| self.close(space)));
        steps
    }

    /// The step that closes a space, with the hold or the stage that the space asks for.
    fn close(&self, space: &Text) -> StepSpec {
        let known = self.project.spaces.iter().find(|own| own.id.value == space.value);
        let title = known.map_or_else(|| format!("Close {}", space.value), |own| format!("Close: {}", own.name.value));
        let mut step = self.at(space.span, format!("close-{}", slug(&space.value)), title, StepKind::Close);
        step.entry.closes = vec![space.clone()];
        let asked = |text: &Text| Spanned { value: text.value.clone(), span: space.span };
        step.entry.hold = known.and_then(|own| own.hold.as_ref()).map(asked);
        step.entry.stage = known.and_then(|own| own.stage.as_ref()).map(asked).or_else(|| self.releasing(space));
        step
    }

    /// The stage that releases a space, where the space does not name one.
    fn releasing(&self, space: &Text) -> Option<Text> {
        let releases = |stage: &&crate::spec::StageSpec| stage.releases.iter().any(|own| own.value == space.value);
        let stage = self.project.stages.iter().find(releases)?;
        Some(Spanned { value: stage.id.value.clone(), span: space.span })
    }
}

/// The smallest shop head of a rivet joint, which the traveler calls by `name`, to be measured.
pub(super) fn head_records(joint: &Joint, name: &str, (span, style): (Span, &Style)) -> Vec<Record> {
    let Ok(Fastener::SolidRivet(rivet)) = &joint.fastener else { return Vec::new() };
    if joint.open_count() == joint.count.value {
        return Vec::new();
    }
    let head = shop_head(rivet.diameter, rivet.alloy);
    let text = |value: String| Spanned { value, span };
    let record = |(id, what, least, measures): (&str, &str, Length, Measures)| Record {
        span,
        id: text(format!("{}-{id}", slug(name))),
        label: text(format!("Smallest shop head of {name}, {what}")),
        unit: Some(text(style.word().to_owned())),
        min: Decimal::parse(&style.least_number(least)).ok().map(|value| Spanned { value, span }),
        max: None,
        tool: Some(text("head gauge".to_owned())),
        within: None,
        measures: Some(Spanned { value: measures, span }),
    };
    let wide = ("wide", "width", head.least_diameter.value, Measures::HeadWidth);
    let high = ("high", "height", head.least_height.value, Measures::HeadHeight);
    [wide, high].map(record).into()
}

/// How a joint is fastened for good.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Fastening {
    Rivets,
    Bolts,
    Nothing,
}

impl Fastening {
    fn of(joint: &Joint) -> Self {
        match &joint.fastener {
            Ok(Fastener::SolidRivet(_) | Fastener::BlindRivet(_)) => Self::Rivets,
            Ok(Fastener::Bolt(_) | Fastener::Screw(_)) => Self::Bolts,
            Ok(_) => Self::Nothing,
            // A call that is in no table is what is to be put right; its steps are there all the same.
            Err(_) if joint.nut.is_some() => Self::Bolts,
            Err(_) => Self::Rivets,
        }
    }
}

/// Whether a kind of step is worked in the space which the traveler closes: what is done before it is put together needs
/// no access to it.
const fn works_inside(kind: StepKind) -> bool {
    matches!(kind, StepKind::Rivet | StepKind::Bolt | StepKind::Torque | StepKind::Inspect | StepKind::Photograph)
}

fn is_tightened(joint: &Joint) -> bool {
    joint.nut.is_some() || joint.safety() == crate::job::Safety::Wire
}

/// What is done to bolts in one step: `Bolt, torque and safety`.
fn bolting(bolts: &[&Joint]) -> String {
    let tightened: Vec<&&Joint> = bolts.iter().filter(|joint| is_tightened(joint)).collect();
    let such = |is_such: &dyn Fn(&Joint) -> bool| tightened.iter().any(|joint| is_such(joint));
    let works = [
        ("torque", such(&|joint| !joint.is_snug())),
        ("set snug", such(&Joint::is_snug)),
        ("safety", such(&|joint| lines::is_safetied(joint))),
    ];
    let works: Vec<&str> = works.into_iter().filter(|(_, is_done)| *is_done).map(|(work, _)| work).collect();
    match works.as_slice() {
        [] => "Bolt".to_owned(),
        [one] => format!("Bolt and {one}"),
        [first @ .., last] => format!("Bolt, {} and {last}", first.join(", ")),
    }
}

fn rivet_verb(joints: &[&Joint]) -> &'static str {
    let is_blind = |joint: &&Joint| matches!(joint.fastener, Ok(Fastener::BlindRivet(_)));
    if joints.iter().all(is_blind) { "Pull rivets" } else { "Rivet" }
}

fn is_reamed_here(joint: &Joint) -> bool {
    matches!(joint.fastener, Ok(Fastener::Bolt(_)))
}

/// Whether the holes are smaller than they end up. Of a call that is in no table nobody knows.
fn needs_work(joint: &Joint) -> bool {
    let is_smaller = |last: Length| joint.delivered().is_none_or(|start| start.size.length < last);
    joint.last.map_or(joint.fastener.is_err(), |last| is_smaller(last.size.length))
}

fn with_joints(mut step: StepSpec, joints: &[&Joint]) -> StepSpec {
    step.entry.joints = by_name(joints.to_vec()).iter().map(|joint| joint.id.clone()).collect();
    step
}

/// Joints of one step stand by their names, whatever order the file has them in: signed work does not depend on that.
fn by_name(mut joints: Vec<&Joint>) -> Vec<&Joint> {
    joints.sort_by_key(|joint| counted(&joint.id.value));
    joints
}

/// A name as it sorts: J2 before J10.
fn counted(id: &str) -> (String, usize, String) {
    let (words, number) = id.split_at(id.trim_end_matches(|c: char| c.is_ascii_digit()).len());
    (words.to_owned(), number.len(), number.to_owned())
}

fn by(mut step: StepSpec, procedures: &[&str], span: Span) -> StepSpec {
    step.entry.procedure = procedures.iter().map(|id| Spanned { value: (*id).to_owned(), span }).collect();
    step
}

/// The final size stands with the joint alone, so that a change there cannot leave another number at the step.
fn reaching(mut step: StepSpec, size: Size, span: Span) -> StepSpec {
    step.entry.to = Some(Spanned { value: size, span });
    step
}

fn named(verb: &str, joint: &Joint) -> String {
    match &joint.name {
        Some(name) => format!("{verb} {}: {}", joint.id.value, name.value),
        None => format!("{verb} {}", joint.id.value),
    }
}

/// An id as part of a step's.
pub(super) fn slug(text: &str) -> String {
    let plain: String =
        text.chars().map(|c| if c.is_alphanumeric() { c.to_lowercase().next().unwrap_or(c) } else { '-' }).collect();
    plain.trim_matches('-').to_owned()
}
