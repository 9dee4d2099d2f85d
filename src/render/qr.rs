//! The machine-readable code of a page: QR version 3, error correction Q, as black rectangles of one path.
//!
//! It carries the sheet code, the run of steps of an excerpt, the page number and the print; nothing about the work.

use minijinja::Value;
use qrcodegen::{QrCode, QrCodeEcc, QrSegment, Version};

use crate::plan::Document;

/// Version 3 has 29 modules a side; at 0.6 mm and with four quiet modules around it takes 22.2 mm.
const VERSION: u8 = 3;

/// For each page from the first, the rectangles of its code as `(x, y, width, height)` in modules.
pub(super) fn page_codes(document: &Document, print: &str, pages: u32) -> Value {
    if document.code.is_none() {
        return Value::from(Vec::<Value>::new());
    }
    (1..=pages).map(|page| Value::from(rectangles(&document.page_text(page, print)))).collect()
}

/// Black rectangles that together are the code; empty where the text does not fit, which no sheet code reaches.
fn rectangles(text: &str) -> Vec<Vec<i32>> {
    let version = Version::new(VERSION);
    let segments = QrSegment::make_segments(text);
    let Ok(code) = QrCode::encode_segments_advanced(&segments, QrCodeEcc::Quartile, version, version, None, false)
    else {
        return Vec::new();
    };
    let mut found: Vec<Vec<i32>> = Vec::new();
    for y in 0..code.size() {
        for (x, width) in runs(&code, y) {
            // A run that repeats the one above makes that one taller: fewer, larger rectangles.
            match found.iter_mut().find(|above| above[0] == x && above[2] == width && above[1] + above[3] == y) {
                Some(above) => above[3] += 1,
                None => found.push(vec![x, y, width, 1]),
            }
        }
    }
    found
}

fn runs(code: &QrCode, y: i32) -> Vec<(i32, i32)> {
    let mut runs: Vec<(i32, i32)> = Vec::new();
    for x in (0..code.size()).filter(|x| code.get_module(*x, y)) {
        match runs.last_mut() {
            Some((start, width)) if *start + *width == x => *width += 1,
            _ => runs.push((x, 1)),
        }
    }
    runs
}
