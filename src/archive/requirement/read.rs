//! Reads facts from lines: those of form 2 and later, where every id stands between quotes, and the values of all forms.
//!
//! What would not be written again as it was read is refused.

use super::fact::{
    About, Aspect, ComparedFacts, Fact, FactValue, KitSide, LayerFacts, PartFacts, RecordSide, Scope, Side, SpaceUse,
};
use super::line::{Form, Line, stated};
use crate::archive::stage::StageFacts;
use crate::ident::Digest;
use crate::units::{Decimal, DifferenceLimits, Length, Minutes, Ratio, Torque, TorqueRange};
use crate::words::{StepKind, UNDRILLED};

pub(super) fn other(line: &Line) -> Fact {
    Fact::new(About::Other(line.aspect, line.name.clone()), FactValue::Text(line.value.clone()))
}

/// A text being read from its front.
struct Cursor<'a>(&'a str);

impl<'a> Cursor<'a> {
    fn eat(&mut self, word: &str) -> bool {
        let rest = self.0.strip_prefix(word);
        self.0 = rest.unwrap_or(self.0);
        rest.is_some()
    }

    fn word(&mut self, word: &str) -> Option<()> {
        self.eat(word).then_some(())
    }

    /// A text between quotes; two quotes stand for one.
    fn quoted(&mut self) -> Option<String> {
        let inner = self.0.strip_prefix('"')?;
        let mut text = String::new();
        let mut rest = inner;
        loop {
            let (before, after) = rest.split_once('"')?;
            text.push_str(before);
            let Some(more) = after.strip_prefix('"') else {
                self.0 = after;
                return Some(text);
            };
            text.push('"');
            rest = more;
        }
    }

    fn number<T: std::str::FromStr>(&mut self) -> Option<T> {
        let end = self.0.find(|c: char| c != '-' && !c.is_ascii_digit()).unwrap_or(self.0.len());
        let number = self.0[..end].parse().ok()?;
        self.0 = &self.0[end..];
        Some(number)
    }

    fn length(&mut self) -> Option<Length> {
        let nm = self.number()?;
        self.word(" nm")?;
        Some(Length::from_nm(nm))
    }

    fn end(&self) -> Option<()> {
        self.0.is_empty().then_some(())
    }

    fn rest(&mut self) -> &'a str {
        std::mem::take(&mut self.0)
    }
}

/// A line of a form whose ids stand between quotes.
pub(super) fn quoted(line: &Line, form: Form) -> Option<Fact> {
    let about = about(unnumbered(&line.name))?;
    let value = value(&about, &line.value, form)?;
    (about.aspect() == line.aspect).then(|| Fact::new(about, value))
}

/// The name without its ` #2`; a name never ends so by itself.
fn unnumbered(name: &str) -> &str {
    let number = name.rsplit_once(" #").filter(|(_, nth)| !nth.is_empty() && nth.bytes().all(|b| b.is_ascii_digit()));
    number.map_or(name, |(plain, _)| plain)
}

/// Splits `name = value` at the first ` = ` that is not between quotes.
#[must_use]
pub fn split(aspect: Aspect, text: &str, form: Form) -> Option<(&str, &str)> {
    if form == Form::One {
        let (name, value) = text.split_once(" = ")?;
        // An id that ends a name with an equals sign pushes the value one further on.
        let ends_with_id = matches!(aspect, Aspect::Drawing | Aspect::Part | Aspect::Order | Aspect::Work);
        let further = value.strip_prefix("= ").filter(|_| ends_with_id);
        return Some(further.map_or((name, value), |value| (&text[..name.len() + 2], value)));
    }
    let mut inside = false;
    let at = text.char_indices().find_map(|(at, c)| {
        inside ^= c == '"';
        (!inside && text[at..].starts_with(" = ")).then_some(at)
    })?;
    Some((&text[..at], &text[at + 3..]))
}

/// What a name with its ids between quotes is about.
fn about(name: &str) -> Option<About> {
    let fixed = match name {
        "do" => Some(About::Kind),
        "text" => Some(About::Text),
        "picture" => Some(About::Picture),
        "hold" => Some(About::Hold),
        "witness" => Some(About::Witness),
        "photo" => Some(About::Photo),
        "cure" => Some(About::Cure),
        "cure-latest" => Some(About::CureLatest),
        _ => None,
    };
    if fixed.is_some() {
        return fixed;
    }
    let (word, rest) = name.split_once(' ')?;
    let mut cursor = Cursor(rest);
    let id = cursor.quoted()?;
    let about = match word {
        "after" => About::After(id),
        "view" => About::View(id),
        "procedure" => About::Procedure(id),
        "part" => About::Part(id),
        "space" => About::Space(id),
        "state" => About::State(id),
        "stage" => About::Stage(id),
        "departure" if cursor.end().is_some() => About::Departure(id, None),
        "departure" => About::Departure(id, Some(scope(&mut cursor)?)),
        "needs" => {
            cursor.word(" ")?;
            About::Needs(id, cursor.quoted()?)
        }
        "kit" => About::Kit(id, side(&mut cursor, KitSide::parse)?),
        "record" => About::Record(id, side(&mut cursor, RecordSide::parse)?),
        "joint" => of_joint(id, cursor.rest().strip_prefix(' ')?)?,
        _ => return None,
    };
    cursor.end().map(|()| about)
}

fn side<T>(cursor: &mut Cursor<'_>, of: fn(&str) -> Option<T>) -> Option<T> {
    cursor.rest().strip_prefix(' ').and_then(of)
}

/// What a departure is limited to: ` at joint "J1"`.
fn scope(cursor: &mut Cursor<'_>) -> Option<(Scope, String)> {
    cursor.word(" at ")?;
    let (word, rest) = cursor.0.split_once(' ')?;
    cursor.0 = rest;
    Some((Scope::parse(word)?, cursor.quoted()?))
}

/// What follows a joint's id.
pub(super) fn of_joint(joint: String, rest: &str) -> Option<About> {
    if let Some(side) = Side::parse(rest) {
        return Some(About::Joint(joint, side));
    }
    let mut cursor = Cursor(rest.strip_prefix("layer ")?);
    let layer = cursor.number()?;
    match cursor.rest() {
        "" => Some(About::Layer(joint, layer)),
        " is" => Some(About::Preparation(joint, layer)),
        _ => None,
    }
}

/// The value of a text.
pub(super) fn value(about: &About, text: &str, form: Form) -> Option<FactValue> {
    let mut cursor = Cursor(text);
    let value = match about {
        About::After(_) | About::Departure(..) | About::View(_) | About::Photo | About::Needs(..) => {
            cursor.word(stated(about))?;
            FactValue::Stated
        }
        About::Kind => StepKind::parse(cursor.rest()).map_or_else(|| FactValue::Text(text.to_owned()), FactValue::Kind),
        About::Picture => FactValue::File(Digest::parse_hex(cursor.rest())?),
        About::Part(_) => FactValue::Part(part_value(&mut cursor, form)?),
        About::Layer(..) => {
            layer_value(&mut cursor, form).map_or_else(|| FactValue::Text(text.to_owned()), FactValue::Layer)
        }
        About::Joint(_, own) => return side_value(*own, text, form),
        About::Kit(
            _,
            KitSide::Diameter
            | KitSide::Length
            | KitSide::ThreadLength
            | KitSide::Thickness
            | KitSide::Height
            | KitSide::PinHole,
        ) => FactValue::Length(cursor.length()?),
        About::Kit(_, KitSide::Hole | KitSide::Grip) => range(&mut cursor)?,
        About::Record(_, RecordSide::Min | RecordSide::Max) => FactValue::Limit(Decimal::parse(cursor.rest()).ok()?),
        About::Record(_, RecordSide::Less) => FactValue::Compared(compared(&mut cursor)?),
        About::Space(_) => FactValue::Space(SpaceUse::parse(cursor.rest())?),
        About::Stage(_) => FactValue::Stage(stage_value(&mut cursor)?),
        About::Cure | About::CureLatest => FactValue::Minutes(minutes(&mut cursor)?),
        _ => return Some(FactValue::Text(text.to_owned())),
    };
    matches!(value, FactValue::Text(_)).then_some(()).or_else(|| cursor.end())?;
    Some(value)
}

fn stage_value(cursor: &mut Cursor<'_>) -> Option<StageFacts> {
    let mut stage = StageFacts::default();
    loop {
        if cursor.eat("all of ") {
            stage.all = names(cursor)?;
        } else if cursor.eat("one of ") {
            stage.any = names(cursor)?;
        } else if cursor.eat("none who did the work") {
            stage.other = true;
        } else if cursor.eat("releases ") {
            stage.releases = names(cursor)?;
        } else {
            cursor.word("outcome ")?;
            let word = cursor.quoted()?;
            let goes_on = cursor.eat(" goes on");
            (goes_on || cursor.eat(" stops")).then_some(())?;
            stage.outcomes.push((word, goes_on));
        }
        if !cursor.eat(", ") {
            return Some(stage);
        }
    }
}

/// Names between quotes.
fn names(cursor: &mut Cursor<'_>) -> Option<Vec<String>> {
    let mut all = vec![cursor.quoted()?];
    while cursor.eat(" and ") {
        all.push(cursor.quoted()?);
    }
    Some(all)
}

fn compared(cursor: &mut Cursor<'_>) -> Option<ComparedFacts> {
    let other = cursor.quoted()?;
    cursor.word(", ")?;
    let (low, high) = cursor.rest().split_once(" to ")?;
    let limits = DifferenceLimits { low: Decimal::parse(low).ok()?, high: Decimal::parse(high).ok()? };
    Some(ComparedFacts { other, limits })
}

fn minutes(cursor: &mut Cursor<'_>) -> Option<Minutes> {
    let minutes = cursor.number()?;
    cursor.word(" min")?;
    Some(Minutes(minutes))
}

fn range(cursor: &mut Cursor<'_>) -> Option<FactValue> {
    let least = cursor.length()?;
    cursor.word(" to ")?;
    Some(FactValue::Range(least, cursor.length()?))
}

fn side_value(side: Side, text: &str, form: Form) -> Option<FactValue> {
    let mut cursor = Cursor(text);
    let value = match side {
        Side::Count | Side::Rows | Side::SetHere | Side::PutIn => FactValue::Count(cursor.number()?),
        Side::HoleStart if text == UNDRILLED => return Some(FactValue::Text(text.to_owned())),
        Side::Edge
        | Side::Pitch
        | Side::RowGap
        | Side::HoleStart
        | Side::HoleAfter
        | Side::Hole
        | Side::Chamfer
        | Side::HeadOf
        | Side::StringerLeg
        | Side::Tube => FactValue::Length(cursor.length()?),
        Side::HoleAt => {
            let along = cursor.length()?;
            cursor.word(", ")?;
            FactValue::Point(along, cursor.length()?)
        }
        Side::PlansHole | Side::PlansGrip => range(&mut cursor)?,
        Side::Torque | Side::TorqueMost | Side::RunDown | Side::PlansTorque => {
            let low = cursor.number()?;
            cursor.word(" to ")?;
            let high = cursor.number()?;
            cursor.word(" micro in-lb")?;
            FactValue::Torque(TorqueRange { low: Torque::from_micro(low), high: Torque::from_micro(high) })
        }
        Side::LeastEdge | Side::LeastPitch | Side::LeastRowGap | Side::LeastBend => {
            let ratio = cursor.number()?;
            cursor.word(" thousandths of D")?;
            FactValue::Ratio(Ratio(ratio))
        }
        Side::LeftOpen => {
            let count = cursor.number()?;
            cursor.word(" until ")?;
            FactValue::LeftOpen(count, text_of(&mut cursor, form)?)
        }
        Side::Temporary => temporary(&mut cursor, form)?,
        _ => return Some(FactValue::Text(text.to_owned())),
    };
    cursor.end().map(|()| value)
}

/// A quoted text, or the rest of a line of form 1.
fn text_of(cursor: &mut Cursor<'_>, form: Form) -> Option<String> {
    match form {
        Form::One => Some(cursor.rest().to_owned()),
        Form::Two | Form::Three | Form::Four => cursor.quoted(),
    }
}

fn temporary(cursor: &mut Cursor<'_>, form: Form) -> Option<FactValue> {
    if form == Form::One {
        let text = cursor.rest();
        let (fastener, nut) = text.split_once(" with ").map_or((text, None), |(fastener, nut)| (fastener, Some(nut)));
        return Some(FactValue::Temporary(fastener.to_owned(), nut.map(str::to_owned)));
    }
    let fastener = cursor.quoted()?;
    let nut = if cursor.eat(" with ") { Some(cursor.quoted()?) } else { None };
    Some(FactValue::Temporary(fastener, nut))
}

/// Takes `, 812800 nm thick` off the end of a line of form 1.
fn thickness<'a>(text: &'a str, between: &str) -> (&'a str, Option<Length>) {
    let found = text.strip_suffix(" nm thick").and_then(|front| {
        // Digits alone begin at the beginning.
        let start = front.rfind(|c: char| !c.is_ascii_digit()).map_or(0, |at| at + 1);
        let nm = front[start..].parse().ok()?;
        let rest = if start == 0 { "" } else { front[..start].strip_suffix(between)? };
        Some((rest, Length::from_nm(nm)))
    });
    found.map_or((text, None), |(rest, length)| (rest, Some(length)))
}

fn layer_value(cursor: &mut Cursor<'_>, form: Form) -> Option<LayerFacts> {
    let mut layer = LayerFacts::default();
    if form == Form::One {
        let (rest, thick) = thickness(cursor.rest(), ", ");
        layer.thickness = thick;
        // The part stands first where there is one. A layer that names only its material looks the same.
        let (part, material) = rest.split_once(", ").map_or((rest, None), |(part, material)| (part, Some(material)));
        layer.part = (!part.is_empty()).then(|| part.to_owned());
        layer.material = material.map(str::to_owned);
        return Some(layer);
    }
    if cursor.eat("part ") {
        layer.part = Some(cursor.quoted()?);
        cursor.eat(", ");
    }
    if cursor.eat("of ") {
        layer.material = Some(cursor.quoted()?);
        cursor.eat(", ");
    }
    if cursor.end().is_none() {
        layer.thickness = Some(cursor.length()?);
        cursor.word(" thick")?;
    }
    cursor.end().map(|()| layer)
}

fn part_value(cursor: &mut Cursor<'_>, form: Form) -> Option<PartFacts> {
    let mut part = PartFacts { quantity: cursor.number()?, ..PartFacts::default() };
    if form == Form::One {
        let text = cursor.rest();
        let bend = text.rsplit_once(", bent ").and_then(|(before, after)| Some((before, bend_value(after)?)));
        part.bend = bend.map(|(_, bend)| bend);
        let (rest, thick) = thickness(bend.map_or(text, |(before, _)| before), ", ");
        part.thickness = thick;
        part.material = rest.strip_prefix(" of ").map(str::to_owned);
        return Some(part);
    }
    if cursor.eat(" of ") {
        part.material = Some(cursor.quoted()?);
    }
    while cursor.eat(", ") {
        if cursor.eat("bent ") {
            part.bend = Some(bend_value(cursor.rest())?);
        } else {
            part.thickness = Some(cursor.length()?);
            cursor.word(" thick")?;
        }
    }
    Some(part)
}

fn bend_value(text: &str) -> Option<(u32, Length)> {
    let mut cursor = Cursor(text);
    let angle = cursor.number()?;
    cursor.word(" degrees at ")?;
    let radius = cursor.length()?;
    cursor.end().map(|()| (angle, radius))
}
