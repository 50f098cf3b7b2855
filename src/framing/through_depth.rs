//! From rows of members to what goes through the whole depth and what does not.

use super::carve::from_the_left;
use super::near::Near;
use super::row::MemberRow;
use super::{Member, MemberRole, PartialMember};
use crate::geometry::tolerance::{COINCIDENT_M, NEGLIGIBLE_AREA_M2};
use crate::geometry::{Polygon, difference, intersection};
use std::collections::BTreeMap;

/// Members that go through the whole depth, and pieces that take a part of it.
pub(super) struct ThroughDepth {
    pub(super) members: Vec<Member>,
    pub(super) partial: Vec<PartialMember>,
}

/// Members between two depths, no two of which overlap.
struct Slice {
    from_m: f64,
    to_m: f64,
    members: Vec<Piece>,
}

/// A member, and which share of it is solid.
struct Piece {
    member: Member,
    solid_share: f64,
}

/// Only what stands on the layout is open: plates, rims and what frames an opening are solid.
fn share_of(row: &MemberRow, role: MemberRole) -> f64 {
    match role {
        MemberRole::Stud | MemberRole::Cripple | MemberRole::Joist | MemberRole::Rafter => row.solid_share,
        MemberRole::BottomPlate
        | MemberRole::TopPlate
        | MemberRole::EndStud
        | MemberRole::KingStud
        | MemberRole::JackStud
        | MemberRole::Header
        | MemberRole::RoughSill
        | MemberRole::CornerPost
        | MemberRole::PartitionStud
        | MemberRole::Blocking
        | MemberRole::OpeningBox
        | MemberRole::Rim
        | MemberRole::Trimmer
        | MemberRole::Strapping
        | MemberRole::RidgeBoard
        | MemberRole::HipRafter
        | MemberRole::ValleyRafter
        | MemberRole::Modelled
        | MemberRole::Fraction => 1.0,
    }
}

/// Splits the members of all rows by depth. `frame` lays out one row; `across` goes through the whole
/// depth, wherever no row has something of its own. Rows that look alike are laid out once, but for those of `apart`, a
/// frame with rules of its own.
///
/// What is covered at every depth is a member through the depth and parts bays; the rest of each
/// row takes room from the bay that it stands in.
pub(super) fn through_depth(
    rows: &[MemberRow],
    depth_m: f64,
    across: &[Member],
    apart: Option<u32>,
    mut frame: impl FnMut(&MemberRow) -> Vec<Member>,
) -> ThroughDepth {
    if let [row] = rows
        && row.from_m < COINCIDENT_M
        && row.to_m > depth_m - COINCIDENT_M
        && row.solid_share >= 1.0
    {
        let mut members = frame(row);
        if !across.is_empty() {
            let taken = Near::of(members.iter().map(|member| member.outline.clone()));
            members.extend(across.iter().flat_map(|member| rest_of(member, &taken)));
            members.sort_by(in_order);
        }
        return ThroughDepth { members, partial: Vec::new() };
    }
    let mut framed: Vec<(&MemberRow, Vec<Member>)> = Vec::new();
    for row in rows {
        let is_alike =
            |other: &MemberRow| other.looks_like(row) && (Some(other.frame) == apart) == (Some(row.frame) == apart);
        let same = framed.iter().find(|(other, _)| is_alike(other)).map(|(_, members)| members.clone());
        let members = same.unwrap_or_else(|| frame(row));
        framed.push((row, members));
    }
    let slices = slices(&framed, across, depth_m);
    let members = covered_throughout(&slices);
    let through = Near::of(members.iter().map(|member| member.outline.clone()));
    let mut partial = Partial::default();
    for slice in &slices {
        for piece in slice.members.iter().flat_map(|member| pieces_of(member, &through, slice)) {
            partial.append(piece);
        }
    }
    ThroughDepth { members, partial: partial.pieces }
}

fn slices(framed: &[(&MemberRow, Vec<Member>)], across: &[Member], depth_m: f64) -> Vec<Slice> {
    let mut cuts_m: Vec<f64> = framed.iter().flat_map(|(row, _)| [row.from_m, row.to_m]).collect();
    cuts_m.extend([0.0, depth_m]);
    cuts_m.sort_by(f64::total_cmp);
    let mut slices = Vec::new();
    for (from_m, to_m) in cuts_m.iter().zip(cuts_m.iter().skip(1)) {
        if to_m - from_m < COINCIDENT_M {
            continue;
        }
        let middle_m = f64::midpoint(*from_m, *to_m);
        let mut slice = Slice { from_m: *from_m, to_m: *to_m, members: Vec::new() };
        for (row, members) in framed.iter().filter(|(row, _)| row.from_m < middle_m && middle_m < row.to_m) {
            let taken = Near::of(slice.members.iter().map(|piece| piece.member.outline.clone()));
            let own = members.iter().flat_map(|member| rest_of(member, &taken));
            slice.members.extend(own.map(|member| Piece { solid_share: share_of(row, member.role), member }));
        }
        if !across.is_empty() {
            let taken = Near::of(slice.members.iter().map(|piece| piece.member.outline.clone()));
            let rest = across.iter().flat_map(|member| rest_of(member, &taken));
            slice.members.extend(rest.map(|member| Piece { solid_share: 1.0, member }));
        }
        slices.push(slice);
    }
    slices
}

/// What every slice covers, with the roles of the first one.
fn covered_throughout(slices: &[Slice]) -> Vec<Member> {
    let solid = |slice: &Slice| -> Vec<Member> {
        slice.members.iter().filter(|piece| piece.solid_share >= 1.0).map(|piece| piece.member.clone()).collect()
    };
    let Some((first, others)) = slices.split_first() else { return Vec::new() };
    let mut members = solid(first);
    for slice in others {
        let solid = Near::of(solid(slice).into_iter().map(|member| member.outline));
        members = members
            .iter()
            .flat_map(|member| {
                let near = solid.meeting(&member.outline);
                let pieces = intersection(std::slice::from_ref(&member.outline), &near);
                pieces.into_iter().filter_map(|outline| piece(member, outline))
            })
            .collect();
    }
    members.sort_by(in_order);
    members
}

fn in_order(a: &Member, b: &Member) -> std::cmp::Ordering {
    a.role.cmp(&b.role).then(from_the_left(&a.outline, &b.outline))
}

fn pieces_of(piece: &Piece, through: &Near, slice: &Slice) -> Vec<PartialMember> {
    let part = |member: Member| PartialMember {
        role: member.role,
        area_m2: member.area_m2,
        outline: member.outline,
        from_m: slice.from_m,
        to_m: slice.to_m,
        solid_share: piece.solid_share,
    };
    rest_of(&piece.member, through).into_iter().map(part).collect()
}

/// A member less what is taken; whole where nothing near it is.
fn rest_of(member: &Member, taken: &Near) -> Vec<Member> {
    let near = taken.meeting(&member.outline);
    if near.is_empty() {
        return vec![member.clone()];
    }
    let pieces = difference(std::slice::from_ref(&member.outline), &near);
    pieces.into_iter().filter_map(|outline| piece(member, outline)).collect()
}

fn piece(member: &Member, outline: Polygon) -> Option<Member> {
    let area_m2 = outline.area_m2();
    (area_m2 > NEGLIGIBLE_AREA_M2).then_some(Member { role: member.role, area_m2, outline })
}

/// Pieces that take a part of the depth.
#[derive(Default)]
struct Partial {
    pieces: Vec<PartialMember>,
    /// Places in `pieces`, by role and first corner.
    places: BTreeMap<(MemberRole, [u64; 2]), Vec<usize>>,
}

impl Partial {
    /// Appends a piece, or lengthens the one of the same shape that ends where this one begins.
    fn append(&mut self, piece: PartialMember) {
        let first = piece.outline.rings.first().and_then(|ring| ring.first());
        let corner = first.map(|point| point.map(f64::to_bits)).unwrap_or_default();
        let places = self.places.entry((piece.role, corner)).or_default();
        for place in places.iter() {
            if let Some(other) = self.pieces.get_mut(*place)
                && (other.to_m - piece.from_m).abs() < COINCIDENT_M
                && other.solid_share.total_cmp(&piece.solid_share).is_eq()
                && other.outline == piece.outline
            {
                other.to_m = piece.to_m;
                return;
            }
        }
        places.push(self.pieces.len());
        self.pieces.push(piece);
    }
}
