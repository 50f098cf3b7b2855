//! Laying out a wall.

use super::around_opening::{Around, RoughOpening, frame_openings, rough_openings};
use super::blocking::blocking_rows;
use super::carve::Carve;
use super::edge::Face;
use super::edges::{plate_bands, sides};
use super::given::take_given;
use super::header_depth::ShallowHeader;
use super::panels::centres_with_panels;
use super::posts::{Posts, place_posts};
use super::site::{Site, polygon_of};
use super::studs::{Host, at_places};
use super::{Layout, LayoutRules, MemberRole, MemberRow};
use crate::finding::{Code, Finding};
use crate::geometry::{Bounds, Point};
use crate::model::Surface;
use crate::source::Place;

/// What takes only a part of the depth, whatever the rows.
#[derive(Default)]
pub(super) struct Shallow {
    /// Headers with cavity behind them.
    pub(super) headers: Vec<ShallowHeader>,
    /// Places of partitions that get a ladder.
    pub(super) ladders: Vec<Point>,
}

/// Lays out a wall; `layout` gets its members, findings and assumptions.
///
/// Returns what takes only a part of the depth, which is placed when all rows are laid out.
///
/// Where two members would overlap, the one that comes first keeps the ground: top plates, bottom
/// plates, end studs, king studs, jack studs, headers, rough sills, corner posts, partition studs,
/// studs on the layout (with cripples), blocking.
pub(super) fn lay_out_wall(
    site: &Site,
    surface: &Surface,
    row: &MemberRow,
    rules: &LayoutRules,
    place: &Place,
    layout: &mut Layout,
) -> Shallow {
    let openings = rough_openings(surface, rules);
    let around = frame_openings(site, &openings, row, rules);
    let ends = end_studs(site, row, rules);
    let posts = place_posts(site, surface, row, rules, &around);

    let mut carve = Carve::of(site);
    take_given(&mut carve, surface);
    take_plates(&mut carve, site, &openings, row, rules);
    carve.take_boxes(MemberRole::EndStud, &ends);
    take_around(&mut carve, &around);
    carve.take_boxes(MemberRole::CornerPost, &posts.corners);
    carve.take_boxes(MemberRole::PartitionStud, &posts.partitions);
    let zones: Vec<[f64; 2]> = around.iter().map(|a| a.zone).collect();
    let hosts = hosts(&ends, &around, &posts);
    let held: Vec<[f64; 2]> = hosts.iter().map(|host| host.x).collect();
    let middles = centres_with_panels(site, row, rules, &held);
    // Jacks end at the head: a row above it runs over them.
    let mut uprights = held;
    for (role, boxes) in at_places(site, row, &middles, &hosts, &zones, [MemberRole::Stud, MemberRole::Cripple]) {
        uprights.extend(boxes.iter().map(|b| [b.min_x, b.max_x]));
        carve.take_boxes(role, &boxes);
    }
    carve.take_boxes(MemberRole::Blocking, &blocking_rows(site, surface, row, rules, uprights));

    layout.members = carve.members();
    layout.rough_openings = openings.iter().map(|opening| polygon_of(&opening.rough)).collect();
    layout.findings.extend(crowded(&openings, &around, place));
    layout.findings.extend(posts.findings(place));
    layout.assumptions.extend(posts.assumptions);
    let shallow = |a: &Around| Some(ShallowHeader { place: a.header?, depth_m: a.header_depth_m? });
    Shallow { headers: around.iter().filter_map(shallow).collect(), ladders: posts.ladders }
}

/// Top plates give way to the openings alone; all else gives way to the boxes around them.
fn take_plates(carve: &mut Carve, site: &Site, openings: &[RoughOpening<'_>], row: &MemberRow, rules: &LayoutRules) {
    let thickness = |count: u32| f64::from(count) * rules.plate_m(row);
    carve.block(openings.iter().flat_map(|opening| opening.shape.iter().cloned()));
    carve.take(MemberRole::TopPlate, &plate_bands(site, Face::Top, thickness(rules.top_plates)));
    carve.block(openings.iter().map(|opening| polygon_of(&opening.rough)));
    carve.take(MemberRole::BottomPlate, &plate_bands(site, Face::Bottom, thickness(rules.bottom_plates)));
}

fn take_around(carve: &mut Carve, around: &[Around]) {
    let all = |pick: fn(&Around) -> Vec<Bounds>| around.iter().flat_map(pick).collect::<Vec<_>>();
    carve.take_boxes(MemberRole::KingStud, &all(|a| a.kings.clone()));
    carve.take_boxes(MemberRole::JackStud, &all(|a| a.jacks.clone()));
    carve.take_boxes(MemberRole::Header, &all(|a| a.header.into_iter().collect()));
    carve.take_boxes(MemberRole::RoughSill, &all(|a| a.sill.into_iter().collect()));
}

/// A stud at both ends of every piece, and one at each side of a step that is higher than the top
/// plates are thick; it stands inside the side, through the whole height of the wall there.
fn end_studs(site: &Site, row: &MemberRow, rules: &LayoutRules) -> Vec<Bounds> {
    let shortest = f64::from(rules.top_plates.max(1)) * rules.plate_m(row);
    let stud = |side: super::edge::Side| {
        let width = row.member_width_m;
        let x = if side.is_left_end { [side.x, side.x + width] } else { [side.x - width, side.x] };
        site.rectangle(x, site.reach_at(f64::midpoint(x[0], x[1]), side.y))
    };
    sides(site, shortest).into_iter().filter_map(stud).collect()
}

fn hosts(ends: &[Bounds], around: &[Around], posts: &Posts) -> Vec<Host> {
    let mut hosts: Vec<Host> = ends.iter().map(|b| Host::of(MemberRole::EndStud, b)).collect();
    hosts.extend(around.iter().flat_map(|a| &a.kings).map(|b| Host::of(MemberRole::KingStud, b)));
    hosts.extend(posts.corners.iter().map(|b| Host::of(MemberRole::CornerPost, b)));
    hosts.extend(posts.partitions.iter().map(|b| Host::of(MemberRole::PartitionStud, b)));
    hosts
}

fn crowded(openings: &[RoughOpening<'_>], around: &[Around], place: &Place) -> Option<Finding> {
    let tight: Vec<String> =
        openings.iter().zip(around).filter(|(_, a)| !a.fits).map(|(o, _)| format!("`{}`", o.id)).collect();
    (!tight.is_empty()).then(|| {
        let message = format!(
            "no room for all of the king studs, jack studs, header or sill around {}: they are cut off at the next \
             opening, the plates or the edge of the wall; check the place of the openings, or have this wall framed by \
             hand",
            tight.join(", ")
        );
        Finding::warning(Code::OpeningCrowded, place, message)
    })
}
