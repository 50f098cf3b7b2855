//! Outlines and pieces as areas that can be computed again.

use super::step::{Figure, Line, Operation};
use crate::geometry::{Bounds, Polygon};

/// Rings of more corners than this are not listed; they stand in the JSON.
const MOST_CORNERS: usize = 24;
/// Lengths and areas that differ by less are the same, in metres and square metres.
const SAME: f64 = 1e-9;

/// An outline that is an upright rectangle.
pub(super) fn rectangle(rings: &[Vec<[f64; 2]>]) -> Option<Bounds> {
    let [ring] = rings else { return None };
    let bounds = Bounds::of(ring)?;
    let at = |value: f64, one: f64, other: f64| (value - one).abs() < SAME || (value - other).abs() < SAME;
    let is_corner = |[x, y]: &[f64; 2]| at(*x, bounds.min_x, bounds.max_x) && at(*y, bounds.min_y, bounds.max_y);
    (ring.len() == 4 && ring.iter().all(is_corner)).then_some(bounds)
}

/// An area from its outline: width by height of a rectangle, else from its corners; where it has none it is given.
pub(super) fn lines(what: &str, rings: &[Vec<[f64; 2]>], area_m2: f64) -> Vec<Line> {
    if let Some(bounds) = rectangle(rings) {
        let (width, height) = (Figure::length(bounds.width_m()), Figure::length(bounds.height_m()));
        return vec![Line::step(what, width, [(Operation::Times, height)], Figure::area(area_m2))];
    }
    let mut all = Vec::new();
    let mut total: Vec<(Operation, Figure)> = Vec::new();
    for (index, ring) in rings.iter().enumerate() {
        let signed_m2 = signed_area_m2(ring);
        let kind = if signed_m2 < 0.0 { "hole" } else { "outline" };
        let name = if rings.len() > 1 { format!("{what}, {kind} {}", index + 1) } else { what.to_owned() };
        let area = Figure::area(signed_m2.abs());
        all.push(if ring.len() > MOST_CORNERS {
            Line::given(name, area, format!("{} corners, in `outline_m` of the JSON", ring.len()))
        } else {
            Line::Corners { what: name, points: ring.clone(), area }
        });
        total.push((if signed_m2 < 0.0 { Operation::Minus } else { Operation::Plus }, area));
    }
    match total.split_first() {
        None => all.push(Line::given(what, Figure::area(area_m2), "only its area is known")),
        Some((_, [])) => {}
        Some(((_, first), rest)) => {
            all.push(Line::step(what, *first, rest.iter().copied(), Figure::area(area_m2)));
        }
    }
    all
}

/// Area of a ring, positive where it runs counter-clockwise.
fn signed_area_m2(ring: &[[f64; 2]]) -> f64 {
    let sides = ring.iter().zip(ring.iter().cycle().skip(1));
    sides.fold(0.0, |sum, ([x1, y1], [x2, y2])| sum + x1 * y2 - x2 * y1) / 2.0
}

/// A piece: what it is called, its outline and its area.
pub(super) struct Piece<'p> {
    pub name: String,
    pub outline: &'p Polygon,
    pub area_m2: f64,
}

/// Pieces with those of one name and size as one line, and the sum; each line ends in the area of all its pieces.
pub(super) fn pieces(what: &str, all: &[Piece<'_>]) -> Vec<Line> {
    let mut groups: Vec<(&Piece<'_>, Option<Bounds>, f64)> = Vec::new();
    let mut lines = Vec::new();
    for piece in all {
        let own = rectangle(&piece.outline.rings);
        let is_alike = |(other, bounds, _): &&mut (&Piece<'_>, Option<Bounds>, f64)| {
            other.name == piece.name && same_size(bounds.as_ref(), own.as_ref())
        };
        match groups.iter_mut().find(is_alike) {
            Some((.., number)) => *number += 1.0,
            None => groups.push((piece, own, 1.0)),
        }
    }
    let mut parts = Vec::new();
    for (piece, bounds, number) in groups {
        if let Some(bounds) = bounds {
            let area = Figure::area(piece.area_m2 * number);
            let by = [
                (Operation::Times, Figure::length(bounds.width_m())),
                (Operation::Times, Figure::length(bounds.height_m())),
            ];
            lines.push(Line::step(&piece.name, Figure::number(number), by, area));
            parts.push(area);
        } else {
            lines.extend(self::lines(&piece.name, &piece.outline.rings, piece.area_m2));
            parts.push(Figure::area(piece.area_m2));
        }
    }
    let total_m2 = all.iter().fold(0.0, |sum_m2, piece| sum_m2 + piece.area_m2);
    if let Some((first, rest)) = parts.split_first().filter(|(_, rest)| !rest.is_empty()) {
        let rest = rest.iter().map(|part| (Operation::Plus, *part));
        lines.push(Line::step(what, *first, rest, Figure::area(total_m2)));
    }
    lines
}

/// Two rectangles of one size; what is none is like nothing.
fn same_size(one: Option<&Bounds>, other: Option<&Bounds>) -> bool {
    one.zip(other)
        .is_some_and(|(a, b)| (a.width_m() - b.width_m()).abs() < SAME && (a.height_m() - b.height_m()).abs() < SAME)
}
