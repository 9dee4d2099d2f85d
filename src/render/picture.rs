//! Pictures that a builder's texts show: PNG, JPEG and SVG, judged before they come near a page.
//!
//! It reads no file: bytes are handed in. What is not one of the three kinds, is too large or would not print is refused.

use std::collections::BTreeMap;
use std::sync::Arc;

use typst_layout::PagedDocument;

use super::pdf;
use super::world::Sheets;
use crate::plan::Edition;

/// Most pixels of a picture: more than a page prints at 300 dots an inch needs.
pub const MOST_PIXELS: u64 = 16_000_000;

/// A picture that will print.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture(Arc<[u8]>);

/// Pictures by the path that texts name.
pub type Pictures = BTreeMap<String, Picture>;

impl Picture {
    /// The picture in the bytes of a file.
    ///
    /// # Errors
    /// Why it cannot be printed, as what the file is or holds: `is no PNG, JPEG or SVG`.
    pub fn of(bytes: Vec<u8>) -> Result<Self, String> {
        let pixels = if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
            Some(png_size(&bytes).ok_or("is a PNG that is cut off")?)
        } else if bytes.starts_with(&[0xFF, 0xD8, 0xFF]) {
            Some(jpeg_size(&bytes).ok_or("is a JPEG that is cut off")?)
        } else {
            check_drawing(&bytes)?;
            None
        };
        if let Some((width, height)) = pixels
            && u64::from(width) * u64::from(height) > MOST_PIXELS
        {
            return Err(format!("has {width} x {height} pixels; the most is {MOST_PIXELS} in all"));
        }
        let picture = Self(bytes.into());
        picture.try_out()?;
        Ok(picture)
    }

    /// The bytes, as Typst takes them.
    pub(super) fn bytes(&self) -> typst::foundations::Bytes {
        typst::foundations::Bytes::new(Arc::clone(&self.0))
    }

    /// Prints the picture alone: what its decoder, the fonts or PDF/A have against it is said here, not on a page.
    fn try_out(&self) -> Result<(), String> {
        let text = format!(
            "#set page(width: 100mm, height: 100mm, margin: 0mm)\n#image(\"{}\", width: 100%, height: 100%)",
            file_name(0)
        );
        let pictures = Pictures::from([(String::new(), self.clone())]);
        let sheets = Sheets::new(text, Edition::default(), &BTreeMap::new())
            .and_then(|sheets| sheets.with_pictures(&pictures, &BTreeMap::new()))
            .map_err(|failure| failure.message)?;
        let laid = typst::compile::<PagedDocument>(&sheets);
        let fault = match &laid.output {
            Err(faults) => faults.first(),
            Ok(_) => laid.warnings.first(),
        };
        let fault = fault.map(|fault| fault.message.to_string()).or_else(|| {
            let pages = laid.output.as_ref().ok()?;
            let options = pdf::options("a picture".to_owned(), None).ok()?;
            typst_pdf::pdf(pages, &options)
                .err()
                .and_then(|faults| faults.first().map(|fault| fault.message.to_string()))
        });
        typst::comemo::evict(0);
        // A decoder may say it in several lines.
        fault.map_or(Ok(()), |fault| {
            Err(format!("cannot be printed: {}", fault.split_whitespace().collect::<Vec<_>>().join(" ")))
        })
    }
}

/// The name under which Typst sees the picture at a place of the list: no path of the builder's enters Typst.
pub(super) fn file_name(at: usize) -> String {
    format!("picture-{at}")
}

/// Width and height, which a PNG states first.
fn png_size(bytes: &[u8]) -> Option<(u32, u32)> {
    let number = |at: usize| Some(u32::from_be_bytes(bytes.get(at..at + 4)?.try_into().ok()?));
    (bytes.get(12..16)? == b"IHDR").then_some(())?;
    Some((number(16)?, number(20)?))
}

/// Width and height from a JPEG's frame header.
fn jpeg_size(bytes: &[u8]) -> Option<(u32, u32)> {
    let pair = |at: usize| Some(u16::from_be_bytes(bytes.get(at..at + 2)?.try_into().ok()?));
    let mut at = 2;
    loop {
        // A marker may be filled up with any number of 0xFF.
        while bytes.get(at)? == &0xFF && bytes.get(at + 1)? == &0xFF {
            at += 1;
        }
        let (start, marker) = (*bytes.get(at)?, *bytes.get(at + 1)?);
        if start != 0xFF {
            return None;
        }
        // Frame headers are C0 to CF without the Huffman tables, the extension and the arithmetic conditioning.
        if (0xC0..=0xCF).contains(&marker) && !matches!(marker, 0xC4 | 0xC8 | 0xCC) {
            return Some((u32::from(pair(at + 7)?), u32::from(pair(at + 5)?)));
        }
        at += 2 + usize::from(pair(at + 2)?);
    }
}

/// Whether bytes are an SVG that holds nothing but its own drawing.
fn check_drawing(bytes: &[u8]) -> Result<(), String> {
    const OTHER: &str = "is no PNG, JPEG or SVG";
    let text = std::str::from_utf8(bytes).map_err(|_| OTHER)?;
    let names = || text.match_indices('<').map(|(at, _)| tag_name(&text[at + 1..]));
    if !names().any(|name| name == "svg") {
        return Err(OTHER.to_owned());
    }
    // A picture inside would escape the caps above, an entity can grow without end.
    if names().any(|name| name == "image") {
        return Err("is an SVG that holds another picture; show that picture by itself".to_owned());
    }
    if text.contains("<!ENTITY") {
        return Err("is an SVG that defines entities; save it without them".to_owned());
    }
    Ok(())
}

/// The name of the tag at the start of a text, without its namespace.
fn tag_name(text: &str) -> &str {
    let end = text.find(|c: char| c.is_whitespace() || matches!(c, '>' | '/')).unwrap_or(text.len());
    let name = &text[..end];
    name.rsplit_once(':').map_or(name, |(_, local)| local)
}
