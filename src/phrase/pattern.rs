//! Words with places for values: `{count} rivets in {part}`.
//!
//! A place has a plain name and nothing else, and no brace stands for itself. Values are put in once and not read again.

use std::collections::BTreeSet;
use std::fmt::Display;

/// A piece of a pattern.
pub(super) enum Piece<'a> {
    /// Letters.
    Text(&'a str),
    /// The name of a value.
    Place(&'a str),
}

/// The pieces of a pattern, in their order.
///
/// # Errors
/// The byte at which a brace stands that is not of a place.
pub(super) fn pieces(pattern: &str) -> Result<Vec<Piece<'_>>, usize> {
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(brace) = pattern[at..].find(['{', '}']).map(|brace| at + brace) {
        let rest = &pattern[brace..];
        let name = rest.strip_prefix('{').and_then(|rest| rest.split_once('}')).map(|(name, _)| name);
        let is_name = |name: &&str| !name.is_empty() && name.chars().all(|c| c.is_ascii_lowercase() || c == '_');
        let Some(name) = name.filter(is_name) else { return Err(brace) };
        found.extend([Piece::Text(&pattern[at..brace]), Piece::Place(name)]);
        at = brace + name.len() + 2;
    }
    found.push(Piece::Text(&pattern[at..]));
    Ok(found)
}

/// The names of the values of a pattern; of one that is not well formed, none.
pub(super) fn places(pattern: &str) -> BTreeSet<&str> {
    let named = |piece| match piece {
        Piece::Place(name) => Some(name),
        Piece::Text(_) => None,
    };
    // What is not well formed is told apart.
    pieces(pattern).unwrap_or_default().into_iter().filter_map(named).collect()
}

/// A pattern with its values. Patterns are checked where they are read; a place without a value would stay as it is.
pub(super) fn fill(pattern: &str, values: &[(&str, &dyn Display)]) -> String {
    let Ok(pieces) = pieces(pattern) else { return pattern.to_owned() };
    let mut filled = String::new();
    for piece in pieces {
        match piece {
            Piece::Text(text) => filled.push_str(text),
            Piece::Place(place) => match values.iter().find(|(name, _)| *name == place) {
                Some((_, value)) => filled.push_str(&value.to_string()),
                None => filled.extend(["{", place, "}"]),
            },
        }
    }
    filled
}

/// The values of a text that was made by a pattern; nothing where it was not. A value ends where the letters behind it begin.
pub(super) fn values<'a, 'b>(pattern: &'a str, text: &'b str) -> Option<Vec<(&'a str, &'b str)>> {
    let pieces = pieces(pattern).ok()?;
    let mut found: Vec<(&str, &str)> = Vec::new();
    let (mut rest, mut open) = (text, None);
    for (at, piece) in pieces.iter().enumerate() {
        match (piece, open) {
            (Piece::Place(name), _) => open = Some(*name),
            (Piece::Text(letters), None) => rest = rest.strip_prefix(letters)?,
            (Piece::Text(letters), Some(name)) => {
                let last = at + 1 == pieces.len();
                let (value, behind) = if last { (rest.strip_suffix(letters)?, "") } else { rest.split_once(letters)? };
                found.push((name, value));
                (rest, open) = (behind, None);
            }
        }
    }
    let whole = rest.is_empty() && found.iter().all(|(_, value)| !value.is_empty());
    whole.then_some(found)
}
