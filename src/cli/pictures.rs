//! Reads the pictures that texts show, from the project's folder of pictures and from nowhere else.
//!
//! No path leaves that folder: not by `..`, not by being absolute, not through a link.

use std::io::Read;
use std::path::{Component, Path};

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
    let about = std::fs::metadata(&real).map_err(|failure| cannot(&failure))?;
    if !about.is_file() {
        return Err(format!("the picture `{path}` is not a file"));
    }
    if about.len() > LARGEST {
        return Err(format!("the picture `{path}` has {} bytes; the most is {LARGEST}", about.len()));
    }
    let mut bytes = Vec::new();
    // The file may grow while it is read: no more than the limit comes in.
    let file = std::fs::File::open(&real).map_err(|failure| cannot(&failure))?;
    file.take(LARGEST).read_to_end(&mut bytes).map_err(|failure| cannot(&failure))?;
    Picture::of(bytes).map_err(|fault| format!("the picture `{path}` {fault}"))
}
