//! The ledger's files: each posting's bytes against its name, each link against the posting before, the end against the
//! head.
//!
//! A damaged posting is named and left out; the postings around it are still read.

use std::collections::BTreeMap;
use std::path::Path;

use super::{Flaw, FlawKind, Posted, Survey, digits};
use crate::archive::entry::Entry;
use crate::archive::failure::Failure;
use crate::archive::folder::{BLOBS, HEAD_NAME, LEDGER, UNFINISHED, names, read_if_there};
use crate::archive::head::Head;
use crate::archive::record::{Posting, PostingName};
use crate::ident::Digest;

/// A posting's file.
struct Found {
    path: String,
    /// What its name says; the last number of a damaged one is cut where another file begins.
    name: PostingName,
    /// The posting with its digest, where it is sound.
    posting: Option<(Posting, Digest)>,
}

impl Found {
    /// Whether it is the file that the posting after it, or the head, names as the one before.
    fn is_named(&self, found: &Numbered, head: Option<Head>) -> bool {
        let after = self.name.last.checked_add(1).and_then(|next| found.get(&next)).into_iter().flatten();
        let by_next = after.filter_map(|file| file.posting.as_ref()).filter_map(|(posting, _)| posting.previous);
        let by_head = head.filter(|head| head.entries == self.name.last).and_then(|head| head.last);
        by_next.chain(by_head).any(|digest| digits(&digest) == self.name.digits)
    }
}

/// Files by the number of their first entry.
type Numbered = BTreeMap<u32, Vec<Found>>;

/// A posting's file by name and path.
type Named = (PostingName, String);

/// So many files are read by one thread before another is started.
const FEW: usize = 500;

/// Reads the ledger's folder.
pub(super) fn read(root: &Path, survey: &mut Survey) -> Result<(), Failure> {
    let folder = root.join(LEDGER);
    let (mut named, mut unfinished) = (Vec::new(), Vec::new());
    for name in names(&folder)? {
        let path = format!("{LEDGER}/{}", name.name);
        match (PostingName::parse(&name.name), name.name.strip_suffix(UNFINISHED)) {
            (Some(own), _) if name.is_file => named.push((own, path)),
            (None, Some(number)) if name.is_file && number.len() >= 6 && number.bytes().all(|b| b.is_ascii_digit()) => {
                unfinished.push(path);
            }
            _ => survey.flaw(FlawKind::Foreign, path, "it is not named as a record is"),
        }
    }
    let files = read_postings(root, &named)?;
    let found = drop_far(files, survey);
    let files = in_order(found, survey);
    check_links(&files, survey);
    check_end(&files, survey);
    for (posting, digest) in files.into_iter().filter_map(|file| file.posting) {
        survey.postings.push(Posted::of(&posting, digest));
        survey.records.extend(posting.into_records());
    }
    for path in unfinished {
        note_unfinished(root, &path, survey)?;
    }
    Ok(())
}

/// Reads postings, on every core that is there: a build of years has tens of thousands.
fn read_postings(root: &Path, named: &[Named]) -> Result<Vec<(Found, Option<Flaw>)>, Failure> {
    // Where the machine does not say how many cores it has, one is used.
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let share = named.len().div_ceil(cores).max(FEW);
    let read = |share: &[Named]| share.iter().map(|own| read_posting(root, own)).collect::<Result<Vec<_>, Failure>>();
    let shares: Vec<Result<Vec<_>, Failure>> = std::thread::scope(|scope| {
        let running: Vec<_> = named.chunks(share).map(|share| scope.spawn(|| read(share))).collect();
        running
            .into_iter()
            .map(|thread| thread.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)))
            .collect()
    });
    Ok(shares.into_iter().collect::<Result<Vec<_>, Failure>>()?.into_iter().flatten().collect())
}

fn read_posting(root: &Path, (name, path): &Named) -> Result<(Found, Option<Flaw>), Failure> {
    // A file that went since it was listed is found as one without bytes: its digest does not fit.
    let bytes = read_if_there(&root.join(path))?.unwrap_or_default();
    let digest = Digest::of_bytes(&bytes);
    let parsed = Posting::parse(&bytes);
    let flaw = |kind, message| Some(Flaw { path: path.clone(), kind, message });
    let own = |posting: &Posting| (posting.first.0, posting.last().0) == (name.first, name.last);
    let mut posting = None;
    let said = if digits(&digest) == name.digits {
        match parsed {
            Ok(read) if own(&read) => {
                posting = Some((read, digest));
                None
            }
            Ok(read) => flaw(FlawKind::Foreign, format!("it says that it is {}", entries(read.first.0, read.last().0))),
            Err(fault) => flaw(FlawKind::Foreign, format!("it is no record: {fault}")),
        }
    } else {
        let holds = match &parsed {
            Ok(read) if !own(read) => format!("it holds {}", entries(read.first.0, read.last().0)),
            Ok(_) => "it still reads as a record, but says something else".to_owned(),
            Err(fault) => fault.to_string(),
        };
        flaw(FlawKind::Changed, format!("its bytes are not those that its name stands for: {holds}"))
    };
    Ok((Found { path: path.clone(), name: name.clone(), posting }, said))
}

/// Tells what is wrong with files, and sorts them by number. One that is no record, and whose number lies beyond every
/// record, is no end of the ledger: anybody may have put it there.
fn drop_far(files: Vec<(Found, Option<Flaw>)>, survey: &mut Survey) -> Numbered {
    let sound = files.iter().filter(|(file, _)| file.posting.is_some()).map(|(file, _)| file.name.last);
    // Without a head and without a sound file, every number is beyond what was counted.
    let counted = sound.chain(survey.head.map(|head| head.entries)).max().unwrap_or(0);
    let mut found = Numbered::new();
    for (file, flaw) in files {
        if file.posting.is_none() && file.name.first > counted.saturating_add(1) {
            let message = format!("it is no record, and the last entry is {counted:06}");
            survey.flaw(FlawKind::Foreign, file.path, message);
            continue;
        }
        survey.sound += usize::from(file.posting.is_some());
        survey.flaws.extend(flaw);
        found.entry(file.name.first).or_default().push(file);
    }
    found
}

/// The files one after the other, one for each entry. Where several begin with one number, the one is kept that the next
/// file or the head names; a file whose first entry is in another is not.
fn in_order(mut found: Numbered, survey: &mut Survey) -> Vec<Found> {
    let mut kept: Vec<Found> = Vec::new();
    // Where none is named, the first by name is kept, and the others are told.
    let named = |files: &Vec<Found>| files.iter().position(|file| file.is_named(&found, survey.head)).unwrap_or(0);
    let wanted: BTreeMap<u32, usize> = found.iter().map(|(number, files)| (*number, named(files))).collect();
    while let Some((number, mut files)) = found.pop_first() {
        let mut own = files.remove(wanted[&number]);
        for other in files {
            survey.flaw(FlawKind::Foreign, other.path, format!("entry {number:06} is in {}", own.path));
        }
        if let Some(before) = kept.last().filter(|before| number <= before.name.last) {
            survey.flaw(FlawKind::Foreign, own.path, format!("entry {number:06} is in {}", before.path));
            continue;
        }
        if let (None, Some((next, _))) = (&own.posting, found.first_key_value()) {
            own.name.last = own.name.last.min(next - 1);
        }
        kept.push(own);
    }
    kept
}

/// Every number must be there, and every posting must name the digest of the one before.
fn check_links(files: &[Found], survey: &mut Survey) {
    let mut before: Option<&Found> = None;
    for file in files {
        // The first entry of an archive is 1.
        let expected = before.map_or(1, |before| before.name.last.saturating_add(1));
        let previous = file.posting.as_ref().map(|(posting, _)| posting.previous);
        let adjacent = before.filter(|_| expected == file.name.first);
        if expected < file.name.first {
            let digits = previous.flatten().map_or_else(|| "????????".to_owned(), |digest| digits(&digest));
            let last = file.name.first - 1;
            let what = if last == expected { "this entry".to_owned() } else { entries(expected, last) };
            survey.flaw(FlawKind::Missing, path_of(expected, last, &digits), format!("no file has {what}"));
        }
        let fits = match (adjacent, previous) {
            (_, None) => true,
            (None, Some(previous)) => previous.is_none() == (file.name.first == 1),
            (Some(_), Some(None)) => false,
            (Some(before), Some(Some(previous))) => match &before.posting {
                Some((_, digest)) => *digest == previous,
                None => before.name.digits == digits(&previous),
            },
        };
        if !fits {
            let path = adjacent.map_or_else(|| file.path.clone(), |before| before.path.clone());
            let first = file.name.first;
            survey.flaw(FlawKind::Changed, path, format!("entry {first:06} follows another record than this"));
        }
        before = Some(file);
    }
}

/// Entries in words.
fn entries(first: u32, last: u32) -> String {
    if first == last { format!("entry {first:06}") } else { format!("entries {first:06} to {last:06}") }
}

/// The name that a file of these entries would have.
fn path_of(first: u32, last: u32, digits: &str) -> String {
    if first == last {
        format!("{LEDGER}/{first:06}-{digits}.txt")
    } else {
        format!("{LEDGER}/{first:06}-{last:06}-{digits}.txt")
    }
}

/// The head must name the last posting.
fn check_end(files: &[Found], survey: &mut Survey) {
    let last = files.last();
    let sound = last.and_then(|file| file.posting.as_ref());
    let digest = sound.map(|(_, digest)| *digest);
    // An empty ledger has entry 0 for its last.
    survey.last = Head { entries: last.map_or(0, |file| file.name.last), last: digest };
    let Some(head) = survey.head else { return };
    let end = survey.last;
    let follows = |(posting, _): &(Posting, Digest)| {
        head.entries.checked_add(1) == Some(posting.first.0) && posting.previous == head.last
    };
    if head.entries > end.entries && digest.is_some() && head.last == digest {
        let message = format!("it counts {} entries, but names entry {:06} as the last", head.entries, end.entries);
        survey.flaw(FlawKind::Changed, HEAD_NAME, message);
    } else if head.entries > end.entries {
        let first = end.entries + 1;
        let shown = head.last.map_or_else(String::new, |digest| digits(&digest));
        let message = if first == head.entries {
            "head.txt names this entry as the last".to_owned()
        } else {
            format!("{} are not there, or head.txt was changed", entries(first, head.entries))
        };
        survey.flaw(FlawKind::Missing, path_of(first, head.entries, &shown), message);
    } else if head.entries < end.entries && sound.is_some_and(follows) {
        survey.head_is_behind = true;
        let first = head.entries + 1;
        let what = entries(first, end.entries);
        let is = if first == end.entries { "is" } else { "are" };
        let message = format!("{what} {is} recorded, but the head does not say so yet; the next entry puts that right");
        survey.flaw(FlawKind::Unfinished, HEAD_NAME, message);
    } else if head.entries < end.entries {
        let message = format!("it ends with entry {:06}, the ledger with {:06}", head.entries, end.entries);
        survey.flaw(FlawKind::Changed, HEAD_NAME, message);
    } else if names_another(last, head) {
        survey.flaw(FlawKind::Changed, HEAD_NAME, format!("it names another record as entry {:06}", head.entries));
    }
    if survey.head == Some(survey.last) {
        survey.sound += 1;
    }
}

/// Whether the head names another file than the last.
fn names_another(last: Option<&Found>, head: Head) -> bool {
    let Some(file) = last else { return false };
    match &file.posting {
        Some((_, digest)) => head.last != Some(*digest),
        None => head.last.is_some_and(|named| digits(&named) != file.name.digits),
    }
}

/// A posting that was being written: named as exactly as it can be, with the files that came with it.
fn note_unfinished(root: &Path, path: &str, survey: &mut Survey) -> Result<(), Failure> {
    // A file that went since it was listed is found as one without bytes: no posting.
    let bytes = read_if_there(&root.join(path))?.unwrap_or_default();
    survey.leftovers.push(path.to_owned());
    let Ok(posting) = Posting::parse(&bytes) else {
        survey.flaw(FlawKind::Unfinished, path, "the beginning of an entry that never counted; enter it again");
        return Ok(());
    };
    let what = entries(posting.first.0, posting.last().0);
    let is = if posting.entries.len() == 1 { "is" } else { "are" };
    if survey.postings.iter().any(|posted| posted.digest == posting.digest()) {
        survey.flaw(FlawKind::Unfinished, path, format!("{what} {is} recorded; this was the temporary file"));
        return Ok(());
    }
    let kinds: Vec<&str> = posting.entries.iter().map(Entry::kind).collect();
    let message =
        format!("{what} ({}) of {} never counted; enter it again", kinds.join(", "), posting.entered.in_record());
    survey.flaw(FlawKind::Unfinished, path, message);
    for blob in posting.blobs() {
        let named = survey.records.iter().any(|other| other.entry.blobs().contains(&blob));
        let file = format!("{BLOBS}/{}", blob.file_name());
        if !named && root.join(&file).is_file() {
            survey.flaw(
                FlawKind::Unfinished,
                file.clone(),
                format!("it came with the entry in {path}, which never counted"),
            );
            survey.leftovers.push(file);
        }
    }
    Ok(())
}
