//! The build record and the archive handed over: by date, by task, by assembly, with photos.

use serde_json::Value;

use super::play::{EVENINGS, add_files, codes, fresh, issue, json, must, type_evenings};
use crate::build::shop::{Shop, paper_text_of};
use crate::render::thumbnail::png;

const TASKS: &str = "[[task]]\nname = \"stabilizer parts\"\nkind = \"fabrication\"\nsteps = [\"TAIL-*/drill*\", \"TAIL-*/deburr\", \"TAIL-10/pilot\"]\n\
    [[task]]\nname = \"stabilizer\"\nkind = \"assembly\"\nsteps = [\"TAIL-*/rivet*\"]\n[[task]]\nname = \"engine\"\nkind = \"assembly\"\nsteps = [\"ENG-*\"]\n";

/// The demo played to the end, with photos and the builder's task list; gives its book.
fn played() -> (Shop, Value) {
    let shop = fresh();
    issue(&shop);
    type_evenings(&shop, EVENINGS.len());
    add_files(&shop);
    let code = codes(&shop, "demo-data")["TAIL-20"].clone();
    let photo = png(400, 300, |x, y| u8::try_from((x * 3 + y * 2) % 256).unwrap());
    shop.write("cut.png", &photo[..900]);
    let file = shop.path("cut.png").display().to_string();
    let add =
        ["archive", "add", &file, "--sheet", &code, "--step", "rivet-skin", "--photo", "21", "--taken", "2026-05-02"];
    must(&shop, &[&add[..], &["--builder-in-picture", "true", "--by", "B1", "--entered", "2026-05-24T21:00"]].concat());
    shop.write("tasks.toml", TASKS);
    let tasks = shop.path("tasks.toml").display().to_string();
    let value = json(&must(&shop, &["archive", "book", "--format", "json", "--tasks", &tasks, "--on", "2026-05-27"]));
    (shop, value["book"].clone())
}

fn texts(list: &Value) -> Vec<&str> {
    list.as_array().unwrap().iter().map(|text| text.as_str().unwrap()).collect()
}

#[test]
fn an_archive_tells_its_story_by_date_and_by_task() {
    let (shop, book) = played();
    let days: Vec<&str> =
        book["by-date"].as_array().unwrap().iter().map(|line| line["worked"].as_str().unwrap()).collect();
    assert!(days.is_sorted() && days.len() == 40, "{} lines by date", days.len());
    // Photos in the order in which they were taken, the builder in the first.
    let files = book["files"].as_array().unwrap();
    let photos: Vec<(Option<&str>, Option<bool>)> =
        files.iter().map(|file| (file["photo"].as_str(), file["builder-seen"].as_bool())).collect();
    let expected = [
        (Some("12"), Some(true)),
        (Some("14"), Some(false)),
        (Some("21"), Some(true)),
        (None, None),
        (Some("31"), Some(false)),
    ];
    assert_eq!(photos, expected);
    assert!(files[0]["of"].as_str().unwrap().starts_with("TAIL-10 step 120 ("));
    // Who did what.
    let people = book["people"].as_array().unwrap();
    let builder = people.iter().find(|person| person["initials"] == "B1").unwrap();
    assert_eq!((builder["done"].as_u64(), builder["role"].as_str()), (Some(37), Some("builder")));
    assert_eq!(people.iter().find(|person| person["initials"] == "TC1").unwrap()["looked"], 2);
    let helper = people.iter().find(|person| person["initials"] == "H1").unwrap();
    assert_eq!((helper["helped"][0].as_u64(), helper["paid"][0].as_u64()), (Some(9), Some(0)));
    // By task: the builder's own list; what has no steps claims nothing.
    let tasks = book["tasks"].as_array().unwrap();
    assert_eq!((tasks[0]["steps"].as_u64(), tasks[0]["signed"].as_u64()), (Some(5), Some(5)));
    assert_eq!((tasks[2]["steps"].as_u64(), tasks[2]["sheets"].as_array().unwrap().len()), (Some(0), 0));
    // What went wrong, and on whose word it stays.
    let closed = book["discrepancies"][0]["closed"].as_str().unwrap();
    assert_eq!(closed.split(';').next(), Some("use as is on the word of designer, letter of 2026-05-09"));
    // Which photos are missing: named and not there, and never taken.
    let missing = texts(&book["missing"]);
    assert!(missing.contains(&"13: TAIL-10 step 120") && !missing.contains(&"12: TAIL-10 step 120"), "{missing:?}");
    assert!(book["unphotographed"].is_array());
    let tasks = shop.path("tasks.toml").display().to_string();
    let ran = must(&shop, &["archive", "book", "--tasks", &tasks, "--on", "2026-05-27"]);
    assert!(ran.err.contains("cut.png is listed without its picture: "), "{}", ran.err);
    if let Ok(listed) =
        std::process::Command::new("pdfimages").arg("-list").arg(shop.path("output/build-record.pdf")).output()
    {
        let listed = String::from_utf8(listed.stdout).unwrap();
        assert_eq!(
            listed.lines().filter(|line| line.contains(" image ") && line.contains(" 1   8 ")).count(),
            3,
            "{listed}"
        );
    }
}

#[test]
fn as_built_tells_drawings_fasteners_washers_and_torque() {
    let (_, book) = played();
    let assemblies = book["assemblies"].as_array().unwrap();
    let spar = assemblies.iter().find(|assembly| assembly["place"] == "TAIL-10").unwrap();
    assert!(texts(&spar["drawings"]).iter().any(|drawing| drawing.starts_with("T1:")), "{}", spar["drawings"]);
    let joint = spar["joints"].as_array().unwrap().iter().find(|joint| joint["joint"] == "J4").unwrap();
    assert!(joint["fastener"].as_str().unwrap().starts_with("AN3-"), "{joint}");
    assert_eq!(texts(&joint["washers-nut"]), ["NAS1149F0363P"]);
    assert!(texts(&joint["torque"]).iter().any(|torque| torque.contains("in-lb")), "{joint}");
    assert!(joint["signed"].as_str().unwrap().starts_with("B1 2026-04-04, "), "{joint}");
    assert!(texts(&spar["as-built"])[0].starts_with("J4: one NAS1149F0363P under each nut"));
}

#[test]
fn one_file_is_handed_over_and_its_index_names_everything() {
    let shop = fresh();
    issue(&shop);
    type_evenings(&shop, 1);
    let file = shop.path("handed-over.zip").display().to_string();
    must(&shop, &["archive", "export", &file]);
    let again = shop.run(&["--project", "demo-data", "archive", "export", &file]);
    assert!(again.code == 2 && again.err.contains("is there already"), "{again:?}");
    // The same archive gives the same bytes, and nothing but the two files is left.
    let second = shop.path("handed-over-again.zip");
    must(&shop, &["archive", "export", &second.display().to_string()]);
    assert!(std::fs::read(&file).unwrap() == std::fs::read(second).unwrap());
    let beside = std::fs::read_dir(shop.path(".")).unwrap().map(|entry| entry.unwrap().path());
    assert_eq!(beside.filter(|path| path.extension().is_some_and(|end| end == "part")).count(), 0);
    // Any program opens it; Python has one that checks.
    let script = "import sys,zipfile; z=zipfile.ZipFile(sys.argv[1]); assert z.testzip() is None; print('\\n'.join(z.namelist())); print('====='); print(z.read('index.html').decode())";
    let Ok(output) = std::process::Command::new("python3").args(["-c", script, &file]).output() else { return };
    let text = String::from_utf8(output.stdout).unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let (names, page) = text.split_once("=====\n").unwrap();
    let names: std::collections::BTreeSet<&str> = names.lines().collect();
    let links: std::collections::BTreeSet<&str> =
        page.split("href=\"").skip(1).map(|rest| rest.split('"').next().unwrap()).collect();
    assert!(links.is_subset(&names), "{:?} lead nowhere", links.difference(&names));
    // Every file is named but those of the archive's own keeping.
    let unnamed: Vec<&&str> = names.difference(&links).collect();
    assert_eq!(unnamed, [&"archive/head.txt", &"archive/lock.txt", &"index.html"]);
    let archived = walkdir::WalkDir::new(shop.path("demo-data/archive")).into_iter().map(Result::unwrap);
    assert_eq!(archived.filter(|entry| entry.file_type().is_file()).count() + 1, names.len());
    let (by_traveler, by_date) = page.split_once("<h2>By date</h2>").unwrap();
    for place in ["TAIL-10", "TAIL-20", "TANK-10 left", "TANK-10 right"] {
        assert!(by_traveler.contains(&format!("<h3>{place}</h3>")), "{place}");
    }
    let days: Vec<&str> = by_date.split("<li>").skip(1).map(|line| &line[..10]).collect();
    assert!(days.is_sorted() && days.len() == 21, "{days:?}");
}

#[test]
fn the_notice_of_the_demo_is_one_page_with_codes_and_hardware() {
    let shop = fresh();
    issue(&shop);
    type_evenings(&shop, 3);
    let old = codes(&shop, "demo-data/revision");
    let ran = shop.run(&[
        "--project",
        "demo-data/revision",
        "change",
        "--issue",
        "--by",
        "B1",
        "--source",
        "plan change 4",
        "--on",
        "2026-06-05",
        "--entered",
        "2026-06-05T20:00",
    ]);
    assert_eq!(ran.code, 0, "{ran:?}");
    let printed: Vec<&str> = ran.out.lines().filter(|line| line.contains(".pdf")).collect();
    assert!(
        printed.iter().any(|line| line.contains("notice-N-001.pdf  1 page")),
        "the notice is one page: {printed:?}"
    );
    assert!(printed.iter().any(|line| line.contains("TAIL-10-change.pdf")), "only pages are printed: {printed:?}");
    let new = codes(&shop, "demo-data/revision");
    let Some(text) = paper_text_of(&shop.path("output/notice-N-001.pdf")) else { return };
    for code in [&old["TAIL-20"], &new["TAIL-20"], &old["TAIL-10"], &new["TAIL-10"]] {
        assert!(text.contains(code.as_str()), "{code} is not on the notice:\n{text}");
    }
    assert!(text.contains("planchange4") && text.contains("Hardware"), "{text}");
}

/// A limit on the size of any file that is written stands for a disk that is full; the signal that comes with it is ignored,
/// as on a full disk there is none.
#[cfg(unix)]
#[test]
fn a_photo_that_does_not_fit_the_disk_leaves_the_archive_as_it_was() {
    let shop = fresh();
    issue(&shop);
    let tree = || {
        let files =
            walkdir::WalkDir::new(shop.path("demo-data/archive")).sort_by_file_name().into_iter().map(Result::unwrap);
        let files = files.filter(|entry| entry.file_type().is_file());
        files.map(|entry| (entry.path().to_owned(), std::fs::read(entry.path()).unwrap())).collect::<Vec<_>>()
    };
    let before = tree();
    shop.write("photo.png", png(300, 300, |x, _| u8::try_from(x % 256).unwrap()));
    let add = ["--project", "demo-data", "archive", "add", "photo.png", "--by", "B1", "--entered", "2026-03-08T20:00"];
    let ran = shop.run_in_shell("trap '' XFSZ; ulimit -f 16; exec \"$@\"", &add);
    assert_eq!(ran.code, 2, "{ran:?}");
    assert!(ran.err.contains("cannot ") && ran.err.contains("demo-data/archive/blobs/"), "{}", ran.err);
    assert_eq!(tree(), before);
    assert!(must(&shop, &["archive", "verify"]).out.contains("archive: whole; "));
    assert_eq!(shop.run(&add).code, 0, "with room it goes in");
}
