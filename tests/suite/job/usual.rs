//! Usual steps: made from parts and joints, changed by entries, named and numbered so that signed work stands.

use std::collections::BTreeMap;

use proptest::prelude::*;
use shophead::archive::StepRequirement;
use shophead::job::{Issued, Step, resolve_as_issued};
use shophead::plan::{Options, packets};
use shophead::render::{Templates, lay_out};
use shophead::report::Report;
use shophead::spec::{Spec, read_project, read_traveler};
use shophead::text::Files;
use shophead::work::sheet_requirement;

use crate::build::bracket::{PROJECT, job};
use crate::build::shop::{Shop, job_of};
use crate::build::text;

/// The usual steps of a traveler with one joint, as they print: title and text.
fn steps_of(joint: &str) -> String {
    let traveler = text::traveler("T", "")
        + &text::part("P", "skin", "0.063")
        + &text::part("Q", "rib", "0.063")
        + &text::joint("J", &["P", "Q"], joint);
    let (job, _) = job(PROJECT, &[&traveler]);
    let printed = |step: &Step| format!("{}\n{}\n", step.title.value, step.text.as_ref().unwrap().value);
    job.travelers[0].steps.iter().map(printed).collect()
}

/// What a joint's steps say, and what they must not.
const CALLED_FOR: &[(&str, &str, &[&str], &[&str])] = &[
    (
        "a self-locking nut",
        "fastener = \"AN3-5A\"\ncount = 2\nnut = \"MS21044N3\"",
        &["Bolt and torque", "Measure the nut's drag", "Mark each one with lacquer"],
        &["afety", "otter", "Sheet holder", "sheet holder", "Every head"],
    ),
    (
        "a self-locking nut whose torque holds the drag",
        "fastener = \"AN3-5A\"\ncount = 2\nnut = \"MS21044N3\"\ntorque = \"24-30 in-lb\"\ndrag = \"included\"",
        &["holds the nut's drag already"],
        &["Measure the nut's drag", "afety"],
    ),
    (
        "a plain castle nut",
        "fastener = \"AN3-5\"\ncount = 2\nnut = \"AN310-3\"\ncotter = \"MS24665-132\"",
        &["Bolt, torque and safety", "New cotter pin now", "Every cotter pin in"],
        &["drag", "check nut"],
    ),
    (
        "a self-locking castle nut with a pin",
        "fastener = \"AN3-5\"\ncount = 2\nnut = \"MS17825-3\"\ncotter = \"MS24665-132\"",
        &["Bolt, torque and safety", "Measure the nut's drag", "New cotter pin now"],
        &["check nut"],
    ),
    (
        "a self-locking castle nut without a pin",
        "fastener = \"AN3-5\"\ncount = 2\nnut = \"MS17825-3\"",
        &["Bolt and torque", "Measure the nut's drag"],
        &["afety", "otter"],
    ),
    (
        "a castle nut that turns with the joint",
        "fastener = \"AN3-5\"\ncount = 1\nnut = \"AN310-3\"\ncotter = \"MS24665-132\"\nrotates = true",
        &["Bolt, set snug and safety", "turns freely by hand", "New cotter pin now"],
        &["drag", "orque"],
    ),
    (
        "a plain nut with a check nut",
        "fastener = \"AN3-5A\"\ncount = 1\nnut = \"AN315-3R\"\ncheck-nut = \"AN316-3R\"",
        &["lock it with the check nut now"],
        &["drag", "otter"],
    ),
    (
        "a nutplate",
        "fastener = \"AN525-10R8\"\ncount = 4\nnut = \"MS21047L3\"",
        &["Bolt and torque", "Measure the nut's drag", "Head side as"],
        &["afety", "washers", "shank", "sheet holder"],
    ),
    (
        "two rivets",
        "fastener = \"MS20470AD4-5\"\ncount = 2",
        &["Drive one, measure its shop head", "sheet holder", "Every head seated"],
        &["three", "bolt", "drag", "stay open", "otter"],
    ),
    (
        "rivets with holes left open",
        "fastener = \"MS20470AD4-5\"\ncount = 20\nleave-open = { count = 2, until = \"T\", why = \"later\" }",
        &["Drive three", "Holes that stay open"],
        &["bolt", "drag"],
    ),
    ("blind rivets", "fastener = \"IFI114-42\"\ncount = 20", &["Count the stems"], &["shop head", "bolt", "drag"]),
];

#[test]
fn a_step_says_only_what_its_fastener_calls_for() {
    for (what, joint, says, silent) in CALLED_FOR {
        let steps = steps_of(joint);
        for words in *says {
            assert!(steps.contains(words), "{what}: `{words}` is missing in {steps}");
        }
        for words in *silent {
            assert!(!steps.contains(words), "{what}: `{words}` stands in {steps}");
        }
    }
}

#[test]
fn the_steps_written_out_print_the_same_packet() {
    let shop = Shop::small();
    shop.write("specs/clip.toml", traveler(&[(1, 0), (2, 1), (3, 4)]));
    let print = || {
        let ran = shop.run(&["packet", "U"]);
        assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
        std::fs::read(shop.path("output/U.pdf")).unwrap()
    };
    let usual = print();
    let steps = shop.run(&["steps", "U", "--toml"]).out;
    assert!(steps.matches("[[step]]").count() > 5, "{steps}");
    shop.write("specs/clip.toml", traveler(&[(1, 0), (2, 1), (3, 4)]) + &steps);
    assert!(print() == usual, "{steps}");
}

#[test]
fn an_entry_changes_leaves_out_and_adds() {
    let entries = "[[step]]\nid = \"prime\"\ncure = \"2 d\"\nparts = [\"P\"]\ntools = [\"spray gun\"]\n\
        [[step]]\nid = \"inspect\"\nomit = true\nbecause = \"the counselor looks\"\n\
        [[step]]\nid = \"level\"\ntitle = \"Level the bench\"\ndo = \"level\"\nbefore = \"drill\"\n";
    let text = traveler(&[(1, 0)]).replace("revision = \"A\"", "revision = \"A\"\nsteps = \"usual\"") + entries;
    let (job, _, report) = job_of(PROJECT, &[text]);
    assert_eq!(report.findings, []);
    let own = &job.travelers[0];
    let listed: Vec<(&str, &str)> = own.steps.iter().map(|step| (step.id.value.as_str(), step.origin.word())).collect();
    let expected = [
        ("verify", "usual"),
        ("level", "written"),
        ("drill", "usual"),
        ("deburr", "usual"),
        ("prime", "changed"),
        ("rivet", "usual"),
    ];
    assert_eq!(listed, expected);
    let prime = &own.steps[4];
    assert_eq!((prime.title.value.as_str(), prime.parts.len(), prime.tools.len()), ("Clean and prime", 1, 1));
    assert_eq!(own.omitted[0].because.value, "the counselor looks");
    let packet = packets(&job, 0, &report, &Options { draft: true, ..Options::default() }).unwrap().remove(0);
    assert_eq!(packet.cover.omitted, ["Inspect and photograph (inspect): the counselor looks"]);
    let laid = lay_out(&packet.document(), &Templates::load(None).unwrap()).unwrap();
    let front = laid.page_texts().remove(0);
    assert!(front.contains("Step left out") && front.contains("the counselor looks"), "{front}");
}

#[test]
fn a_step_of_ones_own_stands_in_the_place_of_the_usual_ones_that_do_the_same() {
    let own = |id: &str, kind: &str, joints: &str| {
        format!("[[step]]\nid = \"{id}\"\ntitle = \"Own {id}\"\ndo = \"{kind}\"\njoints = [{joints}]\n")
    };
    let listed = |joints: &[(u32, usize)], entries: &str| -> Vec<String> {
        let text = traveler(joints).replace("revision = \"A\"", "revision = \"A\"\nsteps = \"usual\"") + entries;
        let (job, _, report) = job_of(PROJECT, &[text]);
        assert_eq!(report.findings, []);
        let joints = |step: &Step| step.spec.entry.joints.iter().map(|joint| joint.value.clone()).collect::<Vec<_>>();
        let line = |step: &Step| format!("{} {} {}", step.id.value, step.origin.word(), joints(step).join("+"));
        job.travelers[0].steps.iter().map(line).map(|line| line.trim_end().to_owned()).collect()
    };
    let entries = own("skin", "drill", "\"J2\", \"J3\"") + &own("row", "rivet", "\"J1\", \"J2\", \"J3\", \"J4\"");
    let four = listed(&[(1, 0), (2, 0), (3, 0), (4, 0)], &entries);
    let expected = [
        "verify usual",
        "lay-out usual J1+J2+J3+J4",
        "pin usual",
        "pilot usual J1+J2+J3+J4",
        "drill-j1 usual J1",
        "skin written J2+J3",
        "drill-j4 usual J4",
        "take-apart usual",
        "deburr usual J1+J2+J3+J4",
        "clean usual",
        "prime usual",
        "fit usual",
        "row written J1+J2+J3+J4",
        "inspect usual J1+J2+J3+J4",
        "photograph usual",
    ];
    assert_eq!(four, expected);
    // Of steps that fall together only what is left, and its readings with it.
    let two = listed(&[(1, 0), (2, 0)], &(own("first", "rivet", "\"J1\"") + &own("look", "inspect", "\"J1\"")));
    assert_eq!(two[4..], ["first written J1", "rivet usual J2", "look written J1", "inspect usual J2"], "{two:?}");
}

#[test]
fn a_step_of_ones_own_that_has_a_usual_name_changes_no_form_when_it_is_issued() {
    let entries = "[[step]]\nid = \"lay-out\"\ntitle = \"Lay out on the aircraft\"\ndo = \"lay-out\"\njoints = [\"J1\"]\nbehind = \"verify\"\n";
    let text = traveler(&[(1, 0), (2, 3)]).replace("revision = \"A\"", "revision = \"A\"\nsteps = \"usual\"") + entries;
    let ids = |issued: &Issued| -> Vec<(String, u32)> {
        let (mut files, mut report) = (Files::default(), Report::default());
        let file = files.add("build.toml", PROJECT);
        let project = read_project(file, &files, &mut report);
        let file = files.add("u.toml", text.clone());
        let read = read_traveler(file, &project, &files, &mut report).unwrap();
        let job = resolve_as_issued(Spec { project, travelers: vec![read], unread: 0 }, issued, &mut report);
        assert_eq!(report.findings, []);
        job.travelers[0].steps.iter().map(|step| (step.id.value.clone(), step.number)).collect()
    };
    let first = ids(&Issued::default());
    assert!(first.iter().any(|(id, _)| id == "holes") && first.iter().any(|(id, _)| id == "lay-out"), "{first:?}");
    let mut issued = Issued::default();
    for (id, number) in &first {
        issued.add("U", id, *number);
    }
    assert_eq!(ids(&issued), first);
}

#[test]
fn a_step_that_fills_the_holes_left_open_leaves_the_others_to_the_usual_one() {
    let open = "fastener = \"MS20470AD4\"\ncount = 16\nedge = \"0.32\"\n\
        leave-open = { count = 4, until = \"T/rest\", why = \"the doubler's tail\" }";
    let rest =
        "[[step]]\nid = \"rest\"\ntitle = \"Rivet the rest\"\ndo = \"rivet\"\njoints = [\"J\"]\nbehind = \"rivet\"\n";
    let traveler = |joint: &str| {
        text::traveler("T", "steps = \"usual\"\n")
            + &text::part("P", "skin", "0.063")
            + &text::part("Q", "rib", "0.063")
            + &text::joint("J", &["P", "Q"], joint)
            + rest
    };
    let ids = |joint: &str| -> Vec<String> {
        let (job, report) = job(PROJECT, &[&traveler(joint)]);
        let errors: Vec<&str> = report.findings.iter().filter(|own| own.stops()).map(|own| own.rule).collect();
        assert!(errors.is_empty() || !joint.contains("count = 4,"), "{errors:?}");
        job.travelers[0].steps.iter().map(|step| step.id.value.clone()).collect()
    };
    assert_eq!(ids(open), ["verify", "drill", "deburr", "prime", "rivet", "rest", "inspect"]);
    // Where all of them stay open, that step fastens the joint.
    assert!(!ids(&open.replace("count = 4,", "count = 16,")).contains(&"rivet".to_owned()));
}

#[test]
fn an_entry_whose_usual_step_is_missing_for_an_unread_joint_is_no_fault() {
    let unread = text::joint("J", &["P", "Q"], "fastener = \"MS20470AD4\"\ncount = \"4\"\nedge = \"0.3\"");
    let entry = "[[step]]\nid = \"rivet\"\nminutes = 30\n";
    let traveler = text::traveler("T", "steps = \"usual\"\n")
        + &text::part("P", "skin", "0.063")
        + &text::part("Q", "rib", "0.063")
        + &unread
        + entry;
    let (_, report) = job(PROJECT, &[&traveler]);
    let said: Vec<&str> = report.findings.iter().map(|own| own.message.as_str()).collect();
    assert_eq!(said, ["`count` is a text, but it must be a whole number"]);
}

#[test]
fn an_entry_that_means_nothing_is_said_with_what_would() {
    for (entry, said) in [
        ("id = \"drill-j9\"\ncure = \"1 d\"", "has no `title`"),
        ("id = \"look\"\ntitle = \"Look\"\ndo = \"inspect\"", "has no place among the usual steps"),
        ("id = \"prime\"\nomit = true", "left out without a reason"),
        ("id = \"prime\"\nbecause = \"no\"", "gives a reason for nothing"),
        ("id = \"look\"\ntitle = \"Look\"\ndo = \"inspect\"\nbehind = \"drlil\"", "there is no step `drlil`"),
        ("id = \"prime\"\nprocedure = \"deburrr\"", "there is no procedure `deburrr`"),
    ] {
        let text = traveler(&[(1, 0)]).replace("revision = \"A\"", "revision = \"A\"\nsteps = \"usual\"");
        let (_, _, report) = job_of(PROJECT, &[format!("{text}[[step]]\n{entry}\n")]);
        assert!(report.findings.iter().any(|own| own.message.contains(said)), "{entry}: {:?}", report.findings);
    }
}

/// Kinds of joints, by what differs for the steps.
const FASTENERS: [&str; 6] = [
    "fastener = \"MS20470AD4\"\ncount = 8\nedge = \"0.35\"",
    "fastener = \"MS20426AD4\"\ncount = 8\nedge = \"0.35\"\nprepare = [\"countersink\", \"plain\"]",
    "fastener = \"MS20470AD4\"\ncount = 8\nedge = \"0.35\"\nholes = { start = \"#40\" }",
    "fastener = \"AN3\"\ncount = 2\nedge = \"0.5\"\nnut = \"MS21044N3\"",
    "fastener = \"AN3\"\ncount = 2\nedge = \"0.5\"\nnut = \"AN310-3\"\ncotter = \"MS24665-132\"",
    "fastener = \"IFI114-43\"\ncount = 6\nedge = \"0.35\"",
];

/// A traveler of joints, each its number and its kind.
fn traveler(joints: &[(u32, usize)]) -> String {
    let parts = text::part("P", "Plate", "0.063") + &text::part("Q", "Rib", "0.063");
    let joint = |(id, kind): &(u32, usize)| text::joint(&format!("J{id}"), &["P", "Q"], FASTENERS[*kind]);
    text::traveler("U", "") + &parts + &joints.iter().map(joint).collect::<String>()
}

/// One edit of a file.
#[derive(Debug, Clone)]
enum Edit {
    Add(usize, usize),
    Remove(usize),
    Rename(usize),
    Swap(usize, usize),
}

/// The steps of a sheet, each with its joints.
type Steps = Vec<(StepRequirement, Vec<String>)>;

fn steps_as_issued(joints: &[(u32, usize)], issued: &Issued) -> Steps {
    let (mut files, mut report) = (Files::default(), Report::default());
    let project = files.add("build.toml", PROJECT);
    let project = read_project(project, &files, &mut report);
    let file = files.add("u.toml", traveler(joints));
    let read = read_traveler(file, &project, &files, &mut report).unwrap();
    let job = resolve_as_issued(Spec { project, travelers: vec![read], unread: 0 }, issued, &mut report);
    assert_eq!(report.findings, []);
    let own = &job.travelers[0];
    let names = |step: &Step| step.joints.iter().map(|joint| own.joints[joint.joint.joint].id.value.clone()).collect();
    let required = sheet_requirement(&job, 0, None).steps;
    required.into_iter().zip(&own.steps).map(|(required, step)| (required, names(step))).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    /// Whatever happens to a joint, the steps of the others keep their ids, their numbers and what they require; a
    /// number that was issued is given to no other step.
    #[test]
    fn an_edit_of_one_joint_leaves_the_steps_of_the_others(
        kinds in prop::collection::vec(0..FASTENERS.len(), 1..7),
        edits in prop::collection::vec(prop_oneof![
            (0..7_usize, 0..FASTENERS.len()).prop_map(|(at, kind)| Edit::Add(at, kind)),
            (0..7_usize).prop_map(Edit::Remove),
            (0..7_usize).prop_map(Edit::Rename),
            (0..7_usize, 0..7_usize).prop_map(|(one, other)| Edit::Swap(one, other)),
        ], 1..4),
    ) {
        let mut joints: Vec<(u32, usize)> = (1..).zip(kinds).collect();
        let mut issued = Issued::default();
        let mut given: BTreeMap<u32, String> = BTreeMap::new();
        let mut before = steps_as_issued(&joints, &issued);
        for (nth, edit) in (0..).zip(edits) {
            for (step, _) in &before {
                issued.add("U", &step.id, step.number);
                given.insert(step.number, step.id.clone());
            }
            let fresh = 100 + nth;
            let edited: Vec<String> = match edit {
                Edit::Add(at, kind) => {
                    joints.insert(at % (joints.len() + 1), (fresh, kind));
                    vec![format!("J{fresh}")]
                }
                Edit::Remove(at) if joints.len() > 1 => vec![format!("J{}", joints.remove(at % joints.len()).0)],
                Edit::Remove(_) => continue,
                Edit::Rename(at) => {
                    let at = at % joints.len();
                    let was = std::mem::replace(&mut joints[at].0, fresh);
                    vec![format!("J{was}"), format!("J{fresh}")]
                }
                Edit::Swap(one, other) => {
                    let many = joints.len();
                    joints.swap(one % many, other % many);
                    Vec::new()
                }
            };
            let after = steps_as_issued(&joints, &issued);
            for (step, own) in &before {
                let now = after.iter().find(|(now, _)| now.id == step.id);
                let is_edited = own.iter().any(|joint| edited.contains(joint));
                match now {
                    Some((now, now_own)) => {
                        prop_assert_eq!(now.number, step.number, "{} moved", step.id);
                        let is_edited = is_edited || now_own.iter().any(|joint| edited.contains(joint));
                        prop_assert!(is_edited || now.digest() == step.digest(), "{} requires something else", step.id);
                    }
                    None => prop_assert!(is_edited, "{} is gone", step.id),
                }
            }
            for (step, _) in &after {
                let owner = given.get(&step.number);
                prop_assert!(owner.is_none_or(|owner| *owner == step.id), "{} has the number of {owner:?}", step.id);
            }
            before = after;
        }
    }
}
