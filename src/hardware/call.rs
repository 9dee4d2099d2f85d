//! Reads a part number: finds its standard, hands the rest to the family, says what is wrong with it.
//!
//! It accepts the number as people write it (any case, spaces, long dashes) and invents nothing: a number
//! that is not in the tables stays undecoded, with the nearest one that exists as help.

use std::sync::LazyLock;

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
        format!("names an unknown standard: {}", clip(written))
    };
    let names = INDEX.iter().map(|(name, _)| *name).chain(kit.iter().map(|own| own.id.as_str()));
    let nearest = names
        .map(|name| (strsim::damerau_levenshtein(&clip(written), name), name))
        .min_by_key(|(far, name)| (*far, name.len().abs_diff(written.len())));
    let help = match nearest {
        Some((far, name)) if far <= 2 && !written.is_empty() => {
            format!("the nearest in the tables is {name}; other hardware needs a [[fastener]] entry in build.toml")
        }
        _ => "write a number such as MS20470AD4-5, AN3-5A or NAS1149F0363P; other hardware needs a [[fastener]] entry in build.toml"
            .to_owned(),
    };
    parts.fault(&wrong, help, "AC-4-16")
}

/// The documents in the tables, for lists and tests.
pub fn known_standards() -> impl Iterator<Item = &'static str> {
    INDEX.iter().map(|(name, _)| *name)
}
