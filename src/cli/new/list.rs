//! `new stock` and `new parts`: a list of cells becomes entries of build.toml.
//!
//! What would be written is shown first; it is written where that is agreed to. The text of build.toml stays as it is,
//! entries are added at its end, and what it holds already is left alone.

use std::io::Write;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, anyhow, bail, ensure};

use crate::cli::project::{LoadedProject, load_project};
use crate::cli::{Console, Outcome};
use crate::disk::{self, Taken};
use crate::hardware::decode;
use crate::job::{Job, PartFacts, Stock};
use crate::report::{Report, render_human};
use crate::spec::{BuildPart, read_project, shown};
use crate::start::{Column, Entry, ListKind, Listed, PARTS, STOCK, Table, read_table};
use crate::text::Files;
use crate::units::{Unit, counted};
use crate::work::shelf_name;

/// Arguments of `new stock` and `new parts`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The list: cells between commas, semicolons or tabs, the names of the columns in the first line
    file: PathBuf,
    /// The column of a key, where its heading does not tell: KEY=HEADING, as item=Bezeichnung
    #[arg(long, value_name = "KEY=HEADING")]
    column: Vec<String>,
    /// Write without asking
    #[arg(long)]
    write: bool,
}

/// Runs `new stock`.
pub(super) fn stock(project_path: &Path, own: &Arguments, console: &mut Console) -> Result<Outcome> {
    let next = "next is `shophead pick`, which counts with them".to_owned();
    take_in(project_path, own, &Taking { kind: &STOCK, against: against_stock, next }, console)
}

/// Runs `new parts`.
pub(super) fn parts(project_path: &Path, own: &Arguments, console: &mut Console) -> Result<Outcome> {
    let next = format!(
        "a traveler needs the `id` alone; next is `shophead new stock {}` for how many lie there, or `shophead new traveler`",
        shown(&own.file)
    );
    take_in(project_path, own, &Taking { kind: &PARTS, against: against_part, next }, console)
}

/// How a list is taken in.
struct Taking {
    kind: &'static ListKind,
    /// Why an entry is left out; nothing where it stays.
    against: fn(&Job, &Entry) -> Option<String>,
    /// What may be done once it is written.
    next: String,
}

fn take_in(project_path: &Path, own: &Arguments, taking: &Taking, console: &mut Console) -> Result<Outcome> {
    let project = load_project(project_path)?;
    let shown_file = shown(&own.file);
    let text = disk::read_text(&own.file, disk::TYPED)?;
    let table = read_table(&text).map_err(|fault| anyhow!("{shown_file}: {fault}"))?;
    let columns = columns(taking.kind, &table, own, console)?;
    let mut listed = table.entries(taking.kind, &columns);
    listed.leave_out(|entry| (taking.against)(&project.job, entry));
    add(&project, taking, &listed, own, console)
}

/// What speaks against an entry of the register of parts: it is hardware, it cannot be read, or the build says
/// something of it already.
fn against_part(job: &Job, entry: &Entry) -> Option<String> {
    let id = &entry.name;
    let is_callout = job.project.callouts.iter().any(|(name, _)| name.value == *id);
    if is_callout || decode(id, &job.project.kit).is_ok() {
        return Some(format!("{id} is hardware: no part is registered for it, `shophead new stock` counts it"));
    }
    let read = match read_part(job, entry) {
        Ok(part) => part,
        Err(why) => return Some(why),
    };
    let facts = PartFacts::from(&read);
    let style = &job.project.style;
    if let Some(known) = job.project.parts.iter().find(|known| known.id.value == *id) {
        let differs = facts.difference_from_build(&known.into(), style);
        return Some(differs.map_or_else(
            || format!("{id} is in build.toml already"),
            |differs| format!("{id}: the list says {}, but build.toml {}", differs.here, differs.there),
        ));
    }
    job.travelers.iter().find_map(|traveler| {
        let differs = facts.difference_from_build(&traveler.part(id)?.facts(), style)?;
        let owner = &traveler.id.value;
        Some(format!("{id}: the list says {}, but traveler {owner} {}", differs.here, differs.there))
    })
}

/// The entry as the project file would be read; else why it cannot be.
fn read_part(job: &Job, entry: &Entry) -> Result<BuildPart, String> {
    let unit = if job.project.style.unit == Unit::Mm { "mm" } else { "inch" };
    let text = format!("[aircraft]\nname = \"-\"\n[project]\nunit = \"{unit}\"\n\n{}", entry.text(&PARTS));
    let mut files = Files::default();
    let mut report = Report::default();
    let id = files.add("the list", text);
    let read = read_project(id, &files, &mut report).parts.into_iter().next();
    let fault = report.findings.first().map(|finding| finding.message.clone());
    match (read, fault) {
        (Some(part), None) => Ok(part),
        (_, fault) => Err(fault.unwrap_or_else(|| format!("{} cannot be read", entry.name))),
    }
}

/// What speaks against an entry of the shelf: it is nothing that a pick list could ask for, or it is there already.
fn against_stock(job: &Job, entry: &Entry) -> Option<String> {
    let Some(name) = shelf_name(job, &entry.name) else {
        return Some(format!("{} is no part, and no number of the tables or of build.toml", entry.name));
    };
    let same = |own: &&Stock| shelf_name(job, &own.item.value).is_some_and(|own| own == name);
    let there = job.project.stock.iter().find(same)?;
    Some(format!("{} is in build.toml already, with {} on hand", entry.name, there.on_hand.value))
}

/// The column of each key: as told, else by its heading, else asked for.
fn columns(kind: &ListKind, table: &Table, own: &Arguments, console: &mut Console) -> Result<Vec<Option<usize>>> {
    let told = told(kind, own)?;
    let mut columns = Vec::new();
    for key in kind.columns {
        let heading = told.iter().find(|(name, _)| *name == key.key).map(|(_, heading)| *heading);
        let found = match heading {
            Some(heading) => Some(table.column(heading).with_context(|| no_column(heading, table))?),
            None => table.column_of(key),
        };
        columns.push(match found {
            None if key.required => Some(asked(key, table, console)?),
            found => found,
        });
    }
    Ok(columns)
}

/// The keys and headings of `--column`.
fn told<'a>(kind: &ListKind, own: &'a Arguments) -> Result<Vec<(&'a str, &'a str)>> {
    let keys = || kind.columns.iter().map(|key| key.key).collect::<Vec<_>>().join(", ");
    let mut told = Vec::new();
    for text in &own.column {
        let (key, heading) = text.split_once('=').with_context(|| format!("--column {text}: write KEY=HEADING"))?;
        let known = kind.columns.iter().any(|column| column.key == key);
        ensure!(known, "--column {text}: there is no key `{key}`; a {} has {}", kind.table, keys());
        told.push((key, heading));
    }
    Ok(told)
}

fn no_column(heading: &str, table: &Table) -> String {
    format!("no column is called `{heading}`; the list has: {}", table.headings.join(", "))
}

/// The column that somebody before the terminal names by its number or its heading.
fn asked(key: &Column, table: &Table, console: &mut Console) -> Result<usize> {
    let numbered: Vec<String> =
        table.headings.iter().enumerate().map(|(at, heading)| format!("{} {heading}", at + 1)).collect();
    let answer = console.ask(&format!("Which column is `{}`? {}:", key.key, numbered.join(", ")));
    let Some(answer) = answer else {
        let headings = table.headings.join(", ");
        bail!("no column is known for `{}`; say which with --column {}=HEADING: {headings}", key.key, key.key);
    };
    let number = answer.parse::<usize>().ok().and_then(|number| number.checked_sub(1));
    let column = number.filter(|at| *at < table.headings.len()).or_else(|| table.column(&answer));
    column.with_context(|| no_column(&answer, table))
}

/// Shows what would be added to the project file, and adds it where that is agreed to.
fn add(
    project: &LoadedProject,
    taking: &Taking,
    listed: &Listed,
    own: &Arguments,
    console: &mut Console,
) -> Result<Outcome> {
    for odd in &listed.odd {
        console.complain(&format!("{}:{}: left out: {}", shown(&own.file), odd.line, odd.why));
    }
    let outcome = Outcome::of(!listed.odd.is_empty());
    if listed.entries.is_empty() {
        console.say("nothing to add")?;
        return Ok(outcome);
    }
    let (file, entries) = (shown(&project.file), counted(listed.entries.len(), "entry", "entries"));
    console.print(&listed.text(taking.kind))?;
    console.finish()?;
    let agreed = own.write || console.ask(&format!("Add {entries} to {file}? yes or no:")).as_deref() == Some("yes");
    if !agreed {
        console.complain(&format!("nothing was written; --write adds {entries} to {file}"));
        return Ok(outcome);
    }
    let before = disk::read_text(&project.file, u64::MAX)?;
    let after = format!("{}\n\n{}", before.trim_end(), listed.text(taking.kind));
    if let Some(findings) = findings_of(&after, &file) {
        console.print(&findings)?;
        bail!("with these entries {file} could not be read; nothing was written");
    }
    let disk = console.disk();
    disk.put(&project.file, Taken::Replace, |out| {
        disk.step("write", &project.file, || out.write_all(after.as_bytes()))
    })?;
    console.say(&format!("{file}  {entries} added; {}", taking.next))?;
    Ok(outcome)
}

/// What stands against a text as project file, for a reader; nothing where it can be read.
fn findings_of(text: &str, name: &str) -> Option<String> {
    let mut files = Files::default();
    let mut report = Report::default();
    let id = files.add(name, text);
    let _ = read_project(id, &files, &mut report);
    report.stops().then(|| render_human(&report, &files, crate::report::Colour::Plain))
}
