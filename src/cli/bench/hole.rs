//! `bench hole`: what a part number means, and the holes it may stand in.

use anyhow::Result;

use super::answer::{Answer, Row, Shown};
use super::{Asked, typed};
use crate::hardware::{Fastener, Graded, holes_for};
use crate::units::Length;

/// Arguments of `bench hole`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The part number: AN426AD3-5, AN3-6A, IFI114-43
    #[arg(long)]
    call: String,
}

/// Answers `bench hole`.
pub(super) fn answer(typed_in: &Arguments, asked: &Asked) -> Result<Answer> {
    let fastener = typed::fastener("call", &typed_in.call, asked)?;
    let words = |text: Option<String>, absent| text.map_or(Shown::Nothing(absent), Shown::Text);
    let mut rows = vec![
        Row::plain("call", "call", Shown::Text(fastener.usual_call().to_owned())),
        Row::plain("kind", "kind", Shown::Text(fastener.kind_words().to_owned())),
        Row::plain("description", "", Shown::Text(fastener.describe(&asked.style))),
        Row::plain("superseded-by", "", words(fastener.superseded_by(), "no successor")),
        Row::plain(
            "diameter",
            "diameter",
            fastener.diameter().map_or(Shown::Nothing("the call does not tell it"), Shown::Length),
        ),
        Row::plain("thread", "", words(fastener.thread().map(|thread| thread.name.clone()), "no thread")),
        Row::plain(
            "metal",
            "metal",
            words(fastener.metal().map(|metal| metal.word().to_owned()), "the call does not tell it"),
        ),
    ];
    rows.extend(length_rows(&fastener));
    let holes = holes_for(&fastener);
    let mut notes = Vec::new();
    notes.extend(fastener.superseded_by().map(|successor| format!("{} is now {successor}", fastener.usual_call())));
    if holes.is_empty() {
        notes.push("no table lists a hole for it".to_owned());
    }
    rows.push(Row::plain("hole", "hole", Shown::Holes(holes)));
    Ok(Answer { title: format!("{}, {}", fastener.usual_call(), fastener.describe(&asked.style)), rows, notes })
}

fn length_rows(fastener: &Fastener) -> Vec<Row> {
    let plain = |length: Length| Shown::Length(length);
    let graded = |key, label, value: &Option<Graded<Length>>| value.clone().map(|value| Row::length(key, label, value));
    match fastener {
        Fastener::SolidRivet(rivet) => {
            rivet.length.map(|length| Row::plain("length", "length", plain(length))).into_iter().collect()
        }
        Fastener::BlindRivet(rivet) => {
            let grip = rivet
                .grip
                .map(|(low, high)| Row::sourced("grip", "grip", Shown::Range(low, high), rivet.basis.clone()));
            grip.into_iter().collect()
        }
        Fastener::Bolt(bolt) => graded("grip", "grip", &bolt.grip)
            .into_iter()
            .chain(graded("thread-from", "the thread begins at", &bolt.thread_from))
            .chain(graded("length", "length under the head", &bolt.length))
            .collect(),
        Fastener::Washer(washer) => graded("thickness", "thickness", &washer.thickness).into_iter().collect(),
        _ => Vec::new(),
    }
}
