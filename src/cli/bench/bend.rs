//! `bench bend`: least inside radius and set-back.

use anyhow::Result;

use super::answer::{Answer, Row, Shown};
use super::{Asked, typed};
use crate::hardware::{Basis, BendProposal, Sureness, propose_bend};
use crate::units::{Length, Ratio};

/// Arguments of `bench bend`; a bare number is in the project's unit, or degrees.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Alloy and temper: 2024-T3
    #[arg(long)]
    material: String,
    /// Thickness of the sheet
    #[arg(long, value_name = "SIZE")]
    thickness: String,
    /// Inside radius to judge
    #[arg(long, value_name = "SIZE")]
    radius: Option<String>,
    /// Angle through which the sheet is bent
    #[arg(long, value_name = "DEGREES", default_value = "90")]
    angle: String,
}

/// The angle that the table is for, in thousandths of a degree.
const TABLE_ANGLE: i64 = 90_000;

/// Answers `bench bend`.
pub(super) fn answer(typed_in: &Arguments, asked: &Asked) -> Result<Answer> {
    let thickness = typed::positive("thickness", &typed_in.thickness, asked)?;
    let radius = typed_in.radius.as_deref().map(|radius| typed::size("radius", radius, asked)).transpose()?;
    let angle = typed::angle(&typed_in.angle)?;
    let found = propose_bend(&typed_in.material, thickness, radius, angle, &asked.style)?;
    let mut notes = vec![
        "the table recommends; bends in a heat-treated temper are judged by a trial piece of the same sheet".to_owned(),
    ];
    if angle != TABLE_ANGLE {
        notes.push("the table is for 90 degrees; the set-back is for the angle given".to_owned());
    }
    if found.minimum.value.least != found.minimum.value.cautious {
        notes.push(
            "the thickness lies between two columns of the table: between the two radii the bend is doubtful"
                .to_owned(),
        );
    }
    let title = format!(
        "{}, {} thick, bent {} deg",
        typed_in.material.trim(),
        asked.style.length(thickness),
        typed_in.angle.trim()
    );
    Ok(Answer { title, rows: rows(&found, thickness), notes })
}

fn rows(found: &BendProposal, thickness: Length) -> Vec<Row> {
    let (minimum, basis) = (&found.minimum.value, &found.minimum.basis);
    let of_table = |key, label, length| Row::sourced(key, label, Shown::Length(length), basis.clone());
    let multiple = |ratio: Ratio| ratio.to_string();
    let mut rows = vec![
        Row::plain("thickness", "", Shown::Length(thickness)),
        of_table("minimum", "inside radius at least", minimum.least),
        of_table(
            "cautious",
            if minimum.cautious > minimum.least { "by the larger column" } else { "" },
            minimum.cautious,
        ),
        of_table("recommended-to", "upper end of the range", minimum.roomy),
        Row::plain("multiples", "", Shown::Texts([minimum.multiples.0, minimum.multiples.1].map(multiple).to_vec())),
    ];
    match found.asked {
        Some((radius, setback, verdict)) => rows.extend([
            Row::plain("radius", "radius", Shown::Length(radius)),
            Row::sourced("setback", "set-back", Shown::Length(setback), Basis::published("geometry", Sureness::ACalc)),
            Row::plain("verdict", "verdict", Shown::Text(verdict.word().to_owned())),
        ]),
        None => rows.extend(
            ["radius", "setback", "verdict"].map(|key| Row::plain(key, "", Shown::Nothing("no radius was given"))),
        ),
    }
    rows
}
