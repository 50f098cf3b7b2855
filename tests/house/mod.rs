//! The sample house as a building model: the same walls and openings as in its measured sheets.
//!
//! `UPDATE_SAMPLES=1 cargo test house` writes `samples/house.ifc` anew.

mod building;
mod sheets;

use crate::support::assert_near;
use crate::support::project_file;
use crate::support::run::{number, saved_takeoff, surfaces, text};
use crate::support::step_writer::write_building;
use building::house;
use serde_json::Value;

const STORED: &str = "samples/house.ifc";

#[test]
fn house_ifc_is_current() {
    let written = write_building(&house());
    if std::env::var_os("UPDATE_SAMPLES").is_some() {
        std::fs::write(project_file(STORED), &written).expect("the sample can be written");
    }
    let stored = std::fs::read_to_string(project_file(STORED)).expect("the sample is there");
    assert!(stored == written, "`{STORED}` is not current: run the tests once with UPDATE_SAMPLES=1");
}

const JOB: &str = "samples/house.toml";

/// The house from its model and from its sheets, with its job file.
fn both(arguments: &[&str]) -> [Value; 2] {
    let job = project_file(JOB);
    let arguments: Vec<&str> = ["--job", job.to_str().unwrap()].iter().chain(arguments).copied().collect();
    let sheets = [project_file("samples/house-surfaces.csv"), project_file("samples/house-openings.csv")];
    [saved_takeoff(&[&project_file(STORED)], &arguments), saved_takeoff(&[&sheets[0], &sheets[1]], &arguments)]
}

/// The surface of the model that is a row of the sheet, part by part.
fn of_row<'m>(model: &'m Value, row: &Value) -> &'m Value {
    let entity = |surface: &&Value| surface["source"]["line"].is_null() && surface["part"] == row["part"];
    let id = text(row, "id");
    // A rim strip has the name of what it is, and the GlobalId of its wall.
    let whole = surfaces(model).iter().find(|surface| text(surface, "name") == id);
    let whole = whole.unwrap_or_else(|| panic!("nothing is named `{id}`"));
    let parts = surfaces(model).iter().filter(entity).find(|surface| surface["id"] == whole["id"]);
    parts.unwrap_or_else(|| panic!("`{id}` has no part {}", row["part"]))
}

#[test]
fn the_house_measures_the_same_from_either_format() {
    let [model, sheets] = both(&["--exposure", "all"]);
    assert_eq!(surfaces(&model).len(), surfaces(&sheets).len());
    for row in surfaces(&sheets) {
        let (id, surface) = (text(row, "id"), of_row(&model, row));
        for key in ["gross_area_m2", "opening_area_m2"] {
            assert_near!(number(surface, key), number(row, key), 1e-6, "{key} of {id}");
        }
        for key in ["storey", "kind", "exposure", "counted", "reason"] {
            assert_eq!(surface[key], row[key], "{key} of {id}");
        }
    }
}

#[test]
fn the_house_is_framed_and_filled_the_same_from_either_format() {
    let [model, sheets] = both(&["--exposure", "all"]);
    let mut compared = 0;
    for row in surfaces(&sheets).iter().filter(|row| row["counted"] == true) {
        let (id, surface) = (text(row, "id"), of_row(&model, row));
        assert_eq!(surface["assembly"], row["assembly"], "assembly of {id}");
        assert_near!(number(surface, "depth_m"), number(row, "depth_m"), 1e-6, "depth of {id}");
        let roles = |surface: &Value| -> Vec<String> {
            surface["members"].as_array().unwrap().iter().map(|member| text(member, "role").to_owned()).collect()
        };
        assert_eq!(roles(surface), roles(row), "members of {id}");
        let bays = |surface: &Value| surface["bays"].as_array().unwrap().len();
        assert_eq!(bays(surface), bays(row), "bays of {id}");
        // Sections are taken 2 micrometres beside a face, and bays come off a grid.
        assert_near!(number(surface, "mass_kg"), number(row, "mass_kg"), 1e-4 * number(row, "mass_kg"), "mass of {id}");
        compared += 1;
    }
    assert!(compared > 20, "{compared}");
}

// An electric panel, an air duct, a platform and a light rated for contact: the sheets say them in their rows, and of the
// model's surfaces the job file does.
#[test]
fn what_a_model_cannot_say_the_job_file_says_of_it() {
    let [model, sheets] = both(&[]);
    let reasons = |surface: &Value| -> Vec<String> {
        let pieces = surface["left_out"].as_array().unwrap().iter();
        let mut reasons: Vec<String> = pieces.map(|piece| text(piece, "reason").to_owned()).collect();
        reasons.sort();
        reasons.dedup();
        reasons
    };
    for (id, reason) in [("G-E", "electric panel"), ("O-N", "air duct"), ("A-1", "platform")] {
        let row = surfaces(&sheets).iter().find(|row| text(row, "id") == id).unwrap();
        let surface = of_row(&model, row);
        assert!(reasons(row).contains(&reason.to_owned()), "{id}: {:?}", reasons(row));
        assert_eq!(reasons(surface), reasons(row), "{id}");
        let left_out_m2 = number(row, "left_out_area_m2");
        assert_near!(number(surface, "left_out_area_m2"), left_out_m2, 1e-4 * left_out_m2, "left out of {id}");
    }
    assert_eq!(model["fills"][0]["bags_order"], sheets["fills"][0]["bags_order"]);
    assert!(model["fills"][0]["bags_order"].is_u64());
    // What the rows say wins, and is not noise: nothing of the job file's is taken up from the sheets.
    let keys = |takeoff: &Value| -> Vec<String> {
        let assumptions = takeoff["assumptions"].as_array().unwrap().iter();
        let keys = assumptions.map(|one| text(one, "key").to_owned());
        keys.filter(|key| key.starts_with("surface.") && key != "surface.exposure").collect()
    };
    let said = ["surface.do_not_fill", "surface.do_not_fill", "surface.depth", "surface.platform", "surface.opening"];
    let sorted = |mut keys: Vec<String>| {
        keys.sort();
        keys
    };
    assert_eq!(sorted(keys(&model)), sorted(said.map(str::to_owned).to_vec()));
    assert!(keys(&sheets).is_empty(), "{:?}", keys(&sheets));
    for takeoff in [&model, &sheets] {
        let codes: Vec<&str> = takeoff["findings"].as_array().unwrap().iter().map(|one| text(one, "code")).collect();
        assert!(!codes.contains(&"rule-misfit") && !codes.contains(&"rule-unused"), "{codes:?}");
    }
}
