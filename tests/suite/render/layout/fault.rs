//! What can be wrong with a laid-out packet, found in the layout itself.

use shophead::render::{Area, BoxPlace, Laid, TextPlace};

/// Texts may touch by so much: a fifth of a millimetre is what two neighbours share where a letter leans.
const TOUCH: i64 = 200;
/// Letters that stand further than this out of where they belong are seen.
const OUT: i64 = 300;

/// What a printer leaves white along the paper's edge.
const EDGE: i64 = 4_000;

/// Every fault of a layout, with its page.
pub fn faults(laid: &Laid) -> Vec<String> {
    let texts: Vec<TextPlace> = laid.texts().into_iter().filter(|text| !text.text.trim().is_empty()).collect();
    let bodies = laid.bodies().unwrap();
    assert_eq!(bodies.len(), laid.page_count(), "every page marks its body");
    let mut found = split_steps(laid, &bodies);
    for body in &bodies {
        let own: Vec<&TextPlace> = texts.iter().filter(|text| text.area.page == body.page).collect();
        // A watermark lies over everything, on purpose.
        let own: Vec<&TextPlace> = own.into_iter().filter(|text| text.text != "DRAFT").collect();
        found.extend(overlaps(&own));
        found.extend(own.iter().filter_map(|text| outside(text, body)));
        found.extend(torn(&own));
    }
    found.extend(in_boxes(&texts, &laid.boxes().unwrap()));
    found.extend(bands_that_differ(&texts, &bodies));
    found
}

/// Faults of a document that marks no body: texts on texts, off the paper's edge, numbers torn from their unit.
pub fn page_faults(laid: &Laid) -> Vec<String> {
    let texts: Vec<TextPlace> = laid.texts().into_iter().filter(|text| !text.text.trim().is_empty()).collect();
    let mut found = Vec::new();
    for (at, (width, height)) in laid.page_sizes().into_iter().enumerate() {
        let own: Vec<&TextPlace> = texts.iter().filter(|text| text.area.page == at + 1).collect();
        found.extend(overlaps(&own));
        found.extend(torn(&own));
        let is_off = |area: &Area| {
            area.left.0 < EDGE || area.top.0 < EDGE || area.right.0 > width.0 - EDGE || area.bottom.0 > height.0 - EDGE
        };
        let off = own.iter().filter(|text| is_off(&text.area));
        found.extend(off.map(|text| format!("page {}: `{}` stands at the paper's edge", at + 1, text.text)));
    }
    found
}

/// How far two stretches lie over each other.
fn common(one: (i64, i64), other: (i64, i64)) -> i64 {
    one.1.min(other.1) - one.0.max(other.0)
}

fn across(area: &Area) -> (i64, i64) {
    (area.left.0, area.right.0)
}

fn down(area: &Area) -> (i64, i64) {
    (area.top.0, area.bottom.0)
}

fn overlaps(texts: &[&TextPlace]) -> Vec<String> {
    let mut found = Vec::new();
    for (at, one) in texts.iter().enumerate() {
        for other in &texts[at + 1..] {
            let wide = common(across(&one.area), across(&other.area));
            let high = common(down(&one.area), down(&other.area));
            if wide > TOUCH && high > TOUCH {
                found.push(format!("page {}: `{}` lies on `{}`", one.area.page, other.text, one.text));
            }
        }
    }
    found
}

/// A text that stands partly in the body, or beside it where no margin has words.
fn outside(text: &TextPlace, body: &Area) -> Option<String> {
    let area = &text.area;
    let in_band = area.bottom.0 <= body.top.0 || area.top.0 >= body.bottom.0;
    let beside = area.right.0 <= body.left.0 || area.left.0 >= body.right.0;
    let within = area.left.0 >= body.left.0 - OUT
        && area.right.0 <= body.right.0 + OUT
        && area.top.0 >= body.top.0 - OUT
        && area.bottom.0 <= body.bottom.0 + OUT;
    // Letters of revisions stand beside the bar of a change.
    let revision = beside && text.text.len() <= 3;
    (!in_band && !within && !revision).then(|| format!("page {}: `{}` stands outside the body", area.page, text.text))
}

/// What is printed in head and foot is the same on every page but for the page's number: nothing of the body runs into it.
fn bands_that_differ(texts: &[TextPlace], bodies: &[Area]) -> Vec<String> {
    let band = |body: &Area| -> Vec<String> {
        let own = texts.iter().filter(|text| text.area.page == body.page);
        let outside = own.filter(|text| text.area.bottom.0 <= body.top.0 || text.area.top.0 >= body.bottom.0);
        let words = outside.filter(|text| text.text.trim().parse::<usize>().is_err());
        words.map(|text| text.text.clone()).collect()
    };
    let first = bodies.first().map(band).unwrap_or_default();
    let differs = |body: &&Area| band(body) != first;
    bodies.iter().filter(differs).map(|body| format!("page {}: head or foot holds something else", body.page)).collect()
}

fn in_boxes(texts: &[TextPlace], boxes: &[BoxPlace]) -> Vec<String> {
    let mut found = Vec::new();
    for one in boxes {
        let inside = ((one.x.0, one.x.0 + one.width.0), (one.y.0, one.y.0 + one.height.0));
        let printed = texts.iter().filter(|text| {
            text.area.page == one.page
                && common(across(&text.area), inside.0) > TOUCH
                && common(down(&text.area), inside.1) > TOUCH
        });
        found.extend(
            printed.map(|text| {
                format!("page {}: `{}` stands in the box {} of {}", one.page, text.text, one.field, one.step)
            }),
        );
    }
    found
}

fn split_steps(laid: &Laid, bodies: &[Area]) -> Vec<String> {
    let steps = laid.steps().unwrap();
    let boxes = laid.boxes().unwrap();
    let mut found = Vec::new();
    for step in &steps {
        let body = bodies.iter().find(|body| body.page == step.page).unwrap();
        if step.page != step.end_page {
            found.push(format!("step {} begins on page {} and ends on {}", step.number, step.page, step.end_page));
        } else if step.top.0 < body.top.0 - OUT || step.bottom.0 > body.bottom.0 + OUT {
            found.push(format!("step {} runs out of page {}", step.number, step.page));
        }
    }
    for body in bodies {
        for one in boxes.iter().filter(|one| one.page == body.page) {
            let right = one.x.0 + one.width.0;
            let bottom = one.y.0 + one.height.0;
            if one.x.0 < body.left.0 - OUT || right > body.right.0 + OUT || bottom > body.bottom.0 + OUT {
                found.push(format!("page {}: the box {} of {} leaves the body", one.page, one.field, one.step));
            }
        }
    }
    found
}

/// Units that never begin a line after their number.
const UNITS: [&str; 9] = ["in", "mm", "deg", "in-lb", "D", "h", "min", "d", "lb"];

/// A number whose unit begins the next line, or a call or range that goes on there.
fn torn(texts: &[&TextPlace]) -> Vec<String> {
    let mut found = Vec::new();
    for pair in texts.windows(2) {
        let (before, after) = (pair[0], pair[1]);
        // The next line begins no further right and no further down than two lines.
        let wraps = after.area.left.0 <= before.area.left.0
            && after.area.bottom.0 > before.area.bottom.0 + OUT
            && after.area.bottom.0 - before.area.bottom.0 < 2 * 4_600;
        let words = before.text.trim_end();
        let first = after.text.split_whitespace().next().unwrap_or_default().trim_end_matches([',', ';', ')', '.']);
        let number = words.rsplit(' ').next().is_some_and(|word| {
            word.trim_start_matches('(').parse::<f64>().is_ok()
                || word.ends_with(|c: char| c.is_ascii_digit()) && word.contains('/')
        });
        let goes_on = words.ends_with(" in-")
            || words.ends_with(['-', '/'])
                && words.trim_end_matches(['-', '/']).ends_with(|c: char| c.is_ascii_digit());
        let unit = UNITS.contains(&first) || after.text.starts_with("N m");
        if wraps && ((number && unit) || goes_on) {
            found.push(format!("page {}: `{words}` is torn from `{}`", before.area.page, after.text));
        }
    }
    found
}
