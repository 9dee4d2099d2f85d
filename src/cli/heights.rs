//! Finds steps that are taller than a page, before anybody wants to print them: how many lines each must lose.
//!
//! Only those are laid out that may be too tall by a rough count; with a builder's own templates by these, as they are printed.
//! Where own templates cannot be laid out, that is said and nothing is found: printing refuses them.

use anyhow::Result;

use super::output::load_templates;
use super::project::LoadedProject;
use super::{Console, apart};
use crate::plan::{suspects, tall_steps};

/// Adds a finding for every step that has no room on a page.
pub(super) fn check_heights(project: &mut LoadedProject, console: &mut Console) -> Result<()> {
    let _spoken = project.speak();
    let suspects = suspects(&project.job, &project.report);
    if suspects.is_empty() {
        return Ok(());
    }
    let mut templates = load_templates(&project.folder, console)?;
    templates.show_pictures(project.pictures.clone());
    let process = console.apart();
    let is_own = templates.own_paths().next().is_some();
    let measure = |document: &_| apart::measure(process.as_ref(), document, &templates);
    match tall_steps(&project.job, &suspects, measure) {
        Ok(found) => found.into_iter().for_each(|finding| project.report.push(finding)),
        Err(failure) if is_own => {
            console.complain(&format!("whether every step has room on a page is not known: {failure:#}"));
        }
        Err(failure) => return Err(failure.into()),
    }
    project.report.sort(&project.files);
    Ok(())
}
