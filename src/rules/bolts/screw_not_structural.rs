//! # screw-not-structural
//!
//! ## What it checks
//! A screw that the tables mark as not structural holds no primary structure (error) and no secondary structure
//! (warning). Where the mark rests on memory it makes a warning, and its grade is printed.
//!
//! ## Why it matters
//! A commercial screw has the head and the thread of a structural one and a fraction of its strength.
//!
//! ## Source
//! - `AC-7-1` AC 43.13-1B, par. 7-1 and 7-2: fasteners of known strength in structure (should); grade A.
//! - `AC-7-14` AC 43.13-1B, par. 7-14 to 7-16: AN509 is structural; AN505, AN507, AN510, AN515 and AN520
//!   are not (should); grade A.
//! - `AN-DWG` AN, MS and NAS drawings, from memory: the marks of the other screws (should); grade C.
//!
//! ## Example that fires
//! ```toml
//! fastener = "AN515-8R8"
//! structure = "primary"
//! ```
//!
//! ## How to put it right
//! Call a structural screw (AN509, AN525, NAS623 and the like) or a bolt, as the drawing has it.
//!
//! ## When to allow it
//! When the drawing calls for this screw, and the joint shares its load with rivets.

use crate::hardware::Fastener;
use crate::job::{Joint, Structure};
use crate::report::{Finding, Severity};
use crate::rules::facts::NO_STRUCTURE;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Ok(Fastener::Screw(screw)) = &joint.fastener else { return };
    if screw.structural || screw.call.kit.is_some() {
        return;
    }
    let Some(structure) = joint.structure else { return sink.cannot(NO_STRUCTURE) };
    let message = format!("{} is no structural screw; this joint is {} structure", joint.call, structure.value.word());
    let finding = sink.at_most_error(&screw.structural_basis, joint.spec.fastener.span, message);
    let finding = match structure.value {
        Structure::Nothing => return,
        Structure::Primary => finding,
        Structure::Secondary => Finding { severity: Severity::Warning, ..finding },
    };
    sink.push(finding.label(structure.span, "structure").help("call a structural screw, as AN525 or AN509, or a bolt"));
}
