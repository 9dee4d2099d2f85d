//! The demo's history through the program: issued, signed, changed, closed, told; and the archive that is kept with it.

mod against;
mod asked;
mod book;
mod evening;
mod forms;
mod hands;
mod pages;
mod play;
mod round;
mod space;

use serde_json::Value;

use crate::build::shop::{Ran, Shop, paper_text_of, root};
use play::{EVENINGS, add_files, codes, fresh, import, issue, json, must, type_evenings};

fn bless() -> bool {
    std::env::var_os("SHOPHEAD_BLESS").is_some()
}

fn copy(from: &std::path::Path, to: &std::path::Path) {
    std::fs::create_dir_all(to).unwrap();
    for entry in std::fs::read_dir(from).unwrap() {
        let (path, name) = {
            let entry = entry.unwrap();
            (entry.path(), entry.file_name())
        };
        if path.is_dir() {
            copy(&path, &to.join(name));
        } else {
            std::fs::copy(&path, to.join(name)).map(|_| ()).unwrap();
        }
    }
}

/// What `change` says of the demo with one text of a spec in the place of another.
fn change_after(file: &str, from: &str, to: &str) -> (Shop, Value) {
    let shop = fresh();
    issue(&shop);
    type_evenings(&shop, 3);
    shop.edit(file, from, to);
    let ran = must(&shop, &["change", "--format", "json", "--on", "2026-06-05"]);
    let value = if ran.out.starts_with('{') { json(&ran) } else { Value::Null };
    (shop, value)
}

fn steps(list: &Value) -> Vec<String> {
    list.as_array()
        .unwrap()
        .iter()
        .map(|line| format!("{} {}", line["step"].as_str().unwrap(), line["verdict"].as_str().unwrap()))
        .collect()
}

#[test]
fn the_demo_keeps_a_played_history() {
    let kept = root().join("demo-data");
    if bless() && !kept.join("archive").exists() {
        let shop = fresh();
        issue(&shop);
        type_evenings(&shop, EVENINGS.len());
        add_files(&shop);
        import(&shop);
        copy(&shop.path("demo-data/archive"), &kept.join("archive"));
    }
    let shop = Shop::demo();
    let verified = must(&shop, &["archive", "verify"]);
    assert!(verified.out.contains("archive: whole; "), "{}", verified.out);
    let ledger = std::fs::read_dir(kept.join("archive/ledger")).unwrap();
    let ledger: String = ledger.map(|entry| std::fs::read_to_string(entry.unwrap().path()).unwrap()).collect();
    for evening in EVENINGS {
        let typed = shophead::ident::Digest::of_bytes(evening.typed().as_bytes()).hex();
        assert!(ledger.contains(&format!("\ntyped: {typed}\n")), "{} is what was entered", evening.name);
    }
    // The sheets in force are those of the specs as they are: a change of the demo's specs must be played as a change.
    let changed = must(&shop, &["change"]);
    assert_eq!(changed.out, "every sheet in force is as it was issued\n");
    let board = must(&shop, &["board", "--format", "json", "--now", "2026-05-26T18:00"]);
    assert!(!board.err.contains("do not count"), "the whole progress file is taken over: {}", board.err);
}

#[test]
fn printing_again_gives_the_same_codes_and_records_nothing() {
    let shop = fresh();
    issue(&shop);
    let before = codes(&shop, "demo-data");
    let count = |shop: &Shop| std::fs::read_dir(shop.path("demo-data/archive/ledger")).unwrap().count();
    let entries = count(&shop);
    let ran = must(&shop, &["packet", "--issue", "TAIL-10", "TANK-10", "--entered", "2026-06-26T09:00"]);
    assert!(ran.out.contains("is in force; printed as before"), "{}", ran.out);
    assert_eq!((codes(&shop, "demo-data"), count(&shop)), (before, entries));
    // With a signature on it the sheet prints differently, under the same code, and the print is recorded.
    type_evenings(&shop, 1);
    let entries = count(&shop);
    let ran = must(&shop, &["packet", "--issue", "TAIL-10", "--entered", "2026-06-26T09:00"]);
    assert!(ran.out.contains("printed again, with what is signed"), "{}", ran.out);
    assert_eq!(count(&shop), entries + 1);
    let again = must(&shop, &["packet", "--issue", "TAIL-10", "--entered", "2026-06-27T09:00"]);
    assert!(again.out.contains("printed as before"), "{}", again.out);
}

#[test]
fn a_sheet_in_force_is_never_issued_over() {
    let shop = fresh();
    issue(&shop);
    shop.edit("specs/tail/stabilizer-rear-spar.toml", "max = 0.015", "max = 0.012");
    let checked = must(&shop, &["check"]);
    assert!(
        checked.err.contains("TAIL-10 ") && checked.err.contains(" in force with other requirements"),
        "{}",
        checked.err
    );
    let ran = shop.run(&["--project", "demo-data", "packet", "--issue", "TAIL-10", "--entered", "2026-06-26T09:00"]);
    assert_eq!(ran.code, 1);
    assert!(
        ran.err.contains("TAIL-10: sheet ") && ran.err.contains("is in force and requires something else"),
        "{}",
        ran.err
    );
    assert!(
        must(&shop, &["archive", "list", "--kind", "issued"]).out.matches("issued").count() == 4,
        "nothing was issued"
    );
}

#[test]
fn a_changed_hole_size_fells_exactly_its_signatures() {
    let (shop, value) = change_after(
        "specs/tail/stabilizer-rear-spar.toml",
        "count = 12\nholes = { start = \"#40\", final = \"#21\" }",
        "count = 12\nholes = { start = \"#40\", final = \"#20\" }",
    );
    let notice = &value["notice"];
    let mut act = steps(&notice["act"]);
    act.sort();
    assert_eq!(act, ["measure look-again", "open-hinges rework-or-ask", "rivet rework-or-ask"]);
    assert_eq!(notice["stand"][0][1].as_u64(), Some(12), "the other twelve signatures of the sheet stand");
    assert_eq!(notice["sheets"].as_array().unwrap().len(), 1, "and no other sheet is touched");
    assert_eq!(notice["remove"][0]["signed"], true);
    // The notice names the sheet to take out and the sheet to put in, and the archive then says the same.
    let old = codes(&shop, "demo-data");
    assert_eq!(notice["remove"][0]["codes"][0].as_str(), Some(old["TAIL-10"].as_str()));
    // A new issue has a new revision, which the sheet's code tells too.
    shop.edit("specs/tail/stabilizer-rear-spar.toml", "revision = \"A\"", "revision = \"B\"");
    let value = json(&must(&shop, &["change", "--format", "json", "--on", "2026-06-05"]));
    let notice = &value["notice"];
    must(&shop, &["change", "--issue", "--by", "B1", "--on", "2026-06-05", "--entered", "2026-06-05T20:00"]);
    let new = codes(&shop, "demo-data");
    assert_eq!(notice["insert"][0]["codes"][0].as_str(), Some(new["TAIL-10"].as_str()));
    let changed: Vec<&String> = new.iter().filter(|(name, code)| old[*name] != **code).map(|(name, _)| name).collect();
    assert_eq!(changed, ["TAIL-10"]);
    let listed = json(&must(&shop, &["archive", "list", "--format", "json", "--traveler", "TAIL-10"]));
    let steps = listed["sheets"][0]["steps"].as_array().unwrap();
    let fallen: Vec<&str> =
        steps.iter().filter(|step| step["standing"] == "fallen").map(|step| step["step"].as_str().unwrap()).collect();
    assert_eq!(fallen, ["open-hinges", "rivet", "measure"]);
    assert_eq!(steps.iter().filter(|step| step["standing"] == "signed").count(), 12);
}

#[test]
fn a_comma_changes_nothing() {
    let (shop, value) = change_after(
        "specs/tail/stabilizer-rear-spar.toml",
        "Clamp the bracket; do not trust",
        "Clamp the bracket, do not trust",
    );
    let notice = &value["notice"];
    assert_eq!(notice["remove"].as_array().unwrap().len(), 0);
    assert_eq!(notice["act"].as_array().unwrap().len(), 0);
    assert_eq!(notice["reworded"], serde_json::json!(["TAIL-10 060"]));
    let before = codes(&shop, "demo-data");
    let signed = must(&shop, &["archive", "list", "--format", "json"]);
    must(&shop, &["change", "--issue", "--by", "B1", "--on", "2026-06-05", "--entered", "2026-06-05T20:00"]);
    assert_eq!(codes(&shop, "demo-data"), before);
    let after = must(&shop, &["archive", "list", "--format", "json"]);
    assert_eq!(json(&after)["sheets"], json(&signed)["sheets"], "every step stands as before");
}

/// The shop after three evenings, before the revision of its plans is issued.
fn before_the_revision() -> Shop {
    let shop = fresh();
    issue(&shop);
    type_evenings(&shop, 3);
    shop
}

/// What a command on the revised project printed.
fn revised(shop: &Shop, arguments: &[&str]) -> Ran {
    let ran = shop.run(&[&["--project", "demo-data/revision"], arguments].concat());
    assert_eq!(ran.code, 0, "{ran:?}");
    ran
}

/// The standing of a step of the revised traveler.
fn standing(shop: &Shop, step: &str) -> String {
    let listed = json(&revised(shop, &["archive", "list", "--format", "json", "--traveler", "TAIL-20"]));
    let steps = listed["sheets"][0]["steps"].as_array().unwrap();
    steps.iter().find(|own| own["step"] == step).unwrap()["standing"].as_str().unwrap().to_owned()
}

#[test]
fn the_revision_of_the_demo_gives_a_notice() {
    let shop = before_the_revision();
    assert!(revised(&shop, &["check"]).out.contains("0 errors"), "the revised demo checks");
    let notice = json(&revised(&shop, &["change", "--format", "json", "--on", "2026-06-05"]))["notice"].clone();
    let act = steps(&notice["act"]);
    for step in ["drill-skeleton rework-or-ask", "rivet-rear rework-or-ask"] {
        assert!(act.contains(&step.to_owned()), "{act:?}");
    }
    let falls = notice["reopenings"][0]["falls"].as_array().unwrap();
    let falls: Vec<&str> = falls.iter().map(|fall| fall[1].as_str().unwrap()).collect();
    let last_look_closing_and_hold = ["TAIL-20/inspect-box", "TAIL-20/close-tips", "TAIL-20/close-tips"];
    assert_eq!(falls, last_look_closing_and_hold);
    let by_record = steps(&notice["by-record"]);
    assert_eq!(by_record, ["measure stands-after-reading"], "a reading of 0.008 meets the new limit of 0.012");
}

#[test]
fn the_revision_of_the_demo_gives_new_sheets_and_the_state_follows() {
    let shop = before_the_revision();
    let old = codes(&shop, "demo-data/revision");
    let issued = "change --issue --by B1 --source letter-4 --on 2026-06-05 --entered 2026-06-05T20:00";
    revised(&shop, &issued.split(' ').collect::<Vec<_>>());
    let new = codes(&shop, "demo-data/revision");
    assert_ne!(old["TAIL-20"], new["TAIL-20"]);
    assert_eq!(old["TANK-10 left"], new["TANK-10 left"], "a sheet without change keeps its code");
    assert_eq!(standing(&shop, "drill-skeleton"), "fallen");
    assert_eq!(standing(&shop, "rivet-rear"), "fallen");
    assert_eq!(standing(&shop, "dimple"), "awaits-reading", "its drawing has a new revision and its note was not read");
    let listed = json(&revised(&shop, &["archive", "list", "--format", "json", "--traveler", "TAIL-20"]));
    let open = listed["open-discrepancies"].as_array().unwrap().len();
    assert_eq!(open, 1, "drilling, deburring and riveting two holes more is one cause");
    if let Some(text) = paper_text_of(&shop.path("output/TAIL-20-change.pdf")) {
        assert!(text.contains("2more") && text.contains("18aredone"), "what is done is told apart from what is more");
        assert_eq!(
            text.matches("OpendiscrepancyD-002").count(),
            4,
            "the front and each step whose work is touched name it"
        );
    }
    let (read, marked) = (&new["TAIL-20"], &old["TAIL-20"]);
    let evening = format!("by = \"B1\"\n[[read]]\nsheet = \"{read}\"\n[[mark]]\nsheet = \"{marked}\"\npages = 20\n");
    shop.write("read.toml", evening);
    let file = shop.path("read.toml").display().to_string();
    revised(&shop, &["archive", "enter", &file, "--entered", "2026-06-06T20:00"]);
    let opened = ["archive", "reopen", "stabilizer-box", "--by", "B1", "--because", "two rivets more"];
    revised(&shop, &[&opened[..], &["--entered", "2026-06-07T10:00"]].concat());
    assert_eq!(standing(&shop, "dimple"), "signed");
    assert_eq!(standing(&shop, "close-tips"), "open");
    assert!(must(&shop, &["archive", "verify"]).out.contains("whole"));
    let drawings = revised(&shop, &["drawings"]);
    assert_eq!(drawings.out, "every traveler cites its drawings at the revisions of the register\n");
}

#[test]
fn a_register_update_alone_says_what_it_touches() {
    let shop = fresh();
    issue(&shop);
    type_evenings(&shop, 1);
    let text = std::fs::read_to_string(shop.path("demo-data/build.toml")).unwrap();
    let at = text.find("sheet = \"T1\"").unwrap();
    let revised = text[at..].replacen("revision = \"C\"", "revision = \"D\"", 1);
    shop.write("demo-data/build.toml", format!("{}{revised}", &text[..at]));
    let value = json(&must(&shop, &["drawings", "--format", "json"]));
    let touched = value["touched"].as_array().unwrap();
    assert_eq!(touched.len(), 1);
    assert_eq!(
        (touched[0]["traveler"].as_str(), touched[0]["cited"].as_str(), touched[0]["register"].as_str()),
        (Some("TAIL-10"), Some("C"), Some("D"))
    );
    let numbers: Vec<&str> =
        touched[0]["steps"].as_array().unwrap().iter().map(|step| step["number"].as_str().unwrap()).collect();
    assert_eq!(numbers, ["010", "020", "030", "040", "120"], "the steps that cite a view of it");
    assert_eq!(touched[0]["steps"][1]["signed"], serde_json::json!(["B1, 2026-03-09"]));
}

#[test]
fn a_progress_file_is_taken_over_once_and_the_sheet_carries_it() {
    let shop = fresh();
    shop.write(
        "demo-data/progress.toml",
        "[[sign]]\nstep = \"TAIL-10/prepare\"\non = 2026-03-02\nby = \"B1\"\nminutes = 30\n",
    );
    must(&shop, &["archive", "import", "--entered", "2026-03-06T20:00"]);
    let again = must(&shop, &["archive", "import", "--entered", "2026-03-06T20:05"]);
    assert!(again.out.contains("1 step was in the archive already"), "{}", again.out);
    issue(&shop);
    let listed = json(&must(&shop, &["archive", "list", "--format", "json", "--traveler", "TAIL-10"]));
    assert_eq!(listed["sheets"][0]["done"], 1, "the imported signature stands on the first sheet");
    let board = json(&must(&shop, &["board", "--format", "json", "--now", "2026-03-07T18:00"]));
    assert!(
        board.to_string().contains("TAIL-10/mark") && !board.to_string().contains("\"TAIL-10/prepare\""),
        "the board reads the archive"
    );
}

#[test]
fn a_slip_in_a_spec_is_no_revision_of_the_plans() {
    let shop = fresh();
    issue(&shop);
    type_evenings(&shop, 1);
    shop.edit("specs/tail/stabilizer-rear-spar.toml", "id = \"prepare\"\n", "id = \"prepare\"\nminuts = 30\n");
    for form in ["human", "json"] {
        let ran = shop.run(&["--project", "demo-data", "change", "--format", form]);
        assert_eq!(ran.code, 1, "{ran:?}");
        assert!(
            (ran.out.clone() + &ran.err).contains("has no key `minuts`") && ran.err.contains("nothing is judged"),
            "{ran:?}"
        );
        assert!(!ran.out.contains("gone from the plans"), "{ran:?}");
    }
}

#[test]
fn what_stands_on_a_sheet_in_force_is_not_taken_over_beside_it() {
    let shop = fresh();
    issue(&shop);
    shop.write("demo-data/progress.toml", "[[sign]]\nstep = \"TAIL-10/prepare\"\non = 2026-03-02\nby = \"B1\"\n[[sign]]\nstep = \"FUS-10/verify\"\non = 2026-03-01\nby = \"B1\"\n");
    let board = shop.run(&["--project", "demo-data", "board", "--format", "json"]);
    assert!(
        board.err.contains("their sheets are in force") && board.err.contains("`shophead archive import`"),
        "{}",
        board.err
    );
    let ran = shop.run(&["--project", "demo-data", "archive", "import", "--entered", "2026-03-08T20:00"]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains("TAIL-10/prepare is not taken over: sheet") && !ran.err.contains("FUS-10"), "{}", ran.err);
    let imported =
        json(&must(&shop, &["archive", "list", "--format", "json", "--kind", "imported"]))["entries"].to_string();
    assert!(imported.contains("traveler: FUS-10") && !imported.contains("traveler: TAIL-10"), "{imported}");
}
