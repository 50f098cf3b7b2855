//! Elements that should not be filled, or not twice.

use super::model::{Box3, Model, surface};
use crate::support::run::{saved_takeoff, surfaces, text};
use cavitally::finding::{Code, Finding, Severity};
use cavitally::model::Building;

const WALL: Box3 = ([0.0, 0.0, 0.0], [4.0, 0.2, 2.7]);

fn said(building: &Building, code: Code) -> Vec<&Finding> {
    building.findings.iter().filter(|finding| finding.code == code).collect()
}

fn status(model: &mut Model, wall: &str, property: &str) {
    let property = model.add(property);
    let set = model.add(&format!("IFCPROPERTYSET('{wall}e',$,'Pset_WallCommon',$,({property}))"));
    model.add(&format!("IFCRELDEFINESBYPROPERTIES('{wall}r',$,$,$,({wall}),{set})"));
}

// PEnum_ElementStatus of ISO 16739-1: NEW, EXISTING, DEMOLISH, TEMPORARY, OTHER, NOTKNOWN, UNSET.
#[test]
fn what_will_be_demolished_is_not_counted_and_said() {
    let mut model = Model::new();
    for (name, property) in [
        ("goes", "IFCPROPERTYENUMERATEDVALUE('Status',$,(IFCLABEL('DEMOLISH')),$)"),
        ("goes too", "IFCPROPERTYSINGLEVALUE('Status',$,IFCLABEL('Demolish'),$)"),
        ("stays", "IFCPROPERTYENUMERATEDVALUE('Status',$,(IFCLABEL('EXISTING')),$)"),
        ("new", "IFCPROPERTYENUMERATEDVALUE('Status',$,(IFCLABEL('NEW')),$)"),
    ] {
        let y = f64::from(u8::try_from(name.len()).unwrap());
        let wall = model.wall(name, ([0.0, y, 0.0], [4.0, y + 0.2, 2.7]));
        status(&mut model, &wall, property);
    }
    let building = model.read(&[]);
    let noted = said(&building, Code::ToBeDemolished);
    assert!(noted.len() == 1 && noted[0].severity == Severity::Note, "{noted:?}");
    assert!(noted[0].message.contains("2 elements") && noted[0].message.contains("`goes`, `goes too`"), "{noted:?}");
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("house.ifc");
    std::fs::write(&path, model.text()).unwrap();
    let takeoff = saved_takeoff(&[&path], &["--frame", "2x6 @ 16 in", "--exposure", "all"]);
    for wall in surfaces(&takeoff) {
        let goes = text(wall, "id").starts_with("goes");
        assert_eq!(wall["counted"], !goes);
        assert_eq!(wall["reason"].as_str(), goes.then_some("to be demolished"));
    }
    assert_eq!(takeoff["balance"]["elements_counted"], 2);
}

#[test]
fn walls_alike_in_one_place_are_named_both() {
    let mut model = Model::new();
    let first = model.wall("first", WALL);
    // Its copy, a wall that crosses both in their middle, the leaf behind them, and the storey above.
    let copy = model.wall("copy", WALL);
    model.wall("across", ([1.9, -1.9, 0.0], [2.1, 2.1, 2.7]));
    model.wall("leaf", ([0.0, 0.2, 0.0], [4.0, 0.4, 2.7]));
    model.wall("above", ([0.0, 0.0, 2.7], [4.0, 0.2, 5.4]));
    let building = model.read(&[]);
    let found = said(&building, Code::SamePlace);
    assert!(found.len() == 1 && found[0].severity == Severity::Warning, "{found:?}");
    assert!(found[0].message.starts_with(&format!("{first} `first` and {copy} `copy`")), "{found:?}");
    assert_eq!(surface(&building, "copy").gross_area_m2(), surface(&building, "first").gross_area_m2());
}

#[test]
fn elements_that_share_a_global_id_are_told_apart_by_their_records() {
    let mut model = Model::new();
    let walls = [0.0, 5.0].map(|y| model.wall("same", ([0.0, y, 0.0], [4.0 + y, y + 0.2, 2.7])));
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("house.ifc");
    std::fs::write(&path, model.text()).unwrap();
    let explained = |id: &str| {
        let run = std::process::Command::new(env!("CARGO_BIN_EXE_cavitally"))
            .args(["explain", path.to_str().unwrap(), id, "--frame", "2x6 @ 16 in", "--exposure", "all"])
            .output()
            .unwrap();
        (String::from_utf8(run.stdout).unwrap(), String::from_utf8(run.stderr).unwrap())
    };
    let (both, _) = explained("same");
    assert!(walls.iter().all(|wall| both.contains(&format!("`{wall}=IFCWALL("))), "{both}");
    let (_, refused) = explained("same#2");
    assert!(walls.iter().all(|wall| refused.contains(&format!("`{wall}/0#2`"))), "{refused}");
    for (wall, other) in [(&walls[0], &walls[1]), (&walls[1], &walls[0])] {
        for id in [wall.clone(), format!("{wall}#2"), format!("{wall}/0#2")] {
            let (one, refused) = explained(&id);
            assert!(one.contains(&format!("`{wall}=IFCWALL(")), "{id}: {one}{refused}");
            assert!(!one.contains(&format!("`{other}=IFCWALL(")), "{id}: {one}");
        }
    }
}
