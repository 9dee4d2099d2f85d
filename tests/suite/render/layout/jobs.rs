//! How many pages the small jobs of a shop take with the steps that follow from them: two sides of a sheet, whatever they join.

use shophead::plan::{Options, Packet, packets};
use shophead::render::Laid;

use super::fault::faults;
use crate::build::bracket::{PROJECT, job};
use crate::render::laid;

/// Of one sheet.
const SIDES: usize = 2;

/// Parts of a job as id, name and thickness in inches, of 2024-T3.
type Parts = &'static [(&'static str, &'static str, &'static str)];

const TWO: Parts = &[("A101", "Bracket", "0.040"), ("A102", "Baggage bulkhead", "0.032")];
const THREE: Parts =
    &[("A101", "Bracket", "0.040"), ("A102", "Baggage bulkhead", "0.032"), ("A103", "Doubler", "0.032")];

const FITTING: Parts = &[("A101", "Bracket", "0.063"), ("A102", "Bulkhead web", "0.125"), ("A103", "Skin", "0.050")];

/// The stack of most joints.
const STACK: &str = r#""A101", "A102""#;

/// A traveler of parts and joints alone: its steps follow from them.
fn traveler(parts: Parts, joints: &[&str]) -> String {
    let head = "[traveler]\nid = \"SM-2\"\ntitle = \"Antenna bracket on the bulkhead\"\nrevision = \"A\"\n\
                drawings = [\"W-1:C\"]\nsteps = \"usual\"\n";
    let part = |(id, name, thickness): &(&str, &str, &str)| {
        format!("[[part]]\nid = \"{id}\"\nname = \"{name}\"\nmaterial = \"2024-T3\"\nthickness = \"{thickness}\"\n")
    };
    let parts: String = parts.iter().map(part).collect();
    let joints: Vec<String> = joints.iter().map(|joint| format!("[[joint]]\n{joint}\n")).collect();
    format!("{head}{parts}{}", joints.concat())
}

/// A joint that is reached from both sides, on no structure.
fn joint(id: &str, name: &str, stack: &str, fastener: &str, rest: &str) -> String {
    format!(
        "id = \"{id}\"\nname = \"{name}\"\nstack = [{stack}]\nfastener = \"{fastener}\"\nstructure = \"none\"\n\
         access = \"both sides\"\n{rest}"
    )
}

fn bracket() -> String {
    joint("J1", "Bracket to bulkhead", STACK, "MS20470AD3", "count = 4\nedge = \"0.30\"\npitch = \"0.75\"")
}

fn doubler() -> String {
    let stack = r#""A103", "A102""#;
    joint("J2", "Doubler to bulkhead", stack, "MS20470AD3", "count = 12\nedge = \"0.30\"\npitch = \"0.75\"")
}

fn dimpled() -> String {
    doubler().replace("MS20470AD3", "MS20426AD3") + "\nprepare = \"dimple\""
}

fn clip() -> String {
    let stack = r#""A101", "A103""#;
    joint("J3", "Bracket to doubler", stack, "MS20470AD4", "count = 6\nedge = \"0.35\"\npitch = \"0.75\"")
}

/// The doubler by rivets of another size.
fn sized(id: &str, name: &str, rivet: &str, edge: &str) -> String {
    joint(id, name, r#""A103", "A102""#, rivet, &format!("count = 10\nedge = \"{edge}\"\npitch = \"1.0\""))
}

fn nutplates() -> [String; 2] {
    let ear = r#""A101", { material = "nutplate", thickness = "0.025" }"#;
    let flush = "count = 12\nedge = \"0.25\"\npitch = \"0.75\"\nprepare = [\"countersink\", \"plain\"]";
    let screws = "count = 6\nedge = \"0.35\"\npitch = \"2.0\"\nnut = \"MS21047L08\"";
    let cover = r#""A102", "A101""#;
    [
        joint("J1", "Nutplates to bulkhead", ear, "MS20426AD3", flush),
        joint("J2", "Cover to nutplates", cover, "AN525-832R8", screws),
    ]
}

fn fitting() -> String {
    joint("J1", "Rivets of the fitting", STACK, "MS20470AD4", "count = 6\nedge = \"0.35\"\npitch = \"0.75\"")
}

fn bolted(id: &str) -> String {
    let keys = "count = 2\nedge = \"0.45\"\npitch = \"1.0\"\nnut = \"MS20365-1032\"\ntorque = \"20-25 in-lb\"\n\
                washers = { head = [], nut = [\"NAS1149F0363P\"] }";
    joint(id, "Bolts of the fitting", STACK, "AN3-5A", keys)
}

/// Bolts through castle nuts with cotter pins.
fn pinned(id: &str) -> String {
    let nut = "nut = \"AN310-3\"\ncotter = \"MS24665-132\"";
    bolted(id).replace("AN3-5A", "AN3-5").replace("nut = \"MS20365-1032\"", nut)
}

/// Bolts of the next size.
fn strut_bolts(id: &str) -> String {
    let keys = "count = 2\nedge = \"0.6\"\npitch = \"1.2\"\nnut = \"MS20365-428\"\ntorque = \"50-70 in-lb\"\n\
                washers = { head = [], nut = [\"NAS1149F0463P\"] }";
    joint(id, "Strut bolts", STACK, "AN4-5A", keys)
}

fn flush(id: &str) -> String {
    let keys = "count = 8\nedge = \"0.35\"\npitch = \"0.75\"\nprepare = [\"countersink\", \"plain\"]";
    joint(id, "Skin to the fitting", r#""A103", "A102""#, "MS20426AD4", keys)
}

/// A workshop of two, by name.
fn project() -> String {
    let helper = "[[signer]]\ninitials = \"H1\"\nname = \"Hal Example\"\nrole = \"helper\"\n";
    PROJECT.replace("initials = \"B1\"", "initials = \"B1\"\nname = \"Bo Example\"") + helper
}

fn printed(traveler: &str) -> (Packet, Laid) {
    let (job, report) = job(&project(), &[traveler]);
    let wrong: Vec<_> = report.findings.iter().filter(|finding| finding.stops()).collect();
    assert!(wrong.is_empty(), "{wrong:?}");
    let packet = packets(&job, 0, &report, &Options::default()).unwrap().remove(0);
    let pages = laid(&packet.document());
    (packet, pages)
}

/// A kind of job: parts, joints, how many steps follow from them.
type Kind = (&'static str, Parts, Vec<String>, usize);

fn kinds() -> Vec<Kind> {
    vec![
        ("rivets, one joint", TWO, vec![bracket()], 6),
        ("rivets, two joints", THREE, vec![bracket(), doubler()], 6),
        ("rivets, three joints", THREE, vec![bracket(), doubler(), clip()], 6),
        ("rivets and dimples", THREE, vec![bracket(), dimpled()], 7),
        ("rivets and nutplates", TWO, nutplates().to_vec(), 8),
        ("rivets and bolts", FITTING, vec![fitting(), bolted("J2")], 7),
        ("flush rivets and bolts", FITTING, vec![flush("J1"), bolted("J2")], 8),
        ("rivets, flush rivets and bolts", FITTING, vec![fitting(), flush("J2"), bolted("J3")], 8),
    ]
}

/// Three joints of most kinds together.
fn three_joints() -> Vec<Kind> {
    let nutplates_and = |third: String| nutplates().into_iter().chain([third]).collect();
    let doubler = || sized("J2", "Doubler of the web", "MS20470AD5", "0.45");
    let stiffener = || sized("J3", "Stiffener", "MS20470AD3", "0.30");
    vec![
        ("rivets, dimples and rivets", THREE, vec![bracket(), dimpled(), clip()], 7),
        ("nutplates and rivets", THREE, nutplates_and(clip()), 8),
        ("nutplates and flush rivets", FITTING, nutplates_and(flush("J3")), 8),
        ("castle nuts and rivets", FITTING, vec![fitting(), pinned("J2")], 7),
        ("castle nuts, rivets and flush rivets", FITTING, vec![fitting(), flush("J2"), pinned("J3")], 8),
        ("bolts of two sizes and rivets", FITTING, vec![fitting(), bolted("J2"), strut_bolts("J3")], 7),
        ("castle nuts, bolts and flush rivets", FITTING, vec![flush("J1"), pinned("J2"), strut_bolts("J3")], 8),
        ("rivets of three sizes", FITTING, vec![fitting(), doubler(), stiffener()], 6),
        ("flush rivets and rivets of two sizes", FITTING, vec![flush("J1"), doubler(), stiffener()], 7),
    ]
}

#[test]
fn small_jobs_of_every_kind_take_eight_steps_and_two_sides_of_a_sheet() {
    let mut wrong = Vec::new();
    for (name, parts, joints, steps) in kinds().into_iter().chain(three_joints()) {
        let joints: Vec<&str> = joints.iter().map(String::as_str).collect();
        let (packet, pages) = printed(&traveler(parts, &joints));
        if (packet.steps.len(), pages.page_count()) != (steps, SIDES) {
            wrong.push(format!("{name}: {} steps on {} pages", packet.steps.len(), pages.page_count()));
        }
        wrong.extend(faults(&pages).into_iter().map(|fault| format!("{name}: {fault}")));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
