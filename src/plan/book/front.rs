//! The first pages of the build record: who, from when to when, how far, what is left; and the days in short.
//!
//! It sums up what follows behind it. A signature stands once, in the table of its assembly or among the looks.

use std::collections::BTreeMap;

use serde::Serialize;

use super::people::{PersonOnPage, person};
use super::progress::hours;
use super::{Assembly, Book, BookLine, Month, Progress, VisitEntry};
use crate::job::Job;
use crate::phrase::{say, say_count};

/// The first page.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Front {
    /// Name of the aircraft.
    pub name: String,
    /// Serial number and registration.
    pub marks: Vec<String>,
    /// What the record says in a line each: begun, finished, time, signatures; word and value.
    pub facts: Vec<(&'static str, String)>,
    /// Who did what.
    pub people: Vec<PersonOnPage>,
    /// Visits.
    pub visits: Vec<VisitEntry>,
    /// Where the ledger ends.
    pub ledger: String,
}

/// A bar and the words at it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Bar {
    /// What it is of, in bold.
    pub name: String,
    /// The same in words.
    pub words: String,
    /// How much of it is black.
    pub part: u32,
    /// How long it is in all.
    pub whole: u32,
    /// What stands at its end.
    pub said: String,
}

/// One traveler and hand.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct AssemblyOnPage {
    /// What the archive holds of it; its signatures are in `lines`.
    pub own: Assembly,
    /// First day of work.
    pub begun: Option<String>,
    /// Last day of work where every step is signed, else how many are.
    pub finished: String,
    /// Signatures for the work, in its order.
    pub lines: Vec<BookLine>,
    /// What holds for all of its lines, said once: how long after the work they were entered, where the work was done.
    pub notes: Vec<String>,
    /// Steps of the sheet in force that are not signed, by number.
    pub open: Option<String>,
}

/// One day of work.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct DayOnPage {
    /// The day.
    pub day: String,
    /// Time written down.
    pub time: Option<String>,
    /// Assemblies with the numbers of the steps.
    pub work: Vec<String>,
}

/// The first page.
pub(super) fn front(book: &Book, job: &Job) -> Front {
    let project = &job.project;
    let marks = [(say!("serial"), project.serial()), (say!("registration"), project.registration())];
    Front {
        name: project.aircraft.value.clone(),
        marks: marks.into_iter().filter_map(|(word, text)| Some(format!("{word} {}", text?.value))).collect(),
        facts: facts(book),
        people: book.people.iter().map(person).collect(),
        visits: book.visits.clone(),
        ledger: say!(
            "{entries}; SHA-256 of the last: {last}",
            entries = say_count!(book.entries, "{n} entry in the ledger", "{n} entries in the ledger"),
            last = book.last
        ),
    }
}

fn facts(book: &Book) -> Vec<(&'static str, String)> {
    let none = || "–".to_owned();
    let open: u32 = book.progress.iter().map(open_steps).sum();
    let finished = book.last_worked.clone().filter(|_| open == 0);
    let closed = book.discrepancies.iter().filter(|own| own.closed.is_some()).count();
    let discrepancies = book.discrepancies.len();
    let counting =
        |looks: bool| book.by_date.iter().filter(|line| !line.struck && line.capacity.is_some() == looks).count();
    let builder_seen = book.files.iter().filter(|file| file.builder_seen == Some(true)).count();
    let photos = book.files.iter().filter(|file| file.photo.is_some()).count();
    let sheets = book.assemblies.iter().map(|own| own.sheets.len()).sum::<usize>();
    vec![
        (say!("work begun"), book.begun.clone().unwrap_or_else(none)),
        (say!("last work"), book.last_worked.clone().unwrap_or_else(none)),
        (
            say!("finished"),
            finished.unwrap_or_else(|| {
                say!("not yet: {open} not signed", open = say_count!(open, "{n} step", "{n} steps"))
            }),
        ),
        (say!("time written down"), hours(book.minutes).unwrap_or_else(none)),
        (say!("steps signed"), counting(false).to_string()),
        (say!("holds, witnesses, stages signed"), counting(true).to_string()),
        (say!("sheets issued"), sheets.to_string()),
        (say!("photos"), say!("{photos}, the builder in {builder_seen} of them", photos, builder_seen)),
        (say!("discrepancies"), say!("{discrepancies}, decided {closed}", discrepancies, closed)),
        (say!("visits"), book.visits.len().to_string()),
    ]
}

const fn open_steps(own: &Progress) -> u32 {
    own.steps.saturating_sub(own.signed)
}

/// Steps signed of all.
pub(super) fn bar(own: &Progress) -> Bar {
    let time = hours(own.minutes).map(|time| format!(", {time}")).unwrap_or_default();
    Bar {
        name: own.place.clone(),
        words: own.title.clone(),
        part: own.signed,
        whole: own.steps,
        said: say!("{signed} of {steps}{time}", signed = own.signed, steps = own.steps, time),
    }
}

/// Each month beside the one with the most hours.
pub(super) fn months(months: &[Month]) -> Vec<Bar> {
    let most = months.iter().map(|month| month.minutes).max().unwrap_or(0);
    let bar = |month: &Month| Bar {
        name: month.month.clone(),
        words: String::new(),
        part: month.minutes,
        whole: most,
        said: hours(month.minutes).unwrap_or_else(|| "–".to_owned()),
    };
    months.iter().map(bar).collect()
}

/// What is left; nothing where nothing is.
pub(super) fn left(book: &Book) -> Vec<String> {
    let open: Vec<&Progress> = book.progress.iter().filter(|own| open_steps(own) > 0).collect();
    let steps: u32 = open.iter().map(|own| open_steps(own)).sum();
    let estimate = hours(open.iter().map(|own| own.left).fold(0, u32::saturating_add));
    let work = estimate.filter(|_| steps > 0).map(|time| {
        let where_open = say_count!(open.len(), "{n} assembly", "{n} assemblies");
        say!(
            "{steps} in {where_open}, by the specs' own estimate {time}",
            steps = say_count!(steps, "{n} step", "{n} steps"),
            where_open,
            time
        )
    });
    let undecided: Vec<&str> =
        book.discrepancies.iter().filter(|own| own.closed.is_none()).map(|own| own.number.as_str()).collect();
    let undecided = (!undecided.is_empty())
        .then(|| say!("discrepancies without a decision: {undecided}", undecided = undecided.join(", ")));
    let photos = book.missing.len();
    let missing = (photos > 0).then(|| {
        say!("{photos} named on sheets and not in the archive", photos = say_count!(photos, "{n} photo", "{n} photos"))
    });
    let unphotographed = book.unphotographed.len();
    let untaken = (unphotographed > 0).then(|| {
        say!(
            "{unphotographed} whose sheet asks for a photo and that name none",
            unphotographed = say_count!(unphotographed, "{n} signed step", "{n} signed steps")
        )
    });
    work.into_iter().chain(undecided).chain(missing).chain(untaken).collect()
}

/// An assembly with the signatures for the work; those of looks stand together elsewhere.
pub(super) fn assembly(book: &Book, own: &Assembly) -> AssemblyOnPage {
    let progress = book.progress.iter().find(|line| line.place == own.place);
    let mut lines: Vec<BookLine> = own.lines.iter().filter(|line| line.capacity.is_none()).cloned().collect();
    let shared = lines
        .first()
        .and_then(|line| line.at.clone())
        .filter(|at| lines.iter().all(|line| line.at.as_ref() == Some(at)));
    if shared.is_some() {
        for line in &mut lines {
            line.at = None;
        }
    }
    let latest = lines.iter().filter_map(|line| line.late).max();
    let late = latest
        .map(|days| say!("Entered at most {days} after the work.", days = say_count!(days, "{n} day", "{n} days")));
    let finished = progress.map(|line| {
        line.finished.clone().unwrap_or_else(|| say!("{signed} of {steps}", signed = line.signed, steps = line.steps))
    });
    AssemblyOnPage {
        begun: lines.iter().filter(|line| !line.struck).map(|line| line.worked.clone()).min(),
        // A traveler that is no longer among the specs has no count of steps.
        finished: finished.unwrap_or_else(|| say!("no longer in the specs").to_owned()),
        notes: late.into_iter().chain(shared.map(|at| say!("All of it at {at}.", at))).collect(),
        open: open_words(&own.open),
        lines,
        own: Assembly { lines: Vec::new(), open: Vec::new(), ..own.clone() },
    }
}

/// `3 steps: 050, 060, 070`.
fn open_words(open: &[String]) -> Option<String> {
    // Each begins with its number.
    let numbers: Vec<&str> = open.iter().filter_map(|step| step.split(' ').next()).collect();
    (!numbers.is_empty())
        .then(|| format!("{}: {}", say_count!(open.len(), "{n} step", "{n} steps"), numbers.join(", ")))
}

/// Assemblies with the numbers of their steps.
type Worked<'a> = Vec<(&'a str, Vec<&'a str>)>;

/// What was worked on each day; who signed stands at the assembly.
pub(super) fn days(lines: &[BookLine]) -> Vec<DayOnPage> {
    let mut days: BTreeMap<&str, (u32, Worked<'_>)> = BTreeMap::new();
    for line in lines.iter().filter(|line| !line.struck && line.capacity.is_none()) {
        let (minutes, places) = days.entry(&line.worked).or_default();
        // A signature without minutes adds none.
        *minutes = minutes.saturating_add(line.minutes.unwrap_or(0));
        let step = line.number.as_deref().unwrap_or(&line.step);
        match places.iter_mut().find(|(place, _)| *place == line.place) {
            Some((_, steps)) => steps.push(step),
            None => places.push((&line.place, vec![step])),
        }
    }
    let words = |(place, steps): (&str, Vec<&str>)| format!("{place} {}", steps.join(", "));
    let day = |(day, (minutes, places)): (&str, (u32, Worked<'_>))| DayOnPage {
        day: day.to_owned(),
        time: hours(minutes),
        work: places.into_iter().map(words).collect(),
    };
    days.into_iter().map(day).collect()
}
