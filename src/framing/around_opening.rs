//! King studs, jack studs, header and rough sill around an opening.

use super::edge::Face;
use super::edges::plate_bands;
use super::openings_by_width::opening_rule;
use super::site::{Site, oriented, overlap};
use super::{LayoutRules, MemberRow};
use crate::geometry::tolerance::COINCIDENT_M;
use crate::geometry::{Bounds, Polygon};
use crate::model::{Opening, OpeningKind, Surface, SurfaceKind};

/// An opening as framing sees it.
pub(super) struct RoughOpening<'a> {
    /// Its id.
    pub(super) id: &'a str,
    /// What fills it.
    pub(super) kind: OpeningKind,
    /// Its own shape.
    pub(super) shape: Vec<Polygon>,
    /// The box around it, clearance included.
    pub(super) clear: Bounds,
    /// The same with the box that lines it, if any: what framing surrounds.
    pub(super) rough: Bounds,
}

/// The framing of one opening, as boxes that are still to be cut to the free ground.
#[derive(Default)]
pub(super) struct Around {
    pub(super) kings: Vec<Bounds>,
    pub(super) jacks: Vec<Bounds>,
    pub(super) header: Option<Bounds>,
    /// Depth of the header through the wall, in metres; `None` where it is solid.
    pub(super) header_depth_m: Option<f64>,
    pub(super) sill: Option<Bounds>,
    /// From the outside of one jack (or pair) to that of the other.
    pub(super) zone: [f64; 2],
    /// The same from king to king.
    pub(super) reach: [f64; 2],
    /// Whether it is to have a header at all.
    pub(super) wants_header: bool,
    /// Whether all of it finds room.
    pub(super) fits: bool,
}

impl Around {
    /// All boxes.
    fn boxes(&self) -> impl Iterator<Item = &Bounds> {
        self.kings.iter().chain(&self.jacks).chain(&self.header).chain(&self.sill)
    }
}

/// The openings of a surface that have a shape.
///
/// The sizes of a sheet are those of rough openings, which need no clearance on top.
pub(super) fn rough_openings<'a>(surface: &'a Surface, rules: &LayoutRules) -> Vec<RoughOpening<'a>> {
    let is_of_sheet = surface.source.line.is_some() && surface.source.entity.is_none();
    let clearance_m = if is_of_sheet { 0.0 } else { rules.clearance_m };
    let is_lined = surface.kind == SurfaceKind::Wall && !rules.is_rim;
    let lining_m = rules.opening_box_m.filter(|_| is_lined).unwrap_or(0.0);
    surface.openings.iter().filter_map(|opening| rough_opening(opening, clearance_m, lining_m)).collect()
}

fn rough_opening(opening: &Opening, clearance_m: f64, lining_m: f64) -> Option<RoughOpening<'_>> {
    let shape: Vec<Polygon> = opening.outline.iter().map(oriented).collect();
    let own = Bounds::of_polygons(&shape)?;
    let has_extent = own.width_m() > COINCIDENT_M && own.height_m() > COINCIDENT_M;
    // A door stands on the floor: nothing is shimmed below it, nor lined.
    let is_door = opening.kind == OpeningKind::Door;
    let around = |bounds: Bounds, by_m: f64| Bounds {
        min_x: bounds.min_x - by_m,
        max_x: bounds.max_x + by_m,
        min_y: bounds.min_y - if is_door { 0.0 } else { by_m },
        max_y: bounds.max_y + by_m,
    };
    let clear = around(own, clearance_m);
    let rough = around(clear, lining_m);
    has_extent.then_some(RoughOpening { id: &opening.id, kind: opening.kind, shape, clear, rough })
}

/// Lays out what stands around every opening of a wall.
pub(super) fn frame_openings(
    site: &Site,
    openings: &[RoughOpening<'_>],
    row: &MemberRow,
    rules: &LayoutRules,
) -> Vec<Around> {
    let top_plates = plate_bands(site, Face::Top, f64::from(rules.top_plates) * rules.plate_m(row));
    let mut all: Vec<Around> = openings.iter().map(|opening| frame_opening(site, opening, row, rules)).collect();
    for (i, around) in all.iter_mut().enumerate() {
        let others = openings.iter().enumerate().filter(|(j, _)| *j != i).map(|(_, other)| &other.rough);
        around.fits &= !others.clone().any(|other| around.boxes().any(|own| overlap(own, other)));
        let has_room = around.header.is_some_and(|header| !lies_in_a_band(&header, &top_plates));
        around.fits &= has_room || !around.wants_header;
    }
    all
}

fn frame_opening(site: &Site, opening: &RoughOpening<'_>, row: &MemberRow, rules: &LayoutRules) -> Around {
    let Bounds { min_x, min_y, max_x, max_y } = opening.rough;
    let (width, middle_y) = (row.post_width_m(), f64::midpoint(min_y, max_y));
    let own = opening_rule(rules, opening.rough.width_m());
    let jacks_m = width * f64::from(own.jack_studs);
    let kings_m = width * f64::from(own.king_studs);
    let zone = [min_x - jacks_m, max_x + jacks_m];
    let reach = [zone[0] - kings_m, zone[1] + kings_m];
    let upright = |x: [f64; 2], top: Option<f64>| {
        let y = site.reach_at(f64::midpoint(x[0], x[1]), middle_y);
        site.rectangle(x, [y[0], top.unwrap_or(y[1])])
    };
    let run = site.run_at(f64::midpoint(min_x, max_x), middle_y).unwrap_or([site.bounds.min_y, site.bounds.max_y]);
    let plate_m = rules.plate_m(row);
    let bottom_plate_m = f64::from(rules.bottom_plates) * plate_m;
    let sill_m = f64::from(own.sill_plates) * plate_m;
    // An opening that begins within the bottom plate stands on what is left of the plate.
    let has_sill = min_y > run[0] + bottom_plate_m + COINCIDENT_M;
    Around {
        kings: [[reach[0], zone[0]], [zone[1], reach[1]]].into_iter().filter_map(|x| upright(x, None)).collect(),
        jacks: [[zone[0], min_x], [max_x, zone[1]]].into_iter().filter_map(|x| upright(x, Some(max_y))).collect(),
        header: site.rectangle(zone, [max_y, max_y + own.header_height_m]),
        header_depth_m: own.header_depth_m,
        sill: site.rectangle([min_x, max_x], [min_y - sill_m, min_y]).filter(|_| has_sill),
        zone,
        reach,
        wants_header: own.header_height_m > 0.0,
        fits: has_ground_beside(site, reach, middle_y),
    }
}

/// Whether the outermost studs beside an opening stand inside the outline.
fn has_ground_beside(site: &Site, reach: [f64; 2], y: f64) -> bool {
    let inside = |x: f64| site.run_at(x, y).is_some_and(|run| run[0] <= y && y <= run[1]);
    inside(reach[0] + COINCIDENT_M) && inside(reach[1] - COINCIDENT_M)
}

/// Whether the middle of a box's lower edge, just above it, is covered by a plate: then a header has no room.
fn lies_in_a_band(header: &Bounds, bands: &[Polygon]) -> bool {
    let (x, y) = (f64::midpoint(header.min_x, header.max_x), header.min_y + COINCIDENT_M);
    bands.iter().any(|band| {
        let beyond = |ring: &Vec<[f64; 2]>| {
            let edges = ring.iter().zip(ring.iter().cycle().skip(1));
            edges.filter(|(a, b)| (a[0] <= x) != (b[0] <= x) && crossing_y(a, b, x) > y).count() % 2 == 1
        };
        band.rings.iter().any(beyond)
    })
}

fn crossing_y(a: &[f64; 2], b: &[f64; 2], x: f64) -> f64 {
    a[1] + (x - a[0]) / (b[0] - a[0]) * (b[1] - a[1])
}
