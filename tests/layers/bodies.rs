//! Where an element has its body, and bodies that are odd in form only.
//!
//! Every wall is a box 4 m long, 0.2 m thick and 3 m high: 12 m2.

use super::model::{Box3, Model, surface};
use crate::support::assert_near;
use cavitally::finding::{Code, Severity};
use cavitally::model::Building;

const WALL: Box3 = ([0.0, 0.0, 0.0], [4.0, 0.2, 3.0]);

/// Corners of the wall's box, and its faces, counted from 1.
const CORNERS: &str = "(0.,0.,0.),(4.,0.,0.),(4.,0.2,0.),(0.,0.2,0.),(0.,0.,3.),(4.,0.,3.),(4.,0.2,3.),(0.,0.2,3.)";
const FACES: [&str; 6] = ["(1,4,3,2)", "(5,6,7,8)", "(1,2,6,5)", "(2,3,7,6)", "(3,4,8,7)", "(4,1,5,8)"];

fn representation(model: &mut Model, identifier: &str, kind: &str, items: &[String]) -> String {
    model.add(&format!("IFCSHAPEREPRESENTATION($,{identifier},{kind},({}))", items.join(",")))
}

#[track_caller]
fn is_whole(building: &Building, what: &str) {
    let area_m2: f64 = surface(building, "wall").gross_area_m2();
    assert_near!(area_m2, 12.0, 1e-9, "{what}");
}

fn faces(model: &mut Model, faces: &[&str]) -> String {
    let points = model.add(&format!("IFCCARTESIANPOINTLIST3D(({CORNERS}))"));
    let faces: Vec<String> = faces.iter().map(|face| model.add(&format!("IFCINDEXEDPOLYGONALFACE({face})"))).collect();
    model.add(&format!("IFCPOLYGONALFACESET({points},$,({}),$)", faces.join(",")))
}

#[test]
fn meshes_that_close_together_are_one_body() {
    let mut model = Model::new();
    let items = [faces(&mut model, &FACES[..4]), faces(&mut model, &FACES[4..])];
    let body = representation(&mut model, "'Body'", "'Tessellation'", &items);
    model.wall_of("wall", &[body]);
    is_whole(&model.read(&[]), "two meshes");
    // One that does not close with the others stays open.
    let mut model = Model::new();
    let items = [faces(&mut model, &FACES[..3]), faces(&mut model, &FACES[4..])];
    let body = representation(&mut model, "'Body'", "'Tessellation'", &items);
    model.wall_of("wall", &[body]);
    assert!(model.read(&[]).surfaces.is_empty());
}

#[test]
fn a_face_that_stands_twice_counts_once() {
    let mut model = Model::new();
    let mut twice = FACES.to_vec();
    twice.push("(6,7,8,5)");
    let item = faces(&mut model, &twice);
    let body = representation(&mut model, "'Body'", "'Tessellation'", &[item]);
    model.wall_of("wall", &[body]);
    let building = model.read(&[]);
    is_whole(&building, "a face twice");
    let said: Vec<_> = building.findings.iter().filter(|finding| finding.code == Code::BodyOpen).collect();
    assert!(said.len() == 1 && said[0].severity == Severity::Note && said[0].message.contains("twice"), "{said:?}");
}

#[test]
fn what_has_no_volume_beside_a_solid_is_passed_over_by_name() {
    for class in ["IFCPOLYLINE", "IFCGEOMETRICSET"] {
        let mut model = Model::new();
        let solid = model.prism(WALL);
        let ends = [[0.0, 0.0, 0.0], [4.0, 0.0, 0.0]];
        let ends = ends.map(|[x, y, z]: [f64; 3]| model.add(&format!("IFCCARTESIANPOINT(({x:?},{y:?},{z:?}))")));
        let line = model.add(&format!("IFCPOLYLINE(({}))", ends.join(",")));
        let extra = if class == "IFCPOLYLINE" { line } else { model.add(&format!("{class}(({line}))")) };
        let body = representation(&mut model, "'Body'", "'SweptSolid'", &[extra.clone(), solid]);
        model.wall_of("wall", &[body]);
        let building = model.read(&[]);
        is_whole(&building, class);
        let said: Vec<_> = building.findings.iter().filter(|f| f.code == Code::BodyNotMeasured).collect();
        assert!(said.len() == 1 && said[0].severity == Severity::Note, "{said:?}");
        assert!(said[0].message.contains(class), "{said:?}");
        // Alone it is no body.
        let mut model = Model::new();
        let point = model.add("IFCCARTESIANPOINT((0.,0.,0.))");
        let body = representation(&mut model, "'Body'", "'SweptSolid'", &[point]);
        model.wall_of("wall", &[body]);
        assert!(model.read(&[]).surfaces.is_empty());
    }
}

// ISO 16739-1 names `Body`, and the type tells what it is; exports leave either out, or name it by its type.
#[test]
fn a_body_is_known_by_its_type_or_its_items_where_it_has_no_name() {
    for (identifier, kind) in [("$", "$"), ("''", "''"), ("$", "'SweptSolid'"), ("'Tessellation'", "$")] {
        let mut model = Model::new();
        let solid = model.prism(WALL);
        let body = representation(&mut model, identifier, kind, &[solid]);
        model.wall_of("wall", &[body]);
        is_whole(&model.read(&[]), &format!("{identifier} {kind}"));
    }
    for kind in ["$", "'MappedRepresentation'"] {
        let mut model = Model::new();
        let solid = model.prism(WALL);
        let mapped = representation(&mut model, "$", "$", &[solid]);
        let origin = model.add("IFCCARTESIANPOINT((0.,0.,0.))");
        let axes = model.add(&format!("IFCAXIS2PLACEMENT3D({origin},$,$)"));
        let map = model.add(&format!("IFCREPRESENTATIONMAP({axes},{mapped})"));
        let target = model.add(&format!("IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,{origin},$,$)"));
        let item = model.add(&format!("IFCMAPPEDITEM({map},{target})"));
        let body = representation(&mut model, "$", kind, &[item]);
        model.wall_of("wall", &[body]);
        is_whole(&model.read(&[]), &format!("mapped {kind}"));
    }
    let mut model = Model::new();
    let solid = model.prism(WALL);
    let axis = representation(&mut model, "'Box'", "$", &[solid]);
    model.wall_of("wall", &[axis]);
    assert!(model.read(&[]).surfaces.is_empty(), "a box around a body is none");
}

// By hand: a profile 3 m by 0.2 m along 4 m. Its x looks along the reference, upwards, so that 3 m of it stand upright
// (ISO 16739-1, `IfcFixedReferenceSweptAreaSolid`; ISO 10303-42, `surface_curve_swept_area_solid`, from memory; an
// independent geometry kernel places both alike).
#[test]
fn a_sweep_along_a_straight_line_is_an_extrusion() {
    for class in ["IFCFIXEDREFERENCESWEPTAREASOLID", "IFCSURFACECURVESWEPTAREASOLID"] {
        for bend_m in [0.0, 0.5] {
            let mut model = Model::new();
            let profile = model.add("IFCRECTANGLEPROFILEDEF(.AREA.,$,$,3.,0.2)");
            let points = [[0.0, 0.0, 1.5], [2.0, bend_m, 1.5], [4.0, 0.0, 1.5]];
            let points =
                points.map(|[x, y, z]: [f64; 3]| model.add(&format!("IFCCARTESIANPOINT(({x:?},{y:?},{z:?}))")));
            let line = model.add(&format!("IFCPOLYLINE(({}))", points.join(",")));
            let up = model.add("IFCDIRECTION((0.,0.,1.))");
            let reference = if class.starts_with("IFCFIXED") {
                up
            } else {
                let axes = model.add(&format!("IFCAXIS2PLACEMENT3D({},{up},$)", points[0]));
                model.add(&format!("IFCPLANE({axes})"))
            };
            let solid = model.add(&format!("{class}({profile},$,{line},$,$,{reference})"));
            let body = representation(&mut model, "'Body'", "'AdvancedSweptSolid'", &[solid]);
            model.wall_of("wall", &[body]);
            let building = model.read(&[]);
            if bend_m == 0.0 {
                is_whole(&building, class);
                assert_near!(surface(&building, "wall").thickness_m.unwrap(), 0.2, 1e-9, "{class}");
            } else {
                assert!(building.surfaces.is_empty(), "{class} along a bend is left out");
            }
        }
    }
}
