//! # rivet-unreachable
//!
//! ## What it checks
//! No solid rivet is called where the joint is reached from one side only.
//!
//! ## Why it matters
//! A solid rivet needs a bar or a squeezer jaw on its shop side. Found late, the answer is a blind rivet that nobody
//! planned for, or an access hole.
//!
//! ## Source
//! - `common-practice` common practice: a tool on both sides of every driven rivet.
//!
//! ## Example that fires
//! ```toml
//! fastener = "MS20470AD4-5"
//! access = "one side"
//! ```
//!
//! ## How to put it right
//! Rivet before the far side is closed, or call the blind rivet of the plans.
//!
//! ## When to allow it
//! When a long bar or a hand reaches the far side after all: better write `access = "both sides"`.

use crate::job::{Access, Joint};
use crate::report::Severity;
use crate::rules::facts::{NO_ACCESS, solid};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    // Whatever is pulled or turned from the head side needs no second hand.
    if solid(joint).is_none() {
        return;
    }
    let Some(access) = joint.access else { return sink.cannot(NO_ACCESS) };
    if access.value == Access::OneSide {
        let message = format!("solid rivet {} needs a tool on both sides; this joint is reached from one", joint.call);
        let finding = sink.error(joint.spec.fastener.span, message).label(access.span, "reached from one side");
        sink.push(finding.help("rivet it before the far side closes, or call a blind rivet where the plans allow one"));
    }
}
