//! What meets the walls of a model: other walls, and floors.

use super::bands::{Slab, bands_of, slabs_by_x};
use super::file::File;
use super::meetings::Walls;
use super::paths::Paths;
use super::placed::Placed;
use crate::model::{Extent, FloorBand, Junction, Surface, SurfaceKind};
use rayon::prelude::*;

/// Place of `PredefinedType` among the arguments of a slab, in every schema that is read.
const PREDEFINED_TYPE: usize = 8;

/// Fills in the junctions and the floor bands of walls; `placed` says by index which surfaces stand where.
pub fn fill_in(file: &File<'_>, placed: &[(usize, Placed)], surfaces: &mut [Surface]) {
    let read: &[Surface] = surfaces;
    let of_kind = |kind: SurfaceKind| {
        let is = move |(index, _): &&(usize, Placed)| read.get(*index).is_some_and(|surface| surface.kind == kind);
        placed.iter().filter(is)
    };
    let walls = Walls::of(of_kind(SurfaceKind::Wall).map(|(_, wall)| wall.clone()), Paths::read(file));
    let slabs = slabs_by_x(of_kind(SurfaceKind::Floor).filter_map(|(index, placed)| {
        // A slab on the ground carries walls and runs into none.
        let on_ground = file.record(placed.entity).is_ok_and(|record| record.says(PREDEFINED_TYPE, "BASESLAB"));
        let outline = outline(read.get(*index)?).filter(|_| !on_ground)?.to_vec();
        Some(Slab { placed: placed.clone(), outline })
    }));
    let found: Vec<(usize, Vec<Junction>, Vec<FloorBand>)> = placed
        .par_iter()
        .filter_map(|(index, placed)| {
            let wall = walls.get(placed.entity)?;
            let outline = outline(read.get(*index)?)?;
            Some((*index, walls.junctions_of(wall, file.path()), bands_of(wall, outline, &slabs, file.path())))
        })
        .collect();
    for (index, junctions, bands) in found {
        if let Some(surface) = surfaces.get_mut(index) {
            surface.junctions = junctions;
            surface.floor_bands = bands;
        }
    }
}

fn outline(surface: &Surface) -> Option<&[crate::geometry::Polygon]> {
    match &surface.extent {
        Extent::Outline(outline) => Some(outline),
        Extent::AreaM2(_) => None,
    }
}
