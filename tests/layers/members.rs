use super::model::{Model, surface};
use crate::support::assert_near;
use crate::support::run::{number, saved_takeoff, surfaces};
use cavitally::finding::Code;
use cavitally::model::{Building, Surface};
use serde_json::Value;

/// Thickness of the wall: two boards of 12.5 mm on studs of 140 mm.
const WALL_M: f64 = 0.165;
/// Depth of the studs.
const STUD_M: f64 = 0.14;
/// Width of the studs.
const WIDE_M: f64 = 0.04;

/// A wall along x, 2.7 m high.
fn wall(model: &mut Model, length_m: f64) -> String {
    model.wall("wall", ([0.0, 0.0, 0.0], [length_m, WALL_M, 2.7]))
}

/// Uprights with their left sides at these places, in the middle of the wall.
fn uprights(model: &mut Model, class: &str, at: &[f64], (wide_m, deep_m): (f64, f64)) -> Vec<String> {
    let y = (WALL_M - deep_m) / 2.0;
    let one = |(index, x): (usize, &f64)| {
        model.member(class, &format!("m{index}"), ([*x, y, 0.0], [x + wide_m, y + deep_m, 2.7]))
    };
    at.iter().enumerate().map(one).collect()
}

/// Studs of a wall 3 m long: both ends, and every 600 mm.
fn studs(model: &mut Model) -> Vec<String> {
    uprights(model, "IFCMEMBER", &[0.0, 0.58, 1.18, 1.78, 2.38, 2.96], (WIDE_M, STUD_M))
}

fn said(building: &Building, code: Code) -> Vec<&str> {
    building.findings.iter().filter(|f| f.code == code).map(|f| f.message.as_str()).collect()
}

fn framed(model: &Model, more: &[&str]) -> Value {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("house.ifc");
    std::fs::write(&path, model.text()).unwrap();
    let mut arguments = vec!["--frame", "2x6 @ 16 in", "--exposure", "all"];
    arguments.extend(more);
    saved_takeoff(&[&path], &arguments)
}

#[track_caller]
fn is_framing(found: &Surface, members: usize) {
    assert!(found.framing_is_given, "{} members", found.given_members.len());
    assert_eq!(found.given_members.len(), members);
    assert_near!(found.measured_depth_m.unwrap(), STUD_M, 1e-9, "depth of the members");
}

#[test]
fn posts_and_headers_far_apart_do_not_make_the_framing_of_a_wall() {
    let columns = |model: &mut Model| uprights(model, "IFCCOLUMN", &[3.0, 6.0, 9.0], (0.1, 0.1));
    let headers = |model: &mut Model| {
        let at = [2.0, 5.0, 8.0];
        let one = |x: &f64| model.member("IFCBEAM", &format!("h{x}"), ([*x, 0.0125, 2.1], [x + 1.0, 0.1525, 2.335]));
        at.iter().map(one).collect::<Vec<String>>()
    };
    // Three posts of 100 mm at 3 m leave 2.9 m between them and 3 m at either end; past headers a level line is clear.
    let mut posts = Model::new();
    wall(&mut posts, 12.0);
    columns(&mut posts);
    let mut beams = Model::new();
    wall(&mut beams, 12.0);
    headers(&mut beams);
    for (model, widest) in [(&posts, "3.00 m"), (&beams, "12.00 m")] {
        let building = model.read(&[]);
        let found = surface(&building, "wall");
        assert!(!found.framing_is_given && found.given_members.len() == 3);
        let said = said(&building, Code::MembersInside);
        assert!(said.len() == 1 && said[0].starts_with("3 members") && said[0].contains(widest), "{said:?}");
        let takeoff = framed(model, &[]);
        let wall = &surfaces(&takeoff)[0];
        assert_eq!(wall["assembly"], "2x6 @ 16 in");
        // A dressed 2x6 is 5 1/2 in. deep (PS 20-20).
        assert_near!(number(wall, "depth_m"), 5.5 * 0.0254, 1e-9, "depth");
        let widest_m = wall["bays"].as_array().unwrap().iter().map(|bay| number(bay, "width_m")).fold(0.0, f64::max);
        // 16 in. from centre to centre leave 14 1/2 in.
        assert!(widest_m < 14.5 * 0.0254 + 1e-9, "{widest_m}");
        let modelled = wall["members"].as_array().unwrap().iter().any(|member| member["role"] == "modelled member");
        assert!(modelled, "the model's members are taken out too");
    }
}

#[test]
fn members_that_are_parts_of_a_wall_must_frame_it_as_well() {
    let mut model = Model::new();
    let whole = wall(&mut model, 12.0);
    let posts = uprights(&mut model, "IFCCOLUMN", &[3.0, 6.0, 9.0], (0.1, 0.1));
    model.aggregate(&whole, &posts);
    let building = model.read(&[]);
    assert!(!surface(&building, "wall").framing_is_given);
    assert_eq!(said(&building, Code::MembersInside).len(), 1);
}

#[test]
fn modelled_studs_are_as_deep_as_they_are() {
    let mut model = Model::new();
    wall(&mut model, 3.0);
    studs(&mut model);
    is_framing(surface(&model.read(&[]), "wall"), 6);
    let takeoff = framed(&model, &[]);
    let wall = &surfaces(&takeoff)[0];
    assert_eq!(wall["assembly"], "as modelled");
    // Six studs of 40 mm in 3 m: 2.76 m of bays, 2.7 m high and 0.14 m deep.
    assert_near!(number(wall, "bay_volume_m3"), 2.76 * 2.7 * 0.14, 1e-9, "volume");
}

#[test]
fn studs_in_an_assembly_beside_the_wall_or_around_it_are_its_framing() {
    for with_wall in [false, true] {
        let mut model = Model::new();
        let whole = wall(&mut model, 3.0);
        let mut parts = studs(&mut model);
        let assembly = model.bare("IFCELEMENTASSEMBLY", "panel", ".NOTDEFINED.,.NOTDEFINED.");
        parts.extend(with_wall.then_some(whole));
        model.aggregate(&assembly, &parts);
        is_framing(surface(&model.read(&[]), "wall"), 6);
    }
}

#[test]
fn members_of_a_curtain_wall_or_of_another_wall_are_not() {
    for class in ["IFCCURTAINWALL", "IFCWALL"] {
        let mut model = Model::new();
        wall(&mut model, 3.0);
        let parts = studs(&mut model);
        let other = model.bare(class, "other", "$");
        model.aggregate(&other, &parts);
        assert!(surface(&model.read(&[]), "wall").given_members.is_empty(), "{class}");
    }
}

#[test]
fn rafters_that_are_parts_of_the_roof_frame_its_slab() {
    let mut model = Model::new();
    let slab = model.slab("slab", ([0.0, 0.0, 3.0], [5.0, 4.0, 3.2]));
    let mut parts = vec![slab];
    // Seven rafters of 40 mm, at 0, 0.8, … 4.8 m, over the whole width of 4 m.
    for index in 0..7 {
        let x = f64::from(index) * 0.8;
        parts.push(model.member("IFCMEMBER", &format!("r{index}"), ([x, 0.0, 3.03], [x + 0.04, 4.0, 3.17])));
    }
    let roof = model.bare("IFCROOF", "roof", ".NOTDEFINED.");
    model.aggregate(&roof, &parts);
    is_framing(surface(&model.read(&[]), "slab"), 7);
}

#[test]
fn what_explain_prints_of_modelled_depth_is_so() {
    let mut model = Model::new();
    wall(&mut model, 3.0);
    studs(&mut model);
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("house.ifc");
    std::fs::write(&path, model.text()).unwrap();
    let run = std::process::Command::new(env!("CARGO_BIN_EXE_cavitally"))
        .args(["explain", path.to_str().unwrap(), "wall", "--exposure", "all", "--units", "si"])
        .output()
        .unwrap();
    let printed = String::from_utf8(run.stdout).unwrap();
    assert!(printed.contains("depth of the members that the model gives"), "{printed}");
    assert!(!printed.contains("dressed depth"), "{printed}");
}
