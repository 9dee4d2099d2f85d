//! `explain`: prints the page of a rule, or the list of all rules.
//!
//! The pages are written in inches, the unit of their sources; in a project in millimetres the sizes in their sentences
//! are printed in that unit. The example is a piece of a spec and stays as it is.

use std::path::Path;

use anyhow::{Result, bail};

use super::project::bare_project;
use super::{Console, Outcome};
use crate::rules;
use crate::spec::nearest;
use crate::units::{Length, Size, Style, Temperature, Unit};

/// Arguments of `explain`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Name of the rule; without one, all rules are listed
    rule: Option<String>,
}

/// Runs `explain`; it needs no project, and speaks in the unit of one where there is one.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let Some(name) = &arguments.rule else {
        for rule in rules::RULES {
            console.say(&format!("{:<34} {:<8} {}", rule.name, rule.severity.word(), rule.summary()))?;
        }
        return Ok(Outcome::Clean);
    };
    let Some(rule) = rules::explain(name) else {
        let near = nearest(name, rules::RULES.iter().map(|rule| rule.name));
        let help = near
            .map_or_else(|| "`shophead explain` lists all rules".to_owned(), |near| format!("did you mean `{near}`?"));
        bail!("there is no rule `{name}`; {help}");
    };
    let style = bare_project(project_path)?.map_or_else(|| Style::of(Unit::Inch), |project| project.style);
    console.print(&match style.unit {
        Unit::Inch => rule.page_text(),
        Unit::Mm => in_millimetres(&rule.page_text(), &style),
    })?;
    Ok(Outcome::Clean)
}

/// A page with the sizes of its sentences in millimetres.
fn in_millimetres(page: &str, style: &Style) -> String {
    let mut is_example = false;
    let mut lines = Vec::new();
    for line in page.lines() {
        let fence = line.starts_with("```");
        if fence {
            is_example = !is_example;
        }
        if fence && is_example {
            lines.push("In a project in inches:".to_owned());
        }
        lines.push(if is_example || fence { line.to_owned() } else { sentence(line, style) });
    }
    lines.join("\n") + "\n"
}

/// A line with every size in inches, and every temperature, printed as the project prints sizes.
fn sentence(line: &str, style: &Style) -> String {
    let words: Vec<&str> = line.split(' ').collect();
    let mut out: Vec<String> = Vec::with_capacity(words.len());
    let mut at = 0;
    while let Some(word) = words.get(at) {
        // Behind the last word there is none.
        let next = words.get(at + 1).copied().unwrap_or_default();
        let (before, core, after) = trimmed(word);
        let has_unit = after.is_empty() && next.trim_end_matches(ENDS) == "in";
        let degrees = Temperature::parse(&format!("{core} {}", next.trim_end_matches(ENDS)));
        match (inches(core, next, has_unit), degrees) {
            (None, Ok(temperature)) if after.is_empty() => {
                out.push(format!("{before}{}{}", style.temperature(temperature), &next["F".len()..]));
                at += 2;
            }
            (Some(length), _) => {
                // The unit that followed is printed with the number; what ended the phrase stays.
                let end = if has_unit { &next["in".len()..] } else { after };
                out.push(format!("{before}{}{end}", style.length(length)));
                at += if has_unit { 2 } else { 1 };
            }
            (None, _) => {
                out.push((*word).to_owned());
                at += 1;
            }
        }
    }
    out.join(" ")
}

/// What may stand behind a size.
const ENDS: [char; 5] = ['.', ',', ';', ':', ')'];

/// What stands before a word, the word, and what ends it.
fn trimmed(word: &str) -> (&str, &str, &str) {
    let core = word.trim_start_matches('(');
    let (before, _) = word.split_at(word.len() - core.len());
    let own = core.trim_end_matches(ENDS);
    (before, own, &core[own.len()..])
}

/// A word that is a size in inches: a drill's number, a fraction, a decimal without a whole part, or any number before
/// the unit. A multiple of the diameter is none, nor is a thread.
fn inches(core: &str, next: &str, has_unit: bool) -> Option<Length> {
    let is_number = core.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | '/'));
    let is_size = core.starts_with('#')
        || (is_number && core.contains(|c: char| c.is_ascii_digit()))
            && (has_unit || core.contains('/') || core.starts_with('.'));
    let is_multiple = next.trim_end_matches(ENDS) == "D";
    Size::parse(core, Unit::Inch).ok().filter(|_| is_size && !is_multiple).map(|size| size.length)
}
