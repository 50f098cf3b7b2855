//! The order: shared out by place or day, sold, worked, and several of them side by side.

use super::support::{Outcome, Run};
use serde_json::Value;
use std::fs;
use tempfile::TempDir;

const SURFACES: &str = "id,kind,storey,zone,assembly,length (ft),height (ft)\n\
                        A,wall,Ground,East,2x6 @ 16 in,20,8\n\
                        B,wall,Ground,West,2x6 @ 16 in,30,8\n\
                        C,wall,Upper,East,2x6 @ 16 in,40,8\n";
const FILL: &str = "[fill.cellulose]\nbag = \"25 lb\"\nprice = \"17.35 USD\"\npallet = 20\nbundle = 3\n";
const LABOUR: &str = "[labour]\nclosed_rate = \"100 lb/h\"\ncrew = 2\nhours_per_day = 5\nwage = \"40.10 USD\"\n";

fn folder(job: &str) -> TempDir {
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("surfaces.csv"), SURFACES).unwrap();
    fs::write(folder.path().join("job.toml"), job).unwrap();
    folder
}

fn run(folder: &TempDir, more: &[&str]) -> Run {
    let run = Run::new("takeoff").arg(folder.path().join("surfaces.csv"));
    run.arg("--job").arg(folder.path().join("job.toml")).args(more)
}

fn takeoff(job: &str) -> Value {
    let folder = folder(job);
    let saved = folder.path().join("x.json");
    run(&folder, &["--save", saved.to_str().unwrap()]).status(0);
    serde_json::from_slice(&fs::read(saved).unwrap()).unwrap()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

#[test]
fn stages_sum_to_the_order_however_it_is_shared_out() {
    for (by, places) in [("storey and zone", 3), ("storey", 2), ("zone", 2), ("day", 0)] {
        let takeoff = takeoff(&format!("{FILL}{LABOUR}[order]\nstage_by = \"{by}\"\n"));
        let fill = &takeoff["fills"][0];
        let stages = fill["staging"].as_array().unwrap();
        let sum: u64 = stages.iter().map(|stage| stage["bags"].as_u64().unwrap()).sum();
        assert_eq!(Some(sum), fill["bags_order"].as_u64(), "{by}");
        let mass_kg: f64 = stages.iter().map(|stage| number(&stage["mass_kg"])).sum();
        assert!((mass_kg - number(&fill["mass_kg"])).abs() < 1e-9, "{by}");
        if places > 0 {
            assert_eq!(stages.len(), places, "{by}");
        }
    }
}

/// By hand: pounds with 5 % for spill at 100 lb an hour, five hours a day; two people at 40.10 to the hundredth of an hour.
#[test]
fn hours_days_and_prices_follow_from_the_rates() {
    let takeoff = takeoff(&format!("{FILL}{LABOUR}[order]\nstage_by = \"day\"\n"));
    let fill = &takeoff["fills"][0];
    let pounds = number(&fill["mass_kg"]) / 0.453_592_37;
    let hours = pounds * 1.05 / 100.0;
    let labour = &takeoff["labour"];
    assert!((number(&labour["machine_h"]) - hours).abs() < 1e-9);
    assert!((number(&labour["days_exact"]) - hours / 5.0).abs() < 1e-9);
    let days = fill["staging"].as_array().unwrap().len().to_string();
    assert_eq!(days, format!("{:.0}", (hours / 5.0).ceil()));
    let person_h = (hours * 2.0 * 100.0).round() / 100.0;
    assert_eq!(labour["price"]["total"], format!("{:.2}", (person_h * 4010.0).round() / 100.0));
    let bags = fill["bags_order"].as_u64().unwrap();
    let cents = bags * 1735;
    assert_eq!(fill["price"]["total"], format!("{}.{:02}", cents / 100, cents % 100));
    let packs = fill["packs"].as_array().unwrap();
    for (pack, of) in packs.iter().zip([20, 3]) {
        assert_eq!(pack["whole"].as_u64().unwrap() * of + pack["loose"].as_u64().unwrap(), bags);
    }
    assert!(number(&fill["reached"]["mass_ratio"]) >= 1.0);
}

#[test]
fn what_stays_in_the_machine_must_lie_within_the_allowance() {
    let codes = |left: &str| {
        let takeoff = takeoff(&format!("{FILL}[order]\nleft_in_machine = \"{left}\"\n"));
        takeoff["findings"].as_array().unwrap().iter().any(|finding| finding["code"] == "allowance-too-small")
    };
    assert!(!codes("10 lb"));
    assert!(codes("300 lb"));
}

fn plain(outcome: &Outcome) -> String {
    outcome.stdout.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn several_values_stand_side_by_side() {
    let folder = folder(FILL);
    let two = ["--set", "fill.cellulose.density = 3.5 lb/ft3 | 4 lb/ft3", "--set", "fill.cellulose.bag=25 lb | 30 lb"];
    let outcome = run(&folder, &two).status(0);
    let text = plain(&outcome);
    assert!(text.contains("Side by side, by fill.cellulose.density and fill.cellulose.bag"), "{text}");
    let bags: Vec<f64> = ["3.5 lb/ft3 25 lb", "3.5 lb/ft3 30 lb", "4 lb/ft3 25 lb", "4 lb/ft3 30 lb"]
        .iter()
        .map(|values| {
            let row = text.split(values).nth(1).unwrap();
            row.split_whitespace().nth(3).unwrap().parse().unwrap()
        })
        .collect();
    assert!(bags[0] > bags[1] && bags[2] > bags[3] && bags[2] > bags[0], "{bags:?}");
    assert!(outcome.stdout.lines().all(|line| line.chars().count() <= 80));
    let saved = folder.path().join("x.json");
    let refused = run(&folder, &two).args(["--save", saved.to_str().unwrap()]).status(2);
    assert!(refused.stderr.contains("one takeoff") && !saved.exists());
    let by_bag = run(&folder, &["--bag", "25 lb | 28 lb | 30 lb"]).status(0);
    assert!(plain(&by_bag).contains("by --bag"), "{}", by_bag.stdout);
}

#[test]
fn a_value_that_is_set_counts_as_if_the_job_file_said_so() {
    let folder = folder(FILL);
    let saved = folder.path().join("x.json");
    let path = saved.to_str().unwrap();
    run(&folder, &["--set", "fill.cellulose.density=3.8 lb/ft3", "--save", path]).status(0);
    let set: Value = serde_json::from_slice(&fs::read(&saved).unwrap()).unwrap();
    let said = takeoff(&FILL.replace("bag =", "density = \"3.8 lb/ft3\"\nbag ="));
    assert_eq!(set["fills"], said["fills"]);
    let sources = set["assumptions"].as_array().unwrap();
    assert!(sources.iter().any(|one| one["key"] == "fill.cellulose.density" && one["source"] == "--set"));
    for (value, found) in [
        ("fill.cellulose.density=38 lb/ft3", "denser"),
        ("fill.cellulose.densty=3.8 lb/ft3", "did you mean `density`?"),
        ("fill.cellulose.density", "has no `=`"),
        ("layout.top_plates=1|2|3|4|5|6|7|8|9|10|1|2|3", "side by side"),
    ] {
        let refused = run(&folder, &["--set", value]).status(2);
        assert!(refused.stderr.contains("--set") && refused.stderr.contains(found), "{value}: {}", refused.stderr);
    }
}

#[test]
fn one_bag_does_not_serve_several_fills() {
    let job = format!("{FILL}[fill.\"glass fibre\"]\nbag = \"28 lb\"\n");
    let refused = run(&folder(&job), &["--bag", "30 lb"]).status(2);
    assert!(refused.stderr.contains("several fills"), "{}", refused.stderr);
}
