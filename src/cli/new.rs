//! `new`: starts a project, or a traveler with the usual steps for its joints, or adds a list to the project file.
//!
//! Nothing that exists is overwritten, and a traveler that would not check is not written.

mod list;
mod questions;

use std::io::Write;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail, ensure};

use super::project::{LoadedProject, load_project};
use super::{Console, Outcome};
use crate::disk::{self, Disk, Taken};
use crate::job::{Job, resolve};
use crate::report::{Report, render_human};
use crate::spec::{Hand, Paper, load, read_traveler, shown};
use crate::start::{Closing, JointOutline, Outline, PartOutline, ProjectStart, outline_text, project_text, steps_text};
use crate::text::{FileId, Files};

/// Arguments of `new`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, clap::Subcommand)]
enum What {
    /// Start a project: build.toml with every key explained, and an empty specs folder
    Project(ProjectArguments),
    /// Start a traveler from parts and joints: it gets the usual steps of the trade, to be edited
    Traveler(TravelerArguments),
    /// Add a shelf list to build.toml: what lies there and how many pieces; it is shown before it is written
    Stock(list::Arguments),
}

#[derive(Debug, clap::Args)]
struct ProjectArguments {
    /// Folder of the project; made if it is not there
    folder: PathBuf,
    /// Name of the aircraft, as printed on every page
    #[arg(long)]
    name: String,
    /// Builder's serial number
    #[arg(long)]
    serial: Option<String>,
    /// Registration marks
    #[arg(long)]
    registration: Option<String>,
    /// Unit of a bare number
    #[arg(long, default_value = "inch", value_parser = ["inch", "mm"])]
    unit: String,
    /// Paper size
    #[arg(long, default_value = "us-letter", value_parser = clap::builder::PossibleValuesParser::new(Paper::WORDS))]
    paper: String,
}

#[derive(Debug, Clone, clap::Args)]
struct TravelerArguments {
    /// Id of the traveler, as WNG-210; without it, a terminal is asked for everything
    #[arg(conflicts_with = "from")]
    id: Option<String>,
    /// Title on every page
    #[arg(long, conflicts_with = "from")]
    title: Option<String>,
    /// A part: ID:NAME:MATERIAL:THICKNESS
    #[arg(long, value_name = "PART", conflicts_with = "from")]
    part: Vec<PartOutline>,
    /// A joint: ID:PART+PART:CALL:COUNT, then edge distance, preparation or KEY=VALUE
    #[arg(long, value_name = "JOINT", conflicts_with = "from")]
    joint: Vec<JointOutline>,
    /// Hands that are built
    #[arg(long, value_delimiter = ',', conflicts_with = "from", value_parser = clap::builder::PossibleValuesParser::new(Hand::WORDS))]
    hands: Vec<String>,
    /// A drawing: SHEET:REVISION
    #[arg(long, value_name = "DRAWING", conflicts_with = "from")]
    drawing: Vec<String>,
    /// A traveler that must be finished first: it uses the same parts
    #[arg(long, value_name = "TRAVELER", conflicts_with = "from")]
    after: Vec<String>,
    /// A spec with parts and joints and no steps, outside the specs folder: it gets the steps
    #[arg(long, value_name = "FILE")]
    from: Option<PathBuf>,
    /// Space of build.toml that the last step closes
    #[arg(long, value_name = "SPACE")]
    closes: Option<String>,
    /// File to write instead of one named after the id in the specs folder
    #[arg(long, value_name = "FILE")]
    to: Option<PathBuf>,
}

/// Runs `new`.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    match &arguments.what {
        What::Project(own) => start_project(own, console),
        What::Stock(own) => list::stock(project_path, own, console),
        What::Traveler(own) => start_traveler(project_path, own, console),
    }
}

fn start_project(own: &ProjectArguments, console: &mut Console) -> Result<Outcome> {
    let folder = &own.folder;
    let start = ProjectStart {
        name: own.name.clone(),
        serial: own.serial.clone(),
        registration: own.registration.clone(),
        unit: own.unit.clone(),
        paper: own.paper.clone(),
    };
    let text = project_text(&start);
    let (mut files, mut report) = (Files::default(), Report::default());
    let id = files.add("build.toml", text.as_str());
    let _ = crate::spec::read_project(id, &files, &mut report);
    if !report.findings.is_empty() {
        console.print(&render_human(&report, &files, console.colour()))?;
        return Ok(Outcome::ErrorsFound);
    }
    std::fs::create_dir_all(folder.join("specs"))
        .with_context(|| format!("cannot make the folder {}", folder.display()))?;
    let file = folder.join("build.toml");
    write_new(&file, &text, &console.disk())?;
    console.say(&format!("{}  every key with its meaning", shown(&file)))?;
    console.say(&format!("{}  empty: start a traveler with `shophead new traveler`", shown(&folder.join("specs"))))?;
    Ok(Outcome::Clean)
}

/// Writes a file that must not be there yet.
fn write_new(path: &Path, text: &str, disk: &Disk) -> Result<()> {
    Ok(disk.put(path, Taken::Keep, |file| disk.step("write", path, || file.write_all(text.as_bytes())))?)
}

fn start_traveler(project_path: &Path, own: &TravelerArguments, console: &mut Console) -> Result<Outcome> {
    let project = load_project(project_path)?;
    let mut own = own.clone();
    if own.id.is_none() && own.from.is_none() && console.can_ask() {
        questions::ask(&project.job, &mut own, console, |own, console| {
            joint_stands(project_path, own, &project, console)
        })?;
    }
    let own = &own;
    let closing = own.closes.as_deref().map(|space| closing(&project.job, space)).transpose()?;
    let head = head_text(own, &project)?;
    let Some((job, index)) = judged(project_path, &head, false, own, console)? else { return Ok(Outcome::ErrorsFound) };
    let traveler = &job.travelers[index];
    let text = head + &steps_text(traveler, closing.as_ref(), &project.job.project.shop, &project.job.project.style);
    let path = place(&project, own, &traveler.id.value);
    let steps = match judged(project_path, &text, true, own, console)? {
        Some((job, index)) => job.travelers[index].steps.len(),
        None => return Ok(Outcome::ErrorsFound),
    };
    if let Some(folder) = path.parent() {
        std::fs::create_dir_all(folder).with_context(|| format!("cannot make the folder {}", folder.display()))?;
    }
    write_new(&path, &text, &console.disk())?;
    console.say(&format!(
        "{}  {steps} steps: edit them, then `shophead check` and `shophead packet {}`",
        shown(&path),
        traveler.id.value
    ))?;
    Ok(Outcome::Clean)
}

/// The space that the last step closes.
fn closing(job: &Job, space: &str) -> Result<Closing> {
    let spaces: Vec<&str> = job.project.spaces.iter().map(|own| own.id.value.as_str()).collect();
    let found = spaces.iter().position(|id| *id == space);
    let index = found
        .with_context(|| format!("there is no space {space} in build.toml; its spaces are: {}", spaces.join(", ")))?;
    Ok(Closing::of(job, index))
}

/// The text up to the steps: from the words of the command line, or as the builder wrote it.
fn head_text(own: &TravelerArguments, project: &LoadedProject) -> Result<String> {
    if let Some(from) = &own.from {
        let text = disk::read_text(from, disk::TYPED)?;
        return Ok(text.trim_end().to_owned() + "\n");
    }
    let outline = Outline {
        id: own.id.clone().context("without --from a traveler is given its id")?,
        title: own.title.clone().context("without --from a traveler is given its title")?,
        hands: own.hands.clone(),
        drawings: own.drawing.clone(),
        after: own.after.clone(),
        parts: own.part.clone(),
        joints: own.joint.clone(),
    };
    Ok(outline_text(&outline, &project.job.project.shop, &project.job.project.style))
}

/// Where the traveler goes.
fn place(project: &LoadedProject, own: &TravelerArguments, id: &str) -> PathBuf {
    let plain: String = id.chars().map(|c| if c.is_alphanumeric() { c.to_ascii_lowercase() } else { '-' }).collect();
    let specs = project.folder_of(&project.job.project.settings.specs.value);
    own.to.clone().unwrap_or_else(|| specs.join(format!("{}.toml", plain.trim_matches('-'))))
}

/// A text as a traveler of the project.
struct Judged {
    report: Report,
    files: Files,
    file: FileId,
    /// The project with the traveler in it, and the traveler's index; nothing where the text has errors.
    found: Option<(Job, usize)>,
}

/// Reads a text as a traveler of the project.
///
/// A text that is not complete has no steps and is only resolved; a complete one is judged by every rule.
fn judge(project_path: &Path, text: &str, complete: bool, own: &TravelerArguments) -> Result<Judged> {
    let path = if project_path.is_dir() { project_path.join("build.toml") } else { project_path.to_path_buf() };
    let (mut files, mut report) = (Files::default(), Report::default());
    let mut spec = load(&path, &mut files, &mut report)?;
    let name = own.from.as_ref().map_or_else(|| "the new traveler".to_owned(), |from| shown(from));
    let file = files.add(name, text);
    let Some(new) = read_traveler(file, &spec.project, &files, &mut report) else {
        return Ok(Judged { report, files, file, found: None });
    };
    if let Some(existing) = spec.travelers.iter().find(|traveler| traveler.traveler.id.value == new.traveler.id.value) {
        bail!("there is a traveler {} already, in {}", new.traveler.id.value, files.path(existing.span.file));
    }
    ensure!(
        complete || new.steps.is_empty(),
        "{} has steps already: only a spec without steps gets the usual ones",
        new.traveler.id.value
    );
    spec.travelers.push(new);
    let job = resolve(spec, &mut report);
    if complete {
        crate::rules::check(&job, &mut report);
    }
    report.findings.retain(|finding| finding.span.file == file);
    let index = job.travelers.len() - 1;
    let found = (!report.stops()).then_some((job, index));
    Ok(Judged { report, files, file, found })
}

/// The project with a traveler of this text in it, and the traveler's index; nothing where the text has errors. What
/// was found is printed, of an incomplete text only what stops it.
fn judged(
    project_path: &Path,
    text: &str,
    complete: bool,
    own: &TravelerArguments,
    console: &mut Console,
) -> Result<Option<(Job, usize)>> {
    let judged = judge(project_path, text, complete, own)?;
    if complete || judged.found.is_none() {
        print_own(judged.report, &judged.files, judged.file, console)?;
    }
    Ok(judged.found)
}

/// Says what speaks against the newest joint of a traveler that is being put together; whether nothing stops it.
fn joint_stands(
    project_path: &Path,
    own: &TravelerArguments,
    project: &LoadedProject,
    console: &mut Console,
) -> Result<bool> {
    let Some(joint) = own.joint.last() else { return Ok(true) };
    let head = head_text(own, project)?;
    let mut judged = judge(project_path, &head, false, own)?;
    if let Some((job, index)) = &judged.found {
        let steps = steps_text(&job.travelers[*index], None, &job.project.shop, &job.project.style);
        judged = judge(project_path, &(head + &steps), true, own)?;
    }
    judged.report.findings.retain(|finding| finding.place.joint.as_deref() == Some(joint.id()));
    let stands = !judged.report.stops();
    if judged.report.findings.is_empty() {
        console.say(&format!("{}: nothing speaks against it", joint.id()))?;
    } else {
        print_own(judged.report, &judged.files, judged.file, console)?;
    }
    Ok(stands)
}

/// Prints what was found in one file.
fn print_own(mut report: Report, files: &Files, file: FileId, console: &mut Console) -> Result<()> {
    report.findings.retain(|finding| finding.span.file == file);
    report.travelers = 1;
    report.unjudged.clear();
    if report.findings.is_empty() {
        return Ok(());
    }
    report.sort(files);
    console.print(&render_human(&report, files, console.colour()))
}
