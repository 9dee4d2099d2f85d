//! The files beside the ledger: each against its name, and against the records that name it.
//!
//! A file that no record names is foreign, unless an interrupted entry brought it.

use std::collections::BTreeMap;
use std::path::Path;

use super::{FlawKind, Survey};
use crate::archive::failure::Failure;
use crate::archive::folder::{BLOBS, UNFINISHED, names, read_if_there};
use crate::archive::value::{BlobRef, EntryNumber};
use crate::ident::Digest;

/// Names the files that were being written.
pub(super) fn note_unfinished(root: &Path, survey: &mut Survey) -> Result<(), Failure> {
    for name in names(&root.join(BLOBS))?.into_iter().filter(|name| name.is_file && name.name.ends_with(UNFINISHED)) {
        let path = format!("{BLOBS}/{}", name.name);
        survey.flaw(FlawKind::Unfinished, path.clone(), "an interrupted run left it; it never counted");
        survey.leftovers.push(path);
    }
    Ok(())
}

/// Reads every file among the blobs.
pub(super) fn read(root: &Path, survey: &mut Survey) -> Result<(), Failure> {
    let mut wanted: BTreeMap<String, (BlobRef, EntryNumber)> = BTreeMap::new();
    for record in &survey.records {
        for blob in record.entry.blobs() {
            wanted.entry(blob.file_name()).or_insert_with(|| (blob.clone(), record.number));
        }
    }
    for name in names(&root.join(BLOBS))? {
        let path = format!("{BLOBS}/{}", name.name);
        if !name.is_file {
            survey.flaw(FlawKind::Foreign, path, "it is not a plain file");
        } else if name.name.ends_with(UNFINISHED) {
            // Named by `note_unfinished`.
        } else if let Some((blob, entry)) = wanted.remove(&name.name) {
            compare(root, path, &blob, entry, survey)?;
        } else if !survey.leftovers.contains(&path) {
            survey.flaw(FlawKind::Foreign, path, "no sound entry names it");
        }
    }
    for (name, (_, entry)) in wanted {
        survey.flaw(FlawKind::Missing, format!("{BLOBS}/{name}"), format!("entry {entry} names it"));
    }
    Ok(())
}

fn compare(root: &Path, path: String, blob: &BlobRef, entry: EntryNumber, survey: &mut Survey) -> Result<(), Failure> {
    // A file that went since it was listed is found as one without bytes: its digest does not fit.
    let bytes = read_if_there(&root.join(&path))?.unwrap_or_default();
    let length = bytes.len() as u64;
    if Digest::of_bytes(&bytes) != blob.digest {
        let how = if length == blob.size {
            "the same number of bytes, but others".to_owned()
        } else {
            format!("{length} bytes instead of {}", blob.size)
        };
        survey.flaw(FlawKind::Changed, path, format!("entry {entry} names it; it has {how}"));
    } else if length == blob.size {
        survey.sound += 1;
    } else {
        survey.flaw(FlawKind::Changed, path, format!("it has {length} bytes, entry {entry} says {}", blob.size));
    }
    Ok(())
}
