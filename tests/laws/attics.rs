//! Attic floors and roof slopes: the balance in volume, whatever stands in them.

use crate::surfaces::surface;
use cavitally::finding::Code;
use cavitally::geometry::{Polygon, difference, intersection};
use cavitally::job::read_job;
use cavitally::model::{Building, Exposure, FlueKind, Opening, OpeningKind, Surface, SurfaceKind};
use cavitally::takeoff::build;
use proptest::prelude::*;

const SIDES: [&str; 4] = ["all", "long sides", "short sides", "7 m"];

/// Holes that do not overlap: a later one keeps what an earlier one left.
fn openings(places: &[([f64; 2], f64, u8)]) -> Vec<Opening> {
    let mut taken: Vec<Polygon> = Vec::new();
    let mut openings = Vec::new();
    for ([x, y], size, kind) in places {
        let points = if kind % 2 == 0 { 4 } else { 12 };
        let at = |k: u32| {
            let angle = (f64::from(k) + 0.5) / f64::from(points) * std::f64::consts::TAU;
            [x + size * angle.cos(), y + size * angle.sin()]
        };
        let outline = difference(&[Polygon::from_ring((0..points).map(at).collect())], &taken);
        taken.extend(outline.iter().cloned());
        openings.push(Opening {
            id: format!("O{}", openings.len()),
            name: None,
            kind: [OpeningKind::Flue, OpeningKind::Chimney, OpeningKind::Light, OpeningKind::Hatch]
                [usize::from(kind % 4)],
            source: None,
            area_m2: outline.iter().map(Polygon::area_m2).sum(),
            flue: [None, Some(FlueKind::TypeB), Some(FlueKind::SingleWall)][usize::from(kind % 3)],
            clearance_m: (kind % 5 == 0).then_some(0.03),
            outline,
        });
    }
    openings
}

/// An intake cuts openings to their surface.
fn within(outline: &[Polygon], mut holes: Vec<Opening>) -> Vec<Opening> {
    for hole in &mut holes {
        hole.outline = intersection(&hole.outline, outline);
        hole.area_m2 = hole.outline.iter().map(Polygon::area_m2).sum();
    }
    holes.retain(|hole| hole.area_m2 > 1e-6);
    holes
}

/// Fill of a thickness that is there already; none where that is next to nothing.
fn existing(thickness_m: f64) -> String {
    if thickness_m < 0.01 { String::new() } else { format!("existing = \"batt {thickness_m} m\"\n") }
}

/// Volume of the parts beside the gross, as fractions of it.
fn residual(surface: Surface, job: &str) -> Result<f64, TestCaseError> {
    let job = read_job("job.toml", job).map_err(|refusals| TestCaseError::fail(format!("{refusals:?}")))?;
    let takeoff = build(&Building { surfaces: vec![surface], ..Building::default() }, &job)
        .map_err(|refusals| TestCaseError::fail(format!("{refusals:?}")))?;
    let s = &takeoff.surfaces[0];
    prop_assert!(s.counted && takeoff.findings.iter().all(|finding| finding.code != Code::BalanceOpen));
    let gross_m3 = s.gross_volume_m3.unwrap();
    let parts = [s.opening_volume_m3, s.member_volume_m3, s.bay_volume_m3, s.left_out_volume_m3];
    let listed_m3: f64 = s.left_out.iter().filter_map(|piece| piece.volume_m3).sum();
    prop_assert!((listed_m3 - s.left_out_volume_m3.unwrap()).abs() <= 1e-9 * gross_m3, "the list is not the sum");
    let bays_m3: f64 = s.bays.iter().map(|bay| bay.volume_m3).sum();
    prop_assert!((bays_m3 - s.bay_volume_m3.unwrap()).abs() <= 1e-9 * gross_m3, "the bays are not the sum");
    prop_assert!(s.bays.iter().all(|bay| bay.volume_m3 >= -1e-9 * gross_m3), "a bay holds less than nothing");
    Ok((gross_m3 - parts.into_iter().flatten().sum::<f64>()).abs() / gross_m3)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_volume_of_an_attic_closes(
        (length, span) in (3.0..14.0_f64, 3.0..9.0_f64),
        places in prop::collection::vec(([0.6..2.4_f64, 0.6..2.4_f64], 0.05..0.4_f64, 0_u8..60), 0..5),
        (thickness, heel, pitch, gap) in (0.05..0.6_f64, 0.02..0.5_f64, 1.0..50.0_f64, 0.01..0.1_f64),
        (sides, has_corner, there) in (0_usize..4, any::<bool>(), 0.0..1.1_f64),
    ) {
        let corner = [0.7 * length, 0.6 * span];
        let ring = if has_corner {
            vec![[0.0, 0.0], [length, 0.0], [length, corner[1]], corner, [corner[0], span], [0.0, span]]
        } else {
            vec![[0.0, 0.0], [length, 0.0], [length, span], [0.0, span]]
        };
        let outline = vec![Polygon::from_ring(ring)];
        let holes = within(&outline, openings(&places));
        let attic = surface(SurfaceKind::Ceiling, outline, holes);
        let job = format!(
            "[assembly.attic]\nframing = \"2x6 @ 24 in\"\nmatch = \"*\"\nthickness = \"{thickness} m\"\nheel_height = \"{heel} m\"\n\
             roof_pitch = \"{pitch} deg\"\nbaffle_gap = \"{gap} m\"\neaves = \"{}\"\n{}",
            SIDES[sides],
            existing(there * thickness)
        );
        let attic = Surface { name: Some("attic".to_owned()), exposure: Exposure::Unconditioned, ..attic };
        prop_assert!(residual(attic, &job)? <= 1e-9);
    }

    #[test]
    fn the_volume_of_a_slope_closes(
        (eave, ridge, from, run) in (2.0..12.0_f64, 0.0..12.0_f64, -3.0..3.0_f64, 1.0..7.0_f64),
        places in prop::collection::vec(([0.3..2.0_f64, 0.3..2.0_f64], 0.05..0.4_f64, 0_u8..60), 0..4),
        (pitch, gap) in (0.0..60.0_f64, 0.01..0.2_f64),
    ) {
        let shift = f64::max(0.0, -from);
        let ring = vec![[shift, 0.0], [shift + eave, 0.0], [shift + from + ridge, run], [shift + from, run]];
        let outline = vec![Polygon::from_ring(ring)];
        let holes = within(&outline, openings(&places));
        let roof = Surface {
            name: Some("roof".to_owned()),
            pitch_deg: Some(pitch),
            ..surface(SurfaceKind::Roof, outline, holes)
        };
        let job =
            format!("[assembly.slope]\nframing = \"2x10 @ 16 in\"\nmatch = \"*\"\nvent_gap = \"{gap} m\"\n");
        prop_assert!(residual(roof, &job)? <= 1e-9);
    }
}
