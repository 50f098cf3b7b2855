//! How deep a cavity is beside the body that it is in.

use super::model::Model;
use crate::support::assert_near;
use crate::support::run::{number, saved_takeoff, surfaces, text};
use serde_json::Value;

/// A wall without layers, 4 m long and 2.7 m high, so thick, framed as 2x6.
fn wall(thickness_m: f64) -> Value {
    let mut model = Model::new();
    model.wall("wall", ([0.0, 0.0, 0.0], [4.0, thickness_m, 2.7]));
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("house.ifc");
    std::fs::write(&path, model.text()).unwrap();
    saved_takeoff(&[&path], &["--frame", "2x6 @ 16 in", "--exposure", "all"])
}

fn mismatches(takeoff: &Value) -> Vec<&str> {
    let all = takeoff["findings"].as_array().unwrap().iter();
    all.filter(|finding| finding["code"] == "depth-mismatch").map(|finding| text(finding, "message")).collect()
}

// By hand: a dressed 2x6 is 5 1/2 in. deep (PS 20-20), 0.1397 m; what is inside a wall is no deeper than the wall.
#[test]
fn no_cavity_of_a_wall_is_deeper_than_its_body() {
    for (thickness_m, depth_m, findings) in [(0.165, 0.1397, 0), (0.138, 0.138, 0), (0.12, 0.12, 1), (0.05, 0.05, 1)] {
        let takeoff = wall(thickness_m);
        let found = &surfaces(&takeoff)[0];
        assert_near!(number(found, "depth_m"), depth_m, 1e-9, "wall of {thickness_m} m");
        assert_near!(number(found, "gross_volume_m3"), 4.0 * 2.7 * depth_m, 1e-9, "wall of {thickness_m} m");
        let said = mismatches(&takeoff);
        assert_eq!(said.len(), findings, "wall of {thickness_m} m: {said:?}");
        assert!(said.iter().all(|one| one.contains("139.7 mm")), "{said:?}");
    }
}

// Furring is 1 in. nominal (PS 20-20): nothing is framed in less.
#[test]
fn a_body_thinner_than_any_framing_is_named_and_not_counted() {
    for thickness_m in [0.001, 0.025] {
        let takeoff = wall(thickness_m);
        let found = &surfaces(&takeoff)[0];
        assert_eq!((&found["counted"], &found["depth_m"]), (&Value::Bool(false), &Value::Null));
        assert_eq!(found["reason"], "body thinner than 1 in.");
        assert_near!(number(found, "left_out_area_m2"), 4.0 * 2.7, 1e-9, "left out");
    }
}
