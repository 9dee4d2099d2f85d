//! An independent validator of JSON Schema, as the tests ask it.

use std::path::PathBuf;

use boon::{Compiler, Draft, SchemaIndex, Schemas};
use serde_json::Value;

use crate::build::shop::root;

/// A schema that an independent library has accepted.
pub struct Schema {
    schemas: Schemas,
    index: SchemaIndex,
}

impl Schema {
    /// Compiles a schema; a schema that is itself not valid by its draft panics.
    pub fn new(schema: Value) -> Self {
        let (mut schemas, mut compiler) = (Schemas::new(), Compiler::new());
        compiler.set_default_draft(Draft::V2020_12);
        compiler.enable_format_assertions();
        let url = "https://schema.invalid/schema.json";
        compiler.add_resource(url, schema).unwrap();
        let index = compiler.compile(url, &mut schemas).unwrap_or_else(|fault| panic!("{fault:#}"));
        Self { schemas, index }
    }

    /// Why a value does not fit; nothing where it does.
    pub fn fault(&self, value: &Value) -> Option<String> {
        self.schemas.validate(value, self.index).err().map(|fault| format!("{fault:#}"))
    }
}

/// A TOML text as the JSON that an editor or a program would validate: dates become texts.
pub fn json_of_toml(text: &str) -> Value {
    fn value(toml: toml::Value) -> Value {
        match toml {
            toml::Value::String(text) => Value::String(text),
            toml::Value::Integer(number) => number.into(),
            toml::Value::Float(number) => number.into(),
            toml::Value::Boolean(flag) => flag.into(),
            toml::Value::Datetime(date) => Value::String(date.to_string()),
            toml::Value::Array(list) => list.into_iter().map(value).collect(),
            toml::Value::Table(table) => table.into_iter().map(|(key, inner)| (key, value(inner))).collect(),
        }
    }
    value(toml::from_str(text).unwrap())
}

/// Every TOML file below a folder.
pub fn toml_files(folder: &str) -> Vec<PathBuf> {
    let entries = walkdir::WalkDir::new(root().join(folder)).sort_by_file_name().into_iter().map(Result::unwrap);
    entries.map(walkdir::DirEntry::into_path).filter(|path| path.extension().is_some_and(|e| e == "toml")).collect()
}
