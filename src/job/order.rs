//! The order of the whole build: every step of every traveler and hand as one graph.
//!
//! Links come from the order within a traveler, `after`, `needs`, and holes left open until a later step. It
//! says what comes before what, and which links form a circle; what follows from that is for the rules and the board.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use petgraph::Direction;
use petgraph::algo::tarjan_scc;
use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::{Dfs, EdgeRef, Reversed};

use super::{Hand, Job, StepRef};
use crate::text::Span;

/// One step of one hand: the unit in which work is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Item {
    /// The step.
    pub at: StepRef,
    /// The hand; absent for a one-off.
    pub hand: Option<Hand>,
}

/// Why one item comes before another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// The next step of the same traveler.
    Next,
    /// The traveler's `after`, at its place.
    After(Span),
    /// The step's `needs`, at its place.
    Needs(Span),
    /// It fills holes that were left open, at the place of `until`.
    Fills(Span),
}

/// One link of the order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Link {
    /// Comes first.
    pub from: Item,
    /// Comes later.
    pub to: Item,
    /// Why.
    pub why: Why,
}

/// The whole order.
#[derive(Debug, Clone)]
pub struct Order {
    graph: DiGraph<Item, Why>,
    nodes: BTreeMap<Item, NodeIndex>,
}

impl Order {
    /// The order of a job.
    #[must_use]
    pub fn of(job: &Job) -> Self {
        let mut order = Self { graph: DiGraph::new(), nodes: BTreeMap::new() };
        for (traveler, _) in job.travelers.iter().enumerate() {
            order.add_steps(job, traveler);
        }
        for (traveler, _) in job.travelers.iter().enumerate() {
            order.link_traveler(job, traveler);
        }
        order
    }

    fn add_steps(&mut self, job: &Job, traveler: usize) {
        for hand in job.hands_of(traveler) {
            let mut previous = None;
            for step in 0..job.travelers[traveler].steps.len() {
                let item = Item { at: StepRef { traveler, step }, hand };
                let node = self.graph.add_node(item);
                self.nodes.insert(item, node);
                if let Some(previous) = previous {
                    self.graph.add_edge(previous, node, Why::Next);
                }
                previous = Some(node);
            }
        }
    }

    fn link_traveler(&mut self, job: &Job, traveler: usize) {
        let own = &job.travelers[traveler];
        for after in &own.after {
            // A traveler without steps is finished from the start, and nothing waits in a traveler without steps.
            if let (Some(last), false) = (job.travelers[after.value].steps.len().checked_sub(1), own.steps.is_empty()) {
                let from = StepRef { traveler: after.value, step: last };
                self.link(job, from, StepRef { traveler, step: 0 }, Why::After(after.span));
            }
        }
        for (index, step) in own.steps.iter().enumerate() {
            let to = StepRef { traveler, step: index };
            for need in &step.needs {
                self.link(job, need.value, to, Why::Needs(need.span));
            }
        }
        for joint in &own.joints {
            if let Some(open) = &joint.leave_open
                && let (Some(until), Some(fastening)) = (open.until, joint.fastenings().next())
            {
                let from = StepRef { traveler, step: fastening.step };
                self.link(job, from, until, Why::Fills(open.until_written.span));
            }
        }
    }

    /// Links two steps hand by hand: the same hand where both have hands, every hand where only one has.
    fn link(&mut self, job: &Job, from: StepRef, to: StepRef, why: Why) {
        for before in job.hands_of(from.traveler) {
            for after in job.hands_of(to.traveler) {
                if before.is_none() || after.is_none() || before == after {
                    let ends = (self.nodes[&Item { at: from, hand: before }], self.nodes[&Item { at: to, hand: after }]);
                    self.graph.add_edge(ends.0, ends.1, why);
                }
            }
        }
    }

    /// Every item, traveler by traveler.
    pub fn items(&self) -> impl Iterator<Item = Item> {
        self.nodes.keys().copied()
    }

    /// Whether one item comes before another, directly or through others.
    #[must_use]
    pub fn precedes(&self, first: Item, later: Item) -> bool {
        first != later && self.all_after(first).contains(later)
    }

    /// Everything that comes after an item, however far; the item itself only where it stands in a circle.
    #[must_use]
    pub fn all_after(&self, item: Item) -> Reach<'_> {
        let mut reach = Reach { seen: vec![false; self.graph.node_count()], order: self };
        let mut walk = Dfs::empty(&self.graph);
        walk.stack.extend(self.graph.neighbors(self.nodes[&item]));
        while let Some(node) = walk.next(&self.graph) {
            reach.seen[node.index()] = true;
        }
        reach
    }

    /// How many items cannot start before this one is done.
    #[must_use]
    pub fn count_after(&self, item: Item) -> usize {
        let mut walk = Dfs::new(&self.graph, self.nodes[&item]);
        std::iter::from_fn(|| walk.next(&self.graph)).count() - 1
    }

    /// Everything that must be done before an item, however far back.
    #[must_use]
    pub fn all_before(&self, item: Item) -> Vec<Item> {
        let reversed = Reversed(&self.graph);
        let mut walk = Dfs::new(reversed, self.nodes[&item]);
        let mut items: Vec<Item> = std::iter::from_fn(|| walk.next(reversed)).map(|node| self.graph[node]).collect();
        items.retain(|other| *other != item);
        items.sort_unstable();
        items
    }

    /// The links that lead straight to an item.
    pub fn links_to(&self, item: Item) -> impl Iterator<Item = Link> {
        let edges = self.graph.edges_directed(self.nodes[&item], Direction::Incoming);
        edges.map(move |edge| Link { from: self.graph[edge.source()], to: item, why: *edge.weight() })
    }

    /// The links that lead straight away from an item.
    pub fn links_from(&self, item: Item) -> impl Iterator<Item = Link> {
        let edges = self.graph.edges_directed(self.nodes[&item], Direction::Outgoing);
        edges.map(move |edge| Link { from: item, to: self.graph[edge.target()], why: *edge.weight() })
    }

    /// One whole circle for every knot of items that wait for each other; empty where the order can be worked.
    #[must_use]
    pub fn circles(&self) -> Vec<Vec<Link>> {
        let knots = tarjan_scc(&self.graph).into_iter();
        let mut circles: Vec<Vec<Link>> = knots.filter_map(|knot| self.shortest_circle(&knot)).collect();
        circles.sort_by_key(|links| links.first().map(|link| link.from));
        circles
    }

    /// The shortest way from the knot's first item back to itself.
    fn shortest_circle(&self, knot: &[NodeIndex]) -> Option<Vec<Link>> {
        let start = *knot.iter().min_by_key(|node| self.graph[**node])?;
        let knot: BTreeSet<NodeIndex> = knot.iter().copied().collect();
        let mut came_by: BTreeMap<NodeIndex, (NodeIndex, Why)> = BTreeMap::new();
        let mut queue = VecDeque::from([start]);
        while let Some(node) = queue.pop_front() {
            for edge in self.graph.edges(node) {
                if knot.contains(&edge.target()) && !came_by.contains_key(&edge.target()) {
                    came_by.insert(edge.target(), (node, *edge.weight()));
                    queue.push_back(edge.target());
                }
            }
        }
        let mut links = Vec::new();
        let mut at = start;
        loop {
            let (from, why) = *came_by.get(&at)?;
            links.push(Link { from: self.graph[from], to: self.graph[at], why });
            at = from;
            if at == start {
                links.reverse();
                return Some(links);
            }
        }
    }
}

/// The items that come after one item.
#[derive(Debug, Clone)]
pub struct Reach<'a> {
    seen: Vec<bool>,
    order: &'a Order,
}

impl Reach<'_> {
    /// Whether an item is among them.
    #[must_use]
    pub fn contains(&self, item: Item) -> bool {
        self.order.nodes.get(&item).is_some_and(|node| self.seen[node.index()])
    }
}
