//! Walls of models by others, against values stored beside the models.
//!
//! Source of the values: computed from the solid geometry by ifcopenshell 0.9 (open source geometry kernel), slices by
//! shapely 2.2. They are for mid thickness and for the middle of each layer.

use crate::support::run::{number, saved_takeoff, surfaces, text};
use crate::support::{models, skip};
use serde_json::Value;
use std::path::{Path, PathBuf};

const TEST: &str = "stored_reference";
/// Stored values are rounded.
const TOLERANCE_M2: f64 = 1e-4;
/// A curved wall is stored as volume over thickness.
const CURVED_RELATIVE: f64 = 0.005;

/// Model, GlobalId and reason of what is not compared.
const NOT_COMPARED: [(&str, &str, &str); 3] = [
    ("mixed_roofs.ifc", "2_r1nG7eXBGQQpVhdNzCLJ", "stored from a coarse mesh of its round edge"),
    (
        "walls_474.ifc",
        "eeeeeeeeeeeeeeeeeeeeee",
        "the plane falls on a face; the stored value lies between its two sides",
    ),
    ("mixed_roofs.ifc", "2XwEpQ1t15Sfcu_FsoNXtq", "stored from a coarse mesh of its round edge"),
];

#[test]
fn walls_agree_with_the_stored_values() {
    let mut tally = Tally::default();
    let stored = stored_models(TEST);
    for (path, stored) in &stored {
        compare_model(path, stored, &mut tally);
    }
    assert!(tally.failures.is_empty(), "{} walls differ:\n{}", tally.failures.len(), tally.failures.join("\n"));
    assert!(stored.is_empty() || tally.compared > 0, "no wall was compared");
}

/// Models by others with the values stored beside them; none where there are no models.
pub fn stored_models(test: &str) -> Vec<(PathBuf, Value)> {
    let Some(models) = models(test) else { return Vec::new() };
    let mut paths: Vec<_> = std::fs::read_dir(models.join("ifc"))
        .expect("the directory of models can be read")
        .map(|entry| entry.expect("an entry can be read").path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "ifc"))
        .collect();
    paths.sort();
    let with_stored = |path: PathBuf| {
        let file = path.file_name().and_then(|name| name.to_str()).expect("a model has a name");
        let stored = path.with_file_name("reference").join(file).with_extension("json");
        if let Ok(stored) = std::fs::read_to_string(&stored) {
            let stored = serde_json::from_str(&stored).expect("stored values are JSON");
            return Some((path, stored));
        }
        skip(test, &format!("{file} has no stored values"));
        None
    };
    paths.into_iter().filter_map(with_stored).collect()
}

#[derive(Default)]
struct Tally {
    compared: usize,
    failures: Vec<String>,
}

fn compare_model(path: &Path, stored: &Value, tally: &mut Tally) {
    let file = path.file_name().and_then(|name| name.to_str()).expect("a model has a name");
    let takeoff = saved_takeoff(&[path], &["--exposure", "all"]);
    for wall in stored["elements"].as_array().into_iter().flatten() {
        if !text(wall, "class").starts_with("IfcWall") {
            continue;
        }
        let id = text(wall, "GlobalId");
        if let Some(reason) = reason_to_skip(file, wall, &takeoff) {
            skip(TEST, &format!("{file} {id}: {reason}"));
            continue;
        }
        tally.compared += 1;
        if let Err(difference) = compare_wall(wall, surfaces(&takeoff)) {
            tally.failures.push(format!("{file} {id}: {difference}"));
        }
    }
}

/// A curved wall may be left out as long as the takeoff says so.
fn reason_to_skip(file: &str, wall: &Value, takeoff: &Value) -> Option<String> {
    let id = text(wall, "GlobalId");
    let listed = NOT_COMPARED.iter().find(|(model, wall, _)| *model == file && *wall == id);
    match (listed, text(wall, "method")) {
        (Some((_, _, reason)), _) => Some((*reason).to_owned()),
        (None, "slice") => None,
        (None, "vol/t") => left_out_reason(id, takeoff),
        (None, "parts") => Some("no body of its own; its parts are the geometry".to_owned()),
        (None, other) => Some(format!("stored by the method `{other}`")),
    }
}

fn left_out_reason(id: &str, takeoff: &Value) -> Option<String> {
    let left_out = takeoff["left_out_elements"].as_array()?.iter().find(|element| text(element, "id") == id)?;
    Some(format!("curved, and left out: {}", text(left_out, "reason")))
}

fn compare_wall(wall: &Value, surfaces: &[Value]) -> Result<(), String> {
    let id = text(wall, "GlobalId");
    let ours: Vec<_> = surfaces.iter().filter(|surface| text(surface, "id") == id).collect();
    if ours.is_empty() {
        return Err("is missing from the takeoff".to_owned());
    }
    let answers = answers(wall);
    let fits = |surface: &Value| {
        let (gross, opening) = (number(surface, "gross_area_m2"), number(surface, "opening_area_m2"));
        answers.iter().any(|answer| answer.fits(gross, gross - opening))
    };
    if ours.iter().any(|surface| fits(surface)) {
        return Ok(());
    }
    let found: Vec<_> =
        ours.iter().map(|surface| (number(surface, "gross_area_m2"), number(surface, "opening_area_m2"))).collect();
    Err(format!("gross and openings {found:?}, stored {answers:?}"))
}

/// Gross and net area that are right for a wall; no gross where the stored one fills doors of a body cut by the export.
#[derive(Debug)]
struct Answer {
    gross: Option<f64>,
    net: f64,
    tolerance: f64,
}

impl Answer {
    fn fits(&self, gross: f64, net: f64) -> bool {
        self.gross.is_none_or(|stored| (stored - gross).abs() <= self.tolerance)
            && (self.net - net).abs() <= self.tolerance
    }
}

/// Mid thickness, and where the section varies through the wall also each layer and both quarters of the thickness.
fn answers(wall: &Value) -> Vec<Answer> {
    let precut = wall["openings_precut"].as_bool().unwrap_or(false);
    let curved = text(wall, "method") == "vol/t";
    let answer = |gross: f64, net: f64| Answer {
        gross: (!precut).then_some(gross),
        net,
        tolerance: if curved { CURVED_RELATIVE * gross } else { TOLERANCE_M2 },
    };
    let mut answers = vec![answer(number(wall, "gross_side_area"), number(wall, "net_side_area"))];
    for layer in wall["layer_slices"].as_array().into_iter().flatten() {
        if let (Some(gross), Some(net)) = (layer["gross_area"].as_f64(), layer["net_area"].as_f64()) {
            answers.push(answer(gross, net));
        }
    }
    for quarter in 0..2 {
        let at = |kind: &str| wall["quarter_slices"][kind][quarter].as_f64();
        if let (Some(gross), Some(net)) = (at("gross"), at("net")) {
            answers.push(answer(gross, net));
        }
    }
    answers
}
