//! Procedures and steps that are left out, as the cover and the steps print them.

use shophead::plan::{Options, packets};
use shophead::work::packet_digest;

use crate::build::bracket::job;
use crate::build::shop::{Shop, paper_text_of};

const BUILD: &str = r#"
[aircraft]
name = "Dunlin"
[[signer]]
initials = "B1"
role = "builder"
[[procedure]]
id = "deburr"
revision = "B"
text = "- The shop's own way with a burr."
minutes = { step = 3, hole = "0.5" }
[[procedure]]
id = "paint"
revision = "Z"
text = "- Nothing is painted here."
"#;

const BRACKET: &str = r#"
[traveler]
id = "B-1"
title = "Bracket"
revision = "A"
steps = "usual"
[[part]]
id = "P1"
name = "Bracket"
material = "2024-T3"
thickness = "0.040"
[[part]]
id = "P2"
name = "Rib"
material = "2024-T3"
thickness = "0.040"
[[joint]]
id = "J1"
stack = ["P1", "P2"]
fastener = "MS20470AD4"
count = 5
edge = "0.35"
pitch = "0.75"
structure = "none"
access = "both sides"
[[step]]
id = "prime"
omit = true
because = "both parts come anodized"
"#;

#[test]
fn the_cover_says_which_procedures_are_the_shop_s_and_what_is_left_out() {
    let shop = Shop::empty();
    shop.write("build.toml", BUILD);
    shop.write("specs/b-1.toml", BRACKET);
    let ran = shop.run(&["packet"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{}", ran.out);
    let Some(paper) = paper_text_of(&shop.path("output/B-1.pdf")) else { return };
    for said in [
        "ShopproceduresdeburrrevB;theotherscomewiththeprogram",
        "StepleftoutCleanandprime(prime):bothpartscomeanodized",
        "Theshop'sownwaywithaburr.",
    ] {
        assert!(paper.contains(said), "{said}: {paper}");
    }
    // The paint procedure is nobody's here, and the built-in words of deburring are replaced.
    assert!(!paper.contains("paintrevZ") && !paper.contains("donotcountersink"), "{paper}");
}

#[test]
fn the_estimate_of_a_step_is_made_by_counts() {
    let (job, report) = job(BUILD, &[BRACKET]);
    assert_eq!(report.findings, []);
    let minutes = |id: &str| {
        let step = job.travelers[0].steps.iter().find(|step| step.spec.id.value == id).unwrap();
        step.minutes.unwrap().value
    };
    // Taking apart 15 and nothing a hole, as built in; the shop's own 3 and half a minute for each of five holes: 20.5.
    assert_eq!(minutes("deburr"), 21);
    // Fitting 20, riveting 15 and a minute for each of five.
    assert_eq!(minutes("rivet"), 40);
    let packet = packets(&job, 0, &report, &Options::default()).unwrap().remove(0);
    let sum: u32 = job.travelers[0].steps.iter().map(|step| step.minutes.unwrap().value).sum();
    assert_eq!(packet.cover.time.as_deref(), Some(format!("{} h {} min", sum / 60, sum % 60).as_str()));
}

#[test]
fn a_procedure_in_other_words_or_a_new_revision_is_no_other_work_where_there_are_joints() {
    let code = |build: &str| {
        let (job, _) = job(build, &[BRACKET]);
        packet_digest(&job, 0, None)
    };
    let before = code(BUILD);
    assert_eq!(code(&BUILD.replace("own way with a burr", "best way with a burr")), before);
    assert_eq!(code(&BUILD.replace("revision = \"B\"", "revision = \"C\"")), before);
    // Its time of rest is work.
    let rests = BUILD.replace("revision = \"B\"", "revision = \"B\"\ncure = \"2 h\"");
    assert_ne!(code(&rests), before);
}
