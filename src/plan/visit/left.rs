//! What changed since the last visit, what is left to do before a space closes, what photos show, which drawings hold.
//!
//! It repeats the records and the order; it does not say whether a space may close.

use serde::Serialize;

use super::scene::{Chosen, Scene};
use crate::archive::{Capacity, DiscrepancyOpened, State as Archived, Visit};
use crate::job::{Item, StepKind, operation, same_side};
use crate::phrase::say;
use crate::plan::named::said_role;
use crate::plan::told;

/// What changed since somebody looked last.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Since {
    /// When, who, in which role, which spaces were open.
    pub visit: Option<String>,
    /// What was found then, with the answers.
    pub findings: Vec<String>,
    /// Steps in the spaces signed since then, or at all where nobody came yet; the last one first.
    pub signed: Vec<String>,
    /// Drawings revised since then.
    pub drawings: Vec<String>,
}

/// One drawing sheet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct DrawingInForce {
    /// Sheet number.
    pub sheet: String,
    /// Title of the drawing sheet; absent where the register gives none.
    pub title: Option<String>,
    /// Revision in the register.
    pub revision: Option<String>,
    /// Day of that revision.
    pub date: Option<String>,
    /// Traveler with the revision that it was written to, where that is another one.
    pub behind: Vec<String>,
}

/// What kind of thing is left.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum LeftKind {
    /// A step.
    Step,
    /// A photo.
    Photo,
    /// Something that is in or open.
    Parked,
    /// A discrepancy.
    Discrepancy,
}

/// One thing that needs a space open and is not done.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct LeftLine {
    /// The space.
    pub space: String,
    /// What kind of thing it is.
    pub kind: LeftKind,
    /// Where: traveler, hand, number; or the number of a discrepancy.
    pub place: String,
    /// Title of the step, or what is asked for, is in, or is wrong.
    pub what: String,
    /// Whether a photo is asked for.
    pub photo: bool,
}

/// One photo.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct PhotoLine {
    /// Its number; absent where only a step asks for it.
    pub number: Option<String>,
    /// What it shows, as recorded; or what the step asks for.
    pub what: String,
    /// Whether no caption is recorded and the step's own words stand in for it.
    pub asked: bool,
    /// Step or space, and day.
    pub of: String,
    /// Whether the file is in the archive.
    pub kept: bool,
}

pub(super) fn since(scene: &Scene<'_>) -> Since {
    let Some(archived) = scene.archived else {
        return Since { signed: signed_in(scene, None), ..Since::default() };
    };
    let counts = archived.visits.iter().filter(|visit| visit.struck.is_none());
    let last = counts.filter(|visit| visit.visited.spaces.iter().any(|space| scene.is_space(space, None)));
    let last = last.max_by_key(|visit| (visit.visited.on, visit.entry));
    let revised = archived.notices.iter().filter(|(entry, _)| last.is_some_and(|visit| visit.entry < *entry));
    Since {
        visit: last.map(|visit| came(scene, visit)),
        // Where nobody came before, nobody found anything.
        findings: last.map(findings).unwrap_or_default(),
        signed: signed_in(scene, last),
        drawings: revised
            .flat_map(|(_, notice)| notice.drawings.iter().map(|own| format!("{own} ({})", notice.on)))
            .collect(),
    }
}

fn came(scene: &Scene<'_>, visit: &Visit) -> String {
    let own = &visit.visited;
    say!(
        "{on} {by} ({role}); open then: {spaces}",
        on = own.on,
        by = own.by,
        role = said_role(scene.job, &own.role),
        spaces = own.spaces.join(", ")
    )
}

fn findings(visit: &Visit) -> Vec<String> {
    let words = visit.findings.iter().map(|(_, finding, answers)| {
        let answer = answers.last().map_or_else(
            || say!("not answered yet").to_owned(),
            |own| say!("answer of {on}: {answer}", on = own.on, answer = own.answer),
        );
        format!("{}. {}; {answer}", finding.number, finding.what)
    });
    words.collect()
}

/// Steps in the spaces that were signed after a visit; those of its day count where they were entered later.
fn signed_in(scene: &Scene<'_>, last: Option<&Visit>) -> Vec<String> {
    let mut lines = Vec::new();
    for item in scene.items.iter().filter(|item| scene.is_inside(**item)) {
        let Some(done) = scene.state.done.get(item) else { continue };
        if last.is_none_or(|visit| signed_after(scene, *item, visit)) {
            let (step, day) = (scene.job.step(item.at), done.on.earliest.day().to_string());
            let place = scene.place(item.at.traveler, item.hand);
            let words =
                format!("{day}  {place} {} {} ({})", operation(step.number), told::title(scene.job, item.at), done.by);
            lines.push((day, step.number, words));
        }
    }
    lines.sort_by(|a, b| (&b.0, b.1, &a.2).cmp(&(&a.0, a.1, &b.2)));
    lines.into_iter().map(|(_, _, words)| words).collect()
}

fn signed_after(scene: &Scene<'_>, item: Item, visit: &Visit) -> bool {
    let Some(archived) = scene.archived else { return true };
    let mut counting = archived.counting(&scene.job.name_of(item)).map(|(own, _)| own);
    let signature = counting.find(|own| own.signed.capacity == Capacity::Done);
    signature.is_some_and(|own| (own.signed.worked, own.entry) > (visit.visited.on, visit.entry))
}

pub(super) fn drawings(scene: &Scene<'_>) -> Vec<DrawingInForce> {
    let mut lines: Vec<DrawingInForce> = Vec::new();
    for index in scene.travelers() {
        let own = &scene.job.travelers[index];
        for cited in &own.drawings {
            let register = cited.register.map(|at| &scene.job.project.drawings[at]);
            let current = register.map(|drawing| drawing.revision.value.as_str());
            let behind = (cited.revision.as_deref() != current).then(|| {
                let written = cited.revision.as_deref().unwrap_or("none");
                say!("{traveler} is written to rev {written}", traveler = own.id.value, written)
            });
            let at = lines.iter().position(|line| line.sheet == cited.sheet).unwrap_or(lines.len());
            if at == lines.len() {
                let text = |text: Option<&crate::job::Text>| text.map(|text| text.value.clone());
                lines.push(DrawingInForce {
                    sheet: cited.sheet.clone(),
                    title: text(register.and_then(|drawing| drawing.title.as_ref())),
                    revision: text(register.map(|drawing| &drawing.revision)),
                    date: register.and_then(|drawing| drawing.date).map(|date| date.value.to_string()),
                    behind: Vec::new(),
                });
            }
            lines[at].behind.extend(behind);
        }
    }
    lines.sort_by_cached_key(|line| in_register(&line.sheet));
    lines
}

/// Sheets as a register has them: letters, then the number, so that `K2` stands before `K10`.
fn in_register(sheet: &str) -> (String, u64, String) {
    let letters: String = sheet.chars().take_while(|own| !own.is_ascii_digit()).collect();
    let digits: String =
        sheet.chars().skip_while(|own| !own.is_ascii_digit()).take_while(char::is_ascii_digit).collect();
    // A sheet without a number stands first among those of its letters.
    (letters, digits.parse().unwrap_or(0), sheet.to_owned())
}

/// Everything that needs the spaces and is not done, space by space, steps in the working order of the build.
pub(super) fn left(scene: &Scene<'_>) -> Vec<LeftLine> {
    scene.chosen.iter().flat_map(|chosen| left_in(scene, chosen)).collect()
}

fn left_in(scene: &Scene<'_>, chosen: &Chosen) -> Vec<LeftLine> {
    let space = chosen.name(scene.job);
    let line = |kind, place: String, what: String, photo| LeftLine { space: space.clone(), kind, place, what, photo };
    let named = |item: &Item| {
        let step = scene.job.step(item.at);
        (format!("{} {}", scene.place(item.at.traveler, item.hand), operation(step.number)), step)
    };
    let mut lines = Vec::new();
    if let Some((_, chance)) = &chosen.closing {
        let open = chance.discrepancies.iter();
        lines.extend(open.map(|own| line(LeftKind::Discrepancy, own.number.clone(), own.what.clone(), false)));
        for parked in chance.parked.iter().filter(|parked| parked.held == crate::work::Held::Open) {
            let until = parked
                .until
                .as_ref()
                .map_or_else(|| say!("no step ends it").to_owned(), |until| say!("until {until}", until));
            let what = format!("{} x {}, {}, {until}", parked.count, parked.kind, parked.joint);
            lines.push(line(LeftKind::Parked, parked.traveler.clone(), what, false));
        }
    }
    let known: Vec<String> = lines.iter().map(|line: &LeftLine| line.place.clone()).collect();
    lines.extend(
        space_discrepancies(scene, chosen, &known)
            .map(|own| line(LeftKind::Discrepancy, own.number.clone(), own.what.clone(), false)),
    );
    for item in in_working_order(scene, chosen) {
        let (place, step) = named(&item);
        // A step that closes, or at which a stage is signed, is what the visit is for.
        let closes = chosen.closing.as_ref().is_some_and(|(by, _)| *by == item)
            || chosen.stages.iter().any(|(_, at)| *at == item);
        if scene.state.is_done(item) {
            if wants_photo(scene, item) && lacks_photo(scene, item) {
                let what = told::photo(step).unwrap_or_else(|| told::title(scene.job, item.at));
                lines.push(line(LeftKind::Photo, place, say!("no photo number is written: {what}", what), true));
            }
        } else if !closes {
            lines.push(line(LeftKind::Step, place, told::title(scene.job, item.at), wants_photo(scene, item)));
        }
    }
    lines
}

/// The items of a space, each after everything that must come before it: that has less before it than the item itself.
fn in_working_order(scene: &Scene<'_>, chosen: &Chosen) -> Vec<Item> {
    let mut items: Vec<Item> = chosen.users.iter().copied().collect();
    items.sort_by_cached_key(|item| (scene.order.all_before(*item).items().count(), *item));
    items
}

/// Open discrepancies that name the space and are not listed yet.
fn space_discrepancies<'a>(
    scene: &'a Scene<'_>,
    chosen: &Chosen,
    known: &'a [String],
) -> impl Iterator<Item = &'a DiscrepancyOpened> {
    let space = chosen.id(scene.job).to_owned();
    let hand = chosen.space.and_then(|space| space.hand);
    let open = scene.archived.into_iter().flat_map(Archived::open_discrepancies).map(|own| &own.opened);
    open.filter(move |own| {
        own.space.as_ref() == Some(&space) && same_side(own.hand, hand) && !known.contains(&own.number)
    })
}

fn wants_photo(scene: &Scene<'_>, item: Item) -> bool {
    let step = scene.job.step(item.at);
    step.photo.is_some() || step.kind.value == StepKind::Photograph
}

/// Whether the archive has the signature of an item and no number of a photo with it.
fn lacks_photo(scene: &Scene<'_>, item: Item) -> bool {
    let Some(archived) = scene.archived else { return false };
    archived.signatures_of(&scene.job.name_of(item)).all(|own| own.signed.photos.is_empty())
}

/// Photos of what is done in the spaces.
pub(super) fn photos(scene: &Scene<'_>) -> Vec<PhotoLine> {
    let mut lines = Vec::new();
    for item in scene.items.iter().filter(|item| scene.state.is_done(**item)) {
        let step = scene.job.step(item.at);
        let prompt = told::photo(step).unwrap_or_else(|| told::title(scene.job, item.at));
        let day = scene.state.done[item].on.earliest.day().to_string();
        let of = format!("{} {}, {day}", scene.place(item.at.traveler, item.hand), operation(step.number));
        let Some(archived) = scene.archived else {
            if wants_photo(scene, *item) {
                lines.push(PhotoLine { number: None, what: prompt.clone(), asked: true, of, kept: false });
            }
            continue;
        };
        let numbers = archived.signatures_of(&scene.job.name_of(*item)).flat_map(|own| &own.signed.photos);
        for number in numbers {
            let file = archived.files.iter().find(|(_, file)| file.photo.as_ref() == Some(number));
            let caption = file.and_then(|(_, file)| file.caption.as_deref());
            let (what, asked) = (caption.unwrap_or(&prompt).to_owned(), caption.is_none());
            lines.push(PhotoLine {
                number: Some(number.to_owned()),
                what,
                asked,
                of: of.clone(),
                kept: file.is_some(),
            });
        }
    }
    lines.extend(photos_of_spaces(scene, &lines));
    lines
}

/// Photos in the archive that name one of the spaces and no signature.
fn photos_of_spaces(scene: &Scene<'_>, known: &[PhotoLine]) -> Vec<PhotoLine> {
    let files = scene.archived.iter().flat_map(|archived| &archived.files).map(|(_, file)| file);
    let here = files.filter(|file| file.space.as_ref().is_some_and(|space| scene.is_space(space, None)));
    let new = here.filter(|file| {
        file.photo.is_some() && !known.iter().any(|line| line.number.as_deref() == file.photo.as_deref())
    });
    let line = |file: &crate::archive::Added| PhotoLine {
        number: file.photo.as_deref().map(str::to_owned),
        what: file.caption.as_deref().unwrap_or(&file.name).to_owned(),
        asked: false,
        of: file.taken.map_or_else(String::new, |day| day.to_string()),
        kept: true,
    };
    new.map(line).collect()
}
