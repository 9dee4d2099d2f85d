//! Issuing: a printed packet becomes an issued sheet of the archive, with everything that it was made from.
//!
//! It never issues over a sheet in force of the same traveler and hand; that is what `change` is for.

use anyhow::{Context, Result};

use super::Console;
use super::options::on_paper;
use super::output::Written;
use super::project::LoadedProject;
use super::project_archive::ProjectArchive;
use crate::archive::{
    BlobRef, Carried, Carry, Issued, KeptPage, NewBlob, NewPosting, Reprinted, SheetRequirement, State, StepRequirement,
};
use crate::calendar::Day;
use crate::hardware::table_digest_input;
use crate::ident::{Digest, SheetCode};
use crate::job::{Item, Job, StepRef};
use crate::render::Templates;
use crate::work;

/// A packet that was printed for signing.
pub(super) struct Printing {
    /// Index of the traveler.
    pub index: usize,
    /// What its steps require.
    pub sheet: SheetRequirement,
    /// The sheet that it replaces.
    pub supersedes: Option<SheetCode>,
    /// Signatures that go on.
    pub carried: Vec<Carried>,
    /// Pages of earlier prints that stay in the packet.
    pub kept: Vec<KeptPage>,
    /// Why it has the revision of another sheet that was issued of it.
    pub same_revision: Option<String>,
}

/// `--same-revision`.
#[derive(Debug, Clone, clap::Args)]
pub(super) struct SameRevision {
    /// Why a sheet is issued under a revision that another sheet of its traveler has already
    #[arg(long, value_name = "REASON", value_parser = on_paper, requires = "issue")]
    same_revision: Option<String>,
}

impl SameRevision {
    /// A new issue has a revision of its own: two sheets that tell different work under one letter are taken for each
    /// other. One that has another's stands only with its reason, which is asked for where somebody can answer.
    pub fn require<'a>(
        &self,
        state: &State,
        printings: impl Iterator<Item = &'a mut Printing>,
        console: &mut Console,
    ) -> Result<()> {
        let mut same: Vec<&mut Printing> =
            printings.filter(|printing| has_letter_of_another(state, printing)).collect();
        if same.is_empty() {
            return Ok(());
        }
        let named = same.iter().map(|own| {
            format!("{}: another sheet of it was issued under revision `{}`", own.sheet.packet(), own.sheet.revision)
        });
        let said = named.collect::<Vec<_>>().join("; ");
        let given = match &self.same_revision {
            Some(given) => Some(given.clone()),
            None => console.ask(&format!("{said}. Why does the letter stay? Nothing is issued without an answer:")),
        };
        let because = given.map(|given| on_paper(&given)).transpose().map_err(anyhow::Error::msg)?;
        let help = "give the traveler its next `revision`, or say with --same-revision why it keeps this one";
        let because = because.with_context(|| format!("{said}; nothing was issued: {help}"))?;
        for printing in &mut same {
            printing.same_revision = Some(because.clone());
        }
        Ok(())
    }
}

/// Whether a sheet that is about to be issued has the revision of another of its packet.
fn has_letter_of_another(state: &State, printing: &Printing) -> bool {
    let sheet = &printing.sheet;
    let mut others = state.issues.iter().filter(|issue| issue.issued.packet() == sheet.packet());
    others.any(|other| other.issued.sheet != sheet.code() && other.issued.revision == sheet.revision)
        && state.in_force(&sheet.packet()).is_none_or(|issue| issue.issued.sheet != sheet.code())
}

/// What every packet of a run is recorded with.
#[derive(Clone, Copy)]
pub(super) struct Press<'a> {
    /// The project.
    pub project: &'a LoadedProject,
    /// The templates.
    pub templates: &'a Templates,
    /// The archive as it was when the run began.
    pub archive: &'a ProjectArchive,
}

/// Imported signatures that go onto the first sheet of a traveler: those whose step requires today what it required then.
pub(super) fn carried_imports(job: &Job, state: &State, index: usize, sheet: &SheetRequirement) -> Vec<Carried> {
    let mut carried = Vec::new();
    for (at, step) in sheet.steps.iter().enumerate() {
        let required = work::step_digests(job, Item { at: StepRef { traveler: index, step: at }, hand: sheet.hand });
        for signature in state.signatures_of(&sheet.item(&step.id)) {
            let import = signature.basis == crate::archive::Basis::Import;
            let same = import && required.contains(&signature.signed.requirement);
            carried.extend(same.then(|| Carried { entry: signature.entry, how: Carry::Stands, step: step.id.clone() }));
        }
    }
    carried
}

/// Adds a packet that was printed to what is recorded: as a new sheet, or as a print of one in force with other marks.
/// Gives what is said of one that is in force and was printed as before.
pub(super) fn add_to(
    posting: &mut NewPosting<'_>,
    press: &Press<'_>,
    printing: &Printing,
    paper: &Written,
    day: Day,
) -> Result<Option<String>> {
    let Press { project, templates, archive } = *press;
    let code = printing.sheet.code();
    let place = printing.sheet.packet();
    let pdf = NewBlob::of(paper.pdf.clone(), "pdf");
    let code_of_print = SheetCode::parse(&paper.print).ok();
    if archive.state.in_force(&place).is_some_and(|issue| issue.issued.sheet == code) {
        // What lies in the packet is its newest print: an older one of another form, made again, is another packet.
        let newest = archive.state.newest_print(code);
        let same_file = || {
            let mut records = archive.survey.records.iter();
            records.any(|record| record.entry.blobs().contains(&&pdf.reference()))
        };
        if newest.map_or_else(same_file, |print| Some(print.code) == code_of_print) {
            return Ok(Some(format!("{place}: {code} is in force; printed as before")));
        }
        let places = NewBlob::of(paper.places.clone().into_bytes(), "json");
        let again = Reprinted {
            sheet: code,
            printed: day,
            pdf: pdf.reference(),
            pages: Some(u32::try_from(paper.pages)?),
            places: Some(places.reference()),
            print: code_of_print,
            kept: printing.kept.clone(),
            because: None,
        };
        posting.entries.push(again.into());
        keep(posting, [pdf, places]);
        return Ok(None);
    }
    let spec = project.files.text(project.job.travelers[printing.index].file);
    let build_file = project.files.text(project.job.project.spec.span.file).as_bytes().to_vec();
    let blobs = [
        pdf,
        NewBlob::of(printing.sheet.text().into_bytes(), "txt"),
        NewBlob::of(spec.as_bytes().to_vec(), "toml"),
        NewBlob::of(build_file, "toml"),
        NewBlob::of(paper.places.clone().into_bytes(), "json"),
    ];
    let references: Vec<BlobRef> = blobs.iter().map(NewBlob::reference).collect();
    let print = Print { pages: u32::try_from(paper.pages)?, code: code_of_print, day };
    posting.entries.push(issued(project, templates, printing, &print, &references).into());
    keep(posting, blobs);
    Ok(None)
}

/// Adds files, each once: sheets of one print share it.
fn keep<const N: usize>(posting: &mut NewPosting<'_>, blobs: [NewBlob<'static>; N]) {
    for blob in blobs {
        if posting.blobs.iter().all(|own| own.reference() != blob.reference()) {
            posting.blobs.push(blob);
        }
    }
}

/// What is known only once it is printed.
struct Print {
    pages: u32,
    code: Option<SheetCode>,
    day: Day,
}

fn issued(
    project: &LoadedProject,
    templates: &Templates,
    printing: &Printing,
    print: &Print,
    blobs: &[BlobRef],
) -> Issued {
    let sheet = &printing.sheet;
    let [pdf, requirements, spec, build_file, places] = blobs else {
        unreachable!("a packet is recorded with five files")
    };
    Issued {
        sheet: sheet.code(),
        traveler: sheet.traveler.clone(),
        hand: sheet.hand,
        title: project.job.travelers[printing.index].title.value.clone(),
        revision: sheet.revision.clone(),
        same_revision: printing.same_revision.clone(),
        printed: print.day,
        supersedes: printing.supersedes,
        drawings: sheet.drawings.clone(),
        pdf: pdf.clone(),
        pages: print.pages,
        requirements: requirements.clone(),
        spec: Some(spec.clone()),
        project: Some(build_file.clone()),
        places: Some(places.clone()),
        print: print.code,
        kept: printing.kept.clone(),
        tables: Digest::of_bytes(table_digest_input().as_bytes()),
        templates: Digest::of_bytes(templates.digest_input().as_bytes()),
        program: format!("shophead {}", env!("CARGO_PKG_VERSION")),
        steps: sheet.steps.iter().map(StepRequirement::issued).collect(),
        carried: printing.carried.clone(),
    }
}
