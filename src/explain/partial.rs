//! Framing that takes a part of the depth: piece by piece, of a surface and of one of its bays.

use super::step::{Figure, Line, Operation};
use super::surface::sum;
use super::{Subject, area, assigned_of};
use crate::geometry::{Bounds, Polygon, intersection, total_area_m2};
use crate::takeoff::{BayTakeoff, PartialMemberTakeoff, SurfaceTakeoff};
use std::borrow::Cow;

/// Lengths, areas, volumes and shares that differ by less are the same, in SI.
const SAME: f64 = 1e-9;

/// A piece, or the part of it that stands in a bay.
struct Piece<'p> {
    role: &'p str,
    depth_m: f64,
    solid_share: f64,
    area_m2: f64,
    outline: Cow<'p, Polygon>,
    box_m: Option<Bounds>,
}

impl Piece<'_> {
    fn volume_m3(&self) -> f64 {
        self.area_m2 * self.depth_m * self.solid_share
    }

    /// Whether two pieces are rectangles of one size, of one role and equally solid.
    fn is_like(&self, other: &Self) -> bool {
        let near = |a: f64, b: f64| (a - b).abs() < SAME;
        let is_same_size = self
            .box_m
            .zip(other.box_m)
            .is_some_and(|(own, its)| near(own.width_m(), its.width_m()) && near(own.height_m(), its.height_m()));
        is_same_size
            && self.role == other.role
            && near(self.depth_m, other.depth_m)
            && near(self.solid_share, other.solid_share)
    }
}

/// All pieces of one, and how they are shared by its bays.
pub(super) fn of_surface(subject: &Subject<'_>) -> Vec<Line> {
    let surface = subject.surface;
    let pieces: Vec<Piece<'_>> = surface
        .partial_members
        .iter()
        .map(|member| piece(member, member.area_m2, Cow::Borrowed(&member.outline_m)))
        .collect();
    let mut lines = lines(subject, &pieces);
    if !pieces.is_empty() {
        lines.extend(by_bay(surface, pieces.iter().map(Piece::volume_m3).sum()));
    }
    lines
}

/// What stands in one bay.
pub(super) fn of_bay(subject: &Subject<'_>, bay: &BayTakeoff) -> Vec<Line> {
    lines(subject, &pieces_in(subject.surface, bay, f64::INFINITY))
}

/// What stands in one bay below a depth, and how much that is, in cubic metres.
pub(super) fn of_bay_below(subject: &Subject<'_>, bay: &BayTakeoff, depth_m: f64) -> (Vec<Line>, f64) {
    let pieces = pieces_in(subject.surface, bay, depth_m);
    (lines(subject, &pieces), pieces.iter().map(Piece::volume_m3).sum())
}

fn pieces_in<'p>(surface: &'p SurfaceTakeoff, bay: &BayTakeoff, depth_m: f64) -> Vec<Piece<'p>> {
    let below = surface.partial_members.iter().filter(|member| member.from_m < depth_m - SAME);
    let clipped = |piece: Piece<'p>, from_m: f64| Piece { depth_m: piece.depth_m.min(depth_m - from_m), ..piece };
    below
        .flat_map(|member| within(member, &bay.outline_m).into_iter().map(|piece| clipped(piece, member.from_m)))
        .collect()
}

fn piece<'p>(member: &'p PartialMemberTakeoff, area_m2: f64, outline: Cow<'p, Polygon>) -> Piece<'p> {
    Piece {
        role: &member.role,
        depth_m: member.to_m - member.from_m,
        solid_share: member.solid_share,
        area_m2,
        box_m: area::rectangle(&outline.rings),
        outline,
    }
}

/// The parts of a member that stand in a bay; of framing by fraction all of it.
fn within<'p>(member: &'p PartialMemberTakeoff, bay: &Polygon) -> Vec<Piece<'p>> {
    let whole = || vec![piece(member, member.area_m2, Cow::Borrowed(&member.outline_m))];
    let (Some(own), Some(its)) = (member.outline_m.bounds(), bay.bounds()) else {
        let is_by_fraction = member.outline_m.rings.is_empty() && bay.rings.is_empty();
        return if is_by_fraction { whole() } else { Vec::new() };
    };
    if own.min_x > its.max_x || its.min_x > own.max_x || own.min_y > its.max_y || its.min_y > own.max_y {
        return Vec::new();
    }
    let shared = intersection(std::slice::from_ref(&member.outline_m), std::slice::from_ref(bay));
    if (total_area_m2(&shared) - member.area_m2).abs() <= SAME {
        return whole();
    }
    let parts = shared.into_iter().map(|part| (part.area_m2(), part)).filter(|(area_m2, _)| *area_m2 > SAME);
    parts.map(|(area_m2, part)| piece(member, area_m2, Cow::Owned(part))).collect()
}

/// Pieces that are alike in one line each, and their sum.
fn lines(subject: &Subject<'_>, pieces: &[Piece<'_>]) -> Vec<Line> {
    let mut groups: Vec<(&Piece<'_>, f64)> = Vec::new();
    for piece in pieces {
        match groups.iter_mut().find(|(other, _)| other.is_like(piece)) {
            Some((_, number)) => *number += 1.0,
            None => groups.push((piece, 1.0)),
        }
    }
    let mut lines = solid_shares(subject, pieces);
    if pieces.iter().any(|piece| piece.box_m.is_some()) {
        let solid = if lines.is_empty() { "" } else { ", and x its solid share where it is not solid" };
        lines.push(Line::text(format!("number x width x height x its part of the depth{solid}")));
    }
    let mut parts = Vec::new();
    for (piece, number) in groups {
        let mut rest = Vec::new();
        let first = if let Some(box_m) = piece.box_m {
            rest.push((Operation::Times, Figure::length(box_m.width_m())));
            rest.push((Operation::Times, Figure::length(box_m.height_m())));
            Figure::number(number)
        } else {
            lines.extend(area::lines(piece.role, &piece.outline.rings, piece.area_m2));
            Figure::area(piece.area_m2)
        };
        rest.push((Operation::Times, Figure::length(piece.depth_m)));
        if piece.solid_share < 1.0 {
            rest.push((Operation::Times, Figure::number(piece.solid_share)));
        }
        let volume = Figure::volume(piece.volume_m3() * number);
        lines.push(Line::step(piece.role, first, rest, volume));
        parts.push(volume);
    }
    lines.extend(sum("all of them", &parts, Figure::volume(pieces.iter().map(Piece::volume_m3).sum())));
    lines
}

/// Shares that are solid, with what they come from.
fn solid_shares(subject: &Subject<'_>, pieces: &[Piece<'_>]) -> Vec<Line> {
    let mut shares: Vec<f64> = Vec::new();
    for piece in pieces.iter().filter(|piece| piece.solid_share < 1.0) {
        if !shares.iter().any(|share| (share - piece.solid_share).abs() < SAME) {
            shares.push(piece.solid_share);
        }
    }
    let from = solid_share_from(subject);
    let line = |share| Line::given("share that is solid between flanges or chords", Figure::number(share), &from);
    shares.into_iter().map(line).collect()
}

/// What says how much of a web is solid: an assumption of the framing, else its own text.
fn solid_share_from(subject: &Subject<'_>) -> String {
    let assigned = assigned_of(subject);
    let assumptions = assigned.as_ref().map(|assigned| assigned.framing.assumptions.as_slice()).unwrap_or_default();
    let find = |key: &str| assumptions.iter().find(|one| one.key.ends_with(key));
    if let Some(webs) = find("truss.webs") {
        return format!(
            "chord's thickness x the root of 2 (1.414214) / height between the chords: {} `{}`, {}",
            webs.key, webs.value, webs.source
        );
    }
    find("steel.punch-outs").map_or_else(
        || "the framing's own text".to_owned(),
        |holes| format!("1 less the punch-outs' area by the web's: {} `{}`, {}", holes.key, holes.value, holes.source),
    )
}

/// How much of all of it stands in each bay, and what is left for pieces that stay empty.
fn by_bay(surface: &SurfaceTakeoff, all_m3: f64) -> Vec<Line> {
    let of_bays: Vec<Figure> = surface.bays.iter().map(|bay| Figure::volume(bay.displaced_m3)).collect();
    let in_bays_m3: f64 = surface.bays.iter().map(|bay| bay.displaced_m3).sum();
    let mut lines: Vec<Line> =
        sum("of these in the bays, one by one", &of_bays, Figure::volume(in_bays_m3)).into_iter().collect();
    let rest_m3 = all_m3 - in_bays_m3;
    if rest_m3 > SAME {
        let less = [(Operation::Minus, Figure::volume(in_bays_m3))];
        lines.push(Line::step("and in what is left out", Figure::volume(all_m3), less, Figure::volume(rest_m3)));
    }
    lines
}
