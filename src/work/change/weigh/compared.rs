//! What a changed comparison of two readings does to a signature: it is made again with what was read, where both stand
//! under the signature.

use super::{Verdict, Weighed, Weighing};
use crate::archive::ComparedFacts;

pub(super) fn weigh(own: &Weighing<'_, '_>, (id, label): (&str, &str), weighed: &mut Weighed) {
    let was: Vec<&ComparedFacts> = own.old.compared().filter(|(one, _)| *one == id).map(|(_, facts)| facts).collect();
    let is: Vec<&ComparedFacts> = own.new.compared().filter(|(one, _)| *one == id).map(|(_, facts)| facts).collect();
    if is.is_empty() && !was.is_empty() {
        weighed.take(Verdict::Stands, format!("{label}: no longer compared"));
    }
    for now in is.into_iter().filter(|now| !was.contains(now)) {
        let should = now.limits.words(None, &now.other);
        let wider = |before: &&ComparedFacts| before.other == now.other && before.limits.lies_in(&now.limits);
        let read = own.signature.reading(id).zip(own.signature.reading(&now.other));
        let (verdict, found) = match read.and_then(|(one, other)| now.limits.contain(one, other)) {
            _ if was.iter().any(wider) => (Verdict::Stands, "wider limits"),
            Some(true) => (Verdict::StandsByRecord, "what was read keeps to it"),
            Some(false) => (Verdict::LookAgain, "what was read does not keep to it"),
            None => (Verdict::LookAgain, "to be compared now"),
        };
        weighed.take(verdict, format!("{label}: {should}, {found}"));
    }
}
