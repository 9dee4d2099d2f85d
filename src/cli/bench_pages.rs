//! The pages that lie on the bench, by the archive, and which of them a change replaces.
//!
//! It reads layouts and chooses nothing itself; where the archive does not tell every page, the packet is printed whole.

use anyhow::Result;

use super::current_work::CurrentWork;
use super::project_archive::ProjectArchive;
use crate::archive::{Issue, Print};
use crate::job::Paper;
use crate::plan::{self, BenchPage, ChangePages, Source};
use crate::work::SheetChange;

/// The pages that a change prints of a packet; nothing where it is printed whole.
pub(super) fn choose(current: &CurrentWork, source: Source<'_>, change: &SheetChange) -> Result<Option<ChangePages>> {
    let archive = &current.archive;
    let Some(issue) = archive.state.in_force(&change.packet()) else { return Ok(None) };
    let paper = current.project.job.project.settings.paper.value;
    let Some(bench) = bench(archive, issue, paper)? else { return Ok(None) };
    let (order, now) = plan::pieces_of(source);
    Ok(plan::change_pages(&bench, &order, &now))
}

/// What lies in a packet: the newest print of its sheet, and with an issue of change pages those that stayed.
fn bench(archive: &ProjectArchive, issue: &Issue, paper: Paper) -> Result<Option<Vec<BenchPage>>> {
    let prints = &archive.state.prints;
    let own = |print: &&Print| print.sheet == issue.issued.sheet && print.entry >= issue.entry;
    let Some(last) = prints.iter().rfind(own) else { return Ok(None) };
    let Some(mut pages) = pages_of(archive, last, paper)? else { return Ok(None) };
    // Whoever printed the sheet once more printed it whole.
    let stayed = if last.entry == issue.entry { issue.issued.kept.as_slice() } else { &[] };
    for kept in stayed {
        let Some(print) = prints.iter().find(|print| print.code == kept.print) else { return Ok(None) };
        let Some(earlier) = pages_of(archive, print, paper)? else { return Ok(None) };
        pages.extend(earlier.into_iter().filter(|page| page.page == *kept));
    }
    pages.sort_by_key(BenchPage::place);
    Ok(Some(pages))
}

fn pages_of(archive: &ProjectArchive, print: &Print, paper: Paper) -> Result<Option<Vec<BenchPage>>> {
    let layout = archive.store.blob(&print.places)?;
    Ok(plan::pages_of_print(print.sheet, print.code, paper, &layout))
}
