//! PROCEDURES: by which standard way of work a step is done, and what it takes from there: text, tools, cure, time.
//!
//! A project's own procedure takes the place of the built-in one with its id. What the step itself says stands before
//! both. The estimate of a step is made here and nowhere else.

use super::usual::lines_for;
use super::{Index, Joint, Origin, Preparation, Project, Step, StepKind, StepSpec, Text};
use crate::hardware::Fastener;
use crate::report::{Finding, Severity, fault};
use crate::spec::{BuiltInProcedure, LEAK_TEST, ProcedureSpec, ProjectSpec, built_in_procedures, nearest};
use crate::text::{Span, Spanned};
use crate::units::{Decimal, Minutes};

/// One standard way of work.
#[derive(Debug, Clone)]
pub struct Procedure {
    /// A kind of step, or a name of its own.
    pub id: String,
    /// Revision of the project's own; the built-in ones have none.
    pub revision: Option<String>,
    /// What prints.
    pub text: String,
    /// Where the text was written, for the project's own.
    pub span: Option<Span>,
    /// Tools beyond those that follow from the joints.
    pub tools: Vec<Text>,
    /// Consumables.
    pub uses: Vec<Text>,
    /// Minutes for a step.
    pub for_step: u32,
    /// Minutes for each hole.
    pub for_hole: Decimal,
    /// Nothing touches the parts until then.
    pub cure: Option<Spanned<Minutes>>,
    /// The same at usual steps, where it is not said.
    pub usual_cure: Option<Minutes>,
}

impl Procedure {
    /// The id, and the revision where it has one.
    #[must_use]
    pub fn named(&self) -> String {
        match &self.revision {
            Some(revision) => format!("{} rev {revision}", self.id),
            None => self.id.clone(),
        }
    }
}

/// What a step takes from its procedures where it says nothing itself.
#[derive(Debug, Clone, Default)]
pub(in crate::job) struct Taken {
    pub procedures: Vec<usize>,
    pub text: Option<Text>,
    pub tools: Vec<Text>,
    pub uses: Vec<Text>,
    pub cure: Option<Spanned<Minutes>>,
    pub minutes: Option<Spanned<u32>>,
}

impl Project {
    /// What the builder wrote for a step, in it or in a procedure of the project: the words of a built-in procedure are
    /// the trade's, and nobody's requirement.
    #[must_use]
    pub fn own_words<'a>(&self, step: &'a Step) -> Option<&'a Text> {
        let is_own = |index: &usize| self.procedures[*index].span.is_some();
        step.text.as_ref().filter(|_| step.spec.text.is_some() || step.procedures.iter().any(is_own))
    }
}

/// The procedures of a project: its own, then the built-in ones that it does not replace.
pub(in crate::job) fn procedures(spec: &ProjectSpec) -> Vec<Procedure> {
    let own = spec.procedures.iter().map(own_procedure);
    let is_replaced = |id: &str| spec.procedures.iter().any(|own| own.id.value == id);
    let built_in = built_in_procedures().iter().filter(|built_in| !is_replaced(&built_in.id));
    own.chain(built_in.map(|built_in| Procedure {
        id: built_in.id.clone(),
        revision: None,
        text: built_in.text.trim_end().to_owned(),
        span: None,
        tools: Vec::new(),
        uses: Vec::new(),
        for_step: built_in.minutes.step,
        for_hole: built_in.minutes.for_each_hole(),
        cure: None,
        usual_cure: built_in.cure(),
    }))
    .collect()
}

fn own_procedure(spec: &ProcedureSpec) -> Procedure {
    // What an own procedure does not say, the built-in one of its id says.
    let built_in = built_in_procedures().iter().find(|built_in| built_in.id == spec.id.value);
    let text = spec.text.as_ref().map(|text| text.value.as_str()).or_else(|| built_in.map(|own| own.text.as_str()));
    let minutes = spec.minutes.as_ref();
    Procedure {
        id: spec.id.value.clone(),
        revision: spec.revision.as_ref().map(|revision| revision.value.clone()),
        // A procedure of tools and minutes alone has no text.
        text: text.unwrap_or_default().trim_end().to_owned(),
        span: spec.text.as_ref().map(|text| text.span),
        tools: spec.tools.clone(),
        uses: spec.uses.clone(),
        // Nobody said how long it takes: the step itself may.
        for_step: minutes.map_or_else(|| built_in.map_or(0, |own| own.minutes.step), |own| own.step.value),
        for_hole: match (minutes, built_in) {
            (Some(own), _) => own.hole.map_or(Decimal::from_micro(0), |hole| hole.value),
            (None, Some(built_in)) => built_in.minutes.for_each_hole(),
            (None, None) => Decimal::from_micro(0),
        },
        cure: spec.cure,
        usual_cure: built_in.and_then(BuiltInProcedure::cure),
    }
}

/// The procedure of a step that names none: that of its kind, or of what its joints make of it.
fn usual_procedure(step: &StepSpec, joints: &[&Joint]) -> &'static str {
    let any = |such: fn(&Joint) -> bool| joints.iter().any(|joint| such(joint));
    let is_bolt = |joint: &Joint| matches!(joint.fastener, Ok(Fastener::Bolt(_)));
    let is_last = |joint: &&Joint| step.to.is_none_or(|to| joint.last.is_none_or(|last| last.size == to.value));
    match step.kind.value {
        StepKind::Rivet if any(|joint| matches!(joint.fastener, Ok(Fastener::BlindRivet(_)))) => "pull",
        StepKind::Drill if !joints.is_empty() && !joints.iter().all(is_last) => {
            if joints.iter().all(|joint| is_bolt(joint)) { "drill-under" } else { "pilot" }
        }
        StepKind::Test if step.tests_for_leaks() => LEAK_TEST,
        kind => kind.word(),
    }
}

/// What a step takes from its procedures; a name that leads nowhere is a finding.
pub(in crate::job) fn take(
    step: &StepSpec,
    (named, parts): (&[(String, &Joint)], &[Index]),
    all: &[Joint],
    (known, origin): (&[Procedure], Origin),
) -> (Taken, Vec<Finding>) {
    let mut findings = Vec::new();
    let joints: Vec<&Joint> = named.iter().map(|(_, joint)| *joint).collect();
    // A step that names parts alone is about the joints between them.
    let is_between = |joint: &&Joint| {
        joint.layers.iter().filter_map(|layer| layer.part).any(|part| parts.iter().any(|own| own.value == part))
    };
    let between = || all.iter().filter(is_between).map(|joint| (joint.id.value.clone(), joint)).collect();
    let beside: Vec<(String, &Joint)> = if named.is_empty() { between() } else { named.to_vec() };
    let find = |id: &str| known.iter().position(|own| own.id == id);
    let mut procedures: Vec<usize> = Vec::new();
    for own in &step.procedure {
        match find(&own.value) {
            Some(index) => procedures.push(index),
            None => findings.push(dangling(own, known)),
        }
    }
    if procedures.is_empty() {
        procedures.extend(find(usual_procedure(step, &joints)));
    }
    let of = || procedures.iter().map(|index| &known[*index]);
    let span = step.id.span;
    let usual_cure = || of().find_map(|own| own.usual_cure).filter(|_| origin != Origin::Written);
    let taken = Taken {
        text: step.text.is_none().then(|| text(&of().collect::<Vec<_>>(), &beside, span)).flatten(),
        tools: of().flat_map(|own| own.tools.iter().cloned()).collect(),
        uses: of().flat_map(|own| own.uses.iter().cloned()).collect(),
        cure: of().find_map(|own| own.cure).or_else(|| usual_cure().map(|value| Spanned { value, span })),
        minutes: estimate(&of().collect::<Vec<_>>(), &joints).map(|value| Spanned { value, span }),
        procedures,
    };
    (taken, findings)
}

/// The texts of procedures, each with what the hardware of the joints asks for.
fn text(procedures: &[&Procedure], joints: &[(String, &Joint)], span: Span) -> Option<Text> {
    let mut lines: Vec<String> = Vec::new();
    for procedure in procedures {
        let own = procedure.text.lines().map(str::to_owned);
        let asked = lines_for(&procedure.id, joints).into_iter().map(|line| format!("- {line}"));
        // Parts are clamped before anything else is done to hold them.
        let together: Vec<String> =
            if procedure.id == "pin" { own.chain(asked).collect() } else { asked.chain(own).collect() };
        lines.extend(together);
    }
    let whole = lines.join("\n");
    let of_own = procedures.iter().find_map(|procedure| procedure.span.filter(|_| procedures.len() == 1));
    (!whole.trim().is_empty()).then(|| Spanned { value: whole, span: of_own.unwrap_or(span) })
}

/// Minutes of a step by counts, rounded up; nothing where its procedures give none.
fn estimate(procedures: &[&Procedure], joints: &[&Joint]) -> Option<u32> {
    let named: Vec<&str> = procedures.iter().map(|own| own.id.as_str()).collect();
    let minutes = |own: &&Procedure| {
        let worked = joints.iter().filter(|joint| is_worked_by(&own.id, &named, joint));
        let holes = worked.map(|joint| joint.count.value).fold(0, u32::saturating_add);
        let of_holes = own.for_hole.micro().saturating_mul(i64::from(holes));
        i64::from(own.for_step).saturating_mul(MICRO).saturating_add(of_holes)
    };
    let micro: i64 = procedures.iter().map(minutes).fold(0, i64::saturating_add);
    let whole = micro.saturating_add(MICRO - 1) / MICRO;
    u32::try_from(whole).ok().filter(|minutes| *minutes > 0).map(|minutes| minutes.min(MOST_MINUTES))
}

/// Whether a procedure is about a joint of a step that is done by several: of two that share the joints each has its own.
fn is_worked_by(id: &str, named: &[&str], joint: &Joint) -> bool {
    let both = |one: &str, other: &str| named.contains(&one) && named.contains(&other);
    let is_reamed = || matches!(joint.fastener, Ok(Fastener::Bolt(_)));
    let any = |such: fn(Preparation) -> bool| joint.layers.iter().any(|layer| such(layer.preparation));
    match id {
        "pilot" | "drill" if both("drill", "ream") => !is_reamed(),
        "ream" if both("drill", "ream") => is_reamed(),
        "countersink" if both("countersink", "dimple") => any(Preparation::is_cut),
        "dimple" if both("countersink", "dimple") => any(|own| own == Preparation::Dimple),
        _ => true,
    }
}

const MICRO: i64 = 1_000_000;

/// As many as a step may say itself.
const MOST_MINUTES: u32 = 100_000;

fn dangling(named: &Text, known: &[Procedure]) -> Finding {
    let ids = || known.iter().map(|own| own.id.as_str());
    let help = match nearest(&named.value, ids()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("known: {}", ids().collect::<Vec<_>>().join(", ")),
    };
    let message = format!("there is no procedure `{}`", named.value);
    let missing = Some(("procedure", named.value.clone()));
    Finding { missing, ..Finding::new(fault::REFERENCE_DANGLING, Severity::Error, named.span, message) }.help(help)
}
