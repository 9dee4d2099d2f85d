//! `schema`: prints the JSON Schema of the files that a builder writes, for an editor or another program; a new project has
//! them as files, and each of its files the line that editors look for.

use std::io::Write;
use std::path::Path;

use anyhow::{Context, Result};

use super::{Console, Outcome};
use crate::disk::{Disk, Taken};
use crate::spec::{evening_schema, project_schema, traveler_schema};

/// Arguments of `schema`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Which file the schema is for
    #[arg(value_enum, default_value_t = File::Traveler)]
    file: File,
}

/// The files that have a schema.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(super) enum File {
    /// A traveler below the specs folder
    Traveler,
    /// The project file, `build.toml`
    Project,
    /// What was done: a file of an evening, and `progress.toml` beside the project file
    Evening,
}

impl File {
    const ALL: [Self; 3] = [Self::Traveler, Self::Project, Self::Evening];

    fn text(self) -> String {
        let schema = match self {
            Self::Traveler => traveler_schema(),
            Self::Project => project_schema(),
            Self::Evening => evening_schema(),
        };
        format!("{schema:#}\n")
    }

    const fn name(self) -> &'static str {
        match self {
            Self::Traveler => "traveler.json",
            Self::Project => "project.json",
            Self::Evening => "evening.json",
        }
    }
}

/// Runs `schema`; it needs no project.
pub(super) fn run(_: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    console.print(&arguments.file.text())?;
    Ok(Outcome::Clean)
}

/// Folder of a project in which its schemas lie.
const FOLDER: &str = "schemas";

/// Writes the schemas beside a project file; those of an earlier program are replaced.
pub(super) fn write_schemas(project: &Path, disk: &Disk) -> Result<()> {
    let folder = project.join(FOLDER);
    std::fs::create_dir_all(&folder).with_context(|| format!("cannot make the folder {}", folder.display()))?;
    for file in File::ALL {
        let path = folder.join(file.name());
        disk.put(&path, Taken::Replace, |out| disk.step("write", &path, || out.write_all(file.text().as_bytes())))?;
    }
    Ok(())
}

/// The line by which an editor finds the schema of a file, in a project that has schemas; empty elsewhere, and where the file
/// lies outside the project's folder.
pub(super) fn editor_line(project: &Path, path: &Path, file: File) -> String {
    let is_there = project.join(FOLDER).join(file.name()).is_file();
    let inside = path.strip_prefix(project).ok().filter(|_| is_there);
    // A bare name in the folder has the empty parent, and no step up.
    let up = inside.and_then(Path::parent).map(|folder| "../".repeat(folder.components().count()));
    let place = up.map(|up| if up.is_empty() { "./".to_owned() } else { up });
    place.map_or_else(String::new, |place| format!("#:schema {place}{FOLDER}/{}\n", file.name()))
}
