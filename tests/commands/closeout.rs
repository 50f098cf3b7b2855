//! `cavitally closeout`

use super::support::{Run, sample};
use serde_json::Value;
use std::path::{Path, PathBuf};

const WALLS: &str =
    "id,kind,length,height,assembly\nA,wall,16 ft,8 ft 1 1/8 in,2x4 @ 16 in\nB,wall,12 ft,8 ft 1 1/8 in,2x4 @ 16 in\n";

fn closeout(log: &str) -> (Run, tempfile::TempDir) {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| -> PathBuf {
        let path = folder.path().join(name);
        std::fs::write(&path, text).unwrap();
        path
    };
    let run = Run::new("closeout")
        .arg(write("surfaces.csv", WALLS))
        .args(["--bag", "25 lb", "--log"])
        .arg(write("log.csv", log));
    (run, folder)
}

fn saved(mut run: Run, folder: &Path, status: i32) -> Value {
    let path = folder.join("x.json");
    run = run.arg("--save").arg(&path);
    run.status(status);
    serde_json::from_slice(&std::fs::read(path).unwrap()).unwrap()
}

/// The closeout of a log.
pub(super) fn of(log: &str, status: i32) -> Value {
    let (run, folder) = closeout(log);
    saved(run, folder.path(), status)
}

fn refused(log: &str) -> String {
    let (mut run, _folder) = closeout(log);
    run.status(2).stderr
}

fn house() -> Run {
    Run::new("closeout")
        .args([sample("house-surfaces.csv"), sample("house-openings.csv")])
        .arg("--job")
        .arg(sample("house.toml"))
        .arg("--log")
        .arg(sample("house-log.csv"))
}

#[test]
fn the_sample_log_has_one_wall_that_is_short_and_finds_it() {
    let folder = tempfile::tempdir().unwrap();
    let closeout = saved(house(), folder.path(), 1);
    let zones = closeout["zones"].as_array().unwrap();
    let of = |verdict: &str| -> Vec<&str> {
        zones.iter().filter(|zone| zone["verdict"] == verdict).map(|zone| zone["name"].as_str().unwrap()).collect()
    };
    assert_eq!(of("short"), ["G-N"]);
    // A core was cut out of G-W, and nothing says what was blown there.
    assert_eq!(of("cannot-tell"), ["O-N", "G-W"]);
    assert_eq!(of("reached"), ["G-S", "G-E", "U-S; U-N", "U-E", "A-1"]);
    assert_eq!(closeout["is_short"], true);
}

#[test]
fn the_table_fits_80_columns() {
    let run = house().status(1);
    assert!(run.stdout.lines().all(|line| line.chars().count() <= 80), "{}", run.stdout);
    for words in ["every bay filled: 36 of 36", "12 of 18 bays", "what would settle it", "cannot show an empty bay"] {
        assert!(run.stdout.contains(words), "{words}: {}", run.stdout);
    }
}

#[test]
fn what_was_taken_out_is_subtracted() {
    let head = "what,surface,bags,mass,hopper before,hopper after\n";
    let plain = of(&format!("{head}blown,A,7,,run down,run down\n"), 0);
    let less = of(
        &format!(
            "{head}blown,A,7,,run down,12 lb\nspilled,A,,3 lb,,\nvacuumed,A,,2 lb,,\nreturned,A,1,,,\nin machine,A,,1 lb,,\n"
        ),
        0,
    );
    let pounds = |closeout: &Value| closeout["zones"][0]["net_kg"].as_f64().unwrap() / 0.453_592_37;
    assert!((pounds(&plain) - 175.0).abs() < 1e-9);
    assert!((pounds(&less) - (175.0 - 12.0 - 3.0 - 2.0 - 25.0 - 1.0)).abs() < 1e-9);
}

#[test]
fn a_hopper_that_is_known_once_between_two_places_is_known_to_both() {
    let log = "what,surface,bags,hopper before,hopper after\nblown,A,7,run down,10 lb\nblown,B,5,,run down\n";
    let closeout = of(log, 0);
    let net = |at: usize| closeout["zones"][at]["net_kg"].as_f64().unwrap() / 0.453_592_37;
    assert!((net(0) - 165.0).abs() < 1e-9 && (net(1) - 135.0).abs() < 1e-9);
    assert!(closeout["zones"].as_array().unwrap().iter().all(|zone| zone["is_closed_off"] == true));
    assert!((closeout["overall"][0]["net_kg"].as_f64().unwrap() / 0.453_592_37 - 300.0).abs() < 1e-9);
}

#[test]
fn a_place_without_known_ends_is_not_judged() {
    let closeout = of("what,surface,bags\nblown,A,20\nblown,B,1\n", 0);
    for zone in closeout["zones"].as_array().unwrap() {
        assert_eq!(zone["verdict"], "cannot-tell");
        assert!(zone["settles"].as_array().unwrap().len() >= 2);
    }
}

#[test]
fn every_bay_filled_is_said_by_inspections_alone() {
    let blown = "what,surface,bags,hopper before,hopper after,method,bays,found\nblown,A,8,run down,run down,,,\n";
    let bays = |more: &str, status: i32| of(&format!("{blown}{more}"), status)["zones"][0]["bays"].clone();
    assert_eq!(bays("", 0)["every_bay_filled"], false);
    assert_eq!(bays("inspection,A,,,,probe,1-3,filled\n", 0)["every_bay_filled"], false);
    assert_eq!(bays("inspection,A,,,,smoke,all,filled\n", 0)["every_bay_filled"], true);
    // A void makes the job short, until somebody sees that bay filled.
    let void = bays("inspection,A,,,,infrared,all,filled\ninspection,A,,,,borescope,2,void\n", 1);
    assert_eq!((&void["every_bay_filled"], &void["voids"]), (&Value::from(false), &serde_json::json!(["A bay 2"])));
    let mended =
        "inspection,A,,,,infrared,all,filled\ninspection,A,,,,borescope,2,void\ninspection,A,,,,borescope,2,filled\n";
    assert_eq!(bays(mended, 0)["every_bay_filled"], true);
}

#[test]
fn the_running_check_follows_the_bags() {
    let log = "what,date,surface,bags,hopper before,hopper after\n\
               blown,2026-05-12,A,1,run down,\nblown,2026-05-12,A,2,,\nblown,2026-05-13,A,2,,run down\n";
    let closeout = of(log, 0);
    let checks = closeout["running"].as_array().unwrap();
    let filled: Vec<u64> = checks.iter().map(|check| check["bays_filled"].as_u64().unwrap()).collect();
    assert_eq!(checks.len(), 3);
    assert!(filled.windows(2).all(|pair| pair[0] < pair[1]), "{filled:?}");
    assert_eq!(filled[2], checks[2]["bays"].as_u64().unwrap());
}

#[test]
fn more_than_was_ordered_is_named_at_its_row() {
    let log =
        "what,surface,bags,hopper before,hopper after\nblown,A,7,run down,run down\nblown,B,90,run down,run down\n";
    let closeout = of(log, 0);
    let findings = closeout["findings"].as_array().unwrap();
    assert_eq!(findings.len(), 1);
    assert_eq!(findings[0]["code"], "more-than-ordered");
    assert!(findings[0]["where"].as_str().unwrap().contains("log.csv:3:1"));
    assert!(closeout["overall"][0]["left_exact"].as_f64().unwrap() < 0.0);
}

#[test]
fn what_cannot_be_is_refused_with_its_place() {
    let head = "what,surface,bags,mass,hopper before,hopper after,depth,diameter,method,bays,found\n";
    for (row, words) in [
        ("blown,A,1,,run down,-3 lb,,,,,", "a remainder of `-3 lb` is below nought"),
        ("blown,A,1,,run down,60 lb,,,,,", "more is left in the hopper than was put into it"),
        ("blown,A,1,,run down,run down,,,,,\nspilled,A,,60 lb,,,,,,,", "more is taken out of this place"),
        ("blown,A,1,,,,,,,,\nblown,*,1,,,,,,,,", "`*` and `A` share surfaces"),
        ("blown,C,1,,,,,,,,", "no counted surface fits `C`"),
        ("blown,A,1,,,,,,,,\ninspection,A,,,,,,,probe,99,filled", "there is no bay 99 in A"),
        ("blown,A,1 sack,,,,,,,,", "not a number"),
        ("blown,A,,5 stone,,,,,,,", "`5 stone` is not a mass"),
    ] {
        let said = refused(&format!("{head}{row}\n"));
        assert!(said.split_whitespace().collect::<Vec<_>>().join(" ").contains(words), "{words}: {said}");
    }
}

#[test]
fn an_entry_about_nothing_that_was_blown_is_named() {
    let log = "what,surface,bags,hopper before,hopper after,mass,diameter,depth\nblown,A,7,run down,run down,,,\ncore,B,,,,10 g,2 in,3 1/2 in\n";
    let closeout = of(log, 0);
    assert_eq!(closeout["findings"][0]["code"], "log-doubt");
    assert_eq!(closeout["not_logged"], serde_json::json!(["B"]));
}

#[test]
fn a_measured_depth_stands_in_for_the_drawn_one() {
    let log = "what,surface,bags,hopper before,hopper after,depth\nblown,A,5,run down,run down,\n";
    let drawn = of(log, 0)["zones"][0]["density_kg_m3"].as_f64().unwrap();
    let deeper = of(&format!("{log}depth,A,,,,3 5/8 in\ndepth,A,,,,3 7/8 in\n"), 0)["zones"][0].clone();
    assert!((deeper["density_kg_m3"].as_f64().unwrap() / drawn - 3.5 / 3.75).abs() < 1e-9);
}

/// ISO 32000-1: a file begins with its version and ends with a mark; each of the three papers begins on a page of its own.
#[test]
fn the_papers_are_saved_on_paper_and_twice_the_same() {
    let folder = tempfile::tempdir().unwrap();
    let paper = |name: &str, more: &[&str]| {
        let path = folder.path().join(name);
        house().arg("--save").arg(&path).args(more).status(1);
        std::fs::read(path).unwrap()
    };
    let first = paper("papers.pdf", &[]);
    assert!(first.starts_with(b"%PDF-1.") && first.trim_ascii_end().ends_with(b"%%EOF"));
    assert_eq!(first, paper("again.pdf", &[]));
    let pages = |bytes: &[u8], size: &str| bytes.windows(size.len()).filter(|one| *one == size.as_bytes()).count();
    assert!(pages(&first, "[0 0 612 792]") >= 3);
    assert!(pages(&paper("a4.pdf", &["--units", "si"]), "[0 0 595.28 841.89]") >= 3);
}

#[test]
fn what_was_read_never_spoils_a_paper() {
    // A control character and one that turns the direction of writing, in a name and in the log.
    let (run, folder) = closeout(
        "what,surface,bags,hopper before,hopper after,by,note\nblown,A,7,run down,run down,<b>\u{1}\u{202e}&,\n",
    );
    let (page, paper) = (folder.path().join("x.html"), folder.path().join("x.pdf"));
    let said = run.arg("--save").arg(&page).arg("--save").arg(&paper).status(0);
    let page = std::fs::read_to_string(page).unwrap_or_else(|error| panic!("{error}: {}", said.stderr));
    assert!(page.contains("&lt;b&gt;") && !page.contains(['\u{1}', '\u{202e}']));
    assert!(std::fs::read(paper).unwrap().starts_with(b"%PDF-1."));
}

#[test]
fn what_the_job_file_says_stands_on_each_paper_and_the_rest_stays_to_be_filled_in() {
    let folder = tempfile::tempdir().unwrap();
    let of = |job: &str, name: &str| {
        let (job_path, path) = (folder.path().join("job.toml"), folder.path().join(name));
        std::fs::write(&job_path, format!("{job}[fill.cellulose]\nbag = \"25 lb\"\nmanufacturer = \"a maker\"\n"))
            .unwrap();
        let (sheet, log) = (folder.path().join("surfaces.csv"), folder.path().join("log.csv"));
        std::fs::write(&sheet, WALLS).unwrap();
        let log_text = "what,surface,bags,hopper before,hopper after,photos\nblown,A,7,run down,run down,12-14\n";
        std::fs::write(&log, log_text).unwrap();
        let run = Run::new("closeout").arg(&sheet).arg("--job").arg(&job_path).arg("--log").arg(&log);
        run.arg("--save").arg(&path).status(0);
        std::fs::read_to_string(path).unwrap()
    };
    let blank = |name: &str| format!("<span>{name}</span><span class=\"blank\"></span>");
    let given = |name: &str, text: &str| format!("<span>{name}</span><span>{text}</span>");
    let job = "[project]\naddress = \"1 Sample Road\"\n[papers]\ninstaller_licence = \"L-1\"\nmeasured_by = \"a rater\"\n\
               measured_on = \"2026-05-04\"\nverified = \"taped twice\"\neditions = [\"IECC 2021\", \"IRC 2021\"]\n";
    let (full, bare) = (of(job, "full.html"), of("", "bare.html"));
    let papers = |pages: &str| -> Vec<String> { pages.split("<section").skip(1).map(ToOwned::to_owned).collect() };
    assert_eq!((papers(&full).len(), papers(&bare).len()), (3, 3));
    let facts = [
        ("Address", "1 Sample Road"),
        ("Licence number", "L-1"),
        ("Measured by", "a rater"),
        ("Measured on", "2026-05-04"),
        ("How it was verified", "taped twice"),
        ("Editions in force here", "IECC 2021; IRC 2021"),
    ];
    for (full, bare) in papers(&full).iter().zip(papers(&bare)) {
        for (name, text) in facts {
            assert!(full.contains(&given(name, text)), "{name}: {full}");
            assert!(bare.contains(&blank(name)), "{name}: {bare}");
        }
        assert!(full.contains(&given("Photo numbers", "12-14")) && full.contains(&blank("Installer")), "{full}");
        // The sheet, the log and the job file.
        assert!(full.contains("cavitally ") && full.matches("SHA-256").count() == 3, "{full}");
    }
    assert_eq!(full.matches("<td>a maker</td>").count(), 2, "on receipt and certificate");
}

/// ANSI/RESNET/ICC 301, from memory: grade II allows 2 % of void, grade III 5 %.
#[test]
fn a_grade_brings_its_void_and_the_heat_at_it_or_says_why_not() {
    let folder = tempfile::tempdir().unwrap();
    let of = |heat: &str, layers: &str, entered: &str| {
        let write = |name: &str, text: &str| {
            let path = folder.path().join(name);
            std::fs::write(&path, text).unwrap();
            path
        };
        let job =
            format!("{heat}[fill.cellulose]\nbag = \"25 lb\"\n[assembly.w]\nframing = \"2x4 @ 16 in\"\n{layers}\n");
        let log = format!(
            "what,surface,bags,hopper before,hopper after,method,grade\nblown,A,8,run down,run down,,\n\
             grade,A,,,,infrared,{entered}\n"
        );
        let run = Run::new("closeout").arg(write("surfaces.csv", &WALLS.replace("2x4 @ 16 in", "w")));
        let run = run.arg("--job").arg(write("job.toml", &job)).arg("--log").arg(write("log.csv", &log));
        saved(run, folder.path(), 0)["zones"][0]["grade"].clone()
    };
    let layers = "layers = [\"cavity\", { name = \"gypsum board\", thickness = \"1/2 in\" }]";
    let u = |grade: &Value| grade["heat"][0]["u_w_m2k"].as_f64().unwrap();
    let (none, two, three) = (
        of("", layers, "I"),
        of("[heat]\ngrade = \"II\"\n", layers, "II"),
        of("[heat]\ngrade = \"III\"\n", layers, "III"),
    );
    let shares = [&none, &two, &three].map(|grade| grade["void_share"].as_f64().unwrap());
    assert_eq!(shares, [0.0, 0.02, 0.05]);
    assert!(u(&none) < u(&two) && u(&two) < u(&three), "{none} {two} {three}");
    let reason = |grade: &Value| grade["heat"][0]["reason"].as_str().unwrap_or_default().to_owned();
    // The grade is the zone's own, whatever the job file asked for.
    let (other, third) = (of("", layers, "II"), of("[heat]\ngrade = \"II\"\n", layers, "III"));
    assert!((u(&other) - u(&two)).abs() < 1e-12 && (u(&third) - u(&three)).abs() < 1e-12, "{other} {third}");
    assert!((u(&other) * other["heat"][0]["r_m2k_w"].as_f64().unwrap() - 1.0).abs() < 1e-12, "R is 1/U");
    let bare = of("", "", "I");
    assert!(bare["heat"][0]["u_w_m2k"].is_null() && reason(&bare).contains("layers"), "{bare}");
}
