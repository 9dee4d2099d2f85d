//! Reads the pictures that texts show, from the project's folder of pictures and from nowhere else.
//!
//! No path leaves that folder: not by `..`, not by being absolute, not through a link.

use std::path::{Component, Path};

use crate::disk;
use crate::render::Picture;

/// Largest picture that is read.
const LARGEST: u64 = 8 << 20;

/// The picture at a path below the folder.
///
/// # Errors
/// What is wrong with it, as one sentence that names the path.
pub(super) fn read_picture(folder: &Path, path: &str) -> Result<Picture, String> {
    if path.is_empty() {
        return Err("this picture names no file".to_owned());
    }
    let below = Path::new(path);
    let plain = below.components().all(|part| matches!(part, Component::Normal(_)));
    if !plain || path.contains(['\\', ':']) {
        return Err(format!("the picture `{path}` is not named by a path below the folder of pictures"));
    }
    let cannot = |failure: &std::io::Error| format!("the picture `{path}` cannot be read: {failure}");
    let whole = folder.join(below);
    let real = whole.canonicalize().map_err(|failure| match failure.kind() {
        std::io::ErrorKind::NotFound => format!("there is no picture `{path}`"),
        _ => cannot(&failure),
    })?;
    let home = folder.canonicalize().map_err(|failure| cannot(&failure))?;
    if !real.starts_with(&home) {
        return Err(format!("the picture `{path}` is a link that leads out of the folder of pictures"));
    }
    let bytes = disk::read(&real, LARGEST).map_err(|failure| cannot(failure.cause()))?;
    Picture::of(bytes).map_err(|fault| format!("the picture `{path}` {fault}"))
}
