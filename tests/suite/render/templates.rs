//! Templates of a builder's own: they replace by name, and their faults are told with file, line and place.

use shophead::job::resolve;
use shophead::plan::{Options, packets};
use shophead::render::{Failure, Templates, lay_out};
use shophead::report::Report;
use shophead::rules::check;
use shophead::spec::load;
use shophead::text::Files;

use crate::build::bracket::bracket_document;
use crate::build::shop::root;

/// The templates of a folder with some files, and the folder.
fn with_folder(files: &[(&str, &str)]) -> (Result<Templates, Failure>, String) {
    let folder = tempfile::tempdir().unwrap();
    for (name, text) in files {
        std::fs::write(folder.path().join(name), text).unwrap();
    }
    (Templates::load(Some(folder.path())), format!("{}/", folder.path().display()))
}

fn with(files: &[(&str, &str)]) -> Result<Templates, Failure> {
    with_folder(files).0
}

/// What is said when a document is laid out with a template of one's own.
fn said(files: &[(&str, &str)]) -> String {
    let (templates, folder) = with_folder(files);
    let failure = match templates {
        Ok(templates) => {
            lay_out(&bracket_document(), &templates).err().unwrap_or_else(|| panic!("{files:?} should fail"))
        }
        Err(failure) => failure,
    };
    failure.to_string().replace(&folder, "own/")
}

const SHEET: &str = "#import \"lib.typ\": *\n#show: sheet.with(head: {{ head }}, codes: {{ codes }})\n";

#[test]
fn a_file_takes_the_place_of_the_embedded_one() {
    let own = format!("{SHEET}#text(\"own page of \" + {{{{ head.title }}}})\n");
    let templates = with(&[("packet.typ.j2", &own), ("notes.txt", "not a template")]).unwrap();
    assert_eq!(templates.own(), ["packet.typ.j2"]);
    let pages = lay_out(&bracket_document(), &templates).unwrap();
    assert_eq!(pages.page_count(), 1);
    assert!(pages.page_texts()[0].contains("own page of Bellcrank bracket"));
    assert!(Templates::load(None).unwrap().own().is_empty());
}

#[test]
fn an_undefined_name_is_told_with_its_place() {
    let text = said(&[("packet.typ.j2", "#let x = 1\n#text({{ head.titel }})\n")]);
    let expected = "the template uses `head.titel`, which does not exist here\n --> own/packet.typ.j2:2:10\n  |\n\
                    2 | #text({{ head.titel }})\n  |          ^^^^^^^^^^";
    assert_eq!(text, expected);
}

#[test]
fn a_broken_template_is_told_when_it_is_loaded() {
    let text = said(&[("step.typ.j2", "{% if step %}\nno end\n")]);
    assert!(text.starts_with("the template cannot be filled in: ") && text.contains("step.typ.j2:"), "{text}");
    let text = said(&[("packet.typ.j2", "{{ head.title | uper }}")]);
    assert!(text.contains("uper") && text.contains("packet.typ.j2:1:"), "{text}");
}

#[test]
fn a_fault_in_an_included_template_names_that_template() {
    let text = said(&[("step.typ.j2", "\n\n#strong({{ step.nmber }})")]);
    assert!(text.contains("`step.nmber`") && text.contains("step.typ.j2:3:12"), "{text}");
}

#[test]
fn templates_that_include_each_other_end_with_a_word() {
    let text = said(&[
        ("packet.typ.j2", "{% include 'a.j2' %}"),
        ("a.j2", "{% include 'b.j2' %}"),
        ("b.j2", "{% include 'a.j2' %}"),
    ]);
    assert!(text.contains("include each other without end"), "{text}");
    let text = said(&[("packet.typ.j2", "{% include 'nowhere.j2' %}")]);
    assert!(text.contains("includes one that does not exist") && text.contains("nowhere.j2"), "{text}");
    let text = said(&[
        ("packet.typ.j2", "#import \"a.typ\": *"),
        ("a.typ", "#import \"b.typ\": *"),
        ("b.typ", "#import \"a.typ\": *"),
    ]);
    assert!(text.contains("cyclic import"), "{text}");
}

#[test]
fn typst_errors_are_told_with_file_and_line() {
    let text = said(&[("packet.typ.j2", "#let x = 1\n#strnog[x]\n")]);
    assert!(text.contains("unknown variable: strnog") && text.contains("packet.typ.j2 as filled in:2:2"), "{text}");
    let text = said(&[("packet.typ.j2", "#import \"mine.typ\": f\n#f()\n"), ("mine.typ", "#let f() = 1 +\n")]);
    assert!(text.contains("mine.typ:1:"), "{text}");
}

#[test]
fn templates_reach_no_file_no_package_and_no_clock() {
    for code in [
        "#read(\"/etc/hostname\")",
        "#import \"@preview/x:0.1.0\": *",
        "#include \"Cargo.toml\"",
        "#datetime.today()",
        "#image(\"a.png\")",
    ] {
        let text = said(&[("packet.typ.j2", code)]);
        assert!(text.contains("layout fails"), "{code}: {text}");
    }
}

#[test]
fn a_warning_of_typst_is_a_failure() {
    let text = said(&[("packet.typ.j2", "#set text(font: \"No Such Font\")\nx")]);
    assert!(text.contains("unknown font family"), "{text}");
}

#[test]
fn a_folder_that_cannot_be_read_is_told() {
    let failure = Templates::load(Some(std::path::Path::new("no/such/folder"))).err().unwrap();
    assert!(failure.to_string().contains("no/such/folder cannot be read"), "{failure}");
    let failure = with(&[("packet.typ.j2", &"x".repeat(2 << 20))]).err().unwrap();
    assert!(failure.to_string().contains("the most is 32768"), "{failure}");
}

#[test]
fn a_box_that_is_marked_wrongly_is_told() {
    let text = format!("{SHEET}#[#metadata((step: \"s\")) <box-start>]#[#metadata(none) <box-end>]\n");
    let templates = with(&[("packet.typ.j2", &text)]).unwrap();
    let failure = lay_out(&bracket_document(), &templates).unwrap().boxes().unwrap_err();
    assert!(
        failure.to_string().contains("does not say its `role`") || failure.to_string().contains("`field`"),
        "{failure}"
    );
    let templates = with(&[("packet.typ.j2", &format!("{SHEET}#[#metadata(1) <box-end>]"))]).unwrap();
    let failure = lay_out(&bracket_document(), &templates).unwrap().boxes().unwrap_err();
    assert!(failure.to_string().contains("0 box starts but 1 box ends"), "{failure}");
}

#[test]
fn pages_of_own_templates_carry_the_mark_and_no_others_do() {
    let own = format!("{SHEET}#text(\"own page\")\n#pagebreak()\nsecond\n");
    let mut templates = with(&[("packet.typ.j2", &own)]).unwrap();
    templates.set_mark("3F2K".to_owned());
    let pages = lay_out(&bracket_document(), &templates).unwrap().page_texts();
    assert!(pages.len() == 2 && pages.iter().all(|page| page.contains("Own templates 3F2K.")), "{pages:?}");
    let mut embedded = Templates::load(None).unwrap();
    let before = embedded.digest_input();
    embedded.set_mark("3F2K".to_owned());
    assert_eq!(
        (embedded.mark(), embedded.digest_input()),
        (None, before),
        "nothing to mark, and a mark is no part of its digest"
    );
    assert!(!lay_out(&bracket_document(), &embedded).unwrap().page_texts()[0].contains("3F2K"));
}

#[test]
fn a_foot_of_ones_own_must_not_lose_the_mark() {
    let mut templates = with(&[("packet.typ.j2", "a page without a foot")]).unwrap();
    templates.set_mark("3F2K".to_owned());
    let failure = lay_out(&bracket_document(), &templates).err().unwrap().to_string();
    assert!(failure.starts_with("page 1 does not carry the mark of your own templates, 3F2K"), "{failure}");
    let failure = with(&[("own.typ", "#let own-templates = none")]).err().unwrap().to_string();
    assert!(failure.contains("own.typ is made by the program"), "{failure}");
}

#[test]
fn the_override_of_the_demo_prints_clean_and_marked() {
    let folder = root().join("demo-data/override");
    let (mut files, mut report) = (Files::default(), Report::default());
    let job = resolve(load(&folder.join("build.toml"), &mut files, &mut report).unwrap(), &mut report);
    check(&job, &mut report);
    assert!(report.findings.iter().all(|finding| !finding.stops()), "{:?}", report.findings);
    let mut templates = Templates::load(Some(&folder.join("templates"))).unwrap();
    assert_eq!(templates.own(), ["step.typ.j2"]);
    templates.set_mark("3F2K".to_owned());
    let packet = packets(&job, 0, &report, &Options::default()).unwrap().remove(0);
    let pages = lay_out(&packet.document(), &templates).unwrap().page_texts();
    let aloud = pages.iter().filter(|page| page.contains("Step 030 was read aloud to the helper")).count();
    assert_eq!(aloud, 1, "only the step that takes two people");
    assert!(pages.iter().all(|page| page.contains("Own templates 3F2K.")));
}
