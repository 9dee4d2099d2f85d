//! Reads a part number: finds its standard, hands the rest to the family, says what is wrong with it.
//!
//! It accepts the number as people write it (any case, spaces, long dashes) and invents nothing: a number
//! that is not in the tables stays undecoded, with the nearest one that exists as help.

use std::sync::LazyLock;

use super::{Fastener, KitFastener, blind, bolt, cotter, nut, nutplate, rivet, screw, washer};

/// A part number as written, and in its usual form.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Call {
    /// As the builder wrote it.
    pub text: String,
    /// In the usual form: capitals, no spaces.
    pub usual: String,
    /// The kit-supplied fastener behind it, where no standard covers it.
    pub kit: Option<KitFastener>,
}

impl Call {
    pub(super) fn of(text: &str, usual: String) -> Self {
        Self { text: text.trim().to_owned(), usual, kit: None }
    }

    pub(super) fn kit(text: &str, kit: &KitFastener) -> Self {
        Self { text: text.trim().to_owned(), usual: kit.id.clone(), kit: Some(kit.clone()) }
    }
}

/// Why a part number does not decode.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Undecoded {
    /// One sentence: which part of the number is wrong.
    pub message: String,
    /// What would decode.
    pub help: Option<String>,
    /// Key of the source that gives the number its form.
    pub source: &'static str,
}

impl std::fmt::Display for Undecoded {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for Undecoded {}

/// A part number taken apart as far as its standard.
#[derive(Debug, Clone, Copy)]
pub(super) struct Parts<'a> {
    /// As written.
    pub(super) text: &'a str,
    /// Document, as in `MS20470`.
    pub(super) standard: &'a str,
    /// What follows the document, without a leading dash.
    pub(super) rest: &'a str,
}

impl Parts<'_> {
    /// A fault in this number; `what` follows the number in the sentence.
    pub(super) fn fault(&self, what: &str, help: impl Into<String>, source: &'static str) -> Undecoded {
        Undecoded { message: format!("`{}` {what}", clip(self.text.trim())), help: Some(help.into()), source }
    }
}

/// Keeps a message on one line however long the text is.
pub(super) fn clip(text: &str) -> String {
    const LONGEST: usize = 60;
    let plain = || text.chars().map(|c| if c.is_control() { ' ' } else { c });
    if text.chars().count() <= LONGEST { plain().collect() } else { plain().take(LONGEST).chain(['…']).collect() }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Family {
    SolidRivet,
    MilitaryBlind,
    CommercialBlind,
    IsoBlind,
    AnBolt,
    NasBolt,
    Screw,
    Nut,
    Washer,
    CotterPin,
    Nutplate,
}

/// Every document in the tables with the family that reads its numbers.
static INDEX: LazyLock<Vec<(&'static str, Family)>> = LazyLock::new(|| {
    let mut index: Vec<(&'static str, Family)> = Vec::new();
    index.extend(rivet::standards().map(|name| (name, Family::SolidRivet)));
    index.extend(blind::military_standards().map(|name| (name, Family::MilitaryBlind)));
    index.push(("IFI114", Family::CommercialBlind));
    index.push(("ISO15981", Family::IsoBlind));
    index.extend(bolt::an_numbers().map(|name| (name, Family::AnBolt)));
    index.extend(bolt::nas_numbers().map(|name| (name, Family::NasBolt)));
    index.extend(screw::standards().map(|name| (name, Family::Screw)));
    index.extend(nut::standards().map(|name| (name, Family::Nut)));
    index.extend(washer::standards().map(|name| (name, Family::Washer)));
    index.extend(cotter::standards().map(|name| (name, Family::CotterPin)));
    index.extend(nutplate::standards().map(|name| (name, Family::Nutplate)));
    index
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
    let Some((name, family)) = INDEX.iter().find(|(name, _)| *name == standard) else {
        return Err(unknown_standard(&parts, kit));
    };
    let parts = Parts { standard: name, ..parts };
    match family {
        Family::SolidRivet => rivet::decode(&parts).map(Fastener::SolidRivet),
        Family::MilitaryBlind => blind::decode_military(&parts).map(Fastener::BlindRivet),
        Family::CommercialBlind => blind::decode_commercial(&parts).map(Fastener::BlindRivet),
        Family::IsoBlind => blind::decode_iso(&parts).map(Fastener::BlindRivet),
        Family::AnBolt => bolt::decode_an(&parts).map(Fastener::Bolt),
        Family::NasBolt => bolt::decode_nas(&parts).map(Fastener::Bolt),
        Family::Screw => screw::decode(&parts).map(Fastener::Screw),
        Family::Nut => nut::decode(&parts).map(Fastener::Nut),
        Family::Washer => washer::decode(&parts).map(Fastener::Washer),
        Family::CotterPin => cotter::decode(&parts).map(Fastener::CotterPin),
        Family::Nutplate => nutplate::decode(&parts).map(Fastener::Nutplate),
    }
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

/// Splits after the leading letters.
pub(super) fn split_letters(text: &str) -> (&str, &str) {
    text.split_at(text.find(|c: char| !c.is_ascii_alphabetic()).unwrap_or(text.len()))
}

/// Splits after the leading digits.
pub(super) fn split_digits(text: &str) -> (&str, &str) {
    text.split_at(text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len()))
}

/// A whole number written with at most six digits.
pub(super) fn whole_number(digits: &str) -> Option<i64> {
    let plain = (1..=6).contains(&digits.len()) && digits.bytes().all(|b| b.is_ascii_digit());
    plain.then(|| digits.parse().ok()).flatten()
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
