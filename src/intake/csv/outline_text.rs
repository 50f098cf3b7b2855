//! The `outline` cell: `0:0; 12':0; 12':8' 1-1/8"; 0:8' 1-1/8"`.
//!
//! Points stand apart by `;` or a line end; each is a length along, a colon and a length up.

use crate::geometry::tolerance::COINCIDENT_M;
use crate::geometry::{Bounds, Point, Polygon, Ring, total_area_m2};
use crate::units::{LengthUnit, parse_length};

/// How to write it.
pub(super) const HELP: &str = "write the corners in their order, along and up from the lower left, a colon between the two: `0:0; 12':0; \
                               12':8' 1-1/8\"; 0:8' 1-1/8\"`";
/// Most corners that an outline may have.
const MOST_CORNERS: usize = 200;
/// Longer than any building (m).
const LONGEST_M: f64 = 1000.0;
/// A smaller outline is none (m2).
const SMALLEST_M2: f64 = 1e-6;

/// An outline as it is written.
#[derive(Debug)]
pub(super) struct Drawn {
    /// Its corners, the origin at the lower left of their box.
    pub ring: Ring,
    /// Where the lower left of the box was, in metres.
    pub moved: Point,
}

/// What is wrong with an outline.
#[derive(Debug, PartialEq)]
pub(super) struct OutlineFault {
    pub message: String,
    /// The part of the cell that is meant; the whole where it is empty.
    pub part: String,
}

impl OutlineFault {
    fn of(part: &str, message: String) -> Self {
        Self { message, part: part.to_owned() }
    }
}

/// Reads a cell; `rise` is what heights are multiplied with, as those of a roof that are measured on plan.
pub(super) fn read_outline(
    text: &str,
    unit: Option<LengthUnit>,
    has_comma: bool,
    rise: f64,
) -> Result<Drawn, OutlineFault> {
    let mut words: Vec<&str> = text.split([';', '\n']).map(str::trim).filter(|word| !word.is_empty()).collect();
    if words.len() > MOST_CORNERS + 1 {
        let message = format!("the outline has {} points; at most {MOST_CORNERS} are read", words.len());
        return Err(OutlineFault::of("", message));
    }
    let mut ring: Ring = Vec::new();
    for word in &words {
        let [x, y] = read_point(word, unit, has_comma)?;
        ring.push([x, y * rise]);
    }
    if let [first, .., last] = ring.as_slice()
        && ring.len() > 1
        && same(*first, *last)
    {
        ring.pop();
        words.pop();
    }
    check_ring(&words, &ring)?;
    let low = Bounds::of(&ring).map_or([0.0, 0.0], |bounds| [bounds.min_x, bounds.min_y]);
    let ring = ring.iter().map(|[x, y]| [x - low[0], y - low[1]]).collect();
    Ok(Drawn { ring, moved: low })
}

fn read_point(word: &str, unit: Option<LengthUnit>, has_comma: bool) -> Result<Point, OutlineFault> {
    let Some((along, up)) = word.split_once(':').filter(|(_, up)| !up.contains(':')) else {
        return Err(OutlineFault::of(
            word,
            format!("`{word}` is no point: a point is two lengths with one colon between"),
        ));
    };
    let length = |text: &str| match parse_length(text, unit, has_comma) {
        Ok(length_m) if length_m > LONGEST_M => {
            Err(OutlineFault::of(word, format!("in the point `{word}`, `{}` is longer than any building", text.trim())))
        }
        Ok(length_m) => Ok(length_m),
        Err(error) => Err(OutlineFault::of(word, format!("in the point `{word}`, {}", error.message))),
    };
    Ok([length(along)?, length(up)?])
}

fn same(a: Point, b: Point) -> bool {
    (a[0] - b[0]).abs() < COINCIDENT_M && (a[1] - b[1]).abs() < COINCIDENT_M
}

/// An edge of an outline, as it is written.
#[derive(Clone, Copy)]
struct Edge<'t> {
    number: usize,
    words: [&'t str; 2],
    from: Point,
    to: Point,
}

impl Edge<'_> {
    fn named(&self) -> String {
        format!("edge {} (`{}` to `{}`)", self.number, self.words[0], self.words[1])
    }
}

fn check_ring(words: &[&str], ring: &[Point]) -> Result<(), OutlineFault> {
    if ring.len() < 3 {
        let message = format!("the outline has {} corners, and a surface has at least 3", ring.len());
        return Err(OutlineFault::of("", message));
    }
    let corners = || words.iter().zip(ring);
    let edges: Vec<Edge<'_>> = corners()
        .zip(corners().cycle().skip(1))
        .enumerate()
        .map(|(index, ((a, from), (b, to)))| Edge { number: index + 1, words: [*a, *b], from: *from, to: *to })
        .collect();
    if let Some(edge) = edges.iter().find(|edge| same(edge.from, edge.to)) {
        let message = format!("the point `{}` stands twice in a row", edge.words[1]);
        return Err(OutlineFault::of(edge.words[1], message));
    }
    for (index, edge) in edges.iter().enumerate() {
        for (other_index, other) in edges.iter().enumerate().skip(index + 1) {
            let is_next = other_index == index + 1;
            let is_last = index == 0 && other_index + 1 == edges.len();
            let problem = match (is_next, is_last) {
                (true, _) => runs_back(edge, other).then_some("runs back over"),
                (_, true) => runs_back(other, edge).then_some("runs back over"),
                (false, false) => meet(edge, other).then_some("meets or crosses"),
            };
            if let Some(problem) = problem {
                let message = format!("the outline crosses itself: {} {problem} {}", edge.named(), other.named());
                return Err(OutlineFault::of("", message));
            }
        }
    }
    if total_area_m2(&[Polygon::from_ring(ring.to_vec())]) < SMALLEST_M2 {
        return Err(OutlineFault::of("", "the corners of the outline enclose no area".to_owned()));
    }
    Ok(())
}

/// Distance of a point from the line through an edge, positive to its left.
fn side_m(edge: &Edge<'_>, [x, y]: Point) -> f64 {
    let [dx, dy] = [edge.to[0] - edge.from[0], edge.to[1] - edge.from[1]];
    (dx * (y - edge.from[1]) - dy * (x - edge.from[0])) / dx.hypot(dy)
}

/// Whether the second of two edges that follow each other lies on the first.
fn runs_back(first: &Edge<'_>, second: &Edge<'_>) -> bool {
    let along = (first.to[0] - first.from[0]) * (second.to[0] - second.from[0])
        + (first.to[1] - first.from[1]) * (second.to[1] - second.from[1]);
    along < 0.0 && (touches(first, second.to) || touches(second, first.from))
}

/// Whether a point lies on an edge.
fn touches(edge: &Edge<'_>, point: Point) -> bool {
    let [dx, dy] = [edge.to[0] - edge.from[0], edge.to[1] - edge.from[1]];
    let along = dx * (point[0] - edge.from[0]) + dy * (point[1] - edge.from[1]);
    let length = dx.hypot(dy);
    side_m(edge, point).abs() < COINCIDENT_M
        && along > -COINCIDENT_M * length
        && along < (length + COINCIDENT_M) * length
}

/// Whether two edges that share no corner have a point in common.
fn meet(a: &Edge<'_>, b: &Edge<'_>) -> bool {
    let parts = |edge: &Edge<'_>, other: &Edge<'_>| side_m(edge, other.from) * side_m(edge, other.to) < 0.0;
    (parts(a, b) && parts(b, a))
        || [b.from, b.to].iter().any(|point| touches(a, *point))
        || [a.from, a.to].iter().any(|point| touches(b, *point))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{FOOT_M, INCH_M};

    fn ring(text: &str) -> Ring {
        read_outline(text, Some(LengthUnit::Metre), false, 1.0).unwrap().ring
    }

    fn fault(text: &str) -> String {
        read_outline(text, Some(LengthUnit::Metre), false, 1.0).unwrap_err().message
    }

    #[test]
    fn points_are_read_in_any_notation() {
        let drawn = read_outline("0:0; 12':0 ;12':8' 1-1/8\"\n0:97 1/8 in;", None, false, 1.0).unwrap();
        assert_eq!(
            drawn.ring,
            [[0.0, 0.0], [12.0 * FOOT_M, 0.0], [12.0 * FOOT_M, 97.125 * INCH_M], [0.0, 97.125 * INCH_M]]
        );
        assert_eq!(read_outline("0:0; 4,5:0; 0:2,5", Some(LengthUnit::Metre), true, 2.0).unwrap().ring[2], [0.0, 5.0]);
    }

    #[test]
    fn a_repeated_last_point_and_a_far_origin_change_nothing() {
        let plain = ring("0:0; 4:0; 4:2; 0:2");
        assert_eq!(ring("0:0; 4:0; 4:2; 0:2; 0:0"), plain);
        let far = read_outline("1:2; 5:2; 5:4; 1:4", Some(LengthUnit::Metre), false, 1.0).unwrap();
        assert_eq!((far.ring, far.moved), (plain, [1.0, 2.0]));
    }

    #[test]
    fn what_is_no_outline_is_refused() {
        assert!(fault("").contains("0 corners"));
        assert!(fault("0:0; 4:0; 0:0").contains("2 corners"));
        assert!(fault("0:0; 4:0; 4").contains("`4` is no point"));
        assert!(fault("0:0; 4:0; 4:2:1").contains("`4:2:1` is no point"));
        assert!(fault("0:0; 4:x; 4:2").contains("in the point `4:x`, `x`"));
        assert!(fault("0:0; 4:0; 4:-2").contains("negative"));
        assert!(fault("0:0; 4:0; 4:0; 4:2").contains("`4:0` stands twice"));
        assert!(fault("0:0; 4:0; 2:0").contains("runs back over"));
        assert!(fault("0:0; 4000:0; 2:4").contains("longer than any building"));
        let many: Vec<String> = (0..300).map(|x| format!("{x}:0")).collect();
        assert!(fault(&many.join(";")).contains("300 points"));
    }

    // A bow tie: the first edge and the third cross in the middle.
    #[test]
    fn the_edges_that_cross_are_named() {
        let message = fault("0:0; 4:2; 4:0; 0:2");
        assert!(message.contains("edge 1 (`0:0` to `4:2`) meets or crosses edge 3 (`4:0` to `0:2`)"), "{message}");
        // A corner that touches an edge, and two edges that lie on each other.
        assert!(fault("0:0; 4:0; 4:2; 2:0; 0:2").contains("edge 1"));
        assert!(fault("0:0; 6:0; 6:2; 4:2; 4:0; 2:0; 2:2; 0:2").contains("edge 1"));
        // A spike over the first corner.
        assert!(fault("2:0; 4:0; 4:2; 0:2; 0:0; 3:0").contains("crosses itself"));
    }
}
