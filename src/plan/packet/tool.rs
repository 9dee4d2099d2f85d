//! The tools to lay out: drills and reamers from the life of the holes, countersinks, dies, sets, sheet holders.
//!
//! Sizes are computed from the joints; other tools stand as the steps name them.

use serde::Serialize;

use super::source::Source;
use crate::hardware::{Fastener, Head};
use crate::job::{Joint, Preparation, StepKind, operation};
use crate::plan::holders::held;
use crate::plan::joint::prepared;
use crate::units::{Size, counted};

/// One tool.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct ToolLine {
    /// What it is.
    pub what: String,
    /// Its size or how many, where that matters.
    pub size: String,
    /// Numbers of the steps that use it.
    pub steps: Vec<String>,
}

/// Every tool in the order in which the packet first asks for it; in an excerpt only those that its steps use.
pub(super) fn tools(source: Source<'_>) -> Vec<ToolLine> {
    let mut list = List { source, lines: Vec::new() };
    cutters(&mut list);
    formers(&mut list);
    sheet_holders(&mut list);
    for (at, step) in source.traveler().steps.iter().enumerate() {
        for tool in &step.tools {
            list.add(&tool.value, "", at);
        }
        for tool in step.records.iter().filter_map(|record| record.tool.as_ref()) {
            list.add(&tool.value, "", at);
        }
    }
    list.lines.retain(|line| !line.steps.is_empty());
    list.lines
}

struct List<'a> {
    source: Source<'a>,
    lines: Vec<ToolLine>,
}

impl List<'_> {
    /// Adds a tool of a step; of a step that is not printed it only keeps its place.
    fn add(&mut self, what: &str, size: &str, step: usize) {
        let known = self.lines.iter().position(|line| line.what.eq_ignore_ascii_case(what) && line.size == size);
        let at = known.unwrap_or_else(|| {
            self.lines.push(ToolLine { what: what.to_owned(), size: size.to_owned(), steps: Vec::new() });
            self.lines.len() - 1
        });
        let number = operation(self.source.traveler().steps[step].number);
        let steps = &mut self.lines[at].steps;
        if self.source.has(step) && !steps.contains(&number) {
            steps.push(number);
        }
    }
}

/// Drills and reamers, smallest first.
fn cutters(list: &mut List<'_>) {
    let mut cuts: Vec<(Size, StepKind, usize)> = Vec::new();
    for joint in &list.source.traveler().joints {
        for at in joint.drillings() {
            if let Some(hole) = at.hole {
                cuts.push((hole.size, at.kind, at.step));
            }
        }
    }
    cuts.sort();
    for (size, kind, step) in cuts {
        list.add(if kind == StepKind::Ream { "reamer" } else { "drill" }, &size.full(), step);
    }
}

/// Countersinks, dimple dies and rivet sets.
fn formers(list: &mut List<'_>) {
    for joint in &list.source.traveler().joints {
        for at in &joint.life {
            if let Some((what, size)) = former(joint, at.kind) {
                list.add(&what, &size, at.step);
            }
        }
    }
}

/// What forms a seat or a head, and its size.
fn former(joint: &Joint, kind: StepKind) -> Option<(String, String)> {
    let size = joint
        .diameter()
        .map_or_else(String::new, |d| d.fraction_text().map_or_else(|| d.both(), |text| format!("{text} in")));
    let fastener = joint.fastener.as_ref().ok();
    let angle = fastener.and_then(|fastener| fastener.head().degrees());
    let angle = angle.map_or_else(String::new, |angle| format!(", {angle} deg"));
    let through = if matches!(fastener, Some(Fastener::Screw(_) | Fastener::Bolt(_))) { "screw" } else { "rivet" };
    let is_prepared = |preparation| prepared(joint, preparation).next().is_some();
    match kind {
        StepKind::Countersink if joint.layers.iter().any(|layer| layer.preparation.is_cut()) => {
            Some((format!("countersink{angle}, with stop"), format!("for {size} flush head")))
        }
        StepKind::Dimple if is_prepared(Preparation::Dimple) => {
            Some((format!("dimple dies{angle}"), format!("{size} {through}")))
        }
        StepKind::Rivet => Some((rivet_tool(joint)?.to_owned(), format!("{size} rivet"))),
        _ => None,
    }
}

fn rivet_tool(joint: &Joint) -> Option<&'static str> {
    match joint.fastener.as_ref().ok()? {
        Fastener::SolidRivet(rivet) if rivet.head == Head::Protruding => Some("rivet set, cupped, and bar"),
        Fastener::SolidRivet(_) => Some("rivet set, flush, and bar"),
        Fastener::BlindRivet(_) => Some("blind rivet puller"),
        _ => None,
    }
}

/// Temporary fasteners for sheet: by hole size the most that one step has in at once, every other hole filled.
fn sheet_holders(list: &mut List<'_>) {
    let traveler = list.source.traveler();
    let mut peaks: Vec<(Size, u32, Vec<usize>)> = Vec::new();
    for (at, step) in traveler.steps.iter().enumerate() {
        for (size, count) in held(traveler, at, step) {
            match peaks.iter_mut().find(|(known, _, _)| known.length == size.length) {
                Some((_, most, steps)) => {
                    *most = count.max(*most);
                    steps.push(at);
                }
                None => peaks.push((size, count, vec![at])),
            }
        }
    }
    peaks.sort();
    for (size, count, steps) in peaks {
        let how_many = format!("{} for {} holes", counted(count, "piece", "pieces"), size.full());
        for step in steps {
            list.add("temporary sheet fasteners", &how_many, step);
        }
    }
}
