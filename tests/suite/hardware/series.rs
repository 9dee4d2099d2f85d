//! Every call of the tables is read a second time here, by the rule of its series alone, and must come out the same:
//! what a table says of a number is held against the number itself.

use shophead::hardware::{BlindFamily, BoltSeries, Fastener, decode, every_call};
use shophead::units::Length;

use super::inch;

/// Digits at the end or the beginning of a text.
fn number(text: &str) -> Option<i64> {
    (!text.is_empty() && text.bytes().all(|b| b.is_ascii_digit())).then(|| text.parse().ok()).flatten()
}

fn sixteenths(n: i64) -> Length {
    Length::from_64ths(4 * n)
}

fn thirty_seconds(n: i64) -> Length {
    Length::from_64ths(2 * n)
}

/// A number screw is 0.060 + 0.013 x number in (ASME B1.1).
fn number_screw(n: i64) -> Length {
    Length::from_mils(60 + 13 * n)
}

/// The nominal diameter of a size in 1/16 in: the AN and NAS drawings call 3/16 the thread 10-32, .190.
fn size(n: i64) -> Length {
    if n == 3 { number_screw(10) } else { sixteenths(n) }
}

/// A thread code is size and threads an inch: 1032 is 10-32, 428 is 1/4-28, 1018 is 5/8-18. Sizes of the number screws end
/// in their own threads an inch.
fn of_thread_code(code: &str) -> Option<(Length, i64)> {
    let (size, per_inch) = code.split_at_checked(code.len().checked_sub(2)?)?;
    let (size, per_inch) = (number(size)?, number(per_inch)?);
    let number_threads =
        [(2, 56), (4, 40), (4, 48), (6, 32), (6, 40), (8, 32), (8, 36), (10, 24), (10, 32), (12, 24), (12, 28)];
    let is_number = number_threads.contains(&(size, per_inch));
    Some((if is_number { number_screw(size) } else { sixteenths(size) }, per_inch))
}

/// A size that counts 1/16 in where it is bare and is a number screw where it begins with a zero: 3 and 08.
fn of_short_code(code: &str) -> Option<Length> {
    let n = number(code)?;
    Some(if code.starts_with('0') { number_screw(n) } else { size(n) })
}

/// The size of a machine screw: its number, or 1/16 in behind which 16 stands, as in 416.
fn of_screw_size(code: &str) -> Option<Length> {
    match code.strip_suffix("16") {
        Some(sixteenth) if !sixteenth.is_empty() => Some(sixteenths(number(sixteenth)?)),
        _ => Some(number_screw(number(code)?)),
    }
}

/// Splits a number into document, letters between and the rest without its first dash.
fn split(call: &str, digits: usize) -> (&str, &str, &str) {
    let start = call.find(|c: char| c.is_ascii_digit()).unwrap();
    let (document, rest) = call.split_at(start + digits);
    let rest = rest.strip_prefix('-').unwrap_or(rest);
    let end = rest.find(|c: char| !c.is_ascii_alphabetic()).unwrap_or(rest.len());
    let (letters, rest) = rest.split_at(end);
    (document, letters, rest.strip_prefix('-').unwrap_or(rest))
}

fn digits_of_document(call: &str) -> usize {
    let from = call.find(|c: char| c.is_ascii_digit()).unwrap();
    call[from..].bytes().take_while(u8::is_ascii_digit).count()
}

/// What a check found: what it looked at, or nothing where the number says nothing of it.
type Looked = Option<&'static str>;

fn mm(text: &str) -> Length {
    inch(&format!("{text} mm"))
}

/// ISO and DIN: the thread is named, `M6`, a fine one with its pitch; washers and pins count millimetres. The thread of
/// ISO 4014 and DIN 931 is 2 d + 6 mm long up to 125 mm.
fn metric(call: &str, fastener: &Fastener) -> Looked {
    let (document, rest) = call.split_once('-')?;
    if !(document.starts_with("ISO") || document.starts_with("DIN")) {
        return None;
    }
    let size = rest.split('-').next()?;
    let numbers: Vec<Length> = size.trim_start_matches('M').split('X').map(mm).collect();
    let is_fine = size.starts_with('M') && numbers.get(1).is_some_and(|second| *second < mm("4"));
    let length = if is_fine { numbers.get(2) } else { numbers.get(1) };
    match fastener {
        Fastener::Bolt(bolt) => {
            let thread = bolt.thread.unwrap();
            assert_eq!((bolt.diameter, thread.diameter), (numbers[0], numbers[0]), "{call}");
            assert!(!is_fine || thread.pitch() == numbers[1], "{call}");
            assert_eq!(bolt.length.as_ref().map(|length| length.value), length.copied(), "{call}");
            let from = bolt.thread_from.as_ref().map(|from| from.value);
            let listed = ["M4", "M5", "M6", "M8", "M10", "M12"].contains(&thread.name.as_str());
            let counted = match document {
                "ISO4014" | "DIN931" => {
                    length.filter(|_| listed).map(|length| (*length - numbers[0] * 2 - mm("6")).max(Length::ZERO))
                }
                _ => length.map(|_| Length::ZERO),
            };
            assert_eq!(from, counted, "{call}: where the thread begins");
            Some("metric bolt")
        }
        Fastener::Nut(nut) => {
            assert_eq!(nut.thread.unwrap().diameter, numbers[0], "{call}");
            assert!(nut.height.as_ref().is_none_or(|height| height.value.0 < height.value.1), "{call}");
            Some("metric nut")
        }
        Fastener::Washer(washer) => {
            assert_eq!(washer.bolt, Some(numbers[0]), "{call}");
            assert!(washer.diameters.as_ref().is_none_or(|both| numbers[0] < both.value.0), "{call}");
            Some("metric washer")
        }
        Fastener::CotterPin(pin) => {
            assert_eq!(pin.diameter.as_ref().unwrap().value, numbers[0], "{call}");
            assert_eq!(pin.length.as_ref().unwrap().value, numbers[1], "{call}");
            Some("metric pin")
        }
        Fastener::BlindRivet(rivet) => {
            assert_eq!((rivet.diameter, rivet.grip.is_some()), (numbers[0], document == "ISO15981"), "{call}");
            Some("metric blind rivet")
        }
        _ => None,
    }
}

fn solid_rivet(call: &str, fastener: &Fastener) -> Looked {
    let Fastener::SolidRivet(rivet) = fastener else { return None };
    let (_, letters, rest) = split(call, digits_of_document(call));
    // MS20470AD4-5 has its letters before the diameter, MS20615-4M5 behind it.
    let (diameter, length, letters) = if letters.is_empty() && rest.contains(|c: char| c.is_ascii_alphabetic()) {
        let at = rest.find(|c: char| c.is_ascii_alphabetic()).unwrap();
        let length = rest[at..].trim_start_matches(|c: char| c.is_ascii_alphabetic());
        (&rest[..at], length, &rest[at..rest.len() - length.len()])
    } else {
        let (diameter, length) = rest.split_once('-').unwrap_or((rest, ""));
        (diameter, length, letters)
    };
    assert_eq!(rivet.diameter, thirty_seconds(number(diameter)?), "{call}: diameter in 1/32 in");
    let (whole, half) = length.split_once('.').map_or((length, 0), |(whole, half)| (whole, i64::from(half == "5")));
    let counted = number(whole).map(|whole| thirty_seconds(2 * whole + half));
    assert_eq!(rivet.length, counted, "{call}: length in 1/16 in");
    if let (Some(alloy), true) = (rivet.alloy, call.starts_with("MS20470") || call.starts_with("MS20426")) {
        assert_eq!(alloy.letter, letters, "{call}");
    }
    Some("solid rivet")
}

fn bolt(call: &str, fastener: &Fastener) -> Looked {
    let Fastener::Bolt(bolt) = fastener else { return None };
    let (document, _, rest) = split(call, digits_of_document(call));
    let family = number(document.trim_start_matches(|c: char| c.is_ascii_alphabetic()))?;
    let counted = match bolt.series {
        BoltSeries::An => size(family),
        BoltSeries::Clevis => match family {
            21 => number_screw(6),
            22 => number_screw(8),
            _ => size(family - 20),
        },
        BoltSeries::DrilledHead => size(match family {
            81 => 12,
            _ => family - 70,
        }),
        BoltSeries::CloseAn => size(family - 170),
        BoltSeries::Nas => size(family % 100),
        // AN44 and AN45 are both 5/16, for two sizes of eye: counted from 10-32, with one size twice.
        BoltSeries::Eye => size(if family < 45 { family - 39 } else { family - 40 }),
        BoltSeries::Iso | BoltSeries::Kit => return None,
    };
    assert_eq!(bolt.diameter, counted, "{call}: size in 1/16 in");
    assert_eq!(bolt.thread.unwrap().diameter, counted, "{call}");
    let digits: String = rest.chars().take_while(char::is_ascii_digit).collect();
    let Some(dash) = number(&digits) else { return Some("bolt") };
    if bolt.series == BoltSeries::Nas {
        assert_eq!(bolt.grip.as_ref().unwrap().value, sixteenths(dash), "{call}: the dash is the grip in 1/16 in");
    }
    if let (BoltSeries::An | BoltSeries::CloseAn, Some(length)) = (bolt.series, &bolt.length) {
        let counted = Length::from_64ths(64 * (dash / 10) + 8 * (dash % 10));
        let over = length.value - counted;
        // The first dashes of AN3 and AN4 are the table's own.
        assert!((Length::ZERO..inch("1/8")).contains(&over), "{call}: inches and eighths, and under 1/8 more");
        let grip = bolt.grip.as_ref().unwrap().value;
        assert!(grip < length.value, "{call}");
    }
    let undrilled = call.ends_with('A') || matches!(bolt.series, BoltSeries::DrilledHead);
    if bolt.series != BoltSeries::Nas {
        assert_eq!(bolt.drilled_shank, !undrilled, "{call}: A is a shank that is not drilled");
    }
    Some("bolt")
}

fn nut(call: &str, fastener: &Fastener) -> Looked {
    let Fastener::Nut(nut) = fastener else { return None };
    let thread = nut.thread?;
    let (document, _, rest) = split(call, digits_of_document(call));
    let code = rest.trim_end_matches(|c: char| c.is_ascii_alphabetic());
    if matches!(document, "AN340" | "AN345") {
        assert_eq!(thread.diameter, of_screw_size(code)?, "{call}: {}", thread.name);
        return Some("nut by screw size");
    }
    // 10 and 12 are sizes, 256 and more are threads.
    if code.len() <= 2 {
        assert_eq!(thread.diameter, of_short_code(code)?, "{call}: {}", thread.name);
        return Some("nut by size");
    }
    let (diameter, per_inch) = of_thread_code(code)?;
    assert_eq!(
        (thread.diameter, thread.per_inch.map(i64::from)),
        (diameter, Some(per_inch)),
        "{call}: {}",
        thread.name
    );
    Some("nut by thread")
}

fn screw(call: &str, fastener: &Fastener) -> Looked {
    let Fastener::Screw(screw) = fastener else { return None };
    let (document, _, rest) = split(call, digits_of_document(call));
    if document == "MS27039" {
        let (group, _) = rest.split_once('-')?;
        let diameter = screw.diameter.unwrap();
        assert_eq!(diameter, of_short_code(group).map(|d| if group == "1" { number_screw(10) } else { d })?, "{call}");
        return Some("screw by group");
    }
    if document.starts_with("MS") {
        return Some("screw by dash");
    }
    let (code, length) = rest.split_once(['R', '-'])?;
    assert_eq!(screw.length, Some(sixteenths(number(length)?)), "{call}: length in 1/16 in");
    let diameter = screw.diameter.unwrap();
    // 416 is a size, 632 and 1032 are threads.
    let is_size = code.len() < 3 || code.ends_with("16");
    let counted = if is_size { of_screw_size(code)? } else { of_thread_code(code)?.0 };
    assert_eq!(diameter, counted, "{call}");
    Some("screw by size")
}

fn washer(call: &str, fastener: &Fastener) -> Looked {
    let Fastener::Washer(washer) = fastener else { return None };
    let bolt = washer.bolt?;
    let (document, letters, rest) = split(call, digits_of_document(call));
    if document == "NAS1149" {
        let digits = rest.trim_end_matches(|c: char| c.is_ascii_alphabetic());
        let (its_size, mils) = digits.split_at(digits.len() - 2);
        let counted = if letters.ends_with('N') { number_screw(number(its_size)?) } else { size(number(its_size)?) };
        assert_eq!(bolt, counted, "{call}");
        let thickness = washer.thickness.as_ref().unwrap().value;
        assert_eq!(thickness, Length::from_mils(number(mils)?), "{call}: thickness in thousandths");
        return Some("washer by thickness");
    }
    if document.starts_with("MS") {
        return Some("washer by dash");
    }
    let code = rest.trim_end_matches('L');
    // AN970 counts sixteenths bare.
    let counted = if document == "AN970" { size(number(code)?) } else { of_screw_size(code)? };
    assert_eq!(bolt, counted, "{call}");
    Some("washer by size")
}

fn pin(call: &str, fastener: &Fastener) -> Looked {
    let Fastener::CotterPin(pin) = fastener else { return None };
    let (document, _, rest) = split(call, digits_of_document(call));
    if !document.starts_with("AN") {
        return Some("pin by dash");
    }
    let (diameter, length) = rest.split_once('-')?;
    assert_eq!(pin.diameter.as_ref().unwrap().value, thirty_seconds(number(diameter)?), "{call}");
    assert_eq!(pin.length.as_ref().unwrap().value, Length::from_64ths(16 * number(length)?), "{call}");
    Some("pin by size")
}

fn blind(call: &str, fastener: &Fastener) -> Looked {
    let Fastener::BlindRivet(rivet) = fastener else { return None };
    match rivet.family {
        BlindFamily::Commercial => {
            let code = rivet.code.as_ref()?;
            assert_eq!(rivet.diameter, thirty_seconds(number(&code[..1])?), "{call}: the first digit is in 1/32 in");
            let (_, high) = rivet.grip.unwrap();
            let sixteenth = sixteenths(number(&code[1..])?);
            assert!((sixteenth - high).nm().abs() <= Length::from_mils(1).nm(), "{call}: greatest grip in 1/16 in");
            Some("blind rivet by code")
        }
        BlindFamily::Military => {
            let (_, _, rest) = split(call, digits_of_document(call));
            let (diameter, grip) = rest.split_once('-')?;
            let diameter = diameter.trim_end_matches(|c: char| c.is_ascii_alphabetic());
            assert_eq!(rivet.diameter, thirty_seconds(number(diameter)?), "{call}");
            assert_eq!(rivet.grip.unwrap().1, sixteenths(number(grip)?), "{call}");
            Some("blind rivet by number")
        }
        BlindFamily::Iso | BlindFamily::Kit => None,
    }
}

fn nutplate(call: &str, fastener: &Fastener) -> Looked {
    let Fastener::Nutplate(plate) = fastener else { return None };
    let thread = plate.thread?;
    let (document, _, rest) = split(call, digits_of_document(call));
    let code: String = rest.chars().take_while(char::is_ascii_digit).collect();
    let counted = if document.starts_with("AN") { of_thread_code(&code)?.0 } else { of_short_code(&code)? };
    assert_eq!(thread.diameter, counted, "{call}: {}", thread.name);
    Some("nutplate")
}

#[test]
fn every_call_says_what_the_rule_of_its_series_says() {
    let mut looked = std::collections::BTreeMap::<&str, usize>::new();
    let mut unread = Vec::new();
    for call in every_call() {
        let fastener = decode(&call, &[]).unwrap_or_else(|fault| panic!("{call}: {fault}"));
        let rules = [metric, solid_rivet, bolt, nut, screw, washer, pin, blind, nutplate];
        match rules.iter().find_map(|rule| rule(&call, &fastener)) {
            Some(what) => *looked.entry(what).or_default() += 1,
            None => unread.push((call, fastener.kind_words())),
        }
    }
    assert_eq!(looked.len(), 21, "{looked:?}");
    // Their dash is a row of the drawing's own table, which is not here.
    let unsized_washers = ["MS35333", "MS35335", "NAS620", "NAS1515", "MS20002"];
    for (call, kind) in unread {
        let known = kind == "other hardware" || unsized_washers.iter().any(|document| call.starts_with(document));
        assert!(known, "{call}: no rule of its series reads this {kind}");
    }
}
