//! Whether an SVG is taken: by what it contains, counted before anything draws it.
//!
//! Plain shapes, text, gradients, clips, patterns and markers are drawn; what runs, loads, rasterises or shows another file is
//! refused by its name, and so is a drawing that unfolds into more than a page needs. It draws nothing.

use std::collections::{BTreeMap, BTreeSet};

use roxmltree::{Document, Node, ParsingOptions};

use crate::text::{unprintable, unprintable_words};
use crate::units::Decimal;

const SVG: &str = "http://www.w3.org/2000/svg";

/// Elements that are drawn or describe what is drawn, of SVG 1.1. Filters, masks, pictures, scripts, animations and text on a
/// path are not among them.
const DRAWN: [&str; 25] = [
    "svg",
    "g",
    "a",
    "switch",
    "defs",
    "symbol",
    "use",
    "title",
    "desc",
    "metadata",
    "style",
    "path",
    "rect",
    "circle",
    "ellipse",
    "line",
    "polyline",
    "polygon",
    "text",
    "tspan",
    "linearGradient",
    "radialGradient",
    "stop",
    "clipPath",
    "marker",
];
/// The one more that is drawn and may be shared by many shapes.
const PATTERN: &str = "pattern";
/// What shapes refer to and what is then drawn once more, or at each of their corners.
const SHARED: [&str; 3] = ["marker", PATTERN, "clipPath"];

/// Most elements of a file.
const MOST_ELEMENTS: usize = 50_000;
/// Deepest nesting.
const DEEPEST: usize = 64;
/// Most shapes once everything that is used several times is drawn.
const MOST_SHAPES: u64 = 200_000;
/// Most letters.
const MOST_LETTERS: usize = 50_000;

const OTHER: &str = "is no PNG, JPEG or SVG";

/// Whether bytes are an SVG that holds nothing but its own drawing.
///
/// # Errors
/// What is wrong, as what the file is or holds.
pub(super) fn check(bytes: &[u8]) -> Result<(), String> {
    let text = std::str::from_utf8(bytes).map_err(|_| OTHER)?;
    // An entity can grow without end: refused before anything reads on.
    if text.contains("<!ENTITY") {
        return Err("is an SVG that defines entities; save it without them".to_owned());
    }
    require_flat(text)?;
    // Old programs write a document type, which says nothing more without entities.
    let nodes_limit = 4 * u32::try_from(MOST_ELEMENTS).map_err(|_| OTHER)?;
    let options = ParsingOptions { allow_dtd: true, nodes_limit, ..ParsingOptions::default() };
    let drawing = match Document::parse_with_options(text, options) {
        Ok(drawing) => drawing,
        Err(roxmltree::Error::NodesLimitReached) => {
            return Err(format!("is an SVG of more than {MOST_ELEMENTS} elements; draw it plainer"));
        }
        Err(fault) if text.contains("<svg") => return Err(format!("cannot be printed: {fault}")),
        Err(_) => return Err(OTHER.to_owned()),
    };
    if drawing.root_element().tag_name().name() != "svg" {
        return Err(OTHER.to_owned());
    }
    let drawn = Drawn::of(&drawing)?;
    drawn.require_few_shapes()?;
    require_letters(&drawing)
}

/// Width and height that a drawing which was taken states, in thousandths of its own unit.
pub(super) fn size(bytes: &[u8]) -> Option<(i64, i64)> {
    let options = ParsingOptions { allow_dtd: true, ..ParsingOptions::default() };
    let drawing = Document::parse_with_options(std::str::from_utf8(bytes).ok()?, options).ok()?;
    let root = drawing.root_element();
    let number = |text: &str| Some(Decimal::parse(text.trim_end_matches(char::is_alphabetic)).ok()?.micro() / 1_000);
    let stated = root.attribute("width").and_then(number).zip(root.attribute("height").and_then(number));
    stated.or_else(|| {
        let all: Vec<i64> = root.attribute("viewBox")?.split([' ', ',']).filter_map(number).collect();
        match all[..] {
            [_, _, width, height] => Some((width, height)),
            _ => None,
        }
    })
}

/// Refuses what is nested deep before the reader goes as deep.
fn require_flat(text: &str) -> Result<(), String> {
    let mut depth = 0_usize;
    for (at, _) in text.match_indices('<') {
        let rest = &text[at + 1..];
        match rest.chars().next() {
            Some('/') => depth = depth.saturating_sub(1),
            Some('!' | '?') => {}
            _ if rest.split_once('>').is_some_and(|(tag, _)| tag.ends_with('/')) => {}
            _ => depth += 1,
        }
        if depth > 4 * DEEPEST {
            return Err(format!("is an SVG nested more than {DEEPEST} deep; ungroup it"));
        }
    }
    Ok(())
}

/// The elements that draw, with what they refer to.
struct Drawn<'a, 'input> {
    root: Node<'a, 'input>,
    ids: BTreeMap<&'a str, Node<'a, 'input>>,
    /// The ids of what many shapes may share.
    shared: BTreeSet<&'a str>,
    /// Whether a shape may have a marker at each of its corners.
    at_corners: bool,
}

impl<'a, 'input> Drawn<'a, 'input> {
    fn of(drawing: &'a Document<'input>) -> Result<Self, String> {
        let mut drawn =
            Self { root: drawing.root_element(), ids: BTreeMap::new(), shared: BTreeSet::new(), at_corners: false };
        let shared = drawing.descendants().filter(|node| SHARED.contains(&node.tag_name().name()));
        drawn.shared = shared.filter_map(|node| node.attribute("id")).collect();
        let mut elements = 0;
        for node in drawing.descendants().filter(Node::is_element) {
            elements += 1;
            if elements > MOST_ELEMENTS {
                return Err(format!("is an SVG of more than {MOST_ELEMENTS} elements; draw it plainer"));
            }
            if node.ancestors().filter(Node::is_element).count() > DEEPEST {
                return Err(format!("is an SVG nested more than {DEEPEST} deep; ungroup it"));
            }
            // What other programs keep for themselves is not drawn.
            if node.ancestors().any(|own| own.is_element() && !is_svg(&own)) {
                continue;
            }
            drawn.element(&node)?;
        }
        Ok(drawn)
    }

    fn element(&mut self, node: &Node<'a, 'input>) -> Result<(), String> {
        let name = node.tag_name().name();
        if matches!(name, "image" | "feImage") {
            return Err("is an SVG that holds another picture; show that picture by itself".to_owned());
        }
        if !DRAWN.contains(&name) && name != PATTERN {
            let line = node.document().text_pos_at(node.range().start).row;
            return Err(format!("is an SVG with <{name}> (line {line}), which is not drawn; save it as plain shapes"));
        }
        for attribute in node.attributes() {
            let value = attribute.value();
            let plain = match attribute.name() {
                "href" => value.starts_with('#'),
                "filter" | "mask" => value.trim() == "none",
                name if name.starts_with("on") => false,
                "style" => plain_style(value),
                _ => plain_value(value),
            };
            if !plain {
                let line = node.document().text_pos_at(attribute.range().start).row;
                let name = attribute.name();
                return Err(format!(
                    "is an SVG with `{name}` on line {line}, which leads out of the drawing or is not drawn; save it as plain shapes"
                ));
            }
            self.at_corners |= attribute.name().starts_with("marker-mid") || attribute.name() == "marker";
            self.at_corners |= value.contains("marker-mid") || value.contains("marker:");
        }
        if name == "style" {
            // An empty sheet refers to nothing.
            let rules = node.text().unwrap_or_default();
            // A rule applies to any element: what it refers to could be drawn anywhere.
            if !plain_style(rules) || rules.contains("url(") || rules.contains("@import") {
                return Err("is an SVG whose style sheet refers to something; save it with plain attributes".to_owned());
            }
        }
        let shared = node.ancestors().skip(1).any(|own| SHARED.contains(&own.tag_name().name()));
        let refers = name == "use" || self.refers(node);
        if shared && refers {
            return Err(
                "is an SVG whose markers, patterns or clips refer to further ones; save it as plain shapes".to_owned()
            );
        }
        if let Some(id) = node.attribute("id") {
            self.ids.entry(id).or_insert(*node);
        }
        Ok(())
    }

    /// Whether a node refers by `url(#..)` to what is drawn once more for it.
    fn refers(&self, node: &Node<'_, '_>) -> bool {
        let ids = node.attributes().flat_map(|own| own.value().split("url(").skip(1).collect::<Vec<_>>());
        ids.filter_map(|rest| rest.split(')').next()).any(|id| {
            let id = id.trim_matches(|c: char| matches!(c, '#' | '"' | '\'') || c.is_whitespace());
            self.shared.contains(id)
        })
    }

    /// Counts what is drawn when everything that is used several times is.
    fn require_few_shapes(&self) -> Result<(), String> {
        let mut shared = 0;
        for node in self.ids.values().filter(|node| SHARED.contains(&node.tag_name().name())) {
            shared = self.shapes(*node, &mut BTreeSet::new(), &mut BTreeMap::new())?.max(shared);
        }
        let shapes = self.shapes(self.root, &mut BTreeSet::new(), &mut BTreeMap::new())?;
        if shapes.saturating_mul(1 + shared) > MOST_SHAPES {
            return Err(format!("is an SVG that unfolds into more than {MOST_SHAPES} shapes; draw it plainer"));
        }
        Ok(())
    }

    /// Shapes that a node draws; a use of what is being drawn never ends.
    fn shapes(
        &self,
        node: Node<'a, 'input>,
        open: &mut BTreeSet<u32>,
        known: &mut BTreeMap<u32, u64>,
    ) -> Result<u64, String> {
        if let Some(shapes) = known.get(&node.id().get()) {
            return Ok(*shapes);
        }
        if open.len() > DEEPEST || !open.insert(node.id().get()) {
            return Err("is an SVG that uses itself; save it as plain shapes".to_owned());
        }
        // A shape with markers at its corners counts for each of them.
        let corners = node.attribute("d").or(node.attribute("points")).filter(|_| self.at_corners);
        // A shape without corners has none to count.
        let mut shapes = 1 + corners.map_or(0, |all| all.len() as u64 / 4);
        for child in node.children().filter(Node::is_element) {
            shapes = shapes.saturating_add(self.shapes(child, open, known)?);
        }
        if node.tag_name().name() == "use"
            && let Some(used) = node.attributes().find(|own| own.name() == "href")
            && let Some(target) = self.ids.get(used.value().trim_start_matches('#'))
        {
            shapes = shapes.saturating_add(self.shapes(*target, open, known)?);
        }
        open.remove(&node.id().get());
        known.insert(node.id().get(), shapes);
        Ok(shapes)
    }
}

fn is_svg(node: &Node<'_, '_>) -> bool {
    matches!(node.tag_name().namespace(), None | Some(SVG))
}

/// Whether a value leads nowhere but into the drawing itself.
fn plain_value(value: &str) -> bool {
    value.split("url(").skip(1).all(|rest| rest.trim_start_matches(['"', '\'', ' ']).starts_with('#'))
}

/// The same of a list of properties, none of which may ask for a filter or a mask.
fn plain_style(style: &str) -> bool {
    let asks = |name: &str| {
        style.split([';', '{', '}']).any(|one| {
            one.split_once(':')
                .is_some_and(|(key, value)| key.trim().eq_ignore_ascii_case(name) && value.trim() != "none")
        })
    };
    plain_value(style) && !asks("filter") && !asks("mask") && !style.contains('\\')
}

/// Refuses letters that the paper's fonts lack, with their place, and too many of any.
fn require_letters(drawing: &Document<'_>) -> Result<(), String> {
    let mut letters = 0;
    let texts = drawing.descendants().filter(|node| matches!(node.tag_name().name(), "text" | "tspan"));
    for text in texts.flat_map(|node| node.children().filter(Node::is_text)) {
        // A node of text has one.
        let written = text.text().unwrap_or_default();
        letters += written.len();
        if letters > MOST_LETTERS {
            return Err(format!("is an SVG with more than {MOST_LETTERS} letters; write them beside it"));
        }
        if let Some((at, c)) = unprintable(written) {
            let line = drawing.text_pos_at(text.range().start + at).row;
            return Err(format!(
                "is an SVG whose text `{}` on line {line} holds {}",
                written.trim(),
                unprintable_words(c)
            ));
        }
    }
    Ok(())
}
