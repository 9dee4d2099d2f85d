//! # file-name-shared
//!
//! ## What it checks
//! Every printed packet has a file name of its own, and none has the name of another document: `board`, `pick`,
//! `drawings`, `build-record`, `visit`, `discrepancy` and `notice`, the last three also with more behind a dash. The
//! name is the traveler's id with a dash for every mark, the hand, and `reference`, `large` or `draft`; of an id the
//! first 80 characters count. Names that differ only in case or in Unicode form are one name: on many machines they
//! are one file. Not looked at: excerpts of single steps, and the ids of spaces.
//!
//! ## Why it matters
//! The second PDF is written over the first one, and the bench gets one packet twice and the other one never.
//!
//! ## Source
//! - `completeness` completeness of the spec: one file name, one document.
//!
//! ## Example that fires
//! ```toml
//! [traveler]
//! id = "WNG-10-left"     # WNG-10 is built in both hands: its left packet has this name
//! ```
//!
//! ## How to put it right
//! Give the traveler of which nothing is signed yet another id.
//!
//! ## When to allow it
//! Never: one file holds one document. An entry for this rule is itself reported.

use std::collections::{BTreeMap, BTreeSet};

use crate::job::{FileKey, Hand, Job, OwnDocument, PrintKind, Traveler, packet_stem};
use crate::report::{Place, Severity};
use crate::rules::{Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Job(look) };

const HELP: &str = "give the traveler of which nothing is signed yet another id";

fn look(job: &Job, sink: &mut Sink<'_>) {
    let mut taken: BTreeMap<FileKey, usize> = BTreeMap::new();
    let mut told: BTreeSet<(usize, usize)> = BTreeSet::new();
    for (index, traveler) in job.travelers.iter().enumerate() {
        let stems = stems(job, index);
        own_document(traveler, &stems, sink);
        for stem in stems {
            let first = *taken.entry(FileKey::of(&stem)).or_insert(index);
            // One id for two travelers is a fault of its own, and two travelers share every name or one: told once.
            let other = &job.travelers[first];
            if first != index && other.id.value != traveler.id.value && told.insert((first, index)) {
                shared(traveler, other, &stem, sink);
                shared(other, traveler, &stem, sink);
            }
        }
    }
}

/// Every name under which a packet of a traveler is printed whole.
fn stems(job: &Job, index: usize) -> Vec<String> {
    let id = &job.travelers[index].id.value;
    let hands: Vec<Hand> = job.travelers[index].hands.iter().map(|hand| hand.value).collect();
    // One packet a hand, or one for all of them.
    let packets: Vec<&[Hand]> = hands.chunks(1).chain([hands.as_slice()]).collect();
    packets.iter().flat_map(|hands| PrintKind::all().map(|kind| packet_stem(id, hands, None, kind))).collect()
}

fn own_document(traveler: &Traveler, stems: &[String], sink: &mut Sink<'_>) {
    let Some((stem, own)) = stems.iter().find_map(|stem| Some((stem, OwnDocument::taking(stem)?))) else { return };
    let message =
        format!("{}: its packet would be `{stem}.pdf`, a name that `{own}` documents take", traveler.id.value);
    sink.push_about(place(traveler), sink.error(traveler.id.span, message).help(HELP));
}

/// Each of the two is stopped: neither may be printed over the other.
fn shared(traveler: &Traveler, other: &Traveler, stem: &str, sink: &mut Sink<'_>) {
    let message =
        format!("{} and {}: packets of both would be one file, `{stem}.pdf`", traveler.id.value, other.id.value);
    let finding = sink.error(traveler.id.span, message).label(other.id.span, "the other one").help(HELP);
    sink.push_about(place(traveler), finding);
}

fn place(traveler: &Traveler) -> Place {
    Place { traveler: Some(traveler.id.value.clone()), ..Place::default() }
}
