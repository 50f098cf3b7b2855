//! Roofs, slabs and ceilings of models by others, against values stored beside the models.
//!
//! Source of the values: computed from the solid geometry by ifcopenshell 0.9 (open source geometry kernel), slices by
//! shapely 2.2; flat bodies are cut at mid thickness. Bodies of several planes are compared by `tests/differential`.

use crate::support::run::{number, saved_takeoff, surfaces, text};
use crate::support::{models, skip};
use serde_json::Value;
use std::path::Path;

const TEST: &str = "stored_plates";
/// Share of an area by which a plane body may differ from its stored value.
const RELATIVE: f64 = 1e-3;
/// Areas are stored to so many square metres, which matters for the smallest bodies.
const ROUNDED_M2: f64 = 1e-4;
/// Pitches are stored to four digits.
const PITCH_DEG: f64 = 1e-2;

#[test]
fn roofs_slabs_and_ceilings_agree_with_the_stored_values() {
    let Some(models) = models(TEST) else { return };
    let entries = std::fs::read_dir(models.join("ifc/reference")).expect("the stored values can be listed");
    let mut stored: Vec<_> = entries.map(|entry| entry.expect("an entry can be read").path()).collect();
    stored.sort();
    let mut failures = Vec::new();
    let mut compared = 0;
    for path in &stored {
        let model = models.join("ifc").join(path.file_stem().expect("a name")).with_extension("ifc");
        compared += compare_model(&model, path, &mut failures);
    }
    assert!(failures.is_empty(), "{} elements differ:\n{}", failures.len(), failures.join("\n"));
    assert!(compared > 100, "only {compared} elements were compared");
}

fn compare_model(model: &Path, stored: &Path, failures: &mut Vec<String>) -> usize {
    let stored: Value = serde_json::from_str(&std::fs::read_to_string(stored).expect("values")).expect("JSON");
    let is_flat = |element: &&Value| {
        ["IfcSlab", "IfcRoof", "IfcCovering"].iter().any(|class| text(element, "class").starts_with(class))
            && text(element, "method") == "slice"
    };
    let elements: Vec<&Value> = stored["elements"].as_array().into_iter().flatten().filter(is_flat).collect();
    if elements.is_empty() {
        return 0;
    }
    let takeoff = saved_takeoff(&[model], &[]);
    let mut compared = 0;
    for element in elements {
        let id = text(element, "GlobalId");
        let ours: Vec<&Value> = surfaces(&takeoff).iter().filter(|surface| text(surface, "id") == id).collect();
        if ours.is_empty() {
            match left_out_reason(&takeoff, id) {
                Some(reason) => skip(TEST, &format!("{} {id}: left out: {reason}", model.display())),
                None => failures.push(format!("{} {id}: neither measured nor left out", model.display())),
            }
            continue;
        }
        compared += 1;
        if let Err(difference) = compare(element, &ours) {
            failures.push(format!("{} {id}: {difference}", model.display()));
        }
    }
    compared
}

fn left_out_reason(takeoff: &Value, id: &str) -> Option<String> {
    let element = takeoff["left_out_elements"].as_array()?.iter().find(|element| text(element, "id") == id)?;
    Some(text(element, "reason").to_owned())
}

/// Net area and pitch; gross too, unless the body has holes of its own, which the stored gross does not fill.
fn compare(stored: &Value, ours: &[&Value]) -> Result<(), String> {
    let sum = |key: &str| ours.iter().map(|surface| number(surface, key)).sum::<f64>();
    let (gross, opening) = (sum("gross_area_m2"), sum("opening_area_m2"));
    let near = |found: f64, due: f64| (found - due).abs() <= RELATIVE * due + ROUNDED_M2;
    let (due_gross, due_net) = (number(stored, "gross_area"), number(stored, "net_area"));
    let own_holes = ours.iter().flat_map(|surface| surface["openings"].as_array().into_iter().flatten());
    let holes_m2: f64 = own_holes.filter(|o| text(o, "id").contains("-hole-")).map(|o| number(o, "area_m2")).sum();
    if !near(gross - opening, due_net) || !near(gross - holes_m2, due_gross) {
        return Err(format!("gross {gross}, openings {opening}; stored gross {due_gross}, net {due_net}"));
    }
    let pitch = number(ours[0], "pitch_deg");
    match stored["pitch_deg"].as_f64() {
        Some(due) if (pitch - due).abs() > PITCH_DEG => Err(format!("pitch {pitch}, stored {due}")),
        _ => Ok(()),
    }
}
