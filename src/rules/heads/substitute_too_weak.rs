//! # substitute-too-weak
//!
//! ## What it checks
//! A rivet that replaces another one (`replaces`) is of the same alloy in the same or a larger size, of a stronger alloy
//! in the same or a larger size, or a substitute that the circular names: 2117 for 2017 up to 3/16 or for 2024 up to
//! 5/32, one size larger.
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
use crate::rules::facts::solid;
use crate::rules::{At, Looks, Rule, Sink};
use crate::units::Size;

pub static RULE: Rule = Rule {
    name: "substitute-too-weak",
    family: "heads",
    severity: Severity::Error,
    sources: &["AC-4-57b", "H5-T8.1.2b"],
    page: include_str!("substitute_too_weak.rs"),
    looks: Looks::Joint(look),
};

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let (Some(rivet), Some(replaced)) = (solid(joint), &joint.replaces) else { return };
    // A call that does not decode has its own rule.
    let Ok(original) = &replaced.fastener else { return };
    let Fastener::SolidRivet(original) = original else { return sink.cannot("no source compares a rivet with what it replaces here") };
    if rivet.alloy.is_none() || original.alloy.is_none() {
        return sink.cannot("the alloy of a rivet is not known");
    }
    let Some(why) = too_weak(rivet, original) else { return };
    let message = format!("{} replaces {}: {why}", joint.call, replaced.written.value);
    let finding = sink.error(joint.written.span, message).label(replaced.written.span, "the rivet of the drawing");
    sink.push(finding.help("use the alloy of the drawing in its size or larger, or a substitute that the circular names"));
}

/// Why a rivet may not replace another one.
fn too_weak(rivet: &SolidRivet, original: &SolidRivet) -> Option<String> {
    let size = |rivet: &SolidRivet| Size::plain(rivet.diameter).short();
    if rivet.diameter < original.diameter {
        return Some(format!("{} is smaller than {}", size(rivet), size(original)));
    }
    if let Some(named) = rivet.substitutes(original) {
        let larger =
            if rivet.diameter > original.diameter { "that size is beyond the table" } else { "the table wants it one size larger" };
        return (!named.value).then(|| larger.to_owned());
    }
    let strength = |rivet: &SolidRivet| rivet.alloy.and_then(RivetAlloy::shear_ksi).map(|ksi| ksi.value);
    let (new, old) = strength(rivet).zip(strength(original))?;
    (new < old).then(|| format!("{new} ksi in shear against {old} ksi, and no source names the pair"))
}
