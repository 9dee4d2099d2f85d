//! The keys of the file format: one list a table, with form and meaning.
//!
//! Reading refuses a key that is not in these lists; the format page and the schema are made from them.
//! What a value means for the work is not said here.

pub mod caution;
pub mod progress;

use crate::words::{Access, FastenerKind, Hand, HeadForm, Paper, Preparation, Role, StepKind, Structure};

/// The form of a value.
#[derive(Debug, Clone, Copy)]
pub enum Form {
    /// A text on one line.
    Text,
    /// Markdown.
    Markdown,
    /// A name that other places refer to.
    Id,
    /// A size.
    Size,
    /// Exactly two sizes, smaller first.
    SizePair,
    /// One size, or one per layer.
    Sizes,
    /// Pairs of sizes.
    SizePairs,
    /// A multiple of the diameter.
    Ratio,
    /// A torque or a range.
    Torque,
    /// A temperature.
    Temperature,
    /// A duration.
    Duration,
    /// A whole number from 0 or 1.
    Count {
        /// The smallest that passes.
        least: u32,
    },
    /// A signed decimal.
    Decimal,
    /// `true` or `false`.
    Flag,
    /// A date.
    Date,
    /// One of these words.
    Word(&'static [&'static str]),
    /// One of these words, or a list of them.
    Words(&'static [&'static str]),
    /// A list of texts.
    Texts,
    /// A stack.
    Stack,
    /// An inline table.
    Table(&'static Section),
    /// Repeated tables.
    Tables(&'static Section),
    /// A table with keys of the builder's own and texts as values.
    TextMap,
    /// A table with keys of the builder's own and texts or numbers as values.
    ValueMap,
    /// A date, or a date and time.
    When,
}

/// One key.
#[derive(Debug)]
pub struct Key {
    /// As written.
    pub name: &'static str,
    /// Form of its value.
    pub form: Form,
    /// Whether it must be there.
    pub required: bool,
    /// One or two sentences for the format page.
    pub doc: &'static str,
}

/// One table of the format.
#[derive(Debug)]
pub struct Section {
    /// As written between brackets; empty for a whole file.
    pub name: &'static str,
    /// One sentence for the format page.
    pub doc: &'static str,
    /// Its keys.
    pub keys: &'static [Key],
}

const fn need(name: &'static str, form: Form, doc: &'static str) -> Key {
    Key { name, form, required: true, doc }
}

const fn may(name: &'static str, form: Form, doc: &'static str) -> Key {
    Key { name, form, required: false, doc }
}

use Form::{
    Count, Date, Decimal, Duration, Flag, Id, Markdown, Size, SizePair, SizePairs, Sizes, Stack, Table, Tables,
    Temperature, Text, TextMap, Texts, Torque, Word, Words,
};

/// `build.toml`.
pub static PROJECT_FILE: Section = Section {
    name: "",
    doc: "The project file, `build.toml`: what holds for the whole aircraft.",
    keys: &[
        need("aircraft", Table(&AIRCRAFT), "Name, serial number and registration, printed on every page."),
        may("project", Table(&SETTINGS), "Unit, paper, folders, spares."),
        may("signer", Tables(&SIGNER), "The people who sign, by initials."),
        may("zone", Tables(&ZONE), "Spaces that steps need open and some step closes."),
        may("callouts", TextMap, "The plans' own short calls, so that specs can quote the drawing."),
        may(
            "fastener",
            Tables(&FASTENER),
            "Kit-supplied hardware that no standard covers, judged by the numbers given here.",
        ),
        may("drawing", Tables(&DRAWING), "The drawing register: every sheet at its current revision."),
        may("stock", Tables(&STOCK), "What lies on the shelf."),
        may("caution", Tables(&caution::CAUTION), "Cautions of your own, and changes to the built-in ones."),
        may(
            "tool",
            Tables(&TOOL),
            "Measuring tools with the day of their calibration; a step names them under `tools`.",
        ),
    ],
};

/// `[aircraft]`.
pub static AIRCRAFT: Section = Section {
    name: "aircraft",
    doc: "The aircraft.",
    keys: &[
        need("name", Text, "Name of the aircraft or the project."),
        may("serial", Text, "Builder's serial number."),
        may("registration", Text, "Registration marks."),
    ],
};

/// `[project]`.
pub static SETTINGS: Section = Section {
    name: "project",
    doc: "Settings. Folders are relative to the project file.",
    keys: &[
        may("unit", Word(&["inch", "mm"]), "Unit of a bare number. Default: `inch`."),
        may("paper", Word(Paper::WORDS), "Paper size. Default: `us-letter`."),
        may("specs", Text, "Folder of the travelers. Default: `specs`."),
        may("output", Text, "Folder of what can be made again. Default: `output`."),
        may(
            "pictures",
            Text,
            "Folder of the pictures that texts show; no picture comes from outside it. Default: `pictures`.",
        ),
        may("archive", Text, "Folder of what must be kept. Default: `archive`."),
        may("spare", Count { least: 0 }, "Per cent added to rivets on pick lists. Default: 10."),
        may("date", Date, "Day for which calibrations are judged. Absent: they are not."),
    ],
};

/// `[[signer]]`.
pub static SIGNER: Section = Section {
    name: "signer",
    doc: "One person who signs.",
    keys: &[
        need("initials", Text, "As written on the sheets."),
        need("role", Word(Role::WORDS), "What the person may sign as."),
    ],
};

/// `[[zone]]`.
pub static ZONE: Section = Section {
    name: "zone",
    doc: "A space that steps need open and some step closes.",
    keys: &[
        need("id", Id, "Name in specs."),
        need("name", Text, "Name on paper."),
        may("hold", Word(Role::WORDS), "Who must have looked before it closes. Absent: nobody."),
        may(
            "hands",
            Words(Hand::WORDS),
            "Each hand has a space of its own, which only that hand's steps use. Absent: one space for all.",
        ),
    ],
};

/// `[[fastener]]`.
pub static FASTENER: Section = Section {
    name: "fastener",
    doc: "Kit-supplied hardware that no standard covers. Its source is printed wherever it is used.",
    keys: &[
        need("id", Id, "Used as a call."),
        need("kind", Word(FastenerKind::WORDS), "What it is."),
        need("diameter", Size, "Nominal diameter."),
        may("hole", SizePair, "Smallest and largest hole."),
        may("grip", SizePair, "Smallest and largest stack."),
        may("head", Word(HeadForm::WORDS), "Head form. Default: `protruding`."),
        may("material", Text, "Material in words."),
        may("thread", Text, "Thread of a bolt, screw, nut or nutplate, as `10-32`."),
        need("source", Text, "Where these numbers come from, as `kit drawing H-2`."),
    ],
};

/// `[[drawing]]`.
pub static DRAWING: Section = Section {
    name: "drawing",
    doc: "One sheet of the drawing register.",
    keys: &[
        need("sheet", Id, "Sheet number."),
        may("title", Text, "Title."),
        need("revision", Text, "Current revision."),
        may("date", Date, "Date of that revision."),
    ],
};

/// `[[stock]]`.
pub static STOCK: Section = Section {
    name: "stock",
    doc: "What lies on the shelf.",
    keys: &[need("item", Text, "A call or a part id."), need("on-hand", Count { least: 0 }, "Pieces.")],
};

/// `[[tool]]`.
pub static TOOL: Section = Section {
    name: "tool",
    doc: "A measuring tool that is calibrated.",
    keys: &[
        need("id", Id, "As steps name it under `tools`."),
        may("name", Text, "Name on paper."),
        need("calibrated", Date, "Day of the last calibration."),
    ],
};

/// A traveler file.
pub static TRAVELER_FILE: Section = Section {
    name: "",
    doc: "A traveler file: one assembly.",
    keys: &[
        need("traveler", Table(&TRAVELER), "What the packet is."),
        may("part", Tables(&PART), "Parts, in find-number order."),
        may("joint", Tables(&JOINT), "Sets of equal fasteners through one stack."),
        may("step", Tables(&STEP), "Steps in working order."),
        may("allow", Tables(&ALLOW), "Accepted departures, printed on the sheet with their reason."),
    ],
};

/// `[traveler]`.
pub static TRAVELER: Section = Section {
    name: "traveler",
    doc: "What the packet is.",
    keys: &[
        need("id", Id, "Id, unique in the project."),
        need("title", Text, "Title on every page."),
        need("revision", Text, "Revision of this spec."),
        may(
            "hands",
            Words(Hand::WORDS),
            "Hands that are built; one packet each. All counts are per hand. Absent: a one-off.",
        ),
        may("drawings", Texts, "`SHEET:REVISION`: sheets and the revisions that the spec was written against."),
        may("after", Texts, "Travelers that must be finished first."),
        may("summary", Markdown, "What is built here and why, printed on the cover."),
    ],
};

/// `[[part]]`.
pub static PART: Section = Section {
    name: "part",
    doc: "One part.",
    keys: &[
        need("id", Id, "Part number."),
        need("name", Text, "Name on paper."),
        may("quantity", Count { least: 1 }, "Pieces per hand. Default: 1."),
        may("material", Text, "Alloy and temper (`2024-T3`), or another material in words."),
        may("thickness", Size, "Sheet thickness."),
        may("look-alike", Text, "A part that it is not to be taken for: printed as *not the same as*."),
        may("bend", Table(&BEND), "Its tightest bend."),
    ],
};

/// `bend`.
pub static BEND: Section = Section {
    name: "bend",
    doc: "The tightest bend of a part.",
    keys: &[
        need("radius", Size, "Inside radius."),
        may("angle", Count { least: 1 }, "Degrees through which the sheet is bent. Default: 90."),
    ],
};

/// One layer of a stack.
pub static LAYER: Section = Section {
    name: "stack",
    doc: "One layer, where a part id alone does not say it.",
    keys: &[
        may("part", Text, "Part id of this traveler."),
        may("material", Text, "Material, where it is not the part's."),
        may("thickness", Size, "Thickness, where it is not the part's."),
    ],
};

/// `[[joint]]`.
pub static JOINT: Section = Section {
    name: "joint",
    doc: "A set of equal fasteners through one stack.",
    keys: &[
        need("id", Id, "Id, unique in the traveler."),
        may("name", Text, "Name on paper."),
        need(
            "stack",
            Stack,
            "Layers, manufactured-head side first: part ids, or `{ part = .., thickness = .. }`, or `{ material = .., thickness = .. }`.",
        ),
        need(
            "fastener",
            Text,
            "Part number, callout, or family and diameter without a length: the length then comes from the stack.",
        ),
        need("count", Count { least: 1 }, "Fasteners per hand."),
        may("holes", Table(&HOLES), "Hole sizes."),
        may("edge", Sizes, "Smallest distance from hole centre to edge, one for all layers or one per layer."),
        may("pitch", Size, "Distance from fastener to fastener in a row."),
        may("rows", Count { least: 1 }, "Number of rows. Default: 1."),
        may("row-gap", Size, "Distance from row to row."),
        may(
            "pattern",
            Table(&PATTERN),
            "Where the holes lie. Printed as a drill template at 1:1 where it fits the paper.",
        ),
        may(
            "prepare",
            Words(Preparation::WORDS),
            "What is done to the layers around the hole, one word for all or one per layer. Default: `plain`.",
        ),
        may("structure", Word(Structure::WORDS), "How much rests on the joint."),
        may("access", Word(Access::WORDS), "From where the fastener can be reached."),
        may("wet", Text, "What the fastener is set wet with."),
        may("leave-open", Table(&LEAVE_OPEN), "Holes that stay open on purpose."),
        may("stringer-leg", Size, "Width of the stringer leg that the rivet goes through."),
        may("tube", Size, "Outside diameter of the tube that the rivet goes through."),
        may("limits", Table(&LIMITS), "Limits that the plans set instead of the tables, printed on the sheet."),
        may("nut", Text, "Nut."),
        may("washers", Table(&WASHERS), "Washers under the head and under the nut."),
        may("cotter", Text, "Cotter pin."),
        may("torque", Torque, "Torque of the drawing. Absent: from the table by thread and nut."),
        may("rotates", Flag, "Whether the joint turns in use."),
        may("temperature", Temperature, "Hottest temperature in use."),
        may("lubricated", Flag, "Whether the threads are lubricated."),
        may("temporary", Table(&TEMPORARY), "Fit-up hardware before the final one."),
        may("often-removed", Flag, "Whether the joint is opened again and again, as an inspection cover is."),
        may("run-down", Torque, "Run-down torque of a self-locking nut that is used again, as measured."),
        may("replaces", Text, "The rivet of the drawing, where the call is a replacement for it."),
        may("shop-head", Table(&SHOP_HEAD), "Smallest shop head measured in the joint."),
    ],
};

/// `shop-head`.
pub static SHOP_HEAD: Section = Section {
    name: "shop-head",
    doc: "Smallest shop head measured in the joint.",
    keys: &[need("diameter", Size, "Its width."), need("height", Size, "Its height.")],
};

/// `holes`.
pub static HOLES: Section = Section {
    name: "holes",
    doc: "Hole sizes of a joint.",
    keys: &[
        may("start", Size, "As delivered. Absent: undrilled."),
        may("final", Size, "What the drawing says. Absent: the nominal hole of the tables."),
        may("chamfer", Size, "Depth of the burr chamfer."),
    ],
};

/// `pattern`.
pub static PATTERN: Section = Section {
    name: "pattern",
    doc: "Where the holes of a joint lie: `count` and `rows` of the joint in equal rows along an edge, or a list of points. It is seen from the manufactured-head side of the first hand of `hands`; the other hand is its mirror image.",
    keys: &[
        may(
            "end",
            Size,
            "Distance of the first hole from the part's end, along the edge. Needed unless `points` is given.",
        ),
        may("edge", Size, "Distance of the first row from the edge. Default: the joint's smallest `edge`."),
        may("pitch", Size, "Distance from hole to hole in a row. Default: the joint's `pitch`."),
        may("stagger", Flag, "Whether every second row is moved on by half a pitch."),
        may("points", SizePairs, "Instead of rows, each hole as `[distance from the end, distance from the edge]`."),
    ],
};

/// `leave-open`.
pub static LEAVE_OPEN: Section = Section {
    name: "leave-open",
    doc: "Holes that stay open on purpose.",
    keys: &[
        need("count", Count { least: 1 }, "How many, of the joint's count."),
        need("until", Text, "`TRAVELER/step` that fills them."),
        need("why", Text, "Why, printed before the fastening step."),
    ],
};

/// `limits`.
pub static LIMITS: Section = Section {
    name: "limits",
    doc: "Limits that the plans set instead of the tables, as multiples of the diameter.",
    keys: &[
        may("edge", Form::Ratio, "Smallest edge distance, as `1.5 D`."),
        may("pitch", Form::Ratio, "Smallest pitch."),
        may("row-gap", Form::Ratio, "Smallest row gap."),
        need("because", Text, "The reason, printed on the sheet."),
    ],
};

/// `washers`.
pub static WASHERS: Section = Section {
    name: "washers",
    doc: "Washers of a bolt.",
    keys: &[
        may("head", Texts, "Under the head, from the head on."),
        may("nut", Texts, "Under the nut, from the structure on."),
    ],
};

/// `temporary`.
pub static TEMPORARY: Section = Section {
    name: "temporary",
    doc: "Fit-up hardware before the final one.",
    keys: &[
        need("fastener", Text, "Fit-up fastener."),
        may("nut", Text, "Its nut."),
        need("why", Text, "Why it goes in and comes out again."),
    ],
};

/// `[[step]]`.
pub static STEP: Section = Section {
    name: "step",
    doc: "One step, signed once.",
    keys: &[
        need("id", Id, "Stable name. The number on paper may change, this may not."),
        need("title", Text, "Title in the imperative."),
        need("do", Word(StepKind::WORDS), "What the step does."),
        may("joints", Texts, "Joints that it works on."),
        may("to", Size, "Size that a drilling or reaming step reaches. Absent: the final size."),
        may("parts", Texts, "Parts that it works on."),
        may(
            "text",
            Markdown,
            "What to do, with values such as `{{ joint.J1.hole.final }}` and pictures such as `![caption](file.svg)`: PNG, JPEG or SVG from the folder of pictures, printed over their caption.",
        ),
        may("drawings", Texts, "Drawing views."),
        may("tools", Texts, "Tools beyond those that follow from the joints."),
        may("needs", Texts, "`TRAVELER/step` that must be done first, beyond order and `after`."),
        may("zones", Texts, "Zones that must be open."),
        may("closes", Texts, "Zones that this step closes."),
        may("opens", Texts, "Closed zones that this step opens again."),
        may("cure", Duration, "Nothing touches the parts until then."),
        may("cure-latest", Duration, "End of the recoat window."),
        may("hold", Word(Role::WORDS), "Work stops until this role has signed."),
        may("witness", Word(Role::WORDS), "This role is invited; work may go on."),
        may("records", Tables(&RECORD), "Values to measure."),
        may("cautions", Texts, "Cautions beyond those that the step's kind and materials bring by themselves."),
        may("photo", Text, "Photo prompt, printed with a box for the photo's number."),
        may("helper", Flag, "Whether a second person is needed."),
        may("minutes", Count { least: 1 }, "Estimated time."),
    ],
};

/// `records`.
pub static RECORD: Section = Section {
    name: "records",
    doc: "One value to measure.",
    keys: &[
        need("id", Id, "Id, unique in the step."),
        need("label", Text, "What is measured."),
        may("unit", Text, "Unit."),
        may("min", Decimal, "Smallest value that passes."),
        may("max", Decimal, "Largest value that passes."),
        may("tool", Text, "Instrument."),
    ],
};

/// `[[allow]]`.
pub static ALLOW: Section = Section {
    name: "allow",
    doc: "An accepted departure, printed on the sheet with its reason. One that matches nothing is itself reported.",
    keys: &[
        need("rule", Text, "Name of the rule."),
        may("joint", Text, "Only for this joint."),
        may("step", Text, "Only for this step."),
        may("part", Text, "Only for this part."),
        need("because", Text, "The reason."),
    ],
};
