//! The tools to lay out: drills and reamers from the life of the holes, countersinks, dies, sets, sheet holders.
//!
//! Sizes are computed from the joints; other tools stand as the steps name them.

use serde::Serialize;

use super::Source;
use super::joint::{hole_before, prepared};
use crate::hardware::{Fastener, Head};
use crate::job::{Joint, Preparation, Step, StepKind, Traveler, operation};
use crate::units::{Size, counted};

/// One tool.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
pub struct ToolLine {
    /// What it is.
    pub what: String,
    /// Its size or how many, where that matters.
    pub size: String,
    /// Numbers of the steps that use it.
    pub steps: Vec<String>,
}

pub(super) fn tools(source: Source<'_>) -> Vec<ToolLine> {
    let mut list = List(Vec::new());
    cutters(source, &mut list);
    formers(source, &mut list);
    sheet_holders(source, &mut list);
    for step in &source.traveler.steps {
        let number = operation(step.number);
        for tool in &step.tools {
            list.add(&tool.value, "", &number);
        }
        for record in &step.records {
            if let Some(tool) = &record.tool {
                list.add(&tool.value, "", &number);
            }
        }
    }
    list.0
}

struct List(Vec<ToolLine>);

impl List {
    fn add(&mut self, what: &str, size: &str, number: &str) {
        match self.0.iter_mut().find(|line| line.what.eq_ignore_ascii_case(what) && line.size == size) {
            Some(line) if line.steps.iter().any(|known| known == number) => {}
            Some(line) => line.steps.push(number.to_owned()),
            None => {
                self.0.push(ToolLine { what: what.to_owned(), size: size.to_owned(), steps: vec![number.to_owned()] });
            }
        }
    }
}

/// Drills and reamers, smallest first.
fn cutters(source: Source<'_>, list: &mut List) {
    let mut cuts: Vec<(Size, StepKind, String)> = Vec::new();
    for joint in &source.traveler.joints {
        for at in joint.drillings() {
            if let Some(hole) = at.hole {
                cuts.push((hole.size, at.kind, operation(source.traveler.steps[at.step].number)));
            }
        }
    }
    cuts.sort();
    for (size, kind, number) in cuts {
        list.add(if kind == StepKind::Ream { "reamer" } else { "drill" }, &size.full(), &number);
    }
}

/// Countersinks, dimple dies and rivet sets.
fn formers(source: Source<'_>, list: &mut List) {
    for (number, joint, kind) in worked(source) {
        let size = joint
            .diameter()
            .map_or_else(String::new, |d| d.fraction_text().map_or_else(|| d.both(), |text| format!("{text} in")));
        match kind {
            StepKind::Countersink if prepared(joint, Preparation::Countersink).next().is_some() => {
                list.add("countersink, 100 deg, with stop", &format!("for {size} flush head"), &number);
            }
            StepKind::Dimple if prepared(joint, Preparation::Dimple).next().is_some() => {
                list.add("dimple dies, 100 deg", &format!("{size} rivet"), &number);
            }
            StepKind::Rivet => rivet_tool(joint, &size, &number, list),
            _ => {}
        }
    }
}

fn rivet_tool(joint: &Joint, size: &str, number: &str, list: &mut List) {
    match &joint.fastener {
        Ok(Fastener::SolidRivet(_)) => {
            let flush = joint.fastener.as_ref().is_ok_and(|fastener| fastener.head() != Head::Protruding);
            list.add(
                if flush { "rivet set, flush, and bar" } else { "rivet set, cupped, and bar" },
                &format!("{size} rivet"),
                number,
            );
        }
        Ok(Fastener::BlindRivet(_)) => list.add("blind rivet puller", &format!("{size} rivet"), number),
        _ => {}
    }
}

fn worked(source: Source<'_>) -> impl Iterator<Item = (String, &Joint, StepKind)> {
    source.traveler.joints.iter().flat_map(move |joint| {
        joint.life.iter().map(move |at| (operation(source.traveler.steps[at.step].number), joint, at.kind))
    })
}

/// Temporary fasteners for sheet: by hole size the most that one step has in at once, every other hole filled.
fn sheet_holders(source: Source<'_>, list: &mut List) {
    let mut peaks: Vec<(Size, u32, Vec<String>)> = Vec::new();
    for (at, step) in source.traveler.steps.iter().enumerate() {
        for (size, count) in held(source.traveler, at, step) {
            match peaks.iter_mut().find(|(known, _, _)| known.length == size.length) {
                Some((_, most, steps)) => {
                    *most = count.max(*most);
                    steps.push(operation(step.number));
                }
                None => peaks.push((size, count, vec![operation(step.number)])),
            }
        }
    }
    peaks.sort();
    for (size, count, steps) in peaks {
        let how_many = format!("{} for {} holes", counted(count, "piece", "pieces"), size.full());
        for number in steps {
            list.add("temporary sheet fasteners", &how_many, &number);
        }
    }
}

/// For each hole size, how many holes of a step are held at once; a layer alone needs no holding.
pub(super) fn held(traveler: &Traveler, at: usize, step: &Step) -> Vec<(Size, u32)> {
    let mut sizes: Vec<(Size, u32)> = Vec::new();
    if !matches!(step.kind.value, StepKind::Fit | StepKind::Drill | StepKind::Ream | StepKind::Rivet) {
        return sizes;
    }
    for number in &step.joints {
        let joint = &traveler.joints[number.value];
        let Some(size) = hole_before(joint, at).filter(|_| joint.layers.len() > 1) else { continue };
        let every_other = joint.count.value.div_ceil(2);
        match sizes.iter_mut().find(|(known, _)| known.length == size.length) {
            Some((_, count)) => *count = count.saturating_add(every_other),
            None => sizes.push((size, every_other)),
        }
    }
    sizes
}
