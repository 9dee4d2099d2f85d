//! # bolt-aluminium-often-removed
//!
//! ## What it checks
//! Where `often-removed = true`, neither bolt nor nut is of aluminium.
//!
//! ## Why it matters
//! Aluminium threads gall and wear: after a few openings the bolt strips at its torque, or sooner.
//!
//! ## Source
//! - `AC-7-41` AC 43.13-1B, par. 7-41 and 7-42: aluminium bolts and nuts are not used where they are removed repeatedly
//!   (should); grade A.
//!
//! ## Example that fires
//! ```toml
//! fastener = "AN4DD-6A"
//! often-removed = true
//! ```
//!
//! ## How to put it right
//! Call the steel bolt and a steel nut, as the drawing has it.
//!
//! ## When to allow it
//! When a new bolt is fitted each time, and the step says so.

use crate::hardware::{Fastener, Metal};
use crate::job::{Joint, Text};
use crate::report::Severity;
use crate::rules::facts::{Through, kind};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(often) = joint.often_removed.filter(|often| often.value) else { return };
    if kind(joint) != Some(Through::Bolt) {
        return;
    }
    let own = joint.fastener.as_ref().ok().and_then(Fastener::metal).map(|metal| (metal, &joint.spec.fastener));
    let nut = joint.nut.as_ref().and_then(|nut| Some((nut.fastener.as_ref().ok()?.metal()?, &nut.written)));
    let soft: Vec<&Text> = own
        .into_iter()
        .chain(nut)
        .filter(|(metal, _)| *metal == Metal::Aluminium)
        .map(|(_, written)| written)
        .collect();
    for written in soft {
        let message = format!("{} is of aluminium, in a joint that is often opened", written.value);
        sink.push(
            sink.warning(written.span, message)
                .label(often.span, "often removed")
                .help("call steel hardware of the same size"),
        );
    }
}
