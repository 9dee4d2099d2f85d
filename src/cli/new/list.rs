//! `new stock`: a list of cells becomes entries of build.toml.
//!
//! What would be written is shown first; it is written where that is agreed to. The text of build.toml stays as it is,
//! entries are added at its end, and what it holds already is left alone.

use std::io::Write;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, anyhow, bail, ensure};

use crate::cli::project::{LoadedProject, load_project};
use crate::cli::{Console, Outcome};
use crate::disk::{self, Taken};
use crate::job::{Job, Stock};
use crate::report::{Report, render_human};
use crate::spec::shown;
use crate::start::{Column, Entry, ListKind, Listed, STOCK, Table, read_table};
use crate::text::Files;
use crate::units::counted;
use crate::work::shelf_name;

/// Arguments of `new stock`.
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
    let project = load_project(project_path)?;
    let shown_file = shown(&own.file);
    let text = disk::read_text(&own.file, disk::TYPED)?;
    let table = read_table(&text).map_err(|fault| anyhow!("{shown_file}: {fault}"))?;
    let columns = columns(&STOCK, &table, own, console)?;
    let mut listed = table.entries(&STOCK, &columns);
    listed.leave_out(|entry| against_stock(&project.job, entry));
    add(&project, &STOCK, &listed, own, console)
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
    kind: &ListKind,
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
    console.print(&listed.text(kind))?;
    console.finish()?;
    let agreed = own.write || console.ask(&format!("Add {entries} to {file}? yes or no:")).as_deref() == Some("yes");
    if !agreed {
        console.complain(&format!("nothing was written; --write adds {entries} to {file}"));
        return Ok(outcome);
    }
    let before = disk::read_text(&project.file, u64::MAX)?;
    let after = format!("{}\n\n{}", before.trim_end(), listed.text(kind));
    if let Some(findings) = findings_of(&after, &file) {
        console.print(&findings)?;
        bail!("with these entries {file} could not be read; nothing was written");
    }
    let disk = console.disk();
    disk.put(&project.file, Taken::Replace, |out| {
        disk.step("write", &project.file, || out.write_all(after.as_bytes()))
    })?;
    console.say(&format!("{file}  {entries} added; `shophead pick` counts with them"))?;
    Ok(outcome)
}

/// What stands against a text as project file, for a reader; nothing where it can be read.
fn findings_of(text: &str, name: &str) -> Option<String> {
    let (mut files, mut report) = (Files::default(), Report::default());
    let id = files.add(name, text);
    let _ = crate::spec::read_project(id, &files, &mut report);
    report.stops().then(|| render_human(&report, &files, crate::report::Colour::Plain))
}
