//! Exchange files in every form that ISO 10303-21 allows: one wall, written in many ways, always of one area.
//!
//! The wall is 5 m by 2.7 m, 0.3 m thick, with a window of 1 m by 1.2 m: 13.5 m2 gross, 12.3 m2 net, by hand.

mod forms;
mod quantities;

use crate::surfaces::near;
use cavitally::finding::Code;
use cavitally::intake::ifc;
use cavitally::model::Building;

/// The records of the wall, in millimetres; `#90` on are free.
pub const WALL: &[&str] = &[
    "#1=IFCPROJECT('0000000000000000000001',$,'P',$,$,$,$,(#4),#2);",
    "#2=IFCUNITASSIGNMENT((#3));",
    "#3=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);",
    "#4=IFCGEOMETRICREPRESENTATIONCONTEXT($,'Model',3,1.E-05,#12,$);",
    "#10=IFCCARTESIANPOINT((0.,0.,0.));",
    "#11=IFCDIRECTION((0.,0.,1.));",
    "#12=IFCAXIS2PLACEMENT3D(#10,$,$);",
    "#13=IFCLOCALPLACEMENT($,#12);",
    "#20=IFCCARTESIANPOINT((2500.,0.));",
    "#21=IFCAXIS2PLACEMENT2D(#20,$);",
    "#22=IFCRECTANGLEPROFILEDEF(.AREA.,$,#21,5000.,300.);",
    "#23=IFCEXTRUDEDAREASOLID(#22,#12,#11,2700.);",
    "#24=IFCSHAPEREPRESENTATION(#4,'Body','SweptSolid',(#23));",
    "#25=IFCPRODUCTDEFINITIONSHAPE($,$,(#24));",
    "#26=IFCWALL('0000000000000000000002',$,'Wall (A), it''s',$,$,#13,#25,$,.SOLIDWALL.);",
    "#30=IFCCARTESIANPOINT((1500.,0.));",
    "#31=IFCAXIS2PLACEMENT2D(#30,$);",
    "#32=IFCRECTANGLEPROFILEDEF(.AREA.,$,#31,1000.,500.);",
    "#33=IFCCARTESIANPOINT((0.,0.,900.));",
    "#34=IFCAXIS2PLACEMENT3D(#33,$,$);",
    "#35=IFCEXTRUDEDAREASOLID(#32,#34,#11,1200.);",
    "#36=IFCSHAPEREPRESENTATION(#4,'Body','SweptSolid',(#35));",
    "#37=IFCPRODUCTDEFINITIONSHAPE($,$,(#36));",
    "#38=IFCOPENINGELEMENT('0000000000000000000003',$,'W',$,$,#13,#37,$,.OPENING.);",
    "#39=IFCRELVOIDSELEMENT('0000000000000000000004',$,$,$,#26,#38);",
];

/// A whole file with these records, one a line.
pub fn file(records: &[&str]) -> String {
    let head = "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\nFILE_SCHEMA(('IFC4'));\nENDSEC;\nDATA;\n";
    format!("{head}{}\nENDSEC;\nEND-ISO-10303-21;\n", records.join("\n"))
}

/// The wall with more records behind it.
pub fn wall_and(more: &[&str]) -> String {
    file(&[WALL, more].concat())
}

/// Reads a file.
pub fn read(text: impl AsRef<[u8]>) -> Building {
    ifc::read("a.ifc", text.as_ref()).unwrap_or_else(|refusal| panic!("{refusal}"))
}

/// Fails unless the file holds the wall, whole, and nothing is odd about it.
pub fn holds_the_wall(text: impl AsRef<[u8]>, what: &str) {
    let building = read(text);
    let [wall] = building.surfaces.as_slice() else { panic!("{what}: {:?}", building.findings) };
    near(wall.gross_area_m2(), 13.5, 1e-9, what);
    near(wall.gross_area_m2() - wall.opening_area_m2(), 12.3, 1e-9, what);
    assert_eq!(wall.name.as_deref(), Some("Wall (A), it's"), "{what}");
    assert_eq!(building.findings, [], "{what}");
}

/// The messages of one code.
pub fn messages(building: &Building, code: Code) -> Vec<&str> {
    building.findings.iter().filter(|f| f.code == code).map(|f| f.message.as_str()).collect()
}
