//! The ledger's files: each record's bytes against its name, each link against the record before, the end against the head.
//!
//! A damaged record is named and left out; the records around it are still read.

use std::collections::BTreeMap;
use std::path::Path;

use super::{Flaw, FlawKind, Survey, digits, names};
use crate::archive::failure::Failure;
use crate::archive::file::UNFINISHED;
use crate::archive::head::Head;
use crate::archive::record::{Record, parse_file_name};
use crate::archive::store::{BLOBS, HEAD_NAME, LEDGER, read_if_there};
use crate::archive::value::EntryNumber;
use crate::ident::Digest;

/// A record's file.
struct Found {
    path: String,
    /// The first eight digits of its name.
    digits: String,
    /// The record with its digest, where it is sound.
    record: Option<(Record, Digest)>,
}

type Numbered = BTreeMap<u32, Vec<Found>>;

/// A record's file by number, path and the digits of its name.
type Named = (EntryNumber, String, String);

/// So many records are read by one thread before another is started.
const FEW: usize = 500;

/// Reads the ledger's folder.
pub(super) fn read(root: &Path, survey: &mut Survey) -> Result<(), Failure> {
    let folder = root.join(LEDGER);
    let (mut records, mut unfinished) = (Vec::new(), Vec::new());
    for name in names(&folder)? {
        let path = format!("{LEDGER}/{}", name.name);
        match (parse_file_name(&name.name), name.name.strip_suffix(UNFINISHED)) {
            (Some((number, digits)), _) if name.is_file => records.push((number, path, digits.to_owned())),
            (None, Some(number)) if name.is_file && number.len() >= 6 && number.bytes().all(|b| b.is_ascii_digit()) => {
                unfinished.push(path);
            }
            _ => survey.flaw(FlawKind::Foreign, path, "it is not named as a record is"),
        }
    }
    let mut found = Numbered::new();
    for (number, file, flaw) in read_records(root, &records)? {
        survey.sound += usize::from(file.record.is_some());
        survey.flaws.extend(flaw);
        found.entry(number.0).or_default().push(file);
    }
    drop_doubles(&mut found, survey);
    check_links(&found, survey);
    check_end(&found, survey);
    survey.records = found.into_values().flatten().filter_map(|file| file.record).map(|(record, _)| record).collect();
    for path in unfinished {
        note_unfinished(root, &path, survey)?;
    }
    Ok(())
}

/// Reads records, on every core that is there: a build of years has tens of thousands.
fn read_records(root: &Path, named: &[Named]) -> Result<Vec<(EntryNumber, Found, Option<Flaw>)>, Failure> {
    // Where the machine does not say how many cores it has, one is used.
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let share = named.len().div_ceil(cores).max(FEW);
    let read = |share: &[Named]| share.iter().map(|own| read_record(root, own)).collect::<Result<Vec<_>, Failure>>();
    let shares: Vec<Result<Vec<_>, Failure>> = std::thread::scope(|scope| {
        let running: Vec<_> = named.chunks(share).map(|share| scope.spawn(|| read(share))).collect();
        running
            .into_iter()
            .map(|thread| thread.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)))
            .collect()
    });
    Ok(shares.into_iter().collect::<Result<Vec<_>, Failure>>()?.into_iter().flatten().collect())
}

fn read_record(
    root: &Path,
    (number, shown, name_digits): &Named,
) -> Result<(EntryNumber, Found, Option<Flaw>), Failure> {
    // A file that went since it was listed is found as one without bytes: its digest does not fit.
    let bytes = read_if_there(&root.join(shown))?.unwrap_or_default();
    let digest = Digest::of_bytes(&bytes);
    let parsed = Record::parse(&bytes);
    let flaw = |kind, message| Some(Flaw { path: shown.clone(), kind, message });
    let mut record = None;
    let said = if digits(&digest) == *name_digits {
        match parsed {
            Ok(own) if own.number == *number => {
                record = Some((own, digest));
                None
            }
            Ok(own) => flaw(FlawKind::Foreign, format!("it says that it is entry {}", own.number)),
            Err(fault) => flaw(FlawKind::Foreign, format!("it is no record: {fault}")),
        }
    } else {
        let holds = match &parsed {
            Ok(own) if own.number != *number => format!("it holds entry {}", own.number),
            Ok(_) => "it still reads as a record, but says something else".to_owned(),
            Err(fault) => fault.to_string(),
        };
        flaw(FlawKind::Changed, format!("its bytes are not those that its name stands for: {holds}"))
    };
    Ok((*number, Found { path: shown.clone(), digits: name_digits.clone(), record }, said))
}

/// Where two files have one number, keeps the one that the next record or the head names.
fn drop_doubles(found: &mut Numbered, survey: &mut Survey) {
    let doubled: Vec<u32> = found.iter().filter(|(_, files)| files.len() > 1).map(|(number, _)| *number).collect();
    for number in doubled {
        let wanted = wanted_digits(found, number, survey.head);
        let Some(files) = found.get_mut(&number) else { continue };
        // Where none is named, the first by name is kept, and the others are told.
        let keep = files.iter().position(|file| Some(&file.digits) == wanted.as_ref()).unwrap_or(0);
        let kept = files.remove(keep);
        for other in std::mem::take(files) {
            let message = format!("entry {number:06} is {}", kept.path);
            survey.flaw(FlawKind::Foreign, other.path, message);
        }
        files.push(kept);
    }
}

/// The digits by which the record after, or the head, names a record.
fn wanted_digits(found: &Numbered, number: u32, head: Option<Head>) -> Option<String> {
    let next = found.get(&(number + 1)).into_iter().flatten().find_map(|file| file.record.as_ref());
    let by_next = next.and_then(|(record, _)| record.previous);
    let by_head = head.filter(|head| head.entries == number).and_then(|head| head.last);
    by_next.or(by_head).map(|digest| digits(&digest))
}

/// Every number must be there, and every record must name the digest of the one before.
fn check_links(found: &Numbered, survey: &mut Survey) {
    // An empty ledger has entry 0 for its last.
    let last = found.keys().next_back().copied().unwrap_or(0);
    for number in 1..=last {
        let Some(file) = found.get(&number).and_then(|files| files.first()) else {
            let wanted = wanted_digits(found, number, survey.head).unwrap_or_else(|| "????????".to_owned());
            survey.flaw(FlawKind::Missing, format!("{LEDGER}/{number:06}-{wanted}.txt"), "no file has this entry");
            continue;
        };
        let Some((record, _)) = &file.record else { continue };
        let before = found.get(&(number - 1)).and_then(|files| files.first());
        let fits = match (before, &record.previous) {
            (None, None) => number == 1,
            (None, Some(_)) => number > 1,
            (Some(_), None) => false,
            (Some(before), Some(previous)) => match &before.record {
                Some((_, digest)) => digest == previous,
                None => before.digits == digits(previous),
            },
        };
        if !fits {
            let path = before.map_or_else(|| file.path.clone(), |before| before.path.clone());
            survey.flaw(FlawKind::Changed, path, format!("entry {} follows another record than this", record.number));
        }
    }
}

/// The head must name the last record.
fn check_end(found: &Numbered, survey: &mut Survey) {
    let last = found.last_key_value().and_then(|(number, files)| files.first().map(|file| (*number, file)));
    let digest = last.and_then(|(_, file)| file.record.as_ref()).map(|(_, digest)| *digest);
    // An empty ledger has entry 0 for its last.
    survey.last = Head { entries: last.map_or(0, |(number, _)| number), last: digest };
    let Some(head) = survey.head else { return };
    let end = survey.last;
    let before = last.and_then(|(_, file)| file.record.as_ref()).map(|(record, _)| record.previous);
    if head.entries > end.entries && digest.is_some() && head.last == digest {
        let message = format!("it counts {} entries, but names entry {:06} as the last", head.entries, end.entries);
        survey.flaw(FlawKind::Changed, HEAD_NAME, message);
    } else if head.entries > end.entries {
        let first = end.entries + 1;
        let shown = head.last.map_or_else(String::new, |digest| digits(&digest));
        let message = if first == head.entries {
            "head.txt names this entry as the last".to_owned()
        } else {
            format!("entries {first:06} to {:06} are not there, or head.txt was changed", head.entries)
        };
        survey.flaw(FlawKind::Missing, format!("{LEDGER}/{:06}-{shown}.txt", head.entries), message);
    } else if head.entries + 1 == end.entries && before == Some(head.last) {
        survey.head_is_behind = true;
        survey.flaw(
            FlawKind::Unfinished,
            HEAD_NAME,
            format!(
                "entry {:06} is recorded, but the head does not name it yet; the next entry puts that right",
                end.entries
            ),
        );
    } else if head.entries < end.entries {
        survey.flaw(
            FlawKind::Changed,
            HEAD_NAME,
            format!("it ends with entry {:06}, the ledger with {:06}", head.entries, end.entries),
        );
    } else if digest.is_some() && head.last != digest {
        survey.flaw(FlawKind::Changed, HEAD_NAME, format!("it names another record as entry {:06}", head.entries));
    } else if let (None, Some((_, file)), Some(named)) = (digest, last, head.last)
        && file.digits != digits(&named)
    {
        survey.flaw(FlawKind::Changed, HEAD_NAME, format!("it names another record as entry {:06}", head.entries));
    }
    if survey.head == Some(survey.last) {
        survey.sound += 1;
    }
}

/// A record that was being written: named as exactly as it can be, with the files that came with it.
fn note_unfinished(root: &Path, path: &str, survey: &mut Survey) -> Result<(), Failure> {
    // A file that went since it was listed is found as one without bytes: no entry.
    let bytes = read_if_there(&root.join(path))?.unwrap_or_default();
    survey.leftovers.push(path.to_owned());
    let Ok(record) = Record::parse(&bytes) else {
        survey.flaw(FlawKind::Unfinished, path, "the beginning of an entry that never counted; enter it again");
        return Ok(());
    };
    if survey.records.contains(&record) {
        survey.flaw(
            FlawKind::Unfinished,
            path,
            format!("entry {} is recorded; this was its temporary file", record.number),
        );
        return Ok(());
    }
    survey.flaw(
        FlawKind::Unfinished,
        path,
        format!(
            "an entry `{}` of {} that never counted; enter it again",
            record.entry.kind(),
            record.entered.in_record()
        ),
    );
    for blob in record.entry.blobs() {
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
