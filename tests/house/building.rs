//! The sample house as a building to write: its sheets, and where each surface stands.

use super::sheets::{OpeningRow, SurfaceRow, openings, surfaces};
use crate::support::step_writer::{
    BuildingSpec, Filling, LengthUnit, OpeningSpec, SlabClass, SlabSpec, SlabTypeSpec, StoreySpec, Top, WallSpec,
    WallTypeSpec,
};

const INCH_M: f64 = 0.0254;
const STUD_2X6: f64 = 5.5;
const STUD_2X4: f64 = 3.5;
const BOARD: f64 = 0.5;
const SHEATHING: f64 = 7.0 / 16.0;
const SUBFLOOR: f64 = 0.75;
/// Joists of 9 1/4 in. and a subfloor of 3/4 in. between the storeys.
const FLOOR_M: f64 = 10.0 * INCH_M;

/// A layer, in inches.
type Layer = (&'static str, f64);

/// Types of walls by the assembly of the sheet: layers from outside to inside, those outside of the framing first.
fn wall_type(assembly: &str) -> (&'static str, Vec<Layer>) {
    let framed = |layer: Layer| vec![("Sheathing", SHEATHING), layer, ("Gypsum board", BOARD)];
    match assembly {
        "outer wall" => ("Outer wall 2x6", framed(("Timber stud with loose fill", STUD_2X6))),
        "partition" => {
            ("Partition 2x4", vec![("Gypsum board", BOARD), ("Timber stud", STUD_2X4), ("Gypsum board", BOARD)])
        }
        "staggered wall" => ("Staggered wall", framed(("Timber studs on a 2x6 plate", STUD_2X6))),
        "double-stud wall" => ("Double-stud wall", framed(("Timber studs in two rows", 12.0))),
        "steel-stud wall" => ("Steel-stud wall", framed(("Steel stud", 3.625))),
        "strapped wall" => ("Strapped wall", framed(("Timber studs and strapping", 7.0))),
        "stair wall" => ("Stair wall 2x4", framed(("Timber stud", STUD_2X4))),
        "knee wall" => ("Knee wall 2x4", framed(("Timber stud", STUD_2X4))),
        "old wall" => ("Old wall", vec![("Boards", 0.875), ("Timber stud", 3.75), ("Lath and plaster", 0.875)]),
        "balloon wall" => ("Balloon wall", vec![("Boards", 0.875), ("Timber stud", 3.75), ("Lath and plaster", 0.875)]),
        "brick wall" => ("Brick wall", vec![("Plaster", 0.0), ("Brick", 8.0), ("Plaster", 0.625)]),
        other => panic!("the house has no wall type for `{other}`"),
    }
}

/// Types of what lies by the assembly of the sheet: layers from below.
fn slab_type(assembly: &str) -> (&'static str, SlabClass, Vec<Layer>) {
    let roof = |depth: f64| vec![("Gypsum board", BOARD), ("Rafters", depth), ("Sheathing", SHEATHING)];
    match assembly {
        "crawl floor" => ("Crawl floor", SlabClass::Floor, vec![("I-joists", 11.875), ("Subfloor", SUBFLOOR)]),
        "truss floor" => {
            let layers = vec![("Gypsum board", BOARD), ("Timber joist, parallel chords", 14.0), ("Subfloor", SUBFLOOR)];
            ("Truss floor", SlabClass::Floor, layers)
        }
        "joist floor" => ("Joist floor", SlabClass::Floor, vec![("Joists", 9.25), ("Subfloor", SUBFLOOR)]),
        "overhang" => ("Overhang", SlabClass::Floor, vec![("Joists", 9.25), ("Subfloor", SUBFLOOR)]),
        "attic floor" => ("Attic floor", SlabClass::Ceiling, vec![("Gypsum board", BOARD), ("Joists", 3.5)]),
        "vented roof" => ("Vented roof", SlabClass::RoofSlab, roof(9.25)),
        "unvented roof" => ("Unvented roof", SlabClass::RoofSlab, roof(7.25)),
        "porch roof" => ("Porch roof", SlabClass::Roof, roof(5.5)),
        other => panic!("the house has no type for `{other}`"),
    }
}

fn in_metres(layers: Vec<Layer>) -> Vec<(String, f64)> {
    layers
        .into_iter()
        .filter(|(_, inches)| *inches > 0.0)
        .map(|(name, inches)| (name.to_owned(), inches * INCH_M))
        .collect()
}

/// Thickness outside of the framing.
fn outside_m(layers: &[Layer]) -> f64 {
    layers.first().map_or(0.0, |(_, inches)| inches * INCH_M)
}

/// The house, from its sheets and from where its surfaces stand.
pub fn house() -> BuildingSpec {
    let (rows, openings) = (surfaces(), openings());
    let storey_m = rows.first().expect("the house has walls").height_m;
    let names = |is_wall: bool| {
        let mut all: Vec<String> = Vec::new();
        for row in rows.iter().filter(|row| (row.kind == "wall") == is_wall) {
            if !all.contains(&row.assembly) {
                all.push(row.assembly.clone());
            }
        }
        all
    };
    let (walls, slabs) = (names(true), names(false));
    let place =
        |of: &[String], row: &SurfaceRow| of.iter().position(|name| *name == row.assembly).expect("it has a type");
    let storey = |name: &str, elevation_m: f64| {
        let own = || rows.iter().filter(|row| row.storey == name);
        StoreySpec {
            name: name.to_owned(),
            elevation_m,
            walls: own()
                .filter(|row| row.kind == "wall")
                .map(|row| wall(row, place(&walls, row), &openings, &rows))
                .collect(),
            slabs: own()
                .filter(|row| row.kind != "wall")
                .map(|row| slab(row, place(&slabs, row), &openings, storey_m))
                .collect(),
        }
    };
    BuildingSpec {
        name: "House".to_owned(),
        unit: LengthUnit::Inch,
        storeys: vec![storey("Ground floor", 0.0), storey("Upper floor", storey_m + FLOOR_M)],
        types: walls.iter().map(|name| wall_type_spec(name)).collect(),
        slab_types: slabs.iter().map(|name| slab_type_spec(name)).collect(),
    }
}

fn wall_type_spec(assembly: &str) -> WallTypeSpec {
    let (name, layers) = wall_type(assembly);
    WallTypeSpec { name: name.to_owned(), offset_m: -outside_m(&layers), layers: in_metres(layers) }
}

fn slab_type_spec(assembly: &str) -> SlabTypeSpec {
    let (name, class, layers) = slab_type(assembly);
    SlabTypeSpec { name: name.to_owned(), class, layers: in_metres(layers) }
}

/// Bodies are plain boxes as long as their framing, so boards of two walls overlap by their thickness in a corner.
fn wall(row: &SurfaceRow, wall_type: usize, openings: &[OpeningRow], rows: &[SurfaceRow]) -> WallSpec {
    let (origin_m, direction) = stand(&row.id, rows);
    WallSpec {
        name: row.id.clone(),
        wall_type,
        is_external: Some(row.exposure != "interior"),
        origin_m,
        direction,
        length_m: row.length_m,
        height_m: row.height_m,
        top: match (row.peak_m, row.height_2_m) {
            (Some(peak_m), _) if row.id == "U-E" => Top::GableClipped { peak_m },
            (Some(peak_m), _) => Top::GableProfile { peak_m },
            (None, Some(right_m)) => Top::Raked { right_m },
            (None, None) if !row.outline_m.is_empty() => Top::Outline(row.outline_m.clone()),
            (None, None) => Top::Level,
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

fn slab(row: &SurfaceRow, slab_type: usize, openings: &[OpeningRow], storey_m: f64) -> SlabSpec {
    let [length_m, height_m] = [row.length_m, row.height_m];
    let ([x, y, z], direction) = lie(&row.id, slab_type_spec(&row.assembly).thickness_m(), storey_m);
    // A platform is no hole, and no name says how far fill stays off a light.
    let own = openings.iter().filter(|opening| opening.surface == row.id && opening.kind != "platform");
    let named = |row: &OpeningRow| {
        let words = [row.id.as_str(), row.kind.as_str(), row.flue.as_str()];
        let name = words.into_iter().filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ");
        OpeningSpec { name, ..opening(row) }
    };
    SlabSpec {
        name: row.id.clone(),
        slab_type,
        is_external: Some(row.exposure != "interior"),
        origin_m: [x, y, z],
        direction,
        slope: row.slope,
        outline_m: vec![[0.0, 0.0], [length_m, 0.0], [length_m, height_m], [0.0, height_m]],
        openings: own.map(named).collect(),
    }
}

/// Left end and direction of a wall's reference line, the outside of its framing.
///
/// The walls to the south and north own the corners; those to the east and west stand between them. The wings stand off
/// the house, the new one to the east and the old one to the west.
fn stand(id: &str, rows: &[SurfaceRow]) -> ([f64; 2], [f64; 2]) {
    let length = |id: &str| rows.iter().find(|row| row.id == id).map_or(0.0, |row| row.length_m) / INCH_M;
    let (east, north) = (length("G-S"), length("G-E") + 2.0 * STUD_2X6);
    let [new_west, old_west] = [new_west(east), OLD_WEST];
    let (new_east, old_east) = (new_west + length("N-S"), old_west + length("O-S"));
    let (to_east, to_north, to_west, to_south) = ([1.0, 0.0], [0.0, 1.0], [-1.0, 0.0], [0.0, -1.0]);
    let (at, direction) = match id {
        "G-S" | "U-S" => ([0.0, 0.0], to_east),
        "G-E" | "U-E" => ([east, STUD_2X6], to_north),
        "G-N" | "U-N" => ([east, north], to_west),
        "G-W" | "U-W" => ([0.0, north - STUD_2X6], to_south),
        "P-1" => ([STUD_2X6 + BOARD, 142.0], to_east),
        "P-2" => ([STUD_2X6 + BOARD, 165.0], to_east),
        "N-S" => ([new_west, 0.0], to_east),
        "N-E" => ([new_east, STUD_2X6], to_north),
        "N-N" => ([new_east, WING_NORTH], to_west),
        "N-W" => ([new_west, WING_NORTH - 3.625], to_south),
        "N-T" => ([new_west + 24.0, 100.0], to_east),
        "N-A" => ([new_west + 84.0, 48.0], to_east),
        "N-K" => ([new_west, 30.0], to_east),
        "O-S" => ([old_west, 0.0], to_east),
        "O-E" => ([old_east, STUD_2X6], to_north),
        "O-N" => ([old_east, WING_NORTH], to_west),
        "O-W" => ([old_west, WING_NORTH - 3.75], to_south),
        _ => panic!("the house has no place for the wall `{id}`"),
    };
    (at.map(|inches: f64| inches * INCH_M), direction)
}

/// West side of the old wing, in inches.
const OLD_WEST: f64 = -300.0;
/// North side of both wings.
const WING_NORTH: f64 = 192.0;

/// West side of the new wing, in inches.
fn new_west(east: f64) -> f64 {
    east + 60.0
}

/// Where the outline of what lies begins, on its underside and above its storey, and the direction of its x.
fn lie(id: &str, thickness_m: f64, storey_m: f64) -> ([f64; 3], [f64; 2]) {
    let thickness = thickness_m / INCH_M;
    let new_west = new_west(373.0);
    let east = [1.0, 0.0];
    let (at, direction) = match id {
        "F-1" => ([5.5, 5.5, -thickness], east),
        "A-1" => ([5.5, 5.5, storey_m / INCH_M], east),
        "N-F" => ([new_west + 6.0, 6.0, -thickness], east),
        // Between the knee walls' outer sides, the slopes come down to the plates.
        "N-V" => ([new_west - 12.0, -12.0, 6.0], east),
        "N-D" => ([new_west + 300.0, 204.0, 6.0], [-1.0, 0.0]),
        "N-P" => ([new_west + 60.0, -84.0, 84.0], east),
        // Against the inner faces of the walls to the south and west.
        "O-U" => ([OLD_WEST + 4.625, 6.0, -thickness], east),
        // Out over the wall below.
        "O-B" => ([OLD_WEST + 60.0, -24.0, -thickness], east),
        _ => panic!("the house has no place for `{id}`"),
    };
    (at.map(|inches: f64| inches * INCH_M), direction)
}
