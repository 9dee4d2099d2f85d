//! The forms that a value can have, and how each is read.
//!
//! A form knows what it looks like and what was probably meant, not what the value is for.

mod text;

use toml::de::{DeTable, DeValue};

use super::read::{Entry, Node, Reading, Reads, Table as Cursor, nearest};
use super::section::Form;
use crate::calendar::{self, Day};
use crate::report::LeftOut;
use crate::text::{Span, Spanned};
use crate::units::{self, Length, Minutes, SizeFault, TorqueRange, TorqueUnit, Unit};
use crate::words::{UNDRILLED, Word as Wordlist};

pub(super) use text::{IdOfFile, IdOfJoint, text_of, word_text};
use text::{filled, markdown_of};

/// A number, or a text that `parse` takes.
fn scalar<T>(
    node: &Node<'_>,
    name: &str,
    wanted: &str,
    reading: &mut Reading,
    parse: impl Fn(&str) -> Result<T, SizeFault>,
) -> Option<Spanned<T>> {
    let span = reading.span(node.span());
    let result = match node.get_ref() {
        DeValue::String(text) => parse(text),
        DeValue::Integer(number) if number.radix() == 10 => parse(number.as_str()),
        DeValue::Float(number) => parse(number.as_str()),
        _ => {
            reading.wrong(node, name, wanted);
            return None;
        }
    };
    match result {
        Ok(value) => Some(Spanned { value, span }),
        Err(fault) => {
            reading.invalid(span, format!("`{name}`: {fault}"));
            None
        }
    }
}

pub(super) fn word_of<T: Wordlist>(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Spanned<T>> {
    let text = word_text(node, name, T::WORDS, reading)?;
    let value = T::parse(&text.value);
    if value.is_none() {
        let message = format!("`{name}` is `{}`, which is none of its words", text.value);
        let near = nearest(&text.value, T::WORDS.iter().copied())
            .map_or(String::new(), |word| format!("did you mean `{word}`? "));
        reading.invalid(text.span, message).help = Some(format!("{near}one of: {}", T::WORDS.join(", ")));
    }
    value.map(|value| Spanned { value, span: text.span })
}

/// A form that is one function: marker, form, value, reader.
macro_rules! forms {
    ($($(#[$doc:meta])* $name:ident$(<$($param:tt)+>)? is $form:expr => $value:ty: $read:expr;)+) => { $(
        $(#[$doc])*
        #[derive(Debug)]
        pub struct $name;

        impl Reads for $name {
            const FORM: Form = $form;
            type Value = $value;

            fn read(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<$value> {
                $read(node, name, reading)
            }
        }
    )+ };
}

forms! {
    /// A text.
    Text is Form::Text => Spanned<String>: text_of;
    /// A text that must not be empty.
    Filled is Form::Text => Spanned<String>: filled;
    /// A name that other places refer to.
    Id is Form::Id => Spanned<String>: filled;
    /// Markdown.
    Markdown is Form::Markdown => Spanned<String>: markdown_of;
    /// A size, larger than nothing.
    Size is Form::Size => Spanned<units::Size>: size_of;
    /// A size of which only the length counts: a distance, not a hole.
    Distance is Form::Size => Spanned<Length>: distance;
    /// Exactly two sizes, smaller first.
    SizePair is Form::SizePair => (Spanned<Length>, Spanned<Length>): size_pair;
    /// One size, or the smallest and the largest.
    SizeRange is Form::SizeRange => Spanned<(units::Size, units::Size)>: size_range;
    /// A multiple of the diameter.
    Ratio is Form::Ratio => Spanned<units::Ratio>: |node: &Node<'_>, name: &str, reading: &mut Reading| {
        scalar(node, name, "a multiple of the diameter like \"1.5 D\"", reading, units::Ratio::parse)
    };
    /// A torque or a range.
    Torque is Form::Torque => Spanned<TorqueRange>: |node: &Node<'_>, name: &str, reading: &mut Reading| {
        scalar(node, name, torque_like(reading), reading, TorqueRange::parse)
    };
    /// A torque, a range, or `snug`.
    JointTorque is Form::Torque => Spanned<units::JointTorque>: |node: &Node<'_>, name: &str, reading: &mut Reading| {
        scalar(node, name, &format!("{}, or `snug`", torque_like(reading)), reading, units::JointTorque::parse)
    };
    /// A temperature.
    Temperature is Form::Temperature => Spanned<units::Temperature>: |node: &Node<'_>, name: &str, reading: &mut Reading| {
        scalar(node, name, "a temperature like \"250 F\"", reading, units::Temperature::parse)
    };
    /// A duration.
    Duration is Form::Duration => Spanned<Minutes>: |node: &Node<'_>, name: &str, reading: &mut Reading| {
        scalar(node, name, "a duration like \"24 h\"", reading, Minutes::parse)
    };
    /// A signed decimal.
    Decimal is Form::Decimal => Spanned<units::Decimal>: |node: &Node<'_>, name: &str, reading: &mut Reading| {
        scalar(node, name, "a number", reading, units::Decimal::parse)
    };
    /// `true` or `false`.
    Flag is Form::Flag => Spanned<bool>: flag;
    /// A date as `2026-03-02`, written bare or as a text.
    Date is Form::Date => Spanned<Day>: date;
    /// A date, or a date and time without a zone, written bare or as a text.
    When is Form::When => Spanned<calendar::When>: when;
}

/// What a torque looks like in the project's unit.
const fn torque_like(reading: &Reading) -> &'static str {
    match reading.style.torque {
        TorqueUnit::InchPound => "a torque like \"20-25 in-lb\"",
        TorqueUnit::NewtonMetre => "a torque like \"8-9.5 N m\"",
    }
}

fn size_of(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Spanned<units::Size>> {
    let unit = reading.style.unit;
    let wanted = match unit {
        Unit::Inch => "a size like \"0.063\", \"1/4\", \"#30\" or \"3.2 mm\"",
        Unit::Mm => "a size like 3.2, \"3.2 mm\" or \"1/8 in\"",
    };
    let size = scalar(node, name, wanted, reading, |text| units::Size::parse(text, unit))?;
    if size.value.length <= Length::ZERO {
        reading.invalid(size.span, format!("`{name}` is 0: a size is larger than nothing"));
        return None;
    }
    Some(size)
}

fn delivered(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Spanned<Option<units::Size>>> {
    let is_undrilled = matches!(node.get_ref(), DeValue::String(text) if *text == UNDRILLED);
    if is_undrilled {
        return Some(Spanned { value: None, span: reading.span(node.span()) });
    }
    size_of(node, name, reading).map(|size| size.map(Some))
}

fn distance(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Spanned<Length>> {
    size_of(node, name, reading).map(|size| size.map(|size| size.length))
}

fn size_pair(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<(Spanned<Length>, Spanned<Length>)> {
    let DeValue::Array(items) = node.get_ref() else {
        reading.wrong(node, name, "two sizes, as [\"0.160\", \"0.164\"]");
        return None;
    };
    let sizes: Vec<Spanned<Length>> = items.iter().filter_map(|item| distance(item, name, reading)).collect();
    match sizes[..] {
        [low, high] if items.len() == 2 && low.value <= high.value => Some((low, high)),
        _ => {
            let span = reading.span(node.span());
            reading.invalid(span, format!("`{name}` must hold exactly two sizes, the smaller one first"));
            None
        }
    }
}

fn size_range(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Spanned<(units::Size, units::Size)>> {
    let DeValue::Array(items) = node.get_ref() else {
        return size_of(node, name, reading).map(|size| size.map(|size| (size, size)));
    };
    let span = reading.span(node.span());
    let sizes: Vec<Spanned<units::Size>> = items.iter().filter_map(|item| size_of(item, name, reading)).collect();
    match sizes[..] {
        [low, high] if items.len() == 2 && low.value.length <= high.value.length => {
            Some(Spanned { value: (low.value, high.value), span })
        }
        _ => {
            reading.invalid(span, format!("`{name}` must hold one size, or exactly two, the smaller one first"));
            None
        }
    }
}

fn flag(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Spanned<bool>> {
    let DeValue::Boolean(value) = node.get_ref() else {
        reading.wrong(node, name, "`true` or `false`");
        return None;
    };
    Some(Spanned { value: *value, span: reading.span(node.span()) })
}

fn date(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Spanned<Day>> {
    let date: Option<toml::value::Datetime> = match node.get_ref() {
        DeValue::Datetime(date) => Some(*date),
        DeValue::String(text) => text.parse().ok(),
        _ => None,
    };
    let day = date.and_then(|when| when.date).and_then(|date| Day::new(date.year, date.month, date.day));
    if day.is_none() {
        reading.wrong(node, name, "a date like 2026-03-02");
    }
    Some(Spanned { value: day?, span: reading.span(node.span()) })
}

fn when(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Spanned<calendar::When>> {
    let span = reading.span(node.span());
    let text = match node.get_ref() {
        DeValue::Datetime(when) if when.offset.is_none() => when.to_string(),
        DeValue::String(text) => text.to_string(),
        _ => {
            let wanted = "a date like 2026-03-02, or a date and time like 2026-03-02T19:30, without a time zone";
            reading.wrong(node, name, wanted);
            return None;
        }
    };
    // Parts of a second are of no account.
    let whole = text.split_once('.').filter(|(whole, _)| whole.contains(':')).map_or(text.as_str(), |(whole, _)| whole);
    match calendar::When::parse(whole) {
        Ok(value) => Some(Spanned { value, span }),
        Err(fault) => {
            reading.invalid(span, format!("`{name}`: {fault}"));
            None
        }
    }
}

/// A whole number from `LEAST` to 100,000.
#[derive(Debug)]
pub struct Count<const LEAST: u32>;

impl<const LEAST: u32> Reads for Count<LEAST> {
    const FORM: Form = Form::Count { least: LEAST };
    type Value = Spanned<u32>;

    fn read(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Spanned<u32>> {
        let span = reading.span(node.span());
        let DeValue::Integer(number) = node.get_ref() else {
            reading.wrong(node, name, "a whole number");
            if let (DeValue::String(text), Some(finding)) = (node.get_ref(), reading.findings.last_mut())
                && text.trim().parse::<u32>().is_ok()
            {
                finding.help = Some(format!("write `{name} = {}`, without the quotation marks", text.trim()));
            }
            return None;
        };
        let value = i64::from_str_radix(number.as_str(), number.radix()).ok().and_then(|n| u32::try_from(n).ok());
        let value = value.filter(|n| (LEAST..=100_000).contains(n));
        if value.is_none() {
            let message = format!("`{name}` is {}, but it must lie between {LEAST} and 100,000", number.as_str());
            reading.invalid(span, message);
        }
        value.map(|value| Spanned { value, span })
    }
}

/// One word of a closed list.
#[derive(Debug)]
pub struct Word<T>(std::marker::PhantomData<T>);

impl<T: Wordlist> Reads for Word<T> {
    const FORM: Form = Form::Word(T::WORDS);
    type Value = Spanned<T>;

    fn read(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Spanned<T>> {
        word_of(node, name, reading)
    }
}

/// A value that was written and could not be read, which is a finding already.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unread;

/// A value of which it is known whether it was written, where it could not be read.
#[derive(Debug)]
pub struct Tried<F>(std::marker::PhantomData<F>);

impl<F: Reads> Reads for Tried<F> {
    const FORM: Form = F::FORM;
    type Value = Result<F::Value, Unread>;

    fn read(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Self::Value> {
        Some(F::read(node, name, reading).ok_or(Unread))
    }
}

/// A list that may be empty: marker, form, value of an item, reader of the node.
macro_rules! lists {
    ($($(#[$doc:meta])* $name:ident$(<$param:ident: $bound:ident>)? is $form:expr => $item:ty: $read:expr;)+) => { $(
        $(#[$doc])*
        #[derive(Debug)]
        pub struct $name$(<$param>(std::marker::PhantomData<$param>))?;

        impl$(<$param: $bound>)? Reads for $name$(<$param>)? {
            const FORM: Form = $form;
            type Value = Vec<$item>;

            fn read(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Vec<$item>> {
                $read(node, name, reading)
            }

            fn absent(_: Span, _: &mut Reading) -> Option<Vec<$item>> {
                Some(Vec::new())
            }
        }
    )+ };
}

lists! {
    /// A list of texts.
    Texts is Form::Texts => Spanned<String>: texts;
    /// A name that something else has as its id, or a list of them.
    Names is Form::Names => Spanned<String>: |node: &Node<'_>, name: &str, reading: &mut Reading| {
        Some(one_or_more(node, |item| filled(item, name, reading)))
    };
    /// One distance, or a list of them.
    Distances is Form::Sizes => Spanned<Length>: |node: &Node<'_>, name: &str, reading: &mut Reading| {
        Some(one_or_more(node, |item| distance(item, name, reading)))
    };
    /// Sizes, each kept with the name that it was written by.
    Sizes is Form::SizeList => Spanned<units::Size>: |node: &Node<'_>, name: &str, reading: &mut Reading| {
        Some(one_or_more(node, |item| size_of(item, name, reading)))
    };
    /// The hole of each layer as delivered, or of all of them: a size, or nothing where it is undrilled.
    Delivered is Form::HoleSizes => Spanned<Option<units::Size>>: |node: &Node<'_>, name: &str, reading: &mut Reading| {
        Some(one_or_more(node, |item| delivered(item, name, reading)))
    };
    /// A list of pairs of distances.
    SizePairs is Form::SizePairs => Spanned<(Length, Length)>: size_pairs;
    /// One word of a closed list, or a list of them.
    Words<T: Wordlist> is Form::Words(T::WORDS) => Spanned<T>: |node: &Node<'_>, name: &str, reading: &mut Reading| {
        Some(one_or_more(node, |item| word_of(item, name, reading)))
    };
    /// Repeated tables; one that cannot be read is left out.
    Tables<T: Entry> is Form::Tables(T::SECTION) => T: tables;
    /// A table with keys of the builder's own and texts as values, in the order of the file.
    TextMap is Form::TextMap => (Spanned<String>, Spanned<String>): |node: &Node<'_>, name: &str, reading: &mut Reading| {
        map(node, name, reading, |value, key, reading| text_of(value, key, reading).map(|text| text.value))
    };
    /// A table with keys of the builder's own and texts or numbers as values, kept as written.
    ValueMap is Form::ValueMap => (Spanned<String>, Spanned<String>): |node: &Node<'_>, name: &str, reading: &mut Reading| {
        map(node, name, reading, |value, key, reading| match value.get_ref() {
            DeValue::Integer(number) => Some(number.as_str().to_owned()),
            DeValue::Float(number) => Some(number.as_str().to_owned()),
            _ => text_of(value, key, reading).map(|text| text.value),
        })
    };
}

/// The items of a list, or the one value that stands in its place.
pub(super) fn one_or_more<T>(node: &Node<'_>, read: impl FnMut(&Node<'_>) -> Option<T>) -> Vec<T> {
    match node.get_ref() {
        DeValue::Array(items) => items.iter().filter_map(read).collect(),
        _ => std::iter::once(node).filter_map(read).collect(),
    }
}

fn texts(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Vec<Spanned<String>>> {
    let DeValue::Array(items) = node.get_ref() else {
        reading.wrong(node, name, "a list of texts");
        return None;
    };
    Some(items.iter().filter_map(|item| text_of(item, name, reading)).collect())
}

fn size_pairs(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Vec<Spanned<(Length, Length)>>> {
    let DeValue::Array(items) = node.get_ref() else {
        reading.wrong(node, name, "a list of pairs, as [[\"0.5\", \"0.25\"]]");
        return None;
    };
    let mut pairs = Vec::with_capacity(items.len());
    for item in items {
        match item.get_ref() {
            DeValue::Array(pair) if pair.len() == 2 => {
                let sizes: Vec<_> = pair.iter().filter_map(|size| distance(size, name, reading)).collect();
                if let [along, across] = sizes[..] {
                    pairs.push(Spanned { value: (along.value, across.value), span: reading.span(item.span()) });
                }
            }
            _ => reading.wrong(item, name, "a pair of sizes, as [\"0.5\", \"0.25\"]"),
        }
    }
    Some(pairs)
}

fn tables<T: Entry>(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Vec<T>> {
    let DeValue::Array(items) = node.get_ref() else {
        reading.wrong(node, name, &format!("repeated tables: write [[{name}]]"));
        return None;
    };
    Some(items.iter().filter_map(|item| table_of(item, name, reading)).collect())
}

fn table_of<T: Entry>(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<T> {
    let DeValue::Table(table) = node.get_ref() else {
        reading.wrong(node, name, "a table");
        return None;
    };
    let entry = T::read(&mut Cursor::new(table, node.span(), T::SECTION, reading));
    if entry.is_none() {
        // The first key of a table that others name is its id.
        let id = T::SECTION.keys.first().and_then(|key| table.get(key.name)).and_then(|id| id.get_ref().as_str());
        let span = reading.span(node.span());
        reading.left_out.push(LeftOut { table: T::SECTION.name, id: id.map(str::to_owned), span });
    }
    entry
}

/// An entry of a table with keys of the builder's own.
type Pair = (Spanned<String>, Spanned<String>);

fn map(
    node: &Node<'_>,
    name: &str,
    reading: &mut Reading,
    read: impl Fn(&Node<'_>, &str, &mut Reading) -> Option<String>,
) -> Option<Vec<Pair>> {
    let DeValue::Table(table) = node.get_ref() else {
        reading.wrong(node, name, "a table");
        return None;
    };
    let mut all = Vec::new();
    for (key, value) in table {
        let name = Spanned { value: key.get_ref().to_string(), span: reading.span(key.span()) };
        let span = reading.span(value.span());
        all.extend(read(value, key.get_ref(), reading).map(|value| (name, Spanned { value, span })));
    }
    Some(all)
}

/// An inline table or a table of its own; where it is absent and may be, its keys are.
#[derive(Debug)]
pub struct Table<T>(std::marker::PhantomData<T>);

impl<T: Entry> Reads for Table<T> {
    const FORM: Form = Form::Table(T::SECTION);
    type Value = T;

    fn read(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<T> {
        table_of(node, name, reading)
    }

    fn absent(table: Span, reading: &mut Reading) -> Option<T> {
        T::read(&mut Cursor::new(&DeTable::new(), table.start..table.end, T::SECTION, reading))
    }
}

/// A list whose items are texts, of which `by_name` makes entries, or tables.
pub(super) fn mixed<T: Entry>(
    node: &Node<'_>,
    name: &str,
    reading: &mut Reading,
    by_name: impl Fn(Spanned<String>) -> T,
) -> Option<Spanned<Vec<T>>> {
    let span = reading.span(node.span());
    let DeValue::Array(items) = node.get_ref() else {
        reading.wrong(node, name, "a list");
        return None;
    };
    let mut all = Vec::with_capacity(items.len());
    for item in items {
        match item.get_ref() {
            DeValue::Table(_) => all.extend(table_of(item, name, reading)),
            _ => all.extend(text_of(item, name, reading).map(&by_name)),
        }
    }
    Some(Spanned { value: all, span })
}
