//! Reads the numbers of bolts: letters, dash and endings of each series.
//!
//! It refuses dashes that the series does not have; grips and lengths follow elsewhere.

use super::{AN, Bolt, BoltSeries, LONGEST_DASH, SizeRow};
use crate::hardware::metal::Metal;
use crate::hardware::number::{Parts, Undecoded, clip, split_digits, split_letters, whole_number};
use crate::hardware::table::Sourced;
use crate::hardware::thread::{Thread, threads};

pub(super) fn decode_an(parts: &Parts, row: &'static Sourced<SizeRow>, series: BoltSeries) -> Result<Bolt, Undecoded> {
    let (letters, rest) = split_letters(parts.rest);
    let bare_undrilled = letters == "A" && rest.is_empty();
    let (material, drilled_head) = letters.strip_suffix('H').map_or((letters, false), |material| (material, true));
    let metal = match material {
        "" => Metal::Steel,
        "A" if bare_undrilled => Metal::Steel,
        // The bore of an eye, and the coarse thread of a drilled-head bolt.
        "A" | "B" if series == BoltSeries::Eye => Metal::Steel,
        "A" if series == BoltSeries::DrilledHead => Metal::Steel,
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
    let stem = row.bolt(if bare_undrilled { "" } else { letters }, metal);
    let bolt = match series {
        BoltSeries::DrilledHead => {
            let thread = if letters == "A" { stem.thread.and_then(coarse_of) } else { stem.thread };
            Bolt { drilled_shank: false, drilled_head: true, thread, ..stem }
        }
        _ => Bolt { drilled_shank, drilled_head, ..stem },
    };
    let dash = match series {
        _ if digits.is_empty() => None,
        BoltSeries::Clevis => Some(clevis_dash(parts, digits)?),
        _ => Some(an_dash(parts, row, digits)?),
    };
    Ok(bolt.finish(parts.text, dash))
}

/// The coarse thread of the diameter of a fine one.
fn coarse_of(fine: &'static Thread) -> Option<&'static Thread> {
    threads().find(|thread| thread.diameter == fine.diameter && thread.per_inch < fine.per_inch && !thread.is_metric())
}

/// The dash of a clevis bolt counts its length in 1/16 in.
fn clevis_dash(parts: &Parts, digits: &str) -> Result<i64, Undecoded> {
    whole_number(digits).filter(|dash| (1..=LONGEST_DASH).contains(dash)).ok_or_else(|| {
        let what = format!("has a dash that does not exist: {}", clip(digits));
        parts.fault(&what, "the dash counts the length in 1/16 in", "AN-DWG")
    })
}

fn an_dash(parts: &Parts, size: &SizeRow, digits: &str) -> Result<i64, Undecoded> {
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
    let listed = AN.rows.iter().find(|row| row.sixteenths == size.sixteenths && size.series() == BoltSeries::An);
    // Where no table gives the shortest, every dash may exist.
    let shortest = listed.map_or(1, |row| row.shortest);
    if dash < shortest {
        return Err(too_odd("", format!("the shortest {} is -{shortest}", parts.standard)));
    }
    Ok(dash)
}

pub(super) fn decode_nas(parts: &Parts, row: &'static Sourced<SizeRow>) -> Result<Bolt, Undecoded> {
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
    let bolt = Bolt { drilled_shank, drilled_head, ..row.bolt("", Metal::Steel) };
    Ok(bolt.finish(parts.text, dash))
}
