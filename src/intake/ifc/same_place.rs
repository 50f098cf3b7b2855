//! Elements that stand twice in one place, as copies that were pasted where they came from.

use super::file::File;
use crate::finding::{Code, Finding};
use crate::geometry::Point;
use crate::model::{Standing, Surface};
use std::collections::HashMap;

/// Places closer than this are one, in metres.
const SAME_M: f64 = 1e-3;
/// Areas that differ by less than this share are one.
const SAME_SHARE: f64 = 1e-6;
/// Width of the cells that surfaces are looked up by, in metres.
const CELL_M: f64 = 0.01;

type Cell = [i64; 3];

/// A warning for each element that coincides with one before it.
pub fn twice(file: &File<'_>, surfaces: &[Surface]) -> Vec<Finding> {
    let mut by_cell: HashMap<Cell, Vec<&Surface>> = HashMap::new();
    let mut findings = Vec::new();
    for surface in surfaces.iter().filter(|surface| surface.part == 0 && !surface.is_demolished) {
        let Some([x, y, z]) = surface.standing.as_ref().and_then(cell) else { continue };
        let mut cells = (-1..=1).flat_map(|i| (-1..=1).flat_map(move |j| (-1..=1).map(move |k| [x + i, y + j, z + k])));
        let other = cells.find_map(|near| {
            by_cell.get(&near).and_then(|all| all.iter().find(|other| coincide(surface, other)).copied())
        });
        match other {
            Some(other) => findings.push(said(file, surface, other)),
            None => by_cell.entry([x, y, z]).or_default().push(surface),
        }
    }
    findings
}

fn said(file: &File<'_>, surface: &Surface, other: &Surface) -> Finding {
    let named = |one: &Surface| {
        let entity = one.source.entity.as_deref().unwrap_or_default();
        one.name.as_ref().map_or_else(|| entity.to_owned(), |name| format!("{entity} `{name}`"))
    };
    let number = surface.source.entity.as_deref().and_then(|entity| entity.trim_start_matches('#').parse().ok());
    let message = format!(
        "{} and {} stand in one place and are alike: both are counted; take one of them out of the model",
        named(other),
        named(surface)
    );
    Finding::warning(Code::SamePlace, &file.place(number.unwrap_or(0), Some(&surface.id)), message)
}

fn coincide(one: &Surface, other: &Surface) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() < SAME_M;
    let (Some(here), Some(there)) = (&one.standing, &other.standing) else { return false };
    let (area, other_area) = (one.gross_area_m2(), other.gross_area_m2());
    let is_thick = |a: Option<f64>, b: Option<f64>| a.zip(b).is_none_or(|(a, b)| near(a, b));
    one.kind == other.kind
        && near(here.level_m, there.level_m)
        && (area - other_area).abs() <= SAME_SHARE * area
        && is_thick(one.thickness_m, other.thickness_m)
        && holds(&here.plan_m, &there.plan_m)
        && holds(&there.plan_m, &here.plan_m)
}

/// Whether each point of a run lies at one of another's, in whatever order.
fn holds(run: &[Point], points: &[Point]) -> bool {
    points.iter().all(|p| run.iter().any(|q| (p[0] - q[0]).hypot(p[1] - q[1]) < SAME_M))
}

/// The cell of the middle of a place.
fn cell(standing: &Standing) -> Option<Cell> {
    let count = f64::from(u32::try_from(standing.plan_m.len()).ok().filter(|count| *count > 0)?);
    let sum = standing.plan_m.iter().fold([0.0, 0.0], |sum, p| [sum[0] + p[0], sum[1] + p[1]]);
    #[allow(clippy::cast_possible_truncation, reason = "no building lies farther out than the clamp")]
    let whole = |value: f64| (value / CELL_M).clamp(-1e15, 1e15).floor() as i64;
    Some([whole(sum[0] / count), whole(sum[1] / count), whole(standing.level_m)])
}
