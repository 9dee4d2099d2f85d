//! A small build, its edits, and a ledger that says what was signed.

use std::collections::BTreeMap;

use shophead::archive::{
    BlobRef, Carried, Entry, EntryNumber, Form, Issued, Reading, Record, RoleFacts, SheetRequirement, Signed,
    SignerFacts, State,
};
use shophead::calendar::{Day, Moment};
use shophead::ident::{Digest, SheetCode};
use shophead::job::Job;
use shophead::words::{Hand, May, PacketName};
use shophead::work::sheet_requirement_as;

pub const PROJECT: &str = r#"
[aircraft]
name = "Dunlin two-seat"
serial = "D-014"
[[space]]
id = "bay"
name = "Bay"
[[drawing]]
sheet = "W-1"
revision = "B"
"#;

/// One traveler: a riveted joint, a bolted one, a level, a coat, a look and a closing.
pub const SPEC: &str = r##"
[traveler]
id = "T1"
title = "Rib"
revision = "A"
drawings = ["W-1:B"]

[[part]]
id = "P1"
name = "Skin"
material = "2024-T3"
thickness = "0.032"

[[part]]
id = "P2"
name = "Rib"
material = "2024-T3"
thickness = "0.040"

[[joint]]
id = "J1"
stack = ["P1", "P2"]
fastener = "MS20470AD4-4"
count = 8
holes = { final = "#30" }
edge = "0.35"

[[joint]]
id = "J2"
stack = ["P1", "P2"]
fastener = "AN3-3A"
nut = "AN365-1032"
count = 2
torque = "20-25 in-lb"

[[step]]
id = "open"
title = "Open the holes"
do = "drill"
joints = ["J1"]
text = "Open the holes."
spaces = ["bay"]

[[step]]
id = "deburr"
title = "Deburr"
do = "deburr"
joints = ["J1"]

[[step]]
id = "prime"
title = "Prime"
do = "prime"
parts = ["P1"]
cure = "24 h"

[[step]]
id = "rivet"
title = "Rivet"
do = "rivet"
joints = ["J1"]
spaces = ["bay"]

[[step]]
id = "bolt"
title = "Bolt"
do = "bolt"
joints = ["J2"]

[[step]]
id = "level"
title = "Level"
do = "measure"
records = [{ id = "level", label = "Level", unit = "deg", min = -0.1, max = 0.1 }]

[[step]]
id = "look"
title = "Look"
do = "inspect"
joints = ["J1"]
spaces = ["bay"]
hold = "technical counselor"

[[step]]
id = "close"
title = "Close the bay"
do = "close"
closes = ["bay"]
"##;

/// The traveler with one text in the place of another, which must be there.
pub fn edited(from: &str, to: &str) -> String {
    assert!(SPEC.contains(from), "`{from}` is not in the traveler");
    SPEC.replacen(from, to, 1)
}

/// The job of one traveler.
pub fn job(text: &str) -> Job {
    job_of(PROJECT, &[text])
}

/// The job of a project and travelers.
pub fn job_of(project: &str, texts: &[&str]) -> Job {
    let (job, _, report) = crate::build::shop::job_of(project, texts);
    assert_eq!(report.findings, [], "the travelers of this test resolve");
    job
}

/// A ledger in the making.
#[derive(Default)]
pub struct Ledger {
    pub records: Vec<Record>,
    pub archived: BTreeMap<SheetCode, SheetRequirement>,
}

pub fn day(text: &str) -> Day {
    Day::parse(text).unwrap()
}

impl Ledger {
    pub fn state(&self) -> State {
        State::of(&self.records)
    }

    pub fn add(&mut self, entry: impl Into<Entry>) -> EntryNumber {
        let number = EntryNumber(u32::try_from(self.records.len()).unwrap() + 1);
        let entered = Moment::parse("2026-03-20T20:00").unwrap();
        self.records.push(Record { number, entered, entry: entry.into() });
        number
    }

    /// Issues every sheet of a job that is not in force as it is; earlier signatures are carried as given.
    pub fn issue(&mut self, job: &Job, carried: &[Carried]) {
        self.issue_as(job, carried, Form::NEWEST);
    }

    /// The same in one of the archived forms.
    pub fn issue_as(&mut self, job: &Job, carried: &[Carried], form: Form) {
        for index in 0..job.travelers.len() {
            for hand in job.hands_of(index) {
                let sheet = sheet_requirement_as(job, index, hand, form);
                let before = self.state().in_force(&sheet.packet()).map(|issue| issue.issued.sheet);
                if before != Some(sheet.code()) {
                    self.add(issued(&sheet, before, carried.to_vec()));
                    self.archived.insert(sheet.code(), sheet);
                }
            }
        }
    }

    /// Signs a step of the sheet in force of a one-off.
    pub fn sign(&mut self, traveler: &str, step: &str, worked: &str, level: Option<&str>) -> EntryNumber {
        self.sign_reading(traveler, step, worked, level.map(|value| ("level", value)))
    }

    /// The same with a reading: id of the record and value.
    pub fn sign_reading(
        &mut self,
        traveler: &str,
        step: &str,
        worked: &str,
        reading: Option<(&str, &str)>,
    ) -> EntryNumber {
        let mut signed = self.signed(traveler, None, step, worked);
        signed.readings =
            reading.map(|(id, value)| Reading { id: id.into(), value: value.into() }).into_iter().collect();
        self.add(signed)
    }

    /// The work of a step, signed on the sheet of a hand that is in force; not entered yet.
    pub fn signed(&self, traveler: &str, hand: Option<Hand>, step: &str, worked: &str) -> Signed {
        let state = self.state();
        let issue = state.in_force(&PacketName::new(traveler, hand)).unwrap();
        let requirement = issue.issued.steps.iter().find(|own| own.id == step).unwrap().requirement;
        let signed = signed(issue.issued.sheet, traveler, step, requirement, day(worked));
        Signed { hand, ..signed }
    }
}

fn issued(sheet: &SheetRequirement, supersedes: Option<SheetCode>, carried: Vec<Carried>) -> Issued {
    Issued {
        sheet: sheet.code(),
        traveler: sheet.traveler.clone(),
        hand: sheet.hand,
        title: "Rib".into(),
        revision: sheet.revision.clone(),
        same_revision: None,
        printed: day("2026-03-01"),
        supersedes,
        drawings: sheet.drawings.clone(),
        pdf: BlobRef::of(b"pdf", "pdf"),
        pages: 7,
        requirements: BlobRef::of(sheet.text().as_bytes(), "txt"),
        spec: None,
        project: None,
        places: None,
        print: None,
        kept: Vec::new(),
        tables: Digest::of_bytes(b"tables"),
        templates: Digest::of_bytes(b"templates"),
        program: "shophead".into(),
        steps: sheet.steps.iter().map(shophead::archive::StepRequirement::issued).collect(),
        carried,
    }
}

pub fn signed(sheet: SheetCode, traveler: &str, step: &str, requirement: Digest, worked: Day) -> Signed {
    let blank = Signed::blank(sheet, step, "B1", "builder", worked);
    Signed { traveler: traveler.into(), requirement, minutes: Some(30), ..blank }
}

/// Whoever signs in one of the built-in roles.
pub fn signer(initials: &str) -> SignerFacts {
    let (id, may): (&str, &[May]) = match initials {
        "TC1" => ("technical counselor", &[May::Look, May::Advise]),
        "I1" => ("inspector", &[May::Look]),
        _ => ("builder", &[May::Do, May::Look]),
    };
    let role = RoleFacts { id: id.into(), may: may.to_vec(), asks: Vec::new() };
    SignerFacts { initials: initials.into(), roles: vec![role] }
}
