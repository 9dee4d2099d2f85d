//! The one formatter: how a project prints its lengths, torques and temperatures.
//!
//! The unit of the project comes first and the other one beside it only where the project asks for it; no number is
//! printed without its unit. A size prints as it was typed; what was not typed is rounded when printed, and a limit
//! inward. Nothing is judged here, and nothing printed here is read back.

use super::length::{Length, Unit};
use super::quantity::{JointTorque, Temperature, Torque, TorqueRange, steps_text};
use super::{DrillName, Size};

/// The unit in which torques print.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum TorqueUnit {
    /// Inch-pounds.
    #[default]
    InchPound,
    /// Newton metres.
    NewtonMetre,
}

/// The drills that print by their names wherever a size is one of them. A name that was typed prints in any case.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NamedDrills {
    /// All number and letter drills.
    Every,
    /// Those that the builder owns.
    Only(Vec<DrillName>),
}

/// How a project prints sizes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Style {
    /// What a bare number is, and what prints first.
    pub unit: Unit,
    /// Whether the other unit stands beside it.
    pub both: bool,
    /// What torques print in.
    pub torque: TorqueUnit,
    /// Drills that print by name.
    pub drills: NamedDrills,
}

/// Which way a printed length may differ from the exact one.
#[derive(Clone, Copy)]
enum Rounding {
    Nearest,
    /// To a place that can be measured: a thousandth of an inch, a hundredth of a millimetre.
    Measured,
    /// The same, upward.
    Up,
    /// The same, downward.
    Down,
    /// Upward in the last place that a size is printed with.
    FineUp,
    /// The same, downward.
    FineDown,
}

impl Style {
    /// The usual style of a unit: that unit alone, and the drills of its trade by name.
    #[must_use]
    pub const fn of(unit: Unit) -> Self {
        match unit {
            Unit::Inch => Self { unit, both: false, torque: TorqueUnit::InchPound, drills: NamedDrills::Every },
            Unit::Mm => {
                Self { unit, both: false, torque: TorqueUnit::NewtonMetre, drills: NamedDrills::Only(Vec::new()) }
            }
        }
    }

    /// The same style with the other unit beside the first.
    #[must_use]
    pub fn with_both(self) -> Self {
        Self { both: true, ..self }
    }

    /// Whether a unit prints at all.
    #[must_use]
    pub fn shows(&self, unit: Unit) -> bool {
        self.both || self.unit == unit
    }

    /// The word of the unit: `in` or `mm`.
    #[must_use]
    pub const fn word(&self) -> &'static str {
        word(self.unit)
    }

    /// A length: `0.250 in`, `0.250 in (6.35 mm)`, `6.35 mm`.
    #[must_use]
    pub fn length(&self, length: Length) -> String {
        self.rounded(length, Rounding::Nearest)
    }

    /// A computed length that is the least of something, rounded up to the place that can be measured: typed back as it
    /// was printed it still passes.
    #[must_use]
    pub fn at_least(&self, length: Length) -> String {
        self.rounded(length, Rounding::Up)
    }

    /// A computed length to aim at, to the place that can be measured.
    #[must_use]
    pub fn aim(&self, length: Length) -> String {
        format!("{} {}", self.number_in(self.unit, length, Rounding::Measured), self.word())
    }

    /// A computed least as it is shown: rounded up to the place that can be measured, and less so where a value that
    /// reaches it would then lie below it.
    #[must_use]
    pub fn least_shown(&self, least: Length, reached_by: Option<Length>) -> Length {
        let up = self.value(self.unit, least, Rounding::Up);
        let passed = reached_by.is_some_and(|value| (least..up).contains(&value));
        if passed { self.value(self.unit, least, Rounding::FineUp) } else { up }
    }

    /// A computed length that is the most of something, rounded down.
    #[must_use]
    pub fn at_most(&self, length: Length) -> String {
        self.rounded(length, Rounding::Down)
    }

    /// A range of sizes that were published or typed, with its ends rounded inward in their last place where they do not
    /// pass each other: `0.1285 to 0.132 in (3.27 to 3.35 mm)`.
    #[must_use]
    pub fn range(&self, low: Length, high: Length) -> String {
        let ends = |unit| {
            let low_end = self.number_in(unit, low, Rounding::FineUp);
            let high_end = self.number_in(unit, high, Rounding::FineDown);
            let passed = self.value(unit, low, Rounding::FineUp) > self.value(unit, high, Rounding::FineDown);
            if passed {
                let near = |length| self.number_in(unit, length, Rounding::Nearest);
                format!("{} to {} {}", near(low), near(high), word(unit))
            } else {
                format!("{low_end} to {high_end} {}", word(unit))
            }
        };
        self.pair(ends)
    }

    /// A length in the first unit alone, with that unit: for a drawing, where the other one stands below it.
    #[must_use]
    pub fn first(&self, length: Length) -> String {
        format!("{} {}", self.number(length), self.word())
    }

    /// A length in the other unit, where the project asks for it.
    #[must_use]
    pub fn second(&self, length: Length) -> Option<String> {
        let unit = self.second_unit()?;
        Some(format!("{} {}", self.number_in(unit, length, Rounding::Nearest), word(unit)))
    }

    /// A length as a bare number of the first unit, for what writes the unit once for several.
    #[must_use]
    pub fn number(&self, length: Length) -> String {
        self.number_in(self.unit, length, Rounding::Nearest)
    }

    /// A length that is the least of something as a bare number of the first unit, rounded up.
    #[must_use]
    pub fn least_number(&self, length: Length) -> String {
        self.number_in(self.unit, length, Rounding::Up)
    }

    /// A size by its name, where it has one, and in numbers: `#30 (0.1285 in, 3.26 mm)`, `3.3 mm`.
    #[must_use]
    pub fn size(&self, size: Size) -> String {
        match self.name_of(size) {
            None => self.length(size.length),
            Some(Name { text, unit }) => {
                let numbers = [Some(self.unit), self.second_unit()].into_iter().flatten();
                // A name in millimetres is the number itself.
                let numbers = numbers
                    .filter(|own| *own == Unit::Inch || unit != Some(Unit::Mm))
                    .map(|own| format!("{} {}", self.number_in(own, size.length, Rounding::Nearest), word(own)));
                let numbers: Vec<String> = numbers.collect();
                // A fraction of a project in inches has its unit behind the decimal.
                let name = match unit.filter(|own| *own != self.unit) {
                    Some(own) => format!("{text} {}", word(own)),
                    None => text,
                };
                if numbers.is_empty() { name } else { format!("{name} ({})", numbers.join(", ")) }
            }
        }
    }

    /// A size that is reamed, by its decimal, whatever drill has the same size: `0.1875 in (3/16, 4.76 mm)`.
    #[must_use]
    pub fn reamed(&self, size: Size) -> String {
        let fraction = size.length.fraction_text().filter(|_| self.unit == Unit::Inch);
        let beside: Vec<String> = fraction.into_iter().chain(self.second(size.length)).collect();
        let first = self.first(size.length);
        if beside.is_empty() { first } else { format!("{first} ({})", beside.join(", ")) }
    }

    /// A size as shortly as a shop says it: `#30`, `1/8 in`, `3.3 mm`.
    #[must_use]
    pub fn name(&self, size: Size) -> String {
        match self.name_of(size) {
            Some(Name { text, unit: Some(unit) }) => format!("{text} {}", word(unit)),
            Some(Name { text, unit: None }) => text,
            None => self.first(size.length),
        }
    }

    /// A length as shortly as a shop says it; a drill's name is not one.
    #[must_use]
    pub fn short(&self, length: Length) -> String {
        match length.fraction_text().filter(|_| self.unit == Unit::Inch) {
            Some(fraction) => format!("{fraction} in"),
            None => self.first(length),
        }
    }

    /// The diameter of a rivet as the trade of the unit names it: `1/8 in`, and the same rivet `3.2 mm`.
    #[must_use]
    pub fn rivet(&self, diameter: Length) -> String {
        let is_of_inches = is_whole(diameter, Length::from_64ths(2));
        if self.unit == Unit::Inch || !is_of_inches {
            return self.short(diameter);
        }
        let tenths = diameter.fraction(1, 100_000).nm();
        format!("{} mm", steps_text(tenths, 1))
    }

    /// The units in which bars to measure are printed, the first unit first.
    #[must_use]
    pub fn bars(&self) -> Vec<&'static str> {
        [Some(self.unit), self.second_unit()].into_iter().flatten().map(word).collect()
    }

    /// A size as it is typed into a spec of the project, without quotes: `#30`, `1/8`, `0.129`, `3.3`, `1/8 in`.
    #[must_use]
    pub fn typed(&self, size: Size) -> String {
        match self.name_of(size) {
            Some(Name { text, unit: Some(unit) }) if unit != self.unit => format!("{text} {}", word(unit)),
            Some(Name { text, .. }) => text,
            None => self.number(size.length),
        }
    }

    /// The drill of a size, where it has the name of one.
    #[must_use]
    pub fn drill(&self, size: Size) -> Option<String> {
        self.name_of(size).map(|name| name.text)
    }

    /// The name by which a size prints, if it prints by one.
    fn name_of(&self, size: Size) -> Option<Name> {
        let typed = size.drill.filter(|name| !matches!(name, DrillName::Millimetres(_)) || self.unit != Unit::Mm);
        let owned = || {
            DrillName::of(size.length).filter(|name| match name {
                DrillName::Fraction(_) if self.unit == Unit::Inch => true,
                name => match &self.drills {
                    NamedDrills::Every => true,
                    NamedDrills::Only(own) => own.contains(name),
                },
            })
        };
        if let Some(name) = typed.or_else(owned) {
            let unit = match name {
                DrillName::Fraction(_) => Some(Unit::Inch),
                DrillName::Millimetres(_) => Some(Unit::Mm),
                DrillName::Number(_) | DrillName::Letter(_) => None,
            };
            return Some(Name { text: name.to_string(), unit });
        }
        let fraction = size.length.fraction_text().filter(|_| self.unit == Unit::Inch)?;
        Some(Name { text: fraction, unit: Some(Unit::Inch) })
    }

    const fn second_unit(&self) -> Option<Unit> {
        match (self.both, self.unit) {
            (false, _) => None,
            (true, Unit::Inch) => Some(Unit::Mm),
            (true, Unit::Mm) => Some(Unit::Inch),
        }
    }

    fn pair(&self, text: impl Fn(Unit) -> String) -> String {
        match self.second_unit() {
            Some(second) => format!("{} ({})", text(self.unit), text(second)),
            None => text(self.unit),
        }
    }

    fn rounded(&self, length: Length, rounding: Rounding) -> String {
        self.pair(|unit| format!("{} {}", self.number_in(unit, length, rounding), word(unit)))
    }

    /// The length that is printed in a unit: exact where that unit has few enough places for it.
    fn value(&self, unit: Unit, length: Length, rounding: Rounding) -> Length {
        let is_size = matches!(rounding, Rounding::Nearest | Rounding::FineUp | Rounding::FineDown);
        let step = match unit {
            Unit::Inch if is_size => Length::from_ten_thousandths(1),
            Unit::Inch => Length::from_mils(1),
            Unit::Mm if self.unit == Unit::Mm && is_size && is_whole(length, Length::from_microns(1)) => return length,
            Unit::Mm => Length::from_microns(10),
        };
        match rounding {
            Rounding::Nearest => length,
            Rounding::Measured => (length + step.fraction(1, 2)).down_to(step),
            Rounding::Up | Rounding::FineUp => length.up_to(step),
            Rounding::Down | Rounding::FineDown => length.down_to(step),
        }
    }

    fn number_in(&self, unit: Unit, length: Length, rounding: Rounding) -> String {
        let value = self.value(unit, length, rounding);
        match unit {
            Unit::Inch => value.inch_text(),
            // Whoever types 3.3 or 30 reads the same back; a size in inches has no end in millimetres.
            Unit::Mm if self.unit == Unit::Mm && is_whole(length, Length::from_microns(1)) => value.mm_exact(),
            Unit::Mm => value.mm_text(),
        }
    }
}

/// The name of a size, and the unit that belongs behind it.
struct Name {
    text: String,
    unit: Option<Unit>,
}

const fn word(unit: Unit) -> &'static str {
    match unit {
        Unit::Inch => "in",
        Unit::Mm => "mm",
    }
}

const fn is_whole(length: Length, step: Length) -> bool {
    length.nm() % step.nm() == 0
}

/// Torques and temperatures.
impl Style {
    /// The word of the unit of torques: `in-lb` or `N m`.
    #[must_use]
    pub const fn torque_word(&self) -> &'static str {
        self.torque.word_of()
    }

    /// A torque: `23 in-lb`, `23 in-lb (2.6 N m)`, `2.6 N m`.
    #[must_use]
    pub fn torque(&self, torque: Torque) -> String {
        self.torque_pair(|unit, first| format!("{} {}", torque_number(torque, unit, first), unit.word_of()))
    }

    /// A torque as a bare number of the first unit.
    #[must_use]
    pub fn torque_number(&self, torque: Torque) -> String {
        torque_number(torque, self.torque, true)
    }

    /// A torque as a bare number of the first unit to the thousandth: for machine-readable output.
    #[must_use]
    pub fn exact_torque(&self, torque: Torque) -> String {
        let text = match self.torque {
            TorqueUnit::InchPound => steps_text((torque.micro() + 500) / 1_000, 3),
            TorqueUnit::NewtonMetre => torque.newton_metre_text(3),
        };
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    }

    /// A range of torques: `20-25 in-lb (2.3-2.8 N m)`; what is read off the sheet and set, or typed back, lies in it.
    #[must_use]
    pub fn torques(&self, range: TorqueRange) -> String {
        if range.low == range.high {
            return self.torque(range.low);
        }
        self.torque_pair(|unit, first| format!("{} {}", torque_numbers(range, unit, first), unit.word_of()))
    }

    /// A range of torques in the first unit alone: `20 to 25 in-lb`.
    #[must_use]
    pub fn first_torques(&self, range: TorqueRange) -> String {
        format!("{} {}", torque_numbers(range, self.torque, true), self.torque.word_of())
    }

    /// What a nut is tightened to.
    #[must_use]
    pub fn joint_torque(&self, torque: JointTorque) -> String {
        match torque {
            JointTorque::Snug => JointTorque::SNUG.to_owned(),
            JointTorque::Range(range) => self.torques(range),
        }
    }

    /// A force of whole pounds: `374 lb`, `1664 N`.
    #[must_use]
    pub fn force(&self, pounds: i64) -> String {
        // A pound-force is 4.4482216 N, by the exact pound and the standard acceleration.
        let newtons = (i128::from(pounds) * 44_482_216 + 5_000_000).div_euclid(10_000_000);
        match (self.unit, self.both) {
            (Unit::Inch, true) => format!("{pounds} lb ({newtons} N)"),
            (Unit::Inch, false) => format!("{pounds} lb"),
            (Unit::Mm, true) => format!("{newtons} N ({pounds} lb)"),
            (Unit::Mm, false) => format!("{newtons} N"),
        }
    }

    /// A temperature: `250 F`, `250 F (121 C)`, `121 C`.
    #[must_use]
    pub fn temperature(&self, temperature: Temperature) -> String {
        let fahrenheit = format!("{} F", temperature.fahrenheit());
        let celsius = format!("{} C", temperature.celsius());
        match (self.unit, self.both) {
            (Unit::Inch, true) => format!("{fahrenheit} ({celsius})"),
            (Unit::Inch, false) => fahrenheit,
            (Unit::Mm, true) => format!("{celsius} ({fahrenheit})"),
            (Unit::Mm, false) => celsius,
        }
    }

    fn torque_pair(&self, text: impl Fn(TorqueUnit, bool) -> String) -> String {
        let first = text(self.torque, true);
        if self.both { format!("{first} ({})", text(self.torque.other(), false)) } else { first }
    }
}

impl TorqueUnit {
    /// The step in which a wrench of this unit is read: 1 in-lb, 0.1 N m.
    #[must_use]
    pub fn grain(self) -> Torque {
        match self {
            Self::InchPound => Torque::from_inch_pounds(1),
            Self::NewtonMetre => Torque::from_newton_decimetres(1),
        }
    }

    const fn word_of(self) -> &'static str {
        match self {
            Self::InchPound => "in-lb",
            Self::NewtonMetre => "N m",
        }
    }

    const fn other(self) -> Self {
        match self {
            Self::InchPound => Self::NewtonMetre,
            Self::NewtonMetre => Self::InchPound,
        }
    }
}

/// One torque as a bare number. Newton metres that were typed come back as typed; others have one place where they stand
/// second, and two below 10 N m where they stand first.
fn torque_number(torque: Torque, unit: TorqueUnit, first: bool) -> String {
    match unit {
        TorqueUnit::InchPound => torque.inch_pound_text(),
        TorqueUnit::NewtonMetre => match torque.typed_newton_metres().filter(|_| first) {
            Some(typed) => typed,
            None => torque.newton_metre_text(places(torque, first)),
        },
    }
}

fn torque_numbers(range: TorqueRange, unit: TorqueUnit, first: bool) -> String {
    if unit == TorqueUnit::InchPound {
        return format!("{}-{}", range.low.inch_pound_text(), range.high.inch_pound_text());
    }
    let places = places(range.high, first);
    let low = range.low.newton_metre_steps(places, true);
    let high = range.high.newton_metre_steps(places, false);
    let end = |torque: Torque, inward: i64| match torque.typed_newton_metres().filter(|_| first) {
        Some(typed) => typed,
        // Narrower than the last place.
        None if low > high => torque.newton_metre_text(places),
        None => steps_text(inward, places),
    };
    format!("{}-{}", end(range.low, low), end(range.high, high))
}

/// Decimal places of a computed torque in newton metres.
fn places(torque: Torque, first: bool) -> usize {
    if first && torque.newton_metre_steps(0, true) < 10 { 2 } else { 1 }
}
