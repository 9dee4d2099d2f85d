//! What a builder in millimetres gets wrong with hardware that the build file describes, and what must pass: one joint of
//! two M6 bolts, of which each row changes one thing.

use std::collections::BTreeSet;

use super::judge_project;

const PROJECT: &str = r#"
[aircraft]
name = "Dunlin"
[project]
unit = "mm"
[[fastener]]
id = "K-M6"
kind = "bolt"
diameter = 6
thread = "M6"
length = 35
thread-length = 18
property-class = "8.8"
drilled-shank = false
hole = [6, 6.02]
material = "steel"
source = "kit drawing M-3"
[[fastener]]
id = "K-DRILLED"
kind = "bolt"
diameter = 6
thread = "M6"
length = 35
thread-length = 18
property-class = "8.8"
pin-hole = 1.6
hole = [6, 6.02]
material = "steel"
source = "kit drawing M-3"
[[fastener]]
id = "K-NUT"
kind = "nut"
diameter = 6
thread = "M6"
height = 8
self-locking = true
material = "steel"
source = "kit drawing M-3"
[[fastener]]
id = "K-CASTLE"
kind = "nut"
diameter = 6
thread = "M6"
height = 7.5
castle = true
material = "steel"
source = "kit drawing M-3"
[[fastener]]
id = "K-WASHER"
kind = "washer"
diameter = 6
thickness = 1.6
material = "steel"
source = "kit drawing M-3"
[[fastener]]
id = "K-PIN"
kind = "cotter-pin"
diameter = 1.6
length = 16
material = "steel"
source = "kit drawing M-3"
[[torque]]
thread = "M6"
class = "8.8"
nut = "self-locking"
low = "8 N m"
high = "9.5 N m"
source = "kit drawing M-3, note 2"
[[torque]]
thread = "M6"
class = "8.8"
nut = "castle"
low = "6 N m"
high = "7 N m"
source = "kit drawing M-3, note 3"
[[drawing]]
sheet = "M-3"
title = "Bracket"
revision = "A"
date = 2026-01-30
"#;

const TRAVELER: &str = r#"
[traveler]
id = "BRK-10"
title = "Bracket"
revision = "A"
drawings = ["M-3:A"]
[[part]]
id = "BK1"
name = "Bracket"
material = "6061-T6"
thickness = 8
[[part]]
id = "RB1"
name = "Web"
material = "6061-T6"
thickness = 8
[[joint]]
id = "J1"
name = "Bracket to web"
stack = ["BK1", "RB1"]
fastener = "K-M6"
count = 2
holes = { start = 2.5, final = 6 }
edge = 14
structure = "secondary"
nut = "K-NUT"
washers = { nut = ["K-WASHER"] }
torque = "8-9.5 Nm"
[[step]]
id = "drill"
title = "Drill"
do = "drill"
joints = ["J1"]
to = 5.8
[[step]]
id = "ream"
title = "Ream"
do = "ream"
joints = ["J1"]
[[step]]
id = "deburr"
title = "Deburr"
do = "deburr"
joints = ["J1"]
[[step]]
id = "bolt"
title = "Bolt"
do = "bolt"
joints = ["J1"]
[[step]]
id = "torque"
title = "Torque"
do = "torque"
joints = ["J1"]
"#;

/// What is changed, as old text and new text, and the rules that must say something, with their weight.
struct Row {
    what: &'static str,
    edits: &'static [(&'static str, &'static str)],
    fires: &'static [&'static str],
}

/// The castle nut with its pin, as an edit.
const WITH_PIN: (&str, &str) =
    ("fastener = \"K-M6\"\ncount = 2", "fastener = \"K-DRILLED\"\ncotter = \"K-PIN\"\ncount = 2");

const ROWS: &[Row] = &[
    Row { what: "as it is", edits: &[], fires: &[] },
    // Each of these once passed without a word.
    Row {
        what: "the nut has another thread",
        edits: &[("diameter = 6\nthread = \"M6\"\nheight = 8", "diameter = 8\nthread = \"M8\"\nheight = 8")],
        fires: &["error thread-mismatch"],
    },
    Row {
        what: "the nut is for another diameter and names no thread",
        edits: &[("diameter = 6\nthread = \"M6\"\nheight = 8", "diameter = 8\nheight = 8")],
        fires: &["error thread-mismatch"],
    },
    Row {
        what: "a thread that no table knows is known by its name",
        edits: &[("diameter = 6\nthread = \"M6\"\nheight = 8", "diameter = 6\nthread = \"M6x0.75\"\nheight = 8")],
        fires: &["error thread-mismatch"],
    },
    Row {
        what: "the washer is for another bolt",
        edits: &[("diameter = 6\nthickness = 1.6", "diameter = 8\nthickness = 1.6")],
        fires: &["error washer-wrong-size"],
    },
    Row {
        what: "the washer is described by its hole",
        edits: &[("diameter = 6\nthickness = 1.6", "diameter = 6.4\nthickness = 1.6")],
        fires: &[],
    },
    Row {
        what: "nine times the torque",
        edits: &[("torque = \"8-9.5 Nm\"", "torque = \"80 Nm\"")],
        fires: &["error torque-out-of-range"],
    },
    Row {
        what: "nine times the torque, and no entry to judge it by",
        edits: &[("torque = \"8-9.5 Nm\"", "torque = \"80 Nm\""), ("thread = \"M6\"\nclass", "thread = \"M5\"\nclass")],
        fires: &["error torque-out-of-range"],
    },
    Row {
        what: "nut and torque both wrong",
        edits: &[
            ("torque = \"8-9.5 Nm\"", "torque = \"80 Nm\""),
            ("diameter = 6\nthread = \"M6\"\nheight = 8", "diameter = 8\nthread = \"M8\"\nheight = 8"),
        ],
        fires: &["error thread-mismatch", "error torque-out-of-range"],
    },
    Row {
        what: "an inch nut of about the size: the torque is the bolt's, not that of a 10-32",
        edits: &[("nut = \"K-NUT\"", "nut = \"MS20365-1032A\"")],
        fires: &["error thread-mismatch"],
    },
    Row {
        what: "another inch nut",
        edits: &[("nut = \"K-NUT\"", "nut = \"MS20365-428A\"")],
        fires: &["error thread-mismatch"],
    },
    // Each of these once had no honest way out, or none at all.
    Row {
        what: "a self-locking nut of ISO 7040",
        edits: &[("nut = \"K-NUT\"", "nut = \"ISO 7040-M6-8\"")],
        fires: &[],
    },
    Row { what: "a nut that nothing locks", edits: &[("self-locking = true\n", "")], fires: &["error nut-unsafetied"] },
    Row {
        what: "a castle nut with its pin",
        edits: &[WITH_PIN, ("nut = \"K-NUT\"", "nut = \"K-CASTLE\""), ("torque = \"8-9.5 Nm\"", "torque = \"6-7 Nm\"")],
        fires: &[],
    },
    Row {
        what: "a castle nut takes the torque of castle nuts",
        edits: &[WITH_PIN, ("nut = \"K-NUT\"", "nut = \"K-CASTLE\"")],
        fires: &["warning torque-out-of-range"],
    },
    Row {
        what: "more than the entry ever allows",
        edits: &[
            ("high = \"9.5 N m\"", "high = \"9.5 N m\"\nmost = \"11 N m\""),
            ("torque = \"8-9.5 Nm\"", "torque = \"12 Nm\""),
        ],
        fires: &["error torque-out-of-range"],
    },
    Row {
        what: "a castle nut without its pin",
        edits: &[
            ("fastener = \"K-M6\"\ncount", "fastener = \"K-DRILLED\"\ncount"),
            ("nut = \"K-NUT\"", "nut = \"K-CASTLE\""),
            ("torque = \"8-9.5 Nm\"", "torque = \"6-7 Nm\""),
        ],
        fires: &["error nut-unsafetied"],
    },
    Row {
        what: "a castle nut on a shank that is not drilled",
        edits: &[
            ("fastener = \"K-M6\"\ncount = 2", "fastener = \"K-M6\"\ncotter = \"K-PIN\"\ncount = 2"),
            ("nut = \"K-NUT\"", "nut = \"K-CASTLE\""),
            ("torque = \"8-9.5 Nm\"", "torque = \"6-7 Nm\""),
        ],
        fires: &["error castle-nut-on-undrilled-bolt"],
    },
    Row { what: "a pin behind a self-locking nut", edits: &[WITH_PIN], fires: &["warning cotter-holds-nothing"] },
    Row {
        what: "a pin that does not pass its hole",
        edits: &[
            WITH_PIN,
            ("nut = \"K-NUT\"", "nut = \"K-CASTLE\""),
            ("torque = \"8-9.5 Nm\"", "torque = \"6-7 Nm\""),
            ("cotter = \"K-PIN\"", "cotter = \"ISO 1234-2.5x20\""),
        ],
        fires: &["warning cotter-wrong-size"],
    },
    Row {
        what: "a pin of ISO 1234",
        edits: &[
            WITH_PIN,
            ("nut = \"K-NUT\"", "nut = \"K-CASTLE\""),
            ("torque = \"8-9.5 Nm\"", "torque = \"6-7 Nm\""),
            ("cotter = \"K-PIN\"", "cotter = \"ISO 1234-1.6x16\""),
        ],
        fires: &[],
    },
    Row {
        what: "a pin too thin for its hole",
        edits: &[
            WITH_PIN,
            ("nut = \"K-NUT\"", "nut = \"K-CASTLE\""),
            ("torque = \"8-9.5 Nm\"", "torque = \"6-7 Nm\""),
            ("diameter = 1.6\nlength = 16", "diameter = 1.2\nlength = 16"),
        ],
        fires: &["warning cotter-wrong-size"],
    },
    Row {
        what: "a pin too short to bend",
        edits: &[
            WITH_PIN,
            ("nut = \"K-NUT\"", "nut = \"K-CASTLE\""),
            ("torque = \"8-9.5 Nm\"", "torque = \"6-7 Nm\""),
            ("diameter = 1.6\nlength = 16", "diameter = 1.6\nlength = 8"),
        ],
        fires: &["warning cotter-wrong-size"],
    },
    Row {
        what: "a thick washer counts in the grip: the thread begins behind stack and washer",
        edits: &[(
            "length = 35\nthread-length = 18\nproperty-class = \"8.8\"\ndrilled-shank",
            "length = 40\nthread-length = 18\nproperty-class = \"8.8\"\ndrilled-shank",
        )],
        fires: &["error grip-long"],
    },
    Row {
        what: "the same with a washer that takes it up",
        edits: &[
            (
                "length = 35\nthread-length = 18\nproperty-class = \"8.8\"\ndrilled-shank",
                "length = 36.5\nthread-length = 18\nproperty-class = \"8.8\"\ndrilled-shank",
            ),
            ("thickness = 1.6", "thickness = 2.5"),
        ],
        fires: &[],
    },
    Row {
        what: "the thread in the hole",
        edits: &[(
            "length = 35\nthread-length = 18\nproperty-class = \"8.8\"\ndrilled-shank",
            "length = 35\nthread-length = 22\nproperty-class = \"8.8\"\ndrilled-shank",
        )],
        fires: &["error grip-short"],
    },
    Row {
        what: "threaded to the head",
        edits: &[(
            "length = 35\nthread-length = 18\nproperty-class = \"8.8\"\ndrilled-shank",
            "length = 35\nthread-length = 35\nproperty-class = \"8.8\"\ndrilled-shank",
        )],
        fires: &["warning grip-short"],
    },
    Row {
        what: "a nut so high that the bolt ends in it",
        edits: &[("height = 8", "height = 18")],
        fires: &["error bolt-short"],
    },
    Row {
        what: "the torque of another class judges nothing",
        edits: &[
            ("property-class = \"8.8\"\ndrilled-shank", "property-class = \"10.9\"\ndrilled-shank"),
            ("torque = \"8-9.5 Nm\"", "torque = \"12 Nm\""),
        ],
        fires: &[],
    },
    Row {
        what: "the torque of dry threads judges no lubricated ones",
        edits: &[("torque = \"8-9.5 Nm\"", "torque = \"5 Nm\"\nlubricated = true")],
        fires: &[],
    },
    Row {
        what: "an entry that breaks the bolt",
        edits: &[
            ("low = \"8 N m\"\nhigh = \"9.5 N m\"", "low = \"80 N m\"\nhigh = \"95 N m\""),
            ("torque = \"8-9.5 Nm\"\n", ""),
        ],
        fires: &["error torque-out-of-range"],
    },
    Row {
        what: "a comma in a torque is answered, not guessed",
        edits: &[("torque = \"8-9.5 Nm\"", "torque = \"8-9,5 Nm\"")],
        fires: &["error value-invalid"],
    },
    Row { what: "a torque the SI way", edits: &[("torque = \"8-9.5 Nm\"", "torque = \"8-9.5 N\u{b7}m\"")], fires: &[] },
    Row {
        what: "a thickness of a nut",
        edits: &[("height = 8", "thickness = 8\nheight = 8")],
        fires: &["error value-invalid"],
    },
];

#[test]
fn each_fault_of_a_metric_joint_is_said_and_nothing_else_is() {
    for row in ROWS {
        let mut texts = [PROJECT.to_owned(), TRAVELER.to_owned()];
        for (old, new) in row.edits {
            let text = texts.iter_mut().find(|text| text.contains(old));
            let text = text.unwrap_or_else(|| panic!("{}: no `{old}`", row.what));
            *text = text.replacen(old, new, 1);
        }
        let [project, traveler] = texts;
        let judged = judge_project(&project, &[("brk.toml", &traveler)]);
        let found: BTreeSet<String> =
            judged.standing().map(|finding| format!("{} {}", finding.severity.word(), finding.rule)).collect();
        let wanted: BTreeSet<String> = row.fires.iter().map(|rule| (*rule).to_owned()).collect();
        assert_eq!(found, wanted, "{}: {:#?}", row.what, judged.lines());
    }
}

/// What a joint is not judged by is said, not passed over.
#[test]
fn a_torque_that_no_entry_is_for_is_said() {
    for (edit, said) in [
        (
            ("property-class = \"8.8\"\ndrilled-shank", "property-class = \"10.9\"\ndrilled-shank"),
            "no [[torque]] entry is for this class, nut and lubrication together",
        ),
        (("height = 8\n", ""), "the height of the nut is not known"),
        (("thickness = 1.6\n", ""), "the thickness of a washer is not known"),
    ] {
        let judged = judge_project(&PROJECT.replacen(edit.0, edit.1, 1), &[("brk.toml", TRAVELER)]);
        let unjudged = judged.unjudged();
        assert!(unjudged.iter().any(|own| own.why == said), "{said}: {unjudged:?}");
        assert_eq!(judged.lines(), Vec::<String>::new());
    }
}
