//! Work that goes together: what a helper is needed for, what shares a set-up, what is primed in one day.
//!
//! Batches hold what is ready and what is at most two steps away; the latter say what comes first.

use std::collections::BTreeMap;

use serde::Serialize;

use super::Source;
use super::row::{Row, Rows, set_up};
use crate::job::{Item, StepKind};
use crate::phrase::say;
use crate::plan::last_look::named;
use crate::units::spent;

/// One batch.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Batch {
    /// What it is for.
    pub name: String,
    /// Its rows.
    pub rows: Vec<BatchRow>,
    /// Minutes of all rows, as far as they are given.
    pub minutes: u32,
    /// The same in hours and minutes; nothing where no row gives any.
    pub time: Option<String>,
}

/// One row of a batch.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct BatchRow {
    /// The item.
    #[serde(flatten)]
    pub row: Row,
    /// What must be done before; nothing for what is ready.
    pub first: Vec<String>,
    /// The same as paper says it: numbers of the same packet, else with the packet's name.
    #[serde(skip)]
    pub after: Vec<String>,
}

/// Steps that may still come before a step of a batch.
const NEAR: usize = 2;

/// The batches of the board; one of a single row is none.
pub(super) fn batches(source: &Source<'_>, rows: &Rows<'_>, ready: &[Item]) -> Vec<Batch> {
    let near = near(source, ready);
    let mut batches = vec![
        batch(rows, say!("Helper needed"), near.iter().filter(|(item, _)| source.job.step(item.at).helper.value)),
        batch(
            rows,
            say!("Primer day"),
            near.iter().filter(|(item, _)| source.job.step(item.at).kind.value == StepKind::Prime),
        ),
    ];
    let mut by_tool: BTreeMap<String, Vec<&(Item, Vec<Item>)>> = BTreeMap::new();
    for entry in &near {
        if let Some(tool) = set_up(source, entry.0) {
            by_tool.entry(tool).or_default().push(entry);
        }
    }
    let tools = by_tool.into_iter().filter(|(_, entries)| entries.len() > 1);
    batches.extend(tools.map(|(tool, entries)| batch(rows, &say!("Same set-up: {tool}", tool), entries.into_iter())));
    batches.retain(|batch| !batch.rows.is_empty());
    batches
}

fn batch<'a>(rows: &Rows<'_>, name: &str, entries: impl Iterator<Item = &'a (Item, Vec<Item>)>) -> Batch {
    let rows: Vec<BatchRow> = entries
        .map(|(item, first)| {
            let row = rows.row(*item);
            let first: Vec<Row> = first.iter().map(|item| rows.row(*item)).collect();
            let said = |own: &Row| {
                let same = own.traveler == row.traveler && own.hand == row.hand;
                if same { own.number.clone() } else { format!("{} {}", named(&own.traveler, own.hand), own.number) }
            };
            let after = first.iter().map(said).collect();
            BatchRow { first: first.into_iter().map(|own| own.step).collect(), after, row }
        })
        .collect();
    let minutes = rows.iter().filter_map(|row| row.row.minutes).sum();
    Batch { name: name.to_owned(), rows, minutes, time: (minutes > 0).then(|| spent(minutes)) }
}

/// What is ready, and what only a few steps of its own chain or of others still keep back, with these steps.
fn near(source: &Source<'_>, ready: &[Item]) -> Vec<(Item, Vec<Item>)> {
    let mut found: BTreeMap<Item, Vec<Item>> = ready.iter().map(|item| (*item, Vec::new())).collect();
    let mut edge: Vec<Item> = ready.to_vec();
    for _ in 0..NEAR {
        let next: Vec<Item> = edge.iter().flat_map(|item| source.order.links_from(*item).map(|link| link.to)).collect();
        edge = next.into_iter().filter(|item| !found.contains_key(item) && !source.state.is_done(*item)).collect();
        edge.sort_unstable();
        edge.dedup();
        for item in &edge {
            let mut first: Vec<Item> = source
                .order
                .links_to(*item)
                .map(|link| link.from)
                .filter(|from| !source.state.is_done(*from))
                .collect();
            // One whose own predecessors are not near is not near itself.
            let Some(known) = first.iter().map(|item| found.get(item)).collect::<Option<Vec<_>>>() else { continue };
            let known: Vec<Item> = known.into_iter().flatten().copied().collect();
            first.extend(known);
            first.sort_unstable();
            first.dedup();
            if first.len() <= NEAR {
                found.insert(*item, first);
            }
        }
    }
    found.into_iter().collect()
}
