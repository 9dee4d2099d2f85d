//! A photo becomes a small grey picture for a page: few bytes, one ink, the right way up.
//!
//! It reads what Typst reads: PNG, JPEG, GIF and WebP by their first bytes. The photo itself is not changed, and what cannot
//! be read is refused rather than shown broken.

use typst::foundations::Bytes;
use typst::visualize::{ExchangeFormat, RasterImage};

use super::failure::Failure;
use crate::plan::Thumbnail;

/// Largest size of a picture on the page in pixels: 82 x 62 mm at 150 dots an inch.
const ACROSS: u32 = 484;
const DOWN: u32 = 363;

/// Largest photo that is read.
const LARGEST: usize = 64 << 20;

/// The small picture of a photo; nothing where the bytes are no photo at all.
///
/// # Errors
/// When it is a photo and cannot be read.
pub fn thumbnail(bytes: &[u8]) -> Result<Option<Thumbnail>, Failure> {
    let Some(format) = ExchangeFormat::detect(bytes) else { return Ok(None) };
    if bytes.len() > LARGEST {
        return Err(Failure::new(format!("the photo has {} bytes; up to {LARGEST} are shown", bytes.len())));
    }
    let photo = RasterImage::plain(Bytes::new(bytes.to_vec()), format).map_err(|error| Failure::new(error.as_str()))?;
    let small = photo.dynamic().thumbnail(ACROSS, DOWN).to_luma8();
    let (width, height) = small.dimensions();
    drop(photo);
    // What was decoded is kept for later otherwise, and a build has hundreds of photos.
    typst::comemo::evict(0);
    Ok(Some(Thumbnail { width, height, grey: small.into_raw() }))
}
