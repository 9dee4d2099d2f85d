//! Writes the data page, and finds what documents hold that it does not describe.

use std::collections::BTreeMap;
use std::fmt::Write;

use serde_json::Value;

use super::read::is_for_programs;
use super::structures::{Field, Structures};

/// A template and what it is given.
pub struct Root {
    pub template: &'static str,
    pub about: &'static str,
    pub structure: &'static str,
    pub name: Option<&'static str>,
}

/// Given beside the structure: template (none: all), name, form, what it is.
const BESIDE: &[(&[&str], &str, &str, &str)] = &[(
    &["packet.typ.j2"],
    "codes",
    "list of lists of numbers",
    "The machine-readable code of each page, as rectangles in modules.",
)];

const PREFACE: &str = "\
# What templates are given

This page is made from the descriptions in `src/plan/`, `src/work/` and `src/figure/` by a test, which fails when it is stale or when a document of the
demo holds something that does not stand here.

A file in the project's `templates/` takes the place of the built-in one of the same name. Files that end in `.j2` are
filled in: `{{ head.title }}` enters Typst as a literal of the value's form, whatever the text holds; a name that does not
exist is a failure with file, line and place. `{{ step.text | markdown }}` gives a text of the builder as Typst content,
with its values and pictures. Files that end in `.typ` are Typst libraries; they are not filled in and get their values as
arguments. A template decides the order, the headings and the looks of a page; what is said of the work was decided
before. Typst sees no file system, no package and no clock. Boxes are drawn with `fill-box` of `base.typ` only, so that
their places can be read from the layout.

Every template also sees `document`, all of its data in one value, and `values`, what `{{ }}` in the builder's own texts
may name. Pages made with a template of your own carry `own-mark` of `base.typ` in their foot: *Own templates* and a
digest of the whole set, the one that an issue records in the archive. A page without it is a failure.
`demo-data/override` is a project with such a template. `step.typ.j2` is included once for each step, with `step` and its
`step_figures`.

In the tables, a list is written `name[]`. Examples are from the demo. A line that ends in a star is read by no built-in
template: it is there for programs, which get the same data by `--format json`, and for templates of your own.
";

/// The page, and the paths of documents that it does not describe.
pub fn data_page(
    structures: &Structures,
    roots: &[Root],
    documents: &BTreeMap<&'static str, Vec<Value>>,
) -> (String, Vec<String>) {
    let mut page = Page { structures, text: PREFACE.to_owned(), told: BTreeMap::new(), absent: Vec::new() };
    for root in roots {
        let _ = write!(page.text, "\n## `{}`\n\n{}\n", root.template, root.about);
        let data: Vec<&Value> = documents.get(root.template).map(|all| all.iter().collect()).unwrap_or_default();
        assert!(!data.is_empty(), "the demo has no document of {}", root.template);
        let beside: Vec<_> = BESIDE.iter().filter(|(templates, ..)| templates.contains(&root.template)).collect();
        page.text.push_str("\n| name | form | | |\n|---|---|---|---|\n");
        for (_, name, form, about) in &beside {
            let _ = writeln!(page.text, "| `{name}` | {form} | | {about} |");
        }
        let mut known: Vec<&str> = beside.iter().map(|(_, name, ..)| *name).collect();
        let inner = if let Some(name) = root.name {
            let about = &structures.find(root.structure).unwrap().about;
            let _ = writeln!(page.text, "| `{name}` | `{}` | | {about} |", root.structure);
            known.push(name);
            data.iter().filter_map(|data| data.get(name)).collect()
        } else {
            data.clone()
        };
        let fields = structures.fields(root.structure);
        if root.name.is_none() {
            known.extend(fields.iter().map(|field| field.name.as_str()));
        }
        page.look_for_more(root.template, "", &data, &known);
        page.structure(root.template, root.name.unwrap_or_default(), root.structure, &inner);
    }
    (page.text, page.absent)
}

struct Page<'a> {
    structures: &'a Structures,
    text: String,
    /// Structures that stand on the page already, with where.
    told: BTreeMap<String, String>,
    absent: Vec<String>,
}

impl Page<'_> {
    /// A structure's table, then those of the structures inside it.
    fn structure(&mut self, template: &str, path: &str, name: &str, data: &[&Value]) {
        let fields = self.structures.fields(name);
        let known: Vec<&str> = fields.iter().map(|field| field.name.as_str()).collect();
        // At the top stand other things beside the structure's own.
        if !path.is_empty() {
            self.look_for_more(template, path, data, &known);
        }
        let first = !self.told.contains_key(name);
        if first {
            let shown = if path.is_empty() { "by name".to_owned() } else { format!("`{path}`") };
            self.told.insert(name.to_owned(), format!("{template} {path}"));
            let about = self.structures.find(name).map(|one| one.about.clone()).unwrap_or_default();
            let _ = write!(
                self.text,
                "\n### {name}: {shown}\n\n{about}\n\n| name | form | for example | |\n|---|---|---|---|\n"
            );
            for field in &fields {
                let values = held(data, &field.name);
                let _ = writeln!(
                    self.text,
                    "| `{}{}` | {} | {} | {}{} |",
                    field.name,
                    if field.form.contains("Vec<") { "[]" } else { "" },
                    self.form(&field.form),
                    example(&values),
                    field.about.replace('|', "\\|"),
                    if is_for_programs(name, &field.name) { " *" } else { "" }
                );
            }
        }
        for field in &fields {
            self.inside(template, path, field, data);
        }
    }

    fn inside(&mut self, template: &str, path: &str, field: &Field, data: &[&Value]) {
        let name = plain(&field.form);
        if self.structures.find(name).is_none_or(|one| one.fields.is_empty()) {
            return;
        }
        let dot = if path.is_empty() { "" } else { "." };
        let list = if field.form.contains("Vec<") { "[]" } else { "" };
        let values: Vec<&Value> = held(data, &field.name).into_iter().flat_map(entries).collect();
        self.structure(template, &format!("{path}{dot}{}{list}", field.name), name, &values);
    }

    /// Keys of the data that no field describes.
    fn look_for_more(&mut self, template: &str, path: &str, data: &[&Value], known: &[&str]) {
        let dot = if path.is_empty() { "" } else { "." };
        for value in data.iter().filter_map(|value| value.as_object()) {
            for key in value.keys().filter(|key| !known.contains(&key.as_str())) {
                let line = format!("{template}: {path}{dot}{key}");
                if !self.absent.contains(&line) {
                    self.absent.push(line);
                }
            }
        }
    }

    /// A form in a builder's words.
    fn form(&self, form: &str) -> String {
        if let Some(inner) = form.strip_prefix("Option<") {
            return format!("{}, or none", self.form(&inner[..inner.len() - 1]));
        }
        if let Some(inner) = form.strip_prefix("Vec<") {
            return format!("list of {}", self.form(&inner[..inner.len() - 1]));
        }
        if let Some(inner) = form.strip_prefix('(').and_then(|inner| inner.strip_suffix(')')) {
            return format!(
                "list of {}",
                inner.split(", ").map(|one| self.form(one)).collect::<Vec<_>>().join(" and ")
            );
        }
        if let Some(inner) = form.strip_prefix('[').and_then(|inner| inner.strip_suffix(']')) {
            let (inner, count) = inner.split_once("; ").unwrap();
            return format!("list of {count}: {}", self.form(inner));
        }
        match form {
            "String" | "&'static str" => "text".to_owned(),
            "bool" => "true or false".to_owned(),
            "usize" | "u8" | "u32" | "u64" | "i64" => "number".to_owned(),
            other => match self.structures.find(other) {
                Some(one)
                    if one.fields.is_empty()
                        && !one.words.is_empty()
                        && one.words.iter().all(|word| !word.contains(['(', '{'])) =>
                {
                    one.words.iter().map(|word| format!("`{word}`")).collect::<Vec<_>>().join(" ")
                }
                Some(_) => format!("`{other}`"),
                None => "text".to_owned(),
            },
        }
    }
}

/// The structure inside options and lists.
pub fn plain(form: &str) -> &str {
    let inner =
        form.strip_prefix("Option<").or_else(|| form.strip_prefix("Vec<")).and_then(|inner| inner.strip_suffix('>'));
    inner.map_or(form, plain)
}

/// What a field holds in each of the values.
fn held<'v>(data: &[&'v Value], name: &str) -> Vec<&'v Value> {
    data.iter().filter_map(|value| value.get(name)).collect()
}

/// The entries of a list, else the value itself.
fn entries(value: &Value) -> Vec<&Value> {
    match value {
        Value::Array(all) => all.iter().flat_map(entries).collect(),
        other => vec![other],
    }
}

/// The first short text or number among some values.
fn example(values: &[&Value]) -> String {
    let shown = values.iter().flat_map(|value| entries(value)).find_map(|value| match value {
        Value::String(text) if !text.is_empty() && text.chars().count() <= 40 && !text.contains('\n') => {
            Some(text.clone())
        }
        Value::Number(number) => Some(number.to_string()),
        Value::Bool(true) => Some("true".to_owned()),
        _ => None,
    });
    shown.map_or_else(String::new, |text| format!("`{}`", text.replace('|', "\\|")))
}
