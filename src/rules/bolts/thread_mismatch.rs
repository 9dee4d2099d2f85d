//! # thread-mismatch
//!
//! ## What it checks
//! Bolt and nut have the same thread, and neither is left-hand. A thread is known by its name, that of a `[[fastener]]`
//! entry too; an entry without `thread` is judged by its `diameter`.
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

use crate::hardware::{Fastener, same_thread};
use crate::job::{Hardware, Joint};
use crate::report::Severity;
use crate::rules::facts::{Through, kind};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let (Ok(fastener), Some(Through::Bolt), Some(nut)) = (&joint.fastener, kind(joint), &joint.nut) else { return };
    // A nut that does not decode has its own rule.
    let Ok(decoded) = &nut.fastener else { return };
    let (Some(outer), Some(inner)) = (fastener.thread_name(), decoded.thread_name()) else {
        return by_diameter(joint, fastener, nut, decoded, sink);
    };
    let left_hand = matches!(decoded, Fastener::Nut(nut) if nut.left_hand);
    if same_thread(outer, inner) && !left_hand {
        return;
    }
    let hand = if left_hand { " left-hand" } else { "" };
    let message = format!("nut {} has thread {inner}{hand}, bolt {} has {outer}", nut.written.value, joint.call);
    // A thread that only memory tells backs no error.
    let finding = match fastener.thread_basis() {
        Some(basis) => sink.at_most_error(basis, nut.written.span, message),
        None => sink.error(nut.written.span, message),
    };
    let finding = finding.label(joint.spec.fastener.span, format!("thread {outer}"));
    sink.push(finding.help(format!("call a nut with thread {outer}")));
}

/// Where one of both names no thread: a nut for another bolt has another diameter.
fn by_diameter(joint: &Joint, bolt: &Fastener, nut: &Hardware, decoded: &Fastener, sink: &mut Sink<'_>) {
    let both = bolt.diameter().zip(decoded.diameter());
    let Some((outer, inner)) = both.filter(|(outer, inner)| outer != inner) else {
        return sink.cannot("the thread of bolt or nut is not known");
    };
    let said = sink.style.length(inner);
    let message =
        format!("nut {} is for {said}, bolt {} is {}", nut.written.value, joint.call, sink.style.length(outer));
    let finding = sink.error(nut.written.span, message).label(joint.spec.fastener.span, "the bolt");
    sink.push(finding.help("call a nut of the bolt's size, and give `thread` in both entries"));
}
