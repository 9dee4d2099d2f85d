//! Issuing: a printed packet becomes an issued sheet of the archive, with everything that it was made from.
//!
//! It never issues over a sheet in force of the same traveler and hand; that is what `change` is for.

use anyhow::{Context, Result};

use super::output::Written;
use super::project::LoadedProject;
use crate::archive::{
    BlobRef, Carried, Carry, Issued, NewBlob, Reprinted, SheetRequirement, State, StepRequirement, Writer,
};
use crate::calendar::{Day, Moment};
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
}

/// What every packet of a run is recorded with.
#[derive(Clone, Copy)]
pub(super) struct Press<'a> {
    /// The project.
    pub project: &'a LoadedProject,
    /// The templates.
    pub templates: &'a Templates,
    /// The archive as it was when the run began.
    pub state: &'a State,
}

/// What became of a packet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Became {
    /// It is a new sheet.
    Issued,
    /// It is a sheet in force, printed as before.
    AsBefore,
    /// It is a sheet in force, printed with other marks.
    Reprinted,
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

/// Records a packet.
pub(super) fn record(
    writer: &mut Writer,
    press: &Press<'_>,
    printing: &Printing,
    paper: &Written,
    when: (Day, Moment),
) -> Result<Became> {
    let Press { project, templates, state } = *press;
    let code = printing.sheet.code();
    let pdf = NewBlob { bytes: &paper.pdf, ending: "pdf" };
    if state.in_force(&printing.sheet.packet()).is_some_and(|issue| issue.issued.sheet == code) {
        if knows_print(writer, &pdf.reference()) {
            return Ok(Became::AsBefore);
        }
        let reprinted = Reprinted { sheet: code, printed: when.0, pdf: pdf.reference(), because: None };
        writer.append(when.1, reprinted, &[pdf])?;
        return Ok(Became::Reprinted);
    }
    let requirements = printing.sheet.text();
    let spec = project.files.text(project.job.travelers[printing.index].file);
    let build_file = std::fs::read(&project.file).with_context(|| format!("cannot read {}", project.file.display()))?;
    let blobs = [
        pdf,
        NewBlob { bytes: requirements.as_bytes(), ending: "txt" },
        NewBlob { bytes: spec.as_bytes(), ending: "toml" },
        NewBlob { bytes: &build_file, ending: "toml" },
        NewBlob { bytes: paper.places.as_bytes(), ending: "json" },
    ];
    let references: Vec<BlobRef> = blobs.iter().map(NewBlob::reference).collect();
    let issued = issued(project, templates, printing, u32::try_from(paper.pages)?, when.0, &references);
    writer.append(when.1, issued, &blobs)?;
    Ok(Became::Issued)
}

/// Whether a print is among those of issued sheets.
fn knows_print(writer: &Writer, pdf: &BlobRef) -> bool {
    writer.survey().records.iter().any(|record| record.entry.blobs().contains(&pdf))
}

fn issued(
    project: &LoadedProject,
    templates: &Templates,
    printing: &Printing,
    pages: u32,
    printed: Day,
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
        printed,
        supersedes: printing.supersedes,
        drawings: sheet.drawings.clone(),
        pdf: pdf.clone(),
        pages,
        requirements: requirements.clone(),
        spec: Some(spec.clone()),
        project: Some(build_file.clone()),
        places: Some(places.clone()),
        tables: Digest::of_bytes(table_digest_input().as_bytes()),
        templates: Digest::of_bytes(templates.digest_input().as_bytes()),
        program: format!("shophead {}", env!("CARGO_PKG_VERSION")),
        steps: sheet.steps.iter().map(StepRequirement::issued).collect(),
        carried: printing.carried.clone(),
    }
}
