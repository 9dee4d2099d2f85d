//! Page codes: what the machine-readable code of a page says, and reading it back.
//!
//! A page is told by the sheet, the print and its number in that print. Two prints whose pages are laid out differently have
//! different codes, so that a box on a scan is never looked for at the place that it has in another print. Pages of older
//! archives say no print.

use std::fmt;

use super::SheetCode;

/// What the code of a page says: `K7QM3-D2X9F/040-070/5/Z1B2CD3E4F`; on a packet of both hands `K7QM3-D2X9F+P34VG-MEWJE/5/..`.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PageCode {
    /// The sheet; of both hands that of the left one.
    pub sheet: SheetCode,
    /// The sheet of the right hand, on a packet of both.
    pub other: Option<SheetCode>,
    /// The run of steps of an excerpt.
    pub part: Option<String>,
    /// The page in its print, counted from one.
    pub page: u32,
    /// The print; absent on pages of older programs.
    pub print: Option<SheetCode>,
}

impl fmt::Display for PageCode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let part = self.part.as_ref().map(|part| format!("{part}/")).unwrap_or_default();
        let other = self.other.map(|other| format!("+{other}")).unwrap_or_default();
        write!(f, "{}{other}/{part}{}", self.sheet, self.page)?;
        // Without the dash: the code has little room.
        self.print.map_or(Ok(()), |print| write!(f, "/{}", print.to_string().replace('-', "")))
    }
}

impl PageCode {
    /// Reads what a scan of a page's code gives; nothing where it is none, or one of its codes was misread.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let fields: Vec<&str> = text.split('/').collect();
        let number = |text: &str| text.parse::<u32>().ok().filter(|page| *page > 0);
        let print = |text: &str| SheetCode::parse(text).ok();
        let (sheet, part, page, print) = match fields.as_slice() {
            [sheet, page] => (sheet, None, number(page)?, None),
            [sheet, part, page, own] => (sheet, Some((*part).to_owned()), number(page)?, Some(print(own)?)),
            // A print is a whole code of ten characters, a page never is.
            [sheet, page, own] if print(own).is_some() => (sheet, None, number(page)?, print(own)),
            [sheet, part, page] => (sheet, Some((*part).to_owned()), number(page)?, None),
            _ => return None,
        };
        let codes: Vec<&str> = sheet.split('+').collect();
        let (sheet, other) = match codes.as_slice() {
            [sheet] => (sheet, None),
            [sheet, other] => (sheet, Some(SheetCode::parse(other).ok()?)),
            _ => return None,
        };
        Some(Self { sheet: SheetCode::parse(sheet).ok()?, other, part, page, print })
    }
}
