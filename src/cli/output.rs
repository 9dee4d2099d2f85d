//! What goes out: a document as PDF into the output folder, or its data as JSON.
//!
//! It plans nothing.

use std::path::PathBuf;

use anyhow::{Context, Result};
use serde_json::{Value, json};

use super::Console;
use super::current_work::CurrentWork;
use super::packet::{load_templates, write_one};
use crate::plan::Document;
use crate::render;
use crate::report::render_human;

/// Writes a document to the output folder and says where, after what it must be read with.
pub(super) fn write_pdf(
    current: &CurrentWork,
    document: &Document,
    output: Option<&PathBuf>,
    console: &mut Console,
) -> Result<()> {
    if !current.said.findings.is_empty() {
        console.print(&render_human(&current.said, &current.project.files, console.colour()))?;
    }
    let settings = &current.project.job.project.settings;
    let output = output.cloned().unwrap_or_else(|| current.project.folder_of(&settings.output));
    std::fs::create_dir_all(&output).with_context(|| format!("cannot make the output folder {}", output.display()))?;
    let templates = load_templates(&current.project.folder)?;
    let written = write_one(document, render::print(document, &templates), &output)?;
    console.say(&written.line)
}

/// Prints plain data as JSON with the version of its form.
pub(super) fn print_json(data: &impl serde::Serialize, current: &CurrentWork, console: &mut Console) -> Result<()> {
    if current.project.report.stops() {
        console.complain("the project or its progress file has errors: print the PDF to read them");
    }
    let mut value = json!({ "version": 1 });
    if let (Value::Object(all), Value::Object(own)) = (&mut value, serde_json::to_value(data)?) {
        all.extend(own);
    }
    console.say(&serde_json::to_string_pretty(&value)?)
}
