//! # washer-metal
//!
//! ## What it checks
//! Between a steel nut and aluminium lies a washer of steel or aluminium.
//!
//! ## Why it matters
//! A turning nut cuts into the sheet, through its protection, and the bare place corrodes.
//!
//! ## Source
//! - `TM-23-6` TM 1-1500-204-23-6, pp. 2-16, 2-35 and 2-76: a washer under every nut; its metal by what it lies on
//!   (should); grade A.
//! - `TM-BD82` TM 1-1520-240-BD, par. 2-10 to 2-12 (battle-damage repair of a helicopter): steel under steel,
//!   aluminium against corrosion (should); grade A-else.
//!
//! ## Example that fires
//! ```toml
//! stack = ["WNG-211", "WNG-214"]   # 6061-T6
//! nut = "MS21044N3"                # and no washer under it
//! ```
//!
//! ## How to put it right
//! Give a washer under the nut: of steel, as NAS1149F or ISO 7089, or an aluminium one against corrosion.
//!
//! ## When to allow it
//! When the nut has a washer face and the drawing shows none, or turns against a steel fitting that is no layer here.

use crate::hardware::{Fastener, Metal, metal_of, plain_washers};
use crate::job::{Hardware, Joint};
use crate::report::Severity;
use crate::rules::facts::nut;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some((nut, written)) = nut(joint).filter(|(nut, _)| nut.metal == Some(Metal::Steel)) else { return };
    let Some(last) = joint.layers.last() else { return };
    let Some(material) = last.material.as_deref() else {
        return sink.cannot("the material of the layer under the nut is not given");
    };
    if metal_of(material) != Some(Metal::Aluminium) {
        return;
    }
    // What lies on the sheet is the first washer from the structure on.
    let Some(washer) = joint.washers_nut.first() else {
        let message = format!("steel nut {} turns on {material} without a washer", written.value);
        let finding = sink.warning(written.span, message).label(last.span, material.to_owned());
        let of_series = nut.thread.and_then(|thread| plain_washers(thread).into_iter().find_map(|washer| washer.call));
        let size = nut.thread.map_or("the bolt", |thread| thread.name.as_str());
        sink.push(finding.help(match of_series {
            Some(call) => format!("give a washer for {size} under `washers`, as `nut = [\"{call}\"]`"),
            None => format!("give a washer for {size} under `washers`"),
        }));
        return;
    };
    let Some(metal) = metal(washer).filter(|metal| !matches!(metal, Metal::Steel | Metal::Aluminium)) else { return };
    let message = format!("washer {} of {} lies on {material}", washer.written.value, metal.word());
    let finding = sink.warning(washer.written.span, message).label(last.span, material.to_owned());
    sink.push(finding.help("call a cadmium-plated steel or an aluminium washer"));
}

fn metal(washer: &Hardware) -> Option<Metal> {
    match &washer.fastener {
        Ok(Fastener::Washer(washer)) => washer.metal,
        _ => None,
    }
}
