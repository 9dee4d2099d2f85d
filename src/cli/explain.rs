//! `explain`: prints the page of a rule, or the list of all rules.

use std::path::Path;

use anyhow::{Result, bail};

use super::{Console, Outcome};
use crate::rules;
use crate::spec::nearest;

/// Arguments of `explain`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Name of the rule; without one, all rules are listed
    rule: Option<String>,
}

/// Runs `explain`; it needs no project.
pub(super) fn run(_: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
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
    console.print(&rule.page_text())?;
    Ok(Outcome::Clean)
}
