//! The pick list as comma-separated values (RFC 4180).
//!
//! One line a call or part; nothing is computed here.

use std::borrow::Cow;

use super::PickList;

const HEAD: [&str; 12] = [
    "kind",
    "item",
    "description",
    "needed",
    "spare",
    "pull",
    "on hand",
    "short",
    "order",
    "use once",
    "fit-up",
    "not the same as",
];

pub(super) fn write(list: &PickList) -> String {
    let mut text = line(HEAD.map(str::to_owned));
    let count = |count: Option<u32>| count.map_or_else(String::new, |count| count.to_string());
    let flag = |flag: bool| if flag { "yes".to_owned() } else { String::new() };
    for one in &list.hardware {
        text.push_str(&line([
            "hardware".to_owned(),
            one.call.clone(),
            one.decode.clone(),
            one.needed.to_string(),
            one.spare.to_string(),
            one.pull.to_string(),
            count(one.on_hand),
            one.short.to_string(),
            one.order.to_string(),
            flag(one.single_use),
            flag(one.temporary),
            one.look_alikes.join(" "),
        ]));
    }
    for part in &list.parts {
        text.push_str(&line([
            "part".to_owned(),
            part.part.clone(),
            [Some(part.name.clone()), part.material.clone(), part.thickness.clone()]
                .into_iter()
                .flatten()
                .collect::<Vec<_>>()
                .join(", "),
            part.pieces.to_string(),
            String::new(),
            part.pieces.to_string(),
            count(part.on_hand),
            part.short.to_string(),
            part.short.to_string(),
            String::new(),
            String::new(),
            // An empty cell.
            part.look_alike.clone().unwrap_or_default(),
        ]));
    }
    for used in &list.consumables {
        let mut cells: [String; 12] = Default::default();
        "consumable".clone_into(&mut cells[0]);
        cells[1].clone_from(&used.what);
        cells[2] = used.travelers.join(" ");
        text.push_str(&line(cells));
    }
    text
}

fn line(fields: [String; 12]) -> String {
    format!("{}\r\n", fields.map(|field| quoted(&field)).join(","))
}

/// A cell of which a spreadsheet makes a formula is a text with a quotation mark before it; a number of a part may be `-3`.
fn as_text(field: &str) -> Cow<'_, str> {
    let number = field.strip_prefix('-').is_some_and(|rest| rest.bytes().all(|one| one.is_ascii_digit()));
    let runs = field.trim_start_matches(' ').starts_with(['=', '+', '-', '@', '\t', '\r', '\n']);
    if runs && !number { Cow::Owned(format!("'{field}")) } else { Cow::Borrowed(field) }
}

fn quoted(field: &str) -> String {
    let field = as_text(field);
    if field.contains(['"', ',', '\n', '\r']) {
        format!("\"{}\"", field.replace('"', "\"\""))
    } else {
        field.into_owned()
    }
}
