//! Nuts: kind, torque column, temperature limit, thread from either form of suffix.
//!
//! Heights are listed of metric nuts alone.

mod iso;

use std::sync::LazyLock;

use serde::Deserialize;

use super::family::{Common, Family};
use super::kit::KitFastener;
use super::metal::Metal;
use super::number::{Call, Parts, Undecoded, clip, split_digits, split_letters};
use super::screw::{Series, sizes_of, thread_of_size};
use super::source::{Basis, Graded};
use super::table::{self, Table};
use super::thread::{Thread, thread_of_code, thread_of_sixteenths, threads};
use crate::units::{Length, Style, Temperature};

/// How a nut is kept from turning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
pub enum NutKind {
    /// Plain: needs a lock.
    #[serde(rename = "plain")]
    Plain,
    /// Castle: needs a drilled bolt and a cotter pin.
    #[serde(rename = "castle")]
    Castle,
    /// Check (jam) nut.
    #[serde(rename = "check")]
    Check,
    /// Self-locking with a fibre or nylon insert.
    #[serde(rename = "self-locking fibre")]
    SelfLockingFibre,
    /// Self-locking, all metal.
    #[serde(rename = "self-locking all-metal")]
    SelfLockingMetal,
    /// Self-locking, by means that nothing tells.
    #[serde(rename = "self-locking")]
    SelfLocking,
    /// Self-locking castle: a cotter pin may lock it too.
    #[serde(rename = "self-locking castle")]
    SelfLockingCastle,
}

impl NutKind {
    /// Whether it locks itself.
    #[must_use]
    pub const fn is_self_locking(self) -> bool {
        matches!(self, Self::SelfLockingFibre | Self::SelfLockingMetal | Self::SelfLocking | Self::SelfLockingCastle)
    }

    /// Whether it has slots for a cotter pin.
    #[must_use]
    pub const fn is_castle(self) -> bool {
        matches!(self, Self::Castle | Self::SelfLockingCastle)
    }

    /// The kind in words.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Plain => "plain",
            Self::Castle => "castle",
            Self::Check => "check",
            Self::SelfLockingFibre => "self-locking, fibre or nylon",
            Self::SelfLockingMetal => "self-locking, all metal",
            Self::SelfLocking => "self-locking",
            Self::SelfLockingCastle => "self-locking castle",
        }
    }
}

/// The column of the torque table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum NutDuty {
    /// Full-height nuts.
    Tension,
    /// Thin nuts.
    Shear,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    number: String,
    words: String,
    kind: NutKind,
    duty: NutDuty,
    form: Form,
    #[serde(default)]
    limit_f: Option<i64>,
    #[serde(default)]
    successor: Option<String>,
    #[serde(default)]
    same_suffix: bool,
    #[serde(default)]
    metal: Option<Metal>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Form {
    Thread,
    Sixteenths,
    Screw,
}

static NUTS: LazyLock<Table<Row>> = LazyLock::new(|| table::read("nut"));

/// A nut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Nut {
    /// The part number.
    pub call: Call,
    /// What it is, in words.
    pub words: String,
    /// How it is kept from turning.
    pub kind: NutKind,
    /// Which column of the torque table it takes.
    pub duty: NutDuty,
    /// What kind, column and limit rest on.
    pub basis: Basis,
    /// Thread; none in a call of the family alone.
    pub thread: Option<&'static Thread>,
    /// Whether the thread is left-hand.
    pub left_hand: bool,
    /// Least and greatest height, where listed.
    pub height: Option<Graded<(Length, Length)>>,
    /// Highest temperature that it is meant for.
    pub temperature_limit: Option<Graded<Temperature>>,
    /// Metal; none where the number does not tell.
    pub metal: Option<Metal>,
    successor: Option<String>,
    differs: Option<&'static str>,
}

fn decode(parts: &Parts) -> Result<Nut, Undecoded> {
    if let Some(metric) = iso::decode(parts) {
        return metric;
    }
    let row = NUTS.rows.iter().find(|row| row.number == parts.standard);
    let row = row.ok_or_else(|| {
        parts.fault("is not a nut of the tables", "castle nuts are AN310, self-locking nuts MS21044", "AC-7-64")
    })?;
    let (letters, rest) = split_letters(parts.rest);
    let metal = match letters {
        // N and L stand for the insert and the dry-film finish; neither changes the metal.
        "" | "N" | "L" => row.metal.unwrap_or(Metal::Steel),
        "A" if row.number == "NAS679" => Metal::Steel,
        "C" => Metal::Stainless,
        "D" | "DD" => Metal::Aluminium,
        "B" => Metal::Copper,
        _ => {
            let what = format!("has unknown letters after the standard: {}", clip(letters));
            return Err(parts.fault(&what, "C is stainless, D aluminium, B brass; a steel nut has none", "AC-7-1"));
        }
    };
    let (digits, tail) = split_digits(rest.strip_prefix('-').unwrap_or(rest));
    if !matches!(tail, "" | "A" | "C" | "R" | "L") {
        let what = format!("has an unknown ending: {}", clip(tail));
        return Err(parts.fault(
            &what,
            "A, C, R (right-hand thread) or L (left-hand thread) may follow the size",
            "AC-7-1",
        ));
    }
    let thread = if digits.is_empty() { None } else { Some(thread_of(parts, row.form, digits)?) };
    let size = thread.map_or_else(String::new, |thread| format!("-{}", row.form.code_of(thread, digits)));
    let dash = if letters.is_empty() || size.is_empty() { size } else { size.trim_start_matches('-').to_owned() };
    let successor = row
        .successor
        .as_ref()
        .map(|number| if row.same_suffix { format!("{number}{letters}{dash}") } else { number.clone() });
    let basis = row.basis.clone();
    Ok(Nut {
        call: Call::of(parts.text, format!("{}{letters}{dash}{tail}", row.number)),
        words: row.words.clone(),
        kind: row.kind,
        duty: row.duty,
        thread,
        left_hand: tail == "L",
        height: None,
        differs: None,
        temperature_limit: row.limit_f.map(|f| Graded { value: Temperature::from_fahrenheit(f), basis: basis.clone() }),
        metal: Some(metal),
        successor,
        basis,
    })
}

impl Form {
    /// The size in the usual form; a machine screw nut keeps the size number that was written.
    fn code_of(self, thread: &Thread, written: &str) -> String {
        match self {
            Self::Thread => thread.code().to_owned(),
            Self::Sixteenths => thread.short_code().unwrap_or_else(|| thread.code().to_owned()),
            Self::Screw => written.to_owned(),
        }
    }
}

/// AN345 is the fine machine screw nut, AN340 the coarse one.
fn screw_series(standard: &str) -> Series {
    if standard == "AN345" { Series::Fine } else { Series::Coarse }
}

fn thread_of(parts: &Parts, form: Form, digits: &str) -> Result<&'static Thread, Undecoded> {
    let found = match form {
        Form::Thread => thread_of_code(digits),
        Form::Sixteenths => thread_of_sixteenths(digits),
        Form::Screw => thread_of_size(screw_series(parts.standard), digits),
    };
    found.ok_or_else(|| {
        let help = match form {
            Form::Thread => "the size is the thread: 1032, 428, 524, 624",
            Form::Sixteenths => "the size is the bolt in 1/16 in: 3 is 10-32, 4 is 1/4-28",
            Form::Screw => "the size is the screw number: 6, 8, 10",
        };
        parts.fault(&format!("has an unknown size: {}", clip(digits)), help, "AC-T7-1")
    })
}

impl Family for Nut {
    fn documents() -> Vec<&'static str> {
        NUTS.rows.iter().map(|row| row.number.as_str()).chain(iso::documents()).collect()
    }

    fn decode(parts: &Parts<'_>) -> Result<Self, Undecoded> {
        decode(parts)
    }

    fn every_call() -> impl Iterator<Item = String> {
        every_call().chain(iso::every_call())
    }

    fn common(&self) -> Common<'_> {
        Common {
            diameter: self.thread.map(|thread| thread.diameter).or(self.call.kit.as_ref().map(|own| own.diameter)),
            thread: self.thread,
            metal: self.metal,
            ..Common::of(&self.call)
        }
    }

    fn superseded_by(&self) -> Option<String> {
        self.successor.clone()
    }

    fn successor_differs(&self) -> Option<&str> {
        self.differs
    }
}

impl Nut {
    pub(super) fn of_kit(text: &str, own: &KitFastener) -> Self {
        let kind = match (own.self_locking, own.castle) {
            (true, true) => NutKind::SelfLockingCastle,
            (true, false) => NutKind::SelfLocking,
            (false, true) => NutKind::Castle,
            (false, false) => NutKind::Plain,
        };
        Self {
            call: Call::kit(text, own),
            words: match kind {
                NutKind::SelfLockingCastle => "self-locking castle nut",
                NutKind::SelfLocking => "self-locking nut",
                NutKind::Castle => "castle nut",
                _ => "nut",
            }
            .to_owned(),
            kind,
            duty: NutDuty::Tension,
            basis: Basis::given(&own.source),
            thread: own.known_thread(),
            left_hand: false,
            height: own.height.map(|height| Graded { value: (height, height), basis: Basis::given(&own.source) }),
            differs: None,
            temperature_limit: None,
            metal: own.metal(),
            successor: None,
        }
    }

    /// Plain words for paper: `castle nut, 10-32`.
    #[must_use]
    pub fn describe(&self, _: &Style) -> String {
        let mut words = vec![self.words.clone()];
        words.extend(self.metal.filter(|metal| *metal != Metal::Steel).map(|metal| metal.word().to_owned()));
        words.extend(self.thread.map(|thread| thread.name.clone()));
        words.extend(self.left_hand.then(|| "left-hand thread".to_owned()));
        words.join(", ")
    }
}

/// One call of every nut in every size that its form has.
fn every_call() -> impl Iterator<Item = String> {
    NUTS.rows.iter().flat_map(|row| {
        let sizes: Vec<String> = match row.form {
            Form::Thread => {
                threads().filter(|thread| thread.sixteenths().is_some()).map(|t| t.code().to_owned()).collect()
            }
            Form::Sixteenths => threads().filter_map(Thread::short_code).collect(),
            Form::Screw => sizes_of(screw_series(&row.number)).map(str::to_owned).collect(),
        };
        sizes.into_iter().map(move |size| format!("{}-{size}", row.number))
    })
}
