//! Walls that the tests write themselves, in every unit and shape: their areas follow from their sizes.

use crate::support::assert_near;
use crate::support::run::{number, saved_takeoff, surfaces, text};
use crate::support::step_writer::{
    BuildingSpec, Filling, LengthUnit, OpeningSpec, StoreySpec, Top, WallSpec, WallTypeSpec, write_building,
};

const LENGTH_M: f64 = 6.4;
const HEIGHT_M: f64 = 2.45;
const HIGHER_M: f64 = 3.85;

/// Shape of the top, and its area above the lower height, from the area of a triangle.
const TOPS: [(&str, Top, f64); 4] = [
    ("level", Top::Level, 0.0),
    ("gable as a profile", Top::GableProfile { peak_m: HIGHER_M }, LENGTH_M * (HIGHER_M - HEIGHT_M) / 2.0),
    ("gable as cuts", Top::GableClipped { peak_m: HIGHER_M }, LENGTH_M * (HIGHER_M - HEIGHT_M) / 2.0),
    ("raked", Top::Raked { right_m: HIGHER_M }, LENGTH_M * (HIGHER_M - HEIGHT_M) / 2.0),
];

#[test]
fn areas_follow_from_sizes_in_every_unit() {
    for unit in [LengthUnit::Metre, LengthUnit::Millimetre, LengthUnit::Inch, LengthUnit::Foot] {
        let directory = tempfile::tempdir().expect("a temporary directory");
        let path = directory.path().join("walls.ifc");
        std::fs::write(&path, write_building(&building(unit))).expect("the model can be written");
        let takeoff = saved_takeoff(&[&path], &["--exposure", "all"]);
        for (name, _, above_m2) in TOPS {
            let is_meant = |wall: &&serde_json::Value| text(wall, "name") == name;
            let wall = surfaces(&takeoff).iter().find(is_meant).unwrap_or_else(|| panic!("no wall `{name}`"));
            let gross_m2 = LENGTH_M * HEIGHT_M + above_m2;
            assert_near!(number(wall, "gross_area_m2"), gross_m2, 1e-9 * gross_m2, "{name} in {unit:?}");
            assert_near!(number(wall, "opening_area_m2"), 0.9 * 1.2, 1e-9 * gross_m2, "{name} in {unit:?}");
            assert_near!(number(wall, "thickness_m"), 0.1695, 1e-9, "{name} in {unit:?}");
        }
    }
}

fn building(unit: LengthUnit) -> BuildingSpec {
    let layers = [("Sheathing", 0.012), ("Timber stud", 0.145), ("Gypsum board", 0.0125)];
    let layers = layers.map(|(name, thickness_m)| (name.to_owned(), thickness_m)).to_vec();
    let walls = TOPS.iter().enumerate().map(|(place, (name, top, _))| wall(place, name, top.clone())).collect();
    BuildingSpec {
        name: "Walls".to_owned(),
        unit,
        types: vec![WallTypeSpec { name: "Outer wall".to_owned(), layers, offset_m: -0.012 }],
        slab_types: Vec::new(),
        storeys: vec![StoreySpec { name: "Ground floor".to_owned(), elevation_m: 0.0, walls, slabs: Vec::new() }],
    }
}

/// Walls stand at odd angles, so that nothing rests on the axes of the world.
fn wall(place: usize, name: &str, top: Top) -> WallSpec {
    let (sine, cosine) = (0.4 + place as f64).sin_cos();
    let opening = OpeningSpec {
        name: format!("window of {name}"),
        filling: Filling::Nothing,
        left_m: 2.1,
        sill_m: 0.8,
        width_m: 0.9,
        height_m: 1.2,
    };
    WallSpec {
        name: name.to_owned(),
        wall_type: 0,
        is_external: None,
        origin_m: [20.0 * place as f64, -3.0],
        direction: [cosine, sine],
        length_m: LENGTH_M,
        height_m: HEIGHT_M,
        top,
        openings: vec![opening],
    }
}
