//! The store: nothing overwritten, a failing disk leaves all as it was, two writers lose nothing.

use std::io;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use shophead::archive::{Archive, Failure, NewBlob, Writer};
use shophead::calendar::Moment;
use shophead::disk::{Disk, Watch};

use super::sample::{self, moment};
use super::{append, scratch, tree};

fn now() -> Moment {
    moment("2026-05-01T12:00")
}

/// Fails with an error of a kind at the given step, counted from zero; `seen` counts the steps.
fn failing_at(step: usize, kind: io::ErrorKind, seen: &Arc<AtomicUsize>) -> Watch {
    let seen = Arc::clone(seen);
    Arc::new(move |_, _: &Path| {
        let at = seen.fetch_add(1, Ordering::Relaxed);
        if at == step { Err(io::Error::from(kind)) } else { Ok(()) }
    })
}

fn append_issue(writer: &mut Writer) -> Result<(), Failure> {
    let blobs = sample::blobs();
    let (_, entry) = sample::entries().remove(1);
    let named: Vec<NewBlob> = blobs
        .iter()
        .map(|(bytes, ending)| NewBlob::of(bytes, ending))
        .filter(|blob| entry.blobs().contains(&&blob.reference()))
        .collect();
    append(writer, now(), entry, &named).map(|_| ())
}

#[test]
fn a_disk_that_fails_at_any_step_leaves_the_archive_as_it_was_and_says_why() {
    for kind in [io::ErrorKind::StorageFull, io::ErrorKind::ReadOnlyFilesystem, io::ErrorKind::PermissionDenied] {
        for step in 0.. {
            let folder = scratch();
            let archive = Archive::at(folder.path());
            sample::write(&archive, 1);
            let before = tree(folder.path());
            let seen = Arc::default();
            // Opening the writer of an archive that exists takes steps, which may fail too.
            let watched = archive.clone().on(Disk::watched(failing_at(step, kind, &seen)));
            let result = watched.writer().and_then(|mut writer| append_issue(&mut writer));
            match result {
                Ok(()) if seen.load(Ordering::Relaxed) <= step => break,
                Ok(()) => {
                    let survey = archive.verify().unwrap();
                    assert!(survey.is_whole() && survey.records.len() == 2, "step {step}: {:?}", survey.flaws);
                }
                Err(failure) => {
                    let said = failure.to_string();
                    assert!(said.starts_with("cannot ") && said.contains(&io::Error::from(kind).to_string()), "{said}");
                    assert_eq!(tree(folder.path()), before, "step {step}: {said}");
                    assert_eq!(archive.verify().unwrap().flaws, []);
                }
            }
        }
    }
}

#[test]
fn a_new_archive_that_could_not_be_made_can_be_made_later() {
    for step in 0..20 {
        let folder = scratch();
        let archive = Archive::at(folder.path().join("archive"));
        let seen = Arc::default();
        let watched = archive.clone().on(Disk::watched(failing_at(step, io::ErrorKind::StorageFull, &seen)));
        if watched.writer().is_ok() {
            assert!(seen.load(Ordering::Relaxed) <= step);
        }
        assert!(!archive.exists(), "step {step}: nothing was recorded yet");
        assert!(archive.verify().unwrap().is_whole(), "step {step}");
        sample::write(&archive, 3);
        assert_eq!(archive.verify().unwrap().flaws, []);
    }
}

#[test]
fn nothing_that_was_recorded_changes_its_bytes_while_more_is_recorded() {
    let folder = scratch();
    let archive = Archive::at(folder.path());
    let mut before = tree(folder.path());
    for count in 1..=sample::entries().len() {
        let fresh = scratch();
        sample::write(&Archive::at(fresh.path()), count);
        let after = tree(fresh.path());
        for (path, bytes) in before.iter().filter(|(path, _)| *path != "head.txt") {
            assert_eq!(after.get(path), Some(bytes), "{path} changed with entry {count}");
        }
        before = after;
    }
    assert!(!archive.exists());
}

#[test]
fn an_entry_that_names_a_file_which_nobody_has_is_refused() {
    let folder = scratch();
    let archive = Archive::at(folder.path());
    sample::write(&archive, 1);
    let before = tree(folder.path());
    let mut writer = archive.writer().unwrap();
    let (_, issue) = sample::entries().remove(1);
    let said = append(&mut writer, now(), issue, &[]).unwrap_err().to_string();
    assert!(said.starts_with("cannot read "), "{said}");
    assert_eq!(tree(folder.path()), before);
}

#[test]
fn a_file_that_is_there_already_is_used_again() {
    let folder = scratch();
    let archive = Archive::at(folder.path());
    sample::write(&archive, 2);
    let before = tree(folder.path()).len();
    append_issue(&mut archive.writer().unwrap()).unwrap();
    assert_eq!(tree(folder.path()).len(), before + 1, "one more record, no more files");
    assert_eq!(archive.verify().unwrap().flaws, []);
}

#[test]
fn a_second_writer_waits_or_is_refused_and_a_reader_is_not_disturbed() {
    let folder = scratch();
    let archive = Archive::at(folder.path());
    let first = archive.writer().unwrap();
    let said = archive.clone().waiting(2).writer().err().unwrap().to_string();
    assert!(said.contains("another program is writing to the archive"), "{said}");
    assert!(matches!(archive.clone().waiting(1).verify(), Err(Failure::Busy { .. })));
    assert!(archive.read().unwrap().records.is_empty());
    let other = archive.clone();
    let waiting = std::thread::spawn(move || {
        let (entered, entry) = sample::entries().remove(0);
        append(&mut other.writer().unwrap(), moment(entered), entry, &[]).unwrap().number.0
    });
    std::thread::sleep(std::time::Duration::from_millis(200));
    drop(first);
    assert_eq!(waiting.join().unwrap(), 1);
    assert_eq!(archive.verify().unwrap().flaws, []);
}

#[test]
fn an_archive_without_its_head_is_not_continued_until_somebody_says_where_it_ends() {
    let folder = scratch();
    let archive = Archive::at(folder.path());
    sample::write(&archive, 4);
    let head = std::fs::read_to_string(folder.path().join("head.txt")).unwrap();
    std::fs::remove_file(folder.path().join("head.txt")).unwrap();
    let said = archive.writer().err().unwrap().to_string();
    let lines: Vec<&str> = said.split("write these lines into it: ").nth(1).unwrap().split(" / ").take(3).collect();
    assert_eq!(lines.join("\n") + "\n", head, "the message holds the lines that put it right");
    std::fs::write(folder.path().join("head.txt"), lines.join("\n") + "\n").unwrap();
    archive.writer().unwrap();
    assert_eq!(archive.verify().unwrap().flaws, []);
}

#[test]
fn an_archive_whose_last_entry_is_lost_goes_on_and_keeps_saying_so() {
    let folder = scratch();
    let archive = Archive::at(folder.path());
    sample::write(&archive, 4);
    let last = archive.read().unwrap().postings.pop().unwrap();
    std::fs::remove_file(folder.path().join("ledger").join(&last.file)).unwrap();
    let record = append(&mut archive.writer().unwrap(), now(), sample::visit(), &[]).unwrap();
    assert_eq!(record.number.0, 5);
    let text = std::fs::read_dir(folder.path().join("ledger")).unwrap().map(|own| own.unwrap().path());
    let text = text.map(|path| std::fs::read_to_string(path).unwrap()).find(|text| text.contains("number: 000005"));
    assert!(text.unwrap().contains(&format!("previous: {}\n", last.digest.hex())));
    let flaws = archive.verify().unwrap().flaws;
    assert_eq!(flaws.len(), 1, "{flaws:?}");
    assert_eq!(flaws[0].to_string(), format!("missing: ledger/{}: no file has this entry", last.file));
}

#[test]
fn a_writer_believes_what_was_read_before_only_where_nothing_happened_since() {
    let folder = scratch();
    let archive = Archive::at(folder.path());
    sample::write(&archive, 3);
    let known = archive.read().unwrap();
    assert_eq!(archive.writer_in_line(&known, || {}).unwrap().survey(), &known);

    // Something was recorded since.
    append_issue(&mut archive.writer().unwrap()).unwrap();
    let now = archive.read().unwrap();
    assert_eq!((known.records.len(), now.records.len()), (3, 4));
    assert_eq!(archive.writer_in_line(&known, || {}).unwrap().survey(), &now);

    // A file was lost since.
    std::fs::remove_file(folder.path().join("ledger").join(&now.postings[1].file)).unwrap();
    let damaged = archive.writer_in_line(&now, || {}).unwrap().survey().clone();
    assert!(!damaged.is_whole() && damaged.records.len() == 3, "{:?}", damaged.flaws);
}
