//! # torque-out-of-range
//!
//! ## What it checks
//! The torque that a spec gives lies within the `[[torque]]` entry of build.toml that is for the bolt's thread and class, the
//! kind of nut and the lubrication; where none is, within Table 7-1 for the bolt's thread and the nut's column, tension or shear: outside it a
//! warning, because the drawing's own torque outranks the table, and above the table's maximum allowable an error. A torque
//! among the `limits` of the plans takes the place of the table's range: inside it nothing is said, outside it is an error. The
//! table is for dry cadmium-plated threads and leaves out the nut's own drag; with `drag = "included"` the range holds it,
//! and a drag that was measured (`run-down`) is added to the maximum. No torque, and no entry, is above what pulls a metric
//! bolt to the strength of its class even with the most friction there is. `torque = "snug"` is for a joint that turns on
//! its bolt.
//!
//! ## Why it matters
//! Too little lets the joint work, too much stretches the bolt or strips the nut; neither can be seen. A bolt that is left
//! snug in a joint that does not turn on it turns in its hole.
//!
//! ## Source
//! - `AC-T7-1` AC 43.13-1B, Table 7-1: torque by thread and nut (should); grade A.
//! - `AC-7-40` AC 43.13-1B, par. 7-40d to i: the table is for torques that the maker does not give; the maximum holds with
//!   the friction drag added (should); grade A.
//! - `ISO898-Q` ISO 898-1, least tensile strength by property class and stress area, as given by reference pages: what a
//!   metric bolt bears (shall); grade B.
//!
//! ## Example that fires
//! ```toml
//! fastener = "AN3-6A"
//! nut = "MS21044N3"              # tension: 20-25 in-lb
//! torque = "30 in-lb"
//! ```
//!
//! ## How to put it right
//! Nothing is wrong where the drawing gives this torque: say where, in `limits = { torque = .., because = ".." }`. Where it gives none, leave
//! `torque` out: it then comes from the table. A range that holds the nut's drag is marked `drag = "included"`.
//!
//! ## When to allow it
//! When the drawing gives this torque: the reason names the drawing.

use crate::hardware::{Fastener, Metal, NutDuty, torque_for, torque_that_breaks};
use crate::job::Joint;
use crate::report::{Finding, Severity};
use crate::rules::facts::{Through, kind, nut};
use crate::rules::{At, Check, Looks, Sink};
use crate::text::Span;
use crate::units::{Torque, TorqueRange};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(Through::Bolt) = kind(joint) else { return };
    let Some(torque) = joint.called_torque() else { return entry_breaks(joint, sink) };
    let Some(given) = torque.value.range() else { return snug(joint, torque.span, sink) };
    if let Some(finding) = outside_plans(joint, given, torque.span, sink) {
        return sink.push(finding);
    }
    if let Some(finding) = breaks(joint, given, torque.span, sink) {
        return sink.push(finding);
    }
    if let Some(own) = &joint.own_torque {
        let table = Listed { name: "the entry of the build", install: own.range, most: own.most };
        let found = outside(joint, given, torque.span, &table, sink);
        let cite = format!("[[torque]] {}", own.source);
        return found.into_iter().for_each(|finding| sink.push(finding.source(cite.clone())));
    }
    let Some((nut, written)) = nut(joint) else { return };
    // The table is for dry threads, and for steel.
    let is_aluminium = joint.fastener.as_ref().is_ok_and(|bolt| bolt.metal() == Some(Metal::Aluminium));
    if joint.lubricated.is_some_and(|lubricated| lubricated.value) || is_aluminium {
        return sink.cannot("the torque table is for dry steel threads");
    }
    let thread = joint.fastener.as_ref().ok().and_then(Fastener::thread);
    let Some(table) = thread.and_then(|thread| torque_for(thread, nut.duty)) else {
        return sink.cannot(if joint.torque_for_others {
            "no [[torque]] entry is for this class, nut and lubrication together"
        } else {
            "the torque table does not list this thread"
        });
    };
    let table = Listed { name: "the table", install: table.value.install, most: Some(table.value.most) };
    let Some(finding) = outside(joint, given, torque.span, &table, sink) else { return };
    sink.push(finding.label(
        written.span,
        match nut.duty {
            NutDuty::Tension => "a nut of the tension column",
            NutDuty::Shear => "a nut of the shear column",
        },
    ));
}

/// Left finger-tight where nothing turns on the bolt.
fn snug(joint: &Joint, span: Span, sink: &mut Sink<'_>) {
    if joint.turns_its_bolt() {
        return;
    }
    let (why, help) = match (joint.clamped, joint.rotates) {
        (Some(_), _) => ("the part turns on what the bolt clamps", "leave `torque` out: the table's then prints"),
        (None, _) => {
            ("nothing says that the joint turns on its bolt", "write `rotates = true` if it does, else a torque")
        }
    };
    let message = format!("nut of {} is left snug, but {why}: the bolt turns in its hole", joint.call);
    sink.push(sink.warning(span, message).help(help));
}

/// Outside the torque that the plans' limits give.
fn outside_plans(joint: &Joint, given: TorqueRange, span: Span, sink: &Sink<'_>) -> Option<Finding> {
    let limits = joint.limits.as_ref()?;
    let plans = limits.torque.filter(|plans| given.low < plans.value.low || given.high > plans.value.high)?;
    let finding = sink.error(
        span,
        format!(
            "torque {given} is outside the plans' limit, {}",
            sink.style.torques(plans.value),
            given = sink.style.torques(given)
        ),
    );
    let finding = finding.label(plans.span, "limit of the plans").source(format!("plans: {}", limits.because.value));
    Some(finding.help(format!("{} passes", sink.style.torques(plans.value))))
}

/// More than a metric bolt of its class bears.
fn breaks(joint: &Joint, given: TorqueRange, span: Span, sink: &Sink<'_>) -> Option<Finding> {
    let bolt = joint.fastener.as_ref().ok()?;
    let class = bolt.property_class();
    let most = torque_that_breaks(bolt.thread()?, class).filter(|most| given.high > most.value)?;
    let of_class = class.map_or_else(|| "of the strongest class".to_owned(), |class| format!("of class {class}"));
    let message = format!(
        "torque {} breaks {} {of_class}: {} is all it bears with the most friction there is",
        sink.style.torques(given),
        bolt.thread_name().unwrap_or(&joint.call),
        sink.style.torque(most.value)
    );
    Some(
        sink.at_most_error(&most.basis, span, message)
            .help("see the plans for the torque; handbooks differ by class, nut and oil"),
    )
}

/// An entry of the build that prints where the joint gives no torque.
fn entry_breaks(joint: &Joint, sink: &mut Sink<'_>) {
    let Some(own) = joint.own_torque.as_ref().filter(|_| !joint.is_snug()) else { return };
    if let Some(finding) = breaks(joint, own.range, joint.spec.fastener.span, sink) {
        sink.push(finding);
    }
}

/// A range to judge by, and what it is called.
struct Listed {
    name: &'static str,
    install: TorqueRange,
    /// Never more than this, where it says so.
    most: Option<Torque>,
}

fn outside(joint: &Joint, given: TorqueRange, span: Span, table: &Listed, sink: &Sink<'_>) -> Option<Finding> {
    let install = table.install;
    let drag = joint.run_down.map(|drag| drag.value.high);
    let holds_drag = joint.torque_holds_drag();
    // What the wrench shows may pass the maximum by the drag, as far as that is known.
    let shown = |most: Torque| drag.filter(|_| holds_drag).map_or(most, |drag| most + drag);
    if let Some(most) = table.most.filter(|most| given.high > shown(*most)) {
        let message = format!(
            "torque {} is above the most allowed, {most_shown}",
            sink.style.torques(given),
            most_shown = sink.style.torque(shown(most))
        );
        let is_known = !holds_drag || drag.is_some();
        let finding = if is_known { sink.error(span, message) } else { sink.warning(span, message) };
        return Some(finding.help(format!(
            "{} installs with {install}, and never above {most} plus the nut's drag",
            table.name,
            most = sink.style.torque(most),
            install = sink.style.torques(install)
        )));
    }
    // An entry without a most still lets the drag come on top.
    let usual_high = if holds_drag { shown(table.most.unwrap_or(install.high)) } else { install.high };
    // Inside the plans' own limit: they outrank the table.
    let by_plans = joint.limits.as_ref().is_some_and(|limits| limits.torque.is_some());
    if by_plans || (given.low >= install.low && given.high <= usual_high) {
        return None;
    }
    let message = format!(
        "torque {} is outside {}, {install}",
        sink.style.torques(given),
        table.name,
        install = sink.style.torques(install)
    );
    let snug =
        if joint.turns_its_bolt() { "where the part turns on the bolt, write `torque = \"snug\"`; " } else { "" };
    Some(sink.warning(span, message).help(format!(
        "{snug}the drawing's own torque outranks the table: write it in `limits = {{ torque = .., because = \"..\" }}`; with the \
         nut's drag in it, write `drag = \"included\"`",
    )))
}
