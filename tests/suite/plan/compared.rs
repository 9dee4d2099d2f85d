//! Readings that are compared, and consumables: what the packet and the pick list print of them.

use shophead::calendar::When;
use shophead::job::{Order, State};
use shophead::plan::{Choice, Options, packets, pick_list};

use crate::build::bracket::{PROJECT, job};
use crate::build::text;

const STEPS: &str = r#"
[[step]]
id = "first"
title = "Level the left wing"
do = "level"
uses = ["masking tape"]
records = [{ id = "left", label = "Left wing", unit = "in" }]
[[step]]
id = "bushing"
title = "Press the bushing in"
do = "press-fit"
uses = ["Masking tape", "dry ice"]
fit = { bore = "bore", pin = "pin", interference = ["0.0005", "0.0015"] }
records = [
    { id = "bore", label = "Bore", unit = "in" },
    { id = "pin", label = "Bushing", unit = "in" },
    { id = "right", label = "Right wing", unit = "in", within = "0.06 of first/left" },
]
"#;

#[test]
fn comparisons_stand_at_their_step_with_limits_and_consumables_on_the_lists_once() {
    let (job, report) = job(PROJECT, &[&(text::traveler("T", "") + STEPS)]);
    let packet = packets(&job, 0, &report, &Options { draft: true, ..Options::default() }).unwrap().remove(0);
    let lines: Vec<(&str, &str)> =
        packet.steps[1].compared.iter().map(|line| (line.label.as_str(), line.requirement.as_str())).collect();
    assert_eq!(
        lines,
        [
            ("Difference: Right wing less Left wing (step 010)", "at most 0.06 in"),
            ("Interference: Bushing less Bore", "0.0005 to 0.0015 in"),
        ]
    );
    assert!(packet.steps[0].compared.is_empty());
    assert_eq!(packet.steps[1].uses, ["Masking tape", "dry ice"]);
    let now = When::parse("2026-03-02").unwrap().earliest;
    let list = pick_list(&job, &Order::of(&job), &State::default(), &Choice::default(), now);
    let named: Vec<(&str, &[String])> =
        list.consumables.iter().map(|line| (line.what.as_str(), line.travelers.as_slice())).collect();
    assert_eq!(named, [("masking tape", ["T".to_owned()].as_slice()), ("dry ice", ["T".to_owned()].as_slice())]);
    assert!(list.to_csv().contains("consumable,dry ice,T,,,,,,,,,\r\n"), "{}", list.to_csv());
    assert_eq!(packet.preparation.consumables, ["masking tape", "dry ice"], "each once");
}
