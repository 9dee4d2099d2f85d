//! What goes out: a document as PDF into the output folder, or its data as JSON.
//!
//! It plans nothing.

use std::io::Write;
use std::path::Path;

use anyhow::{Context, Result, bail};
use serde::Serialize;
use serde_json::{Map, Value, json};

use super::current_work::CurrentWork;
use super::progress_bar::Progress;
use super::{Console, apart};
use crate::disk::{self, Disk, Taken};
use crate::ident::Digest;
use crate::plan::Document;
use crate::render::{self, BoxPlace, Failure, ItemPlace, Printed, Templates};
use crate::report::render_human;

/// Writes a document to the output folder and says where, after what it must be read with.
pub(super) fn write_pdf(
    current: &CurrentWork,
    document: &Document,
    output: &Path,
    console: &mut Console,
) -> Result<()> {
    if !current.said.findings.is_empty() {
        console.print(&render_human(&current.said, &current.project.files, console.colour()))?;
    }
    let templates = load_templates(&current.project.folder, console)?;
    let printed = apart::print(console.apart().as_ref(), document, &templates);
    let written = write_one(document, printed, output, &console.disk())?;
    console.say(&written.line)
}

/// Prints the data behind a page as JSON; says where the errors are that the page would tell.
pub(super) fn print_page_data(data: &impl Serialize, current: &CurrentWork, console: &mut Console) -> Result<()> {
    if current.project.report.stops() {
        console.complain("the project or its progress file has errors: print the PDF to read them");
    }
    print_data(data, console)
}

/// Prints an object as JSON, after the version of its form.
pub(super) fn print_data(data: &impl Serialize, console: &mut Console) -> Result<()> {
    console.say(&data_text(data)?)
}

/// An object as JSON text, after the version of its form.
pub(super) fn data_text(data: &impl Serialize) -> Result<String> {
    let Value::Object(own) = serde_json::to_value(data)? else { bail!("data is printed as an object with names") };
    let mut all = Map::from_iter([("version".to_owned(), json!(1))]);
    all.extend(own);
    Ok(serde_json::to_string_pretty(&all)?)
}

/// The templates of a run; a set with own files is named by the digest that an issue records.
pub(super) fn load_templates(folder: &Path, console: &mut Console) -> Result<Templates> {
    let own = folder.join("templates");
    let mut templates = Templates::load(own.is_dir().then_some(own.as_path()))?;
    for stray in templates.strays() {
        console.complain(&stray);
    }
    let digest = Digest::of_bytes(templates.digest_input().as_bytes());
    templates.set_mark(digest.code().to_string());
    Ok(templates)
}

/// A PDF in the output folder.
pub(super) struct Written {
    /// Its bytes as they were rendered: what is archived never depends on what lies in the output folder.
    pub pdf: Vec<u8>,
    /// Number of pages.
    pub pages: usize,
    /// The place of every box, and what stands on which page.
    pub places: String,
    /// What tells its pages from those of any other print.
    pub print: String,
    /// The number that each page carries.
    pub labels: Vec<String>,
    /// What is said of it.
    pub line: String,
}

/// Prints documents in parallel and writes each as soon as it is done; says which cannot be printed, and goes on.
///
/// # Errors
/// When one cannot be written: with a full disk nothing was put out that could be relied on.
pub(super) fn print_all(
    documents: &[Document],
    templates: &Templates,
    output: &Path,
    console: &mut Console,
) -> Result<Vec<Option<Written>>> {
    // Where the machine does not say how many cores it has, one is used.
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    let progress = Progress::start(documents.len(), console.live());
    let disk = console.disk();
    let apart = console.apart();
    let print = |document: &Document| apart::print(apart.as_ref(), document, templates);
    let results = render::print_many(documents, threads, print, |index, printed| {
        progress.step(&documents[index].stem);
        write_one(&documents[index], printed, output, &disk)
    });
    progress.finish();
    let mut written = Vec::with_capacity(results.len());
    let mut unwritten = Ok(());
    for result in results {
        match result {
            Ok(one) => {
                console.say(&one.line)?;
                written.push(Some(one));
            }
            Err(failure) if failure.is::<disk::Failure>() => {
                if let Err(before) = std::mem::replace(&mut unwritten, Err(failure)) {
                    console.complain(&format!("{before:#}"));
                }
            }
            Err(failure) => {
                console.complain(&format!("{failure:#}"));
                written.push(None);
            }
        }
    }
    unwritten.map(|()| written)
}

/// Writes one PDF under its final name only once it is whole.
pub(super) fn write_one(
    document: &Document,
    printed: Result<Printed, Failure>,
    output: &Path,
    disk: &Disk,
) -> Result<Written> {
    let printed = printed.with_context(|| format!("{} cannot be printed", document.stem))?;
    let path = output.join(format!("{}.pdf", document.stem));
    disk.put(&path, Taken::Replace, |file| disk.step("write", &path, || file.write_all(&printed.pdf)))?;
    let pages = if printed.pages == 1 { "1 page".to_owned() } else { format!("{} pages", printed.pages) };
    let code = document.code.as_deref().map_or_else(String::new, |code| format!(", sheet code {code}"));
    let line = format!("{}  {pages}{code}", path.display());
    let places = places_text(document, &printed);
    Ok(Written { pdf: printed.pdf, pages: printed.pages, places, print: printed.print, labels: printed.labels, line })
}

/// The layout as the archive keeps it: how it was printed, what stands on which page, and the boxes. The digest of a piece is
/// that of what is printed of it, whatever is signed.
fn places_text(document: &Document, printed: &Printed) -> String {
    // On a packet of one hand every box is that hand's.
    let own_hand = &document.data["head"]["hand"];
    let place = |one: &BoxPlace| {
        let hand = one.hand.as_deref().or_else(|| own_hand.as_str());
        json!({ "page": one.page, "x": one.x.0, "y": one.y.0, "width": one.width.0, "height": one.height.0,
            "step": one.step, "role": one.role, "field": one.field, "hand": hand })
    };
    let item = |one: &ItemPlace| {
        let digest = document.pieces.get(&(one.kind.clone(), one.id.clone()));
        json!({ "kind": one.kind, "id": one.id, "page": one.page, "digest": digest })
    };
    let boxes: Vec<_> = printed.boxes.iter().map(place).collect();
    let items: Vec<_> = printed.items.iter().map(item).collect();
    let edition = document.edition;
    let text = json!({ "version": 3, "unit": "micrometre", "print": printed.print, "paper": document.paper.word(),
        "large": edition.large, "duplex": edition.duplex,
        "both-hands": edition.both_hands, "labels": printed.labels, "items": items, "boxes": boxes });
    text.to_string() + "\n"
}
