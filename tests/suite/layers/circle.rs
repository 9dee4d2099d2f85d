//! No two files of one folder need each other, directly or in a round, but where that is said and why.
//!
//! A file needs another where it names something that stands there, also by a name that a file above passes on. What a
//! file shares with the one above it (`room.rs` and `room/part.rs`) is no round: a folder's file is made of its parts.

use std::collections::{BTreeMap, BTreeSet};

use super::sources;

/// The rounds that stand: folder, the files in it, and why. Files that no longer go round leave the list.
const ROUNDS: &[(&str, &[&str], &str)] = &[
    ("cli", &["packet", "watch"], "watching is printing again and again"),
    ("figure/section", &["body", "bolt"], "two halves of one drawing"),
    (
        "render",
        &["markdown", "pdf", "picture", "template", "text", "world"],
        "a picture is tried out on a page, and a page has pictures",
    ),
];

/// A file as its names from the root: `plan`, `step`.
type Module = Vec<String>;

/// Every file with its text.
fn modules() -> BTreeMap<Module, String> {
    let name = |path: &std::path::Path| -> Module {
        path.with_extension("").iter().map(|part| part.to_string_lossy().into_owned()).collect()
    };
    let all = sources().into_iter().filter(|(path, _)| !["main.rs", "lib.rs"].iter().any(|top| path.ends_with(top)));
    all.map(|(path, text)| (name(&path), text)).collect()
}

/// The code without its comments.
fn code(text: &str) -> String {
    text.lines().filter(|line| !line.trim_start().starts_with("//")).collect::<Vec<_>>().join("\n")
}

/// The paths that a tree of imports names: `a::{b, c::d}` is `a::b` and `a::c::d`; what follows `as` is left out.
fn branches(tree: &str) -> Vec<Vec<String>> {
    let Some((stem, rest)) = tree.split_once('{') else {
        let path = tree.split(" as ").next().unwrap_or_default();
        return vec![path.split("::").map(|part| part.trim().to_owned()).filter(|part| !part.is_empty()).collect()];
    };
    let stem: Vec<String> =
        stem.split("::").map(|part| part.trim().to_owned()).filter(|part| !part.is_empty()).collect();
    let inner = super::outer_names(rest);
    let below = inner.iter().flat_map(|tree| branches(tree)).filter(|path| !path.is_empty());
    below.map(|path| stem.iter().cloned().chain(path).collect()).collect()
}

/// The imports of a file as paths from the root, with the name by which each is known here.
fn imports(module: &Module, code: &str, all: &BTreeMap<Module, String>) -> Vec<(String, Module)> {
    let mut found = Vec::new();
    for (at, _) in code.match_indices("use ").filter(|(at, _)| *at == 0 || code[..*at].ends_with(['\n', ' '])) {
        let tree = code[at + 4..].split(';').next().unwrap_or_default();
        for tree in branches(tree) {
            let path = rooted(module, &tree, all);
            found.extend(path.map(|path| (path.last().cloned().unwrap_or_default(), path)));
        }
    }
    found
}

/// The paths that begin with `crate` or `super` in a file's code, as paths from the root.
fn mentions(module: &Module, code: &str, all: &BTreeMap<Module, String>) -> Vec<Module> {
    let is_name = |c: char| c.is_alphanumeric() || c == '_' || c == ':';
    let begins = ["crate::", "super::"].into_iter().flat_map(|word| code.match_indices(word));
    let starts = begins.map(|(at, _)| at).filter(|at| !code[..*at].ends_with(is_name));
    let path = |at: usize| -> Vec<String> {
        let end = code[at..].find(|c| !is_name(c)).map_or(code.len(), |end| at + end);
        code[at..end].split("::").map(str::to_owned).filter(|part| !part.is_empty()).collect()
    };
    starts.filter_map(|at| rooted(module, &path(at), all)).collect()
}

/// A path as it is written in a file, from the root; nothing where it leads outside.
fn rooted(module: &Module, path: &[String], all: &BTreeMap<Module, String>) -> Option<Module> {
    let ups = path.iter().take_while(|part| *part == "super").count();
    let own = |part: &String| all.contains_key(&module.iter().chain([part]).cloned().collect::<Module>());
    let (base, rest) = match path.first()?.as_str() {
        "crate" => (&[][..], &path[1..]),
        "self" => (&module[..], &path[1..]),
        "super" => (module.get(..module.len().checked_sub(ups)?)?, &path[ups..]),
        _ if own(&path[0]) => (&module[..], path),
        _ => return None,
    };
    Some(base.iter().chain(rest).cloned().collect())
}

/// The file in which the thing at the end of a path stands, through the names that files pass on.
fn home(path: &[String], passed: &BTreeMap<Module, Vec<(String, Module)>>, depth: usize) -> Module {
    let mut at: Module = Vec::new();
    for (index, part) in path.iter().enumerate() {
        let deeper: Module = at.iter().chain([part]).cloned().collect();
        if passed.contains_key(&deeper) {
            at = deeper;
            continue;
        }
        let known = passed.get(&at).and_then(|names| names.iter().find(|(name, to)| name == part && *to != deeper));
        return match known {
            Some((_, to)) if depth < 9 => {
                let on: Module = to.iter().chain(&path[index + 1..]).cloned().collect();
                home(&on, passed, depth + 1)
            }
            _ => at,
        };
    }
    at
}

/// In each folder the files that need one another, each group sorted.
fn rounds(all: &BTreeMap<Module, String>) -> BTreeSet<(String, Vec<String>)> {
    let codes: BTreeMap<&Module, String> = all.iter().map(|(module, text)| (module, code(text))).collect();
    let passed: BTreeMap<Module, Vec<(String, Module)>> =
        codes.iter().map(|(module, code)| ((*module).clone(), imports(module, code, all))).collect();
    let mut needs: BTreeMap<Module, BTreeMap<String, BTreeSet<String>>> = BTreeMap::new();
    for (module, code) in &codes {
        let imported = passed[*module].iter().map(|(_, path)| path.clone());
        for path in imported.chain(mentions(module, code, all)) {
            let to = home(&path, &passed, 0);
            let shared = module.iter().zip(&to).take_while(|(one, other)| one == other).count();
            if let (Some(from), Some(to)) = (module.get(shared), to.get(shared)) {
                let folder = needs.entry(module[..shared].to_vec()).or_default();
                folder.entry(from.clone()).or_default().insert(to.clone());
            }
        }
    }
    let groups = |(folder, needs): (&Module, &BTreeMap<String, BTreeSet<String>>)| {
        let reached: BTreeMap<&String, BTreeSet<String>> =
            needs.keys().map(|from| (from, reach(from, needs))).collect();
        let round = |from: &&String| -> Vec<String> {
            let back = |to: &&String| reached.get(*to).is_some_and(|others| others.contains(*from));
            reached[*from].iter().filter(back).cloned().collect()
        };
        let name = folder.join("/");
        reached
            .keys()
            .map(round)
            .filter(|group| group.len() > 1)
            .map(move |group| (name.clone(), group))
            .collect::<Vec<_>>()
    };
    needs.iter().flat_map(groups).collect()
}

/// What a file needs, directly or through others.
fn reach(from: &str, needs: &BTreeMap<String, BTreeSet<String>>) -> BTreeSet<String> {
    let mut reached = BTreeSet::new();
    let mut open = vec![from.to_owned()];
    while let Some(at) = open.pop() {
        let new = needs.get(&at).into_iter().flatten().filter(|to| reached.insert((*to).clone())).cloned();
        open.extend(new.collect::<Vec<_>>());
    }
    reached
}

#[test]
fn no_files_of_a_folder_go_round_but_those_listed() {
    let found = rounds(&modules());
    let listed = |folder: &str, files: &[String]| {
        ROUNDS.iter().any(|(at, names, _)| *at == folder && files.iter().all(|file| names.contains(&file.as_str())))
    };
    let new: Vec<_> = found.iter().filter(|(folder, files)| !listed(folder, files)).collect();
    assert!(new.is_empty(), "these files go round; let one know less, or list them with the reason: {new:#?}");
    for (folder, names, _) in ROUNDS {
        let still: BTreeSet<&str> =
            found.iter().filter(|(at, _)| at == folder).flat_map(|(_, files)| files).map(String::as_str).collect();
        let gone: Vec<&&str> = names.iter().filter(|name| !still.contains(**name)).collect();
        assert!(gone.is_empty(), "src/{folder}: {gone:?} no longer go round: take them off the list");
    }
}

#[test]
fn a_round_is_seen_through_braces_names_passed_on_and_files_below() {
    let file = |name: &str, text: &str| (name.split('/').map(str::to_owned).collect::<Module>(), text.to_owned());
    let all: BTreeMap<Module, String> = [
        file("room", "mod one;\nmod two;\nmod three;\npub use two::{Two, Deep as Well};\nfn f(_: one::One) {}"),
        file("room/one", "use super::Two;\npub struct One;"),
        file("room/two", "mod deep;\npub use deep::Deep;\npub struct Two;"),
        file("room/two/deep", "pub fn deep() -> crate::room::one::One { todo!() }\npub struct Deep;"),
        file("room/three", "// use super::four::Four;\nuse crate::{other::Thing, room::{one::{self, One}, Two}};"),
        file("other", "pub struct Thing;"),
    ]
    .into();
    assert_eq!(rounds(&all), [("room".to_owned(), vec!["one".to_owned(), "two".to_owned()])].into());
}
