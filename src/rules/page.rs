//! The pages of the rules as one: `specs/RULES.md`, and the first sentence of each for lists.
//!
//! Every word comes from the heads of the rules' own files; nothing is said of a rule here.

use std::fmt::Write;

use super::{RULES, Rule};

impl Rule {
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
tables where they are multiples of the diameter.

Sources carry a grade. A: read in the document. A-calc: recomputed from values that were read. B: read where the document
is quoted, or in part. C: from memory, confident. D: from memory, not confident. What rests on memory alone never makes an error.

";
