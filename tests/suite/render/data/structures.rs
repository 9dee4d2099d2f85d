//! The planned structures as their source describes them: fields in order, with form and description.
//!
//! It reads the one style in which these files are written and panics at what it does not know.

use std::collections::BTreeMap;

use crate::build::shop::root;

/// One field of a structure.
#[derive(Debug, Clone)]
pub struct Field {
    /// Name as templates see it.
    pub name: String,
    /// Rust's name of its form.
    pub form: String,
    /// What it is.
    pub about: String,
}

/// A structure, or a list of words.
#[derive(Debug, Clone, Default)]
pub struct Structure {
    /// What it is.
    pub about: String,
    /// Its fields; none in a list of words.
    pub fields: Vec<Field>,
    /// The words of an enumeration without fields.
    pub words: Vec<String>,
}

/// Every structure of the plan by name.
pub struct Structures(BTreeMap<String, Structure>);

impl Structures {
    /// Reads `src/plan`, and `src/work` and `src/figure`, whose structures stand in documents too.
    pub fn read() -> Self {
        let mut all = BTreeMap::new();
        let folder = root().join("src");
        for name in ["plan.rs", "plan", "work.rs", "work", "figure.rs", "figure"] {
            for entry in walkdir::WalkDir::new(folder.join(name)).sort_by_file_name() {
                let entry = entry.unwrap();
                if entry.path().extension().is_some_and(|end| end == "rs") {
                    read_file(&std::fs::read_to_string(entry.path()).unwrap(), &mut all);
                }
            }
        }
        Self(all)
    }

    /// The structure of a name.
    pub fn find(&self, name: &str) -> Option<&Structure> {
        self.0.get(name)
    }

    /// The fields that templates see: those of a flattened structure stand in its place.
    pub fn fields(&self, name: &str) -> Vec<Field> {
        let structure = self.find(name).unwrap_or_else(|| panic!("no structure `{name}` in src/plan"));
        let flat = |field: &Field| {
            if field.name.is_empty() { self.fields(&field.form) } else { vec![field.clone()] }
        };
        structure.fields.iter().flat_map(flat).collect()
    }
}

fn read_file(text: &str, all: &mut BTreeMap<String, Structure>) {
    let (mut about, mut attributes) = (Vec::new(), String::new());
    let mut open: Option<(String, Structure, bool)> = None;
    for line in text.lines() {
        let trimmed = line.trim();
        if let Some(words) = trimmed.strip_prefix("/// ") {
            about.push(words.to_owned());
            continue;
        }
        if trimmed.starts_with("#[") {
            attributes.push_str(trimmed);
            continue;
        }
        let said = std::mem::take(&mut about).join(" ");
        let marks = std::mem::take(&mut attributes);
        if let Some(head) = opened(line) {
            let serialises = marks.contains("Serialize");
            open = serialises
                .then(|| (head, Structure { about: said, ..Structure::default() }, marks.contains("kebab-case")));
        } else if line == "}" {
            if let Some((name, structure, _)) = open.take() {
                all.entry(name).or_insert(structure);
            }
        } else if let Some((_, structure, kebab)) = &mut open {
            read_line(line, &said, &marks, *kebab, structure);
        }
    }
}

/// The name of a structure or enumeration that a line begins.
fn opened(line: &str) -> Option<String> {
    let rest = line.strip_prefix("pub struct ").or_else(|| line.strip_prefix("pub enum "))?;
    rest.ends_with('{').then(|| rest.split(['<', ' ']).next().unwrap_or_default().to_owned())
}

fn read_line(line: &str, said: &str, marks: &str, kebab: bool, structure: &mut Structure) {
    let dashed = |name: &str| if kebab { name.replace('_', "-") } else { name.to_owned() };
    if let Some((name, form)) = line.strip_prefix("    pub ").and_then(|rest| rest.split_once(": ")) {
        if marks.contains("serde(skip)") {
            return;
        }
        let name = if marks.contains("flatten") { String::new() } else { dashed(name) };
        let form = if marks.contains("serialize_with") { "String" } else { form.trim_end_matches(',') };
        structure.fields.push(Field { name, form: form.to_owned(), about: said.to_owned() });
    } else if let Some(word) =
        line.strip_prefix("    ").and_then(|rest| rest.strip_suffix(',')).filter(|word| !word.starts_with(' '))
    {
        let word: String = word.chars().enumerate().fold(String::new(), |mut word, (at, c)| {
            if c.is_uppercase() && at > 0 && kebab {
                word.push('-');
            }
            word.extend(if kebab { c.to_lowercase().collect::<Vec<_>>() } else { vec![c] });
            word
        });
        structure.words.push(word);
    }
}
