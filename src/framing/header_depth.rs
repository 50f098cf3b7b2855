//! Headers that are not as deep as the wall: there is cavity behind them.

use super::{Layout, Member, MemberRole, PartialMember};
use crate::geometry::tolerance::{COINCIDENT_M, NEGLIGIBLE_AREA_M2};
use crate::geometry::{Bounds, Polygon, difference, intersection};
use std::slice;

/// Where a header lies that takes only a part of the depth.
pub(super) struct ShallowHeader {
    /// Its box.
    pub(super) place: Bounds,
    /// Its depth, from the outer face on, in metres.
    pub(super) depth_m: f64,
}

/// Headers take only their own depth, from the outer face on.
///
/// Where less room is left behind one than the filling tube is wide, nothing gets there, and the header
/// stays as deep as the wall: two plies and a spacer in a wall of two-by-four.
pub(super) fn free_behind_headers(layout: &mut Layout, headers: &[ShallowHeader], tube_width_m: f64) {
    let leaves_room = |header: &&ShallowHeader| layout.depth_m - header.depth_m > tube_width_m - COINCIDENT_M;
    let shallow: Vec<&ShallowHeader> = headers.iter().filter(leaves_room).collect();
    if shallow.is_empty() {
        return;
    }
    let mut members = Vec::with_capacity(layout.members.len());
    for member in std::mem::take(&mut layout.members) {
        if member.role == MemberRole::Header {
            part(member, &shallow, &mut members, &mut layout.partial);
        } else {
            members.push(member);
        }
    }
    layout.members = members;
    for piece in layout.partial.iter_mut().filter(|piece| piece.role == MemberRole::Header) {
        // A header in one row of a wall that has several keeps to the outer face of its own row.
        let own = shallow.iter().find(|header| lies_in(&piece.outline, &header.place));
        if let Some(header) = own {
            piece.to_m = piece.to_m.min(piece.from_m + header.depth_m);
        }
    }
}

/// Splits one piece of header: the parts in boxes of shallow ones take their depth alone.
fn part(member: Member, shallow: &[&ShallowHeader], members: &mut Vec<Member>, partial: &mut Vec<PartialMember>) {
    let of = |outline: Polygon, depth_m: f64| PartialMember {
        role: member.role,
        area_m2: outline.area_m2(),
        outline,
        from_m: 0.0,
        to_m: depth_m,
        solid_share: 1.0,
    };
    if let Some(header) = shallow.iter().find(|header| lies_in(&member.outline, &header.place)) {
        partial.push(of(member.outline, header.depth_m));
        return;
    }
    // Headers of neighbours that meet are one piece, and may differ in depth.
    let mut rest = vec![member.outline.clone()];
    for header in shallow {
        let place = super::polygon_of(&header.place);
        let pieces = intersection(&rest, slice::from_ref(&place));
        if !pieces.is_empty() {
            partial.extend(pieces.into_iter().map(|outline| of(outline, header.depth_m)));
            rest = difference(&rest, &[place]);
        }
    }
    let solid = rest.into_iter().map(|outline| Member { role: member.role, area_m2: outline.area_m2(), outline });
    members.extend(solid.filter(|piece| piece.area_m2 > NEGLIGIBLE_AREA_M2));
}

fn lies_in(outline: &Polygon, place: &Bounds) -> bool {
    outline.bounds().is_some_and(|own| {
        own.min_x >= place.min_x - COINCIDENT_M
            && own.max_x <= place.max_x + COINCIDENT_M
            && own.min_y >= place.min_y - COINCIDENT_M
            && own.max_y <= place.max_y + COINCIDENT_M
    })
}
