//! A project in millimetres prints no inches, and one in inches without a second unit no millimetres: every document, what
//! `check` says, every answer of `bench` and every page of `explain`; and no size stands without its unit.

use std::path::Path;

use shophead::archive::Head;
use shophead::calendar::When;
use shophead::hardware::Shop as HardwareShop;
use shophead::job::{Job, Order, State, resolve};
use shophead::plan::{
    BoardOptions, BookFacts, Choice, DiscrepancySubject, Document, NoticeFacts, Options, Thumbnails, VisitChoice,
    blank_discrepancy, board, book, discrepancy_of, drawing_index, notice, packets, pick_list, visit,
};
use shophead::render::{Templates, lay_out};
use shophead::report::Report;
use shophead::rules::{RULES, check};
use shophead::spec::load;
use shophead::text::Files;
use shophead::units::{Style, Unit};
use shophead::work::changes;

use crate::build::shop::{Shop, root};
use crate::build::signed::{Ledger, day};
use crate::rules::case;

/// Who signs, and a box that is looked into before it closes.
const SIGNERS: &str = r#"
[[signer]]
initials = "P1"
role = "inspector"
[[space]]
id = "fin-box"
name = "Fin, box"
hold = "inspector"
"#;

/// Three travelers in millimetres: a rib with blind rivets, a bracket with bolts, a closed box.
const METRIC: [&[&str]; 3] = [
    &[
        "RIB-10",
        "--part",
        "R1:Web:6061-T6:0.8",
        "--part",
        "R2:Flange:6061-T6:1.0",
        "--part",
        "R3:Skin:2024-T3:0.6",
        "--joint",
        "J1:R1+R2:ISO 15981-4:20:9:pitch=25",
        "--joint",
        "J2:R3+R1:ISO 15981-3.2:30:6.5:pitch=15.5",
    ],
    &[
        "BRK-10",
        "--part",
        "B1:Bracket:6061-T6:8.0",
        "--part",
        "B2:Web:6061-T6:2.5",
        "--joint",
        "J1:B1+B2:ISO 4014-M6x30-8.8:2:14:nut=ISO 7040-M6-8:washer=ISO 7089-6:torque=8-9.5 N·m",
    ],
    &[
        "BOX-10",
        "--part",
        "K1:Rib:6061-T6:1.0",
        "--part",
        "K2:Skin:2024-T3:0.8",
        "--joint",
        "J1:K2+K1:MS20470AD4:60:8:pitch=20",
        "--closes",
        "fin-box",
    ],
];

/// The same kinds of work in inches.
const INCH: [&[&str]; 3] = [
    &[
        "RIB-10",
        "--part",
        "R1:Web:6061-T6:0.032",
        "--part",
        "R2:Flange:6061-T6:0.040",
        "--joint",
        "J1:R1+R2:MS20470AD4:20:0.3:pitch=0.75",
    ],
    &[
        "BRK-10",
        "--part",
        "B1:Bracket:6061-T6:0.250",
        "--part",
        "B2:Web:6061-T6:0.125",
        "--joint",
        "J1:B1+B2:AN3-6A:2:0.5:nut=MS21044N3:washer=NAS1149F0363P",
    ],
    &[
        "BOX-10",
        "--part",
        "K1:Rib:6061-T6:0.040",
        "--part",
        "K2:Skin:2024-T3:0.032",
        "--joint",
        "J1:K2+K1:MS20426AD3:60:0.25:dimple:pitch=0.75",
        "--closes",
        "fin-box",
    ],
];

/// Questions to the calculators, in the words of each unit.
const ASKED_IN_MM: [&str; 6] = [
    "rivet --stack 0.8,1.0 --diameter 3.2",
    "blind --stack 0.8,1.0 --call ISO15981-4",
    "bend --material 2024-T3 --thickness 0.8 --radius 2.5",
    "bolt --stack 6,3.5 --size AN3",
    "torque --bolt AN4 --nut AN365 --drag 0.7 --wrench 250 --adapter -40",
    "hole --call MS20470AD4-5",
];
const ASKED_IN_INCHES: [&str; 5] = [
    "rivet --stack 0.032,0.040 --diameter 1/8",
    "blind --stack 0.165 --diameter 1/8",
    "bend --material 2024-T3 --thickness 0.032 --radius 0.094",
    "torque --bolt AN4 --nut AN365 --drag 6 --wrench 10 --adapter -1.5",
    "hole --call AN3-6A",
];

/// A project of a unit with its three travelers.
fn shop_in(unit: &str, travelers: &[&[&str]]) -> Shop {
    let shop = Shop::empty();
    let made = shop.run(&["new", "project", ".", "--name", "Dunlin", "--unit", unit, "--paper", "a4"]);
    assert_eq!(made.code, 0, "{}", made.err);
    let text = std::fs::read_to_string(shop.path("build.toml")).unwrap();
    shop.write("build.toml", text + SIGNERS);
    for traveler in travelers {
        let mut arguments = vec!["new", "traveler"];
        arguments.extend(*traveler);
        arguments.extend(["--title", "Assembly"]);
        let made = shop.run(&arguments);
        assert_eq!(made.code, 0, "{}{}", made.out, made.err);
    }
    shop
}

fn job_in(shop: &Shop) -> (Job, Report) {
    job_of(&shop.path("build.toml"))
}

fn job_of(project: &Path) -> (Job, Report) {
    let (mut files, mut report) = (Files::default(), Report::default());
    let spec = load(project, &mut files, &mut report).unwrap();
    let job = resolve(spec, &mut report);
    check(&job, &mut report);
    (job, report)
}

/// Every document of a project, by what it is.
fn documents(shop: &Shop, edit: (&str, &str)) -> Vec<(String, Document)> {
    let (job, report) = job_in(shop);
    let (order, state, now) = (Order::of(&job), State::default(), When::parse("2026-03-07T09:00").unwrap().latest);
    let mut all: Vec<(String, Document)> = Vec::new();
    for index in 0..job.travelers.len() {
        let packets = packets(&job, index, &report, &Options::default()).unwrap();
        all.extend(packets.into_iter().map(|packet| (format!("packet {index}"), packet.document())));
        for joint in 0..job.travelers[index].joints.len() {
            let subject = DiscrepancySubject {
                job: &job,
                order: &order,
                state: &state,
                archived: None,
                traveler: index,
                joint,
                hand: None,
            };
            let sheet = discrepancy_of(&subject, None, None).document(&job, now);
            all.push((format!("discrepancy {index} {joint}"), sheet));
        }
    }
    all.push((
        "board".into(),
        board(&job, &order, &state, BoardOptions { now, minutes: 90, alone: false }).document(&job, now),
    ));
    all.push(("pick list".into(), pick_list(&job, &order, &state, &Choice::default(), now).document(&job, now)));
    all.push(("drawings".into(), drawing_index(&job).document(&job, now)));
    let visited = visit(&job, &order, &state, None, &VisitChoice::default());
    all.push(("visit".into(), visited.document(&job, now, Some(now))));
    all.push(("blank discrepancy".into(), blank_discrepancy(None, None, &job.project).document(&job, now)));
    all.extend(of_signed_work(shop, &job, edit));
    all
}

/// The notice of a change of one joint's edge and hole, and the build record.
fn of_signed_work(shop: &Shop, before: &Job, (from, to): (&str, &str)) -> Vec<(String, Document)> {
    let mut ledger = Ledger::default();
    ledger.issue(before, &[]);
    let bracket = before.travelers.iter().find(|traveler| traveler.id.value == "BRK-10").unwrap();
    for step in &bracket.steps[..bracket.steps.len() - 2] {
        ledger.sign("BRK-10", &step.id.value, "2026-03-02", None);
    }
    let name = "specs/brk-10.toml";
    let old = std::fs::read_to_string(shop.path(name)).unwrap();
    shop.edit(name, from, to);
    let (after, _) = job_in(shop);
    shop.write(name, old);
    let state = ledger.state();
    let facts = NoticeFacts { on: day("2026-04-01"), source: Some("plan change 7".into()), by: "B1".into() };
    let changed = notice(&after, &state, changes(&after, &state, &ledger.archived), &facts);
    assert!(!changed.act.is_empty() || !changed.read.is_empty() || !changed.remove.is_empty());
    let facts = BookFacts { sheets: &ledger.archived, head: Head::default(), on: day("2026-04-01"), tasks: None };
    let record = book(before, &state, &facts);
    vec![
        ("notice".into(), changed.document(&after, None)),
        ("book".into(), record.document(before, None, Thumbnails::new())),
    ]
}

/// Everything that a project prints, by what it is.
fn texts(shop: &Shop, edit: (&str, &str), questions: &[&str]) -> Vec<(String, String)> {
    let templates = Templates::load(None).unwrap();
    let printed = documents(shop, edit).into_iter().map(|(name, document)| {
        let laid = lay_out(&document, &templates).unwrap_or_else(|failure| panic!("{name}: {failure}"));
        (name, laid.page_texts().join("\n"))
    });
    let mut all: Vec<(String, String)> = printed.collect();
    let mut said = |arguments: &[&str]| {
        let ran = shop.run(arguments);
        assert_eq!(ran.code, 0, "{arguments:?}: {}{}", ran.out, ran.err);
        all.push((arguments.join(" "), ran.out));
    };
    said(&["check", "--unjudged"]);
    for question in questions {
        let words: Vec<&str> = std::iter::once("bench").chain(question.split(' ')).collect();
        said(&words);
    }
    for rule in RULES {
        said(&["explain", rule.name]);
    }
    all
}

/// A text without what the builder typed or a source is called: examples in TOML, source lines and document numbers.
fn own_words(text: &str) -> Vec<&str> {
    let mut words = Vec::new();
    let mut is_example = false;
    // Under an answer of `bench` its sources are named.
    let text = text.split("\nSources\n").next().unwrap();
    for line in text.lines() {
        is_example ^= line.starts_with("```");
        // A line of the spec itself, below a finding.
        let is_spec = line.trim_start().starts_with(|c: char| c.is_ascii_digit()) && line.contains(" | ");
        let is_source = line.contains("source:") || line.starts_with("- `") || line.starts_with("  [");
        if !is_example && !is_spec && !is_source {
            words.extend(line.split_whitespace());
        }
    }
    words
}

/// The word without what ends a phrase.
fn bare(word: &str) -> &str {
    word.trim_start_matches('(').trim_end_matches([',', '.', ';', ':', ')'])
}

fn is_decimal(word: &str) -> bool {
    let word = bare(word);
    !is_box_number(word)
        && word.contains('.')
        && word.chars().all(|c| c.is_ascii_digit() || c == '.' || c == '-')
        && word.split(['.', '-']).all(|part| part.chars().all(|c| c.is_ascii_digit()))
        && word.chars().any(|c| c.is_ascii_digit())
}

/// The number printed before a reading: its step's three digits and its place there, `070.1`.
fn is_box_number(word: &str) -> bool {
    let digits = |text: &str, many: usize| text.len() == many && text.chars().all(|c| c.is_ascii_digit());
    word.split_once('.').is_some_and(|(step, place)| digits(step, 3) && step.ends_with(['0', '5']) && digits(place, 1))
}

fn is_fraction(word: &str) -> bool {
    let Some((top, bottom)) = bare(word).split_once('/') else { return false };
    let is_number = |text: &str| !text.is_empty() && text.chars().all(|c| c.is_ascii_digit() || c == '-');
    is_number(top) && ["2", "4", "8", "16", "32", "64"].contains(&bottom)
}

/// Units that a size of a project in millimetres has; then those of one in inches.
const MM_WORDS: [&str; 3] = ["mm", "N", "C"];
const INCH_WORDS: [&str; 3] = ["in", "in-lb", "F"];
/// What may stand behind a number in either.
const NEUTRAL: [&str; 11] = ["of", "D", "h", "d", "min", "deg", "%", "lb", "ksi", "t", "per"];

/// Words behind an "in" that is none of a size.
const PROSE: [&str; 5] = ["all", "work", "turn", "force", "the"];

/// What stands in a text that may not: pieces with the words around them.
fn foreign(text: &str, is_metric: bool) -> Vec<String> {
    let words = own_words(text);
    let (own, other) = if is_metric { (MM_WORDS, INCH_WORDS) } else { (INCH_WORDS, MM_WORDS) };
    let at = |index: usize| words.get(index).copied().map(bare).unwrap_or_default();
    let ends_in_digit = |word: &str| word.ends_with(|c: char| c.is_ascii_digit());
    let mut found = Vec::new();
    for (index, word) in words.iter().enumerate() {
        let core = bare(word);
        let is_after_number = index > 0 && ends_in_digit(at(index - 1)) && !words[index - 1].ends_with([',', ';', ')']);
        let is_unit = other.contains(&core) && !(core == "in" && PROSE.contains(&at(index + 1)));
        let is_foreign_unit = is_after_number && is_unit || core == other[1] && core.len() > 1;
        let is_drill = core.strip_prefix('#').is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()));
        // `0.5 to 1.5 mm`, `4.76 x 1.59 mm`, and a list that ends with its unit: `0.032, 0.040 in`.
        let mut next = index + 1;
        while matches!(at(next), "to" | "x" | "and") || is_decimal(at(next)) {
            next += 1;
        }
        let has_unit = own.contains(&at(next)) || NEUTRAL.contains(&at(next));
        // A row whose heading has the unit: `drag, N m  0  0.3  0.6`.
        let heading = words[..index].iter().rposition(|word| !is_decimal(word) && bare(word) != "0");
        let is_in_row = heading.is_some_and(|last| at(last) == "m" && at(last.wrapping_sub(1)) == "N");
        let before = at(index.wrapping_sub(1));
        let is_factor = before == "sheet" && at(index.wrapping_sub(2)) == "thin";
        let is_cited = is_factor || matches!(before, "Table" | "Tables" | "par" | "Figure" | "scale" | "class" | "ISO");
        let is_bare = is_decimal(word) && !has_unit && !is_in_row && !is_cited && !word.ends_with(')');
        let is_strange = is_foreign_unit || (is_metric && (is_drill || is_fraction(word))) || is_bare;
        if is_strange {
            let (from, to) = (index.saturating_sub(4), (index + 4).min(words.len()));
            found.push(words[from..to].join(" "));
        }
    }
    found
}

/// No piece of any text is foreign.
fn assert_own(all: &[(String, String)], is_metric: bool) {
    let mut words = 0;
    let mut strange = Vec::new();
    for (name, text) in all {
        words += own_words(text).len();
        strange.extend(foreign(text, is_metric).into_iter().map(|piece| format!("{name}: {piece}")));
    }
    assert!(strange.is_empty(), "{} of {words} words:\n{}", strange.len(), strange.join("\n"));
    assert!(words > 20_000, "only {words} words were read");
}

#[test]
fn a_project_in_millimetres_prints_no_inch() {
    let shop = shop_in("mm", &METRIC);
    for file in ["build", "specs/rib-10", "specs/brk-10", "specs/box-10"] {
        let text = std::fs::read_to_string(shop.path(&format!("{file}.toml"))).unwrap();
        assert!(["\"#", "/32", "/16", "0.032", "10-32"].iter().all(|inch| !text.contains(inch)), "{file}: {text}");
    }
    let all = texts(&shop, ("edge = \"14\"", "edge = \"13.5\""), &ASKED_IN_MM);
    assert!(all.iter().any(|(name, text)| name == "pick list" && text.contains("0.8 mm")));
    assert_own(&all, true);
}

#[test]
fn a_project_in_inches_without_a_second_unit_prints_no_millimetre() {
    let shop = shop_in("inch", &INCH);
    let all = texts(&shop, ("edge = \"0.5\"", "edge = \"0.45\""), &ASKED_IN_INCHES);
    assert_own(&all, false);
}

/// Every finding of every firing case, judged again as if its project printed in millimetres.
#[test]
fn no_message_of_a_rule_has_a_unit_of_its_own() {
    let mut strange = Vec::new();
    let mut seen = 0;
    for rule in RULES {
        let case = case::read(rule, "fires");
        let typed: String = case.files.iter().map(|file| file.text.as_str()).collect();
        let mut job = case.judge().job;
        job.project.style = Style::of(Unit::Mm);
        job.project.shop = HardwareShop::usual(Unit::Mm);
        let mut report = Report::default();
        check(&job, &mut report);
        for finding in &report.findings {
            let labels = finding.labels.iter().map(|label| label.text.as_str());
            for said in std::iter::once(finding.message.as_str()).chain(finding.help.as_deref()).chain(labels) {
                seen += 1;
                // A drill or a fraction that the case writes keeps its name, a part its own, and the dashes of a part
                // number count what they count.
                let by_name = |word: &str| (word.starts_with('#') || is_fraction(word)) && typed.contains(bare(word));
                let is_typed = |piece: &String| {
                    piece.split(' ').any(by_name) || piece.contains("Sheet .") || piece.contains("in 1/32 in")
                };
                let pieces = foreign(said, true).into_iter().filter(|piece| !is_typed(piece));
                strange.extend(pieces.map(|piece| format!("{}: {piece}", rule.name)));
            }
        }
    }
    assert!(strange.is_empty(), "of {seen} sentences:\n{}", strange.join("\n"));
    assert!(seen > 200, "only {seen} sentences were read");
}

#[test]
fn what_is_foreign_is_found() {
    for text in ["hole 0.1285 in", "drill #30", "torque 9 in-lb", "a 3/16 rivet", "grip 0.4724, steel", "250 F"] {
        assert!(!foreign(text, true).is_empty(), "{text}");
    }
    for text in ["hole 3.3 mm", "8-9.5 N m", "0.5 to 1.5 mm", "2.25 D", "Table 8.1.2(a)", "1.5 h", "3 of 4 in all"] {
        assert_eq!(foreign(text, true), Vec::<String>::new(), "{text}");
    }
    for text in ["hole 3.3 mm", "torque 9 N m", "0.032 thick"] {
        assert!(!foreign(text, false).is_empty(), "{text}");
    }
    for text in ["#30 (0.1285 in)", "3/16 in", "0.160 to 0.164 in", "20-25 in-lb"] {
        assert_eq!(foreign(text, false), Vec::<String>::new(), "{text}");
    }
}

#[test]
fn the_demo_in_millimetres_has_no_finding_and_prints_no_inch() {
    let (job, report) = job_of(&root().join("demo-data/metric/build.toml"));
    assert!(report.findings.is_empty(), "{:?}", report.findings);
    let templates = Templates::load(None).unwrap();
    let packets = (0..3).flat_map(|index| packets(&job, index, &report, &Options::default()).unwrap());
    let texts = packets.map(|packet| lay_out(&packet.document(), &templates).unwrap().page_texts().join("\n"));
    let all: Vec<String> = texts.collect();
    assert_eq!((all.len(), job.travelers.len()), (3, 3));
    for text in &all {
        assert!(text.contains(" mm") && text.contains("STAGE S"), "{text}");
        assert_eq!(foreign(text, true), Vec::<String>::new());
    }
}
