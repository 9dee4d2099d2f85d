//! Screws of the AN and MS families: head, thread, length, as far as the number itself tells them.
//!
//! A number whose dash is a row of the drawing's own table has the thread that is remembered for its dash, and says so; where
//! none is remembered it decodes by head alone.

use std::sync::LazyLock;

use serde::Deserialize;

use super::bolt;
use super::family::{Common, Family};
use super::head::Head;
use super::hole::ListedHole;
use super::kit::KitFastener;
use super::metal::Metal;
use super::number::{Call, Parts, Undecoded, clip, split_digits, split_letters, whole_number};
use super::source::{Basis, Sureness};
use super::table::{self, Table};
use super::thread::{Thread, thread, thread_of_code};
use crate::units::{Length, Style};

/// A screw.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Screw {
    /// The part number.
    pub call: Call,
    /// What it is, in words.
    pub words: String,
    /// Shape of the head.
    pub head: Head,
    /// Whether it is a structural screw.
    pub structural: bool,
    /// What it rests on that it is one or is none.
    pub structural_basis: Basis,
    /// Nominal diameter, where the number tells it.
    pub diameter: Option<Length>,
    /// Thread, where the number tells it.
    pub thread: Option<&'static Thread>,
    /// Length, where the number tells it.
    pub length: Option<Length>,
    /// Metal; none where the number does not tell.
    pub metal: Option<Metal>,
    /// What the decoding rests on.
    pub basis: Basis,
    /// What the thread rests on, where the number alone does not tell it.
    pub thread_basis: Option<Basis>,
    successor: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    number: String,
    words: String,
    flush: bool,
    structural: bool,
    structural_source: String,
    structural_sureness: Sureness,
    /// Angle of a flush head that is not of 100 degrees.
    #[serde(default)]
    angle: Option<u16>,
    form: Form,
    #[serde(default)]
    series: Option<Series>,
    #[serde(default)]
    successor: Option<String>,
}

/// How a size number of screws or machine screw nuts gives the thread.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum Series {
    /// Unified coarse.
    Coarse,
    /// Unified fine.
    Fine,
    /// Coarse at number 8, fine from 10 on.
    Structural,
    /// The number names the thread.
    Named,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct ThreadRow {
    size: String,
    series: Series,
    thread: String,
}

static THREADS: LazyLock<Table<ThreadRow>> = LazyLock::new(|| table::read("screw_thread"));

/// The thread of a size in a series: its size number (`10`), or its thread code (`1032`) where that is of the series.
pub(super) fn thread_of_size(series: Series, size: &str) -> Option<&'static Thread> {
    if series == Series::Named {
        return thread_of_code(size);
    }
    let row = THREADS
        .rows
        .iter()
        .filter(|row| row.series == series)
        .find(|row| row.size == size || thread_of_code(size).is_some_and(|of_code| of_code.name == row.thread));
    row.and_then(|row| thread(&row.thread))
}

/// The size numbers of a series.
pub(super) fn sizes_of(series: Series) -> impl Iterator<Item = &'static str> {
    THREADS.rows.iter().filter(move |row| row.series == series).map(|row| row.size.as_str())
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Form {
    SizeLength,
    GroupLength,
    DashTable,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct DashRow {
    number: String,
    first: i64,
    last: i64,
    thread: String,
}

static DASHES: LazyLock<Table<DashRow>> = LazyLock::new(|| table::read("screw_dash"));
static SCREWS: LazyLock<Table<Row>> = LazyLock::new(|| table::read("screw"));

fn decode(parts: &Parts) -> Result<Screw, Undecoded> {
    let row = SCREWS.rows.iter().find(|row| row.number == parts.standard);
    let row =
        row.ok_or_else(|| parts.fault("is not a screw of the tables", "flush screws are AN507 and MS24694", "AN-DWG"))?;
    let screw = Screw {
        call: Call::of(parts.text, row.number.clone()),
        words: row.words.clone(),
        head: row.head(),
        structural: row.structural,
        structural_basis: Basis::published(row.structural_source.as_str(), row.structural_sureness),
        thread_basis: None,
        diameter: None,
        thread: None,
        length: None,
        metal: Some(Metal::Steel),
        basis: row.basis.clone(),
        successor: row.successor.clone(),
    };
    if parts.rest.is_empty() {
        return Ok(screw);
    }
    match row.form {
        Form::SizeLength => size_length(parts, row.series.unwrap_or(Series::Named), screw),
        Form::GroupLength => group_length(parts, screw),
        Form::DashTable => dash_table(parts, screw),
    }
}

/// `AN525-10R8`, `AN507C832R6`, `AN515-8-10`: material, size, recess or dash, length in 1/16 in.
fn size_length(parts: &Parts, series: Series, screw: Screw) -> Result<Screw, Undecoded> {
    let help = "write size and length as in AN525-10R8: 10-32, 8/16 in long";
    let (letters, rest) = split_letters(parts.rest);
    let metal = match letters {
        "" => Metal::Steel,
        "C" => Metal::Stainless,
        "DD" | "D" => Metal::Aluminium,
        "B" => Metal::Copper,
        _ => {
            return Err(parts.fault(
                &format!("has unknown letters after the standard: {}", clip(letters)),
                help,
                "AN-DWG",
            ));
        }
    };
    let (size, rest) = split_digits(rest.strip_prefix('-').unwrap_or(rest));
    let found = thread_of_size(series, size).ok_or_else(|| unknown_size(parts, series, size))?;
    let (recess, digits) = split_letters(rest.strip_prefix('-').unwrap_or(rest));
    let length = whole_number(digits).filter(|n| (1..=96).contains(n));
    if !matches!(recess, "" | "R") || (length.is_none() && !(digits.is_empty() && recess.is_empty())) {
        return Err(parts.fault(&format!("has an unknown length: {}", clip(rest)), help, "AN-DWG"));
    }
    let separator = if recess.is_empty() { "-" } else { recess };
    let tail = length.map_or_else(String::new, |n| format!("{separator}{n}"));
    let usual = format!("{}{}{size}{tail}", parts.standard, if letters.is_empty() { "-" } else { letters });
    let diameter = Some(found.diameter);
    Ok(Screw {
        call: Call::of(parts.text, usual),
        thread: Some(found),
        diameter,
        length: length.map(sixteenths),
        metal: Some(metal),
        ..screw
    })
}

fn unknown_size(parts: &Parts, series: Series, size: &str) -> Undecoded {
    let help = match series {
        Series::Named => "the number names the thread: 632, 832, 1032, 428".to_owned(),
        _ => format!("the sizes are {}", sizes_of(series).collect::<Vec<_>>().join(", ")),
    };
    parts.fault(&format!("has an unknown size: {}", clip(size)), help, "AN-DWG")
}

/// `MS27039-1-08`, `MS27039-0806`: thread group, then a length.
fn group_length(parts: &Parts, screw: Screw) -> Result<Screw, Undecoded> {
    let help = "write thread group and length as in MS27039-1-08: group 08 is 8-32, 1 is 10-32, 4 is 1/4-28";
    let rest = parts.rest.trim_start_matches('C').trim_start_matches('-');
    let (group, dash) = rest
        .split_once('-')
        .unwrap_or_else(|| if rest.len() == 4 && rest.is_ascii() { rest.split_at(2) } else { (rest, "") });
    let name = match group {
        "08" => "8-32",
        "1" | "01" => "10-32",
        "4" | "04" => "1/4-28",
        _ => return Err(parts.fault(&format!("has an unknown thread group: {}", clip(group)), help, "AN-DWG")),
    };
    let dash = whole_number(dash).filter(|n| (1..=64).contains(n));
    if dash.is_none() && rest != group {
        return Err(parts.fault("has an unknown length", help, "AN-DWG"));
    }
    let thread = thread(name);
    let usual =
        dash.map_or_else(|| format!("{}-{group}", parts.standard), |n| format!("{}-{group}-{n:02}", parts.standard));
    let diameter = thread.map(|thread| thread.diameter);
    Ok(Screw { call: Call::of(parts.text, usual), thread, diameter, ..screw })
}

impl Row {
    const fn head(&self) -> Head {
        match (self.flush, self.angle) {
            (false, _) => Head::Protruding,
            (true, Some(82)) => Head::Flush82,
            (true, _) => Head::Flush100,
        }
    }
}

fn dash_table(parts: &Parts, screw: Screw) -> Result<Screw, Undecoded> {
    let (letters, digits) = split_letters(parts.rest);
    if !matches!(letters, "" | "S" | "C" | "B") || whole_number(digits).is_none() {
        return Err(parts.fault(
            &format!("has an unknown dash: {}", clip(parts.rest)),
            "the dash is a number, as in MS24694-S50",
            "AN-DWG",
        ));
    }
    let metal = match letters {
        "C" => Some(Metal::Stainless),
        "B" => Some(Metal::Copper),
        _ => screw.metal,
    };
    let row = whole_number(digits).and_then(|dash| {
        DASHES.rows.iter().find(|row| row.number == parts.standard && (row.first..=row.last).contains(&dash))
    });
    let thread = row.and_then(|row| thread(&row.thread));
    let diameter = thread.map(|thread| thread.diameter);
    let thread_basis = row.map(|row| row.basis.clone());
    let call = Call::of(parts.text, format!("{}-{letters}{digits}", parts.standard));
    Ok(Screw { call, diameter, thread, metal, thread_basis, ..screw })
}

const fn sixteenths(n: i64) -> Length {
    Length::from_64ths(4 * n)
}

impl Family for Screw {
    fn documents() -> Vec<&'static str> {
        SCREWS.rows.iter().map(|row| row.number.as_str()).collect()
    }

    fn decode(parts: &Parts<'_>) -> Result<Self, Undecoded> {
        decode(parts)
    }

    fn every_call() -> impl Iterator<Item = String> {
        every_call()
    }

    fn common(&self) -> Common<'_> {
        Common {
            diameter: self.diameter,
            head: self.head,
            thread: self.thread,
            metal: self.metal,
            ..Common::of(&self.call)
        }
    }

    fn superseded_by(&self) -> Option<String> {
        self.successor.clone()
    }

    fn holes(&self) -> Vec<ListedHole> {
        // Without a thread the number tells no size, so no hole is listed.
        self.thread.map(|thread| bolt::holes_of_diameter(thread.diameter, "AN")).unwrap_or_default()
    }
}

impl Screw {
    pub(super) fn of_kit(text: &str, own: &KitFastener) -> Self {
        Self {
            call: Call::kit(text, own),
            words: "screw".to_owned(),
            head: own.head,
            structural: false,
            structural_basis: Basis::given(&own.source),
            thread_basis: None,
            diameter: Some(own.diameter),
            thread: own.known_thread(),
            length: own.length,
            metal: own.metal(),
            basis: Basis::given(&own.source),
            successor: None,
        }
    }

    /// Plain words for paper: `washer head structural screw, 10-32, 1/2 in long`.
    #[must_use]
    pub fn describe(&self, style: &Style) -> String {
        let mut words = vec![self.words.clone()];
        words.extend(self.metal.filter(|metal| *metal != Metal::Steel).map(|metal| metal.word().to_owned()));
        let remembered = self.thread_basis.as_ref().is_some_and(Basis::from_memory);
        let thread = |thread: &Thread| format!("{}{}", thread.name, if remembered { " (from memory)" } else { "" });
        words.extend(self.thread.map(thread));
        words.extend(self.length.map(|length| format!("{} long", style.short(length))));
        words.extend(self.diameter.is_none().then(|| "size by the drawing's dash table".to_owned()));
        words.join(", ")
    }
}

/// One call of every screw in common sizes and lengths.
fn every_call() -> impl Iterator<Item = String> {
    SCREWS.rows.iter().flat_map(|row| {
        let tails: Vec<String> = match row.form {
            Form::SizeLength => {
                let sizes: Vec<&str> = match row.series {
                    None | Some(Series::Named) => vec!["632", "832", "1032", "428"],
                    Some(series) => sizes_of(series).collect(),
                };
                sizes.iter().flat_map(|size| (4..=16).map(move |n| format!("-{size}R{n}"))).collect()
            }
            Form::GroupLength => {
                ["08", "1", "4"].iter().flat_map(|group| (4..=16).map(move |n| format!("-{group}-{n:02}"))).collect()
            }
            Form::DashTable => {
                let listed = DASHES.rows.iter().filter(|of| of.number == row.number);
                listed.flat_map(|of| of.first..=of.last + 1).map(|n| format!("-{n}")).collect()
            }
        };
        tails.into_iter().map(move |tail| format!("{}{tail}", row.number))
    })
}
