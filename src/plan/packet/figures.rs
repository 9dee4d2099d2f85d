//! The figures of one packet, taken from its joints.
//!
//! What cannot be drawn (a layer without thickness, a call that does not decode) has no figure; nothing is guessed.

use serde::Serialize;

use super::source::Source;
use crate::figure::{
    Body, Drawing, Hole, LayerOf, Nut, SectionOf, Space, Strip, Top, Washer, millimetres, section, strips,
};
use crate::hardware::{
    Fastener, Head, NutKind, flush_head, flush_screw_head, hexagon_head, hexagon_nut, limit, shop_head,
};
use crate::job::{Hand, Hardware, Joint, Traveler};
use crate::phrase::say;
use crate::plan::hole;
use crate::plan::named::said_hand;
use crate::plan::told;
use crate::units::{Length, Style};

/// The figures of one packet.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Figures {
    /// Figures of each joint, in the order of the joints.
    pub joints: Vec<JointFigures>,
    /// Drill templates of the joints that are undrilled when they are delivered.
    pub strips: Vec<StripSheet>,
}

/// The figures of one joint.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct JointFigures {
    /// The joint's id.
    pub id: String,
    /// Section.
    pub section: Option<Drawing>,
    /// The same for the one sheet of a small job.
    pub small: Option<Drawing>,
}

/// The drill template of one joint.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct StripSheet {
    /// The joint's id.
    pub id: String,
    /// Its strips in order; empty where the pattern does not fit.
    pub strips: Vec<Drawing>,
    /// Why there are none.
    pub refused: Option<String>,
}

/// What a page has beside its margins on either paper; strips are never wider.
const PAGE: Space = Space { width: millimetres(165), height: millimetres(160) };
const SECTION: Space = Space { width: millimetres(44), height: millimetres(36) };
/// On the one sheet of a small job.
const SMALL: Space = Space { width: millimetres(24), height: millimetres(14) };

impl Figures {
    /// Those of some joints, and the templates only where they are meant.
    #[must_use]
    pub(super) fn only(mut self, joint: impl Fn(&str) -> bool, templates: bool) -> Self {
        self.joints.retain(|own| joint(&own.id));
        self.strips.retain(|_| templates);
        self
    }

    /// The figures of what is printed.
    #[must_use]
    pub fn of(source: Source<'_>) -> Self {
        let traveler = source.traveler();
        let style = &source.job.project.style;
        let figures = |joint: &Joint| {
            let of = section_of(joint);
            let within = |room| of.as_ref().and_then(|of| section(of, room)).map(told::drawing);
            JointFigures {
                id: joint.id.value.clone(),
                section: within(SECTION),
                small: source.is_small().then(|| within(SMALL)).flatten(),
            }
        };
        // A hole that is there already needs no template.
        let undrilled = source.joints().filter(|(_, joint)| joint.delivered_by_layer().flatten().next().is_none());
        Self {
            joints: source.joints().map(|(_, joint)| figures(joint)).collect(),
            strips: undrilled.filter_map(|(_, joint)| strip_sheet(joint, traveler, source.hand, style)).collect(),
        }
    }
}

/// What the section of a joint shows, where everything that it needs is known.
#[must_use]
pub fn section_of(joint: &Joint) -> Option<SectionOf> {
    let layers: Option<Vec<LayerOf>> = joint.layers.iter().map(layer_of).collect();
    Some(SectionOf { layers: layers?, hole: joint.final_hole()?.size.length, body: body_of(joint)? })
}

fn layer_of(layer: &crate::job::Layer) -> Option<LayerOf> {
    Some(LayerOf { thickness: layer.thickness?, preparation: layer.preparation })
}

fn body_of(joint: &Joint) -> Option<Body> {
    match joint.fastener.as_ref().ok()? {
        Fastener::SolidRivet(rivet) => {
            let driven = shop_head(rivet.diameter, rivet.alloy);
            let shop = (driven.diameter.value, driven.height.value);
            Some(Body::Solid { diameter: rivet.diameter, top: top_of(rivet.head, rivet.diameter, None), shop })
        }
        Fastener::BlindRivet(rivet) => {
            Some(Body::Blind { diameter: rivet.diameter, top: top_of(rivet.head, rivet.diameter, None) })
        }
        Fastener::Bolt(bolt) => {
            let (grip, length) =
                (bolt.thread_starts().map(|grip| grip.value), bolt.length.as_ref().map(|length| length.value));
            let top =
                hexagon_head(bolt).map_or(Top::Protruding, |head| Top::Hexagon(head.value.across, head.value.height));
            bolt_of(joint, bolt.diameter, top, grip, length)
        }
        Fastener::Screw(screw) => {
            let diameter = screw.diameter?;
            let listed = flush_screw_head(screw).map(|head| head.diameter);
            bolt_of(joint, diameter, top_of(screw.head, diameter, listed), None, screw.length)
        }
        _ => None,
    }
}

fn bolt_of(joint: &Joint, diameter: Length, top: Top, grip: Option<Length>, length: Option<Length>) -> Option<Body> {
    let washers = |list: &[Hardware]| list.iter().map(washer_of).collect::<Option<Vec<Washer>>>();
    let nut = joint.nut.as_ref().map(|nut| match &nut.fastener {
        Ok(Fastener::Nutplate(_)) => Nut::Plate,
        Ok(Fastener::Nut(its)) => {
            let castle = matches!(its.kind, NutKind::Castle | NutKind::SelfLockingCastle);
            let size = hexagon_nut(its).map(|nut| (nut.value.across, nut.value.height));
            Nut::Loose { pinned: castle && joint.cotter.is_some(), size }
        }
        _ => Nut::Loose { pinned: false, size: None },
    });
    let (head_washers, nut_washers) = (washers(&joint.washers_head)?, washers(&joint.washers_nut)?);
    Some(Body::Bolt { diameter, top, grip, length, head_washers, nut_washers, nut })
}

fn washer_of(hardware: &Hardware) -> Option<Washer> {
    let Ok(Fastener::Washer(washer)) = &hardware.fastener else { return None };
    let outer = washer.diameters.as_ref().map(|both| both.value.1);
    Some(Washer { thickness: washer.thickness.as_ref()?.value, outer })
}

fn top_of(head: Head, diameter: Length, listed: Option<Length>) -> Top {
    let listed = listed
        .or_else(|| flush_head(diameter, head).map(|head| head.diameter))
        .unwrap_or_else(|| diameter.times(limit::flush_head_drawn().value));
    match head {
        Head::Protruding => Top::Protruding,
        Head::Flush82 => Top::Flush82(listed),
        Head::Flush100 | Head::FlushReduced100 => Top::Flush100(listed),
        Head::Flush120 => Top::Flush120(listed),
    }
}

fn strip_sheet(joint: &Joint, traveler: &Traveler, hand: Option<Hand>, style: &Style) -> Option<StripSheet> {
    let (places, last, diameter) = (joint.places.as_ref()?, joint.final_hole()?, joint.diameter()?);
    let ratio = joint.edge_ratio();
    let side = hand.map_or(String::new(), |hand| format!(", {}", said_hand(hand.word())));
    let pattern = joint.pattern.as_ref()?;
    let drilled = joint.drillings().find_map(|at| at.hole).map_or(last.size, |first| first.size);
    let strip = Strip {
        drill: say!("drill {drilled}", drilled = hole::full(joint, drilled, style)),
        edge: pattern
            .edge_name
            .as_ref()
            .map_or_else(|| say!("edge of the part").to_owned(), |name| say!("edge: {name}", name = name.value)),
        end: pattern.end_name.as_ref().map_or_else(|| say!("end").to_owned(), |name| name.value.clone()),
        across: pattern.across.map(|way| way.value),
        along: pattern.along.map(|way| way.value),
        title: say!("{title}{side}, seen from the head side", title = joint.title(), side),
        holes: places.iter().map(|(along, across)| Hole { along: *along, across: *across }).collect(),
        hole: last.size,
        least: (format!("{ratio} D"), diameter.times(ratio)),
        next: joint.next_rivet().map(|next| (style.rivet(next), next.times(ratio))),
        mirrored: hand.is_some() && hand != traveler.hands.first().map(|first| first.value),
    };
    let (drawn, refused) = match strips(&strip, PAGE, style) {
        Ok(drawn) => (drawn, None),
        Err(fault) => (Vec::new(), Some(fault.words(style))),
    };
    let drawn = drawn.into_iter().map(told::drawing).collect();
    Some(StripSheet { id: joint.id.value.clone(), strips: drawn, refused })
}
