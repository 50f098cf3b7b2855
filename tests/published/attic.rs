//! Attic floors with open-blown fill: net area, rings, eaves, by hand and by published figures.
//!
//! Lengths are inches unless a name says otherwise.

use crate::surfaces::{INCH, near, surface};
use cavitally::bays::{BayCut, EAVE_WEDGE, cut_bays};
use cavitally::fill::FillUse;
use cavitally::finding::Code;
use cavitally::framing::{Enclosure, Framing, Layout, LayoutRules, MemberRow, lay_out};
use cavitally::geometry::Polygon;
use cavitally::job::read_job;
use cavitally::model::{
    Building, DoNotFill, DoNotFillExtent, EaveSides, Eaves, Extent, FlueKind, Opening, OpeningKind, Surface,
    SurfaceKind,
};
use cavitally::takeoff::{Takeoff, build};
use cavitally::units::{CUBIC_FOOT_M3, POUND_PER_CUBIC_FOOT_KG_M3, SQUARE_FOOT_M2};

const CUBIC_INCH_M3: f64 = INCH * INCH * INCH;

fn ceiling(length: f64, span: f64, openings: Vec<Opening>) -> Surface {
    surface(SurfaceKind::Ceiling, vec![Polygon::rectangle(0.0, 0.0, length * INCH, span * INCH)], openings)
}

fn hole(kind: OpeningKind, x: [f64; 2], y: [f64; 2]) -> Opening {
    let outline = Polygon::rectangle(x[0] * INCH, y[0] * INCH, x[1] * INCH, y[1] * INCH);
    let area_m2 = outline.area_m2();
    Opening {
        id: "H".to_owned(),
        name: None,
        kind,
        source: None,
        area_m2,
        flue: None,
        clearance_m: None,
        outline: vec![outline],
    }
}

/// Bottom chords of trusses, 1.5 x 3.5, without a band at their ends.
fn chords(spacing: f64) -> Framing {
    let row = MemberRow { plate_thickness_m: Some(0.0), ..MemberRow::solid(1.5 * INCH, 3.5 * INCH, spacing * INCH) };
    Framing {
        text: "chords".to_owned(),
        depth_m: 3.5 * INCH,
        rows: vec![row],
        dividers_every_m: None,
        assumptions: Vec::new(),
    }
}

fn open(thickness: f64) -> Enclosure {
    Enclosure { open_thickness_m: Some(thickness * INCH), ..Enclosure::default() }
}

fn cut(surface: &Surface, spacing: f64, enclosure: Enclosure) -> (Layout, BayCut) {
    let rules = LayoutRules { enclosure, ..LayoutRules::default() };
    let layout = lay_out(surface, &chords(spacing), &rules);
    let cut = cut_bays(surface, &layout, &rules);
    (layout, cut)
}

fn filled_m3(layout: &Layout, cut: &BayCut) -> f64 {
    cut.bays.iter().map(|bay| bay.room_m3(layout.depth_m)).sum()
}

// ASTM C1630: net area, framing deducted. 960 ft2 of ceiling under chords of 3.5 x 1.5 at 24 in. and 13.23 in. of
// settled fill: gross 1058.4 ft3, framing deducted to its own depth alone 1040.9 ft3. What 40 ft
// more of a ceiling of 24 ft add is just that: the end chords are in both.
#[test]
fn framing_is_deducted_to_its_own_depth() {
    let volume_m3 = |length: f64| {
        let (layout, cut) = cut(&ceiling(length, 288.0, Vec::new()), 24.0, open(13.23));
        assert_eq!((cut.bays.len(), layout.members.len()), (1, 0));
        filled_m3(&layout, &cut)
    };
    let grown_ft3 = (volume_m3(720.0) - volume_m3(240.0)) / CUBIC_FOOT_M3;
    near(grown_ft3, 1040.9, 0.1, "net of chords");
    near(grown_ft3 / 1058.4, 0.9835, 0.0001, "ratio");
}

// By hand: fill of 3 in. does not reach over chords of 3.5 in., so that 20 bays stand between 21 chords. A
// ceiling without a thickness stays a closed cavity, as deep as its chords.
#[test]
fn thin_fill_parts_into_bays_and_no_thickness_is_a_closed_cavity() {
    let surface = ceiling(480.0, 288.0, Vec::new());
    let (layout, thin) = cut(&surface, 24.0, open(3.0));
    assert_eq!((thin.bays.len(), layout.members.len(), layout.is_open), (20, 21, true));
    near(layout.depth_m / INCH, 3.0, 1e-12, "depth");
    let (layout, closed) = cut(&surface, 24.0, Enclosure::default());
    assert_eq!((closed.bays.len(), layout.is_open), (20, false));
    near(layout.depth_m / INCH, 3.5, 1e-12, "depth");
}

fn eaves(heel: f64, gap: f64, thickness: f64, sides: EaveSides) -> Enclosure {
    Enclosure {
        heel_height_m: Some(heel * INCH),
        roof_pitch_deg: Some(0.5_f64.atan().to_degrees()),
        baffle_gap_m: Some(gap * INCH),
        eaves: Some(sides),
        ..open(thickness)
    }
}

fn wedge_in3(cut: &BayCut) -> f64 {
    let wedge = cut.empty_volumes.iter().filter(|empty| empty.reason == EAVE_WEDGE);
    wedge.map(|empty| empty.volume_m3).sum::<f64>() / CUBIC_INCH_M3
}

// By hand, 40 x 24 ft, 13.25 in. of fill, 6:12, heel 4 in., gap 1 in.: room at the edge 3 in., full depth
// (13.25 - 3) / .5 = 20.5 in. inside. A triangle of 10.25 x 20.5 / 2 along 80 ft of eaves. Of the last
// half inch below the top of the chords (a triangle of .5 x 1 / 2) the chords take 21 x 1.5 / 480.
#[test]
fn the_wedge_at_the_eaves_of_a_gabled_roof() {
    let surface = ceiling(480.0, 288.0, Vec::new());
    let (layout, gabled) = cut(&surface, 24.0, eaves(4.0, 1.0, 13.25, EaveSides::LongSides));
    let by_hand = 960.0 * 10.25 * 20.5 / 2.0 - 21.0 * 1.5 / 480.0 * 960.0 * 0.25;
    near(wedge_in3(&gabled), by_hand, 1e-6, "wedge");
    near(gabled.shallow_area_m2 / (INCH * INCH), 960.0 * 20.5, 1e-6, "area short of full depth");
    assert_eq!(gabled.baffles, Some(40));
    let (_, whole) = cut(&surface, 24.0, open(13.25));
    let lost_m3 = filled_m3(&layout, &whole) - filled_m3(&layout, &gabled);
    near(lost_m3 / CUBIC_INCH_M3, by_hand, 1e-6, "taken from the bay");
    assert!(gabled.findings.iter().any(|finding| finding.code == Code::ShallowAtEaves));
    // The short sides are 288 each; a length of its own wins, and the sheet's wins over the job's.
    let short = cut(&surface, 24.0, eaves(6.0, 1.0, 13.25, EaveSides::ShortSides)).1;
    near(wedge_in3(&short), 576.0 * 8.25 * 16.5 / 2.0, 1e-6, "short sides");
    let length = cut(&surface, 24.0, eaves(6.0, 1.0, 13.25, EaveSides::LengthM(100.0 * INCH))).1;
    near(wedge_in3(&length), 100.0 * 8.25 * 16.5 / 2.0, 1e-6, "a length");
    let sheet = Eaves {
        sides: Some(EaveSides::LengthM(50.0 * INCH)),
        heel_height_m: Some(7.0 * INCH),
        roof_pitch_deg: Some(45.0),
    };
    let from_sheet = Surface { eaves: sheet, ..surface };
    let of_sheet = cut(&from_sheet, 24.0, eaves(6.0, 1.0, 13.25, EaveSides::All)).1;
    near(wedge_in3(&of_sheet), 50.0 * 7.25 * 7.25 / 2.0, 1e-6, "from the sheet");
}

// By hand: under a hipped roof the fill above 4 in. is a cut-off pyramid. On 240 x 240, 12 in. of fill,
// what is missing is the sum of 240^2 - (240 - 4 w)^2 over w from 0 to 8: 960 x 64 - 16 x 512 / 3. The
// area is 240^2 - 208^2. With no room at the edge (heel 1, gap 2) the first 2 in. hold nothing and 20 in. more are a triangle.
#[test]
fn the_wedge_under_a_hipped_roof_and_without_room_at_the_edge() {
    let square = ceiling(240.0, 240.0, Vec::new());
    let hipped = cut(&square, 24.0, eaves(5.0, 1.0, 12.0, EaveSides::All)).1;
    near(wedge_in3(&hipped), 960.0 * 64.0 - 16.0 * 512.0 / 3.0, 1e-6, "pyramid");
    near(hipped.shallow_area_m2 / (INCH * INCH), 240.0 * 240.0 - 208.0 * 208.0, 1e-6, "area");
    let no_chords = Framing { rows: Vec::new(), ..chords(24.0) };
    let rules =
        LayoutRules { enclosure: eaves(1.0, 2.0, 10.0, EaveSides::LengthM(100.0 * INCH)), ..LayoutRules::default() };
    let low = cut_bays(&square, &lay_out(&square, &no_chords, &rules), &rules);
    near(wedge_in3(&low), 100.0 * (10.0 * 2.0 + 10.0 * 20.0 / 2.0), 1e-6, "no room at the edge");
    // High heels leave nothing out.
    let high = cut(&square, 24.0, eaves(14.0, 1.0, 12.0, EaveSides::All)).1;
    assert!(high.empty_volumes.is_empty() && high.shallow_area_m2 == 0.0);
}

// By hand, as the gabled roof above: a platform along one of its eaves, 480 x 36, empties all of that side's wedge (20.5 in.
// wide): half the wedge is left, and half of the area.
#[test]
fn the_wedge_is_not_taken_where_nothing_is_filled() {
    let platform = DoNotFill {
        extent: DoNotFillExtent::Box { from_m: [0.0, 0.0], to_m: [480.0 * INCH, 36.0 * INCH] },
        reason: "platform".to_owned(),
        said_by: None,
    };
    let surface = Surface { do_not_fill: vec![platform], ..ceiling(480.0, 288.0, Vec::new()) };
    let (_, half) = cut(&surface, 24.0, eaves(4.0, 1.0, 13.25, EaveSides::LongSides));
    let by_hand = 480.0 * 10.25 * 20.5 / 2.0 - 21.0 * 1.5 * 0.25;
    near(wedge_in3(&half), by_hand, 1e-6, "wedge");
    near(half.shallow_area_m2 / (INCH * INCH), 480.0 * 20.5, 1e-6, "area");
}

// By hand: fill of 3.4 in. lies between chords of 3.5. At 6:12 from nothing at the short sides it is whole 6.8 in. inside,
// where the first and the last bay are (behind an end chord of 1.5): 5.3 x 2.65 / 2 along 288 in each, nothing in others.
#[test]
fn bays_far_from_the_eaves_lose_nothing() {
    let (layout, cut) = cut(&ceiling(480.0, 288.0, Vec::new()), 24.0, eaves(1.0, 1.0, 3.4, EaveSides::ShortSides));
    let empty = |bay: &cavitally::bays::Bay| bay.empty_m3 / CUBIC_INCH_M3;
    assert_eq!(cut.bays.len(), 20);
    near(empty(&cut.bays[0]), 5.3 * 2.65 / 2.0 * 288.0, 1e-6, "first");
    near(empty(&cut.bays[19]), 5.3 * 2.65 / 2.0 * 288.0, 1e-6, "last");
    assert!(cut.bays[1..19].iter().all(|bay| bay.empty_m3.abs() < 1e-12));
    near(layout.depth_m / INCH, 3.4, 1e-12, "depth");
}

const GABLED: &str = "roof_pitch = \"4:12\"\nheel_height = \"4 in\"\nbaffle_gap = \"1 in\"\neaves = \"long sides\"\n";

fn taken_as(takeoff: &Takeoff, what: &str) -> f64 {
    let pieces = takeoff.surfaces[0].left_out.iter().filter(|piece| piece.reason.contains(what));
    pieces.filter_map(|piece| piece.volume_m3).sum::<f64>() / CUBIC_INCH_M3
}

// By hand, 30 x 24 ft, 2x8 @ 16 in., 10.5 in. of fill, 4:12 from 3 in. at the eaves: full 22.5 in. inside, a triangle of 7.5 x
// 22.5 / 2 along 720 in. Above the roof framing takes: the rims (1.5 wide, up to 7.25) 4.25 x 1.5 - 1.5^2 / 6 = 6 along
// 720; 24 joists of 1.5 from there on 3.75 x 11.25 / 2 at both ends.
#[test]
fn framing_at_the_eave_is_taken_where_it_stands() {
    let job = format!("{}thickness = \"10.5 in\"\n{GABLED}", ATTIC.replace("2x6 @ 24", "2x8 @ 16"));
    let takeoff = taken_off(ceiling(360.0, 288.0, Vec::new()), &job);
    let by_hand = 720.0 * 7.5 * 22.5 / 2.0 - 720.0 * 6.0 - 48.0 * 1.5 * 3.75 * 11.25 / 2.0;
    near(taken_as(&takeoff, EAVE_WEDGE), by_hand, 1e-6, "wedge");
}

// By hand, as above with chords of 2x4 (3.5 in.): 6 in. of fill are there already, of which the roof leaves no room for a
// triangle of 3 x 9 / 2 along 720 in.: that is not deducted twice. In all, wedge and what is there leave 360 x 288 x 4.5
// less what of the wedge lies above 6 in.: 4.5 x (9 + 22.5) / 2 along 720.
#[test]
fn existing_fill_ends_at_the_roof() {
    let job = format!(
        "{}thickness = \"10.5 in\"\nexisting = \"cellulose 6 in\"\n{GABLED}",
        ATTIC.replace("2x6 @ 24", "2x4 @ 24")
    );
    let takeoff = taken_off(ceiling(360.0, 288.0, Vec::new()), &job);
    let filled = takeoff.surfaces[0].bay_volume_m3.unwrap() / CUBIC_INCH_M3;
    near(filled, 360.0 * 288.0 * 4.5 - 720.0 * 4.5 * (9.0 + 22.5) / 2.0, 1e-4, "new fill");
    assert!(takeoff.findings.iter().all(|finding| finding.code != Code::BalanceOpen));
    // What is there reaches up to what is asked for: nothing is filled, and nothing is left out twice.
    let full = taken_off(ceiling(360.0, 288.0, Vec::new()), &job.replace("cellulose 6 in", "cellulose 10.5 in"));
    assert!(full.findings.iter().all(|finding| finding.code != Code::BalanceOpen));
    // A share of open-blown fill is one of its thickness: what is there lies below.
    let share = taken_off(ceiling(360.0, 288.0, Vec::new()), &job.replace("cellulose 6 in", "cellulose 50 %"));
    let filled = share.surfaces[0].bay_volume_m3.unwrap() / CUBIC_INCH_M3;
    near(filled, 360.0 * 288.0 * 5.25 - 720.0 * 5.25 * (6.75 + 22.5) / 2.0, 1e-4, "half of it");
}

#[test]
fn eaves_that_are_not_given_are_said_so() {
    let square = ceiling(240.0, 240.0, Vec::new());
    let found = |enclosure: Enclosure| {
        let findings = cut(&square, 24.0, enclosure).1.findings;
        findings.iter().find(|finding| finding.code == Code::EavesNotGiven).map(|finding| finding.message.clone())
    };
    assert!(found(open(12.0)).unwrap().contains("nothing says how low"));
    let half = Enclosure { roof_pitch_deg: None, ..eaves(4.0, 1.0, 12.0, EaveSides::All) };
    assert!(found(half).unwrap().contains("`roof_pitch` is missing"));
    assert!(found(Enclosure::default()).is_none());
}

fn ring_in2(opening: Opening, spacing: f64, enclosure: Enclosure) -> f64 {
    let (_, cut) = cut(&ceiling(480.0, 288.0, vec![opening]), spacing, enclosure);
    let rings = cut.left_out.iter().filter(|piece| piece.reason.starts_with("clearance around"));
    rings.map(|piece| piece.area_m2).sum::<f64>() / (INCH * INCH)
}

// By hand, a hole of 10 x 10 clear of chords: type B 1 in. is 12^2 - 10^2, masonry 2 in. 14^2 - 10^2, single wall
// and of no known kind 6 in. 22^2 - 10^2 (from memory); recessed light 3 in. 16^2 - 10^2 (NEC 410.116(B)).
#[test]
fn rings_around_flues_chimneys_and_lights() {
    use OpeningKind::{Chimney, Flue, Hatch, Light};
    let ring = |kind: OpeningKind, flue: Option<FlueKind>, clearance: Option<f64>| {
        let clearance_m = clearance.map(|inches| inches * INCH);
        ring_in2(Opening { flue, clearance_m, ..hole(kind, [60.0, 70.0], [100.0, 110.0]) }, 48.0, open(13.0))
    };
    near(ring(Flue, Some(FlueKind::TypeB), None), 44.0, 1e-6, "type B");
    near(ring(Flue, Some(FlueKind::SingleWall), None), 384.0, 1e-6, "single wall");
    near(ring(Flue, Some(FlueKind::Masonry), None), 96.0, 1e-6, "masonry");
    near(ring(Chimney, None, None), 96.0, 1e-6, "chimney");
    near(ring(Flue, None, None), 384.0, 1e-6, "of no known kind");
    near(ring(Flue, Some(FlueKind::TypeB), Some(4.0)), 224.0, 1e-6, "as the input says");
    near(ring(Light, None, None), 156.0, 1e-6, "light");
    near(ring(Light, None, Some(0.0)), 0.0, 0.0, "light rated for contact");
    near(ring(Hatch, None, None), 0.0, 0.0, "hatch");
}

// By hand: as above, with what the job file says of each kind: 2 in. 14^2 - 10^2, nought for lights rated for contact (NEC
// 410.116(B) excepts type IC). What an opening's own row says wins. Each is listed with the job file as its source.
#[test]
fn clearances_are_settings() {
    use OpeningKind::{Chimney, Flue, Light};
    let keys = ["type_b_vent", "single_wall_flue", "masonry_chimney", "unnamed_flue"];
    let lines: Vec<String> = keys.iter().map(|key| format!("{key}_clearance = \"2 in\"")).collect();
    let layout = format!("[layout]\n{}\nrecessed_light_clearance = \"0 in\"\n", lines.join("\n"));
    let of = |kind: OpeningKind, flue: Option<FlueKind>, clearance_m: Option<f64>| {
        let opening = Opening { flue, clearance_m, ..hole(kind, [60.0, 70.0], [100.0, 110.0]) };
        let takeoff =
            taken_off(ceiling(480.0, 288.0, vec![opening]), &format!("{layout}{ATTIC}thickness = \"13.25 in\"\n"));
        let rings = takeoff.surfaces[0].left_out.iter().filter(|piece| piece.reason.starts_with("clearance around"));
        (rings.map(|piece| piece.area_m2).sum::<f64>() / (INCH * INCH), takeoff)
    };
    for (kind, flue) in [
        (Flue, Some(FlueKind::TypeB)),
        (Flue, Some(FlueKind::SingleWall)),
        (Flue, Some(FlueKind::Masonry)),
        (Chimney, None),
        (Flue, None),
    ] {
        let (ring, takeoff) = of(kind, flue, None);
        near(ring, 96.0, 1e-6, "2 in.");
        let own: Vec<_> = takeoff.assumptions.iter().filter(|a| a.key.contains("clearance")).collect();
        assert!(own.iter().any(|a| a.key.starts_with("clearance.") && a.source == "job file"), "{own:?}");
        assert!(takeoff.findings.iter().all(|finding| finding.code != Code::FlueNotNamed));
    }
    near(of(Light, None, None).0, 0.0, 0.0, "light");
    near(of(Light, None, Some(3.0 * INCH)).0, 156.0, 1e-6, "a light's own row");
}

#[test]
fn a_flue_of_no_known_kind_is_a_warning() {
    let of = |flue: Option<FlueKind>| {
        let flue = Opening { flue, ..hole(OpeningKind::Flue, [60.0, 70.0], [100.0, 110.0]) };
        cut(&ceiling(480.0, 288.0, vec![flue]), 48.0, open(13.0)).1
    };
    let warned = |cut: &BayCut| cut.findings.iter().any(|finding| finding.code == Code::FlueNotNamed);
    assert!(warned(&of(None)) && !warned(&of(Some(FlueKind::SingleWall))));
    let assumed = of(Some(FlueKind::TypeB)).assumptions;
    assert!(assumed.iter().any(|assumption| assumption.key == "clearance.type_b_vent"));
}

// By hand: 2 in. off the edge a ring of 6 in. is cut there: 18 x 22 - 10^2. In a closed cavity the chord at 48
// (47.25 to 48.75) stays a member: a ring from 48 to 70 loses .75 x 22.
#[test]
fn a_ring_ends_at_the_edge_and_at_members() {
    let single =
        |x: f64| Opening { flue: Some(FlueKind::SingleWall), ..hole(OpeningKind::Flue, [x, x + 10.0], [100.0, 110.0]) };
    near(ring_in2(single(2.0), 48.0, open(13.0)), 18.0 * 22.0 - 100.0, 1e-6, "at the edge");
    near(ring_in2(single(54.0), 48.0, Enclosure::default()), 384.0 - 0.75 * 22.0, 1e-6, "beside a chord");
    near(ring_in2(single(54.0), 48.0, open(13.0)), 384.0, 1e-6, "over a chord");
}

fn taken_off(surface: Surface, job: &str) -> Takeoff {
    let job = read_job("job.toml", job).unwrap();
    build(&Building { surfaces: vec![surface], ..Building::default() }, &job).unwrap()
}

const ATTIC: &str = "[assembly.attic]\nframing = \"2x6 @ 24 in\"\nmatch = { exposure = \"exterior\" }\n";

// Simulation library of a national laboratory: loose-fill cellulose 1.5 lb/ft3. By hand: a hatch of 24 x 30 has a dam of 108; a platform of 40 x 50 holds nothing.
#[test]
fn an_attic_floor_from_its_job_file() {
    let hatch = hole(OpeningKind::Hatch, [26.0, 56.0], [40.0, 64.0]);
    let platform = DoNotFill {
        extent: DoNotFillExtent::Box { from_m: [100.0 * INCH, 50.0 * INCH], to_m: [140.0 * INCH, 100.0 * INCH] },
        reason: "platform".to_owned(),
        said_by: None,
    };
    let surface = Surface { do_not_fill: vec![platform], ..ceiling(480.0, 288.0, vec![hatch]) };
    let takeoff = taken_off(surface.clone(), &format!("{ATTIC}thickness = \"13.25 in\"\n"));
    let attic = &takeoff.surfaces[0];
    assert_eq!(attic.r#use, Some(FillUse::OpenBlown));
    near(attic.density_kg_m3.unwrap() / POUND_PER_CUBIC_FOOT_KG_M3, 1.5, 1e-12, "density");
    near(attic.dam_length_m.unwrap() / INCH, 108.0, 1e-9, "dam");
    let left_out = attic.left_out.iter().find(|piece| piece.reason == "platform").unwrap();
    near(left_out.area_m2 / (INCH * INCH), 2000.0, 1e-6, "platform");
    assert!(takeoff.assumptions.iter().any(|assumption| assumption.key == "fill.cellulose.open_density"));
    assert!(!takeoff.assumptions.iter().any(|assumption| assumption.key == "fill.cellulose.density"));
    assert!(takeoff.findings.iter().all(|finding| finding.code != Code::BalanceOpen));
    let other = taken_off(
        surface.clone(),
        &format!(
            "[fill.wool]\nmaterial = \"glass fibre\"\nopen_density = \"0.5 lb/ft3\"\n{ATTIC}thickness = \"13.25 in\"\n"
        ),
    );
    near(other.surfaces[0].density_kg_m3.unwrap() / POUND_PER_CUBIC_FOOT_KG_M3, 0.5, 1e-12, "given density");
    let closed = taken_off(surface, ATTIC);
    assert_eq!(closed.surfaces[0].r#use, Some(FillUse::ClosedCavity));
    near(closed.surfaces[0].density_kg_m3.unwrap() / POUND_PER_CUBIC_FOOT_KG_M3, 3.5, 1e-12, "closed");
}

// By hand: 1000 ft2 of known area alone, a tenth of it framing (to 5.5 in. of 11 in.), a single-wall flue of 1 ft2 with
// a ring of 2^2 - 1 ft2, of which nine tenths are not framing.
#[test]
fn an_attic_of_which_only_the_area_is_known() {
    let flue = Opening {
        area_m2: SQUARE_FOOT_M2,
        flue: Some(FlueKind::SingleWall),
        outline: Vec::new(),
        ..hole(OpeningKind::Flue, [0.0, 1.0], [0.0, 1.0])
    };
    let area = Extent::AreaM2(1000.0 * SQUARE_FOOT_M2);
    let surface = Surface { extent: area, ..ceiling(1.0, 1.0, vec![flue]) };
    let takeoff = taken_off(surface, &format!("{ATTIC}thickness = \"11 in\"\neaves = \"all\"\n"));
    let attic = &takeoff.surfaces[0];
    near(attic.left_out_area_m2 / SQUARE_FOOT_M2, 0.0 + 3.0, 1e-9, "ring: the framing stands below the fill");
    let framing_ft3 = 99.9 * 5.5 / 12.0;
    near(attic.member_volume_m3.unwrap() / CUBIC_FOOT_M3, framing_ft3, 1e-9, "framing");
    near(attic.bay_volume_m3.unwrap() / CUBIC_FOOT_M3, 996.0 * 11.0 / 12.0 - framing_ft3, 1e-9, "fill");
    assert!(takeoff.findings.iter().all(|finding| finding.code != Code::BalanceOpen));
}
