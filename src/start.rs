//! The first text of a project and of a traveler: TOML with comments, for the builder to go on from.
//!
//! A traveler is its parts and its joints: the steps follow from them. It decides nothing that the drawing decides: what
//! is not known stays a comment.

mod cells;
mod outline;
mod steps;

pub use cells::{Column, Entry, ListKind, Listed, OddRow, PARTS, STOCK, Table, read_table};
pub use outline::{JointOutline, Outline, OutlineFault, PartOutline, joint_help, outline_text};
pub use steps::steps_text;

/// What a new project file says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ProjectStart {
    /// Name of the aircraft.
    pub name: String,
    /// Builder's serial number.
    pub serial: Option<String>,
    /// Registration marks.
    pub registration: Option<String>,
    /// `inch` or `mm`.
    pub unit: String,
    /// `us-letter` or `a4`.
    pub paper: String,
}

/// The text of a new `build.toml`: every key, with its meaning, those that are not known as comments.
#[must_use]
pub fn project_text(start: &ProjectStart) -> String {
    let known = |key: &str, value: &Option<String>, example: &str| match value {
        Some(value) => format!("{key} = {}", quoted(value)),
        None => format!("# {key} = {example}"),
    };
    let lines = [
        ("@name@", format!("name = {}", quoted(&start.name))),
        ("@serial@", known("serial", &start.serial, "\"001\"")),
        ("@registration@", known("registration", &start.registration, "\"N00XX\"")),
        ("@unit@", format!("unit = {}", quoted(&start.unit))),
        ("@paper@", format!("paper = {}", quoted(&start.paper))),
    ];
    let examples = examples(&start.unit);
    // Whole lines are replaced, so that no value can stand for another mark.
    let text = include_str!("start/build.toml").lines().map(|line| {
        // An empty line has no mark.
        let mark = line.split_whitespace().next().unwrap_or_default();
        lines
            .iter()
            .find(|(name, _)| *name == mark)
            .map_or_else(|| exemplified(line, &examples), |(_, value)| line.replacen(mark, value, 1))
    });
    text.map(|line| line + "\n").collect()
}

/// The examples of a unit: a mark and what stands for it.
type Examples = [(&'static str, &'static str); 24];

fn examples(unit: &str) -> Examples {
    if unit == "mm" {
        [
            ("@second@", "inch"),
            ("@torque@", "N m"),
            ("@kit@", "K-PULL-4"),
            ("@diameter@", "4.0"),
            ("@hole@", "[4.1, 4.2]"),
            ("@grip@", "[0.5, 3.0]"),
            ("@thread@", "M6"),
            ("@thickness@", "0.8"),
            ("@radius@", "3"),
            ("@bolt@", "6"),
            ("@length@", "40"),
            ("@threaded@", "18"),
            ("@pin@", "1.6"),
            ("@height@", "8"),
            ("@thick@", "1.6"),
            ("@low@", "8 N m"),
            ("@high@", "9.5 N m"),
            ("@most@", "12 N m"),
            ("@wrench@", "Torque wrench, 1 to 6 N m"),
            ("@family@", "ISO 15981-4"),
            ("@call@", "ISO 15981-4x8"),
            ("@drills@", "[2.5, 3.3, 4.1, 4.9, 5.8]"),
            ("@sheets@", "[0.5, 0.6, 0.8, 1.0, 1.2]"),
            ("@rivets@", "[3.2, 4.0, 4.8]"),
        ]
    } else {
        [
            ("@second@", "mm"),
            ("@torque@", "in-lb"),
            ("@kit@", "K-PULL-5"),
            ("@diameter@", "\"5/32\""),
            ("@hole@", "[\"0.160\", \"0.164\"]"),
            ("@grip@", "[\"0.020\", \"0.125\"]"),
            ("@thread@", "10-32"),
            ("@thickness@", "\"0.032\""),
            ("@radius@", "\"1/8\""),
            ("@bolt@", "\"0.190\""),
            ("@length@", "\"1-1/4\""),
            ("@threaded@", "\"7/16\""),
            ("@pin@", "\"#50\""),
            ("@height@", "\"0.260\""),
            ("@thick@", "\"0.063\""),
            ("@low@", "20 in-lb"),
            ("@high@", "25 in-lb"),
            ("@most@", "40 in-lb"),
            ("@wrench@", "Torque wrench, 5 to 50 in-lb"),
            ("@family@", "MS20470AD4"),
            ("@call@", "MS20470AD4-5"),
            ("@drills@", "[\"#40\", \"#30\", \"#21\", \"#11\"]"),
            ("@sheets@", "[\"0.025\", \"0.032\", \"0.040\", \"0.063\"]"),
            ("@rivets@", "[\"3/32\", \"1/8\", \"5/32\"]"),
        ]
    }
}

/// A line with its examples filled in.
fn exemplified(line: &str, examples: &Examples) -> String {
    examples.iter().fold(line.to_owned(), |line, (mark, example)| line.replace(mark, example))
}

/// Entries of the drawing register for sheets that are not in it yet: the sheet, and the revision where one is known.
#[must_use]
pub fn drawings_text(sheets: &[(String, String)]) -> String {
    let entry = |(sheet, revision): &(String, String)| {
        format!("\n[[drawing]]\nsheet = {}\nrevision = {}\n", quoted(sheet), quoted(revision))
    };
    sheets.iter().map(entry).collect()
}

/// A text as TOML writes it.
pub(crate) fn quoted(text: &str) -> String {
    // A JSON string is a TOML string, but for the one control character that JSON leaves as it is.
    serde_json::Value::from(text).to_string().replace('\u{7f}', "\\u007f")
}

/// A list of texts as TOML writes it.
pub(crate) fn list<'a>(texts: impl IntoIterator<Item = &'a str>) -> String {
    format!("[{}]", texts.into_iter().map(quoted).collect::<Vec<_>>().join(", "))
}
