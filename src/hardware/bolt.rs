//! Bolts: AN3 to AN10 and NAS6203 to NAS6210, their grip, length, thread, and the dash that fits a stack.
//!
//! Where no length is listed (AN7 to AN10) the grip stays unknown; it is not guessed from the smaller sizes.

use std::sync::LazyLock;

use serde::Deserialize;

use super::family::{Common, Family};
use super::hole::{HoleRow, ListedHole};
use super::kit::KitFastener;
use super::limit::{self, may_take_up_grip, slack_with};
use super::metal::Metal;
use super::number::{Call, Parts, Undecoded, clip, split_digits, split_letters, whole_number};
use super::source::{Basis, Graded, Sureness};
use super::table::{self, Sourced, Table};
use super::thread::{Thread, thread};
use crate::units::{Length, Size};

/// Family of a bolt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum BoltSeries {
    /// AN3 to AN10.
    An,
    /// NAS6203 to NAS6210, close tolerance.
    Nas,
    /// Supplied with a kit.
    Kit,
}

impl BoltSeries {
    const fn word(self) -> &'static str {
        match self {
            Self::An => "AN",
            Self::Nas => "NAS62",
            Self::Kit => "",
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
    /// Length under the head.
    pub length: Option<Graded<Length>>,
    /// Whether the shank is drilled for a cotter pin.
    pub drilled_shank: bool,
    /// Whether the head is drilled for safety wire.
    pub drilled_head: bool,
    /// Metal, where known.
    pub metal: Option<Metal>,
    number: String,
    letters: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct SizeRow {
    number: String,
    series: String,
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
}

static SIZES: LazyLock<Table<SizeRow>> = LazyLock::new(|| table::read("bolt_size"));
static AN: LazyLock<Table<AnRow>> = LazyLock::new(|| table::read("an_bolt"));
static HOLES: LazyLock<Table<HoleRow>> = LazyLock::new(|| table::read("bolt_hole"));

/// Longest dash read in a number: 8 in.
const LONGEST_DASH: i64 = 80;

fn an_numbers() -> impl Iterator<Item = &'static str> {
    SIZES.rows.iter().filter(|row| row.series == "AN").map(|row| row.number.as_str())
}

fn nas_numbers() -> impl Iterator<Item = &'static str> {
    SIZES.rows.iter().filter(|row| row.series == "NAS62").map(|row| row.number.as_str())
}

fn decode(parts: &Parts) -> Result<Bolt, Undecoded> {
    if nas_numbers().any(|number| number == parts.standard) { decode_nas(parts) } else { decode_an(parts) }
}

fn decode_an(parts: &Parts) -> Result<Bolt, Undecoded> {
    let (letters, rest) = split_letters(parts.rest);
    let bare_undrilled = letters == "A" && rest.is_empty();
    let (material, drilled_head) = letters.strip_suffix('H').map_or((letters, false), |material| (material, true));
    let metal = match material {
        "" => Metal::Steel,
        "A" if bare_undrilled => Metal::Steel,
        "C" => Metal::Stainless,
        "DD" => Metal::Aluminium,
        _ => {
            let what = format!("has unknown letters after the size: {}", clip(letters));
            return Err(parts.fault(
                &what,
                "after the size come C (stainless) or DD (2024), then H (drilled head), as in AN4H-7A",
                "AN-2",
            ));
        }
    };
    let (digits, tail) = split_digits(rest.strip_prefix('-').unwrap_or(rest));
    let drilled_shank = match tail {
        "" if !bare_undrilled => true,
        "A" | "" => false,
        _ => {
            let what = format!("has an unknown ending: {}", clip(tail));
            return Err(parts.fault(&what, "only A may follow the dash number: shank not drilled", "AN-2"));
        }
    };
    let stem = size_row(parts)?.bolt(BoltSeries::An, if bare_undrilled { "" } else { letters }, metal);
    let bolt = Bolt { drilled_shank, drilled_head, ..stem };
    let dash = if digits.is_empty() { None } else { Some(an_dash(parts, digits)?) };
    Ok(bolt.finish(parts.text, dash))
}

fn an_dash(parts: &Parts, digits: &str) -> Result<i64, Undecoded> {
    let help = "tens count inches and units count eighths: 7 is followed by 10";
    let too_odd = |what: &str, help: String| {
        parts.fault(&format!("has a dash that does not exist: {digits}{what}"), help, "AN-2")
    };
    let dash = whole_number(digits).filter(|dash| (1..=LONGEST_DASH).contains(dash));
    let dash = dash.ok_or_else(|| too_odd("", help.to_owned()))?;
    if dash % 10 >= 8 {
        let (below, above) = (dash / 10 * 10 + 7, dash / 10 * 10 + 10);
        return Err(too_odd(", no dash ends in 8 or 9", format!("the neighbours are {below} and {above}; {help}")));
    }
    let shortest =
        AN.rows.iter().find(|row| Some(row.sixteenths) == sixteenths_of(parts)).map_or(3, |row| row.shortest);
    if dash < shortest {
        return Err(too_odd("", format!("the shortest {} is -{shortest}", parts.standard)));
    }
    Ok(dash)
}

fn sixteenths_of(parts: &Parts) -> Option<u16> {
    SIZES.rows.iter().find(|row| row.number == parts.standard).map(|row| row.sixteenths)
}

fn size_row(parts: &Parts) -> Result<&'static Sourced<SizeRow>, Undecoded> {
    let row = SIZES.rows.iter().find(|row| row.number == parts.standard);
    row.ok_or_else(|| {
        parts.fault("is not a bolt of the tables", "the tables know AN3 to AN10 and NAS6203 to NAS6210", "AN-2")
    })
}

fn decode_nas(parts: &Parts) -> Result<Bolt, Undecoded> {
    let (digits, tail) = split_digits(parts.rest);
    let (drilled_head, drilled_shank) = match tail {
        "" => (false, false),
        "H" => (true, false),
        "D" => (false, true),
        "HD" | "DH" => (true, true),
        _ => {
            let what = format!("has an unknown ending: {}", clip(tail));
            return Err(parts.fault(&what, "H is a drilled head, D a drilled shank", "NAS6203"));
        }
    };
    let dash = whole_number(digits).filter(|dash| (1..=128).contains(dash));
    if dash.is_none() && !digits.is_empty() {
        return Err(parts.fault(
            &format!("has a dash that does not exist: {}", clip(digits)),
            "the dash is the grip in 1/16 in, 1 to 128",
            "NAS6203",
        ));
    }
    let bolt = Bolt { drilled_shank, drilled_head, ..size_row(parts)?.bolt(BoltSeries::Nas, "", Metal::Steel) };
    Ok(bolt.finish(parts.text, dash))
}

impl Sourced<SizeRow> {
    fn bolt(&'static self, series: BoltSeries, letters: &str, metal: Metal) -> Bolt {
        let thread = thread(&self.thread);
        let diameter = thread.map_or(self.shank, |thread| thread.diameter);
        Bolt {
            call: Call::of("", String::new()),
            series,
            diameter,
            // The shank limits are from memory even where the thread was read.
            shank: Graded::published(self.shank, self.shank_source.as_str(), self.basis.sureness.max(Sureness::C)),
            thread,
            dash: None,
            grip: None,
            length: None,
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
        an_numbers().chain(nas_numbers()).collect()
    }

    fn decode(parts: &Parts<'_>) -> Result<Self, Undecoded> {
        decode(parts)
    }

    fn every_call() -> impl Iterator<Item = String> {
        every_call()
    }

    fn common(&self) -> Common<'_> {
        Common {
            diameter: Some(self.diameter),
            thread: self.thread,
            metal: self.metal,
            lacks_length: self.dash.is_none() && self.series != BoltSeries::Kit,
            ..Common::of(&self.call)
        }
    }

    fn holes(&self) -> Vec<ListedHole> {
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
            thread: own.thread.as_deref().and_then(thread),
            dash: None,
            grip: own.grip.map(|(_, most)| given(most)),
            length: None,
            drilled_shank: false,
            drilled_head: false,
            metal: own.metal(),
            number: own.id.clone(),
            letters: String::new(),
        }
    }

    fn finish(self, text: &str, dash: Option<i64>) -> Self {
        let usual = self.number_with(dash);
        let (grip, length) = dash.map_or((None, None), |dash| self.grip_and_length(dash));
        Self { call: Call::of(text, usual), dash, grip, length, ..self }
    }

    fn number_with(&self, dash: Option<i64>) -> String {
        let (number, letters) = (&self.number, &self.letters);
        match (self.series, dash) {
            (BoltSeries::Kit, _) => number.clone(),
            (BoltSeries::An, Some(dash)) => {
                format!("{number}{letters}-{dash}{}", if self.drilled_shank { "" } else { "A" })
            }
            (BoltSeries::An, None) => format!("{number}{letters}{}", if self.drilled_shank { "" } else { "A" }),
            (BoltSeries::Nas, dash) => {
                let ending = format!(
                    "{}{}",
                    if self.drilled_head { "H" } else { "" },
                    if self.drilled_shank { "D" } else { "" }
                );
                dash.map_or_else(|| format!("{number}{ending}"), |dash| format!("{number}-{dash}{ending}"))
            }
        }
    }

    fn grip_and_length(&self, dash: i64) -> (Option<Graded<Length>>, Option<Graded<Length>>) {
        if self.series == BoltSeries::Nas {
            return (Some(Graded::published(Length::from_64ths(4 * dash), "NAS6203", Sureness::B)), None);
        }
        let sixteenths = self.thread.and_then(Thread::sixteenths);
        let Some(row) = AN.rows.iter().find(|row| Some(row.sixteenths) == sixteenths) else { return (None, None) };
        let listed = |value| Some(row.graded(value));
        if let (Some(grip), Some(length)) = (row.special_grip, row.special_length)
            && row.special_dash == Some(dash)
        {
            return (listed(grip), listed(length));
        }
        let length = Length::from_64ths(64 * (dash / 10) + 8 * (dash % 10)) + row.allowance;
        (listed(length - row.threaded), listed(length))
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
        match self.series {
            BoltSeries::Kit => Vec::new(),
            BoltSeries::Nas => (1..=128).collect(),
            BoltSeries::An => {
                let row = AN.rows.iter().find(|row| Some(row.sixteenths) == self.thread.and_then(Thread::sixteenths));
                // A size that the table does not have has no lengths.
                row.map(|row| (row.shortest..=LONGEST_DASH).filter(|dash| dash % 10 < 8).collect()).unwrap_or_default()
            }
        }
    }

    /// The bolt in every length that is listed, by dash number.
    fn lengths(&self) -> impl Iterator<Item = Self> {
        self.dashes().into_iter().map(|dash| self.with_dash(dash))
    }

    /// Every bolt of this size whose grip suits a stack: the plain shank reaches through the head-side washers and
    /// the stack but for one thread at most, and does not reach past the stack and all washers. The grip nearest
    /// to the stack with its head-side washers comes first.
    #[must_use]
    pub fn lengths_for(&self, stack: Length, head_washers: Length, nut_washers: Length) -> Vec<Self> {
        let thread = self.thread.map_or(Length::ZERO, Thread::pitch);
        let reach = stack + head_washers;
        let (at_head, at_both) = (slack_with(head_washers), slack_with(head_washers + nut_washers));
        let suits = |bolt: &Self| {
            bolt.grip.as_ref().is_some_and(|grip| {
                grip.value.reaches(reach - thread, at_head) && (reach + nut_washers).reaches(grip.value, at_both)
            })
        };
        let mut bolts: Vec<Self> = self.lengths().filter(suits).collect();
        bolts.sort_by_key(|bolt| bolt.grip.as_ref().map(|grip| grip.value.distance(reach)));
        bolts
    }

    /// The bolts of this size whose grips are next to a reach: the longest that ends in the hole, the thread less one
    /// turn in it, and the shortest that comes through.
    #[must_use]
    pub fn nearest_grips(&self, reach: Length) -> (Option<Self>, Option<Self>) {
        let thread = self.thread.map_or(Length::ZERO, Thread::pitch);
        let mut bolts: Vec<(Length, Self)> =
            self.lengths().filter_map(|bolt| Some((bolt.grip.as_ref()?.value, bolt))).collect();
        bolts.sort_by_key(|(grip, _)| *grip);
        let first_through = bolts.partition_point(|(grip, _)| *grip < reach - thread);
        let at = |place: Option<usize>| place.and_then(|place| bolts.get(place)).map(|(_, bolt)| bolt.clone());
        (at(first_through.checked_sub(1)), at(Some(first_through)))
    }

    /// The bolt of this size that suits a stack with one washer more under the nut, and the washer's thickness; `None`
    /// where none does within what washers may take up.
    #[must_use]
    pub fn with_a_washer_more(
        &self,
        stack: Length,
        head_washers: Length,
        nut_washers: Length,
    ) -> Option<(Self, Length)> {
        [limit::washer_thin(), limit::washer_thick()].into_iter().find_map(|washer| {
            let washer = washer.value;
            let within = may_take_up_grip(head_washers + nut_washers + washer);
            let bolt = within
                .then(|| self.lengths_for(stack, head_washers, nut_washers + washer))
                .into_iter()
                .flatten()
                .next()?;
            Some((bolt, washer))
        })
    }

    /// Plain words for paper: `bolt, 10-32, grip 0.250, shank not drilled`.
    #[must_use]
    pub fn describe(&self) -> String {
        let mut words = vec!["bolt".to_owned()];
        words.extend(self.metal.filter(|metal| *metal != Metal::Steel).map(|metal| metal.word().to_owned()));
        words.push(
            self.thread
                .map_or_else(|| format!("{} dia", Size::plain(self.diameter).short()), |thread| thread.name.clone()),
        );
        words.extend(self.grip.as_ref().map(|grip| format!("grip {}", Size::plain(grip.value).short())));
        words.extend(self.length.as_ref().map(|length| format!("{} long", Size::plain(length.value).short())));
        words.push(if self.drilled_shank { "shank drilled" } else { "shank not drilled" }.to_owned());
        words.extend(self.drilled_head.then(|| "head drilled".to_owned()));
        words.join(", ")
    }
}

pub(super) fn holes_of_diameter(diameter: Length, series: &str) -> Vec<ListedHole> {
    let rows = HOLES.rows.iter().filter(|row| row.diameter == Some(diameter) && row.series.as_deref() == Some(series));
    rows.map(Sourced::listed).collect()
}

/// One call of every size, drilled and not, in every dash up to 2 in.
fn every_call() -> impl Iterator<Item = String> {
    let an = an_numbers().flat_map(|number| {
        let dashes = (5..=20).filter(|dash| dash % 10 < 8);
        dashes.flat_map(move |dash| {
            ["", "C", "DD", "H"]
                .into_iter()
                .flat_map(move |letters| ["", "A"].into_iter().map(move |a| format!("{number}{letters}-{dash}{a}")))
        })
    });
    let nas = nas_numbers().flat_map(|number| {
        (1..=32).flat_map(move |dash| ["", "H", "D", "HD"].into_iter().map(move |end| format!("{number}-{dash}{end}")))
    });
    an.chain(nas)
}
