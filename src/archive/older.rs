//! Postings of the first form, `shophead record 1`: line by line those of today, with the word `zone` for what is a space now.
//!
//! It turns the text of the one form into that of the other, so that nothing else knows of both. It judges no line: what
//! comes out is read like any other, and a posting that was not written so does not come out as it was.

/// First line of a posting of the first form.
pub(super) const TITLE: &str = "shophead record 1";

/// The word of the first form.
const THEN: &str = "zone";
/// The word of today.
const NOW: &str = "space";

/// A posting of the first form in the words of today, under today's title.
pub(super) fn renewed(text: &str, title: &str) -> String {
    reworded(text, title, THEN, NOW)
}

/// A posting of today in the words of the first form.
pub(super) fn as_then(text: &str) -> String {
    reworded(text, TITLE, NOW, THEN)
}

/// The word is the key of a line, how far a discrepancy stops the work, and either of these in a correction of such a line.
fn reworded<'a>(text: &'a str, title: &str, from: &str, to: &'a str) -> String {
    let mut lines = text.split('\n');
    // The first line is the title, whatever it says.
    let _ = lines.next();
    let mut corrects_stops = false;
    let mut out = title.to_owned();
    for line in lines {
        out.push('\n');
        // The last line is empty: the text ends with a line feed.
        let Some((key, value)) = line.split_once(": ") else {
            out.push_str(line);
            continue;
        };
        if key == "field" {
            corrects_stops = value == "stops";
        }
        let says = matches!(key, "stops" | "field") || (corrects_stops && matches!(key, "was" | "now"));
        let other = |word: &'a str, is_it: bool| if is_it && word == from { to } else { word };
        out.extend([other(key, true), ": ", other(value, says)]);
    }
    out
}
