//! Words of the program's own that documents print without saying them where they are planned: lists of words, built-in
//! cautions and procedures, titles and lines of usual steps, plain words of hardware.

use std::collections::BTreeSet;

use shophead::hardware::{decode, every_call};
use shophead::spec::{built_in_cautions, built_in_procedures};
use shophead::words::{Capacity, Class, Disposition, Hand, Preparation, SignalWord, StepKind, Stops, WaitFor};

use super::{files, is_words, rust};
use crate::INCH;

/// Every such phrase.
pub fn listed() -> BTreeSet<String> {
    let mut all = BTreeSet::new();
    all.extend(lists());
    all.extend(built_in_cautions().iter().map(|rule| rule.text.trim().to_owned()));
    let texts = built_in_procedures().iter().flat_map(|own| own.text.lines());
    all.extend(texts.map(|line| line.trim_start_matches(['-', ' ']).to_owned()));
    all.extend(usual());
    all.extend(hardware());
    all
}

fn lists() -> impl Iterator<Item = String> {
    let kinds = StepKind::WORDS.iter().map(|word| word.replace('-', " "));
    let others = [
        Hand::WORDS,
        Preparation::WORDS,
        SignalWord::WORDS,
        Capacity::WORDS,
        Class::WORDS,
        Disposition::WORDS,
        Stops::WORDS,
        WaitFor::WORDS,
        // What is left behind, as `work` says it.
        &["temporary hardware", "holes left open", "fasteners put off", "nuts not torqued"],
        // What of a shop head is measured.
        &["width", "height"],
        // What is done with a scale bar.
        &["Measure both bars with a steel rule first", "Measure the bar with a steel rule first"],
        &["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"],
        // The roles of a project that names none.
        &["builder", "helper", "technical counselor", "inspector"],
    ];
    kinds.chain(others.into_iter().flatten().map(|word| (*word).to_owned()))
}

/// Titles and lines of usual steps: the literals of the files that make them.
fn usual() -> Vec<String> {
    let mut found = Vec::new();
    for (path, text) in files("src/job/usual", &["rs"]) {
        let (titles, lines) = (path.ends_with("trade.rs"), path.ends_with("lines.rs"));
        for own in rust::literals(&text) {
            let is_title = titles && (own.text.starts_with(|c: char| c.is_ascii_uppercase()) || own.text.contains(' '));
            if (is_title || lines) && is_words(&own.text) && !own.text.contains('{') {
                found.push(own.text);
            }
        }
    }
    found
}

/// The pieces of every part number in plain words that have no size in them.
fn hardware() -> BTreeSet<String> {
    let mut pieces = BTreeSet::new();
    for call in every_call() {
        let Ok(fastener) = decode(&call, &[]) else { continue };
        for piece in fastener.describe(&INCH).split(", ") {
            let begins = ["grip ", "thread from ", "class ", "for "].iter().any(|word| piece.starts_with(word));
            let ends = [" dia", " long", " long over all", " thick"].iter().any(|word| piece.ends_with(word));
            // What has a digit is a size, a thread or an alloy, but for the angle of a head.
            let measured = piece.contains(|c: char| c.is_ascii_digit()) && !piece.contains(" deg ");
            if !begins && !ends && !measured {
                pieces.insert(piece.trim_end_matches(" (from memory)").to_owned());
            }
        }
    }
    pieces
}
