//! Torque on paper: what is said of the nut's drag, where the strip ends, what a snug nut is told.

use shophead::plan::{Options, Packet, TorqueStrip, packets};

use crate::build::bracket::{PROJECT, job};
use crate::build::text::{self, part};

fn packet(joint: &str, torque_step: &str) -> Packet {
    let traveler = text::traveler("T", "")
        + &part("P", "skin", "0.063")
        + &part("Q", "rib", "0.063")
        + &text::joint("J", &["P", "Q"], joint)
        + "[[step]]\nid = \"bolt\"\ntitle = \"Bolt\"\ndo = \"bolt\"\njoints = [\"J\"]\n"
        + "[[step]]\nid = \"torque\"\ntitle = \"Torque\"\ndo = \"torque\"\njoints = [\"J\"]\n"
        + torque_step
        + "[[step]]\nid = \"look\"\ntitle = \"Look\"\ndo = \"inspect\"\njoints = [\"J\"]\n";
    let (job, report) = job(PROJECT, &[&traveler]);
    packets(&job, 0, &report, &Options { draft: true, ..Options::default() }).unwrap().remove(0)
}

fn strip(joint: &str, torque_step: &str) -> TorqueStrip {
    packet(joint, torque_step).steps[1].torques[0].clone()
}

fn drags(strip: &TorqueStrip) -> Vec<&str> {
    strip.settings.iter().map(|setting| setting.drag.as_str()).collect()
}

const LOCKNUT: &str = "fastener = \"AN3-5A\"\ncount = 2\nnut = \"MS21044N3\"";
const CASTLE: &str = "fastener = \"AN3-5\"\ncount = 2\nnut = \"AN310-3\"\ncotter = \"MS24665-132\"";

/// AC 43.13-1B, Table 7-1 and par. 7-40f: no more than the maximum torque plus the friction drag.
#[test]
fn drag_is_added_where_the_nut_has_one_and_nowhere_else() {
    let found = strip(LOCKNUT, "");
    assert!(found.source.ends_with(", without the nut's drag") && found.drag, "{found:?}");
    assert_eq!(found.most.as_deref(), Some("40 in-lb and the drag"));
    assert_eq!(drags(&found), ["0", "3", "6", "9", "12", "15", "18", "21"]);
    let found = strip(CASTLE, "");
    assert!(!found.source.contains("drag") && !found.drag && found.settings.is_empty(), "{found:?}");
    assert_eq!(found.most.as_deref(), Some("40 in-lb"));
    let found = strip(&format!("{LOCKNUT}\ntorque = \"24-30 in-lb\"\ndrag = \"included\""), "");
    assert!(found.source == "from the plans, drag included" && !found.drag && found.settings.is_empty(), "{found:?}");
}

#[test]
fn the_strip_ends_at_the_drag_that_the_record_allows() {
    let record = |unit: &str, most: &str| {
        format!("records = [{{ id = \"drag\", label = \"Largest drag\", unit = \"{unit}\", max = {most} }}]\n")
    };
    let found = strip(LOCKNUT, &record("in-lb", "15"));
    assert_eq!(drags(&found), ["0", "3", "6", "9", "12", "15"]);
    assert_eq!((found.settings[5].low.as_str(), found.settings[5].high.as_str()), ("35", "40"));
    assert_eq!(drags(&strip(LOCKNUT, &record("in-lb", "40"))), ["0", "6", "12", "18", "24", "30", "36", "40"]);
    assert_eq!(drags(&strip(LOCKNUT, &record("in-lb", "1.5"))), ["0", "1.5"]);
    // 1 N m is 8.9 in-lb, rounded down where it is shown.
    assert_eq!(drags(&strip(LOCKNUT, &record("N m", "1"))).last(), Some(&"8.9"));
    let setting =
        "records = [{ id = \"setting\", label = \"Setting, drag included\", unit = \"in-lb\", min = 20, max = 40 }]\n";
    assert_eq!(drags(&strip(LOCKNUT, setting)).last(), Some(&"21"), "a setting is no drag");
}

#[test]
fn what_was_torqued_is_looked_at_without_words_about_a_drag_that_is_not_there() {
    let lines = |joint: &str| packet(joint, "").steps[2].joints[0].lines.join("\n");
    assert!(lines(LOCKNUT).contains("without the nut's drag"));
    let castle = lines(CASTLE);
    assert!(castle.contains("torque 20-25 in-lb") && !castle.contains("drag"), "{castle}");
}

#[test]
fn a_snug_nut_is_told_what_its_own_form_needs() {
    let lines = |joint: &str| packet(joint, "").steps[1].joints[0].lines.join("\n");
    let castle = lines(&format!("{CASTLE}\nrotates = true"));
    assert!(castle.contains("nearest slot, new cotter pin"), "{castle}");
    let locknut = lines(&format!("{LOCKNUT}\ntorque = \"snug\""));
    assert!(locknut.contains("back until it is free;") && !locknut.contains("cotter"), "{locknut}");
}

#[test]
fn limits_of_the_plans_print_and_give_the_torque_where_none_is_written() {
    let limits = "limits = { torque = \"15-18 in-lb\", hole = [\"#12\", \"#10\"], grip = [\"0.120\", \"0.130\"], bend = \"1 D\", \
                  because = \"note 3\" }";
    let own = packet(&format!("{LOCKNUT}\n{limits}"), "");
    let said = own.joints[0].limits.clone().unwrap();
    assert_eq!(
        said,
        "limits of the plans: hole to bend 1 D, hole #12 (0.189 in) to #10 (0.1935 in), stack gripped \
         0.120 in to 0.130 in, torque 15-18 in-lb (note 3)"
    );
    assert_eq!(own.steps[1].torques[0].range, "15-18 in-lb");
    assert!(own.steps[1].torques[0].source.starts_with("from the plans"));
    assert_eq!(own.joints[0].last.as_deref(), Some("#11 (0.191 in)"), "the usual hole, as the plans allow it");
}
