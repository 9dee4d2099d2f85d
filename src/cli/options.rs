//! Options that several commands share: where and in what form a document goes out, the moment it is for, the time of an
//! entry.
//!
//! A command flattens them into its own arguments, so that an option has one name, one help text and one meaning.

use std::path::{Path, PathBuf};

use anyhow::{Context, Result};
use clap::ValueEnum;
use serde::Serialize;

use super::current_work::CurrentWork;
use super::output::{print_page_data, write_pdf};
use super::project::LoadedProject;
use super::time::{entry_time, page_time, typed_day};
pub(super) use super::typed_text::on_paper;
use super::{Console, Outcome};
use crate::calendar::{Day, Moment};
use crate::phrase::Spoken;
use crate::plan::{Document, Edition};

/// `--output`.
#[derive(Debug, Clone, clap::Args)]
pub(super) struct OutputOption {
    /// Folder for PDFs instead of the project's output folder
    #[arg(long, value_name = "DIR")]
    output: Option<PathBuf>,
}

impl OutputOption {
    /// The folder, made where it is missing.
    pub fn folder(&self, project: &LoadedProject) -> Result<PathBuf> {
        let folder =
            self.output.clone().unwrap_or_else(|| project.folder_of(&project.job.project.settings.output.value));
        std::fs::create_dir_all(&folder).with_context(|| cannot_make(&folder))?;
        Ok(folder)
    }
}

fn cannot_make(folder: &Path) -> String {
    format!("cannot make the output folder {}", folder.display())
}

/// `--now`.
#[derive(Debug, Clone, clap::Args)]
pub(super) struct NowOption {
    /// The moment, as 2026-03-02T18:00 by your own clock
    #[arg(long, value_name = "MOMENT")]
    now: Option<String>,
}

impl NowOption {
    /// The moment typed, or now.
    pub fn moment(&self, console: &mut Console) -> Result<Moment> {
        page_time(self.now.as_deref(), console)
    }
}

/// The forms of a document.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum DocumentForm {
    /// A PDF in the output folder
    Pdf,
    /// JSON on standard output
    Json,
}

/// `--large`.
#[derive(Debug, Clone, clap::Args)]
pub(super) struct LargeOption {
    /// Print in type a quarter larger; figures keep their scale
    #[arg(long)]
    large: bool,
}

impl LargeOption {
    /// An edition in the type that was asked for.
    pub const fn edition(&self, edition: Edition) -> Edition {
        Edition { large: self.large, ..edition }
    }

    /// A document in the type that was asked for.
    pub fn set(&self, document: Document) -> Document {
        Document { edition: self.edition(document.edition), ..document }
    }
}

/// `--format`, `--output` and `--large` of a command that makes one document and nothing else.
#[derive(Debug, clap::Args)]
pub(super) struct DocumentOptions {
    /// A PDF in the output folder, or the data behind it in full
    #[arg(long, value_enum, default_value_t = DocumentForm::Pdf)]
    pub format: DocumentForm,
    #[command(flatten)]
    pub output: OutputOption,
    #[command(flatten)]
    pub large: LargeOption,
}

impl DocumentOptions {
    /// Speaks the project's language for a document on paper, as long as the result lives. Data is in English.
    pub fn speak(&self, project: &LoadedProject) -> Option<Spoken> {
        (self.format == DocumentForm::Pdf).then(|| project.speak())
    }

    /// Writes the document of some data, or prints the data; errors in the project make the run end with errors.
    pub fn put_out<Data: Serialize>(
        &self,
        data: &Data,
        document: impl FnOnce(&Data) -> Document,
        current: &CurrentWork,
        console: &mut Console,
    ) -> Result<Outcome> {
        match self.format {
            DocumentForm::Json => print_page_data(data, current, console)?,
            DocumentForm::Pdf => {
                let document = self.large.set(document(data));
                write_pdf(current, &document, &self.output.folder(&current.project)?, console)?;
            }
        }
        Ok(Outcome::of(current.project.report.stops()))
    }
}

/// `--entered`.
#[derive(Debug, Clone, clap::Args)]
pub(super) struct EnteredOption {
    /// Time of the entry, as 2026-03-02T18:00, instead of the clock's
    #[arg(long, value_name = "TIME")]
    entered: Option<String>,
    /// Why that time stands although it lies before the last entry or is odd
    #[arg(long, value_name = "REASON", value_parser = on_paper)]
    time_because: Option<String>,
}

impl EnteredOption {
    /// Why a time stands that is asked about.
    pub fn because(&self) -> Option<String> {
        self.time_because.clone()
    }

    /// The time typed, or now.
    pub fn time(&self, console: &mut Console) -> Result<Moment> {
        entry_time(self.entered.as_deref(), console)
    }
}

/// `--on` and `--entered` of a command that records something that happens on a day.
#[derive(Debug, Clone, clap::Args)]
pub(super) struct EntryOptions {
    /// The day, as 2026-03-02, instead of today
    #[arg(long, value_name = "DAY")]
    on: Option<String>,
    #[command(flatten)]
    entered: EnteredOption,
}

impl EntryOptions {
    /// Why a time stands that is asked about.
    pub fn because(&self) -> Option<String> {
        self.entered.because()
    }

    /// The day and the time of entry: typed, or of the clock.
    pub fn day_and_time(&self, console: &mut Console) -> Result<(Day, Moment)> {
        let time = self.entered.time(console)?;
        let typed = self.on.as_deref().map(|text| typed_day("--on", text)).transpose()?;
        Ok((typed.unwrap_or(time.day()), time))
    }
}
