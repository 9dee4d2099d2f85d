//! What the steps of an issued sheet require, as plain data: the form in which it is archived, digested and compared.
//!
//! Only what decides whether work is right stands in the fields: no wording, no titles, no page. Which fields a step
//! has is for the plan; what a difference means is for the change notice.

use super::line::{Lines, Reader, TextFault};
use super::value::{Capacity, IssuedStep, Value};
use crate::ident::{Digest, Requirement, SheetCode};
use crate::words::{Hand, words};

/// First line of the archived form.
pub const TITLE: &str = "shophead requirements 1";

words! {
    /// What side of the work a field is about; decides what a change of it does to a signature.
    Aspect {
        /// What the step does.
        Work = "work",
        /// Drawing sheet and view.
        Drawing = "drawing",
        /// A part and its material, thickness, bend.
        Part = "part",
        /// The layers of a stack, and what is done to each.
        Stack = "stack",
        /// Holes, edges, pitches, numbers of fasteners.
        Size = "size",
        /// Rivets, bolts, nuts, washers, pins, sealant.
        Fastener = "fastener",
        /// Torque and what it depends on.
        Torque = "torque",
        /// Limits of measured values.
        Tolerance = "tolerance",
        /// Holds, witnesses, photos.
        Inspection = "inspection",
        /// Steps, zones and waits on which the order depends.
        Order = "order",
        /// Cure times.
        Cure = "cure",
    }
}

/// One requirement of a step.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Field {
    /// What it is about.
    pub aspect: Aspect,
    /// What it is called, unique in its step.
    pub name: String,
    /// The value in its one exact form.
    pub value: String,
}

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
    /// The requirement.
    pub fields: Vec<Field>,
}

/// What the steps of one traveler and hand require.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetRequirement {
    /// Id of the traveler.
    pub traveler: String,
    /// The hand; absent for a one-off.
    pub hand: Option<Hand>,
    /// Revision of the traveler.
    pub revision: String,
    /// Drawing sheets and revisions, `W-210:C`.
    pub drawings: Vec<String>,
    /// What holds for the sheet as a whole.
    pub fields: Vec<Field>,
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
        let mut requirement = Requirement::new();
        requirement.text("step", &self.id);
        digest_fields(&self.fields, &mut requirement);
        requirement
    }

    /// The value of a field.
    #[must_use]
    pub fn value(&self, name: &str) -> Option<&str> {
        self.fields.iter().find(|field| field.name == name).map(|field| field.value.as_str())
    }

    /// The roles for which the step asks to hold or to witness.
    pub fn roles(&self, capacity: Capacity) -> impl Iterator<Item = &str> {
        let word = capacity.word();
        let asks =
            move |field: &&Field| field.name.split_once(", ").map_or(field.name.as_str(), |(name, _)| name) == word;
        self.fields
            .iter()
            .filter(|field| field.aspect == Aspect::Inspection)
            .filter(asks)
            .map(|field| field.value.as_str())
    }

    /// As an issue lists it.
    #[must_use]
    pub fn issued(&self) -> IssuedStep {
        IssuedStep { number: self.number, id: self.id.clone(), requirement: self.digest() }
    }

    fn write(&self, lines: &mut Lines) {
        lines.one("step", &self.id).line("number", &format!("{:03}", self.number));
        lines.one("title", &self.title).one("wording", &self.wording);
        write_fields(&self.fields, lines);
        lines.one("sha256", &self.digest());
    }

    fn read(id: String, lines: &mut Reader<'_>) -> Result<Self, TextFault> {
        let number = lines.one("number")?;
        let (title, wording) = (lines.one("title")?, lines.one("wording")?);
        let step = Self { id, number, title, wording, fields: read_fields(lines)? };
        if lines.one::<Digest>("sha256")? != step.digest() {
            return Err(TextFault {
                line: lines.line_number() - 1,
                message: format!("the digest is not that of step `{}`", step.id),
            });
        }
        Ok(step)
    }
}

fn digest_fields(fields: &[Field], requirement: &mut Requirement) {
    for field in fields {
        requirement.group(field.aspect.word(), |group| {
            group.text("name", &field.name).text("value", &field.value);
        });
    }
}

fn write_fields(fields: &[Field], lines: &mut Lines) {
    for field in fields {
        lines.line(field.aspect.word(), &format!("{} = {}", field.name, field.value));
    }
}

fn read_fields(lines: &mut Reader<'_>) -> Result<Vec<Field>, TextFault> {
    let mut fields = Vec::new();
    while let Some((key, value)) = lines.peek()? {
        let Some(aspect) = Aspect::ALL.iter().copied().find(|aspect| aspect.word() == key) else { break };
        let (name, value) =
            value.split_once(" = ").ok_or_else(|| lines.fault("a requirement is written `name = value`"))?;
        fields.push(Field { aspect, name: name.to_owned(), value: value.to_owned() });
        lines.advance();
    }
    Ok(fields)
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
        let mut requirement = Requirement::new();
        requirement
            .text("traveler", &self.traveler)
            .some_text("hand", self.hand.map(Hand::word))
            .text("revision", &self.revision);
        for drawing in &self.drawings {
            requirement.text("drawing", drawing);
        }
        digest_fields(&self.fields, &mut requirement);
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
        let mut lines = Lines::titled(TITLE);
        lines
            .one("traveler", &self.traveler)
            .maybe("hand", &self.hand)
            .one("revision", &self.revision)
            .many("cites", &self.drawings);
        write_fields(&self.fields, &mut lines);
        for step in &self.steps {
            step.write(&mut lines);
        }
        lines.one("code", &self.code());
        lines.finish()
    }

    /// Reads the archived form.
    ///
    /// # Errors
    /// When a line is not as [`SheetRequirement::text`] would write it.
    pub fn parse(bytes: &[u8]) -> Result<Self, TextFault> {
        let mut lines = Reader::titled(bytes, TITLE)?;
        let (traveler, hand, revision) = (lines.one("traveler")?, lines.maybe("hand")?, lines.one("revision")?);
        let mut sheet =
            Self { traveler, hand, revision, drawings: lines.many("cites")?, fields: Vec::new(), steps: Vec::new() };
        sheet.fields = read_fields(&mut lines)?;
        while let Some(id) = lines.maybe("step")? {
            sheet.steps.push(StepRequirement::read(id, &mut lines)?);
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
