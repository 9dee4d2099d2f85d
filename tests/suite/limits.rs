//! Published numbers stand in the tables of `hardware`: looks for numbers elsewhere, and names the few that may stand.
//!
//! A number that is found here belongs into `src/hardware/tables/limit.toml`, with its source; or it is no published
//! limit, and gets a line below with the reason.

use std::path::Path;

/// Numbers that are no published limit: the constant or the words around it, and why it may stand.
const MAY_STAND: &[(&str, &str)] = &[
    ("length.nm() * 100 / d.nm()", "hundredths of a diameter, for printing"),
    ("size / 100, size % 100", "hundredths of a diameter, for printing"),
    ("FEWEST_SPARE", "spares of a pick list: this shop's own count"),
    ("NEAR", "steps that lie near each other on the board"),
    ("MOST_ROWS", "rows that a page of the board holds"),
    ("GUESSED_MINUTES", "a guess for steps without an estimate"),
    ("max(Length::from_nm(1))", "a sketch of which all places are one still has a size to be divided by"),
    ("LATE_DAYS", "days after which an entry says itself that it came late"),
    ("MOST_SPACES", "spaces that one visit looks into"),
    ("MANY_RIVETS", "rivets from which hands grow numb: common practice, no limit"),
    ("COLUMNS", "columns of the torque strip"),
    ("LAST_COLUMN", "columns of the torque strip"),
    ("Torque::from_inch_pounds(100)", "where the strip of drags takes coarser steps"),
    ("LONGEST", "letters of a clipped line"),
    ("LONGEST_TOOL", "letters of a clipped line"),
    ("ENOUGH", "minutes of an evening"),
    ("MOST", "minutes of an evening"),
    ("LONGEST_LIST", "letters of a list in a few lines"),
    ("THEN", "next steps of a job on the board"),
    ("JOBS", "rows that a page of the board holds"),
    ("NAMED", "names in a line of the board"),
    ("TOGETHER", "lines that a page of the board holds"),
    ("LOOKS", "rows that a page of the board holds"),
    ("WAITING", "rows that a page of the board holds"),
    ("DISCREPANCIES", "rows that a page of the board holds"),
    ("LEDGER", "rows that a page of the board holds"),
    ("SHEETS", "codes in a line of the board"),
    ("USERS", "travelers that a row of the pick list names"),
    ("LOOK_ALIKES", "warnings in a cell of the pick list"),
    ("LISTED", "lines that a discrepancy sheet holds"),
    ("NOTES", "lines that a discrepancy sheet holds"),
    ("EARLIER", "lines that a discrepancy sheet holds"),
    ("LACKS", "open steps of a stage that a page of a visit names"),
    ("STAGE_BOXES", "boxes of stages that a page of a visit holds"),
    ("FEW_SPACES", "frames that a page of a visit holds"),
    ("NAMED", "names in a line of a visit"),
    ("MINUTES_OF_DAY", "the calendar"),
    ("SMALL_JOINTS", "joints of a job that goes on one sheet"),
    ("SMALL_STEPS", "steps of a job that goes on one sheet"),
    ("SUSPECT", "millimetres of a page"),
    ("SUSPECT_LARGE", "millimetres of a page"),
    ("SUSPECT_BOTH", "millimetres of a page"),
    ("MILLIMETRE", "micrometres of a millimetre of paper"),
    ("LETTERS", "letters of a printed line"),
    ("PICTURE", "millimetres of a picture on a page"),
    ("SIDES", "pages of a sheet"),
    ("EVENING_STEPS", "steps that go on one sheet"),
];

/// Makers of quantities that take a number written in the code.
const MAKERS: [&str; 7] = [
    "Ratio(",
    "Ratio::parse(",
    "Length::from_",
    "Torque::from_",
    "Temperature::from_",
    "Length::parse(",
    "Size::parse(",
];

/// Code with comments, strings and characters blanked out.
fn code_of(line: &str) -> String {
    let mut code = String::new();
    let mut in_string = false;
    let mut before = ' ';
    for c in line.chars() {
        if c == '"' && before != '\\' {
            in_string = !in_string;
        }
        if !in_string {
            code.push(c);
        }
        before = c;
    }
    code.split("//").next().unwrap_or_default().to_owned()
}

/// The whole numbers of some code, without those of names, of array lengths and of fields of tuples.
fn numbers(code: &str) -> Vec<u64> {
    let mut found = Vec::new();
    let letters: Vec<char> = code.chars().collect();
    let mut at = 0;
    while at < letters.len() {
        let starts = letters[at].is_ascii_digit()
            && (at == 0 || !(letters[at - 1].is_alphanumeric() || ['_', '.'].contains(&letters[at - 1])));
        let end = (at..letters.len()).find(|end| !(letters[*end].is_ascii_digit() || letters[*end] == '_'));
        let end = if starts { end.unwrap_or(letters.len()) } else { at + 1 };
        let is_length = starts && letters.get(end) == Some(&']') && letters[..at].iter().rev().nth(1) == Some(&';');
        if starts && !is_length {
            let digits: String = letters[at..end].iter().filter(|c| c.is_ascii_digit()).collect();
            found.push(digits.parse().unwrap());
        }
        at = end;
    }
    found
}

/// Whether code makes a quantity from a number that is written there.
fn makes_a_quantity(code: &str) -> bool {
    MAKERS.iter().any(|maker| {
        code.match_indices(maker).any(|(at, _)| {
            let rest = &code[at + maker.len()..];
            let inside = rest.split_once('(').filter(|_| !maker.ends_with('(')).map_or(rest, |(_, inside)| inside);
            inside.trim_start().starts_with(|c: char| c.is_ascii_digit())
        })
    })
}

/// Whether code names a number as a constant.
fn is_a_constant(code: &str) -> bool {
    let Some((_, after)) = code.split_once("const ") else { return false };
    let Some((kind, value)) = after.split_once('=') else { return false };
    let whole = ["i64", "u64", "i32", "u32", "u16", "u8", "usize"].iter().any(|word| kind.trim_end().ends_with(word));
    whole && numbers(value).iter().any(|number| *number > 0)
}

fn is_named(code: &str) -> bool {
    MAY_STAND.iter().any(|(words, _)| {
        code.contains(words)
            && (words.contains(' ') || words.contains('(') || code.contains(&format!("const {words}:")))
    })
}

/// What looks like a published number in a file of a room.
fn suspects(room: &str, text: &str) -> Vec<String> {
    let lines = text.lines().map(code_of).filter(|code| !is_named(code));
    let suspect = |code: &String| match room {
        "rules" => makes_a_quantity(code) || numbers(code).iter().any(|number| *number > 2),
        // Figures place marks on paper in fractions of what they draw; a quantity would still be a fact of its own.
        "figure" => makes_a_quantity(code),
        _ => makes_a_quantity(code) || is_a_constant(code),
    };
    lines.filter(suspect).map(|code| code.trim().to_owned()).collect()
}

fn files_of(room: &str) -> Vec<(String, String)> {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let files = walkdir::WalkDir::new(src.join(room)).sort_by_file_name().into_iter().map(Result::unwrap);
    let rust = files.filter(|entry| entry.path().extension().is_some_and(|own| own == "rs"));
    rust.map(|entry| (entry.path().display().to_string(), std::fs::read_to_string(entry.path()).unwrap())).collect()
}

#[test]
fn no_published_number_stands_outside_the_tables() {
    let mut found = Vec::new();
    for room in ["rules", "plan", "work", "figure"] {
        for (path, text) in files_of(room) {
            found.extend(suspects(room, &text).into_iter().map(|code| format!("{path}: {code}")));
        }
    }
    assert!(found.is_empty(), "ask `hardware::limit`, or say in MAY_STAND why not:\n{}", found.join("\n"));
}

#[test]
fn every_number_that_may_stand_still_stands() {
    let rooms = ["rules", "plan", "work", "figure"].into_iter().flat_map(files_of);
    let all: Vec<String> = rooms.flat_map(|(_, text)| text.lines().map(code_of).collect::<Vec<_>>()).collect();
    for (words, reason) in MAY_STAND {
        let stands = all.iter().any(|code| {
            code.contains(words) && (words.contains([' ', '(']) || code.contains(&format!("const {words}:")))
        });
        assert!(stands, "`{words}` ({reason}) is gone: take it off the list");
    }
}

#[test]
fn the_look_for_numbers_sees_what_it_should() {
    for (room, code) in [
        ("rules", "const LEAST: Ratio = Ratio(2_000);"),
        ("rules", "let most = thinnest.fraction(1, 10);"),
        ("rules", "if d * 8 >= tube {"),
        ("plan", "const LEAST_EDGE: Ratio = Ratio(2_000);"),
        ("plan", "let d = Length::from_64ths(6);"),
        ("plan", "const RIVET_PER_SHEET: i64 = 3;"),
        ("figure", "let wide = diameter.times(Ratio(1_800));"),
    ] {
        assert_eq!(suspects(room, code), [code], "{room}");
    }
    for (room, code) in [
        ("rules", "const THINGS: [&str; 5] = [\"a 40\"];"),
        ("rules", "/// At least 2.5 D, 3/32 in."),
        ("rules", "let (least, name) = (pair.0, \"1/4\");"),
        ("plan", "let share = total * 100;"),
        ("figure", "let half = hole.fraction(1, 2);"),
    ] {
        assert_eq!(suspects(room, code), Vec::<String>::new(), "{room}");
    }
}
