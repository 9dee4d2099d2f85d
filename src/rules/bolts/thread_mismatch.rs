//! # thread-mismatch
//!
//! ## What it checks
//! Bolt and nut have the same thread, and neither is left-hand.
//!
//! ## Why it matters
//! A 10-24 nut starts on a 10-32 bolt and strips it; found at the aircraft, the evening is over.
//!
//! ## Source
//! - `AC-T7-1` AC 43.13-1B, Table 7-1: fine and coarse threads side by side, as two series (should); grade A.
//! - `geometry` geometry: a nut fits its own thread only.
//!
//! ## Example that fires
//! ```toml
//! fastener = "AN4-6A"            # 1/4-28
//! nut = "MS21044N3"              # 10-32
//! ```
//!
//! ## How to put it right
//! Call the nut of the bolt's size; the help names its thread.
//!
//! ## When to allow it
//! Never on an aircraft bolt; where an adapter sits between, describe it as a joint of its own.

use crate::hardware::Fastener;
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{Through, kind};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let (Ok(fastener), Some(Through::Bolt), Some(nut)) = (&joint.fastener, kind(joint), &joint.nut) else { return };
    // A nut that does not decode has its own rule.
    let Ok(decoded) = &nut.fastener else { return };
    let (Some(outer), Some(inner)) = (fastener.thread(), decoded.thread()) else {
        return sink.cannot("the thread of bolt or nut is not known");
    };
    let left_hand = matches!(decoded, Fastener::Nut(nut) if nut.left_hand);
    if outer.name == inner.name && !left_hand {
        return;
    }
    let hand = if left_hand { " left-hand" } else { "" };
    let message =
        format!("nut {} has thread {}{hand}, bolt {} has {}", nut.written.value, inner.name, joint.call, outer.name);
    // A thread that only memory tells backs no error.
    let finding = match fastener.thread_basis() {
        Some(basis) => sink.at_most_error(basis, nut.written.span, message),
        None => sink.error(nut.written.span, message),
    };
    let finding = finding.label(joint.spec.fastener.span, format!("thread {}", outer.name));
    sink.push(finding.help(format!("call a nut with thread {}", outer.name)));
}
