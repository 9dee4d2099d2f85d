//! What `board` and `pick` share: the project with the state of its work, and one page kind written as PDF or printed as data.
//!
//! It plans nothing.

use std::path::{Path, PathBuf};

use anyhow::{Context, Result};
use serde_json::{Value, json};

use super::Console;
use super::opened::{Opened, open};
use super::packet::{load_templates, report_findings, write_one};
use crate::job::{Order, State, resolve_progress};
use crate::plan::Document;
use crate::{render, spec};

/// A project with the order and the state of its work.
pub(super) struct Shop {
    /// The project; its report holds what is wrong with the progress file too.
    pub opened: Opened,
    /// The order of the whole build.
    pub order: Order,
    /// What is done.
    pub state: State,
}

/// Opens a project and its progress file.
pub(super) fn open_shop(project: &Path) -> Result<Shop> {
    let mut opened = open(project)?;
    let beside = opened.folder.join("build.toml");
    let progress = spec::load_progress(&beside, &mut opened.files, &mut opened.report)?;
    let order = Order::of(&opened.job);
    let state = resolve_progress(progress, &opened.job, &order, &mut opened.report);
    opened.report.sort(&opened.files);
    Ok(Shop { opened, order, state })
}

/// Writes a document to the output folder and says where.
pub(super) fn write_pdf(shop: &Shop, document: &Document, output: Option<&PathBuf>, console: &mut Console) -> Result<()> {
    report_findings(&shop.opened, console)?;
    let settings = &shop.opened.job.project.settings;
    let output = output.cloned().unwrap_or_else(|| shop.opened.folder_of(&settings.output));
    std::fs::create_dir_all(&output).with_context(|| format!("cannot make the output folder {}", output.display()))?;
    let templates = load_templates(&shop.opened.folder)?;
    let line = write_one(document, render::print(document, &templates), &output)?;
    console.say(&line)
}

/// Prints plain data as JSON with the version of its form.
pub(super) fn print_json(data: &impl serde::Serialize, shop: &Shop, console: &mut Console) -> Result<()> {
    if shop.opened.report.stops() {
        console.complain("there are errors in the project: `check` and the progress file say which");
    }
    let mut value = json!({ "version": 1 });
    if let (Value::Object(all), Value::Object(own)) = (&mut value, serde_json::to_value(data)?) {
        all.extend(own);
    }
    console.say(&serde_json::to_string_pretty(&value)?)
}
