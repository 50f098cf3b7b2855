//! Clipping regions by half-planes.

use super::overlay::Rings;
use super::solid::edges;
use super::{Point, Ring};

/// The part of a region, under the even-odd rule, where `normal . point <= limit`.
///
/// Where the line cuts the region, its crossings lie inside by pairs: each pair is joined along the
/// line, so that a region that falls apart gives rings of its own and no edges are laid over each
/// other, as they are when each ring is clipped for itself (Sutherland and Hodgman, 1974).
pub fn clip_by_half_plane(rings: &[Ring], normal: Point, limit: f64) -> Rings {
    let side = |p: &Point| normal[0] * p[0] + normal[1] * p[1] - limit;
    let mut kept = Rings::new();
    let mut chains: Vec<Ring> = Vec::new();
    for ring in rings {
        match cut_ring(ring, &side) {
            Cut::Whole => kept.push(ring.clone()),
            Cut::Pieces(pieces) => chains.extend(pieces),
        }
    }
    kept.extend(join(&chains, |p| normal[0] * p[1] - normal[1] * p[0]));
    kept
}

/// What is kept of a ring.
enum Cut {
    /// All of it.
    Whole,
    /// Runs of points, each from a crossing to a crossing; none where nothing is kept.
    Pieces(Vec<Ring>),
}

fn cut_ring(ring: &Ring, side: &impl Fn(&Point) -> f64) -> Cut {
    let is_kept = |p: &Point| side(p) <= 0.0;
    let Some(start) = edges(ring).position(|(a, b)| !is_kept(a) && is_kept(b)) else {
        return if ring.first().is_some_and(is_kept) { Cut::Whole } else { Cut::Pieces(Vec::new()) };
    };
    let mut pieces: Vec<Ring> = Vec::new();
    let turned = ring.iter().cycle().skip(start).take(ring.len() + 1).collect::<Vec<_>>();
    for pair in turned.windows(2) {
        let &[a, b] = pair else { continue };
        match (is_kept(a), is_kept(b)) {
            (false, true) => pieces.push(vec![crossing(a, b, side), *b]),
            (true, true) => pieces.last_mut().into_iter().for_each(|piece| piece.push(*b)),
            (true, false) => pieces.last_mut().into_iter().for_each(|piece| piece.push(crossing(a, b, side))),
            (false, false) => {}
        }
    }
    Cut::Pieces(pieces)
}

fn crossing(a: &Point, b: &Point, side: &impl Fn(&Point) -> f64) -> Point {
    let (before, after) = (side(a), side(b));
    let t = before / (before - after);
    [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]
}

/// Joins runs whose ends lie on a line into rings: along the line, every two neighbouring ends belong together.
fn join(chains: &[Ring], along: impl Fn(&Point) -> f64) -> Rings {
    // Ends by their place on the line: an even one is the start of its run, an odd one its end.
    let ends: Vec<f64> = chains.iter().flat_map(|chain| [chain.first(), chain.last()]).flatten().map(along).collect();
    let mut order: Vec<usize> = (0..ends.len()).collect();
    let place = |end: &usize| ends.get(*end).copied().unwrap_or_default();
    order.sort_by(|a, b| place(a).total_cmp(&place(b)));
    let mut partner = vec![0_usize; ends.len()];
    for pair in order.chunks_exact(2) {
        if let &[a, b] = pair {
            set(&mut partner, a, b);
            set(&mut partner, b, a);
        }
    }
    let mut is_used = vec![false; chains.len()];
    let mut rings = Rings::new();
    for first in 0..chains.len() {
        let (mut ring, mut entered) = (Ring::new(), 2 * first);
        while is_used.get(entered / 2) == Some(&false) {
            set(&mut is_used, entered / 2, true);
            let Some(chain) = chains.get(entered / 2) else { break };
            if entered.is_multiple_of(2) {
                ring.extend(chain);
            } else {
                ring.extend(chain.iter().rev());
            }
            entered = partner.get(entered ^ 1).copied().unwrap_or_default();
        }
        if ring.len() > 2 {
            rings.push(ring);
        }
    }
    rings
}

fn set<T>(list: &mut [T], index: usize, value: T) {
    if let Some(place) = list.get_mut(index) {
        *place = value;
    }
}

#[cfg(test)]
mod tests {
    use super::super::{total_area_m2, union_even_odd};
    use super::*;

    fn area(rings: &Rings) -> f64 {
        total_area_m2(&union_even_odd(rings))
    }

    #[test]
    fn a_half_plane_cuts_a_square_along_its_diagonal() {
        let square = vec![vec![[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [0.0, 2.0]]];
        let below = clip_by_half_plane(&square, [-1.0, 1.0], 0.0);
        assert!((area(&below) - 2.0).abs() < 1e-12);
    }

    #[test]
    fn a_comb_falls_into_its_teeth() {
        let comb =
            vec![vec![[0.0, 0.0], [5.0, 0.0], [5.0, 3.0], [4.0, 3.0], [4.0, 1.0], [1.0, 1.0], [1.0, 3.0], [0.0, 3.0]]];
        let teeth = clip_by_half_plane(&comb, [0.0, -1.0], -2.0);
        assert_eq!(teeth.len(), 2, "no edge joins the teeth");
        assert!((area(&teeth) - 2.0).abs() < 1e-12);
    }

    #[test]
    fn a_hole_that_is_cut_becomes_a_notch() {
        let ring = |a: f64, b: f64| vec![[a, a], [b, a], [b, b], [a, b]];
        let half = clip_by_half_plane(&[ring(0.0, 4.0), ring(1.0, 3.0)], [1.0, 0.0], 2.0);
        assert_eq!(half.len(), 1);
        assert!((area(&half) - 6.0).abs() < 1e-12);
    }
}
