//! Walls drawn and counted by hand, member by member, in inches.
//!
//! Conventions of IRC R602, as far as they bear on what is drawn: studs on edge, spaced centre to centre
//! (R602.3); a double top plate (R602.3.2); headers on jack studs, king studs beside them (R602.7);
//! sheathing edges on framing (Table R602.3(1)); fire blocks at floors and at 10 ft (R302.11). Dressed
//! sizes: PS 20. Numbers of jacks, sills and cripples: common practice, no source. A pre-cut stud of
//! 92 5/8 in. and three plates of 1 1/2 in. make 97 1/8 in. (from memory).

use crate::surfaces::{INCH, bays_m2, level_wall_in, near, plain, role_in2, wall, with_rules};
use cavitally::bays::{BayCut, TOO_NARROW, balance_residual_m2, cut_bays};
use cavitally::framing::MemberRole::{
    self, Blocking, BottomPlate, CornerPost, Cripple, EndStud, Header, JackStud, KingStud, PartitionStud, RoughSill,
    Stud, TopPlate,
};
use cavitally::framing::{Framing, Layout, LayoutRules, MemberRow, lay_out};
use cavitally::geometry::Polygon;
use cavitally::model::{FloorBand, Junction, JunctionKind, Surface};

const HEIGHT: f64 = 97.125;
const STUD: f64 = 92.625;
/// Where the studs begin and end: on one plate, under two.
const UP: [f64; 2] = [1.5, 94.125];

/// A member as it is drawn: left, right, bottom, top.
type Drawn = [f64; 4];

fn box_of(outline: &Polygon) -> Drawn {
    let b = outline.bounds().unwrap();
    [b.min_x / INCH, b.max_x / INCH, b.min_y / INCH, b.max_y / INCH]
}

fn same(found: &[Drawn], drawn: &[Drawn], what: &str) {
    let order = |list: &[Drawn]| {
        let mut list = list.to_vec();
        list.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[2].total_cmp(&b[2])));
        list
    };
    let (found, drawn) = (order(found), order(drawn));
    assert_eq!(found.len(), drawn.len(), "{what}: found {found:?}, drawn {drawn:?}");
    for (one, other) in found.iter().flatten().zip(drawn.iter().flatten()) {
        near(*one, *other, 1e-6, what);
    }
}

/// Every member of a role is where it is drawn and fills its box.
fn is_drawn(layout: &Layout, role: MemberRole, drawn: &[Drawn]) {
    let found: Vec<Drawn> = layout.members.iter().filter(|m| m.role == role).map(|m| box_of(&m.outline)).collect();
    same(&found, drawn, role.word());
    let area: f64 = drawn.iter().map(|[left, right, bottom, top]| (right - left) * (top - bottom)).sum();
    near(role_in2(layout, role), area, 1e-6, role.word());
}

fn upright(from: f64) -> Drawn {
    [from, from + 1.5, UP[0], UP[1]]
}

fn uprights(middles: &[f64]) -> Vec<Drawn> {
    middles.iter().map(|middle| upright(middle - 0.75)).collect()
}

fn closes(surface: &Surface, layout: &Layout, cut: &BayCut) {
    near(balance_residual_m2(surface, layout, cut), 0.0, 1e-9, "balance");
}

// 24 ft, two-by-four at 16 in. Window A 48 x 48 from 40, door 38 x 82 1/2 from 138, window B 36 x 48 from
// 214; sills at 34 1/2, heads at 82 1/2. One jack and one king a side (none is over 6 ft): jacks end at
// the head, 81 long. Headers 9 1/4 high, as long as opening and jacks, their top at 91 3/4: 2 3/8 are left
// below the plates. Sills lie from 33 to 34 1/2: 31 1/2 are left above the bottom plate.
#[test]
fn twenty_four_feet_with_a_door_and_two_windows() {
    let openings = [[40.0, 34.5, 88.0, 82.5], [138.0, 0.0, 176.0, 82.5], [214.0, 34.5, 250.0, 82.5]];
    let surface = level_wall_in(288.0, HEIGHT, &openings);
    let (layout, cut) = plain(&surface, "2x4 @ 16 in");
    is_drawn(&layout, TopPlate, &[[0.0, 288.0, 94.125, 97.125]]);
    is_drawn(&layout, BottomPlate, &[[0.0, 138.0, 0.0, 1.5], [176.0, 288.0, 0.0, 1.5]]);
    is_drawn(&layout, EndStud, &[upright(0.0), upright(286.5)]);
    is_drawn(&layout, KingStud, &[37.0, 89.5, 135.0, 177.5, 211.0, 251.5].map(upright));
    is_drawn(&layout, JackStud, &[38.5, 88.0, 136.5, 176.0, 212.5, 250.0].map(|x| [x, x + 1.5, 1.5, 82.5]));
    let headers = [[38.5, 89.5], [136.5, 177.5], [212.5, 251.5]];
    is_drawn(&layout, Header, &headers.map(|[from, to]| [from, to, 82.5, 91.75]));
    is_drawn(&layout, RoughSill, &[[40.0, 88.0, 33.0, 34.5], [214.0, 250.0, 33.0, 34.5]]);
    is_drawn(&layout, Stud, &uprights(&[16.0, 32.0, 96.0, 112.0, 128.0, 192.0, 208.0, 256.0, 272.0]));
    let above = [48.0, 64.0, 80.0, 144.0, 160.0, 176.0, 224.0, 240.0].map(|x| [x - 0.75, x + 0.75, 91.75, 94.125]);
    let below = [48.0, 64.0, 80.0, 224.0, 240.0].map(|x| [x - 0.75, x + 0.75, 1.5, 33.0]);
    is_drawn(&layout, Cripple, &[above.as_slice(), below.as_slice()].concat());
    let full = [13.75, 14.5, 4.25, 4.25, 14.5, 14.5, 6.25, 12.25, 14.5, 2.25, 2.25, 14.5, 13.75];
    let over = [8.75, 14.5, 14.5, 8.75, 6.75, 14.5, 14.5, 10.75, 14.5, 10.75];
    let under = [7.25, 14.5, 14.5, 7.25, 9.25, 14.5, 9.25];
    let sum = |widths: &[f64], height: f64| widths.iter().sum::<f64>() * height;
    near(bays_m2(&cut) / INCH.powi(2), sum(&full, STUD) + sum(&over, 2.375) + sum(&under, 31.5), 1e-6, "bays");
    assert_eq!(cut.bays.len(), full.len() + over.len() + under.len());
    // Over the door, from the cripple at 176 to the king: 3/4 in., too narrow for the tube.
    assert_eq!(cut.left_out.len(), 1);
    assert_eq!(cut.left_out[0].reason, TOO_NARROW);
    near(cut.left_out[0].area_m2 / INCH.powi(2), 0.75 * 2.375, 1e-6, "left out");
    closes(&surface, &layout, &cut);
}

/// Gable of 24 ft: 96 in. at the eaves, 168 at the apex, 6 in 12.
fn gable() -> Surface {
    let ring = [[0.0, 0.0], [288.0, 0.0], [288.0, 96.0], [144.0, 168.0], [0.0, 96.0]];
    wall(ring.map(|[x, y]| [x * INCH, y * INCH]).to_vec(), Vec::new())
}

// Two plates at right angles to a slope of 6 in 12 are 3 x sqrt(1.25) = 3.35410 high along the plumb line. A
// stud at x is 96 + x / 2 - 3.35410 - 1.5 long at its middle: 99.14590 at 16 in., 8 more at each next.
// The one at the apex is cut on both sides: 163.14590 at its middle, 3/16 less on average.
#[test]
fn a_gable_of_twenty_four_feet() {
    let surface = gable();
    let (layout, cut) = plain(&surface, "2x4 @ 16 in");
    let lengths = [99.1459, 107.1459, 115.1459, 123.1459, 131.1459, 139.1459, 147.1459, 155.1459];
    let mut areas: Vec<f64> = lengths.iter().map(|length| 1.5 * length).collect();
    areas.push(1.5 * (163.1459 - 0.1875));
    areas.extend(lengths.iter().rev().map(|length| 1.5 * length));
    let studs: Vec<_> = layout.members.iter().filter(|m| m.role == Stud).collect();
    assert_eq!(studs.len(), 17);
    for (k, (stud, area)) in studs.iter().zip(&areas).enumerate() {
        near(stud.area_m2 / INCH.powi(2), *area, 1e-3, &format!("stud {}", k + 1));
    }
    // End studs, at 3/4 in.: 91.52090 long.
    near(role_in2(&layout, EndStud), 2.0 * 1.5 * 91.5209, 1e-3, "ends");
    near(role_in2(&layout, TopPlate), 288.0 * 3.354_101_966, 1e-6, "plates");
    near(role_in2(&layout, BottomPlate), 288.0 * 1.5, 1e-6, "bottom plate");
    assert_eq!((cut.bays.len(), cut.left_out.len()), (18, 0));
    closes(&surface, &layout, &cut);
}

// The same with fire blocks at 10 ft (IRC R302.11). A bay is as high as its higher side: from 15.25 in.
// 98.77 above the bottom plate, 8 more at each next: 98.8 106.8 114.8 122.8 130.8 138.8 146.8 154.8 162.8
// up to the apex. The last six of each half are over 120 and get one block each.
#[test]
fn a_gable_has_fire_blocks_where_it_is_over_ten_feet() {
    let surface = gable();
    let rules = LayoutRules { fire_blocking_m: Some(120.0 * INCH), ..LayoutRules::default() };
    let (layout, cut) = with_rules(&surface, "2x4 @ 16 in", &rules);
    let blocks: Vec<Drawn> = layout.members.iter().filter(|m| m.role == Blocking).map(|m| box_of(&m.outline)).collect();
    assert_eq!((blocks.len(), cut.bays.len()), (12, 30));
    // The fourth bay from the left, from 48.75 to 63.25: 94.5 - 3.35410 + 31.625 = 122.77090 high; halves of
    // 60.63545 above and below the block.
    for (found, drawn) in blocks[0].iter().zip([48.75, 63.25, 62.13545, 63.63545]) {
        near(*found, drawn, 1e-4, "block");
    }
    assert!(cut.bays.iter().all(|bay| bay.outline.bounds().unwrap().height_m() <= 120.0 * INCH + 1e-9));
    closes(&surface, &layout, &cut);
}

// A double-stud wall 12 in. deep: outer studs two-by-four at 16 in., inner ones at 24, 5 in. between. Window
// 24 x 48 from 36, sill 34 1/2. In both rows: plates 96 x 4.5 = 432; two ends and two kings 4 x 1.5 x 92.625 =
// 555.75; jacks 2 x 1.5 x 81 = 243; header 27 x 9.25 = 249.75; sill 24 x 1.5 = 36; the cripple at 48,
// 1.5 x (2.375 + 31.5) = 50.8125: 1567.3125 in2. Outer studs on 16 32 64 80: 4 x 1.5 x 92.625 = 555.75;
// inner ones on 24 72: 277.875. All of it times 3.5: 13 888.875 in3. One cavity: (96 x 97.125 - 24 x 48) x 12
// = 98 064 in3, less that: 84 175.125.
#[test]
fn a_double_stud_wall_with_a_window() {
    let surface = level_wall_in(96.0, HEIGHT, &[[36.0, 34.5, 60.0, 82.5]]);
    let row = |from: f64, spacing: f64| MemberRow {
        from_m: from * INCH,
        to_m: (from + 3.5) * INCH,
        ..MemberRow::solid(1.5 * INCH, 3.5 * INCH, spacing * INCH)
    };
    let framing = Framing {
        depth_m: 12.0 * INCH,
        rows: vec![row(0.0, 16.0), row(8.5, 24.0)],
        ..Framing::solid("double".to_owned(), 0.0381, 0.3, 0.4)
    };
    let rules = LayoutRules::default();
    let layout = lay_out(&surface, &framing, &rules);
    let cut = cut_bays(&surface, &layout, &rules);
    assert!(layout.members.is_empty());
    let of_row = |from: f64, role: MemberRole| -> Vec<Drawn> {
        let is_here = |p: &&cavitally::framing::PartialMember| (p.from_m / INCH - from).abs() < 1e-6 && p.role == role;
        layout.partial.iter().filter(is_here).map(|p| box_of(&p.outline)).collect()
    };
    same(&of_row(0.0, Stud), &uprights(&[16.0, 32.0, 64.0, 80.0]), "outer studs");
    same(&of_row(8.5, Stud), &uprights(&[24.0, 72.0]), "inner studs");
    for from in [0.0, 8.5] {
        same(&of_row(from, EndStud), &[upright(0.0), upright(94.5)], "ends");
        same(&of_row(from, KingStud), &[upright(33.0), upright(61.5)], "kings");
        same(&of_row(from, JackStud), &[[34.5, 36.0, 1.5, 82.5], [60.0, 61.5, 1.5, 82.5]], "jacks");
        same(&of_row(from, Header), &[[34.5, 61.5, 82.5, 91.75]], "header");
        same(&of_row(from, RoughSill), &[[36.0, 60.0, 33.0, 34.5]], "sill");
        same(&of_row(from, Cripple), &[[47.25, 48.75, 1.5, 33.0], [47.25, 48.75, 91.75, 94.125]], "cripples");
        same(&of_row(from, TopPlate), &[[0.0, 96.0, 94.125, 97.125]], "top plates");
        same(&of_row(from, BottomPlate), &[[0.0, 96.0, 0.0, 1.5]], "bottom plate");
    }
    assert_eq!((cut.bays.len(), cut.left_out.len()), (1, 0));
    let (bay, cubic_inch) = (&cut.bays[0], INCH.powi(3));
    near(bay.displaced_m3 / cubic_inch, 13_888.875, 1e-6, "displaced");
    near((bay.area_m2 * layout.depth_m - bay.displaced_m3) / cubic_inch, 84_175.125, 1e-6, "net");
}

// Balloon framing, 18 ft high, 8 ft long, two-by-four at 16 in.; a floor of two-by-tens and 3/4 in. of subfloor runs
// past from 98 to 108. Studs run from 1 1/2 to 213: 211 1/2 long. Fire blocks (IRC R302.11) at the ceiling,
// 96 1/2 to 98, and at the floor, 108 to 109 1/2. Bays: 95, 10 and 103 1/2 high, none over 120.
#[test]
fn a_balloon_framed_wall_with_fire_blocks() {
    let mut surface = level_wall_in(96.0, 216.0, &[]);
    surface.floor_bands = vec![FloorBand { from_m: 98.0 * INCH, to_m: 108.0 * INCH, source: None }];
    let rules = LayoutRules { keeps_whole: true, fire_blocking_m: Some(120.0 * INCH), ..LayoutRules::default() };
    let (layout, cut) = with_rules(&surface, "2x4 @ 16 in", &rules);
    let stud = |from: f64| [from, from + 1.5, 1.5, 213.0];
    is_drawn(&layout, EndStud, &[stud(0.0), stud(94.5)]);
    is_drawn(&layout, Stud, &[15.25, 31.25, 47.25, 63.25, 79.25].map(stud));
    is_drawn(&layout, TopPlate, &[[0.0, 96.0, 213.0, 216.0]]);
    is_drawn(&layout, BottomPlate, &[[0.0, 96.0, 0.0, 1.5]]);
    let gaps = [[1.5, 15.25], [16.75, 31.25], [32.75, 47.25], [48.75, 63.25], [64.75, 79.25], [80.75, 94.5]];
    let rows = |y: [f64; 2]| gaps.map(|[from, to]| [from, to, y[0], y[1]]);
    is_drawn(&layout, Blocking, &[rows([96.5, 98.0]), rows([108.0, 109.5])].concat());
    let bays: Vec<Drawn> = cut.bays.iter().map(|bay| box_of(&bay.outline)).collect();
    same(&bays, &[rows([1.5, 96.5]), rows([98.0, 108.0]), rows([109.5, 213.0])].concat(), "bays");
    closes(&surface, &layout, &cut);
}

// Beside a stair: 12 ft long, level on top at 120, level below up to 48, then along a stair of 7 1/2 in 10 up to 72 at
// the right end. The lower plate follows the slope, 1.5 x 1.25 = 1.875 along the plumb line. Studs end at 117:
// 115.5 long on the level, on the slope 12 shorter at each: 103.125 at 64, 91.125, 79.125, 67.125, 55.125 at
// 128; the end stud, at 143.25, 43.6875. The two plates meet at 47.5, and the stud at 48 stands on both.
#[test]
fn a_wall_beside_a_stair() {
    let ring = [[0.0, 0.0], [48.0, 0.0], [144.0, 72.0], [144.0, 120.0], [0.0, 120.0]];
    let surface = wall(ring.map(|[x, y]| [x * INCH, y * INCH]).to_vec(), Vec::new());
    let (layout, cut) = plain(&surface, "2x4 @ 16 in");
    let on_both = 1.5 * 117.0 - 0.25 * 1.5 - 1.25 * f64::midpoint(1.5, 2.4375);
    let level = 1.5 * 115.5;
    let sloped = [103.125, 91.125, 79.125, 67.125, 55.125].map(|length| 1.5 * length);
    let areas = [[level, level, on_both].as_slice(), &sloped].concat();
    let studs: Vec<f64> = layout.members.iter().filter(|m| m.role == Stud).map(|m| m.area_m2 / INCH.powi(2)).collect();
    assert_eq!(studs.len(), areas.len());
    for (found, drawn) in studs.iter().zip(&areas) {
        near(*found, *drawn, 1e-6, "stud");
    }
    near(role_in2(&layout, EndStud), 1.5 * (115.5 + 43.6875), 1e-6, "ends");
    near(role_in2(&layout, TopPlate), 144.0 * 3.0, 1e-6, "top plates");
    // Level, slope, and the wedge where the two meet: 0.5 x 0.375 / 2.
    near(role_in2(&layout, BottomPlate), 48.0 * 1.5 + 96.0 * 1.875 + 0.09375, 1e-6, "lower plate");
    assert_eq!((cut.bays.len(), cut.left_out.len()), (9, 0));
    closes(&surface, &layout, &cut);
}

// 16 ft, two-by-six at 19.2 in., three-stud corners at both ends, partitions at 64 and at 144 1/2, panels of 4 ft.
// The edge at 48 gets a stud of its own; 96 is on the layout; 144 is on the partition's studs (143 to 146).
#[test]
fn a_wall_with_corners_partitions_and_panel_edges() {
    let mut surface = level_wall_in(192.0, HEIGHT, &[]);
    let junction = |kind, inches: f64| Junction { kind, at_m: inches * INCH, reach_m: None, source: None };
    surface.junctions = vec![
        junction(JunctionKind::Corner, 0.0),
        junction(JunctionKind::Corner, 192.0),
        junction(JunctionKind::Partition, 64.0),
        junction(JunctionKind::Partition, 144.5),
    ];
    let rules = LayoutRules { panel_width_m: Some(48.0 * INCH), ..LayoutRules::default() };
    let (layout, cut) = with_rules(&surface, "2x6 @ 19.2 in", &rules);
    let wide = |from: f64| [from, from + 3.0, UP[0], UP[1]];
    is_drawn(&layout, EndStud, &[upright(0.0), upright(190.5)]);
    is_drawn(&layout, CornerPost, &[wide(1.5), wide(187.5)]);
    is_drawn(&layout, PartitionStud, &[wide(62.5), wide(143.0)]);
    is_drawn(&layout, Stud, &uprights(&[19.2, 38.4, 48.0, 57.6, 76.8, 96.0, 115.2, 134.4, 153.6, 172.8]));
    let gaps = [13.95, 17.7, 8.1, 8.1, 4.15, 10.55, 17.7, 17.7, 17.7, 7.85, 6.85, 17.7, 13.95];
    assert_eq!((cut.bays.len(), cut.left_out.len()), (gaps.len(), 0));
    for (bay, gap) in cut.bays.iter().zip(gaps) {
        near(bay.area_m2 / INCH.powi(2), gap * STUD, 1e-6, "bay");
    }
    assert!(layout.findings.is_empty());
    closes(&surface, &layout, &cut);
}

fn outline_in(ring: &[[f64; 2]]) -> Surface {
    wall(ring.iter().map(|[x, y]| [x * INCH, y * INCH]).collect(), Vec::new())
}

// 20 ft with two steps on top: 96 up to 80, 120 up to 160, 144 up to 240; two-by-four at 16 in. Each part has plates of
// its own, studs under them 91 1/2, 115 1/2 and 139 1/2 long, and an end stud inside its step, with which
// the stud on the layout (79.25 to 80.75, 159.25 to 160.75) is united: its part before the step is as long as
// the lower studs. With a row at mid-height in every bay: 45, 57 and 69 above and below.
#[test]
fn a_wall_with_two_steps_on_top() {
    let surface = outline_in(&[
        [0.0, 0.0],
        [240.0, 0.0],
        [240.0, 144.0],
        [160.0, 144.0],
        [160.0, 120.0],
        [80.0, 120.0],
        [80.0, 96.0],
        [0.0, 96.0],
    ]);
    let (layout, cut) = plain(&surface, "2x4 @ 16 in");
    let ends = [1.5 * 91.5, 0.75 * 91.5 + 1.5 * 115.5, 0.75 * 115.5 + 1.5 * 139.5, 1.5 * 139.5];
    near(role_in2(&layout, EndStud), ends.iter().sum(), 1e-6, "ends");
    near(role_in2(&layout, TopPlate), 240.0 * 3.0, 1e-6, "top plates");
    near(role_in2(&layout, Stud), 4.0 * 1.5 * (91.5 + 115.5 + 139.5), 1e-6, "studs");
    let low = [13.75, 14.5, 14.5, 14.5, 14.5];
    let high = [13.75, 14.5, 14.5, 14.5, 13.75];
    let bays = [low.map(|w| w * 91.5), low.map(|w| w * 115.5), high.map(|w| w * 139.5)].concat();
    assert_eq!(cut.bays.len(), bays.len());
    for (bay, area) in cut.bays.iter().zip(&bays) {
        near(bay.area_m2 / INCH.powi(2), *area, 1e-6, "bay");
    }
    closes(&surface, &layout, &cut);
    let rules = LayoutRules { mid_blocking: 1, ..LayoutRules::default() };
    let (layout, cut) = with_rules(&surface, "2x4 @ 16 in", &rules);
    let halves: Vec<f64> = cut.bays.iter().map(|bay| bay.outline.bounds().unwrap().height_m() / INCH).collect();
    let by_hand: Vec<f64> = [[45.0; 10], [57.0; 10], [69.0; 10]].concat();
    assert_eq!(halves.len(), by_hand.len());
    for (found, drawn) in halves.iter().zip(&by_hand) {
        near(*found, *drawn, 1e-6, "half");
    }
    closes(&surface, &layout, &cut);
}

// Below, two steps of a stair: level up to 60, 7 1/2 up to 80, 15 up to 100; top at 96. A plate on every level, and an
// end stud at every step, in the part that reaches further down: from 58.5, and from 78.5, the latter united with
// the stud at 80 (79.25 to 80.75), whose part behind the step stands on the higher plate.
#[test]
fn a_wall_on_the_steps_of_a_stair() {
    let surface = outline_in(&[
        [0.0, 0.0],
        [60.0, 0.0],
        [60.0, 7.5],
        [80.0, 7.5],
        [80.0, 15.0],
        [100.0, 15.0],
        [100.0, 96.0],
        [0.0, 96.0],
    ]);
    let (layout, cut) = plain(&surface, "2x4 @ 16 in");
    near(role_in2(&layout, BottomPlate), 100.0 * 1.5, 1e-6, "plates");
    let ends = [1.5 * 91.5, 1.5 * 91.5, 1.5 * 84.0 + 0.75 * 76.5, 1.5 * 76.5];
    near(role_in2(&layout, EndStud), ends.iter().sum(), 1e-6, "ends");
    near(role_in2(&layout, Stud), 1.5 * (3.0 * 91.5 + 84.0 + 76.5), 1e-6, "studs");
    let bays =
        [13.75 * 91.5, 14.5 * 91.5, 14.5 * 91.5, 9.75 * 91.5, 3.25 * 84.0, 13.75 * 84.0, 14.5 * 76.5, 1.75 * 76.5];
    assert_eq!((cut.bays.len(), cut.left_out.len()), (bays.len(), 0));
    for (bay, area) in cut.bays.iter().zip(bays) {
        near(bay.area_m2 / INCH.powi(2), area, 1e-6, "bay");
    }
    closes(&surface, &layout, &cut);
}
