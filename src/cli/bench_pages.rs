//! The pages that lie on the bench, by the archive, and which of them a change replaces.
//!
//! It reads layouts and chooses nothing itself; where the archive does not tell every page, the packet is printed whole.

use anyhow::Result;

use super::project_archive::ProjectArchive;
use crate::archive::{KeptPage, Print};
use crate::ident::SheetCode;
use crate::job::Paper;
use crate::plan::{self, BenchPage, BenchPrint, Edition};

/// What lies in a packet: the newest print of its sheets, with the pages that it left there.
pub(super) struct Bench {
    /// How it was printed.
    pub edition: Edition,
    /// Its pages in their order; nothing where they cannot be replaced one by one: on other paper, or where other hands are on
    /// them.
    pub pages: Option<Vec<BenchPage>>,
}

/// What lies in the packet of a sheet, or of the sheets of both hands; nothing where the archive does not tell.
pub(super) fn bench(archive: &ProjectArchive, sheets: &[SheetCode], paper: Paper) -> Result<Option<Bench>> {
    let Some((first, others)) = sheets.split_first() else { return Ok(None) };
    let Some(last) = archive.state.newest_print(*first) else { return Ok(None) };
    let Some(print) = print_of(archive, last)? else { return Ok(None) };
    let is_alone = archive.state.sheets_of(last.code).len() == sheets.len();
    let is_together = others.iter().all(|other| archive.state.share_a_packet(*first, *other));
    let edition = print.edition;
    let is_whole = is_alone && is_together && print.paper == Some(paper);
    let pages = if is_whole { with_kept(archive, print.pages, &last.kept)? } else { None };
    Ok(Some(Bench { edition, pages }))
}

/// The pages of a print with those of earlier ones that stayed.
fn with_kept(archive: &ProjectArchive, mut pages: Vec<BenchPage>, kept: &[KeptPage]) -> Result<Option<Vec<BenchPage>>> {
    for stayed in kept {
        let Some(print) = archive.state.prints.iter().find(|print| print.code == stayed.print) else { return Ok(None) };
        let Some(earlier) = print_of(archive, print)? else { return Ok(None) };
        pages.extend(earlier.pages.into_iter().filter(|page| page.page == *stayed));
    }
    pages.sort_by_key(BenchPage::place);
    Ok(Some(pages))
}

fn print_of(archive: &ProjectArchive, print: &Print) -> Result<Option<BenchPrint>> {
    let layout = archive.store.blob(&print.places)?;
    Ok(plan::print_of_layout(&archive.state.sheets_of(print.code), print.code, &layout))
}
