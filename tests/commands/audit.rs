//! `cavitally audit`

use super::support::{Outcome, Run, sample};
use crate::support::models;
use serde_json::Value;
use std::path::Path;

const CABIN: &str =
    "id,kind,length,height,assembly\nA,wall,16 ft,8 ft 1 1/8 in,2x4 @ 16 in\nB,wall,12 ft,8 ft 1 1/8 in,2x4 @ 16 in\n";

/// An audit of a plan against a sheet, both as text.
fn audit(sheet: &str, plan: &str, more: &[&str]) -> (Run, tempfile::TempDir) {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| {
        let path = folder.path().join(name);
        std::fs::write(&path, text).unwrap();
        path
    };
    let run = Run::new("audit")
        .arg(write("surfaces.csv", sheet))
        .args(["--bag", "25 lb"])
        .arg("--claims")
        .arg(write("plan.csv", plan))
        .args(more);
    (run, folder)
}

fn saved(mut run: Run, folder: &Path, status: i32) -> Value {
    let path = folder.join("x.json");
    run = run.arg("--save").arg(&path);
    run.status(status);
    serde_json::from_slice(&std::fs::read(path).unwrap()).unwrap()
}

fn refused(sheet: &str, plan: &str) -> Outcome {
    let (mut run, _folder) = audit(sheet, plan, &[]);
    run.status(2)
}

fn house() -> Run {
    Run::new("audit")
        .args([sample("house-surfaces.csv"), sample("house-openings.csv")])
        .arg("--job")
        .arg(sample("house.toml"))
        .arg("--claims")
        .arg(sample("house-claims.csv"))
}

/// The ten mistakes that are seeded in the sample plan: surfaces, figure, verdict, cause.
const SEEDED: [(&str, &str, &str, &str); 10] = [
    ("G-N", "net-area", "too-high", "gross-for-net"),
    ("G-W", "bags", "too-low", "density-below-minimum"),
    ("storey Ground floor, zone Living, walls", "gross-area", "too-high", "counted-twice"),
    ("U-E", "framing-fraction", "too-high", "default-framing"),
    ("U-S; U-N", "r-value", "too-high", "r-added"),
    ("N-S", "bay-area", "too-high", "framing-left-in"),
    ("N-F", "bags", "too-low", "other-bag"),
    ("O-W", "depth", "too-high", "nominal-depth"),
    ("A-1", "settled-thickness", "too-high", "installed-for-settled"),
    ("A-1", "r-value", "too-high", "r-per-inch"),
];

#[test]
fn the_sample_plan_has_its_ten_mistakes_and_no_other() {
    let folder = tempfile::tempdir().unwrap();
    let audit = saved(house(), folder.path(), 1);
    let text = |claim: &Value, key: &str| claim[key].as_str().unwrap_or_default().to_owned();
    let found: Vec<[String; 4]> = audit["claims"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|claim| !["holds", "not-compared"].contains(&claim["verdict"].as_str().unwrap()))
        .map(|claim| {
            let cause = claim["cause"]["cause"].as_str().unwrap_or("none").to_owned();
            [text(claim, "surfaces"), text(claim, "quantity"), text(claim, "verdict"), cause]
        })
        .collect();
    let due: Vec<[String; 4]> = SEEDED
        .iter()
        .map(|(surfaces, quantity, verdict, cause)| [surfaces, quantity, verdict, cause].map(|word| (*word).to_owned()))
        .collect();
    assert_eq!(found, due);
    assert_eq!(audit["fell_short"], 10);
    // What several methods give alike is said once.
    for claim in audit["claims"].as_array().unwrap() {
        let mut said: Vec<&str> = claim["cause"]["message"].as_str().unwrap_or_default().split(" or ").collect();
        let number = said.len();
        said.sort_unstable();
        said.dedup();
        assert_eq!(said.len(), number, "{}", claim["cause"]["message"]);
    }
}

#[test]
fn the_table_fits_80_columns_and_names_the_tolerances() {
    let run = house().status(1);
    assert!(run.stdout.lines().all(|line| line.chars().count() <= 80), "{}", run.stdout);
    for words in
        ["10 fall short", "likely cause: openings were not taken off", "Tolerances", "unlike bases are not compared"]
    {
        assert!(run.stdout.split_whitespace().collect::<Vec<_>>().join(" ").contains(words), "{words}");
    }
}

#[test]
fn a_plan_that_holds_ends_with_0() {
    // 16 ft by 8 ft 1 1/8 in. is 129.5 ft2.
    let (mut run, _folder) = audit(CABIN, "surface,gross area,depth\nA,129.5 ft2,3 1/2 in\nB,,3 1/2 in\n", &[]);
    let run = run.status(0);
    assert!(run.stdout.contains("3 claims: 3 hold, 0 fall short"), "{}", run.stdout);
}

#[test]
fn unlike_bases_are_never_compared() {
    let layers = "[assembly.w]\nmatch = \"*\"\nframing = \"2x4 @ 16 in\"\nlayers = [\"cavity\", { name = \"gypsum board\", thickness = \"1/2 in\" }]\n";
    let sheet = CABIN.replace("2x4 @ 16 in", "w");
    let folder = tempfile::tempdir().unwrap();
    let job = folder.path().join("job.toml");
    std::fs::write(&job, layers).unwrap();
    let plan = "surface,r value,basis\nA,R-13,label\nB,R-13,whole assembly\n";
    let (run, own) = audit(&sheet, plan, &["--job", job.to_str().unwrap()]);
    let audit = saved(run, own.path(), 1);
    assert_eq!(audit["claims"][0]["verdict"], "not-compared");
    assert!(audit["claims"][0]["reason"].as_str().unwrap().contains("unlike bases"));
    assert_eq!(audit["claims"][0]["ours_si"], Value::Null);
    assert_ne!(audit["claims"][1]["verdict"], "not-compared");
}

#[test]
fn two_claims_on_one_surface_are_named_and_not_added_up() {
    let (run, folder) = audit(CABIN, "surface,gross area\nA,129.5 ft2\nA,129.5 ft2\n*,226.6 ft2\n", &[]);
    let audit = saved(run, folder.path(), 0);
    let findings = audit["findings"].as_array().unwrap();
    assert_eq!(findings.len(), 1, "{findings:#?}");
    assert_eq!(findings[0]["code"], "claimed-twice");
    assert!(findings[0]["where"].as_str().unwrap().contains("plan.csv:3:3"));
}

#[test]
fn rows_without_surface_and_surfaces_without_row_are_listed() {
    let (run, folder) = audit(CABIN, "surface,bags\nC-*,3\n", &[]);
    let audit = saved(run, folder.path(), 1);
    assert_eq!(audit["claims"][0]["verdict"], "no-surface");
    assert_eq!(audit["claims_without_surface"].as_array().unwrap().len(), 1);
    assert_eq!(audit["surfaces_without_claim"], serde_json::json!(["A", "B"]));
}

#[test]
fn no_cause_is_named_where_two_fit_equally() {
    // The opening of the one wall is as large as the other wall: 168 ft2 in place of 128 ft2 may be the gross area, or the other
    // wall counted twice.
    let sheet = "surface,id,kind,length,height,assembly,width,offset,sill\n,A,wall,16 ft,8 ft,2x4 @ 16 in,,,\n\
                 ,B,wall,5 ft,8 ft,2x4 @ 16 in,,,\nA,W,window,,5 ft,,8 ft,4 ft,2 ft\n";
    let (run, folder) = audit(sheet, "surface,net area\nA; B,168 ft2\nA,128 ft2\nA,99 ft2\n", &[]);
    let audit = saved(run, folder.path(), 1);
    assert_eq!(audit["claims"][0]["cause"], Value::Null);
    assert_eq!(audit["claims"][0]["undecided"], serde_json::json!(["gross-for-net", "counted-twice"]));
    assert_eq!(audit["claims"][1]["cause"]["cause"], "gross-for-net");
    // Nothing gives 99 ft2, and nothing is blamed.
    assert_eq!(
        (&audit["claims"][2]["verdict"], &audit["claims"][2]["cause"]),
        (&Value::from("too-high"), &Value::Null)
    );
    let (mut run, _folder) = self::audit(sheet, "surface,net area\nA; B,168 ft2\n", &[]);
    assert!(run.status(1).stdout.contains("no cause is named"));
}

#[test]
fn an_attic_without_a_label_has_no_bags_to_compare() {
    let sheet = "id,kind,length,height,assembly,eaves\nA,ceiling,30 ft,20 ft,attic,0\n";
    let folder = tempfile::tempdir().unwrap();
    let job = folder.path().join("job.toml");
    std::fs::write(&job, "[assembly.attic]\nframing = \"2x4 @ 24 in\"\nthickness = \"12 in\"\n").unwrap();
    let (run, own) = audit(sheet, "surface,bags,gross area\nA,40,600 ft2\n", &["--job", job.to_str().unwrap()]);
    let audit = saved(run, own.path(), 0);
    let bags = audit["claims"].as_array().unwrap().iter().find(|claim| claim["quantity"] == "bags").unwrap();
    assert_eq!(bags["verdict"], "not-compared");
    assert!(bags["reason"].as_str().unwrap().contains("label"), "{bags:#}");
}

#[test]
fn what_cannot_be_read_is_refused_with_its_place() {
    for (plan, words) in [
        ("surface,net area\nA,252 hides\n", "`net area`: `hides` is no unit of area\n --> "),
        ("surface,area\nA,252 ft2\n", "does not say which one"),
        ("surface,r value\nA,R-13\n", "does not say what it is of"),
        ("<HPXML schemaVersion=\"2.3\"/>", "3 to 5 are read"),
        ("<!DOCTYPE x [<!ENTITY a \"b\">]><HPXML schemaVersion=\"4.2\">&a;</HPXML>", "document type"),
    ] {
        let run = refused(CABIN, plan);
        assert!(run.stderr.contains(words), "{words}: {}", run.stderr);
        assert!(run.stderr.contains("plan.csv:"), "{}", run.stderr);
        assert_eq!(run.stdout, "");
    }
}

#[test]
fn an_unknown_ending_and_an_input_are_no_place_to_save() {
    let (run, folder) = audit(CABIN, "surface,bags\nA,3\n", &[]);
    let plan = folder.path().join("plan.csv");
    assert!(run.arg("--save").arg("x.docx").status(2).stderr.contains("endings"));
    let (run, _own) = audit(CABIN, "surface,bags\nA,3\n", &[]);
    drop(folder);
    assert_eq!(run.arg("--save").arg(&plan).status(2).stdout, "");
}

#[test]
fn the_opinion_holds_every_claim_its_derivation_and_the_checksums() {
    let folder = tempfile::tempdir().unwrap();
    let (page, json) = (folder.path().join("x.html"), folder.path().join("x.json"));
    house().arg("--save").arg(&page).arg("--save").arg(&json).status(1);
    let page = std::fs::read_to_string(page).unwrap();
    let audit: Value = serde_json::from_slice(&std::fs::read(json).unwrap()).unwrap();
    let number = audit["claims"].as_array().unwrap().len();
    assert!(page.contains(&format!("<p>{number} claims: ")));
    let files = |key: &str| audit[key].as_array().unwrap().clone();
    for file in [files("inputs"), files("job_files")].concat() {
        assert!(page.contains(file["sha256"].as_str().unwrap()), "{file}");
    }
    for words in [
        "How ours was derived",
        "Licence number",
        "Signature",
        "Rater",
        "Tolerances",
        "Photo numbers",
        "How it was verified",
    ] {
        assert!(page.contains(words), "{words}");
    }
    // The job file names the rater and gives no licence number.
    for field in [
        "<span>Rater</span><span>an invented rater</span>",
        "<span>Licence number</span><span class=\"blank\"></span>",
        "<span>Measured on</span><span>2026-05-04</span>",
        "<span>Editions in force here</span><span>IECC 2021</span>",
    ] {
        assert!(page.contains(field), "{field}");
    }
    assert!(!page.contains("<script") && !page.contains("http"), "the page needs nothing from elsewhere");
}

/// ISO 32000-1: a file begins with its version and ends with a mark.
#[test]
fn the_opinion_is_saved_on_paper_and_twice_the_same() {
    let folder = tempfile::tempdir().unwrap();
    let paper = |name: &str| {
        let path = folder.path().join(name);
        house().arg("--save").arg(&path).status(1);
        std::fs::read(path).unwrap()
    };
    let first = paper("opinion.pdf");
    assert!(first.starts_with(b"%PDF-1.") && first.trim_ascii_end().ends_with(b"%%EOF"));
    assert_eq!(first, paper("again.PDF"));
}

#[test]
fn hpxml_is_a_plan_and_an_input() {
    let run = Run::new("audit")
        .args([sample("house-surfaces.csv"), sample("house-openings.csv")])
        .arg("--job")
        .arg(sample("house.toml"))
        .arg("--claims")
        .arg(sample("house-plan.xml"))
        .status(1);
    assert!(run.stdout.contains("9 claims: 6 hold, 2 fall short, 1 not compared"), "{}", run.stdout);
    assert!(run.stderr.contains("not used of each `Wall`: Siding"), "{}", run.stderr);
    let run = Run::new("takeoff")
        .arg(sample("house-plan.xml"))
        .args(["--bag", "25 lb", "--set", "layout.vent_gap=1 in"])
        .status(0);
    assert!(run.stdout.contains("G-S"), "{}", run.stdout);
}

#[test]
fn the_standards_own_samples_are_read() {
    let Some(models) = models("the_standards_own_samples_are_read") else { return };
    let folder = models.join("hpxml");
    for name in ["audit.xml", "upgrade.xml", "bpi2101.xml"] {
        let outcome = Run::new("audit")
            .arg(sample("cabin.csv"))
            .args(["--bag", "25 lb", "--claims"])
            .arg(folder.join(name))
            .status(1);
        // Their walls claim an R of the label, and none of the cabin's surfaces has their ids.
        assert!(outcome.stdout.contains("R, label R-1"), "{name}: {}", outcome.stdout);
        assert!(outcome.stderr.contains("not used of the enclosure: AirInfiltration"), "{name}: {}", outcome.stderr);
    }
}

fn hpxml(enclosure: &str, folder: &Path) -> std::path::PathBuf {
    let path = folder.join("home.xml");
    let text = format!(
        "<HPXML schemaVersion=\"4.2\"><Building><BuildingDetails><Enclosure>{enclosure}</Enclosure></BuildingDetails></Building>\
         </HPXML>"
    );
    std::fs::write(&path, text).unwrap();
    path
}

fn taken_off(path: &Path, more: &[&str]) -> Value {
    saved(Run::new("takeoff").arg(path).args(["--bag", "25 lb"]).args(more), path.parent().unwrap(), 0)
}

// 430 ft2 of wall less 30 % of framing at 3.5 in. are 430 x 0.7 x 3.5 / 12 = 87.79 ft3, by hand; 1 ft3 = 0.028316846592 m3.
#[test]
fn a_framing_factor_of_hpxml_is_used_and_its_source_named() {
    let folder = tempfile::tempdir().unwrap();
    let wall = "<Walls><Wall><SystemIdentifier id=\"w\"/><ExteriorAdjacentTo>outside</ExteriorAdjacentTo><Area>430</Area><Studs>\
                <Size>2x4</Size><Spacing>16</Spacing><FramingFactor>0.30</FramingFactor></Studs></Wall></Walls>";
    let path = hpxml(wall, folder.path());
    let takeoff = taken_off(&path, &[]);
    let volume_m3 = takeoff["surfaces"][0]["bay_volume_m3"].as_f64().unwrap();
    assert!((volume_m3 - 430.0 * 0.7 * 3.5 / 12.0 * 0.028_316_846_592).abs() < 1e-9, "{volume_m3}");
    let listed = takeoff["assumptions"].as_array().unwrap();
    let found = listed.iter().find(|one| one["key"] == "layout.wall_fraction").unwrap();
    assert_eq!(found["value"], "0.3");
    assert!(found["source"].as_str().unwrap().starts_with("given by "), "{found}");
}

// Fill over an attic floor lies open and settles; it is no closed bay as deep as the joists (16 CFR 460.12(b)(2) speaks of its
// thickness). Two rows of studs hold what is between them too.
#[test]
fn what_hpxml_frames_in_part_is_counted_only_as_the_job_file_says() {
    let folder = tempfile::tempdir().unwrap();
    let enclosure = "<Walls><Wall><SystemIdentifier id=\"w\"/><ExteriorAdjacentTo>outside</ExteriorAdjacentTo><WallType>\
        <DoubleWoodStud/></WallType><Area>100</Area><Studs><Size>2x4</Size><Spacing>16</Spacing></Studs></Wall></Walls><Floors>\
        <Floor><SystemIdentifier id=\"a\"/><ExteriorAdjacentTo>attic - vented</ExteriorAdjacentTo><FloorJoists><Size>2x4</Size>\
        <Spacing>24</Spacing></FloorJoists><Area>900</Area></Floor></Floors>";
    let path = hpxml(enclosure, folder.path());
    for more in [&[][..], &["--frame", "2x6 @ 16 in"][..]] {
        let takeoff = taken_off(&path, more);
        let reasons: Vec<&str> =
            takeoff["surfaces"].as_array().unwrap().iter().map(|one| one["reason"].as_str().unwrap_or("")).collect();
        assert_eq!(reasons, ["two rows of studs: no depth given", "attic floor: no thickness given"], "{more:?}");
        let codes =
            takeoff["findings"].as_array().unwrap().iter().filter(|one| one["code"] == "framing-unknown").count();
        assert_eq!(codes, 2);
    }
    let job = folder.path().join("job.toml");
    let text = "[assembly.attic]\nlike = \"attic truss ceiling\"\nmatch = \"a\"\nthickness = \"14 in\"\n\n[assembly.double]\n\
                match = \"w\"\nframing = \"2x4 @ 16 in + gap 4 in + 2x4 @ 16 in\"\n";
    std::fs::write(&job, text).unwrap();
    let takeoff = taken_off(&path, &["--job", job.to_str().unwrap()]);
    let surfaces = takeoff["surfaces"].as_array().unwrap();
    let uses: Vec<&str> = surfaces.iter().map(|one| one["use"].as_str().unwrap_or("")).collect();
    assert_eq!(uses, ["closed cavity", "open-blown"]);
    // 3.5 in. twice and 4 in. between them.
    assert!((surfaces[0]["depth_m"].as_f64().unwrap() - 11.0 * 0.0254).abs() < 1e-9);
}

// The table of the claims' columns: `type` is the name of the type, else of the assembly.
#[test]
fn an_assembly_is_chosen_by_its_name() {
    let folder = tempfile::tempdir().unwrap();
    let job = folder.path().join("job.toml");
    std::fs::write(&job, "[assembly.\"outer wall\"]\nframing = \"2x4 @ 16 in\"\n").unwrap();
    let sheet = CABIN.replace("2x4 @ 16 in", "outer wall");
    // 28 ft by 8 ft 1 1/8 in. are 226.6 ft2.
    let plan = "type,gross area\nouter wall,226.6 ft2\nouter wall*,226.6 ft2\nouter wall: 2x4 @ 16 in,226.6 ft2\n";
    let (mut run, _own) = audit(&sheet, plan, &["--job", job.to_str().unwrap()]);
    assert!(run.status(0).stdout.contains("3 claims: 3 hold"));
}
