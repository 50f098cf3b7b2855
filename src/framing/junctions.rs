//! Corners and partitions whose place an input gives.

use super::LayoutRules;
use crate::geometry::tolerance::COINCIDENT_M;
use crate::model::{Junction, JunctionKind, Surface};

/// The junctions of a kind that are framed in: those of a sheet always, those of a model where the rules
/// say so; two at one place are one.
pub(super) fn framed<'s>(surface: &'s Surface, kind: JunctionKind, rules: &LayoutRules) -> Vec<&'s Junction> {
    let mut framed: Vec<&Junction> = Vec::new();
    for junction in surface.junctions.iter().filter(|junction| junction.kind == kind && junction.at_m.is_finite()) {
        let is_asked = junction.source.is_none() || rules.frame_junctions;
        let is_new = framed.iter().all(|other| (other.at_m - junction.at_m).abs() > COINCIDENT_M);
        if is_asked && is_new {
            framed.push(junction);
        }
    }
    framed
}

/// Whether the wall has a corner that is framed in at its left, and at its right end.
pub(super) fn corner_ends(surface: &Surface, rules: &LayoutRules, ends: [f64; 2]) -> [bool; 2] {
    let corners = framed(surface, JunctionKind::Corner, rules);
    let is_left = |corner: &&Junction| (corner.at_m - ends[0]).abs() <= (corner.at_m - ends[1]).abs() + COINCIDENT_M;
    [corners.iter().any(is_left), !corners.iter().all(is_left)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{Extent, SurfaceKind};
    use crate::source::Source;

    #[test]
    fn what_a_model_says_is_framed_in_only_where_the_rules_ask() {
        let mut wall = Surface::new("W1", Source::of_line("h.csv", 2), SurfaceKind::Wall, Extent::AreaM2(1.0));
        let of = |at_m, source| Junction { kind: JunctionKind::Corner, at_m, reach_m: None, source };
        wall.junctions = vec![of(0.1, None), of(0.1, None), of(3.9, Some(Source::of_line("h.ifc", 7)))];
        let plain = LayoutRules::default();
        let asked = LayoutRules { frame_junctions: true, ..LayoutRules::default() };
        assert_eq!(corner_ends(&wall, &plain, [0.0, 4.0]), [true, false]);
        assert_eq!(corner_ends(&wall, &asked, [0.0, 4.0]), [true, true]);
        assert_eq!(framed(&wall, JunctionKind::Corner, &asked).len(), 2);
    }
}
