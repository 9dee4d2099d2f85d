//! The keys of `picture`: the builder's own picture of an assembly, and where on it each joint lies.
//!
//! It reads places; whether a picture prints and a joint exists is seen elsewhere. A place outside the picture is refused
//! as far as the file tells: beyond 100 per cent, or beyond the width in which it is printed.

use super::form::{Distance, Filled, TextMap};
use super::list::section;
use super::read::Reading;
use crate::text::Spanned;
use crate::units::{Decimal, Length, Style};

section! {
    /// The builder's own picture of the assembly, printed in front of the packet with the joints marked on it. It shows the
    /// first hand of `hands`.
    PictureSpec = "picture" checked by check {
        /// PNG, JPEG or SVG in the folder of pictures.
        file "file": need Filled => wording,
        /// Width in print. Default: what the page has room for. Needed where a mark is placed in lengths.
        width "width": may Distance => wording,
        /// Where each joint lies, by its id: from the left and from the top, in per cent of the picture or in lengths of the
        /// print, as `"30 %, 45 %"` or `"12 mm, 20 mm"`. Several places of one joint are parted by `;`.
        marks "marks": any TextMap => wording,
    }
}

/// How far along one side of the picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Along {
    /// Millionths of a per cent of the side.
    Percent(i64),
    /// A length on the print.
    Length(Length),
}

/// A place on the picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MarkPlace {
    /// From the left.
    pub right: Along,
    /// From the top.
    pub down: Along,
}

/// The whole side, in millionths of a per cent.
const WHOLE: i64 = 100_000_000;

impl PictureSpec {
    /// The places of one mark as written.
    ///
    /// # Errors
    /// What is wrong with them, as the end of a sentence that begins with the joint.
    pub fn places(&self, written: &str, style: &Style) -> Result<Vec<MarkPlace>, String> {
        written.split(';').map(|one| self.place(one, style)).collect()
    }

    fn place(&self, written: &str, style: &Style) -> Result<MarkPlace, String> {
        let parts: Vec<&str> = written.split(',').map(str::trim).collect();
        let [right, down] = parts[..] else {
            return Err(format!(
                "`{}` is no place: write it from the left and from the top, as `30 %, 45 %`",
                written.trim()
            ));
        };
        let place = MarkPlace { right: self.along(right, style)?, down: self.along(down, style)? };
        match (place.right, self.width) {
            (Along::Length(at), Some(width)) if at > width.value => Err(format!(
                "{} from the left lies outside the picture, which is printed {} wide",
                style.length(at),
                style.length(width.value)
            )),
            _ => Ok(place),
        }
    }

    fn along(&self, written: &str, style: &Style) -> Result<Along, String> {
        let Some(percent) = written.strip_suffix('%') else {
            let length = Length::parse(written, style.unit).map_err(|fault| fault.to_string())?;
            return match self.width {
                _ if length < Length::ZERO => Err(format!("{written} lies outside the picture")),
                None => Err(format!("{written} is a length: give the `width` of the picture too, or write per cent")),
                Some(_) => Ok(Along::Length(length)),
            };
        };
        let percent = Decimal::parse(percent).map_err(|fault| fault.to_string())?.micro();
        let is_inside = (0..=WHOLE).contains(&percent);
        is_inside.then_some(Along::Percent(percent)).ok_or_else(|| format!("{written} lies outside the picture"))
    }

    /// A mark that lies below the picture: its joint, with how far down it was placed and how high the picture is in print, where
    /// the picture is `width` and `height` of any unit.
    #[must_use]
    pub fn below(&self, (width, height): (i64, i64), style: &Style) -> Option<(&Spanned<String>, Length, Length)> {
        let printed = self.width?.value.fraction(height, width.max(1));
        self.marks.iter().find_map(|(joint, written)| {
            let places = self.places(&written.value, style).ok()?;
            let lowest = places.iter().filter_map(|place| match place.down {
                Along::Length(down) if down > printed => Some(down),
                Along::Length(_) | Along::Percent(_) => None,
            });
            Some((joint, lowest.max()?, printed))
        })
    }
}

/// What a page has beside its margins on either paper.
const PAGE_WIDTH: Length = Length::from_microns(165_000);

fn check(picture: &PictureSpec, reading: &mut Reading) {
    if let Some(width) = picture.width.filter(|width| width.value > PAGE_WIDTH) {
        let room = reading.style.length(PAGE_WIDTH);
        let message = format!("`width` is {}, but a page has room for {room}", reading.style.length(width.value));
        reading.invalid(width.span, message);
    }
    let style = reading.style.clone();
    for (joint, written) in &picture.marks {
        if let Err(fault) = picture.places(&written.value, &style) {
            let finding = reading.invalid(written.span, format!("`marks`, {}: {fault}", joint.value));
            finding.help =
                Some("a place is `\"30 %, 45 %\"`, or `\"12 mm, 20 mm\"` on a picture with a `width`".to_owned());
        }
    }
}
