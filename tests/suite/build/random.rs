//! Random builds as a model that is written out as specs, so that tests know the answer without asking the code under test.

use std::fmt::Write;

use proptest::collection::vec;
use proptest::option::weighted;
use proptest::prelude::*;
use shophead::job::{Hand, Item, StepRef};

pub const SPACES: usize = 3;
pub const PARTS: usize = 4;

/// A build: travelers, and which spaces have a space a hand.
#[derive(Debug, Clone)]
pub struct Build {
    pub travelers: Vec<TravelerModel>,
    pub handed: Vec<bool>,
}

#[derive(Debug, Clone)]
pub struct TravelerModel {
    pub two_hands: bool,
    pub after: Vec<usize>,
    pub steps: Vec<StepModel>,
}

#[derive(Debug, Clone, Default)]
pub struct StepModel {
    pub spaces: Vec<usize>,
    pub closes: Vec<usize>,
    pub opens: Vec<usize>,
    pub needs: Vec<(usize, usize)>,
    pub parts: Vec<usize>,
    pub cure_hours: Option<u32>,
}

fn step() -> impl Strategy<Value = StepModel> {
    let space = || weighted(0.45, 0..SPACES);
    (
        space(),
        weighted(0.12, 0..SPACES),
        weighted(0.06, 0..SPACES),
        vec((0..4_usize, 0..6_usize), 0..2),
        vec(0..PARTS, 0..2),
        weighted(0.2, 1..48_u32),
    )
        .prop_map(|(space, closes, opens, needs, parts, cure_hours)| StepModel {
            spaces: space.into_iter().collect(),
            closes: closes.into_iter().collect(),
            opens: opens.into_iter().collect(),
            needs,
            parts,
            cure_hours,
        })
}

fn traveler() -> impl Strategy<Value = TravelerModel> {
    (any::<bool>(), vec(0..4_usize, 0..2), vec(step(), 1..6)).prop_map(|(two_hands, after, steps)| TravelerModel {
        two_hands,
        after,
        steps,
    })
}

/// Random builds; `needs` that lead nowhere are dropped, and most of those that run backwards are turned round.
pub fn builds() -> impl Strategy<Value = Build> {
    (vec(traveler(), 1..5), vec(any::<bool>(), SPACES), 0..10_u8).prop_map(|(mut travelers, handed, wild)| {
        let steps: Vec<usize> = travelers.iter().map(|traveler| traveler.steps.len()).collect();
        for (index, traveler) in travelers.iter_mut().enumerate() {
            // In most builds later travelers stand on earlier ones; in the wild ones circles come up.
            let forward = |other: usize| other < index || wild == 0;
            traveler.after.retain(|other| *other < steps.len() && *other != index && forward(*other));
            for step in &mut traveler.steps {
                step.needs.retain(|(other, number)| *other < steps.len() && *number < steps[*other] && forward(*other));
            }
        }
        Build { travelers, handed }
    })
}

impl Build {
    pub fn project(&self) -> String {
        let mut text = String::from("[aircraft]\nname = \"Dunlin\"\n");
        for (space, handed) in self.handed.iter().enumerate() {
            let hands = if *handed { "hands = [\"left\", \"right\"]\n" } else { "" };
            let _ = write!(text, "[[space]]\nid = \"z{space}\"\nname = \"Space {space}\"\n{hands}");
        }
        text
    }

    pub fn specs(&self) -> Vec<String> {
        (0..self.travelers.len()).map(|index| self.spec(index)).collect()
    }

    fn spec(&self, index: usize) -> String {
        let own = &self.travelers[index];
        let mut text = format!("[traveler]\nid = \"T{index}\"\ntitle = \"t\"\nrevision = \"A\"\n");
        if own.two_hands {
            text.push_str("hands = [\"left\", \"right\"]\n");
        }
        let _ = writeln!(text, "after = {:?}", own.after.iter().map(|other| format!("T{other}")).collect::<Vec<_>>());
        for part in 0..PARTS {
            let _ = write!(text, "[[part]]\nid = \"P{part}\"\nname = \"p\"\n");
        }
        for (number, step) in own.steps.iter().enumerate() {
            let spaces =
                |spaces: &[usize]| format!("{:?}", spaces.iter().map(|space| format!("z{space}")).collect::<Vec<_>>());
            let needs: Vec<String> = step.needs.iter().map(|(other, number)| format!("T{other}/s{number}")).collect();
            let parts: Vec<String> = self.parts_of(index, number).iter().map(|part| format!("P{part}")).collect();
            let (closes, opens) = (spaces(&step.closes), spaces(&step.opens));
            let _ = write!(
                text,
                "[[step]]\nid = \"s{number}\"\ntitle = \"t\"\ndo = \"fit\"\nminutes = 10\nspaces = {}\ncloses = {closes}\nopens = {opens}\nneeds = {needs:?}\nparts = {parts:?}\n",
                spaces(&step.spaces)
            );
            if let Some(hours) = step.cure_hours {
                let _ = writeln!(text, "cure = \"{hours} h\"");
            }
        }
        text
    }

    /// Every step names a part, so that no step stands for its whole traveler: that is tested by itself.
    pub fn parts_of(&self, traveler: usize, step: usize) -> Vec<usize> {
        let named = &self.travelers[traveler].steps[step].parts;
        if named.is_empty() { vec![(traveler + step) % PARTS] } else { named.clone() }
    }

    pub fn hands(&self, traveler: usize) -> Vec<Option<Hand>> {
        if self.travelers[traveler].two_hands { vec![Some(Hand::Left), Some(Hand::Right)] } else { vec![None] }
    }

    pub fn items(&self) -> Vec<Item> {
        let mut items = Vec::new();
        for traveler in 0..self.travelers.len() {
            for hand in self.hands(traveler) {
                items.extend(
                    (0..self.travelers[traveler].steps.len()).map(|step| Item { at: StepRef { traveler, step }, hand }),
                );
            }
        }
        items
    }

    pub fn step(&self, item: Item) -> &StepModel {
        &self.travelers[item.at.traveler].steps[item.at.step]
    }

    /// Whether the model links one item straight to another.
    fn links(&self, from: Item, to: Item) -> bool {
        let own = &self.travelers[to.at.traveler];
        // A step that says for which steps of its traveler it waits, waits for those alone.
        let is_free = self.step(to).needs.iter().any(|(traveler, _)| *traveler == to.at.traveler);
        let same = from.at.traveler == to.at.traveler && from.hand == to.hand;
        let follows = same && !is_free && from.at.step < to.at.step;
        let after = own.after.contains(&from.at.traveler);
        let needs = self.step(to).needs.contains(&(from.at.traveler, from.at.step));
        follows || (facing(from.hand, to.hand) && (after || needs))
    }

    /// For each pair of items whether the first comes before the second, by trying every way.
    pub fn closure(&self) -> (Vec<Item>, Vec<Vec<bool>>) {
        let items = self.items();
        let mut before: Vec<Vec<bool>> =
            items.iter().map(|from| items.iter().map(|to| self.links(*from, *to)).collect()).collect();
        for through in 0..items.len() {
            for from in 0..items.len() {
                if before[from][through] {
                    let further = before[through].clone();
                    before[from].iter_mut().zip(further).for_each(|(known, more)| *known |= more);
                }
            }
        }
        (items, before)
    }

    /// The spaces of some spaces for an item: space and hand.
    pub fn spaces(&self, spaces: &[usize], item: Item) -> Vec<(usize, Option<Hand>)> {
        let both = [Some(Hand::Left), Some(Hand::Right)];
        let of = |space: usize| match (self.handed[space], item.hand) {
            (false, _) => vec![(space, None)],
            (true, Some(hand)) => vec![(space, Some(hand))],
            (true, None) => both.iter().map(|hand| (space, *hand)).collect(),
        };
        spaces.iter().flat_map(|space| of(*space)).collect()
    }
}

/// Whether two hands can mean the same thing.
pub fn facing(one: Option<Hand>, other: Option<Hand>) -> bool {
    one.is_none() || other.is_none() || one == other
}
