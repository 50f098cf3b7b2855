//! Bodies of unusual but legal shape, written here: their areas follow from their sizes by elementary geometry.

use crate::layers::model::Model;
use crate::support::assert_near;
use cavitally::model::Building;

/// Corners of a wall 5 m by 0.3 m by 3 m, then those of a window of 1 m2 on either side of it.
const WALL: [[f64; 3]; 16] = [
    [0.0, 0.0, 0.0],
    [5.0, 0.0, 0.0],
    [0.0, 0.3, 0.0],
    [5.0, 0.3, 0.0],
    [0.0, 0.0, 3.0],
    [5.0, 0.0, 3.0],
    [0.0, 0.3, 3.0],
    [5.0, 0.3, 3.0],
    [1.0, 0.0, 1.0],
    [2.0, 0.0, 1.0],
    [2.0, 0.0, 2.0],
    [1.0, 0.0, 2.0],
    [1.0, 0.3, 1.0],
    [2.0, 0.3, 1.0],
    [2.0, 0.3, 2.0],
    [1.0, 0.3, 2.0],
];

fn list(values: impl IntoIterator<Item = String>) -> String {
    values.into_iter().collect::<Vec<_>>().join(",")
}

fn point(model: &mut Model, at: &[f64]) -> String {
    model.add(&format!("IFCCARTESIANPOINT(({}))", list(at.iter().map(|x| format!("{x:?}")))))
}

/// A body of faces; the bounds of each as corners by their place, none of them named as the outer one.
fn faces(model: &mut Model, corners: &[[f64; 3]], faces: &[&[&[usize]]]) -> String {
    let points: Vec<String> = corners.iter().map(|corner| point(model, corner)).collect();
    let mut all = Vec::new();
    for bounds in faces {
        let mut ids = Vec::new();
        for bound in *bounds {
            let ring = model.add(&format!("IFCPOLYLOOP(({}))", list(bound.iter().map(|&i| points[i].clone()))));
            ids.push(model.add(&format!("IFCFACEBOUND({ring},.T.)")));
        }
        all.push(model.add(&format!("IFCFACE(({}))", ids.join(","))));
    }
    let shell = model.add(&format!("IFCCLOSEDSHELL(({}))", all.join(",")));
    model.add(&format!("IFCFACETEDBREP({shell})"))
}

fn polyline(model: &mut Model, corners: &[[f64; 2]]) -> String {
    let points: Vec<String> = corners.iter().map(|corner| point(model, corner)).collect();
    model.add(&format!("IFCPOLYLINE(({}))", points.join(",")))
}

/// A closed rectangle from corner to corner.
fn rectangle(model: &mut Model, low: [f64; 2], high: [f64; 2]) -> String {
    polyline(model, &[low, [high[0], low[1]], high, [low[0], high[1]], low])
}

fn extruded(model: &mut Model, profile: &str, depth_m: f64) -> String {
    let up = model.add("IFCDIRECTION((0.,0.,1.))");
    model.add(&format!("IFCEXTRUDEDAREASOLID({profile},$,{up},{depth_m:?})"))
}

fn block(model: &mut Model, size: [f64; 3]) -> String {
    let outline = rectangle(model, [0.0, 0.0], [size[0], size[1]]);
    let profile = model.add(&format!("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,{outline})"));
    extruded(model, &profile, size[2])
}

/// An element with one item as its body, at the origin; its name is its GlobalId too.
fn element(model: &mut Model, class: &str, name: &str, item: &str, kind: &str) {
    let origin = point(model, &[0.0, 0.0, 0.0]);
    let axes = model.add(&format!("IFCAXIS2PLACEMENT3D({origin},$,$)"));
    let placement = model.add(&format!("IFCLOCALPLACEMENT($,{axes})"));
    let representation = model.add(&format!("IFCSHAPEREPRESENTATION($,'Body','SolidModel',({item}))"));
    let shape = model.add(&format!("IFCPRODUCTDEFINITIONSHAPE($,$,({representation}))"));
    model.add(&format!("{class}('{name}',$,'{name}',$,$,{placement},{shape},$,{kind})"));
}

/// Number of surfaces of an element, gross and opening area.
fn areas(building: &Building, name: &str) -> (usize, f64, f64) {
    let surfaces: Vec<_> = building.surfaces.iter().filter(|surface| surface.id == name).collect();
    let gross_m2 = surfaces.iter().map(|surface| surface.gross_area_m2()).sum();
    (surfaces.len(), gross_m2, surfaces.iter().map(|surface| surface.opening_area_m2()).sum())
}

#[track_caller]
fn check(building: &Building, name: &str, (count, gross_m2, opening_m2): (usize, f64, f64)) {
    let found = areas(building, name);
    assert_eq!(found.0, count, "surfaces of `{name}`");
    assert_near!(found.1, gross_m2, 1e-9, "gross area of `{name}`");
    assert_near!(found.2, opening_m2, 1e-9, "openings of `{name}`");
}

#[test]
fn a_hole_may_be_given_before_the_outline_of_its_face() {
    // No bound need be named as the outer one: ISO 16739-1, IfcFace, HasOuterBound asks for one at most.
    let mut model = Model::new();
    let body = faces(
        &mut model,
        &WALL,
        &[
            &[&[0, 2, 3, 1]],
            &[&[4, 5, 7, 6]],
            &[&[8, 11, 10, 9], &[0, 1, 5, 4]],
            &[&[12, 13, 14, 15], &[2, 6, 7, 3]],
            &[&[0, 4, 6, 2]],
            &[&[1, 3, 7, 5]],
            &[&[8, 9, 13, 12]],
            &[&[9, 10, 14, 13]],
            &[&[10, 11, 15, 14]],
            &[&[11, 8, 12, 15]],
        ],
    );
    element(&mut model, "IFCWALL", "wall", &body, "$");
    check(&model.read(&[]), "wall", (1, 5.0 * 3.0, 1.0));
}

#[test]
fn a_solid_hipped_roof_has_its_four_slopes() {
    let mut model = Model::new();
    let corners =
        [[0.0, 0.0, 0.0], [10.0, 0.0, 0.0], [10.0, 6.0, 0.0], [0.0, 6.0, 0.0], [3.0, 3.0, 2.0], [7.0, 3.0, 2.0]];
    let sides: [&[&[usize]]; 5] = [&[&[3, 2, 1, 0]], &[&[0, 1, 5, 4]], &[&[1, 2, 5]], &[&[2, 3, 4, 5]], &[&[3, 0, 4]]];
    let body = faces(&mut model, &corners, &sides);
    element(&mut model, "IFCROOF", "roof", &body, "$");
    // All slopes rise 2 m over 3 m, so that their area is that of the plan by the slope of one of them.
    check(&model.read(&[]), "roof", (4, 10.0 * 6.0 * (1.0 + (2.0_f64 / 3.0).powi(2)).sqrt(), 0.0));
}

#[test]
fn what_stands_is_no_ceiling_or_floor_and_a_narrow_strip_is() {
    let mut model = Model::new();
    let body = block(&mut model, [5.0, 0.05, 3.0]);
    element(&mut model, "IFCCOVERING", "lining", &body, ".INSULATION.");
    let body = block(&mut model, [0.2, 5.0, 4.0]);
    element(&mut model, "IFCSLAB", "panel", &body, ".FLOOR.");
    let body = block(&mut model, [5.0, 0.15, 0.3]);
    element(&mut model, "IFCSLAB", "strip", &body, ".FLOOR.");
    let body = block(&mut model, [1.0, 1.0, 1.5]);
    element(&mut model, "IFCSLAB", "pad", &body, ".BASESLAB.");
    let building = model.read(&[]);
    for name in ["lining", "panel"] {
        assert_eq!(areas(&building, name).0, 0, "{name}");
        let left_out = building.left_out.iter().find(|element| element.id == name).expect("it is named");
        assert!(left_out.reason.contains("stands upright"), "{}", left_out.reason);
    }
    check(&building, "strip", (1, 5.0 * 0.15, 0.0));
    check(&building, "pad", (1, 1.0, 0.0));
}

#[test]
fn profiles_about_a_line_and_with_voids_that_overlap_are_measured() {
    let mut model = Model::new();
    let line = polyline(&mut model, &[[0.0, 0.0], [5.0, 0.0]]);
    let profile = model.add(&format!("IFCCENTERLINEPROFILEDEF(.AREA.,$,{line},0.3)"));
    let body = extruded(&mut model, &profile, 3.0);
    element(&mut model, "IFCWALL", "thin", &body, "$");
    let outline = rectangle(&mut model, [0.0, 0.0], [6.0, 3.0]);
    let voids = [([1.0, 1.0], [2.0, 2.0]), ([1.5, 1.0], [3.0, 2.0])];
    let voids = voids.map(|(low, high)| rectangle(&mut model, low, high));
    let profile = model.add(&format!("IFCARBITRARYPROFILEDEFWITHVOIDS(.AREA.,$,{outline},({}))", voids.join(",")));
    let body = extruded(&mut model, &profile, 0.2);
    element(&mut model, "IFCSLAB", "slab", &body, ".FLOOR.");
    let building = model.read(&[]);
    check(&building, "thin", (1, 5.0 * 3.0, 0.0));
    // 1 m by 1 m and 1.5 m by 1 m, of which 0.5 m2 is the same.
    check(&building, "slab", (1, 6.0 * 3.0, 2.0));
}

#[test]
fn a_body_may_meet_a_half_space() {
    // With the agreement flag set the half-space lies below the plane: z < 2 - (x - 3) / 2.
    let mut model = Model::new();
    let body = block(&mut model, [6.0, 0.3, 3.0]);
    let origin = point(&mut model, &[3.0, 0.0, 2.0]);
    let normal = model.add("IFCDIRECTION((0.5,0.,1.))");
    let axes = model.add(&format!("IFCAXIS2PLACEMENT3D({origin},{normal},$)"));
    let plane = model.add(&format!("IFCPLANE({axes})"));
    let half = model.add(&format!("IFCHALFSPACESOLID({plane},.T.)"));
    let cut = model.add(&format!("IFCBOOLEANRESULT(.INTERSECTION.,{body},{half})"));
    element(&mut model, "IFCWALL", "wall", &cut, "$");
    // Full height over the first metre, then from 3 m down to 0.5 m over 5 m.
    check(&model.read(&[]), "wall", (1, 3.0 + 5.0 * (3.0 + 0.5) / 2.0, 0.0));
}
