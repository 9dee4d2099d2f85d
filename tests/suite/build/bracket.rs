//! A small project for the tests of plan and render: one traveler that uses most of what a packet can hold.

use shophead::job::Job;
use shophead::plan::{Document, Options, Packet, packets};
use shophead::report::Report;

pub const PROJECT: &str = r#"
[aircraft]
name = "Dunlin two-seat"
serial = "D-014"
registration = "N00DN"
[project]
spare = 10
[[signer]]
initials = "B1"
role = "builder"
[[signer]]
initials = "TC1"
role = "technical counselor"
[[space]]
id = "bay"
name = "Left bay behind the spar"
hold = "technical counselor"
[callouts]
"R-A" = "MS20470AD4-5"
[[drawing]]
sheet = "W-1"
title = "Bracket"
revision = "C"
"#;

pub const BRACKET: &str = r##"
[traveler]
id = "T-1"
title = "Bellcrank bracket"
revision = "A"
hands = ["left", "right"]
drawings = ["W-1:B"]
summary = "Holds the **bellcrank**."

[[part]]
id = "P1"
name = "Plate"
quantity = 2
material = "2024-T3"
thickness = "0.063"
look-alike = "P9"

[[part]]
id = "P2"
name = "Rib"
material = "2024-T3"
thickness = "0.040"

[[joint]]
id = "J1"
name = "Plate to rib"
stack = ["P1", "P2"]
fastener = "R-A"
count = 12
holes = { start = "#40", final = "#30" }
edge = "0.35"
pitch = "0.75"
structure = "primary"
wet = "polysulphide sealant"
leave-open = { count = 2, until = "T-2/fairing", why = "fairing goes on later" }

[[joint]]
id = "J-2"
name = "Bellcrank pivot"
stack = ["P1", "P2"]
fastener = "AN3-5"
count = 1
holes = { final = "3/16" }
nut = "AN310-3"
washers = { head = [], nut = ["NAS1149F0363P"] }
cotter = "MS24665-132"
torque = "20-25 in-lb"
temporary = { fastener = "AN3-5A", nut = "AN315-3R", why = "removed for paint" }

[[joint]]
id = "J3"
name = "Skin"
stack = [{ material = "2024-T3", thickness = "0.025" }, "P2"]
fastener = "MS20426AD3-4"
count = 40
holes = { start = "#50" }
prepare = "dimple"

[[step]]
id = "drill"
title = "Open the holes"
do = "drill"
joints = ["J1", "J3"]
drawings = ["W-1 view A"]
tools = ["drill press"]
text = "Hole to {{ joint.J1.hole.final }}, then `{{ joint[\"J-2\"].call }}`."
minutes = 50

[[step]]
id = "pivot-hole"
title = "Ream the pivot"
do = "ream"
joints = ["J-2"]
records = [{ id = "pivot", label = "Pivot hole", unit = "in", min = 0.1875, max = 0.1885, tool = "pin gauge" }]
minutes = 30

[[step]]
id = "dimple"
title = "Dimple"
do = "dimple"
joints = ["J3"]
minutes = 40

[[step]]
id = "prime"
title = "Prime with chromate primer"
do = "prime"
parts = ["P1", "P2"]
cure = "24 h"
cure-latest = "3 d"
minutes = 45

[[step]]
id = "rivet"
title = "Rivet"
do = "rivet"
joints = ["J1", "J3"]
spaces = ["bay"]
helper = true
photo = "before covering"
minutes = 90

[[step]]
id = "bolt"
title = "Pivot bolt"
do = "bolt"
joints = ["J-2"]
witness = "technical counselor"
minutes = 20

[[step]]
id = "torque"
title = "Torque"
do = "torque"
joints = ["J-2"]
hold = "inspector"
cautions = ["eye-protection", "WARNING: the spring bites"]
minutes = 20

[[step]]
id = "close"
title = "Close the bay"
do = "close"
closes = ["bay"]
minutes = 15

[[allow]]
rule = "edge-distance-short"
joint = "J1"
because = "letter of the designer"
"##;

pub const FAIRING: &str = r#"
[traveler]
id = "T-2"
title = "Fairing"
revision = "A"
after = ["T-1"]
[[step]]
id = "fairing"
title = "Fit the fairing"
do = "fit"
"#;

/// Resolves a project given as texts.
pub fn job(project: &str, travelers: &[&str]) -> (Job, Report) {
    let (job, _, report) = crate::build::shop::job_of(project, travelers);
    (job, report)
}

/// The fixture's job; it has no finding.
pub fn bracket() -> (Job, Report) {
    let (job, report) = job(PROJECT, &[BRACKET, FAIRING]);
    assert_eq!(report.findings, [], "the fixture is clean");
    (job, report)
}

/// The packets of the bracket: left and right, set as an assembly is, although it would go on one sheet.
pub fn bracket_packets(options: Options) -> Vec<Packet> {
    let (job, report) = bracket();
    packets(&job, 0, &report, &options).unwrap().into_iter().map(set_open).collect()
}

/// A packet in the usual layout.
pub fn set_open(mut packet: Packet) -> Packet {
    packet.head.small = false;
    packet
}

/// The bracket's left packet as a document.
pub fn bracket_document() -> Document {
    bracket_packets(Options::default()).remove(0).document()
}

/// The document of a traveler with one step, whose title, text and part name the test chooses.
pub fn one_step(title: &str, text: &str, part: &str) -> Document {
    let quoted = |text: &str| serde_json::to_string(text).unwrap();
    let traveler = format!(
        "[traveler]\nid = \"T-3\"\ntitle = {}\nrevision = \"A\"\n[[part]]\nid = \"P1\"\nname = {}\n\
         [[step]]\nid = \"look\"\ntitle = {}\ndo = \"inspect\"\nparts = [\"P1\"]\ntext = {}\n",
        quoted(title),
        quoted(part),
        quoted(title),
        quoted(text)
    );
    let (job, report) = job(PROJECT, &[&traveler]);
    assert_eq!(report.findings, [], "{traveler}");
    packets(&job, 0, &report, &Options::default()).unwrap().remove(0).document()
}
