//! A sheet with every column, through the whole program.

use super::support::Run;
use cavitally::intake::csv::{SheetFile, read};
use cavitally::model::{DoNotFillExtent, EaveSides, ExistingExtent, FlueKind, JunctionKind, OpeningKind};
use serde_json::Value;
use std::fs;

/// Metres in a foot.
const FOOT: f64 = 0.3048;

/// A wall that steps down with the ground and is cut by a stair, a hip roof slope, a ceiling under it, a retrofit wall.
const SURFACES: &str = r#"id,kind,exposure,assembly,length (ft),height (ft),outline,plan outline (ft),pitch,corners,partitions,floors,existing,do_not_fill,eaves,heel_height
S,wall,,2x6 @ 16 in,,,"0:0; 12':0; 20':6'; 20':16'; 0:16'; 0:0",,,both,"at 4', 10' 6""","8' 1-1/8"" to 9' 0-3/8""",,none,,
R,roof,,2x10 @ 24 in,,,,0:0; 24:0; 12:12,12:12,,,,,,,
C,ceiling,unconditioned,2x6 @ 24 in,24,20,,,6:12,,,,cellulose 3.5 in,,48 ft,7 1/4 in
O,wall,,2x4 @ 16 in,16,8,,,,right,2,,"glass fibre batt 50 %, removed",bay 3: air duct,,
"#;

const OPENINGS: &str = r#"surface,id,kind,width,height,sill,offset,flue,clearance
S,W1,window,3',4',9'-6",,,
C,P1,platform,8',4',6',8',,
C,F1,flue,8 in,8 in,15',4',type B,
C,K1,chimney,2',2',2',2',masonry,2 in
C,L1,light,8 in,8 in,12',20',,0
"#;

#[test]
fn every_column_is_read() {
    let sheet = |path: &str, text: &str| SheetFile { path: path.to_owned(), bytes: text.as_bytes().to_vec() };
    let building = read(&[sheet("surfaces.csv", SURFACES), sheet("openings.csv", OPENINGS)], false).unwrap();
    let [wall, roof, ceiling, old] = building.surfaces.as_slice() else { panic!("four surfaces") };

    // 20 ft by 16 ft less a triangle of 8 ft by 6 ft (geometry).
    let ft2 = FOOT * FOOT;
    assert!((wall.gross_area_m2() / ft2 - 296.0).abs() < 1e-9);
    let at: Vec<(JunctionKind, f64)> =
        wall.junctions.iter().map(|j| (j.kind, (j.at_m / FOOT * 1e6).round() / 1e6)).collect();
    let (corner, partition) = (JunctionKind::Corner, JunctionKind::Partition);
    assert_eq!(at, [(corner, 0.0), (corner, 20.0), (partition, 4.0), (partition, 10.5)]);
    assert!(wall.junctions.iter().all(|junction| junction.source.is_none()));
    assert!((wall.floor_bands[0].from_m - 97.125 * 0.0254).abs() < 1e-12);
    assert!((wall.floor_bands[0].to_m - 108.375 * 0.0254).abs() < 1e-12);
    assert!(wall.is_surveyed && wall.do_not_fill.is_empty() && wall.corner_posts == 0);

    // A triangle of 24 ft by 12 ft on plan, at 45 degrees (geometry).
    assert!((roof.gross_area_m2() / ft2 - 144.0 * 2.0_f64.sqrt()).abs() < 1e-9);
    assert!(!roof.is_surveyed);

    assert_eq!(ceiling.pitch_deg, Some(0.0));
    assert!((ceiling.eaves.roof_pitch_deg.unwrap() - 26.565_051).abs() < 1e-6);
    let Some(EaveSides::LengthM(length_m)) = ceiling.eaves.sides else { panic!("a sheet gives a length") };
    assert!((length_m - 48.0 * FOOT).abs() < 1e-12);
    assert!((ceiling.eaves.heel_height_m.unwrap() - 7.25 * 0.0254).abs() < 1e-12);
    let kinds: Vec<(OpeningKind, Option<FlueKind>, Option<f64>)> =
        ceiling.openings.iter().map(|o| (o.kind, o.flue, o.clearance_m)).collect();
    assert_eq!(
        kinds,
        [
            (OpeningKind::Flue, Some(FlueKind::TypeB), None),
            (OpeningKind::Chimney, Some(FlueKind::Masonry), Some(2.0 * 0.0254)),
            (OpeningKind::Light, None, Some(0.0)),
        ]
    );
    let platform = &ceiling.do_not_fill[0];
    assert_eq!(platform.reason, "platform");
    let DoNotFillExtent::Box { from_m, to_m } = platform.extent else { panic!("a platform is a box") };
    for (found, feet) in from_m.into_iter().chain(to_m).zip([8.0, 6.0, 16.0, 10.0]) {
        assert!((found / FOOT - feet).abs() < 1e-9);
    }
    assert!(!ceiling.is_surveyed, "a platform is no survey");
    let fill = ceiling.existing_fill.as_ref().unwrap();
    assert_eq!((fill.what.as_str(), fill.is_removed), ("cellulose", false));
    assert_eq!(fill.extent, ExistingExtent::ThicknessM(3.5 * 0.0254));

    let fill = old.existing_fill.as_ref().unwrap();
    assert_eq!((fill.what.as_str(), fill.is_removed), ("glass fibre batt", true));
    assert_eq!(fill.extent, ExistingExtent::Share(0.5));
    assert!(old.is_surveyed);
    assert_eq!((old.junctions.len(), old.partition_junctions), (1, 2));
}

#[test]
fn the_takeoff_of_it_balances() {
    let folder = tempfile::tempdir().unwrap();
    let [surfaces, openings, out] = ["surfaces.csv", "openings.csv", "x.json"].map(|name| folder.path().join(name));
    fs::write(&surfaces, SURFACES).unwrap();
    fs::write(&openings, OPENINGS).unwrap();
    Run::new("takeoff").args([&surfaces, &openings]).arg("--save").arg(&out).status(0);
    let takeoff: Value = serde_json::from_slice(&fs::read(&out).unwrap()).unwrap();
    let list = takeoff["surfaces"].as_array().unwrap();
    let ids: Vec<&str> = list.iter().map(|surface| surface["id"].as_str().unwrap()).collect();
    // The floor that runs into the wall makes three pieces of it: wall, rim strip, wall.
    assert_eq!(ids, ["S", "S", "S", "R", "C", "O"]);
    for surface in list {
        let m2 = |key: &str| surface[key].as_f64().unwrap();
        let parts = ["opening_area_m2", "member_area_m2", "bay_area_m2", "left_out_area_m2"].map(m2);
        let gross = m2("gross_area_m2");
        assert!((parts.iter().sum::<f64>() - gross).abs() <= 1e-9 * gross, "{surface}");
    }
    // Openings of the ceiling: a chimney of 4 ft2 and two squares of 8 in.; the platform of 32 ft2 is none.
    let opening_ft2 = list[4]["opening_area_m2"].as_f64().unwrap() / (FOOT * FOOT);
    assert!((opening_ft2 - (4.0 + 2.0 * 64.0 / 144.0)).abs() < 1e-9, "{opening_ft2}");
}
