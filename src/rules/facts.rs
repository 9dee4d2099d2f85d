//! Facts about a joint that several rules ask for, and the words for them.
//!
//! Nothing here says what is right: limits and tables stand in `hardware`, and what falling short of one
//! weighs in the rule that asks for it.

use crate::hardware::{
    Basis, BlindRivet, Bolt, Fastener, FlushHead, Graded, Head, ListedHole, Nut, SolidRivet, Sureness, flush_head,
    holes_for, nominal_hole,
};
use crate::job::{Hardware, Joint, Layer, Text};
use crate::report::Finding;
use crate::rules::Sink;
use crate::text::{Span, Spanned};
use crate::units::{Length, Size, Style};

/// Why a rule stays silent: the spec gives no edge distance.
pub(super) const NO_EDGE: &str = "no `edge` is given";
/// Why a rule stays silent: the spec gives no pitch.
pub(super) const NO_PITCH: &str = "no `pitch` is given";
/// Why a rule stays silent: the spec gives no row gap.
pub(super) const NO_ROW_GAP: &str = "no `row-gap` is given";
/// Why a rule stays silent: the spec does not say how much rests on the joint.
pub(super) const NO_STRUCTURE: &str = "no `structure` is given";
/// Why a rule stays silent: the spec does not say from where the joint is reached.
pub(super) const NO_ACCESS: &str = "no `access` is given";
/// Why a rule stays silent: a layer has no thickness.
pub(super) const NO_THICKNESS: &str = "the thickness of a layer is not given";
/// Why a rule stays silent: the call has no length.
pub(super) const NO_LENGTH: &str = "the call has no length";
/// Why a rule stays silent: no final hole is known.
pub(super) const NO_HOLE: &str = "no final hole is given, and no table lists one for the call";

/// Why a rule stays silent: the number does not tell the diameter.
pub(super) const NO_DIAMETER: &str = "the call does not tell the diameter";
/// Why a rule stays silent: the call or the tables give no grip.
pub(super) const NO_GRIP: &str = "no grip is known for the call";
/// Why a rule stays silent: the spec gives no nut.
pub(super) const NO_NUT: &str = "no `nut` is given";
/// Why a rule stays silent: an entry of a kit does not say with what its nut is locked.
pub(super) const NO_LOCK: &str = "nothing tells whether the nut is locked by an insert";
/// Why a rule stays silent: the spec does not say whether the joint rotates.
pub(super) const NO_ROTATES: &str = "no `rotates` is given";
/// Why a rule stays silent: the spec gives no temperature.
pub(super) const NO_TEMPERATURE: &str = "no `temperature` is given";
/// Why a rule stays silent: no table gives the head's height.
pub(super) const NO_HEAD: &str = "no table gives the height of this flush head";

/// Whether what is called goes through the stack; a call that nobody can read may.
pub(super) fn goes_through(joint: &Joint) -> bool {
    joint.fastener.as_ref().map_or(true, Fastener::goes_through)
}

/// What kind of fastener goes through the stack.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Through {
    /// A rivet, solid or blind.
    Rivet,
    /// A bolt or a screw.
    Bolt,
}

impl Through {
    /// The word in messages.
    pub(super) const fn word(self) -> &'static str {
        match self {
            Self::Rivet => "rivet",
            Self::Bolt => "bolt",
        }
    }
}

/// Kind of what goes through the stack; nothing for a call that does not decode or is no such fastener.
pub(super) fn kind(joint: &Joint) -> Option<Through> {
    match joint.fastener.as_ref().ok()? {
        Fastener::SolidRivet(_) | Fastener::BlindRivet(_) => Some(Through::Rivet),
        Fastener::Bolt(_) | Fastener::Screw(_) => Some(Through::Bolt),
        _ => None,
    }
}

/// Kind and nominal diameter of what goes through the stack, where the call tells both.
pub(super) fn through(joint: &Joint) -> Option<(Through, Length)> {
    kind(joint).zip(joint.diameter())
}

/// Nominal diameter, where a rivet goes through the stack.
pub(super) fn rivet_diameter(joint: &Joint) -> Option<Length> {
    through(joint).filter(|(kind, _)| *kind == Through::Rivet).map(|(_, d)| d)
}

/// The solid rivet, where the call is one.
pub(super) fn solid(joint: &Joint) -> Option<&SolidRivet> {
    match &joint.fastener {
        Ok(Fastener::SolidRivet(rivet)) => Some(rivet),
        _ => None,
    }
}

/// The blind rivet, where the call is one.
pub(super) fn blind(joint: &Joint) -> Option<&BlindRivet> {
    match &joint.fastener {
        Ok(Fastener::BlindRivet(rivet)) => Some(rivet),
        _ => None,
    }
}

/// Every edge distance with the layer it belongs to, in words that follow the number.
pub(super) fn edges(joint: &Joint) -> impl Iterator<Item = (String, Spanned<Length>)> {
    let one_for_all = joint.edge.len() != joint.layers.len() || joint.layers.len() == 1;
    joint.edge.iter().enumerate().map(move |(index, edge)| {
        let layer = joint.layers.get(index).filter(|_| !one_for_all);
        (layer.map_or_else(String::new, |layer| format!(" in {}", layer.name)), *edge)
    })
}

/// The diameter in words: `diameter 1/8 (0.125 in, 3.18 mm)`.
pub(super) fn diameter_words(d: Length, style: &Style) -> String {
    format!("diameter {}", style.size(Size::plain(d)))
}

/// A length as a multiple of the diameter, with two decimals: `1.76 D`.
pub(super) fn in_diameters(length: Length, d: Length) -> String {
    let hundredths = if d == Length::ZERO { 0 } else { length.nm() * 100 / d.nm() };
    let (sign, size) = (if hundredths < 0 { "-" } else { "" }, hundredths.abs());
    format!("{sign}{}.{:02} D", size / 100, size % 100)
}

/// What the surest of some listed holes rests on: memory beside a published row does not weaken a verdict beyond both.
fn surest(listed: &[ListedHole]) -> Option<Basis> {
    listed.iter().map(|row| &row.basis).min_by_key(|basis| basis.sureness).cloned()
}

/// A hole beyond every listed one: as grave as the surest source allows, with the source of the number that is quoted.
pub(super) fn beyond_listed(
    sink: &Sink<'_>,
    fastener: &Fastener,
    limit: &Graded<Length>,
    span: Span,
    message: impl Into<String>,
) -> Finding {
    let surest = surest(&holes_for(fastener)).unwrap_or_else(|| limit.basis.clone());
    let finding = sink.at_most_error(&surest, span, message);
    if surest.cite() == limit.basis.cite() {
        return finding;
    }
    finding.source(format!("{}; also {}", limit.basis.cite(), surest.cite()))
}

/// Nominal diameter and form of the head, where a flush rivet goes through the stack.
pub(super) fn flush_rivet(joint: &Joint) -> Option<(Length, Head)> {
    let head = joint.fastener.as_ref().ok()?.head();
    rivet_diameter(joint).filter(|_| head.is_flush()).map(|d| (d, head))
}

/// Labels a layer with its thickness: at its place in the stack, else where the thickness is written.
pub(super) fn label_layer(finding: Finding, layer: &Layer, style: &Style) -> Finding {
    match layer.thickness {
        Some(thickness) => finding.label(layer.span, format!("{thickness} thick", thickness = style.length(thickness))),
        None => finding.label(layer.span, "this layer"),
    }
}

/// The calls of a rivet's family and diameter that suit a stack, the best first.
pub(super) fn fitting_lengths(rivet: &SolidRivet, stack: Length, hole: Length) -> String {
    let lengths = rivet.lengths_for(stack, hole);
    let calls: Vec<String> = lengths.iter().map(|length| rivet.with_length(*length).call.usual).collect();
    match calls.split_first() {
        None => "no standard length of this rivet suits the stack".to_owned(),
        Some((best, [])) => format!("{best} fits"),
        Some((best, others)) => format!("{best} fits best; {} passes too", others.join(" or ")),
    }
}

/// The listed flush head of the joint's rivet; a kit's own head is in no table.
pub(super) fn listed_head(joint: &Joint) -> Option<FlushHead> {
    let (d, form) = flush_rivet(joint)?;
    let is_kit = joint.fastener.as_ref().is_ok_and(|fastener| fastener.kit().is_some());
    if is_kit { None } else { flush_head(d, form) }
}

/// The joint's calls beside the fastener: nut, washers, cotter pin, fit-up hardware.
pub(super) fn others(joint: &Joint) -> impl Iterator<Item = &Hardware> {
    let temporary =
        joint.temporary.iter().flat_map(|temporary| std::iter::once(&temporary.fastener).chain(&temporary.nut));
    joint
        .nut
        .iter()
        .chain(&joint.check_nut)
        .chain(&joint.washers_head)
        .chain(&joint.washers_nut)
        .chain(&joint.cotter)
        .chain(temporary)
}

/// The hole to drill, in words for a help line: the nominal one, or the kit's own range.
pub(super) fn right_hole(fastener: &Fastener, sink: &Sink<'_>) -> Option<String> {
    let style = sink.style;
    if let Some((low, high)) = fastener.kit().and_then(|kit| kit.hole) {
        return Some(format!("the kit gives {}", style.range(low, high)));
    }
    let nominal = nominal_hole(fastener)?.value;
    let usual = sink.shop.usual_hole(fastener, None).filter(|usual| usual.value != nominal);
    Some(match usual {
        Some(usual) => {
            format!(
                "the usual hole is {}, the nominal one of the table {}",
                style.size(usual.value),
                style.size(nominal)
            )
        }
        None => format!("the nominal hole is {}", style.size(nominal)),
    })
}

/// The bolt, where the call is one.
pub(super) fn bolt(joint: &Joint) -> Option<&Bolt> {
    match &joint.fastener {
        Ok(Fastener::Bolt(bolt)) => Some(bolt),
        _ => None,
    }
}

/// The nut with its call as written, where one is given and decodes; a nutplate is none.
pub(super) fn nut(joint: &Joint) -> Option<(&Nut, &Text)> {
    let given = joint.nut.as_ref()?;
    match &given.fastener {
        Ok(Fastener::Nut(nut)) => Some((nut, &given.written)),
        _ => None,
    }
}

/// Total thickness of some washers; nothing, and said so, where one of them is not known.
pub(super) fn washer_stack(washers: &[Hardware], sink: &mut Sink<'_>) -> Option<Length> {
    let total: Option<Length> = washers.iter().map(Hardware::thickness).sum();
    if total.is_none() {
        sink.cannot("the thickness of a washer is not known");
    }
    total
}

/// The calls of a bolt's size that suit a stack with the joint's washers, the best first.
pub(super) fn fitting_bolts(joint: &Joint, bolt: &Bolt, stack: Length, style: &Style) -> String {
    let total = |washers: &[Hardware]| -> Length { washers.iter().filter_map(Hardware::thickness).sum() };
    let (head, nut) = (total(&joint.washers_head), total(&joint.washers_nut));
    let bolts = bolt.lengths_for(stack, head, nut);
    let calls: Vec<&str> = bolts.iter().map(|bolt| bolt.call.usual.as_str()).collect();
    match calls.split_first() {
        None => match bolt.with_a_washer_more(stack, head, nut) {
            Some((fits, washer)) => {
                let named = washer.call.map_or_else(String::new, |call| format!(", {call},"));
                let thick = style.length(washer.thickness);
                format!("{} fits with a washer of {thick}{named} more under the nut", fits.call.usual)
            }
            // A kit's bolt comes in the lengths that the kit has.
            None if bolt.call.kit.is_some() => format!(
                "a bolt whose thread begins between {} and {} from its head fits",
                style.length(stack + head),
                style.length(stack + head + nut)
            ),
            None => {
                match bolt.threaded_to_head().and_then(|bolt| bolt.lengths_for(stack, head, nut).into_iter().next()) {
                    Some(fits) => format!(
                        "no grip of this bolt is so short; {} is threaded to its head and fits, where the plans allow thread in the hole",
                        fits.call.usual
                    ),
                    None => "no grip of this bolt suits the stack with these washers".to_owned(),
                }
            }
        },
        Some((best, [])) => format!("{best} fits"),
        Some((best, others)) => format!("{best} fits best; {} passes too", others.join(" or ")),
    }
}

/// The citation of a source whose value is from memory.
pub(super) fn from_memory(key: &'static str) -> String {
    Basis::published(key, Sureness::C).cite()
}
