//! # joint-unmarked
//!
//! ## What it checks
//! Where a traveler has a `picture`, every joint has a mark on it.
//!
//! ## Why it matters
//! The picture in front of the packet says where each joint is. A joint that it leaves out is looked for where the others
//! are, and is found when the next part does not fit.
//!
//! ## Source
//! - `completeness` completeness of the spec: a picture that shows the joints shows all of them.
//!
//! ## Example that fires
//! ```toml
//! [traveler]
//! picture = { file = "hanger.svg", marks = { J1 = "30 %, 45 %" } }
//! [[joint]]
//! id = "J2"          # no mark
//! ```
//!
//! ## How to put it right
//! Give the joint its place on the picture, or take a picture on which it is seen.
//!
//! ## When to allow it
//! When the joint lies on the side that the picture does not show.

use crate::job::Traveler;
use crate::report::{Place, Severity};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Note, looks: Looks::Traveler(look) };

fn look(traveler: &Traveler, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(picture) = &traveler.picture else { return };
    for joint in &traveler.joints {
        if picture.marks.iter().any(|(id, _)| id.value == joint.id.value) {
            continue;
        }
        let message = format!("joint {} has no mark on the picture `{}`", joint.id.value, picture.file.value);
        let finding = sink.note(joint.id.span, message).label(picture.span, "the picture").help(format!(
            "add its place to `marks`: {} = \"30 %, 45 %\", from the left and from the top",
            joint.id.value
        ));
        sink.push_about(Place { joint: Some(joint.id.value.clone()), ..Place::default() }, finding);
    }
}
