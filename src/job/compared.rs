//! READINGS COMPARED: what a step asks of two readings together: a difference within limits, the interference of a press fit.
//!
//! It finds which readings are meant, or says why they cannot be compared; it judges no value but by [`Job::apart`].

use super::{Item, Job, Record, StepRef, Text, Traveler, nearest};
use crate::spec::{FitSpec, named_reading, parse_within};
use crate::text::{Span, Spanned};
use crate::units::{Decimal, DifferenceLimits, Length};

/// A reading of a traveler.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ReadingRef {
    /// Index of the step.
    pub step: usize,
    /// Index of the record in it.
    pub record: usize,
}

/// Two readings that are compared.
#[derive(Debug, Clone, Copy)]
pub struct Compared {
    /// The one: of a press fit the pin.
    pub one: ReadingRef,
    /// The other: of a press fit the bore.
    pub other: ReadingRef,
    /// Limits of the one less the other, in their unit.
    pub limits: DifferenceLimits,
    /// Whether it is the interference of a press fit.
    pub is_fit: bool,
    /// Where it is asked for.
    pub span: Span,
}

/// Why two readings cannot be compared.
#[derive(Debug, Clone)]
pub struct Incomparable {
    /// Where it was written.
    pub span: Span,
    /// What is wrong.
    pub message: String,
    /// What would pass.
    pub help: String,
}

impl Traveler {
    /// The record of a reading.
    #[must_use]
    pub fn record(&self, at: ReadingRef) -> &Record {
        &self.steps[at.step].records[at.record]
    }

    /// A reading as a step names it: by its id alone where it is the step's own.
    #[must_use]
    pub fn reading_name(&self, at: ReadingRef, step: usize) -> String {
        let id = &self.record(at).id.value;
        if at.step == step { id.clone() } else { format!("{}/{id}", self.steps[at.step].id.value) }
    }

    /// What a step asks of two readings together, each followed to its records.
    #[must_use]
    pub fn comparisons(&self, step: usize) -> Vec<Result<Compared, Incomparable>> {
        let own = &self.steps[step];
        let within = own.records.iter().enumerate().filter_map(|(record, spec)| {
            let written = spec.within.as_ref()?;
            // What cannot be read was said when it was.
            let (most, other) = parse_within(&written.value)?;
            let other = Spanned { value: other.to_owned(), span: written.span };
            Some(self.distance(ReadingRef { step, record }, most, &other))
        });
        within.chain(own.fit.as_ref().map(|fit| self.fit(step, fit))).collect()
    }

    /// What a step asks of two readings together, as far as they can be compared.
    pub fn compared(&self, step: usize) -> impl Iterator<Item = Compared> {
        self.comparisons(step).into_iter().filter_map(Result::ok)
    }

    fn distance(&self, one: ReadingRef, most: Decimal, named: &Text) -> Result<Compared, Incomparable> {
        let other = self.reading(one.step, named)?;
        let span = named.span;
        self.same_unit(one, other, span)?;
        Ok(Compared { one, other, limits: DifferenceLimits::within(most), is_fit: false, span })
    }

    fn fit(&self, step: usize, fit: &FitSpec) -> Result<Compared, Incomparable> {
        let one = self.reading(step, &fit.pin)?;
        let other = self.reading(step, &fit.bore)?;
        let span = fit.pin.span;
        self.same_unit(one, other, span)?;
        let low = self.in_unit(one, fit.interference.0, |tenths| -(-tenths).div_euclid(254), span)?;
        let high = self.in_unit(one, fit.interference.1, |tenths| tenths.div_euclid(254), span)?;
        Ok(Compared { one, other, limits: DifferenceLimits { low, high }, is_fit: true, span })
    }

    /// The reading of a name: of the step itself, else `step/record`.
    fn reading(&self, step: usize, named: &Text) -> Result<ReadingRef, Incomparable> {
        let record_of = |step: usize, id: &str| self.steps[step].records.iter().position(|own| own.id.value == id);
        let found = || {
            let (other, id) = named_reading(&named.value, |id| record_of(step, id).is_some())?;
            let of = |other: &str| self.steps.iter().position(|step| step.id.value == other);
            let step = other.map_or(Some(step), of)?;
            Some(ReadingRef { step, record: record_of(step, id)? })
        };
        found().ok_or_else(|| {
            let known: Vec<String> = (0..self.steps.len()).flat_map(|at| self.names_of(at, step)).collect();
            let help = match nearest(&named.value, known.iter().map(String::as_str)) {
                Some(near) => format!("did you mean `{near}`?"),
                None if known.is_empty() => "this traveler has no reading; add it under `records`".to_owned(),
                None => format!("known: {}", known.join(", ")),
            };
            Incomparable { span: named.span, message: format!("there is no reading `{}`", named.value), help }
        })
    }

    fn names_of(&self, at: usize, step: usize) -> impl Iterator<Item = String> {
        let all = 0..self.steps[at].records.len();
        all.map(move |record| self.reading_name(ReadingRef { step: at, record }, step))
    }

    fn same_unit(&self, one: ReadingRef, other: ReadingRef, span: Span) -> Result<(), Incomparable> {
        if one == other {
            let message = format!("reading `{}` is compared with itself", self.record(one).id.value);
            return Err(Incomparable { span, message, help: "name another reading".to_owned() });
        }
        let unit = |at| self.record(at).unit.as_ref().map_or("none", |unit| unit.value.trim());
        if unit(one) == unit(other) {
            return Ok(());
        }
        let id = |at| &self.record(at).id.value;
        let message = format!(
            "reading `{}` is in {} and `{}` in {}: they cannot be compared",
            id(one),
            unit(one),
            id(other),
            unit(other)
        );
        Err(Incomparable { span, message, help: "give both the same `unit`".to_owned() })
    }

    /// A length as a number in the unit of a reading; `inward` makes millionths of an inch of tenths of a nanometre's count.
    fn in_unit(
        &self,
        at: ReadingRef,
        length: Spanned<Length>,
        inward: fn(i64) -> i64,
        span: Span,
    ) -> Result<Decimal, Incomparable> {
        let unit = self.record(at).unit.as_ref().map_or("", |unit| unit.value.trim());
        let micro = match unit {
            "mm" => Some(length.value.nm()),
            // A millionth of an inch is 25.4 nm.
            "in" | "inch" => length.value.nm().checked_mul(10).map(inward),
            _ => None,
        };
        micro.map(Decimal::from_micro).ok_or_else(|| {
            let message = format!("`fit` asks for lengths, and reading `{}` is in `{unit}`", self.record(at).id.value);
            Incomparable { span, message, help: "give bore and pin `unit = \"in\"` or `\"mm\"`".to_owned() }
        })
    }
}

impl Job {
    /// What the values of an item's readings, and of those they are compared with, do not keep to. `read` gives the value of
    /// a reading of a step in the item's hand.
    pub fn apart<'a>(&self, item: Item, read: impl Fn(StepRef, &str) -> Option<&'a str>) -> Vec<Compared> {
        let traveler = &self.travelers[item.at.traveler];
        let value =
            |at: ReadingRef| read(StepRef { traveler: item.at.traveler, step: at.step }, &traveler.record(at).id.value);
        let is_apart = |compared: &Compared| {
            let both = value(compared.one).zip(value(compared.other));
            both.and_then(|(one, other)| compared.limits.contain(one, other)) == Some(false)
        };
        traveler.compared(item.at.step).filter(is_apart).collect()
    }
}
