//! What `archive sign` asks of whoever sits before the terminal: initials, and each reading that a box waits for.
//!
//! It asks for what is missing and judges no more than the number; the entry is judged as any other.

use anyhow::Result;

use crate::archive::{self, OpenBox};
use crate::cli::Console;
use crate::cli::archive::enter::TypedFile;
use crate::cli::project::LoadedProject;
use crate::cli::project_archive::open_archive;
use crate::job::May;
use crate::spec::SignSpec;
use crate::text::Spanned;
use crate::words::{Capacity, NOT_APPLICABLE};

/// Fills in what a signature lacks.
///
/// # Errors
/// When nobody answers, or the archive cannot be read.
pub(super) fn fill_in(project: &LoadedProject, file: &mut TypedFile, console: &mut Console) -> Result<()> {
    let archive = open_archive(project, console)?;
    let sheets = archive.sheets(archive::sheets_meant(&archive.state, &file.typed).into_iter())?;
    let Some(sign) = file.typed.sign.first_mut() else { return Ok(()) };
    // What is wrong with its steps is said when it is judged.
    let Ok(boxes) = archive::open_boxes(&archive.state, &sheets, sign) else { return Ok(()) };
    initials(project, sign, console)?;
    let is_work = sign.capacity.is_none_or(|own| own.value == Capacity::Done);
    if !is_work || sign.stage.is_some() || sign.outcome.is_some() {
        return Ok(());
    }
    for own in boxes {
        let value = reading(&own, console)?;
        let (name, at) = (format!("{}/{}", own.step, own.record), sign.span);
        sign.readings.push((Spanned { value: name, span: at }, Spanned { value, span: at }));
    }
    Ok(())
}

/// Initials, where none are given; Enter stands for the first who may sign work.
fn initials(project: &LoadedProject, sign: &mut SignSpec, console: &mut Console) -> Result<()> {
    if sign.by.is_some() {
        return Ok(());
    }
    let job = &project.job;
    let known: Vec<String> = job.project.signers.iter().map(|own| own.initials.value.clone()).collect();
    let may_do = |own: &&crate::job::Signer| job.roles_of(own).any(|role| role.may.contains(&May::Do));
    let usual = job.project.signers.iter().find(may_do).map(|own| own.initials.value.clone());
    let question = usual.as_ref().map_or_else(|| "Initials:".to_owned(), |own| format!("Initials; Enter for {own}:"));
    let answer = console.ask_offering(&question, &known)?.or(usual);
    sign.by = answer.map(|value| Spanned { value, span: sign.span });
    Ok(())
}

/// What was read for a box. One outside its limits is asked for once more: Enter keeps it.
fn reading(own: &OpenBox, console: &mut Console) -> Result<String> {
    let tool = own.tool.as_ref().map_or_else(String::new, |tool| format!(" ({tool})"));
    let question = format!("{}{tool}:", own.words());
    let offers = [NOT_APPLICABLE.to_owned()];
    let mut kept: Option<String> = None;
    loop {
        let answer = console.ask_offering(&question, &offers)?;
        let Some(value) = answer.or_else(|| kept.clone()) else {
            console.complain(&format!("the box is filled in: write what was read, or {NOT_APPLICABLE}"));
            continue;
        };
        if let Some(fault) = own.fault(&value) {
            console.complain(&fault);
        } else if own.contains(&value) || kept.as_ref() == Some(&value) {
            return Ok(value);
        } else {
            console.complain(&format!(
                "{value} lies outside: {}. It opens a discrepancy. Read it again, or Enter to keep it",
                own.limits
            ));
            kept = Some(value);
        }
    }
}
