//! Assemblies of several parts, computed by hand: double-stud and staggered walls, steel studs, joists with flanges,
//! trusses, strapping.
//!
//! All lengths are inches unless a name says otherwise. Walls are 96 x 96: plates 96 x 4.5, studs 91.5 high. Dressed
//! sizes: PS 20.

use crate::surfaces::{INCH, level_wall_in, members_m2, near, opening, plain, role_in2, surface};
use cavitally::bays::BayCut;
use cavitally::framing::MemberRole::{
    BottomPlate, CornerPost, EndStud, Header, JackStud, KingStud, PartitionStud, Rim, RoughSill, TopPlate, Trimmer,
};
use cavitally::framing::{Layout, depth_of, parse_framing};
use cavitally::geometry::Polygon;
use cavitally::intake::csv::{self, SheetFile};
use cavitally::job::{Job, read_job};
use cavitally::model::{Layer, OpeningKind, Surface, SurfaceKind};
use cavitally::takeoff::build;

const CUBIC_INCH_M3: f64 = INCH * INCH * INCH;
const PLATES: f64 = 96.0 * 4.5;
const STUD: f64 = 1.5 * 91.5;

/// Volume of each bay, in cubic inches; fails where the balance in volume does not close to 1e-9.
fn bays_in3(surface: &Surface, layout: &Layout, cut: &BayCut) -> Vec<f64> {
    let net_m3 = |area_m2: f64, displaced_m3: f64| area_m2 * layout.depth_m - displaced_m3;
    let gross_m3 = (surface.gross_area_m2() - surface.opening_area_m2()) * layout.depth_m;
    let partial_m3: f64 = layout.partial.iter().map(|piece| piece.volume_of_m3(piece.area_m2)).sum();
    let bays: Vec<f64> = cut.bays.iter().map(|bay| net_m3(bay.area_m2, bay.displaced_m3)).collect();
    let left_out_m3: f64 = cut.left_out.iter().map(|piece| net_m3(piece.area_m2, piece.displaced_m3)).sum();
    let parts_m3 = members_m2(layout) * layout.depth_m + partial_m3 + bays.iter().sum::<f64>() + left_out_m3;
    near(parts_m3 / gross_m3, 1.0, 1e-9, "balance in volume");
    assert!(bays.iter().all(|bay| *bay > 0.0));
    bays.into_iter().map(|bay| bay / CUBIC_INCH_M3).collect()
}

fn of(surface: &Surface, framing: &str) -> (Layout, Vec<f64>) {
    let (layout, cut) = plain(surface, framing);
    let bays = bays_in3(surface, &layout, &cut);
    (layout, bays)
}

fn square_wall() -> Surface {
    level_wall_in(96.0, 96.0, &[])
}

fn floor(width: f64, length: f64) -> Surface {
    surface(SurfaceKind::Floor, vec![Polygon::rectangle(0.0, 0.0, width * INCH, length * INCH)], Vec::new())
}

// Geometry, with the depths of APA PRI-400 and its flanges of 2-1/2 x 1-1/2 and 3-1/2 x 1-1/2 (from memory): the net area
// of a bay is (s - t_web)(D - 2 t_f) + 2 t_f (s - b_f). Rims are the same for both lengths, so that 120 in. more of
// joist give 120 in. more of that area.
//   11-7/8 at 16:  15.625 x 8.875 + 3 x 13.5 = 179.171875
//   9-1/2 at 19.2: 18.825 x 6.5 + 3 x 16.7 = 172.4625
//   16 at 24, flange 3-1/2, web 7/16: 23.5625 x 13 + 3 x 20.5 = 367.8125
#[test]
fn rated_joists_leave_the_net_area_of_their_section() {
    for (framing, area) in [
        ("PRI-40 11-7/8 in @ 16 in", 179.171_875),
        ("I 11.875 in (flange 2.5 x 1.5 in, web 0.375 in) @ 16 in", 179.171_875),
        ("I 301.625 mm (flange 63.5 x 38.1 mm, web 9.525 mm) @ 406.4 mm", 179.171_875),
        ("PRI-60 9 1/2 in @ 19.2 in", 172.4625),
        ("PRI-80 16 in @ 24 in", 367.8125),
    ] {
        let second_bay = |length: f64| of(&floor(120.0, length), framing).1[1];
        near((second_bay(240.0) - second_bay(120.0)) / 120.0, area, 1e-6, framing);
    }
}

// By hand. Outer frame: plates 432, studs at 16 32 48 64 80 and two at the ends; inner frame: 24 48 72 and two.
// Members 3.5 x (432 + 7 x 137.25 + 432 + 5 x 137.25) = 8788.5; gross 9216 x 11 = 101376.
#[test]
fn a_double_stud_wall_is_one_bay_through_all_three() {
    let framing = "2x4 @ 16 in + gap 4 in + 2x4 @ 24 in";
    let (layout, bays) = of(&square_wall(), framing);
    near(layout.depth_m / INCH, 11.0, 1e-9, "depth");
    assert_eq!(bays.len(), 1);
    near(bays[0], 101_376.0 - 3.5 * (2.0 * PLATES + 12.0 * STUD), 1e-4, "bay");
    near(bays[0], 92_587.5, 1e-4, "bay");
    assert!(layout.members.is_empty());

    // A measured depth of 10 in. takes the inch from the gap: 92160 - 8788.5.
    let measured = Surface { measured_depth_m: Some(10.0 * INCH), ..square_wall() };
    near(of(&measured, framing).1[0], 83_371.5, 1e-4, "bay of 10 in.");
}

// By hand. Plates 432 and end studs 274.5 go through 5.5 in.; studs of 3.5 in. stand at 16 32 48 64 80 along the outer
// face and at 8 24 40 56 72 88 along the inner one: (9216 - 706.5) x 5.5 - 11 x 137.25 x 3.5 = 41518.125.
#[test]
fn staggered_studs_part_no_bay() {
    let (layout, bays) = of(&square_wall(), "2x4 @ 16 in staggered on 2x6");
    assert_eq!((bays.len(), layout.partial.len()), (1, 11));
    near(bays[0], 41_518.125, 1e-4, "bay");
    near(role_in2(&layout, EndStud), 2.0 * STUD, 1e-6, "end studs");
    near(role_in2(&layout, TopPlate) + role_in2(&layout, BottomPlate), PLATES, 1e-6, "plates");
}

// By hand: what frames a window is of full depth, whichever row it is framed for. Window 36 x 48 at 30, sill 24, head 72:
// kings 91.5 high, jacks 70.5, header 39 x 9.25, sill 36.
#[test]
fn around_an_opening_staggered_framing_is_of_full_depth() {
    let (layout, _) = of(&level_wall_in(96.0, 96.0, &[[30.0, 24.0, 66.0, 72.0]]), "2x4 @ 16 in staggered on 2x6");
    for (role, area) in
        [(KingStud, 2.0 * STUD), (JackStud, 2.0 * 1.5 * 70.5), (Header, 39.0 * 9.25), (RoughSill, 36.0 * 1.5)]
    {
        near(role_in2(&layout, role), area, 1e-6, role.word());
        assert!(!layout.partial.iter().any(|piece| piece.role == role), "{}", role.word());
    }
}

// By hand, with the design thickness of 54 mil, 0.0566 in. (AISI S240): seven studs and two tracks of legs 1 1/4 in.
// Web depth less the flanges' metal: 3.625 - 2 x 0.0566 = 3.5118. Webs: 3.5118 x 0.0566 x (2 x 96 + 7 x (96 - 2 x 0.0566));
// flanges and legs: 2 x 0.0566 x (2 x 96 x 1.25 + 7 x 1.625 x 93.5).
#[test]
fn of_steel_studs_only_the_metal_displaces() {
    const METAL: f64 = 0.0566;
    let web = 3.5118 * METAL * (192.0 + 7.0 * (96.0 - 2.0 * METAL));
    let flanges = 2.0 * METAL * (192.0 * 1.25 + 7.0 * 1.625 * 93.5);
    let (_, bays) = of(&square_wall(), "362S162-54 @ 16 in");
    assert_eq!(bays.len(), 6);
    near(bays.iter().sum(), 9216.0 * 3.625 - web - flanges, 1e-4, "all bays");

    // A stud's own section: (3.5118 + 2 x 1.625) x 0.0566 = 0.38272 in2 an inch.
    let metal_in3 = |height: f64| {
        96.0 * height * 3.625 - of(&level_wall_in(96.0, height, &[]), "362S162-54 @ 16 in").1.iter().sum::<f64>()
    };
    near((metal_in3(192.0) - metal_in3(96.0)) / 96.0 / 7.0, 0.382_717_88, 1e-7, "section");

    // Punch-outs of 1 1/2 x 4 in. every 24 in. open the five studs between the ends, and leave 1 - 6 / 87 of their webs.
    let (_, open) = of(&square_wall(), "362S162-54 punched @ 16 in");
    assert_eq!(open.len(), 1);
    let punched = 5.0 * 3.5118 * METAL * (96.0 - 2.0 * METAL) * (6.0 / 87.0);
    near(open[0], 9216.0 * 3.625 - web - flanges + punched, 1e-4, "open bay");
}

// By hand, assumed: what frames a steel opening is a closed box. One king and one jack of 1 5/8 in. a side.
#[test]
fn steel_around_an_opening_is_boxes() {
    let (layout, _) = of(&level_wall_in(96.0, 96.0, &[[30.0, 24.0, 66.0, 72.0]]), "362S162-54 @ 16 in");
    near(role_in2(&layout, KingStud), 2.0 * 1.625 * (96.0 - 2.0 * 1.25), 1e-6, "kings, but for the tracks' legs");
    near(role_in2(&layout, Header), (36.0 + 2.0 * 1.625) * 9.25, 1e-6, "header");
}

// Geometry: a web at 45 degrees between chords 11 in. apart takes 1.5 x sqrt(2) of every 11 in.: 3.5 x 1.5 x sqrt(2)
// = 7.4246 in2 of section on average. Floor 96 x 120 with rims of 3.5 in.: trusses at 24 48 72 and two at the ends, 113
// long, chords 2 x 5.25 in2.
#[test]
fn a_floor_of_trusses_is_one_bay_less_chords_and_webs() {
    let whole = (96.0 * 120.0 - 2.0 * 96.0 * 3.5) * 14.0;
    let (layout, bays) = of(&floor(96.0, 120.0), "truss 14 in (chords 3.5 x 1.5 in) @ 24 in");
    assert_eq!(bays.len(), 1);
    near(bays[0], whole - 5.0 * 113.0 * (10.5 + 5.25 * 2.0_f64.sqrt()), 1e-3, "bay");
    near(role_in2(&layout, Rim), 2.0 * 96.0 * 3.5, 1e-6, "rims");
    assert!(layout.assumptions.iter().any(|a| a.key == "framing.truss.webs" && a.value.starts_with("0.19284")));

    // One tenth of the 11 in. between the chords: 3.85 in2.
    let given = "truss 14 in (chords 3.5 x 1.5 in, webs 0.1) @ 24 in";
    near(of(&floor(96.0, 120.0), given).1[0], whole - 5.0 * 113.0 * (10.5 + 3.85), 1e-3, "bay, webs given");

    // Dividers at 48 part it into two like halves, and take nothing.
    let halves = of(&floor(96.0, 120.0), &format!("{given} + dividers @ 4 ft")).1;
    assert_eq!(halves.len(), 2);
    near(halves[0], halves[1], 1e-4, "halves");
    near(halves[0] + halves[1], whole - 5.0 * 113.0 * (10.5 + 3.85), 1e-3, "both halves");
}

// By hand: frame (432 + 7 x 137.25) x 5.5 = 7660.125; straps 1.5 in. high on 0 24 48 72, 96 long and 1.5 deep: 864. The
// fill goes on behind the studs' straps: one bay, 9216 x 7 - 8524.125.
#[test]
fn strapping_is_filled_between_with_the_rest() {
    let (layout, bays) = of(&square_wall(), "2x6 @ 16 in + strapping 2x2 @ 24 in");
    near(layout.depth_m / INCH, 7.0, 1e-9, "depth");
    assert_eq!(bays.len(), 1);
    near(bays[0], 55_987.875, 1e-4, "bay");
}

// A service cavity is not filled: the wall is that of its studs, and says so.
#[test]
fn a_service_cavity_is_named_and_not_filled() {
    let plain = of(&square_wall(), "2x6 @ 16 in").1;
    let (layout, bays) = of(&square_wall(), "2x6 @ 16 in + service 2x3 @ 24 in");
    assert_eq!(bays, plain);
    assert!(layout.assumptions.iter().any(|a| a.value.contains("`service 2x3 @ 24 in` is not filled")));
}

// Common practice, no source: rough-sawn studs of older houses hold their full 2 x 4 in.; milled ones of the years
// between 1 5/8 x 3 5/8. By hand: clear width 16 less the stud, plates 4.5.
#[test]
fn older_and_metric_sections_are_given_by_measure() {
    for (framing, width, depth) in
        [("2 x 4 in actual @ 16 in", 14.0, 4.0), ("1.625x3.625 in actual @ 16 in", 14.375, 3.625)]
    {
        near(of(&square_wall(), framing).1[1], width * 91.5 * depth, 1e-4, framing);
    }
    let wall = level_wall_in(5.0 / INCH, 2.5 / INCH, &[]);
    let cubic_metres = 0.565 * (2.5 - 3.0 * 0.0381) * 0.24;
    near(of(&wall, "60x240 mm @ 625 mm").1[1] * CUBIC_INCH_M3, cubic_metres, 1e-9, "cassette");
}

// By hand: steel, gap and wood in one wall still add up, whatever is in the way.
#[test]
fn mixed_assemblies_balance_around_openings() {
    let wall = level_wall_in(190.0, 97.0, &[[30.0, 0.0, 66.0, 80.0], [100.0, 30.0, 180.0, 80.0]]);
    for framing in [
        "362S162-54 punched @ 16 in + gap 1 in + 2x4 @ 24 in",
        "I 9.5 in (flange 1.5 x 1.5 in, web 0.375 in) @ 24 in + strapping 2x2 @ 16 in + dividers @ 5 ft",
        "2x3 @ 24 in staggered on 2x6 + dividers @ 50 in",
        "truss 12 in @ 24 in + strapping 1x3 flat @ 16 in",
        "2x4 @ 16 in + gap 2 in + 2x4 @ 16 in + gap 2 in + 2x4 @ 24 in",
    ] {
        let (layout, _) = of(&wall, framing);
        assert!(layout.members.iter().all(|member| member.area_m2 > 0.0), "{framing}");
    }
}

// A layer of 200 mm, and two frames of 88.9 mm with a gap of 101.6 mm: the gap shrinks, and the finding says so. In 150 mm
// they find no room.
#[test]
fn a_thinner_layer_is_told_apart_from_one_without_room() {
    let framing = parse_framing("2x4 @ 16 in + gap 4 in + 2x4 @ 16 in").unwrap();
    let in_layer =
        |metres: f64| Surface { layers: vec![Layer::named("studs", metres)], cavity_layer: Some(0), ..square_wall() };
    let (depth_m, finding) = depth_of(&in_layer(0.2), &framing);
    near(depth_m, 0.2, 1e-12, "depth");
    assert!(finding.unwrap().message.contains("the room between the two rows of studs takes the difference"));
    let (_, finding) = depth_of(&in_layer(0.15), &framing);
    assert!(finding.unwrap().message.contains("take 177.8 mm without what lies between them"));
    let measured = Surface { measured_depth_m: Some(0.15), ..square_wall() };
    assert!(depth_of(&measured, &framing).1.unwrap().message.contains("the measured depth is 150.0 mm"));
}

// A name stands wherever framing does, and brings its sources. By hand: `double-stud wall` is 3.5 + 5 + 3.5 = 12 in.
// deep, 9216 x 12 - 3.5 x (864 + 14 x 137.25).
#[test]
fn an_assembly_is_known_by_its_name() {
    let sheet = "id,kind,assembly,length (in),height (in)\nA,wall,double-stud wall,96,96\nB,wall,mine,96,96\n";
    let sheets = [SheetFile { path: "house.csv".to_owned(), bytes: sheet.as_bytes().to_vec() }];
    let building = csv::read(&sheets, false).unwrap();
    let job = read_job("job.toml", "[assembly.mine]\nlike = \"Double-stud wall\"\ndepth = \"11 in\"\n").unwrap();
    let takeoff = build(&building, &job).unwrap();
    let in3 = |k: usize| takeoff.surfaces[k].bay_volume_m3.unwrap() / CUBIC_INCH_M3;
    let members = 3.5 * (2.0 * PLATES + 14.0 * STUD);
    near(in3(0), 9216.0 * 12.0 - members, 1e-3, "built in");
    near(in3(1), 9216.0 * 11.0 - members, 1e-3, "changed");
    let source = |key: &str| takeoff.assumptions.iter().find(|a| a.key == key).map(|a| a.source.clone());
    let built_in = "built-in assembly: common practice, no source (confidence: medium)";
    assert_eq!(source("assembly.double-stud wall.framing").as_deref(), Some(built_in));
    assert_eq!(source("assembly.mine.framing").as_deref(), Some(built_in));
    assert_eq!(source("assembly.mine.depth").as_deref(), Some("job file"));
    assert_eq!(Job::default().built_in.len(), job.built_in.len());
}

// AISI S201: 54 and 118 mil are sheet; a timber joist's web of 3/8 in. is not.
#[test]
fn sheet_metal_is_told_from_timber() {
    let is_metal = |text: &str| parse_framing(text).unwrap().is_sheet_metal();
    assert!(is_metal("362S162-54 @ 16 in") && is_metal("600S162-118 @ 24 in"));
    assert!(!is_metal("2x6 @ 16 in") && !is_metal("PRI-40 11-7/8 in @ 16 in"));
}

// By hand. Steel studs of 1 5/8 in. flanges and 54 mil, 0.0566 in.: a corner's post of two studs is a box of 3.25 in. behind the
// flanges of the end stud, so that a bay begins at 4.875; what the end stud's own flanges enclose, between its web and the box,
// belongs to the post: 4.875 - 0.0566 wide. A partition's two studs: a box of 3.25. Both end at the tracks' legs, 93.5 high.
#[test]
fn steel_posts_are_boxes_of_their_flanges() {
    let mut wall = square_wall();
    wall.corner_posts = 1;
    let (layout, cut) = plain(&wall, "362S162-54 @ 16 in");
    near(role_in2(&layout, CornerPost), 3.25 * 93.5, 1e-6, "box, where flanges and web agree");
    let bay = cut.bays[0].outline.bounds().unwrap();
    near(bay.min_x / INCH, 4.875, 1e-6, "the first bay");
    assert_eq!(cut.bays.len(), 6);
    bays_in3(&wall, &layout, &cut);
    wall.corner_posts = 0;
    wall.partition_junctions = 1;
    let (layout, cut) = plain(&wall, "362S162-54 @ 16 in");
    near(role_in2(&layout, PartitionStud), 3.25 * 93.5, 1e-6, "two studs");
    bays_in3(&wall, &layout, &cut);
}

// By hand, with the flanges of APA PRI-400 (from memory): 96 x 120, joists at 16, rims 2.5 wide; a hatch of 22 x 30 at
// 37 to 59, 45 to 75 has two trimmers a side, 5 in. wide and 115 long, solid (filler blocks), and two headers at each end, 22 x 5.
// The joist at 48 is cut, 32 is met by the trimmer from 32 to 37 and joined to it; 64 by that from 59 to 64.
#[test]
fn trimmers_headers_and_rims_of_joists_are_as_wide_as_their_flanges() {
    let hatch = opening(Polygon::rectangle(37.0 * INCH, 45.0 * INCH, 59.0 * INCH, 75.0 * INCH));
    let mut floor = floor(96.0, 120.0);
    floor.openings = vec![cavitally::model::Opening { kind: OpeningKind::Hatch, ..hatch }];
    let (layout, cut) = plain(&floor, "PRI-40 11-7/8 in @ 16 in");
    near(role_in2(&layout, Rim), 2.0 * 96.0 * 2.5, 1e-6, "rims");
    near(role_in2(&layout, Header), 2.0 * 22.0 * 5.0, 1e-6, "headers");
    // Webs of 3/8 in. on the layout lie 0.1875 in. beyond the trimmers at 32 and 64.
    near(role_in2(&layout, Trimmer), 2.0 * (5.0 + 0.1875) * 115.0, 1e-6, "trimmers");
    bays_in3(&floor, &layout, &cut);
    assert!(layout.assumptions.iter().any(|a| a.key == "framing.flanged members"));
}
