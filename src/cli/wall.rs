//! What `board` and `pick` share: one page kind written as PDF or printed as data.
//!
//! It plans nothing.

use std::path::PathBuf;

use anyhow::{Context, Result};
use serde_json::{Value, json};

use super::Console;
use super::packet::{load_templates, write_one};
use super::shop::Shop;
use crate::plan::Document;
use crate::render;
use crate::report::render_human;

/// Writes a document to the output folder and says where, after what it must be read with.
pub(super) fn write_pdf(
    shop: &Shop,
    document: &Document,
    output: Option<&PathBuf>,
    console: &mut Console,
) -> Result<()> {
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
