//! Damage: every changed bit, lost file and swapped pair is found; the kept damaged archives are described exactly.

use std::collections::BTreeMap;

use shophead::archive::{Archive, Flaw, FlawKind, Survey};

use super::{bless, data, plant, sample, scratch, tree};

type Tree = BTreeMap<String, Vec<u8>>;

fn whole(count: usize) -> Tree {
    let folder = scratch();
    sample::write(&Archive::at(folder.path()), count);
    tree(folder.path())
}

fn verify(tree: &Tree) -> Survey {
    let folder = scratch();
    plant(folder.path(), tree);
    Archive::at(folder.path()).verify().unwrap()
}

/// Whether a flaw points at a file; an entry lost at the end is named by its number.
fn names(flaws: &[Flaw], path: &str) -> bool {
    flaws.iter().any(|flaw| flaw.path == path || (path.starts_with("ledger/") && flaw.path.starts_with(&path[..13])))
}

#[test]
fn one_changed_bit_in_any_file_is_found_in_that_file() {
    let sound = whole(usize::MAX);
    assert_eq!(verify(&sound).flaws, []);
    for (nth, path) in sound.keys().enumerate() {
        // A different bit of a different byte each time, and always the first and the last bit of the file.
        let length = sound[path].len() * 8;
        for bit in [0, length - 1, (nth * 7919 + 13) % length, (nth * 104_729 + 3) % length] {
            let mut damaged = sound.clone();
            damaged.get_mut(path).unwrap()[bit / 8] ^= 1 << (bit % 8);
            let survey = verify(&damaged);
            assert!(!survey.is_whole(), "bit {bit} of {path} was not found");
            assert!(names(&survey.flaws, path), "bit {bit} of {path}: {:?}", survey.flaws);
        }
    }
}

#[test]
fn every_bit_of_head_and_lock_and_last_record_is_found() {
    let folder = scratch();
    let archive = Archive::at(folder.path());
    sample::write(&archive, 3);
    let sound = tree(folder.path());
    let last = sound.keys().rfind(|path| path.starts_with("ledger/")).unwrap().clone();
    for path in ["head.txt", "lock.txt", &last] {
        for bit in 0..sound[path].len() * 8 {
            let mut bytes = sound[path].clone();
            bytes[bit / 8] ^= 1 << (bit % 8);
            std::fs::write(folder.path().join(path), bytes).unwrap();
            let survey = archive.verify().unwrap();
            assert!(!survey.is_whole() && names(&survey.flaws, path), "bit {bit} of {path}: {:?}", survey.flaws);
        }
        std::fs::write(folder.path().join(path), &sound[path]).unwrap();
    }
}

#[test]
fn every_lost_file_is_found_and_named() {
    let sound = whole(usize::MAX);
    for path in sound.keys() {
        let mut damaged = sound.clone();
        damaged.remove(path);
        let survey = verify(&damaged);
        assert!(!survey.is_whole(), "{path}");
        assert!(
            survey.flaws.iter().any(|flaw| flaw.kind == FlawKind::Missing && names(std::slice::from_ref(flaw), path)),
            "{path}: {:?}",
            survey.flaws
        );
    }
}

#[test]
fn every_swapped_pair_is_found_and_both_are_named() {
    let sound = whole(6);
    let paths: Vec<&String> = sound.keys().collect();
    for (at, one) in paths.iter().enumerate() {
        for other in &paths[at + 1..] {
            if sound[*one] == sound[*other] {
                continue;
            }
            let mut damaged = sound.clone();
            damaged.insert((*one).clone(), sound[*other].clone());
            damaged.insert((*other).clone(), sound[*one].clone());
            let survey = verify(&damaged);
            assert!(names(&survey.flaws, one) && names(&survey.flaws, other), "{one} and {other}: {:?}", survey.flaws);
        }
    }
}

#[test]
fn every_pair_of_entries_lost_at_the_end_is_found() {
    let sound = whole(6);
    let entries: Vec<&String> = sound.keys().filter(|path| path.starts_with("ledger/")).collect();
    let mut damaged = sound.clone();
    for path in &entries[4..] {
        damaged.remove(*path);
    }
    let survey = verify(&damaged);
    assert!(
        survey
            .flaws
            .iter()
            .any(|flaw| flaw.message == "entries 000005 to 000006 are not there, or head.txt was changed"),
        "{:?}",
        survey.flaws
    );
}

/// The demo's archive in a place where it may be damaged.
fn demo() -> (tempfile::TempDir, Archive, Tree) {
    let kept = tree(&std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/archive"));
    let folder = scratch();
    plant(folder.path(), &kept);
    let archive = Archive::at(folder.path());
    assert_eq!(archive.verify().unwrap().flaws, []);
    assert!(kept.len() > 30, "{} files", kept.len());
    (folder, archive, kept)
}

#[test]
fn one_changed_bit_in_any_file_of_the_demo_is_found() {
    let (folder, archive, kept) = demo();
    for (nth, (path, bytes)) in kept.iter().enumerate() {
        let length = bytes.len() * 8;
        for bit in [0, length - 1, (nth * 7919 + 13) % length] {
            let mut damaged = bytes.clone();
            damaged[bit / 8] ^= 1 << (bit % 8);
            std::fs::write(folder.path().join(path), damaged).unwrap();
            let survey = archive.verify().unwrap();
            assert!(!survey.is_whole() && names(&survey.flaws, path), "bit {bit} of {path}: {:?}", survey.flaws);
        }
        std::fs::write(folder.path().join(path), bytes).unwrap();
    }
    assert_eq!(archive.verify().unwrap().flaws, []);
}

#[test]
fn every_lost_file_of_the_demo_is_found() {
    let (folder, archive, kept) = demo();
    for (path, bytes) in &kept {
        std::fs::remove_file(folder.path().join(path)).unwrap();
        let flaws = archive.verify().unwrap().flaws;
        let missing =
            flaws.iter().any(|flaw| flaw.kind == FlawKind::Missing && names(std::slice::from_ref(flaw), path));
        assert!(missing, "{path}: {flaws:?}");
        std::fs::write(folder.path().join(path), bytes).unwrap();
    }
    assert_eq!(archive.verify().unwrap().flaws, []);
}

#[test]
fn every_file_of_the_demo_swapped_with_others_is_found() {
    let (folder, archive, kept) = demo();
    let paths: Vec<&String> = kept.keys().collect();
    for (at, one) in paths.iter().enumerate() {
        // The next one, and others near and far, of the same kind and of another.
        for away in [1, 7, paths.len() / 2] {
            let other = paths[(at + away) % paths.len()];
            if kept[*one] == kept[other] {
                continue;
            }
            std::fs::write(folder.path().join(one), &kept[other]).unwrap();
            std::fs::write(folder.path().join(other), &kept[*one]).unwrap();
            let flaws = archive.verify().unwrap().flaws;
            assert!(names(&flaws, one) && names(&flaws, other), "{one} and {other}: {flaws:?}");
            std::fs::write(folder.path().join(one), &kept[*one]).unwrap();
            std::fs::write(folder.path().join(other), &kept[other]).unwrap();
        }
    }
    assert_eq!(archive.verify().unwrap().flaws, []);
}

/// The first so many entries of the archive of version one, whose form stands fast while today's becomes better.
fn begun(count: usize) -> Tree {
    let mut sound = tree(&data("v1"));
    let records = Archive::at(data("v1")).read().unwrap().records;
    let blobs: Vec<String> = records[..count]
        .iter()
        .flat_map(|record| record.entry.blobs())
        .map(|blob| format!("blobs/{}", blob.file_name()))
        .collect();
    let ledger: Vec<String> = sound.keys().filter(|path| path.starts_with("ledger/")).take(count).cloned().collect();
    let last = shophead::ident::Digest::of_bytes(&sound[&ledger[count - 1]]).hex();
    sound.retain(|path, _| !path.contains('/') || ledger.contains(path) || blobs.contains(path));
    sound.insert("head.txt".into(), format!("shophead head 1\nentries: {count}\nlast: {last}\n").into_bytes());
    sound
}

/// Damage done to the first six entries of the sample, by name.
fn damages() -> Vec<(&'static str, Tree)> {
    let sound = begun(6);
    let entries: Vec<String> = sound.keys().filter(|path| path.starts_with("ledger/")).cloned().collect();
    let blobs: Vec<String> = sound.keys().filter(|path| path.starts_with("blobs/")).cloned().collect();
    let change = |act: &dyn Fn(&mut Tree)| {
        let mut damaged = sound.clone();
        act(&mut damaged);
        damaged
    };
    let swap = |tree: &mut Tree, one: &str, other: &str| {
        let (a, b) = (tree[one].clone(), tree[other].clone());
        tree.insert(one.to_owned(), b);
        tree.insert(other.to_owned(), a);
    };
    vec![
        ("damaged-blob-lost", change(&|tree| drop(tree.remove(&blobs[0])))),
        ("damaged-entry-cut", change(&|tree| tree.get_mut(&entries[4]).unwrap().truncate(200))),
        (
            "damaged-entry-edited",
            change(&|tree| {
                let text = String::from_utf8(tree[&entries[4]].clone()).unwrap();
                tree.insert(
                    entries[4].clone(),
                    text.replace("reading: level = 0.05", "reading: level = 0.04").into_bytes(),
                );
            }),
        ),
        (
            "damaged-entry-replaced",
            change(&|tree| {
                // A forger edits an entry and gives it the name that fits; the entry after it still names the old one.
                let text =
                    String::from_utf8(tree.remove(&entries[2]).unwrap()).unwrap().replace("2026-02-20", "2026-02-21");
                let digest = shophead::ident::Digest::of_bytes(text.as_bytes()).hex();
                tree.insert(format!("ledger/000003-{}.txt", &digest[..8]), text.into_bytes());
            }),
        ),
        ("damaged-order-swapped", change(&|tree| swap(tree, &entries[1], &entries[2]))),
        ("damaged-last-entry-lost", change(&|tree| drop(tree.remove(&entries[5])))),
        (
            "damaged-foreign-files",
            change(&|tree| {
                tree.insert("ledger/notes.txt".into(), b"my notes\n".to_vec());
                tree.insert("blobs/photo.jpg".into(), b"jpg".to_vec());
                tree.insert("thumbs.db".into(), b"db".to_vec());
            }),
        ),
        (
            "damaged-unfinished",
            change(&|tree| {
                // The last entry as an interrupted run leaves it: written, but without its name, and the head before it.
                let text = tree.remove(&entries[5]).unwrap();
                tree.insert("ledger/000006.unfinished".into(), text[..90].to_vec());
                tree.insert("head.txt".into(), begun(5)["head.txt"].clone());
            }),
        ),
    ]
}

#[test]
fn the_kept_damaged_archives_are_described_exactly() {
    for (name, damaged) in damages() {
        let kept = data(name);
        if bless() {
            let _ = std::fs::remove_dir_all(&kept);
            plant(&kept.join("archive"), &damaged);
            let said: Vec<String> = verify(&damaged).flaws.iter().map(ToString::to_string).collect();
            std::fs::write(kept.join("found.txt"), said.join("\n") + "\n").unwrap();
        }
        let survey = Archive::at(kept.join("archive")).verify().unwrap();
        let said: Vec<String> = survey.flaws.iter().map(ToString::to_string).collect();
        let expected = std::fs::read_to_string(kept.join("found.txt")).unwrap();
        assert_eq!(said, expected.lines().collect::<Vec<_>>(), "{name}");
        assert_eq!(survey.is_whole(), name == "damaged-unfinished", "{name}");
        let kept = tree(&kept.join("archive"));
        assert!(kept == damaged, "{name}: verify changes nothing, and the kept files are these");
    }
}
