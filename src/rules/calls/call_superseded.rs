//! # call-superseded
//!
//! ## What it checks
//! No call uses the number of a standard that another one has replaced: AN470 for MS20470, AN426 for MS20426, AN365 for
//! MS20365, DIN 931 for ISO 4014 and the like. Where the new number is not quite the same part, the help says in what.
//!
//! ## Why it matters
//! Old plans carry old numbers, the bags carry new ones. With both on the sheet nobody has to guess whether they match.
//!
//! ## Source
//! - `AC-4-16` AC 43.13-1B, par. 4-57a and b: MS20470 in place of the older heads (should); grade A.
//! - `AC-7-1` AC 43.13-1B, par. 7-1 and 7-2: AN numbers replaced by MS and NAS (should); grade A.
//! - `ISO-DWG` ISO and DIN standards, from memory: DIN numbers replaced by ISO (should); grade C.
//!
//! ## Example that fires
//! ```toml
//! fastener = "AN470AD4-5"       # today MS20470AD4-5
//! ```
//!
//! ## How to put it right
//! Write the new number, or keep the old one as the drawing has it: it is a note, and both are the same part.
//!
//! ## When to allow it
//! When the sheets should quote the drawing: better enter the old number under `[callouts]`.

use crate::hardware::{Fastener, Undecoded, source};
use crate::job::{Joint, Text};
use crate::report::Severity;
use crate::rules::facts::others;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Note, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    report(sink, &joint.fastener, &joint.spec.fastener);
    for other in others(joint) {
        report(sink, &other.fastener, &other.written);
    }
}

fn report(sink: &mut Sink<'_>, decoded: &Result<Fastener, Undecoded>, written: &Text) {
    let Ok(fastener) = decoded else { return };
    if let Some(successor) = fastener.superseded_by() {
        let message = format!("{} is an old number for {successor}", fastener.usual_call());
        // The first source speaks of rivets, none of the circular's of numbers of DIN.
        let key = match fastener {
            Fastener::SolidRivet(_) => "AC-4-16",
            _ if fastener.usual_call().starts_with("DIN") => "ISO-DWG",
            _ => "AC-7-1",
        };
        let finding = sink.note(written.span, message).source(source(key).cite());
        let help = match fastener.successor_differs() {
            Some(differs) => format!("{successor} took its place; {differs}"),
            None => format!("the same part today is {successor}"),
        };
        sink.push(finding.help(help));
    }
}
