//! Areas of regions that polygons make, to the last digits.
//!
//! Written on its own, so that it shares nothing with what it checks: no grid, no snapping. The plane is cut into
//! upright strips at every corner and every crossing; within a strip the edges are ordered, and the trapezia between
//! them belong to the region or not.

pub type Ring = Vec<[f64; 2]>;

/// Area of all points where `holds` says yes, given for each ring whether the point is inside it (even-odd).
pub fn area_m2(rings: &[Ring], holds: impl Fn(&[bool]) -> bool) -> f64 {
    let edges: Vec<Edge> = rings.iter().enumerate().flat_map(|(index, ring)| edges_of(index, ring)).collect();
    let mut stops: Vec<f64> = rings.iter().flatten().map(|point| point[0]).collect();
    for (index, one) in edges.iter().enumerate() {
        stops.extend(edges[index + 1..].iter().filter_map(|other| one.crossing(other)));
    }
    stops.sort_by(f64::total_cmp);
    stops.windows(2).map(|ends| strip_m2(&edges, rings.len(), ends[0], ends[1], &holds)).sum()
}

struct Edge {
    ring: usize,
    left: [f64; 2],
    right: [f64; 2],
}

impl Edge {
    fn at(&self, x: f64) -> f64 {
        let share = (x - self.left[0]) / (self.right[0] - self.left[0]);
        self.left[1] + share * (self.right[1] - self.left[1])
    }

    fn slope(&self) -> f64 {
        (self.right[1] - self.left[1]) / (self.right[0] - self.left[0])
    }

    fn crossing(&self, other: &Self) -> Option<f64> {
        let (low, high) = (self.left[0].max(other.left[0]), self.right[0].min(other.right[0]));
        if low >= high {
            return None;
        }
        let (before, after) = (self.at(low) - other.at(low), self.at(high) - other.at(high));
        (before * after < 0.0).then(|| (low - before / (self.slope() - other.slope())).clamp(low, high))
    }
}

fn edges_of(index: usize, ring: &Ring) -> Vec<Edge> {
    let ends = ring.iter().zip(ring.iter().cycle().skip(1));
    let upright = ends.filter(|(a, b)| a[0] != b[0]);
    upright
        .map(|(a, b)| if a[0] < b[0] { (a, b) } else { (b, a) })
        .map(|(left, right)| Edge { ring: index, left: *left, right: *right })
        .collect()
}

fn strip_m2(edges: &[Edge], rings: usize, low: f64, high: f64, holds: &impl Fn(&[bool]) -> bool) -> f64 {
    let middle = (low + high) / 2.0;
    let across = edges.iter().filter(|edge| edge.left[0] <= low && edge.right[0] >= high && high > low);
    let mut heights: Vec<(f64, usize)> = across.map(|edge| (edge.at(middle), edge.ring)).collect();
    heights.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut inside = vec![false; rings];
    let mut sum = 0.0;
    for pair in heights.windows(2) {
        inside[pair[0].1] ^= true;
        if holds(&inside) {
            sum += pair[1].0 - pair[0].0;
        }
    }
    sum * (high - low)
}

#[test]
fn areas_of_known_figures() {
    let square = |x: f64, y: f64, side: f64| vec![[x, y], [x + side, y], [x + side, y + side], [x, y + side]];
    let two = [square(0.0, 0.0, 2.0), square(1.0, 1.0, 2.0)];
    assert_eq!(area_m2(&two, |inside| inside[0] && inside[1]), 1.0);
    assert_eq!(area_m2(&two, |inside| inside[0] || inside[1]), 7.0);
    assert_eq!(area_m2(&two, |inside| inside[0] && !inside[1]), 3.0);
    let diamond = vec![[1.0, -0.5], [2.5, 1.0], [1.0, 2.5], [-0.5, 1.0]];
    // The square of side 2 sticks out of the diamond by four triangles with legs of 0.5.
    let both = [two[0].clone(), diamond];
    assert!((area_m2(&both, |inside| inside[0] && inside[1]) - (4.0 - 4.0 * 0.125)).abs() < 1e-15);
}
