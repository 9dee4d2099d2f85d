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

/// The fixed words of a template: strings and text.
pub fn words(template: &str) -> Vec<Words> {
    let source = Source::detached(without_values(template));
    let mut found = Vec::new();
    walk(&LinkedNode::new(source.root()), &mut |node| {
        let text = match node.kind() {
            SyntaxKind::Text => node.leaf_text().to_string(),
            SyntaxKind::Str => unquoted(node.leaf_text()),
            _ => return,
        };
        let line = source.text()[..node.offset()].matches('\n').count() + 1;
        found.push(Words { line, text, is_phrase: is_said(node) });
    });
    found
}

/// Whether a string is the first argument of `say`.
fn is_said(node: &LinkedNode<'_>) -> bool {
    let Some(arguments) = node.parent().filter(|parent| parent.kind() == SyntaxKind::Args) else { return false };
    let first = arguments.children().find(|child| !matches!(child.kind(), SyntaxKind::LeftParen | SyntaxKind::Space));
    let called = arguments.parent().and_then(|call| call.children().next().map(|name| name.leaf_text().to_string()));
    called.as_deref() == Some("say") && first.is_some_and(|first| first.offset() == node.offset())
}

fn walk(node: &LinkedNode<'_>, each: &mut impl FnMut(&LinkedNode<'_>)) {
    each(node);
    for child in node.children() {
        walk(&child, each);
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
    let template = "{#- about -#}\n#head(say(\"A b\", n: \"C d\"), {{ x | f(\"no\") }})\nSome words #say(\"E\")\n";
    let read: Vec<_> = words(template).into_iter().map(|own| (own.line, own.text, own.is_phrase)).collect();
    let own = |line, text: &str, is_phrase| (line, text.to_owned(), is_phrase);
    assert_eq!(read, [own(2, "A b", true), own(2, "C d", false), own(3, "Some words", false), own(3, "E", true)]);
}
