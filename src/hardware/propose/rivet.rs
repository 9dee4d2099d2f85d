//! The solid rivet for a stack: lengths, holes, edge, pitch, shop head, shear, and how many over a width.
//!
//! Strength is given for comparison; how many rivets a joint needs is for its designer, or for the tables of the
//! circular where the repair is one of theirs.

use super::{NoProposal, thickness};
use crate::hardware::source::{Basis, Graded};
use crate::hardware::spacing::{LeastDistance, rivet_edge, rivet_pitch, rivet_row_gap};
use crate::hardware::{
    Bolt, BoltSeries, CountTable, Fastener, FlushShear, Head, ListedHole, PublishedHead, RIVET_DASHES, ShopHead,
    SolidRivet, bolts_per_inch, decode, flush_shear_in, free_shank_limits, hole_fill, is_same_rivet, limit,
    modern_sheet, published_countersink_minimums, published_shop_heads, reaches, rivets_for_width, rivets_per_inch,
    shop_head, single_shear, single_shear_in, solid_rivet_holes, thin_sheet_factor, within,
};
use crate::units::{Length, Ratio, Style};
use crate::words::Preparation;

/// What the tables say of a solid rivet in a stack.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RivetProposal {
    /// The rivet that was asked about, with its length where the call had one.
    pub rivet: SolidRivet,
    /// Thickness of the stack.
    pub stack: Length,
    /// Stack + 1.5 D.
    pub wanted: Graded<Length>,
    /// The rivet in every standard length that suits, the best first.
    pub fitting: Vec<SolidRivet>,
    /// Every listed hole.
    pub holes: Vec<ListedHole>,
    /// Least edge distance.
    pub edge: LeastDistance,
    /// Least pitch.
    pub pitch: Graded<Length>,
    /// Least distance between rows, where there are several.
    pub row_gap: Option<LeastDistance>,
    /// The shop head to aim at and the least to accept.
    pub driven: ShopHead,
    /// Shop heads as the sources print them.
    pub published: Vec<PublishedHead>,
    /// What it carries in single shear.
    pub shear: RivetShear,
    /// Every published thinnest sheet to countersink, with the flag of the one in use; none for a protruding head.
    pub countersinks: Vec<(Graded<Length>, bool)>,
    /// How the length of the call suits, where it has one.
    pub fit: Option<LengthFit>,
}

/// Ultimate single shear in pounds, by what the sources list; none where no table has it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RivetShear {
    /// The thinnest layer, on which it depends.
    pub sheet: Length,
    /// Of the rivet itself: no preparation makes it more.
    pub own: Option<Graded<i64>>,
    /// The factor of thin sheet, published for protruding heads.
    pub factor: Option<Graded<Ratio>>,
    /// With a protruding head, the factor taken off.
    pub protruding: Option<Graded<i64>>,
    /// With a flush head in a countersunk sheet.
    pub countersunk: Option<Graded<FlushShear>>,
    /// With a flush head in a dimpled sheet.
    pub dimpled: Option<Graded<FlushShear>>,
}

/// How a rivet's length suits a stack.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LengthFit {
    /// Not enough for the smallest head.
    TooShort,
    /// Not enough for a full head.
    Short,
    /// Fits.
    Fits,
    /// Longer than usual.
    Long,
    /// Folds over.
    TooLong,
}

impl LengthFit {
    /// The verdict in words.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::TooShort => "too short",
            Self::Short => "short",
            Self::Fits => "fits",
            Self::Long => "long",
            Self::TooLong => "too long",
        }
    }
}

/// The 2117-T4 rivet of a diameter and head, in the family that the tables know best.
///
/// # Errors
/// When rivets do not come in this diameter.
pub fn rivet_of_diameter(diameter: Length, head: Head, style: &Style) -> Result<SolidRivet, NoProposal> {
    let dash = RIVET_DASHES.into_iter().find(|dash| is_same_rivet(Length::from_32nds(*dash), diameter));
    let family = if head.is_flush() { "MS20426AD" } else { "MS20470AD" };
    if let Some(Ok(Fastener::SolidRivet(rivet))) = dash.map(|dash| decode(&format!("{family}{dash}"), &[])) {
        return Ok(rivet);
    }
    let sizes: Vec<String> = RIVET_DASHES.into_iter().map(|dash| style.rivet(Length::from_32nds(dash))).collect();
    Err(NoProposal(format!(
        "no solid rivet is {} in diameter; they come in {}",
        style.length(diameter),
        sizes.join(", ")
    )))
}

/// What the tables say of a rivet in a stack whose layers are given, in `rows` rows.
///
/// # Errors
/// When the stack is empty or a layer has no thickness.
pub fn propose_rivet(rivet: &SolidRivet, layers: &[Length], rows: u32) -> Result<RivetProposal, NoProposal> {
    let stack = thickness(layers)?;
    let d = rivet.diameter;
    let hole = rivet.usual_hole().map_or(d, |hole| hole.value.length);
    let fitting = rivet.lengths_for(stack, hole).into_iter().map(|length| rivet.with_length(length)).collect();
    let best = limit::free_shank_wanted().at(d);
    let thinnest = layers.iter().copied().min().unwrap_or(stack);
    Ok(RivetProposal {
        stack,
        wanted: Graded { value: stack + best.value, basis: best.basis },
        fitting,
        holes: solid_rivet_holes(d),
        edge: rivet_edge(rivet.head).at(d),
        pitch: rivet_pitch(rows).at(d),
        row_gap: (rows > 1).then(|| rivet_row_gap().at(d)),
        driven: shop_head(d, rivet.alloy),
        published: published_shop_heads(d),
        shear: RivetShear {
            sheet: thinnest,
            own: single_shear(rivet),
            factor: thin_sheet_factor(d, thinnest),
            protruding: single_shear_in(rivet, thinnest).filter(|_| !rivet.head.is_flush()),
            countersunk: flush_shear_in(rivet, thinnest, Preparation::Countersink),
            dimpled: flush_shear_in(rivet, thinnest, Preparation::Dimple),
        },
        countersinks: published_countersink_minimums(d, rivet.head),
        fit: judge_length(rivet, stack, hole),
        rivet: rivet.clone(),
    })
}

/// How the length of a rivet suits a stack and a hole; nothing where the call has no length.
#[must_use]
pub fn judge_length(rivet: &SolidRivet, stack: Length, hole: Length) -> Option<LengthFit> {
    let free = rivet.free_shank(stack)?;
    let limits = free_shank_limits(rivet.diameter);
    let enough = limits.enough.value + hole_fill(stack, hole, rivet.diameter);
    Some(if !reaches(free, enough) {
        LengthFit::TooShort
    } else if !within(free, limits.most.value) {
        LengthFit::TooLong
    } else if !reaches(free, limits.full.value) {
        LengthFit::Short
    } else if !within(free, limits.usual.value) {
        LengthFit::Long
    } else {
        LengthFit::Fits
    })
}

/// How many rivets one table of the circular counts over a width.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RivetCount {
    /// Name of the table: `4-9`.
    pub table: &'static str,
    /// Rivets per inch, in tenths.
    pub tenths_per_inch: i64,
    /// The full count, rounded up.
    pub full: i64,
    /// 75 per cent of it, rounded up: single-lap sheet joints.
    pub single_lap: i64,
    /// 80 per cent of it, rounded up: stringers of the upper wing and the fuselage.
    pub stringers: i64,
    /// 60 per cent of it, rounded up: intermediate frames.
    pub frames: i64,
    /// Where the count stands.
    pub basis: Basis,
}

/// Tables of the circular with the words of a material that they name; 4-9 and 4-10 both list clad 2024-T3.
const COUNT_TABLES: [(CountTable, &str, &[&str]); 3] = [
    (CountTable::T4_9, "4-9", &["2014", "2024", "7075"]),
    (CountTable::T4_10, "4-10", &["2017", "2024-T3"]),
    (CountTable::T4_11, "4-11", &["5052"]),
];

/// Rivets over a width by every table of the circular that names the material; by all tables where none is given.
///
/// # Errors
/// When the rivet is not the one that the tables count, or no table has the material, the sheet or the diameter.
pub fn count_rivets(
    rivet: &SolidRivet,
    layers: &[Length],
    width: Length,
    material: Option<&str>,
    style: &Style,
) -> Result<Vec<RivetCount>, NoProposal> {
    let is_counted = rivet.head == Head::Protruding && rivet.alloy.is_some_and(|alloy| alloy.letter == "AD");
    if !is_counted {
        let number = &rivet.call.usual;
        return Err(NoProposal(format!(
            "{number} is not in Tables 4-9 to 4-11: they count 2117-T4 rivets with protruding heads, MS20470AD"
        )));
    }
    let size = format!("{} rivets", style.rivet(rivet.diameter));
    counts_of(&size, layers, (width, material, style), |table, sheet| rivets_per_inch(table, sheet, rivet.diameter))
}

/// Counts AN3 bolts over a width of a sheet splice by the circular's tables, as [`count_rivets`] does.
///
/// # Errors
/// When no table has a value for the bolt, sheet and alloy.
pub fn count_bolts(
    bolt: &Bolt,
    layers: &[Length],
    width: Length,
    material: Option<&str>,
    style: &Style,
) -> Result<Vec<RivetCount>, NoProposal> {
    let is_counted = bolt.series == BoltSeries::An && bolt.diameter == Length::from_mils(190);
    if !is_counted {
        let number = &bolt.call.usual;
        return Err(NoProposal(format!("{number} is not in Tables 4-9 to 4-11: of bolts they count AN3 alone")));
    }
    counts_of("AN3 bolts", layers, (width, material, style), bolts_per_inch)
}

fn counts_of(
    what_is_counted: &str,
    layers: &[Length],
    (width, material, style): (Length, Option<&str>, &Style),
    per_inch: impl Fn(CountTable, Length) -> Option<Graded<i64>>,
) -> Result<Vec<RivetCount>, NoProposal> {
    // The joint carries no more than its thinnest sheet.
    // No sheet at all is in no table.
    let sheet = layers.iter().copied().min().unwrap_or_default();
    let words = material.map(str::to_uppercase);
    let names = |known: &[&str]| words.as_ref().is_none_or(|words| known.iter().any(|known| words.contains(known)));
    // Table 4-10 lists 2024-T3 only where it is clad, and the example of par. 4-58g takes it for clad sheet.
    let is_clad = words.as_ref().is_some_and(|words| words.contains("CLAD") && words.contains("2024-T3"));
    let is_bare = words.as_ref().is_some_and(|words| words.contains("BARE"));
    let tables = COUNT_TABLES.into_iter().filter(|(table, _, known)| {
        names(known) && !(is_bare && *table == CountTable::T4_10) && !(is_clad && *table == CountTable::T4_9)
    });
    let counts: Vec<RivetCount> =
        tables.filter_map(|(table, name, _)| Some(count_by(per_inch(table, sheet)?, name, width))).collect();
    if !counts.is_empty() {
        return Ok(counts);
    }
    let what = material.map_or_else(String::new, |material| format!(" {material}"));
    let sheet = style.length(modern_sheet(sheet));
    let listed = style.range(Length::from_mils(16), Length::from_mils(128));
    Err(NoProposal(format!(
        "Tables 4-9 to 4-11 have no count for {what_is_counted} in{what} sheet {sheet}; they list 2014, 2017, 2024, 7075 and 5052 from {listed}"
    )))
}

fn count_by(per_inch: Graded<i64>, name: &'static str, width: Length) -> RivetCount {
    let count = |per_cent| rivets_for_width(per_inch.value, width, per_cent);
    RivetCount {
        table: name,
        tenths_per_inch: per_inch.value,
        full: count(100),
        single_lap: count(75),
        stringers: count(80),
        frames: count(60),
        basis: per_inch.basis,
    }
}
