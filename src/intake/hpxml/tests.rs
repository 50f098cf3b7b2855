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

fn walls(sides: &[(&str, &str)]) -> String {
    let side = |element: &str, words: &str| match words {
        "" => String::new(),
        words => format!("<{element}>{words}</{element}>"),
    };
    let wall = |(n, (inside, outside)): (usize, &(&str, &str))| {
        format!(
            "<Wall><SystemIdentifier id=\"w{n}\"/>{}{}<Area>100</Area></Wall>",
            side("ExteriorAdjacentTo", outside),
            side("InteriorAdjacentTo", inside)
        )
    };
    format!("<Walls>{}</Walls>", sides.iter().enumerate().map(wall).collect::<String>())
}

// The words are the enumeration `AdjacentTo` of the XML Schemas of HPXML 3.1 to 5.0. What bounds no heated room is not insulated.
#[test]
fn a_wall_is_exterior_only_where_a_heated_room_is_on_one_side() {
    use crate::model::Exposure::{Exterior, Interior, Unconditioned, Unknown};
    let due = [
        (("conditioned space", "outside"), Exterior),
        (("", "outside"), Exterior),
        (("basement - conditioned", "ground"), Exterior),
        (("conditioned space", "garage"), Unconditioned),
        (("garage - unconditioned", "living space"), Unconditioned),
        (("conditioned space", "other housing unit"), Interior),
        (("attic - vented", "outside"), Interior),
        (("garage", "outside"), Interior),
        (("crawlspace - vented", "ground"), Interior),
        (("other multifamily buffer space", "outside"), Interior),
        (("basement", "outside"), Unknown),
        (("conditioned space", ""), Unknown),
    ];
    let text = file("4.2", &walls(&due.map(|(sides, _)| sides)));
    let building = read_hpxml_building("x.xml", text.as_bytes()).unwrap();
    for (surface, (sides, exposure)) in building.surfaces.iter().zip(due) {
        assert_eq!(surface.exposure, exposure, "{sides:?}");
    }
    let said: Vec<&str> = building.findings.iter().map(|finding| finding.message.as_str()).collect();
    assert!(said.iter().any(|text| text.starts_with("`w6`, `w7`, `w8`, `w9` bound no heated room")), "{said:?}");
}

#[test]
fn framing_is_what_the_file_says_of_it() {
    let factor = "</Spacing><FramingFactor>0.30</FramingFactor>";
    let of = |text: &str| read_hpxml_building("x.xml", file("4.2", text).as_bytes());
    let building = of(&WALL.replace("</Spacing>", factor)).unwrap();
    assert_eq!(building.surfaces[0].framing_fraction, Some(0.30));
    // 24 in. in metres and back again is not 24.
    let building = of(&WALL.replace("<Spacing>16<", "<Spacing>24<")).unwrap();
    assert_eq!(building.surfaces[0].assembly.as_deref(), Some("2x4 @ 24 in"));
    let percent = of(&WALL.replace("</Spacing>", &factor.replace("0.30", "23"))).unwrap_err();
    assert!(percent[0].message.contains("no fraction from 0 to 1"), "{}", percent[0]);
    for steel in ["<WallType><SteelFrame/></WallType><Studs>", "<Studs><Material>metal</Material>"] {
        assert_eq!(of(&WALL.replace("<Studs>", steel)).unwrap().surfaces[0].assembly, None, "{steel}");
    }
}

#[test]
fn what_the_file_frames_in_part_gets_no_framing() {
    use crate::model::FramingInPart;
    let of = |text: &str| read_hpxml_building("x.xml", file("4.2", text).as_bytes()).unwrap().surfaces.remove(0);
    let double = of(&WALL.replace("<Studs>", "<WallType><DoubleWoodStud/></WallType><Studs>"));
    assert_eq!((double.assembly, double.framing_in_part), (None, Some(FramingInPart::TwoRows)));
    let floor = |other: &str, insulation: &str| {
        of(&format!(
            "<Floors><Floor><SystemIdentifier id=\"f\"/><ExteriorAdjacentTo>{other}</ExteriorAdjacentTo><FloorJoists>\
             <Size>2x4</Size><Spacing>24</Spacing></FloorJoists><Area>900</Area>{insulation}</Floor></Floors>"
        ))
    };
    let loose = "<FloorOrCeiling>ceiling</FloorOrCeiling><Insulation><Layer><InsulationMaterial><LooseFill>cellulose</LooseFill>\
                 </InsulationMaterial></Layer></Insulation>";
    // The order of the two sides says nothing.
    let swapped = of(
        "<Floors><Floor><SystemIdentifier id=\"f\"/><ExteriorAdjacentTo>conditioned space</ExteriorAdjacentTo>\
                      <InteriorAdjacentTo>attic - vented</InteriorAdjacentTo><FloorJoists><Size>2x8</Size><Spacing>16</Spacing>\
                      </FloorJoists><Area>300</Area></Floor></Floors>",
    );
    assert_eq!(swapped.kind, crate::model::SurfaceKind::Ceiling);
    for attic in [floor("attic - vented", ""), floor("attic", loose), floor("outside", loose), swapped] {
        assert_eq!((attic.assembly, attic.framing_in_part), (None, Some(FramingInPart::OpenAbove)));
    }
    assert_eq!(floor("crawlspace - vented", "").assembly.as_deref(), Some("2x4 @ 24 in"));
    // A rim is as high as its joists, and nothing says how far in along them it is filled.
    let rim = of("<RimJoists><RimJoist><SystemIdentifier id=\"r\"/><Area>100</Area><FloorJoists><Size>2x10</Size>\
                  <Spacing>16</Spacing></FloorJoists></RimJoist></RimJoists>");
    assert_eq!((rim.assembly, rim.framing_in_part), (None, Some(FramingInPart::RimDepth)));
}

// `wood` stands in the enumeration `FoundationWallType` of HPXML 4.2.
#[test]
fn a_foundation_wall_of_wood_is_framed() {
    let of = |kind: &str| {
        let text = format!(
            "<FoundationWalls><FoundationWall><SystemIdentifier id=\"f\"/><ExteriorAdjacentTo>ground</ExteriorAdjacentTo>\
             <InteriorAdjacentTo>basement - conditioned</InteriorAdjacentTo><Type>{kind}</Type><Area>200</Area><InteriorStuds>\
             <Size>2x6</Size><Spacing>16</Spacing></InteriorStuds></FoundationWall></FoundationWalls>"
        );
        read_hpxml_building("x.xml", file("4.2", &text).as_bytes()).unwrap()
    };
    assert_eq!(of("wood").surfaces[0].assembly.as_deref(), Some("2x6 @ 16 in"));
    assert!(of("wood").findings.iter().all(|finding| !finding.message.contains("not used")));
    let concrete = of("solid concrete");
    assert!(concrete.surfaces.is_empty() && concrete.left_out[0].reason.contains("masonry or concrete"));
}

#[test]
fn text_around_a_comment_is_one_text_and_nought_is_said() {
    let plan = |area: &str| {
        let text = WALL.replace("<Area>200<", &format!("<Area>{area}<"));
        read_hpxml_plan("x.xml", file("4.2", &text).as_bytes()).unwrap()
    };
    // 252 ft2 x 0.09290304 m2/ft2.
    assert!((plan("25<!-- x -->2").groups[0].claims[0].value.si - 23.411_566).abs() < 1e-6);
    let nought = plan("0");
    assert!(nought.groups[0].claims.iter().all(|claim| claim.quantity != Quantity::GrossArea));
    assert!(nought.findings.iter().any(|finding| finding.message == "`Area` is 0 and taken as not given: `w`"));
}

// `sameas`: `A reference to the id of the identical object on another Building element`, XML Schema of HPXML 4.2.
#[test]
fn what_is_the_same_in_another_building_is_read_there() {
    let building =
        |inner: &str| format!("<Building><BuildingDetails><Enclosure>{inner}</Enclosure></BuildingDetails></Building>");
    let of = |same: &str| {
        let later = format!("<Walls><Wall><SystemIdentifier id=\"later\" sameas=\"{same}\"/></Wall></Walls>");
        let text = format!("<HPXML schemaVersion=\"4.2\">{}{}</HPXML>", building(WALL), building(&later));
        read_hpxml_building("x.xml", text.as_bytes()).unwrap()
    };
    let read = of("w");
    assert_eq!((read.surfaces[0].id.as_str(), read.surfaces[0].assembly.as_deref()), ("later", Some("2x4 @ 16 in")));
    assert!((read.surfaces[0].gross_area_m2() - 18.580_608).abs() < 1e-9);
    assert!(read.findings.iter().any(|finding| finding.message.contains("`later` (of `w`)")));
    for wrong in ["nowhere", "later"] {
        let read = of(wrong);
        assert_eq!((read.surfaces.len(), read.left_out.len()), (0, 1), "{wrong}");
    }
    assert!(of("nowhere").findings.iter().any(|finding| finding.message.contains("which the file does not hold")));
}

#[test]
fn a_refusal_stands_where_its_cause_does() {
    let head = "<?xml version=\"1.0\"?>\n";
    assert!(refused(&format!("{head}<!DOCTYPE HPXML SYSTEM \"x\">\n<HPXML/>")).starts_with("x.xml:2:1"));
    let many = " a=\"\"".repeat(101);
    let text = refused(&format!("{head}<HPXML>\n  <Building{many}/></HPXML>"));
    assert!(text.starts_with("x.xml:3:3") && text.contains("more than 100 attributes"), "{text}");
    // Columns are counted in characters, on long lines too.
    let text = refused(&file("4.2", &format!("<!--{}-->{}", "é".repeat(9_000), WALL.replace("200", "x"))));
    let before = file("4.2", "").find("</Enclosure>").unwrap() + 9_007 + WALL.find("<Area>").unwrap() + 1;
    assert!(text.starts_with(&format!("x.xml:1:{before}")), "{before}: {text}");
}

#[test]
fn utf_16_is_named() {
    let bytes: Vec<u8> = std::iter::once(0xfeff).chain("<HPXML/>".encode_utf16()).flat_map(u16::to_le_bytes).collect();
    assert!(is_xml(&bytes) && is_hpxml(&bytes));
    let refusal = read_hpxml_plan("x.xml", &bytes).unwrap_err().remove(0);
    assert_eq!((refusal.message.as_str(), refusal.help.as_str()), ("the file is in UTF-16", "save it as UTF-8"));
}

#[test]
fn more_surfaces_than_any_home_has_are_refused() {
    let wall = |n: usize| format!("<Wall><SystemIdentifier id=\"w{n}\"/><Area>1</Area></Wall>");
    let all = |count: usize| file("4.2", &format!("<Walls>{}</Walls>", (0..count).map(wall).collect::<String>()));
    assert!(read_hpxml_plan("x.xml", all(20_000).as_bytes()).is_ok());
    assert!(refused(&all(20_001)).contains("at most 20000"));
}
