//! Laws of framing and bays over random walls.

use crate::surfaces::{bays_m2, members_m2, opening, surface, with_rules};
use cavitally::bays::balance_residual_m2;
use cavitally::framing::{Layout, LayoutEnd, LayoutRules, MemberRole};
use cavitally::geometry::{Polygon, Ring, intersection, total_area_m2, union_even_odd};
use cavitally::model::{Extent, Opening, Surface, SurfaceKind};
use geo::{Area, BooleanOps, Coord, LineString, MultiPolygon};
use proptest::prelude::*;

const FRAMINGS: [&str; 5] = ["2x4 @ 16 in", "2x6 @ 24 in", "60x240 mm @ 625 mm", "45x195 mm @ 600 mm", "2x4 @ 19.2 in"];

/// Level, raked, gabled, stepped or hipped, all as high as `low` at least; from 5 on cut by a stair at the bottom (sloped,
/// stepped), leaning both ways, or L-shaped.
fn outline(shape: u8, length: f64, low: f64, rise: f64) -> Ring {
    let high = low + rise;
    let stair = low / 3.0;
    match shape {
        5 => return vec![[0.0, 0.0], [length * 0.4, 0.0], [length, stair], [length, low], [0.0, high]],
        6 => {
            let step = |k: f64| [length * k, stair * (k - 0.25) / 0.5];
            let (one, two) = (step(0.5), step(0.75));
            let bottom = [[0.0, 0.0], [one[0], 0.0], one, [two[0], one[1]], two, [length, two[1]]];
            return [bottom.as_slice(), &[[length, low], [length * 0.6, low], [length * 0.6, high], [0.0, high]]]
                .concat();
        }
        7 => return vec![[length * 0.2, 0.0], [length * 0.9, 0.0], [length, low], [0.0, low]],
        8 => return vec![[0.0, 0.0], [length, 0.0], [length * 0.8, low], [length * 0.3, low]],
        _ => {}
    }
    let mut ring = vec![[0.0, 0.0], [length, 0.0]];
    ring.extend(match shape {
        0 => vec![[length, low], [0.0, low]],
        1 => vec![[length, high], [0.0, low]],
        2 => vec![[length, low], [length * 0.4, high], [0.0, low]],
        3 => vec![[length, high], [length * 0.6, high], [length * 0.6, low], [0.0, low]],
        _ => vec![[length, low], [length * 0.8, high], [length * 0.3, high], [0.0, low + rise / 3.0]],
    });
    ring
}

/// Openings of three shapes that lie inside and do not overlap, given in fractions.
fn openings(wishes: &[(f64, f64, f64, f64, u8)], length: f64, low: f64) -> Vec<Opening> {
    let mut kept: Vec<Opening> = Vec::new();
    for (x, y, w, h, shape) in wishes {
        let (x, w) = (x * length, 0.1 + w * length / 3.0);
        let (y, h) = if *y < 0.3 { (0.0, 0.5 + h * (low - 0.6)) } else { (y * low, 0.1 + h * low / 2.0) };
        let (x1, y1) = ((x + w).min(length), (y + h).min(low));
        let outline = match shape {
            0 => Polygon::from_ring(vec![[x, y], [x1, y], [(x + x1) / 2.0, y1]]),
            1 => Polygon::from_ring(vec![
                [x, y],
                [x1, y],
                [x1, (y + y1) / 2.0],
                [(x + x1) / 2.0, y1],
                [x, (y + y1) / 2.0],
            ]),
            _ => Polygon::rectangle(x, y, x1, y1),
        };
        let meets = |other: &Opening| !intersection(&other.outline, std::slice::from_ref(&outline)).is_empty();
        if x1 - x > 0.05 && y1 - y > 0.05 && !kept.iter().any(meets) {
            kept.push(opening(outline));
        }
    }
    kept
}

pub(super) fn any_wall() -> impl Strategy<Value = (Surface, &'static str)> {
    let wish = (0.0..0.95_f64, 0.0..0.9_f64, 0.0..1.0_f64, 0.0..1.0_f64, 0_u8..6);
    let sizes = (0_u8..9, 0.3..9.0_f64, 2.0..4.0_f64, 0.05..3.0_f64);
    (sizes, prop::collection::vec(wish, 0..4), 0..FRAMINGS.len(), 0_u32..3, 0_u32..3).prop_map(
        |((shape, length, low, rise), wishes, framing, corners, partitions)| {
            let ring = Polygon::from_ring(outline(shape, length, low, rise));
            let mut openings = openings(&wishes, length, low);
            let is_inside = |o: &Opening| {
                let inside_m2 = total_area_m2(&intersection(&o.outline, std::slice::from_ref(&ring)));
                (inside_m2 - o.area_m2).abs() < 1e-12
            };
            openings.retain(is_inside);
            let mut wall = surface(SurfaceKind::Wall, vec![ring], openings);
            (wall.corner_posts, wall.partition_junctions) = (corners, partitions);
            (wall, FRAMINGS[framing])
        },
    )
}

pub(super) fn outline_of(surface: &Surface) -> &[Polygon] {
    match &surface.extent {
        Extent::Outline(outline) => outline,
        Extent::AreaM2(_) => &[],
    }
}

fn shapes(layout: &Layout) -> Vec<Polygon> {
    layout.members.iter().map(|member| member.outline.clone()).collect()
}

fn all_openings(surface: &Surface) -> Vec<Polygon> {
    surface.openings.iter().flat_map(|o| o.outline.clone()).collect()
}

fn mirrored(polygons: &[Polygon], about: f64) -> Vec<Polygon> {
    let flip = |ring: &Ring| ring.iter().rev().map(|[x, y]| [about - x, *y]).collect();
    polygons.iter().map(|p| Polygon { rings: p.rings.iter().map(flip).collect() }).collect()
}

fn to_geo(polygons: &[Polygon]) -> MultiPolygon<f64> {
    let line = |ring: &Ring| LineString(ring.iter().map(|[x, y]| Coord { x: *x, y: *y }).collect());
    let parts = polygons.iter().map(|polygon| {
        let mut rings = polygon.rings.iter().map(line);
        geo::Polygon::new(rings.next().unwrap(), rings.collect())
    });
    MultiPolygon(parts.collect())
}

/// Random walls a law; `CASES` asks for more.
pub(super) fn cases() -> u32 {
    std::env::var("CASES").ok().and_then(|text| text.parse().ok()).unwrap_or(96)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_balance_closes_and_nothing_overlaps((wall, framing) in any_wall(), is_flat in any::<bool>()) {
        let mut wall = wall;
        if is_flat {
            wall.kind = SurfaceKind::Roof;
        }
        let (layout, cut) = with_rules(&wall, framing, &LayoutRules::default());
        let gross = wall.gross_area_m2();
        prop_assert!(balance_residual_m2(&wall, &layout, &cut).abs() <= 1e-9 * gross);
        prop_assert!(layout.members.iter().all(|m| m.area_m2 > 0.0 && !m.outline.rings.is_empty()));
        let members = shapes(&layout);
        let inside = total_area_m2(&intersection(&members, outline_of(&wall)));
        prop_assert!((inside - total_area_m2(&members)).abs() < 1e-9, "a member reaches outside");
        prop_assert!(total_area_m2(&intersection(&members, &all_openings(&wall))) < 1e-9, "a member in an opening");
        for (i, one) in members.iter().enumerate() {
            let others = members.get(i + 1..).unwrap_or_default();
            let shared = total_area_m2(&intersection(std::slice::from_ref(one), others));
            prop_assert!(shared < 1e-9, "{:?} overlaps another member", layout.members[i].role);
        }
    }

    #[test]
    fn the_mirrored_wall_from_the_other_end_is_the_same((wall, framing) in any_wall()) {
        let mut wall = wall;
        wall.corner_posts = 0;
        wall.partition_junctions = 0;
        let about = cavitally::geometry::Bounds::of_polygons(outline_of(&wall)).unwrap().max_x;
        let mut mirror = wall.clone();
        mirror.extent = Extent::Outline(mirrored(outline_of(&wall), about));
        for opening in &mut mirror.openings {
            opening.outline = mirrored(&opening.outline, about);
        }
        let right = LayoutRules { layout_end: LayoutEnd::Right, ..LayoutRules::default() };
        let (one, one_cut) = with_rules(&wall, framing, &LayoutRules::default());
        let (other, other_cut) = with_rules(&mirror, framing, &right);
        prop_assert!((members_m2(&one) - members_m2(&other)).abs() < 1e-9);
        prop_assert!((bays_m2(&one_cut) - bays_m2(&other_cut)).abs() < 1e-9);
        prop_assert_eq!(one_cut.bays.len(), other_cut.bays.len());
        for role in [MemberRole::TopPlate, MemberRole::BottomPlate, MemberRole::EndStud] {
            let area = |layout: &Layout| -> f64 {
                layout.members.iter().filter(|m| m.role == role).map(|m| m.area_m2).sum()
            };
            prop_assert!((area(&one) - area(&other)).abs() < 1e-9, "{:?}", role);
        }
    }

    // Framing is only added beside an opening, never taken away, so that bays can only shrink.
    #[test]
    fn an_opening_never_adds_bay_area((wall, framing) in any_wall()) {
        let mut wall = wall;
        wall.partition_junctions = 0;
        let length = cavitally::geometry::Bounds::of_polygons(outline_of(&wall)).unwrap().max_x;
        wall.extent = Extent::Outline(vec![Polygon::rectangle(0.0, 0.0, length, 4.5)]);
        let mut before = f64::INFINITY;
        let wanted = std::mem::take(&mut wall.openings);
        for k in 0..=wanted.len() {
            wall.openings = wanted.iter().take(k).cloned().collect();
            let now = bays_m2(&with_rules(&wall, framing, &LayoutRules::default()).1);
            prop_assert!(now <= before + 1e-9, "{} openings: {now} after {before}", k);
            before = now;
        }
    }

    // A second opinion on the areas: the `geo` crate, whose boolean engine is of another version and grid.
    #[test]
    fn another_library_finds_the_same_bays((wall, framing) in any_wall()) {
        let (layout, cut) = with_rules(&wall, framing, &LayoutRules::default());
        let mut rest = to_geo(outline_of(&wall)).difference(&to_geo(&all_openings(&wall)));
        for member in &layout.members {
            rest = rest.difference(&to_geo(std::slice::from_ref(&member.outline)));
        }
        let own: f64 = bays_m2(&cut) + cut.left_out.iter().map(|p| p.area_m2).sum::<f64>();
        prop_assert!((rest.unsigned_area() - own).abs() < 1e-6 * wall.gross_area_m2());
    }

    // By hand: between studs of a wall without openings there is one gap each, whatever its top.
    #[test]
    fn every_gap_between_studs_is_one_piece(shape in 0_u8..5, length in 0.3..9.0_f64, rise in 0.1..3.0_f64, k in 0..5_usize) {
        let wall = surface(SurfaceKind::Wall, vec![Polygon::from_ring(outline(shape, length, 2.4, rise))], Vec::new());
        let (layout, cut) = with_rules(&wall, FRAMINGS[k], &LayoutRules::default());
        let framing = cavitally::framing::parse_framing(FRAMINGS[k]).unwrap();
        let (width, spacing) = (framing.rows[0].member_width_m, framing.rows[0].spacing_m);
        let mut studs = vec![[0.0, width], [length - width, length]];
        studs.extend((1..).map(|n| f64::from(n) * spacing).take_while(|x| *x < length).map(|x| [x - width / 2.0, x + width / 2.0]));
        if shape == 3 {
            studs.push([length * 0.6, length * 0.6 + width]);
        }
        studs.sort_by(|a, b| a[0].total_cmp(&b[0]));
        let mut reach = 0.0;
        let mut gaps = 0;
        for [from, to] in studs {
            gaps += usize::from(from > reach + 1e-6);
            reach = f64::max(reach, to);
        }
        prop_assume!(layout.findings.is_empty());
        prop_assert_eq!(cut.bays.len() + cut.left_out.len(), gaps);
    }

    #[test]
    fn any_points_at_all_are_laid_out_without_a_panic(
        ring in prop::collection::vec(any_point(), 0..9),
        hole in prop::collection::vec(any_point(), 0..6),
        kind in 0_u8..3,
    ) {
        let kind = [SurfaceKind::Wall, SurfaceKind::Floor, SurfaceKind::Roof][usize::from(kind)];
        // An intake unites what it reads, whatever it is: a surface's outline never crosses itself.
        let outline = union_even_odd(&[ring, hole.clone()]);
        let holes = union_even_odd(&[hole]).into_iter().map(opening).collect();
        let mut odd = surface(kind, outline, holes);
        (odd.corner_posts, odd.partition_junctions) = (3, u32::MAX);
        odd.measured_depth_m = Some(f64::NAN);
        let (layout, cut) = with_rules(&odd, "2x4 @ 16 in", &LayoutRules { blocking_every_m: Some(0.5), ..LayoutRules::default() });
        prop_assert!(layout.depth_m > 0.0);
        prop_assert!(cut.bays.iter().all(|bay| bay.area_m2 > 0.0));
    }
}

fn any_point() -> impl Strategy<Value = [f64; 2]> {
    let value =
        || prop_oneof![20 => -6.0..6.0_f64, 4 => (-3..4_i8).prop_map(f64::from), 1 => Just(1e4), 1 => Just(1e-9)];
    [value(), value()]
}
