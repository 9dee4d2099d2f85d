//! Finds steps that are taller than a page, before anybody wants to print them: how many lines each must lose.
//!
//! Only those are laid out that may be too tall by a rough count, and by the templates that come with the program: a builder's own
//! are asked when it is printed, and refuse then.

use anyhow::Result;

use super::project::LoadedProject;
use crate::plan::suspects;
use crate::render::{self, Templates};

/// Adds a finding for every step that has no room on a page.
pub(super) fn check_heights(project: &mut LoadedProject) -> Result<()> {
    let _spoken = project.speak();
    let suspects = suspects(&project.job, &project.report);
    if suspects.is_empty() {
        return Ok(());
    }
    let mut templates = Templates::load(None)?;
    templates.show_pictures(project.pictures.clone());
    for suspect in suspects {
        for tall in render::too_tall(&suspect.document, &templates)? {
            project.report.push(suspect.finding(&project.job, &tall));
        }
    }
    project.report.sort(&project.files);
    Ok(())
}
