//! From Typst text to a layout, and from a layout to PDF/A-2b bytes.
//!
//! Every warning of Typst is a failure: a missing font is only a warning there, and the text would be gone.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use typst::World;
use typst::WorldExt;
use typst::diag::SourceDiagnostic;
use typst::foundations::{Datetime, Smart};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};

use super::boxes::{self, BoxPlace, Micrometres};
use super::failure::Failure;
use super::places::{self, Area, ItemPlace, StepPlace, TextPlace};
use super::template::Templates;
use super::texts;
use super::world::{CLOSEST_SET, Setting, TypstWorld};
use crate::calendar::Day;
use crate::plan::{Document, Edition, TooTall};
use crate::units::counted;

/// Pages that get a machine-readable code at the first try; most packets have fewer.
pub(super) const FIRST_PAGES: u32 = 16;

/// Sizes of large type in per cent of the usual: the first at which every step still has room on a page.
const LARGE: [u32; 5] = [125, 120, 115, 110, 105];
/// The same where a step has the boxes of both hands: the tallest leaves no room for larger type.
const LARGE_BOTH: [u32; 6] = [125, 120, 115, 110, 105, 100];

/// A laid-out document.
pub struct Laid {
    pages: PagedDocument,
    world: TypstWorld,
    /// The builder's own templates and where they lie.
    own: BTreeMap<String, String>,
    /// What tells this layout from every other, as in the code of each page.
    print: String,
}

/// A printed document.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Printed {
    /// The PDF.
    #[serde(skip)]
    pub pdf: Vec<u8>,
    /// Number of pages.
    pub pages: usize,
    /// Every box that is filled in by hand, in page order.
    pub boxes: Vec<BoxPlace>,
    /// What tells this layout from every other, as in the code of each page.
    pub print: String,
    /// The number that each page carries.
    pub labels: Vec<String>,
    /// What stands on which page.
    pub items: Vec<ItemPlace>,
}

pub(super) fn lay_out(document: &Document, templates: &Templates) -> Result<Laid, Failure> {
    let mut refused = None;
    for size in sizes(document.edition) {
        let setting = Setting { size: *size, ..Setting::USUAL };
        let laid = lay_out_close(document, templates, setting)?;
        if !fills_a_page(&laid)? {
            return Ok(laid);
        }
        match taller_than_a_page(&lay_out_at(document, templates, Setting { measuring: true, ..setting })?)?.first() {
            None => return Ok(laid),
            Some(tall) => refused = refused.or_else(|| Some(refusal(tall, document.edition))),
        }
    }
    // Without a size there would be no refusal either; the list is never empty.
    Err(refused.unwrap_or_else(|| Failure::new("there is no size of type to print in")))
}

/// The sizes of type in which an edition may be printed, the largest first.
const fn sizes(edition: Edition) -> &'static [u32] {
    match edition {
        Edition { large: true, both_hands: true, .. } => &LARGE_BOTH,
        Edition { large: true, .. } => &LARGE,
        _ => &[Setting::USUAL.size],
    }
}

/// A document that should take few pages is set closer where it fits them then, no closer than that takes; in large type it is
/// not.
fn lay_out_close(document: &Document, templates: &Templates, setting: Setting) -> Result<Laid, Failure> {
    // Nothing is set so close that it takes less than a third.
    const CLOSEST: usize = 3;
    let laid = lay_out_at(document, templates, setting)?;
    let may_fit = document.pages.is_some_and(|most| (most + 1..=CLOSEST * most).contains(&laid.page_count()));
    // A step that is too tall is told so by the usual layout.
    if document.edition.large || !may_fit || fills_a_page(&laid)? {
        return Ok(laid);
    }
    let set = |close| lay_out_at(document, templates, Setting { close, ..setting });
    let fits = |laid: &Laid, more| document.pages.is_some_and(|most| laid.page_count() <= most + more);
    for close in 1..CLOSEST_SET {
        let close = set(close)?;
        if fits(&close, 0) {
            return Ok(close);
        }
    }
    let closest = set(CLOSEST_SET)?;
    // One page more than it should take is still less than the usual layout's.
    Ok(if fits(&closest, 1) && closest.page_count() < laid.page_count() { closest } else { laid })
}

fn lay_out_at(document: &Document, templates: &Templates, setting: Setting) -> Result<Laid, Failure> {
    let laid = lay_out_with(document, templates, setting, FIRST_PAGES)?;
    // The number of pages is known only now; a longer packet is laid out again with a code for each.
    let pages =
        u32::try_from(laid.page_count()).map_err(|_| Failure::new("the document has too many pages to count"))?;
    let more = pages > FIRST_PAGES && document.code.is_some();
    let laid = if more { lay_out_with(document, templates, setting, pages)? } else { laid };
    require_mark(&laid, templates)?;
    Ok(laid)
}

fn lay_out_with(document: &Document, templates: &Templates, setting: Setting, codes: u32) -> Result<Laid, Failure> {
    let pictures = templates.pictures().iter().map(|(name, picture)| (name.as_str(), picture.bytes()));
    let print = document.print_code(&(templates.digest_input() + templates.words().0), pictures, setting.size);
    let filled = templates.fill(document, &print, codes)?;
    let world = TypstWorld::new(filled, document.edition, setting, templates.libraries())?
        .with_pictures(templates.pictures(), &document.thumbnails)?;
    let result = typst::compile::<PagedDocument>(&world);
    let pages = result.output.map_err(|errors| failure(&world, document, templates.own_files(), errors.iter()))?;
    if !result.warnings.is_empty() {
        return Err(failure(&world, document, templates.own_files(), result.warnings.iter()));
    }
    Ok(Laid { pages, world, own: templates.own_files().clone(), print })
}

/// Pages made with the builder's own templates say so; a template that draws its own foot must not lose it.
fn require_mark(laid: &Laid, templates: &Templates) -> Result<(), Failure> {
    let Some(mark) = templates.mark() else { return Ok(()) };
    match laid.page_texts().iter().position(|text| !text.contains(mark)) {
        None => Ok(()),
        Some(at) => Err(Failure::new(format!(
            "page {} does not carry the mark of your own templates, {mark}: print `own-mark` of base.typ in its foot ({})",
            at + 1,
            templates.own_files().values().cloned().collect::<Vec<_>>().join(", ")
        ))),
    }
}

/// Whether a step fills a page, and may be taller.
fn fills_a_page(laid: &Laid) -> Result<bool, Failure> {
    let bodies = laid.bodies()?;
    Ok(laid.steps()?.iter().any(|step| bodies.iter().any(|body| places::fills(step, body))))
}

/// The steps of a document that have no room on a page in the smallest type of its edition.
pub(super) fn too_tall(document: &Document, templates: &Templates) -> Result<Vec<TooTall>, Failure> {
    let smallest = sizes(document.edition).iter().copied().min();
    let setting = Setting { size: smallest.unwrap_or(Setting::USUAL.size), ..Setting::USUAL };
    let laid = lay_out_at(document, templates, setting)?;
    if !fills_a_page(&laid)? {
        return Ok(Vec::new());
    }
    taller_than_a_page(&lay_out_at(document, templates, Setting { measuring: true, ..setting })?)
}

/// The steps that are taller than the body of their page, in a layout that measured them.
fn taller_than_a_page(laid: &Laid) -> Result<Vec<TooTall>, Failure> {
    let bodies = laid.bodies()?;
    let too_tall = |step: &StepPlace| {
        let body = bodies.iter().find(|body| body.page == step.page)?;
        let height = step.height.0;
        let room = body.bottom.0 - body.top.0;
        // What rounding makes of a step that fits is less than a tenth of a line.
        let over = height - room - step.line.0 / 10;
        // A draft lets it run on.
        if step.end_page != step.page || over <= 0 {
            return None;
        }
        let lines = (over - 1).div_euclid(step.line.0.max(1)) + 1;
        Some(TooTall { number: step.number.clone(), height, room, lines })
    };
    Ok(laid.steps()?.iter().filter_map(too_tall).collect())
}

/// A step never runs on over the foot of its page: why the layout cannot be printed.
fn refusal(tall: &TooTall, edition: Edition) -> Failure {
    let TooTall { number, lines, .. } = tall;
    let lines = counted(*lines, "line", "lines");
    let apart = if edition.both_hands { ", or each hand gets a packet of its own" } else { "" };
    Failure::new(format!(
        "step {number} is taller than a page: it must lose {lines} of text, or become two steps{apart}"
    ))
}

impl Laid {
    /// Number of pages.
    #[must_use]
    pub fn page_count(&self) -> usize {
        self.pages.pages().len()
    }

    /// Every box that is filled in by hand, in page order, as Typst placed it.
    ///
    /// # Errors
    /// When a template marks a box wrongly.
    pub fn boxes(&self) -> Result<Vec<BoxPlace>, Failure> {
        boxes::of(&self.pages)
    }

    /// The text of each page, a line of the layout a line.
    #[must_use]
    pub fn page_texts(&self) -> Vec<String> {
        self.pages.pages().iter().map(|page| texts::of(&page.frame)).collect()
    }

    /// Every piece of text, in the order in which each page is drawn.
    #[must_use]
    pub fn texts(&self) -> Vec<TextPlace> {
        self.pages.pages().iter().enumerate().flat_map(|(at, page)| places::texts(at + 1, &page.frame)).collect()
    }

    /// The body of each page of a packet: what lies between its bands and margins.
    ///
    /// # Errors
    /// When a template marks a body wrongly.
    pub fn bodies(&self) -> Result<Vec<Area>, Failure> {
        places::bodies(&self.pages)
    }

    /// The steps of a packet in their order.
    ///
    /// # Errors
    /// When a template marks a step wrongly.
    pub fn steps(&self) -> Result<Vec<StepPlace>, Failure> {
        places::steps(&self.pages)
    }

    /// The number that each page of a packet carries.
    ///
    /// # Errors
    /// When a template marks a page wrongly.
    pub fn labels(&self) -> Result<Vec<String>, Failure> {
        places::labels(&self.pages)
    }

    /// What stands on which page of a packet, in its order.
    ///
    /// # Errors
    /// When a template marks a piece wrongly.
    pub fn items(&self) -> Result<Vec<ItemPlace>, Failure> {
        places::items(&self.pages)
    }

    /// Width and height of each picture as drawn, in page order.
    #[must_use]
    pub fn picture_sizes(&self) -> Vec<(Micrometres, Micrometres)> {
        self.pages.pages().iter().flat_map(|page| texts::pictures(&page.frame)).collect()
    }

    /// Width and height of each page.
    #[must_use]
    pub fn page_sizes(&self) -> Vec<(Micrometres, Micrometres)> {
        let size = |page: &typst_layout::Page| {
            (boxes::micrometres(page.frame.width()), boxes::micrometres(page.frame.height()))
        };
        self.pages.pages().iter().map(size).collect()
    }

    /// For each piece of text its page, the place where it ends, and the text: for finding what runs off a page.
    #[must_use]
    pub fn text_ends(&self) -> Vec<(usize, Micrometres, String)> {
        let ends = self
            .pages
            .pages()
            .iter()
            .enumerate()
            .flat_map(|(at, page)| texts::ends(&page.frame).map(move |(x, text)| (at + 1, x, text)));
        ends.collect()
    }

    /// The PDF and the places of its boxes.
    ///
    /// # Errors
    /// When the PDF would not keep to PDF/A-2b.
    pub fn print(&self, document: &Document) -> Result<Printed, Failure> {
        let options = options(document.identifier(), document.date)?;
        let pdf = typst_pdf::pdf(&self.pages, &options)
            .map_err(|errors| failure(&self.world, document, &self.own, errors.iter()))?;
        Ok(Printed {
            pdf,
            pages: self.page_count(),
            boxes: self.boxes()?,
            print: self.print.clone(),
            labels: self.labels()?,
            items: self.items()?,
        })
    }
}

/// How every PDF is written: the same bytes for the same identifier and day.
pub(super) fn options(identifier: String, date: Option<Day>) -> Result<PdfOptions, Failure> {
    let standards = PdfStandards::new(&[PdfStandard::A_2b]).map_err(|error| Failure::new(error.message().as_str()))?;
    Ok(PdfOptions {
        ident: Smart::Custom(identifier),
        creator: Smart::Custom(Some(concat!("shophead ", env!("CARGO_PKG_VERSION")).to_owned())),
        timestamp: timestamp(date),
        standards,
        tagged: false,
        ..PdfOptions::default()
    })
}

/// The day of the plan; PDF/A demands one, so a document without a day carries the day zero of older archives.
fn timestamp(date: Option<Day>) -> Option<Timestamp> {
    let day = date.map(Day::parts).and_then(|(year, month, day)| Datetime::from_ymd(year.into(), month, day));
    day.or_else(|| Datetime::from_ymd(1980, 1, 1)).map(Timestamp::new_utc)
}

/// The first of Typst's errors or warnings, with its place; the others follow as text.
fn failure<'a>(
    world: &TypstWorld,
    document: &Document,
    own: &BTreeMap<String, String>,
    mut found: impl Iterator<Item = &'a SourceDiagnostic>,
) -> Failure {
    let shown = |name: &str| own.get(name).cloned().unwrap_or_else(|| name.to_owned());
    let Some(first) = found.next() else { return Failure::new("Typst failed and did not say why") };
    let mut message = format!("{}: the layout fails: {}", document.stem, first.message);
    for hint in &first.hints {
        message.push_str("; ");
        message.push_str(&hint.v);
    }
    let more = found.count();
    if more > 0 {
        message = format!("{message} (and {more} more)");
    }
    let id = first.span.id();
    let place = id.and_then(|id| Some((world.source(id).ok()?, world.range(first.span)?)));
    match place {
        Some((source, range)) => {
            let name = if source.id() == world.main() {
                format!("{} as filled in", shown(document.template))
            } else {
                shown(file_name(&source))
            };
            Failure::at(message, &name, source.text(), range)
        }
        None => Failure::new(message),
    }
}

fn file_name(source: &typst::syntax::Source) -> &str {
    source.id().get().vpath().get_without_slash()
}
