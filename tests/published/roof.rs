//! Roof slopes by hand, and when they count.
//!
//! Lengths are inches unless a name says otherwise.

use crate::surfaces::{INCH, bays_m2, near, role_in2, surface, with_rules};
use cavitally::finding::Code;
use cavitally::framing::MemberRole::{Blocking, HipRafter, Joist, Rafter, RidgeBoard, Rim, ValleyRafter};
use cavitally::framing::{Enclosure, LayoutRules};
use cavitally::geometry::Polygon;
use cavitally::job::{parse_frame, read_job};
use cavitally::model::{Building, Surface, SurfaceKind};
use cavitally::takeoff::{SurfaceTakeoff, Takeoff, build};

/// A slope of 9:12, whose cosine is 4/5 (a triangle of 3, 4 and 5).
fn slope(ring: &[[f64; 2]]) -> Surface {
    let ring = ring.iter().map(|[x, y]| [x * INCH, y * INCH]).collect();
    let pitch_deg = Some(0.75_f64.atan().to_degrees());
    Surface { pitch_deg, ..surface(SurfaceKind::Roof, vec![Polygon::from_ring(ring)], Vec::new()) }
}

/// One side of a hipped roof: the eave 240, the ridge 120, 75 along the slope, which is 60 seen from
/// above, so that the hips run at 45 degrees there.
fn hipped() -> Surface {
    slope(&[[0.0, 0.0], [240.0, 0.0], [180.0, 75.0], [60.0, 75.0]])
}

fn vented() -> LayoutRules {
    let enclosure = Enclosure { vent_gap_m: Some(INCH), ..Enclosure::default() };
    LayoutRules { enclosure, ..LayoutRules::default() }
}

// By hand. Ridge board: half of 1.5, plumb, is .75 / (4/5) = .9375 in the plane, below a ridge of 120
// that widens by 4/5 on each side for every inch down. Hip rafter: half of 1.5 at 45 degrees is
// .75 sqrt(2) = 1.06066 along the level. Rim at the eave 1.5. Rafters at 24 on centre from the left: five reach the ridge board
// (72 to 168), those at 24, 48, 192 and 216 end at a hip, whose inside is at (x - 1.06066) / (4/5).
#[test]
fn rafters_of_a_hipped_slope() {
    let roof = hipped();
    let (layout, cut) = with_rules(&roof, "2x10 @ 24 in", &vented());
    let hip = 0.75 * 2.0_f64.sqrt();
    let ridge = 0.9375 * (120.0 + 0.9375 * 0.8);
    near(role_in2(&layout, RidgeBoard), ridge, 1e-6, "ridge board");
    near(role_in2(&layout, HipRafter), 2.0 * hip * 74.0625, 1e-6, "hips");
    let rim = 1.5 * (240.0 - 2.0 * 0.8 * 0.75 - 2.0 * hip);
    near(role_in2(&layout, Rim), rim, 1e-6, "rim");
    let jack = |x: f64| 1.5 * ((x - hip) / 0.8 - 1.5);
    let rafters = 5.0 * 1.5 * (74.0625 - 1.5) + 2.0 * (jack(24.0) + jack(48.0));
    near(role_in2(&layout, Rafter), rafters, 1e-6, "rafters");
    assert_eq!(layout.members.iter().filter(|member| member.role == Rafter).count(), 9);
    let bays = 75.0 * 180.0 - ridge - 2.0 * hip * 74.0625 - rim - rafters;
    near(bays_m2(&cut) / (INCH * INCH), bays, 1e-6, "bays");
    // Ten bays between nine rafters, each of which reaches the eave; the channel of 1 in. stays free: 9 1/4 - 1.
    assert_eq!((cut.bays.len(), cut.baffles), (10, Some(10)));
    near(layout.depth_m / INCH, 8.25, 1e-9, "filled depth");
}

// By hand: the same slope upside down has two valleys. Of its bays the six between 48 and 192 reach the eave from 60 to 180.
#[test]
fn rafters_between_two_valleys() {
    let roof = slope(&[[60.0, 0.0], [180.0, 0.0], [240.0, 75.0], [0.0, 75.0]]);
    let (layout, cut) = with_rules(&roof, "2x10 @ 24 in", &vented());
    near(role_in2(&layout, ValleyRafter), 2.0 * 0.75 * 2.0_f64.sqrt() * 74.0625, 1e-6, "valleys");
    near(role_in2(&layout, HipRafter), 0.0, 0.0, "no hips");
    assert_eq!(cut.baffles, Some(6));
}

// By hand: a gabled slope 96 wide has rafters at both rakes and on 24, 48 and 72; a ridge board of 3/4 is
// half as wide. On a roof without pitch rims lie at both ends and nothing is shared.
#[test]
fn a_gabled_slope_and_a_flat_roof() {
    let rectangle = [[0.0, 0.0], [96.0, 0.0], [96.0, 75.0], [0.0, 75.0]];
    let thin = LayoutRules { ridge_board_m: 0.75 * INCH, ..vented() };
    let (layout, cut) = with_rules(&slope(&rectangle), "2x10 @ 24 in", &thin);
    near(role_in2(&layout, RidgeBoard), 96.0 * 0.46875, 1e-6, "thin ridge board");
    near(role_in2(&layout, Rafter), 5.0 * 1.5 * (75.0 - 0.46875 - 1.5), 1e-6, "rafters");
    assert_eq!((cut.bays.len(), cut.baffles), (4, Some(4)));
    let flat = Surface { pitch_deg: Some(0.0), ..slope(&rectangle) };
    let (layout, cut) = with_rules(&flat, "2x10 @ 24 in", &vented());
    near(role_in2(&layout, Rim), 2.0 * 96.0 * 1.5, 1e-6, "rims");
    near(role_in2(&layout, RidgeBoard), 0.0, 0.0, "no ridge");
    assert_eq!(cut.baffles, None);
}

// By hand, a floor 100 x 120, 2x10 at 16 in.: eight joists leave 88 of its width for blocks of 1.5. A
// cantilever has one row over the wall, 24 from the low end; rows every 48 stand at 48 and 96.
#[test]
fn blocking_over_a_wall_line_and_in_rows() {
    let outline = vec![Polygon::rectangle(0.0, 0.0, 100.0 * INCH, 120.0 * INCH)];
    let floor = surface(SurfaceKind::Floor, outline, Vec::new());
    let over_wall = LayoutRules { blocking_at_m: vec![24.0 * INCH], ..LayoutRules::default() };
    let (layout, cut) = with_rules(&floor, "2x10 @ 16 in", &over_wall);
    near(role_in2(&layout, Blocking), 88.0 * 1.5, 1e-6, "over the wall");
    near(role_in2(&layout, Joist), 8.0 * 1.5 * 117.0, 1e-6, "joists");
    assert_eq!(cut.bays.len(), 14);
    let rows = LayoutRules { blocking_every_m: Some(48.0 * INCH), ..LayoutRules::default() };
    let (layout, cut) = with_rules(&floor, "2x10 @ 16 in", &rows);
    near(role_in2(&layout, Blocking), 2.0 * 88.0 * 1.5, 1e-6, "rows");
    assert_eq!(cut.bays.len(), 21);
}

/// Takes the hipped slope off with a job file, and with `--frame` where the file has no assembly.
fn taken_off(job: &str) -> Takeoff {
    let mut job = read_job("job.toml", job).unwrap();
    job.frames.push(parse_frame("2x10 @ 24 in").unwrap());
    build(&Building { surfaces: vec![hipped()], ..Building::default() }, &job).unwrap()
}

fn roof(takeoff: &Takeoff) -> &SurfaceTakeoff {
    &takeoff.surfaces[0]
}

fn finds(takeoff: &Takeoff, code: Code) -> bool {
    takeoff.findings.iter().any(|finding| finding.code == code)
}

// IRC R806.3: at least 1 in. between insulation and sheathing where a roof is vented (from memory).
#[test]
fn a_roof_counts_once_its_vent_gap_is_given() {
    let without = taken_off("");
    assert_eq!(roof(&without).reason.as_deref(), Some("vent gap not given"));
    assert!(finds(&without, Code::VentGapNotGiven) && without.fills.is_empty());
    assert_eq!(roof(&without).assembly.as_deref(), Some("2x10 @ 24 in"));
    for job in [
        "[layout]\nvent_gap = \"2 in\"\n",
        "[assembly.slope]\nframing = \"2x10 @ 24 in\"\nmatch = { exposure = \"exterior\" }\nvent_gap = \"2 in\"\n",
    ] {
        let with = taken_off(job);
        assert!(roof(&with).counted && with.cautions.is_empty(), "{job}");
        near(roof(&with).depth_m.unwrap() / INCH, 7.25, 1e-9, "9 1/4 less 2");
        assert_eq!(roof(&with).baffles, Some(10));
        assert!(with.assumptions.iter().any(|assumption| assumption.key == "roof.vent_channel"));
        assert!(!finds(&with, Code::BalanceOpen) && !finds(&with, Code::VentGapDoubt));
    }
    let narrow = taken_off("[layout]\nvent_gap = \"1/2 in\"\n");
    assert!(roof(&narrow).counted && finds(&narrow, Code::VentGapDoubt));
    let all = taken_off("[layout]\nvent_gap = \"10 in\"\n");
    assert_eq!(roof(&all).reason.as_deref(), Some("vent gap takes all of the depth"));
}

// IRC R806.5 (from memory): the warning stands beside the surface and goes with the order.
#[test]
fn an_unvented_roof_is_filled_whole_and_carries_its_warning() {
    let takeoff = taken_off(
        "[layout]\nvent_gap = \"2 in\"\n[assembly.slope]\nframing = \"2x10 @ 24 in\"\nmatch = { exposure = \"exterior\" }\n\
         unvented = \"foam above the deck\"\n",
    );
    assert!(roof(&takeoff).counted);
    near(roof(&takeoff).depth_m.unwrap() / INCH, 9.25, 1e-9, "whole depth");
    assert_eq!((roof(&takeoff).unvented.as_deref(), roof(&takeoff).baffles), (Some("foam above the deck"), None));
    assert!(finds(&takeoff, Code::UnventedRoof));
    assert_eq!((takeoff.cautions.len(), takeoff.cautions[0].code), (1, Code::UnventedRoof));
    assert!(takeoff.cautions[0].message.contains("R806.5"));
}
