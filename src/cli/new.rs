//! `new`: starts a project, or a traveler from its parts and joints, or adds a list to the project file.
//!
//! Nothing that exists is overwritten, and a traveler that would not check is not written.

mod list;
mod questions;

use std::io::Write;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail, ensure};

use super::project::{LoadedProject, load_project};
use super::schema::{File, editor_line, write_schemas};
use super::{Console, Outcome};
use crate::disk::{self, Disk, Taken};
use crate::job::{Job, resolve};
use crate::report::{Report, render_human};
use crate::spec::{Hand, Paper, load, read_traveler, shown};
use crate::start::{
    JointOutline, Outline, PartOutline, ProjectStart, drawings_text, joint_help, outline_text, project_text,
};
use crate::text::Files;

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
    /// Start a traveler from parts and joints: its steps follow from them
    Traveler(TravelerArguments),
    /// Add a shelf list to build.toml: what lies there and how many pieces; it is shown before it is written
    Stock(list::Arguments),
    /// Add a kit's packing list to build.toml: the parts of the whole build; it is shown before it is written
    Parts(list::Arguments),
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
    #[arg(requires = "title")]
    id: Option<String>,
    /// Title on every page
    #[arg(long, requires = "id")]
    title: Option<String>,
    /// A part: ID:NAME:MATERIAL:THICKNESS, or the id of a part of build.toml
    #[arg(long, value_name = "PART", requires = "id")]
    part: Vec<String>,
    #[arg(long, value_name = "JOINT", requires = "id", help = joint_help())]
    joint: Vec<String>,
    /// The parts, as they were typed or answered
    #[arg(skip)]
    parts: Vec<PartOutline>,
    /// The joints, as they were typed or answered
    #[arg(skip)]
    joints: Vec<JointOutline>,
    /// Hands that are built
    #[arg(long, value_delimiter = ',', value_parser = clap::builder::PossibleValuesParser::new(Hand::WORDS))]
    hands: Vec<String>,
    /// A drawing: SHEET:REVISION; a sheet that is not in the register yet is added to it
    #[arg(long, value_name = "DRAWING")]
    drawing: Vec<String>,
    /// A traveler that must be finished first: it uses the same parts
    #[arg(long, value_name = "TRAVELER")]
    after: Vec<String>,
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
        What::Parts(own) => list::parts(project_path, own, console),
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
    // Its schema is written once it is known that there was no project.
    write_new(&file, &format!("#:schema ./schemas/project.json\n{text}"), &console.disk())?;
    write_schemas(folder, &console.disk())?;
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
    let of_project = &project.job.project;
    own.parts = own.part.iter().map(|text| PartOutline::read(text, of_project)).collect::<Result<_, _>>()?;
    own.joints = own.joint.iter().map(|text| JointOutline::read(text, of_project)).collect::<Result<_, _>>()?;
    if own.id.is_none() && console.can_ask() {
        questions::ask(&project.job, &mut own, console, |own, console| {
            joint_stands(project_path, own, &project, console)
        })?;
    }
    if let Some(space) = &own.closes {
        ensure_space(&project.job, space)?;
    }
    let unregistered = unregistered(&own, &project.job);
    let mut judged = judge(project_path, &text_of(&own, &project)?)?;
    // What is about to be added to the register is not missing there.
    let is_added = |sheet: &String| unregistered.iter().any(|(own, _)| own == sheet);
    judged.report.findings.retain(|own| !own.missing.as_ref().is_some_and(|(_, sheet)| is_added(sheet)));
    let path = place(&project, &own, &judged.id);
    judged.print(console)?;
    if judged.report.stops() {
        return Ok(Outcome::ErrorsFound);
    }
    if let Some(folder) = path.parent() {
        std::fs::create_dir_all(folder).with_context(|| format!("cannot make the folder {}", folder.display()))?;
    }
    ensure!(path.symlink_metadata().is_err(), "{} is there already and is left as it is", shown(&path));
    register(&project, &unregistered, console)?;
    let line = editor_line(&project.folder, &path, File::Traveler);
    write_new(&path, &format!("{line}{}", judged.text), &console.disk())?;
    let Judged { id, steps, .. } = &judged;
    console.say(&format!(
        "{}  its {steps} steps follow from parts and joints: `shophead steps {id}` lists them, next is `shophead packet {id}`",
        shown(&path),
    ))?;
    Ok(Outcome::Clean)
}

/// Sheets of the traveler that the register does not have, with their revisions; one without a revision stays missing.
fn unregistered(own: &TravelerArguments, job: &Job) -> Vec<(String, String)> {
    let known = |sheet: &str| job.project.drawings.iter().any(|drawing| drawing.sheet.value == sheet);
    let mut sheets: Vec<(String, String)> = Vec::new();
    for drawing in &own.drawing {
        let Some((sheet, revision)) = drawing.split_once(':') else { continue };
        let entry = (sheet.trim().to_owned(), revision.trim().to_owned());
        let is_written = !entry.0.is_empty() && !entry.1.is_empty();
        if is_written && !known(&entry.0) && !sheets.iter().any(|(other, _)| *other == entry.0) {
            sheets.push(entry);
        }
    }
    sheets
}

/// Adds sheets to the drawing register, and says so.
fn register(project: &LoadedProject, sheets: &[(String, String)], console: &mut Console) -> Result<()> {
    if sheets.is_empty() {
        return Ok(());
    }
    let before = disk::read_text(&project.file, u64::MAX)?;
    let after = format!("{}\n{}", before.trim_end(), drawings_text(sheets));
    let disk = console.disk();
    disk.put(&project.file, Taken::Replace, |out| {
        disk.step("write", &project.file, || out.write_all(after.as_bytes()))
    })?;
    for (sheet, revision) in sheets {
        console.say(&format!(
            "{}  drawing {sheet} revision {revision} added to the register; add its title and date",
            shown(&project.file)
        ))?;
    }
    Ok(())
}

/// Refuses a space that the project does not have.
fn ensure_space(job: &Job, space: &str) -> Result<()> {
    let spaces: Vec<&str> = job.project.spaces.iter().map(|own| own.id.value.as_str()).collect();
    ensure!(spaces.contains(&space), "there is no space {space} in build.toml; its spaces are: {}", spaces.join(", "));
    Ok(())
}

/// The text of the traveler from the words of the command line, or from answers.
fn text_of(own: &TravelerArguments, project: &LoadedProject) -> Result<String> {
    let outline = Outline {
        id: own.id.clone().context("give the traveler an id and a --title; a terminal is asked for them")?,
        title: own.title.clone().context("give the traveler a --title")?,
        hands: own.hands.clone(),
        drawings: own.drawing.clone(),
        after: own.after.clone(),
        closes: own.closes.clone(),
        parts: own.parts.clone(),
        joints: own.joints.clone(),
    };
    Ok(outline_text(&outline, &project.job.project))
}

/// Where the traveler goes.
fn place(project: &LoadedProject, own: &TravelerArguments, id: &str) -> PathBuf {
    let plain: String = id.chars().map(|c| if c.is_alphanumeric() { c.to_ascii_lowercase() } else { '-' }).collect();
    let specs = project.folder_of(&project.job.project.settings.specs.value);
    own.to.clone().unwrap_or_else(|| specs.join(format!("{}.toml", plain.trim_matches('-'))))
}

/// A text as a traveler of the project, judged by every rule.
struct Judged {
    text: String,
    files: Files,
    /// What was found in the text.
    report: Report,
    /// Its id; empty where the text could not be read.
    id: String,
    /// How many steps follow from it.
    steps: usize,
}

/// Reads and judges a text as a traveler of the project.
fn judge(project_path: &Path, text: &str) -> Result<Judged> {
    let path = if project_path.is_dir() { project_path.join("build.toml") } else { project_path.to_path_buf() };
    let (mut files, mut report) = (Files::default(), Report::default());
    let mut spec = load(&path, &mut files, &mut report)?;
    let file = files.add("the new traveler", text);
    let judged = |files, mut report: Report, id, steps| {
        report.findings.retain(|finding| finding.span.file == file);
        report.travelers = 1;
        report.unjudged.clear();
        report.sort(&files);
        Judged { text: text.to_owned(), files, report, id, steps }
    };
    let Some(new) = read_traveler(file, &spec.project, &files, &mut report) else {
        return Ok(judged(files, report, String::new(), 0));
    };
    let id = new.traveler.id.value.clone();
    if let Some(existing) = spec.travelers.iter().find(|traveler| traveler.traveler.id.value == id) {
        bail!("there is a traveler {id} already, in {}", files.path(existing.span.file));
    }
    spec.travelers.push(new);
    let job = resolve(spec, &mut report);
    crate::rules::check(&job, &mut report);
    // It was put in right above.
    let steps = job.travelers.last().map_or(0, |traveler| traveler.steps.len());
    Ok(judged(files, report, id, steps))
}

/// Says what speaks against the newest joint of a traveler that is being put together; whether nothing stops it.
fn joint_stands(
    project_path: &Path,
    own: &TravelerArguments,
    project: &LoadedProject,
    console: &mut Console,
) -> Result<bool> {
    let Some(joint) = own.joints.last() else { return Ok(true) };
    let mut judged = judge(project_path, &text_of(own, project)?)?;
    judged.report.findings.retain(|finding| finding.place.joint.as_deref() == Some(joint.id()));
    let stands = !judged.report.stops();
    if judged.report.findings.is_empty() {
        console.say(&format!("{}: nothing speaks against it", joint.id()))?;
    }
    judged.print(console)?;
    Ok(stands)
}

impl Judged {
    /// Prints what was found; nothing where nothing was.
    fn print(&self, console: &mut Console) -> Result<()> {
        if self.report.findings.is_empty() {
            return Ok(());
        }
        console.print(&render_human(&self.report, &self.files, console.colour()))
    }
}
