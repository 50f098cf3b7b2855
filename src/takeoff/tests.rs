//! The pipeline on buildings made by hand.

use super::{Takeoff, build};
use crate::finding::Code;
use crate::geometry::Polygon;
use crate::job::{ExposureAsked, Job, parse_bag, parse_frame, read_job};
use crate::model::{Building, Exposure, Extent, FloorBand, Layer, Opening, OpeningKind, Surface, SurfaceKind};
use crate::source::Source;
use crate::tally::LeftOutElement;

fn wall(id: &str, entity: u64) -> Surface {
    Surface {
        name: Some(format!("wall {id}")),
        exposure: Exposure::Exterior,
        thickness_m: Some(0.2),
        pitch_deg: Some(90.0),
        ..Surface::new(
            id.to_owned(),
            Source::of_entity("house.ifc", entity),
            SurfaceKind::Wall,
            Extent::Outline(vec![Polygon::rectangle(0.0, 0.0, 4.0, 2.5)]),
        )
    }
}

fn building(surfaces: Vec<Surface>) -> Building {
    Building { surfaces, ..Building::default() }
}

fn framed(frames: &[&str]) -> Job {
    let mut job = Job { frames: frames.iter().map(|text| parse_frame(text).unwrap()).collect(), ..Job::default() };
    job.set_bag(&parse_bag("25 lb").unwrap()).unwrap();
    job
}

fn has(takeoff: &Takeoff, code: Code) -> bool {
    takeoff.findings.iter().any(|finding| finding.code == code)
}

#[test]
fn an_uncounted_wall_that_a_slot_cuts_through_is_left_out_in_two_pieces() {
    let slot = Opening {
        id: "O1".to_owned(),
        name: None,
        kind: OpeningKind::Other,
        source: None,
        area_m2: 2.5,
        flue: None,
        clearance_m: None,
        outline: vec![Polygon::rectangle(1.0, 0.0, 2.0, 2.5)],
    };
    let cut = Surface { openings: vec![slot], ..wall("A", 1) };
    let takeoff = build(&building(vec![cut]), &Job::default()).unwrap();
    let surface = &takeoff.surfaces[0];
    assert_eq!(surface.left_out.iter().map(|piece| piece.area_m2).collect::<Vec<_>>(), [2.5, 5.0]);
    assert!((surface.left_out_area_m2 - 7.5).abs() < 1e-12);
    assert_eq!((surface.depth_m, surface.gross_volume_m3, surface.fill.as_ref()), (None, None, None));
    assert!(surface.members.is_empty() && surface.bays.is_empty());
    assert!(!has(&takeoff, Code::BalanceOpen));
}

#[test]
fn an_opening_of_known_area_alone_is_left_out_by_its_area() {
    let opening = Opening {
        id: "O1".to_owned(),
        name: None,
        kind: OpeningKind::Window,
        source: None,
        area_m2: 1.5,
        flue: None,
        clearance_m: None,
        outline: Vec::new(),
    };
    let takeoff = build(&building(vec![Surface { openings: vec![opening], ..wall("A", 1) }]), &Job::default()).unwrap();
    assert_eq!(takeoff.surfaces[0].left_out.len(), 1);
    assert!((takeoff.surfaces[0].left_out[0].area_m2 - 8.5).abs() < 1e-12);
    assert!(takeoff.surfaces[0].left_out[0].outline_m.rings.is_empty());
}

#[test]
fn an_element_of_several_planes_is_one_element() {
    let second = Surface { part: 1, exposure: Exposure::Interior, ..wall("A", 1) };
    let lost = LeftOutElement {
        id: "C".to_owned(),
        class: "IfcWall".to_owned(),
        name: None,
        reason: "no body".to_owned(),
        source: Source::of_entity("house.ifc", 9),
    };
    let mut input = building(vec![wall("A", 1), second, Surface { exposure: Exposure::Unknown, ..wall("B", 2) }]);
    input.left_out.push(lost);
    let balance = build(&input, &framed(&["2x6 @ 24 in"])).unwrap().balance;
    assert_eq!((balance.elements_read, balance.elements_counted, balance.elements_left_out), (3, 1, 2));
    assert!((balance.gross_area_m2 - 30.0).abs() < 1e-12);
    assert!(balance.residual_m2.abs() < 1e-9);
}

#[test]
fn unknown_exposure_is_counted_only_when_asked_for() {
    let input = building(vec![Surface { exposure: Exposure::Unknown, ..wall("A", 1) }]);
    let mut job = framed(&["2x6 @ 24 in"]);
    let takeoff = build(&input, &job).unwrap();
    assert_eq!(takeoff.surfaces[0].reason.as_deref(), Some("exposure not known"));
    assert!(has(&takeoff, Code::ExposureUnknown) && has(&takeoff, Code::LittleCounted));
    assert!(takeoff.fills.is_empty());
    job.exposure = ExposureAsked::All;
    let takeoff = build(&input, &job).unwrap();
    assert!(takeoff.surfaces[0].counted && !has(&takeoff, Code::LittleCounted));
}

#[test]
fn the_reach_of_an_order_names_what_it_does_not_count() {
    let concrete = vec![Layer::named("Concrete", 0.2)];
    let solid = Surface { layers: concrete, ..wall("B", 2) };
    let floor = Surface { kind: SurfaceKind::Floor, exposure: Exposure::Interior, ..wall("C", 3) };
    let takeoff = build(&building(vec![wall("A", 1), solid, floor]), &framed(&["2x4 @ 16 in"])).unwrap();
    assert_eq!(takeoff.surfaces[1].reason.as_deref(), Some("masonry or concrete"));
    let fill = &takeoff.fills[0];
    assert_eq!(fill.kinds, [SurfaceKind::Wall]);
    assert!((fill.counted_area_m2 - 10.0).abs() < 1e-12 && (fill.asked_area_m2 - 20.0).abs() < 1e-12);
    assert_eq!(takeoff.types.len(), 3);
}

// By hand: of 10 m2 of wall and 10 m2 of roof all is asked for, and the roof lacks its vent gap; two fills share what is
// left out, each surface once.
#[test]
fn a_kind_that_no_fill_counts_is_in_the_reach_too() {
    let roof = Surface { kind: SurfaceKind::Roof, pitch_deg: Some(30.0), ..wall("R", 2) };
    let takeoff = build(&building(vec![wall("A", 1), roof.clone()]), &framed(&["2x6 @ 16 in"])).unwrap();
    let fill = &takeoff.fills[0];
    assert_eq!(fill.kinds, [SurfaceKind::Wall, SurfaceKind::Roof]);
    assert!((fill.counted_area_m2 - 10.0).abs() < 1e-12 && (fill.asked_area_m2 - 20.0).abs() < 1e-12);
    let text = "[fill.cellulose]\n[fill.wool]\nmaterial = \"mineral wool\"\ndensity = \"4 lb/ft3\"\n\
                [assembly.floor]\nframing = \"2x10 @ 16 in\"\nfill = \"wool\"\nmatch = { name = \"wall F\" }\n";
    let mut job = read_job("job.toml", text).unwrap();
    job.frames = vec![parse_frame("2x6 @ 16 in").unwrap()];
    let floor = Surface { kind: SurfaceKind::Floor, pitch_deg: Some(0.0), ..wall("F", 3) };
    let takeoff = build(&building(vec![wall("A", 1), roof, floor]), &job).unwrap();
    let reach: Vec<(f64, f64)> =
        takeoff.fills.iter().map(|fill| (fill.counted_area_m2.round(), fill.asked_area_m2.round())).collect();
    assert_eq!(reach, [(10.0, 20.0), (10.0, 10.0)]);
}

#[test]
fn bags_set_down_in_the_storeys_sum_to_the_order() {
    let on = |id: &str, entity: u64, storey: &str| Surface { storey: Some(storey.to_owned()), ..wall(id, entity) };
    let input = building(vec![on("A", 1, "ground"), on("B", 2, "upper"), on("C", 3, "ground"), on("D", 4, "loft")]);
    let fill = &build(&input, &framed(&["2x10 @ 24 in"])).unwrap().fills[0];
    let storeys: Vec<&str> = fill.staging.iter().filter_map(|stage| stage.storey.as_deref()).collect();
    assert_eq!(storeys, ["ground", "upper", "loft"]);
    assert_eq!(fill.staging.iter().filter_map(|stage| stage.bags).sum::<u64>(), fill.bags_order.unwrap());
}

/// A wall of 10 m2 without openings at published fractions is 7.7 and 7.5 m2 of bays: WAC 51-11-1005
/// (.19 + .04) and ASHRAE 90.1 A3.4 (.21 + .04, from memory). 3.5 lb/ft3 is 56.064 6 kg/m3.
#[test]
fn published_fractions_stand_beside_the_laid_out_one() {
    let takeoff = build(&building(vec![wall("A", 1)]), &framed(&["2x4 @ 16 in"])).unwrap();
    let comparison = &takeoff.framing[0];
    assert!((comparison.published[0].mass_kg - 7.7 * 0.0889 * 56.064_621_8).abs() < 1e-5);
    assert!((comparison.published[1].mass_kg - 7.5 * 0.0889 * 56.064_621_8).abs() < 1e-5);
    let less = (comparison.published[0].mass_kg - comparison.mass_kg) / (25.0 * 0.453_592_37);
    assert!((comparison.published[0].bags_difference.unwrap() - less).abs() < 1e-12);
    assert!((comparison.laid_out_fraction - takeoff.surfaces[0].framing_fraction.unwrap()).abs() < 1e-15);
}

// By hand: two walls, one of them cut at a floor into a piece below, a rim strip and a piece above, still two walls.
#[test]
fn a_wall_cut_at_a_floor_is_one_wall_in_sentences() {
    let band = FloorBand { from_m: 1.0, to_m: 1.3, source: None };
    let cut = Surface { floor_bands: vec![band], ..wall("A", 1) };
    let takeoff = build(&building(vec![cut, wall("B", 2)]), &framed(&["2x4 @ 16 in"])).unwrap();
    assert_eq!(takeoff.surfaces.len(), 4);
    let corners = takeoff.findings.iter().find(|finding| finding.code == Code::CornersNotIncluded).unwrap();
    assert!(corners.message.starts_with("2 walls with 215 ft2"), "{}", corners.message);
}

const DOUBLE: &str = "2x4 @ 16 in + gap 4 in + 2x4 @ 16 in";

#[test]
fn what_parts_and_backs_a_double_wall_is_assumed_where_it_bears() {
    let listed = |frame: &str, keys: &str| {
        let mut job = read_job("job.toml", &format!("[layout]\n{keys}\n")).unwrap();
        job.frames = vec![parse_frame(frame).unwrap()];
        let wall = Surface { partition_junctions: 1, ..wall("A", 1) };
        let takeoff = build(&building(vec![wall]), &job).unwrap();
        let source = |key: &str| takeoff.assumptions.iter().find(|a| a.key == key).map(|a| a.source.clone());
        [source("layout.fire_board"), source("layout.partition_rows")]
    };
    let fire = "fire_blocking = \"10 ft\"";
    let [board, rows] = listed(DOUBLE, fire);
    assert!(board.unwrap().starts_with("IRC R302.11.1"));
    assert_eq!(rows.as_deref(), Some("common practice, no source"));
    assert_eq!(listed("2x4 @ 16 in", fire), [None, None]);
    assert_eq!(listed(DOUBLE, "")[0], None);
    let own = listed(DOUBLE, &format!("{fire}\nfire_board = \"1/2 in\"\npartition_rows = \"all\""));
    assert_eq!(own.map(Option::unwrap), ["job file", "job file"]);
}
