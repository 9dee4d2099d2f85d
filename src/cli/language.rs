//! The language of a project's documents: the file that `words` names, read and judged.
//!
//! It says what is wrong with the file; what right words are is for [`crate::phrase`]. Where there is no file, English is printed.

use std::path::Path;

use anyhow::{Context, Result};

use crate::disk;
use crate::job::Job;
use crate::phrase::{self, Fault, Language, Weight};
use crate::report::{Finding, Report, Severity, fault};
use crate::spec;
use crate::text::{Files, Span};

/// The language that needs no file.
const ENGLISH: &str = "english";

/// Letters of a name.
const LONGEST_NAME: usize = 40;

/// The language of a project, and what is wrong with its file as findings. It is kept to the end of the program.
///
/// # Errors
/// When the file is there and cannot be read.
pub(super) fn load_language(
    job: &Job,
    folder: &Path,
    files: &mut Files,
    report: &mut Report,
) -> Result<Option<&'static Language>> {
    let setting = &job.project.settings.words;
    let name = setting.value.as_str();
    let is_plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
    if name.len() > LONGEST_NAME || !name.chars().all(is_plain) {
        let message = format!("`words` is `{name}`, which is no name of a file of words");
        let help = "small letters, digits and dashes: `words = \"deutsch\"` is templates/words/deutsch.toml";
        report.push(Finding::new(fault::VALUE_INVALID, Severity::Error, setting.span, message).help(help));
        return Ok(None);
    }
    let path = folder.join("templates").join("words").join(format!("{name}.toml"));
    let shown = spec::shown(&path);
    if !path.try_exists().with_context(|| format!("cannot read {shown}"))? {
        if name != ENGLISH {
            let message = format!("`words` is `{name}`, and there is no file {shown}");
            let help = format!("begin one with `shophead words > {shown}`");
            report.push(Finding::new(fault::REFERENCE_DANGLING, Severity::Error, setting.span, message).help(help));
        }
        return Ok(None);
    }
    let text = disk::read_text(&path, disk::TYPED)?;
    let read = phrase::read(&text);
    let file = files.add(shown, text);
    // What an English file leaves out is English all the same.
    let counts = |fault: &Fault| name != ENGLISH || fault.weight != Weight::Missing;
    for fault in read.1.into_iter().filter(counts) {
        let span = Span { file, start: fault.place.start, end: fault.place.end };
        let told = match fault.weight {
            Weight::Unreadable => (fault::SPEC_UNREADABLE, Severity::Error),
            Weight::Wrong => (fault::VALUE_INVALID, Severity::Error),
            Weight::Unknown => (fault::KEY_UNKNOWN, Severity::Warning),
            Weight::Missing => (fault::VALUE_INVALID, Severity::Note),
        };
        report.push(Finding::new(told.0, told.1, span, fault.message).help(fault.help));
    }
    Ok(Some(Box::leak(Box::new(read.0))))
}
