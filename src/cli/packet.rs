//! `packet`: checks, then writes traveler PDFs to the output folder.
//!
//! A traveler with errors is not printed and the others are; `--draft` prints it without boxes.

use std::path::{Path, PathBuf};

use anyhow::{Context, Result, ensure};

use super::opened::{Opened, open};
use super::progress::Progress;
use super::{Console, Outcome, watch};
use crate::plan::{self, Document, Options};
use crate::render::{self, Failure, Printed, Templates};
use crate::report::{Finding, Report, Severity, render_human};
use crate::spec::nearest;

/// Arguments of `packet`.
#[derive(Debug, Clone, clap::Args)]
pub(super) struct Arguments {
    /// Travelers to print; without one, all are printed
    pub traveler: Vec<String>,
    /// Print despite errors: with a watermark and without any box to sign
    #[arg(long)]
    draft: bool,
    /// Folder for the PDFs instead of the project's output folder
    #[arg(long, value_name = "DIR")]
    output: Option<PathBuf>,
    /// Print again whenever a spec, the project file or a template is saved, until interrupted
    #[arg(long)]
    watch: bool,
}

/// Runs `packet`.
pub(super) fn run(project: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    if arguments.watch { watch::keep_printing(project, arguments, console) } else { print_once(project, arguments, console) }
}

/// Checks and prints what was asked for.
pub(super) fn print_once(project: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let opened = open(project)?;
    let chosen = choose(&opened, &arguments.traveler)?;
    report_findings(&opened, console)?;
    let templates = load_templates(&opened.folder)?;
    let output = arguments.output.clone().unwrap_or_else(|| opened.folder_of(&opened.job.project.settings.output));
    std::fs::create_dir_all(&output).with_context(|| format!("cannot make the output folder {}", output.display()))?;
    let options = Options { draft: arguments.draft, ..Options::default() };
    let (documents, refused) = plan_all(&opened, &chosen, options, &output, console);
    let failed = print_all(&documents, &templates, &output, console)?;
    Ok(Outcome::of(refused || failed || opened.job.unread > 0))
}

/// The travelers named on the command line, in the project's order.
fn choose(opened: &Opened, names: &[String]) -> Result<Vec<usize>> {
    let ids: Vec<&str> = opened.job.travelers.iter().map(|traveler| traveler.id.value.as_str()).collect();
    for name in names {
        let near = nearest(name, ids.iter().copied()).map_or_else(String::new, |near| format!("; did you mean {near}?"));
        ensure!(ids.contains(&name.as_str()), "there is no traveler {name}{near}");
    }
    Ok((0..ids.len()).filter(|index| names.is_empty() || names.iter().any(|name| name == ids[*index])).collect())
}

/// Says on standard output what `check` would say, without notes and what is allowed; a clean project says nothing here.
pub(super) fn report_findings(opened: &Opened, console: &mut Console) -> Result<()> {
    let weighs = |finding: &&Finding| finding.allowed.is_none() && finding.severity != Severity::Note;
    let findings = opened.report.findings.iter().filter(weighs).cloned().collect();
    let report = Report { findings, travelers: opened.report.travelers, ..Report::default() };
    if report.findings.is_empty() {
        return Ok(());
    }
    let text = render_human(&report, &opened.files, console.colour());
    console.print(&text)
}

pub(super) fn load_templates(folder: &Path) -> Result<Templates> {
    let own = folder.join("templates");
    Ok(Templates::load(own.is_dir().then_some(own.as_path()))?)
}

/// Plans every chosen traveler; says which are refused and whether an older PDF of theirs is still there.
fn plan_all(opened: &Opened, chosen: &[usize], options: Options, output: &Path, console: &mut Console) -> (Vec<Document>, bool) {
    let mut documents = Vec::new();
    let mut refused = false;
    for index in chosen {
        match plan::packets(&opened.job, *index, &opened.report, &options) {
            Ok(packets) => documents.extend(packets.iter().map(plan::Packet::document)),
            Err(reason) => {
                refused = true;
                console.complain(&reason.to_string());
                warn_of_older(opened, *index, output, console);
            }
        }
    }
    (documents, refused)
}

/// An older PDF of a refused traveler would look current on the bench.
fn warn_of_older(opened: &Opened, index: usize, output: &Path, console: &mut Console) {
    let draft = Options { draft: true, ..Options::default() };
    let packets = plan::packets(&opened.job, index, &opened.report, &draft).unwrap_or_default();
    for packet in packets {
        let path = output.join(format!("{}.pdf", packet.stem().trim_end_matches("-draft")));
        if path.exists() {
            console.complain(&format!("{} is from an earlier run: do not work from it", path.display()));
        }
    }
}

/// Prints documents in parallel and writes each as soon as it is done; says whether any failed.
fn print_all(documents: &[Document], templates: &Templates, output: &Path, console: &mut Console) -> Result<bool> {
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    let progress = Progress::start(documents.len(), console.live());
    let results = render::render_many(documents, templates, threads, |index, printed| {
        progress.step(&documents[index].stem);
        write_one(&documents[index], printed, output)
    });
    progress.finish();
    let mut failed = false;
    for result in results {
        match result {
            Ok(line) => console.say(&line)?,
            Err(failure) => {
                failed = true;
                console.complain(&format!("{failure:#}"));
            }
        }
    }
    Ok(failed)
}

/// Writes one PDF under its final name only once it is whole.
pub(super) fn write_one(document: &Document, printed: Result<Printed, Failure>, output: &Path) -> Result<String> {
    let printed = printed.with_context(|| format!("{} cannot be printed", document.stem))?;
    let path = output.join(format!("{}.pdf", document.stem));
    let partial = output.join(format!(".{}.pdf.part", document.stem));
    std::fs::write(&partial, &printed.pdf).with_context(|| format!("cannot write {}", partial.display()))?;
    std::fs::rename(&partial, &path).with_context(|| format!("cannot write {}", path.display()))?;
    let pages = if printed.pages == 1 { "1 page".to_owned() } else { format!("{} pages", printed.pages) };
    let code = document.code.as_deref().map_or_else(String::new, |code| format!(", sheet code {code}"));
    Ok(format!("{}  {pages}{code}", path.display()))
}
