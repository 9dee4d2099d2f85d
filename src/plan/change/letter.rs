//! Revision letters as drafting practice counts them: without I, O, Q, S, X and Z, which are misread; after Y comes AA.
//!
//! Source: the common drafting convention of skipping these six letters. A revision that is a number counts on.

const LETTERS: &[u8] = b"ABCDEFGHJKLMNPRTUVWY";

/// The revision after a revision; absent where it is neither letters of the convention nor a number.
#[must_use]
pub fn next_revision(revision: &str) -> Option<String> {
    if let Ok(number) = revision.parse::<u32>() {
        return number.checked_add(1).map(|next| next.to_string());
    }
    let mut places: Vec<usize> =
        revision.bytes().map(|b| LETTERS.iter().position(|letter| *letter == b)).collect::<Option<_>>()?;
    let mut at = places.len();
    loop {
        let Some(before) = at.checked_sub(1) else {
            places.insert(0, 0);
            break;
        };
        at = before;
        if places[at] + 1 < LETTERS.len() {
            places[at] += 1;
            break;
        }
        places[at] = 0;
    }
    (!revision.is_empty()).then(|| places.iter().map(|place| char::from(LETTERS[*place])).collect())
}
