//! The tools to lay out: drills and reamers from the life of the holes, countersinks, dies, sets, sheet holders.
//!
//! Sizes are computed from the joints. A tool that a step names itself and that is one of these is listed once, in the
//! builder's own words, so that the count at close-out is true; every other tool stands as the steps name it.

mod typed;

use serde::Serialize;

use self::typed::{Sort, Typed};
use super::source::Source;
use crate::hardware::{Fastener, Head};
use crate::job::{Joint, JointRef, Preparation, Step, StepKind, operation};
use crate::phrase::{say, say_count};
use crate::plan::holders::{Holder, held};
use crate::plan::hole;
use crate::plan::joint::prepared;
use crate::units::{Length, Size, Style};

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
        for tool in named(step) {
            list.add_typed(tool, at);
        }
    }
    let printed = list.lines.into_iter().map(|line| line.printed).filter(|line| !line.steps.is_empty());
    printed.collect()
}

/// The tools that a step names: its own, then those of its readings. What is reckoned from other readings needs none.
fn named(step: &Step) -> impl Iterator<Item = &str> {
    let of_readings = step.records.iter().filter_map(|record| record.tool.as_ref());
    let of_readings = of_readings.map(|tool| tool.value.as_str()).filter(|tool| !typed::is_reckoned(tool));
    step.tools.iter().map(|tool| tool.value.as_str()).chain(of_readings)
}

/// A tool that follows from the joints.
struct Need {
    sort: Sort,
    /// What it is where no step names it.
    what: String,
    /// What it is sized by.
    length: Option<Length>,
    /// The size in words.
    size: String,
}

/// A line as it grows.
struct Line {
    sort: Option<Sort>,
    lengths: Vec<Length>,
    printed: ToolLine,
}

struct List<'a> {
    source: Source<'a>,
    lines: Vec<Line>,
}

impl<'a> List<'a> {
    /// The tool of this sort and size that the step names itself; one that another step names by its size.
    fn partner(&self, need: &Need, step: usize) -> Option<Typed> {
        let steps = &self.source.traveler().steps;
        let unit = self.source.job.project.style.unit;
        let of_sort = |step: &'a Step| {
            named(step).map(|text| Typed::read(text, unit)).filter(|typed| typed.sorts.contains(&need.sort))
        };
        let fits = |typed: &Typed| typed.fits(need.length);
        let here = of_sort(&steps[step]).find(|typed| typed.is_sized(need.length));
        here.or_else(|| of_sort(&steps[step]).find(fits))
            .or_else(|| steps.iter().flat_map(of_sort).find(|typed| typed.is_sized(need.length)))
    }

    /// Adds a tool that follows from a joint, under the name that the builder gives it.
    fn add(&mut self, need: &Need, step: usize) {
        let partner = self.partner(need, step);
        let lengths = need.length.into_iter().collect();
        let line = match partner {
            // One tool for several sizes names them all itself.
            Some(typed) if typed.lengths.len() > 1 => (typed.text, String::new(), typed.lengths),
            Some(typed) => (typed.label, need.size.clone(), lengths),
            None => (need.what.clone(), need.size.clone(), lengths),
        };
        self.put(Some(need.sort), line, step);
    }

    /// Adds a tool that a step names: to the line of the same tool, where there is one.
    fn add_typed(&mut self, text: &str, step: usize) {
        let typed = Typed::read(text, self.source.job.project.style.unit);
        let is_same = |line: &Line| {
            line.sort.is_some_and(|sort| typed.sorts.contains(&sort))
                && (line.printed.what == typed.text || line.printed.what == typed.label || !typed.lengths.is_empty())
                && (typed.lengths.is_empty() || typed.lengths.iter().all(|length| line.lengths.contains(length)))
        };
        let used_here = |line: &Line| line.printed.steps.contains(&self.number(step));
        let same: Vec<usize> = (0..self.lines.len()).filter(|at| is_same(&self.lines[*at])).collect();
        let at_this_step = same.iter().find(|at| used_here(&self.lines[**at])).or(same.first()).copied();
        match at_this_step {
            Some(at) => self.mark(at, step),
            None => self.put(typed.sorts.first().copied(), (typed.text, String::new(), typed.lengths), step),
        }
    }

    fn put(&mut self, sort: Option<Sort>, (what, size, lengths): (String, String, Vec<Length>), step: usize) {
        let is_same = |line: &Line| line.printed.what.eq_ignore_ascii_case(&what) && line.printed.size == size;
        let known = self.lines.iter().position(is_same);
        let at = known.unwrap_or_else(|| {
            self.lines.push(Line { sort, lengths, printed: ToolLine { what, size, steps: Vec::new() } });
            self.lines.len() - 1
        });
        self.mark(at, step);
    }

    fn number(&self, step: usize) -> String {
        operation(self.source.traveler().steps[step].number)
    }

    /// A step uses the tool of a line; of a step that is not printed it only keeps its place.
    fn mark(&mut self, at: usize, step: usize) {
        let number = self.number(step);
        let steps = &mut self.lines[at].printed.steps;
        if self.source.has(step) && !steps.contains(&number) {
            steps.push(number);
            steps.sort();
        }
    }
}

/// The joints of a traveler, and those of others that its steps name.
fn worked(source: Source<'_>) -> impl Iterator<Item = &Joint> {
    let mut others: Vec<JointRef> = Vec::new();
    for named in source.traveler().steps.iter().flat_map(|step| &step.joints).map(|named| named.joint) {
        if named.traveler != source.index && !others.contains(&named) {
            others.push(named);
        }
    }
    source.traveler().joints.iter().chain(others.into_iter().map(move |joint| source.job.joint(joint)))
}

/// Drills and reamers, smallest first.
fn cutters(list: &mut List<'_>) {
    let mut cuts: Vec<(Size, StepKind, usize)> = Vec::new();
    let source = list.source;
    for joint in worked(source) {
        for lived in joint.drillings().filter(|lived| lived.at.traveler == source.index) {
            if let Some(hole) = lived.hole {
                cuts.push((hole.size, lived.kind, lived.at.step));
            }
        }
    }
    cuts.sort();
    let style = &list.source.job.project.style;
    for (size, kind, step) in cuts {
        let (sort, what) =
            if kind == StepKind::Ream { (Sort::Reamer, say!("reamer")) } else { (Sort::Drill, say!("drill")) };
        let size_words = hole::cut(kind, size, style);
        list.add(&Need { sort, what: what.to_owned(), length: Some(size.length), size: size_words }, step);
    }
}

/// Countersinks, dimple dies, rivet sets, bars and pullers.
fn formers(list: &mut List<'_>) {
    let style = &list.source.job.project.style;
    let source = list.source;
    for joint in worked(source) {
        for lived in joint.life.iter().filter(|lived| lived.at.traveler == source.index) {
            for need in former(joint, lived.kind, source.job.step(lived.at), style) {
                list.add(&need, lived.at.step);
            }
        }
    }
    for (at, step) in source.traveler().steps.iter().enumerate() {
        let filled = step.fills.iter().filter(|joint| joint.traveler != source.index && !step.names(**joint));
        for joint in filled.filter(|joint| source.job.joint(**joint).shares_with.is_none()) {
            for need in former(source.job.joint(*joint), step.kind.value, step, style) {
                list.add(&need, at);
            }
        }
    }
}

/// What forms a seat or a head, and its size.
fn former(joint: &Joint, kind: StepKind, step: &Step, style: &Style) -> Vec<Need> {
    let size = joint.diameter().map_or_else(String::new, |d| style.rivet(d));
    let fastener = joint.fastener.as_ref().ok();
    let angle = fastener.and_then(|fastener| fastener.head().degrees());
    let angle = angle.map_or_else(String::new, |angle| say!(", {angle} deg", angle));
    let through =
        if matches!(fastener, Some(Fastener::Screw(_) | Fastener::Bolt(_))) { say!("screw") } else { say!("rivet") };
    let length = joint.diameter();
    let need = |sort, what: String, size: String| Need { sort, what, length, size };
    match kind {
        StepKind::Countersink if joint.layers.iter().any(|layer| layer.preparation.is_cut()) => {
            vec![need(
                Sort::Countersink,
                say!("countersink{angle}, with stop", angle),
                say!("for {size} flush head", size),
            )]
        }
        StepKind::Dimple if prepared(joint, Preparation::Dimple).next().is_some() => {
            vec![need(Sort::Dies, say!("dimple dies{angle}", angle), format!("{size} {through}"))]
        }
        StepKind::Rivet => setters(joint, step, &size),
        _ => Vec::new(),
    }
}

/// What sets the rivets of a joint: a puller; a set, and a bar unless they are squeezed.
fn setters(joint: &Joint, step: &Step, size: &str) -> Vec<Need> {
    let length = joint.diameter();
    let by_size = say!("{size} rivet", size);
    match joint.fastener.as_ref() {
        Ok(Fastener::SolidRivet(rivet)) => {
            let says = |word: &str| named(step).any(|tool| tool.contains(word));
            let is_squeezed = says("squeezer") && !says("rivet gun");
            let tool = if is_squeezed { say!("squeezer set") } else { say!("rivet set") };
            // A flush set serves every size.
            let set = if rivet.head == Head::Protruding {
                Need { sort: Sort::CuppedSet, what: say!("{tool}, cupped", tool), length, size: by_size }
            } else {
                Need { sort: Sort::FlushSet, what: say!("{tool}, flush", tool), length: None, size: String::new() }
            };
            let bar = Need { sort: Sort::Bar, what: say!("bar").to_owned(), length: None, size: String::new() };
            if is_squeezed { vec![set] } else { vec![set, bar] }
        }
        Ok(Fastener::BlindRivet(_)) => {
            vec![Need {
                sort: Sort::Puller,
                what: say!("blind rivet puller").to_owned(),
                length: None,
                size: String::new(),
            }]
        }
        _ => Vec::new(),
    }
}

/// Sheet holders: by size the most that one step has in at once; in one line the bolts and clamps where none fits.
fn sheet_holders(list: &mut List<'_>) {
    let source = list.source;
    let mut peaks: Vec<(Holder, u32, Vec<usize>)> = Vec::new();
    for at in 0..source.traveler().steps.len() {
        for (holder, count) in held(source.job, source.item(at).at) {
            match peaks.iter_mut().find(|(known, _, _)| *known == holder) {
                Some((_, most, steps)) => {
                    *most = count.max(*most);
                    steps.push(at);
                }
                None => peaks.push((holder, count, vec![at])),
            }
        }
    }
    peaks.sort();
    let style = &list.source.job.project.style;
    let without: Vec<String> =
        peaks.iter().filter_map(|(holder, ..)| holder.hole()).map(|hole| style.name(hole)).collect();
    for (holder, count, steps) in peaks {
        let need = match holder {
            Holder::Sheet(size) => Need {
                sort: Sort::Holder,
                what: say!("sheet holders {size}", size = size.name(style.unit)),
                length: Some(size.rivet()),
                size: say_count!(count, "{n} piece", "{n} pieces"),
            },
            Holder::Other(_) => Need {
                sort: Sort::Other,
                what: say!("shop bolts or clamps").to_owned(),
                length: None,
                size: say!("in holes {holes}", holes = without.join(", ")),
            },
        };
        for step in steps {
            list.add(&need, step);
        }
    }
}
