//! Laying out joists and rafters: ceilings, floors and roof slopes.

use super::around_opening::{RoughOpening, rough_openings};
use super::carve::Carve;
use super::edge::Face;
use super::edges::{plate_bands, sides};
use super::given::take_given;
use super::lay_out::place_of;
use super::site::{Site, polygon_of};
use super::slope::{SlopeEdges, is_sloped, slope_edges};
use super::studs::{Host, centres, has_sane_count, on_layout, overlap};
use super::too_many::MOST_BLOCKS;
use super::{Layout, LayoutRules, MemberRole, MemberRow};
use crate::finding::{Code, Finding};
use crate::geometry::Bounds;
use crate::geometry::tolerance::COINCIDENT_M;
use crate::model::{OpeningKind, Surface, SurfaceKind};

/// Members on each side of an opening and at each of its ends.
const DOUBLED: f64 = 2.0;

/// Lays out a ceiling, floor or roof slope; `layout` gets its members.
///
/// Joists or rafters run along y, on the layout from the chosen end, with one more at each side. One
/// rim, as wide as a member, lies across their ends, along every edge that looks up or down. A roof
/// that slopes has its rim at the eaves alone, half of a ridge board along a level top edge, and half
/// of a hip or valley rafter along an oblique one, at which jack rafters end. Rows of blocking stand
/// where the rules ask for them, measured from the low end; `blocking_every` is not for roofs, whose
/// vent channel it would close. An opening is trimmed with two trimmers on each side, full
/// length, and two headers at each end, between the trimmers. A recessed light or flue that is
/// narrower than the clear space, and any opening that stands clear of all joists, is not trimmed.
///
/// # Source
/// Common practice, no source.
pub(super) fn lay_out_flat(site: &Site, surface: &Surface, row: &MemberRow, rules: &LayoutRules, layout: &mut Layout) {
    let role = if surface.kind == SurfaceKind::Roof { MemberRole::Rafter } else { MemberRole::Joist };
    let width = row.member_width_m;
    let openings = rough_openings(surface, rules);
    let centres = centres(site, row, rules);
    let trimmed: Vec<&RoughOpening<'_>> =
        openings.iter().filter(|opening| needs_trimming(opening, &centres, row)).collect();
    let post_m = row.post_width_m();
    let trimmers: Vec<Bounds> = trimmed.iter().flat_map(|opening| trimmers(site, &opening.rough, post_m)).collect();
    let headers: Vec<Bounds> = trimmed.iter().flat_map(|opening| headers(site, &opening.rough, post_m)).collect();
    let edges = if surface.kind == SurfaceKind::Roof && is_sloped(surface) {
        slope_edges(site, surface, row, rules)
    } else {
        level_edges(site, row)
    };
    let ends: Vec<Bounds> = edges
        .rakes
        .iter()
        .filter_map(|side| {
            let x = if side.is_left_end { [side.x, side.x + width] } else { [side.x - width, side.x] };
            site.rectangle(x, site.reach_at(f64::midpoint(x[0], x[1]), side.y))
        })
        .collect();

    let mut carve = Carve::of(site);
    carve.block(openings.iter().flat_map(|opening| opening.shape.iter().cloned()));
    take_given(&mut carve, surface);
    carve.take(MemberRole::RidgeBoard, &edges.ridges);
    carve.take(MemberRole::HipRafter, &edges.hips);
    carve.take(MemberRole::ValleyRafter, &edges.valleys);
    carve.take(MemberRole::Rim, &edges.rims);
    carve.block(openings.iter().map(|opening| polygon_of(&opening.rough)));
    carve.take_boxes(role, &ends);
    carve.take_boxes(MemberRole::Trimmer, &trimmers);
    carve.take_boxes(MemberRole::Header, &headers);
    let mut hosts: Vec<Host> = ends.iter().map(|b| Host::of(role, b)).collect();
    hosts.extend(trimmers.iter().map(|b| Host::of(MemberRole::Trimmer, b)));
    for (role, boxes) in on_layout(site, row, rules, &hosts, &[], [role, role]) {
        carve.take_boxes(role, &boxes);
    }
    let blocks = blocking(site, surface, row, rules);
    if u32::try_from(blocks.len() * centres.len()).is_ok_and(|pieces| f64::from(pieces) <= MOST_BLOCKS) {
        carve.take_boxes(MemberRole::Blocking, &blocks);
    } else {
        layout.findings.push(too_many_blocks(surface, blocks.len()));
    }
    layout.members = carve.members();
    layout.eaves = edges.eaves;
    layout.rough_openings = openings.iter().map(|opening| polygon_of(&opening.rough)).collect();
}

/// Rims at both ends of joists, which stand at both sides.
fn level_edges(site: &Site, row: &MemberRow) -> SlopeEdges {
    let rim_m = row.plate_thickness_m.unwrap_or(row.post_width_m());
    let mut rims = plate_bands(site, Face::Top, rim_m);
    rims.extend(plate_bands(site, Face::Bottom, rim_m));
    SlopeEdges { rims, rakes: sides(site, row.member_width_m), ..SlopeEdges::default() }
}

/// Rows of blocking or bridging, as wide as a member.
fn blocking(site: &Site, surface: &Surface, row: &MemberRow, rules: &LayoutRules) -> Vec<Bounds> {
    if !has_sane_count(site, row, rules) {
        return Vec::new();
    }
    let span_m = site.bounds.height_m();
    let every = rules.blocking_every_m.filter(|m| surface.kind != SurfaceKind::Roof && *m > 2.0 * row.member_width_m);
    let even = every.map(|every| (1_u32..).map(move |k| f64::from(k) * every).take_while(|m| *m < span_m));
    let middles = even.into_iter().flatten().chain(rules.blocking_at_m.iter().copied().filter(|m| *m < span_m));
    let half = row.member_width_m / 2.0;
    let across = [site.bounds.min_x, site.bounds.max_x];
    let up = |m: f64| site.bounds.min_y + m;
    middles.filter_map(|m| site.rectangle(across, [up(m) - half, up(m) + half])).collect()
}

fn too_many_blocks(surface: &Surface, rows: usize) -> Finding {
    let message = format!(
        "{rows} rows of blocking between the members of this surface are more than a building has: none is drawn; check \
         its size, the unit and `blocking_every`"
    );
    Finding::error(Code::LayoutDoubt, &place_of(surface), message)
}

fn needs_trimming(opening: &RoughOpening<'_>, centres: &[f64], row: &MemberRow) -> bool {
    let rough = &opening.rough;
    let half = row.member_width_m / 2.0;
    let moves = match opening.kind {
        OpeningKind::Light | OpeningKind::Flue => rough.width_m() <= row.spacing_m - row.member_width_m,
        OpeningKind::Window
        | OpeningKind::Door
        | OpeningKind::Hatch
        | OpeningKind::Skylight
        | OpeningKind::Chimney
        | OpeningKind::Other => false,
    };
    let cuts = |x: &f64| overlap([x - half, x + half], [rough.min_x, rough.max_x]) > COINCIDENT_M;
    !moves && centres.iter().any(cuts)
}

fn trimmers(site: &Site, rough: &Bounds, width: f64) -> Vec<Bounds> {
    let y = f64::midpoint(rough.min_y, rough.max_y);
    let sides = [[rough.min_x - DOUBLED * width, rough.min_x], [rough.max_x, rough.max_x + DOUBLED * width]];
    sides.into_iter().filter_map(|x| site.rectangle(x, site.reach_at(f64::midpoint(x[0], x[1]), y))).collect()
}

fn headers(site: &Site, rough: &Bounds, width: f64) -> Vec<Bounds> {
    let ends = [[rough.min_y - DOUBLED * width, rough.min_y], [rough.max_y, rough.max_y + DOUBLED * width]];
    ends.into_iter().filter_map(|y| site.rectangle([rough.min_x, rough.max_x], y)).collect()
}
