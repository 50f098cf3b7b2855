//! Walls of the plain layout, computed by hand, and figures of handbooks.
//!
//! All lengths are inches unless a name says otherwise. A pre-cut stud of 92 5/8 in. with three
//! plates of 1 1/2 in. makes 97 1/8 in. (from memory).

use crate::surfaces::{
    INCH, bays_m2, level_wall_in, members_m2, near, opening, plain, role_in2, surface, wall, with_rules,
};
use cavitally::bays::{INSIDE_ROUGH_OPENING, TOO_NARROW, balance_residual_m2};
use cavitally::finding::Code;
use cavitally::framing::MemberRole::{
    BottomPlate, Cripple, EndStud, Fraction, Header, JackStud, Joist, KingStud, Rim, RoughSill, Stud, TopPlate, Trimmer,
};
use cavitally::framing::{LayoutRules, depth_of, parse_framing};
use cavitally::geometry::Polygon;
use cavitally::model::{DoNotFill, DoNotFillExtent, Extent, Layer, SurfaceKind};

const HEIGHT: f64 = 97.125;
const STUD: f64 = 92.625;
const CUBIC_FOOT_M3: f64 = 0.3048 * 0.3048 * 0.3048;

/// Volume of the second bay from the left, which is a full one, in cubic feet.
fn full_bay_ft3(framing: &str) -> f64 {
    let (layout, cut) = plain(&level_wall_in(96.0, HEIGHT, &[]), framing);
    cut.bays[1].area_m2 * layout.depth_m / CUBIC_FOOT_M3
}

// Geometry: 14.5 x 92.625 x 3.5 in. / 1728; 5.5 in. deep; and 22.5 in. wide at 24 in. (dressed sizes: PS 20).
#[test]
fn a_full_bay_has_the_volume_of_the_tape() {
    near(full_bay_ft3("2x4 @ 16 in"), 2.7203, 0.0005, "2x4 at 16");
    near(full_bay_ft3("2x6 @ 16 in"), 4.2748, 0.001, "2x6 at 16");
    near(full_bay_ft3("2x6 @ 24 in"), 6.6333, 0.001, "2x6 at 24");
}

// Geometry: 1 - (14.5 / 16) (92.625 / 97.125) = 13.574 %, and 10.594 % at 24 in.: what each further
// spacing adds to a clear wall.
#[test]
fn clear_wall_fraction_in_the_limit() {
    for (framing, spacing, percent) in [("2x4 @ 16 in", 16.0, 13.574), ("2x6 @ 24 in", 24.0, 10.594)] {
        let members = |spacings: f64| members_m2(&plain(&level_wall_in(spacings * spacing, HEIGHT, &[]), framing).0);
        let grown = members(40.0) - members(10.0);
        near(grown / (30.0 * spacing * HEIGHT * INCH * INCH) * 100.0, percent, 0.001, framing);
    }
}

// By hand: 192 in. at 16 in. has 2 end studs and 11 on the layout; plates 192 x 4.5, studs
// 13 x 1.5 x 92.625: 2670.19 of 18648 in2 = 14.32 %.
#[test]
fn sixteen_feet_have_thirteen_studs() {
    let surface = level_wall_in(192.0, HEIGHT, &[]);
    let (layout, cut) = plain(&surface, "2x4 @ 16 in");
    let studs = layout.members.iter().filter(|m| matches!(m.role, EndStud | Stud)).count();
    assert_eq!((studs, cut.bays.len()), (13, 12));
    near(members_m2(&layout) / surface.gross_area_m2() * 100.0, 14.32, 0.01, "percent");
}

// By hand, 144 x 97.125 in., 2x4 at 16 in., window 36 x 48 from x 40 to 76, sill 34.5, head 82.5.
// Studs stand from 1.5 to 94.125. Jacks 38.5-40 and 76-77.5, 81 high; kings 37-38.5 and 77.5-79.
// Header 38.5-77.5 from 82.5 to 91.75; sill plate from 33. Layout 16 32 48 64 80 96 112 128: 48 and
// 64 become cripples, 2.375 above the header and 31.5 below the sill; the six others are full.
// Bays: 13.75, 14.5, 4.25 | above 8.75 14.5 12.75 | below 7.25 14.5 11.25 | 14.5 14.5 14.5 13.75;
// the gap from 79 to 79.25 is narrower than the tube.
#[test]
fn a_wall_with_a_window() {
    let surface = level_wall_in(144.0, HEIGHT, &[[40.0, 34.5, 76.0, 82.5]]);
    let (layout, cut) = plain(&surface, "2x4 @ 16 in");
    let by_hand = [
        (TopPlate, 144.0 * 3.0, 1),
        (BottomPlate, 144.0 * 1.5, 1),
        (EndStud, 2.0 * 1.5 * STUD, 2),
        (KingStud, 2.0 * 1.5 * STUD, 2),
        (JackStud, 2.0 * 1.5 * 81.0, 2),
        (Header, 39.0 * 9.25, 1),
        (RoughSill, 36.0 * 1.5, 1),
        (Stud, 6.0 * 1.5 * STUD, 6),
        (Cripple, 2.0 * 1.5 * (2.375 + 31.5), 4),
    ];
    for (role, area, pieces) in by_hand {
        near(role_in2(&layout, role), area, 1e-6, role.word());
        assert_eq!(layout.members.iter().filter(|m| m.role == role).count(), pieces, "{}", role.word());
    }
    assert_eq!(layout.members.len(), 20);
    let full = [13.75, 14.5, 4.25, 14.5, 14.5, 14.5, 13.75].map(|w| w * STUD);
    let above = [8.75, 14.5, 12.75].map(|w| w * 2.375);
    let below = [7.25, 14.5, 11.25].map(|w| w * 31.5);
    let expected: f64 = full.iter().chain(&above).chain(&below).sum();
    assert_eq!(cut.bays.len(), 13);
    near(bays_m2(&cut) / (INCH * INCH), expected, 1e-6, "bays");
    assert_eq!(cut.left_out.len(), 1);
    assert_eq!(cut.left_out[0].reason, TOO_NARROW);
    near(cut.left_out[0].area_m2 / (INCH * INCH), 0.25 * STUD, 1e-6, "gap");
    assert!(layout.findings.is_empty() && cut.findings.is_empty());
    // Numbered from the left, then from below: the two at 38.5 (above) and 40 (below) follow the one at 32.75.
    near(cut.bays[3].outline.bounds().unwrap().min_x / INCH, 38.5, 1e-6, "fourth bay");
    near(cut.bays[4].outline.bounds().unwrap().min_y / INCH, 1.5, 1e-6, "fifth bay");
}

// By hand, 120 x 97.125 in., 2x6 at 24 in., door 38 x 82.5 from x 31 to 69. Bottom plate 120 - 38.
// Jacks 29.5-31 and 69-70.5; kings 28-29.5 and 70.5-72. Layout 24 48 72 96: 48 is a cripple above the
// header (41 long); 72 (71.25-72.75) overlaps the right king: one piece from 70.5 to 72.75.
// Bays: 1.5-23.25, 24.75-28, above 29.5-47.25 and 48.75-70.5, 72.75-95.25, 96.75-118.5.
#[test]
fn a_wall_with_a_door() {
    let surface = level_wall_in(120.0, HEIGHT, &[[31.0, 0.0, 69.0, 82.5]]);
    let (layout, cut) = plain(&surface, "2x6 @ 24 in");
    near(role_in2(&layout, BottomPlate), 82.0 * 1.5, 1e-6, "bottom plate");
    near(role_in2(&layout, KingStud), (1.5 + 2.25) * STUD, 1e-6, "kings");
    near(role_in2(&layout, JackStud), 2.0 * 1.5 * 81.0, 1e-6, "jacks");
    near(role_in2(&layout, Header), 41.0 * 9.25, 1e-6, "header");
    near(role_in2(&layout, Cripple), 1.5 * 2.375, 1e-6, "cripple");
    near(role_in2(&layout, Stud), 2.0 * 1.5 * STUD, 1e-6, "studs");
    near(role_in2(&layout, RoughSill), 0.0, 0.0, "no sill");
    let bays = (21.75 + 3.25 + 22.5 + 21.75) * STUD + (17.75 + 21.75) * 2.375;
    near(bays_m2(&cut) / (INCH * INCH), bays, 1e-6, "bays");
    assert_eq!((cut.bays.len(), cut.left_out.len()), (6, 0));
}

// The contract: one jack a side up to 6 ft, two above; common practice, no source.
#[test]
fn a_wide_opening_has_two_jacks_a_side() {
    for (width, jacks) in [(72.0, 2.0), (72.5, 4.0)] {
        let surface = level_wall_in(200.0, HEIGHT, &[[50.0, 0.0, 50.0 + width, 82.5]]);
        let (layout, _) = plain(&surface, "2x4 @ 16 in");
        near(role_in2(&layout, JackStud), jacks * 1.5 * 81.0, 1e-6, "jacks");
        near(role_in2(&layout, Header), (width + jacks * 1.5) * 9.25, 1e-6, "header");
    }
}

// The contract: the header is cut off by the top plates. Head 90: 94.125 - 90 = 4.125 in. are left.
#[test]
fn a_header_without_room_is_cut_off_by_the_plates() {
    let (layout, _) = plain(&level_wall_in(100.0, HEIGHT, &[[30.0, 40.0, 60.0, 90.0]]), "2x4 @ 16 in");
    near(role_in2(&layout, Header), 33.0 * 4.125, 1e-6, "header");
    assert!(layout.findings.is_empty());
    let (layout, _) = plain(&level_wall_in(100.0, HEIGHT, &[[30.0, 40.0, 60.0, 95.0]]), "2x4 @ 16 in");
    assert_eq!(layout.findings[0].code, Code::OpeningCrowded);
}

// By hand, in metres: gable 8 m wide, 2 m at the eaves, 5 m at the apex (3-4-5: plates of 0.0762 m at
// right angles are 0.0762 * 5 / 4 along the plumb line); studs at 3 m and 6 m, 0.0381 m wide. A bay
// from a to b is (b - a) times its mean height; the middle one is split at the apex.
#[test]
fn a_gable() {
    let surface = wall(vec![[0.0, 0.0], [8.0, 0.0], [8.0, 2.0], [4.0, 5.0], [0.0, 2.0]], Vec::new());
    let (_, cut) = plain(&surface, "2x4 @ 3 m");
    let (w, low, drop) = (0.0381, 0.0381, 0.0762 * 5.0 / 4.0);
    let height = |x: f64| 2.0 + 0.75 * (4.0 - (x - 4.0).abs()) - drop - low;
    let piece = |a: f64, b: f64| (b - a) * (height(a) + height(b)) / 2.0;
    let by_hand =
        [piece(w, 3.0 - w / 2.0), piece(3.0 + w / 2.0, 4.0) + piece(4.0, 6.0 - w / 2.0), piece(6.0 + w / 2.0, 8.0 - w)];
    assert_eq!(cut.bays.len(), 3);
    for (bay, expected) in cut.bays.iter().zip(by_hand) {
        near(bay.area_m2, expected, 1e-12, "bay");
    }
}

// By hand, in metres: 3 m long, 2 m high at the left and 6 m at the right (slope 4 in 3, 5 m long).
#[test]
fn a_raked_wall() {
    let surface = wall(vec![[0.0, 0.0], [3.0, 0.0], [3.0, 6.0], [0.0, 2.0]], Vec::new());
    let (layout, cut) = plain(&surface, "2x4 @ 3.05 m");
    let (w, drop) = (0.0381, 0.0762 * 5.0 / 3.0);
    near(role_in2(&layout, TopPlate) * INCH * INCH, 3.0 * drop, 1e-9, "plates");
    near(bays_m2(&cut), (3.0 - 2.0 * w) * (4.0 - drop - w), 1e-12, "bay");
}

// By hand: box 40 x 40 around a triangle 40 wide and 40 high: half of the box is left out. The framing
// is that of the box: sill 40 long, header 43.
#[test]
fn framing_goes_around_the_box_of_a_triangle() {
    let ring = [[50.0, 30.0], [90.0, 30.0], [70.0, 70.0]].map(|[x, y]| [x * INCH, y * INCH]).to_vec();
    let mut surface = level_wall_in(160.0, HEIGHT, &[]);
    surface.openings.push(opening(Polygon::from_ring(ring)));
    let (layout, cut) = plain(&surface, "2x4 @ 16 in");
    let inside: f64 = cut.left_out.iter().filter(|p| p.reason == INSIDE_ROUGH_OPENING).map(|p| p.area_m2).sum();
    near(inside / (INCH * INCH), 800.0, 1e-6, "corners");
    near(role_in2(&layout, RoughSill), 40.0 * 1.5, 1e-6, "sill");
    near(role_in2(&layout, Header), 43.0 * 9.25, 1e-6, "header");
    near(balance_residual_m2(&surface, &layout, &cut), 0.0, 1e-12, "balance");
}

// WAC 51-11-1005, standard framing: .19 studs and plates and .04 headers of the wall less its openings.
#[test]
fn an_area_alone_is_framed_by_fraction() {
    let mut surface = level_wall_in(100.0, 100.0, &[]);
    surface.extent = Extent::AreaM2(50.0);
    let (layout, cut) = plain(&surface, "2x4 @ 16 in");
    assert_eq!((layout.members.len(), layout.members[0].role), (1, Fraction));
    near(layout.members[0].area_m2, 11.5, 1e-12, "members");
    near(bays_m2(&cut), 38.5, 1e-12, "bay");
    assert!(layout.assumptions[0].source.contains("WAC 51-11-1005"));
}

// By hand, a floor 100 x 120, 2x10 at 16 in.: rims 100 x 1.5 at both ends; joists 117 long at both
// sides and on 16 32 48 64 80 96. Hatch 40-60 by 50-80: doubled trimmers 37-40 and 60-63, full length;
// doubled headers 20 x 3 at both ends. The joist at 48 (47.25-48.75) is cut from 47 to 83. The joists
// at 64 (63.25) stands clear; its gap of 0.25 to the trimmer is too narrow. The joist at 96
// (95.25-96.75) stands clear of the end joist.
#[test]
fn a_floor_with_a_hatch() {
    let hatch = opening(Polygon::rectangle(40.0 * INCH, 50.0 * INCH, 60.0 * INCH, 80.0 * INCH));
    let outline = vec![Polygon::rectangle(0.0, 0.0, 100.0 * INCH, 120.0 * INCH)];
    let (layout, cut) = plain(&surface(SurfaceKind::Floor, outline, vec![hatch]), "2x10 @ 16 in");
    near(role_in2(&layout, Rim), 2.0 * 100.0 * 1.5, 1e-6, "rims");
    near(role_in2(&layout, Trimmer), 2.0 * 3.0 * 117.0, 1e-6, "trimmers");
    near(role_in2(&layout, Header), 2.0 * 20.0 * 3.0, 1e-6, "headers");
    near(role_in2(&layout, Joist), 7.0 * 1.5 * 117.0 + 1.5 * (117.0 - 36.0), 1e-6, "joists");
    assert_eq!(cut.left_out.iter().filter(|p| p.reason == TOO_NARROW).count(), 1);
}

// The contract: dressed depth, or the layer where that is smaller, with a finding over 3 mm; a
// measured depth wins. 2x6 is 139.7 mm (PS 20).
#[test]
fn the_smaller_of_layer_and_lumber_is_the_depth() {
    let framing = parse_framing("2x6 @ 24 in").unwrap();
    let mut surface = level_wall_in(100.0, 97.0, &[]);
    for (layer_mm, depth_mm, is_odd) in
        [(140.0, 139.7, false), (138.0, 138.0, false), (89.0, 89.0, true), (200.0, 139.7, true), (-5.0, 139.7, false)]
    {
        surface.layers = vec![Layer::named("timber stud", layer_mm / 1000.0)];
        surface.cavity_layer = Some(0);
        let (depth, finding) = depth_of(&surface, &framing);
        near(depth * 1000.0, depth_mm, 1e-9, "depth");
        assert_eq!(finding.is_some(), is_odd, "{layer_mm}");
    }
    surface.measured_depth_m = Some(0.1);
    near(depth_of(&surface, &framing).0, 0.1, 0.0, "measured");
}

// By hand, 96 in. at 16 in.: bays 13.75, 14.5 x 4, 13.75 wide. Bay 2 stays empty, and so does the
// stretch from 40 to 60, which takes 32.75-47.25 from 40 on and 48.75-63.25 up to 60.
#[test]
fn what_the_sheet_says_stays_empty() {
    let mut surface = level_wall_in(96.0, HEIGHT, &[]);
    let entry = |extent, reason: &str| DoNotFill { extent, reason: reason.to_owned(), said_by: None };
    surface.do_not_fill = vec![
        entry(DoNotFillExtent::Bays { first: 2, last: 2 }, "air duct"),
        entry(DoNotFillExtent::Stretch { from_m: 40.0 * INCH, to_m: 60.0 * INCH }, "panel"),
    ];
    let (layout, cut) = plain(&surface, "2x4 @ 16 in");
    let empty = |reason: &str| {
        let pieces = cut.left_out.iter().filter(|p| p.reason == reason);
        pieces.map(|p| p.area_m2).sum::<f64>() / (INCH * INCH)
    };
    near(empty("air duct"), 14.5 * STUD, 1e-6, "duct");
    near(empty("panel"), (7.25 + 11.25) * STUD, 1e-6, "panel");
    assert_eq!(cut.bays.iter().map(|b| b.number).collect::<Vec<_>>(), [1, 3, 4, 5, 6]);
    assert_eq!(cut.findings.iter().filter(|f| f.code == Code::DoNotFill).count(), 2);
    near(balance_residual_m2(&surface, &layout, &cut), 0.0, 1e-12, "balance");
    surface.do_not_fill = vec![entry(DoNotFillExtent::All, "open at the bottom")];
    assert!(plain(&surface, "2x4 @ 16 in").1.bays.is_empty());
}

// By hand, 192 in. at 16 in.: one corner post of two studs beside the left end stud (1.5-4.5), one
// junction in the middle (94.5-97.5), which swallows the stud at 96 (95.25-96.75).
#[test]
fn posts_that_are_asked_for_are_framed_in() {
    let mut surface = level_wall_in(192.0, HEIGHT, &[]);
    (surface.corner_posts, surface.partition_junctions) = (1, 1);
    let (layout, cut) = plain(&surface, "2x4 @ 16 in");
    let bare = plain(&level_wall_in(192.0, HEIGHT, &[]), "2x4 @ 16 in").0;
    near((members_m2(&layout) - members_m2(&bare)) / (INCH * INCH), (3.0 + 1.5) * STUD, 1e-6, "posts");
    assert_eq!((layout.assumptions.len(), cut.bays.len()), (2, 12));
}

// By hand: rows at 48 in. from below, 1 1/2 in. high, in each of the 6 bays of 96 in. (85.5 in. clear).
#[test]
fn blocking_goes_across_every_bay() {
    let rules = LayoutRules { blocking_every_m: Some(48.0 * INCH), ..LayoutRules::default() };
    let (layout, cut) = with_rules(&level_wall_in(96.0, HEIGHT, &[]), "2x4 @ 16 in", &rules);
    near(role_in2(&layout, cavitally::framing::MemberRole::Blocking), 85.5 * 1.5, 1e-6, "rows");
    assert_eq!(cut.bays.len(), 12);
}

// By hand, in metres: 2.4 m high up to x = 3, then 3.6 m up to x = 5; no stud on the layout (spacing
// 3.05 m is at the step: 3.03095-3.06905). A stud inside the step from x = 3 stands through the whole
// height of the high part and is united with that one: 3-3.06905. Plates: 0.0762 on both tops.
#[test]
fn a_step_has_a_stud_of_its_own() {
    let ring = vec![[0.0, 0.0], [5.0, 0.0], [5.0, 3.6], [3.0, 3.6], [3.0, 2.4], [0.0, 2.4]];
    let (layout, cut) = plain(&wall(ring, Vec::new()), "2x4 @ 3.05 m");
    let (w, plates) = (0.0381, 0.0762 + 0.0381);
    assert_eq!(layout.members.iter().filter(|m| m.role == EndStud).count(), 3);
    assert_eq!(cut.bays.len(), 2);
    near(cut.bays[0].area_m2, (3.0 - w) * (2.4 - plates), 1e-9, "low bay");
    near(cut.bays[1].area_m2, (5.0 - w - 3.06905) * (3.6 - plates), 1e-9, "high bay");
}

// By hand, in metres: a wall 6 m long, 2 m high at the left and 5 m at the right (slope 1 in 2). The
// window reaches from x = 2 to x = 4; its head runs along the slope, 0.5 m below it, from 2.5 to 3.5 m.
// The box around it is 3.5 m high, above the plates at x = 2 (3 m): they run on through its corner. The
// rest of the corner is left out, and nothing is lost.
#[test]
fn plates_run_on_over_a_window_that_follows_the_slope() {
    let mut surface = wall(vec![[0.0, 0.0], [6.0, 0.0], [6.0, 5.0], [0.0, 2.0]], Vec::new());
    let head = |x: f64| 2.0 + 0.5 * x - 0.5;
    let ring = vec![[2.0, 1.0], [4.0, 1.0], [4.0, head(4.0)], [2.0, head(2.0)]];
    surface.openings.push(opening(Polygon::from_ring(ring)));
    let (layout, cut) = plain(&surface, "2x4 @ 16 in");
    let drop = 0.0762 * 1.25_f64.sqrt();
    near(role_in2(&layout, TopPlate) * INCH * INCH, 6.0 * drop, 1e-9, "plates");
    // The corner: a triangle of 2 by 1 above the head, less the part above the plates' lower edge, where
    // 3.5 > 2 + x / 2 - drop, that is x < 3 + 2 drop: a triangle of 1 + 2 drop by its half.
    let cut_off = (1.0 + 2.0 * drop) * (1.0 + 2.0 * drop) / 4.0;
    let inside: f64 = cut.left_out.iter().filter(|p| p.reason == INSIDE_ROUGH_OPENING).map(|p| p.area_m2).sum();
    near(inside, 1.0 - cut_off, 1e-9, "corner");
    near(balance_residual_m2(&surface, &layout, &cut), 0.0, 1e-9, "balance");
}

// Two windows 2 in. apart: their jacks and kings do not fit between; nothing is counted twice.
#[test]
fn crowded_openings_are_reported() {
    let surface = level_wall_in(144.0, HEIGHT, &[[40.0, 34.5, 70.0, 82.5], [72.0, 34.5, 100.0, 82.5]]);
    let (layout, cut) = plain(&surface, "2x4 @ 16 in");
    assert_eq!(layout.findings.iter().filter(|f| f.code == Code::OpeningCrowded).count(), 1);
    near(balance_residual_m2(&surface, &layout, &cut), 0.0, 1e-12, "balance");
    let between = |m: &&cavitally::framing::Member| {
        m.outline.bounds().is_some_and(|b| b.min_x > 69.9 * INCH && b.max_x < 72.1 * INCH)
    };
    assert!(layout.members.iter().any(|m| between(&m)), "what fits between them stands there");
}

// A wall in two pieces, 1 m apart: end studs at both ends of each; the layout runs through from the left.
#[test]
fn a_wall_in_two_pieces() {
    let pieces = vec![Polygon::rectangle(0.0, 0.0, 2.0, 2.4), Polygon::rectangle(3.0, 0.0, 5.0, 2.4)];
    let (layout, cut) = plain(&surface(SurfaceKind::Wall, pieces, Vec::new()), "2x4 @ 2.5 m");
    assert_eq!(layout.members.iter().filter(|m| m.role == EndStud).count(), 4);
    assert_eq!((cut.bays.len(), layout.members.iter().filter(|m| m.role == Stud).count()), (2, 0));
}

/// International Residential Code, table R502.5(1) of 2009, 28 ft wide, roof, ceiling and one floor, two 2x10: spans of 6'-2" at 30 lb/ft2 and
/// 5'-6" at 50 lb/ft2 interpolate to 5'-10" at 40 lb/ft2 (a published exercise of a building-code forum).
#[test]
fn spans_of_a_header_table_interpolate_as_people_read_them() {
    let span_m = |text: &str| cavitally::units::parse_length(text, None, false).unwrap();
    let between_m = (span_m("6'-2\"") + span_m("5'-6\"")) / 2.0;
    assert_eq!(cavitally::units::display::feet_inches(between_m), "5'-10\"");
}
