//! The sample house as a building model: the same walls and openings as in its measured sheets.
//!
//! `UPDATE_SAMPLES=1 cargo test house` writes `samples/house.ifc` anew.

mod sheets;

use crate::support::assert_near;
use crate::support::project_file;
use crate::support::run::{number, saved_takeoff, surfaces, text};
use crate::support::step_writer::{
    BuildingSpec, Filling, LengthUnit, OpeningSpec, StoreySpec, Top, WallSpec, WallTypeSpec, write_building,
};
use sheets::{OpeningRow, SurfaceRow};

const INCH_M: f64 = 0.0254;
const STUD_2X6_M: f64 = 5.5 * INCH_M;
const STUD_2X4_M: f64 = 3.5 * INCH_M;
const BOARD_M: f64 = 0.5 * INCH_M;
const SHEATHING_M: f64 = 7.0 / 16.0 * INCH_M;
/// Joists of 9 1/4 in. and a subfloor of 3/4 in. between the storeys.
const FLOOR_M: f64 = 10.0 * INCH_M;
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

#[test]
fn the_house_measures_the_same_from_either_format() {
    let model = saved_takeoff(&[&project_file(STORED)], &["--exposure", "all"]);
    let sheets = saved_takeoff(
        &[&project_file("samples/house-surfaces.csv"), &project_file("samples/house-openings.csv")],
        &["--exposure", "all"],
    );
    let walls = surfaces(&model);
    assert_eq!(walls.len(), surfaces(&sheets).len());
    for row in surfaces(&sheets) {
        let id = text(row, "id");
        let wall = walls.iter().find(|wall| text(wall, "name") == id).unwrap_or_else(|| panic!("no wall named `{id}`"));
        for key in ["gross_area_m2", "opening_area_m2"] {
            assert_near!(number(wall, key), number(row, key), 1e-6, "{key} of {id}");
        }
        assert_eq!(text(wall, "storey"), text(row, "storey"), "storey of {id}");
    }
}

/// The house, from its sheets and from where its walls stand.
fn house() -> BuildingSpec {
    let (rows, openings) = (sheets::surfaces(), sheets::openings());
    let storey_m = rows.first().expect("the house has walls").height_m;
    let storey = |name: &str, elevation_m: f64| StoreySpec {
        name: name.to_owned(),
        elevation_m,
        walls: rows.iter().filter(|row| row.storey == name).map(|row| wall(row, &openings, &rows)).collect(),
    };
    BuildingSpec {
        name: "House".to_owned(),
        unit: LengthUnit::Inch,
        types: vec![outer_wall(), partition()],
        storeys: vec![storey("Ground floor", 0.0), storey("Upper floor", storey_m + FLOOR_M)],
    }
}

fn outer_wall() -> WallTypeSpec {
    let layers = vec![
        ("Sheathing".to_owned(), SHEATHING_M),
        ("Timber stud with loose fill".to_owned(), STUD_2X6_M),
        ("Gypsum board".to_owned(), BOARD_M),
    ];
    WallTypeSpec { name: "Outer wall 2x6".to_owned(), layers, offset_m: -SHEATHING_M }
}

fn partition() -> WallTypeSpec {
    let board = || ("Gypsum board".to_owned(), BOARD_M);
    let layers = vec![board(), ("Timber stud".to_owned(), STUD_2X4_M), board()];
    WallTypeSpec { name: "Partition 2x4".to_owned(), layers, offset_m: -BOARD_M }
}

/// Bodies are plain boxes as long as their framing, so boards of two walls overlap by their thickness in a corner.
fn wall(row: &SurfaceRow, openings: &[OpeningRow], rows: &[SurfaceRow]) -> WallSpec {
    let is_partition = row.exposure == "interior";
    let (origin_m, direction) = stand(&row.id, rows);
    WallSpec {
        name: row.id.clone(),
        wall_type: usize::from(is_partition),
        is_external: Some(!is_partition),
        origin_m,
        direction,
        length_m: row.length_m,
        height_m: row.height_m,
        top: match (row.peak_m, row.id.as_str()) {
            (None, _) => Top::Level,
            (Some(peak_m), "U-E") => Top::GableClipped { peak_m },
            (Some(peak_m), _) => Top::GableProfile { peak_m },
        },
        openings: openings.iter().filter(|opening| opening.surface == row.id).map(opening).collect(),
    }
}

fn opening(row: &OpeningRow) -> OpeningSpec {
    OpeningSpec {
        name: row.id.clone(),
        filling: match row.kind.as_str() {
            "door" => Filling::Door,
            "window" => Filling::Window,
            _ => Filling::Nothing,
        },
        left_m: row.offset_m,
        sill_m: row.sill_m,
        width_m: row.width_m,
        height_m: row.height_m,
    }
}

/// Left end and direction of a wall's reference line, the outside of its framing.
///
/// The walls to the south and north own the corners; those to the east and west stand between them.
fn stand(id: &str, rows: &[SurfaceRow]) -> ([f64; 2], [f64; 2]) {
    let length_m = |id: &str| rows.iter().find(|row| row.id == id).map_or(0.0, |row| row.length_m);
    let (east, north) = (length_m("G-S"), length_m("G-E") + 2.0 * STUD_2X6_M);
    match id {
        "G-S" | "U-S" => ([0.0, 0.0], [1.0, 0.0]),
        "G-E" | "U-E" => ([east, STUD_2X6_M], [0.0, 1.0]),
        "G-N" | "U-N" => ([east, north], [-1.0, 0.0]),
        "G-W" | "U-W" => ([0.0, north - STUD_2X6_M], [0.0, -1.0]),
        "P-1" => ([STUD_2X6_M + BOARD_M, 3.6], [1.0, 0.0]),
        "P-2" => ([STUD_2X6_M + BOARD_M, 4.2], [1.0, 0.0]),
        _ => panic!("the house has no place for the wall `{id}`"),
    }
}
