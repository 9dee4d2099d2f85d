//! Part numbers and look-ups against the published values that the tables name.

mod bend;
mod blind;
mod bolt;
mod call;
mod head;
mod hexagon;
mod hole;
mod kit;
mod limit;
mod metric;
mod nut;
mod published;
mod rivet;
mod series;
mod sheet;
mod shop;
mod strength;
mod tables;
mod torque;
mod washer;

use shophead::hardware::{BlindRivet, Bolt, Fastener, SolidRivet, decode, table_text};
use shophead::units::{Length, Size, Unit};

/// A length as a spec writes it.
fn inch(text: &str) -> Length {
    Size::parse(text, Unit::Inch).unwrap().length
}

/// The rows of an embedded table as they are written.
fn written_rows(table: &str) -> Vec<toml::Table> {
    let whole: toml::Table = table_text(table).unwrap().parse().unwrap();
    whole["row"].as_array().unwrap().iter().map(|row| row.as_table().unwrap().clone()).collect()
}

fn fastener(call: &str) -> Fastener {
    decode(call, &[]).unwrap_or_else(|fault| panic!("{call}: {fault}"))
}

fn rivet(call: &str) -> SolidRivet {
    match fastener(call) {
        Fastener::SolidRivet(rivet) => rivet,
        other => panic!("{call} is no solid rivet but {other:?}"),
    }
}

fn blind(call: &str) -> BlindRivet {
    match fastener(call) {
        Fastener::BlindRivet(rivet) => rivet,
        other => panic!("{call} is no blind rivet but {other:?}"),
    }
}

fn bolt(call: &str) -> Bolt {
    match fastener(call) {
        Fastener::Bolt(bolt) => bolt,
        other => panic!("{call} is no bolt but {other:?}"),
    }
}

/// Asserts that two lengths agree within a few ten-thousandths of an inch.
#[track_caller]
fn near(one: Length, other: Length, ten_thousandths: i64) {
    let far = one.distance(other);
    assert!(far <= Length::from_ten_thousandths(ten_thousandths), "{one:?} and {other:?} differ by {far:?}");
}
