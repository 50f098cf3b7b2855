//! Where a surface stands in the world of its model, as a plan shows it.

use super::placement::Chain;
use super::unrolled::Strip;
use crate::geometry::{Bounds, Frame, Plane, Point, Polygon, Vector};
use crate::model::{Standing, SurfaceKind};

/// Of a surface in one plane, whose outline begins at `origin` there; `None` where it has no extent.
pub fn standing(chain: &Chain, plane: &Plane, origin: Point, gross: &[Polygon], kind: SurfaceKind) -> Option<Standing> {
    let bounds = Bounds::of_polygons(gross)?;
    let from = plane.origin + plane.x * origin[0] + plane.y * origin[1];
    let world = chain.world().compose(&Frame::from_axes(from, plane.x, plane.y, plane.normal));
    let outline: Vec<Point> = if kind == SurfaceKind::Wall {
        vec![[bounds.min_x, bounds.min_y], [bounds.max_x, bounds.min_y]]
    } else {
        let largest = gross.iter().max_by(|a, b| a.area_m2().total_cmp(&b.area_m2()))?;
        largest.rings.first()?.clone()
    };
    let points: Vec<Vector> = outline.iter().map(|point| world.plane_point(point)).collect();
    of_points(&points)
}

/// Of a wall that was unrolled along `strips`, whose outline begins so high above the element's origin.
pub fn unrolled_standing(chain: &Chain, strips: &[Strip], low_m: f64) -> Option<Standing> {
    let first = strips.first().map(|strip| strip.place(0.0, low_m));
    let points: Vec<Vector> = first
        .into_iter()
        .chain(strips.iter().map(|strip| strip.place(1.0, low_m)))
        .map(|point| chain.world().point(&point))
        .collect();
    of_points(&points)
}

fn of_points(points: &[Vector]) -> Option<Standing> {
    let level_m = points.iter().map(|point| point.z).reduce(f64::min)?;
    let is_finite = points.iter().all(|point| point.iter().all(|value| value.is_finite()));
    is_finite.then(|| Standing { plan_m: points.iter().map(|point| [point.x, point.y]).collect(), level_m })
}
