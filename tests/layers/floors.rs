use super::model::{Box3, Model, surface};
use crate::support::assert_near;
use crate::support::run::{number, saved_takeoff, surfaces, text};
use serde_json::Value;
use std::path::PathBuf;

/// Inside of a wall at y = 0 to 0.2: a floor from 2.7 to 3 m.
const FLOOR: Box3 = ([0.0, 0.2, 2.7], [5.0, 4.0, 3.0]);

/// A wall 5 m long and 6 m high that runs past what is given.
fn tall_wall(floors: &[Box3]) -> Model {
    let mut model = Model::new();
    model.wall("tall", ([0.0, 0.0, 0.0], [5.0, 0.2, 6.0]));
    for (index, extent) in floors.iter().enumerate() {
        model.slab(&format!("floor {index}"), *extent);
    }
    model
}

fn bands(model: &Model) -> Vec<[f64; 2]> {
    let building = model.read(&[]);
    let bands = surface(&building, "tall").floor_bands.iter();
    bands.map(|band| [band.from_m, band.to_m].map(|y| (y * 1e6).round() / 1e6)).collect()
}

#[test]
fn a_floor_against_a_wall_or_in_it_makes_a_band() {
    let into: Box3 = ([0.0, 0.05, 2.7], [5.0, 4.0, 3.0]);
    let near: Box3 = ([0.0, 0.24, 2.7], [5.0, 4.0, 3.0]);
    for floor in [FLOOR, into, near] {
        assert_eq!(bands(&tall_wall(&[floor])), [[2.7, 3.0]]);
    }
    // A screed on the structure is a slab of its own, and two halves are one floor.
    let screed: Box3 = ([0.0, 0.2, 3.0], [5.0, 4.0, 3.05]);
    assert_eq!(bands(&tall_wall(&[FLOOR, screed])), [[2.7, 3.05]]);
    let halves: [Box3; 2] = [([0.0, 0.2, 2.7], [2.4, 4.0, 3.0]), ([2.4, 0.2, 2.7], [4.8, 4.0, 3.0])];
    assert_eq!(bands(&tall_wall(&halves)), [[2.7, 3.0]]);
}

#[test]
fn a_wall_drawn_up_to_the_top_of_the_floor_above_runs_past_that_floor() {
    for top_m in [6.0, 6.05] {
        let at_head: Box3 = ([0.0, 0.2, 5.75], [5.0, 4.0, top_m]);
        assert_eq!(bands(&tall_wall(&[at_head])), [[5.75, 6.0]]);
    }
}

#[test]
fn what_does_not_run_along_a_wall_above_its_foot_makes_none() {
    let far: Box3 = ([0.0, 0.3, 2.7], [5.0, 4.0, 3.0]);
    let landing: Box3 = ([0.0, 0.2, 2.7], [1.0, 4.0, 3.0]);
    let at_foot: Box3 = ([0.0, 0.2, -0.1], [5.0, 4.0, 0.2]);
    let on_head: Box3 = ([0.0, 0.0, 6.0], [5.0, 4.0, 6.25]);
    let hardly_past: Box3 = ([0.0, 0.2, 5.95], [5.0, 4.0, 6.2]);
    for floor in [far, landing, at_foot, on_head, hardly_past] {
        assert_eq!(bands(&tall_wall(&[floor])), Vec::<[f64; 2]>::new(), "{floor:?}");
    }
}

/// A saved takeoff of a model, framed, with a job file.
fn takeoff(model: &Model, job: &str) -> Value {
    let folder = tempfile::tempdir().unwrap();
    let file = |name: &str, text: &str| -> PathBuf {
        let path = folder.path().join(name);
        std::fs::write(&path, text).unwrap();
        path
    };
    let (model, job) = (file("house.ifc", &model.text()), file("job.toml", job));
    let frame = ["--frame", "tall: 2x6 @ 16 in", "--exposure", "all", "--job", job.to_str().unwrap()];
    saved_takeoff(&[&model], &frame)
}

/// Surfaces of the tall wall.
fn pieces(takeoff: &Value) -> Vec<&Value> {
    surfaces(takeoff).iter().filter(|surface| text(surface, "id") == "tall").collect()
}

fn findings<'t>(takeoff: &'t Value, code: &str) -> Vec<&'t str> {
    let all = takeoff["findings"].as_array().unwrap().iter();
    all.filter(|finding| finding["code"] == code).map(|finding| text(finding, "message")).collect()
}

fn roles(piece: &Value) -> Vec<&str> {
    piece["members"].as_array().unwrap().iter().map(|member| text(member, "role")).collect()
}

// Platform framing: each storey's wall stands on the floor below with plates of its own, and joists bear on its top
// plates: IRC 2021, figure R602.3(2), from memory.
#[test]
fn a_wall_past_a_floor_is_cut_as_platform_framing_stands() {
    let takeoff = takeoff(&tall_wall(&[FLOOR]), "");
    let pieces = pieces(&takeoff);
    let parts: Vec<(u64, &str, f64)> =
        pieces.iter().map(|p| (p["part"].as_u64().unwrap(), text(p, "name"), number(p, "gross_area_m2"))).collect();
    let names: Vec<(u64, &str)> = parts.iter().map(|(part, name, _)| (*part, *name)).collect();
    assert_eq!(names, [(1, "tall"), (2, "tall, rim strip"), (3, "tall")]);
    for ((_, _, gross_m2), due_m2) in parts.iter().zip([5.0 * 2.7, 5.0 * 0.3, 5.0 * 3.0]) {
        assert_near!(*gross_m2, due_m2, 1e-9);
    }
    assert_near!(parts.iter().map(|(_, _, m2)| m2).sum(), 30.0, 1e-9 * 30.0);
    for (piece, has_plates) in pieces.iter().zip([true, false, true]) {
        let roles = roles(piece);
        assert_eq!(roles.iter().any(|role| role.contains("plate")), has_plates, "{roles:?}");
        assert!(piece["counted"].as_bool().unwrap() && piece["kind"] == "wall");
        assert!(!piece["bays"].as_array().unwrap().is_empty());
    }
    // The wall and the slab are two elements.
    assert_eq!(takeoff["balance"]["elements_read"], 2);
    assert_eq!(takeoff["balance"]["elements_counted"], 1);
    let said = findings(&takeoff, "wall-cut-at-floor");
    // 30 m2 are 323 ft2; 1.5 m2 are 16 ft2.
    assert!(said.len() == 1 && said[0].starts_with("1 wall with 323 ft2 (30.0 m2) runs past"), "{said:?}");
    assert!(said[0].contains("16 ft2 (1.5 m2) become rim strips"), "{said:?}");
    let assumed = takeoff["assumptions"].as_array().unwrap();
    assert!(assumed.iter().any(|one| one["key"] == "layout.walls_through_floors" && one["value"] == "cut"));
}

#[test]
fn a_job_file_keeps_walls_whole_and_an_uncounted_wall_is_never_cut() {
    let whole = takeoff(&tall_wall(&[FLOOR]), "[layout]\nwalls_through_floors = \"whole\"\n");
    assert_eq!(pieces(&whole).iter().map(|piece| piece["part"].as_u64().unwrap()).collect::<Vec<_>>(), [0]);
    assert!(findings(&whole, "wall-cut-at-floor").is_empty());
    let mut interior = tall_wall(&[FLOOR]);
    interior.wall("other", ([0.0, 9.0, 0.0], [5.0, 9.2, 6.0]));
    interior.slab("its floor", ([0.0, 9.2, 2.7], [5.0, 12.0, 3.0]));
    let takeoff = takeoff(&interior, "");
    let other: Vec<&Value> = surfaces(&takeoff).iter().filter(|s| text(s, "id") == "other").collect();
    assert_eq!(other.len(), 1);
    assert_eq!(other[0]["part"], 0);
}

#[test]
fn openings_go_to_their_pieces_and_one_across_a_floor_is_said() {
    let mut model = tall_wall(&[FLOOR]);
    let wall = surface(&model.read(&[]), "tall").source.entity.clone().unwrap();
    model.opening(&wall, "low", ([1.0, -0.1, 0.9], [2.0, 0.3, 2.1]));
    model.opening(&wall, "across", ([3.0, -0.1, 2.0], [4.0, 0.3, 4.0]));
    let takeoff = takeoff(&model, "");
    let openings: Vec<f64> = pieces(&takeoff).iter().map(|piece| number(piece, "opening_area_m2")).collect();
    for (opening_m2, due_m2) in openings.iter().zip([1.2 + 0.7, 0.3, 1.0]) {
        assert_near!(*opening_m2, due_m2, 1e-9);
    }
    let said = findings(&takeoff, "wall-cut-at-floor");
    assert!(said.iter().any(|message| message.contains("across the opening `across`")), "{said:?}");
    assert!(!said.iter().any(|message| message.contains("`low`")), "{said:?}");
}
