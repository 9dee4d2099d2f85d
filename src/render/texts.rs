//! The text and the pictures of a laid-out page, for tests and for reading back what was printed.
//!
//! Pieces that Typst set side by side are joined; it does not put text in reading order beyond the layout's own.

use typst::layout::{Abs, Frame, FrameItem, Point};

use super::boxes::{Micrometres, micrometres};

/// Gap in points from which two pieces on a line are two words.
const WORD_GAP: f64 = 1.0;

pub(super) fn of(frame: &Frame) -> String {
    let mut reader = Reader { text: String::new(), last: None, ends: Vec::new() };
    reader.frame(frame, Point::zero());
    reader.text
}

/// Where each piece of text ends, and the piece.
pub(super) fn ends(frame: &Frame) -> impl Iterator<Item = (Micrometres, String)> + use<> {
    let mut reader = Reader { text: String::new(), last: None, ends: Vec::new() };
    reader.frame(frame, Point::zero());
    reader.ends.into_iter()
}

/// Width and height of each picture.
pub(super) fn pictures(frame: &Frame) -> Vec<(Micrometres, Micrometres)> {
    let mut found = Vec::new();
    for (_, item) in frame.items() {
        match item {
            FrameItem::Group(group) => found.extend(pictures(&group.frame)),
            FrameItem::Image(_, size, _) => found.push((micrometres(size.x), micrometres(size.y))),
            _ => {}
        }
    }
    found
}

struct Reader {
    text: String,
    /// Where the last piece ended.
    last: Option<Point>,
    ends: Vec<(Micrometres, String)>,
}

impl Reader {
    fn frame(&mut self, frame: &Frame, origin: Point) {
        for (at, item) in frame.items() {
            let at = origin + *at;
            match item {
                FrameItem::Group(group) => {
                    self.frame(&group.frame, at + Point::new(group.transform.tx, group.transform.ty));
                }
                FrameItem::Text(piece) => self.piece(&piece.text, at, piece.width()),
                _ => {}
            }
        }
    }

    fn piece(&mut self, text: &str, at: Point, width: Abs) {
        if let Some(last) = self.last {
            if (at.y - last.y).abs().to_pt() > WORD_GAP {
                self.text.push('\n');
            } else if (at.x - last.x).abs().to_pt() > WORD_GAP {
                self.text.push(' ');
            }
        }
        self.text.push_str(text);
        self.last = Some(Point::new(at.x + width, at.y));
        self.ends.push((micrometres(at.x + width), text.to_owned()));
    }
}
