//! # bolt-short
//!
//! ## What it checks
//! A bolt comes through the stack, all washers and the whole nut, and shows a thread behind it. Asked of metric bolts and of
//! `[[fastener]]` entries with `length`; lengths of AN and NAS bolts follow from the grip, which has rules of its own.
//!
//! ## Why it matters
//! A nut that stands on half of its threads strips at its torque, and the insert of a self-locking nut that no thread
//! reaches locks nothing.
//!
//! ## Source
//! - `geometry` geometry: a nut holds with all of its threads.
//! - `AC-7-37` AC 43.13-1B, par. 7-37 to 7-39: a thread shows behind the nut (should); grade A.
//!
//! ## Example that fires
//! ```toml
//! stack = ["BK1", "BK2"]           # 6 and 6 mm
//! fastener = "ISO 4014-M6x20"      # 12 + 8 of the nut
//! nut = "ISO 7040-M6"              # 8 mm high
//! ```
//!
//! ## How to put it right
//! Use the bolt that the help names, or a lower nut where the drawing has one.
//!
//! ## When to allow it
//! When the drawing ends the bolt flush with its nut.

use crate::hardware::{Bolt, Fastener, Graded, Nut, Thread, slack_with};
use crate::job::{Hardware, Joint};
use crate::report::{Finding, Severity};
use crate::rules::facts::{bolt, fitting_bolts, nut};
use crate::rules::{At, Check, Looks, Sink};
use crate::units::Length;

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some((bolt, length)) = bolt(joint).and_then(|bolt| Some((bolt, bolt.length.as_ref()?))) else { return };
    let Some((nut, _)) = nut(joint) else { return };
    let is_asked = bolt.call.kit.is_some() || bolt.thread.is_some_and(Thread::is_metric);
    // A layer or a washer whose thickness is missing is said by the rules for grips.
    let all = joint.washers_head.iter().chain(&joint.washers_nut).map(Hardware::thickness).sum::<Option<Length>>();
    let Some((layers, washers)) = joint.thickness().zip(all).filter(|_| is_asked) else { return };
    let slack = slack_with(washers);
    let behind = layers + washers;
    if length.value <= behind + slack {
        // Where the plans let the thread bear, the rule for short grips says it.
        if joint.plans_grip().is_none() && !thread_is_in_hole(joint, bolt, layers) {
            let message = format!("ends before the nut: stack and washers are {}", sink.style.length(behind));
            sink.push(short(joint, length, &message, layers, bolt, sink));
        }
        return;
    }
    let Some(height) = height(joint, nut) else { return sink.cannot("the height of the nut is not known") };
    let (least, most) = height.value;
    if length.value + slack < behind + least {
        let message = format!("ends in the nut: stack, washers and nut are {}", sink.style.length(behind + least));
        let worse = [&length.basis, &height.basis].into_iter().max_by_key(|basis| basis.sureness);
        let finding = short(joint, length, &message, layers, bolt, sink);
        let backed = worse.is_none_or(crate::hardware::Basis::backs_an_error);
        let severity = if backed { Severity::Error } else { Severity::Warning };
        return sink.push(Finding { severity, ..finding });
    }
    let pitch = bolt.thread.map_or(Length::ZERO, Thread::pitch);
    if length.value + slack < behind + most + pitch {
        let message = format!(
            "shows no thread behind its nut: stack, washers, nut and one thread are {}",
            sink.style.length(behind + most + pitch)
        );
        let finding = short(joint, length, &message, layers, bolt, sink);
        sink.push(Finding { severity: Severity::Warning, ..finding });
    }
}

fn short(joint: &Joint, length: &Graded<Length>, what: &str, stack: Length, bolt: &Bolt, sink: &Sink<'_>) -> Finding {
    let message = format!("{} is {} long and {what}", joint.call, sink.style.length(length.value));
    let finding = sink
        .error(joint.spec.fastener.span, message)
        .label(joint.spec.stack.span, format!("stack {}", sink.style.length(stack)));
    let fitting = fitting_bolts(joint, bolt, stack, sink.style);
    if bolt.call.kit.is_some() {
        finding.help("call a longer bolt; its entry gives the length")
    } else {
        finding.help(fitting)
    }
}

/// Whether the rule for short grips has a word for this bolt already.
fn thread_is_in_hole(joint: &Joint, bolt: &Bolt, stack: Length) -> bool {
    let head: Length = joint.washers_head.iter().filter_map(Hardware::thickness).sum();
    let thread = bolt.thread.map_or(Length::ZERO, Thread::pitch);
    let starts = bolt.thread_starts().filter(|_| !bolt.is_threaded_to_head());
    starts.is_some_and(|from| !(from.value + thread).reaches(stack + head, slack_with(head)))
}

/// Height of the nut, with that of its check nut.
fn height(joint: &Joint, nut: &Nut) -> Option<Graded<(Length, Length)>> {
    let of_nut = nut.height.clone()?;
    let Some(check) = &joint.check_nut else { return Some(of_nut) };
    let Ok(Fastener::Nut(check)) = &check.fastener else { return None };
    let (least, most) = check.height.as_ref()?.value;
    Some(Graded { value: (of_nut.value.0 + least, of_nut.value.1 + most), basis: of_nut.basis })
}
