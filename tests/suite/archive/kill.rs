//! Interrupted writing: the process is killed at every step of an entry and at random moments, and on disks that are
//! full or read-only; nothing recorded earlier is lost, and what is unfinished is named.

use std::path::Path;
use std::process::{Command, ExitStatus, Stdio};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use shophead::archive::{Archive, Entry, FlawKind, NewBlob, NewPosting, Record};
use shophead::disk::{Disk, Watch};

use super::sample::{self, moment};
use super::{append, scratch};

const FOLDER: &str = "SHOPHEAD_TEST_FOLDER";
const ACKNOWLEDGED: &str = "SHOPHEAD_TEST_ACKNOWLEDGED";
const STEP: &str = "SHOPHEAD_TEST_STEP";
const POSTINGS: &str = "SHOPHEAD_TEST_POSTINGS";

/// So many entries, a file with each, are recorded in one go.
const EACH: u32 = 2;

/// Kills this process as nothing can be caught: no destructor runs, nothing is flushed.
fn die() -> ! {
    let _ = Command::new("kill").args(["-9", &std::process::id().to_string()]).status();
    loop {
        std::thread::park();
    }
}

fn dying_at(step: usize) -> Watch {
    let seen = AtomicUsize::new(0);
    Arc::new(move |_, _: &Path| {
        if seen.fetch_add(1, Ordering::Relaxed) == step {
            die();
        }
        Ok(())
    })
}

fn blob_of(nth: u32) -> Vec<u8> {
    format!("file {nth}\n").repeat(50).into_bytes()
}

/// Entry number `nth` as the child writes it; with two files, so that there are many steps.
fn entry_of(nth: u32) -> Entry {
    let (_, entry) = sample::entries().remove(7);
    let Entry::Added(mut added) = entry else { panic!("the eighth entry of the sample adds a file") };
    added.file = NewBlob::of(blob_of(nth), "txt").reference();
    added.name = format!("file {nth}");
    added.sheet = None;
    added.discrepancy = None;
    Entry::Added(added)
}

#[test]
#[ignore = "the child of the tests below"]
fn child() {
    let Some(folder) = std::env::var_os(FOLDER) else { return };
    let number = |name: &str| std::env::var(name).unwrap().parse::<usize>().unwrap();
    let archive = Archive::at(folder).on(Disk::watched(dying_at(number(STEP))));
    let mut writer = archive.writer().unwrap();
    for _ in 0..number(POSTINGS) {
        let next = writer.next().unwrap().0;
        let all = next..next + EACH;
        let entries = all.clone().map(entry_of).collect();
        let blobs = all.map(|nth| NewBlob::of(blob_of(nth), "txt")).collect();
        let posted = writer.post(&NewPosting { entries, blobs, ..NewPosting::at(moment("2026-05-01T12:00")) }).unwrap();
        acknowledge(posted.last().unwrap().number.0);
    }
}

/// Notes, whole or not at all, that an entry was acknowledged.
fn acknowledge(nth: u32) {
    let note = std::path::PathBuf::from(std::env::var_os(ACKNOWLEDGED).unwrap());
    let temporary = note.with_extension("new");
    std::fs::write(&temporary, nth.to_string()).unwrap();
    std::fs::rename(temporary, note).unwrap();
}

fn child_command(folder: &Path, acknowledged: &Path, step: usize, postings: usize) -> Command {
    let mut command = Command::new(std::env::current_exe().unwrap());
    command.args(["archive::kill::child", "--exact", "--ignored", "--test-threads=1"]);
    command
        .env(FOLDER, folder)
        .env(ACKNOWLEDGED, acknowledged)
        .env(STEP, step.to_string())
        .env(POSTINGS, postings.to_string());
    command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    command
}

fn acknowledged(path: &Path) -> usize {
    std::fs::read_to_string(path).ok().and_then(|text| text.parse().ok()).unwrap_or(0)
}

fn was_killed(status: ExitStatus) -> bool {
    use std::os::unix::process::ExitStatusExt;
    status.signal() == Some(9)
}

/// What must hold after any interruption; gives the records.
fn check(archive: &Archive, earlier: &[Record], acknowledged: usize, context: &str) -> Vec<Record> {
    let survey = archive.verify().unwrap();
    assert!(survey.is_whole(), "{context}: {:?}", survey.flaws);
    assert!(survey.records.starts_with(earlier), "{context}: an earlier entry is lost");
    assert!(survey.records.len() >= acknowledged, "{context}: entry {acknowledged} was acknowledged and is lost");
    let each = EACH as usize;
    assert!(survey.records.len() <= acknowledged + each, "{context}: more was recorded than was ever begun");
    let (own, last) = (survey.records.len() - earlier.len(), survey.records.len());
    assert!(own.is_multiple_of(each), "{context}: entries up to {last} are not whole");
    for flaw in &survey.flaws {
        assert_eq!(flaw.kind, FlawKind::Unfinished);
        let next = format!("{:06}.unfinished", survey.records.len() + 1);
        let last = format!("{:06}", survey.postings.last().map_or(0, |posted| posted.first.0));
        let known = flaw.path.contains(&next)
            || flaw.message.contains(&next)
            || flaw.message.contains(&last)
            || flaw.path.contains(&last);
        let known =
            known || flaw.path.starts_with("blobs/") || survey.records.is_empty() || flaw.path == "head.txt.unfinished";
        assert!(known, "{context}: {flaw} names neither the entry after {last} nor what belongs to it");
    }
    survey.records
}

/// The next writer takes up, and afterwards nothing is left to say.
fn take_up(archive: &Archive, context: &str) {
    let mut writer = archive.writer().unwrap();
    append(&mut writer, moment("2026-05-02T12:00"), sample::visit(), &[]).unwrap();
    drop(writer);
    let flaws = archive.verify().unwrap().flaws;
    assert!(flaws.is_empty(), "{context}: {flaws:?}");
}

#[test]
fn a_kill_at_any_step_leaves_the_archive_whole() {
    for begun in [0, 3] {
        let mut killed = 0;
        for step in 0.. {
            let folder = scratch();
            let (root, note) = (folder.path().join("archive"), folder.path().join("acknowledged"));
            let archive = Archive::at(&root);
            if begun > 0 {
                sample::write(&archive, begun);
            }
            let earlier = archive.read().unwrap().records;
            let status = child_command(&root, &note, step, 2).status().unwrap();
            let context = format!("step {step} after {begun} entries");
            check(&archive, &earlier, acknowledged(&note).max(begun), &context);
            take_up(&archive, &context);
            if !was_killed(status) {
                assert!(status.success(), "{context}: the child failed of itself");
                break;
            }
            killed += 1;
        }
        assert!(killed >= 25, "only {killed} steps were seen");
    }
}

#[test]
fn kills_at_random_moments_lose_nothing() {
    kill_at_random(40);
}

#[test]
#[ignore = "takes a minute; the test above does a share of it"]
fn two_hundred_kills_at_random_moments_lose_nothing() {
    kill_at_random(200);
}

/// Kills so many children that write entry after entry, one after the other, into one archive; more, where a busy machine
/// lets too few kills hit an entry that is being written.
fn kill_at_random(rounds: usize) {
    let folder = scratch();
    let root = folder.path().join("archive");
    let note = folder.path().join("acknowledged");
    let archive = Archive::at(&root);
    let mut earlier = Vec::new();
    let mut random = 12_345_u64;
    let mut unfinished = 0;
    for round in 0..5 * rounds {
        if round >= rounds && unfinished * 10 > rounds {
            break;
        }
        let known = acknowledged(&note);
        let mut child = child_command(&root, &note, usize::MAX, 100_000).spawn().unwrap();
        random = random.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        // The moment counts from the child's first entry, so that a busy machine does not kill it before it began.
        let begun = std::time::Instant::now();
        while acknowledged(&note) == known && begun.elapsed().as_secs() < 20 {
            std::thread::sleep(std::time::Duration::from_micros(200));
        }
        std::thread::sleep(std::time::Duration::from_micros((random >> 33) % 2_500));
        child.kill().unwrap();
        child.wait().unwrap();
        let survey = archive.verify().unwrap();
        unfinished += usize::from(!survey.flaws.is_empty());
        earlier = check(&archive, &earlier, acknowledged(&note), &format!("round {round}"));
    }
    take_up(&archive, "after the last round");
    assert!(earlier.len() > rounds, "only {} entries were written", earlier.len());
    assert!(unfinished * 10 > rounds, "only {unfinished} of {rounds} kills hit an entry");
}

#[test]
fn two_programs_at_once_lose_no_entry() {
    let folder = scratch();
    let root = folder.path().join("archive");
    let children: Vec<_> = (0..2)
        .map(|nth| {
            let note = folder.path().join(format!("note-{nth}"));
            (0..1).map(|_| child_command(&root, &note, usize::MAX, 40).spawn().unwrap()).next().unwrap()
        })
        .collect();
    for mut child in children {
        assert!(child.wait().unwrap().success());
    }
    let survey = Archive::at(&root).verify().unwrap();
    assert_eq!((survey.records.len(), survey.flaws), (160, Vec::new()));
}

/// Runs the child on a small disk of its own; absent where this machine does not allow that.
fn on_small_disk(script: &str) -> Option<String> {
    let exe = std::env::current_exe().unwrap();
    let mut command = Command::new("unshare");
    command.args(["--user", "--map-root-user", "--mount", "sh", "-c", script, "sh"]).arg(exe);
    command.env(STEP, usize::MAX.to_string()).env(POSTINGS, "1000");
    let output = command.output().ok()?;
    let said = String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr);
    said.contains("mounted").then_some(said)
}

const MOUNT: &str = "set -e; D=$(mktemp -d); mount -t tmpfs -o size=256k tmpfs $D; echo mounted; \
    export SHOPHEAD_TEST_FOLDER=$D/archive SHOPHEAD_TEST_ACKNOWLEDGED=/dev/shm/shophead-acknowledged-$$; \
    run() { \"$1\" archive::kill::child --exact --ignored --nocapture || true; }; ";

#[test]
#[allow(clippy::print_stderr)]
fn a_full_disk_and_a_read_only_disk_say_so_and_leave_a_whole_archive() {
    let full = format!(
        "{MOUNT} run \"$1\"; ls $D/archive/ledger | wc -l; export {FOLDER}; \"$1\" archive::kill::verify_child --exact --ignored --nocapture; umount $D"
    );
    let Some(said) = on_small_disk(&full) else {
        eprintln!("skipped: this machine lets nobody mount a small disk");
        return;
    };
    assert!(said.contains("No space left on device"), "{said}");
    assert!(said.contains("verified: 0 flaws"), "{said}");
    let read_only = format!(
        "{MOUNT} export {POSTINGS}=1; run \"$1\"; mount -o remount,ro $D; run \"$1\"; \"$1\" archive::kill::verify_child --exact --ignored --nocapture; umount $D"
    );
    let said = on_small_disk(&read_only).unwrap();
    assert!(said.contains("Read-only file system"), "{said}");
    assert!(said.contains("verified: 0 flaws, 2 entries"), "{said}");
}

#[test]
#[ignore = "the child of the test above"]
#[allow(clippy::print_stdout)]
fn verify_child() {
    let Some(folder) = std::env::var_os(FOLDER) else { return };
    let survey = Archive::at(folder).verify().unwrap();
    println!("verified: {} flaws, {} entries", survey.flaws.len(), survey.records.len());
}
