//! What is fed with damaged input, and the good input that it is made from.

use std::path::{Path, PathBuf};
use std::sync::{Arc, LazyLock};

use serde_json::json;
use shophead::archive::{Archive, State};
use shophead::hardware::decode;
use shophead::ident::{PageCode, SheetCode};
use shophead::job::resolve;
use shophead::render::{Picture, Templates, check_text, lay_out, pictures_of, thumbnail};
use shophead::report::{Colour, Report, render_human, render_json};
use shophead::spec::{self, Spec, read_project, read_traveler};
use shophead::text::Files;
use shophead::{rules, work};

use crate::build::bracket::bracket_document;
use crate::build::shop::{Shop, TRAVELER, root};
use crate::render::pictures::{jpeg, png};

/// One kind of input.
pub struct Target {
    pub name: &'static str,
    /// So many inputs are tried in every test run.
    pub few: u64,
    pub corpus: fn() -> Vec<Vec<u8>>,
    pub attempt: fn(&[u8]),
}

pub const TARGETS: &[Target] = &[
    Target { name: "specs", few: 60, corpus: spec_files, attempt: read_spec },
    Target { name: "calls", few: 300, corpus: calls, attempt: read_call },
    Target { name: "texts", few: 300, corpus: texts, attempt: read_text },
    Target { name: "templates", few: 20, corpus: templates, attempt: read_template },
    Target { name: "evenings", few: 40, corpus: evenings, attempt: read_evening },
    Target { name: "archives", few: 60, corpus: postings, attempt: read_posting },
    Target { name: "pictures", few: 60, corpus: pictures, attempt: read_picture },
    Target { name: "scans", few: 40, corpus: scans, attempt: read_scan },
];

fn files(folder: &Path, ending: &str) -> Vec<Vec<u8>> {
    let all = walkdir::WalkDir::new(folder).sort_by_file_name().into_iter().map(Result::unwrap);
    let such = all.filter(|entry| entry.path().extension().is_some_and(|own| own == ending));
    such.map(|entry| std::fs::read(entry.path()).unwrap()).collect()
}

const BUILD: &str = "[aircraft]\nname = \"Dunlin two-seat\"\n[[signer]]\ninitials = \"B1\"\nrole = \"builder\"\n\
                     [[space]]\nid = \"bay\"\nname = \"Bay\"\n";

fn spec_files() -> Vec<Vec<u8>> {
    let mut all = files(&root().join("specs"), "toml");
    all.extend([TRAVELER.into(), BUILD.into(), std::fs::read(root().join("demo-data/build.toml")).unwrap()]);
    all
}

/// As project file and as traveler, judged and told in both forms.
fn read_spec(input: &[u8]) {
    let text = String::from_utf8_lossy(input);
    for (build, traveler) in [(BUILD, &*text), (&*text, TRAVELER)] {
        let (mut all, mut report) = (Files::default(), Report::default());
        let build = all.add("build.toml", build);
        let project = read_project(build, &all, &mut report);
        let file = all.add("specs/a.toml", traveler);
        let travelers: Vec<_> = read_traveler(file, &project, &all, &mut report).into_iter().collect();
        let unread = usize::from(travelers.is_empty());
        let job = resolve(Spec { project, travelers, unread }, &mut report);
        rules::check(&job, &mut report);
        report.sort(&all);
        let human = render_human(&report, &all, Colour::Plain);
        assert!(!human.chars().any(|c| c.is_control() && !matches!(c, '\n' | '\t')), "raw on the terminal");
        let json: serde_json::Value = serde_json::from_str(&render_json(&report, &all)).unwrap();
        assert!(json["findings"].is_array());
        let _ = work::outdated_sheets(&job, &State::default());
    }
}

fn calls() -> Vec<Vec<u8>> {
    let known = shophead::hardware::known_standards();
    let mut all: Vec<Vec<u8>> = known.into_iter().map(|one| one.to_string().into_bytes()).collect();
    all.extend(["MS20470AD4-5", "AN3-6A", "NAS1149F0363P", "MS24665-132", "AN310-3", "ISO 4017 M6x20"].map(Into::into));
    all
}

fn read_call(input: &[u8]) {
    let text = String::from_utf8_lossy(input);
    if let Ok(fastener) = decode(&text, &[]) {
        assert!(!fastener.describe(&shophead::units::Style::of(shophead::units::Unit::Inch)).is_empty());
    }
}

fn texts() -> Vec<Vec<u8>> {
    let demo = files(&root().join("specs"), "toml").into_iter().flat_map(|file| {
        let text = String::from_utf8(file).unwrap();
        let pieces = text.split("\"\"\"").skip(1).step_by(2).map(|piece| piece.as_bytes().to_vec());
        pieces.collect::<Vec<_>>()
    });
    let own = [
        "{% for i in range(3) %}{{ i }} {{ joint.J1.call|upper }}{% endfor %}",
        "# Head\n\n> *a* **b** `c`\n\n1. one\n   - two\n\n| a |\n|---|\n| ![x](a.svg) |\n",
        "{% set a = 'x' %}{{ a * 9 ~ a|replace('x', 'y') }}{% if a %}1{% elif 2 %}3{% endif %}",
    ];
    demo.chain(own.map(Into::into)).collect()
}

fn read_text(input: &[u8]) {
    let text = String::from_utf8_lossy(input);
    let values = json!({ "joint": { "J1": { "call": "AN3-6A", "count": 8, "hole": { "final": "#30" } } }, "traveler": { "hand": "left" } });
    if check_text(&text, &values).is_ok() {
        for shown in pictures_of(&text, &values) {
            assert!(shown.offset + shown.len <= text.len());
        }
    }
}

fn templates() -> Vec<Vec<u8>> {
    files(&root().join("templates"), "j2")
}

fn read_template(input: &[u8]) {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("packet.typ.j2"), input).unwrap();
    if let Ok(own) = Templates::load(Some(folder.path())) {
        // A failure with its place is as good as a page.
        let _ = lay_out(&bracket_document(), &own).map_err(|failure| failure.to_string());
    }
}

/// A project with one sheet in force; what is entered stays in it.
static ISSUED: LazyLock<Arc<Shop>> = LazyLock::new(|| {
    let shop = Shop::empty();
    shop.write("build.toml", BUILD);
    shop.write("specs/bracket.toml", TRAVELER.to_owned() + "closes = [\"bay\"]\n");
    let ran = shop.run(&["packet", "--issue", "--on", "2026-03-01", "--entered", "2026-03-01T09:00"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    Arc::new(shop)
});

fn evenings() -> Vec<Vec<u8>> {
    let own = "by = \"B1\"\non = 2026-03-04\n[[visit]]\nspaces = [\"bay\"]\n[[visit.finding]]\nwhat = \"a burr\"\n\
               [[discrepancy]]\nwhat = \"a scratch\"\nstops = \"nothing\"\n[[correct]]\nentry = 2\nfield = \"note\"\nnow = \"x\"\nbecause = \"y\"\n";
    let mut all = files(&root().join("demo-data/evenings"), "toml");
    all.push(own.into());
    all
}

/// Read, judged and entered into a copy, which is whole afterwards.
fn read_evening(input: &[u8]) {
    let text = String::from_utf8_lossy(input);
    let (mut files, mut report) = (Files::default(), Report::default());
    let id = files.add("evening.toml", &*text);
    let _ = spec::read_evening(id, &files, &mut report);
    if report.stops() {
        return;
    }
    let shop = ISSUED.twin();
    shop.write("evening.toml", &*text);
    let enter = ["archive", "enter", "{}/evening.toml", "--entered", "2026-03-04T20:00"];
    let ran = shop.run_watched(&enter, Arc::new(|_, _| Ok(())));
    assert!((0..=2).contains(&ran.code), "{ran:?}");
    let survey = Archive::at(shop.path("archive")).verify().unwrap();
    assert!(survey.is_whole(), "{:?}", survey.flaws);
}

fn ledger(shop: &Shop) -> Vec<PathBuf> {
    let all = walkdir::WalkDir::new(shop.path("archive")).sort_by_file_name().into_iter().map(Result::unwrap);
    all.filter(|entry| entry.file_type().is_file()).map(walkdir::DirEntry::into_path).collect()
}

fn postings() -> Vec<Vec<u8>> {
    let read = |path: PathBuf| std::fs::read(path).unwrap();
    ledger(&ISSUED).into_iter().map(read).filter(|bytes| bytes.len() < 64 << 10).collect()
}

/// In the place of each file of an archive: what differs from it is found.
fn read_posting(input: &[u8]) {
    let shop = ISSUED.twin();
    for path in ledger(&shop) {
        let kept = std::fs::read(&path).unwrap();
        std::fs::write(&path, input).unwrap();
        let survey = Archive::at(shop.path("archive")).verify().unwrap();
        // What was never finished, and an empty lock, are no damage.
        let same = kept == input || input.is_empty() && path.ends_with("lock.txt");
        assert_eq!(survey.is_whole(), same, "{}", path.display());
        let _ = State::of(&survey.records);
        std::fs::write(&path, kept).unwrap();
    }
}

fn pictures() -> Vec<Vec<u8>> {
    let svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"200\" height=\"100\"><defs><marker id=\"m\"><path d=\"M0 0L9 4z\"/></marker>\
               <linearGradient id=\"g\"><stop offset=\"0\"/></linearGradient><g id=\"u\"><circle r=\"3\"/></g></defs>\
               <rect x=\"10\" width=\"180\" height=\"80\" fill=\"url(#g)\" stroke=\"black\" stroke-dasharray=\"4 2\"/>\
               <use href=\"#u\" x=\"5\"/><path d=\"M9 9C1 2 3 4 5 6A3 3 0 0 1 9 9\" marker-end=\"url(#m)\" transform=\"rotate(9)\"/>\
               <text x=\"20\" y=\"60\" font-size=\"20\">FWD<tspan dy=\"3\">x</tspan></text></svg>";
    let mut all = vec![png(30, 20), jpeg(), svg.into()];
    all.extend(files(&root().join("demo-data"), "svg"));
    all.extend(files(&root().join("demo-data/evenings"), "png"));
    all.retain(|file| file.len() < 256 << 10);
    all
}

fn read_picture(input: &[u8]) {
    let _ = Picture::of(input.to_vec());
    let _ = thumbnail(input);
}

/// What a camera or a scanner gives: the code of a sheet or a page as it was read or typed, a file's name, and its bytes.
fn scans() -> Vec<Vec<u8>> {
    let code = issued_code();
    let page = PageCode { sheet: code, other: None, part: Some("010-030".to_owned()), page: 2, print: Some(code) };
    let called = ["IMG_0001.JPG", "B-1 Blatt 2 (gezeichnet).pdf", "\u{e4}\u{301}.tiff", "scan", ".hidden", "a.tar.gz"];
    let named = called.iter().map(|name| [name.as_bytes(), b"\n", &jpeg()[..]].concat());
    let typed = [code.to_string(), code.to_string().to_lowercase().replace('-', " "), page.to_string()];
    named.chain(typed.map(String::into_bytes)).collect()
}

fn issued_code() -> SheetCode {
    let survey = Archive::at(ISSUED.path("archive")).read().unwrap();
    State::of(&survey.records).all_in_force().next().unwrap().issued.sheet
}

/// Codes read back as they are written; a file of any name is added once and found again, or refused.
fn read_scan(input: &[u8]) {
    let text = String::from_utf8_lossy(input);
    if let Ok(code) = SheetCode::parse(&text) {
        assert_eq!(SheetCode::parse(&code.to_string()), Ok(code));
    }
    if let Some(code) = PageCode::parse(&text) {
        assert_eq!(PageCode::parse(&code.to_string()), Some(code));
    }
    let (name, bytes) = text.split_once('\n').unwrap_or((&text, "x"));
    let name: String = name.chars().filter(|c| !matches!(c, '/' | '\0')).collect();
    if name.is_empty() || name.len() > 255 || name.chars().all(|c| c == '.') {
        return;
    }
    let shop = ISSUED.twin();
    shop.write(&format!("scans/{name}"), bytes);
    let code = issued_code().to_string();
    let path = format!("{{}}/scans/{name}");
    let add = ["archive", "add", &path, "--sheet", &code, "--step", "010", "--entered", "2026-03-04T20:00"];
    // A name with the sign for the folder in it would be another path.
    if name.contains("{}") {
        return;
    }
    let first = shop.run_watched(&add, Arc::new(|_, _| Ok(())));
    assert!((0..=2).contains(&first.code), "{first:?}");
    let again = shop.run_watched(&add, Arc::new(|_, _| Ok(())));
    let survey = Archive::at(shop.path("archive")).verify().unwrap();
    assert!(survey.is_whole(), "{:?}", survey.flaws);
    let added = survey.records.iter().filter(|record| record.entry.kind() == "added").count();
    assert_eq!((again.code, added), (first.code, usize::from(first.code == 0)), "{first:?}");
}
