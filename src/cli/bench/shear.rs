//! What a rivet carries in single shear, row by row: the rivet itself, the factor of thin sheet, each preparation.
//!
//! Where no source has a value the row says so; no value of one preparation stands in for another.

use super::answer::{Row, Shown};
use crate::hardware::{FlushShear, Graded, RivetShear, flush_shear_listed};
use crate::units::{Ratio, Style};

const NO_TABLE: &str = "no table has this alloy and diameter";

/// The rows of shear; of a flush head by preparation.
pub(super) fn shear_rows(shear: &RivetShear, is_flush: bool) -> Vec<Row> {
    let mut rows = vec![
        pounds("shear-rivet-lb", "single shear of the rivet", shear.own.clone(), NO_TABLE),
        match &shear.factor {
            Some(factor) => Row::sourced(
                "thin-sheet-factor",
                "factor of thin sheet",
                Shown::Ratio(factor.value),
                factor.basis.clone(),
            ),
            None => Row::plain(
                "thin-sheet-factor",
                "factor of thin sheet",
                Shown::Nothing("the sheet is thinner than the table goes for this diameter"),
            ),
        },
    ];
    if is_flush {
        let value = |listed: &Option<Graded<FlushShear>>| {
            listed.as_ref().map(|listed| Graded { value: listed.value.pounds, basis: listed.basis.clone() })
        };
        let absent = "no source for this diameter, alloy and sheet, see the note";
        rows.push(Row::plain("shear-lb", "", Shown::Nothing("a flush head has one value a preparation")));
        rows.push(pounds("shear-countersunk-lb", "  in countersunk sheet", value(&shear.countersunk), absent));
        rows.push(pounds("shear-dimpled-lb", "  in dimpled sheet", value(&shear.dimpled), absent));
    } else {
        let absent = "no table has this alloy, diameter and sheet";
        rows.push(pounds("shear-lb", "single shear in this sheet", shear.protruding.clone(), absent));
    }
    rows
}

fn pounds(key: &'static str, label: &'static str, value: Option<Graded<i64>>, absent: &'static str) -> Row {
    value.map_or_else(
        || Row::plain(key, label, Shown::Nothing(absent)),
        |value| Row::sourced(key, label, Shown::Count(value.value, "lb"), value.basis),
    )
}

/// What the rows of shear rest on, and what they do not say.
pub(super) fn shear_notes(shear: &RivetShear, is_flush: bool, style: &Style) -> Vec<String> {
    let sheet = style.length(shear.sheet);
    let mut notes = Vec::new();
    match &shear.factor {
        Some(factor) if factor.value < Ratio(1_000) => notes.push(format!(
            "the thinnest sheet, {sheet}, is under .33 D: a protruding head carries {} of the rivet's shear",
            factor.value
        )),
        _ => {}
    }
    if !is_flush {
        return notes;
    }
    let own = shear.own.as_ref().map(|own| own.value);
    for (what, listed) in [("countersunk", &shear.countersunk), ("dimpled", &shear.dimpled)] {
        let Some(listed) = listed.as_ref().map(|listed| listed.value) else { continue };
        if listed.sheet < shear.sheet && Some(listed.pounds) != own {
            notes.push(format!(
                "{what}: listed for {}; thicker sheet carries no less, and never more than the rivet itself",
                style.length(listed.sheet)
            ));
        }
        if listed.knife_edge && listed.sheet == shear.sheet {
            notes.push(format!(
                "{what} in {}: the source calls it a knife edge and advises against it",
                style.length(listed.sheet)
            ));
        }
    }
    if shear.countersunk.is_none() || shear.dimpled.is_none() {
        notes.push(format!(
            "of flush rivets the sources list 2117-T4 in 2024-T3 alone: {}; the factor of thin sheet is published \
             for protruding heads and does not stand in for them",
            flush_shear_listed(style)
        ));
    }
    notes
}
