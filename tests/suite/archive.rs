//! The archive: bytes of every kind of record, damage found, interrupted writing, two writers.

mod compared;
mod contradiction;
mod damage;
mod enter;
mod entries;
mod form;
mod growth;
#[cfg(unix)]
mod kill;
mod sample;
mod sign;
mod store;
mod strike;

use std::collections::BTreeMap;
use std::path::Path;

use shophead::archive::{Entry, Failure, NewBlob, NewPosting, Record, Writer};
use shophead::calendar::Moment;

/// Every file below a folder with its bytes, by path with `/` between names.
fn tree(root: &Path) -> BTreeMap<String, Vec<u8>> {
    let files = walkdir::WalkDir::new(root).into_iter().map(Result::unwrap).filter(|entry| entry.file_type().is_file());
    files
        .map(|entry| {
            let path = entry.path().strip_prefix(root).unwrap().to_str().unwrap().replace('\\', "/");
            (path, std::fs::read(entry.path()).unwrap())
        })
        .collect()
}

/// A folder in memory where there is one: what a killed process leaves is the same, and it is faster.
fn scratch() -> tempfile::TempDir {
    let memory = Path::new("/dev/shm");
    if memory.is_dir() { tempfile::tempdir_in(memory) } else { tempfile::tempdir() }.unwrap()
}

/// Records one entry with the files that it names.
fn append(
    writer: &mut Writer,
    entered: Moment,
    entry: impl Into<Entry>,
    blobs: &[NewBlob<'_>],
) -> Result<Record, Failure> {
    let entries = vec![entry.into()];
    let posting = NewPosting { entries, blobs: blobs.to_vec(), ..NewPosting::at(entered) };
    writer.post(&posting).map(|mut all| all.remove(0))
}

/// Writes a tree of files.
fn plant(root: &Path, tree: &BTreeMap<String, Vec<u8>>) {
    for folder in ["ledger", "blobs"] {
        std::fs::create_dir_all(root.join(folder)).unwrap();
    }
    for (path, bytes) in tree {
        std::fs::write(root.join(path), bytes).unwrap();
    }
}

/// A folder of the test data.
fn data(name: &str) -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/archive").join(name)
}

/// Whether expected files are to be written anew.
fn bless() -> bool {
    std::env::var_os("SHOPHEAD_BLESS").is_some()
}
