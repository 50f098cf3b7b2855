//! Walls written by another library's builder, read back: the areas that were asked for.

use crate::support::assert_near;
use crate::support::run::{number, saved_takeoff, surfaces, text};
use ifc_rs::prelude::*;
use serde_json::Value;

const LAYERS_M: [(&str, f64); 3] = [("Sheathing", 0.012), ("Timber stud", 0.145), ("Gypsum board", 0.0125)];

#[test]
fn a_plain_wall_has_the_area_that_was_asked_for() {
    let wall = measure(|storey, usage, wall_type| {
        let size = VerticalWallParameter { height: 2.7, length: 6.35, placement: [1.0, 2.0, 0.0].into() };
        drop(storey.vertical_wall(usage, wall_type, "wall", size));
    });
    assert_near!(number(&wall, "gross_area_m2"), 2.7 * 6.35, 1e-9);
    assert_near!(number(&wall, "opening_area_m2"), 0.0, 0.0);
    assert_near!(number(&wall, "thickness_m"), 0.1695, 1e-9);
}

#[test]
fn an_opening_takes_its_own_area() {
    let wall = measure(|storey, usage, wall_type| {
        let size = VerticalWallParameter { height: 2.7, length: 6.35, placement: [0.0, 0.0, 0.0].into() };
        let mut wall = storey.vertical_wall(usage, wall_type, "wall", size);
        for (left_m, sill_m) in [(1.2, 0.9), (3.7, 0.4)] {
            let hole = OpeningParameter { height: 1.25, length: 0.8, placement: [left_m, 0.0, sill_m].into() };
            let _id = wall.vertical_opening("opening", hole);
        }
    });
    assert_near!(number(&wall, "gross_area_m2"), 2.7 * 6.35, 1e-9);
    assert_near!(number(&wall, "opening_area_m2"), 2.0 * 1.25 * 0.8, 1e-9);
}

#[test]
fn a_gable_has_the_area_of_its_pentagon() {
    let wall = measure(|storey, usage, wall_type| {
        let outline = [[0.0, 0.0], [6.0, 0.0], [6.0, 2.4], [3.0, 4.65], [0.0, 2.4], [0.0, 0.0]];
        let coords = outline.iter().map(|point| (*point).into()).collect();
        let size = VerticalArbitraryWallParameter { coords, placement: [0.0, 0.0, 0.0].into() };
        drop(storey.vertical_arbitrary_wall(usage, wall_type, "wall", size));
    });
    assert_near!(number(&wall, "gross_area_m2"), 6.0 * 2.4 + 6.0 * 2.25 / 2.0, 1e-9);
}

/// The one wall of a model, as the takeoff has it.
fn measure(
    add_wall: impl FnOnce(&mut IfcStoreyBuilder<'_>, TypedId<MaterialLayerSetUsage>, TypedId<WallType>),
) -> Value {
    let directory = tempfile::tempdir().expect("a temporary directory");
    let path = directory.path().join("wall.ifc");
    std::fs::write(&path, model(add_wall)).expect("the model can be written");
    let takeoff = saved_takeoff(&[&path], &["--exposure", "all"]);
    let walls: Vec<_> = surfaces(&takeoff).iter().filter(|surface| text(surface, "kind") == "wall").collect();
    assert_eq!(walls.len(), 1, "one wall was written");
    walls[0].clone()
}

fn model(
    add_wall: impl FnOnce(&mut IfcStoreyBuilder<'_>, TypedId<MaterialLayerSetUsage>, TypedId<WallType>),
) -> String {
    let mut project = IfcProjectBuilder::new(
        ApplicationInfo {
            developer: Organization::new(None, "Tests", None),
            version: "1",
            name: "Tests",
            short_name: "tests",
        },
        OwnerInfo { owner: Person::empty().given_name("Tester"), organization_name: "Tests" },
        "Walls",
    );
    {
        let mut site = project.new_site("Site", [0.0, 0.0, 0.0].into());
        let mut building = site.new_building("Building", [0.0, 0.0, 0.0].into());
        let mut storey = building.new_storey("Ground floor", 0.0);
        let layers = LAYERS_M
            .map(|(name, thickness_m)| storey.material_layer(name, MaterialLayer::new(thickness_m, false).name(name)));
        let set = storey.material_layer_set(layers);
        let usage =
            storey.material_layer_set_usage(set, LayerSetDirectionEnum::Axis2, DirectionSenseEnum::Positive, 0.0);
        let wall_type = storey.wall_type(set, "Outer wall", WallTypeEnum::NotDefined);
        add_wall(&mut storey, usage, wall_type);
    }
    project.build()
}
