//! Every rule against its cases: the exact set of lines and rules, over all rules, and one diagnostic in full.

use shophead::report::{Colour, Report, render_human};
use shophead::rules::RULES;

use super::case::{Case, KINDS, beside, case, read};

/// What a case's findings and marks disagree about; nothing where they are the same.
fn disagreement(page: &str, case: &Case) -> Option<String> {
    let found = case.found(page, &case.judge());
    let missing: Vec<_> = case.marks.difference(&found).collect();
    let beyond: Vec<_> = found.difference(&case.marks).collect();
    (case.marks != found).then(|| format!("missing {missing:?}, beyond {beyond:?}"))
}

#[test]
fn every_case_gives_exactly_what_it_marks() {
    let mut faults = Vec::new();
    for rule in RULES {
        let page = std::fs::read_to_string(beside(rule, "md")).unwrap();
        for kind in KINDS {
            let fault = disagreement(&page, &read(rule, kind));
            faults.extend(fault.map(|fault| format!("{}/{kind}: {fault}", rule.name)));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn cases_are_of_the_kind_that_their_heading_says() {
    for rule in RULES {
        let own = |kind: &str| read(rule, kind).marks.iter().filter(|(_, name)| name == rule.name).count();
        assert!(own("fires") > 0, "{}: nothing fires", rule.name);
        assert!(read(rule, "passes").marks.is_empty(), "{}: what passes must be silent under all rules", rule.name);
        assert!(own("limit") > 0, "{}: nothing on the far side of the limit", rule.name);
        assert!(KINDS.iter().all(|kind| !read(rule, kind).says.is_empty()), "{}: not told in words", rule.name);
        assert!(KINDS.iter().all(|kind| !read(rule, kind).files.is_empty()), "{}: a heading without a case", rule.name);
    }
}

#[test]
fn the_expected_diagnostics_are_fresh() {
    let mut stale = Vec::new();
    for rule in RULES {
        let judged = read(rule, "fires").judge();
        let findings = judged.report.findings.iter().filter(|finding| finding.rule == rule.name).cloned().collect();
        let text = render_human(
            &Report { findings, travelers: judged.report.travelers, ..Report::default() },
            &judged.files,
            Colour::Plain,
        );
        let path = beside(rule, "txt");
        if std::env::var_os("SHOPHEAD_BLESS").is_some() {
            std::fs::write(&path, &text).unwrap();
        }
        if std::fs::read_to_string(&path).unwrap_or_default() != text {
            stale.push(rule.name);
        }
    }
    assert!(stale.is_empty(), "run the tests with SHOPHEAD_BLESS=1 and read the change: {stale:?}");
}

/// A page with one case.
fn page(toml: &str) -> String {
    format!("## passes\n```toml\n{toml}\n```\n")
}

#[test]
fn what_is_filled_in_is_free_of_findings() {
    for toml in ["[rivets.J1]", "[bolts.J1]", "[rivets.J1]\n[bolts.J2]", "[fit]", "[rivets.J1]\n[usual]\n[fit.again]"] {
        let page = page(toml);
        let case = case("passes", &page);
        let judged = case.judge();
        assert_eq!(case.found(&page, &judged), [].into(), "{toml}");
        // Only what a rule asks for of some bolts: the row turns in nothing and is nowhere hot.
        let unjudged: Vec<String> = judged.unjudged().iter().map(|one| one.why.clone()).collect();
        let bolts = ["no `rotates` is given", "no `temperature` is given"];
        assert_eq!(unjudged, if toml.contains("bolts") { &bolts[..] } else { &[] }, "{toml}");
    }
}

#[test]
fn the_facts_that_are_filled_in_are_asked_for() {
    let told = |toml: &str| {
        let judged = case("passes", &page(toml)).judge();
        (judged.lines(), judged.unjudged())
    };
    // Beyond these a row has the name, hole, pitch, structure and access that a drawing gives it, so that a diagnostic
    // has something to point at and no rule is silent for want of a fact.
    let rivets = ["stack", "fastener", "count", "edge", "pitch", "access"];
    let bolts = ["stack", "fastener", "count", "edge", "nut", "washers"];
    for (joint, keys) in [("[rivets.J1]", &rivets[..]), ("[bolts.J1]", &bolts[..])] {
        let all = told(joint);
        for key in keys {
            assert_ne!(told(&format!("{joint}\nwithout = [\"{key}\"]")), all, "{joint}: nobody misses {key}");
        }
    }
}

#[test]
fn a_case_is_filled_in_line_by_line() {
    let text = "## limit\nSaid.\n```toml a.toml\n[rivets.J1]     # fires: x\nedge = \"0.25\"\nwithout = [\"access\"]\nrows = 2\n\n\
        [part.P1]\n[allow.pitch-long]\n```\n";
    let case = case("limit", text);
    let expected = "[traveler]\nid = \"A\"\ntitle = \"Fixture A\"\nrevision = \"A\"\n\n\
        [[part]]\nid = \"S032\"\nname = \"Sheet .032\"\nmaterial = \"2024-T3\"\nthickness = \"0.032\"\n\n\
        [[part]]\nid = \"S040\"\nname = \"Sheet .040\"\nmaterial = \"2024-T3\"\nthickness = \"0.040\"\n\n\
        [[joint]]\nid = \"J1\"     # fires: x\nname = \"Rivet row\"\nstack = [\"S032\", \"S040\"]\nfastener = \"MS20470AD4-4\"\n\
        count = 12\nholes = { final = \"#30\" }\nedge = \"0.25\"\npitch = \"0.75\"\nstructure = \"secondary\"\nrows = 2\n\n\
        [[part]]\nid = \"P1\"\nname = \"Plate\"\nmaterial = \"2024-T3\"\n\n\
        [[allow]]\nrule = \"pitch-long\"\nbecause = \"the case is about something else\"\n\n\
        [[step]]\nid = \"drill\"\ntitle = \"Drill to final size\"\ndo = \"drill\"\njoints = [\"J1\"]\n\n\
        [[step]]\nid = \"deburr\"\ntitle = \"Take apart and deburr both sides\"\ndo = \"deburr\"\njoints = [\"J1\"]\n\n\
        [[step]]\nid = \"rivet\"\ntitle = \"Fasten\"\ndo = \"rivet\"\njoints = [\"J1\"]\n\n";
    let file = &case.files[0];
    assert_eq!((file.name.as_str(), file.text.as_str(), case.says.as_str()), ("a.toml", expected, "Said."));
    let written: Vec<(usize, &str)> =
        file.origin.iter().zip(file.text.lines()).filter_map(|(at, line)| Some(((*at)?, line))).collect();
    let lines = [
        (4, "id = \"J1\"     # fires: x"),
        (5, "edge = \"0.25\""),
        (7, "rows = 2"),
        (9, "id = \"P1\""),
        (10, "rule = \"pitch-long\""),
    ];
    assert_eq!(written, lines);
    assert_eq!(case.marks, [("line 4: [rivets.J1]".to_owned(), "x".to_owned())].into());
}

#[test]
#[should_panic(expected = "line 4: is filled in anyway")]
fn a_case_does_not_say_what_is_filled_in_anyway() {
    case("passes", &page("[rivets.J1]\ncount = 12"));
}

#[test]
#[should_panic(expected = "`without` rows takes nothing away")]
fn a_case_takes_away_only_what_is_filled_in() {
    case("passes", &page("[rivets.J1]\nwithout = [\"rows\"]"));
}
