//! A list of cells, as a kit's packing list or a shop's shelf list comes, made into entries of the project file.
//!
//! Columns are found by the names that such lists give them. A row that cannot be read is named by its line and left
//! out; what a cell says is never guessed.

use std::collections::BTreeMap;

use super::quoted;

/// What a list becomes.
#[derive(Debug, Clone, Copy)]
pub struct ListKind {
    /// The table of the project file.
    pub table: &'static str,
    /// Its keys; the first names the entry.
    pub columns: &'static [Column],
}

/// A key of an entry, and the column that it is taken from.
#[derive(Debug, Clone, Copy)]
pub struct Column {
    /// The key in the project file, which is the option of the command line too.
    pub key: &'static str,
    /// Headings that lists give it, in small letters and digits alone.
    headings: &'static [&'static str],
    /// Whether there is no entry without it.
    pub required: bool,
    cell: Cell,
}

/// What a cell of a column holds.
#[derive(Debug, Clone, Copy)]
enum Cell {
    Text,
    Count,
}

/// A shelf list: what lies there, and how many pieces.
pub const STOCK: ListKind = ListKind {
    table: "stock",
    columns: &[
        Column {
            key: "item",
            headings: &["item", "partnumber", "partno", "part", "pn", "call", "number", "designation"],
            required: true,
            cell: Cell::Text,
        },
        Column {
            key: "on-hand",
            headings: &["onhand", "quantity", "qty", "count", "pieces", "pcs", "stock", "instock"],
            required: true,
            cell: Cell::Count,
        },
    ],
};

/// A kit's packing list: which parts there are. How many came is a matter of the shelf.
pub const PARTS: ListKind = ListKind {
    table: "part",
    columns: &[
        Column {
            key: "id",
            headings: &["partnumber", "partno", "partid", "pn", "part", "id", "item", "number", "no"],
            required: true,
            cell: Cell::Text,
        },
        Column {
            key: "name",
            headings: &["name", "partname", "description", "title", "designation", "nomenclature"],
            required: true,
            cell: Cell::Text,
        },
        Column {
            key: "material",
            headings: &["material", "alloy", "materialandtemper", "alloyandtemper", "matl"],
            required: false,
            cell: Cell::Text,
        },
        Column {
            key: "thickness",
            headings: &["thickness", "sheetthickness", "gauge", "gage", "thk"],
            required: false,
            cell: Cell::Text,
        },
    ],
};

/// The cells of a list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// What stands over the columns.
    pub headings: Vec<String>,
    rows: Vec<Row>,
}

#[derive(Debug, Clone, PartialEq, Eq)]
struct Row {
    line: u64,
    cells: Vec<String>,
}

/// A row that becomes an entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// The line of the list, from 1.
    pub line: u64,
    /// What names it: its first key's value.
    pub name: String,
    /// Keys and their values as TOML.
    keys: Vec<(&'static str, String)>,
}

/// A row that was left out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OddRow {
    /// The line of the list, from 1.
    pub line: u64,
    /// Why.
    pub why: String,
}

/// What a list holds.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Listed {
    /// Entries in the list's order.
    pub entries: Vec<Entry>,
    /// Rows that were left out.
    pub odd: Vec<OddRow>,
}

impl Entry {
    /// The entry as the project file holds it.
    #[must_use]
    pub fn text(&self, kind: &ListKind) -> String {
        let keys: Vec<String> = self.keys.iter().map(|(key, value)| format!("{key} = {value}")).collect();
        format!("[[{}]]\n{}\n", kind.table, keys.join("\n"))
    }
}

impl Listed {
    /// Leaves out every entry that something speaks against.
    pub fn leave_out(&mut self, why: impl Fn(&Entry) -> Option<String>) {
        let judged = std::mem::take(&mut self.entries);
        for entry in judged {
            match why(&entry) {
                None => self.entries.push(entry),
                Some(why) => self.odd.push(OddRow { line: entry.line, why }),
            }
        }
        self.odd.sort_by_key(|odd| odd.line);
    }

    /// The entries as the project file holds them.
    #[must_use]
    pub fn text(&self, kind: &ListKind) -> String {
        self.entries.iter().map(|entry| entry.text(kind)).collect::<Vec<_>>().join("\n")
    }
}

/// Reads a list: cells between commas, semicolons or tabs, whichever its first line has most of; headings stand in the
/// first line.
///
/// # Errors
/// A sentence with the line where the text is no such list.
pub fn read_table(text: &str) -> Result<Table, String> {
    let text = text.trim_start_matches('\u{feff}');
    let first = text.lines().next().filter(|line| !line.trim().is_empty());
    let first = first.ok_or("the first line is empty: the names of the columns stand there")?;
    let often = |mark: u8| first.bytes().filter(|byte| *byte == mark).count();
    let mark = [b',', b';', b'\t'].into_iter().rev().max_by_key(|mark| often(*mark)).unwrap_or(b',');
    let mut reader =
        csv::ReaderBuilder::new().delimiter(mark).trim(csv::Trim::All).flexible(true).from_reader(text.as_bytes());
    let headings = reader.headers().map_err(|fault| fault.to_string())?.iter().map(str::to_owned).collect();
    let mut rows = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|fault| fault.to_string())?;
        let line = first_line(text, record.position());
        let cells: Vec<String> = record.iter().map(str::to_owned).collect();
        if cells.iter().any(|cell| !cell.is_empty()) {
            rows.push(Row { line, cells });
        }
    }
    Ok(Table { headings, rows })
}

/// The line on which a record begins; its place is where the one before ended, and empty lines stand between.
fn first_line(text: &str, place: Option<&csv::Position>) -> u64 {
    // A record that was read has its place, and that lies in the text.
    let Some(place) = place else { return 0 };
    let Some(rest) = usize::try_from(place.byte()).ok().and_then(|byte| text.get(byte..)) else { return place.line() };
    let (empty, _) = rest.split_at(rest.len() - rest.trim_start_matches(['\n', '\r']).len());
    place.line() + empty.matches('\n').count() as u64
}

impl Table {
    /// The column of a heading, however it is written: `Part No.` is `part no`.
    #[must_use]
    pub fn column(&self, heading: &str) -> Option<usize> {
        self.headings.iter().position(|own| plain(own) == plain(heading))
    }

    /// The column that a key is taken from by the names that lists give it; the first of those names that is there.
    #[must_use]
    pub fn column_of(&self, key: &Column) -> Option<usize> {
        key.headings.iter().find_map(|heading| self.column(heading))
    }

    /// The rows as entries; `columns` gives the column of each key of the kind, where there is one.
    #[must_use]
    pub fn entries(&self, kind: &ListKind, columns: &[Option<usize>]) -> Listed {
        let mut listed = Listed::default();
        let mut seen: BTreeMap<String, u64> = BTreeMap::new();
        for row in &self.rows {
            let entry = entry(row, kind, columns).and_then(|entry| match seen.get(&entry.name) {
                Some(line) => Err(format!("{} stands in line {line} already: one line an item", entry.name)),
                None => Ok(entry),
            });
            match entry {
                Err(why) => listed.odd.push(OddRow { line: row.line, why }),
                Ok(entry) => {
                    seen.insert(entry.name.clone(), row.line);
                    listed.entries.push(entry);
                }
            }
        }
        listed
    }
}

/// Small letters and digits of a heading.
fn plain(heading: &str) -> String {
    heading.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

fn entry(row: &Row, kind: &ListKind, columns: &[Option<usize>]) -> Result<Entry, String> {
    let mut keys = Vec::new();
    let mut name = None;
    for (key, column) in kind.columns.iter().zip(columns) {
        // A row that ends early has nothing in the columns behind.
        let cell = column.and_then(|at| row.cells.get(at)).filter(|cell| !cell.is_empty());
        match cell {
            Some(cell) => keys.push((key.key, value(key, cell)?)),
            None if key.required => return Err(format!("no {} is given", key.key)),
            None => {}
        }
        name = name.or_else(|| cell.cloned());
    }
    // The first key is required, so a row without it went above.
    let name = name.ok_or_else(|| "the row is empty".to_owned())?;
    Ok(Entry { line: row.line, name, keys })
}

/// A cell as TOML writes it under its key.
fn value(key: &Column, cell: &str) -> Result<String, String> {
    if cell.contains(char::is_control) {
        return Err(format!("{} holds a line break or another control character", key.key));
    }
    match key.cell {
        Cell::Text => Ok(quoted(cell)),
        Cell::Count => {
            let count = cell.parse::<u32>().map_err(|_| format!("{} `{cell}` is no whole number, as 340", key.key))?;
            Ok(count.to_string())
        }
    }
}
