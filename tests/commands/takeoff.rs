//! `cavitally takeoff`

use super::support::{Run, sample};
use serde_json::Value;
use sha2::{Digest, Sha256};
use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};

fn start() -> Run {
    Run::new("takeoff").args([sample("start/surfaces.csv"), sample("start/openings.csv")])
}

fn sheet(folder: &Path, text: &str) -> std::path::PathBuf {
    let path = folder.join("sheet.csv");
    fs::write(&path, text).unwrap();
    path
}

fn saved(run: Run, folder: &Path) -> Value {
    let path = folder.join("x.json");
    run.arg("--save").arg(&path).status(0);
    serde_json::from_slice(&fs::read(&path).unwrap()).unwrap()
}

fn codes(takeoff: &Value) -> Vec<&str> {
    takeoff["findings"].as_array().unwrap().iter().map(|finding| finding["code"].as_str().unwrap()).collect()
}

#[test]
fn the_table_fits_eighty_columns() {
    let inputs = ["samples/start/surfaces.csv", "samples/start/openings.csv", "--bag", "25 lb"];
    for (name, more) in [("us", ["--units", "us"]), ("si", ["--units", "si"])] {
        let outcome = Run::new("takeoff").args(inputs).args(more).status(0);
        for line in outcome.stdout.lines() {
            assert!(line.chars().count() <= 80, "{line}");
        }
        insta::with_settings!({snapshot_path => "../snapshots", prepend_module_to_snapshot => false}, {
            insta::assert_snapshot!(format!("takeoff-{name}"), outcome.stdout);
        });
    }
}

#[test]
fn figures_of_the_file_agree_with_each_other() {
    let folder = tempfile::tempdir().unwrap();
    let takeoff = saved(start().args(["--bag", "25 lb"]), folder.path());
    let f = |value: &Value| value.as_f64().unwrap();
    let near = |a: f64, b: f64| assert!((a - b).abs() <= 1e-9 * b.abs().max(1.0), "{a} {b}");
    let mut mass_kg = 0.0;
    for surface in takeoff["surfaces"].as_array().unwrap() {
        let count = f(&surface["count"]);
        let bays = surface["bays"].as_array().unwrap();
        near(bays.iter().map(|bay| f(&bay["mass_kg"])).sum::<f64>() * count, f(&surface["mass_kg"]));
        for quantity in ["area_m2", "volume_m3"] {
            let of = |part: &str| f(&surface[format!("{part}_{quantity}")]);
            near(of("gross"), of("opening") + of("member") + of("bay") + of("left_out"));
        }
        mass_kg += f(&surface["mass_kg"]);
    }
    let fill = &takeoff["fills"][0];
    near(f(&fill["mass_kg"]), mass_kg);
    let order = (f(&fill["bags_exact"]) * (1.0 + f(&fill["allowance"])) - 1e-9).ceil();
    near(f(&fill["bags_order"]), order);
    let staged: f64 = fill["staging"].as_array().unwrap().iter().map(|stage| f(&stage["bags"])).sum();
    near(staged, order);
    let balance = &takeoff["balance"];
    assert!(f(&balance["residual_m2"]).abs() <= 1e-9 * f(&balance["gross_area_m2"]));
    near(f(&balance["elements_read"]), f(&balance["elements_counted"]) + f(&balance["elements_left_out"]));
}

#[test]
fn the_same_bytes_come_out_for_any_number_of_threads() {
    let folder = tempfile::tempdir().unwrap();
    let mut outputs = Vec::new();
    for threads in ["1", "7"] {
        let path = folder.path().join(format!("{threads}.json"));
        let status = Command::new(assert_cmd::cargo::cargo_bin("cavitally"))
            .env("RAYON_NUM_THREADS", threads)
            .args([sample("start/surfaces.csv"), sample("start/openings.csv")].iter().fold(
                vec!["takeoff".into()],
                |mut all, path| {
                    all.push(path.clone().into_os_string());
                    all
                },
            ))
            .arg("--save")
            .arg(&path)
            .stderr(Stdio::null())
            .status()
            .unwrap();
        assert!(status.success());
        outputs.push(fs::read(&path).unwrap());
    }
    assert!(outputs[0] == outputs[1]);
}

#[test]
fn surfaces_without_framing_are_reported_and_never_ordered() {
    let folder = tempfile::tempdir().unwrap();
    let path = sheet(folder.path(), "id,kind,length,height\nW1,wall,10 ft,8 ft\n");
    let outcome = Run::new("takeoff").arg(&path).status(0);
    assert!(!outcome.stdout.contains("bags"), "{}", outcome.stdout);
    assert!(outcome.stderr.contains("warning[little-counted]") && outcome.stderr.contains("--frame"));
    Run::new("takeoff").arg(&path).arg("--strict").status(1);
    let takeoff = saved(Run::new("takeoff").arg(&path), folder.path());
    let surface = &takeoff["surfaces"][0];
    assert_eq!((&surface["counted"], &surface["reason"]), (&Value::from(false), &Value::from("framing not known")));
    for null in ["depth_m", "gross_volume_m3", "bay_volume_m3", "framing_fraction", "fill", "density_kg_m3", "mass_kg"]
    {
        assert!(surface[null].is_null(), "{null}");
    }
    assert_eq!(surface["left_out"].as_array().unwrap().len(), 1);
    // 10 ft by 8 ft is 7.432 243 2 m2 exactly.
    assert!((surface["left_out"][0]["area_m2"].as_f64().unwrap() - 7.432_243_2).abs() < 1e-9);
    assert_eq!(takeoff["fills"], Value::Array(Vec::new()));
}

#[test]
fn a_frame_option_counts_them_and_an_unused_one_is_a_finding() {
    let folder = tempfile::tempdir().unwrap();
    let path = sheet(folder.path(), "id,kind,length,height\nW1,wall,10 ft,8 ft\n");
    let run = || Run::new("takeoff").arg(&path).args(["--frame", "2x6 @ 24 in"]);
    let takeoff = saved(run(), folder.path());
    assert_eq!(takeoff["surfaces"][0]["counted"], Value::from(true));
    let depth_m = takeoff["surfaces"][0]["depth_m"].as_f64().unwrap();
    // A dressed 2x6 is 5 1/2 in. deep: PS 20.
    assert!((depth_m - 0.1397).abs() < 1e-12);
    assert!(codes(&takeoff).contains(&"bag-unknown"));
    let takeoff = saved(run().args(["--frame", "Garage*: 2x4 @ 16 in"]), folder.path());
    assert!(codes(&takeoff).contains(&"rule-unused"));
    run().args(["--frame", "2x4 @ 16 in"]).status(2);
    run().args(["--frame", "Garage*: studs"]).status(2);
}

#[test]
fn count_multiplies_areas_and_masses_and_not_the_lists() {
    let folder = tempfile::tempdir().unwrap();
    let of = |count: &str| {
        let text = format!("id,kind,assembly,length,height,count\nW1,wall,2x4 @ 16 in,12 ft,8 ft,{count}\n");
        saved(Run::new("takeoff").arg(sheet(folder.path(), &text)), folder.path())["surfaces"][0].clone()
    };
    let (one, three) = (of("1"), of("3"));
    for key in ["gross_area_m2", "member_area_m2", "bay_volume_m3", "mass_kg"] {
        let (a, b) = (one[key].as_f64().unwrap(), three[key].as_f64().unwrap());
        assert!((3.0 * a - b).abs() < 1e-9 * b, "{key}: {a} {b}");
    }
    assert_eq!(one["bays"], three["bays"]);
}

#[test]
fn an_unknown_assembly_is_refused_with_the_known_names() {
    let folder = tempfile::tempdir().unwrap();
    let path = sheet(folder.path(), "id,kind,assembly,length,height\nW1,wall,otuer,10 ft,8 ft\n");
    let job = folder.path().join("job.toml");
    fs::write(&job, "[assembly.outer]\nframing = \"2x6 @ 16 in\"\n").unwrap();
    let outcome = Run::new("takeoff").arg(&path).arg("--job").arg(&job).status(2);
    for expected in ["sheet.csv:2", "`otuer`", "did you mean `outer`", "2x6 @ 24 in"] {
        assert!(outcome.stderr.contains(expected), "{expected}: {}", outcome.stderr);
    }
    let takeoff = saved(Run::new("takeoff").arg(&path).arg("--keep-going"), folder.path());
    assert_eq!(takeoff["surfaces"][0]["reason"], Value::from("assembly not known"));
    assert!(codes(&takeoff).contains(&"framing-unknown"));
}

#[test]
fn one_file_is_not_saved_twice() {
    let folder = tempfile::tempdir().unwrap();
    let (plain, roundabout) = (folder.path().join("x.json"), folder.path().join(".").join("x.json"));
    let outcome = start().arg("--save").arg(plain).arg("--save").arg(roundabout).status(2);
    assert!(outcome.stderr.contains("saved twice"), "{}", outcome.stderr);
}

#[test]
fn no_file_is_left_when_one_cannot_be_written() {
    let folder = tempfile::tempdir().unwrap();
    let good = folder.path().join("good.json");
    let outcome = start().arg("--save").arg(&good).arg("--save").arg(folder.path().join("missing/x.csv")).status(2);
    assert!(outcome.stderr.contains("missing/x.csv"), "{}", outcome.stderr);
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
}

#[test]
fn a_wrong_ending_is_refused_before_any_work() {
    let outcome = Run::new("takeoff").arg("no-such-input.csv").args(["--save", "x.docx"]).status(2);
    assert!(outcome.stderr.contains(".bays.csv"), "{}", outcome.stderr);
    assert!(!outcome.stderr.contains("no-such-input"), "{}", outcome.stderr);
}

#[test]
fn an_input_is_never_overwritten() {
    let folder = tempfile::tempdir().unwrap();
    let text = "id,kind,assembly,length,height\nW1,wall,2x4 @ 16 in,10 ft,8 ft\n";
    let path = sheet(folder.path(), text);
    Run::new("takeoff").arg(&path).arg("--save").arg(&path).status(2);
    assert_eq!(fs::read_to_string(&path).unwrap(), text);
}

#[test]
fn wrong_arguments_and_missing_inputs_end_with_two() {
    for args in [
        &["--bag", "25"][..],
        &["--exposure", "outside"],
        &["--units", "feet"],
        &["--job", "no-such-job.toml"],
        &["--nonsense"],
    ] {
        let outcome = start().args(args).status(2);
        assert_eq!(outcome.stdout, "");
        assert!(!outcome.stderr.is_empty());
    }
    Run::new("takeoff").status(2);
    Run::new("takeoff").arg("no such file.csv").status(2);
    Run::new("takeof").status(2);
}

#[test]
fn tables_are_safe_in_a_spreadsheet_and_have_a_row_for_each() {
    let folder = tempfile::tempdir().unwrap();
    let text = "id,kind,storey,assembly,length,height\n=1+1,wall,@home,2x4 @ 16 in,10 ft,8 ft\n";
    let path = sheet(folder.path(), text);
    let (surfaces, bays) = (folder.path().join("s.csv"), folder.path().join("bays.csv"));
    Run::new("takeoff").arg(&path).arg("--save").arg(&surfaces).arg("--save").arg(&bays).status(0);
    let rows = |path: &Path| -> Vec<csv::StringRecord> {
        csv::Reader::from_path(path).unwrap().records().map(Result::unwrap).collect()
    };
    let surfaces = rows(&surfaces);
    assert_eq!(surfaces.len(), 1);
    assert_eq!(&surfaces[0][0], "'=1+1");
    assert_eq!(&surfaces[0][7], "'@home");
    // Studs stand at 16, 32, … 112 in. between two end studs: eight bays in 10 ft.
    assert_eq!(rows(&bays).len(), 8);
}

#[test]
fn a_pipe_that_closes_early_is_no_error() {
    let mut child = Command::new(assert_cmd::cargo::cargo_bin("cavitally"))
        .args(["schema", "takeoff"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // Closed before anything is read.
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    assert!(output.stderr.is_empty());
}

#[test]
fn control_characters_never_reach_the_terminal() {
    let folder = tempfile::tempdir().unwrap();
    let text = "id,kind,storey,length,height\n\"W\u{1b}[31m\",wall,\"a\u{7}b\",10 ft,8 ft\n";
    let path = sheet(folder.path(), text);
    let outcome = Run::new("takeoff").arg(&path).outcome();
    assert!(!format!("{}{}", outcome.stdout, outcome.stderr).contains(['\u{1b}', '\u{7}']));
}

#[test]
fn many_surfaces_are_shown_by_type_and_storey() {
    let folder = tempfile::tempdir().unwrap();
    let mut text = String::from("id,kind,storey,assembly,length,height\n");
    for number in 0..60 {
        text.push_str(&format!("W{number},wall,Storey {},2x4 @ 16 in,10 ft,8 ft\n", number % 2));
    }
    let outcome = Run::new("takeoff").arg(sheet(folder.path(), &text)).status(0);
    assert!(
        outcome.stdout.contains("by type and storey (60 in all)") && outcome.stdout.contains("--save surfaces.csv")
    );
    assert!(!outcome.stdout.contains("W59"));
    // Thirty walls of 80 ft2 in each storey.
    assert_eq!(outcome.stdout.lines().filter(|line| line.contains("wall") && line.contains(" 2,400 ")).count(), 2);
    assert!(outcome.stdout.lines().all(|line| line.chars().count() <= 80));
}

#[test]
fn the_job_file_says_what_is_outside_and_what_is_filled_with_what() {
    let folder = tempfile::tempdir().unwrap();
    let text = "id,kind,assembly,length,height\nA1,wall,outer,10 ft,8 ft\nP1,wall,inner,10 ft,8 ft\nG1,wall,2x4 @ 16 in,10 ft,8 ft\n";
    let job = "[exposure]\ninterior = [\"G?\", \"nothing\"]\n[fill.cellulose]\nbag = \"25 lb\"\n[fill.\"glass fibre\"]\n\
               density = \"40 kg/m3\"\n[assembly.outer]\nframing = \"2x10 @ 16 in\"\n[assembly.inner]\n\
               framing = \"2x4 @ 16 in\"\nfill = \"glass fibre\"\ndepth = \"100 mm\"\n";
    let path = folder.path().join("job.toml");
    fs::write(&path, job).unwrap();
    let run = Run::new("takeoff").arg(sheet(folder.path(), text)).arg("--job").arg(&path);
    let takeoff = saved(run, folder.path());
    let fills = takeoff["fills"].as_array().unwrap();
    assert_eq!(fills.len(), 2);
    assert!(fills[1]["bags_order"].is_null());
    assert_eq!(takeoff["surfaces"][2]["reason"], Value::from("interior"));
    // 4.0 lb/ft3 in a 2x10 wall (common practice, no source) is 64.07 kg/m3: NIST SP 811, appendix B.8.
    assert!((takeoff["surfaces"][0]["density_kg_m3"].as_f64().unwrap() - 64.073_853).abs() < 1e-6);
    assert!((takeoff["surfaces"][1]["depth_m"].as_f64().unwrap() - 0.1).abs() < 1e-12);
    let found = codes(&takeoff);
    assert!(found.contains(&"depth-near-step") && found.contains(&"rule-unused"));
    let sources: Vec<(&str, &str)> = takeoff["assumptions"]
        .as_array()
        .unwrap()
        .iter()
        .map(|a| (a["key"].as_str().unwrap(), a["source"].as_str().unwrap()))
        .collect();
    assert!(sources.contains(&("fill.glass fibre.density", "job file")));
    assert!(sources.contains(&("fill.cellulose.deep_density", "common practice, no source")));
    assert!(sources.contains(&("layout.top_plates", "IRC R602.3.2")));
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_told() {
    let full = fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
    let output = Command::new(assert_cmd::cargo::cargo_bin("cavitally"))
        .args(["schema", "job"])
        .stdout(full)
        .stderr(Stdio::piped())
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("standard output"));
}

// The sheets of the cabin and of the house in millimetres have roofs, which their job files say the vent channel of.
#[test]
fn a_roof_of_a_sheet_counts_with_its_job_file() {
    let cabin = || Run::new("takeoff").arg(sample("cabin.csv"));
    let alone = cabin().status(0);
    assert!(alone.stdout.contains("vent gap not given"), "{}", alone.stdout);
    assert!(alone.stderr.contains("warning[vent-gap-not-given]"), "{}", alone.stderr);
    assert!(alone.stderr.contains("`--frame` alone cannot"), "{}", alone.stderr);
    let vented = cabin().arg("--job").arg(sample("cabin-job.toml")).status(0);
    assert!(!vented.stdout.contains("not counted"), "{}", vented.stdout);
    assert!(vented.stdout.contains("vent gap 1\", not filled"), "{}", vented.stdout);
    let house = Run::new("takeoff").arg(sample("house-millimetres.csv"));
    let unvented = house.arg("--job").arg(sample("house-millimetres-job.toml")).status(0);
    assert!(unvented.stdout.contains("Caution, R1: indoor moisture"), "{}", unvented.stdout);
    assert!(unvented.stderr.contains("warning[unvented-roof]"), "{}", unvented.stderr);
    for outcome in [alone, vented, unvented] {
        assert!(outcome.stdout.lines().all(|line| line.chars().count() <= 80), "{}", outcome.stdout);
    }
}

/// Colours are for terminals alone, and there only where they are wanted (<https://no-color.org>).
#[test]
fn colours_are_for_terminals_alone() {
    let run = |variables: &[(&str, &str)]| {
        let mut command = Command::new(assert_cmd::cargo::cargo_bin("cavitally"));
        command.current_dir(env!("CARGO_MANIFEST_DIR")).args(["takeoff", "samples/cabin.csv"]);
        command.env_remove("NO_COLOR").env_remove("CLICOLOR_FORCE").env_remove("CLICOLOR");
        let output = command.envs(variables.iter().copied()).output().unwrap();
        String::from_utf8([output.stdout, output.stderr].concat()).unwrap()
    };
    assert!(!run(&[]).contains('\u{1b}'));
    assert!(!run(&[("NO_COLOR", "1"), ("CLICOLOR_FORCE", "0")]).contains('\u{1b}'));
    let forced = run(&[("CLICOLOR_FORCE", "1")]);
    assert!(forced.contains("\u{1b}[1mSurfaces\u{1b}[0m") && forced.contains("\u{1b}[33mwarning["), "{forced}");
}

#[test]
fn the_order_stands_in_the_first_and_in_the_last_lines() {
    let outcome = start().args(["--bag", "25 lb"]).status(0);
    let paragraphs: Vec<&str> = outcome.stdout.trim_end().split("\n\n").collect();
    let last = paragraphs.last().unwrap();
    assert!(last.contains(" bags for ") && paragraphs[1].starts_with(last), "{last}");
}

#[test]
fn the_job_file_and_its_label_are_named_with_their_checksums() {
    let folder = tempfile::tempdir().unwrap();
    let saved = folder.path().join("x.json");
    Run::new("takeoff")
        .arg(sample("house-surfaces.csv"))
        .arg(sample("house-openings.csv"))
        .arg("--job")
        .arg(sample("house.toml"))
        .arg("--save")
        .arg(&saved)
        .status(0);
    let takeoff: Value = serde_json::from_slice(&fs::read(saved).unwrap()).unwrap();
    let files = takeoff["job_files"].as_array().unwrap();
    assert_eq!(files.len(), 2);
    for (file, name) in files.iter().zip(["house.toml", "house-label.csv"]) {
        assert_eq!(Path::new(file["path"].as_str().unwrap()), sample(name));
        let found = file["sha256"].as_str().unwrap();
        let digest = Sha256::digest(fs::read(sample(name)).unwrap());
        assert_eq!(found.len(), 2 * digest.len());
        for (at, byte) in digest.iter().enumerate() {
            assert_eq!(u8::from_str_radix(&found[2 * at..2 * at + 2], 16), Ok(*byte), "{found}");
        }
    }
}

/// Ends of joists 1 1/2 in. wide every 16 in. take 1.5 / 16 of a rim, by hand; a wall's studs and plates are not there.
#[test]
fn a_rim_of_which_only_the_area_is_known_has_the_ends_of_its_joists() {
    let folder = tempfile::tempdir().unwrap();
    let job = folder.path().join("job.toml");
    let text = "[assembly.rims]\nframing = \"2x10 @ 16 in\"\ndepth = \"5 1/2 in\"\nlayout.rim = true\n";
    fs::write(&job, text).unwrap();
    let saved = folder.path().join("x.json");
    let sheet = sheet(folder.path(), "id,kind,area (ft2),assembly\nR,wall,100,rims\n");
    Run::new("takeoff").arg(sheet).arg("--job").arg(&job).arg("--save").arg(&saved).status(0);
    let takeoff: Value = serde_json::from_slice(&fs::read(saved).unwrap()).unwrap();
    let fraction = takeoff["surfaces"][0]["framing_fraction"].as_f64().unwrap();
    assert!((fraction - 1.5 / 16.0).abs() < 1e-12, "{fraction}");
    let listed = takeoff["assumptions"].as_array().unwrap();
    assert!(listed.iter().any(|one| one["key"] == "layout.rim_fraction"), "{listed:#?}");
}

/// By hand: behind a band of 1 1/2 in. two frames with a gap of 3 in. are 8 1/2 in. deep, and the ends of joists go through all of that:
/// 17 on the layout of 24 ft and one at each end, 19 x 1 1/2 in. A cavity of 1 1/2 in. is all band.
#[test]
fn joists_of_a_rim_go_through_all_that_lies_behind_its_band() {
    let folder = tempfile::tempdir().unwrap();
    let job = folder.path().join("job.toml");
    let text = "[assembly.double]\nframing = \"2x4 @ 16 in + gap 3 in + 2x4 @ 16 in\"\nlayout.rim = true\n\
                [assembly.furring]\nframing = \"1.5x1.625 in actual @ 16 in\"\nlayout.rim = true\n";
    fs::write(&job, text).unwrap();
    let saved = folder.path().join("x.json");
    let sheet = sheet(
        folder.path(),
        "id,kind,length,height,assembly\nD,wall,24 ft,9.25 in,double\nF,wall,24 ft,9.25 in,furring\n",
    );
    Run::new("takeoff").arg(sheet).arg("--job").arg(&job).arg("--save").arg(&saved).status(0);
    let takeoff: Value = serde_json::from_slice(&fs::read(saved).unwrap()).unwrap();
    let bays_m3 = takeoff["surfaces"][0]["bay_volume_m3"].as_f64().unwrap();
    let due_m3 = (24.0 * 12.0 - 19.0 * 1.5) * 9.25 * 8.5 * 0.0254_f64.powi(3);
    assert!((bays_m3 - due_m3).abs() < 1e-9, "{bays_m3} {due_m3}");
    let furring = &takeoff["surfaces"][1];
    assert_eq!(furring["bay_volume_m3"].as_f64(), Some(0.0), "{furring:#}");
    assert!(furring["bays"].as_array().unwrap().is_empty());
}
