//! Specs as short text: the tables that most small builds have, each as a builder would write it.

/// A project that names its aircraft and nothing else.
pub const DUNLIN: &str = "[aircraft]\nname = \"Dunlin\"\n";

/// The head of a traveler, with further keys.
pub fn traveler(id: &str, keys: &str) -> String {
    format!("[traveler]\nid = \"{id}\"\ntitle = \"t\"\nrevision = \"A\"\n{keys}\n")
}

/// A part of 2024-T3.
pub fn part(id: &str, name: &str, thickness: &str) -> String {
    format!("[[part]]\nid = \"{id}\"\nname = \"{name}\"\nmaterial = \"2024-T3\"\nthickness = \"{thickness}\"\n")
}

/// A skin of .032, P1, and a rib of .040, P2.
pub fn skin_and_rib() -> String {
    part("P1", "Skin", "0.032") + &part("P2", "Rib", "0.040")
}

/// A joint through these parts; `keys` are its fastener, count and so on.
pub fn joint(id: &str, stack: &[&str], keys: &str) -> String {
    format!("[[joint]]\nid = \"{id}\"\nstack = {stack:?}\n{keys}\n")
}

/// A step with further keys, its title its id.
pub fn step(id: &str, kind: &str, keys: &str) -> String {
    format!("[[step]]\nid = \"{id}\"\ntitle = \"{id}\"\ndo = \"{kind}\"\n{keys}\n")
}

/// Steps whose keys are written out, each begun by the same ones.
pub fn written_steps(first: &str, steps: &[&str]) -> String {
    steps.iter().fold(String::new(), |text, step| text + "[[step]]\n" + first + step + "\n")
}

/// Steps of these kinds on one joint, each with its kind as id.
pub fn steps_on(joint: &str, kinds: &[&str]) -> String {
    let joints = format!("joints = [\"{joint}\"]");
    kinds.iter().map(|kind| step(kind, kind, &joints)).collect()
}
