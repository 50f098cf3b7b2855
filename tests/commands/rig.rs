//! `cavitally rig`

use super::support::{Outcome, Run, sample};
use serde_json::Value;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

fn house(rig: &str) -> Run {
    Run::new("rig").arg("samples/house.ifc").args(["--job", "samples/house.toml", "--rig", rig])
}

fn plain(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn fits(outcome: &Outcome) {
    let long: Vec<&str> = outcome.stdout.lines().filter(|line| line.chars().count() > 80).collect();
    assert!(long.is_empty(), "{long:#?}");
}

fn is_as_kept(name: &str, text: &str) {
    insta::with_settings!({snapshot_path => "../snapshots", prepend_module_to_snapshot => false}, {
        insta::assert_snapshot!(name.to_owned(), text);
    });
}

#[test]
fn a_weak_rig_falls_short_and_says_what_to_do_first() {
    let outcome = house("portable").status(1);
    fits(&outcome);
    is_as_kept("rig-portable", &outcome.stdout);
    let text = plain(&outcome.stdout);
    let verdict = text.find("FALLS SHORT (pressure, power, truck and storage)").unwrap();
    let advice = text.find("Mend before you go").unwrap();
    let figures = text.find("What was checked").unwrap();
    assert!(verdict < advice && advice < figures);
    assert!(text.contains("licensed electrician") && text.contains("local code"));
}

#[test]
fn a_strong_rig_does_the_job() {
    let outcome = house("trailer").status(0);
    fits(&outcome);
    is_as_kept("rig-trailer", &outcome.stdout);
    assert!(outcome.stdout.starts_with("Rig trailer for Sample house: CAN DO THIS JOB"));
}

#[test]
fn every_point_has_its_formula_and_source() {
    let outcome = house("trailer").arg("--explain").status(0);
    fits(&outcome);
    let explained = outcome.stdout.split("Where the figures come from").nth(1).unwrap();
    let count = |what: &str| explained.lines().filter(|line| line.trim_start().starts_with(what)).count();
    assert!(count("by: ") > 15);
    assert_eq!(count("by: "), count("source: "));
    for topic in ["Pressure", "Hose", "Trial box", "Power", "Time", "Truck and storage"] {
        assert!(explained.lines().any(|line| line.trim() == topic), "{topic}");
    }
    for source in ["4.1101.5", "Colebrook", "210.20(A)", "chapter 9, table 8", "400.5, from memory", "annex D"] {
        assert!(plain(explained).contains(source), "{source}");
    }
}

#[test]
fn units_are_those_asked_for() {
    let outcome = house("portable").args(["--units", "si"]).status(1);
    fits(&outcome);
    assert!(outcome.stdout.contains("19.93 kPa (199 mbar)") && !outcome.stdout.contains("in. w.c."));
}

fn saved(run: Run, folder: &Path, status: i32) -> Value {
    let path = folder.join("rig.json");
    run.arg("--save").arg(&path).status(status);
    serde_json::from_slice(&fs::read(path).unwrap()).unwrap()
}

fn sum(values: &Value, key: &str) -> f64 {
    values.as_array().unwrap().iter().map(|value| value[key].as_f64().unwrap()).sum()
}

#[test]
fn the_plan_loses_no_hour_and_no_bag() {
    let folder = TempDir::new().unwrap();
    for (rig, status) in [("portable", 1), ("trailer", 0)] {
        let check = saved(house(rig), folder.path(), status);
        let time = &check["time"];
        assert!((sum(&time["stages"], "work_h") - time["total_h"].as_f64().unwrap()).abs() < 1e-9);
        let days = time["days"].as_array().unwrap();
        let worked: f64 = days.iter().map(|day| sum(&day["work"], "work_h")).sum();
        assert!((worked - time["total_h"].as_f64().unwrap()).abs() < 1e-9, "{rig}");
        // Six hours a day, one of them for setting up.
        assert!(days.iter().all(|day| sum(&day["work"], "work_h") <= 5.0 + 1e-9), "{rig}");
        let path = folder.path().join("x.json");
        let takeoff = Run::new("takeoff").args(["samples/house.ifc", "--job", "samples/house.toml", "--save"]);
        takeoff.arg(&path).status(0);
        let takeoff: Value = serde_json::from_slice(&fs::read(&path).unwrap()).unwrap();
        for fill in takeoff["fills"].as_array().unwrap() {
            let bags = days.iter().flat_map(|day| day["bags"].as_array().unwrap());
            let own = bags.filter(|bags| bags["fill"] == fill["name"]).map(|bags| bags["bags"].as_u64().unwrap());
            assert_eq!(Some(own.sum::<u64>()), fill["bags_order"].as_u64(), "{rig}");
        }
        let needs = sum(&check["pressure"]["needs"], "mass_kg");
        let surfaces = takeoff["surfaces"].as_array().unwrap().iter();
        let closed = surfaces.filter(|surface| surface["use"] == "closed cavity" && surface["counted"] == true);
        let closed_kg: f64 = closed.map(|surface| surface["mass_kg"].as_f64().unwrap()).sum();
        assert!((needs - closed_kg).abs() < 1e-6, "every pound that is packed has its depth: {needs} of {closed_kg}");
    }
}

/// By hand: 126 holes at 20 an hour each by three people, and pounds with their allowance at the rig's own rates.
#[test]
fn hours_follow_from_the_rates() {
    let folder = TempDir::new().unwrap();
    let check = saved(house("portable"), folder.path(), 1);
    let stages = check["time"]["stages"].as_array().unwrap();
    assert_eq!(stages[0]["what"], "drill and plug");
    assert!((stages[0]["work_h"].as_f64().unwrap() - 126.0 / 60.0).abs() < 1e-9);
    for stage in &stages[1..] {
        let rate = if stage["what"].as_str().unwrap().contains("open") { 700.0 } else { 300.0 };
        let pounds = stage["mass_kg"].as_f64().unwrap() / 0.453_592_37;
        assert!((stage["work_h"].as_f64().unwrap() - pounds / rate).abs() < 1e-9);
    }
}

#[test]
fn without_inputs_the_rig_is_checked_by_its_own_figures() {
    let run = Run::new("rig").args(["--job", "samples/house.toml", "--rig", "trailer"]);
    let folder = TempDir::new().unwrap();
    let check = saved(run, folder.path(), 0);
    assert_eq!((&check["has_takeoff"], &check["time"]), (&Value::Bool(false), &Value::Null));
    assert_eq!(check["status"], "holds");
    assert!(check["hazards"].as_array().unwrap().len() > 8);
    let page = Run::new("rig").args(["--job", "samples/house.toml", "--rig", "trailer"]).status(0);
    assert!(page.stdout.contains("Without a takeoff"), "{}", page.stdout);
}

#[test]
fn what_the_walls_stand_turns_the_air_down() {
    let run = |limit: &str, status: i32| {
        plain(&house("trailer").args(["--set", &format!("site.finish_limit={limit}")]).status(status).stdout)
    };
    let down = run("3.5 psi", 0);
    assert!(down.contains("Turn the air down below") && down.contains("fill one bay"), "{down}");
    let never = run("2.5 psi", 1);
    assert!(never.contains("Do not pack these walls behind this finish"), "{never}");
}

#[test]
fn a_shallow_box_shows_nothing_of_deeper_bays() {
    let set = |key: &str, value: &str| ["--set".to_owned(), format!("rig.trailer.trial_box.{key}={value}")];
    let run = house("trailer").args(set("depth", "5.5 in")).args(set("after", "22.3 lb")).status(0);
    let text = plain(&run.stdout);
    assert!(text.contains("NOT SHOWN YET to do this job (trial box)"), "{text}");
    assert!(text.contains("the deepest bays, 14\" of cellulose at 4.0 lb/ft3, have no box of their own"), "{text}");
    let light = house("trailer").args(set("after", "26 lb")).status(1);
    assert!(plain(&light.stdout).contains("Do not go on to the walls."));
}

#[test]
fn the_checklist_is_fed_by_the_takeoff_and_the_year() {
    let of = |built: &str| plain(&house("trailer").args(["--set", &format!("site.built={built}")]).status(0).stdout);
    let old = of("1925");
    for found in [
        "knob-and-tube wiring (built 1925: expect it)",
        "lead paint (built 1925: expect it)",
        "recessed lights (2 recessed lights in the takeoff)",
        "flues and chimneys (2 flues in the takeoff)",
        "1 attic floor; 52 baffles to set in roofs",
        "[NEC 394.12(5)",
        "[NEC 410.116(B)]",
        "[40 CFR 745",
        "[IRC R806.2 and R806.3]",
        "29 CFR 1910.1000",
    ] {
        assert!(old.contains(found), "{found}: {old}");
    }
    let new = of("2005");
    assert!(new.contains("lead paint (built 2005: unlikely, look)"), "{new}");
}

/// The rig in the example that `start` writes, its comment signs taken off, is one that can be checked.
#[test]
fn the_rig_of_the_example_can_be_used() {
    let text = fs::read_to_string(sample("start/job.toml")).unwrap();
    let lines = text.lines().skip_while(|line| *line != "# [site]").take_while(|line| !line.is_empty());
    let rig: Vec<&str> = lines.map(|line| line.strip_prefix("# ").unwrap()).collect();
    let folder = TempDir::new().unwrap();
    let job = folder.path().join("job.toml");
    fs::write(&job, rig.join("\n")).unwrap();
    let outcome = Run::new("rig").arg("--job").arg(&job).outcome();
    assert!(matches!(outcome.status, 0 | 1), "{}", outcome.stderr);
    assert!(outcome.stdout.starts_with("Rig trailer: "), "{}", outcome.stdout);
}

#[test]
fn what_cannot_be_used_is_refused() {
    let folder = TempDir::new().unwrap();
    let empty = folder.path().join("job.toml");
    fs::write(&empty, "").unwrap();
    let job = sample("house.toml");
    let refused = |args: &[&str], found: &str| {
        let outcome = Run::new("rig").args(args).status(2);
        assert!(outcome.stdout.is_empty() && outcome.stderr.contains(found), "{found}: {}", outcome.stderr);
    };
    let (empty, job) = (empty.to_str().unwrap(), job.to_str().unwrap());
    refused(&[], "--job");
    refused(&["--job", empty], "has no rig");
    refused(&["--job", job, "--rig", "trailr"], "it has `portable`, `trailer`");
    refused(&["--job", job, "--save", "x.csv"], "`.json` alone");
    refused(&["--job", job, "--set", "rig.portable.gauge.pressure=2 psi|3 psi"], "one value");
    refused(&["--job", job, "--set", "rig.portable.gauge.presure=2 psi"], "did you mean `pressure`?");
}

/// Bags of the sample house by hand: 322 of cellulose at 2.6 ft3 and 57 of glass fibre at 3.9 ft3 are 837.2 + 222.3 = 1059.5 ft3; at
/// 2.6 ft3 each they would be 985.4. A truck of 1,000 ft3 takes the latter alone.
#[test]
fn each_fill_may_have_bags_of_its_own_size() {
    let house = |sets: &[&str]| {
        let mut run = house("trailer").args(["--set", "rig.trailer.truck.volume=1000 ft3"]);
        for set in sets {
            run = run.args(["--set", set]);
        }
        run
    };
    let folder = TempDir::new().unwrap();
    let said = |run: Run, status: i32| {
        let rig = saved(run, folder.path(), status);
        let points = rig["points"].as_array().unwrap().clone();
        points.iter().map(|point| point["found"].as_str().unwrap().to_owned()).collect::<Vec<String>>().join("\n")
    };
    let alike = said(house(&[]), 0);
    assert!(alike.contains("985.4 ft3: one load"), "{alike}");
    let own = said(house(&["rig.trailer.truck.bag_volumes.\"glass fibre\"=3.9 ft3"]), 1);
    assert!(own.contains("and 1,059.5 ft3: more than the truck's 1,000.0 ft3"), "{own}");
    assert!(own.contains("dry storage takes 500.0 ft3 of 1,059.5 ft3"), "{own}");
}
