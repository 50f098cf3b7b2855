//! Line ends, comments, white space and complex instances: ISO 10303-21, clauses 5 to 8 and 11.

use super::{WALL, file, holds_the_wall, messages, read, wall_and};
use crate::surfaces::near;
use cavitally::finding::Code;

#[test]
fn any_line_end_will_do() {
    let text = file(WALL);
    holds_the_wall(&text, "line feeds");
    holds_the_wall(text.replace('\n', "\r\n"), "carriage return and line feed");
    holds_the_wall(text.replace('\n', "\r"), "bare carriage returns");
    holds_the_wall(text.replace('\n', ""), "no line ends");
    holds_the_wall(text.replace('\n', "\n\n \t\n"), "blank lines");
    holds_the_wall([b"\xef\xbb\xbf", text.as_bytes()].concat(), "a byte order mark");
}

#[test]
fn comments_and_blanks_stand_anywhere_between_tokens() {
    let text = file(WALL);
    let spread = text.replace(',', " , ").replace("=IFC", " = IFC").replace("(#", "( #").replace(");", " ) ;");
    // The commas within the name of the wall are not between tokens.
    holds_the_wall(spread.replace("Wall (A) ,  it", "Wall (A), it"), "blanks");
    let commented = text.replace("=IFC", "=/* = */IFC").replace("#11,2700.", "#11/* ;'( */,/**/2700.");
    holds_the_wall(commented.replace("DATA;", "/* DATA;\n#26=X(); */ DATA; /* it's */"), "comments");
}

#[test]
fn records_run_over_many_lines_and_many_records_over_one() {
    let text = file(WALL);
    let mut lines = text.replace(",$", "\n,\r\n$").replace("(#", "(\n#").replace("=IFC", "\n=\nIFC");
    holds_the_wall(&lines, "a line for every token");
    lines = text.replace(";\n#", ";#");
    holds_the_wall(&lines, "all records on one line");
}

#[test]
fn complex_instances_and_unknown_classes_are_passed_over() {
    let more = ["#90=(IFCREPRESENTATIONCONTEXT('a','b')IFCOTHER($,(1.,2.)));", "#91=IFCNEWCLASS(((())),'x',\"0F\");"];
    holds_the_wall(wall_and(&more), "complex instances");
    holds_the_wall(file(WALL).replace("IFCWALL", "IfcWall").replace("IFCSIUNIT", "ifcsiunit"), "keywords in any case");
}

// ISO 10303-21, clause 6.4.3: the same name in each of the ways that it may be written.
#[test]
fn a_name_is_the_same_however_it_is_written() {
    for written in ["St\u{11b}na", r"St\X2\011B\X0\na", r"St\X4\0000011B\X0\na", r"St\PB\\S\lna"] {
        let building = read(file(WALL).replace("Wall (A), it''s", written));
        assert_eq!(building.surfaces[0].name.as_deref(), Some("St\u{11b}na"), "{written}");
        assert_eq!(building.findings, [], "{written}");
    }
    let raw = file(WALL).replace("Wall (A), it''s", "@@").into_bytes();
    // Shift-JIS for a wall: two bytes that are no UTF-8.
    let raw: Vec<u8> = raw.iter().map(|&byte| if byte == b'@' { 0x95 } else { byte }).collect();
    near(read(raw).surfaces[0].gross_area_m2(), 13.5, 1e-9, "bytes of another code");
}

// A quarter circle of radius 1 m, closed by its two radii, has pi / 4 m2 whatever the unit of its angles.
#[test]
fn trimmed_circles_are_measured_in_the_plane_angle_unit() {
    let degrees = [
        "#90=IFCSIUNIT(*,.PLANEANGLEUNIT.,$,.RADIAN.);",
        "#91=IFCMEASUREWITHUNIT(IFCPLANEANGLEMEASURE(0.017453292519943295),#90);",
        "#92=IFCDIMENSIONALEXPONENTS(0,0,0,0,0,0,0);",
        "#93=IFCCONVERSIONBASEDUNIT(#92,.PLANEANGLEUNIT.,'DEGREE',#91);",
    ];
    let slab = [
        "#50=IFCCARTESIANPOINT((0.,0.));",
        "#51=IFCCARTESIANPOINT((1000.,0.));",
        "#52=IFCCARTESIANPOINT((0.,1000.));",
        "#53=IFCAXIS2PLACEMENT2D(#50,$);",
        "#54=IFCCIRCLE(#53,1000.);",
        "#55=IFCTRIMMEDCURVE(#54,(IFCPARAMETERVALUE(0.)),(IFCPARAMETERVALUE(@)),.T.,.PARAMETER.);",
        "#56=IFCPOLYLINE((#52,#50,#51));",
        "#57=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#55);",
        "#58=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#56);",
        "#59=IFCCOMPOSITECURVE((#57,#58),.F.);",
        "#60=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#59);",
        "#61=IFCEXTRUDEDAREASOLID(#60,#12,#11,200.);",
        "#62=IFCSHAPEREPRESENTATION(#4,'Body','SweptSolid',(#61));",
        "#63=IFCPRODUCTDEFINITIONSHAPE($,$,(#62));",
        "#64=IFCSLAB('0000000000000000000005',$,'Quarter',$,$,#13,#63,$,.FLOOR.);",
    ];
    let area_m2 = |angle: &str, unit: &str, records: &[&str]| {
        let text = wall_and(&[&slab, records].concat()).replace('@', angle).replace("((#3))", unit);
        let building = read(text);
        let slab = building.surfaces.iter().find(|surface| surface.name.as_deref() == Some("Quarter"));
        slab.unwrap_or_else(|| panic!("{:?}", building.findings)).gross_area_m2()
    };
    let quarter_m2 = std::f64::consts::FRAC_PI_4;
    near(area_m2("90.", "((#3,#93))", &degrees), quarter_m2, 1e-9, "degrees");
    near(area_m2("1.5707963267948966", "((#3,#90))", &degrees), quarter_m2, 1e-9, "radians");
    near(area_m2("1.5707963267948966", "((#3))", &[]), quarter_m2, 1e-9, "no unit of angles");
}

#[test]
fn proxies_that_read_like_surfaces_are_named_one_by_one() {
    let building = read(wall_and(&[
        "#90=IFCBUILDINGELEMENTPROXY('0000000000000000000006',$,'Satteldach',$,$,#13,$,$,$);",
        "#91=IFCBUILDINGELEMENTPROXY('0000000000000000000007',$,'Part 7',$,'Party wall',#13,$,$,$);",
        "#92=IFCBUILDINGELEMENTPROXY('0000000000000000000008',$,'Wall light',$,$,#13,$,$,$);",
        "#93=IFCBUILDINGELEMENTPROXY('0000000000000000000009',$,'Wall',$,$,#13,$,$,.PROVISIONFORVOID.);",
        "#94=IFCBUILDINGELEMENTPROXYTYPE('000000000000000000000a',$,'Flat roof',$,$,$,$,$,$,.NOTDEFINED.);",
        "#95=IFCBUILDINGELEMENTPROXY('000000000000000000000b',$,'Part 8',$,$,#13,$,$,$);",
        "#96=IFCRELDEFINESBYTYPE('000000000000000000000c',$,$,$,(#95),#94);",
    ]));
    let found = messages(&building, Code::ProxyNotMeasured);
    assert_eq!(found.len(), 3, "{found:?}");
    for (message, part) in found.iter().zip(["`Satteldach` reads like a roof", "`Party wall` reads", "`Flat roof`"]) {
        assert!(message.contains(part), "{message}");
    }
    let ids: Vec<&str> = building.left_out.iter().map(|element| element.id.as_str()).collect();
    assert_eq!(ids, ["0000000000000000000006", "0000000000000000000007", "000000000000000000000b"]);
}
