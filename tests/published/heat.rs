//! Heat through surfaces, beside worked examples that are published and others computed by hand.

use crate::support::project_file;
use crate::support::run::{number, saved_takeoff, surfaces, text};
use cavitally::heat::{Combined, Part, by_product, combined, parallel_path};
use cavitally::units::{BTU_PER_HOUR_SQUARE_FOOT_F_W_M2K, HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W};
use serde_json::Value;
use std::fs;

fn near(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "found {found}, expected {expected} within {tolerance}");
}

fn whole(resistance_m2k_w: f64) -> Vec<Part> {
    vec![Part { fraction: 1.0, resistance_m2k_w }]
}

fn bridged(share: f64, bridge: f64, rest: f64) -> Vec<Part> {
    let part = |fraction, resistance_m2k_w| Part { fraction, resistance_m2k_w };
    vec![part(share, bridge), part(1.0 - share, rest)]
}

// Scottish Government, Building Standards, 6.B worked examples of U-value calculations using the combined method, 6.B.2,
// timber framed wall: upper limit 3.435, lower limit 3.304, U 0.297.
#[test]
fn the_scottish_timber_framed_wall() {
    let layers = [
        whole(0.04),
        whole(0.102 / 0.77),
        whole(0.18),
        whole(0.009 / 0.13),
        bridged(0.15, 0.14 / 0.12, 0.14 / 0.04),
        whole(0.0125 / 0.21),
        whole(0.13),
    ];
    let Combined { upper_m2k_w, lower_m2k_w, mean_m2k_w, error_share } = combined(&by_product(&layers)).unwrap();
    near(upper_m2k_w, 3.435, 0.001);
    near(lower_m2k_w, 3.304, 0.001);
    near(1.0 / mean_m2k_w, 0.297, 0.0005);
    // (3.435 - 3.304) / (2 x 3.3695), by hand.
    near(error_share, 0.0194, 0.0002);
}

// The same, 6.B.3, cavity wall with two bridged layers: upper limit 3.617, lower limit 3.136, U 0.30; the document rounds
// its steps.
#[test]
fn the_scottish_wall_with_two_bridged_layers() {
    let layers = [
        whole(0.04),
        whole(0.102 / 0.77),
        whole(0.18),
        bridged(0.067, 0.125 / 0.88, 0.125 / 0.11),
        bridged(0.118, 0.089 / 0.13, 0.089 / 0.038),
        whole(0.0125 / 0.21),
        whole(0.13),
    ];
    let found = combined(&by_product(&layers)).unwrap();
    near(found.upper_m2k_w, 3.617, 0.003);
    near(found.lower_m2k_w, 3.136, 0.003);
    near(1.0 / found.mean_m2k_w, 0.30, 0.005);
}

// ASHRAE Handbook of Fundamentals, wood-frame wall of 2x4 at 16 in., from memory: 75 % cavity, 21 % studs, plates and
// sills, 4 % headers; R 19.11 and 10.49, U 0.052 and 0.095, average U 0.063 by parallel path, R 14.82 and U 0.067 by
// isothermal planes. Resistances in h ft2 F/Btu.
#[test]
fn the_ashrae_wood_frame_wall() {
    let series = [0.17, 0.81, 4.0, 0.45, 0.68];
    let with = |cavity: Vec<Part>| {
        let layers: Vec<Vec<Part>> = series.into_iter().map(whole).chain([cavity]).collect();
        by_product(&layers)
    };
    near(parallel_path(&with(whole(13.0))), 19.11, 0.005);
    near(parallel_path(&with(whole(4.38))), 10.49, 0.005);
    let found = combined(&with(bridged(0.25, 4.38, 13.0))).unwrap();
    near(1.0 / found.upper_m2k_w, 0.0631, 0.0001);
    near(found.lower_m2k_w, 14.82, 0.005);
    near(1.0 / found.lower_m2k_w, 0.0675, 0.0001);
}

/// The only surface of a sheet, run with a job file.
fn surface(sheet: &str, job: &str) -> Value {
    let folder = tempfile::tempdir().unwrap();
    let (sheet_path, job_path) = (folder.path().join("sheet.csv"), folder.path().join("job.toml"));
    fs::write(&sheet_path, sheet).unwrap();
    fs::write(&job_path, job).unwrap();
    let takeoff = saved_takeoff(&[&sheet_path], &["--job", job_path.to_str().unwrap()]);
    surfaces(&takeoff)[0].clone()
}

/// A wall of which only the area is known, so that its framing is the fraction that the job file says.
const BY_AREA: &str = "id,kind,assembly,area (m2)\nW,wall,a,10\n";

fn u_us(surface: &Value, method: &str) -> f64 {
    number(&surface["heat"][method], "u_w_m2k") / BTU_PER_HOUR_SQUARE_FOOT_F_W_M2K
}

fn r_us(surface: &Value, method: &str) -> f64 {
    number(&surface["heat"][method], "r_m2k_w") / HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W
}

// The same Scottish wall, from a sheet and a job file.
#[test]
fn the_scottish_wall_through_the_program() {
    let job = r#"
[layout]
wall_fraction = 0.15
[heat]
films = "ISO 6946"
framing_conductivity = "0.12 W/(m K)"
[fill.wool]
density = "30 kg/m3"
bag = "10 kg"
conductivity = "0.04 W/(m K)"
[assembly.a]
framing = "38x140 mm @ 600 mm"
layers = [
  { name = "outer leaf", thickness = "102 mm", conductivity = "0.77 W/(m K)" },
  { name = "cavity behind it", resistance = "0.18 m2 K/W" },
  { name = "sheathing", thickness = "9 mm", conductivity = "0.13 W/(m K)" },
  "cavity",
  { name = "plasterboard", thickness = "12.5 mm", conductivity = "0.21 W/(m K)" },
]
"#;
    let heat = &surface(BY_AREA, job)["heat"];
    near(number(&heat["parallel_path"], "r_m2k_w"), 3.435, 0.001);
    near(number(&heat["isothermal_planes"], "r_m2k_w"), 3.304, 0.001);
    near(number(&heat["combined"], "u_w_m2k"), 0.297, 0.0005);
    assert_eq!((text(heat, "basis"), text(heat, "films")), ("whole assembly", "ISO 6946"));
    assert_eq!(text(heat, "mark"), "estimate from conductivities, not for the receipt");
}

/// A code-type wall of 2x4 with R-13 in its cavity: 0.17, siding 0.62, OSB 0.62, gypsum board 0.45, 0.68: 2.54 in all.
fn code_wall(framing: &str, r: f64, depth_in: f64, more: &str) -> Value {
    let conductivity = depth_in / r;
    let job = format!(
        r#"
{more}
[layout]
wall_fraction = 0.25
[fill.fibre]
density = "30 kg/m3"
bag = "10 kg"
conductivity = "{conductivity:.12} Btu in/(h ft2 F)"
[assembly.a]
framing = "{framing}"
layers = [
  {{ name = "siding", resistance = "R-0.62" }},
  {{ name = "sheathing", resistance = "0.62 h ft2 F/Btu" }},
  "cavity",
  {{ name = "gypsum board", thickness = "1/2 in" }},
]
"#
    );
    surface(BY_AREA, &job)
}

// By hand, with a stud of R-1.25 an inch (softwood: California energy code, JA4): 2x4, R 15.54 in the cavity and 6.915 in
// the stud; 0.75 / 15.54 + 0.25 / 6.915 = 0.08442; 2.54 + 1 / (0.75 / 13 + 0.25 / 4.375) = 11.248; their mean 11.547.
// 2x6 with R-20: 0.75 / 22.54 + 0.25 / 9.415 = 0.05983; 2.54 + 1 / (0.75 / 20 + 0.25 / 6.875) = 16.078.
#[test]
fn walls_of_the_usual_code_type() {
    let wall = code_wall("2x4 @ 16 in", 13.0, 3.5, "");
    near(u_us(&wall, "parallel_path"), 0.084_42, 0.000_01);
    near(r_us(&wall, "isothermal_planes"), 11.248, 0.001);
    near(r_us(&wall, "combined"), 11.547, 0.001);
    let wall = code_wall("2x6 @ 16 in", 20.0, 5.5, "");
    near(u_us(&wall, "parallel_path"), 0.059_83, 0.000_01);
    near(r_us(&wall, "isothermal_planes"), 16.078, 0.001);
}

// Grades of ANSI/RESNET/ICC 301 (from memory: none, 2 % and 5 % void) on the wall above, the void at R-1 and as a share of
// the cavity's area: 0.25 / 6.915 + 0.75 x (0.98 / 15.54 + 0.02 / 3.54) = 0.08769; with 5 % 0.09260.
#[test]
fn voids_by_grade_are_a_share_of_the_cavity() {
    for (grade, share, expected) in [("I", 0.0, 0.084_42), ("II", 0.02, 0.087_69), ("III", 0.05, 0.092_60)] {
        let wall = code_wall("2x4 @ 16 in", 13.0, 3.5, &format!("[heat]\ngrade = \"{grade}\""));
        near(u_us(&wall, "parallel_path"), expected, 0.000_01);
        near(number(&wall["heat"], "void_share"), share, 0.0);
        assert_eq!(text(&wall["heat"], "grade"), grade);
    }
}

// The fraction that is published for walls at 16 in. is .19 + .04: WAC 51-11-1005.2. By hand as above with 23 %.
#[test]
fn the_usual_fraction_stands_beside_the_one_laid_out() {
    let wall = code_wall("2x4 @ 16 in", 13.0, 3.5, "");
    let usual = &wall["heat"]["usual"];
    near(number(usual, "framing_fraction"), 0.23, 0.0);
    let u = number(&usual["parallel_path"], "u_w_m2k") / BTU_PER_HOUR_SQUARE_FOOT_F_W_M2K;
    near(u, 0.77 / 15.54 + 0.23 / 6.915, 0.000_01);
    assert!(text(usual, "source").contains("WAC 51-11-1005"));
}

/// A laid-out wall of 8 ft x 97 1/8 in., with one line of framing and what is said besides.
fn laid_out(framing: &str, layers: &str, more: &str) -> Value {
    let sheet = "id,kind,assembly,length,height\nW,wall,a,8 ft,97 1/8 in\n";
    surface(sheet, &format!("[assembly.a]\nframing = \"{framing}\"\nlayers = [{layers}]\n{more}\n"))
}

const BOARDS: &str =
    "{ name = \"OSB\", thickness = \"7/16 in\" }, \"cavity\", { name = \"drywall\", thickness = \"1/2 in\" }";

// By hand: the plain wall's bays are 85 1/2 x 92 5/8 in. of 96 x 97 1/8 in. (see `retrofit`), so 15.06 % is framing.
#[test]
fn the_framing_fraction_is_the_one_that_was_laid_out() {
    let wall = laid_out("2x4 @ 16 in", BOARDS, "");
    let expected = 1.0 - 85.5 * 92.625 / (96.0 * 97.125);
    near(number(&wall["heat"], "framing_fraction"), expected, 1e-9);
    near(number(&wall, "framing_fraction"), expected, 1e-9);
    let cavity = wall["heat"]["cavity"].as_array().unwrap();
    assert_eq!(cavity.len(), 1);
}

// Two frames of 3 1/2 in. with 5 in. between them: only the plates go through. What stands in the slices weighs up to what
// the takeoff has for the whole depth.
#[test]
fn a_double_wall_is_taken_slice_by_slice() {
    let wall = laid_out("2x4 @ 16 in + gap 5 in + 2x4 @ 24 in", BOARDS, "");
    let slices = wall["heat"]["cavity"].as_array().unwrap();
    let inches: Vec<f64> = slices.iter().map(|slice| number(slice, "thickness_m") / 0.0254).collect();
    for (found, expected) in inches.iter().zip([3.5, 5.0, 3.5]) {
        near(*found, expected, 1e-6);
    }
    let fractions: Vec<f64> = slices.iter().map(|slice| number(slice, "framing_fraction")).collect();
    assert!(fractions[0] > fractions[2] && fractions[2] > fractions[1], "{fractions:?}");
    let whole: f64 = fractions.iter().zip(&inches).map(|(fraction, inches)| fraction * inches).sum();
    near(whole / 12.0, number(&wall, "framing_fraction"), 1e-9);
    let heat = &wall["heat"];
    let of = |method: &str| number(&heat[method], "r_m2k_w");
    assert!(of("isothermal_planes") < of("combined") && of("combined") < of("parallel_path"));
}

#[test]
fn where_the_methods_do_not_hold_the_reason_is_given() {
    for (framing, layers, more, expected) in [
        ("362S162-54 @ 16 in", BOARDS, "", "bridged by metal"),
        ("2x4 @ 16 in", "", "", "layers not given"),
        ("2x4 @ 16 in", "\"cavity\", { name = \"X-17\", thickness = \"1 in\" }", "", "layer `X-17` not known"),
        ("2x4 @ 16 in", "\"cavity\", { name = \"OSB\" }", "", "thickness of the layer `OSB`"),
        ("2x4 @ 16 in", "{ name = \"air space\" }, \"cavity\"", "", "may be ventilated"),
        ("2x4 @ 16 in", "{ name = \"EPS\", thickness = \"2 in\" }, \"cavity\"", "", "insulation `EPS` not given"),
        ("2x4 @ 16 in", BOARDS, "[heat]\nframing_conductivity = \"50 W/(m K)\"", "1.5 times"),
        ("2x4 @ 16 in", BOARDS, "[fill.wool]\ndensity = \"30 kg/m3\"\nbag = \"10 kg\"", "fill `wool` not given"),
        ("2x4 @ 16 in", BOARDS, "existing = \"glass fibre batt 50 %\"", "there already"),
        ("2x4 @ 16 in", BOARDS, "[heat]\nenabled = false", "not asked for"),
    ] {
        let wall = laid_out(framing, layers, more);
        assert!(wall["heat"].is_null(), "{expected}");
        assert!(text(&wall, "heat_reason").contains(expected), "{expected}: {}", wall["heat_reason"]);
    }
    let attic = "id,kind,exposure,assembly,area (ft2)\nC,ceiling,unconditioned,a,100\n";
    let job = "[assembly.a]\nframing = \"2x4 @ 24 in\"\nthickness = \"14 in\"\nlayers = [\"cavity\"]\n";
    assert!(text(&surface(attic, job), "heat_reason").contains("label"));
}

// ISO 6946, from memory: behind a well ventilated layer the film is that of still air, and what lies outside it does not
// count. Towards an unheated room both films are of still air: common practice, no source.
#[test]
fn films_follow_what_lies_on_the_other_side() {
    let job = |layers: &str, more: &str| {
        format!("[assembly.a]\nframing = \"2x10 @ 16 in\"\nlayers = [{layers}]\n{more}\n[heat]\nfilms = \"ISO 6946\"\n")
    };
    let films = |sheet: &str, job: &str| -> Vec<f64> {
        let surface = surface(sheet, job);
        let layers = surface["heat"]["layers"].as_array().unwrap();
        layers.iter().map(|layer| number(layer, "resistance_m2k_w")).collect()
    };
    let roof = "id,kind,assembly,length,height,pitch\nR,roof,a,12 ft,10 ft,6:12\n";
    let layers = "{ name = \"deck\", resistance = \"0.5 m2 K/W\" }, \"cavity\"";
    assert_eq!(films(roof, &job(layers, "vent_gap = \"1 in\"")), [0.10, 0.10]);
    assert_eq!(films(roof, &job(layers, "unvented = \"foam above\"")), [0.04, 0.5, 0.10]);
    let floor = |exposure: &str| format!("id,kind,exposure,assembly,area (m2)\nF,floor,{exposure},a,10\n");
    assert_eq!(films(&floor("exterior"), &job("\"cavity\"", "")), [0.04, 0.17]);
    assert_eq!(films(&floor("unconditioned"), &job("\"cavity\"", "")), [0.17, 0.17]);
}

// US customary and SI layers of one wall give one figure: factors of NIST SP 811, appendix B.8.
#[test]
fn both_systems_of_units_agree() {
    let us = "{ name = \"a\", thickness = \"1/2 in\", conductivity = \"1 Btu in/(h ft2 F)\" }, \"cavity\", \
              { name = \"b\", resistance = \"R-2\" }";
    let si = "{ name = \"a\", thickness = \"12.7 mm\", conductivity = \"0.1442279 W/(m K)\" }, \"cavity\", \
              { name = \"b\", resistance = \"0.3522204 m2 K/W\" }";
    let of = |layers| number(&laid_out("2x4 @ 16 in", layers, "")["heat"]["combined"], "r_m2k_w");
    near(of(us), of(si), 1e-6);
}

#[test]
fn each_surface_of_the_sample_house_has_heat_or_a_reason() {
    let (model, job) = (project_file("samples/house.ifc"), project_file("samples/house.toml"));
    let takeoff = saved_takeoff(&[&model], &["--job", job.to_str().unwrap()]);
    for surface in surfaces(&takeoff) {
        let reason = text(surface, "heat_reason");
        assert_ne!(surface["heat"].is_null(), reason.is_empty(), "{}", surface["id"]);
        if surface["counted"] == false {
            assert_eq!(reason, "not counted");
        }
        let Some(heat) = surface["heat"].as_object() else { continue };
        let of = |method: &str| number(&heat[method], "r_m2k_w");
        let (upper, lower, mean) = (of("parallel_path"), of("isothermal_planes"), of("combined"));
        assert!(lower <= mean && mean <= upper && upper <= 1.5 * lower, "{}", surface["id"]);
        near(number(&heat["combined"], "u_w_m2k") * mean, 1.0, 1e-12);
    }
    assert!(surfaces(&takeoff).iter().filter(|surface| !surface["heat"].is_null()).count() > 10);
    // Each value behind them stands once, with its source.
    let assumptions = takeoff["assumptions"].as_array().unwrap();
    for key in
        ["heat.films", "heat.film (outdoors)", "heat.framing_conductivity", "heat.gypsum board", "layer.Sheathing"]
    {
        let found: Vec<&Value> = assumptions.iter().filter(|assumption| text(assumption, "key") == key).collect();
        assert_eq!(found.len(), 1, "{key}");
        assert!(!text(found[0], "source").is_empty(), "{key}");
    }
}

// Layers that a job file gives reach a wall whose framing its sheet writes, by its pattern; a `[[layer]]` that fits no layer
// of the model is named.
#[test]
fn layers_are_given_by_pattern_as_well() {
    let sheet = "id,kind,assembly,length,height\nW-1,wall,2x4 @ 16 in,8 ft,97 1/8 in\n";
    let job = |pattern: &str| {
        format!("[assembly.a]\nframing = \"2x6 @ 16 in\"\nmatch = \"{pattern}\"\nlayers = [{BOARDS}]\n")
    };
    let wall = surface(sheet, &job("W-*"));
    near(number(&wall["heat"]["cavity"][0], "thickness_m"), 3.5 * 0.0254, 1e-9);
    assert_eq!(text(&surface(sheet, &job("X-*")), "heat_reason"), "layers not given");
    let (model, folder) = (project_file("samples/house.ifc"), tempfile::tempdir().unwrap());
    let path = folder.path().join("job.toml");
    let rule = "[[layer]]\nmatch = { layer = \"Cork*\" }\nconductivity = \"0.04 W/(m K)\"\n";
    fs::write(&path, rule).unwrap();
    let takeoff = saved_takeoff(&[&model], &["--job", path.to_str().unwrap()]);
    let findings = takeoff["findings"].as_array().unwrap();
    assert!(findings.iter().any(|finding| text(finding, "message").contains("`0.04 W/(m K)` fits no layer")));
}
