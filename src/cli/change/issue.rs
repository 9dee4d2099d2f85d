//! `change --issue`: prints the new sheets, or the pages of them that change, and the notice; gives what is recorded of them.
//!
//! Nothing is recorded where anything could not be printed.

use std::path::Path;

use anyhow::{Context, Result, anyhow, bail, ensure};
use serde_json::json;

use super::Arguments;
use crate::archive::{Entry, NewBlob, NewPosting, Noticed, SheetRequirement, Voided};
use crate::calendar::{Day, Moment};
use crate::cli::Console;
use crate::cli::bench_pages;
use crate::cli::current_work::CurrentWork;
use crate::cli::issue::{Press, Printing};
use crate::cli::output::{Written, data_text, load_templates, print_all};
use crate::cli::packet::{Planned, issue_all, report_findings};
use crate::ident::SheetCode;
use crate::plan::{
    self, AtPrinting, BenchPage, Bundle, ChangePages, Changed, Document, Edition, Notice, Options, Part, Signed, Source,
};
use crate::work;

/// Prints the new sheets and the notice, and gives what is recorded of them: discrepancies, sheets, the notice.
pub(super) fn issue(
    current: &CurrentWork,
    notice: &Notice,
    arguments: &Arguments,
    when: (Day, Moment),
    console: &mut Console,
) -> Result<NewPosting<'static>> {
    let CurrentWork { project, archive, order, state, .. } = current;
    // The new sheets name the discrepancies that this run opens.
    let state = work::with_opened(&project.job, state, &notice.discrepancies);
    let work = AtPrinting::of(&project.job, order, &state);
    report_findings(project, console)?;
    let spoken = project.speak();
    let mut templates = load_templates(&project.folder, console)?;
    templates.show_pictures(project.pictures.clone());
    let output = arguments.output.folder(project)?;
    let source = arguments.source.clone().unwrap_or_else(|| format!("notice {}", notice.number));
    let ground = Ground { current, work: &work, because: &source, on: when.0 };
    let bundles = plan::bundles(&project.job, &archive.state, &notice.sheets);
    let mut printed: Vec<Printed> = Vec::new();
    for bundle in &bundles {
        printed.push(ground.plan(bundle)?);
    }
    let printings = printed.iter_mut().flat_map(|own| &mut own.planned.printings);
    arguments.same_revision.require(&archive.state, printings, console)?;
    let documents: Vec<Document> = printed.iter().map(|own| own.planned.document.clone()).collect();
    let written = print_all(&documents, &templates, &output, console)?;
    ensure!(written.iter().all(Option::is_some), "not every sheet was printed, so nothing is recorded");
    // Which pages are put in is known only now; the notice is the first page of the new bundle all the same.
    let mut notice = notice.clone();
    for ((bundle, own), paper) in bundles.iter().zip(&printed).zip(written.iter().flatten()) {
        let duplex = own.planned.document.edition.duplex;
        notice.name_pages(bundle, own.pages.as_ref(), duplex, &paper.labels);
    }
    let document = notice.document(&project.job, Some(when.0));
    let paper = print_all(&[document], &templates, &output, console)?.into_iter().next().flatten();
    let paper = paper.context("the notice was not printed, so nothing is recorded")?;
    printed.iter().filter(|own| own.pages.is_some()).for_each(|own| warn_of_whole(&own.planned, &output, console));
    drop(spoken);
    let mut posting = NewPosting { because: arguments.entry.because(), ..NewPosting::at(when.1) };
    posting.entries.extend(notice.discrepancies.iter().cloned().map(Entry::from));
    let press = Press { project, templates: &templates, archive };
    let planned: Vec<Planned> = printed.into_iter().map(|own| own.planned).collect();
    issue_all(&mut posting, &press, &planned, written, when.0, console)?;
    add_notice(&mut posting, &notice, paper, when.0)?;
    Ok(posting)
}

/// What is printed of a bundle, and the pages that it is where that is not all.
struct Printed {
    planned: Planned,
    pages: Option<ChangePages>,
}

/// What the new sheets are planned from, and what they say of the change.
struct Ground<'a> {
    current: &'a CurrentWork,
    work: &'a AtPrinting<'a>,
    because: &'a str,
    on: Day,
}

impl Ground<'_> {
    /// A changed packet, of one hand or of both: the pages of it that change, or the whole.
    fn plan(&self, bundle: &Bundle<'_>) -> Result<Printed> {
        let CurrentWork { project, archive, .. } = self.current;
        let job = &project.job;
        let old: Vec<SheetCode> = bundle.parts.iter().map(Part::old).collect();
        let bench = bench_pages::bench(archive, &old, job.project.settings.paper.value)?;
        // It is printed as what lies on the bench was.
        let edition = bench.as_ref().map_or_else(Edition::default, |bench| bench.edition);
        let options = Options { edition, ..Options::default() };
        let specs = |part: &Part<'_>| Source::of_specs(job, bundle.index, part.hand, &project.report, options);
        let bare: Vec<Source<'_>> = bundle.parts.iter().map(specs).collect();
        let pages = bench.and_then(|bench| bench.pages).and_then(|pages| choose(&pages, &bare));
        let required = |part: &Part<'_>| work::sheet_to_print(job, &archive.state, bundle.index, part.hand);
        let sheets: Vec<SheetRequirement> = bundle.parts.iter().map(required).collect();
        let parts = bundle.parts.iter().zip(&bare).zip(&sheets);
        let sources: Vec<Source<'_>> = parts
            .map(|((part, bare), sheet)| {
                self.source(Source { pages: pages.as_ref(), requirement: Some(sheet), ..*bare }, part)
            })
            .collect();
        let packet = match sources.as_slice() {
            [left, right] => plan::packet_of_both(*left, *right),
            [one] => plan::packet(*one),
            _ => bail!("a change of {} hands is printed by nobody", sources.len()),
        };
        let document = packet.map_err(|refused| anyhow!("{refused}"))?.document();
        let printings =
            bundle.parts.iter().zip(sheets).map(|(part, sheet)| printing(bundle, part, sheet, pages.as_ref()));
        Ok(Printed { planned: Planned { document, printings: printings.collect() }, pages })
    }

    /// What a sheet prints: the signatures that go on to a new one, those that count on one that stays.
    fn source<'s>(&'s self, specs: Source<'s>, part: &Part<'s>) -> Source<'s> {
        let state = &self.current.archive.state;
        let work = Some(self.work);
        let Some(change) = part.change else {
            let options = Options { date: Some(part.issue.issued.printed), ..specs.options };
            return Source { work, signed: Signed::InForce(state, part.issue), options, ..specs };
        };
        Source {
            work,
            signed: Signed::Carried(state, &change.carried),
            change: Some(Changed { sheet: change, because: self.because, on: self.on }),
            options: Options { date: Some(self.on), ..specs.options },
            ..specs
        }
    }
}

/// The pages that change, by what each piece would print today.
fn choose(bench: &[BenchPage], sources: &[Source<'_>]) -> Option<ChangePages> {
    let today = match sources {
        [left, right] => plan::pieces_of_both(*left, *right),
        _ => plan::pieces_of(*sources.first()?),
    };
    plan::change_pages(bench, &today.0, &today.1)
}

/// How the sheet of one hand is issued, or printed once more where it stays.
fn printing(bundle: &Bundle<'_>, part: &Part<'_>, sheet: SheetRequirement, pages: Option<&ChangePages>) -> Printing {
    Printing {
        index: bundle.index,
        sheet,
        supersedes: part.change.map(|_| part.old()),
        carried: part.change.map_or_else(Vec::new, |change| change.carried.clone()),
        kept: pages.iter().flat_map(|pages| &pages.keep).map(|page| page.page).collect(),
        same_revision: None,
    }
}

/// The whole packet of the sheet before would look current beside the pages that replace some of it.
fn warn_of_whole(planned: &Planned, output: &Path, console: &mut Console) {
    let stem = &planned.document.stem;
    let whole = stem.rsplit_once("-change").map_or_else(|| stem.clone(), |(packet, kind)| format!("{packet}{kind}"));
    let path = output.join(format!("{whole}.pdf"));
    if path.exists() {
        console.complain(&format!("{} is from an earlier run: do not work from it", path.display()));
    }
}

fn add_notice(posting: &mut NewPosting<'_>, notice: &Notice, paper: Written, on: Day) -> Result<()> {
    let data = data_text(&json!({ "notice": notice }))? + "\n";
    let blobs = [NewBlob::of(paper.pdf, "pdf"), NewBlob::of(data.into_bytes(), "json")];
    for sheet in notice.sheets.iter().filter(|sheet| sheet.new.is_none()) {
        let because = format!("its traveler is no longer in the plans (notice {})", notice.number);
        let by = notice.by.clone();
        let Ok(sheet) = SheetCode::parse(&sheet.old) else { continue };
        posting.entries.push(Voided { sheet, by, on, because }.into());
    }
    let (remove, insert) = notice.sheets_out_and_in();
    let entry = Noticed {
        number: notice.number.clone(),
        source: notice.source.clone(),
        drawings: notice.drawings.iter().map(|(sheet, old, new)| format!("{sheet}:{old} to {new}")).collect(),
        pdf: Some(blobs[0].reference()),
        data: Some(blobs[1].reference()),
        remove,
        insert,
        on,
    };
    posting.entries.push(entry.into());
    posting.blobs.extend(blobs);
    Ok(())
}
