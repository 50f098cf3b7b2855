//! Laws of the layout's rules, over random rules, outlines, openings and junctions.

use super::framing::{any_wall, cases, outline_of};
use crate::surfaces::{INCH, bays_m2, level_wall_in, members_m2, with_rules};
use cavitally::bays::{BayCut, balance_residual_m2};
use cavitally::framing::{Layout, LayoutEnd, LayoutRules, OpeningRule, PartitionBuild, PartitionRows};
use cavitally::geometry::{Bounds, Polygon, Ring, intersection, total_area_m2};
use cavitally::job::read_job;
use cavitally::model::{Extent, FloorBand, Junction, JunctionKind, Surface};
use proptest::option;
use proptest::prelude::*;

fn any_opening_rule() -> impl Strategy<Value = OpeningRule> {
    let part = (0.2..3.0_f64, option::of(0.0..0.4_f64), option::of(0.01..0.2_f64));
    (part, option::of(0_u32..4), option::of(0_u32..4), option::of(0_u32..3)).prop_map(
        |((up_to_m, header_height_m, header_depth_m), jack_studs, king_studs, sill_plates)| OpeningRule {
            up_to_m,
            header_height_m,
            header_depth_m,
            jack_studs,
            king_studs,
            sill_plates,
        },
    )
}

fn any_rules() -> impl Strategy<Value = LayoutRules> {
    let ends = (any::<bool>(), option::of(0.02..1.5_f64), option::of(0.3..1.5_f64));
    let plates = (0_u32..3, 0_u32..3, prop::collection::vec(any_opening_rule(), 0..3));
    let corners = (0_u32..4, 0_u32..4, 0_u8..3, 0.1..0.9_f64, any::<bool>());
    let rows = (option::of(0.3..2.0_f64), 0_u32..3, option::of(0.5..3.5_f64), any::<bool>(), prop::bool::weighted(0.1));
    let depths = (option::of(0.01..0.2_f64), 0.0..0.05_f64, option::of(0.005..0.05_f64), option::of(0.005..0.05_f64));
    (ends, plates, corners, rows, depths).prop_map(
        |(
            (is_left, first_stud_m, panel_width_m),
            (bottom_plates, top_plates, openings_by_width),
            (corner_post_studs, partition_studs, build, ladder_every_m, frame_junctions),
            (blocking_every_m, mid_blocking, fire_blocking_m, keeps_whole, is_rim),
            (header_depth_m, clearance_m, opening_box_m, fire_board_m),
        )| LayoutRules {
            layout_end: if is_left { LayoutEnd::Left } else { LayoutEnd::Right },
            first_stud_m,
            panel_width_m,
            bottom_plates,
            top_plates,
            openings_by_width,
            corner_post_studs,
            partition_studs,
            partition_build: [PartitionBuild::Studs, PartitionBuild::Ladder, PartitionBuild::Bare][usize::from(build)],
            ladder_every_m,
            frame_junctions,
            blocking_every_m,
            mid_blocking,
            fire_blocking_m,
            keeps_whole,
            is_rim,
            header_depth_m,
            clearance_m,
            opening_box_m,
            fire_board_m,
            partition_rows: if is_left { PartitionRows::Inner } else { PartitionRows::All },
            ..LayoutRules::default()
        },
    )
}

/// A wall with junctions and a floor somewhere along it, given in fractions of its box.
fn any_joined_wall() -> impl Strategy<Value = (Surface, &'static str)> {
    let junctions = prop::collection::vec((any::<bool>(), -0.1..1.1_f64), 0..4);
    (any_wall(), junctions, 0.0..1.0_f64).prop_map(|((mut wall, framing), junctions, floor)| {
        let bounds = Bounds::of_polygons(outline_of(&wall)).unwrap();
        wall.junctions = junctions
            .into_iter()
            .map(|(is_corner, at)| Junction {
                kind: if is_corner { JunctionKind::Corner } else { JunctionKind::Partition },
                at_m: at * bounds.max_x,
                reach_m: None,
                source: None,
            })
            .collect();
        let from_m = floor * bounds.max_y;
        wall.floor_bands = vec![FloorBand { from_m, to_m: from_m + 0.25, source: None }];
        (wall, framing)
    })
}

/// What the bays hold, net of what stands in them, in cubic metres.
fn net_m3(layout: &Layout, cut: &BayCut) -> f64 {
    cut.bays.iter().map(|bay| bay.area_m2 * layout.depth_m - bay.displaced_m3).sum()
}

fn moved(polygons: &[Polygon], [dx, dy]: [f64; 2]) -> Vec<Polygon> {
    let shift = |ring: &Ring| ring.iter().map(|[x, y]| [x + dx, y + dy]).collect();
    polygons.iter().map(|polygon| Polygon { rings: polygon.rings.iter().map(shift).collect() }).collect()
}

/// Framing whose cavity is open past its studs, and one of steel and of joists with flanges.
const IN_ROWS: [&str; 6] = [
    "2x4 @ 16 in + gap 4 in + 2x4 @ 24 in",
    "2x4 @ 16 in staggered on 2x6",
    "2x6 @ 16 in + strapping 2x2 @ 24 in",
    "362S162-54 @ 16 in + gap 1 in + 2x4 @ 24 in",
    "362S162-54 @ 16 in",
    "PRI-40 11-7/8 in @ 16 in",
];

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_balance_closes_whatever_the_rules((wall, framing) in any_joined_wall(), rules in any_rules(), rows in 0_usize..12) {
        let framing = IN_ROWS.get(rows).copied().unwrap_or(framing);
        let (layout, cut) = with_rules(&wall, framing, &rules);
        let gross_m2 = wall.gross_area_m2();
        prop_assert!(balance_residual_m2(&wall, &layout, &cut).abs() <= 1e-9 * gross_m2);
        // In volume: what takes a part of the depth stands in bays and in pieces left out, all of it.
        let displaced: f64 = cut.bays.iter().map(|bay| bay.displaced_m3).sum::<f64>()
            + cut.left_out.iter().map(|piece| piece.displaced_m3).sum::<f64>();
        let partial: f64 = layout.partial.iter().map(|piece| piece.volume_of_m3(piece.area_m2)).sum();
        prop_assert!((displaced - partial).abs() <= 1e-9 * gross_m2 * layout.depth_m);
        let solids: Vec<Polygon> = layout.members.iter().map(|m| m.outline.clone()).collect();
        let bays: Vec<Polygon> = cut.bays.iter().map(|bay| bay.outline.clone()).collect();
        let partial: Vec<Polygon> = layout.partial.iter().map(|piece| piece.outline.clone()).collect();
        prop_assert!(total_area_m2(&intersection(&bays, &solids)) < 1e-9);
        prop_assert!(total_area_m2(&intersection(&partial, &solids)) < 1e-9);
        for piece in &layout.partial {
            prop_assert!(piece.from_m < piece.to_m + 1e-12 && piece.to_m <= layout.depth_m + 1e-9);
        }
    }

    #[test]
    fn moving_a_building_changes_no_bay(
        (wall, framing) in any_joined_wall(),
        rules in any_rules(),
        by in [-40.0..40.0_f64, -9.0..40.0_f64],
    ) {
        let mut there = wall.clone();
        there.extent = Extent::Outline(moved(outline_of(&wall), by));
        there.openings.iter_mut().for_each(|opening| opening.outline = moved(&opening.outline, by));
        there.junctions.iter_mut().for_each(|junction| junction.at_m += by[0]);
        for band in &mut there.floor_bands {
            (band.from_m, band.to_m) = (band.from_m + by[1], band.to_m + by[1]);
        }
        let (layout, cut) = with_rules(&wall, framing, &rules);
        let (other, other_cut) = with_rules(&there, framing, &rules);
        prop_assert!((members_m2(&layout) - members_m2(&other)).abs() < 1e-8);
        prop_assert!((net_m3(&layout, &cut) - net_m3(&other, &other_cut)).abs() < 1e-8);
    }

    // IRC R302.11: no bay is higher than the limit, whatever the outline.
    #[test]
    fn no_bay_is_higher_than_its_fire_blocks_allow((wall, framing) in any_joined_wall(), limit_m in 0.5..3.5_f64) {
        let rules = LayoutRules { fire_blocking_m: Some(limit_m), ..LayoutRules::default() };
        let (_, cut) = with_rules(&wall, framing, &rules);
        for bay in &cut.bays {
            let height_m = bay.outline.bounds().unwrap().height_m();
            prop_assert!(height_m <= limit_m + 2e-6, "{height_m} is over {limit_m}");
        }
    }

    // IRC R302.11, item 1: in parallel rows of studs, staggered studs and furred spaces no bay is longer than the limit, nor
    // higher between the plates, which do not close the gap.
    #[test]
    fn no_open_bay_is_longer_than_its_boards_allow((wall, _) in any_joined_wall(), limit_m in 0.5..3.5_f64, k in 0_usize..4) {
        let rules = LayoutRules { fire_blocking_m: Some(limit_m), ..LayoutRules::default() };
        let (_, cut) = with_rules(&wall, IN_ROWS[k], &rules);
        let plates_m = 3.0 * rules.plate_thickness_m;
        for bay in &cut.bays {
            let bounds = bay.outline.bounds().unwrap();
            prop_assert!(bounds.width_m() <= limit_m + 2e-6, "{} is longer than {limit_m}", bounds.width_m());
            prop_assert!(bounds.height_m() <= limit_m + plates_m + 2e-6, "{} is over {limit_m}", bounds.height_m());
        }
    }

    // By hand: a level wall parted at a stud of its layout has two end studs there in place of one stud: one stud more,
    // as high as the bays less the rows of blocking across them.
    #[test]
    fn a_wall_in_two_equals_the_whole_less_the_added_stud(left in 1_u32..9, right in 1_u32..9, rows in 0_u32..3, height in 90.0..200.0_f64) {
        let length = |spacings: u32| f64::from(spacings) * 16.0;
        let rules = LayoutRules { mid_blocking: rows, ..LayoutRules::default() };
        let bays = |inches: f64| bays_m2(&with_rules(&level_wall_in(inches, height, &[]), "2x4 @ 16 in", &rules).1);
        let whole = bays(length(left + right));
        let parts = bays(length(left)) + bays(length(right));
        let stud = 1.5 * (height - 4.5 - f64::from(rows) * 1.5) * INCH * INCH;
        prop_assert!((whole - parts - stud).abs() < 1e-9, "{whole} {parts} {stud}");
    }

    // The same wall, framing and rules in inches and in millimetres.
    #[test]
    fn si_and_us_inputs_agree(
        length in 40.0..400.0_f64,
        lengths in [8.0..24.0_f64, 30.0..60.0, 60.0..140.0, 4.0..12.0, 1.0..3.0, 0.0..2.0],
        x in 0.2..0.5_f64,
    ) {
        let job = |write: &dyn Fn(f64) -> String| {
            let [first, panel, fire, header, deep, clearance] = lengths.map(write);
            let text = format!(
                "[layout]\nfirst_stud = \"{first}\"\npanel_width = \"{panel}\"\nfire_blocking = \"{fire}\"\n\
                 opening_clearance = \"{clearance}\"\n[[layout.opening]]\nup_to = \"{panel}\"\nheader = \"{header}\"\n\
                 header_depth = \"{deep}\"\n"
            );
            read_job("job.toml", &text).unwrap().layout.rules
        };
        let us = job(&|inches| format!("{inches} in"));
        let si = job(&|inches| format!("{} mm", inches * 25.4));
        let openings = [[length * x, 30.0, length * x + 20.0, 70.0]];
        let surface = level_wall_in(length, 120.0, &openings);
        let (one, one_cut) = with_rules(&surface, "2x6 @ 16 in", &us);
        let (other, other_cut) = with_rules(&surface, "38.1x139.7 mm @ 406.4 mm", &si);
        prop_assert!((members_m2(&one) - members_m2(&other)).abs() < 1e-12);
        prop_assert!((bays_m2(&one_cut) - bays_m2(&other_cut)).abs() < 1e-12);
        prop_assert!((net_m3(&one, &one_cut) - net_m3(&other, &other_cut)).abs() < 1e-12);
    }
}

/// Two levels at the bottom, parted in the middle of 96 in.; a partition meets the wall there.
fn wall_with_a_step_below_its_partition(step: f64, by_m: [f64; 2]) -> Surface {
    let ring = [[0.0, 0.0], [48.0, 0.0], [48.0, step], [96.0, step], [96.0, 97.125], [0.0, 97.125]];
    let outline = [Polygon::from_ring(ring.map(|point| point.map(|inches| inches * INCH)).to_vec())];
    let mut wall = level_wall_in(96.0, 97.125, &[]);
    wall.extent = Extent::Outline(moved(&outline, by_m));
    wall.partition_junctions = 1;
    wall
}

// By hand. A case that random walls found: the partition's middle lies on the upright edge of a step, and the last digit
// of its place said how far down the wall reaches there. 2x6 @ 19.2 in.: studs at 38.4 and 57.6, blocks of 17.7 x 3.5
// at 24 48 72 from the lower level. A step of 12 in. has an end stud of its own, whose face the partition meets: none.
#[test]
fn a_partition_over_a_step_is_backed_wherever_the_building_stands() {
    let rules = LayoutRules { partition_build: PartitionBuild::Ladder, ..LayoutRules::default() };
    for by in [0.0, -33.803_550_197_735_59, 0.1, 1.7, -12.3, 39.999, 7.77] {
        let wall = wall_with_a_step_below_its_partition(2.0, [by, -by]);
        let (layout, _) = with_rules(&wall, "2x6 @ 19.2 in", &rules);
        let middles: Vec<f64> = layout
            .partial
            .iter()
            .map(|block| {
                let bounds = block.outline.bounds().unwrap();
                assert!((block.area_m2 - 17.7 * 3.5 * INCH * INCH).abs() < 1e-9);
                (f64::midpoint(bounds.min_y, bounds.max_y) + by) / INCH
            })
            .collect();
        assert_eq!(middles.len(), 3, "{by}: {middles:?}");
        assert!(middles.iter().zip([24.0, 48.0, 72.0]).all(|(found, hand)| (found - hand).abs() < 1e-6), "{middles:?}");
        let wall = wall_with_a_step_below_its_partition(12.0, [by, -by]);
        assert!(with_rules(&wall, "2x6 @ 19.2 in", &rules).0.partial.is_empty(), "{by}");
    }
}
