//! Reads a part number: finds its standard, hands the rest to the family, says what is wrong with it.
//!
//! It accepts the number as people write it (any case, spaces, long dashes) and invents nothing: a number
//! that is not in the tables stays undecoded, and another is named only where it is the same part with one slip.

use std::sync::LazyLock;

use super::iso::{help_for, plain_document};
use super::kit::KitFastener;
use super::number::{Parts, Undecoded, clip, split_digits, split_letters};
use super::{FAMILIES, Fastener};

/// Reads the numbers of one family.
pub(super) type Reader = fn(&Parts<'_>) -> Result<Fastener, Undecoded>;

/// Every document in the tables with the reader of its family.
static INDEX: LazyLock<Vec<(&'static str, Reader)>> = LazyLock::new(|| {
    let documents = FAMILIES.iter().map(|(documents, reader)| (documents(), *reader));
    documents.flat_map(|(documents, reader)| documents.into_iter().map(move |name| (name, reader))).collect()
});

/// Decodes a part number; `kit` holds the kit-supplied fasteners of the project, which come first.
///
/// # Errors
/// Says which part of the number is wrong and what would decode.
pub fn decode(text: &str, kit: &[KitFastener]) -> Result<Fastener, Undecoded> {
    let wanted = text.trim();
    if let Some(own) = kit.iter().find(|own| own.id.trim().eq_ignore_ascii_case(wanted)) {
        return Ok(Fastener::of_kit(wanted, own));
    }
    let number = plain_form(text);
    let (standard, rest) = split_standard(&number);
    let standard = plain_document(standard);
    let parts = Parts { text, standard: &standard, rest: rest.strip_prefix('-').unwrap_or(rest) };
    let Some((name, reader)) = INDEX.iter().find(|(name, _)| *name == standard) else {
        return Err(unknown_standard(&parts, kit));
    };
    reader(&Parts { standard: name, ..parts })
}

/// Capitals, one kind of dash, no spaces; a space between two digits stands for a dash.
fn plain_form(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    let mut spaced = false;
    for c in text.trim().chars() {
        let c = match c {
            '\u{2010}'..='\u{2015}' | '\u{2212}' => '-',
            '×' => 'X',
            c => c.to_ascii_uppercase(),
        };
        if c.is_whitespace() {
            spaced = true;
            continue;
        }
        let after_digit = plain.ends_with(|before: char| before.is_ascii_digit());
        if spaced && after_digit && c.is_ascii_digit() {
            plain.push('-');
        }
        plain.push(c);
        spaced = false;
    }
    plain
}

/// Leading letters and digits, also where a dash was written between them (`AN-470`), and what follows.
fn split_standard(number: &str) -> (String, &str) {
    let (letters, rest) = split_letters(number);
    let inner = rest.strip_prefix('-').filter(|inner| inner.starts_with(|c: char| c.is_ascii_digit()));
    let (digits, rest) = split_digits(inner.unwrap_or(rest));
    (format!("{letters}{digits}"), rest)
}

fn unknown_standard(parts: &Parts, kit: &[KitFastener]) -> Undecoded {
    let written = parts.standard;
    let wrong = if written.is_empty() {
        "does not start with a standard".to_owned()
    } else {
        format!("is not in the tables: they have no {}", clip(written))
    };
    let of_kit =
        || kit.iter().map(|own| own.id.clone()).find(|id| is_one_slip(&plain_form(parts.text), &plain_form(id)));
    if let Some(help) = help_for(written, parts.rest).map(str::to_owned).or_else(|| help_for_rivet(parts)) {
        return parts.unlisted(&wrong, help);
    }
    let help = match meant(parts).or_else(of_kit) {
        None if written.is_empty() => "write a number such as MS20470AD4-5, AN3-5A or ISO 4014-M6x30; other hardware \
                                       needs a [[fastener]] entry in build.toml"
            .to_owned(),
        Some(meant) => {
            format!("if {meant} is meant, write that; other hardware needs a [[fastener]] entry in build.toml")
        }
        None => "hardware that the tables do not have needs a [[fastener]] entry in build.toml, with its own numbers"
            .to_owned(),
    };
    parts.unlisted(&wrong, help)
}

/// Words of a rivet that is no solid one.
const BLIND: [&str; 3] = ["BLIND", "POP", "PULL"];

/// What names a rivet by its alloy or its size alone: both heads that it may be are written out.
fn help_for_rivet(parts: &Parts) -> Option<String> {
    let both = |dash: &str| {
        let [round, flush] = ["MS20470", "MS20426"].map(|standard| format!("{standard}{dash}"));
        let is_call = decode(&round, &[]).is_ok() && decode(&flush, &[]).is_ok();
        is_call.then(|| format!("{round} (universal head) or {flush} (flush)"))
    };
    let number = plain_form(parts.text);
    if number.starts_with('A') || number.starts_with('D') {
        return both(&number).map(|calls| format!("alloy and diameter name no head: write {calls}"));
    }
    if BLIND.iter().any(|word| number.contains(word)) {
        return None;
    }
    let size = number.split(|c: char| !(c.is_ascii_digit() || matches!(c, '/' | '.'))).next()?;
    let ladder = [(3, "3/32", "2.4"), (4, "1/8", "3.2"), (5, "5/32", "4.0"), (6, "3/16", "4.8")];
    let is_of = |own: &&(u8, &str, &str)| size == own.1 || size.trim_end_matches(".0") == own.2.trim_end_matches(".0");
    let (dash, inch, _) = ladder.iter().find(is_of)?;
    let calls = both(&format!("AD{dash}"))?;
    Some(format!("a size names no part: a solid rivet of {inch} in is {calls}, as the drawing has it"))
}

/// Digits from which a document's number names a kind of part; shorter ones tell the diameter (`AN3`) or are too close
/// to one another.
const TELLING: usize = 4;

/// The calls that may be meant, where one slip in the document's number leads to ones that decode whole. A document whose
/// number tells the diameter is another part; where the calls are of several kinds or diameters, none is named.
fn meant(parts: &Parts) -> Option<String> {
    let digits = |name: &str| name.bytes().filter(u8::is_ascii_digit).count();
    let decoded = |name: &str, rest: &str, reader: &Reader| {
        reader(&Parts { text: parts.text, standard: name, rest }).ok().filter(|_| !rest.is_empty())
    };
    let near = INDEX.iter().filter(|(name, _)| digits(name) >= TELLING && is_one_slip(parts.standard, name));
    let calls: Vec<Fastener> = near
        .filter_map(|(name, reader)| {
            let alone = reader(&Parts { text: parts.text, standard: name, rest: "" });
            let tells_diameter = alone.is_ok_and(|fastener| fastener.diameter().is_some());
            decoded(name, parts.rest, reader).filter(|_| !tells_diameter)
        })
        .collect();
    let first = calls.first()?;
    let is_like = |one: &Fastener| one.kind_words() == first.kind_words() && one.diameter() == first.diameter();
    let names: Vec<&str> = calls.iter().map(Fastener::usual_call).collect();
    calls.iter().all(is_like).then(|| names.join(" or "))
}

/// Whether two names differ by one letter, or by two that changed places.
fn is_one_slip(one: &str, other: &str) -> bool {
    one.len() == other.len() && strsim::damerau_levenshtein(&clip(one), other) == 1
}

/// The documents in the tables, for lists and tests.
pub fn known_standards() -> impl Iterator<Item = &'static str> {
    INDEX.iter().map(|(name, _)| *name)
}
