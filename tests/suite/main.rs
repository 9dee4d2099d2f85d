//! The one test binary; its modules mirror `src`; `build` is what they stand on.

// A test that cannot go on has failed, and says so best by panicking where it stands.
#![allow(clippy::unwrap_used, clippy::missing_panics_doc)]

use std::sync::LazyLock;

use shophead::units::{Style, Unit};

mod archive;
mod build;
mod calendar;
mod cli;
mod figure;
mod fuzz;
mod hardware;
mod ident;
mod job;
mod layers;
mod limits;
mod phrase;
mod plan;
mod render;
mod report;
mod rules;
mod spec;
mod start;
mod text;
mod units;
mod words;
mod work;

#[test]
fn every_test_file_is_declared() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/suite");
    let text = std::fs::read_to_string(folder.join("main.rs")).unwrap();
    for entry in std::fs::read_dir(&folder).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        let Some(stem) = name.strip_suffix(".rs").filter(|stem| *stem != "main") else { continue };
        assert!(text.contains(&format!("mod {stem};")), "tests/suite/{name} is not declared in main.rs");
    }
}

/// How a project in inches prints, where it says no more.
pub static INCH: Style = Style::of(Unit::Inch);

/// How a project in inches prints that asks for millimetres beside them.
pub static BOTH: LazyLock<Style> = LazyLock::new(|| Style::of(Unit::Inch).with_both());
