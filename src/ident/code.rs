//! Sheet codes: ten characters that can be read over the phone and copied by hand, one of them a check.
//!
//! It turns digests into codes and checks codes that people typed; it does not know what they stand for.

use std::fmt;

use super::Digest;

/// Digits and capitals without I, L, O and U, which are misread or spell words.
const ALPHABET: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";

/// Characters that carry the digest; one more is the check.
const CARRIED: usize = 9;
const LENGTH: usize = CARRIED + 1;
/// Characters before the dash.
const FIRST_GROUP: usize = 5;

/// A sheet code: nine characters of the digest and one check character, printed `K7QM3-D2X9F`.
///
/// Each character stands for a number of five bits, taken as an element of the field of 32 elements (x^5 = x^2 + 1).
/// The check is chosen so that the sum of every character times its own power of x is zero. Powers of x differ from
/// place to place, so every single wrong character and every swap of two neighbours changes the sum.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SheetCode([u8; LENGTH]);

/// Why a typed text is not a sheet code.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CodeFault(String);

impl fmt::Display for CodeFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for CodeFault {}

impl SheetCode {
    /// The code of a digest: its first 45 bits, five to a character.
    #[must_use]
    pub fn of(digest: &Digest) -> Self {
        let mut values = [0; LENGTH];
        for (at, value) in values.iter_mut().take(CARRIED).enumerate() {
            *value = five_bits(digest.bytes(), at * 5);
        }
        values[CARRIED] = sum(&values);
        Self(values)
    }

    /// Reads a code as people type it: any case, spaces and dashes anywhere, O for 0, I and L for 1.
    ///
    /// # Errors
    /// Says what is wrong: length, a character that no code has, or the check; of the codes of both hands which is whose.
    pub fn parse(text: &str) -> Result<Self, CodeFault> {
        if let Some((left, right)) = text.split_once('+') {
            let both = (Self::parse(left)?, Self::parse(right)?);
            return Err(CodeFault(format!(
                "these are the sheets of both hands: give {} for the left one or {} for the right one",
                both.0, both.1
            )));
        }
        let typed: Vec<char> = text.chars().filter(|c| !c.is_whitespace() && *c != '-').collect();
        let mut values = [0; LENGTH];
        if typed.len() != LENGTH {
            return Err(CodeFault(format!("a sheet code has {LENGTH} characters, this has {}", typed.len())));
        }
        for (value, c) in values.iter_mut().zip(&typed) {
            *value = value_of(*c)
                .ok_or_else(|| CodeFault(format!("no sheet code has the character `{}`", c.escape_debug())))?;
        }
        if sum(&values) != 0 {
            return Err(CodeFault(
                "the check character does not fit: one character is wrong, or two are swapped".into(),
            ));
        }
        Ok(Self(values))
    }
}

impl fmt::Display for SheetCode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (at, value) in self.0.iter().enumerate() {
            if at == FIRST_GROUP {
                f.write_str("-")?;
            }
            write!(f, "{}", char::from(ALPHABET[usize::from(*value)]))?;
        }
        Ok(())
    }
}

fn value_of(c: char) -> Option<u8> {
    let c = match c.to_ascii_uppercase() {
        'O' => '0',
        'I' | 'L' => '1',
        other => other,
    };
    let at = ALPHABET.iter().position(|known| char::from(*known) == c)?;
    u8::try_from(at).ok()
}

/// Five bits of a digest, counted from the most significant bit of its first byte.
fn five_bits(bytes: &[u8; 32], start: usize) -> u8 {
    (start..start + 5).fold(0, |value, bit| (value << 1) | ((bytes[bit / 8] >> (7 - bit % 8)) & 1))
}

/// The sum over all characters, the last times one, the one before times x, and so on (Horner's rule).
fn sum(values: &[u8; LENGTH]) -> u8 {
    values.iter().fold(0, |sum, value| times_x(sum) ^ value)
}

/// Times x in the field of 32 elements, with x^5 = x^2 + 1.
const fn times_x(value: u8) -> u8 {
    let shifted = value << 1;
    if shifted & 0b10_0000 == 0 { shifted } else { (shifted ^ 0b10_0101) & 0b1_1111 }
}
