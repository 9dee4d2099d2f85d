//! All of it or none: every command that writes is stopped before each of its writing steps, as a kill or a full disk
//! stops it, and then given again.

use std::collections::BTreeMap;
use std::io;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use shophead::archive::{Archive, Record};
use shophead::disk::Watch;

use crate::build::shop::{Ran, Shop, TRAVELER};

/// A command, the project that it is given in, and how many steps it writes in at least.
struct Case {
    name: &'static str,
    prepare: fn() -> Shop,
    arguments: &'static [&'static str],
    steps: usize,
}

const CASES: &[Case] = &[
    Case {
        name: "archive enter",
        prepare: evening,
        arguments: &["archive", "enter", "{}/evening.toml", ENTERED, LATER],
        steps: 8,
    },
    Case { name: "archive enter, odd time", prepare: evening, arguments: ODD, steps: 8 },
    Case { name: "archive enter, read", prepare: unread, arguments: READ, steps: 8 },
    Case { name: "archive sign", prepare: evening, arguments: SIGN, steps: 8 },
    Case { name: "archive add, to begin", prepare: photos, arguments: ADD, steps: 40 },
    Case { name: "archive add", prepare: photos_of_a_sheet, arguments: ADD, steps: 25 },
    Case {
        name: "archive import, to begin",
        prepare: progress,
        arguments: &["archive", "import", ENTERED, LATER],
        steps: 25,
    },
    Case { name: "packet --issue, to begin", prepare: packets, arguments: ISSUE, steps: 60 },
    Case { name: "packet --issue", prepare: more_packets, arguments: ISSUE, steps: 40 },
    Case { name: "change --issue", prepare: changed, arguments: CHANGE, steps: 50 },
    Case { name: "change --issue, same letter", prepare: changed_alone, arguments: SAME, steps: 50 },
    Case { name: "archive rename", prepare: renamed, arguments: RENAME, steps: 8 },
    Case {
        name: "archive reopen",
        prepare: closed,
        arguments: &[
            "archive",
            "reopen",
            "bay",
            "--by",
            "B1",
            "--because",
            "a tool is missing",
            ON,
            DAY,
            ENTERED,
            LATER,
        ],
        steps: 8,
    },
    Case { name: "archive book", prepare: issued, arguments: &["archive", "book", ON, DAY], steps: 4 },
    Case { name: "archive export", prepare: issued, arguments: &["archive", "export", "{}/output/all.zip"], steps: 5 },
    Case { name: "packet", prepare: packets, arguments: &["packet"], steps: 10 },
    Case { name: "board", prepare: issued, arguments: &["board", "--now", LATER], steps: 4 },
    Case { name: "pick", prepare: issued, arguments: &["pick", "--format", "pdf"], steps: 4 },
    Case { name: "new traveler", prepare: packets, arguments: NEW, steps: 4 },
    Case { name: "new stock", prepare: shelf, arguments: &["new", "stock", "{}/shelf.csv", "--write"], steps: 4 },
    Case { name: "manual", prepare: packets, arguments: &["manual", "--to", "{}/man"], steps: 60 },
];

const ENTERED: &str = "--entered";
const ON: &str = "--on";
const DAY: &str = "2026-03-04";
const LATER: &str = "2026-03-04T20:00";
const ISSUE: &[&str] = &["packet", "--issue", ON, "2026-03-01", ENTERED, "2026-03-01T09:00"];
const CHANGE: &[&str] = &["change", "--issue", "--by", "B1", "--source", "letter 7", ON, DAY, ENTERED, LATER];
const ADD: &[&str] = &["archive", "add", "{}/a.jpg", "{}/b.jpg", "{}/c.jpg", "--taken", DAY, ENTERED, LATER];
const ODD: &[&str] =
    &["archive", "enter", "{}/evening.toml", ENTERED, "2100-01-01T20:00", "--time-because", "the clock stood still"];
const READ: &[&str] = &["archive", "enter", "{}/read.toml", ENTERED, "2026-03-05T20:00"];
const SAME: &[&str] =
    &["change", "--issue", "--by", "B1", "--same-revision", "the plans have no letters", ON, DAY, ENTERED, LATER];
const RENAME: &[&str] = &["archive", "rename", "--by", "B1", "--because", "it is registered", ON, DAY, ENTERED, LATER];
const SIGN: &[&str] = &["archive", "sign", "{B}", "drill", "--by", "B1", ON, "2026-03-02", ENTERED, LATER];

const NEW: &[&str] = &[
    "new",
    "traveler",
    "D-1",
    "--title",
    "Doubler",
    "--part",
    "P1:Skin:2024-T3:0.032",
    "--part",
    "P2:Doubler:2024-T3:0.032",
    "--joint",
    "J1:P1+P2:MS20470AD4-4:8:0.35",
];

const BUILD: &str = "[aircraft]\nname = \"Dunlin two-seat\"\n[[signer]]\ninitials = \"B1\"\nrole = \"builder\"\n\
                     [[space]]\nid = \"bay\"\nname = \"Bay\"\n";

/// A page that is laid out in no time: what is tried here is the writing.
const PAGE: &str =
    "#import \"base.typ\": own-mark\n#set page(width: 200mm, height: 200mm, footer: own-mark)\n#repr({{ head }})\n";

/// Two travelers, one of them for both hands.
fn packets() -> Shop {
    let shop = Shop::empty();
    shop.write("build.toml", BUILD);
    shop.write("specs/bracket.toml", TRAVELER.to_owned() + "closes = [\"bay\"]\n");
    let other = TRAVELER.replace("id = \"B-1\"", "id = \"C-1\"\nhands = [\"left\", \"right\"]");
    shop.write("specs/other.toml", other);
    shop.write("templates/packet.typ.j2", PAGE);
    shop
}

fn must(shop: Shop, arguments: &[&str]) -> Shop {
    let ran = shop.run(arguments);
    assert_eq!(ran.code, 0, "{arguments:?}: {ran:?}");
    shop
}

fn issued() -> Shop {
    must(packets(), ISSUE)
}

fn more_packets() -> Shop {
    let shop = issued();
    shop.write("specs/third.toml", TRAVELER.replace("id = \"B-1\"", "id = \"E-1\""));
    shop
}

/// An evening of everything: a visit with a finding, discrepancies, signatures.
fn evening() -> Shop {
    let shop = issued();
    let code = code_of(&shop, "B-1");
    let typed = format!(
        "by = \"B1\"\non = {DAY}\n[[visit]]\nspaces = [\"bay\"]\n[[visit.finding]]\nwhat = \"a burr\"\nspace = \"bay\"\n\
         [[discrepancy]]\nwhat = \"a scratch\"\nstops = \"nothing\"\n[[discrepancy]]\nwhat = \"a dent\"\nsheet = \"{code}\"\nstep = \"rivet\"\n\
         [[sign]]\nsheet = \"{code}\"\nstep = \"drill\"\nminutes = 40\n[[sign]]\nsheet = \"{code}\"\nstep = \"deburr\"\nminutes = 20\n"
    );
    shop.write("evening.toml", typed);
    shop
}

fn code_of(shop: &Shop, traveler: &str) -> String {
    let issues = shophead::archive::State::of(&archive(shop).read().unwrap().records).issues;
    issues.into_iter().find(|issue| issue.issued.traveler == traveler).unwrap().issued.sheet.to_string()
}

fn photos() -> Shop {
    let shop = packets();
    for name in ["a.jpg", "b.jpg", "c.jpg"] {
        shop.write(name, format!("not really a photo: {name}"));
    }
    shop
}

fn photos_of_a_sheet() -> Shop {
    must(photos(), ISSUE)
}

fn progress() -> Shop {
    let shop = packets();
    let done = |step: &str| format!("[[sign]]\nstep = \"{step}\"\non = 2026-03-01\nby = \"B1\"\n");
    shop.write("progress.toml", ["B-1/drill", "B-1/deburr", "C-1/drill"].map(done).concat());
    shop
}

/// Signed work that two more rivets touch.
fn changed() -> Shop {
    let shop = issued();
    let code = code_of(&shop, "B-1");
    must_sign(&shop, &code, "drill");
    shop.edit("specs/bracket.toml", "count = 8", "count = 10");
    shop.edit("specs/bracket.toml", "revision = \"A\"", "revision = \"B\"");
    shop
}

/// The same under the letter that it had.
fn changed_alone() -> Shop {
    let shop = changed();
    shop.edit("specs/bracket.toml", "revision = \"B\"", "revision = \"A\"");
    shop
}

/// A change note that was not read, and a correction beside it.
fn unread() -> Shop {
    let shop = changed();
    shop.edit("specs/bracket.toml", "count = 10", "count = 8");
    shop.edit("specs/bracket.toml", "revision = \"B\"", "revision = \"B\"\ndrawings = [\"W-1:C\"]");
    shop.edit("build.toml", "[[space]]", "[[drawing]]\nsheet = \"W-1\"\nrevision = \"C\"\n[[space]]");
    let shop = must(shop, CHANGE);
    let code = shophead::archive::State::of(&archive(&shop).read().unwrap().records)
        .all_in_force()
        .find(|issue| issue.issued.traveler == "B-1")
        .unwrap()
        .issued
        .sheet;
    let signed = records(&shop).into_iter().find(|own| own.entry.kind() == "signed").unwrap().number;
    let typed = format!(
        "by = \"B1\"\non = 2026-03-05\n[[read]]\nsheet = \"{code}\"\n[[correct]]\nentry = {}\nfield = \"minutes\"\nnow = \"50\"\nbecause = \"miscounted\"\n",
        signed.0
    );
    shop.write("read.toml", typed);
    shop
}

/// The aircraft has a serial number from here on.
fn renamed() -> Shop {
    let shop = issued();
    shop.edit("build.toml", "name = \"Dunlin two-seat\"", "name = \"Dunlin two-seat\"\nserial = \"D-014\"");
    shop
}

fn shelf() -> Shop {
    let shop = packets();
    shop.write("shelf.csv", "item,on-hand\nMS20470AD4-5,340\nMS20426AD3-4,120\n");
    shop
}

fn must_sign(shop: &Shop, code: &str, step: &str) {
    let sign = ["archive", "sign", code, step, "--by", "B1", ON, "2026-03-02", ENTERED, "2026-03-02T20:00"];
    let ran = shop.run(&sign);
    assert_eq!(ran.code, 0, "{ran:?}");
}

fn closed() -> Shop {
    let shop = issued();
    let code = code_of(&shop, "B-1");
    for step in ["drill", "deburr", "rivet"] {
        must_sign(&shop, &code, step);
    }
    shop
}

fn archive(shop: &Shop) -> Archive {
    Archive::at(shop.path("archive"))
}

fn records(shop: &Shop) -> Vec<Record> {
    let survey = archive(shop).verify().unwrap();
    assert!(survey.is_whole(), "{:?}", survey.flaws);
    survey.records
}

/// Every file of the project by path.
fn tree(shop: &Shop) -> BTreeMap<String, Vec<u8>> {
    let files = walkdir::WalkDir::new(shop.path("")).into_iter().map(Result::unwrap);
    let files = files.filter(|entry| entry.file_type().is_file());
    let named = |entry: walkdir::DirEntry| {
        let path = entry.path().strip_prefix(shop.path("")).unwrap().to_str().unwrap().to_owned();
        (path, std::fs::read(entry.path()).unwrap())
    };
    files.map(named).collect()
}

/// The paths at which two trees differ.
fn differences(one: &BTreeMap<String, Vec<u8>>, other: &BTreeMap<String, Vec<u8>>) -> Vec<String> {
    let all = one.keys().chain(other.keys());
    all.filter(|path| one.get(*path) != other.get(*path)).cloned().collect()
}

/// Stops the disk at a step: as a kill does, so that no later step is done either, or as a full disk, which still lets
/// files go. Counts the steps.
fn stopping(at: usize, full: bool, seen: &Arc<AtomicUsize>) -> Watch {
    let seen = Arc::clone(seen);
    Arc::new(move |doing, _: &Path| {
        let now = seen.fetch_add(1, Ordering::SeqCst);
        let frees = doing == "remove" || doing == "replace";
        if now < at || (full && frees) { Ok(()) } else { Err(io::ErrorKind::StorageFull.into()) }
    })
}

/// What came of one command.
struct Row {
    steps: usize,
    kills: usize,
    bad: Vec<String>,
}

/// Stops a command at every so-and-so-many-th step and gives it again.
fn try_all(case: &Case, each: usize) -> Row {
    let base = (case.prepare)();
    let code = if archive(&base).exists() { code_of(&base, "B-1") } else { String::new() };
    let arguments: Vec<String> = case.arguments.iter().map(|own| own.replace("{B}", &code)).collect();
    let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let before = records(&base);
    let reference = base.twin();
    let seen = Arc::default();
    let ran = reference.run_watched(&arguments, stopping(usize::MAX, false, &seen));
    assert_eq!(ran.code, 0, "{}: {ran:?}", case.name);
    let steps = seen.load(Ordering::SeqCst);
    let (after, expected) = (records(&reference), tree(&reference));
    let mut row = Row { steps, kills: 0, bad: Vec::new() };
    for at in (0..steps).step_by(each) {
        for full in [false, true] {
            let shop = base.twin();
            let stopped = shop.run_watched(&arguments, stopping(at, full, &Arc::default()));
            let now = records(&shop);
            let mut faults = Vec::new();
            if now != before && now != after {
                faults.push(format!("{} entries instead of {} or {}", now.len(), before.len(), after.len()));
            }
            if full {
                faults.extend(full_disk_faults(&base, &shop, &stopped, now == after));
            }
            let again = shop.run_watched(&arguments, stopping(usize::MAX, false, &Arc::default()));
            let mut left = tree(&shop);
            // A new traveler is there or not; what is left beside it goes with the next one that is written.
            left.retain(|path, _| !(path.starts_with("specs/.shophead-") && again.err.contains("already")));
            let differs = differences(&left, &expected);
            if !differs.is_empty() {
                faults.push(format!("given again ({}), these differ: {differs:?}", again.err));
            }
            row.kills += 1;
            row.bad.extend(faults.into_iter().map(|fault| format!("{} at {at}, full {full}: {fault}", case.name)));
        }
    }
    row
}

/// What a full disk must not do: end in another way than the page says, or leave anything that was not there.
fn full_disk_faults(base: &Shop, shop: &Shop, stopped: &Ran, done: bool) -> Vec<String> {
    let mut faults = Vec::new();
    if stopped.code != 2 && !done {
        faults.push(format!("it ends with {}: {}", stopped.code, stopped.err));
    }
    if stopped.code == 2 && !stopped.err.contains(&io::Error::from(io::ErrorKind::StorageFull).to_string()) {
        faults.push(format!("it does not say why: {}", stopped.err));
    }
    let half = tree(shop).into_keys().filter(|path| path.contains(".shophead-") || path.contains(".unfinished"));
    faults.extend(half.filter(|_| !done).map(|path| format!("{path} is left")));
    if !done && archive(base).exists() {
        let (old, new) = (tree(base), tree(shop));
        let touched = differences(&old, &new).into_iter().filter(|path| path.starts_with("archive/"));
        faults.extend(touched.map(|path| format!("{path} was touched")));
    }
    faults
}

/// Tries every command and prints the table.
#[allow(clippy::print_stdout)]
fn try_every_command(each: usize) {
    let mut bad = Vec::new();
    println!("{:<28}{:>8}{:>8}{:>6}", "command", "steps", "stops", "bad");
    for case in CASES {
        let row = try_all(case, each);
        println!("{:<28}{:>8}{:>8}{:>6}", case.name, row.steps, row.kills, row.bad.len());
        assert!(row.steps >= case.steps, "{} writes in {} steps only", case.name, row.steps);
        bad.extend(row.bad);
    }
    assert!(bad.is_empty(), "{}", bad.join("\n"));
}

#[test]
fn a_command_that_is_stopped_at_a_writing_step_is_done_or_not_begun_and_can_be_given_again() {
    try_every_command(7);
}

#[test]
#[ignore = "takes minutes; the test above does a share of it"]
fn every_writing_step_of_every_command_is_stopped() {
    try_every_command(1);
}
