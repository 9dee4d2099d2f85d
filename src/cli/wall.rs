//! What `board` and `pick` share: the project with the state of its work, and one page kind written as PDF or printed as data.
//!
//! It plans nothing.

use std::path::{Path, PathBuf};

use anyhow::{Context, Result};
use serde_json::{Value, json};

use super::Console;
use super::kept::open_archive;
use super::opened::{Opened, open};
use super::packet::{load_templates, write_one};
use crate::archive;
use crate::job::{Order, State, resolve_progress};
use crate::plan::Document;
use crate::report::{Finding, Report, render_human};
use crate::{plan, render, spec};

/// A project with the order and the state of its work.
pub(super) struct Shop {
    /// The project; its report holds what is wrong with the progress file too.
    pub opened: Opened,
    /// The order of the whole build.
    pub order: Order,
    /// What is done.
    pub state: State,
    /// What the archive says; empty where there is none.
    pub archived: archive::State,
    /// What a page for the wall must be read with: errors, and everything about the progress file.
    said: Report,
}

/// Opens a project with the state of its work: the archive's, once there is one; begun work and waits from the progress file.
pub(super) fn open_shop(project: &Path, console: &mut Console) -> Result<Shop> {
    let mut opened = open(project)?;
    let beside = opened.folder.join("build.toml");
    let mut said = Report { travelers: opened.report.travelers, ..Report::default() };
    let progress = spec::load_progress(&beside, &mut opened.files, &mut said)?;
    let order = Order::of(&opened.job);
    let mut state = resolve_progress(progress, &opened.job, &order, &mut said);
    let errors: Vec<Finding> = opened.report.findings.iter().filter(|finding| finding.stops()).cloned().collect();
    opened.report.extend(said.findings.iter().cloned());
    said.extend(errors);
    opened.report.sort(&opened.files);
    said.sort(&opened.files);
    let kept = open_archive(&opened, console)?;
    if kept.archive.exists() {
        let typed = state.done.len();
        let known = state.done.keys().filter(|item| kept.knows(&opened.job, **item)).count();
        if known < typed {
            console.complain(&format!(
                "{} done steps of progress.toml are not in the archive and do not count: `shophead archive import` takes them over",
                typed - known
            ));
        }
        state = plan::work_state(&opened.job, &kept.state, state);
    }
    Ok(Shop { opened, order, state, archived: kept.state, said })
}

/// Writes a document to the output folder and says where, after what it must be read with.
pub(super) fn write_pdf(shop: &Shop, document: &Document, output: Option<&PathBuf>, console: &mut Console) -> Result<()> {
    if !shop.said.findings.is_empty() {
        console.print(&render_human(&shop.said, &shop.opened.files, console.colour()))?;
    }
    let settings = &shop.opened.job.project.settings;
    let output = output.cloned().unwrap_or_else(|| shop.opened.folder_of(&settings.output));
    std::fs::create_dir_all(&output).with_context(|| format!("cannot make the output folder {}", output.display()))?;
    let templates = load_templates(&shop.opened.folder)?;
    let written = write_one(document, render::print(document, &templates), &output)?;
    console.say(&written.line)
}

/// Prints plain data as JSON with the version of its form.
pub(super) fn print_json(data: &impl serde::Serialize, shop: &Shop, console: &mut Console) -> Result<()> {
    if shop.opened.report.stops() {
        console.complain("the project or its progress file has errors: print the PDF to read them");
    }
    let mut value = json!({ "version": 1 });
    if let (Value::Object(all), Value::Object(own)) = (&mut value, serde_json::to_value(data)?) {
        all.extend(own);
    }
    console.say(&serde_json::to_string_pretty(&value)?)
}
