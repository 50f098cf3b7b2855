//! Sections of every way of shaping a body, against closed formulas.
//!
//! Sources: areas of plane figures and sections of solids of revolution, elementary geometry; volumes by frusta and Pappus
//! as in Bronshtein and Semendyayev, Handbook of Mathematics, 5th edition, 3.3.4 (from memory); tables of rolled sections
//! where they are named. The order of attributes follows the EXPRESS schemas of IFC2X3 and IFC4.

use super::ifc_text::{Pose, list, number, section_m2};
use proptest::prelude::*;
use std::f64::consts::PI;

fn near(found: f64, due: f64, relative: f64) -> bool {
    (found - due).abs() <= relative * due.abs()
}

#[track_caller]
fn check(schema: &str, body: &str, pose: Pose, due: f64, relative: f64) {
    match section_m2(schema, body, pose) {
        Ok(found) => assert!(near(found, due, relative), "{found} where {due} is due\n{body}"),
        Err(found) => panic!("no section: {found}\n{body}"),
    }
}

/// A profile, extruded through the wall.
fn extruded(profile: &str) -> String {
    format!("#105=IFCEXTRUDEDAREASOLID(#106,#11,#14,1.);\n#106={profile};")
}

#[track_caller]
fn check_profile(schema: &str, profile: &str, due: f64) {
    check(schema, &extruded(profile), Pose::through(0.3), due, 1e-9);
}

fn profile(class: &str, sizes: &[&str]) -> String {
    format!("IFC{class}PROFILEDEF(.AREA.,$,#15,{})", sizes.join(","))
}

fn sized(class: &str, sizes: &[f64]) -> String {
    let sizes: Vec<String> = sizes.iter().map(|size| number(*size)).collect();
    profile(class, &sizes.iter().map(String::as_str).collect::<Vec<_>>())
}

/// What a fillet of radius 1 takes from, or adds to, a right-angled corner.
const FILLET: f64 = 1.0 - PI / 4.0;

#[test]
fn straight_profiles_have_their_areas() {
    let (r, big) = (0.05, 0.15);
    check_profile("IFC4", &sized("ROUNDEDRECTANGLE", &[2.0, 1.0, 0.1]), 2.0 - 4.0 * FILLET * 0.01);
    let hollow = 2.0 - 4.0 * FILLET * big * big - (1.8 * 0.8 - 4.0 * FILLET * r * r);
    check_profile("IFC4", &sized("RECTANGLEHOLLOW", &[2.0, 1.0, 0.1, r, big]), hollow);
    check_profile("IFC4", &sized("TRAPEZIUM", &[1.0, 0.5, 2.0, 0.8]), 1.5);
    check_profile("IFC4", &sized("CIRCLE", &[0.7]), PI * 0.49);
    check_profile("IFC4", &sized("CIRCLEHOLLOW", &[0.7, 0.2]), PI * (0.49 - 0.25));
    check_profile("IFC4", &sized("ELLIPSE", &[1.0, 0.4]), PI * 0.4);
    let (c, inner) = (0.1, 0.05);
    let lips = 2.0 * 0.1 + 2.0 * 0.8 * 0.1 + 2.0 * 0.3 * 0.1 - 2.0 * 0.1 * 0.1 + 2.0 * 0.1 * 0.1;
    let rounding = 4.0 * FILLET * ((inner + c) * (inner + c) - inner * inner);
    check_profile("IFC4", &sized("CSHAPE", &[2.0, 1.0, c, 0.3, inner]), lips - rounding);
}

/// Rolled sections as their tables give them (from memory), to the digits of the tables: areas in cm2.
#[test]
fn rolled_sections_have_the_areas_of_their_tables() {
    let mm = |sizes: &[f64]| -> Vec<f64> { sizes.iter().map(|size| size / 1000.0).collect() };
    let check_cm2 = |schema: &str, body: &str, cm2: f64, off: f64| {
        let found = section_m2(schema, &extruded(body), Pose::through(0.3)).unwrap() * 1e4;
        assert!(near(found, cm2, off), "{found} cm2 where {cm2} is due: {body}");
    };
    // IPE 200: h 200, b 100, web 5.6, flange 8.5, fillet 12; area 28.5 (EN 10365).
    check_cm2("IFC2X3", &sized("ISHAPE", &mm(&[100.0, 200.0, 5.6, 8.5, 12.0])), 28.5, 2e-3);
    // IPN 200: b 90, h 200, web 7.5, flange 11.3 at a quarter of the width, fillets 7.5 and 4.5, slope 14 %; area 33.4 (EN 10365).
    let slope = 0.14_f64.atan().to_degrees();
    let mut sizes = mm(&[90.0, 200.0, 7.5, 11.3, 7.5, 4.5]);
    sizes.push(slope);
    check_cm2("IFC4", &sized("ISHAPE", &sizes), 33.4, 3e-3);
    // UPN 200: h 200, b 75, web 8.5, flange 11.5 in the middle of the width, fillets 11.5 and 6, slope 8 %; area 32.2 (EN 10365).
    let mut sizes = mm(&[200.0, 75.0, 8.5, 11.5, 11.5, 6.0]);
    sizes.push(0.08_f64.atan().to_degrees());
    check_cm2("IFC4", &sized("USHAPE", &sizes), 32.2, 3e-3);
    // L 100 x 50 x 8: fillets 8 and 4; area 11.4 (EN 10056-1).
    check_cm2("IFC4", &sized("LSHAPE", &mm(&[100.0, 50.0, 8.0, 8.0, 4.0])), 11.4, 5e-3);
    // Z 100: h 100, b 55, web 6.5, flange 8, fillets 8 and 4; area 14.5 (DIN 1027).
    check_cm2("IFC4", &sized("ZSHAPE", &mm(&[100.0, 55.0, 6.5, 8.0, 8.0, 4.0])), 14.5, 5e-3);
    // T 100: h = b = 100, both 11 thick, fillets 11, 5.5 and 3, slopes 2 %; area 20.9 (EN 10055).
    let mut sizes = mm(&[100.0, 100.0, 11.0, 11.0, 11.0, 5.5, 3.0]);
    let two = 0.02_f64.atan().to_degrees();
    sizes.extend([two, two]);
    check_cm2("IFC4", &sized("TSHAPE", &sizes), 20.9, 5e-3);
}

/// The fourth attribute after the top flange is the centre of gravity in IFC2X3 and an edge radius in IFC4.
#[test]
fn the_schemas_order_of_an_asymmetric_i_shape_is_kept() {
    let area = 1.0 * 0.3 + 0.8 * 0.25 + (2.0 - 0.55) * 0.2 + 2.0 * FILLET * (0.04_f64.powi(2) + 0.02_f64.powi(2));
    let first = ["1.", "2.", "0.2", "0.3", "0.04", "0.8", "0.25", "0.02"];
    let old: Vec<&str> = first.iter().copied().chain(["0.9"]).collect();
    check_profile("IFC2X3", &profile("ASYMMETRICISHAPE", &old), area);
    let new: Vec<&str> = first.iter().copied().chain(["0.05", "$", "0.03", "$"]).collect();
    let edges = 2.0 * FILLET * (0.05_f64.powi(2) + 0.03_f64.powi(2));
    check_profile("IFC4", &profile("ASYMMETRICISHAPE", &new), area - edges);
}

#[test]
fn composite_derived_and_mirrored_profiles_have_their_areas() {
    let circle = "#107=IFCRECTANGLEPROFILEDEF(.AREA.,$,#15,1.,2.);\n#108=IFCCIRCLEPROFILEDEF(.AREA.,$,#109,0.4);\n\
                  #109=IFCAXIS2PLACEMENT2D(#110,$);\n#110=IFCCARTESIANPOINT((0.5,0.))";
    let both = format!("IFCCOMPOSITEPROFILEDEF(.AREA.,$,(#107,#108),$);\n{circle}");
    // The circle's centre lies on the rectangle's side: half of it stands out.
    check_profile("IFC4", &both, 2.0 + PI * 0.16 / 2.0);
    let uneven = "IFCDERIVEDPROFILEDEF(.AREA.,$,#107,#108,$);\n#107=IFCELLIPSEPROFILEDEF(.AREA.,$,#15,1.,0.5);\n\
                  #108=IFCCARTESIANTRANSFORMATIONOPERATOR2DNONUNIFORM($,#109,#16,2.,3.);\n#109=IFCDIRECTION((1.,0.))";
    check_profile("IFC4", uneven, PI * 0.5 * 6.0);
    // Cut by the plane x = 0.3 before and after: the L's upright leg lies on the left, mirrored on the right.
    let angle = "IFCLSHAPEPROFILEDEF(.AREA.,$,#15,2.,1.,0.2,$,$,$)";
    let pose = Pose { at: [0.0, -0.4, 0.0], z: [0.0, 0.0, 1.0], x: [0.0, 1.0, 0.0] };
    check("IFC4", &extruded(angle), pose, 0.2, 1e-9);
    let mirrored = extruded(&format!("IFCMIRROREDPROFILEDEF(.AREA.,$,#107,*,$);\n#107={angle}"));
    check("IFC4", &mirrored, pose, 2.0, 1e-9);
}

/// A parabola over its chord holds 2/3 of chord times height (Archimedes); a Bezier arc of degree 2 is one.
#[test]
fn splines_have_their_areas() {
    let outline = |curve: &str| {
        extruded(&format!(
            "IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#107);\n#107=IFCCOMPOSITECURVE((#108,#109),.F.);\n\
             #108=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#110);\n#109=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#111);\n\
             #110={curve};\n#111=IFCPOLYLINE((#123,#121));\n#121=IFCCARTESIANPOINT((0.,0.));\n\
             #122=IFCCARTESIANPOINT((1.,2.));\n#123=IFCCARTESIANPOINT((2.,0.))"
        ))
    };
    let knots = "IFCBSPLINECURVEWITHKNOTS(2,(#121,#122,#123),.UNSPECIFIED.,.F.,.F.,(3,3),(0.,1.),.UNSPECIFIED.)";
    check("IFC4", &outline(knots), Pose::through(0.3), 2.0 / 3.0 * 2.0, 2e-6);
    let bezier = "IFCBEZIERCURVE(2,(#121,#122,#123),.UNSPECIFIED.,.F.,.F.)";
    check("IFC2X3", &outline(bezier), Pose::through(0.3), 2.0 / 3.0 * 2.0, 2e-6);
    // A weight of cos 45 degrees makes a quarter of a circle, of radius sqrt 2, whose segment holds (pi / 2 - 1) r^2 / 2.
    let arc = "IFCRATIONALBSPLINECURVEWITHKNOTS(2,(#121,#122,#123),.CIRCULAR_ARC.,.F.,.F.,(3,3),(0.,1.),.UNSPECIFIED.,(1.,0.70710678118654752,1.))";
    let arc = outline(arc).replace("#122=IFCCARTESIANPOINT((1.,2.))", "#122=IFCCARTESIANPOINT((1.,1.))");
    check("IFC4", &arc, Pose::through(0.3), PI / 2.0 - 1.0, 4e-6);
}

#[test]
fn primitives_have_their_sections() {
    let csg = |primitive: &str| format!("#105=IFCCSGSOLID(#106);\n#106={primitive};");
    check("IFC4", &csg("IFCBLOCK(#11,2.,1.,3.)"), Pose::upright(0.3), 6.0, 1e-12);
    check("IFC4", &csg("IFCRIGHTCIRCULARCYLINDER(#11,1.,0.5)"), Pose::through(0.3), PI * 0.25, 1e-9);
    // Beside its axis a cylinder is cut in a rectangle as wide as the chord; the surface stands off by at most 0.05 mm.
    check("IFC4", &csg("IFCRIGHTCIRCULARCYLINDER(#11,3.,0.5)"), Pose::upright(0.3), 3.0 * 0.8, 5e-4);
    check("IFC4", &csg("IFCRIGHTCIRCULARCONE(#11,1.,0.5)"), Pose::through(0.4), PI * 0.09, 1e-9);
    check("IFC4", &csg("IFCRECTANGULARPYRAMID(#11,2.,1.,1.)"), Pose::through(0.25), 2.0 * 0.75 * 0.75, 1e-9);
    check("IFC4", &csg("IFCSPHERE(#11,0.8)"), Pose::upright(0.3), PI * (0.64 - 0.09), 1e-3);
}

#[test]
fn booleans_nest_with_every_operator() {
    let blocks = "#107=IFCBLOCK(#11,2.,1.,3.);\n#108=IFCBLOCK(#111,2.,1.,3.);\n#109=IFCRIGHTCIRCULARCYLINDER(#112,1.,0.25);\n\
                  #111=IFCAXIS2PLACEMENT3D(#113,$,$);\n#112=IFCAXIS2PLACEMENT3D(#114,#115,#14);\n#113=IFCCARTESIANPOINT((1.,0.,1.));\n\
                  #114=IFCCARTESIANPOINT((1.5,1.,2.));\n#115=IFCDIRECTION((0.,-1.,0.));";
    let tree = |first: &str, second: &str| {
        format!(
            "#105=IFCCSGSOLID(#106);\n#106=IFCBOOLEANRESULT(.{second}.,#110,#109);\n\
             #110=IFCBOOLEANRESULT(.{first}.,#107,#108);\n{blocks}"
        )
    };
    let (block, both, hole) = (6.0, 2.0, PI / 16.0);
    for (first, second, due) in [
        ("UNION", "DIFFERENCE", 2.0 * block - both - hole),
        ("INTERSECTION", "DIFFERENCE", both - hole),
        ("DIFFERENCE", "UNION", block - both + hole),
        ("UNION", "INTERSECTION", hole),
    ] {
        check("IFC4", &tree(first, second), Pose::upright(0.3), due, 1e-9);
    }
}

#[test]
fn swept_discs_keep_their_section_and_meet_in_mitres() {
    let pipe = |inner: &str| {
        format!(
            "#105=IFCSWEPTDISKSOLID(#106,0.1,{inner},$,$);\n#106=IFCPOLYLINE((#107,#108,#109));\n\
             #107=IFCCARTESIANPOINT((0.,0.,0.));\n#108=IFCCARTESIANPOINT((0.,0.,1.));\n#109=IFCCARTESIANPOINT((2.,0.,1.));"
        )
    };
    check("IFC4", &pipe("$"), Pose::through(0.3), PI * 0.01, 1e-9);
    check("IFC4", &pipe("0.05"), Pose::through(0.3), PI * (0.01 - 0.0025), 1e-9);
    // Along its axis: width times length of the middle line, a mitre taking outside what it gives inside.
    check("IFC4", &pipe("$"), Pose::upright(0.0), 0.2 * 3.0, 1e-3);
    let part = pipe("$").replace(",$,$,$);", ",$,0.,0.5);");
    check("IFC4", &part, Pose::upright(0.0), 0.2 * 0.5, 1e-3);
}

#[test]
fn what_is_not_measured_is_named() {
    for (body, due) in [
        (
            "#105=IFCSURFACECURVESWEPTAREASOLID(#36,#11,#106,$,$,$);\n#106=IFCPOLYLINE((#107,#108,#109));\n\
             #107=IFCCARTESIANPOINT((0.,0.,0.));\n#108=IFCCARTESIANPOINT((0.,0.,1.));\n#109=IFCCARTESIANPOINT((2.,0.,1.));",
            "IFCSURFACECURVESWEPTAREASOLID",
        ),
        (
            "#105=IFCFIXEDREFERENCESWEPTAREASOLID(#36,#11,#106,$,$,#14);\n#106=IFCPOLYLINE((#107,#108,#109));\n\
             #107=IFCCARTESIANPOINT((0.,0.,0.));\n#108=IFCCARTESIANPOINT((0.,0.,1.));\n#109=IFCCARTESIANPOINT((2.,0.,1.));",
            "IFCFIXEDREFERENCESWEPTAREASOLID",
        ),
        (
            "#105=IFCEXTRUDEDAREASOLID(#106,#11,#14,1.);\n#106=IFCCENTERLINEPROFILEDEF(.AREA.,$,$,0.1);",
            "IFCCENTERLINEPROFILEDEF",
        ),
        (
            "#105=IFCBOOLEANRESULT(.DIFFERENCE.,#106,#107);\n#106=IFCBLOCK(#11,1.,1.,1.);\n#107=IFCHALFSPACESOLID(#108,.F.);\n\
             #108=IFCCYLINDRICALSURFACE(#11,1.);",
            "IFCCYLINDRICALSURFACE",
        ),
        (
            "#105=IFCADVANCEDBREP(#106);\n#106=IFCCLOSEDSHELL((#107));\n#107=IFCADVANCEDFACE((),#108,.T.);\n#108=IFCSPHERICALSURFACE(#11,1.);",
            "IFCSPHERICALSURFACE",
        ),
        (
            "#105=IFCREVOLVEDAREASOLID(#36,#11,#106,90.);\n#106=IFCAXIS1PLACEMENT(#107,#108);\n#107=IFCCARTESIANPOINT((0.1,0.));\n#108=IFCDIRECTION((0.,1.));",
            "crosses the axis",
        ),
    ] {
        let found = section_m2("IFC4", body, Pose::upright(0.0)).expect_err(body);
        assert!(found.contains(due), "{found} does not name {due}");
    }
}

/// A solid half-cylinder with edges: plane faces with arcs, and a cylindrical face that two rulings bound.
#[test]
fn advanced_faces_close_and_have_their_sections() {
    let body = half_cylinder(0.6, 2.0);
    check("IFC4", &body, Pose::through(0.3), PI * 0.36 / 2.0, 1e-9);
    // Beside the axis: a rectangle over the chord; the surface stands off by at most 0.05 mm.
    check("IFC4", &body, Pose::upright(0.3), 2.0 * 2.0 * (0.36_f64 - 0.09).sqrt(), 2e-4);
}

fn half_cylinder(radius: f64, height: f64) -> String {
    let point = |id: u32, x: f64, z: f64| {
        format!("#{id}=IFCVERTEXPOINT(#{0});\n#{0}=IFCCARTESIANPOINT({1});\n", id + 50, list(&[x, 0.0, z]))
    };
    let vertices = [(201, radius, 0.0), (202, -radius, 0.0), (203, radius, height), (204, -radius, height)];
    let vertices: String = vertices.map(|(id, x, z)| point(id, x, z)).concat();
    let r = number(radius);
    let edges = format!(
        "#301=IFCEDGECURVE(#201,#202,#311,.T.);\n#302=IFCEDGECURVE(#203,#204,#312,.T.);\n#303=IFCEDGECURVE(#201,#203,#313,.T.);\n\
         #304=IFCEDGECURVE(#202,#204,#314,.T.);\n#305=IFCEDGECURVE(#202,#201,#315,.T.);\n#306=IFCEDGECURVE(#204,#203,#316,.T.);\n\
         #311=IFCCIRCLE(#11,{r});\n#312=IFCCIRCLE(#317,{r});\n#317=IFCAXIS2PLACEMENT3D(#318,$,$);\n#318=IFCCARTESIANPOINT({});\n\
         #313=IFCLINE(#251,#320);\n#314=IFCLINE(#252,#320);\n#315=IFCLINE(#252,#321);\n#316=IFCLINE(#254,#321);\n\
         #320=IFCVECTOR(#14,1.);\n#321=IFCVECTOR(#322,1.);\n#322=IFCDIRECTION((1.,0.,0.));\n",
        list(&[0.0, 0.0, height])
    );
    let oriented: Vec<String> = (1..=6)
        .map(|i| {
            format!(
                "#{}=IFCORIENTEDEDGE(*,*,#{},.T.);\n#{}=IFCORIENTEDEDGE(*,*,#{},.F.);\n",
                400 + i,
                300 + i,
                410 + i,
                300 + i
            )
        })
        .collect();
    let oriented = oriented.concat();
    let face = |id: u32, edges: &str, surface: u32| {
        format!(
            "#{id}=IFCADVANCEDFACE((#{0}),#{surface},.T.);\n#{0}=IFCFACEOUTERBOUND(#{1},.T.);\n#{1}=IFCEDGELOOP(({edges}));\n",
            id + 10,
            id + 20
        )
    };
    let faces = [
        face(501, "#401,#404,#412,#413", 601),
        face(502, "#405,#403,#416,#414", 602),
        face(503, "#411,#415", 602),
        face(504, "#402,#406", 602),
    ]
    .concat();
    format!(
        "#105=IFCADVANCEDBREP(#106);\n#106=IFCCLOSEDSHELL((#501,#502,#503,#504));\n{vertices}{edges}{oriented}{faces}\
         #601=IFCCYLINDRICALSURFACE(#11,{r});\n#602=IFCPLANE(#11);"
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// An I shape: two flanges, a web, four fillets.
    #[test]
    fn an_i_shape_has_the_area_of_its_parts(b in 0.2..2.0_f64, h in 0.4..3.0_f64, web in 0.05..0.9_f64, flange in 0.05..0.9_f64, fillet in 0.0..0.9) {
        let (web, flange) = (web * b, flange * h / 2.0);
        let r = fillet * ((b - web) / 2.0).min(h / 2.0 - flange);
        let area = 2.0 * b * flange + (h - 2.0 * flange) * web + 4.0 * FILLET * r * r;
        let found = section_m2("IFC2X3", &extruded(&sized("ISHAPE", &[b, h, web, flange, r])), Pose::through(0.3)).unwrap();
        prop_assert!(near(found, area, 1e-9), "{found} {area}");
    }

    /// Between two rectangles that have the same middle the sides run straight.
    #[test]
    fn a_taper_is_a_rectangle_at_every_height(a in 0.2..3.0, b in 0.2..3.0, c in 0.2..3.0, d in 0.2..3.0, at in 0.05..0.95) {
        let body = format!(
            "#105=IFCEXTRUDEDAREASOLIDTAPERED(#106,#11,#14,1.,#107);\n#106={};\n#107={};",
            sized("RECTANGLE", &[a, b]),
            sized("RECTANGLE", &[c, d])
        );
        let due = (a + at * (c - a)) * (b + at * (d - b));
        let found = section_m2("IFC4", &body, Pose::through(at)).unwrap();
        prop_assert!(near(found, due, 1e-9), "{found} {due}");
    }

    /// A frustum of a cone, cut across its axis.
    #[test]
    fn a_disc_tapers_into_a_disc(a in 0.1..3.0, b in 0.1..3.0, at in 0.05..0.95) {
        let body = format!(
            "#105=IFCEXTRUDEDAREASOLIDTAPERED(#106,#11,#14,1.,#107);\n#106={};\n#107={};",
            sized("CIRCLE", &[a]),
            sized("CIRCLE", &[b])
        );
        let radius = a + at * (b - a);
        let found = section_m2("IFC4", &body, Pose::through(at)).unwrap();
        prop_assert!(near(found, PI * radius * radius, 1e-9), "{found}");
    }

    /// A rectangle turned about an axis beside it: across the axis a part of a ring, whatever the angle.
    #[test]
    fn a_revolution_is_a_ring_across_its_axis(inner in 0.0..2.0_f64, wide in 0.1..2.0_f64, degrees in 1.0..360.0_f64, whole in any::<bool>()) {
        let degrees = if whole { 360.0 } else { degrees };
        let body = format!(
            "#105=IFCREVOLVEDAREASOLID(#106,#11,#107,{});\n#106={};\n#107=IFCAXIS1PLACEMENT(#108,#109);\n\
             #108=IFCCARTESIANPOINT({});\n#109=IFCDIRECTION((0.,1.));",
            number(degrees),
            sized("RECTANGLE", &[wide, 1.0]),
            list(&[-wide / 2.0 - inner, 0.0])
        );
        let due = PI * ((inner + wide).powi(2) - inner * inner) * degrees / 360.0;
        let found = section_m2("IFC4", &body, Pose::upright(0.13)).unwrap();
        prop_assert!(near(found, due, 1e-9), "{found} {due}");
    }

    /// A plane that leans by an angle cuts a cylinder in an ellipse: its area over the cosine.
    #[test]
    fn a_leaning_plane_cuts_a_cylinder_in_an_ellipse(radius in 0.1..2.0_f64, lean in 0.0..1.0_f64, turn in 0.0..6.2_f64) {
        let body = format!("#105=IFCCSGSOLID(#106);\n#106=IFCRIGHTCIRCULARCYLINDER(#11,20.,{});", number(radius));
        let z = [lean.sin(), -lean.cos(), 0.0];
        let side = [lean.cos(), lean.sin(), 0.0];
        let x = [turn.cos() * side[0], turn.cos() * side[1], turn.sin()];
        let pose = Pose { at: z.map(|part| -10.0 * part), z, x };
        let found = section_m2("IFC4", &body, pose).unwrap();
        prop_assert!(near(found, PI * radius * radius / lean.cos(), 1e-9), "{found}");
    }
}
