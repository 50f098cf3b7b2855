//! Small files: what is read, and what is refused.

use super::*;
use crate::intake::claims::{Basis, Quantity};

fn file(version: &str, enclosure: &str) -> String {
    format!(
        "<HPXML xmlns=\"http://hpxmlonline.com/2023/09\" schemaVersion=\"{version}\"><Building><BuildingDetails>\
         <Enclosure>{enclosure}</Enclosure></BuildingDetails></Building></HPXML>"
    )
}

const WALL: &str = "<Walls><Wall><SystemIdentifier id=\"w\"/><ExteriorAdjacentTo>garage</ExteriorAdjacentTo><Area>200</Area>\
    <Studs><Size>2x4</Size><Spacing>16</Spacing></Studs><Insulation><SystemIdentifier id=\"i\"/>\
    <AssemblyEffectiveRValue>12.5</AssemblyEffectiveRValue><Layer><NominalRValue>13</NominalRValue></Layer></Insulation>\
    </Wall></Walls>";

fn refused(text: &str) -> String {
    read_hpxml_plan("x.xml", text.as_bytes()).unwrap_err().iter().map(ToString::to_string).collect()
}

// 1 ft2 = 0.09290304 m2: NIST SP 811, appendix B.8. Area of a wall in HPXML: `[sq.ft.] Gross wall area`, by its XML Schema.
#[test]
fn a_wall_claims_its_area_and_two_resistances_by_their_basis() {
    for version in ["3.1", "4.2", "5.0"] {
        let plan = read_hpxml_plan("x.xml", file(version, WALL).as_bytes()).unwrap();
        let found: Vec<_> = plan.groups[0].claims.iter().map(|claim| (claim.quantity, claim.basis)).collect();
        let due = [
            (Quantity::GrossArea, None),
            (Quantity::RValue, Some(Basis::WholeAssembly)),
            (Quantity::RValue, Some(Basis::Label)),
        ];
        assert_eq!(found, due, "{version}");
        assert!((plan.groups[0].claims[0].value.si - 18.580_608).abs() < 1e-9);
    }
}

#[test]
fn a_wall_becomes_a_surface() {
    let windows =
        "<Windows><Window><SystemIdentifier id=\"v\"/><Area>15</Area><AttachedToWall idref=\"w\"/></Window></Windows>";
    let building = read_hpxml_building("x.xml", file("4.2", &format!("{WALL}{windows}")).as_bytes()).unwrap();
    let wall = &building.surfaces[0];
    assert_eq!((wall.id.as_str(), wall.assembly.as_deref()), ("w", Some("2x4 @ 16 in")));
    assert_eq!(wall.exposure, crate::model::Exposure::Unconditioned);
    assert!((wall.opening_area_m2() - 1.393_545_6).abs() < 1e-9);
    let slab = "<Slabs><Slab><SystemIdentifier id=\"s\"/><Area>100</Area></Slab></Slabs>";
    let building = read_hpxml_building("x.xml", file("4.2", slab).as_bytes()).unwrap();
    assert_eq!((building.surfaces.len(), building.left_out.len()), (0, 1));
}

#[test]
fn entities_and_document_types_are_refused() {
    let bomb =
        "<?xml version=\"1.0\"?><!DOCTYPE HPXML [<!ENTITY a \"ha\"><!ENTITY b \"&a;&a;&a;&a;\">]><HPXML>&b;</HPXML>";
    assert!(refused(bomb).contains("document type"), "{}", refused(bomb));
    let outside =
        "<!DOCTYPE HPXML [<!ENTITY x SYSTEM \"file:///etc/hostname\">]><HPXML schemaVersion=\"4.2\">&x;</HPXML>";
    assert!(refused(outside).contains("document type"));
    assert!(refused("<HPXML schemaVersion=\"4.2\">&x;</HPXML>").contains("not well-formed"));
}

#[test]
fn other_files_are_refused_with_their_reason() {
    assert!(refused("<HPXML schemaVersion=\"2.3\"/>").contains("version `2.3`"));
    assert!(refused("<House/>").contains("`House`, and not `HPXML`"));
    assert!(refused("<HPXML schemaVersion=\"4.2\"/>").contains("no building"));
    assert!(refused("<HPXML").contains("not well-formed"));
    assert!(refused(&file("4.2", &WALL.replace("200", "-200"))).contains("`-200` in `Area`"));
    assert!(refused(&file("4.2", &WALL.replace("200", "1e400"))).contains("no number"));
    assert!(refused(&file("4.2", &WALL.replace(" id=\"w\"", ""))).contains("no id"));
    assert!(read_hpxml_plan("x.xml", b"<HPXML a=\"\xff\"/>").is_err());
}

#[test]
fn layers_are_never_added_up() {
    let more = WALL.replace("</Insulation>", "<Layer><NominalRValue>5</NominalRValue></Layer></Insulation>");
    let plan = read_hpxml_plan("x.xml", file("4.2", &more).as_bytes()).unwrap();
    assert!(plan.groups[0].claims.iter().all(|claim| claim.basis != Some(Basis::Label)));
    assert!(plan.findings.iter().any(|finding| finding.message.contains("not added up")));
}

#[test]
fn deep_nesting_ends_in_a_refusal() {
    let deep = format!("{}{}", "<a>".repeat(200_000), "</a>".repeat(200_000));
    assert!(!refused(&deep).is_empty());
}
