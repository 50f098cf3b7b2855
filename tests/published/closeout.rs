//! The closeout against the trade's arithmetic, the rules for papers, and a simulation of what a bag count can tell.

use crate::commands::support::{Run, sample};
use serde_json::Value;
use std::path::PathBuf;

const LB_FT3: f64 = 16.018_463;
const LB: f64 = 0.453_592_37;

fn saved(sheet: &str, log: &str, more: &[&str]) -> Value {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| -> PathBuf {
        let path = folder.path().join(name);
        std::fs::write(&path, text).unwrap();
        path
    };
    let path = folder.path().join("x.json");
    let run = Run::new("closeout").arg(write("surfaces.csv", sheet)).arg("--log").arg(write("log.csv", log)).args(more);
    let outcome = run.arg("--save").arg(&path).outcome();
    assert!(outcome.status < 2, "{}", outcome.stderr);
    serde_json::from_slice(&std::fs::read(path).unwrap()).unwrap()
}

const WALL: &str = "id,kind,length,height,assembly\nA,wall,16 ft,8 ft 1 1/8 in,2x4 @ 16 in\n";

// A core of 2 in. through 3.5 in. at 3.5 lb/ft3 has 10.996 in3 and 10.10 g, and at 12.0 g it is at 4.158 lb/ft3; one of 3 in. through
// 5.5 in. has 38.877 in3 and 35.72 g: geometry of a cylinder, with 1 lb = 453.59237 g and 1 ft3 = 1728 in3.
#[test]
fn cores_weigh_what_their_cylinder_holds() {
    let log = "what,surface,bags,mass,diameter,depth\nblown,A,7,,,\n\
               core,A,,12.0 g,2 in,3.5 in\ncore,A,,10.10 g,2 in,3.5 in\ncore,A,,35.72 g,3 in,5.5 in\n";
    let closeout = saved(WALL, log, &["--bag", "25 lb"]);
    let cores = closeout["zones"][0]["cores"]["samples"].as_array().unwrap();
    for (core, due) in cores.iter().zip([4.158, 3.5, 3.5]) {
        let found = core["density_kg_m3"].as_f64().unwrap() / LB_FT3;
        assert!((found - due).abs() < 0.002, "{found} {due}");
    }
    let mean = closeout["zones"][0]["cores"]["mean_kg_m3"].as_f64().unwrap() / LB_FT3;
    assert!((mean - (4.158 + 3.5 + 3.5) / 3.0).abs() < 0.002);
}

// US national Standard Work Specifications 4.1103.1: cellulose in enclosed cavities at 3.5 lb/ft3 or more, the bag count confirmed.
// Three plain bays of 14.5 x 92.625 x 3.5 in. take 28.56 lb; one 30-lb bag for three cavities is the rule that the US Department
// of Energy's fact sheets pass on: 3.676 lb/ft3, more than the minimum. So small a job can be judged where the hopper is known alone.
#[test]
fn one_bag_for_three_cavities_is_enough_where_the_hopper_is_known() {
    let sheet = "id,kind,outline,assembly\nA,wall,0:0; 49.5 in:0; 49.5 in:97.125 in; 0:97.125 in,2x4 @ 16 in\n";
    let log = "what,surface,bags,hopper before,hopper after\nblown,A,1,run down,run down\n";
    let closeout = saved(sheet, log, &["--bag", "30 lb"]);
    let zone = &closeout["zones"][0];
    let volume_ft3 = zone["bay_volume_m3"].as_f64().unwrap() / 0.028_316_846_592;
    // The plain wall has its first end stud within its length, so that the first bay is 3/4 in. narrower.
    let by_hand = (13.75 + 14.5 + 14.5) * 92.625 * 3.5 / 1728.0;
    assert!((volume_ft3 - by_hand).abs() < 1e-6, "{volume_ft3} {by_hand}");
    let density = zone["density_kg_m3"].as_f64().unwrap() / LB_FT3;
    assert!((density - 30.0 / by_hand).abs() < 1e-6 && density > 3.676);
    assert_eq!(zone["verdict"], "reached", "{zone:#}");
    let closeout = saved(sheet, "what,surface,bags\nblown,A,1\n", &["--bag", "30 lb"]);
    let zone = &closeout["zones"][0];
    assert_eq!(zone["verdict"], "cannot-tell", "{zone:#}");
    assert_eq!(closeout["overall"][0]["verdict"], "cannot-tell", "{closeout:#}");
    assert!(zone["settles"].as_array().unwrap().iter().any(|way| way.as_str().unwrap().contains("cores")));
}

/// A generator of numbers from 0 to 1; the same each time.
struct Dice(u64);

impl Dice {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Box and Muller.
    fn normal(&mut self) -> f64 {
        let (a, b) = (self.uniform().max(1e-300), self.uniform());
        (-2.0 * a.ln()).sqrt() * (std::f64::consts::TAU * b).cos()
    }
}

// What a bag count can tell, by simulation: bags are off alike by 1 %, what stays in the hopper and hose at each end by 1 lb, the
// depth by 1/8 in., length and height by 1/2 in., framing by 2 points, two standard deviations each. The share of 10,000 jobs whose
// true density lies within the range must be the confidence that is printed with it.
#[test]
fn the_range_of_a_bag_count_holds_what_it_says() {
    let log = "what,surface,bags,hopper before,hopper after\nblown,A,7,run down,run down\n";
    let closeout = saved(WALL, log, &["--bag", "25 lb"]);
    let zone = &closeout["zones"][0];
    let number = |key: &str| zone[key].as_f64().unwrap();
    let (least, most, found) = (number("least_kg_m3"), number("most_kg_m3"), number("density_kg_m3"));
    let framing = 1.0 - zone["bay_area_m2"].as_f64().unwrap() / (16.0 * 97.125 / 12.0 * 0.092_903_04);
    let mut dice = Dice(7);
    let jobs = 10_000;
    let mut within = 0;
    for _ in 0..jobs {
        let bag = 1.0 + 0.005 * dice.normal();
        let mass_lb = 175.0 * bag + 0.5 * dice.normal() + 0.5 * dice.normal();
        let depth = 1.0 + 0.0625 * dice.normal() / 3.5;
        let area = (1.0 + 0.25 * dice.normal() / 192.0) * (1.0 + 0.25 * dice.normal() / 97.125);
        let frame = (1.0 - framing + 0.01 * dice.normal()) / (1.0 - framing);
        let density = found * (mass_lb / 175.0) / (depth * area * frame);
        within += u32::from((least..=most).contains(&density));
    }
    let share = f64::from(within) / f64::from(jobs);
    assert!((share - number("confidence_share")).abs() < 0.02, "{share}");
}

/// The papers of the sample house.
fn papers() -> String {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("x.html");
    Run::new("closeout")
        .args([sample("house-surfaces.csv"), sample("house-openings.csv")])
        .arg("--job")
        .arg(sample("house.toml"))
        .arg("--log")
        .arg(sample("house-log.csv"))
        .arg("--save")
        .arg(&path)
        .status(1);
    std::fs::read_to_string(path).unwrap()
}

fn paper<'p>(pages: &'p str, title: &str) -> &'p str {
    pages.split("<section").find(|page| page.contains(&format!("<h1>{title}</h1>"))).unwrap()
}

// 16 CFR 460.17: coverage area, initial installed thickness, minimum settled thickness, R-value and number of bags of each part of
// the house, dated and signed; neither coverage areas nor R-values of parts are added up.
#[test]
fn the_receipt_holds_every_item_of_the_rule_for_each_part_and_no_total() {
    let pages = papers();
    let receipt = paper(&pages, "Receipt for insulation");
    let blocks: Vec<&str> = receipt.split("<div class=\"block\">").skip(1).collect();
    assert_eq!(blocks.len(), 7, "a block each place of the log");
    let items =
        ["Coverage area", "Initial installed thickness", "Minimum settled thickness", "R-value", "Number of bags used"];
    for block in &blocks {
        for item in items {
            assert!(block.contains(item), "{item} in {block}");
        }
    }
    for item in ["installer's signature", "date", "licence number"] {
        assert!(receipt.to_lowercase().contains(item), "{item}");
    }
    assert!(!receipt.to_lowercase().contains("total"), "no sum of areas or R");
    // Only the attic's label prints an R; the walls have no table, and none is printed for them.
    assert_eq!(receipt.matches("R-49 (8.63 m2K/W)").count(), 1);
    assert_eq!(receipt.matches("no row of a label").count(), 6);
    assert!(receipt.contains("15 1/4") && receipt.contains("13 1/4"));
}

// IECC R303.1.1 and IRC N1101.10.1, from memory: initial installed thickness, settled thickness, settled R-value, installed density,
// coverage area and number of bags, signed and dated, posted in a conspicuous place.
#[test]
fn the_certificate_holds_every_item_of_the_code() {
    let pages = papers();
    let certificate = paper(&pages, "Insulation certificate");
    let attic = certificate.split("<div class=\"block\">").find(|block| block.contains("A-1")).unwrap();
    let items = [
        "Type",
        "Manufacturer",
        "Initial installed thickness",
        "Settled thickness",
        "Settled R-value",
        "Installed density",
        "Coverage area",
        "Number of bags",
        "Depth markers",
    ];
    for item in items {
        assert!(attic.contains(item), "{item}");
    }
    for item in ["conspicuous place", "signature", "Date", "from memory"] {
        assert!(certificate.contains(item), "{item}");
    }
    // A grade is what the rater entered, with how it was seen; nothing else is graded.
    assert!(certificate.contains("I, seen by infrared, entered by A rater"));
    assert_eq!(certificate.matches("not graded").count(), 6);
    assert!(!certificate.to_lowercase().contains("total"));
}

// An attic is judged by both, thickness and mass per area (16 CFR 460.12 names both for each R). Invented label, R-49: 1.723 lb/ft2 and
// 15 1/4 in. as blown.
#[test]
fn an_attic_needs_its_thickness_and_its_mass() {
    let sheet = std::fs::read_to_string(sample("house-surfaces.csv")).unwrap();
    let job = sample("house.toml");
    let verdict = |bags: u32, reading: &str| {
        let log = format!(
            "what,surface,bags,hopper before,hopper after,depth\nblown,A-1,{bags},run down,run down,\ndepth,A-1,,,,{reading}\n"
        );
        let closeout = saved(&sheet, &log, &["--job", job.to_str().unwrap()]);
        let zone = &closeout["zones"][0];
        let per_ft2 = zone["net_kg"].as_f64().unwrap() / LB / (zone["bay_area_m2"].as_f64().unwrap() / 0.092_903_04);
        (zone["verdict"].as_str().unwrap().to_owned(), per_ft2)
    };
    assert_eq!(verdict(60, "15 1/2 in").0, "reached");
    assert_eq!(verdict(60, "14 in").0, "short");
    let (short, per_ft2) = verdict(35, "15 1/2 in");
    assert!(short == "short" && per_ft2 < 1.723, "{short} {per_ft2}");
}

/// An attic of 40 by 30 ft over bottom chords of 2x4 at 24 in., with a label whose rows follow from k 0.27, 1.6 lb/ft3 and 15 % of
/// settling: t = R k, w = 1.6 t / 12, as blown t / 0.85. Its closeout and its papers.
fn attic(log: &str) -> (Value, String) {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| -> PathBuf {
        let path = folder.path().join(name);
        std::fs::write(&path, text).unwrap();
        path
    };
    let sheet = write(
        "s.csv",
        "id,kind,length,height,assembly\nA1,ceiling,40 ft,30 ft,attic\nW,wall,30 ft,8 ft 1 1/8 in,2x6 @ 16 in\n",
    );
    write(
        "label.csv",
        "R value,settled thickness (in),initial thickness (in),coverage (ft2),bags per 1000 ft2,mass per area (lb/ft2)\n\
         R-30,8.10,9.53,23.15,43.2,1.080\nR-38,10.26,12.07,18.27,54.7,1.368\nR-49,13.23,15.565,14.17,70.6,1.764\n",
    );
    let job = write(
        "job.toml",
        "[fill.cellulose]\nbag = \"25 lb\"\n[[fill.cellulose.coverage]]\nuse = \"open-blown\"\nbasis = \"net\"\n\
         file = \"label.csv\"\nsource = \"label\"\n[assembly.attic]\nlike = \"attic truss ceiling\"\nr_value = \"R-49\"\n",
    );
    let head = "what,surface,bags,mass,hopper before,hopper after,diameter,depth\n";
    let (json, page) = (folder.path().join("x.json"), folder.path().join("x.html"));
    let run = Run::new("closeout").arg(sheet).arg("--job").arg(job).arg("--log");
    let mut run = run.arg(write("log.csv", &format!("{head}{log}"))).arg("--save").arg(&json).arg("--save").arg(&page);
    let outcome = run.outcome();
    assert!(outcome.status < 2, "{}", outcome.stderr);
    let closeout = serde_json::from_slice(&std::fs::read(json).unwrap()).unwrap();
    (closeout, std::fs::read_to_string(page).unwrap())
}

fn depths(inches: &[&str]) -> String {
    inches.iter().map(|inch| ["depth,A1,,,,,,", inch, " in\n"].concat()).collect()
}

// By hand: 21 chords of 30 ft and two at their ends of 40 ft, 42 crossings of 1 1/2 in. less, take 704.75 ft x 1.5 x 3.5 / 144 = 25.69 ft3
// of 1,200 ft2 x 13.23 in. = 1,323 ft3; what is left is that of 1,176.7 ft2 at 13.23 in., and at 1.764 lb/ft2 takes 2,075.7 lb: 83.03 bags.
// Blown to 15.565 in. it fills 1,297.3 + 1,200 x 2.335 / 12 = 1,530.8 ft3 at 1.356 lb/ft3; without chords it would be 1.6 x 0.85 = 1.36.
#[test]
fn an_attics_mass_per_area_and_its_density_as_blown_are_those_of_its_label() {
    let (closeout, pages) = attic(&format!("blown,A1,,2075.7 lb,run down,run down,,\n{}", depths(&["15.565"])));
    let zone = &closeout["zones"][0];
    let attic = &zone["attic"];
    let number = |value: &Value| value.as_f64().unwrap();
    assert!((number(&attic["coverage_area_m2"]) / 0.092_903_04 - 1176.7).abs() < 0.1, "{attic}");
    assert!((number(&attic["minimum_kg_m2"]) / 4.882_428 - 1.764).abs() < 1e-4, "{attic}");
    assert!((number(&attic["mass_kg_m2"]) / 4.882_428 - 1.764).abs() < 1e-4, "{attic}");
    assert!((number(&attic["initial_kg_m3"]) / LB_FT3 - 1.356).abs() < 0.001, "{attic}");
    assert!((number(&zone["density_kg_m3"]) / LB_FT3 - 1.6).abs() < 0.001, "{zone:#}");
    let certificate = paper(&pages, "Insulation certificate");
    assert!(certificate.contains("1.36 lb/ft3 as blown"), "{certificate}");
}

// 16 CFR 460.17: the receipt says what was installed. 40 bags of 25 lb are 0.85 lb/ft2, below the 1.080 of R-30, and 7 in. below its 9.53.
#[test]
fn a_receipt_says_what_lies_there_and_not_what_was_ordered() {
    let (closeout, pages) = attic(&format!("blown,A1,40,,run down,run down,,\n{}", depths(&["7", "7 1/4"])));
    assert_eq!((&closeout["zones"][0]["verdict"], &closeout["zones"][0]["row"]), (&Value::from("short"), &Value::Null));
    for title in ["Receipt for insulation", "Insulation certificate"] {
        let page = paper(&pages, title);
        assert!(!page.contains("R-49") && !page.contains("15 9/16"), "{page}");
        assert!(page.contains("7 1/8&quot; as read") && page.contains("the least 7&quot;"), "{page}");
        assert!(page.contains("no printed row of the label's table is reached"), "{page}");
    }
    // 82 bags lie thick enough for R-49 and weigh enough for R-38: 2,050 lb over 1,176.7 ft2 are 1.742 lb/ft2, and 1.3 % of lengths and
    // bags do not make 1.764 of them.
    let (closeout, pages) = attic(&format!("blown,A1,82,,run down,run down,,\n{}", depths(&["15 3/4", "15 5/8"])));
    assert_eq!(closeout["zones"][0]["verdict"], "short");
    let receipt = paper(&pages, "Receipt for insulation");
    assert!(receipt.contains("R-38 (6.69 m2K/W)") && !receipt.contains("R-49"), "{receipt}");
    // Nobody read a depth: what was ordered is said as ordered, and the rest stays to be filled in.
    let (_, pages) = attic("blown,A1,86,,run down,run down,,\n");
    let receipt = paper(&pages, "Receipt for insulation");
    assert!(receipt.contains("<th>Initial installed thickness</th><td><span class=\"blank\">"), "{receipt}");
    assert!(receipt.contains("<th>R-value</th><td>not printed here: no depth was read"), "{receipt}");
    assert!(receipt.contains("<th>Ordered, not shown to be there</th><td>R-49"), "{receipt}");
}

// What an attic has too much is in no wall: 95 bags there are 114 %, and 12 bags in a wall that takes 334 lb are 90 %.
#[test]
fn attics_and_walls_of_one_fill_are_judged_apart_and_the_short_place_is_named() {
    let log = format!("blown,A1,95,,run down,run down,,\n{}blown,W,12,,run down,run down,,\n", depths(&["15 3/4"]));
    let (closeout, _) = attic(&log);
    let overall = &closeout["overall"][0];
    assert_eq!((&overall["verdict"], &overall["short"]), (&Value::from("short"), &serde_json::json!(["W"])));
    let verdicts: Vec<&Value> = overall["uses"].as_array().unwrap().iter().map(|own| &own["verdict"]).collect();
    assert_eq!(verdicts, ["short", "reached"]);
}

// Six cores of 40.0 g, 3 in. and 5 1/2 in. are 38.88 in3 each: 3.92 lb/ft3.
#[test]
fn the_certificate_says_what_cores_show_where_they_decide() {
    let cores = "core,W,,40.0 g,,,3 in,5.5 in\n".repeat(6);
    let (closeout, pages) = attic(&format!("blown,W,14,,,,,\n{cores}"));
    assert_eq!(closeout["zones"][0]["judged_by"], "cores", "{closeout:#}");
    let certificate = paper(&pages, "Insulation certificate");
    assert!(certificate.contains("3.92 lb/ft3 average of 6 cores"), "{certificate}");
}
