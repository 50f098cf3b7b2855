//! Roofs, slabs and coverings of models by others, against values stored beside the models.
//!
//! Source of the values: computed from the solid geometry by ifcopenshell 0.9 (open source geometry kernel), slices by
//! shapely 2.2. A flat body is stored as its section at mid thickness, a folded one by its faces that look up; where
//! the body has holes of its own, both stored areas are without them.

use super::stored_reference::stored_models;
use crate::support::run::{number, saved_takeoff, surfaces, text};
use crate::support::skip;
use serde_json::Value;

const TEST: &str = "stored_plates";
const RELATIVE: f64 = 0.001;
const PITCH_DEG: f64 = 0.01;

/// Model, GlobalId and reason of what is not compared.
const NOT_COMPARED: [(&str, &str, &str); 2] = [
    ("large_offset.ifc", "19G2kjMqT2bw6US8_6I2V$", "stored from a coarse mesh of two small tubes"),
    (
        "mixed_roofs.ifc",
        "3j5N7RPpvA1PwiM18Uv4fc",
        "the stored net area takes reveals of the openings that look up (2.828 m2) for roof",
    ),
];

#[test]
fn roofs_slabs_and_coverings_agree_with_the_stored_values() {
    let (mut compared, mut left_out, mut failures) = (0, 0, Vec::new());
    let stored = stored_models(TEST);
    for (path, stored) in &stored {
        let file = path.file_name().and_then(|name| name.to_str()).expect("a model has a name");
        let takeoff = saved_takeoff(&[path], &["--exposure", "all"]);
        for plate in stored["elements"].as_array().into_iter().flatten() {
            let (class, id) = (text(plate, "class"), text(plate, "GlobalId"));
            if class.starts_with("IfcWall") {
                continue;
            }
            if let Some((.., reason)) = NOT_COMPARED.iter().find(|(model, other, _)| *model == file && *other == id) {
                skip(TEST, &format!("{file} {id}: {reason}"));
                continue;
            }
            match compare(plate, &takeoff) {
                Ok(Compared::Area) => compared += 1,
                Ok(Compared::LeftOut) => left_out += 1,
                Err(difference) => failures.push(format!("{file} {class} {id}: {difference}")),
            }
        }
    }
    assert!(failures.is_empty(), "{} of {compared} differ:\n{}", failures.len(), failures.join("\n"));
    assert!(stored.is_empty() || compared > 100, "only {compared} were compared, {left_out} were left out");
}

enum Compared {
    Area,
    LeftOut,
}

fn compare(plate: &Value, takeoff: &Value) -> Result<Compared, String> {
    let id = text(plate, "GlobalId");
    let parts: Vec<&Value> = surfaces(takeoff).iter().filter(|surface| text(surface, "id") == id).collect();
    if parts.is_empty() {
        let left_out = takeoff["left_out_elements"].as_array().into_iter().flatten();
        let reason = left_out.into_iter().find(|element| text(element, "id") == id).map(|one| text(one, "reason"));
        return match (text(plate, "method"), reason) {
            (_, None) => Err("is neither a surface nor left out".to_owned()),
            ("children", Some(_)) => Ok(Compared::LeftOut),
            (_, Some(reason)) if reason.contains("cavity") => Ok(Compared::LeftOut),
            (_, Some(reason)) => Err(format!("has a body and is left out: {reason}")),
        };
    }
    let sum = |of: fn(&Value) -> f64| parts.iter().map(|part| of(part)).sum::<f64>();
    let chimneys = if has_cut_chimneys(takeoff) { sum(chimneys_m2) } else { 0.0 };
    let (gross, openings) =
        (sum(|part| number(part, "gross_area_m2")), sum(|part| number(part, "opening_area_m2")) - chimneys);
    let flat = match text(plate, "method") {
        "slice" => true,
        "faces" => false,
        other => return Err(format!("is measured, and stored by the method `{other}`")),
    };
    let [stored_gross, stored_net] = if flat { ["gross_area", "net_area"] } else { ["top_area_gross", "top_area_net"] }
        .map(|key| number(plate, key));
    let near = |found: f64, stored: f64| (found - stored).abs() <= RELATIVE * stored;
    if !near(gross - sum(own_holes_m2), stored_gross) || !near(gross - openings, stored_net) {
        return Err(format!(
            "{} parts, gross {gross}, openings {openings}; stored {stored_gross} and {stored_net} net",
            parts.len()
        ));
    }
    if !flat {
        return Ok(Compared::Area);
    }
    if parts.len() != 1 {
        return Err(format!("is flat, and measured in {} parts", parts.len()));
    }
    let (pitch, stored_pitch) = (number(parts[0], "pitch_deg"), number(plate, "pitch_deg"));
    if (pitch - stored_pitch).abs() > PITCH_DEG {
        return Err(format!("pitch {pitch}, stored {stored_pitch}"));
    }
    Ok(Compared::Area)
}

/// Whether the takeoff cut chimneys out for which the model, and so the stored value, has no opening.
fn has_cut_chimneys(takeoff: &Value) -> bool {
    takeoff["findings"].as_array().into_iter().flatten().any(|one| text(one, "code") == "chimney-without-opening")
}

fn chimneys_m2(part: &Value) -> f64 {
    let openings = part["openings"].as_array().into_iter().flatten();
    openings.filter(|opening| text(opening, "kind") == "chimney").map(|chimney| number(chimney, "area_m2")).sum()
}

/// What holes take that the body has itself.
fn own_holes_m2(part: &Value) -> f64 {
    let openings = part["openings"].as_array().into_iter().flatten();
    openings.filter(|opening| text(opening, "id").contains("-hole-")).map(|hole| number(hole, "area_m2")).sum()
}
