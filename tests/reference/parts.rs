//! Elements and their parts, against sizes worked out by hand: framing that the model gives, and walls of two halves.
//!
//! The framed wall is 4.000 x 2.500 m; its studs, 45 mm wide, stand every 1.000 m or so between plates of 45 mm.

use crate::support::assert_near;
use crate::support::run::{number, saved_takeoff, surfaces, text};
use serde_json::Value;
use std::fmt::Write;

const PLATE_MM: f64 = 45.0;
/// Left edges of the studs, in millimetres.
const STUDS_MM: [f64; 5] = [0.0, 988.75, 1977.5, 2966.25, 3955.0];

/// A box as a record of its own and all that it needs, from `id` on; its placement rests on `#30`.
fn member(text: &mut String, id: u64, class: &str, corner_mm: [f64; 3], size_mm: [f64; 3]) {
    let [x, y, z] = corner_mm;
    let [width, depth, height] = size_mm;
    let (middle_x, middle_y) = (width / 2.0, depth / 2.0);
    let record = |text: &mut String, offset: u64, body: &str| writeln!(text, "#{}={body};", id + offset).unwrap();
    record(text, 0, &format!("{class}('member{id:016}',$,'{class} {id}',$,$,#{},#{},$,$)", id + 1, id + 4));
    record(text, 1, &format!("IFCLOCALPLACEMENT(#30,#{})", id + 2));
    record(text, 2, &format!("IFCAXIS2PLACEMENT3D(#{},$,$)", id + 3));
    record(text, 3, &format!("IFCCARTESIANPOINT(({x:?},{y:?},{z:?}))"));
    record(text, 4, &format!("IFCPRODUCTDEFINITIONSHAPE($,$,(#{}))", id + 5));
    record(text, 5, &format!("IFCSHAPEREPRESENTATION($,'Body','SweptSolid',(#{}))", id + 6));
    record(text, 6, &format!("IFCEXTRUDEDAREASOLID(#{},$,#9,{height:?})", id + 7));
    record(text, 7, &format!("IFCRECTANGLEPROFILEDEF(.AREA.,$,#{},{width:?},{depth:?})", id + 8));
    record(text, 8, &format!("IFCAXIS2PLACEMENT2D(#{},$)", id + 9));
    record(text, 9, &format!("IFCCARTESIANPOINT(({middle_x:?},{middle_y:?}))"));
}

/// The framing: plates and studs, 145 mm deep, behind a board of 13 mm.
fn framing(text: &mut String) -> Vec<u64> {
    let mut ids = Vec::new();
    for z in [0.0, 2500.0 - PLATE_MM] {
        ids.push(1000 + 20 * ids.len() as u64);
        member(text, *ids.last().unwrap(), "IFCMEMBER", [0.0, 13.0, z], [4000.0, 145.0, PLATE_MM]);
    }
    for x in STUDS_MM {
        ids.push(1000 + 20 * ids.len() as u64);
        let height_mm = 2500.0 - 2.0 * PLATE_MM;
        member(text, *ids.last().unwrap(), "IFCMEMBER", [x, 13.0, PLATE_MM], [45.0, 145.0, height_mm]);
    }
    ids
}

fn model(has_body: bool, is_aggregated: bool, members: impl FnOnce(&mut String) -> Vec<u64>) -> String {
    let mut text = String::from(
        "ISO-10303-21;\nHEADER;\nFILE_SCHEMA(('IFC4'));\nENDSEC;\nDATA;\n\
         #1=IFCPROJECT('project',$,'P',$,$,$,$,$,#2);\n#2=IFCUNITASSIGNMENT((#3));\n\
         #3=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);\n#9=IFCDIRECTION((0.,0.,1.));\n\
         #30=IFCLOCALPLACEMENT($,#31);\n#31=IFCAXIS2PLACEMENT3D(#32,$,$);\n#32=IFCCARTESIANPOINT((0.,0.,0.));\n",
    );
    let ids = members(&mut text);
    if has_body {
        member(&mut text, 100, "IFCWALL", [0.0, 0.0, 0.0], [4000.0, 158.0, 2500.0]);
    } else {
        text += "#100=IFCWALLELEMENTEDCASE('wall',$,'Wall',$,$,#30,$,$,$);\n";
    }
    if is_aggregated {
        let list: Vec<String> = ids.iter().map(|id| format!("#{id}")).collect();
        writeln!(text, "#200=IFCRELAGGREGATES('parts',$,$,$,#100,({}));", list.join(",")).unwrap();
    }
    text + "ENDSEC;\nEND-ISO-10303-21;\n"
}

fn wall(model: &str, arguments: &[&str]) -> Value {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("wall.ifc");
    std::fs::write(&path, model).unwrap();
    let takeoff = saved_takeoff(&[&path], &[&["--exposure", "all"], arguments].concat());
    surfaces(&takeoff).iter().find(|surface| text(surface, "kind") == "wall").unwrap().clone()
}

/// Two plates of 4.000 m and five studs of 2.410 m, all 45 mm wide.
const MEMBERS_M2: f64 = 2.0 * 4.0 * 0.045 + 5.0 * 2.41 * 0.045;

fn check_framed(wall: &Value) {
    assert_eq!(text(wall, "assembly"), "as modelled");
    assert_near!(number(wall, "gross_area_m2"), 10.0, 1e-9);
    assert_near!(number(wall, "member_area_m2"), MEMBERS_M2, 1e-9);
    assert_near!(number(wall, "bay_area_m2"), 10.0 - MEMBERS_M2, 1e-9);
    assert_eq!(wall["bays"].as_array().unwrap().len(), 4, "one bay between each two studs");
}

#[test]
fn parts_of_a_wall_are_its_framing_and_nothing_is_laid_out() {
    let wall = wall(&model(true, true, framing), &["--frame", "2x4 @ 16 in"]);
    check_framed(&wall);
    assert_near!(number(&wall, "thickness_m"), 0.158, 1e-9);
}

#[test]
fn a_wall_without_a_body_is_measured_by_its_members() {
    let wall = wall(&model(false, true, framing), &[]);
    check_framed(&wall);
    assert_near!(number(&wall, "depth_m"), 0.145, 1e-9);
}

#[test]
fn members_that_stand_inside_a_wall_are_its_framing_too() {
    check_framed(&wall(&model(true, false, framing), &["--frame", "2x4 @ 16 in"]));
}

#[test]
fn a_lone_post_is_taken_out_and_studs_are_laid_out_around_it() {
    let post = |text: &mut String| {
        member(text, 1000, "IFCCOLUMN", [1700.0, 20.0, 0.0], [100.0, 100.0, 2500.0]);
        vec![1000]
    };
    let wall = wall(&model(true, false, post), &["--frame", "2x4 @ 16 in"]);
    let members = wall["members"].as_array().unwrap();
    let roles: Vec<&str> = members.iter().map(|member| text(member, "role")).collect();
    assert!(roles.contains(&"stud") && roles.contains(&"modelled member"), "{roles:?}");
    let post_m2: f64 =
        members.iter().filter(|m| text(m, "role") == "modelled member").map(|m| number(m, "area_m2")).sum();
    assert_near!(post_m2, 0.1 * 2.5, 1e-9);
}

/// A wall of two halves, each a wall of its own, with an opening of 1.000 x 1.200 m across the joint in the whole.
fn halves(whole_has_body: bool) -> String {
    let parts = |text: &mut String| {
        member(text, 1000, "IFCWALL", [0.0, 0.0, 0.0], [2000.0, 158.0, 2500.0]);
        member(text, 1020, "IFCWALL", [2000.0, 0.0, 0.0], [2000.0, 158.0, 2500.0]);
        member(text, 1040, "IFCOPENINGELEMENT", [1500.0, -100.0, 900.0], [1000.0, 400.0, 1200.0]);
        text.push_str("#300=IFCRELVOIDSELEMENT('voids',$,$,$,#100,#1040);\n");
        vec![1000, 1020]
    };
    model(whole_has_body, true, parts).replace("IFCWALLELEMENTEDCASE", "IFCWALL")
}

fn read(model: &str) -> Value {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("wall.ifc");
    std::fs::write(&path, model).unwrap();
    saved_takeoff(&[&path], &[])
}

#[test]
fn a_whole_without_a_body_is_measured_by_its_parts_and_its_opening_goes_through_both() {
    let takeoff = read(&halves(false));
    let walls = surfaces(&takeoff);
    assert_eq!(walls.len(), 2, "the whole is no surface of its own");
    for wall in walls {
        assert_near!(number(wall, "gross_area_m2"), 5.0, 1e-9);
        assert_near!(number(wall, "opening_area_m2"), 0.5 * 1.2, 1e-9);
    }
    let left_out = takeoff["left_out_elements"].as_array().unwrap();
    assert_eq!(left_out.len(), 1);
    assert_eq!(text(&left_out[0], "reason"), "measured by its parts");
}

#[test]
fn a_whole_with_a_body_is_measured_and_its_parts_are_not_counted_again() {
    let takeoff = read(&halves(true));
    let walls = surfaces(&takeoff);
    assert_eq!(walls.len(), 1, "the parts are no surfaces of their own");
    assert_near!(number(&walls[0], "gross_area_m2"), 10.0, 1e-9);
    assert_near!(number(&walls[0], "opening_area_m2"), 1.2, 1e-9);
    let reasons: Vec<&str> =
        takeoff["left_out_elements"].as_array().unwrap().iter().map(|e| text(e, "reason")).collect();
    assert_eq!(reasons, ["a part of #100, which is measured whole"; 2]);
}
