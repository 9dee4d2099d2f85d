//! SIGN: what was written on a sheet becomes entries: the signature, and a discrepancy where a reading lies outside.
//!
//! It refuses what the paper would not have allowed: a sheet or step that does not exist, a hold or a stage signed in
//! another role, a box left blank, work of the future. It writes nothing itself.

mod compared;
mod right;

pub use right::{RoleFacts, SignerFacts};

use self::compared::Apart;
use super::entry::{Corrected, DiscrepancyOpened, Entry, Signed, Struck};
use super::entry_line::correctable;
use super::requirement::{SheetRequirement, StepRequirement};
use super::state::{Issue, Signature, State};
use super::value::{Capacity, Cause, Class, Reading, Stops};
use crate::calendar::{Day, Moment};
use crate::ident::{Digest, SheetCode};

pub use crate::words::NOT_APPLICABLE;

/// Days by which the day of work and the day of entry may differ without a mark: an evening's typing after midnight.
pub(super) const SAME_EVENING: i64 = 1;

impl Signed {
    /// A signature that says no more than who did what when. Traveler, hand and requirement are the sheet's: [`sign`] fills them in.
    #[must_use]
    pub fn blank(sheet: SheetCode, step: &str, by: &str, role: &str, worked: Day) -> Self {
        Self {
            sheet,
            traveler: String::new(),
            hand: None,
            step: step.to_owned(),
            requirement: Digest::of_bytes(b""),
            capacity: Capacity::Done,
            stage: None,
            outcome: None,
            role: role.to_owned(),
            by: by.to_owned(),
            asked: Vec::new(),
            worked,
            late: None,
            minutes: None,
            helpers: Vec::new(),
            paid: Vec::new(),
            readings: Vec::new(),
            photos: Vec::new(),
            discrepancies: Vec::new(),
            as_built: Vec::new(),
            place: None,
            note: None,
            reconstructed: None,
        }
    }
}

impl DiscrepancyOpened {
    /// A discrepancy that says no more than what is wrong, who found it and when: it stops its step, and is major.
    #[must_use]
    pub fn blank(number: String, cause: Cause, what: String, by: &str, found: Day) -> Self {
        Self {
            number,
            cause,
            sheet: None,
            traveler: None,
            hand: None,
            step: None,
            also: Vec::new(),
            space: None,
            joint: None,
            what,
            should: None,
            is: None,
            stops: Stops::Step,
            class: Class::Major,
            photos: Vec::new(),
            by: by.to_owned(),
            found,
        }
    }
}

/// What is to be recorded, in this order, and what the builder should know.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Signings {
    /// Discrepancies first, so that an interruption cannot leave a bad reading without one.
    pub entries: Vec<Entry>,
    /// One sentence each.
    pub remarks: Vec<String>,
}

/// Turns a signature, its step typed as a number, an id or `TRAVELER/step`, into entries. A signature without a role is
/// given in the first of the signer's that fits.
///
/// # Errors
/// Every reason why it cannot be recorded.
pub fn sign(
    state: &State,
    sheet: &SheetRequirement,
    signing: &Signed,
    who: &SignerFacts,
    entered: Moment,
) -> Result<Signings, Vec<String>> {
    let (issue, printed) = state.step_named(Some(signing.sheet), &signing.step).map_err(|fault| vec![fault])?;
    let Some(step) = sheet.step(&printed.id) else {
        return Err(vec![format!("what step `{}` of sheet {} requires is not archived", printed.id, signing.sheet)]);
    };
    let role = right::role(who, signing, step).map_err(|fault| vec![fault])?;
    let signing = &Signed { role: role.id.clone(), ..signing.clone() };
    let mut faults = Vec::new();
    let mut signings = Signings::default();
    let before = signed_before(state, issue, step, signing);
    if let Some(known) = before.filter(|before| says_the_same(before, &complete(issue, step, signing, entered, &[]))) {
        signings.remarks.push(format!("step `{}` is signed so already (entry {})", step.id, known.entry));
        return Ok(signings);
    }
    check_sheet(issue, signing, &mut faults, &mut signings.remarks);
    check_day(signing, entered, &mut faults);
    right::check(state, issue, step, signing, role, &mut faults);
    // A stage is signed by several, and by one of them again after an outcome that stops it.
    let before = before.filter(|_| signing.capacity != Capacity::Stage);
    faults.extend(before.map(|before| {
        format!(
            "step `{}` was signed by {} on {} (entry {}); correct that entry or strike it out",
            step.id, before.signed.by, before.signed.worked, before.entry
        )
    }));
    check_readings(step, &signing.readings, signing.capacity, &mut faults);
    for number in signing.discrepancies.iter().filter(|number| !state.discrepancies.contains_key(*number)) {
        faults.push(format!("there is no discrepancy {number}; open it first"));
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let opened = open_for_readings(state, issue, (sheet, step), signing);
    signings.remarks.extend(opened.iter().map(opened_words));
    let signed = complete(issue, step, signing, entered, &opened);
    signings.remarks.extend(stopped(step, &signed));
    if let Some(late) = signed.late {
        signings.remarks.push(format!("the work is {late} days older than this entry; the record says so"));
    }
    signings.entries.extend(opened.into_iter().map(Entry::from));
    signings.entries.push(signed.into());
    Ok(signings)
}

/// What is said of a discrepancy that a reading opens.
fn opened_words(opened: &DiscrepancyOpened) -> String {
    let words = |name: &str, value: &Option<String>| match value {
        Some(value) => format!(", {name} {value}"),
        None => String::new(),
    };
    let is = words("is", &opened.is);
    let should = words("should be", &opened.should);
    format!("discrepancy {} is opened: {}{is}{should}", opened.number, opened.what)
}

fn check_sheet(issue: &Issue, signing: &Signed, faults: &mut Vec<String>, remarks: &mut Vec<String>) {
    let code = signing.sheet;
    if let Some(because) = &issue.voided {
        faults.push(format!("sheet {code} is void: {because}"));
    }
    if issue.lost && signing.reconstructed.is_none() {
        faults.push(format!("sheet {code} is lost; say from what the signature is put together again"));
    }
    if let Some(new) = issue.superseded_by {
        remarks.push(format!("sheet {code} was replaced by {new}: the signature is kept, but does not count there"));
    }
    if signing.worked < issue.issued.printed && signing.reconstructed.is_none() {
        faults.push(format!(
            "the work of {} is older than sheet {code}, which was printed on {printed}: write a day from {printed} on, or what \
             the signature is put together again from (`reconstructed-from`)",
            signing.worked,
            printed = issue.issued.printed
        ));
    }
}

fn check_day(signing: &Signed, entered: Moment, faults: &mut Vec<String>) {
    if signing.worked.days_after(entered.day()) > SAME_EVENING {
        faults.push(format!("the work is dated {}, which is after today, {}", signing.worked, entered.day()));
    }
}

/// The signature that stands in the box already.
fn signed_before<'a>(
    state: &'a State,
    issue: &Issue,
    step: &StepRequirement,
    signing: &Signed,
) -> Option<&'a Signature> {
    let own = stage_id(step, signing);
    let is_box = |before: &Signature| match signing.capacity {
        Capacity::Done => true,
        Capacity::Hold | Capacity::Witness => before.role() == Some(signing.role.as_str()),
        Capacity::Stage => before.signed.stage == own && before.signed.by == signing.by,
    };
    let all = state.signatures_of(&issue.issued.item(&step.id)).filter(|before| {
        before.sheet() == Some(signing.sheet) && before.signed.capacity == signing.capacity && is_box(before)
    });
    all.last()
}

/// Whether what is typed is what was recorded; how late it was, and what its readings opened, was known only then.
fn says_the_same(before: &Signature, typed: &Signed) -> bool {
    let told = typed.discrepancies.iter().all(|number| before.signed.discrepancies.contains(number));
    let (late, discrepancies) = (before.signed.late, before.signed.discrepancies.clone());
    told && before.signed == Signed { late, discrepancies, ..typed.clone() }
}

/// Id of the stage that a signature is for.
fn stage_id(step: &StepRequirement, signing: &Signed) -> Option<String> {
    let stage = (signing.capacity == Capacity::Stage).then(|| right::stage_of(step, signing.stage.as_deref()).ok());
    stage.flatten().map(|(id, _)| id.to_owned())
}

/// Every box has a value or `N/A`, and nothing was read that the step does not ask for.
fn check_readings(step: &StepRequirement, readings: &[Reading], capacity: Capacity, faults: &mut Vec<String>) {
    let ids = step.record_ids();
    for reading in readings {
        if !ids.contains(&reading.id.as_str()) {
            let known = if ids.is_empty() { "it has none".to_owned() } else { format!("it has {}", ids.join(", ")) };
            faults.push(format!("step `{}` has no record `{}`; {known}", step.id, reading.id));
        } else if step.limits(&reading.id).refuse(&reading.value) {
            faults.push(format!("`{}` is `{}`, expected a number or {NOT_APPLICABLE}", reading.id, reading.value));
        }
    }
    let missing =
        ids.iter().filter(|id| capacity == Capacity::Done && !readings.iter().any(|reading| reading.id == **id));
    faults.extend(
        missing.map(|id| format!("step `{}` has no value for `{id}`; write the value or {NOT_APPLICABLE}", step.id)),
    );
}

fn open_for_readings(
    state: &State,
    issue: &Issue,
    (sheet, step): (&SheetRequirement, &StepRequirement),
    signing: &Signed,
) -> Vec<DiscrepancyOpened> {
    let outside =
        signing.readings.iter().filter(|reading| step.limits(&reading.id).contain(&reading.value) == Some(false));
    let outside = outside.map(|reading| Apart {
        what: format!("`{}` of step `{}` is outside its tolerance", reading.id, step.id),
        should: step.limits_text(&reading.id),
        is: reading.value.clone(),
    });
    let outside = outside.chain(compared::apart(state, issue, (sheet, step), &signing.readings));
    let opened = state.next_discrepancies().zip(outside).map(|(number, apart)| DiscrepancyOpened {
        sheet: Some(signing.sheet),
        traveler: Some(issue.issued.traveler.clone()),
        hand: issue.issued.hand,
        step: Some(step.id.clone()),
        should: Some(apart.should),
        is: Some(apart.is),
        photos: signing.photos.clone(),
        ..DiscrepancyOpened::blank(number, Cause::Reading, apart.what, &signing.by, signing.worked)
    });
    opened.collect()
}

/// What an outcome does that does not let the work go on.
fn stopped(step: &StepRequirement, signed: &Signed) -> Option<String> {
    let (id, stage) = right::stage_of(step, signed.stage.as_deref()).ok()?;
    let said = signed.outcome.as_ref()?;
    let stops = !stage.outcomes.contains(&(said.clone(), true));
    let by = &signed.by;
    stops.then(|| format!("stage {id} stays open, `{said}` by {by}: what follows waits until {by} signs it otherwise"))
}

/// The signature with what the sheet and the day of entry say of it.
fn complete(
    issue: &Issue,
    step: &StepRequirement,
    signing: &Signed,
    entered: Moment,
    opened: &[DiscrepancyOpened],
) -> Signed {
    let late = entered.day().days_after(signing.worked);
    let mut signed = Signed {
        traveler: issue.issued.traveler.clone(),
        hand: issue.issued.hand,
        step: step.id.clone(),
        stage: stage_id(step, signing),
        requirement: step.digest(),
        late: u32::try_from(late).ok().filter(|_| late > SAME_EVENING),
        ..signing.clone()
    };
    signed.discrepancies.extend(opened.iter().map(|opened| opened.number.clone()));
    signed
}

/// Turns a correction into an entry.
///
/// # Errors
/// Why it cannot be recorded.
pub fn correct(state: &State, mut corrected: Corrected) -> Result<Entry, String> {
    let number = corrected.entry;
    let entry = state.entry(number).ok_or_else(|| format!("there is no entry {number}"))?;
    if let Some(because) = state.struck(number) {
        return Err(format!("entry {number} was struck out: {because}"));
    }
    if let Some(signature) = state.signatures.get(&number) {
        corrected.was = signature.line(&corrected.field)?;
        signature.clone().correct(&corrected.field, corrected.now.as_deref())?;
    } else {
        typed_by_old_words(&mut corrected);
        if !correctable(&entry).contains(&corrected.field.as_str()) {
            return Err(not_correctable(&entry, &corrected));
        }
        corrected.was = entry.line(&corrected.field);
        entry.with_line(&corrected.field, corrected.now.as_deref())?;
    }
    if corrected.was == corrected.now {
        return Err(format!("`{}` of entry {number} says that already", corrected.field));
    }
    Ok(corrected.into())
}

/// Whoever reads a record of the first form types the words that stand there.
fn typed_by_old_words(corrected: &mut Corrected) {
    if corrected.field == "zone" {
        "space".clone_into(&mut corrected.field);
    }
    if corrected.field == "stops"
        && let Some(stops) = corrected.now.as_deref().and_then(Stops::typed)
    {
        corrected.now = Some(stops.word().to_owned());
    }
}

fn not_correctable(entry: &Entry, corrected: &Corrected) -> String {
    let number = corrected.entry;
    match correctable(entry) {
        [] => format!("entry {number} issues a sheet: that is made void, not corrected"),
        lines => {
            format!("`{}` cannot be corrected; of entry {number} these can: {}", corrected.field, lines.join(", "))
        }
    }
}

/// Turns a striking-out into an entry.
///
/// # Errors
/// Why it cannot be recorded.
pub fn strike(state: &State, struck: Struck) -> Result<Entry, String> {
    let number = struck.entry;
    let entry = state.entry(number).ok_or_else(|| format!("there is no entry {number}"))?;
    if state.struck(number).is_some() {
        return Err(format!("entry {number} was struck out before"));
    }
    match entry {
        Entry::Issued(issued) => {
            Err(format!("entry {number} issues sheet {}: that is made void, not struck out", issued.sheet))
        }
        Entry::Begun(_) | Entry::Renamed(_) | Entry::Reprinted(_) | Entry::Noticed(_) => Err(format!(
            "entry {number} is of kind `{}`, which is corrected, not struck out; these lines can be: {}",
            entry.kind(),
            correctable(&entry).join(", ")
        )),
        _ => Ok(struck.into()),
    }
}
