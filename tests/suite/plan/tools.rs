//! Tools to lay out: sizes that exist, each tool once, however it was named.

use shophead::plan::{Options, Packet, packets};

use crate::build::bracket::{PROJECT, job};
use crate::build::text::{self, part};

fn joint(id: &str, keys: &str) -> String {
    text::joint(id, &["P", "Q"], keys)
}

fn step(id: &str, kind: &str, keys: &str) -> String {
    format!("[[step]]\nid = \"{id}\"\ntitle = \"{id}\"\ndo = \"{kind}\"\n{keys}\n")
}

fn packet(body: &str) -> Packet {
    let traveler = text::traveler("T", "") + &part("P", "skin", "0.032") + &part("Q", "rib", "0.063") + body;
    let (job, report) = job(PROJECT, &[&traveler]);
    packets(&job, 0, &report, &Options { draft: true, ..Options::default() }).unwrap().remove(0)
}

fn tools(body: &str) -> Vec<(String, String, String)> {
    let lines = packet(body).preparation.tools;
    lines.into_iter().map(|line| (line.what, line.size, line.steps.join(" "))).collect()
}

/// Tools as `what | size | steps`.
fn said(body: &str) -> Vec<String> {
    tools(body).into_iter().map(|(what, size, steps)| format!("{what} | {size} | {steps}")).collect()
}

#[test]
fn sheet_holders_go_by_the_rivet_and_none_is_made_up() {
    let holds = |start: &str| {
        let body = joint("J", &format!("fastener = \"MS20470AD4-4\"\ncount = 21\nholes = {{ start = \"{start}\" }}"))
            + &step("pin", "fit", "joints = [\"J\"]");
        said(&body)
    };
    // Sizes that the trade sells: 3/32 for #40, 1/8 for #30, 5/32 for #21, 3/16 for #11, 1/4.
    for (hole, holder) in [
        ("#40", "sheet holders 3/32 in | 11 pieces | 010"),
        ("3/32", "sheet holders 3/32 in | 11 pieces | 010"),
        ("#30", "sheet holders 1/8 in | 11 pieces | 010"),
        ("#21", "sheet holders 5/32 in | 11 pieces | 010"),
        ("#11", "sheet holders 3/16 in | 11 pieces | 010"),
        ("F", "sheet holders 1/4 in | 11 pieces | 010"),
        ("3.3 mm", "sheet holders 1/8 in | 11 pieces | 010"),
    ] {
        assert_eq!(holds(hole), [holder], "{hole}");
    }
    for hole in ["5/64", "#33", "15/64", "19/64", "23/64"] {
        let found = holds(hole);
        assert_eq!(found.len(), 1, "{hole}");
        assert!(
            found[0].starts_with("shop bolts or clamps | in holes ") && !found[0].contains("piece"),
            "{hole}: {found:?}"
        );
    }
}

#[test]
fn a_stack_that_no_holder_reaches_through_and_temporary_bolts_take_none() {
    let thick = part("B", "block", "0.500")
        + &text::joint("J", &["P", "B"], "fastener = \"AN3-6A\"\ncount = 4\nholes = { start = \"#30\" }")
        + &step("pin", "fit", "joints = [\"J\"]");
    assert!(said(&thick)[0].starts_with("shop bolts or clamps"), "{:?}", said(&thick));
    let temporary = joint(
        "J",
        "fastener = \"AN4-6A\"\ncount = 4\nholes = { start = \"#30\" }\ntemporary = { fastener = \"AN3-6A\", why = \"paint\" }",
    ) + &step("pin", "fit", "joints = [\"J\"]");
    assert_eq!(said(&temporary), [""; 0], "the bolts of the list hold it");
}

#[test]
fn a_tool_that_a_step_names_itself_is_listed_once() {
    let body = joint(
        "J",
        "fastener = \"MS20426AD4-4\"\ncount = 20\nholes = { start = \"#40\" }\nprepare = [\"dimple\", \"countersink\"]",
    ) + &joint(
        "K",
        "fastener = \"MS20426AD3-4\"\ncount = 20\nholes = { start = \"#40\" }\nprepare = \"dimple\"",
    ) + &step("pin", "fit", "joints = [\"J\"]\ntools = [\"sheet holders 3/32\", \"C-frame\"]")
        + &step("drill", "drill", "joints = [\"J\"]\ntools = [\"drill press\", \"drill #30\"]")
        + &step(
            "sink",
            "countersink",
            "joints = [\"J\"]\ntools = [\"microstop countersink cage, 100 deg, #30 pilot\"]",
        )
        + &step("dimple", "dimple", "joints = [\"J\", \"K\"]\ntools = [\"dimple dies 3/32 and 1/8, 100 deg\"]")
        + &step(
            "rivet",
            "rivet",
            "joints = [\"J\", \"K\"]\ntools = [\"rivet gun\", \"flush set, swivel\", \"narrow bar\"]",
        )
        + &step("look", "inspect", "joints = [\"J\"]\ntools = [\"narrow bar\", \"sheet holders 3/32\"]");
    assert_eq!(
        said(&body),
        [
            "drill | #30 (0.1285 in) | 020",
            "microstop countersink cage, 100 deg, #30 pilot | for 1/8 in flush head | 030",
            "dimple dies 3/32 and 1/8, 100 deg |  | 040",
            "flush set, swivel |  | 050",
            "narrow bar |  | 050 060",
            "sheet holders 3/32 | 10 pieces | 010 020 050 060",
            "sheet holders 1/8 in | 10 pieces | 050",
            "C-frame |  | 010",
            "drill press |  | 020",
            "rivet gun |  | 050",
        ]
    );
}

#[test]
fn what_is_reckoned_from_readings_needs_no_tool() {
    let records = "records = [\n\
                   { id = \"bore\", label = \"Bore\", unit = \"in\", max = 0.625, tool = \"telescoping gauge\" },\n\
                   { id = \"fit\", label = \"Pin less bore\", unit = \"in\", max = 0.0015, tool = \"from the two readings\" }]";
    assert_eq!(said(&step("bore", "measure", records)), ["telescoping gauge |  | 010"]);
}

#[test]
fn the_close_out_counts_the_tools_that_are_listed() {
    let body = joint("J", "fastener = \"MS20470AD4-4\"\ncount = 20\nholes = { start = \"#40\" }")
        + &step("drill", "drill", "joints = [\"J\"]\ntools = [\"sheet holders 3/32\", \"drill #30\", \"angle drill\"]")
        + &step("rivet", "rivet", "joints = [\"J\"]\ntools = [\"squeezer sets 1/8 and 5/32\", \"rivet squeezer\"]");
    let packet = packet(&body);
    let listed: Vec<&str> = packet.preparation.tools.iter().map(|tool| tool.what.as_str()).collect();
    assert_eq!(
        listed,
        [
            "drill",
            "squeezer sets 1/8 and 5/32",
            "sheet holders 3/32",
            "sheet holders 1/8 in",
            "angle drill",
            "rivet squeezer"
        ],
        "no bar where rivets are squeezed"
    );
    assert_eq!(packet.closeout.unwrap().looks[0], format!("tools counted out, {} kinds", listed.len()));
}

#[test]
fn a_reamed_hole_goes_by_its_decimal_everywhere_and_a_drilled_one_by_its_drill() {
    let joints = "joints = [\"J\"]";
    let body = joint("J", "fastener = \"AN3-5A\"\ncount = 2\nholes = { final = \"0.191\" }\nnut = \"MS21044N3\"")
        + &step("drill", "drill", &format!("{joints}\nto = \"3/16\""))
        + &step(
            "ream",
            "ream",
            &format!("{joints}\ntools = [\"hand reamer 0.191\"]\ntext = \"To {{{{ joint.J.hole.final }}}}.\""),
        )
        + &step("bolt", "bolt", joints);
    let packet = packet(&body);
    assert_eq!(packet.steps[0].joints[0].lead, "drill 3/16 (0.1875 in)");
    assert_eq!(packet.steps[0].joints[0].lines, ["undrilled until now", "final size later: 0.191 in"]);
    assert_eq!(packet.steps[1].joints[0].lead, "ream 0.191 in");
    let sheet = &packet.joints[0];
    assert_eq!(sheet.last.as_deref(), Some("0.191 in"));
    assert_eq!(sheet.ladder.iter().map(|rung| rung.short.as_str()).collect::<Vec<_>>(), ["3/16 in", "0.191 in"]);
    assert_eq!(sheet.stages, ["010 drill", "020 ream", "030 bolt"]);
    assert_eq!(sheet.ladder[0].more, "(0.1875 in)");
    let whole = serde_json::to_string(&packet).unwrap();
    assert!(!whole.contains("#11"), "the drill of that size is named nowhere");
    let tools = said(&body);
    assert!(tools.contains(&"hand reamer | 0.191 in | 020".to_owned()), "{tools:?}");
    let drilled = body.replace("do = \"ream\"", "do = \"drill\"");
    let (last, lead) =
        (self::packet(&drilled).joints[0].last.clone(), self::packet(&drilled).steps[1].joints[0].lead.clone());
    assert!(last.is_some_and(|last| last.contains("0.191 in")) && lead.starts_with("drill "), "{lead}");
}
