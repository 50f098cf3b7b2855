//! Booleans of outlines whose edges all run along x or y, which most framing has: on their own grid.
//!
//! The grid has a line at every coordinate of the operands and no other, so that every corner of the
//! result is a corner of the grid: nothing is snapped and nothing is computed but which cells are in.

use super::solid::Operation;
use super::{Point, Polygon, Ring};

/// Coordinates closer than this are one line of the grid: what differs by rounding alone, in metres.
const SAME_LINE_M: f64 = 1e-12;
/// More cells than this are left to the engine for polygons of any shape.
const MOST_CELLS: usize = 1 << 18;

/// Combines two regions; `None` where an edge slopes or the grid would be too large.
///
/// A region is what lies inside any of its polygons. Pieces that meet in no more than a corner are
/// polygons of their own.
pub(super) fn combine(subject: &[Polygon], clip: &[Polygon], operation: Operation) -> Option<Vec<Polygon>> {
    let grid = Grid::of(subject, clip)?;
    let (subject, clip) = (grid.windings(subject), grid.windings(clip));
    let is_in = |(subject, clip): (&i32, &i32)| match operation {
        Operation::Union => *subject != 0 || *clip != 0,
        Operation::Intersection => *subject != 0 && *clip != 0,
        Operation::Difference => *subject != 0 && *clip == 0,
    };
    let inside: Vec<bool> = subject.iter().zip(&clip).map(is_in).collect();
    Some(Cells { grid: &grid, inside }.polygons())
}

/// The lines of the grid: sorted coordinates.
struct Grid {
    xs: Vec<f64>,
    ys: Vec<f64>,
}

impl Grid {
    fn of(subject: &[Polygon], clip: &[Polygon]) -> Option<Self> {
        let rings = || subject.iter().chain(clip).flat_map(|polygon| &polygon.rings);
        if !rings().all(is_upright) {
            return None;
        }
        let lines = |axis: usize| lines(rings().flatten().filter_map(|point| point.get(axis).copied()).collect());
        let (xs, ys) = (lines(0), lines(1));
        (xs.len() * ys.len() <= MOST_CELLS).then_some(Self { xs, ys })
    }

    fn column(&self, x: f64) -> usize {
        self.xs.partition_point(|line| *line < x - SAME_LINE_M)
    }

    fn line(&self, y: f64) -> usize {
        self.ys.partition_point(|line| *line < y - SAME_LINE_M)
    }

    /// How often the rings wind around each cell; the cell right of and above a corner has the corner's index.
    fn windings(&self, polygons: &[Polygon]) -> Vec<i32> {
        let width = self.xs.len();
        let mut windings = vec![0_i32; width * self.ys.len()];
        for ring in polygons.iter().flat_map(|polygon| &polygon.rings) {
            for (from, to) in ring.iter().zip(ring.iter().cycle().skip(1)) {
                let (low, high) = (self.line(from[1].min(to[1])), self.line(from[1].max(to[1])));
                let column = self.column(from[0]);
                // To the right of an edge that runs down lies the inside of a ring that turns left.
                let step = if to[1] < from[1] { 1 } else { -1 };
                for row in low..high {
                    if let Some(winding) = windings.get_mut(row * width + column) {
                        *winding += step;
                    }
                }
            }
        }
        for row in windings.chunks_mut(width.max(1)) {
            let mut sum = 0;
            for winding in row {
                sum += *winding;
                *winding = sum;
            }
        }
        windings
    }
}

fn is_upright(ring: &Ring) -> bool {
    ring.iter().zip(ring.iter().cycle().skip(1)).all(|(a, b)| {
        let (dx, dy) = ((a[0] - b[0]).abs(), (a[1] - b[1]).abs());
        dx <= SAME_LINE_M || dy <= SAME_LINE_M
    })
}

fn lines(mut coordinates: Vec<f64>) -> Vec<f64> {
    coordinates.sort_by(f64::total_cmp);
    coordinates.dedup_by(|next, kept| *next - *kept <= SAME_LINE_M);
    coordinates
}

/// East, north, west, south: each a left turn from the one before.
const DIRECTIONS: [u8; 4] = [0, 1, 2, 3];

/// Which cells are in.
struct Cells<'g> {
    grid: &'g Grid,
    inside: Vec<bool>,
}

impl Cells<'_> {
    /// The pieces, from below and from the left.
    fn polygons(&self) -> Vec<Polygon> {
        let labels = self.labels();
        let mut ways = self.ways();
        let mut pieces: Vec<Polygon> = Vec::new();
        let mut holes: Vec<(usize, Ring)> = Vec::new();
        for start in 0..ways.len() {
            for direction in DIRECTIONS {
                while ways.get(start).is_some_and(|way| way & (1 << direction) != 0) {
                    let ring = self.trace(start, direction, &mut ways);
                    let label = self.left_of(start, direction).and_then(|cell| labels.get(cell).copied().flatten());
                    let Some(label) = label else { continue };
                    if turns_left(&ring) {
                        // Cells are numbered from the left and from below, and so are the rings around them.
                        pieces.resize_with(pieces.len().max(label + 1), Polygon::default);
                        if let Some(piece) = pieces.get_mut(label) {
                            piece.rings.insert(0, ring);
                        }
                    } else {
                        holes.push((label, ring));
                    }
                }
            }
        }
        for (label, hole) in holes {
            if let Some(piece) = pieces.get_mut(label) {
                piece.rings.push(hole);
            }
        }
        pieces
    }

    fn is_in(&self, cell: Option<usize>) -> bool {
        cell.and_then(|cell| self.inside.get(cell)).copied().unwrap_or(false)
    }

    fn width(&self) -> usize {
        self.grid.xs.len()
    }

    /// The cell left of the edge that leaves a corner in a direction.
    fn left_of(&self, corner: usize, direction: u8) -> Option<usize> {
        let width = self.width();
        let is_first = width == 0 || corner.is_multiple_of(width);
        match direction {
            0 => Some(corner),
            1 | 2 if is_first => None,
            1 => corner.checked_sub(1),
            2 => corner.checked_sub(width + 1),
            _ => corner.checked_sub(width),
        }
    }

    /// For each corner the directions in which a border leaves it, with the inside on its left.
    fn ways(&self) -> Vec<u8> {
        (0..self.inside.len())
            .map(|corner| {
                let left = |direction: u8| self.is_in(self.left_of(corner, direction));
                // Right of an edge lies what is left of the next one to the right.
                let right = |direction: u8| left((direction + 3) % 4);
                DIRECTIONS.iter().filter(|d| left(**d) && !right(**d)).fold(0, |way, d| way | (1 << d))
            })
            .collect()
    }

    /// Follows a border around, keeping to the left where two meet in a corner.
    fn trace(&self, start: usize, direction: u8, ways: &mut [u8]) -> Ring {
        let (mut corner, mut heading) = (start, direction);
        let mut ring = Ring::new();
        let mut last = None;
        while let Some(way) = ways.get_mut(corner)
            && *way & (1 << heading) != 0
        {
            *way &= !(1 << heading);
            if last != Some(heading) {
                ring.extend(self.point(corner));
            }
            last = Some(heading);
            corner = self.next(corner, heading);
            let turns = [(heading + 1) % 4, heading, (heading + 3) % 4];
            let onward = ways.get(corner).copied().unwrap_or(0);
            heading = turns.into_iter().find(|turn| onward & (1 << turn) != 0).unwrap_or(heading);
        }
        // A ring that was begun in the middle of an edge has that place as a point.
        if last == Some(direction) && ring.len() > 1 {
            ring.remove(0);
        }
        ring
    }

    fn next(&self, corner: usize, direction: u8) -> usize {
        match direction {
            0 => corner + 1,
            1 => corner + self.width(),
            2 => corner.saturating_sub(1),
            _ => corner.saturating_sub(self.width()),
        }
    }

    fn point(&self, corner: usize) -> Option<Point> {
        let width = self.width().max(1);
        Some([*self.grid.xs.get(corner % width)?, *self.grid.ys.get(corner / width)?])
    }

    /// Number of the piece that each cell is in; cells that share an edge are in one piece.
    fn labels(&self) -> Vec<Option<usize>> {
        let width = self.width();
        let mut labels: Vec<Option<usize>> = vec![None; self.inside.len()];
        let mut count = 0;
        let mut open: Vec<usize> = Vec::new();
        for first in 0..self.inside.len() {
            if !self.is_in(Some(first)) || labels.get(first).copied().flatten().is_some() {
                continue;
            }
            open.push(first);
            while let Some(cell) = open.pop() {
                let Some(label) = labels.get_mut(cell) else { continue };
                if label.is_some() || !self.is_in(Some(cell)) {
                    continue;
                }
                *label = Some(count);
                // The last column and the last line begin no cell, so that nothing wraps around.
                open.extend(
                    [Some(cell + 1), cell.checked_sub(1), Some(cell + width), cell.checked_sub(width)].iter().flatten(),
                );
            }
            count += 1;
        }
        labels
    }
}

fn turns_left(ring: &Ring) -> bool {
    super::polygon::signed_area_m2(ring) > 0.0
}
