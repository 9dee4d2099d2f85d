//! Where a step has no joint its words are the work: a signature on other words asks for a read-through, and every place
//! that tells of it shows both wordings.

use serde_json::Value;
use shophead::archive::{Archive, Entry, Standing, State};
use shophead::words::ItemName;

use crate::build::shop::{Ran, Shop, paper_text_of};

const BUILD: &str = "[aircraft]\nname = \"Dunlin two-seat\"\n[[signer]]\ninitials = \"B1\"\nrole = \"builder\"\n\
    [[procedure]]\nid = \"rigging\"\nrevision = \"A\"\ntext = \"Tighten the turnbuckle by hand.\"\n\
    [[procedure]]\nid = \"level\"\nrevision = \"K\"\ntext = \"Set the fuselage level across the longerons.\"\n";

const RIG: &str = "[traveler]\nid = \"RIG-10\"\ntitle = \"Rig the rudder\"\nrevision = \"A\"\n\
    [[step]]\nid = \"level\"\ntitle = \"Level the fuselage\"\ndo = \"level\"\n\
    [[step]]\nid = \"cable\"\ntitle = \"Lead the cable\"\ndo = \"rig\"\ntext = \"Lead it over\\nthe upper pulley.\"\n\
    [[step]]\nid = \"turnbuckle\"\ntitle = \"Rig\"\ndo = \"rig\"\nprocedure = \"rigging\"\n";

const STEPS: [&str; 3] = ["level", "cable", "turnbuckle"];

fn must(shop: &Shop, arguments: &[&str]) -> Ran {
    let ran = shop.run(arguments);
    assert_eq!(ran.code, 0, "{arguments:?}: {ran:?}");
    ran
}

fn state(shop: &Shop) -> State {
    let survey = Archive::at(shop.path("archive")).verify().unwrap();
    assert_eq!(survey.flaws, []);
    State::of(&survey.records)
}

fn in_force(shop: &Shop) -> String {
    state(shop).all_in_force().next().unwrap().issued.sheet.to_string()
}

fn json(ran: &Ran) -> Value {
    serde_json::from_str(&ran.out).unwrap()
}

/// All three steps signed; then the text of one, the procedure of another and the revision alone of a third change.
fn revised() -> Shop {
    let shop = Shop::empty();
    shop.write("build.toml", BUILD);
    shop.write("specs/rig.toml", RIG);
    must(&shop, &["packet", "--issue", "--on", "2026-03-01", "--entered", "2026-03-01T09:00"]);
    let code = in_force(&shop);
    for step in STEPS {
        let day = ["--by", "B1", "--on", "2026-03-02", "--entered", "2026-03-02T20:00", "--minutes", "10"];
        must(&shop, &[&["archive", "sign", &code, step][..], &day].concat());
    }
    shop.edit("specs/rig.toml", "the upper pulley", "the lower pulley, then under the upper one");
    shop.edit("specs/rig.toml", "revision = \"A\"", "revision = \"B\"");
    shop.edit("build.toml", "by hand", "by hand, two turns");
    shop.edit("build.toml", "revision = \"A\"", "revision = \"B\"");
    shop.edit("build.toml", "revision = \"K\"", "revision = \"L\"");
    shop
}

const WORDINGS: [&str; 4] = [
    "procedure level is now revision L, was revision K",
    "text is now \"Lead it over the lower pulley, then under the upper one.\", was \"Lead it over the upper pulley.\"",
    "text is now \"Tighten the turnbuckle by hand, two turns.\", was \"Tighten the turnbuckle by hand.\"",
    "procedure rigging is now revision B, was revision A",
];

fn issue(shop: &Shop, on: &str) -> Ran {
    let entered = format!("{on}T20:00");
    must(shop, &["change", "--issue", "--by", "B1", "--source", "letter 7", "--on", on, "--entered", &entered])
}

#[test]
fn other_words_of_a_step_without_joints_are_told_with_those_before_wherever_they_are_told() {
    let shop = revised();
    let told = must(&shop, &["change"]).out;
    assert!(WORDINGS.iter().all(|words| told.contains(words)), "{told}");
    assert_eq!(told.matches("stands after one read-through (signed by B1, 2026-03-02)").count(), 3, "{told}");
    assert!(told.contains("was revision K; its words are the same"), "{told}");
    let notice = json(&must(&shop, &["change", "--format", "json"]))["notice"].clone();
    let read: Vec<&str> =
        notice["read"].as_array().unwrap().iter().map(|line| line["step"].as_str().unwrap()).collect();
    assert_eq!(read, STEPS);
    // What is to be read is no mere change of words.
    assert!(!notice["reworded"].to_string().contains("RIG-10 0"), "{}", notice["reworded"]);

    issue(&shop, "2026-03-04");
    let packed = |text: &str| text.split_whitespace().collect::<String>();
    for pdf in ["output/notice-N-001.pdf", "output/RIG-10.pdf"] {
        if let Some(paper) = paper_text_of(&shop.path(pdf)) {
            assert!(WORDINGS.iter().all(|words| paper.contains(&packed(words))), "{pdf}: {paper}");
        }
    }
    if let Some(paper) = paper_text_of(&shop.path("output/RIG-10.pdf")) {
        assert!(paper.contains("Changehistoryread."), "the box for the read-through: {paper}");
    }

    let listed = must(&shop, &["archive", "list"]).out;
    assert!(listed.contains("signatures that wait for a read-through"), "{listed}");
    assert!(WORDINGS.iter().all(|words| listed.contains(words)), "{listed}");
    let data = json(&must(&shop, &["archive", "list", "--format", "json"]));
    let cable = &data["sheets"][0]["steps"][1];
    assert_eq!(cable["standing"], "awaits-reading");
    assert_eq!(cable["to-read"]["reasons"], serde_json::json!([WORDINGS[1]]));
    assert_eq!(cable["to-read"]["differences"][0]["old"], "Lead it over\nthe upper pulley.");
    let board = json(&must(&shop, &["board", "--format", "json", "--now", "2026-03-05T18:00"]));
    let wait = board["waiting"][0]["waits"][0]["words"].clone();
    assert_eq!(wait, format!("the builder, to read the change note: {}", WORDINGS[0]));
}

#[test]
fn a_read_entry_lets_the_signatures_stand_and_is_taken_once() {
    let shop = revised();
    issue(&shop, "2026-03-04");
    let standing = |shop: &Shop, step: &str| state(shop).standing(&ItemName::new("RIG-10", None, step));
    assert!(STEPS.iter().all(|step| matches!(standing(&shop, step), Standing::AwaitsReading(_))));
    let code = in_force(&shop);
    shop.write("read.toml", format!("by = \"B1\"\non = 2026-03-05\n[[read]]\nsheet = \"{code}\"\n"));
    let enter = ["archive", "enter", "read.toml", "--entered", "2026-03-05T20:00"];
    let entered = must(&shop, &enter).out;
    assert!(entered.contains(&format!("change note of {code} read by B1")), "{entered}");
    assert!(STEPS.iter().all(|step| matches!(standing(&shop, step), Standing::Signed(_))));
    let listed = must(&shop, &["archive", "list"]).out;
    assert!(!listed.contains("wait for a read-through"), "{listed}");
    must(&shop, &enter);
    let records = Archive::at(shop.path("archive")).read().unwrap().records;
    let read = records.iter().filter(|record| matches!(record.entry, Entry::ReadThrough(_))).count();
    assert_eq!(read, 1, "given again, nothing is recorded");
}

#[test]
fn a_second_change_before_the_first_was_read_shows_the_words_that_were_read_last() {
    let shop = revised();
    issue(&shop, "2026-03-04");
    shop.edit("specs/rig.toml", "then under the upper one", "then behind the upper one");
    shop.edit("specs/rig.toml", "revision = \"B\"", "revision = \"C\"");
    issue(&shop, "2026-03-06");
    let listed = must(&shop, &["archive", "list"]).out;
    let last = "text is now \"Lead it over the lower pulley, then behind the upper one.\", was \"Lead it over the upper pulley.\"";
    assert!(listed.contains(last) && listed.contains(WORDINGS[2]), "{listed}");

    // What was read before the next change is not told again.
    let code = in_force(&shop);
    shop.write("read.toml", format!("by = \"B1\"\non = 2026-03-07\n[[read]]\nsheet = \"{code}\"\n"));
    must(&shop, &["archive", "enter", "read.toml", "--entered", "2026-03-07T20:00"]);
    shop.edit("specs/rig.toml", "the lower pulley", "the aft pulley");
    shop.edit("specs/rig.toml", "revision = \"C\"", "revision = \"D\"");
    issue(&shop, "2026-03-08");
    let listed = must(&shop, &["archive", "list"]).out;
    let now = "was \"Lead it over the lower pulley, then behind the upper one.\"";
    let waiting = listed.split_once("wait for a read-through").unwrap().1;
    assert!(waiting.contains(now) && !waiting.contains("turnbuckle"), "{listed}");
}

#[test]
fn words_of_a_step_with_joints_and_of_the_trade_ask_for_nothing() {
    let shop = revised();
    let mut rivet = String::from("[traveler]\nid = \"B-1\"\ntitle = \"Bracket\"\nrevision = \"A\"\n");
    rivet.push_str("[[part]]\nid = \"P1\"\nname = \"Skin\"\nmaterial = \"2024-T3\"\nthickness = \"0.032\"\n");
    rivet.push_str("[[part]]\nid = \"P2\"\nname = \"Rib\"\nmaterial = \"2024-T3\"\nthickness = \"0.040\"\n");
    rivet.push_str("[[joint]]\nid = \"J1\"\nstack = [\"P1\", \"P2\"]\nfastener = \"MS20470AD4\"\ncount = 8\nedge = \"0.35\"\npitch = \"0.75\"\n");
    rivet.push_str("[[step]]\nid = \"drill\"\ntitle = \"Drill\"\ndo = \"drill\"\njoints = [\"J1\"]\ntext = \"Square to the skin.\"\n");
    rivet.push_str("[[step]]\nid = \"rivet\"\ntitle = \"Rivet\"\ndo = \"rivet\"\njoints = [\"J1\"]\n");
    shop.write("specs/bracket.toml", rivet);
    must(&shop, &["packet", "--issue", "B-1", "--on", "2026-03-04", "--entered", "2026-03-04T21:00"]);
    shop.edit("specs/bracket.toml", "Square to the skin.", "Square to the skin, from the rib's side.");
    let told = must(&shop, &["change"]).out;
    assert!(told.contains("B-1 rev A to A") && told.contains("stays; the print differs: words only"), "{told}");
}
