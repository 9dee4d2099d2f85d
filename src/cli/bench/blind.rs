//! `bench blind`: the blind rivet for a stack.

use anyhow::{Result, bail};

use super::answer::{Answer, Row, Shown};
use super::rivet::HeadWord;
use super::{Asked, typed};
use crate::hardware::{BlindQuestion, BlindRivet, Fastener, Head, propose_blind, source};

/// Arguments of `bench blind`; a bare number is in the project's unit.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Thickness of each layer, or of the whole stack
    #[arg(long, value_name = "SIZES", value_delimiter = ',', required = true)]
    stack: Vec<String>,
    /// Diameter of a commercial rivet
    #[arg(long, value_name = "SIZE", required_unless_present = "call")]
    diameter: Option<String>,
    /// Manufactured head
    #[arg(long, value_enum, default_value_t = HeadWord::Universal)]
    head: HeadWord,
    /// Another family and diameter: MS20600AD4, ISO 15981-4
    #[arg(long, value_name = "CALL", conflicts_with_all = ["diameter", "head"])]
    call: Option<String>,
}

/// Answers `bench blind`.
pub(super) fn answer(typed_in: &Arguments, asked: &Asked) -> Result<Answer> {
    let layers = typed::layers(&typed_in.stack, asked)?;
    let called = typed_in.call.as_deref().map(|call| blind_rivet(call, asked)).transpose()?;
    let found = match (&called, &typed_in.diameter) {
        (Some(rivet), _) => propose_blind(BlindQuestion::Call(rivet), &layers, &asked.style)?,
        (None, Some(diameter)) => {
            let head = if typed_in.head == HeadWord::Flush { Head::Flush120 } else { Head::Protruding };
            propose_blind(
                BlindQuestion::Commercial(typed::positive("diameter", diameter, asked)?, head),
                &layers,
                &asked.style,
            )?
        }
        (None, None) => bail!("give --diameter or --call"),
    };
    let rivet = &found.rivet;
    let mut rows = vec![
        Row::plain("stack", "stack", Shown::Length(found.stack)),
        Row::plain("code", "", rivet.code.clone().map_or(Shown::Nothing("no code"), Shown::Text)),
        Row::plain("call", "call", Shown::Text(rivet.call.usual.clone())),
        Row::sourced("grip", "grip", Shown::Range(found.grip.0, found.grip.1), rivet.basis.clone()),
        Row::plain("hole", "hole", Shown::Holes(found.holes.clone())),
    ];
    if let Some(given) = called.filter(|given| given.grip.is_some()) {
        let fits = given.fits(found.stack) == Some(true);
        rows.push(Row::plain("fits", "the call's own grip fits", Shown::Flag(fits)));
    }
    let mut notes = Vec::new();
    if rivet.is_commercial() {
        notes.push(format!(
            "commercial pull-type rivets are kept out of certificated structure ({}); use them where the plans call them",
            source("AC-4-24").cite()
        ));
    }
    Ok(Answer { title: format!("{}, {}", rivet.call.usual, rivet.describe(&asked.style)), rows, notes })
}

fn blind_rivet(call: &str, asked: &Asked) -> Result<BlindRivet> {
    match typed::fastener("call", call, asked)? {
        Fastener::BlindRivet(rivet) => Ok(rivet),
        other => bail!("--call: `{call}` is no blind rivet but {}", other.describe(&asked.style)),
    }
}
