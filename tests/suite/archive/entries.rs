//! The short form of an evening: steps by traveler and range, readings by box, what is once a file, what is refused.

use shophead::archive::{Entry, Signed};
use shophead::report::Report;
use shophead::spec::read_evening;
use shophead::text::Files;
use shophead::words::{Hand, PacketName};

use super::enter::{entered, entered_with, steps_of};
use crate::build::signed::{Ledger, SPEC, edited, job};

const HEAD: &str = "by = \"B1\"\non = 2026-03-19\n";

/// The first four steps: nothing is read at them.
fn ledger(spec: &str) -> Ledger {
    let mut ledger = Ledger::default();
    let (four, _) = spec.split_once("[[step]]\nid = \"bolt\"").unwrap();
    ledger.issue(&job(four), &[]);
    ledger
}

/// The signatures that a file becomes.
fn signed(ledger: &Ledger, text: &str) -> Vec<Signed> {
    let (entries, _) = entered(ledger, text).unwrap_or_else(|faults| panic!("{text}\n{faults:#?}"));
    let signed = entries.into_iter().filter_map(|entry| match entry {
        Entry::Signed(signed) => Some(*signed),
        _ => None,
    });
    signed.collect()
}

fn steps(ledger: &Ledger, keys: &str) -> Vec<String> {
    let all = signed(ledger, &format!("{HEAD}[[sign]]\ntraveler = \"T1\"\n{keys}"));
    all.into_iter().map(|own| own.step).collect()
}

/// The one fault of a file.
fn fault(ledger: &Ledger, text: &str) -> String {
    let faults = entered(ledger, text).unwrap_err();
    assert_eq!(faults.len(), 1, "{text}\n{faults:#?}");
    faults.concat()
}

#[test]
fn steps_are_numbers_ids_ranges_and_lists_of_them_less_the_exceptions() {
    let ledger = ledger(SPEC);
    let all = ["open", "deburr", "prime", "rivet"];
    for (keys, expected) in [
        ("steps = \"010..040\"", &all[..]),
        ("steps = \"open..rivet\"", &all),
        ("steps = \"10..\"", &all),
        ("steps = \"..040\"", &all),
        ("steps = \"020..prime\"", &all[1..3]),
        ("steps = [10, \"020\", \"prime\"]", &all[..3]),
        ("steps = \"010, 030\"", &["open", "prime"]),
        ("steps = [\"030\", \"010..020\", 10]", &all[..3]),
        ("steps = \"010..040\"\nexcept = [20, \"prime\"]", &["open", "rivet"]),
        ("steps = \"010..040\"\nexcept = \"020..030\"", &["open", "rivet"]),
        ("step = 20", &all[1..2]),
    ] {
        assert_eq!(steps(&ledger, keys), expected, "{keys}");
    }
}

#[test]
fn what_names_no_steps_is_refused_at_its_place_with_what_would_pass() {
    let ledger = ledger(SPEC);
    let sheet = ledger.archived.keys().next().unwrap();
    let of = |keys: &str| fault(&ledger, &format!("{HEAD}[[sign]]\ntraveler = \"T1\"\n{keys}"));
    let has = "it has 010 open, 020 deburr, 030 prime, 040 rivet";
    assert_eq!(
        of("steps = \"030..010\""),
        format!(
            "\"030..010\": the range `030..010` runs backwards: 030 prime comes after 010 open on sheet {sheet}; write 010..030"
        )
    );
    assert!(
        of("steps = 44").starts_with(&format!("44: sheet {sheet} has no step `44`; {has}; did you mean 040 rivet?"))
    );
    assert!(of("steps = \"riwet\"").contains("did you mean 040 rivet?"));
    assert!(of("steps = \"010..045\"").contains("has no step `045`"));
    assert!(of("steps = \"010..020\"\nexcept = 40").contains("step 040 rivet is not among the steps of this entry"));
    assert!(of("steps = 10\nexcept = 10").contains("nothing is left of its steps"));
    assert!(of("hand = \"left\"\nsteps = 10").ends_with("it is a one-off: leave `hand` out"));
    let other = fault(&ledger, &format!("{HEAD}[[sign]]\ntraveler = \"T2\"\nsteps = 10"));
    assert!(other.starts_with("\"T2\": no sheet of `T2` is in force; did you mean `T1`?"), "{other}");
    let photos = of("steps = \"010..020\"\nphotos = [12]");
    assert!(photos.starts_with("12: `photos` is of one step, and this entry signs several"), "{photos}");
}

#[test]
fn of_two_hands_each_has_its_sheet_and_one_must_be_said() {
    let ledger = ledger(&edited("title = \"Rib\"", "title = \"Rib\"\nhands = [\"left\", \"right\"]"));
    let code = |hand| ledger.state().in_force(&PacketName::new("T1", Some(hand))).unwrap().issued.sheet;
    let text = format!("{HEAD}[[sign]]\ntraveler = \"T1\"\nsteps = \"010..020\"\n");
    let said = fault(&ledger, &text);
    for hand in [Hand::Left, Hand::Right] {
        assert!(said.contains(&format!("{} T1 {hand}", code(hand))), "{said}");
    }
    assert!(said.contains("say which with `hand`"), "{said}");
    let all = signed(&ledger, &format!("{text}hand = \"right\"\n"));
    assert!(all.iter().all(|own| (own.hand, own.sheet) == (Some(Hand::Right), code(Hand::Right))), "{all:?}");
    assert_eq!(all.len(), 2);
    let wrong = fault(&ledger, &format!("{text}hand = \"right\"\nsheet = \"{}\"\n", code(Hand::Left)));
    assert!(wrong.contains("is not what `traveler` and `hand` say"), "{wrong}");
}

#[test]
fn a_number_of_a_sheet_that_was_replaced_says_which_step_it_was() {
    let mut ledger = ledger(SPEC);
    let old = *ledger.archived.keys().next().unwrap();
    ledger.issue(&job(&edited("id = \"rivet\"", "id = \"set\"")), &[]);
    let said = fault(&ledger, &format!("{HEAD}[[sign]]\ntraveler = \"T1\"\nsteps = \"rivet\"\n"));
    assert!(said.contains(&format!("it was 040 rivet of sheet {old}, which this one replaced")), "{said}");
}

#[test]
fn a_number_of_another_step_in_the_specs_of_today_is_a_doubt_with_both_titles() {
    let ledger = ledger(SPEC);
    let sheet = ledger.archived.keys().next().unwrap();
    let new = "[[step]]\nid = \"mark\"\ntitle = \"Mark\"\ndo = \"drill\"\njoints = [\"J1\"]\n\n[[step]]\nid = \"open\"";
    let today = steps_of(&job(&edited("[[step]]\nid = \"open\"", new)));
    let text = |steps: &str| format!("{HEAD}[[sign]]\ntraveler = \"T1\"\nsteps = {steps}\n");
    let (_, _, doubts) = entered_with(&ledger, &text("10"), &today).unwrap();
    assert_eq!(doubts.len(), 1, "{doubts:?}");
    assert!(
        doubts[0].contains(&format!("010 is \"Open the holes\" on sheet {sheet}, and \"Mark\" in the specs of today")),
        "{doubts:?}"
    );
    let (_, _, doubts) = entered_with(&ledger, &text("\"open..deburr\""), &today).unwrap();
    assert!(doubts.is_empty(), "an id is no number: {doubts:?}");
    let (_, _, doubts) = entered_with(&ledger, &text("10"), &steps_of(&job(SPEC))).unwrap();
    assert!(doubts.is_empty(), "{doubts:?}");
}

#[test]
fn what_stands_once_a_file_holds_for_every_entry_that_says_nothing_else() {
    let ledger = ledger(SPEC);
    let text = format!(
        "{HEAD}helpers = [\"H1\"]\nminutes = 100\n[[sign]]\ntraveler = \"T1\"\nsteps = \"010..030\"\n\
         [[sign]]\ntraveler = \"T1\"\nsteps = 40\nminutes = 15\nhelpers = []\non = 2026-03-20\n"
    );
    let all = signed(&ledger, &text);
    let told: Vec<_> =
        all.iter().map(|own| (own.minutes.unwrap(), own.helpers.len(), own.worked.to_string())).collect();
    let day = |day: u32| format!("2026-03-{day}");
    assert_eq!(told, [(34, 1, day(19)), (33, 1, day(19)), (33, 1, day(19)), (15, 0, day(20))]);
    assert_eq!(all[0].note.as_deref(), Some("100 min for 3 steps together, shared evenly"));
    assert_eq!(all[3].note, None, "its own minutes are not shared");
    // Those of an entry are shared among its own steps.
    let all = signed(&ledger, &format!("{HEAD}[[sign]]\ntraveler = \"T1\"\nsteps = \"010..020\"\nminutes = 1\n"));
    assert_eq!(all.iter().map(|own| own.minutes).collect::<Vec<_>>(), [Some(1), None]);
}

/// Two steps that ask for readings: the bore twice, the drag once.
fn measured() -> Ledger {
    let record = |id: &str, label: &str| {
        format!("{{ id = \"{id}\", label = \"{label}\", unit = \"in\", min = \"0.2495\", max = \"0.2505\" }}")
    };
    let open = format!("records = [{}, {}]\n", record("bore", "Bore"), record("gap", "Widest gap"));
    let text = SPEC.replacen("id = \"open\"\n", &format!("id = \"open\"\n{open}"), 1).replacen(
        "id = \"rivet\"\n",
        &format!("id = \"rivet\"\nrecords = [{}]\n", record("bore", "Bore")),
        1,
    );
    ledger(&text)
}

#[test]
fn readings_are_typed_by_the_number_beside_the_box_by_step_and_record_or_by_a_name_that_is_one_boxs() {
    let ledger = measured();
    let text = |readings: &str| {
        format!("{HEAD}[[sign]]\ntraveler = \"T1\"\nsteps = \"010..040\"\nreadings = {{ {readings} }}\n")
    };
    for readings in [
        "\"010.1\" = 0.2500, \"010.2\" = \"0.2501\", \"040.1\" = 0.2502",
        "010.1 = 0.2500, 010.2 = 0.2501, 040.1 = 0.2502",
        "10.1 = 0.2500, gap = 0.2501, \"rivet/bore\" = 0.2502",
        "\"010/bore\" = 0.2500, \"widest gap\" = 0.2501, 40.1 = 0.2502",
    ] {
        let all = signed(&ledger, &text(readings));
        let read =
            |own: &Signed| own.readings.iter().map(|own| format!("{} {}", own.id, own.value)).collect::<Vec<_>>();
        assert_eq!(read(&all[0]), ["bore 0.2500", "gap 0.2501"], "{readings}");
        assert_eq!(read(&all[3]), ["bore 0.2502"], "{readings}");
        assert_eq!(all[1].readings.len() + all[2].readings.len(), 0);
    }
    let of = |readings: &str| entered(&ledger, &text(readings)).unwrap_err();
    let twice = of("bore = 0.25, gap = 0.25");
    let both = "bore: `bore` is asked for more than once in this entry; type its number: \
                010.1 Bore, 0.2495 to 0.2505 in; 040.1 Bore, 0.2495 to 0.2505 in";
    assert!(twice.contains(&both.to_owned()), "{twice:#?}");
    let blank = "\"010..040\": step `rivet` has no value for 040.1 Bore, 0.2495 to 0.2505 in; \
                 write `readings = { \"040.1\" = .. }` with the value, or \"N/A\"";
    assert!(of("010.1 = 0.25, 010.2 = 0.25").contains(&blank.to_owned()));
    assert!(of("010.1 = \"\", 010.2 = 0.25, 040.1 = 0.25")[0].starts_with("\"\": step `open` has no value for 010.1"));
    assert!(
        of("010.1 = 0.25, 010.2 = 0.25, 040.1 = 0.25, 040.2 = 0.25")[0]
            .starts_with("2: no step of this entry asks for a reading `040.2`; they ask for 010.1 Bore")
    );
    assert!(of("010.1 = 0.25, 010.2 = 0.25, 040.1 = 0.25, \"rivet/bore\" = 0.25")[0].contains("has two readings"));
    let word = of("010.1 = \"ok\", 010.2 = 0.25, 040.1 = 0.25");
    assert_eq!(word, ["\"ok\": 010.1 Bore, 0.2495 to 0.2505 in is `ok`, expected a number or N/A"]);
}

#[test]
fn a_number_with_its_zeros_and_without_quotation_marks_is_told_once_and_how_to_write_it() {
    let (mut files, mut report) = (Files::default(), Report::default());
    let id = files.add("evening.toml", "[[sign]]\ntraveler = \"T1\"\nsteps = 050\n");
    let _ = read_evening(id, &files, &mut report);
    let [finding] = report.findings.as_slice() else { panic!("{:?}", report.findings) };
    assert!(finding.message.contains("leading zero"), "{finding:?}");
    assert!(finding.help.as_ref().unwrap().ends_with("between quotation marks, as \"050\""), "{finding:?}");
}

#[test]
fn an_evening_holds_no_begun_work_and_a_file_of_nothing_is_refused() {
    let ledger = ledger(SPEC);
    let begun = fault(&ledger, &format!("{HEAD}[[started]]\ntraveler = \"T1\"\nsteps = 10\n"));
    assert!(begun.contains("[[started]] is no record: work that is begun or waits stands in progress.toml"), "{begun}");
    assert!(fault(&ledger, HEAD).contains("nothing is typed in it"));
}
