//! A rib with every kind of joint, all of its steps signed, and what a revision does to it in a few words.

use shophead::archive::Form;
use shophead::job::Job;
use shophead::work::{SheetChange, Verdict, changes};

use crate::build::signed::{Ledger, job_of};

pub const PROJECT: &str = r#"
[aircraft]
name = "Dunlin two-seat"
serial = "D-014"
[callouts]
"R-A" = "MS20470AD4-4"
[[space]]
id = "bay"
name = "Bay behind the rib"
[[space]]
id = "nose"
name = "Nose"
[[stage]]
id = "S1"
name = "Before closing"
sign = { all = ["inspector"] }
[[drawing]]
sheet = "W-1"
revision = "B"
[[fastener]]
id = "DK-21"
kind = "blind-rivet"
diameter = "1/8"
hole = ["0.128", "0.133"]
grip = ["0.020", "0.125"]
head = "protruding"
material = "steel stem"
source = "kit drawing H-2"
"#;

pub const SPEC: &str = r##"
[traveler]
id = "T1"
title = "Rib"
revision = "A"
drawings = ["W-1:B"]
summary = "The rib and its skin."

[[part]]
id = "P1"
name = "Skin"
material = "2024-T3"
thickness = "0.032"

[[part]]
id = "P2"
name = "Rib"
quantity = 2
material = "6061-T6"
thickness = "0.040"
bend = { radius = "3/16", angle = 90 }

[[part]]
id = "P3"
name = "Bracket"
material = "4130 steel"
thickness = "0.063"

[[joint]]
id = "J1"
name = "Skin to rib"
stack = ["P1", "P2"]
fastener = "R-A"
count = 8
holes = { start = "#40", final = "#30", chamfer = "0.004" }
edge = "0.35"
pitch = "0.75"
rows = 2
row-gap = "0.50"
structure = "secondary"
limits = { edge = "1.5 D", because = "drawing W-1 note 4" }

[[joint]]
id = "J2"
stack = ["P1", "P2"]
fastener = "MS20426AD4-5"
count = 6
holes = { final = "#30" }
prepare = ["dimple", "countersink"]

[[joint]]
id = "J3"
stack = ["P2", "P3"]
fastener = "AN3-6A"
nut = "AN365-1032"
washers = { head = ["NAS1149F0363P"], nut = ["NAS1149F0332P"] }
count = 2
torque = "20-25 in-lb"
lubricated = false
temperature = "180 F"
rotates = false
wet = "polysulphide sealant"
temporary = { fastener = "AN3-7A", nut = "AN315-3R", why = "painting" }

[[joint]]
id = "J4"
stack = ["P1", "P2"]
fastener = "DK-21"
count = 4
holes = { final = "#30" }

[[step]]
id = "mark"
title = "Mark out"
do = "lay-out"
joints = ["J1"]

[[step]]
id = "open"
title = "Open the holes"
do = "drill"
joints = ["J1", "J2", "J3", "J4"]
text = "Open the holes."
spaces = ["bay"]

[[step]]
id = "deburr"
title = "Deburr"
do = "deburr"
joints = ["J1"]

[[step]]
id = "sink"
title = "Countersink the rib"
do = "countersink"
joints = ["J2"]

[[step]]
id = "prime"
title = "Prime"
do = "prime"
parts = ["P1"]
cure = "24 h"
cure-latest = "10 d"

[[step]]
id = "fit"
title = "Fit up"
do = "fit"
joints = ["J3"]

[[step]]
id = "rivet"
title = "Rivet"
do = "rivet"
joints = ["J1", "J2"]
spaces = ["bay"]

[[step]]
id = "pull"
title = "Pull the blind rivets"
do = "rivet"
joints = ["J4"]

[[step]]
id = "bolt"
title = "Bolt"
do = "bolt"
joints = ["J3"]
needs = ["T1/prime"]

[[step]]
id = "torque"
title = "Torque"
do = "torque"
joints = ["J3"]

[[step]]
id = "twist"
title = "Measure the twist"
do = "measure"
tools = ["straight edge"]
records = [{ id = "twist", label = "Twist, aft end", unit = "deg", min = "-0.1", max = "0.1", tool = "digital level" }]

[[step]]
id = "rig"
title = "Rig the tab"
do = "rig"
text = "Set the tab flush with the trailing edge."
minutes = 30

[[step]]
id = "look"
title = "Look"
do = "inspect"
joints = ["J1", "J2", "J3", "J4"]
spaces = ["bay"]
hold = "technical counselor"
photo = "the whole bay"

[[step]]
id = "close"
title = "Close the bay"
do = "close"
closes = ["bay"]
"##;

/// The steps in working order with the day of each.
const DAYS: &[(&str, &str)] = &[
    ("mark", "2026-03-02"),
    ("open", "2026-03-02"),
    ("deburr", "2026-03-03"),
    ("sink", "2026-03-03"),
    ("prime", "2026-03-04"),
    ("fit", "2026-03-06"),
    ("rivet", "2026-03-07"),
    ("pull", "2026-03-07"),
    ("bolt", "2026-03-08"),
    ("torque", "2026-03-08"),
    ("twist", "2026-03-09"),
    ("rig", "2026-03-09"),
    ("look", "2026-03-10"),
    ("close", "2026-03-11"),
];

fn verdict_word(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Print => "print",
        Verdict::Drop => "drop",
        Verdict::Stands => "stands",
        Verdict::StandsByRecord => "record",
        Verdict::StandsAfterReading => "read",
        Verdict::WhichOne => "which",
        Verdict::LookAgain => "look",
        Verdict::Retrofit => "retrofit",
        Verdict::UndoOrKeep => "undo?",
        Verdict::ReworkOrAsk => "rework",
    }
}

/// The sheet in some form, every step signed.
pub fn all_signed_as(form: Form) -> Ledger {
    signed_on(&job_of(PROJECT, &[SPEC]), form)
}

/// The sheet of a job in some form, every step signed.
pub fn signed_on(job: &Job, form: Form) -> Ledger {
    let mut ledger = Ledger::default();
    ledger.issue_as(job, &[], form);
    for (step, worked) in DAYS {
        ledger.sign_reading("T1", step, worked, Some(("twist", "0.04")).filter(|_| *step == "twist"));
    }
    ledger
}

/// What becomes of each step that does not simply stand, and whether it is said at all.
pub fn told(sheet: &SheetChange) -> String {
    let told = sheet.steps.iter().filter(|step| step.verdict != Verdict::Stands);
    let told: Vec<String> = told.map(|step| format!("{} {}", step.step, verdict_word(step.verdict))).collect();
    match (told.is_empty(), sheet.is_replaced()) {
        (false, _) => told.join(", "),
        (true, true) => "new sheet, all stands".to_owned(),
        (true, false) => "words".to_owned(),
    }
}

pub fn after(ledger: &Ledger, project: &str, spec: &str) -> Option<SheetChange> {
    let mut sheets = changes(&job_of(project, &[spec]), &ledger.state(), &ledger.archived);
    assert!(sheets.len() <= 1);
    sheets.pop()
}
