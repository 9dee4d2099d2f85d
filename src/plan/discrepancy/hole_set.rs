//! The numbers of one hole set: next size, room for it, what the pattern has had already, how long it can be reached.
//!
//! Sums over the spec and the tables; the same functions that fill the hole schedule.

use std::collections::BTreeSet;

use serde::Serialize;

use crate::archive::{Discrepancy, State as Archived};
use crate::hardware::{
    Fastener, countersink_minimum, holes_for, limit, most_oversize, reaches, rivet_pitch, rivet_row_gap, source,
};
use crate::job::{Hand, Job, Joint, JointRef, Order, Space, State, StepRef, Structure, Traveler, operation, same_side};
use crate::phrase::{self, say};
use crate::plan::hole;
use crate::plan::joint::{LayerLine, decode, layer, leave_open, limits, notes, places, shop_head};
use crate::plan::named::{said_item, said_space};
use crate::plan::room;
use crate::units::{Length, Ratio, Style};
use crate::work::chances_by_space;

/// The hole set that a sheet is about, with what is known of the work.
#[derive(Clone, Copy)]
pub struct DiscrepancySubject<'a> {
    /// The build.
    pub job: &'a Job,
    /// Its order.
    pub order: &'a Order,
    /// What is done.
    pub state: &'a State,
    /// The archive, where there is one.
    pub archived: Option<&'a Archived>,
    /// Index of the traveler.
    pub traveler: usize,
    /// Index of its joint.
    pub joint: usize,
    /// The hand, where one was named.
    pub hand: Option<Hand>,
}

/// A hole set with its numbers.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct HoleSet {
    /// Traveler id.
    pub traveler: String,
    /// Its title.
    pub title: String,
    /// Its revision.
    pub revision: String,
    /// The hand that was named.
    pub hand: Option<&'static str>,
    /// The hands in which the traveler is built.
    pub hands: Vec<&'static str>,
    /// Id of the joint.
    pub joint_id: String,
    /// Id and name.
    pub joint: String,
    /// Number of fasteners.
    pub count: u32,
    /// The call.
    pub call: String,
    /// In plain words.
    pub words: String,
    /// Of a solid rivet, the shop head to aim at and the least that passes.
    pub shop_head: Option<String>,
    /// Layers, head side first.
    pub layers: Vec<LayerLine>,
    /// Total thickness.
    pub total: Option<String>,
    /// Final hole.
    pub hole: Option<String>,
    /// Holes that the tables list for the call, each with its source.
    pub listed: Vec<String>,
    /// Distances and rows.
    pub places: Vec<String>,
    /// Limits of the plans, wet, torque, access, holes left open.
    pub notes: Vec<String>,
    /// Whether the spec calls it primary structure.
    pub primary: bool,
    /// The next larger rivet.
    pub next: Option<NextRivet>,
    /// Why there is none.
    pub no_next: Option<String>,
    /// What the next size needs, against what is there.
    pub checks: Vec<Check>,
    /// How many of the pattern may be oversize.
    pub share: Option<Share>,
    /// What became of this joint before.
    pub earlier: Vec<Earlier>,
    /// Whether the archive was asked.
    pub archive: bool,
    /// Until when each space can be reached.
    pub access: Vec<String>,
}

/// The next larger rivet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct NextRivet {
    /// Its diameter, as a fraction of an inch.
    pub size: String,
    /// Its hole.
    pub hole: Option<String>,
    /// A call of the same standard and alloy that fits the stack.
    pub call: Option<String>,
    /// What is countersunk or dimpled must be made larger too: in words.
    pub head: Option<String>,
    /// `yes`, `no` or `not judged`.
    pub room: &'static str,
}

/// One distance at the next size.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Check {
    /// What is checked.
    pub what: &'static str,
    /// What the spec says.
    pub given: Option<String>,
    /// In diameters of the present fastener.
    pub now: Option<String>,
    /// In diameters of the next one.
    pub next: Option<String>,
    /// What is asked for: multiple and length.
    pub needs: String,
    /// Where the multiple comes from.
    pub source: String,
    /// `yes`, `no` or `not judged`.
    pub verdict: &'static str,
}

/// Oversize share of a pattern.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Share {
    /// Rivets in the pattern.
    pub rivets: u32,
    /// The most that may be oversize.
    pub most: u32,
    /// Where that comes from.
    pub source: String,
}

/// What happened to the joint before.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Earlier {
    /// Number of the discrepancy, or the step that was signed.
    pub number: String,
    /// What, and what was decided.
    pub what: String,
}

impl<'a> DiscrepancySubject<'a> {
    fn own(&self) -> &'a Traveler {
        &self.job.travelers[self.traveler]
    }

    pub(super) fn joint(&self) -> &'a Joint {
        &self.own().joints[self.joint]
    }

    /// The code of the sheet in force, where one hand is meant.
    pub(super) fn sheet_in_force(&self) -> Option<String> {
        self.archived?
            .in_force(&self.job.packet_name(self.traveler, self.hand))
            .map(|issue| issue.issued.sheet.to_string())
    }

    fn means(&self, hand: Option<Hand>) -> bool {
        same_side(self.hand, hand)
    }

    fn hands(&self) -> Vec<Option<Hand>> {
        let all = self.job.hands_of(self.traveler);
        all.into_iter().filter(|hand| self.hand.is_none() || *hand == self.hand).collect()
    }
}

impl HoleSet {
    pub(super) fn of(subject: &DiscrepancySubject<'_>) -> Self {
        let (own, joint) = (subject.own(), subject.joint());
        let style = &subject.job.project.style;
        let mut remarks = notes(joint, style);
        remarks.extend(limits(joint, style));
        remarks.extend(leave_open(subject.job, joint).map(|open| say!("left open: {open}", open)));
        let (next, no_next) = match next_rivet(joint, style) {
            Ok(next) => (Some(next), None),
            Err(why) => (None, Some(why)),
        };
        Self {
            traveler: own.id.value.clone(),
            title: own.title.value.clone(),
            revision: own.revision.value.clone(),
            hand: subject.hand.map(Hand::word),
            hands: own.hands.iter().map(|hand| hand.value.word()).collect(),
            joint_id: joint.id.value.clone(),
            joint: joint.title(),
            count: joint.count.value,
            call: joint.call.clone(),
            words: decode(joint, style),
            shop_head: shop_head(joint, style),
            layers: joint.layers.iter().map(|own| layer(own, style)).collect(),
            total: joint.thickness().map(|total| style.length(total)),
            hole: joint.final_hole().map(|last| hole::full(joint, last.size, style)),
            listed: listed(joint, style),
            places: places(joint, own, style),
            notes: remarks,
            primary: joint.structure.as_ref().is_some_and(|structure| structure.value == Structure::Primary),
            next,
            no_next,
            checks: checks(joint, style),
            share: share(joint),
            earlier: earlier(subject),
            archive: subject.archived.is_some(),
            access: access(subject),
        }
    }
}

fn listed(joint: &Joint, style: &Style) -> Vec<String> {
    let Ok(fastener) = &joint.fastener else { return Vec::new() };
    let row = |hole: crate::hardware::ListedHole| {
        let nominal = if hole.nominal { say!(", nominal") } else { "" };
        if hole.low == hole.high {
            format!("{}{nominal}: {}", style.size(hole.size), hole.basis.cite())
        } else {
            format!("{}{nominal}: {}", style.range(hole.low, hole.high), hole.basis.cite())
        }
    };
    holes_for(fastener).into_iter().map(row).collect()
}

fn word(met: bool) -> &'static str {
    if met { say!("yes") } else { say!("no") }
}

/// The next larger rivet with the room for it, or why there is none.
fn next_rivet(joint: &Joint, style: &Style) -> Result<NextRivet, String> {
    let Ok(Fastener::SolidRivet(_) | Fastener::BlindRivet(_)) = &joint.fastener else {
        let cite = source("AC-7-39").cite();
        return Err(say!(
            "not a rivet: a larger bolt or screw is for the designer to choose (edge, clearance, {cite})",
            cite
        ));
    };
    let next = joint.next_rivet().ok_or(say!("there is no larger rivet in the tables"))?;
    let hole = room::next_hole(joint).map(|(_, hole)| hole);
    Ok(NextRivet {
        size: style.rivet(next),
        hole: hole.map(|hole| style.size(hole)),
        call: larger_call(joint, next, hole.map(|hole| hole.length)),
        head: larger_head(joint, next, style),
        room: room::room(joint).map_or(say!("not judged"), |(room, edge)| word(room.is_enough(edge))),
    })
}

fn larger_call(joint: &Joint, next: Length, hole: Option<Length>) -> Option<String> {
    let Ok(Fastener::SolidRivet(rivet)) = &joint.fastener else { return None };
    let larger = Fastener::SolidRivet(rivet.with_diameter(next)?);
    let fitted = larger.fitted(joint.thickness()?, hole, (Length::ZERO, Length::ZERO))?;
    Some(fitted.call().to_owned())
}

/// What the larger head asks of layers that are countersunk or dimpled.
fn larger_head(joint: &Joint, next: Length, style: &Style) -> Option<String> {
    let head = joint.fastener.as_ref().ok()?.head();
    let cut = joint.layers.iter().filter(|layer| layer.preparation.is_cut());
    let thinnest = cut.filter_map(|layer| layer.thickness).min();
    if let (Some(thinnest), Some(least)) = (thinnest, countersink_minimum(next, head)) {
        let fits = if reaches(thinnest, least.value) { say!("thick enough") } else { say!("TOO THIN") };
        return Some(say!(
            "countersink for the larger head: the countersunk layer is {thinnest}, {fits}: {least} or more ({cite})",
            thinnest = style.length(thinnest),
            fits,
            least = style.at_least(least.value),
            cite = least.basis.cite()
        ));
    }
    joint.is_recessed().then(|| say!("the dimple or countersink must be made larger too, in every layer").to_owned())
}

/// Edge, pitch and row gap at the next size.
fn checks(joint: &Joint, style: &Style) -> Vec<Check> {
    let (Some(d), Some(next)) = (joint.diameter(), joint.next_rivet()) else { return Vec::new() };
    let plans = |ratio: Option<Ratio>| ratio.map(|ratio| (ratio, say!("limit of the plans").to_owned()));
    let own = joint.limits.as_ref();
    let table_pitch = rivet_pitch(joint.rows.value);
    let table_gap = rivet_row_gap().least;
    let edge_ratio = joint.edge_ratio();
    let pitch = plans(own.and_then(|own| Some(own.pitch?.value)));
    let gap = plans(own.and_then(|own| Some(own.row_gap?.value)));
    let edge_source = plans(own.and_then(|own| Some(own.edge?.value)))
        .map_or_else(|| limit::rivet_edge().basis.cite(), |(_, words)| words);
    let smallest = joint.least_edge();
    let check = |what, given: Option<Length>, ratio: Ratio, source: String| Check {
        what,
        given: given.map(|given| style.length(given)),
        now: given.and_then(|given| Some(format!("{} D", given.ratio_to(d)?))),
        next: given.and_then(|given| Some(format!("{} D", given.ratio_to(next)?))),
        needs: format!("{ratio} D, {}", style.length(style.least_shown(next.times(ratio), given))),
        source,
        verdict: given.map_or(say!("not judged"), |given| word(reaches(given, next.times(ratio)))),
    };
    let (pitch_ratio, pitch_source) = pitch.unwrap_or_else(|| (table_pitch.value, table_pitch.basis.cite()));
    let mut all = vec![
        check(say!("edge distance"), smallest, edge_ratio, edge_source),
        check(say!("pitch"), joint.pitch.as_ref().map(|pitch| pitch.value), pitch_ratio, pitch_source),
    ];
    if joint.rows.value > 1 {
        let (ratio, source) = gap.unwrap_or_else(|| (table_gap.value, table_gap.basis.cite()));
        all.push(check(say!("gap between rows"), joint.row_gap.as_ref().map(|gap| gap.value), ratio, source));
    }
    all
}

fn share(joint: &Joint) -> Option<Share> {
    let Ok(Fastener::SolidRivet(_)) = &joint.fastener else { return None };
    let most = most_oversize(joint.count.value);
    Some(Share { rivets: joint.count.value, most: most.value, source: most.basis.cite() })
}

/// Discrepancies of this joint, and what was signed as built at its steps.
fn earlier(subject: &DiscrepancySubject<'_>) -> Vec<Earlier> {
    let Some(archived) = subject.archived else { return Vec::new() };
    let (own, joint) = (subject.own(), subject.joint());
    let here = |discrepancy: &&Discrepancy| {
        let opened = &discrepancy.opened;
        let is_own = opened.traveler.as_ref() == Some(&own.id.value) && opened.joint.as_ref() == Some(&joint.id.value);
        // Found at a step of another traveler, it has the joint's whole name.
        let whole = subject.hands().into_iter().map(|hand| {
            let at = JointRef { traveler: subject.traveler, joint: subject.joint };
            subject.job.joint_name(at, hand, usize::MAX)
        });
        let plain = format!("{}/{}", own.id.value, joint.id.value);
        let is_named = || whole.chain([plain]).any(|name| opened.joint.as_ref() == Some(&name));
        subject.means(opened.hand) && (is_own || is_named())
    };
    let mut lines: Vec<Earlier> = archived.discrepancies.values().filter(here).map(of_discrepancy).collect();
    let steps: BTreeSet<StepRef> = joint.life.iter().map(|lived| lived.at).collect();
    let items = |hand| steps.iter().flat_map(move |at| subject.job.items_facing(hand, *at));
    for hand in subject.hands() {
        for item in items(hand) {
            let name = subject.job.name_of(item);
            let step = if item.at.traveler == subject.traveler { &name.step } else { &name.to_string() };
            for (signature, _) in archived.counting(&name) {
                // A step works on several joints; what names another one only is not this joint's.
                let about = signature.signed.as_built.iter().filter(|text| names(text, &joint.id.value));
                lines.extend(about.map(|text| Earlier { number: step.clone(), what: text.clone() }));
            }
        }
    }
    lines
}

/// Whether a text names an id as a word of its own.
fn names(text: &str, id: &str) -> bool {
    text.split(|c: char| !c.is_alphanumeric() && c != '-' && c != '_').any(|word| word == id)
}

fn of_discrepancy(own: &Discrepancy) -> Earlier {
    let decided = own.closed.as_ref().map_or_else(
        || say!("open").to_owned(),
        |(_, closed)| {
            let fitted: Vec<String> = closed.as_built.iter().map(|text| say!("; as built: {text}", text)).collect();
            say!(
                "{disposition} on the word of {authority}{fitted}",
                disposition = phrase::word(closed.disposition.word()),
                authority = closed.authority,
                fitted = fitted.concat()
            )
        },
    );
    let decided = own.struck.as_ref().map_or(decided, |because| say!("struck out: {because}", because));
    Earlier { number: own.opened.number.clone(), what: format!("{}: {}; {decided}", own.opened.found, own.opened.what) }
}

/// Until which step each space around the joint can be reached.
fn access(subject: &DiscrepancySubject<'_>) -> Vec<String> {
    let job = subject.job;
    let spaces = || subject.joint().life.iter().flat_map(|lived| &job.step(lived.at).spaces).map(|space| space.value);
    let spaces: BTreeSet<Space> =
        subject.hands().into_iter().flat_map(|hand| spaces().flat_map(move |space| job.spaces(space, hand))).collect();
    if spaces.is_empty() {
        return vec![say!("no step on this hole set names a space; look yourself what will cover it").to_owned()];
    }
    let chances = chances_by_space(job, subject.order, subject.state);
    let line = |space: &Space| {
        let name = said_space(job, *space);
        let of_space = || chances.iter().filter(|(own, ..)| own == space);
        let named = |item: crate::job::Item| {
            say!(
                "{item_name} (step {number})",
                item_name = said_item(job, item),
                number = operation(job.step(item.at).number)
            )
        };
        if let Some((_, by, _)) = of_space().find(|(_, _, chance)| !chance.closed) {
            return say!("{name}: can be reached until {by}", name, by = named(*by));
        }
        match of_space().next() {
            Some((_, by, _)) => say!("{name}: CLOSED by {by}", name, by = named(*by)),
            None => say!("{name}: no step closes it", name),
        }
    };
    spaces.iter().map(line).collect()
}
