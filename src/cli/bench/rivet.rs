//! `bench rivet`: the solid rivet for a stack.

use anyhow::{Result, bail};

use super::answer::{Answer, Row, Shown};
use super::shear::{shear_notes, shear_rows};
use super::{Asked, typed};
use crate::hardware::{
    Fastener, Head, LeastDistance, LengthFit, RivetCount, RivetProposal, SolidRivet, count_rivets, propose_rivet,
    rivet_of_diameter,
};
use crate::units::Length;

/// Arguments of `bench rivet`; a bare number is in the project's unit.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Thickness of each layer: 0.032,0.040
    #[arg(long, value_name = "SIZES", value_delimiter = ',', required = true)]
    stack: Vec<String>,
    /// Diameter of the rivet
    #[arg(long, value_name = "SIZE", required_unless_present = "call")]
    diameter: Option<String>,
    /// Manufactured head
    #[arg(long, value_enum, default_value_t = HeadWord::Universal)]
    head: HeadWord,
    /// A call to judge, or family and diameter: MS20470AD4-4
    #[arg(long, value_name = "CALL", conflicts_with_all = ["diameter", "head"])]
    call: Option<String>,
    /// Rows of rivets, for the pitch
    #[arg(long, default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..=20))]
    rows: u32,
    /// Count the rivets over this width by the circular's tables
    #[arg(long, value_name = "SIZE")]
    width: Option<String>,
    /// Sheet for the count: 2024-T3, 2024-T3 bare, 5052
    #[arg(long, requires = "width")]
    material: Option<String>,
}

/// Form of the manufactured head.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(super) enum HeadWord {
    /// Stands on the sheet
    Universal,
    /// Let into the sheet
    Flush,
}

/// Answers `bench rivet`.
pub(super) fn answer(typed_in: &Arguments, asked: &Asked) -> Result<Answer> {
    let layers = typed::layers(&typed_in.stack, asked)?;
    let rivet = rivet_of(typed_in, asked)?;
    let found = propose_rivet(&rivet, &layers, typed_in.rows)?;
    let mut rows = rows(&found, typed_in.rows);
    let mut notes = shear_notes(&found.shear, rivet.head.is_flush(), &asked.style);
    if let Some(width) = &typed_in.width {
        let width = typed::positive("width", width, asked)?;
        let counts = count_rivets(&rivet, &layers, width, typed_in.material.as_deref(), &asked.style)?;
        notes.extend(count_notes(&counts));
        rows.extend(counted("rivets over the width", width, counts));
    }
    if rivet.is_kept_cold() {
        notes.insert(0, format!("{} in this size is kept cold and driven at once", rivet.describe(&asked.style)));
    }
    let best = found.fitting.first();
    let title = best.map_or_else(
        || format!("{}, {}: no standard length suits this stack", rivet.call.usual, rivet.describe(&asked.style)),
        |best| format!("{}, {}", best.call.usual, best.describe(&asked.style)),
    );
    Ok(Answer { title, rows, notes })
}

fn rivet_of(typed_in: &Arguments, asked: &Asked) -> Result<SolidRivet> {
    match (&typed_in.call, &typed_in.diameter) {
        (Some(call), _) => match typed::fastener("call", call, asked)? {
            Fastener::SolidRivet(rivet) => Ok(rivet),
            other => {
                bail!(
                    "--call: `{call}` is no solid rivet but {}; `bench hole` decodes any call",
                    other.describe(&asked.style)
                )
            }
        },
        (None, Some(diameter)) => {
            let head = if typed_in.head == HeadWord::Flush { Head::Flush100 } else { Head::Protruding };
            Ok(rivet_of_diameter(typed::positive("diameter", diameter, asked)?, head, &asked.style)?)
        }
        (None, None) => bail!("give --diameter or --call"),
    }
}

fn rows(found: &RivetProposal, in_rows: u32) -> Vec<Row> {
    let calls: Vec<String> = found.fitting.iter().map(|rivet| rivet.call.usual.clone()).collect();
    let dash = |call: &String| call.rsplit_once('-').map_or(call.as_str(), |(_, dash)| dash).to_owned();
    let mut rows = vec![
        Row::plain("grip", "stack", Shown::Length(found.stack)),
        Row::length("length", "length, stack + 1.5 D", found.wanted.clone()),
        Row::plain("dash", "", Shown::Texts(calls.iter().map(dash).collect())),
        Row::plain("calls", "lengths that suit", Shown::Texts(calls)),
    ];
    if let Some(fit) = found.fit {
        rows.extend(fit_rows(found, fit));
    }
    rows.push(Row::plain("hole", "hole", Shown::Holes(found.holes.clone())));
    rows.extend(distance_rows(&found.edge));
    let pitch = if in_rows == 1 { "pitch at least, one row" } else { "pitch at least, these rows" };
    rows.push(Row::length("pitch-min", pitch, found.pitch.clone()));
    if let Some(gap) = &found.row_gap {
        rows.push(Row::length("row-gap-min", "row gap at least", gap.least.clone()));
        rows.push(Row::length("row-gap-recommended", "row gap recommended", gap.recommended.clone()));
    }
    rows.push(Row::plain("shop-head", "shop head", Shown::Group(head_rows(found))));
    rows.extend(shear_rows(&found.shear, found.rivet.head.is_flush()));
    countersink_rows(found, rows)
}

fn countersink_rows(found: &RivetProposal, mut rows: Vec<Row>) -> Vec<Row> {
    if let Some(used) = found.countersinks.iter().find(|(_, used)| *used) {
        rows.push(Row::length("countersink-min", "countersink no thinner than", used.0.clone()));
    }
    let others = found
        .countersinks
        .iter()
        .filter(|(_, used)| !used)
        .map(|(other, _)| vec![Row::length("sheet", "no thinner than", other.clone())]);
    push_groups(&mut rows, "countersink-other-sources", "countersink, other sources", others.collect());
    rows
}

fn push_groups(rows: &mut Vec<Row>, key: &'static str, label: &'static str, groups: Vec<Vec<Row>>) {
    if !groups.is_empty() {
        rows.push(Row::plain(key, label, Shown::Groups(groups)));
    }
}

fn fit_rows(found: &RivetProposal, fit: LengthFit) -> [Row; 3] {
    let free = found.rivet.free_shank(found.stack);
    [
        Row::plain("call", "call", Shown::Text(found.rivet.call.usual.clone())),
        Row::plain(
            "free-shank",
            "its free shank",
            free.map_or(Shown::Nothing("the call has no length"), Shown::Length),
        ),
        Row::plain("verdict", "its length", Shown::Text(fit.word().to_owned())),
    ]
}

/// Least distance to an edge, and the recommended one where that is more.
pub(super) fn distance_rows(edge: &LeastDistance) -> Vec<Row> {
    let mut rows = vec![Row::length("edge-min", "edge at least", edge.least.clone())];
    if edge.recommended.value > edge.least.value {
        rows.push(Row::length("edge-recommended", "edge recommended", edge.recommended.clone()));
    }
    rows
}

fn head_rows(found: &RivetProposal) -> Vec<Row> {
    let driven = &found.driven;
    let mut rows = vec![
        Row::length("diameter", "diameter", driven.diameter.clone()),
        Row::length("height", "height", driven.height.clone()),
        Row::length("diameter-min", "diameter at least", driven.least_diameter.clone()),
        Row::length("height-min", "height at least", driven.least_height.clone()),
    ];
    rows.extend(driven.most_height.clone().map(|most| Row::length("height-max", "height at most", most)));
    let published = found.published.iter().map(|head| {
        let row = |key, label, length| Row::sourced(key, label, Shown::Length(length), head.basis.clone());
        vec![row("diameter", "diameter", head.diameter), row("height", "height", head.height)]
    });
    push_groups(&mut rows, "published", "as published", published.collect());
    rows
}

/// The count over a width, table by table.
pub(super) fn counted(what: &'static str, width: Length, counts: Vec<RivetCount>) -> [Row; 2] {
    let groups = counts.into_iter().map(count_rows).collect();
    [Row::plain("width", "width", Shown::Length(width)), Row::plain("counts", what, Shown::Groups(groups))]
}

fn count_rows(count: RivetCount) -> Vec<Row> {
    let rivets = |n| Shown::Count(n, "");
    vec![
        Row::sourced("table", "table", Shown::Text(count.table.to_owned()), count.basis),
        Row::plain("per-inch", "per inch", Shown::Tenths(count.tenths_per_inch)),
        Row::plain("full", "full count, rounded up", rivets(count.full)),
        Row::plain("single-lap", "75 %, single-lap sheet", rivets(count.single_lap)),
        Row::plain("stringers", "80 %, stringers", rivets(count.stringers)),
        Row::plain("frames", "60 %, intermediate frames", rivets(count.frames)),
    ]
}

fn count_notes(counts: &[RivetCount]) -> Vec<String> {
    let mut notes = vec![
        "the tables count 2117-T4 protruding heads; 80 % holds for stringers of the upper wing and the fuselage, 60 % for intermediate frames"
            .to_owned(),
    ];
    let per_inch: Vec<i64> = counts.iter().map(|count| count.tenths_per_inch).collect();
    if per_inch.windows(2).any(|pair| pair[0] != pair[1]) {
        notes.push("the tables differ; take the larger count unless the drawing names its table".to_owned());
    }
    notes
}

/// Sum of washers in words for the answer.
pub(super) fn total(washers: &[Length]) -> Length {
    washers.iter().copied().sum()
}
