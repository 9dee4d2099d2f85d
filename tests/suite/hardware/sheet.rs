//! Standard sheet, old gauges, metals.

use shophead::hardware::{
    Metal, is_standard_sheet, metal_of, metals_corrode, modern_sheet, sheet_equivalent, standard_sheets,
};

use super::{inch, near, written_rows};
use crate::units::ask_units;

/// MIL-HDBK-5J Table 8.1.2.1(a): the thicknesses of its rows.
#[test]
fn standard_sheets_are_the_rows_of_the_handbook() {
    let rows = [
        "0.012", "0.016", "0.018", "0.020", "0.025", "0.032", "0.036", "0.040", "0.045", "0.050", "0.063", "0.071",
        "0.080", "0.090", "0.100", "0.125", "0.160", "0.190", "0.250",
    ];
    assert_eq!(standard_sheets().collect::<Vec<_>>(), rows.map(inch));
    assert!(rows.iter().all(|row| is_standard_sheet(inch(row))));
}

#[test]
fn old_gauges_mean_the_modern_sheet() {
    for (modern, old) in [
        ("0.050", "0.051"),
        ("0.063", "0.064"),
        ("0.071", "0.072"),
        ("0.080", "0.081"),
        ("0.090", "0.091"),
        ("0.100", "0.102"),
        ("0.125", "0.128"),
    ] {
        assert_eq!(modern_sheet(inch(old)), inch(modern));
        assert!(sheet_equivalent(inch(modern), inch(old)) && is_standard_sheet(inch(old)));
    }
    assert!(!sheet_equivalent(inch("0.063"), inch("0.071")));
    assert!(!is_standard_sheet(inch("0.033")) && !is_standard_sheet(inch("0.062")));
}

/// The B&S (American) gauge of the `units` program: gauges 16 14 13 12 11 10 8 are the old names.
#[test]
fn old_gauges_are_the_numbers_of_the_wire_gauge() {
    let gauges = ["16", "14", "13", "12", "11", "10", "8"];
    let questions: Vec<String> = gauges.iter().map(|gauge| format!("awg({gauge})")).collect();
    let Some(answers) = ask_units(&questions) else { return };
    let rows = written_rows("sheet");
    let old: Vec<&str> = rows.iter().filter_map(|row| row.get("old")?.as_str()).collect();
    assert_eq!(old.len(), gauges.len());
    for (old, answer) in old.into_iter().zip(answers) {
        near(inch(old), answer, 6);
    }
}

#[test]
fn materials_name_their_metal() {
    for (material, metal) in [
        ("2024-T3", Metal::Aluminium),
        ("6061-T6 extrusion", Metal::Aluminium),
        ("alclad 2024-T3", Metal::Aluminium),
        ("7075-T651", Metal::Aluminium),
        ("aluminum", Metal::Aluminium),
        ("4130", Metal::Steel),
        ("4130-N tube", Metal::Steel),
        ("cadmium-plated steel", Metal::Steel),
        ("stainless steel", Metal::Stainless),
        ("304 stainless", Metal::Stainless),
        ("17-7 PH", Metal::Stainless),
        ("Ti-6Al-4V", Metal::Titanium),
        ("AZ31B-H24", Metal::Magnesium),
        ("bronze bushing", Metal::Copper),
        ("Monel", Metal::Monel),
        ("carbon laminate", Metal::Carbon),
    ] {
        assert_eq!(metal_of(material), Some(metal), "{material}");
    }
    assert_eq!(metal_of("spruce"), None);
    assert_eq!(metal_of(""), None);
}

#[test]
fn unlike_metals_corrode() {
    assert!(metals_corrode(Metal::Aluminium, Metal::Stainless).value);
    assert!(metals_corrode(Metal::Magnesium, Metal::Aluminium).value);
    assert!(!metals_corrode(Metal::Aluminium, Metal::Aluminium).value);
    assert!(metals_corrode(Metal::Aluminium, Metal::Steel).from_memory());
}
