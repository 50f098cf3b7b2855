//! What framing that takes a part of the depth displaces in the bays that it stands in.

use super::cut::BayCut;
use crate::framing::PartialMember;
use crate::geometry::{Bounds, Polygon, intersection, total_area_m2};

/// A bay or a piece that stays empty, and its place among them.
struct Piece<'c> {
    index: usize,
    outline: &'c Polygon,
    bounds: Bounds,
}

/// What of a member is meant: all of it, or what of it lies in some shapes.
pub(super) enum Part<'p> {
    /// All of it.
    Whole,
    /// What lies in these shapes.
    In(&'p [Polygon]),
}

/// Adds the volume of each piece of framing to what it stands in.
pub(super) fn displace(partial: &[PartialMember], cut: &mut BayCut) {
    let volumes_m3 = volumes_by_piece(partial, cut, |member, part| match part {
        Part::Whole => member.volume_of_m3(member.area_m2),
        Part::In(shapes) => member.volume_of_m3(total_area_m2(shapes)),
    });
    let bays = cut.bays.iter_mut().map(|bay| &mut bay.displaced_m3);
    let left_out = cut.left_out.iter_mut().map(|piece| &mut piece.displaced_m3);
    for (displaced_m3, volume_m3) in bays.chain(left_out).zip(volumes_m3) {
        *displaced_m3 += volume_m3;
    }
}

/// A volume of each piece of framing, added up by the bays and then the pieces left out that it stands in.
pub(super) fn volumes_by_piece(
    partial: &[PartialMember],
    cut: &BayCut,
    volume_of: impl Fn(&PartialMember, Part<'_>) -> f64,
) -> Vec<f64> {
    let outlines: Vec<&Polygon> =
        cut.bays.iter().map(|bay| &bay.outline).chain(cut.left_out.iter().map(|piece| &piece.outline)).collect();
    let mut volumes_m3 = vec![0.0; outlines.len()];
    let mut add = |index: usize, volume_m3: f64| {
        if let Some(sum_m3) = volumes_m3.get_mut(index) {
            *sum_m3 += volume_m3;
        }
    };
    let placed = outlines.iter().enumerate();
    let placed = placed.filter_map(|(index, outline)| Some(Piece { index, outline, bounds: outline.bounds()? }));
    let mut pieces: Vec<Piece<'_>> = placed.collect();
    pieces.sort_by(|a, b| a.bounds.min_x.total_cmp(&b.bounds.min_x));
    let widest_m = pieces.iter().map(|piece| piece.bounds.width_m()).fold(0.0, f64::max);
    let without_place = outlines.iter().position(|outline| outline.rings.is_empty());
    for member in partial {
        let Some(bounds) = member.outline.bounds() else {
            // Framing by fraction has no place: it stands in the only bay that there is.
            if let Some(index) = without_place {
                add(index, volume_of(member, Part::Whole));
            }
            continue;
        };
        // Sorted from the left: only a stretch of them can meet the member.
        let from = pieces.partition_point(|piece| piece.bounds.min_x < bounds.min_x - widest_m);
        let to = pieces.partition_point(|piece| piece.bounds.min_x < bounds.max_x);
        let near = pieces.get(from..to).unwrap_or_default().iter();
        let near: Vec<&Piece<'_>> = near.filter(|piece| piece.bounds.overlaps(&bounds)).collect();
        match near.as_slice() {
            // Members lie in what is left of the surface, so that the only piece at hand holds all of it.
            [only] => add(only.index, volume_of(member, Part::Whole)),
            several => {
                for piece in several {
                    let shared =
                        intersection(std::slice::from_ref(&member.outline), std::slice::from_ref(piece.outline));
                    add(piece.index, volume_of(member, Part::In(&shared)));
                }
            }
        }
    }
    volumes_m3
}
