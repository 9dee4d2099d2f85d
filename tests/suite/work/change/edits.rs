//! The matrix of single edits: one edit of a project whose steps are all signed, and what becomes of each step.
//!
//! Each verdict is what a technical counselor would say (common practice); the numbers are invented. A step that a
//! line does not name stands.

use std::collections::BTreeMap;

use shophead::archive::{Form, SheetRequirement};
use shophead::ident::Digest;
use shophead::job::{Item, Job, ShownPicture, StepRef};
use shophead::work::{Verdict, changes, sheet_requirement};

use super::rib::{PROJECT, SPEC, after, all_signed_as, signed_on, told};
use crate::build::signed::job_of;

/// Edits: what it is, the text before and after, and the steps that do not simply stand.
type Edit = (&'static str, &'static str, &'static str, &'static str);

#[rustfmt::skip]
const EDITS: &[Edit] = &[
    ("final hole larger", "start = \"#40\", final = \"#30\"", "start = \"#40\", final = \"#29\"",
        "open rework, rivet rework, look look"),
    ("hole as delivered", "start = \"#40\", final", "start = \"#41\", final",
        "open look"),
    ("holes as delivered differ by layer", "start = \"#40\", final", "start = [\"#40\", \"#41\"], final",
        "open look"),
    ("a layer as delivered is undrilled", "start = \"#40\", final", "start = [\"#40\", \"undrilled\"], final",
        "open look"),
    ("the same hole as delivered for each layer", "start = \"#40\", final", "start = [\"#40\", \"#40\"], final",
        "nothing"),
    ("hole as delivered no longer given", "start = \"#40\", final", "final",
        "open look"),
    ("burr chamfer deeper", "chamfer = \"0.004\"", "chamfer = \"0.006\"",
        "deburr rework"),
    ("one more rivet", "count = 8", "count = 9",
        "mark rework, open rework, deburr rework, rivet rework, look look"),
    ("one flush rivet fewer", "count = 6", "count = 5",
        "open rework, sink rework, rivet rework, look look"),
    ("one more bolt", "count = 2", "count = 3",
        "open rework, bolt rework, torque rework, look look"),
    ("one more kit rivet", "count = 4", "count = 5",
        "open rework, pull rework, look look"),
    ("edge distance", "edge = \"0.35\"", "edge = \"0.40\"",
        "mark rework, open rework, rivet look, look look"),
    ("pitch", "pitch = \"0.75\"", "pitch = \"0.80\"",
        "mark rework, open rework, rivet look, look look"),
    ("rows", "rows = 2", "rows = 3",
        "mark rework, open rework, rivet look, look look"),
    ("row gap", "row-gap = \"0.50\"", "row-gap = \"0.55\"",
        "mark rework, open rework, rivet look, look look"),
    ("edge distance no longer given", "edge = \"0.35\"\n", "",
        "mark rework, open rework, rivet look, look look"),
    ("what a callout means", "\"R-A\" = \"MS20470AD4-4\"", "\"R-A\" = \"MS20470AD4-5\"",
        "rivet rework, look look"),
    ("callout to a softer alloy", "\"R-A\" = \"MS20470AD4-4\"", "\"R-A\" = \"MS20470A4-4\"",
        "rivet rework, look look"),
    ("callout spelled out, the same rivet", "fastener = \"R-A\"", "fastener = \"MS20470AD4-4\"",
        "words"),
    ("flush rivet longer", "MS20426AD4-5", "MS20426AD4-6",
        "rivet rework, look look"),
    ("smaller head, same diameter", "MS20426AD4-5", "NAS1097AD4-5",
        "sink rework, rivet rework, look look"),
    ("thicker flush rivet", "MS20426AD4-5", "MS20426AD5-5",
        "sink rework, rivet rework, look look"),
    ("flush rivet to protruding", "MS20426AD4-5", "MS20470AD4-5",
        "sink rework, rivet rework, look look"),
    ("dimple both instead", "prepare = [\"dimple\", \"countersink\"]", "prepare = [\"dimple\", \"dimple\"]",
        "sink rework, rivet rework, look look"),
    ("bolt longer", "fastener = \"AN3-6A\"", "fastener = \"AN3-7A\"",
        "bolt rework, torque rework, look look"),
    ("bolt drilled", "fastener = \"AN3-6A\"", "fastener = \"AN3-6\"",
        "bolt rework, torque rework, look look"),
    ("nut of another kind", "nut = \"AN365-1032\"", "nut = \"AN310-3\"",
        "bolt rework, torque rework, look look"),
    ("no nut", "nut = \"AN365-1032\"\n", "",
        "bolt rework, torque rework, look look"),
    ("washer under the head", "head = [\"NAS1149F0363P\"]", "head = [\"NAS1149F0332P\"]",
        "bolt rework, torque rework, look look"),
    ("second washer under the nut", "nut = [\"NAS1149F0332P\"]", "nut = [\"NAS1149F0332P\", \"NAS1149F0332P\"]",
        "bolt rework, torque rework, look look"),
    ("cotter added", "lubricated = false", "lubricated = false\ncotter = \"MS24665-132\"",
        "bolt rework, torque rework, look look"),
    ("torque", "20-25 in-lb", "12-15 in-lb",
        "torque rework, look look"),
    ("torque left to the table", "torque = \"20-25 in-lb\"\n", "",
        "torque rework, look look"),
    ("the same torque in other units", "torque = \"20-25 in-lb\"", "torque = \"20-25 in-lb \"",
        "nothing"),
    ("threads lubricated", "lubricated = false", "lubricated = true",
        "torque rework, look look"),
    ("state of the threads left open", "lubricated = false\n", "",
        "torque rework, look look"),
    ("run-down torque", "lubricated = false", "lubricated = false\nrun-down = \"3 in-lb\"",
        "torque rework, look look"),
    ("hotter in use", "180 F", "300 F",
        "bolt read, look look"),
    ("turns in use", "rotates = false", "rotates = true",
        "bolt read, look look"),
    ("opened often", "rotates = false", "rotates = false\noften-removed = true",
        "bolt read, look look"),
    ("another sealant", "polysulphide sealant", "zinc chromate primer",
        "bolt rework, look look"),
    ("set dry", "wet = \"polysulphide sealant\"\n", "",
        "bolt rework, look look"),
    ("fit-up bolt, long since out", "fastener = \"AN3-7A\"", "fastener = \"AN3-10A\"",
        "new sheet, all stands"),
    ("fit-up nut, long since out", "nut = \"AN315-3R\"", "nut = \"AN365-1032\"",
        "new sheet, all stands"),
    ("why the fit-up hardware comes out", "why = \"painting\"", "why = \"priming\"",
        "words"),
    ("structure counts as primary", "structure = \"secondary\"", "structure = \"primary\"",
        "rivet read, look look"),
    ("structure no longer said", "structure = \"secondary\"\n", "",
        "rivet read, look look"),
    ("limit of the plans for the edge", "edge = \"1.5 D\"", "edge = \"1.7 D\"",
        "mark read, open read, rivet read, look look"),
    ("no limit of the plans", "limits = { edge = \"1.5 D\", because = \"drawing W-1 note 4\" }\n", "",
        "mark read, open read, rivet read, look look"),
    ("hole of the plans", "edge = \"1.5 D\", because", "edge = \"1.5 D\", hole = [\"#31\", \"#29\"], because",
        "mark read, open read, rivet read, look look"),
    ("grip of the plans", "edge = \"1.5 D\", because", "edge = \"1.5 D\", grip = [\"0.06\", \"0.12\"], because",
        "mark read, open read, rivet read, look look"),
    ("distance to the bend of the plans", "edge = \"1.5 D\", because", "edge = \"1.5 D\", bend = \"1 D\", because",
        "mark read, open read, rivet read, look look"),
    ("why the limit differs", "drawing W-1 note 4", "letter of the designer",
        "words"),
    ("width of a stringer's leg", "pitch = \"0.75\"", "pitch = \"0.75\"\nstringer-leg = \"0.70\"",
        "rivet read, look look"),
    ("holes left open", "structure = \"secondary\"", "structure = \"secondary\"\nleave-open = { count = 1, until = \"T1/look\", why = \"fairing\" }",
        "rivet rework, look look"),
    ("stack turned over", "fastener = \"R-A\"\ncount", "prepare = \"plain\"\nfastener = \"R-A\"\ncount",
        "nothing"),
    ("kit rivet: diameter", "diameter = \"1/8\"", "diameter = \"5/32\"",
        "pull rework, look look"),
    ("kit rivet: kind", "kind = \"blind-rivet\"", "kind = \"solid-rivet\"",
        "pull rework, look look"),
    ("kit rivet: material", "steel stem", "soft plastic",
        "pull rework, look look"),
    ("kit rivet: head", "head = \"protruding\"", "head = \"flush\"",
        "pull rework, look look"),
    ("kit rivet: hole range that holds the hole", "[\"0.128\", \"0.133\"]", "[\"0.127\", \"0.135\"]",
        "new sheet, all stands"),
    ("kit rivet: hole range that leaves the hole out", "[\"0.128\", \"0.133\"]", "[\"0.129\", \"0.133\"]",
        "open rework, pull rework, look look"),
    ("kit rivet: grip", "[\"0.020\", \"0.125\"]", "[\"0.020\", \"0.070\"]",
        "pull rework, look look"),
    ("kit rivet: where the numbers come from", "kit drawing H-2", "kit drawing H-3",
        "pull read, look read"),
    ("skin thicker", "thickness = \"0.032\"", "thickness = \"0.040\"",
        "mark rework, open rework, deburr rework, sink rework, prime rework, rivet rework, pull rework, look look"),
    ("skin of another alloy", "material = \"2024-T3\"", "material = \"6061-T4\"",
        "mark rework, open rework, deburr rework, sink rework, prime rework, rivet rework, pull rework, look look"),
    ("bracket thicker", "thickness = \"0.063\"", "thickness = \"0.071\"",
        "open rework, fit rework, bolt rework, torque rework, look look"),
    ("the same thickness in other words", "thickness = \"0.063\"", "thickness = \"0.0630 in\"",
        "nothing"),
    ("the other way through the stack", "stack = [\"P2\", \"P3\"]", "stack = [\"P3\", \"P2\"]",
        "open rework, fit rework, bolt rework, torque rework, look look"),
    ("number of ribs, which no step takes by itself", "quantity = 2", "quantity = 3",
        "nothing"),
    ("bend of the rib, which no step takes by itself", "angle = 90", "angle = 80",
        "nothing"),
    ("name of a part", "name = \"Bracket\"", "name = \"Hinge bracket\"",
        "words"),
    ("a part not to be taken for it", "name = \"Bracket\"", "name = \"Bracket\"\nlook-alike = \"P2\"",
        "words"),
    ("name of a joint", "name = \"Skin to rib\"", "name = \"Rib to skin\"",
        "words"),
    ("label of a reading", "Twist, aft end", "Twist, FORWARD end",
        "twist look"),
    ("unit of a reading", "unit = \"deg\"", "unit = \"mm\"",
        "twist look"),
    ("instrument of a reading", "tool = \"digital level\"", "tool = \"water level\"",
        "twist read"),
    ("limits wider", "max = \"0.1\"", "max = \"0.2\"",
        "new sheet, all stands"),
    ("limits narrower, the reading inside", "max = \"0.1\"", "max = \"0.05\"",
        "twist record"),
    ("limits narrower, the reading outside", "max = \"0.1\"", "max = \"0.03\"",
        "twist look"),
    ("a limit dropped", ", max = \"0.1\"", "",
        "new sheet, all stands"),
    ("limit with another number of digits", "max = \"0.1\"", "max = \"0.100\"",
        "nothing"),
    ("a second reading", "tool = \"digital level\" }", "tool = \"digital level\" }, { id = \"gap\", label = \"Gap\", unit = \"in\" }",
        "twist look"),
    ("no reading", "records = [{ id = \"twist\", label = \"Twist, aft end\", unit = \"deg\", min = \"-0.1\", max = \"0.1\", tool = \"digital level\" }]\n", "",
        "new sheet, all stands"),
    ("kind of work", "do = \"deburr\"", "do = \"clean\"",
        "deburr rework"),
    ("title of a step", "title = \"Deburr\"", "title = \"Deburr both sides\"",
        "words"),
    ("text of a step with joints", "Open the holes.\"\nspaces", "Open all the holes.\"\nspaces",
        "words"),
    ("text that is the work", "flush with the trailing edge", "1/8 above the trailing edge",
        "rig read"),
    ("tools", "tools = [\"straight edge\"]", "tools = [\"straight edge\", \"feeler gauge\"]",
        "words"),
    ("minutes", "minutes = 30", "minutes = 60",
        "nothing"),
    ("words of a photo's prompt", "the whole bay", "the whole bay, from aft",
        "words"),
    ("photo added", "do = \"close\"", "do = \"close\"\nphoto = \"closed\"",
        "close look"),
    ("photo dropped", "photo = \"the whole bay\"\n", "",
        "new sheet, all stands"),
    ("hold of another role", "\"technical counselor\"", "\"inspector\"",
        "look look"),
    ("hold dropped", "hold = \"technical counselor\"\n", "",
        "new sheet, all stands"),
    ("hold added", "do = \"close\"", "do = \"close\"\nhold = \"inspector\"",
        "close look"),
    ("witness added", "do = \"close\"", "do = \"close\"\nwitness = \"inspector\"",
        "close look"),
    ("space that asks for a look before it closes", "name = \"Bay behind the rib\"", "name = \"Bay behind the rib\"\nhold = \"inspector\"",
        "close look"),
    ("stage added", "do = \"close\"", "do = \"close\"\nstage = \"S1\"",
        "close look"),
    ("space that asks for a stage before it closes", "name = \"Bay behind the rib\"", "name = \"Bay behind the rib\"\nstage = \"S1\"",
        "close look"),
    ("who signs a stage that nothing says", "{ all = [\"inspector\"] }", "{ all = [\"inspector\"], other = true }",
        "nothing"),
    ("name of a space", "name = \"Bay behind the rib\"", "name = \"Bay, behind the rib\"",
        "words"),
    ("a view cited", "do = \"torque\"", "do = \"torque\"\ndrawings = [\"W-1 view A\"]",
        "torque read"),
    ("cure longer, met", "cure = \"24 h\"", "cure = \"25 h\"",
        "prime look"),
    ("cure longer than it waited", "cure = \"24 h\"", "cure = \"3 d\"",
        "prime look"),
    ("cure shorter", "cure = \"24 h\"", "cure = \"12 h\"",
        "new sheet, all stands"),
    ("window for the next coat shorter, met", "cure-latest = \"10 d\"", "cure-latest = \"5 d\"",
        "prime record"),
    ("needs a step that was done before", "needs = [\"T1/prime\"]", "needs = [\"T1/prime\", \"T1/deburr\"]",
        "new sheet, all stands"),
    ("needs a step that was done later", "do = \"deburr\"", "do = \"deburr\"\nneeds = [\"T1/bolt\"]",
        "deburr look"),
    ("need dropped", "needs = [\"T1/prime\"]\n", "",
        "new sheet, all stands"),
    ("needs a space that was open", "do = \"deburr\"", "do = \"deburr\"\nspaces = [\"nose\"]",
        "new sheet, all stands"),
    ("closes one space more", "closes = [\"bay\"]", "closes = [\"bay\", \"nose\"]",
        "close look"),
    ("title of the traveler", "title = \"Rib\"", "title = \"Rib 4\"",
        "words"),
    ("summary", "The rib and its skin.", "The skin and its rib.",
        "words"),
    ("revision letter alone", "revision = \"A\"", "revision = \"B\"",
        "new sheet, all stands"),
    ("departure allowed", "[[part]]\nid = \"P1\"", "[[allow]]\nrule = \"edge-distance-short\"\nbecause = \"letter\"\n[[part]]\nid = \"P1\"",
        "mark read, open read, deburr read, sink read, prime read, fit read, rivet read, pull read, bolt read, torque read, twist read, rig read, look read, close read"),
    ("spare rivets", "[callouts]", "[project]\nspare = 20\n[callouts]",
        "nothing"),
    ("text of a caution", "[callouts]", "[[caution]]\nid = \"mind-the-edge\"\nword = \"CAUTION\"\ntext = \"Edges cut.\"\nkinds = [\"drill\"]\n[callouts]",
        "words"),
];

/// The project and the traveler with one text in the place of another, which stands in one of them once.
fn edited(from: &str, to: &str) -> (String, String) {
    assert_eq!(PROJECT.matches(from).count() + SPEC.matches(from).count(), 1, "`{from}` stands once");
    (PROJECT.replace(from, to), SPEC.replace(from, to))
}

#[test]
fn every_single_edit_is_judged_as_a_counselor_would() {
    let ledger = all_signed_as(Form::NEWEST);
    let mut wrong = Vec::new();
    for (name, from, to, expected) in EDITS {
        let (project, spec) = edited(from, to);
        let sheet = after(&ledger, &project, &spec);
        let said = sheet.as_ref().map_or_else(|| "nothing".to_owned(), told);
        if said != *expected {
            let reasons: BTreeMap<&str, &Vec<String>> = sheet
                .iter()
                .flat_map(|sheet| &sheet.steps)
                .filter(|step| step.verdict != Verdict::Stands)
                .map(|step| (step.step.as_str(), &step.reasons))
                .collect();
            wrong.push(format!("{name}\n    expected {expected}\n    is       {said}\n    {reasons:?}"));
        }
        if let Some(sheet) = &sheet {
            let silent = sheet.steps.iter().find(|step| step.reasons.is_empty() && step.done.is_some());
            assert_eq!(silent.map(|step| &step.step), None, "{name}: no reason");
        }
    }
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), EDITS.len(), wrong.join("\n"));
}

/// The traveler with a picture in the text that is the work and in one of a step with joints, and what the files hold.
fn pictured(name: &str, bytes: [&[u8]; 2]) -> Job {
    let spec = SPEC
        .replace("flush with the trailing edge", &format!("as ![the tip]({name}) shows, flush with the trailing edge"))
        .replace("Open the holes.\"\nspaces", &format!("Open the holes as in ![holes]({name}).\"\nspaces"));
    let mut job = job_of(PROJECT, &[&spec]);
    for (id, bytes) in ["rig", "open"].into_iter().zip(bytes) {
        let step = job.travelers[0].steps.iter().position(|step| step.id.value == id).unwrap();
        let text = &job.travelers[0].steps[step].text.as_ref().unwrap().value;
        let start = text.find("![").unwrap();
        let place = start..text.find(&format!("]({name})")).unwrap() + name.len() + 3;
        let shown = ShownPicture { place, sha256: *Digest::of_bytes(bytes).bytes() };
        job.pictures.insert(Item { at: StepRef { traveler: 0, step }, hand: None }, vec![shown]);
    }
    job
}

#[test]
fn a_picture_counts_by_its_bytes_and_not_by_its_name() {
    let told_of = |form: Form, job: &Job| {
        let ledger = signed_on(&pictured("a.svg", [b"tip", b"holes"]), form);
        let mut sheets = changes(job, &ledger.state(), &ledger.archived);
        sheets.pop().map(|sheet| (told(&sheet), sheet.not_recorded.contains(&"pictures")))
    };
    let said = |told: &str, unrecorded: bool| Some((told.to_owned(), unrecorded));
    let same = pictured("a.svg", [b"tip", b"holes"]);
    assert_eq!(told_of(Form::NEWEST, &same), None);
    let renamed = pictured("other/name.svg", [b"tip", b"holes"]);
    assert_eq!(told_of(Form::NEWEST, &renamed), said("words", false));
    let joints = pictured("a.svg", [b"tip", b"other holes"]);
    assert_eq!(told_of(Form::NEWEST, &joints), said("open read", false));
    let text = pictured("a.svg", [b"another tip", b"holes"]);
    assert_eq!(told_of(Form::NEWEST, &text), said("rig read", false));
    // Form 1 did not record pictures: nothing falls, and a change that is told of says so.
    assert_eq!(told_of(Form::One, &joints), None);
    assert_eq!(told_of(Form::One, &renamed), said("words", true));
}

#[test]
fn a_picture_that_comes_or_goes_asks_for_a_read_through() {
    let shown = pictured("a.svg", [b"tip", b"holes"]);
    let mut without = shown.clone();
    without.pictures.clear();
    let ledger = signed_on(&without, Form::NEWEST);
    let sheet = changes(&shown, &ledger.state(), &ledger.archived).pop().unwrap();
    assert_eq!(told(&sheet), "open read, rig read");
    let read = SheetRequirement::parse(sheet_requirement(&shown, 0, None).text().as_bytes()).unwrap();
    assert_eq!(read, sheet_requirement(&shown, 0, None), "what is archived is read again as it was");
}
