//! The printed discrepancy sheet: as much of what the tables and the archive hold as the sheet has room for.
//!
//! It leaves out and says how much; it computes nothing.

use serde::Serialize;

use super::{BlankRow, DiscrepancySheet, HoleSet};
use crate::phrase::say;

/// What the sheet prints.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct DiscrepancyPage {
    /// Paper size as Typst names it.
    pub paper: &'static str,
    /// Name and serial number of the aircraft.
    pub aircraft: String,
    /// Day of printing.
    pub printed: String,
    /// Its number, where it has one already.
    pub number: Option<String>,
    /// Code of the sheet on which it was found, where that is known.
    pub sheet: Option<String>,
    /// The hole set with its numbers; absent on a blank sheet.
    pub subject: Option<HoleSet>,
    /// How much more the archive tells of the hole set.
    pub earlier: Option<String>,
    /// Next sizes in general, for a sheet without a hole set.
    pub sizes: Vec<BlankRow>,
    /// How far it can stop the work.
    pub stops: Vec<&'static str>,
    /// How much it can weigh.
    pub classes: Vec<&'static str>,
    /// Where a larger rivet is not the builder's to choose, with its source.
    pub never: String,
    /// The published rule about the next larger rivet, with its source.
    pub larger: String,
    /// The shop head to aim at and the least that passes.
    pub head: String,
    /// What can be decided, with what it means.
    pub dispositions: Vec<(&'static str, &'static str)>,
}

/// Where no joint is named: MIL-HDBK-5H, par. 8.1.2 and MIL-R-47196A as quoted; the aim by AC 43.13-1B, figure 4-6, from
/// memory.
fn any_head() -> &'static str {
    say!("aim at 1.5 D by .5 D; at least 1.3 D (7050: 1.4 D) by .4 D")
}

/// The most lines of each kind.
const LISTED: usize = 2;
const NOTES: usize = 4;
const EARLIER: usize = 2;

pub(super) fn page(
    sheet: &DiscrepancySheet,
    paper: &'static str,
    aircraft: String,
    printed: String,
) -> DiscrepancyPage {
    let subject = sheet.subject.as_ref();
    // A blank sheet has no earlier ones.
    let rest = subject.map_or(0, |own| own.earlier.len().saturating_sub(EARLIER));
    DiscrepancyPage {
        paper,
        aircraft,
        printed,
        number: sheet.number.clone(),
        sheet: sheet.sheet.clone(),
        subject: subject.map(shortened),
        earlier: (rest > 0).then(|| say!("and {rest} more in the archive", rest)),
        sizes: sheet.sizes.clone(),
        stops: sheet.stops.clone(),
        classes: sheet.classes.clone(),
        never: sheet.never.clone(),
        larger: sheet.larger.clone(),
        head: subject.and_then(|own| own.shop_head.clone()).unwrap_or_else(|| any_head().to_owned()),
        dispositions: sheet.dispositions.clone(),
    }
}

fn shortened(own: &HoleSet) -> HoleSet {
    let mut own = own.clone();
    own.listed.truncate(LISTED);
    own.notes.truncate(NOTES);
    own.earlier.truncate(EARLIER);
    own
}
