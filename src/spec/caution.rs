//! The names of the built-in cautions, which a step's `cautions` may use.
//!
//! Only the names: what a caution says, and what fires it, is planned with the paper.

use std::sync::LazyLock;

use serde::Deserialize;

#[derive(Deserialize)]
struct List {
    caution: Vec<Entry>,
}

#[derive(Deserialize)]
struct Entry {
    id: String,
}

static IDS: LazyLock<Vec<String>> = LazyLock::new(|| {
    let list: List = toml::from_str(include_str!("../plan/cautions.toml")).expect("src/plan/cautions.toml is well formed");
    list.caution.into_iter().map(|entry| entry.id).collect()
});

/// Every name, in the order of the list.
#[must_use]
pub fn caution_ids() -> &'static [String] {
    &IDS
}
