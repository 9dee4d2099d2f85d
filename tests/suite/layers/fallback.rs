//! A value in the place of one that is missing says why: silence there hides a fault or a fact that nobody recorded.
//!
//! The comment stands in the line, above its statement, or above a function of that statement alone. Words that are
//! added only where there is something to say (`.map(|x| format!(..)).unwrap_or_default()`) need none.

use super::sources;

const FALLBACKS: [&str; 6] =
    ["unwrap_or_default()", ".unwrap_or(", ".map_or(0", ".map_or(1", ".map_or(false,", ".map_or(true,"];
const PLAIN: [&str; 6] = ["true)", "false)", "\"\")", "u32::MAX)", "i64::MAX)", "usize::MAX)"];

/// Whether a line of code puts a plain value in the place of one that is missing.
fn falls_back(code: &str) -> bool {
    FALLBACKS.into_iter().any(|call| {
        code.match_indices(call).any(|(at, _)| {
            let value = code[at + call.len()..].trim_start_matches('&');
            !call.ends_with("or(")
                || value.starts_with(|c: char| c.is_ascii_digit())
                || PLAIN.iter().any(|plain| value.starts_with(plain))
                || value.split(')').next().is_some_and(|value| value.ends_with("::ZERO"))
        })
    })
}

/// Whether the line at `at` says why, or only adds words where there is something to say.
fn says_why(lines: &[&str], at: usize) -> bool {
    let is_clause =
        (lines[at].contains("format!(") || lines[at].contains("say!(")) && lines[at].contains(").unwrap_or_default()");
    if is_clause || lines[at].contains("// ") {
        return true;
    }
    let begins = |line: &str| line.is_empty() || line.ends_with([';', '{', '}', ',']) || line.starts_with("//");
    let mut above = lines[..at].iter().rev().map(|line| line.trim()).skip_while(|line| !begins(line));
    let before = above.next().unwrap_or_default();
    let is_signature = before.ends_with('{') && before.contains("fn ");
    let mut docs = above.skip_while(|line| line.starts_with("#["));
    before.starts_with("//") || is_signature && docs.next().is_some_and(|line| line.starts_with("///"))
}

#[test]
fn a_value_in_the_place_of_a_missing_one_says_why() {
    let mut silent = Vec::new();
    for (path, text) in sources() {
        let lines: Vec<&str> = text.lines().collect();
        for (at, line) in lines.iter().enumerate() {
            if falls_back(line.split("//").next().unwrap()) && !says_why(&lines, at) {
                silent.push(format!("{}:{}: {}", path.display(), at + 1, line.trim()));
            }
        }
    }
    assert!(silent.is_empty(), "a comment above says why this may stand in:\n{}", silent.join("\n"));
}

#[test]
fn the_look_for_fallbacks_sees_what_it_should() {
    for silent in
        ["let a = b.unwrap_or_default();", "x.unwrap_or(0)", "x.max().unwrap_or(Length::ZERO)", "x.map_or(0, |x| x.y)"]
    {
        assert!(falls_back(silent), "{silent}");
        assert!(!says_why(&["// Of the line before.", "let c = 1;", silent], 2), "{silent}");
        assert!(says_why(&["// None is none.", silent], 1), "{silent}");
        assert!(says_why(&["/// None is none.", "#[must_use]", "fn a() {", silent], 3), "{silent}");
    }
    for stated in ["x.unwrap_or(least)", "x.unwrap_or(Weight::Major)", "x.map_or(name, str::len)"] {
        assert!(!falls_back(stated), "{stated}");
    }
    assert!(says_why(&["a.map(|a| format!(\", {a}\")).unwrap_or_default();"], 0));
}
