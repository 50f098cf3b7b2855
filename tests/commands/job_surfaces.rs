//! What the job file says of surfaces, through the whole program: on the sample model, and beside sheets that say the same.

use super::support::{Run, sample};
use serde_json::Value;
use std::fs;

/// The takeoff of inputs with a job file; `house` puts the text behind the sample house's own job.
fn takeoff(inputs: &[&str], job: &str) -> Value {
    let folder = tempfile::tempdir().unwrap();
    let (path, out) = (folder.path().join("job.toml"), folder.path().join("x.json"));
    fs::write(&path, job).unwrap();
    fs::copy(sample("house-label.csv"), folder.path().join("house-label.csv")).unwrap();
    let sheets: Vec<_> = inputs
        .iter()
        .enumerate()
        .map(|(number, text)| {
            let path = folder.path().join(format!("{number}.csv"));
            fs::write(&path, text).unwrap();
            path
        })
        .collect();
    let mut run = Run::new("takeoff");
    run = if sheets.is_empty() { run.arg(sample("house.ifc")) } else { run.args(&sheets) };
    run.arg("--job").arg(&path).args(["--exposure", "all", "--save"]).arg(&out).status(0);
    serde_json::from_slice(&fs::read(&out).unwrap()).unwrap()
}

/// The sample house's job file up to what it says of surfaces, with more behind it.
fn house_job(more: &str) -> String {
    let own = fs::read_to_string(sample("house.toml")).unwrap();
    let tables: Vec<&str> = own.split("\n\n").filter(|block| !block.contains("[[surface")).collect();
    format!("{}\n\n{more}", tables.join("\n\n"))
}

fn surfaces<'t>(takeoff: &'t Value, name: &str) -> Vec<&'t Value> {
    takeoff["surfaces"].as_array().unwrap().iter().filter(|one| one["name"] == name).collect()
}

fn number(surface: &Value, key: &str) -> f64 {
    surface[key].as_f64().unwrap()
}

fn roles(surface: &Value, role: &str) -> usize {
    surface["members"].as_array().unwrap().iter().filter(|member| member["role"] == role).count()
}

/// Messages of the findings of a code, with their severity before them.
fn findings(takeoff: &Value, code: &str) -> Vec<String> {
    let all = takeoff["findings"].as_array().unwrap().iter().filter(|finding| finding["code"] == code);
    all.map(|one| format!("{} {}", one["severity"].as_str().unwrap(), one["message"].as_str().unwrap())).collect()
}

/// Value and source of the assumptions of a key.
fn assumed<'t>(takeoff: &'t Value, key: &str) -> Vec<(&'t str, &'t str)> {
    let all = takeoff["assumptions"].as_array().unwrap().iter().filter(|one| one["key"] == key);
    all.map(|one| (one["value"].as_str().unwrap(), one["source"].as_str().unwrap())).collect()
}

fn assert_balances(takeoff: &Value) {
    for surface in takeoff["surfaces"].as_array().unwrap() {
        let parts = ["opening_area_m2", "member_area_m2", "bay_area_m2", "left_out_area_m2"];
        let sum: f64 = parts.iter().map(|key| number(surface, key)).sum();
        let gross = number(surface, "gross_area_m2");
        assert!((sum - gross).abs() <= 1e-9 * gross, "{} {}", surface["name"], sum - gross);
    }
}

// Each in its own way shows in what is measured of a surface of the model.
#[test]
fn every_key_is_taken_up_by_surfaces_of_a_model() {
    let before = takeoff(&[], &house_job(""));
    let after = takeoff(
        &[],
        &house_job(
            r#"
[[surface]]
match = "U-S"
corners = "both"
partitions = "at 12', 19' 6\""
source = "drawing A-201"

[[surface]]
match = { name = "G-N" }
depth = "5 1/4 in"
existing = "glass fibre batt 40 %"
do_not_fill = "all: wiring"
surveyed = true

[[surface]]
match = "U-N"
floors = "4' to 4' 10\""

[[surface]]
match = "A-1"
eaves = "40 ft"
heel_height = "6 in"
roof_pitch = "4:12"

[[surface.opening]]
id = "L3"
kind = "light"
width = "6 1/2 in"
height = "6 1/2 in"
offset = "20 ft"
sill = "20 ft"
"#,
        ),
    );
    assert_balances(&after);
    let pair = |name: &str| (surfaces(&before, name)[0], surfaces(&after, name)[0]);
    let (plain, said) = pair("U-S");
    assert_eq!((roles(plain, "corner post"), roles(said, "corner post")), (0, 2), "{said}");
    assert!(number(said, "member_area_m2") > number(plain, "member_area_m2"));
    let (_, said) = pair("G-N");
    assert!((number(said, "depth_m") - 5.25 * 0.0254).abs() < 1e-12);
    assert!((number(said, "mass_kg")).abs() < 1e-12 && said["bays"].as_array().unwrap().is_empty());
    assert!(said["left_out"].as_array().unwrap().iter().any(|piece| piece["reason"] == "wiring"));
    // A wall that is cut at a floor falls into a piece below, a rim strip and a piece above.
    assert_eq!((surfaces(&before, "U-N").len(), surfaces(&after, "U-N").len()), (1, 2));
    assert_eq!(surfaces(&after, "U-N, rim strip").len(), 1);
    let (plain, said) = pair("A-1");
    assert!(number(said, "bay_volume_m3") < number(plain, "bay_volume_m3"));
    // The light takes its square out.
    let taken = number(said, "opening_area_m2") - number(plain, "opening_area_m2");
    assert!((taken - (6.5_f64 * 0.0254).powi(2)).abs() < 1e-9, "{taken}");
    assert_eq!(assumed(&after, "surface.corners"), [("both", "job file: drawing A-201; for 1: U-S")]);
    assert_eq!(assumed(&after, "surface.heel_height"), [("6 in", "job file; for 1: A-1")]);
    assert_eq!(findings(&after, "rule-misfit"), [""; 0]);
}

#[test]
fn what_does_not_fit_a_surface_is_said_and_the_rest_is_taken_up() {
    let job = house_job(
        r#"
[[surface]]
match = { name = ["U-S", "A-1"] }
eaves = "long sides"
partitions = "at 40'"
do_not_fill = "bay 90: duct; 35' to 36': panel; 1' to 3': heater"

[[surface.platform]]
width = "8 ft"
height = "4 ft"
offset = "26 ft"
sill = "1 ft"

[[surface]]
match = "Nothing*"
surveyed = true

[[surface]]
match = "A-1"

[[surface.opening]]
match = "Z9*"
clearance = "0 in"
"#,
    );
    let takeoff = takeoff(&[], &job);
    assert_balances(&takeoff);
    let line = |text: &str| 1 + job.lines().position(|line| line.contains(text)).unwrap();
    let misfits = findings(&takeoff, "rule-misfit");
    let says = |name: &str, key: &str, line: usize, what: &str| {
        let is_it = |text: &&String| {
            text.starts_with(&format!("warning `{key}` of a `[[surface]]`"))
                && text.contains(&format!("job.toml:{line})"))
                && text.contains(&format!("`{name}`"))
                && text.contains(what)
        };
        assert_eq!(misfits.iter().filter(is_it).count(), 1, "{name} {key} {line} {what}: {misfits:#?}");
    };
    says("U-S", "eaves", line("at 40'") - 1, "for ceilings under an attic");
    says("U-S", "partitions", line("at 40'"), "the wall ends at 31'-1");
    says("A-1", "partitions", line("at 40'"), "for walls alone");
    says("U-S", "do_not_fill", line("bay 90"), "the stretch ends at 36'");
    says("A-1", "do_not_fill", line("bay 90"), "the stretch ends at 36'");
    says("U-S", "platform", line("[[surface.platform]]"), "does not hold it");
    says("A-1", "platform", line("[[surface.platform]]"), "does not hold it");
    assert_eq!(misfits.len(), 7, "{misfits:#?}");
    // Bays are numbered when they are cut: then a number that none has is found, at the same line.
    let empty = findings(&takeoff, "do-not-fill");
    let at = format!("job.toml:{}", line("bay 90"));
    assert!(empty.iter().any(|text| text.starts_with("warning bay 90") && text.contains(&at)), "{empty:#?}");
    assert!(empty.iter().any(|text| text.starts_with("note the stretch") && text.contains("heater")), "{empty:#?}");
    let unused = findings(&takeoff, "rule-unused");
    assert_eq!(
        unused,
        ["note this `[[surface]]` fits no surface", "note the pattern `Z9*` fits no opening of the surfaces"]
    );
}

// The first table that gives a key counts; one that does not fit gives nothing.
#[test]
fn tables_apply_in_their_order() {
    let job = "[[surface]]\nmatch = \"W?\"\nfloors = \"7 ft to 9 ft\"\ndepth = \"3 in\"\n\
               [[surface]]\nmatch = \"W1\"\nfloors = \"4 ft to 5 ft\"\ndepth = \"2 in\"\n\
               do_not_fill = \"none\"\n";
    let sheet = "id,kind,assembly,length,height\nW1,wall,2x4 @ 16 in,12 ft,8 ft\nW2,wall,2x4 @ 16 in,12 ft,8 ft\n";
    let takeoff = takeoff(&[sheet], job);
    let of = |id: &str| -> Vec<&Value> {
        takeoff["surfaces"].as_array().unwrap().iter().filter(|one| one["id"] == id).collect()
    };
    assert_eq!((of("W1").len(), of("W2").len()), (3, 1));
    for surface in [of("W1"), of("W2")].concat() {
        // By hand: across the strip at the floor (part 2) stands a band of 1 1/2 in.
        let due = if surface["part"] == 2 { 3.0 - 1.5 } else { 3.0 };
        assert!((number(surface, "depth_m") - due * 0.0254).abs() < 1e-12);
    }
    assert_eq!(assumed(&takeoff, "surface.depth"), [("3 in", "job file; for 2: W1, W2")]);
    assert_eq!((&of("W1")[0]["surveyed"], &of("W2")[0]["surveyed"]), (&Value::from(true), &Value::Null));
}

// A cell wins, an empty one takes the job file's, and a cell that says `none` or `0` has said it.
#[test]
fn what_a_row_says_itself_wins() {
    let job = "[[surface]]\nmatch = \"*\"\ndepth = \"3 in\"\ncorners = 2\nexisting = \"batt 50 %\"\n\
               do_not_fill = \"bay 1: duct\"\n[assembly.old]\nframing = \"2x4 @ 16 in\"\nexisting = \"wool 20 %\"\n";
    let sheet = "id,kind,assembly,length,height,depth,corners,existing,do_not_fill\n\
                 W1,wall,old,12 ft,8 ft,4 in,0,none,none\nW2,wall,old,12 ft,8 ft,,,,\n";
    let takeoff = takeoff(&[sheet], job);
    let [own, said] = [0, 1].map(|index| &takeoff["surfaces"][index]);
    assert!((number(own, "depth_m") - 4.0 * 0.0254).abs() < 1e-12);
    assert!((number(said, "depth_m") - 3.0 * 0.0254).abs() < 1e-12);
    assert_eq!((roles(own, "corner post"), roles(said, "corner post")), (0, 2));
    assert!(number(own, "left_out_volume_m3").abs() < 1e-12, "nothing is there, and nothing stays empty: {own}");
    let reasons: Vec<&str> =
        said["left_out"].as_array().unwrap().iter().map(|piece| piece["reason"].as_str().unwrap()).collect();
    assert_eq!(reasons, ["duct", "filled already: batt"]);
    assert_eq!(assumed(&takeoff, "surface.corners"), [("2", "job file; for 1: W2")]);
    assert!(findings(&takeoff, "rule-unused").is_empty() && findings(&takeoff, "rule-misfit").is_empty());
}

/// A wall and a ceiling, with all that a sheet can say of them in their rows; and the same said by a job file.
const ROWS: &str = r#"id,kind,assembly,length,height,pitch,depth,corners,partitions,floors,existing,do_not_fill,eaves,heel_height
W,wall,2x4 @ 16 in,20 ft,17 ft,,3 3/4 in,both,"at 4', 10' 6""","8' 1-1/8"" to 9' 0-3/8""","glass fibre batt 50 %","4' to 6': panel",,
C,ceiling,attic,24 ft,20 ft,6:12,,,,,cellulose 3.5 in,,48 ft,7 1/4 in
"#;
const OPENINGS: &str = "surface,id,kind,width,height,sill,offset,flue,clearance\nC,F1,flue,8 in,8 in,15',4',type B,\n\
                        C,L1,light,8 in,8 in,12',20',,0 in\nC,P1,platform,8',4',6',8',,\n";
const BARE_ROWS: &str = "id,kind,assembly,length,height\nW,wall,2x4 @ 16 in,20 ft,17 ft\nC,ceiling,attic,24 ft,20 ft\n";
const ATTIC: &str = "[assembly.attic]\nframing = \"2x4 @ 24 in\"\nthickness = \"14 in\"\n";
const SAID: &str = r#"
[[surface]]
match = "W"
depth = "3 3/4 in"
corners = "both"
partitions = "at 4', 10' 6\""
floors = "8' 1-1/8\" to 9' 0-3/8\""
existing = "glass fibre batt 50 %"
do_not_fill = "4' to 6': panel"

[[surface]]
match = { name = "C" }
existing = "cellulose 3.5 in"
roof_pitch = "6:12"
eaves = "48 ft"
heel_height = "7 1/4 in"
platform = [{ width = "8 ft", height = "4 ft", offset = "8 ft", sill = "6 ft" }]
opening = [
    { id = "F1", kind = "flue", width = "8 in", height = "8 in", offset = "4 ft", sill = "15 ft", flue = "type B" },
    { id = "L1", kind = "light", width = "8 in", height = "8 in", offset = "20 ft", sill = "12 ft", clearance = "0 in" },
]
"#;

#[test]
fn a_job_file_says_what_a_row_can_say() {
    let rows = takeoff(&[ROWS, OPENINGS], ATTIC);
    let said = takeoff(&[BARE_ROWS], &format!("{ATTIC}{SAID}"));
    let of = |takeoff: &Value| -> Vec<Value> {
        let mut all = takeoff["surfaces"].as_array().unwrap().clone();
        for surface in &mut all {
            surface.as_object_mut().unwrap().remove("source");
        }
        all
    };
    assert_eq!(of(&rows).len(), 4, "three pieces of a wall, and a ceiling");
    assert_eq!(of(&rows), of(&said));
    assert_eq!(rows["fills"], said["fills"]);
}

// The commented example of `start` is read as it stands, without its marks.
#[test]
fn the_example_of_start_is_a_table() {
    let text = fs::read_to_string(sample("start/job.toml")).unwrap();
    let block = text.lines().skip_while(|line| *line != "# [[surface]]").take_while(|line| line.starts_with("# "));
    let example: Vec<&str> = block.filter_map(|line| line.strip_prefix("# ")).collect();
    let job = cavitally::job::read_job("job.toml", &example.join("\n")).expect("the example can be read");
    let keys: Vec<&str> = job.surface_rules[0].said.iter().map(|said| said.value.key().word()).collect();
    let all = [
        "depth",
        "corners",
        "partitions",
        "floors",
        "existing",
        "do_not_fill",
        "surveyed",
        "wiring",
        "released_by",
        "eaves",
        "heel_height",
        "roof_pitch",
        "platform",
        "opening",
    ];
    assert_eq!(keys, all);
}
