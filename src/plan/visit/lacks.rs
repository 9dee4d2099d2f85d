//! What a visit packet lacks: nothing to look at, steps that are open, discrepancies. A visitor must not come for nothing.
//!
//! It counts and names; whether somebody comes all the same is for the builder and the visitor.

use super::VisitPacket;
use super::left::LeftKind;
use super::scene::Scene;
use super::stage::StageLine;
use crate::phrase::{say, say_count};

/// Open steps that are named; the others are counted.
const NAMED: usize = 6;

/// In front of what is open.
pub(super) fn unready() -> &'static str {
    say!("NOT READY")
}

/// In front of a space in which nothing is planned.
pub(super) fn empty() -> &'static str {
    say!("EMPTY")
}

/// Why the packet is empty, or the work not ready, a sentence each; nothing where it is ready.
pub(super) fn lacks(scene: &Scene<'_>, packet: &VisitPacket) -> Vec<String> {
    let mut lacks: Vec<String> = Vec::new();
    for chosen in &scene.chosen {
        let name = chosen.name(scene.job);
        let closes = |item| chosen.closing.as_ref().is_some_and(|(by, _)| *by == item);
        if chosen.users.iter().all(|item| closes(*item)) {
            lacks.push(say!(
                "{name}: {empty}. No step of the builder's plan works there; `spaces` on a step says that it does.",
                name,
                empty = empty()
            ));
        } else if scene.joints_in(chosen).is_empty() {
            lacks
                .push(say!("{name}: no set of fasteners is listed, because no step that works there names one.", name));
        }
    }
    lacks.extend(packet.stages.iter().filter_map(not_ready));
    for space in packet.spaces.iter().filter(|space| space.hold.is_some() && space.closed.is_none()) {
        let left = packet.left.iter().filter(|left| left.space == space.space && left.kind == LeftKind::Step);
        let open: Vec<&str> = left.map(|left| left.place.as_str()).collect();
        if let Some((steps, named)) = open_steps(&open, ", ", say!(" and others")) {
            lacks.push(say!(
                "{space}: {unready}. {steps}: {named}; part 3.",
                space = space.space,
                unready = unready(),
                steps,
                named
            ));
        }
    }
    if !packet.open.is_empty() {
        lacks.push(say!(
            "{open}, in part 3.",
            open = say_count!(packet.open.len(), "{n} discrepancy is open", "{n} discrepancies are open")
        ));
    }
    lacks
}

fn not_ready(stage: &StageLine) -> Option<String> {
    let open: Vec<&str> = stage.open.iter().map(String::as_str).collect();
    let (steps, named) = open_steps(&open, "; ", say!("; and others"))?;
    Some(say!(
        "Stage {title}: {unready}. {steps} before it: {named}.",
        title = stage.title,
        unready = unready(),
        steps,
        named
    ))
}

/// How many steps are open, and the first of them by name; nothing where none is.
fn open_steps(open: &[&str], between: &str, others: &str) -> Option<(String, String)> {
    let steps = say_count!(open.len(), "{n} step is open", "{n} steps are open");
    let rest = if open.len() > NAMED { others } else { "" };
    let named = &open[..open.len().min(NAMED)];
    (!open.is_empty()).then(|| (steps, format!("{}{rest}", named.join(between))))
}
