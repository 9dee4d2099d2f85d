//! The keys of `build.toml`.
//!
//! A fault in one entry leaves that entry out; the rest of the file still counts. What a value means is not said here.

use super::board::BoardSpec;
use super::caution::CautionSpec;
use super::fitted::Fitted;
use super::form::{Count, Date, Filled, Id, Names, Size, Sizes, Table, Tables, Text, TextMap, Word, Words};
use super::kit::{FastenerSpec, TorqueSpec};
use super::list::section;
use super::procedure::ProcedureSpec;
use super::read::Reading;
use super::regime::{RoleSpec, StageSpec};
use super::traveler::Bend;
use crate::units::{Style, TorqueUnit, Unit};
use crate::words::{Hand, Holds, Paper, Word as Wordlist};

section! {
    /// The project file, `build.toml`: what holds for the whole aircraft.
    ProjectSpec = "" {
        /// Name, serial number and registration, printed on every page.
        aircraft "aircraft": want Table<AircraftSpec> => wording,
        /// Unit, paper, folders, spares.
        settings "project": any Table<Settings> => work,
        /// Who may sign what. Absent: `builder` and `helper` (`do`, `look`), `technical counselor` (`look`, `advise`),
        /// `inspector` (`look`); with any, only those that are written.
        roles "role": any Tables<RoleSpec> => work,
        /// Points at which somebody looks and signs, on every step that says `stage` and before a space closes that does.
        stages "stage": any Tables<StageSpec> => work,
        /// What this builder owns or buys. Absent: what a shop of the unit usually has.
        shop "shop": may Table<ShopSpec> => apart,
        /// The people who sign, by initials.
        signers "signer": any Tables<Signer> => apart,
        /// Spaces that steps need open and some step closes.
        spaces "space" was "zone": any Tables<SpaceSpec> => work,
        /// The plans' own short calls, so that specs can quote the drawing.
        callouts "callouts": any TextMap => work,
        /// Parts that the whole build knows. A traveler's `[[part]]` with such an `id` alone takes its facts from here.
        parts "part": any Tables<BuildPart> => work,
        /// Kit-supplied hardware that no standard covers, judged by the numbers given here.
        fasteners "fastener": any Tables<FastenerSpec> => work,
        /// Torques that hold for the whole aircraft. They print where a joint gives none, and are judged like the
        /// tables, in whose place they stand.
        torques "torque": any Tables<TorqueSpec> => work,
        /// The drawing register: every sheet at its current revision.
        drawings "drawing": any Tables<Drawing> => apart,
        /// What lies on the shelf.
        stock "stock": any Tables<Stock> => apart,
        /// What the board proposes first and later, and what whole jobs wait for.
        board "board": may Table<BoardSpec> => apart,
        /// The shop's own standard ways of work, in place of the built-in ones.
        procedures "procedure": any Tables<ProcedureSpec> => work,
        /// Cautions of your own, and changes to the built-in ones.
        cautions "caution": any Tables<CautionSpec> => wording,
        /// Measuring tools with the day of their calibration; a step names them under `tools`.
        tools "tool": any Tables<Tool> => apart,
    }

    /// The aircraft.
    AircraftSpec = "aircraft" {
        /// Name of the aircraft or the project.
        name "name": want Filled => wording,
        /// Builder's serial number.
        serial "serial": may Text => wording,
        /// Registration marks.
        registration "registration": may Text => wording,
    }

    /// Settings. Folders are relative to the project file.
    Settings = "project" checked by set_unit {
        /// Unit of a bare number, and what prints first. Default: `inch`.
        unit "unit": or Word<Unit> = Unit::Inch => work,
        /// The other unit, to print beside the first: `inch`, `mm` or `none`. Default: `none`.
        second "second": or Word<Second> = Second::None => wording,
        /// What torques print in: `in-lb` or `N m`. Default: by `unit`.
        torque "torque": may Word<TorqueUnit> => wording,
        /// Paper size. Default: `us-letter`.
        paper "paper": or Word<Paper> = Paper::UsLetter => wording,
        /// Folder of the travelers. Default: `specs`.
        specs "specs": or Filled = "specs".into() => apart,
        /// Folder of what can be made again. Default: `output`.
        output "output": or Filled = "output".into() => apart,
        /// Folder of the pictures that texts show; no picture comes from outside it. Default: `pictures`.
        pictures "pictures": or Filled = "pictures".into() => apart,
        /// Folder of what must be kept. Default: `archive`.
        archive "archive": or Filled = "archive".into() => apart,
        /// The fixed words of the documents: `NAME` is the file `templates/words/NAME.toml`. Default: `english`.
        words "words": or Filled = "english".into() => apart,
        /// Per cent added to rivets on pick lists. Default: 10.
        spare "spare": or Count<0> = 10 => apart,
        /// Day for which calibrations are judged. Absent: they are not.
        date "date": may Date => apart,
    }

    /// What this builder owns or buys: new travelers and the helps of findings propose from it.
    ShopSpec = "shop" {
        /// Drills. A drill's name prints where it is listed here.
        drills "drills": any Sizes => apart,
        /// Thicknesses of sheet.
        sheets "sheets": any Sizes => apart,
        /// Diameters of rivets.
        rivets "rivets": any Sizes => apart,
    }

    /// One person who signs.
    Signer = "signer" {
        /// As written on the sheets.
        initials "initials": need Filled => apart,
        /// The name in full, for the build record.
        name "name": may Filled => apart,
        /// What the person may sign as: ids of roles, the usual one first. Default: the first role that does work, `builder` where
        /// the file has no `[[role]]`.
        roles "role": any Names => apart,
    }

    /// A space that steps need open and some step closes.
    SpaceSpec = "space" checked by check_space {
        /// Name in specs.
        id "id": need Id => work,
        /// Name on paper.
        name "name": need Filled => wording,
        /// The role that must have looked before it closes. Absent: none.
        hold "hold": may Filled => work,
        /// The stage that must be signed before it closes, instead of a `hold`.
        stage "stage": may Filled => work,
        /// What it holds, where it is a tank.
        holds "holds": may Word<Holds> => apart,
        /// Each hand has a space of its own, which only that hand's steps use. Absent: one space for all.
        hands "hands": any Words<Hand> => apart,
    }

    /// A part that the whole build knows.
    BuildPart = "part" {
        /// Part number.
        id "id": need Id => work,
        /// Name on paper.
        name "name": need Filled => wording,
        /// Alloy and temper (`2024-T3`), or another material in words.
        material "material": may Text => work,
        /// Sheet thickness.
        thickness "thickness": may Size => work,
        /// A part that it is not to be taken for: printed as *not the same as*.
        look_alike "look-alike": may Text => wording,
        /// Its tightest bend.
        bend "bend": may Table<Bend> => work,
        /// Since when it is on the aircraft: a traveler's id, once that is finished, or `true`, from the start. A part that is
        /// there is neither laid out nor pulled.
        fitted "fitted": may Fitted => apart,
    }

    /// One sheet of the drawing register.
    Drawing = "drawing" {
        /// Sheet number.
        sheet "sheet": need Id => apart,
        /// Title.
        title "title": may Text => apart,
        /// Current revision.
        revision "revision": need Filled => apart,
        /// Date of that revision.
        date "date": may Date => apart,
    }

    /// What lies on the shelf.
    Stock = "stock" {
        /// A call or a part id.
        item "item": need Filled => apart,
        /// Pieces.
        on_hand "on-hand": need Count<0> => apart,
        /// Drawer, bag or shelf where it lies, as the pick list says it.
        bin "bin": may Text => apart,
    }

    /// A measuring tool that is calibrated.
    Tool = "tool" {
        /// As steps name it under `tools`.
        id "id": need Id => apart,
        /// Name on paper.
        name "name": may Text => apart,
        /// Day of the last calibration.
        calibrated "calibrated": need Date => apart,
    }
}

impl Settings {
    /// How the project prints its sizes.
    #[must_use]
    pub fn style(&self) -> Style {
        let unit = self.unit.value;
        let usual = Style::of(unit);
        let torque = self.torque.map_or(usual.torque, |torque| torque.value);
        Style { both: self.second.value.is_beside(unit), torque, ..usual }
    }
}

/// The unit beside the first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Second {
    /// One unit.
    One(Unit),
    /// None.
    None,
}

impl Second {
    fn is_beside(self, first: Unit) -> bool {
        matches!(self, Self::One(unit) if unit != first)
    }
}

impl Wordlist for Second {
    const WORDS: &'static [&'static str] = &["inch", "mm", "none"];

    fn parse(word: &str) -> Option<Self> {
        if word == "none" { Some(Self::None) } else { Unit::parse(word).map(Self::One) }
    }

    fn word(self) -> &'static str {
        match self {
            Self::One(unit) => unit.word(),
            Self::None => "none",
        }
    }
}

impl Wordlist for Unit {
    const WORDS: &'static [&'static str] = &["inch", "mm"];

    fn parse(word: &str) -> Option<Self> {
        match word {
            "inch" => Some(Self::Inch),
            "mm" => Some(Self::Mm),
            _ => None,
        }
    }

    fn word(self) -> &'static str {
        match self {
            Self::Inch => "inch",
            Self::Mm => "mm",
        }
    }
}

impl Wordlist for TorqueUnit {
    const WORDS: &'static [&'static str] = &["in-lb", "N m"];

    fn parse(word: &str) -> Option<Self> {
        match word {
            "in-lb" => Some(Self::InchPound),
            "N m" => Some(Self::NewtonMetre),
            _ => None,
        }
    }

    fn word(self) -> &'static str {
        match self {
            Self::InchPound => "in-lb",
            Self::NewtonMetre => "N m",
        }
    }
}

/// Bare numbers of the tables that follow are in the project's unit.
fn set_unit(settings: &Settings, reading: &mut Reading) {
    reading.style = settings.style();
    if settings.second.value == Second::One(settings.unit.value) {
        let message = format!("`second` is `{}`, the unit that prints first", settings.second.value.word());
        reading.invalid(settings.second.span, message).help = Some("write the other unit, or `none`".to_owned());
    }
}

/// One look before a space closes is either a hold or a stage.
fn check_space(space: &SpaceSpec, reading: &mut Reading) {
    if let (Some(hold), Some(_)) = (&space.hold, &space.stage) {
        let message = format!("space `{}` has `hold` and `stage`", space.id.value);
        reading.invalid(hold.span, message).help = Some("keep one: a stage says itself who must sign it".into());
    }
}
