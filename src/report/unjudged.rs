//! What could not be judged, in words: a count with the reasons, or every place.
//!
//! A silent rule is no verdict; this says where the silence is.

use std::collections::BTreeMap;
use std::fmt::Write;

use super::{Report, Unjudged};

impl Unjudged {
    /// ``WNG-210/J1: no `edge` is given, so edge-distance-short stayed silent``.
    #[must_use]
    pub fn sentence(&self) -> String {
        format!("{}: {}, so {} stayed silent", self.place_words(), self.why, self.rules.join(", "))
    }

    fn place_words(&self) -> String {
        let place = &self.place;
        let ids = [&place.traveler, &place.joint, &place.step, &place.part];
        let words: Vec<&str> = ids.into_iter().filter_map(|id| id.as_deref()).collect();
        if words.is_empty() { "the project".to_owned() } else { words.join("/") }
    }
}

/// One line with the count and the reasons, and every place below it where `list` is set; nothing where all was judged.
#[must_use]
pub fn render(report: &Report, list: bool) -> String {
    if report.unjudged.is_empty() {
        return String::new();
    }
    let mut places: Vec<String> = report.unjudged.iter().map(Unjudged::place_words).collect();
    places.sort();
    places.dedup();
    let mut reasons: BTreeMap<&str, usize> = BTreeMap::new();
    for one in &report.unjudged {
        *reasons.entry(&one.why).or_default() += 1;
    }
    let words: Vec<String> = reasons.iter().map(|(why, count)| format!("{why} ({count})")).collect();
    let noun = if places.len() == 1 { "place" } else { "places" };
    let hint = if list { "" } else { "; --unjudged lists them" };
    let mut text = format!("not judged in full: {} {noun}: {}{hint}\n", places.len(), words.join(", "));
    if list {
        for one in &report.unjudged {
            let _ = writeln!(text, "  {}", one.sentence());
        }
    }
    text
}
