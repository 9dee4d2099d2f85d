//! Reads the fixed words of templates by Typst's own parser: phrases, and words that are none yet.
//!
//! What minijinja fills in counts as a value.

use typst::syntax::{LinkedNode, Source, SyntaxKind};

/// A phrase of a template, or words that are none.
#[derive(Debug)]
pub struct Words {
    pub line: usize,
    pub text: String,
    pub is_phrase: bool,
}

/// The fixed words of a template: strings and text. The pieces of a phrase that is put together with `+` are one.
pub fn words(template: &str) -> Vec<Words> {
    let source = Source::detached(without_values(template));
    let mut found = Vec::new();
    walk(&LinkedNode::new(source.root()), source.text(), &mut found);
    found
}

fn walk(node: &LinkedNode<'_>, text: &str, found: &mut Vec<Words>) {
    let line = text[..node.offset()].matches('\n').count() + 1;
    let mut add = |text: String, is_phrase| found.push(Words { line, text, is_phrase });
    match node.kind() {
        SyntaxKind::Text => add(node.leaf_text().to_string(), false),
        SyntaxKind::Str => add(unquoted(node.leaf_text()), false),
        _ => {}
    }
    let key = key_of(node);
    if let Some(key) = &key {
        add(strings(key).concat(), true);
    }
    for child in node.children() {
        if key.as_ref().is_none_or(|key| key.offset() != child.offset()) {
            walk(&child, text, found);
        }
    }
}

/// The first argument among the arguments of `say`.
fn key_of<'a>(node: &LinkedNode<'a>) -> Option<LinkedNode<'a>> {
    let call = node.parent().filter(|_| node.kind() == SyntaxKind::Args)?;
    let name = call.children().next()?;
    let blank = |child: &LinkedNode<'_>| matches!(child.kind(), SyntaxKind::LeftParen | SyntaxKind::Space);
    node.children().find(|child| !blank(child)).filter(|_| name.leaf_text() == "say")
}

fn strings(node: &LinkedNode<'_>) -> Vec<String> {
    match node.kind() {
        SyntaxKind::Str => vec![unquoted(node.leaf_text())],
        _ => node.children().flat_map(|child| strings(&child)).collect(),
    }
}

fn unquoted(literal: &str) -> String {
    literal.trim_matches('"').replace("\\\"", "\"").replace("\\n", "\n").replace("\\\\", "\\")
}

/// A template with a number in the place of each value, and without what minijinja decides; lines stay where they are.
fn without_values(template: &str) -> String {
    let mut text = String::new();
    let mut rest = template;
    while let Some(at) = rest.find("{{").into_iter().chain(rest.find("{%")).chain(rest.find("{#")).min() {
        text.push_str(&rest[..at]);
        let end = match &rest[at..at + 2] {
            "{{" => "}}",
            "{%" => "%}",
            _ => "#}",
        };
        let inner = rest[at..].find(end).map_or(rest.len(), |length| at + length + 2);
        // A value stands for code; its line breaks stay.
        text.push_str(if end == "}}" { "0" } else { "" });
        text.extend(std::iter::repeat_n('\n', rest[at..inner].matches('\n').count()));
        rest = &rest[inner..];
    }
    text + rest
}

#[test]
fn words_of_a_template_are_read() {
    let template =
        "{#- about -#}\n#head(say(\"A b\", n: \"C d\"), {{ x | f(\"no\") }})\nSome words #say(\"E \"\n + \"f\")\n";
    let read: Vec<_> = words(template).into_iter().map(|own| (own.line, own.text, own.is_phrase)).collect();
    let own = |line, text: &str, is_phrase| (line, text.to_owned(), is_phrase);
    assert_eq!(read, [own(2, "A b", true), own(2, "C d", false), own(3, "Some words", false), own(3, "E f", true)]);
}
