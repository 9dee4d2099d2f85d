//! A bad photocopier and a dirty bench, in whole numbers: what a sheet goes through before it is read.

use crate::build::picture::Picture;

/// One machine: what it does to every page.
#[derive(Debug, Clone, Copy)]
pub struct Copier {
    /// Enlargement in thousandths.
    pub scale: i64,
    /// Dots that a row slips sideways, for each thousand rows.
    pub slip: i64,
    /// Start of its speckles.
    pub seed: u64,
}

/// A stain that lets the print through a little.
#[derive(Debug, Clone, Copy)]
pub struct Smear {
    /// Centre and half axes in dots.
    pub at: (i64, i64),
    /// Half axes.
    pub size: (i64, i64),
}

impl Copier {
    /// Where a dot of the original lands.
    pub fn place(self, (x, y): (i64, i64)) -> (i64, i64) {
        let (x, y) = (x * self.scale / 1000, y * self.scale / 1000);
        (x + y * self.slip / 1000, y)
    }

    /// A copy: out of focus, hard in contrast, a little larger or smaller, askew, speckled.
    pub fn copy(self, page: &Picture) -> Picture {
        let mut copy = page.clone();
        let mut noise = self.seed;
        for y in 0..page.height {
            for x in 0..page.width {
                let (to_x, to_y) = (i64::try_from(x).unwrap(), i64::try_from(y).unwrap());
                let from_y = to_y * 1000 / self.scale;
                let from_x = (to_x - to_y * self.slip / 1000) * 1000 / self.scale;
                let grey = hard(blurred(page, from_x, from_y));
                noise = noise.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
                copy.pixels[y * page.width + x] = match noise >> 52 {
                    // One dot in four thousand is a speck; one in four hundred loses its toner.
                    0 => 0,
                    1..=10 => 255,
                    _ => grey,
                };
            }
        }
        copy
    }
}

/// The weighted mean of a dot and its eight neighbours.
fn blurred(page: &Picture, x: i64, y: i64) -> i64 {
    let mut sum = 0;
    for (dx, dy, weight) in
        [(-1, -1, 1), (0, -1, 2), (1, -1, 1), (-1, 0, 2), (0, 0, 4), (1, 0, 2), (-1, 1, 1), (0, 1, 2), (1, 1, 1)]
    {
        sum += weight * i64::from(page.at(x + dx, y + dy));
    }
    sum / 16
}

/// Twice the contrast about a grey that favours the paper.
fn hard(grey: i64) -> u8 {
    u8::try_from(((grey - 120) * 2 + 128).clamp(0, 255)).unwrap()
}

/// A page with stains: black shows through as dark grey, paper as light grey.
pub fn smeared(mut page: Picture, smears: &[Smear]) -> Picture {
    for Smear { at, size } in smears {
        for y in (at.1 - size.1).max(0)..at.1 + size.1 {
            for x in (at.0 - size.0).max(0)..at.0 + size.0 {
                let (dx, dy) = ((x - at.0) * 1000 / size.0, (y - at.1) * 1000 / size.1);
                let (Ok(column), Ok(row)) = (usize::try_from(x), usize::try_from(y)) else { continue };
                if dx * dx + dy * dy < 1_000_000 && column < page.width && row < page.height {
                    let dot = &mut page.pixels[row * page.width + column];
                    *dot = u8::try_from(70 + i64::from(*dot) * 110 / 255).unwrap();
                }
            }
        }
    }
    page
}
