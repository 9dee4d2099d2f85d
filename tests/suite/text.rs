//! Places in files: line and column count from one, columns count characters.

use proptest::prelude::*;
use shophead::text::{Files, Position, Span};

#[test]
fn positions_count_lines_and_characters_from_one() {
    let mut files = Files::default();
    let file = files.add("a.toml", "one\nzwei ä x\n\nend");
    let at = |start| files.position(Span { file, start, end: start });
    assert_eq!(at(0), Position { line: 1, column: 1 });
    assert_eq!(at(4), Position { line: 2, column: 1 });
    // `ä` takes two bytes and one column.
    assert_eq!(at(12), Position { line: 2, column: 8 });
    assert_eq!(at(14), Position { line: 3, column: 1 });
    assert_eq!(at(15), Position { line: 4, column: 1 });
    assert_eq!(at(999), Position { line: 4, column: 4 });
}

#[test]
fn line_bounds_leave_the_line_break_out() {
    let mut files = Files::default();
    let file = files.add("a.toml", "one\ntwo\n");
    assert_eq!(files.line_bounds(file, 5), (4, 7));
    assert_eq!(files.line_bounds(file, 8), (8, 8));
}

proptest! {
    #[test]
    fn any_span_of_any_text_has_a_position(text in ".{0,80}", start in 0_usize..120) {
        let mut files = Files::default();
        let file = files.add("a.toml", text.as_str());
        let position = files.position(Span { file, start, end: start });
        prop_assert!(position.line >= 1 && position.column >= 1);
        prop_assert!(position.line <= text.matches('\n').count() + 1);
    }
}
