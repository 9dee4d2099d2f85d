//! What the steps of an issued sheet require: the form in which it is archived, digested and compared.
//!
//! Only what decides whether work is right stands in the facts: no wording, no titles, no page. Which facts a step
//! has is said where the work is judged; what a difference means is for the change notice.

mod bare;
mod fact;
mod line;
mod read;

pub use fact::{
    About, Aspect, ComparedFacts, Fact, FactValue, KitSide, LayerFacts, PartFacts, RecordSide, Scope, Side, SpaceUse,
    fact_value,
};
pub use line::{Form, Line, exact_value, lines as fact_lines, shown_name, shown_value};

use super::line::{Lines, Reader, TextFault};
use super::stage::StageFacts;
use super::value::{Capacity, IssuedStep, Value as _};
use crate::ident::{Digest, Requirement, SheetCode};
use crate::units::Decimal;
use crate::words::{Hand, NOT_APPLICABLE, StepKind};

/// What one step requires.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepRequirement {
    /// Stable name.
    pub id: String,
    /// Number on paper; not part of the requirement.
    pub number: u32,
    /// Title; not part of the requirement.
    pub title: String,
    /// SHA-256 of the step's words, to see that they changed; not part of the requirement.
    pub wording: Digest,
    /// The form in which it is archived.
    pub form: Form,
    /// The requirement.
    pub facts: Vec<Fact>,
}

/// What the steps of one traveler and hand require.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetRequirement {
    /// The form in which it is archived.
    pub form: Form,
    /// Id of the traveler.
    pub traveler: String,
    /// The hand; absent for a one-off.
    pub hand: Option<Hand>,
    /// Revision of the traveler.
    pub revision: String,
    /// Drawing sheets and revisions, `W-210:C`.
    pub drawings: Vec<String>,
    /// SHA-256 of the words of the sheet as a whole; not part of the requirement. Form 1 does not record it.
    pub wording: Option<Digest>,
    /// What holds for the sheet as a whole.
    pub facts: Vec<Fact>,
    /// Steps in working order.
    pub steps: Vec<StepRequirement>,
}

impl StepRequirement {
    /// The digest: the step's name, then every field as a group named by its aspect, in order.
    #[must_use]
    pub fn digest(&self) -> Digest {
        self.requirement().digest()
    }

    /// The digested bytes.
    #[must_use]
    pub fn requirement(&self) -> Requirement {
        let mut requirement = opened(self.form);
        requirement.text("step", &self.id);
        digest_facts(&self.facts, self.form, &mut requirement);
        requirement
    }

    /// The value of the first fact about something.
    #[must_use]
    pub fn value(&self, about: &About) -> Option<&FactValue> {
        fact_value(&self.facts, about)
    }

    /// The kind of work, where this program knows the word.
    #[must_use]
    pub fn kind(&self) -> Option<StepKind> {
        match self.value(&About::Kind) {
            Some(FactValue::Kind(kind)) => Some(*kind),
            _ => None,
        }
    }

    /// The roles for which the step asks to hold or to witness.
    pub fn roles(&self, capacity: Capacity) -> impl Iterator<Item = &str> {
        let about = match capacity {
            Capacity::Done | Capacity::Stage => None,
            Capacity::Hold => Some(About::Hold),
            Capacity::Witness => Some(About::Witness),
        };
        self.facts.iter().filter(move |fact| about.as_ref() == Some(&fact.about)).filter_map(Fact::text)
    }

    /// The stages that are signed at the step, by id.
    pub fn stages(&self) -> impl Iterator<Item = (&str, &StageFacts)> {
        self.facts.iter().filter_map(|fact| match (&fact.about, &fact.value) {
            (About::Stage(id), FactValue::Stage(stage)) => Some((id.as_str(), stage)),
            _ => None,
        })
    }

    /// The joints that it names or whose open holes it fills, as its traveler names them; one may come several times.
    pub fn joints(&self) -> impl Iterator<Item = &str> {
        self.facts.iter().filter_map(|fact| fact.about.joint())
    }

    /// The ids of the values to be measured, in their order.
    #[must_use]
    pub fn record_ids(&self) -> Vec<&str> {
        let units = self.facts.iter().filter_map(|fact| match &fact.about {
            About::Record(id, RecordSide::Unit) => Some(id.as_str()),
            _ => None,
        });
        units.collect()
    }

    /// What is said in words of a value to be measured: label, unit or instrument.
    #[must_use]
    pub fn record_text(&self, id: &str, side: RecordSide) -> Option<&str> {
        let about = About::Record(id.to_owned(), side);
        self.facts.iter().find(|fact| fact.about == about).and_then(Fact::text)
    }

    /// The limits of a value to be measured.
    #[must_use]
    pub fn limits(&self, id: &str) -> Limits {
        let limit = |side| match self.value(&About::Record(id.to_owned(), side)) {
            Some(FactValue::Limit(limit)) => Some(*limit),
            _ => None,
        };
        Limits { min: limit(RecordSide::Min), max: limit(RecordSide::Max) }
    }

    /// The values that are compared with another, by id; in the order of the sheet.
    pub fn compared(&self) -> impl Iterator<Item = (&str, &ComparedFacts)> {
        self.facts.iter().filter_map(|fact| match (&fact.about, &fact.value) {
            (About::Record(id, RecordSide::Less), FactValue::Compared(own)) => Some((id.as_str(), own)),
            _ => None,
        })
    }

    /// The limits of a value to be measured as a sentence says them: `-0.1 to 0.1 deg`.
    #[must_use]
    pub fn limits_text(&self, id: &str) -> String {
        let unit = self.record_text(id, RecordSide::Unit).filter(|unit| *unit != NO_UNIT);
        self.limits(id)
            .words(unit)
            .unwrap_or_else(|| format!("any{}", unit.map(|unit| format!(" {unit}")).unwrap_or_default()))
    }

    /// As an issue lists it.
    #[must_use]
    pub fn issued(&self) -> IssuedStep {
        IssuedStep { number: self.number, id: self.id.clone(), requirement: self.digest() }
    }

    fn write(&self, lines: &mut Lines) {
        lines.one("step", &self.id).line("number", &format!("{:03}", self.number));
        lines.one("title", &self.title).one("wording", &self.wording);
        write_facts(&self.facts, self.form, lines);
        lines.one("sha256", &self.digest());
    }

    fn read(id: String, form: Form, lines: &mut Reader<'_>) -> Result<Self, TextFault> {
        let number = lines.one("number")?;
        let title = lines.one("title")?;
        let wording = lines.one("wording")?;
        let step = Self { id, number, title, wording, form, facts: take_facts(form, lines)? };
        if lines.one::<Digest>("sha256")? != step.digest() {
            return Err(TextFault {
                line: lines.line_number() - 1,
                message: format!("the digest is not that of step `{}`", step.id),
            });
        }
        Ok(step)
    }
}

/// A requirement that begins with its form.
fn opened(form: Form) -> Requirement {
    let mut requirement = Requirement::new();
    if let Some(number) = form.number() {
        requirement.number("form", number.into());
    }
    requirement
}

fn digest_facts(facts: &[Fact], form: Form, requirement: &mut Requirement) {
    // A limit counts by its value: one that gains a zero is no other requirement.
    for line in line::lines(&plain(facts), form) {
        requirement.group(line.aspect.word(), |group| {
            group.text("name", &line.name).text("value", &line.value);
        });
    }
}

fn plain(facts: &[Fact]) -> Vec<Fact> {
    facts.iter().map(Fact::plain).collect()
}

fn write_facts(facts: &[Fact], form: Form, lines: &mut Lines) {
    // The first form wrote no more places than a value needs.
    let facts = if form == Form::One { plain(facts) } else { facts.to_vec() };
    for line in line::lines(&facts, form) {
        lines.line(line.aspect.word(), &format!("{} = {}", line.name, line.value));
    }
}

/// The facts of lines of some form.
///
/// # Errors
/// The index of the first line that is no fact; in form 1 every line is one, if only as it is written.
fn facts_of(lines_read: &[Line], form: Form) -> Result<Vec<Fact>, usize> {
    let facts: Vec<Fact> = match form {
        Form::One => bare::bare(lines_read),
        Form::Two | Form::Three | Form::Four => {
            let facts = lines_read.iter().enumerate().map(|(at, line)| read::quoted(line, form).ok_or(at));
            facts.collect::<Result<_, _>>()?
        }
    };
    let again = line::lines(&facts, form);
    let differs = |at: &usize| again[*at] != lines_read[*at];
    match form {
        // What does not come out as it was written is kept as it was written: digests and codes rest on it.
        Form::One => {
            let kept = facts
                .into_iter()
                .enumerate()
                .map(|(at, fact)| if differs(&at) { read::other(&lines_read[at]) } else { fact });
            Ok(kept.collect())
        }
        Form::Two | Form::Three | Form::Four => (0..facts.len()).find(differs).map_or(Ok(facts), Err),
    }
}

fn take_facts(form: Form, lines: &mut Reader<'_>) -> Result<Vec<Fact>, TextFault> {
    let first = lines.line_number();
    let mut found = Vec::new();
    while let Some((key, value)) = lines.peek()? {
        let Some(aspect) = Aspect::parse(key) else { break };
        let (name, value) =
            read::split(aspect, &value, form).ok_or_else(|| lines.fault("a requirement is written `name = value`"))?;
        found.push(Line { aspect, name: name.to_owned(), value: value.to_owned() });
        lines.advance();
    }
    facts_of(&found, form).map_err(|at| {
        let Line { name, value, .. } = &found[at];
        TextFault { line: first + at, message: format!("`{name} = {value}` is no requirement of this form") }
    })
}

/// What stands for the unit of a value that has none.
pub const NO_UNIT: &str = "none";

/// Limits of a measured value.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Limits {
    /// Smallest value that passes.
    pub min: Option<Decimal>,
    /// Largest value that passes.
    pub max: Option<Decimal>,
}

impl Limits {
    /// The limits as paper and messages say them, with the unit; nothing where there are none.
    #[must_use]
    pub fn words(&self, unit: Option<&str>) -> Option<String> {
        let unit = unit.map(|unit| format!(" {unit}")).unwrap_or_default();
        match (self.min, self.max) {
            (Some(min), Some(max)) if min == max => Some(format!("exactly {min}{unit}")),
            (Some(min), Some(max)) => Some(format!("{min} to {max}{unit}")),
            (Some(min), None) => Some(format!("at least {min}{unit}")),
            (None, Some(max)) => Some(format!("at most {max}{unit}")),
            (None, None) => None,
        }
    }

    /// Whether a value cannot stand in the box: where there are limits, it is a number or [`NOT_APPLICABLE`].
    #[must_use]
    pub fn refuse(&self, value: &str) -> bool {
        *self != Self::default() && value != NOT_APPLICABLE && Decimal::parse(value).is_err()
    }

    /// Whether a value as written lies inside; nothing where it is no number.
    #[must_use]
    pub fn contain(&self, value: &str) -> Option<bool> {
        let value = Decimal::parse(value).ok()?;
        Some(self.min.is_none_or(|min| value >= min) && self.max.is_none_or(|max| value <= max))
    }
}

impl SheetRequirement {
    /// The sheet's code: from traveler, hand, revision, drawings, what holds for the whole sheet, and every step's digest in order.
    #[must_use]
    pub fn code(&self) -> SheetCode {
        self.digest().code()
    }

    /// The digest behind the code.
    #[must_use]
    pub fn digest(&self) -> Digest {
        let mut requirement = opened(self.form);
        requirement
            .text("traveler", &self.traveler)
            .some_text("hand", self.hand.map(Hand::word))
            .text("revision", &self.revision);
        for drawing in &self.drawings {
            requirement.text("drawing", drawing);
        }
        digest_facts(&self.facts, self.form, &mut requirement);
        for step in &self.steps {
            requirement.text("step", &step.digest().hex());
        }
        requirement.digest()
    }

    /// The step of a name.
    #[must_use]
    pub fn step(&self, id: &str) -> Option<&StepRequirement> {
        self.steps.iter().find(|step| step.id == id)
    }

    /// The archived form.
    #[must_use]
    pub fn text(&self) -> String {
        let mut lines = Lines::titled(self.form.title());
        lines
            .one("traveler", &self.traveler)
            .maybe("hand", &self.hand)
            .one("revision", &self.revision)
            .many("cites", &self.drawings)
            .maybe("wording", &self.wording);
        write_facts(&self.facts, self.form, &mut lines);
        for step in &self.steps {
            step.write(&mut lines);
        }
        lines.one("code", &self.code());
        lines.finish()
    }

    /// Reads the archived text of any form.
    ///
    /// # Errors
    /// When a line is not as [`SheetRequirement::text`] would write it.
    pub fn parse(bytes: &[u8]) -> Result<Self, TextFault> {
        let begins = |form: &Form| bytes.starts_with(format!("{}\n", form.title()).as_bytes());
        let form = Form::ALL.into_iter().find(begins).unwrap_or(Form::NEWEST);
        let mut lines = Reader::titled(bytes, form.title())?;
        let traveler = lines.one("traveler")?;
        let hand = lines.maybe("hand")?;
        let revision = lines.one("revision")?;
        let drawings = lines.many("cites")?;
        let wording = lines.maybe("wording")?;
        let facts = take_facts(form, &mut lines)?;
        let mut sheet = Self { form, traveler, hand, revision, drawings, wording, facts, steps: Vec::new() };
        while let Some(id) = lines.maybe("step")? {
            sheet.steps.push(StepRequirement::read(id, form, &mut lines)?);
        }
        let code: SheetCode = lines.one("code")?;
        lines.finish()?;
        let same = code == sheet.code() && sheet.text().as_bytes() == bytes;
        if same {
            Ok(sheet)
        } else {
            Err(TextFault { line: 0, message: format!("code {} does not follow from the lines", code.written()) })
        }
    }
}
