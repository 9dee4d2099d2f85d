//! The pages of the rules as one: `specs/RULES.md`, and the first sentence of each for lists.
//!
//! Every word comes from the heads of the rules' own files; nothing is said of a rule here.

use std::fmt::Write;

use super::{RULES, Rule};

impl Rule {
    /// Keys of the sources that its limit rests on, in the order of its page: the first is what findings cite.
    pub fn sources(&self) -> impl Iterator<Item = &'static str> + use<> {
        let head = self.page.lines().skip_while(|line| *line != "//! ## Source").skip(1);
        let part = head.take_while(|line| !line.starts_with("//! ## "));
        part.filter_map(|line| line.strip_prefix("//! - `")?.split_once('`').map(|(key, _)| key))
    }

    /// The first sentence of what it checks, on one line.
    #[must_use]
    pub fn summary(&self) -> String {
        let page = self.page_text();
        let after = page.split_once("## What it checks\n").map_or("", |(_, after)| after);
        let paragraph: Vec<&str> =
            after.lines().map_while(|line| Some(line.trim()).filter(|line| !line.is_empty())).collect();
        first_sentence(&paragraph.join(" "))
    }
}

/// The name of a rule from that of its file: a dash for every underscore.
pub(super) const fn kebab<const LENGTH: usize>(file: &str) -> [u8; LENGTH] {
    let mut name = [0; LENGTH];
    let mut at = 0;
    while at < LENGTH {
        let byte = file.as_bytes()[at];
        name[at] = if byte == b'_' { b'-' } else { byte };
        at += 1;
    }
    name
}

/// The text of a name; the compiler refuses what is none.
pub(super) const fn ascii(name: &'static [u8]) -> &'static str {
    match std::str::from_utf8(name) {
        Ok(name) => name,
        Err(_) => panic!("the name of a file in Rust is text"),
    }
}

/// Up to the first full stop or colon that ends a clause; a stop inside a number or a code ends nothing.
fn first_sentence(text: &str) -> String {
    let end = [". ", ": ", "; "].iter().filter_map(|mark| text.find(mark)).min();
    text[..end.unwrap_or(text.len())].trim_end_matches('.').to_owned()
}

/// The rule page, `specs/RULES.md`.
#[must_use]
pub fn rules_page() -> String {
    let mut page = String::from(PREFACE);
    page.push_str("| rule | weighs at most | checks |\n|---|---|---|\n");
    for rule in RULES {
        let summary = rule.summary().replace('|', "\\|");
        let _ = writeln!(page, "| [`{0}`](#{0}) | {1} | {summary} |", rule.name, rule.severity.word());
    }
    let mut family = "";
    for rule in RULES {
        if rule.family != family {
            family = rule.family;
            let _ = write!(page, "\n# Family: {family}\n");
        }
        // A rule's own head starts at the first level; here it stands below its family.
        let own = rule.page_text();
        page.push('\n');
        let mut fenced = false;
        for line in own.lines() {
            fenced ^= line.starts_with("```");
            let deeper = if line.starts_with('#') && !fenced { "#" } else { "" };
            let _ = writeln!(page, "{deeper}{line}");
        }
    }
    page
}

const PREFACE: &str = "\
# The rules

This page is generated from the heads of the files below `src/rules/`; a test fails when it is stale. `shophead explain RULE`
prints one of its sections.

An error keeps a traveler from being printed, a warning and a note do not. An `[[allow]]` entry with a reason accepts a
finding, and the reason is printed on the sheet. The plans outrank every table: `limits` of a joint replace the limits of the
tables, as multiples of the diameter, as the hole, the grip or the torque of the plans. A value inside them passes unless the
part itself cannot bear it, and one outside them is an error that cites the plans.

Sources carry a grade. A: read in the document. A-calc: recomputed from values that were read. B: read where the document
is quoted, or in part. C: from memory, confident. D: from memory, not confident. What rests on memory alone never makes an error.

";
