//! The model's own quantities beside the measured ones.
//!
//! Names and meanings: IFC4 documentation, `Qto_WallBaseQuantities`, `Qto_RoofBaseQuantities`; units: NIST SP 811,
//! appendix B.8.

use super::{messages, read, wall_and};
use cavitally::finding::Code;
use cavitally::model::Building;

/// The wall with a set of quantities of its own.
fn with(set: &str, quantities: &[&str], units: &str, more: &[&str]) -> Building {
    let references: Vec<String> = (0..quantities.len()).map(|index| format!("#{}", 100 + index)).collect();
    let mut records: Vec<String> = quantities.iter().zip(&references).map(|(q, id)| format!("{id}={q};")).collect();
    records.push(format!("#90=IFCELEMENTQUANTITY('q',$,'{set}',$,$,({}));", references.join(",")));
    records.push("#91=IFCRELDEFINESBYPROPERTIES('r',$,$,$,(#26),#90);".to_owned());
    let records: Vec<&str> = records.iter().map(String::as_str).chain(more.iter().copied()).collect();
    read(wall_and(&records).replace("((#3))", units))
}

const SQUARE_METRE: &[&str] = &["#95=IFCSIUNIT(*,.AREAUNIT.,$,.SQUARE_METRE.);"];
const SQUARE_FOOT: &[&str] = &[
    "#94=IFCSIUNIT(*,.AREAUNIT.,$,.SQUARE_METRE.);",
    "#95=IFCCONVERSIONBASEDUNIT(#99,.AREAUNIT.,'SQUARE FOOT',#96);",
    "#96=IFCMEASUREWITHUNIT(IFCAREAMEASURE(0.09290304),#94);",
];

#[test]
fn right_quantities_are_silent_in_any_unit() {
    let metres = ["IFCQUANTITYAREA('GrossSideArea',$,$,13.5,$)", "IFCQUANTITYAREA('NetSideArea',$,$,12.3,$)"];
    // 12.3 / 0.09290304 = 132.396...
    let feet = ["IFCQUANTITYAREA('netsidearea',$,$,132.39609,$)", "IFCQUANTITYLENGTH('Height',$,$,2700.,$)"];
    let own = ["IFCQUANTITYAREA('NetSideArea',$,#95,12.3,$)", "IFCQUANTITYLENGTH('Length',$,$,5000.,$)"];
    let millimetres = ["IFCQUANTITYAREA('NetSideArea',$,$,12300000.,$)", "IFCQUANTITYLENGTH('Width',$,$,300.,$)"];
    let square_millimetre = ["#95=IFCSIUNIT(*,.AREAUNIT.,.MILLI.,.SQUARE_METRE.);"];
    for (building, what) in [
        (with("Qto_WallBaseQuantities", &metres, "((#3,#95))", SQUARE_METRE), "square metres"),
        (with("BaseQuantities", &feet, "((#3,#95))", SQUARE_FOOT), "square feet"),
        (with("basequantities", &own, "((#3))", SQUARE_METRE), "a unit of its own"),
        (with("BaseQuantities", &millimetres, "((#3,#95))", &square_millimetre), "square millimetres"),
        (with("BaseQuantities", &metres, "((#3))", &[]), "no area unit"),
    ] {
        assert_eq!(building.findings, [], "{what}");
    }
}

#[test]
fn wrong_quantities_are_one_finding_an_element_with_the_cause() {
    let wrong = ["IFCQUANTITYAREA('GrossSideArea',$,$,13.5,$)", "IFCQUANTITYAREA('NetSideArea',$,$,13.5,$)"];
    let building = with("Qto_WallBaseQuantities", &wrong, "((#3,#95))", SQUARE_METRE);
    let due = "the model's own NetSideArea is 13.500 m2, measured 12.300 m2 (1.098 times: the openings are not taken out); \
               the measured figure is used";
    assert_eq!(messages(&building, Code::QuantityDiffers), [due]);
    assert!(building.findings[0].r#where.contains("0000000000000000000002"), "{}", building.findings[0].r#where);

    let slip = ["IFCQUANTITYAREA('NetSideArea',$,$,12300000.,$)", "IFCQUANTITYAREA('GrossSideArea',$,$,27.,$)"];
    let building = with("BaseQuantities", &slip, "((#3,#95))", SQUARE_METRE);
    let found = messages(&building, Code::QuantityDiffers);
    assert!(found.len() == 1 && found[0].contains("the number is in mm2"), "{found:?}");
    assert!(found[0].contains("both sides together"), "{found:?}");
}

#[test]
fn other_sets_say_nothing_and_broken_quantities_stop_nothing() {
    let wrong = ["IFCQUANTITYAREA('NetSideArea',$,$,99.,$)"];
    assert_eq!(with("Finishes", &wrong, "((#3))", &[]).findings, []);
    let broken = ["IFCQUANTITYAREA('NetSideArea',$,$,'x',$)", "IFCQUANTITYAREA('GrossSideArea',$,#999,13.5,$)"];
    let building = with("BaseQuantities", &broken, "((#3))", &[]);
    assert_eq!(building.surfaces.len(), 1);
    assert_eq!(messages(&building, Code::RecordUnusable).len(), 1, "{:?}", building.findings);
    assert_eq!(messages(&building, Code::DanglingReference).len(), 1, "{:?}", building.findings);
}
