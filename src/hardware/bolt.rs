//! Bolts: AN and NAS numbers, their grip, length, thread, and the dash that fits a stack.
//!
//! Where no length is listed (AN9 and larger, clevis and eye bolts) the grip stays unknown; it is not guessed from the
//! smaller sizes.

mod iso;
mod number;

use std::sync::LazyLock;

use serde::Deserialize;

use super::family::{Common, Family};
use super::hole::{HoleRow, ListedHole};
use super::kit::KitFastener;
use super::limit::{may_take_up_grip, slack_with};
use super::metal::Metal;
use super::number::{Call, Parts, Undecoded};
use super::source::{Basis, Graded, Sureness};
use super::table::{self, Sourced, Table};
use super::thread::{Thread, thread};
use super::washer::{PlainWasher, plain_washers};
use crate::units::{Length, Size, Style, letter_above};

/// Family of a bolt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum BoltSeries {
    /// AN3 to AN20.
    An,
    /// AN173 to AN182, close tolerance.
    CloseAn,
    /// AN42 to AN49, with an eye.
    Eye,
    /// AN73 to AN81, with a drilled head and an undrilled shank.
    DrilledHead,
    /// AN21 to AN36, for clevises.
    Clevis,
    /// NAS6203 and the like, whose dash is the grip.
    Nas,
    /// ISO 4014, ISO 4017 and the DIN numbers before them, metric.
    Iso,
    /// Supplied with a kit.
    Kit,
}

impl BoltSeries {
    const fn word(self) -> &'static str {
        match self {
            Self::An | Self::Eye | Self::DrilledHead => "AN",
            Self::Nas => "NAS62",
            // Not the lettered drill (AC 43.13-1B par. 7-39); no page gives theirs.
            Self::CloseAn | Self::Clevis | Self::Iso | Self::Kit => "",
        }
    }
}

/// A bolt.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bolt {
    /// The part number.
    pub call: Call,
    /// Its family.
    pub series: BoltSeries,
    /// Nominal diameter.
    pub diameter: Length,
    /// Largest shank.
    pub shank: Graded<Length>,
    /// Thread, where known.
    pub thread: Option<&'static Thread>,
    /// Dash number; none in a call of family and diameter alone.
    pub dash: Option<i64>,
    /// Plain part of the shank.
    pub grip: Option<Graded<Length>>,
    /// Where the thread begins at the latest, where that is not the end of the grip; zero of one that is threaded to the
    /// head.
    pub thread_from: Option<Graded<Length>>,
    /// Property class of a metric bolt: `8.8`, `A2-70`.
    pub class: Option<String>,
    /// Length under the head.
    pub length: Option<Graded<Length>>,
    /// Whether the shank is drilled for a cotter pin.
    pub drilled_shank: bool,
    /// Whether the head is drilled for safety wire.
    pub drilled_head: bool,
    /// Metal, where known.
    pub metal: Option<Metal>,
    /// What it is, in words.
    pub words: String,
    number: String,
    letters: String,
    /// What a grip that the dash counts rests on.
    dash_basis: Basis,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct SizeRow {
    number: String,
    series: String,
    #[serde(default)]
    words: Option<String>,
    sixteenths: u16,
    thread: String,
    #[serde(deserialize_with = "table::length")]
    shank: Length,
    shank_source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct AnRow {
    sixteenths: u16,
    #[serde(deserialize_with = "table::length")]
    allowance: Length,
    #[serde(deserialize_with = "table::length")]
    threaded: Length,
    shortest: i64,
    #[serde(default)]
    special_dash: Option<i64>,
    #[serde(default, deserialize_with = "table::some_length")]
    special_grip: Option<Length>,
    #[serde(default, deserialize_with = "table::some_length")]
    special_length: Option<Length>,
    /// Whether only the grip is known.
    #[serde(default)]
    no_length: bool,
}

static SIZES: LazyLock<Table<SizeRow>> = LazyLock::new(|| table::read("bolt_size"));
static AN: LazyLock<Table<AnRow>> = LazyLock::new(|| table::read("an_bolt"));
static HOLES: LazyLock<Table<HoleRow>> = LazyLock::new(|| table::read("bolt_hole"));
static METRIC_HOLES: LazyLock<Table<HoleRow>> = LazyLock::new(|| table::read("iso_bolt_hole"));

/// Longest dash read in a number: 8 in.
const LONGEST_DASH: i64 = 80;

impl SizeRow {
    fn series(&self) -> BoltSeries {
        match self.series.as_str() {
            "NAS62" | "NAS" => BoltSeries::Nas,
            "close AN" => BoltSeries::CloseAn,
            "eye" => BoltSeries::Eye,
            "drilled head" => BoltSeries::DrilledHead,
            "clevis" => BoltSeries::Clevis,
            _ => BoltSeries::An,
        }
    }
}

/// What a number of a series ends in where its shank is the other way than without an ending.
const fn other_end(series: BoltSeries) -> &'static str {
    match series {
        BoltSeries::DrilledHead | BoltSeries::Iso | BoltSeries::Kit => "",
        BoltSeries::Nas => "D",
        _ => "A",
    }
}

fn numbers_of(series: BoltSeries) -> impl Iterator<Item = &'static str> {
    SIZES.rows.iter().filter(move |row| row.series() == series).map(|row| row.number.as_str())
}

fn decode(parts: &Parts) -> Result<Bolt, Undecoded> {
    if let Some(metric) = iso::decode(parts) {
        return metric;
    }
    let row = SIZES.rows.iter().find(|row| row.number == parts.standard);
    let row = row.ok_or_else(|| {
        parts.fault("is not a bolt of the tables", "the tables know AN3 to AN20 and NAS6203 to NAS6210", "AN-2")
    })?;
    match row.series() {
        BoltSeries::Nas => number::decode_nas(parts, row),
        series => number::decode_an(parts, row, series),
    }
}

impl Sourced<SizeRow> {
    fn bolt(&'static self, letters: &str, metal: Metal) -> Bolt {
        let thread = thread(&self.thread);
        let diameter = thread.map_or(self.shank, |thread| thread.diameter);
        Bolt {
            call: Call::of("", String::new()),
            series: self.series(),
            words: self.words.clone().unwrap_or_else(|| "bolt".to_owned()),
            dash_basis: self.basis.clone(),
            diameter,
            // The shank limits are from memory even where the thread was read.
            shank: Graded::published(self.shank, self.shank_source.as_str(), self.basis.sureness.max(Sureness::C)),
            thread,
            dash: None,
            grip: None,
            length: None,
            thread_from: None,
            class: None,
            drilled_shank: false,
            drilled_head: false,
            metal: Some(metal),
            number: self.number.clone(),
            letters: letters.to_owned(),
        }
    }
}

impl Family for Bolt {
    fn documents() -> Vec<&'static str> {
        SIZES.rows.iter().map(|row| row.number.as_str()).chain(iso::documents()).collect()
    }

    fn decode(parts: &Parts<'_>) -> Result<Self, Undecoded> {
        decode(parts)
    }

    fn every_call() -> impl Iterator<Item = String> {
        every_call().chain(iso::every_call())
    }

    fn common(&self) -> Common<'_> {
        Common {
            diameter: Some(self.diameter),
            thread: self.thread,
            metal: self.metal,
            lacks_length: match self.series {
                BoltSeries::Kit => false,
                BoltSeries::Iso => self.length.is_none(),
                _ => self.dash.is_none(),
            },
            ..Common::of(&self.call)
        }
    }

    fn superseded_by(&self) -> Option<String> {
        iso::successor(self).map(|(number, _)| number)
    }

    fn successor_differs(&self) -> Option<&str> {
        iso::successor(self).map(|(_, differs)| differs)
    }

    fn holes(&self) -> Vec<ListedHole> {
        if self.series == BoltSeries::Iso {
            return METRIC_HOLES
                .rows
                .iter()
                .filter(|row| row.diameter == Some(self.diameter))
                .map(Sourced::listed)
                .collect();
        }
        holes_of_diameter(self.diameter, self.series.word())
    }

    fn fitted(&self, stack: Length, _hole: Option<Length>, washers: (Length, Length)) -> Option<Self> {
        self.lengths_for(stack, washers.0, washers.1).into_iter().next()
    }
}

impl Bolt {
    pub(super) fn of_kit(text: &str, own: &KitFastener) -> Self {
        let given = |value| Graded { value, basis: Basis::given(&own.source) };
        Self {
            call: Call::kit(text, own),
            series: BoltSeries::Kit,
            diameter: own.diameter,
            shank: given(own.diameter),
            thread: own.known_thread(),
            dash: None,
            grip: own.grip.map(|(_, most)| given(most)),
            length: own.length.map(given),
            thread_from: own.thread_from().map(given),
            class: own.property_class.clone(),
            drilled_shank: own.is_drilled() == Some(true),
            drilled_head: false,
            metal: own.metal(),
            words: "bolt".to_owned(),
            dash_basis: Basis::given(&own.source),
            number: own.id.clone(),
            letters: String::new(),
        }
    }

    fn finish(self, text: &str, dash: Option<i64>) -> Self {
        let usual = self.number_with(dash);
        let (grip, length) = dash.map_or((None, None), |dash| self.grip_and_length(dash));
        Self { call: Call::of(text, usual), dash, grip, length, ..self }
    }

    /// The first letter drill over the diameter: the largest hole that AC 43.13-1B par. 7-39 speaks of for any bolt. None above
    /// 3/8, where there is no letter drill, and for a bolt with a kit's own hole.
    #[must_use]
    pub fn letter_drill(&self) -> Option<Graded<Size>> {
        let letter =
            letter_above(self.diameter).filter(|_| !matches!(self.series, BoltSeries::Iso | BoltSeries::Kit))?;
        let size = Size { length: letter.length(), drill: Some(letter) };
        Some(Graded::published(size, "AC-7-39", Sureness::A))
    }

    fn number_with(&self, dash: Option<i64>) -> String {
        let (number, letters) = (&self.number, &self.letters);
        match (self.series, dash) {
            (BoltSeries::Kit, _) => number.clone(),
            (BoltSeries::DrilledHead, dash) => {
                dash.map_or_else(|| format!("{number}{letters}"), |dash| format!("{number}{letters}-{dash}"))
            }
            (BoltSeries::Nas, dash) => {
                let ending = format!(
                    "{}{}",
                    if self.drilled_head { "H" } else { "" },
                    if self.drilled_shank { "D" } else { "" }
                );
                dash.map_or_else(|| format!("{number}{ending}"), |dash| format!("{number}-{dash}{ending}"))
            }
            (_, Some(dash)) => format!("{number}{letters}-{dash}{}", if self.drilled_shank { "" } else { "A" }),
            (_, None) => format!("{number}{letters}{}", if self.drilled_shank { "" } else { "A" }),
        }
    }

    fn grip_and_length(&self, dash: i64) -> (Option<Graded<Length>>, Option<Graded<Length>>) {
        if self.series == BoltSeries::Nas {
            return (Some(Graded { value: Length::from_64ths(4 * dash), basis: self.dash_basis.clone() }), None);
        }
        let Some(row) = self.an_row() else { return (None, None) };
        let basis = if self.series == BoltSeries::An { &row.basis } else { &self.dash_basis };
        let listed = |value| Some(Graded { value, basis: basis.clone() });
        if let (Some(grip), Some(length)) = (row.special_grip, row.special_length)
            && row.special_dash == Some(dash)
        {
            return (listed(grip), listed(length));
        }
        let length = Length::from_64ths(64 * (dash / 10) + 8 * (dash % 10)) + row.allowance;
        let grip = Some(length - row.threaded).filter(|grip| *grip > Length::ZERO);
        (grip.and_then(listed), listed(length).filter(|_| !row.no_length))
    }

    /// The same bolt with another dash number.
    #[must_use]
    pub fn with_dash(&self, dash: i64) -> Self {
        let bolt = self.clone().finish("", Some(dash));
        Self { call: Call { text: bolt.call.usual.clone(), ..bolt.call.clone() }, ..bolt }
    }

    /// Every dash number of this bolt, shortest first; none where no grip is listed.
    #[must_use]
    pub fn dashes(&self) -> Vec<i64> {
        if self.series == BoltSeries::Nas {
            return (1..=128).collect();
        }
        let listed = self.an_row().map(|row| (row.shortest..=LONGEST_DASH).filter(|dash| dash % 10 < 8).collect());
        // A size that the table does not have has no lengths.
        listed.unwrap_or_default()
    }

    /// The row of lengths and grips, for the series whose dash counts as that of AN3.
    fn an_row(&self) -> Option<&'static Sourced<AnRow>> {
        let counts_so = matches!(self.series, BoltSeries::An | BoltSeries::CloseAn);
        let sixteenths = self.thread.and_then(Thread::sixteenths).filter(|_| counts_so)?;
        AN.rows.iter().find(|row| row.sixteenths == sixteenths)
    }

    /// Where its thread begins, from under the head: the end of the grip, where the thread has no run-out of its own.
    #[must_use]
    pub fn thread_starts(&self) -> Option<&Graded<Length>> {
        self.thread_from.as_ref().or(self.grip.as_ref())
    }

    /// Whether it is known if the shank is drilled: numbers tell it, an entry of a kit may not.
    #[must_use]
    pub fn tells_drilling(&self) -> bool {
        self.call.kit.as_ref().is_none_or(|own| own.is_drilled().is_some())
    }

    /// Whether it is threaded to the head.
    #[must_use]
    pub fn is_threaded_to_head(&self) -> bool {
        self.thread_from.as_ref().is_some_and(|from| from.value == Length::ZERO)
    }

    /// Whether lengths of it are listed.
    #[must_use]
    pub fn has_lengths(&self) -> bool {
        !self.lengths().is_empty()
    }

    /// The bolt in every length that is listed.
    fn lengths(&self) -> Vec<Self> {
        match self.series {
            BoltSeries::Iso => iso::lengths(self),
            _ => self.dashes().into_iter().map(|dash| self.with_dash(dash)).collect(),
        }
    }

    /// Every bolt of this size whose grip suits a stack: the plain shank reaches through the head-side washers and
    /// the stack but for one thread at most, and does not reach past the stack and all washers. The grip nearest
    /// to the stack with its head-side washers comes first.
    #[must_use]
    pub fn lengths_for(&self, stack: Length, head_washers: Length, nut_washers: Length) -> Vec<Self> {
        let thread = self.thread.map_or(Length::ZERO, Thread::pitch);
        let reach = stack + head_washers;
        let (at_head, at_both) = (slack_with(head_washers), slack_with(head_washers + nut_washers));
        let metric = self.series == BoltSeries::Iso;
        let suits = |bolt: &Self| {
            let starts = bolt.is_threaded_to_head()
                || bolt.thread_starts().is_some_and(|from| {
                    from.value.reaches(reach - thread, at_head) && (reach + nut_washers).reaches(from.value, at_both)
                });
            starts && (!metric || iso::takes_a_nut(bolt, reach + nut_washers))
        };
        let mut bolts: Vec<Self> = self.lengths().into_iter().filter(suits).collect();
        // The shortest of those that are threaded to the head: there is no grip to tell them apart.
        bolts.sort_by_key(|bolt| bolt.thread_starts().map(|from| from.value.distance(reach)));
        bolts
    }

    /// The bolts of this size whose grips are next to a reach: the longest that ends in the hole, the thread less one
    /// turn in it, and the shortest that comes through.
    #[must_use]
    pub fn nearest_grips(&self, reach: Length) -> (Option<Self>, Option<Self>) {
        let thread = self.thread.map_or(Length::ZERO, Thread::pitch);
        let mut bolts: Vec<(Length, Self)> =
            self.lengths().into_iter().filter_map(|bolt| Some((bolt.thread_starts()?.value, bolt))).collect();
        bolts.sort_by_key(|(grip, _)| *grip);
        let first_through = bolts.partition_point(|(grip, _)| *grip < reach - thread);
        let at = |place: Option<usize>| place.and_then(|place| bolts.get(place)).map(|(_, bolt)| bolt.clone());
        (at(first_through.checked_sub(1)), at(Some(first_through)))
    }

    /// The bolt of this size that suits a stack with one washer more under the nut, and that washer, one of the bolt's own
    /// series; `None` where none does within what washers may take up.
    #[must_use]
    pub fn with_a_washer_more(
        &self,
        stack: Length,
        head_washers: Length,
        nut_washers: Length,
    ) -> Option<(Self, PlainWasher)> {
        plain_washers(self.thread?).into_iter().find_map(|washer| {
            let nut_washers = nut_washers + washer.thickness;
            let within = may_take_up_grip(head_washers + nut_washers);
            let bolt =
                within.then(|| self.lengths_for(stack, head_washers, nut_washers)).into_iter().flatten().next()?;
            Some((bolt, washer))
        })
    }

    /// Plain words for paper: `bolt, 10-32, grip 1/4 in, shank not drilled`.
    #[must_use]
    pub fn describe(&self, style: &Style) -> String {
        let mut words = vec![self.words.clone()];
        words.extend(self.metal.filter(|metal| *metal != Metal::Steel).map(|metal| metal.word().to_owned()));
        words.push(
            self.thread.map_or_else(|| format!("{} dia", style.short(self.diameter)), |thread| thread.name.clone()),
        );
        let marked = |text: String, memory: bool| if memory { format!("{text} (from memory)") } else { text };
        let short = |length: &Graded<Length>| style.short(length.value);
        words.extend(self.grip.as_ref().map(|grip| marked(format!("grip {}", short(grip)), grip.from_memory())));
        words.extend(self.thread_from.as_ref().map(|from| match from.value {
            Length::ZERO => "threaded to the head".to_owned(),
            from => format!("thread from {}", style.short(from)),
        }));
        words.extend(self.class.as_ref().map(|class| format!("class {class}")));
        words.extend(self.length.as_ref().map(|long| marked(format!("{} long", short(long)), long.from_memory())));
        let drilled = if self.drilled_shank { "shank drilled" } else { "shank not drilled" };
        words.extend(self.tells_drilling().then(|| drilled.to_owned()));
        words.extend(self.drilled_head.then(|| "head drilled".to_owned()));
        words.join(", ")
    }
}

pub(super) fn holes_of_diameter(diameter: Length, series: &str) -> Vec<ListedHole> {
    let rows = HOLES.rows.iter().filter(|row| row.diameter == Some(diameter) && row.series.as_deref() == Some(series));
    rows.map(Sourced::listed).collect()
}

/// One call of every size of AN3 to AN10 and NAS6203 to NAS6210, drilled and not, in every dash up to 2 in; of the others
/// one or two dashes.
fn every_call() -> impl Iterator<Item = String> {
    let usual = |number: &&str| number.len() <= 4 || number.starts_with("NAS62");
    let an = numbers_of(BoltSeries::An).filter(usual).flat_map(|number| {
        let size = SIZES.rows.iter().find(|row| row.number == number).map(|row| row.sixteenths);
        // Where no table gives the shortest, every dash may exist.
        let shortest = AN.rows.iter().find(|row| Some(row.sixteenths) == size).map_or(1, |row| row.shortest);
        let dashes = (shortest.max(5)..=20).filter(|dash| dash % 10 < 8);
        dashes.flat_map(move |dash| {
            ["", "C", "DD", "H"]
                .into_iter()
                .flat_map(move |letters| ["", "A"].into_iter().map(move |a| format!("{number}{letters}-{dash}{a}")))
        })
    });
    let nas = numbers_of(BoltSeries::Nas).filter(usual).flat_map(|number| {
        (1..=32).flat_map(move |dash| ["", "H", "D", "HD"].into_iter().map(move |end| format!("{number}-{dash}{end}")))
    });
    let rare = SIZES
        .rows
        .iter()
        .filter(move |row| !usual(&row.number.as_str()))
        .flat_map(|row| ["", other_end(row.series())].map(|end| format!("{}-12{end}", row.number)));
    an.chain(nas).chain(rare)
}
