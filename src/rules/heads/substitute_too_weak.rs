//! # substitute-too-weak
//!
//! ## What it checks
//! A rivet that replaces another one (`replaces`) is of the same alloy in the same or a larger size, of a stronger alloy
//! in the same or a larger size, or a substitute that the circular names: 2117 for 2017 up to 3/16 or for 2024 up to
//! 5/32, one size larger. A pair that no source compares, and a blind rivet for a solid one, are outside of that too.
//!
//! ## Why it matters
//! The original was chosen for its load; a weaker one looks the same once it is driven.
//!
//! ## Source
//! - `AC-4-57b` AC 43.13-1B, par. 4-57b: which rivets may replace which, one size larger (should); grade B.
//! - `H5-T8.1.2b` MIL-HDBK-5J, Table 8.1.2(b): shear strength by alloy (shall); from memory, grade C.
//!
//! ## Example that fires
//! ```toml
//! replaces = "MS20470D5-6"       # 2017
//! fastener = "MS20470AD5-6"      # 2117 of the same size
//! ```
//!
//! ## How to put it right
//! Use the alloy of the drawing, or the substitute one size larger, and look at edge and pitch again.
//!
//! ## When to allow it
//! When the designer agrees in writing, with the letter as the reason.

use crate::hardware::{Fastener, RivetAlloy, SolidRivet};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::{At, Check, Looks, Sink};
use crate::units::Style;

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(replaced) = &joint.replaces else { return };
    // Calls that do not decode have their own rule.
    let (Ok(new), Ok(original)) = (&joint.fastener, &replaced.fastener) else { return };
    let why = match (new, original) {
        (Fastener::SolidRivet(rivet), Fastener::SolidRivet(original)) => {
            let (Some(new), Some(old)) = (rivet.alloy, original.alloy) else {
                return sink.cannot("the alloy of a rivet is not known");
            };
            too_weak((rivet, new), (original, old), sink.style)
        }
        (Fastener::BlindRivet(_), Fastener::SolidRivet(_)) => {
            Some("a blind rivet for a solid one, which the circular does not name".to_owned())
        }
        _ => return sink.cannot("no source compares the fastener with what it replaces here"),
    };
    let Some(why) = why else { return };
    let message = format!("{} replaces {}: {why}", joint.call, replaced.written.value);
    let finding =
        sink.error(joint.spec.fastener.span, message).label(replaced.written.span, "the rivet of the drawing");
    sink.push(
        finding.help("use the alloy of the drawing in its size or larger, or a substitute that the circular names"),
    );
}

/// Why a rivet may not replace another one.
fn too_weak(
    (rivet, new): (&SolidRivet, &'static RivetAlloy),
    (original, old): (&SolidRivet, &'static RivetAlloy),
    style: &Style,
) -> Option<String> {
    let size = |rivet: &SolidRivet| style.rivet(rivet.diameter);
    if rivet.diameter < original.diameter {
        return Some(format!("{} is smaller than {}", size(rivet), size(original)));
    }
    if let Some(named) = rivet.substitutes(original) {
        let larger = if rivet.diameter > original.diameter {
            "that size is beyond the table"
        } else {
            "the table wants it one size larger"
        };
        return (!named.value).then(|| larger.to_owned());
    }
    if new.letter == old.letter {
        return None;
    }
    match (new.shear_ksi(), old.shear_ksi()) {
        (Some(new), Some(old)) if new.value >= old.value => None,
        (Some(new), Some(old)) => {
            Some(format!("{} ksi in shear against {} ksi, and no source names the pair", new.value, old.value))
        }
        _ => Some(format!("no source compares {} with {}", new.alloy, old.alloy)),
    }
}
