//! Circles: items that wait for each other.
//!
//! One circle is shown for every knot of items; the others of the knot show once that one is undone.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use petgraph::algo::kosaraju_scc;
use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::EdgeRef;

use super::{Item, Link, Order, Why};

impl Order {
    /// One whole circle for every knot of items that wait for each other; empty where the order can be worked.
    #[must_use]
    pub fn circles(&self) -> Vec<Vec<Link>> {
        let graph = self.graph();
        // This algorithm keeps its own stack: a chain of a hundred thousand steps does not exhaust the thread's.
        let knots = kosaraju_scc(&graph).into_iter();
        let mut circles: Vec<Vec<Link>> = knots.filter_map(|knot| shortest_circle(&graph, &knot)).collect();
        circles.sort_by_key(|links| links.first().map(|link| link.from));
        circles
    }

    fn graph(&self) -> DiGraph<Item, Why> {
        let mut graph = DiGraph::new();
        let nodes: BTreeMap<Item, NodeIndex> = self.items().map(|item| (item, graph.add_node(item))).collect();
        for item in self.items() {
            for link in self.links_from(item) {
                graph.add_edge(nodes[&link.from], nodes[&link.to], link.why);
            }
        }
        graph
    }
}

/// The shortest way from the knot's first item back to itself.
fn shortest_circle(graph: &DiGraph<Item, Why>, knot: &[NodeIndex]) -> Option<Vec<Link>> {
    let start = *knot.iter().min_by_key(|node| graph[**node])?;
    let knot: BTreeSet<NodeIndex> = knot.iter().copied().collect();
    let mut came_by: BTreeMap<NodeIndex, (NodeIndex, Why)> = BTreeMap::new();
    let mut queue = VecDeque::from([start]);
    while let Some(node) = queue.pop_front() {
        for edge in graph.edges(node) {
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
        links.push(Link { from: graph[from], to: graph[at], why });
        at = from;
        if at == start {
            links.reverse();
            return Some(links);
        }
    }
}
