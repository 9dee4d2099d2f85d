//! DISCREPANCY: the sheet on which something that is not as it should be is written down and dealt with: blank, or with
//! the numbers of a hole set that are computed before anybody drills again.
//!
//! It prints numbers and asks; it decides nothing. Every sum comes from where the hole schedule takes it.

mod hole_set;
mod page;

use serde::Serialize;

pub use hole_set::{Check, DiscrepancySubject, Earlier, HoleSet, NextRivet, Share};

use super::document::{Document, plain};
use crate::archive::{Class, Disposition, Stops};
use crate::calendar::Moment;
use crate::hardware::{Head, Shop, limit, rivet_edge, rivet_pitch, solid_rivet_holes, source};
use crate::job::{Job, OwnDocument, Project};
use crate::phrase::say;
use crate::units::{Length, Size, Style, Unit};

/// The sheet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct DiscrepancySheet {
    /// Its number, where it has one already.
    pub number: Option<String>,
    /// Code of the sheet on which it was found, where that is known.
    pub sheet: Option<String>,
    /// The hole set with its numbers; absent on a blank sheet.
    pub subject: Option<HoleSet>,
    /// Next sizes in general, for a sheet without a hole set.
    pub sizes: Vec<BlankRow>,
    /// What can be decided, with what it means.
    pub dispositions: Vec<(&'static str, &'static str)>,
    /// How far it can stop the work.
    pub stops: Vec<&'static str>,
    /// How much it can weigh.
    pub classes: Vec<&'static str>,
    /// Where a larger rivet is not the builder's to choose, with its source.
    pub never: String,
    /// The published rule about the next larger rivet, with its source.
    pub larger: String,
    /// What the builder types afterwards, a line each.
    pub typed: Vec<String>,
}

/// A rivet, the next larger one, and what that needs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct BlankRow {
    /// Diameter of a rivet, as a fraction of an inch.
    pub rivet: String,
    /// The next larger diameter.
    pub next: String,
    /// Its hole.
    pub hole: String,
    /// Least edge distance.
    pub edge: String,
    /// Least pitch in one row.
    pub pitch: String,
}

/// Rivets of the general table, in 1/32 in: the usual ones of thin sheet.
const USUAL: [u16; 4] = [3, 4, 5, 6];

/// Rivets of the general table: in inches those of thin sheet, in millimetres those of the shop.
fn usual(unit: Unit, shop: &Shop) -> Vec<Length> {
    match unit {
        Unit::Inch => USUAL.into_iter().map(Length::from_32nds).collect(),
        Unit::Mm => shop.rivets(),
    }
}

fn meaning(disposition: Disposition) -> &'static str {
    match disposition {
        Disposition::UseAsIs => say!("it stays, with a reason"),
        Disposition::Rework => say!("brought back to the drawing"),
        Disposition::Repair => say!("made good in another way"),
        Disposition::Scrap => say!("thrown away and replaced"),
        Disposition::Return => say!("it came like that"),
    }
}

/// A sheet without a hole set.
#[must_use]
pub fn blank_discrepancy(number: Option<String>, sheet: Option<String>, project: &Project) -> DiscrepancySheet {
    let style = &project.style;
    let shop = &project.shop;
    let dispositions = Disposition::ALL.iter().map(|own| (own.word(), meaning(*own))).collect();
    DiscrepancySheet {
        typed: typed(sheet.as_deref(), None),
        number,
        sheet,
        subject: None,
        sizes: usual(style.unit, shop).into_iter().filter_map(|diameter| row(diameter, shop, style)).collect(),
        dispositions,
        stops: Stops::WORDS.to_vec(),
        classes: Class::ALL.iter().map(|own| own.word()).collect(),
        never: say!(
            "No larger rivet in spar caps, longitudinal stringers or other highly stressed tension members, unless the \
             designer or an engineer says so in writing for this place ({cite})",
            cite = source("AC-4-12").cite()
        ),
        larger: say!(
            "An enlarged or deformed hole may take the next larger rivet only where edge distance and spacing still hold ({cite})",
            cite = source("AC-4-57b").cite()
        ),
    }
}

/// A sheet with the numbers of a hole set; without a code, that of the sheet in force.
#[must_use]
pub fn discrepancy_of(
    subject: &DiscrepancySubject<'_>,
    number: Option<String>,
    sheet: Option<String>,
) -> DiscrepancySheet {
    let sheet = sheet.or_else(|| subject.sheet_in_force());
    let typed = typed(sheet.as_deref(), Some(&subject.joint().id.value));
    DiscrepancySheet {
        subject: Some(HoleSet::of(subject)),
        typed,
        ..blank_discrepancy(number, sheet, &subject.job.project)
    }
}

fn row(diameter: Length, shop: &Shop, style: &Style) -> Option<BlankRow> {
    let next = shop.next_rivet(diameter)?;
    let hole = match style.unit {
        Unit::Inch => solid_rivet_holes(next).into_iter().find(|hole| hole.nominal)?.size,
        Unit::Mm => Size::plain(next + limit::iso_blind_hole_least().value),
    };
    Some(BlankRow {
        rivet: style.rivet(diameter),
        next: style.rivet(next),
        hole: style.size(hole),
        edge: style.at_least(rivet_edge(Head::Protruding).least.at(next).value),
        pitch: style.at_least(rivet_pitch(1).at(next).value),
    })
}

/// What is typed into a file so that the discrepancy stands in the archive.
fn typed(sheet: Option<&str>, joint: Option<&str>) -> Vec<String> {
    let quoted = |text: &str| serde_json::Value::from(text).to_string();
    let mut lines = vec!["[[discrepancy]]".to_owned(), "by = \"INITIALS\"".to_owned(), "on = DAY".to_owned()];
    lines.push(format!("sheet = {}", quoted(sheet.unwrap_or("CODE"))));
    lines.push("step = NUMBER".to_owned());
    lines.push(format!("joint = {}", quoted(joint.unwrap_or("JOINT"))));
    lines.extend(["what = \"\"", "should-be = \"\"", "is = \"\"", "stops = \"step\""].map(str::to_owned));
    lines
}

impl DiscrepancySheet {
    /// The sheet as a document.
    #[must_use]
    pub fn document(&self, job: &Job, now: Moment) -> Document {
        let names = [("", Some(&job.project.aircraft)), (say!("serial "), job.project.serial())];
        let names: Vec<String> =
            names.into_iter().filter_map(|(word, text)| Some(format!("{word}{}", text?.value))).collect();
        let page = page::page(self, job.project.settings.paper.value.word(), names.join(", "), now.day().to_string());
        Document::of_build(job, "discrepancy.typ.j2", self.stem(), Some(now.day()), plain(&page))
    }

    /// `discrepancy-D-004`, `discrepancy-WNG-210-J1-left`, `discrepancy-blank`.
    fn stem(&self) -> String {
        let of_set = |set: &HoleSet| {
            let hand = set.hand.map_or(String::new(), |hand| format!("-{hand}"));
            format!("{}-{}{hand}", set.traveler, set.joint_id)
        };
        let name = self.number.clone().or_else(|| self.subject.as_ref().map(of_set));
        OwnDocument::Discrepancy.stem(Some(name.as_deref().unwrap_or("blank")))
    }
}
