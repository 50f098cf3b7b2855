//! Small building models as text: a wall of 60 by 40 by 1 m with one opening, whose body is what a test asks for.

use cavitally::intake::ifc::read;
use std::fmt::Write;

const HEAD: &str = "ISO-10303-21;
HEADER;
FILE_DESCRIPTION((''),'2;1');
FILE_NAME('','2026-01-01T00:00:00',(''),(''),'','','');
FILE_SCHEMA(('IFC4'));
ENDSEC;
DATA;
#1=IFCPROJECT('0ProjectA0000000000000',$,'laws',$,$,$,$,(#10),#5);
#5=IFCUNITASSIGNMENT((#6,#9));
#6=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);
#7=IFCDIMENSIONALEXPONENTS(0,0,0,0,0,0,0);
#8=IFCMEASUREWITHUNIT(IFCPLANEANGLEMEASURE(0.017453292519943295),#19);
#9=IFCCONVERSIONBASEDUNIT(#7,.PLANEANGLEUNIT.,'DEGREE',#8);
#19=IFCSIUNIT(*,.PLANEANGLEUNIT.,$,.RADIAN.);
#10=IFCGEOMETRICREPRESENTATIONCONTEXT($,'Model',3,1.E-06,#11,$);
#11=IFCAXIS2PLACEMENT3D(#12,$,$);
#12=IFCCARTESIANPOINT((0.,0.,0.));
#13=IFCGEOMETRICREPRESENTATIONSUBCONTEXT('Body','Model',*,*,*,*,#10,$,.MODEL_VIEW.,$);
#14=IFCDIRECTION((0.,0.,1.));
#15=IFCAXIS2PLACEMENT2D(#16,$);
#16=IFCCARTESIANPOINT((0.,0.));
#21=IFCLOCALPLACEMENT($,#11);
#30=IFCWALL('0WallA0000000000000000',$,'wall',$,$,#21,#33,$,$);
#33=IFCPRODUCTDEFINITIONSHAPE($,$,(#34));
#34=IFCSHAPEREPRESENTATION(#13,'Body','SweptSolid',(#35));
#35=IFCEXTRUDEDAREASOLID(#36,#37,#14,40.);
#36=IFCRECTANGLEPROFILEDEF(.AREA.,$,#15,60.,1.);
#37=IFCAXIS2PLACEMENT3D(#38,$,$);
#38=IFCCARTESIANPOINT((0.,0.,-20.));
#40=IFCOPENINGELEMENT('0OpeningA0000000000000',$,'opening',$,$,#41,#45,$,.OPENING.);
#41=IFCLOCALPLACEMENT(#21,#42);
#42=IFCAXIS2PLACEMENT3D(#43,#46,#47);
#45=IFCPRODUCTDEFINITIONSHAPE($,$,(#48));
#48=IFCSHAPEREPRESENTATION(#13,'Body','SolidModel',(#105));
#49=IFCRELVOIDSELEMENT('0VoidsA000000000000000',$,$,$,#30,#40);
";

/// Where the body stands in the wall: the section plane is y = 0.
#[derive(Clone, Copy, Debug)]
pub struct Pose {
    /// Origin.
    pub at: [f64; 3],
    /// Direction of its z axis.
    pub z: [f64; 3],
    /// Direction of its x axis.
    pub x: [f64; 3],
}

impl Pose {
    /// The body's z axis against the wall's y axis, its x-y plane `depth` metres before the section plane.
    pub fn through(depth: f64) -> Self {
        Self { at: [0.0, depth, 0.0], z: [0.0, -1.0, 0.0], x: [1.0, 0.0, 0.0] }
    }

    /// The body upright; the section plane is its own plane y = `across`.
    pub fn upright(across: f64) -> Self {
        Self { at: [0.0, -across, 0.0], z: [0.0, 0.0, 1.0], x: [1.0, 0.0, 0.0] }
    }
}

/// A number as the exchange structure writes it.
pub fn number(x: f64) -> String {
    let text = format!("{x:.17}");
    if text.contains('.') { text } else { format!("{text}.") }
}

/// Numbers as a list.
pub fn list(numbers: &[f64]) -> String {
    format!("({})", numbers.iter().map(|x| number(*x)).collect::<Vec<_>>().join(","))
}

fn file(schema: &str, body: &str, pose: Pose) -> String {
    let mut text = HEAD.replace("'IFC4'", &format!("'{schema}'"));
    if schema == "IFC2X3" {
        text = text.replace("#21,#33,$,$)", "#21,#33,$)").replace("#41,#45,$,.OPENING.)", "#41,#45,$)");
    }
    writeln!(text, "#43=IFCCARTESIANPOINT({});", list(&pose.at)).unwrap();
    writeln!(text, "#46=IFCDIRECTION({});\n#47=IFCDIRECTION({});", list(&pose.z), list(&pose.x)).unwrap();
    text.push_str(body);
    text.push_str("\nENDSEC;\nEND-ISO-10303-21;\n");
    text
}

/// Area that the body #105 takes from the wall in its middle plane; what was found where it takes none.
pub fn section_m2(schema: &str, body: &str, pose: Pose) -> Result<f64, String> {
    let text = file(schema, body, pose);
    let building = read("laws.ifc", text.as_bytes()).map_err(|refusal| refusal.to_string())?;
    let openings: Vec<f64> = building.surfaces.iter().flat_map(|s| &s.openings).map(|o| o.area_m2).collect();
    match openings.as_slice() {
        [area] => Ok(*area),
        _ => Err(building.findings.iter().map(|finding| finding.message.clone()).collect::<Vec<_>>().join("; ")),
    }
}
