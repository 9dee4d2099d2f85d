//! `bench bolt`: the bolt for a stack.

use anyhow::{Result, bail};

use super::answer::{Answer, Row, Shown};
use super::rivet::{counted, distance_rows, total};
use super::{Asked, typed};
use crate::hardware::{Bolt, BoltProposal, Fastener, count_bolts, propose_bolt};

/// Arguments of `bench bolt`; a bare number is in the project's unit.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Thickness of each layer: 0.250,0.125
    #[arg(long, value_name = "SIZES", value_delimiter = ',', required = true)]
    stack: Vec<String>,
    /// Size of the bolt: AN3, AN4A (shank not drilled), NAS6203, ISO 4014-M6
    #[arg(long, value_name = "BOLT")]
    size: String,
    /// Washers under the nut; 0 for none
    #[arg(long, value_name = "SIZES", value_delimiter = ',', default_value = "0.063 in")]
    washers: Vec<String>,
    /// Washers under the head
    #[arg(long, value_name = "SIZES", value_delimiter = ',')]
    head_washers: Vec<String>,
    /// Count AN3 bolts over this width by the circular's tables
    #[arg(long, value_name = "SIZE")]
    width: Option<String>,
    /// Sheet for the count: 2024-T3, 2024-T3 bare, 5052
    #[arg(long, requires = "width")]
    material: Option<String>,
}

/// Answers `bench bolt`.
pub(super) fn answer(typed_in: &Arguments, asked: &Asked) -> Result<Answer> {
    let layers = typed::layers(&typed_in.stack, asked)?;
    let head = total(&typed::sizes("head-washers", &typed_in.head_washers, asked)?);
    let nut = total(&typed::sizes("washers", &typed_in.washers, asked)?);
    let found = propose_bolt(&bolt(&typed_in.size, asked)?, &layers, head, nut, &asked.style)?;
    let notes = vec!["look at the thread that sticks out of the nut: nut heights are not in the tables".to_owned()];
    let title = format!("{}, {}", found.bolt.call.usual, found.bolt.describe(&asked.style));
    let bolt = found.bolt.clone();
    let mut rows = rows(found);
    if let Some(width) = &typed_in.width {
        let width = typed::positive("width", width, asked)?;
        let counts = count_bolts(&bolt, &layers, width, typed_in.material.as_deref(), &asked.style)?;
        rows.extend(counted("AN3 bolts over the width", width, counts));
    }
    Ok(Answer { title, rows, notes })
}

fn bolt(size: &str, asked: &Asked) -> Result<Bolt> {
    match typed::fastener("size", size, asked)? {
        Fastener::Bolt(bolt) => Ok(bolt),
        other => bail!("--size: `{size}` is no bolt but {}", other.describe(&asked.style)),
    }
}

fn rows(found: BoltProposal) -> Vec<Row> {
    let mut rows = vec![
        Row::plain("stack", "stack", Shown::Length(found.stack)),
        Row::plain("head-washers", "washers under the head", Shown::Length(found.washers.0)),
        Row::plain("washers", "washers under the nut", Shown::Length(found.washers.1)),
        Row::plain("dash", "dash", Shown::Text(found.dash)),
        Row::plain("call", "call", Shown::Text(found.bolt.call.usual.clone())),
        Row::plain("others", "other dashes that fit", Shown::Texts(found.others)),
        Row::length("grip", if found.bolt.thread_from.is_some() { "the thread begins at" } else { "grip" }, found.grip),
        Row::some_length("length", "length under the head", found.bolt.length, "the number gives the grip only"),
        Row::plain("hole", "hole", Shown::Holes(found.holes)),
    ];
    rows.extend(distance_rows(&found.edge));
    rows
}
