//! Bolts and screws in a section: head, washers, grip, thread, nut or nutplate, cotter pin.
//!
//! Grip, length, washers and hexagons are to scale, a hexagon as it is seen across its flats. A head or nut without listed
//! sizes is an outline by eye, in parts of the diameter D that are common practice of drawing and no measure of any
//! standard: the figure's notes say so.
//!
//! `body` asks this file where a fastener is a bolt, and this file takes the outline of a flush head from `body`: two
//! halves of one drawing, which go round on purpose.

use super::body::Half;
use super::{Bench, Body, Nut, SectionOf, Top, Washer};
use crate::figure::{Fill, Line};
use crate::units::Length;

/// The parts of a bolt, so that they need not be matched again in every function.
struct Parts<'a> {
    diameter: Length,
    top: Top,
    grip: Option<Length>,
    length: Option<Length>,
    head_washers: &'a [Washer],
    nut_washers: &'a [Washer],
    nut: Option<&'a Nut>,
}

fn parts(body: &Body) -> Option<Parts<'_>> {
    let Body::Bolt { diameter, top, grip, length, head_washers, nut_washers, nut } = body else {
        return None;
    };
    Some(Parts {
        diameter: *diameter,
        top: *top,
        grip: *grip,
        length: *length,
        head_washers,
        nut_washers,
        nut: nut.as_ref(),
    })
}

/// Height of the nut as drawn. By eye a hexagon is a little more than 1 D high; a nutplate's barrel is 1 D.
fn nut_height(diameter: Length, nut: &Nut) -> Length {
    match nut {
        Nut::Loose { size: Some((_, height)), .. } => *height,
        Nut::Loose { size: None, .. } => diameter.fraction(11, 10),
        Nut::Plate => diameter,
    }
}

/// Half the width of the nut as drawn. By eye a hexagon is 2 D across; the feet of a nutplate reach further than any nut.
fn nut_half_width(diameter: Length, nut: &Nut) -> Length {
    match nut {
        Nut::Loose { size: Some((across, _)), .. } => across.fraction(1, 2),
        Nut::Loose { size: None, .. } => diameter,
        Nut::Plate => diameter.fraction(7, 4),
    }
}

/// What of a bolt and its nut is drawn by eye.
pub(super) fn by_eye(head: bool, nut: Option<&Nut>) -> String {
    let nut = match nut {
        Some(Nut::Plate) => Some("the nutplate"),
        Some(Nut::Loose { size: None, .. }) => Some("the nut"),
        Some(Nut::Loose { .. }) | None => None,
    };
    let outlines = match (head, nut) {
        (true, Some(nut)) => format!("Outlines of the head and of {nut} drawn by eye; t"),
        (true, None) => "Outline of the head drawn by eye; t".to_owned(),
        (false, Some(nut)) => format!("Outline of {nut} drawn by eye; t"),
        (false, None) => "T".to_owned(),
    };
    format!("{outlines}hread depth not to scale.")
}

impl Parts<'_> {
    fn thick(washers: &[Washer]) -> Length {
        washers.iter().map(|washer| washer.thickness).sum()
    }

    /// Half the width of a washer. One whose table has no outside is drawn a quarter of D wider than what stands on it.
    fn outer(&self, washer: &Washer, stands: Length) -> Length {
        washer.outer.map_or_else(|| stands + self.diameter.fraction(1, 8), |outer| outer.fraction(1, 2))
    }

    /// Half the width of the head, and of the nut where there is a loose one.
    fn standing(&self) -> (Length, Length) {
        let nut = self.nut.filter(|nut| **nut != Nut::Plate);
        (self.top.half_width(self.diameter), nut.map_or(self.diameter, |nut| nut_half_width(self.diameter, nut)))
    }

    /// Underside of the head, above the stack's surface.
    fn seat(&self) -> Length {
        Length::ZERO - Self::thick(self.head_washers)
    }

    /// Where the shank ends: its length below the head's seat; where no table lists the length, as if a quarter of D stood
    /// out of the nut, which is about the three threads that are usual.
    fn end(&self, total: Length) -> Length {
        let nut = self.nut.map_or(Length::ZERO, |nut| nut_height(self.diameter, nut));
        let usual = total + Self::thick(self.nut_washers) + nut + self.diameter.fraction(1, 4);
        self.length.map_or(usual, |length| self.seat() + length)
    }
}

pub(super) fn half_width(body: &Body) -> Length {
    let Some(bolt) = parts(body) else { return Length::ZERO };
    let nut = bolt.nut.map_or(bolt.diameter, |nut| nut_half_width(bolt.diameter, nut));
    let pin =
        if matches!(bolt.nut, Some(Nut::Loose { pinned: true, .. })) { pin_stands_out(&bolt) } else { Length::ZERO };
    let (head, loose) = bolt.standing();
    let washers = |washers: &[Washer], stands| {
        // No washer is no width.
        washers.iter().map(|one| bolt.outer(one, stands)).max().unwrap_or_default()
    };
    (nut + pin).max(washers(bolt.head_washers, head)).max(washers(bolt.nut_washers, loose))
}

/// How far a cotter pin shows beside its nut; by eye.
fn pin_stands_out(bolt: &Parts<'_>) -> Length {
    bolt.diameter.fraction(3, 10)
}

/// By eye a head is two thirds of D high.
fn head_height(bolt: &Parts<'_>) -> Length {
    match bolt.top {
        Top::Hexagon(_, height) => height,
        Top::Protruding => bolt.diameter.fraction(2, 3),
        Top::Flush82(_) | Top::Flush100(_) | Top::Flush120(_) => Length::ZERO,
    }
}

pub(super) fn reach(body: &Body, total: Length) -> (Length, Length) {
    let Some(bolt) = parts(body) else { return (Length::ZERO, Length::ZERO) };
    let nut = bolt.nut.map_or(Length::ZERO, |nut| Parts::thick(bolt.nut_washers) + nut_height(bolt.diameter, nut));
    (head_height(&bolt) - bolt.seat(), (bolt.end(total) - total).max(nut))
}

pub(super) fn draw(bench: &mut Bench<'_>, of: &SectionOf, total: Length) {
    let Some(bolt) = parts(&of.body) else { return };
    let (head, loose) = bolt.standing();
    draw_washers(bench, bolt.head_washers, bolt.seat(), head, &bolt);
    draw_washers(bench, bolt.nut_washers, total, loose, &bolt);
    draw_shank(bench, &bolt, total);
    draw_thread(bench, &bolt, total);
    let under = total + Parts::thick(bolt.nut_washers);
    match bolt.nut {
        Some(nut @ Nut::Loose { pinned, .. }) => draw_nut(bench, &bolt, under, nut, *pinned),
        Some(nut @ Nut::Plate) => draw_plate(bench, &bolt, under, nut_height(bolt.diameter, nut)),
        None => {}
    }
}

fn draw_washers(bench: &mut Bench<'_>, washers: &[Washer], from: Length, stands: Length, bolt: &Parts<'_>) {
    let mut z = from;
    for washer in washers {
        let outer = bolt.outer(washer, stands);
        let (a, b) = (bench.at(Length::ZERO - outer, z), bench.at(outer, z + washer.thickness));
        bench.drawing.rectangle(a, b, Line::Middle, Fill::FallingClose);
        z = z + washer.thickness;
    }
}

fn draw_shank(bench: &mut Bench<'_>, bolt: &Parts<'_>, total: Length) {
    let (d, shank) = (bolt.diameter, bolt.diameter.fraction(1, 2));
    let (seat, end) = (bolt.seat(), bolt.end(total));
    if matches!(bolt.top, Top::Protruding | Top::Hexagon(..)) {
        let (wide, top) = (bolt.top.half_width(d), seat - head_height(bolt));
        let corner = d.fraction(1, 8);
        let right = [(wide - corner, top), (wide, top + corner), (wide, seat)];
        let mut outline: Vec<(Length, Length)> = right.to_vec();
        outline.extend(Bench::mirrored(&right));
        let places = bench.place(&outline);
        bench.drawing.shape(&places, Line::Middle, Fill::White);
        let right = [(shank, seat), (shank, end - corner), (shank - corner, end)];
        let mut outline: Vec<(Length, Length)> = right.to_vec();
        outline.extend(Bench::mirrored(&right));
        let places = bench.place(&outline);
        bench.drawing.shape(&places, Line::Middle, Fill::White);
        return;
    }
    let mut half = Half::starting(shank, bolt.top, d);
    half.to(shank, end);
    half.to(Length::ZERO, end);
    half.draw(bench);
}

/// Thin lines inside the shank where it is threaded, and a line where the grip ends.
fn draw_thread(bench: &mut Bench<'_>, bolt: &Parts<'_>, total: Length) {
    let Some(grip) = bolt.grip else { return };
    // The root of the thread at 0.8 D, as a thread is drawn by common practice.
    let (root, shank) = (bolt.diameter.fraction(2, 5), bolt.diameter.fraction(1, 2));
    let (from, to) = (bolt.seat() + grip, bolt.end(total));
    for x in [root, Length::ZERO - root] {
        bench.drawing.line(bench.at(x, from), bench.at(x, to), Line::Thin);
    }
    let (left, right) = (bench.at(Length::ZERO - shank, from), bench.at(shank, from));
    bench.drawing.line(left, right, Line::Thin);
}

/// Two blocks beside the thread, their far corners cut, with slots where the nut takes a cotter pin.
fn draw_nut(bench: &mut Bench<'_>, bolt: &Parts<'_>, under: Length, nut: &Nut, castle: bool) {
    let (d, inner) = (bolt.diameter, bolt.diameter.fraction(1, 2));
    let (wide, foot) = (nut_half_width(d, nut), under + nut_height(d, nut));
    let corner = d.fraction(1, 10);
    for side in [1, -1] {
        let outline = [
            (inner * side, under),
            (wide * side, under),
            (wide * side, foot - corner),
            ((wide - corner) * side, foot),
            (inner * side, foot),
        ];
        let places = bench.place(&outline);
        bench.drawing.shape(&places, Line::Middle, Fill::White);
    }
    if castle {
        // The pin shows on both sides of the nut, in the slots a quarter of D above its end.
        let (z, out) = (foot - d.fraction(1, 4), wide + pin_stands_out(bolt));
        let (a, b) = (bench.at(Length::ZERO - out, z - d.fraction(1, 14)), bench.at(out, z + d.fraction(1, 14)));
        bench.drawing.rectangle(a, b, Line::Thin, Fill::Black);
    }
}

/// A thin foot on the structure and a barrel beside the thread.
fn draw_plate(bench: &mut Bench<'_>, bolt: &Parts<'_>, under: Length, height: Length) {
    let (d, inner) = (bolt.diameter, bolt.diameter.fraction(1, 2));
    let foot = under + d.fraction(1, 5);
    for side in [1, -1] {
        let (a, b) = (bench.at(inner * side, under), bench.at(d.fraction(7, 4) * side, foot));
        bench.drawing.rectangle(a, b, Line::Middle, Fill::White);
        let (a, b) = (bench.at(inner * side, foot), bench.at(d.fraction(4, 5) * side, under + height));
        bench.drawing.rectangle(a, b, Line::Middle, Fill::White);
    }
}
