//! Reads lines of form 1, whose ids stand bare: the order in which they were written tells where an id ends.
//!
//! What it cannot tell it keeps as it is written; nothing is refused.

use super::fact::{About, Aspect, Fact, RecordSide, Scope, Side};
use super::line::{Form, Line};
use super::read::{of_joint, other, value};

/// Lines of form 1. A joint's id ends where the order of writing says: its first line is its first layer.
pub(super) fn bare(lines: &[Line]) -> Vec<Fact> {
    let mut joint: Option<&str> = None;
    let mut facts: Vec<Fact> = Vec::with_capacity(lines.len());
    for line in lines {
        if line.aspect == Aspect::Stack
            && let Some(between) = first_layer(&line.name)
        {
            joint = Some(between);
        }
        let about = bare_about(line, joint).map(|about| match about {
            // A second fact of one name has a number behind it; an id may end so as well.
            Numbered::Plain(about) => about,
            Numbered::Maybe { whole, cut } => {
                if facts.iter().any(|fact| fact.about == cut) {
                    cut
                } else {
                    whole
                }
            }
        });
        let fact = about.and_then(|about| {
            let value = value(&about, &line.value, Form::One)?;
            Some(Fact::new(about, value))
        });
        facts.push(fact.filter(|fact| fact.about.aspect() == line.aspect).unwrap_or_else(|| other(line)));
    }
    facts
}

/// What a line of form 1 may be about.
enum Numbered {
    Plain(About),
    Maybe { whole: About, cut: About },
}

/// What stands between `joint` and `layer 1`: the id with what parts it from both words.
fn first_layer(name: &str) -> Option<&str> {
    let plain = cut_number(name).unwrap_or(name);
    let between = plain.strip_prefix("joint")?.strip_suffix("layer 1")?;
    id_in(between).map(|_| between)
}

/// The id in ` J1 `. Form 1 wrote ` = ` in a name as `=`, so that an id may have lost a blank at either end.
fn id_in(between: &str) -> Option<String> {
    if between == "=" {
        return Some(between.to_owned());
    }
    let front = between.strip_prefix('=').map(|rest| format!("= {rest}"));
    let id = front.or_else(|| between.strip_prefix(' ').map(str::to_owned))?;
    let back = id.strip_suffix('=').map(|rest| format!("{rest} ="));
    back.or_else(|| id.strip_suffix(' ').map(str::to_owned))
}

/// The id at the end of `part P1`.
fn last_id(name: &str, word: &str) -> Option<String> {
    id_in(&format!("{} ", name.strip_prefix(word)?))
}

/// `X` of `X, 2`.
fn cut_number(text: &str) -> Option<&str> {
    let (plain, nth) = text.rsplit_once(", ")?;
    (!nth.is_empty() && nth.bytes().all(|b| b.is_ascii_digit())).then_some(plain)
}

fn bare_about(line: &Line, joint: Option<&str>) -> Option<Numbered> {
    let name = line.name.as_str();
    let either = |make: fn(String) -> About, text: String| match cut_number(&text) {
        Some(cut) => Numbered::Maybe { cut: make(cut.to_owned()), whole: make(text) },
        None => Numbered::Plain(make(text)),
    };
    let unnumbered = cut_number(name).unwrap_or(name);
    let plain = match unnumbered {
        "do" => Some(About::Kind),
        "hold" => Some(About::Hold),
        "witness" => Some(About::Witness),
        "photo" => Some(About::Photo),
        "cure" => Some(About::Cure),
        "cure-latest" => Some(About::CureLatest),
        _ => None,
    };
    if let Some(about) = plain.filter(|about| about.aspect() == line.aspect) {
        return Some(Numbered::Plain(about));
    }
    match line.aspect {
        Aspect::Drawing => Some(either(About::View, name.to_owned())),
        Aspect::Part => Some(either(About::Part, last_id(name, "part")?)),
        Aspect::Order => {
            if let Some(id) = last_id(name, "after") {
                return Some(either(About::After, id));
            }
            if let Some(id) = last_id(name, "zone") {
                return Some(either(About::Space, id));
            }
            let (traveler, step) = name.strip_prefix("needs ")?.split_once('/')?;
            Some(Numbered::Plain(About::Needs(traveler.to_owned(), step.to_owned())))
        }
        Aspect::Work => departure(name.strip_prefix("departure ")?).map(Numbered::Plain),
        Aspect::Tolerance => {
            let end = |side: &&RecordSide| unnumbered.ends_with(side.word());
            let side = *RecordSide::ALL.iter().find(end)?;
            let between = unnumbered.strip_prefix("record")?.strip_suffix(side.word())?;
            Some(Numbered::Plain(About::Record(id_in(between)?, side)))
        }
        Aspect::Stack | Aspect::Size | Aspect::Fastener | Aspect::Torque => {
            bare_joint(name.strip_prefix("joint")?, joint).map(Numbered::Plain)
        }
        _ => None,
    }
}

fn departure(text: &str) -> Option<About> {
    let Some((rule, at)) = text.split_once(" at ") else { return Some(About::Departure(text.to_owned(), None)) };
    let (word, id) = at.split_once(' ')?;
    Some(About::Departure(rule.to_owned(), Some((Scope::parse(word)?, id.to_owned()))))
}

/// ` J1 washer at the nut, 2`: the joint that is being told of, else the longest side that fits.
fn bare_joint(text: &str, joint: Option<&str>) -> Option<About> {
    let told = joint.and_then(|between| {
        let rest = text.strip_prefix(between)?;
        of_joint(id_in(between)?, cut_number(rest).unwrap_or(rest))
    });
    told.or_else(|| {
        let plain = cut_number(text).unwrap_or(text);
        let sides = Side::ALL.iter().filter_map(|side| Some((id_in(plain.strip_suffix(side.word())?)?, *side)));
        let (joint, side) = sides.min_by_key(|(joint, _)| joint.len())?;
        Some(About::Joint(joint, side))
    })
}
