//! What framing that takes a part of the depth displaces in the bays that it stands in.

use super::cut::BayCut;
use crate::framing::PartialMember;
use crate::geometry::{Bounds, Polygon, intersection, total_area_m2};

/// A bay or a piece that stays empty, with room for what is displaced in it.
struct Piece<'c> {
    outline: &'c Polygon,
    bounds: Bounds,
    displaced_m3: &'c mut f64,
}

/// Adds the volume of each piece of framing to what it stands in.
pub(super) fn displace(partial: &[PartialMember], cut: &mut BayCut) {
    if partial.is_empty() {
        return;
    }
    let bays = cut.bays.iter_mut().map(|bay| (&bay.outline, &mut bay.displaced_m3));
    let left_out = cut.left_out.iter_mut().map(|piece| (&piece.outline, &mut piece.displaced_m3));
    let mut pieces: Vec<Piece<'_>> = bays
        .chain(left_out)
        .filter_map(|(outline, displaced_m3)| Some(Piece { outline, bounds: outline.bounds()?, displaced_m3 }))
        .collect();
    pieces.sort_by(|a, b| a.bounds.min_x.total_cmp(&b.bounds.min_x));
    let widest_m = pieces.iter().map(|piece| piece.bounds.width_m()).fold(0.0, f64::max);
    let mut by_fraction_m3 = 0.0;
    for member in partial {
        let Some(bounds) = member.outline.bounds() else {
            // Framing by fraction has no place: it stands in the only bay that there is.
            by_fraction_m3 += member.volume_of_m3(member.area_m2);
            continue;
        };
        // Sorted from the left: only a stretch of them can meet the member.
        let from = pieces.partition_point(|piece| piece.bounds.min_x < bounds.min_x - widest_m);
        let to = pieces.partition_point(|piece| piece.bounds.min_x < bounds.max_x);
        let near = pieces.get_mut(from..to).unwrap_or_default().iter_mut();
        let mut near: Vec<&mut Piece<'_>> = near.filter(|piece| boxes_meet(&piece.bounds, &bounds)).collect();
        match near.as_mut_slice() {
            // Members lie in what is left of the surface, so that the only piece at hand holds all of it.
            [only] => *only.displaced_m3 += member.volume_of_m3(member.area_m2),
            several => {
                for piece in several {
                    let shared =
                        intersection(std::slice::from_ref(&member.outline), std::slice::from_ref(piece.outline));
                    *piece.displaced_m3 += member.volume_of_m3(total_area_m2(&shared));
                }
            }
        }
    }
    let has_no_place = |outline: &Polygon| outline.rings.is_empty();
    let bay = cut.bays.iter_mut().find(|bay| has_no_place(&bay.outline)).map(|bay| &mut bay.displaced_m3);
    let piece = cut.left_out.iter_mut().find(|piece| has_no_place(&piece.outline)).map(|piece| &mut piece.displaced_m3);
    if let Some(displaced_m3) = bay.or(piece) {
        *displaced_m3 += by_fraction_m3;
    }
}

fn boxes_meet(a: &Bounds, b: &Bounds) -> bool {
    a.min_x < b.max_x && b.min_x < a.max_x && a.min_y < b.max_y && b.min_y < a.max_y
}
