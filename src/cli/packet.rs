//! `packet`: checks, then writes traveler PDFs to the output folder.
//!
//! A traveler with errors is not printed and the others are; `--draft` prints it without boxes.

use std::path::Path;

use anyhow::Result;

use super::current_work::{CurrentWork, load_current_work, load_work_to_record};
use super::issue::{Press, Printing, SameRevision, add_to, carried_imports};
use super::options::{EntryOptions, OutputOption};
use super::output::{Written, load_templates, print_all};
use super::print_options::PrintOptions;
use super::project::LoadedProject;
use super::project_archive::ProjectArchive;
use super::selection::{Selected, Selection, select_packets};
use super::{Console, Outcome, watch};
use crate::archive::{Carried, Issue, NewPosting, SheetRequirement};
use crate::calendar::{Day, Moment};
use crate::job::{Hand, PrintKind, packet_stem};
use crate::plan::{self, AtPrinting, Document, Options, Packet, Refused, Signed, Source};
use crate::report::{Finding, Report, Severity, render_human};
use crate::work;

/// Arguments of `packet`.
#[derive(Debug, Clone, clap::Args)]
#[command(mut_arg("on", |on| on.requires("issue")), mut_arg("entered", |entered| entered.requires("issue")))]
pub(super) struct Arguments {
    #[command(flatten)]
    pub selection: Selection,
    #[command(flatten)]
    print: PrintOptions,
    /// Print despite errors: with a watermark and without any box to sign
    #[arg(long, conflicts_with = "issue")]
    draft: bool,
    /// Print for signing: record the sheets in the archive
    #[arg(long)]
    issue: bool,
    #[command(flatten)]
    same_revision: SameRevision,
    #[command(flatten)]
    entry: EntryOptions,
    #[command(flatten)]
    output: OutputOption,
    /// Print again whenever a spec, the project file or a template is saved, until interrupted
    #[arg(long)]
    watch: bool,
}

/// Runs `packet`.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    if arguments.watch {
        watch::keep_printing(project_path, arguments, console)
    } else {
        print_once(project_path, arguments, console)
    }
}

/// Checks and prints what was asked for; then records what was printed for signing, all in one go.
pub(super) fn print_once(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let when = arguments.entry.day_and_time(console)?;
    let today = when.1.day();
    if !arguments.issue {
        return Ok(print(&load_current_work(project_path, today, console)?, arguments, None, console)?.0);
    }
    let mut current = load_work_to_record(project_path, today, console)?;
    let (outcome, posting) = print(&current, arguments, Some(when), console)?;
    // Where nothing may be issued, no archive is begun.
    if let Some(posting) = posting.filter(|posting| !posting.entries.is_empty()) {
        current.archive.record(&current.project, posting, console)?;
    }
    Ok(outcome)
}

/// Checks and prints; gives what is to be recorded of it where that was asked for.
fn print(
    current: &CurrentWork,
    arguments: &Arguments,
    when: Option<(Day, Moment)>,
    console: &mut Console,
) -> Result<(Outcome, Option<NewPosting<'static>>)> {
    let CurrentWork { project, order, state, archive, .. } = current;
    let selected = select_packets(current, &arguments.selection, console)?;
    report_findings(project, console)?;
    let spoken = project.speak();
    let mut templates = load_templates(&project.folder, console)?;
    templates.show_pictures(project.pictures.clone());
    let output = arguments.output.folder(project)?;
    // The first sheet that is issued makes an archive, and from then on only the archive says what is done.
    let begins = when.is_some() && !archive.store.exists();
    let recorded = begins.then(|| work::work_state(&project.job, &archive.state, state.clone()));
    let work = AtPrinting::of(&project.job, order, recorded.as_ref().unwrap_or(state));
    let mut run = Run { project, archive, work, output: &output, refused: false };
    let mut planned =
        run.plan_all(&selected, arguments.print.options(arguments.draft), when.map(|(day, _)| day), console);
    let refused = run.refused;
    if when.is_some() {
        let printings = planned.iter_mut().flat_map(|planned| &mut planned.printings);
        arguments.same_revision.require(&archive.state, printings, console)?;
    }
    let documents: Vec<Document> = planned.iter().map(|planned| planned.document.clone()).collect();
    let written = print_all(&documents, &templates, &output, console)?;
    drop(spoken);
    let failed = written.iter().any(Option::is_none);
    let outcome = Outcome::of(refused || failed || project.job.unread > 0);
    let Some((day, entered)) = when else { return Ok((outcome, None)) };
    let mut posting = NewPosting { because: arguments.entry.because(), ..NewPosting::at(entered) };
    let press = Press { project, templates: &templates, archive };
    issue_all(&mut posting, &press, &planned, written, day, console)?;
    Ok((outcome, Some(posting)))
}

/// A packet that is about to be printed, and how it would be issued.
pub(super) struct Planned {
    /// The document.
    pub document: Document,
    /// How its sheets are issued, of both hands two; none where it may not be.
    pub printings: Vec<Printing>,
}

/// Says on standard output what `check` would say, without notes and what is allowed; a clean project says nothing here.
pub(super) fn report_findings(project: &LoadedProject, console: &mut Console) -> Result<()> {
    let weighs = |finding: &&Finding| finding.allowed.is_none() && finding.severity != Severity::Note;
    let findings = project.report.findings.iter().filter(weighs).cloned().collect();
    let report = Report { findings, travelers: project.report.travelers, ..Report::default() };
    if report.findings.is_empty() {
        return Ok(());
    }
    let text = render_human(&report, &project.files, console.colour());
    console.print(&text)
}

/// What planning needs.
struct Run<'a> {
    project: &'a LoadedProject,
    archive: &'a ProjectArchive,
    work: AtPrinting<'a>,
    output: &'a Path,
    refused: bool,
}

impl Run<'_> {
    /// Plans every chosen traveler; says which are refused and whether an older PDF of theirs is still there.
    fn plan_all(
        &mut self,
        selected: &[Selected],
        options: Options,
        day: Option<Day>,
        console: &mut Console,
    ) -> Vec<Planned> {
        let mut planned = Vec::new();
        let mut refused = Vec::new();
        for one in selected {
            match self.plan(one, options, day, console) {
                Ok(one) => {
                    // A sheet that cannot be issued is a refusal only where it was to be issued.
                    self.refused = self.refused || (one.printings.is_empty() && day.is_some());
                    planned.push(one);
                }
                // Both hands of a traveler are refused for the same reason.
                Err(_) if refused.contains(&one.index) => {}
                Err(reason) => {
                    refused.push(one.index);
                    console.complain(&reason.to_string());
                    warn_of_older(self.project, one.index, self.output, console);
                }
            }
        }
        self.refused = self.refused || !refused.is_empty();
        planned
    }

    /// Plans a packet by what the archive says of its sheets, and says how they would be issued.
    fn plan(
        &self,
        selected: &Selected,
        options: Options,
        day: Option<Day>,
        console: &mut Console,
    ) -> Result<Planned, Refused> {
        let options = Options { steps: selected.run, ..options };
        let own = self.ask(selected.index, selected.hand, console);
        let Some(hand) = selected.other else {
            let packet = plan::packet(self.source(&own, options, day))?;
            return Ok(planned(&packet, [own]));
        };
        let other = self.ask(selected.index, Some(hand), console);
        let packet = plan::packet_of_both(self.source(&own, options, day), self.source(&other, options, day))?;
        Ok(planned(&packet, [own, other]))
    }

    /// What the archive says of the sheet of a traveler and hand.
    fn ask(&self, index: usize, hand: Option<Hand>, console: &mut Console) -> Asked<'_> {
        let state = &self.archive.state;
        let sheet = work::sheet_to_print(&self.project.job, state, index, hand);
        let stands = match state.in_force(&sheet.packet()) {
            Some(issue) if issue.issued.sheet == sheet.code() => Stands::InForce(issue),
            Some(issue) => {
                let place = sheet.packet();
                let old = issue.issued.sheet;
                console.complain(&format!(
                    "{place}: sheet {old} is in force and requires something else; `shophead change` tells what becomes of it"
                ));
                Stands::Otherwise
            }
            None => Stands::New(carried_imports(&self.project.job, state, index, &sheet)),
        };
        Asked { index, sheet, stands }
    }

    fn source<'s>(&'s self, asked: &'s Asked<'s>, options: Options, day: Option<Day>) -> Source<'s> {
        let state = &self.archive.state;
        let (signed, date) = match &asked.stands {
            Stands::InForce(issue) => (Signed::InForce(state, issue), Some(issue.issued.printed)),
            Stands::New(carried) => (Signed::Carried(state, carried), day),
            Stands::Otherwise => (Signed::Nothing, None),
        };
        let options = Options { date, ..options };
        let specs = Source::of_specs(&self.project.job, asked.index, asked.sheet.hand, &self.project.report, options);
        Source { work: Some(&self.work), signed, requirement: Some(&asked.sheet), ..specs }
    }
}

/// A sheet that is to be printed, and how it stands to what is in force.
struct Asked<'a> {
    index: usize,
    sheet: SheetRequirement,
    stands: Stands<'a>,
}

/// How a sheet stands to what is in force.
enum Stands<'a> {
    /// It is in force.
    InForce(&'a Issue),
    /// Another is.
    Otherwise,
    /// None is; signatures from before the archive go on.
    New(Vec<Carried>),
}

/// A packet that is to be printed; one with a sheet that may not be issued is not issued at all.
fn planned<const N: usize>(packet: &Packet, sheets: [Asked<'_>; N]) -> Planned {
    let may = sheets.iter().all(|own| !matches!(own.stands, Stands::Otherwise));
    let printing = |own: Asked<'_>| {
        let carried = if let Stands::New(carried) = own.stands { carried } else { Vec::new() };
        Printing {
            index: own.index,
            sheet: own.sheet,
            supersedes: None,
            carried,
            kept: Vec::new(),
            same_revision: None,
        }
    };
    let printings = if may { sheets.into_iter().map(printing).collect() } else { Vec::new() };
    Planned { document: packet.document(), printings }
}

/// Adds every packet that was printed and may be issued to what is recorded, in their order; says which need not be.
pub(super) fn issue_all(
    posting: &mut NewPosting<'_>,
    press: &Press<'_>,
    planned: &[Planned],
    written: Vec<Option<Written>>,
    day: Day,
    console: &mut Console,
) -> Result<()> {
    for (planned, written) in planned.iter().zip(written) {
        let Some(written) = written else { continue };
        for printing in &planned.printings {
            if let Some(line) = add_to(posting, press, printing, &written, day)? {
                console.say(&line)?;
            }
        }
    }
    Ok(())
}

/// An older PDF of a refused traveler would look current on the bench.
fn warn_of_older(project: &LoadedProject, index: usize, output: &Path, console: &mut Console) {
    let draft = Options { draft: true, ..Options::default() };
    // A draft is not refused; where it were, there would be no name to look for.
    let packets = plan::packets(&project.job, index, &project.report, &draft).unwrap_or_default();
    let own = packets.iter().map(|packet| packet.stem().trim_end_matches("-draft").to_owned());
    let traveler = &project.job.travelers[index];
    let hands: Vec<Hand> = traveler.hands.iter().map(|hand| hand.value).collect();
    let both = packet_stem(&traveler.id.value, &hands, None, PrintKind::default());
    for stem in own.chain((hands.len() > 1).then_some(both)) {
        let path = output.join(format!("{stem}.pdf"));
        if path.exists() {
            console.complain(&format!("{} is from an earlier run: do not work from it", path.display()));
        }
    }
}
