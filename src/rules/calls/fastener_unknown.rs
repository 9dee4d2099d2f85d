//! # fastener-unknown
//!
//! ## What it checks
//! Every call decodes: its standard is in the tables, the alloy letter, diameter dash and length dash exist, bolt dashes do
//! not end in 8 or 9. What goes through a stack is no nut, washer or pin, and the nut is a nut.
//!
//! ## Why it matters
//! A number that means nothing is a slip, and the part that comes out of the drawer in its place is a guess.
//!
//! ## Source
//! - `AC-4-16` AC 43.13-1B, par. 4-57a and b: how rivet numbers are built (should); grade A.
//! - `AN-2` AN3 to AN20 drawings, part numbers, as quoted: how bolt numbers are built (shall); grade A.
//!
//! Each finding cites the source of the standard that the number names; one whose standard is not in the tables cites none.
//!
//! ## Example that fires
//! ```toml
//! fastener = "MS20470AD7-5"     # the diameters are 2 3 4 5 6 8 10 12
//! ```
//!
//! ## How to put it right
//! Correct the part of the number that the message names. Hardware that no table has gets a `[[fastener]]` entry in
//! `build.toml` with its own numbers, and the plans' short calls go under `[callouts]`.
//!
//! ## When to allow it
//! Never: nothing about an unknown fastener is judged. Enter it as a kit fastener instead.

use crate::hardware::{Fastener, Undecoded, source};
use crate::job::{Hardware, Joint, Text};
use crate::report::{Finding, Severity};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, at: &At<'_>, sink: &mut Sink<'_>) {
    let temporary = joint.temporary.as_ref();
    report(sink, at, (&joint.fastener, &joint.spec.fastener), Kind::Through);
    let others = joint.nut.iter().chain(&joint.check_nut).map(|nut| (nut, Kind::Nut));
    let others = others.chain(joint.washers_head.iter().chain(&joint.washers_nut).map(|washer| (washer, Kind::Washer)));
    let others = others.chain(joint.cotter.iter().map(|pin| (pin, Kind::Cotter)));
    let others = others.chain(temporary.map(|temporary| (&temporary.fastener, Kind::Through)));
    let others = others.chain(temporary.and_then(|temporary| temporary.nut.as_ref()).map(|nut| (nut, Kind::Nut)));
    let others = others.chain(joint.replaces.iter().map(|replaced| (replaced, Kind::Through)));
    for (Hardware { fastener, written, .. }, kind) in others {
        report(sink, at, (fastener, written), kind);
    }
}

/// What a key of a joint wants.
#[derive(Clone, Copy)]
enum Kind {
    Through,
    Nut,
    Washer,
    Cotter,
}

impl Kind {
    const fn word(self) -> &'static str {
        match self {
            Self::Through => "rivet, bolt or screw",
            Self::Nut => "nut",
            Self::Washer => "washer",
            Self::Cotter => "cotter pin",
        }
    }

    fn is(self, fastener: &Fastener) -> bool {
        match (self, fastener) {
            (Self::Through, through) => through.goes_through(),
            // A nutplate holds the bolt as a nut does.
            (Self::Nut, Fastener::Nut(_) | Fastener::Nutplate(_))
            | (Self::Washer, Fastener::Washer(_))
            | (Self::Cotter, Fastener::CotterPin(_)) => true,
            _ => false,
        }
    }
}

fn report(sink: &mut Sink<'_>, at: &At<'_>, (decoded, written): (&Result<Fastener, Undecoded>, &Text), wanted: Kind) {
    let finding = match decoded {
        Err(Undecoded { message, help, source: key }) => {
            // A number that no table has rests on no source.
            let source = key.map(|key| source(key).cite());
            let finding = Finding { source, ..sink.error(written.span, message.clone()) };
            match help {
                Some(help) => finding.help(help.clone()),
                None => finding,
            }
        }
        Ok(fastener) if !wanted.is(fastener) => {
            let message = format!("`{}` is a {}, where a {} is wanted", written.value, fastener.noun(), wanted.word());
            // What a key wants is a matter of the format, not of a published source.
            Finding {
                source: None,
                ..sink.error(written.span, message).help(format!("give the number of a {}", wanted.word()))
            }
        }
        Ok(_) => return,
    };
    sink.push(label_callout(finding, at, &written.value));
}

/// Points at the callout in the project file that the call goes by.
fn label_callout(finding: Finding, at: &At<'_>, written: &str) -> Finding {
    match at.job.project.callouts.iter().find(|(name, _)| name.value == written) {
        Some((_, meaning)) => finding.label(meaning.span, format!("what {written} stands for")),
        None => finding,
    }
}
