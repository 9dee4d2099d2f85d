//! Pictures that a builder's texts show: PNG, JPEG and SVG, judged before they come near a page.
//!
//! A picture is tried out on a page of its own before it is taken, and a page has pictures: this file and those that lay
//! out pages know each other for that.
//! It reads no file: bytes are handed in. What is not one of the three kinds, is too large or would not print is refused.

use std::collections::BTreeMap;
use std::sync::Arc;

use imagesize::ImageType;
use typst_layout::PagedDocument;

use super::drawing;
use super::pdf;
use super::world::{Setting, TypstWorld};
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
        match imagesize::image_type(&bytes) {
            Ok(ImageType::Png) => check_pixels(&bytes, "a PNG")?,
            Ok(ImageType::Jpeg) => check_pixels(&bytes, "a JPEG").and_then(|()| check_end(&bytes))?,
            _ => drawing::check(&bytes)?,
        }
        let picture = Self(bytes.into());
        picture.try_out()?;
        Ok(picture)
    }

    /// A picture of bytes that were judged before, by a process that handed them over.
    pub(super) fn judged(bytes: Vec<u8>) -> Self {
        Self(bytes.into())
    }

    /// The bytes of its file.
    #[must_use]
    pub fn file(&self) -> &[u8] {
        &self.0
    }

    /// Its width and height, in pixels or in thousandths of a drawing's own unit; none of a drawing that states neither.
    #[must_use]
    pub fn size(&self) -> Option<(i64, i64)> {
        if let Ok(size) = imagesize::blob_size(&self.0) {
            return Some((i64::try_from(size.width).ok()?, i64::try_from(size.height).ok()?));
        }
        drawing::size(&self.0)
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
        let world = TypstWorld::new(text, Edition::default(), Setting::USUAL, &BTreeMap::new())
            .and_then(|world| world.with_pictures(&pictures, &BTreeMap::new()))
            .map_err(|failure| failure.message)?;
        let laid = typst::compile::<PagedDocument>(&world);
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

/// Whether a picture of pixels states how many it has, and that those are not too many.
fn check_pixels(bytes: &[u8], kind: &str) -> Result<(), String> {
    let size = imagesize::blob_size(bytes).map_err(|_| format!("is {kind} that is cut off"))?;
    let pixels = (size.width as u64).saturating_mul(size.height as u64);
    if pixels > MOST_PIXELS {
        return Err(format!("has {} x {} pixels; the most is {MOST_PIXELS} in all", size.width, size.height));
    }
    Ok(())
}

/// Whether a JPEG goes to its end: what shows pictures fills in what a torn one lacks.
///
/// Inside coded data no byte 0xFF stands before another marker, so that the last scan is found from behind (ITU-T T.81, B.1.1.5).
fn check_end(bytes: &[u8]) -> Result<(), String> {
    let last = |marker: [u8; 2]| bytes.windows(2).rposition(|two| two == marker);
    let scan = last([0xFF, 0xDA]);
    let end = last([0xFF, 0xD9]);
    if scan.is_some() && end > scan { Ok(()) } else { Err("is a JPEG that is cut off".to_owned()) }
}
