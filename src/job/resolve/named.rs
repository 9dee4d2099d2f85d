//! Follows the joints that a step names: its traveler's own by id, another's as `FUS-10/J2`, one hand's of it as
//! `WING-10/left/J2`.
//!
//! Where both travelers have hands, each hand works its own. Who works both hands says which, and two hands do not share
//! one set of holes.

use super::Resolving;
use super::names::{Names, dangling};
use crate::job::{Hand, Joint, JointRef, NamedJoint, Text};
use crate::report::{Finding, Place, Severity, fault};
use crate::text::Spanned;

impl Resolving<'_> {
    /// The joints that a step names; `all` are those of every traveler. One with a wrong hand is reported and followed all the
    /// same, so that nothing else looks forgotten.
    pub(super) fn follow_joints(
        &mut self,
        texts: &[Text],
        own: &Names,
        (all, place): (&[Vec<Joint>], &Place),
    ) -> Vec<NamedJoint> {
        let mut found = Vec::with_capacity(texts.len());
        for text in texts {
            if let Some(joint) = own.get(&text.value) {
                let joint = JointRef { traveler: self.traveler, joint };
                found.push(NamedJoint { joint, hand: None, span: text.span });
            } else if let Some((traveler, rest)) = text.value.split_once('/') {
                found.extend(self.others_joint(text, (traveler.trim(), rest.trim()), (all, place)));
            } else {
                self.dangling(text, "joint", own.known(), place.clone());
            }
        }
        found
    }

    /// A joint written with its traveler.
    fn others_joint(
        &mut self,
        text: &Text,
        (id, rest): (&str, &str),
        (all, place): (&[Vec<Joint>], &Place),
    ) -> Option<NamedJoint> {
        let named = |value: &str| Spanned { value: value.to_owned(), span: text.span };
        let Some(traveler) = self.whole.travelers.get(id).copied() else {
            let known = self.whole.travelers.keys().map(String::as_str);
            // Some joint of that name is meant, and looks forgotten.
            let missing = Some(("traveler or joint", text.value.clone()));
            self.push(Finding { missing, ..dangling(&named(id), "traveler", known) }, place.clone());
            return None;
        };
        let of = |name: &str| all[traveler].iter().position(|joint| joint.id.value == name);
        let (written, name) = match rest.split_once('/') {
            Some((hand, name)) if of(rest).is_none() => (Some(hand.trim()), name.trim()),
            _ => (None, rest),
        };
        let Some(joint) = of(name) else {
            if !self.could_not_be_read(traveler, name) {
                let known = all[traveler].iter().map(|joint| joint.id.value.as_str());
                let missing = Some(("joint", format!("{id}/{name}")));
                self.push(Finding { missing, ..dangling(&named(name), "joint", known) }, place.clone());
            }
            return None;
        };
        let (hand, fault) = self.hand_of(traveler, (id, name), written);
        if let Some((why, help)) = fault {
            let message = format!("`joints` names `{}`, and {why}", text.value);
            let finding = Finding::new(fault::VALUE_INVALID, Severity::Error, text.span, message);
            self.push(finding.help(help), place.clone());
        }
        Some(NamedJoint { joint: JointRef { traveler, joint }, hand, span: text.span })
    }

    /// Whether an entry of a joint is there and could not be read, which is reported at that entry.
    fn could_not_be_read(&self, traveler: usize, joint: &str) -> bool {
        let file = self.whole.heads[traveler].file;
        let is_it = |id: &Option<String>| id.as_ref().is_none_or(|id| id == joint);
        self.report.left_out.iter().any(|own| own.table == "joint" && own.span.file == file && is_it(&own.id))
    }

    /// The one hand that is meant, where it has to be said; what is wrong with it, and what to write.
    fn hand_of(
        &self,
        traveler: usize,
        (id, name): (&str, &str),
        written: Option<&str>,
    ) -> (Option<Hand>, Option<(String, String)>) {
        let theirs = &self.whole.heads[traveler].hands;
        let ours = &self.whole.heads[self.traveler].hands;
        let plain = format!("write `{id}/{name}`");
        let of_hands = || theirs.iter().map(|hand| format!("`{id}/{hand}/{name}`")).collect::<Vec<_>>().join(" or ");
        let none = |why: String, help: String| (None, Some((why, help)));
        if traveler == self.traveler {
            return none("it is a joint of this traveler".to_owned(), format!("write `{name}`"));
        }
        match (written, theirs.as_slice(), ours.as_slice()) {
            (None, [], [] | [_]) => (None, None),
            (None, [], _) => none(
                format!("{} would work one set of holes with each hand", self.id),
                "name it in a step of a traveler without hands".to_owned(),
            ),
            (Some(_), [], _) => none(format!("{id} has no hands"), plain),
            (None, _, []) => none(format!("{id} has hands"), format!("write {}, or name each", of_hands())),
            (None, _, _) => match ours.iter().find(|hand| !theirs.contains(hand)) {
                Some(hand) => none(format!("{id} has no {hand} hand"), "name it where that hand is built".to_owned()),
                None => (None, None),
            },
            (Some(_), _, [_, ..]) => none(format!("each hand of {} works its own", self.id), plain),
            (Some(word), _, []) => match Hand::parse(word).filter(|hand| theirs.contains(hand)) {
                Some(hand) => (Some(hand), None),
                None => none(format!("`{word}` is no hand of {id}"), format!("write {}", of_hands())),
            },
        }
    }
}
