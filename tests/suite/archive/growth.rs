//! How time and memory grow with the work: 50, 200 and 800 travelers of 25 steps, all signed but one.
//!
//! Not run by default, because a busy machine makes times meaningless:
//! `cargo test --release growth -- --ignored --nocapture` prints the tables.

use std::fmt::Write as _;
use std::time::{Duration, Instant};

use shophead::archive::{Archive, BlobRef, Issued, NewBlob, Reading, SheetRequirement, Signed, State, StepRequirement};
use shophead::calendar::When;
use shophead::ident::Digest;
use shophead::job::{Job, Order};
use shophead::plan::{BoardOptions, board};
use shophead::work::{Archived, changes, sheet_requirement, work_state};

use super::sample::{day, moment};
use super::{append, scratch};
use crate::build::shop::Shop;
use crate::build::signed::{job_of, signed as signature};

const STEPS: usize = 25;
const PROJECT: &str = "[aircraft]\nname = \"Dunlin two-seat\"\n[[signer]]\ninitials = \"B1\"\nrole = \"builder\"\n";
const SIZES: [usize; 3] = [50, 200, 800];

/// A traveler with one joint and many steps.
fn traveler(number: usize, count: usize) -> String {
    let after = if number.is_multiple_of(10) { String::new() } else { format!("after = [\"T{:04}\"]\n", number - 1) };
    let mut text = format!(
        "[traveler]\nid = \"T{number:04}\"\ntitle = \"Part {number}\"\nrevision = \"A\"\n{after}\n[[part]]\nid = \"P1\"\nname = \"Skin\"\nthickness = \"0.032\"\n\
         [[part]]\nid = \"P2\"\nname = \"Rib\"\nthickness = \"0.040\"\n[[joint]]\nid = \"J1\"\nstack = [\"P1\", \"P2\"]\nfastener = \"MS20470AD4-4\"\ncount = {count}\n"
    );
    for step in 0..STEPS {
        let work = match step {
            3 => "do = \"drill\"\njoints = [\"J1\"]",
            20 => "do = \"rivet\"\njoints = [\"J1\"]",
            _ => {
                "do = \"measure\"\nparts = [\"P1\"]\nrecords = [{ id = \"r\", label = \"r\", unit = \"in\", min = 0.1, max = 0.3 }]"
            }
        };
        write!(text, "[[step]]\nid = \"s{step}\"\ntitle = \"Step {step}\"\n{work}\nminutes = 20\n").unwrap();
    }
    text
}

fn build_of(travelers: usize, count: usize) -> Job {
    let texts: Vec<String> = (0..travelers).map(|number| traveler(number, count)).collect();
    let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
    job_of(PROJECT, &texts)
}

fn issued(sheet: &SheetRequirement) -> Issued {
    Issued {
        sheet: sheet.code(),
        traveler: sheet.traveler.clone(),
        hand: None,
        title: "Part".into(),
        revision: "A".into(),
        same_revision: None,
        printed: day("2026-03-01"),
        supersedes: None,
        drawings: Vec::new(),
        pdf: BlobRef::of(sheet.traveler.as_bytes(), "pdf"),
        pages: 9,
        requirements: BlobRef::of(sheet.text().as_bytes(), "txt"),
        spec: None,
        project: None,
        places: None,
        print: None,
        kept: Vec::new(),
        tables: Digest::of_bytes(b"tables"),
        templates: Digest::of_bytes(b"templates"),
        program: "shophead".into(),
        steps: sheet.steps.iter().map(StepRequirement::issued).collect(),
        carried: Vec::new(),
    }
}

fn signed(sheet: &SheetRequirement, step: &StepRequirement) -> Signed {
    let read = Reading { id: "r".into(), value: "0.2".into() };
    Signed {
        readings: vec![read],
        ..signature(sheet.code(), &sheet.traveler, &step.id, step.digest(), day("2026-03-02"))
    }
}

/// Issues every sheet and signs every step but the last of the last traveler, whose code it gives.
fn write(archive: &Archive, job: &Job) -> String {
    let mut writer = archive.writer().unwrap();
    let mut last = String::new();
    let sheets: Vec<SheetRequirement> =
        (0..job.travelers.len()).map(|index| sheet_requirement(job, index, None)).collect();
    for sheet in &sheets {
        let text = sheet.text();
        let blobs = [NewBlob::of(sheet.traveler.as_bytes(), "pdf"), NewBlob::of(text.as_bytes(), "txt")];
        append(&mut writer, moment("2026-03-01T09:00"), issued(sheet), &blobs).unwrap();
    }
    // Times run forward: every sheet is issued before the first is signed.
    for (index, sheet) in sheets.iter().enumerate() {
        let open = usize::from(index + 1 == job.travelers.len());
        for step in &sheet.steps[..STEPS - open] {
            append(&mut writer, moment("2026-03-02T20:00"), signed(sheet, step), &[]).unwrap();
        }
        last = sheet.code().to_string();
    }
    last
}

fn timed<T>(times: &mut Vec<Duration>, act: impl FnOnce() -> T) -> T {
    let start = Instant::now();
    let value = act();
    times.push(start.elapsed());
    value
}

/// Times of the library alone: write all, verify, read, take up for writing, fold, change, state of the work, board.
fn in_library(travelers: usize) -> Vec<Duration> {
    let (job, revised) = (build_of(travelers, 8), build_of(travelers, 9));
    let folder = scratch();
    let archive = Archive::at(folder.path());
    let mut times = Vec::new();
    timed(&mut times, || write(&archive, &job));
    let survey = timed(&mut times, || archive.verify().unwrap());
    assert_eq!((survey.flaws.len(), survey.records.len()), (0, travelers * (STEPS + 1) - 1));
    let survey = timed(&mut times, || archive.read().unwrap());
    let next = timed(&mut times, || archive.writer().unwrap().next().unwrap().0);
    assert_eq!(next as usize, travelers * (STEPS + 1));
    let state = timed(&mut times, || State::of(&survey.records));
    let archived: Archived =
        (0..travelers).map(|index| sheet_requirement(&job, index, None)).map(|sheet| (sheet.code(), sheet)).collect();
    let changed = timed(&mut times, || changes(&revised, &state, &archived));
    assert_eq!(changed.len(), travelers);
    let work = timed(&mut times, || work_state(&job, &state, shophead::job::State::default()));
    assert_eq!(work.done.len(), travelers * STEPS - 1);
    let order = Order::of(&job);
    let now = When::parse("2026-03-04T18:00").unwrap().earliest;
    timed(&mut times, || board(&job, &order, &work, BoardOptions { now, minutes: 120, alone: false }));
    times
}

/// Runs the program and gives the time and the largest memory in MiB, where the system tells it.
fn measured(shop: &Shop, arguments: &[&str]) -> (Duration, u64) {
    let start = Instant::now();
    let mut child = shop.spawn(arguments);
    let status = format!("/proc/{}/status", child.0.id());
    let mut largest = 0;
    let code = loop {
        if let Some(line) =
            std::fs::read_to_string(&status).ok().and_then(|text| Some(text.split("VmHWM:").nth(1)?.to_owned()))
        {
            largest =
                largest.max(line.split_whitespace().next().and_then(|kib| kib.parse::<u64>().ok()).unwrap_or(0) / 1024);
        }
        match child.0.try_wait().unwrap() {
            Some(status) => break status,
            None => std::thread::sleep(Duration::from_millis(2)),
        }
    };
    assert!(code.success(), "{arguments:?}: {code}");
    (start.elapsed(), largest)
}

/// Time and memory of the program, from reading the specs to the end: check, sign, board, change, verify.
fn in_program(travelers: usize) -> Vec<(Duration, u64)> {
    let shop = Shop::empty();
    // In memory: writing twenty thousand entries down to a disk, one by one, measures the disk.
    let folder = scratch();
    shop.write(
        "build.toml",
        format!("{PROJECT}[project]\narchive = \"{}\"\n", folder.path().join("archive").display()),
    );
    let plant = |count: usize| {
        (0..travelers).for_each(|number| shop.write(&format!("specs/{number:04}.toml"), traveler(number, count)));
    };
    plant(8);
    let code = write(&Archive::at(folder.path().join("archive")), &build_of(travelers, 8));
    let sign = [
        "archive",
        "sign",
        &code,
        "s24",
        "--by",
        "B1",
        "--on",
        "2026-03-03",
        "--reading",
        "r=0.2",
        "--entered",
        "2026-03-03T20:00",
    ];
    let mut all = vec![
        measured(&shop, &["check"]),
        measured(&shop, &sign),
        measured(&shop, &["board", "--format", "json", "--now", "2026-03-04T18:00"]),
    ];
    plant(9);
    all.push(measured(&shop, &["change", "--format", "json", "--on", "2026-03-04"]));
    all.push(measured(&shop, &["archive", "verify"]));
    all
}

/// Four times the work may take ten times as long on a busy machine, sixteen would be a square; short times say nothing.
fn grows_evenly(name: &str, small: Duration, large: Duration) {
    let small = small.max(Duration::from_millis(50));
    assert!(large < small * 10, "{name}: {small:?} for {} travelers, {large:?} for {}", SIZES[1], SIZES[2]);
}

#[test]
#[ignore = "measures time"]
#[allow(clippy::print_stdout)]
fn time_grows_with_the_work_and_not_faster() {
    let names = ["write", "verify", "read", "take up", "fold", "change", "state", "board"];
    let all = SIZES.map(in_library);
    println!("{:>8} {:>12} {:>12} {:>12}", "", SIZES[0], SIZES[1], SIZES[2]);
    for (at, name) in names.iter().enumerate() {
        let mut row = format!("{name:>8}");
        for times in &all {
            write!(row, " {:>12}", format!("{:.1?}", times[at])).unwrap();
        }
        println!("{row}");
        grows_evenly(name, all[1][at], all[2][at]);
    }
}

#[test]
#[ignore = "measures time"]
#[allow(clippy::print_stdout)]
fn the_program_stays_quick_with_twenty_thousand_signatures() {
    let names = ["check", "sign", "board", "change", "verify"];
    let all = SIZES.map(in_program);
    println!("{:>8} {:>20} {:>20} {:>20}", "", SIZES[0], SIZES[1], SIZES[2]);
    for (at, name) in names.iter().enumerate() {
        let mut row = format!("{name:>8}");
        for runs in &all {
            write!(row, " {:>20}", format!("{:.2?}, {} MiB", runs[at].0, runs[at].1)).unwrap();
        }
        println!("{row}");
        grows_evenly(name, all[1][at].0, all[2][at].0);
    }
    let (verify, memory) = all[2][4];
    assert!(verify < Duration::from_secs(10), "verify takes {verify:?}");
    assert!(memory < 512, "verify takes {memory} MiB");
}
