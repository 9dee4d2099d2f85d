//! Markdown becomes Typst code: calls of fixed functions with string literals, nothing else.
//!
//! HTML prints literally, links print as text with their address.
//! It reads plain Markdown and tables; it runs nothing that a text says.

use std::collections::BTreeMap;
use std::ops::Range;

use pulldown_cmark::{Alignment, CodeBlockKind, Event, HeadingLevel, Options, Parser, Tag, TagEnd};

use super::literal::write_text;
use super::picture::file_name;
use super::text::{Filled, with_values};

/// Deeper nesting than this is printed flat: Typst and the reader both give up.
const DEEPEST: usize = 16;

/// What ends a part that is printed flat: a space, so that its last word stays apart.
const FLAT: &str = "\" \";";

/// The pictures in a text: the path that each names, and its range of the text's bytes.
pub(super) fn pictures(text: &str) -> impl Iterator<Item = (String, Range<usize>)> + '_ {
    let events = Parser::new_ext(text, Options::ENABLE_TABLES).into_offset_iter();
    events.filter_map(|(event, range)| match event {
        Event::Start(Tag::Image { dest_url, .. }) => Some((dest_url.into_string(), range)),
        _ => None,
    })
}

/// Typst code for a filled-in text; a code block that gives content. A picture prints where its path has a place in
/// the list of pictures, else its description stands in its place.
pub(super) fn to_typst(text: &Filled, pictures: &BTreeMap<String, usize>) -> String {
    let mut writer =
        Writer { out: String::from("{"), values: &text.values, pictures, open: Vec::new(), links: Vec::new() };
    let events: Vec<Event<'_>> = Parser::new_ext(&text.markdown, Options::ENABLE_TABLES).collect();
    for (at, event) in events.iter().enumerate() {
        if matches!(event, Event::Start(Tag::Paragraph)) && holds_picture(&events[at..]) {
            // A picture is a block of its own and cannot stand inside a paragraph.
            writer.open("md-flow({none;", "});");
        } else {
            writer.event(event);
        }
    }
    writer.out.push('}');
    writer.out
}

/// Whether the paragraph at the start of the events holds a picture.
fn holds_picture(events: &[Event<'_>]) -> bool {
    let paragraph = events.iter().take_while(|event| !matches!(event, Event::End(TagEnd::Paragraph)));
    paragraph.into_iter().any(|event| matches!(event, Event::Start(Tag::Image { .. })))
}

struct Writer<'a> {
    out: String,
    values: &'a [String],
    pictures: &'a BTreeMap<String, usize>,
    /// For each open tag, what closes it.
    open: Vec<&'static str>,
    /// Addresses of the open links, with the place where their text starts.
    links: Vec<(String, usize)>,
}

impl Writer<'_> {
    fn event(&mut self, event: &Event<'_>) {
        match event {
            Event::Start(tag) => self.start(tag),
            Event::End(end) => self.end(*end),
            Event::Code(text) => self.call("md-code", text),
            Event::Text(text)
            | Event::Html(text)
            | Event::InlineHtml(text)
            | Event::InlineMath(text)
            | Event::DisplayMath(text)
            | Event::FootnoteReference(text) => self.text(text),
            Event::SoftBreak => self.out.push_str("\" \";"),
            Event::HardBreak => self.out.push_str("linebreak();"),
            Event::Rule => self.out.push_str("md-rule();"),
            Event::TaskListMarker(done) => self.text(if *done { "[x] " } else { "[ ] " }),
        }
    }

    fn text(&mut self, text: &str) {
        // Writing to a String cannot fail.
        let _ = write_text(&mut self.out, &with_values(text, self.values));
        self.out.push(';');
    }

    fn call(&mut self, function: &str, text: &str) {
        self.out.push_str(function);
        self.out.push('(');
        let _ = write_text(&mut self.out, &with_values(text, self.values));
        self.out.push_str(");");
    }

    fn open(&mut self, opening: &str, closing: &'static str) {
        let (opening, closing) = if self.open.len() < DEEPEST { (opening, closing) } else { ("", FLAT) };
        self.out.push_str(opening);
        self.open.push(closing);
    }

    fn start(&mut self, tag: &Tag<'_>) {
        match tag {
            // HTML prints as it is written, and stands apart as it is written.
            Tag::Paragraph | Tag::HtmlBlock => self.open("md-paragraph({\"\";", "});"),
            Tag::Heading { level, .. } => self.open(heading(*level), "});"),
            Tag::BlockQuote(_) => self.open("md-quote({\"\";", "});"),
            Tag::CodeBlock(kind) => {
                self.open("md-block({\"\";", "});");
                if let CodeBlockKind::Fenced(language) = kind
                    && !language.is_empty()
                {
                    self.text(language);
                    self.out.push_str("linebreak();");
                }
            }
            Tag::List(None) => self.open("md-list(", ");"),
            Tag::List(Some(first)) => {
                let first = *first;
                self.open(&format!("md-numbers({first},"), ");");
            }
            Tag::Emphasis => self.open("emph({\"\";", "});"),
            Tag::Strong => self.open("strong({\"\";", "});"),
            Tag::Link { dest_url, .. } => {
                self.open("{\"\";", "};");
                self.links.push((with_values(dest_url, self.values), self.out.len()));
            }
            Tag::Image { dest_url, .. } => {
                let place = self.pictures.get(&with_values(dest_url, self.values));
                let file = place.map_or_else(|| "none".to_owned(), |at| format!("\"{}\"", file_name(*at)));
                self.open(&format!("md-picture({file},{{\"\";"), "});");
            }
            Tag::Table(columns) => self.start_table(columns),
            Tag::TableHead | Tag::TableRow => self.open_part("(", "),"),
            Tag::Item | Tag::TableCell => self.open_part("{\"\";", "},"),
            _ => self.open("{\"\";", "};"),
        }
    }

    /// A part of a list or table: an argument where the whole is printed as such, a statement where it is printed flat.
    fn open_part(&mut self, opening: &str, closing: &'static str) {
        let whole = self.open.last().is_some_and(|outer| matches!(*outer, ");" | "),"));
        self.out.push_str(if whole { opening } else { "" });
        self.open.push(if whole { closing } else { FLAT });
    }

    fn start_table(&mut self, columns: &[Alignment]) {
        let aligned = columns.iter().map(|column| match column {
            Alignment::Right => "right,",
            Alignment::Center => "center,",
            Alignment::Left | Alignment::None => "left,",
        });
        let opening = format!("md-table(({}),", aligned.collect::<String>());
        self.open(&opening, ");");
    }

    fn end(&mut self, end: TagEnd) {
        if end == TagEnd::Link
            && let Some((address, start)) = self.links.pop()
        {
            let mut shown = String::new();
            let _ = write_text(&mut shown, &address);
            let written = &self.out[start..];
            if !address.is_empty() && written.trim_end_matches(';') != shown {
                self.text(&format!(" ({address})"));
            }
        }
        if let Some(closing) = self.open.pop() {
            self.out.push_str(closing);
        }
    }
}

const fn heading(level: HeadingLevel) -> &'static str {
    match level {
        HeadingLevel::H1 | HeadingLevel::H2 => "md-heading(1, {\"\";",
        _ => "md-heading(2, {\"\";",
    }
}
