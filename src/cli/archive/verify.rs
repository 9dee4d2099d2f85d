//! `archive verify`: reads every file of the archive and says exactly what is not as it was archived.

use std::path::Path;

use anyhow::Result;
use serde_json::json;

use crate::archive::{Archive, Posted};
use crate::cli::output::print_data;
use crate::cli::project::load_without_texts;
use crate::cli::{Console, Format, Outcome};

/// Arguments of `archive verify`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// How the result is printed
    #[arg(long, value_enum, default_value_t = Format::Human)]
    format: Format,
    /// An archive's folder instead of the project's: a copy, a backup
    #[arg(long, value_name = "DIR")]
    folder: Option<std::path::PathBuf>,
    /// SHA-256 that the archive ended with once, as a build record, this command or a copy of head.txt tells it: is all that
    /// was recorded until then as it was?
    #[arg(long, value_name = "SHA-256")]
    against: Option<String>,
}

/// Runs `archive verify`; what is unfinished is told and is no damage.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let archive = if let Some(folder) = &arguments.folder {
        Archive::at(folder)
    } else {
        let project = load_without_texts(project_path)?;
        Archive::at(project.folder_of(&project.job.project.settings.archive.value))
    };
    anyhow::ensure!(archive.exists(), "there is no archive at {}", archive.root().display());
    let survey = archive.verify()?;
    let last = survey.last();
    let against = arguments.against.as_deref();
    let end = against.map(|written| anyhow::Ok(survey.posted(written).map_err(anyhow::Error::msg)?.ok_or(written)));
    let end = end.transpose()?;
    let digest = last.last.map_or_else(|| "none".to_owned(), |digest| digest.hex());
    if arguments.format == Format::Json {
        let flaws: Vec<_> = survey
            .flaws
            .iter()
            .map(|flaw| json!({ "path": flaw.path, "kind": flaw.kind.word(), "message": flaw.message }))
            .collect();
        let mut value = json!({ "entries": last.entries, "last": digest, "sound": survey.sound, "whole": survey.is_whole(), "flaws": flaws });
        if let Some(end) = &end {
            value["against"] = json!(end.as_ref().ok().map(|posted| posted.last.0));
        }
        print_data(&value, console)?;
    } else {
        for flaw in &survey.flaws {
            console.say(&flaw.to_string())?;
        }
        let state = if survey.is_whole() { "whole" } else { "DAMAGED" };
        console.say(&format!(
            "{}: {state}; {} files as archived, {} entries, the last {digest}",
            archive.root().display(),
            survey.sound,
            last.entries
        ))?;
        match &end {
            Some(Ok(Posted { last, entered, .. })) => console.say(&format!(
                "as of {entered}, entry {last} being the last: every file until then is the one that was recorded then"
            ))?,
            Some(Err(written)) => console.say(&format!(
                "nothing in this archive has the SHA-256 {written}: it was rewritten since, or is another archive"
            ))?,
            None => {}
        }
    }
    Ok(Outcome::of(!survey.is_whole() || end.is_some_and(|end| end.is_err())))
}
