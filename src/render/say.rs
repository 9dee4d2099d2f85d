//! The fixed words of templates: the Typst library `say.typ`, made for the language that is spoken.
//!
//! Words reach Typst as string literals and as nothing else, so that no file of a language can run code.

use super::literal::write_text;
use crate::phrase;

/// The library's name.
pub(super) const SAY: &str = "say.typ";

/// `say(key, name: value)`: the words of a phrase, with its values in their places. Text where all values are, else content.
const FUNCTION: &str = r#"
#let say(key, ..values) = {
  let pattern = phrases.at(key, default: none)
  if pattern == none { pattern = key.split("||").first() }
  let named = values.named()
  if named.len() == 0 { return pattern }
  let pieces = ()
  for (at, piece) in pattern.split("{").enumerate() {
    if at == 0 { pieces.push(piece); continue }
    let (name, rest) = piece.split("}")
    let value = named.at(name)
    pieces.push(if type(value) == int { str(value) } else { value })
    pieces.push(rest)
  }
  pieces.filter(piece => piece != "").join()
}

/// A word of a list of the program's own.
#let say-word(word) = phrases.at(word, default: word)
"#;

/// The library: for English no phrase is listed, for a key is its own words.
pub(super) fn library() -> String {
    let mut text = "#let phrases = (:".to_owned();
    let language = phrase::spoken();
    for (key, forms) in language.into_iter().flat_map(phrase::Language::phrases) {
        // What depends on a number is said where it is counted, and no template counts.
        let [form] = forms else { continue };
        if text.ends_with("(:") {
            text.pop();
        }
        write_text(&mut text, key).expect("writing to a string cannot fail");
        text.push_str(": ");
        write_text(&mut text, form).expect("writing to a string cannot fail");
        text.push_str(",\n");
    }
    text.push(')');
    text + FUNCTION
}
