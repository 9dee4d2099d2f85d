//! What the pen wrote on board and sheets is typed back: one file, all of it or nothing, and not much to type.

use std::fmt::Write as _;

use super::play::{EVENINGS, fresh, issue, json, must};

#[test]
fn a_week_from_the_whiteboard_is_typed_in_one_file_or_not_at_all() {
    let shop = fresh();
    issue(&shop);
    let typed = EVENINGS[0].typed();
    shop.write("evening.toml", typed.replace("130.1 = 6", "130.1 = \"six\""));
    let ran =
        shop.run(&["--project", "demo-data", "archive", "enter", "evening.toml", "--entered", "2026-04-05T19:00"]);
    assert_eq!(ran.code, 1);
    assert!(
        ran.err.contains("130.1 Largest run-down drag, at most 15 in-lb is `six`, expected a number or N/A")
            && ran.err.contains("nothing was recorded"),
        "{}",
        ran.err
    );
    shop.write("evening.toml", typed.replace("minutes = 40", "minuts = 40"));
    let ran =
        shop.run(&["--project", "demo-data", "archive", "enter", "evening.toml", "--entered", "2026-04-05T19:00"]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains("`sign` has no key `minuts`") && ran.err.contains("evening.toml:9:1"), "{}", ran.err);
    shop.write("evening.toml", &typed);
    let ran = must(
        &shop,
        &["archive", "enter", &shop.path("evening.toml").display().to_string(), "--entered", "2026-04-05T19:00"],
    );
    assert_eq!(ran.out.lines().filter(|line| line.contains(": signed ")).count(), 16);
}

#[test]
fn findings_belong_to_their_own_visit_and_number_their_own_discrepancies() {
    let shop = fresh();
    issue(&shop);
    let evening = r#"
        by = "B1"
        on = 2026-05-16
        [[visit]]
        by = "TC1"
        spaces = ["stabilizer-box"]
        note = "first"
        [[visit.finding]]
        what = "sharp edge"
        space = "stabilizer-box"
        [[visit.finding]]
        what = "lamp left in"
        space = "stabilizer-box"
        before-close = false
        [[visit]]
        by = "TC1"
        spaces = ["tank-interior"]
        note = "second"
        [[visit.finding]]
        what = "sealant thin at rib 2"
        space = "tank-interior"
    "#;
    shop.write("evening.toml", evening);
    must(
        &shop,
        &["archive", "enter", &shop.path("evening.toml").display().to_string(), "--entered", "2026-05-16T21:00"],
    );
    let book = json(&must(&shop, &["archive", "book", "--format", "json", "--on", "2026-05-27"]));
    let visit = |nth: usize, key: &str| book["book"]["visits"][nth][key].to_string();
    assert!(visit(0, "notes").contains("first") && visit(1, "notes").contains("second"), "{book}");
    let (first, second) = (visit(0, "findings"), visit(1, "findings"));
    assert!(first.contains("sharp edge") && first.contains("lamp left in") && first.contains("D-001"), "{first}");
    assert!(second.contains("sealant thin at rib 2") && second.contains("D-002"), "{second}");
    assert!(!first.contains("sealant") && !second.contains("lamp") && !first.contains("D-002"), "{first} {second}");
}

/// Keys pressed for a text: one a character, and one more for a capital or a sign that takes the shift key.
fn keystrokes(text: &str) -> usize {
    text.chars().map(|c| 1 + usize::from(c.is_uppercase() || "\"{}_:+?".contains(c))).sum()
}

/// Somebody who types with two fingers: 100 keys a minute, an assumption on the slow side.
const KEYS_A_MINUTE: usize = 100;

#[test]
fn a_week_on_the_board_is_typed_back() {
    let shop = fresh();
    issue(&shop);
    let now = |day: u32| format!("2026-03-{day:02}T18:00");
    let board = |day: u32| json(&must(&shop, &["board", "--format", "json", "--now", &now(day)]));
    // Sunday's board hangs on the wall for a week. In its evenings the first seven steps of the spar are marked on it by
    // pen, with day, minutes, readings and a helper.
    let before = board(8);
    let ready = |board: &serde_json::Value| {
        let rows = board["ready"].as_array().unwrap().iter().chain(board["tonight"]["rows"].as_array().unwrap());
        rows.map(|row| row["step"].as_str().unwrap().to_owned()).collect::<Vec<_>>()
    };
    assert!(ready(&before).contains(&"TAIL-10/prepare".to_owned()), "{:?}", ready(&before));
    let mut typed = "by = \"B1\"\n".to_owned();
    for (steps, day, more) in [
        ("\"010..020\"", 9, "minutes = 90\nreadings = { 020.1 = 38.49, 020.2 = 38.51 }\n"),
        ("30", 14, "minutes = 95\nhelpers = [\"H1\"]\nreadings = { 030.1 = 0.004, 030.2 = 0.006, 030.3 = 0.003 }\n"),
        ("30", 15, "for = \"hold\"\n"),
        ("\"040..060\"", 15, "minutes = 110\n"),
    ] {
        write!(typed, "[[sign]]\ntraveler = \"TAIL-10\"\nsteps = {steps}\non = 2026-03-{day:02}\n{more}").unwrap();
    }
    let (keys, lines) = (keystrokes(&typed), typed.lines().count());
    assert!(keys <= 6 * KEYS_A_MINUTE, "{keys} keys take more than six minutes");
    assert!(lines <= 24, "{lines} lines");
    shop.write("week.toml", &typed);
    let ran = must(
        &shop,
        &["archive", "enter", &shop.path("week.toml").display().to_string(), "--entered", "2026-03-15T19:00"],
    );
    assert_eq!(ran.out.lines().filter(|line| line.contains(": signed ")).count(), 7);
    // The next board goes on where the pen stopped.
    let after = board(15);
    let sheet =
        after["sheets"].as_array().unwrap().iter().find(|sheet| sheet["traveler"] == "TAIL-10").unwrap().clone();
    assert_eq!(sheet["signed"].as_u64(), Some(6));
    assert!(
        !ready(&after).contains(&"TAIL-10/prepare".to_owned()) && after["counts"]["done"] == 6,
        "{:?}",
        ready(&after)
    );
}

#[test]
fn a_time_that_is_not_typed_is_the_local_one() {
    let shop = crate::build::shop::Shop::small();
    // Two zones twenty hours apart, in the form that needs no table of zones.
    let hour_in = |zone: &str| {
        let ran = shop.run_with("TZ", zone, &["board", "--format", "json"]);
        assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{ran:?}");
        let now = json(&ran)["now"].as_str().unwrap().to_owned();
        let at = now.find(':').unwrap();
        (now[at - 2..at].trim().parse::<i32>().unwrap(), now[at + 1..at + 3].parse::<i32>().unwrap())
    };
    let (east, west) = (hour_in("EEE-10"), hour_in("WWW10"));
    let apart = (east.0 * 60 + east.1 - west.0 * 60 - west.1).rem_euclid(24 * 60);
    // The clock may go on by a minute between the two.
    assert!((20 * 60 - 2..=20 * 60).contains(&apart), "{east:?} and {west:?} are {apart} minutes apart");
    let unknown = shop.run_with("TZ", "Nowhere/At_all", &["board", "--format", "json"]);
    assert!(unknown.err.contains("the system names no time zone, so the clock is read in UTC"), "{}", unknown.err);
}
