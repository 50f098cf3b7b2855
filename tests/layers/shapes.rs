//! Walls and roofs whose bodies are not plain plates: bent, folded, cut out of a block, stepped, with pilasters.
//!
//! Expected areas are those of the shapes as they are drawn, by elementary geometry: a bent wall has the length of the line
//! in its middle, a slope of a roof its plan over the cosine of its pitch.

use super::model::{Model, surface};
use crate::support::assert_near;
use cavitally::finding::Code;
use cavitally::model::Building;

const HEIGHT_M: f64 = 3.0;
const THICKNESS_M: f64 = 0.2;

/// A body: an outline in the plane of two axes, swept along the third; with its half-spaces, which are taken away.
struct Body<'a> {
    class: &'a str,
    outline_m: Vec<[f64; 2]>,
    /// Direction of the sweep: `z` up from a plan, `y` level from an elevation.
    is_elevation: bool,
    sweep_m: f64,
    /// A point and the way in which the material that is taken lies.
    cuts: Vec<([f64; 3], [f64; 3])>,
}

fn real(values: &[f64]) -> String {
    let all: Vec<String> = values.iter().map(|value| format!("{value:?}")).collect();
    format!("({})", all.join(","))
}

fn add(model: &mut Model, name: &str, body: &Body<'_>) {
    let mut points: Vec<String> =
        body.outline_m.iter().map(|point| model.add(&format!("IFCCARTESIANPOINT({})", real(point)))).collect();
    points.push(points[0].clone());
    let line = model.add(&format!("IFCPOLYLINE(({}))", points.join(",")));
    let profile = model.add(&format!("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,{line})"));
    let origin = model.add("IFCCARTESIANPOINT((0.,0.,0.))");
    let along = model.add("IFCDIRECTION((1.,0.,0.))");
    // An elevation's outline stands in x and z, and is swept towards y.
    let axis = model.add(if body.is_elevation { "IFCDIRECTION((0.,-1.,0.))" } else { "IFCDIRECTION((0.,0.,1.))" });
    let axes = model.add(&format!("IFCAXIS2PLACEMENT3D({origin},{axis},{along})"));
    let way = model.add(if body.is_elevation { "IFCDIRECTION((0.,0.,-1.))" } else { "IFCDIRECTION((0.,0.,1.))" });
    let mut item = model.add(&format!("IFCEXTRUDEDAREASOLID({profile},{axes},{way},{:?})", body.sweep_m));
    for (point, normal) in &body.cuts {
        let at = model.add(&format!("IFCCARTESIANPOINT({})", real(point)));
        let normal = model.add(&format!("IFCDIRECTION({})", real(normal)));
        let plane = model.add(&format!("IFCAXIS2PLACEMENT3D({at},{normal},$)"));
        let plane = model.add(&format!("IFCPLANE({plane})"));
        let half = model.add(&format!("IFCHALFSPACESOLID({plane},.F.)"));
        item = model.add(&format!("IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,{item},{half})"));
    }
    let representation = model.add(&format!("IFCSHAPEREPRESENTATION($,'Body','Clipping',({item}))"));
    let shape = model.add(&format!("IFCPRODUCTDEFINITIONSHAPE($,$,({representation}))"));
    let end = if body.class == "IFCSLAB" { ".ROOF." } else { "$" };
    let level = model.add(&format!("IFCAXIS2PLACEMENT3D({origin},$,$)"));
    let placement = model.add(&format!("IFCLOCALPLACEMENT($,{level})"));
    model.add(&format!("{}('{name}',$,'{name}',$,$,{placement},{shape},$,{end})", body.class));
}

fn read(body: &Body<'_>) -> Building {
    let mut model = Model::new();
    add(&mut model, "it", body);
    model.read(&[])
}

fn gross_m2(building: &Building) -> f64 {
    building.surfaces.iter().map(cavitally::model::Surface::gross_area_m2).sum()
}

fn wall(outline_m: Vec<[f64; 2]>) -> Body<'static> {
    Body { class: "IFCWALL", outline_m, is_elevation: false, sweep_m: HEIGHT_M, cuts: Vec::new() }
}

/// The plan of a wall along a line of legs, each so long and turned from the one before: its sides at half a thickness,
/// meeting at mitres.
fn bent(legs: &[(f64, f64)]) -> Vec<[f64; 2]> {
    let mut line = vec![[0.0, 0.0]];
    let mut ways: Vec<f64> = Vec::new();
    for (length_m, turn_deg) in legs {
        let way = ways.last().copied().unwrap_or(0.0) + turn_deg.to_radians();
        let [x, y] = line[line.len() - 1];
        line.push([x + length_m * way.cos(), y + length_m * way.sin()]);
        ways.push(way);
    }
    let offset = |index: usize, side_m: f64| {
        let before = ways[index.saturating_sub(1).min(ways.len() - 1)];
        let after = ways[index.min(ways.len() - 1)];
        let (middle, half) = (f64::midpoint(before, after), (after - before) / 2.0);
        let far_m = side_m / half.cos();
        [line[index][0] - far_m * middle.sin(), line[index][1] + far_m * middle.cos()]
    };
    let right = (0..line.len()).map(|index| offset(index, -THICKNESS_M / 2.0));
    let left = (0..line.len()).rev().map(|index| offset(index, THICKNESS_M / 2.0));
    right.chain(left).collect()
}

#[test]
fn a_bent_wall_is_as_long_as_the_line_in_its_middle() {
    let kinks = [2.0, 3.0, 5.0, 8.0, 10.0, 15.0, 45.0];
    let mut walls: Vec<Vec<(f64, f64)>> = kinks.iter().map(|turn| vec![(4.0, 0.0), (4.0, *turn)]).collect();
    walls.extend([
        vec![(4.0, 0.0), (3.6, 6.0)],
        vec![(4.0, 0.0), (0.5, 20.0)],
        vec![(4.0, 0.0), (4.0, 6.0), (4.0, -6.0)],
    ]);
    // Bay windows.
    walls.extend([30.0, 40.0, 45.0].map(|turn| vec![(0.9, 0.0), (1.8, turn), (0.9, turn)]));
    for legs in walls {
        let building = read(&wall(bent(&legs)));
        let due = HEIGHT_M * legs.iter().map(|(length_m, _)| length_m).sum::<f64>();
        assert_near!(gross_m2(&building), due, 1e-9 * due, "{legs:?}");
    }
}

/// A parallelogram has slanting ends, and no bend.
#[test]
fn a_wall_with_slanting_ends_is_flat() {
    let slanting = vec![[0.0, 0.0], [0.5, 0.0], [0.7, 0.2], [0.2, 0.2]];
    assert_near!(gross_m2(&read(&wall(slanting))), 0.5 * HEIGHT_M, 1e-9);
}

#[test]
fn a_low_gable_in_one_body_has_two_slopes() {
    for pitch_deg in [1.0_f64, 2.0, 3.0, 5.0, 10.0] {
        let rise = 4.0 * pitch_deg.to_radians().tan();
        let outline_m = vec![[0.0, 0.0], [4.0, rise], [8.0, 0.0], [8.0, 0.25], [4.0, rise + 0.25], [0.0, 0.25]];
        let roof = Body { class: "IFCSLAB", outline_m, is_elevation: true, sweep_m: 6.0, cuts: Vec::new() };
        let building = read(&roof);
        assert_eq!(building.surfaces.len(), 2, "{pitch_deg}");
        let due = 8.0 * 6.0 / pitch_deg.to_radians().cos();
        assert_near!(gross_m2(&building), due, 1e-6 * due, "{pitch_deg}");
    }
}

/// A roof slope as a block between two half-spaces, 0.3 m apart.
#[test]
fn a_slope_cut_out_of_a_block_has_its_own_pitch() {
    for pitch_deg in [5.0_f64, 20.0, 30.0, 45.0] {
        let (sin, cos) = pitch_deg.to_radians().sin_cos();
        let outline_m = vec![[0.0, 0.0], [8.0, 0.0], [8.0, 6.0], [0.0, 6.0]];
        let cuts = vec![([0.0, 0.0, 0.3 / cos], [-sin, 0.0, cos]), ([0.0, 0.0, 0.0], [sin, 0.0, -cos])];
        let roof = Body { class: "IFCSLAB", outline_m, is_elevation: false, sweep_m: 12.0, cuts };
        let building = read(&roof);
        let found = surface(&building, "it");
        let due = 8.0 * 6.0 / cos;
        assert_near!(gross_m2(&building), due, 1e-6 * due, "{pitch_deg}");
        assert_near!(found.pitch_deg.unwrap(), pitch_deg, 1e-6, "pitch");
        assert_near!(found.thickness_m.unwrap(), 0.3, 1e-4, "thickness");
    }
}

#[test]
fn a_wall_cut_out_of_a_thick_block_has_the_thickness_that_is_left() {
    let block = vec![[0.0, 0.0], [4.0, 0.0], [4.0, 1.0], [0.0, 1.0]];
    for (cuts, due_m) in [
        (vec![([0.0, 0.2, 0.0], [0.0, 1.0, 0.0])], 0.2),
        (vec![([0.0, 0.4, 0.0], [0.0, -1.0, 0.0]), ([0.0, 0.6, 0.0], [0.0, 1.0, 0.0])], 0.2),
    ] {
        let building = read(&Body { cuts, ..wall(block.clone()) });
        assert_near!(gross_m2(&building), 4.0 * HEIGHT_M, 1e-9);
        assert_near!(surface(&building, "it").thickness_m.unwrap(), due_m, 1e-6);
    }
}

/// A slope for drainage keeps the flat side that it was cut from.
#[test]
fn a_slab_with_a_falling_top_lies_level() {
    let outline_m = vec![[0.0, 0.0], [8.0, 0.0], [8.0, 6.0], [0.0, 6.0]];
    let cuts = vec![([0.0, 0.0, 0.2], [-0.02, 0.0, 1.0])];
    let slab = Body { class: "IFCSLAB", outline_m, is_elevation: false, sweep_m: 1.0, cuts };
    let building = read(&slab);
    assert_near!(gross_m2(&building), 48.0, 1e-9);
    assert_near!(surface(&building, "it").pitch_deg.unwrap(), 0.0, 1e-9);
}

#[test]
fn a_wall_with_parts_beyond_its_sides_is_measured_between_them() {
    let mut pilasters = vec![[0.0, 0.0], [8.0, 0.0], [8.0, 0.2]];
    for middle_m in [7.0, 5.0, 3.0, 1.0] {
        pilasters.extend([
            [middle_m + 0.15, 0.2],
            [middle_m + 0.15, 0.5],
            [middle_m - 0.15, 0.5],
            [middle_m - 0.15, 0.2],
        ]);
    }
    pilasters.push([0.0, 0.2]);
    let stub = vec![[0.0, 0.0], [8.0, 0.0], [8.0, 0.2], [4.1, 0.2], [4.1, 2.0], [3.9, 2.0], [3.9, 0.2], [0.0, 0.2]];
    for plan in [pilasters, stub] {
        let building = read(&wall(plan));
        assert_near!(gross_m2(&building), 8.0 * HEIGHT_M, 1e-9);
        let named =
            building.findings.iter().any(|one| one.code == Code::SectionVaries && one.message.contains("beyond"));
        assert!(named, "{:?}", building.findings);
    }
}

/// Half of it 0.2 m and half 0.5 m thick: the plane through the middle meets the thick half alone.
#[test]
fn a_step_in_a_body_without_layers_is_named() {
    let stepped = vec![[0.0, 0.0], [8.0, 0.0], [8.0, 0.2], [4.0, 0.2], [4.0, 0.5], [0.0, 0.5]];
    let building = read(&wall(stepped));
    assert_near!(gross_m2(&building), 4.0 * HEIGHT_M, 1e-9);
    let found = building.findings.iter().find(|one| one.code == Code::SectionVaries).expect("a finding");
    assert!(found.message.contains("24.000 m2 at its side"), "{}", found.message);
    // A mitre changes it evenly, and the middle is the mean.
    let mitred = vec![[0.0, 0.0], [8.0, 0.0], [7.8, 0.2], [0.2, 0.2]];
    let building = read(&wall(mitred));
    assert_near!(gross_m2(&building), 7.8 * HEIGHT_M, 1e-9);
    assert!(building.findings.iter().all(|one| one.code != Code::SectionVaries));
}

#[test]
fn a_wall_that_lies_level_is_no_wall() {
    let building = read(&Body { sweep_m: 0.2, ..wall(vec![[0.0, 0.0], [4.0, 0.0], [4.0, 2.7], [0.0, 2.7]]) });
    assert!(building.surfaces.is_empty());
    let reason = &building.left_out[0].reason;
    assert!(reason.contains("lies level"), "{reason}");
}

/// A round plate on a slope, cut out of a column of so many sides: beyond what is looked at it is left out, with the reason.
#[test]
fn a_plate_cut_out_of_a_column_of_many_sides_is_measured_or_named() {
    let (sin, cos) = 30.0_f64.to_radians().sin_cos();
    let column = |sides: u32| {
        let turn = std::f64::consts::TAU / f64::from(sides);
        let corner = |index: u32| (f64::from(index) * turn).sin_cos();
        let outline_m = (0..sides).map(corner).map(|(y, x)| [4.0 + 4.0 * x, 4.0 + 4.0 * y]).collect();
        let cuts = vec![([0.0, 0.0, 0.3 / cos], [-sin, 0.0, cos]), ([0.0, 0.0, 0.0], [sin, 0.0, -cos])];
        read(&Body { class: "IFCSLAB", outline_m, is_elevation: false, sweep_m: 12.0, cuts })
    };
    // Area of a polygon of 100 corners on a circle of 4 m, over the cosine of the slope.
    let due = 0.5 * 100.0 * 16.0 * (std::f64::consts::TAU / 100.0).sin() / cos;
    assert_near!(gross_m2(&column(100)), due, 1e-5 * due);
    let many = column(500);
    assert!(many.surfaces.is_empty() && many.left_out[0].reason.contains("too many planes"), "{:?}", many.left_out);
}
