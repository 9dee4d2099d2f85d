//! A document that another process prints: the order, and what comes back, as bytes.
//!
//! A builder's own templates hold code that may run without end or fill the memory; a process of its own can be stopped.
//! Nothing is started here: whoever starts the process hands these bytes over.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::failure::Failure;
use super::parallel::{print_many, render_many};
use super::pdf::{Printed, too_tall};
use super::picture::{Picture, Pictures};
use super::template::{OwnFile, Templates, embedded_name};
use crate::calendar::Day;
use crate::plan::{Document, Edition, Thumbnail, TooTall};
use crate::words::Paper;

/// The first part of an order; the bytes of thumbnails and pictures follow in its order.
#[derive(Serialize, Deserialize)]
struct Head {
    template: String,
    stem: String,
    paper: String,
    code: Option<String>,
    part: Option<String>,
    large: bool,
    duplex: bool,
    both_hands: bool,
    pages: Option<usize>,
    date: Option<String>,
    data: Value,
    values: Value,
    /// Name, width and height.
    thumbnails: Vec<(String, u32, u32)>,
    /// Path and number of bytes.
    pictures: Vec<(String, usize)>,
    own: Vec<OwnFile>,
    mark: Option<String>,
    /// The fixed words of the templates.
    words: String,
    /// What is said of characters that cannot be printed.
    stand_in: String,
    /// What is done with it.
    task: Task,
}

/// What an order asks for.
#[derive(Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
enum Task {
    Print,
    /// Its steps are measured and nothing is printed.
    Measure,
}

/// What comes back; the bytes of the PDF follow.
#[derive(Serialize, Deserialize)]
enum Answer {
    Printed(Printed),
    Measured(Vec<TooTall>),
    Failed(Failure),
}

/// The order to print a document with these templates.
///
/// # Errors
/// When it cannot be written as bytes.
pub fn order(document: &Document, templates: &Templates) -> Result<Vec<u8>, Failure> {
    ordered(document, templates, Task::Print)
}

/// The order to find the steps of a document that are taller than a page.
///
/// # Errors
/// When it cannot be written as bytes.
pub fn order_to_measure(document: &Document, templates: &Templates) -> Result<Vec<u8>, Failure> {
    ordered(document, templates, Task::Measure)
}

fn ordered(document: &Document, templates: &Templates, task: Task) -> Result<Vec<u8>, Failure> {
    let pictures = templates.pictures();
    let thumbnails = || document.thumbnails.iter();
    let head = Head {
        template: document.template.to_owned(),
        stem: document.stem.clone(),
        paper: document.paper.word().to_owned(),
        code: document.code.clone(),
        part: document.part.clone(),
        large: document.edition.large,
        duplex: document.edition.duplex,
        both_hands: document.edition.both_hands,
        pages: document.pages,
        date: document.date.map(|day| day.to_string()),
        data: document.data.clone(),
        values: document.values.clone(),
        thumbnails: thumbnails().map(|(name, own)| (name.clone(), own.width, own.height)).collect(),
        pictures: pictures.iter().map(|(path, own)| (path.clone(), own.file().len())).collect(),
        own: templates.own_texts(),
        mark: templates.mark().map(str::to_owned),
        words: templates.words().0.to_owned(),
        stand_in: templates.words().1.to_owned(),
        task,
    };
    let mut bytes = with_head(&head)?;
    for (_, own) in thumbnails() {
        bytes.extend(&own.grey);
    }
    for own in pictures.values() {
        bytes.extend(own.file());
    }
    Ok(bytes)
}

/// Prints or measures what an order asks for; gives the answer.
///
/// # Errors
/// When it is no order, or the answer cannot be written as bytes.
pub fn carry_out(order: &[u8]) -> Result<Vec<u8>, Failure> {
    let no_order = || Failure::new("this is no order to print a document");
    let (head, rest) = split::<Head>(order).ok_or_else(no_order)?;
    let task = head.task;
    let asked = whole(head, rest).ok_or_else(no_order)?;
    let answer = asked.and_then(|(document, templates)| {
        let one = [document];
        let answers = match task {
            Task::Measure => print_many(&one, 1, |own| too_tall(own, &templates), |_, tall| tall.map(Answer::Measured)),
            Task::Print => render_many(&one, &templates, 1, |_, printed| printed.map(Answer::Printed)),
        };
        answers.into_iter().next().unwrap_or_else(|| Err(no_order()))
    });
    match answer {
        Ok(Answer::Printed(mut printed)) => {
            let pdf = std::mem::take(&mut printed.pdf);
            let mut bytes = with_head(&Answer::Printed(printed))?;
            bytes.extend(pdf);
            Ok(bytes)
        }
        Ok(answer) => with_head(&answer),
        Err(failure) => with_head(&Answer::Failed(failure)),
    }
}

/// What an answer says; nothing where it is none, as of a process that was stopped.
#[must_use]
pub fn read_answer(answer: &[u8]) -> Option<Result<Printed, Failure>> {
    let (answer, pdf) = split::<Answer>(answer)?;
    match answer {
        Answer::Printed(printed) => Some(Ok(Printed { pdf: pdf.to_vec(), ..printed })),
        Answer::Measured(_) => None,
        Answer::Failed(failure) => Some(Err(failure)),
    }
}

/// What an answer says of the steps that were to be measured; nothing where it is no answer to that.
#[must_use]
pub fn read_measured(answer: &[u8]) -> Option<Result<Vec<TooTall>, Failure>> {
    match split::<Answer>(answer)?.0 {
        Answer::Measured(tall) => Some(Ok(tall)),
        Answer::Printed(_) => None,
        Answer::Failed(failure) => Some(Err(failure)),
    }
}

/// The document and the templates of a whole order; nothing where it does not fit together.
fn whole(head: Head, mut rest: &[u8]) -> Option<Result<(Document, Templates), Failure>> {
    let mut take = |length: usize| {
        let (taken, left) = rest.split_at_checked(length)?;
        rest = left;
        Some(taken.to_vec())
    };
    let mut thumbnails = BTreeMap::new();
    for (name, width, height) in head.thumbnails {
        let grey = take(usize::try_from(u64::from(width).checked_mul(height.into())?).ok()?)?;
        thumbnails.insert(name, Thumbnail { width, height, grey });
    }
    let mut pictures = Pictures::new();
    for (path, length) in head.pictures {
        pictures.insert(path, Picture::judged(take(length)?));
    }
    let date = match head.date {
        Some(day) => Some(Day::parse(&day)?),
        None => None,
    };
    let document = Document {
        template: embedded_name(&head.template)?,
        stem: head.stem,
        paper: Paper::parse(&head.paper)?,
        code: head.code,
        part: head.part,
        edition: Edition { large: head.large, duplex: head.duplex, both_hands: head.both_hands },
        pages: head.pages,
        date,
        data: head.data,
        values: head.values,
        thumbnails,
        // They are for whoever keeps the layout.
        pieces: BTreeMap::new(),
    };
    let templates = Templates::of_files(head.own).map(|mut templates| {
        templates.set_own_mark(head.mark);
        templates.set_words(head.words, head.stand_in);
        templates.show_pictures(pictures);
        templates
    });
    Some(templates.map(|templates| (document, templates)))
}

/// A head as JSON after its length, eight bytes with the least first.
fn with_head(head: &impl Serialize) -> Result<Vec<u8>, Failure> {
    let json = serde_json::to_vec(head).map_err(|error| Failure::new(format!("it cannot be handed over: {error}")))?;
    let mut bytes = (json.len() as u64).to_le_bytes().to_vec();
    bytes.extend(json);
    Ok(bytes)
}

fn split<T: for<'a> Deserialize<'a>>(bytes: &[u8]) -> Option<(T, &[u8])> {
    let (length, rest) = bytes.split_first_chunk()?;
    let (json, rest) = rest.split_at_checked(usize::try_from(u64::from_le_bytes(*length)).ok()?)?;
    Some((serde_json::from_slice(json).ok()?, rest))
}
