//! What each fuzz target does with its bytes: it calls one function of the library and asserts what must always hold.
//!
//! The same bodies run as plain tests over the seeds in `corpus`. To search for new inputs, with `cargo-fuzz`:
//! `RUSTC_BOOTSTRAP=1 cargo fuzz run --fuzz-dir tests/fuzz step_file` (and so on for the others).

use cavitally::bays::{balance_residual_m2, cut_bays};
use cavitally::framing::{Framing, LayoutRules, lay_out, parse_framing};
use cavitally::geometry::{
    Extrusion, Frame, HalfSpace, Operation, Plane, Point, Polygon, Ring, Solid, Vector, clip_by_half_plane, difference,
    intersection, section, total_area_m2, union, union_even_odd,
};
use cavitally::intake::claims::read_claims_sheet;
use cavitally::intake::csv::SheetFile;
use cavitally::intake::finish::read_finish_sheet;
use cavitally::intake::hpxml::{read_hpxml_building, read_hpxml_plan};
use cavitally::intake::log::read_log_sheet;
use cavitally::intake::survey::read_survey_sheet;
use cavitally::intake::{csv, ifc};
use cavitally::job::{read_job, say_of_surfaces};
use cavitally::model::{Building, Exposure, Extent, Opening, OpeningKind, Surface, SurfaceKind};
use cavitally::rig::check_rig;
use cavitally::source::Source;
use cavitally::units::{LengthUnit, UnitSystem, parse_length};

/// Largest part of the gross area by which a balance may miss.
const BALANCE_RELATIVE: f64 = 1e-9;
/// Pieces smaller than this are dropped as rounding.
const NEGLIGIBLE_M2: f64 = 1e-8;

/// A building model: whatever is measured has a sound area.
pub fn step_file(data: &[u8]) {
    if let Ok(building) = ifc::read("model.ifc", data) {
        assert_sound(&building);
    }
}

/// A sheet: the same, and a sheet that is refused says why.
pub fn csv_sheet(data: &[u8]) {
    let sheet = || [SheetFile { path: "sheet.csv".to_owned(), bytes: data.to_vec() }];
    for keep_going in [false, true] {
        match csv::read(&sheet(), keep_going) {
            Ok(building) => assert_sound(&building),
            Err(refusals) => assert!(!refusals.is_empty(), "a refusal says why"),
        }
    }
}

/// A plan as a sheet: figures, or a refusal that says why.
pub fn claims_sheet(data: &[u8]) {
    match read_claims_sheet("plan.csv", data) {
        Ok(plan) => assert!(plan.groups.iter().flat_map(|group| &group.claims).all(|claim| claim.value.si.is_finite())),
        Err(refusals) => assert!(!refusals.is_empty(), "a refusal says why"),
    }
}

/// A log: entries, or a refusal that says why.
pub fn log_sheet(data: &[u8]) {
    match read_log_sheet("log.csv", data) {
        Ok(log) => assert!(!log.entries.is_empty()),
        Err(refusals) => assert!(!refusals.is_empty(), "a refusal says why"),
    }
}

/// A survey: rows, or a refusal that says why.
pub fn survey_sheet(data: &[u8]) {
    match read_survey_sheet("survey.csv", data) {
        Ok(survey) => assert!(!survey.rows.is_empty()),
        Err(refusals) => assert!(!refusals.is_empty(), "a refusal says why"),
    }
}

/// Finished checks: rows, or a refusal that says why.
pub fn finish_sheet(data: &[u8]) {
    match read_finish_sheet("finish.csv", data) {
        Ok(sheet) => assert!(!sheet.rows.is_empty()),
        Err(refusals) => assert!(!refusals.is_empty(), "a refusal says why"),
    }
}

/// An HPXML file, as a plan and as a building.
pub fn hpxml_file(data: &[u8]) {
    if let Err(refusals) = read_hpxml_plan("plan.xml", data) {
        assert!(!refusals.is_empty(), "a refusal says why");
    }
    if let Ok(building) = read_hpxml_building("home.xml", data) {
        assert_sound(&building);
    }
}

/// A length as people write it: a number or a refusal.
pub fn length_text(data: &[u8]) {
    let text = String::from_utf8_lossy(data);
    for unit in [None, Some(LengthUnit::Foot), Some(LengthUnit::Millimetre), Some(LengthUnit::FeetAndInches)] {
        for decimal_comma in [false, true] {
            if let Ok(length_m) = parse_length(&text, unit, decimal_comma) {
                assert!(length_m.is_finite(), "`{text}` gives {length_m}");
            }
        }
    }
}

/// Framing as people write it: parts that can be built and that read back the same, or a refusal with its mend.
pub fn framing_text(data: &[u8]) {
    let text = String::from_utf8_lossy(data);
    let framing = match parse_framing(&text) {
        Ok(framing) => framing,
        Err(error) => return assert!(!error.message.is_empty() && !error.help.is_empty(), "a refusal says why"),
    };
    assert!(framing.depth_m.is_finite() && framing.depth_m > 0.0, "`{text}` gives {framing:?}");
    for row in &framing.rows {
        let is_sound = [row.member_width_m, row.spacing_m].iter().all(|size_m| size_m.is_finite() && *size_m > 0.0)
            && row.from_m >= 0.0
            && row.from_m < row.to_m
            && row.to_m <= framing.depth_m + 1e-9
            && row.solid_share > 0.0
            && row.solid_share <= 1.0;
        assert!(is_sound, "`{text}` gives {framing:?}");
    }
    let again = parse_framing(&framing.text).unwrap_or_else(|e| panic!("`{}` of `{text}`: {e}", framing.text));
    assert_eq!((&again.text, &again.rows), (&framing.text, &framing.rows), "`{text}`");
    assert_eq!(again.dividers_every_m, framing.dividers_every_m, "`{text}`");
    // Closer members than these take long and show nothing new.
    let is_sparse = framing.rows.iter().all(|row| row.spacing_m >= 0.1);
    for depth_m in [framing.depth_m, 0.08, 0.3].into_iter().filter(|_| is_sparse) {
        assert_framed(&framing, depth_m);
    }
}

/// A wall with a window, framed at a depth: areas and volumes add up.
fn assert_framed(framing: &Framing, depth_m: f64) {
    let hole = Polygon::rectangle(0.8, 0.7, 1.7, 1.6);
    let window = Opening {
        id: "O1".to_owned(),
        name: None,
        kind: OpeningKind::Window,
        source: None,
        area_m2: hole.area_m2(),
        flue: None,
        clearance_m: None,
        outline: vec![hole],
    };
    let mut surface = wall(vec![Polygon::rectangle(0.0, 0.0, 2.5, 2.0)], &[]);
    surface.openings.push(window);
    surface.measured_depth_m = Some(depth_m);
    let rules = LayoutRules::default();
    let layout = lay_out(&surface, framing, &rules);
    let cut = cut_bays(&surface, &layout, &rules);
    assert_balance(surface.gross_area_m2(), surface.gross_area_m2() - balance_residual_m2(&surface, &layout, &cut));
    let kept = cut.bays.iter().map(|bay| (bay.area_m2, bay.displaced_m3));
    let left_out = cut.left_out.iter().map(|piece| (piece.area_m2, piece.displaced_m3));
    let free_m3: f64 = kept.chain(left_out).map(|(area_m2, displaced)| area_m2 * depth_m - displaced).sum();
    let partial_m3: f64 = layout.partial.iter().map(|piece| piece.volume_of_m3(piece.area_m2)).sum();
    let members_m2: f64 = layout.members.iter().map(|member| member.area_m2).sum();
    let net_m2 = surface.gross_area_m2() - surface.opening_area_m2();
    assert_balance(net_m2 * depth_m, members_m2 * depth_m + partial_m3 + free_m3);
}

/// A job file: a job, or refusals that say why; what it says of surfaces leaves each of them sound.
pub fn job_file(data: &[u8]) {
    match read_job("job.toml", &String::from_utf8_lossy(data)) {
        Err(refusals) => assert!(!refusals.is_empty(), "a refusal says why"),
        Ok(job) => {
            for rig in &job.rigs {
                let check = check_rig(None, &job, rig, UnitSystem::Us);
                assert!(!check.points.is_empty(), "a check of a rig says something");
                assert!(
                    check.hose.is_none_or(|hose| hose.with_fill.least_pa <= hose.with_fill.most_pa),
                    "a range is one"
                );
            }
            let outline = || vec![Polygon::rectangle(0.0, 0.0, 4.0, 2.5)];
            let kinds = [SurfaceKind::Wall, SurfaceKind::Ceiling, SurfaceKind::Roof, SurfaceKind::Floor];
            let surfaces = kinds.map(|kind| Surface { kind, ..wall(outline(), &[10, 40, 60, 60]) }).to_vec();
            let building = Building { surfaces, ..Building::default() };
            for surface in &say_of_surfaces(&building, &job).surfaces {
                let gross_m2 = surface.gross_area_m2();
                assert!((gross_m2 - 10.0).abs() < 1e-9, "nothing that is said of a surface changes how far it reaches");
                assert!(surface.opening_area_m2() <= gross_m2 + NEGLIGIBLE_M2, "openings lie in their surface");
            }
        }
    }
}

/// Booleans of any rings: what is inside and what is left add up to the whole.
pub fn polygon_cut(data: &[u8]) {
    let rings = rings(data);
    let Some((first, others)) = rings.split_first() else { return };
    let subject = union_even_odd(std::slice::from_ref(first));
    let clip = union_even_odd(others);
    let whole = total_area_m2(&subject);
    let inside = total_area_m2(&intersection(&subject, &clip));
    let rest = total_area_m2(&difference(&subject, &clip));
    assert_balance(whole, inside + rest);
    let both: Vec<Polygon> = subject.iter().chain(&clip).cloned().collect();
    assert_balance(total_area_m2(&union(&both)), rest + total_area_m2(&clip));
    let lower = clip_by_half_plane(&rings, [0.0, 1.0], 0.5);
    let upper = clip_by_half_plane(&rings, [0.0, -1.0], -0.5);
    let halves = [lower, upper].map(|half| total_area_m2(&union_even_odd(&half)));
    let whole = total_area_m2(&union_even_odd(&rings));
    assert_balance(whole, halves.iter().sum());
}

/// A wall with openings anywhere, framed and cut into bays: the balance closes.
pub fn wall_cut(data: &[u8]) {
    let Some((sizes, openings)) = data.split_at_checked(3) else { return };
    let length_m = 0.2 + f64::from(sizes[0]) / 16.0;
    let height_m = 0.3 + f64::from(sizes[1]) / 64.0;
    let peak_m = height_m + f64::from(sizes[2]) / 64.0;
    let outline = vec![[0.0, 0.0], [length_m, 0.0], [length_m, height_m], [length_m / 2.0, peak_m], [0.0, height_m]];
    let gross = union_even_odd(&[outline]);
    let surface = wall(gross, openings);
    let framing = parse_framing("2x6 @ 16 in").expect("plain framing is read");
    let rules = LayoutRules::default();
    let layout = lay_out(&surface, &framing, &rules);
    let cut = cut_bays(&surface, &layout, &rules);
    let residual_m2 = balance_residual_m2(&surface, &layout, &cut);
    let limit_m2 = BALANCE_RELATIVE * surface.gross_area_m2();
    assert!(residual_m2.abs() <= limit_m2, "residual {residual_m2:e} m2 of {} m2", surface.gross_area_m2());
}

/// Sections of swept outlines in any frame: what a second solid takes and what both have add up to the first.
pub fn solid_section(data: &[u8]) {
    let Some((place, outlines)) = data.split_at_checked(6) else { return };
    let rings = rings(outlines);
    let Some((first, others)) = rings.split_first() else { return };
    let turn = |byte: u8| f64::from(byte) / 256.0 * std::f64::consts::TAU;
    let body = extrusion(first, turn(place[0]), turn(place[1]), grid(place[2]));
    let plane = Plane { origin: Vector::z() * grid(place[3]), x: Vector::x(), y: Vector::y(), normal: Vector::z() };
    let half_space = HalfSpace { origin: Vector::zeros(), normal: direction(turn(place[4]), turn(place[5])) };
    let mut operands = vec![Solid::HalfSpace(half_space)];
    for (ring, byte) in others.iter().zip(place) {
        operands.push(extrusion(ring, turn(*byte), turn(place[5]), 1.0));
        let frame = frame(turn(*byte), turn(place[4]));
        operands.push(Solid::BoundedHalfSpace { half_space, rings: vec![ring.clone()], frame });
    }
    let Ok(whole) = section(&body, &plane) else { return };
    for operand in operands {
        let cut = |operation| {
            let steps = vec![(operation, operand.clone())];
            section(&Solid::Chain { first: Box::new(body.clone()), steps }, &plane)
        };
        let (rest, both) = (cut(Operation::Difference), cut(Operation::Intersection));
        let parts = [rest, both].map(|region| total_area_m2(&region.expect("no faces, so nothing can be open")));
        assert_balance(total_area_m2(&whole), parts.iter().sum());
    }
}

fn extrusion(ring: &Ring, tilt: f64, turn: f64, depth_m: f64) -> Solid {
    let frame = frame(tilt, turn);
    let sweep = frame.direction(&Vector::new(0.1, 0.2, depth_m));
    Solid::Extrusion(Extrusion { rings: vec![ring.clone()], frame, sweep, has_arcs: false })
}

fn direction(tilt: f64, turn: f64) -> Vector {
    Vector::new(tilt.sin() * turn.cos(), tilt.sin() * turn.sin(), tilt.cos())
}

fn frame(tilt: f64, turn: f64) -> Frame {
    let z = direction(tilt, turn);
    let x = direction(tilt + std::f64::consts::FRAC_PI_2, turn);
    Frame::from_axes(Vector::new(0.3, -0.2, 0.1), x, z.cross(&x), z)
}

fn assert_sound(building: &Building) {
    for surface in &building.surfaces {
        let (gross, openings) = (surface.gross_area_m2(), surface.opening_area_m2());
        assert!(gross.is_finite() && gross >= 0.0, "gross area {gross}");
        let limit = gross * (1.0 + BALANCE_RELATIVE) + NEGLIGIBLE_M2;
        assert!(openings.is_finite() && openings >= 0.0 && openings <= limit, "openings {openings} of {gross}");
    }
}

fn assert_balance(whole: f64, parts: f64) {
    let limit = BALANCE_RELATIVE * whole + NEGLIGIBLE_M2;
    assert!((whole - parts).abs() <= limit, "{whole} and {parts} differ by {:e}", whole - parts);
}

/// Rings between bytes of 255 or line ends; two bytes are a point on a grid of 1/16 m.
fn rings(data: &[u8]) -> Vec<Ring> {
    data.split(|byte| matches!(byte, 255 | b'\n'))
        .map(|bytes| bytes.as_chunks::<2>().0.iter().map(|[x, y]| [grid(*x), grid(*y)]).collect::<Ring>())
        .filter(|ring| ring.len() >= 3)
        .take(8)
        .collect()
}

fn grid(byte: u8) -> f64 {
    (f64::from(byte) - 64.0) / 16.0
}

/// Four bytes an opening: left, sill, width, height; each keeps what the earlier ones left.
fn wall(gross: Vec<Polygon>, bytes: &[u8]) -> Surface {
    let mut taken: Vec<Polygon> = Vec::new();
    let mut openings = Vec::new();
    for (number, [left, sill, width, height]) in bytes.as_chunks::<4>().0.iter().take(12).enumerate() {
        let corner: Point = [f64::from(*left) / 16.0, f64::from(*sill) / 64.0];
        let far = [corner[0] + 0.05 + f64::from(*width) / 64.0, corner[1] + 0.05 + f64::from(*height) / 64.0];
        let hole = [Polygon::rectangle(corner[0], corner[1], far[0], far[1])];
        let outline = difference(&intersection(&hole, &gross), &taken);
        taken = union(&[taken, outline.clone()].concat());
        let kind = if corner[1] == 0.0 { OpeningKind::Door } else { OpeningKind::Window };
        let area_m2 = total_area_m2(&outline);
        openings.push(Opening {
            id: format!("O{number}"),
            name: None,
            kind,
            source: None,
            area_m2,
            flue: None,
            clearance_m: None,
            outline,
        });
    }
    Surface {
        exposure: Exposure::Exterior,
        pitch_deg: Some(90.0),
        openings,
        ..Surface::new("W", Source::default(), SurfaceKind::Wall, Extent::Outline(gross))
    }
}
