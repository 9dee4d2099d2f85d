//! `words`: prints the fixed words of the documents in English, which a file of another language begins from.

use std::path::Path;

use anyhow::Result;

use super::project::load_without_texts;
use super::{Console, Outcome};
use crate::phrase;

/// Arguments of `words`.
#[derive(Debug, clap::Args)]
#[command(after_long_help = AFTER)]
pub(super) struct Arguments {
    /// Only the phrases that have no words in the file that the project names
    #[arg(long)]
    missing: bool,
}

const AFTER: &str = "\
Every document prints its fixed words by this list. To print them in another language, begin a file in the folder \
`templates/words` beside build.toml,

    shophead words > templates/words/deutsch.toml

put your words in the place of those behind the equals signs, and write `words = \"deutsch\"` under `[project]`. What you take out \
or leave out prints in English; `shophead check` counts it, and `shophead words --missing` prints it. Your own texts are never touched.";

/// Runs `words`; without `--missing` it needs no project.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    if !arguments.missing {
        console.print(phrase::ENGLISH)?;
        return Ok(Outcome::Clean);
    }
    let project = load_without_texts(project_path)?;
    let has_words = |key: &str| project.language.is_none_or(|language| language.forms(key).is_some());
    let missing = phrase::english().phrases().filter(|(key, _)| !has_words(key));
    let lines: Vec<String> = missing.map(|(key, forms)| phrase::line(key, forms)).collect();
    console.print(&lines.concat())?;
    Ok(Outcome::Clean)
}
