//! One entry of every kind, every line filled, with times and texts that never change.

use shophead::archive::{
    About, Added, Answered, Archive, Aspect, Begun, BlobRef, Capacity, Carried, Carry, Cause, Class, Corrected,
    DiscrepancyClosed, DiscrepancyOpened, Disposition, Entry, EntryNumber, Fact, FactValue, Finding, Form, Imported,
    Issued, KeptPage, Lost, NewBlob, Noticed, ReadThrough, Reading, Renamed, Reprinted, SheetRequirement, Signed,
    StepRequirement, Stops, Struck, Superseded, Visited, Voided,
};
use shophead::calendar::{Day, Moment};
use shophead::ident::{Digest, SheetCode};
use shophead::words::{Hand, StepKind};

use super::append;

pub const PDF: &[u8] = b"%PDF-1.7 the sheet as it was printed\n";
pub const PDF_B: &[u8] = b"%PDF-1.7 the sheet of revision B\n";
pub const SPEC: &[u8] = b"[traveler]\nid = \"WNG-210\"\n";
pub const PROJECT: &[u8] = b"[aircraft]\nname = \"Dunlin two-seat\"\n";
pub const PLACES: &[u8] = b"{}\n";
pub const SCAN: &[u8] = b"not really a scan";
pub const NOTICE: &[u8] = b"%PDF-1.7 the notice\n";
pub const PROGRESS: &[u8] = b"[[done]]\nstep = \"WNG-120/prime-ribs\"\n";

pub fn day(text: &str) -> Day {
    Day::parse(text).unwrap()
}

pub fn moment(text: &str) -> Moment {
    Moment::parse(text).unwrap()
}

fn s(text: &str) -> String {
    text.to_owned()
}

fn reading(id: &str, value: &str) -> Reading {
    Reading { id: s(id), value: s(value) }
}

/// Two steps of a sheet of form 1; the drill differs from revision to revision. The hole stands on a line that no
/// program wrote: it is kept as it is.
pub fn requirement(revision: &str, nanometres: i64) -> SheetRequirement {
    let step = |id: &str, number, title: &str, facts: &[Fact]| StepRequirement {
        id: s(id),
        number,
        title: s(title),
        wording: Digest::of_bytes(title.as_bytes()),
        form: Form::One,
        facts: facts.to_vec(),
    };
    let text = |about, text: String| Fact::new(about, FactValue::Text(text));
    let hole = About::Other(Aspect::Size, s("J1 hole after"));
    let drill = [Fact::new(About::Kind, FactValue::Kind(StepKind::Drill)), text(hole, format!("{nanometres} nm"))];
    let look =
        [Fact::new(About::Kind, FactValue::Kind(StepKind::Inspect)), text(About::Hold, s("technical counselor"))];
    SheetRequirement {
        form: Form::One,
        traveler: s("WNG-210"),
        hand: Some(Hand::Left),
        revision: s(revision),
        drawings: vec![s("W-210:C"), s("W-211:A")],
        wording: None,
        facts: vec![Fact::new(About::After(s("WNG-120")), FactValue::Stated)],
        steps: vec![
            step("open-holes", 10, "Open the holes \\ all of them", &drill),
            step("look", 20, "Look\nagain", &look),
        ],
    }
}

pub fn first() -> SheetRequirement {
    requirement("A", 3_263_900)
}

pub fn second() -> SheetRequirement {
    requirement("B", 3_454_400)
}

fn issued(sheet: &SheetRequirement, pdf: &[u8], supersedes: Option<SheetCode>, carried: Vec<Carried>) -> Issued {
    Issued {
        sheet: sheet.code(),
        traveler: sheet.traveler.clone(),
        hand: sheet.hand,
        title: s("Aileron bellcrank support"),
        revision: sheet.revision.clone(),
        same_revision: None,
        printed: day("2026-03-01"),
        supersedes,
        drawings: sheet.drawings.clone(),
        pdf: BlobRef::of(pdf, "pdf"),
        pages: 7,
        requirements: BlobRef::of(sheet.text().as_bytes(), "txt"),
        spec: Some(BlobRef::of(SPEC, "toml")),
        project: Some(BlobRef::of(PROJECT, "toml")),
        places: Some(BlobRef::of(PLACES, "json")),
        print: None,
        kept: Vec::new(),
        tables: Digest::of_bytes(b"tables"),
        templates: Digest::of_bytes(b"templates"),
        program: s("shophead 0.1.0"),
        steps: sheet.steps.iter().map(StepRequirement::issued).collect(),
        carried,
    }
}

pub fn signed(step: usize) -> Signed {
    let sheet = first();
    Signed {
        sheet: sheet.code(),
        traveler: sheet.traveler.clone(),
        hand: sheet.hand,
        step: sheet.steps[step].id.clone(),
        requirement: sheet.steps[step].digest(),
        capacity: Capacity::Done,
        stage: None,
        outcome: None,
        role: s("builder"),
        by: s("B1"),
        asked: Vec::new(),
        worked: day("2026-03-02"),
        late: Some(4),
        minutes: Some(45),
        helpers: vec![s("H1"), s("H2")],
        paid: vec![s("P1")],
        readings: vec![reading("level", "0.05"), reading("gap", ".010")],
        photos: vec![s("12"), s("13")],
        discrepancies: vec![s("D-001")],
        as_built: vec![s("J1: one NAS1149F0363P under the head")],
        place: Some(s("home workshop")),
        note: Some(s("a tab\tand two\nlines, a \\ and é")),
        reconstructed: Some(s("photo 12 of the lost sheet")),
    }
}

/// Entries with lines that version one did not have.
pub fn since_one() -> Vec<(&'static str, Entry)> {
    let stage = Signed {
        capacity: Capacity::Stage,
        stage: Some(s("S2")),
        outcome: Some(s("with conditions")),
        role: s("inspector"),
        by: s("I1"),
        asked: vec![reading("licence no.", "L 12")],
        ..signed(1)
    };
    let shared =
        DiscrepancyOpened { number: s("D-009"), cause: Cause::Change, also: vec![s("rivet")], ..discrepancy() };
    let print = Some(SheetCode::of(&Digest::of_bytes(b"print")));
    let kept = vec![KeptPage { print: SheetCode::of(&Digest::of_bytes(b"print before")), page: 3 }];
    let same_revision = Some(s("the letter is the drawing's"));
    let pages = Issued { print, kept, same_revision, ..issued(&first(), PDF, None, Vec::new()) };
    let again = Reprinted {
        sheet: first().code(),
        printed: day("2026-03-08"),
        pdf: BlobRef::of(PDF, "pdf"),
        pages: Some(2),
        places: Some(BlobRef::of(PLACES, "json")),
        print,
        kept: vec![KeptPage { print: SheetCode::of(&Digest::of_bytes(b"print before")), page: 4 }],
        because: None,
    };
    vec![
        ("2026-03-07T18:00", stage.into()),
        ("2026-03-07T18:01", shared.into()),
        ("2026-03-07T18:02", pages.into()),
        ("2026-03-07T18:03", again.into()),
    ]
}

/// Every kind but `begun`, in an order in which they could be written.
pub fn entries() -> Vec<(&'static str, Entry)> {
    let (old, new) = (first(), second());
    let mut list: Vec<(&'static str, Entry)> = vec![
        (
            "2026-03-01T18:00",
            Begun { aircraft: s("Dunlin two-seat"), serial: Some(s("D-014")), registration: Some(s("N00DN")) }.into(),
        ),
        ("2026-03-01T18:01", issued(&old, PDF, None, Vec::new()).into()),
        ("2026-03-01T18:02", imported().into()),
        ("2026-03-06T20:15", discrepancy().into()),
        ("2026-03-06T20:16", signed(0).into()),
    ];
    list.extend(after_signing(&old));
    list.extend(around_a_visit());
    list.extend(after_change(&old, &new));
    list
}

fn imported() -> Imported {
    Imported {
        source: s("progress.toml"),
        file: BlobRef::of(PROGRESS, "toml"),
        traveler: s("WNG-120"),
        hand: Some(Hand::Right),
        step: s("prime-ribs"),
        requirement: Digest::of_bytes(b"prime"),
        by: Some(s("B1")),
        worked: day("2026-02-20"),
        minutes: Some(90),
        readings: vec![reading("humidity", "45")],
    }
}

fn discrepancy() -> DiscrepancyOpened {
    DiscrepancyOpened {
        number: s("D-001"),
        cause: Cause::Reading,
        sheet: Some(first().code()),
        traveler: Some(s("WNG-210")),
        hand: Some(Hand::Left),
        step: Some(s("open-holes")),
        also: Vec::new(),
        space: Some(s("left-wing-bay-3")),
        joint: Some(s("J1")),
        what: s("hole 3 is oval"),
        should: Some(s("3.26 mm")),
        is: Some(s("3.26 x 3.40 mm")),
        stops: Stops::Space,
        class: Class::Major,
        photos: vec![s("14")],
        by: s("B1"),
        found: day("2026-03-02"),
    }
}

fn after_signing(old: &SheetRequirement) -> Vec<(&'static str, Entry)> {
    let corrected = Corrected {
        entry: EntryNumber(5),
        field: s("reading level"),
        was: Some(s("0.05")),
        now: Some(s("0.06")),
        by: s("B1"),
        on: day("2026-03-07"),
        because: s("read from the wrong line"),
    };
    let struck = Struck { entry: EntryNumber(3), by: s("B1"), on: day("2026-03-07"), because: s("the other hand") };
    let added = Added {
        file: BlobRef::of(SCAN, "PNG"),
        name: s("sheet 12 (2).PNG"),
        sheet: Some(old.code()),
        step: Some(s("open-holes")),
        discrepancy: Some(s("D-001")),
        photo: Some(s("12")),
        space: Some(s("left-wing-bay-3")),
        taken: Some(day("2026-03-02")),
        caption: Some(s("before covering")),
        builder_seen: Some(true),
        by: Some(s("B1")),
    };
    let reprinted = Reprinted {
        sheet: old.code(),
        printed: day("2026-03-08"),
        pdf: BlobRef::of(PDF, "pdf"),
        pages: None,
        places: None,
        print: None,
        kept: Vec::new(),
        because: Some(s("coffee")),
    };
    vec![
        ("2026-03-07T09:00", corrected.into()),
        ("2026-03-07T09:01", struck.into()),
        ("2026-03-08T10:00", added.into()),
        ("2026-03-08T10:01", reprinted.into()),
    ]
}

fn around_a_visit() -> Vec<(&'static str, Entry)> {
    let closed = DiscrepancyClosed {
        number: s("D-001"),
        disposition: Disposition::Rework,
        authority: s("designer"),
        reference: Some(s("letter of 2026-03-09")),
        after: vec![reading("hole 3", "4.1")],
        as_built: vec![s("J1 hole 3: MS20470AD5-6")],
        by: s("B1"),
        on: day("2026-03-10"),
        looked: Some(s("T1")),
    };
    let visited = Visited {
        by: s("T1"),
        role: s("technical counselor"),
        on: day("2026-03-10"),
        spaces: vec![s("left-wing-bay-3")],
        reference: Some(s("17")),
        note: Some(s("an hour")),
    };
    let finding = Finding {
        visit: EntryNumber(10),
        number: s("1"),
        space: Some(s("left-wing-bay-3")),
        traveler: Some(s("WNG-210")),
        what: s("chafing at the grommet"),
        suggested: Some(s("larger grommet")),
        before_close: true,
        discrepancy: Some(s("D-001")),
    };
    let answered =
        Answered { finding: EntryNumber(11), answer: s("larger grommet fitted"), by: s("B1"), on: day("2026-03-11") };
    vec![
        ("2026-03-10T21:00", visited.into()),
        ("2026-03-10T21:01", finding.into()),
        ("2026-03-11T08:00", answered.into()),
        ("2026-03-11T08:01", closed.into()),
    ]
}

fn after_change(old: &SheetRequirement, new: &SheetRequirement) -> Vec<(&'static str, Entry)> {
    let notice = Noticed {
        number: s("N-001"),
        source: Some(s("plan change 7")),
        drawings: vec![s("W-210:C to D")],
        pdf: Some(BlobRef::of(NOTICE, "pdf")),
        data: Some(BlobRef::of(PLACES, "json")),
        remove: vec![old.code()],
        insert: vec![new.code()],
        on: day("2026-04-01"),
    };
    let carried = vec![Carried { entry: EntryNumber(5), how: Carry::ReadThrough, step: s("open-holes") }];
    let superseded = Superseded {
        sheet: old.code(),
        replaced_by: new.code(),
        kept: true,
        pages: Some(7),
        by: s("B1"),
        on: day("2026-04-01"),
    };
    vec![
        ("2026-04-01T19:00", notice.into()),
        ("2026-04-01T19:01", issued(new, PDF_B, Some(old.code()), carried).into()),
        ("2026-04-01T19:02", superseded.into()),
        ("2026-04-01T19:03", ReadThrough { sheet: new.code(), by: s("B1"), on: day("2026-04-01") }.into()),
        (
            "2026-04-02T19:00",
            Lost { sheet: new.code(), by: s("B1"), on: day("2026-04-02"), because: s("not in the binder") }.into(),
        ),
        (
            "2026-04-03T19:00",
            Voided { sheet: new.code(), by: s("B1"), on: day("2026-04-03"), because: s("the bay is built anew") }
                .into(),
        ),
        (
            "2026-04-04T19:00",
            Renamed {
                aircraft: s("Dunlin two-seat"),
                serial: Some(s("D-014")),
                registration: Some(s("N01DN")),
                by: s("B1"),
                on: day("2026-04-04"),
                because: s("registered again"),
            }
            .into(),
        ),
    ]
}

/// An entry that may follow any other.
pub fn visit() -> Entry {
    entries().into_iter().map(|(_, entry)| entry).find(|entry| matches!(entry, Entry::Visited(_))).unwrap()
}

/// So many of the entries are of kinds that version one of the archive had.
pub const OF_VERSION_ONE: usize = 19;

/// Every file that the entries name.
pub fn blobs() -> Vec<(Vec<u8>, &'static str)> {
    let (old, new) = (first().text().into_bytes(), second().text().into_bytes());
    let fixed = [
        (PDF, "pdf"),
        (PDF_B, "pdf"),
        (SPEC, "toml"),
        (PROJECT, "toml"),
        (PLACES, "json"),
        (SCAN, "PNG"),
        (NOTICE, "pdf"),
        (PROGRESS, "toml"),
    ];
    let fixed = fixed.into_iter().map(|(bytes, ending)| (bytes.to_vec(), ending));
    fixed.chain([(old, "txt"), (new, "txt")]).collect()
}

/// Writes the first so many entries into an archive.
pub fn write(archive: &Archive, count: usize) {
    let blobs = blobs();
    let mut writer = archive.writer().unwrap();
    for (entered, entry) in entries().into_iter().take(count) {
        let named: Vec<NewBlob> = blobs
            .iter()
            .map(|(bytes, ending)| NewBlob::of(bytes, ending))
            .filter(|blob| entry.blobs().contains(&&blob.reference()))
            .collect();
        append(&mut writer, moment(entered), entry, &named).unwrap();
    }
}
