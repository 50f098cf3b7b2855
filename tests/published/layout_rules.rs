//! Every rule of the layout switched in a job file, its members and bays counted by hand. Inches.
//!
//! Common practice, no source, except where a test names one.

use crate::surfaces::{INCH, level_wall_in, members_m2, near, plain, role_in2, with_rules};
use cavitally::bays::{BayCut, INSIDE_ROUGH_OPENING, balance_residual_m2};
use cavitally::finding::Code;
use cavitally::framing::MemberRole::{
    Blocking, BottomPlate, CornerPost, EndStud, Header, JackStud, Joist, KingStud, OpeningBox, PartitionStud,
    RoughSill, Stud, TopPlate,
};
use cavitally::framing::{Layout, LayoutRules, MemberRole};
use cavitally::job::read_job;
use cavitally::model::{FloorBand, Junction, JunctionKind, OpeningKind, Surface};
use cavitally::source::Source;

const HEIGHT: f64 = 97.125;
const STUD: f64 = 92.625;
const DOUBLE: &str = "2x4 @ 16 in + gap 4 in + 2x4 @ 16 in";

fn rules(keys: &str) -> LayoutRules {
    read_job("job.toml", &format!("[layout]\n{keys}\n")).unwrap().layout.rules
}

fn laid_out(surface: &Surface, framing: &str, keys: &str) -> (Layout, BayCut) {
    let (layout, cut) = with_rules(surface, framing, &rules(keys));
    near(balance_residual_m2(surface, &layout, &cut), 0.0, 1e-9, "balance");
    (layout, cut)
}

/// Widths (or heights) of the bays from the left, in inches.
fn sizes(cut: &BayCut, is_height: bool) -> Vec<f64> {
    let size = |bay: &cavitally::bays::Bay| {
        let bounds = bay.outline.bounds().unwrap();
        if is_height { bounds.height_m() / INCH } else { bounds.width_m() / INCH }
    };
    cut.bays.iter().map(size).collect()
}

fn all_near(found: &[f64], by_hand: &[f64], what: &str) {
    assert_eq!(found.len(), by_hand.len(), "{what}: {found:?}");
    for (one, other) in found.iter().zip(by_hand) {
        near(*one, *other, 1e-6, what);
    }
}

// First stud half a stud short of the spacing: middles on 15.25 31.25 47.25 63.25 79.25 95.25; the last
// is the end stud (94.5 to 96).
#[test]
fn the_first_bay_is_as_wide_as_the_rule_says() {
    let surface = level_wall_in(96.0, HEIGHT, &[]);
    let (_, cut) = laid_out(&surface, "2x4 @ 16 in", "first_stud = \"15 1/4 in\"");
    all_near(&sizes(&cut, false), &[13.0, 14.5, 14.5, 14.5, 14.5, 14.5], "from the left");
    let (_, cut) = laid_out(&surface, "2x4 @ 16 in", "first_stud = \"8 in\"\nlayout_end = \"right\"");
    // From the right: 88 72 56 40 24 8.
    all_near(&sizes(&cut, false), &[5.75, 14.5, 14.5, 14.5, 14.5, 14.5, 5.75], "from the right");
}

// 10 ft at 19.2: 19.2 38.4 57.6 76.8 96 115.2; edges of 4 ft panels at 48 (new) and 96 (held).
#[test]
fn panel_edges_get_a_stud_where_the_layout_has_none() {
    let surface = level_wall_in(120.0, HEIGHT, &[]);
    let (_, cut) = laid_out(&surface, "2x4 @ 19.2 in", "panel_width = \"4 ft\"");
    all_near(&sizes(&cut, false), &[16.95, 17.7, 8.1, 8.1, 17.7, 17.7, 17.7, 2.55], "bays");
    let at_16 = laid_out(&surface, "2x4 @ 16 in", "panel_width = \"4 ft\"").0;
    near(members_m2(&at_16), members_m2(&plain(&surface, "2x4 @ 16 in").0), 1e-12, "held by the layout");
}

// Two-by-six, 5 1/2 deep. Openings 30, 48 and 80 wide, 30 to 80 high. The first entry: header 5.5 high; the second: two plies
// of two-by-eight, 7.25 high and 3 in. of the depth, two jacks and two kings a side, two sills; the third is wider
// than both: plain, 9.25 and two jacks. Headers 33, 54 and 86 long; jacks 78.5 long.
#[test]
fn openings_are_framed_by_their_width() {
    let openings = [[40.0, 30.0, 70.0, 80.0], [120.0, 30.0, 168.0, 80.0], [200.0, 30.0, 280.0, 80.0]];
    let surface = level_wall_in(320.0, HEIGHT, &openings);
    let keys = "[[layout.opening]]\nup_to = \"3 ft\"\nheader = \"2x6\"\njacks = 1\n\
                [[layout.opening]]\nup_to = \"5 ft\"\nheader = \"2-2x8\"\njacks = 2\nkings = 2\nsill_plates = 2";
    let (layout, cut) = laid_out(&surface, "2x6 @ 16 in", keys);
    near(role_in2(&layout, Header), 33.0 * 5.5 + 86.0 * 9.25, 1e-6, "solid headers");
    near(role_in2(&layout, JackStud), (2.0 + 4.0 + 4.0) * 1.5 * 78.5, 1e-6, "jacks");
    near(role_in2(&layout, KingStud), (2.0 + 4.0 + 2.0) * 1.5 * STUD, 1e-6, "kings");
    near(role_in2(&layout, RoughSill), 30.0 * 1.5 + 48.0 * 3.0 + 80.0 * 1.5, 1e-6, "sills");
    let [header] = layout.partial.as_slice() else { panic!("one shallow header") };
    near(header.area_m2 / INCH.powi(2), 54.0 * 7.25, 1e-6, "shallow header");
    near(header.to_m / INCH, 3.0, 1e-9, "its depth");
    let displaced: f64 = cut.bays.iter().map(|bay| bay.displaced_m3).sum();
    near(displaced / INCH.powi(3), 54.0 * 7.25 * 3.0, 1e-6, "displaced");
    // In a two-by-four wall half an inch is left behind it, where no tube gets to: solid.
    assert!(laid_out(&surface, "2x4 @ 16 in", keys).0.partial.is_empty());
}

// A unit of 36 x 48 with 1/2 in. around it: rough 37 x 49, from 34 to 83. Jacks 81.5, header 40, sill 37;
// 37 x 49 - 36 x 48 = 85 in2 beside the unit. A sheet's sizes are rough openings already: jacks 81, nothing beside.
#[test]
fn a_clearance_makes_the_rough_opening_larger_than_the_unit() {
    let mut surface = level_wall_in(144.0, HEIGHT, &[[40.0, 34.5, 76.0, 82.5]]);
    let keys = "opening_clearance = \"1/2 in\"";
    let (layout, cut) = laid_out(&surface, "2x4 @ 16 in", keys);
    near(role_in2(&layout, JackStud), 2.0 * 1.5 * 81.0, 1e-6, "jacks in a sheet");
    assert!(cut.left_out.iter().all(|piece| piece.reason != INSIDE_ROUGH_OPENING));
    surface.source = Source::of_entity("house.ifc", 7);
    let (layout, cut) = laid_out(&surface, "2x4 @ 16 in", keys);
    near(role_in2(&layout, JackStud), 2.0 * 1.5 * 81.5, 1e-6, "jacks");
    near(role_in2(&layout, Header), 40.0 * 9.25, 1e-6, "header");
    near(role_in2(&layout, RoughSill), 37.0 * 1.5, 1e-6, "sill");
    let beside: f64 = cut.left_out.iter().filter(|p| p.reason == INSIDE_ROUGH_OPENING).map(|p| p.area_m2).sum();
    near(beside / INCH.powi(2), 85.0, 1e-6, "beside the unit");
}

fn with_junctions(kind: JunctionKind, at: &[f64], of_model: bool, openings: &[[f64; 4]]) -> Surface {
    let mut surface = level_wall_in(192.0, HEIGHT, openings);
    let source = of_model.then(|| Source::of_line("house.ifc", 7));
    surface.junctions =
        at.iter().map(|at| Junction { kind, at_m: at * INCH, reach_m: None, source: source.clone() }).collect();
    surface
}

// 16 ft at 16 in., a corner at both ends. Three studs (WAC 51-11-1005.2): the blocks and a second stud beside
// each end stud, 3 in.; two studs with clips (IRC Figure R602.3(2)): the end studs of both walls alone. What a model says is framed in when asked.
#[test]
fn corners_are_built_as_the_job_says() {
    let posts = |of_model: bool, keys: &str| {
        let surface = with_junctions(JunctionKind::Corner, &[0.0, 192.0], of_model, &[]);
        role_in2(&laid_out(&surface, "2x4 @ 16 in", keys).0, CornerPost)
    };
    near(posts(false, "corner_build = \"three-stud\""), 2.0 * 3.0 * STUD, 1e-6, "three studs");
    near(posts(false, "corner_build = \"two-stud\""), 0.0, 0.0, "two studs");
    near(posts(true, ""), 0.0, 0.0, "a model's corners, not asked for");
    near(posts(true, "frame_junctions = true"), 2.0 * 3.0 * STUD, 1e-6, "a model's corners");
    // One more, of the sheet, whose place is not known, stands beside the one at the left.
    let mut surface = with_junctions(JunctionKind::Corner, &[0.0], false, &[]);
    surface.corner_posts = 1;
    near(role_in2(&laid_out(&surface, "2x4 @ 16 in", "").0, CornerPost), 2.0 * 3.0 * STUD, 1e-6, "the free end");
}

// 16 ft of two-by-six at 16 in., a partition at 104, midway between the studs at 96 and 112. Two studs: 102.5 to
// 105.5, gaps of 5.75 beside. Ladder: flat blocks of 3.5 x 14.5 and 1.5 deep with their middles at 24, 48 and
// 72 (96 is within the plates), against the inner face. None: the plain wall.
#[test]
fn partitions_are_backed_as_the_job_says() {
    let surface = with_junctions(JunctionKind::Partition, &[104.0], false, &[]);
    let bare = members_m2(&plain(&level_wall_in(192.0, HEIGHT, &[]), "2x6 @ 16 in").0);
    let (layout, cut) = laid_out(&surface, "2x6 @ 16 in", "partition_build = \"studs\"");
    near(role_in2(&layout, PartitionStud), 3.0 * STUD, 1e-6, "studs");
    all_near(&sizes(&cut, false)[6..8], &[5.75, 5.75], "beside them");
    let (layout, cut) = laid_out(&surface, "2x6 @ 16 in", "partition_build = \"ladder\"");
    near(members_m2(&layout), bare, 1e-12, "a ladder is no member through the depth");
    assert_eq!((layout.partial.len(), cut.bays.len()), (3, 12));
    for (block, middle) in layout.partial.iter().zip([24.0, 48.0, 72.0]) {
        let bounds = block.outline.bounds().unwrap();
        near(f64::midpoint(bounds.min_y, bounds.max_y) / INCH, middle, 1e-6, "middle");
        near(block.area_m2 / INCH.powi(2), 14.5 * 3.5, 1e-6, "block");
        near(block.from_m / INCH, 4.0, 1e-9, "from");
        near(block.to_m / INCH, 5.5, 1e-9, "to");
    }
    let displaced: f64 = cut.bays.iter().map(|bay| bay.displaced_m3).sum();
    near(displaced / INCH.powi(3), 3.0 * 14.5 * 3.5 * 1.5, 1e-6, "displaced");
    let halved = laid_out(&surface, "2x6 @ 16 in", "partition_build = \"ladder\"\nladder_every = \"12 in\"").0;
    // 12 to 84: seven; that at 96 lies in the plates.
    assert_eq!(halved.partial.len(), 7);
    let (layout, _) = laid_out(&surface, "2x6 @ 16 in", "partition_build = \"none\"");
    near(members_m2(&layout), bare, 1e-12, "none");
}

// A window from 88 to 112 with jacks and kings reaches from 85 to 115: a partition at 104 moves to 115-118.
#[test]
fn a_partition_in_an_opening_moves_beside_it() {
    let surface = with_junctions(JunctionKind::Partition, &[104.0], false, &[[88.0, 34.5, 112.0, 82.5]]);
    let (layout, _) = laid_out(&surface, "2x4 @ 16 in", "");
    let stud = layout.members.iter().find(|m| m.role == PartitionStud).unwrap().outline.bounds().unwrap();
    near(stud.min_x / INCH, 115.0, 1e-6, "from");
    near(stud.max_x / INCH, 118.0, 1e-6, "to");
    let doubts: Vec<_> = layout.findings.iter().filter(|f| f.code == Code::LayoutDoubt).collect();
    assert_eq!(doubts.len(), 1);
    assert!(doubts[0].message.contains("2.642 m") && doubts[0].message.contains("2.959 m"), "{}", doubts[0].message);
}

// 8 ft of wall has 6 bays. One row at mid-height: 92.625 - 1.5 in two: 45.5625; two rows: 29.875.
#[test]
fn mid_height_rows_part_the_bays_evenly() {
    let surface = level_wall_in(96.0, HEIGHT, &[]);
    for (rows, height) in [(1, 45.5625), (2, 29.875)] {
        let (layout, cut) = laid_out(&surface, "2x4 @ 16 in", &format!("mid_blocking = {rows}"));
        all_near(&sizes(&cut, true), &vec![height; 6 * (rows + 1)], "heights");
        near(role_in2(&layout, Blocking), 85.5 * 1.5 * f64::from(u8::try_from(rows).unwrap()), 1e-6, "rows");
    }
}

// IRC R302.11: at most 10 ft apart. 8 ft walls need no row. 18 ft: 211.5 clear, one row: 105 and 105.
// Past a floor from 108 to 120, kept whole: rows below and on it, 105, 12 and 91.5.
#[test]
fn fire_blocks_at_ten_feet_and_at_floors() {
    let low = level_wall_in(96.0, HEIGHT, &[]);
    assert_eq!(laid_out(&low, "2x4 @ 16 in", "fire_blocking = \"10 ft\"").1.bays.len(), 6);
    let mut high = level_wall_in(96.0, 216.0, &[]);
    assert_eq!(laid_out(&high, "2x4 @ 16 in", "").1.bays.len(), 6);
    let (_, cut) = laid_out(&high, "2x4 @ 16 in", "fire_blocking = \"10 ft\"");
    all_near(&sizes(&cut, true), &[105.0; 12], "at even heights");
    high.floor_bands = vec![FloorBand { from_m: 108.0 * INCH, to_m: 120.0 * INCH, source: None }];
    for keys in ["balloon = true", "walls_through_floors = \"whole\""] {
        let (_, cut) = laid_out(&high, "2x4 @ 16 in", &format!("fire_blocking = \"10 ft\"\n{keys}"));
        all_near(&sizes(&cut, true), &[105.0, 12.0, 91.5].repeat(6), keys);
        // Old balloon framing has no blocks at all: bays run past the floor.
        all_near(&sizes(&laid_out(&high, "2x4 @ 16 in", keys).1, true), &[211.5; 6], "without blocks");
    }
}

#[test]
fn contradicting_keys_are_refused() {
    let refused = |keys: &str| read_job("job.toml", &format!("[layout]\n{keys}\n")).unwrap_err()[0].message.clone();
    assert!(refused("balloon = true\nwalls_through_floors = \"cut\"").contains("contradict"));
    assert!(refused("corner_build = \"four-stud\"").contains("cannot be"));
    assert!(refused("partition_build = \"glue\"").contains("cannot be"));
    assert!(refused("mid_blocking = 11").contains("0 to 10"));
}

// A strip of 16 ft, 9 1/4 high: 13 joist ends, no plates; 12 bays over the whole height, the first and the last
// 13.75 wide, the others 14.5. A band of 1 1/2 stands across the outer face of the wall: of a two-by-six 4 in. are left, through
// which the joist ends go; of a two-by-four in two frames with a gap of 4 (11 in. in all) 9 1/2, the gap among them: a joist that
// bears on both frames does not stop at it (common practice, no source).
#[test]
fn a_rim_has_the_ends_of_joists_behind_its_band() {
    let surface = level_wall_in(192.0, 9.25, &[]);
    let of = |framing: &str, rules: LayoutRules| {
        let (layout, cut) = with_rules(&surface, framing, &LayoutRules { is_rim: true, ..rules });
        near(balance_residual_m2(&surface, &layout, &cut), 0.0, 1e-9, "balance");
        (layout, cut)
    };
    let (layout, cut) = of("2x6 @ 16 in", rules("fire_blocking = \"10 ft\""));
    assert!(layout.members.iter().all(|m| m.role == Joist));
    near(role_in2(&layout, Joist), 13.0 * 1.5 * 9.25, 1e-6, "joist ends");
    near(layout.depth_m / INCH, 4.0, 1e-9, "depth behind the band");
    let widths = [[13.75].as_slice(), &[14.5; 10], &[13.75]].concat();
    all_near(&sizes(&cut, false), &widths, "widths");
    all_near(&sizes(&cut, true), &[9.25; 12], "heights");
    let (layout, _) = of(DOUBLE, LayoutRules::default());
    near(layout.depth_m / INCH, 9.5, 1e-9, "depth of a double wall");
    near(role_in2(&layout, Joist), 13.0 * 1.5 * 9.25, 1e-6, "joist ends through all of that");
    assert!(layout.partial.is_empty());
    // No band, and one as thick as the wall: then nothing is left to fill.
    let (layout, _) = of("2x6 @ 16 in", rules("rim_joist = \"none\""));
    near(layout.depth_m / INCH, 5.5, 1e-9, "no band");
    let (layout, cut) = of("2x6 @ 16 in", rules("rim_joist = \"5 1/2 in\""));
    assert!(cut.bays.is_empty());
    near(role_in2(&layout, MemberRole::Rim), 192.0 * 9.25, 1e-6, "all of it");
}

// 8 ft, a window of 36 x 48. Common practice: header two-by-eight (WAC 246-359-230), 39 long, solid. Advanced framing in
// two-by-six at 24: one top plate (IRC R602.3.2, exception), no jacks up to 4 ft, two plies of
// two-by-eight 36 long; studs 97.125 - 3 = 94.125 long: ends, kings and 24, 72; 48 is a cripple; the panel edge at 48
// too.
#[test]
fn presets_frame_what_the_trade_agrees_on() {
    let surface = level_wall_in(96.0, HEIGHT, &[[28.0, 34.5, 64.0, 82.5]]);
    let (layout, _) = laid_out(&surface, "2x4 @ 16 in", "preset = \"common practice\"");
    near(role_in2(&layout, Header), 39.0 * 7.25, 1e-6, "common header");
    near(role_in2(&layout, TopPlate), 96.0 * 3.0, 1e-6, "two top plates");
    let (layout, cut) = laid_out(&surface, "2x6 @ 24 in", "preset = \"advanced framing\"");
    near(role_in2(&layout, TopPlate), 96.0 * 1.5, 1e-6, "one top plate");
    near(role_in2(&layout, BottomPlate), 96.0 * 1.5, 1e-6, "bottom plate");
    near(role_in2(&layout, JackStud), 0.0, 0.0, "no jacks");
    near(role_in2(&layout, EndStud), 2.0 * 1.5 * 94.125, 1e-6, "ends");
    // The king at 26.5 stands clear of the stud at 24 (23.25 to 24.75); that at 64 of the one at 72.
    near(role_in2(&layout, KingStud), 2.0 * 1.5 * 94.125, 1e-6, "kings");
    near(role_in2(&layout, Stud), 2.0 * 1.5 * 94.125, 1e-6, "studs");
    near(layout.partial.iter().map(|p| p.area_m2).sum::<f64>() / INCH.powi(2), 36.0 * 7.25, 1e-6, "two plies");
    let displaced: f64 = cut.bays.iter().map(|bay| bay.displaced_m3).sum();
    near(displaced / INCH.powi(3), 36.0 * 7.25 * 3.0, 1e-6, "cavity behind the header");
}

/// Volumes that displace and their depths are in inches.
fn net_in3(layout: &Layout, cut: &BayCut) -> Vec<f64> {
    let net = |bay: &cavitally::bays::Bay| bay.area_m2 * layout.depth_m - bay.displaced_m3;
    cut.bays.iter().map(|bay| net(bay) / INCH.powi(3)).collect()
}

// IRC R302.11, item 1: parallel rows of studs, horizontally at 10 ft at most, and R302.11.1 (from memory): a board of 3/4 in.
// 20 ft of two frames of two-by-four at 16 with 4 in. between them, 97.125 high: one board, (240 - 0.75) / 2 = 119.625
// from both ends; no row, since 92.625 between the plates is less than 120. The board is 0.75 x 97.125 through all 11 in.
// of depth. It holds the studs at 112 and 128 apart (nearest faces 112.75 and 127.25), and displaces 4 in. of gap and, between
// the plates, both rows: as a member through the depth 0.75 x 97.125 x 11, of which 0.75 x 4.5 x 7 were plates already.
// Studs of a row: 15 16 ... 224 (14) and two ends.
#[test]
fn fire_boards_part_a_double_wall_through_all_three_layers() {
    let surface = level_wall_in(240.0, HEIGHT, &[]);
    let frames = 7.0 * (240.0 * 4.5 + 16.0 * 1.5 * STUD);
    let whole = 240.0 * HEIGHT * 11.0 - frames;
    let (layout, cut) = laid_out(&surface, DOUBLE, "");
    all_near(&net_in3(&layout, &cut), &[whole], "no fire blocking");
    let (layout, cut) = laid_out(&surface, DOUBLE, "fire_blocking = \"10 ft\"");
    all_near(&sizes(&cut, false), &[119.625, 119.625], "two bays");
    near(members_m2(&layout) / INCH.powi(2), 0.75 * HEIGHT, 1e-6, "the board goes through the whole depth");
    let board = 0.75 * (HEIGHT * 11.0 - 4.5 * 7.0);
    all_near(&net_in3(&layout, &cut), &[(whole - board) / 2.0; 2], "net");
    // Half an inch of gypsum board; and blocks in each row alone, which part no bay.
    let gypsum = laid_out(&surface, DOUBLE, "fire_blocking = \"10 ft\"\nfire_board = \"1/2 in\"").0;
    near(members_m2(&gypsum) / INCH.powi(2), 0.5 * HEIGHT, 1e-6, "gypsum board");
    assert_eq!(laid_out(&surface, DOUBLE, "fire_blocking = \"10 ft\"\nfire_board = \"none\"").1.bays.len(), 1);
    // A wall of 18 ft: 211.5 between the plates, one row of 3/4 in.: 105.375 and, with the plates, 106.875 and 108.375.
    let high = level_wall_in(96.0, 216.0, &[]);
    let (layout, cut) = laid_out(&high, DOUBLE, "fire_blocking = \"10 ft\"");
    all_near(&sizes(&cut, true), &[106.875, 108.375], "heights");
    near(members_m2(&layout) / INCH.powi(2), 96.0 * 0.75, 1e-6, "one row");
    assert_eq!(laid_out(&high, "2x4 @ 16 in staggered on 2x6", "fire_blocking = \"10 ft\"").1.bays.len(), 2);
}

// By hand. A window of 36 x 48 at 28 to 64, 34.5 to 82.5, in a box of 1/2 in. through the whole depth: framing stands around
// 37 x 49; the box is 37 x 49 - 36 x 48 = 85. Double wall: in each row kings, jacks of 81.5 (34 + 49 - 1.5), a header
// 40 x 9.25 and a sill of 37. A door's box has no lower leg: (37 x 80.5 - 36 x 80) = 98.5.
#[test]
fn a_box_lines_an_opening_through_the_whole_depth() {
    for framing in [DOUBLE, "2x4 @ 16 in"] {
        let mut surface = level_wall_in(96.0, HEIGHT, &[[28.0, 34.5, 64.0, 82.5]]);
        near(role_in2(&laid_out(&surface, framing, "").0, OpeningBox), 0.0, 0.0, "none");
        let (layout, cut) = laid_out(&surface, framing, "opening_box = \"1/2 in\"");
        near(role_in2(&layout, OpeningBox), 85.0, 1e-6, "box");
        let rows = if framing.contains("gap") { 2.0 } else { 1.0 };
        let of = |role: MemberRole| {
            let partial: f64 = layout.partial.iter().filter(|p| p.role == role).map(|p| p.area_m2).sum();
            role_in2(&layout, role) + partial / INCH.powi(2)
        };
        near(of(JackStud), rows * 2.0 * 1.5 * 81.5, 1e-6, "jacks");
        near(of(KingStud), rows * 2.0 * 1.5 * STUD, 1e-6, "kings");
        near(of(Header), rows * 40.0 * 9.25, 1e-6, "header");
        near(of(RoughSill), rows * 37.0 * 1.5, 1e-6, "sill");
        assert!(cut.left_out.iter().all(|piece| piece.reason != INSIDE_ROUGH_OPENING));
        surface.openings = level_wall_in(96.0, HEIGHT, &[[28.0, 0.0, 64.0, 80.0]]).openings;
        surface.openings[0].kind = OpeningKind::Door;
        let (layout, _) = laid_out(&surface, framing, "opening_box = \"1/2 in\"");
        near(role_in2(&layout, OpeningBox), 98.5, 1e-6, "a door's");
        near(role_in2(&layout, OpeningBox), 37.0 * 80.5 - 36.0 * 80.0, 1e-6, "a door's");
    }
}

// 16 ft at 16 in., a partition at 104. It meets the inner row alone: two studs of 1.5 x 92.625 in the inner 3.5 in. of a double
// wall of 11 in., or of staggered studs, of which the inner row stands at 8 24 ... 104: there it takes in the one at 104.
#[test]
fn partitions_are_backed_in_the_row_that_they_meet() {
    let surface = with_junctions(JunctionKind::Partition, &[104.0], false, &[]);
    let backing = |framing: &str, keys: &str| -> Vec<[f64; 3]> {
        let (layout, _) = laid_out(&surface, framing, keys);
        assert_eq!(role_in2(&layout, PartitionStud), 0.0, "none goes through the whole depth");
        let own = layout.partial.iter().filter(|piece| piece.role == PartitionStud);
        own.map(|p| [p.area_m2 / INCH.powi(2), p.from_m / INCH, p.to_m / INCH]).collect()
    };
    let inner = backing(DOUBLE, "");
    all_near(inner.as_flattened(), &[3.0 * STUD, 7.5, 11.0], "double wall");
    let all = backing(DOUBLE, "partition_rows = \"all\"");
    all_near(all.as_flattened(), &[3.0 * STUD, 0.0, 3.5, 3.0 * STUD, 7.5, 11.0], "all rows");
    let staggered = backing("2x4 @ 16 in staggered on 2x6", "");
    all_near(staggered.as_flattened(), &[3.0 * STUD, 2.0, 5.5], "staggered");
    // Blocks of a ladder lie against the inner face, from stud to stud of the inner row.
    let (layout, _) = laid_out(&surface, DOUBLE, "partition_build = \"ladder\"");
    let blocks: Vec<_> = layout.partial.iter().filter(|piece| piece.role == Blocking).collect();
    assert_eq!(blocks.len(), 3);
    for block in blocks {
        near(block.area_m2 / INCH.powi(2), 14.5 * 3.5, 1e-6, "block");
        near(block.from_m / INCH, 9.5, 1e-9, "from");
    }
}
