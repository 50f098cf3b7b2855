//! Damaged and odd models: never a panic, a hang or a number without meaning, and the sound wall still counts.
//!
//! Each file damages the first wall of one small model; `expected.json` says what must come of it.

use crate::support::models;
use crate::support::run::{Outcome, number, surfaces, takeoff, text};
use serde_json::Value;
use std::path::Path;
use std::time::Duration;

const LIMIT: Duration = Duration::from_secs(10);
const TOLERANCE_M2: f64 = 1e-4;
/// Said in `expected.json` where the second wall must be measured whatever becomes of the first.
const REST_COUNTS: &str = "wall B 10.0 m2 still counted";

#[test]
fn damaged_models_end_as_expected() {
    let Some(models) = models("bad_input") else { return };
    let directory = models.join("bad-input");
    let expected = std::fs::read_to_string(directory.join("expected.json")).expect("the list of bad inputs is there");
    let expected: serde_json::Map<String, Value> = serde_json::from_str(&expected).expect("the list is JSON");
    assert!(!expected.is_empty());
    let failures: Vec<String> = expected
        .iter()
        .filter_map(|(file, due)| {
            let outcome = takeoff(&[&directory.join(file)], &["--exposure", "all"], LIMIT);
            judge(&directory.join(file), due, &outcome).err().map(|reason| format!("{file}: {reason}"))
        })
        .collect();
    let number = failures.len();
    assert!(failures.is_empty(), "{number} of {} files end badly:\n{}", expected.len(), failures.join("\n"));
}

fn judge(path: &Path, due: &Value, outcome: &Outcome) -> Result<(), String> {
    if outcome.timed_out {
        return Err(format!("took more than {} s", LIMIT.as_secs()));
    }
    match text(due, "kind") {
        "ERR" => judge_refusal(path, outcome),
        "OK" => judge_takeoff(due, outcome).map(|_| ()),
        "WARN" => {
            let takeoff = judge_takeoff(due, outcome)?;
            let findings = takeoff["findings"].as_array().ok_or("no list of findings")?;
            let weighs = |finding: &Value| matches!(text(finding, "severity"), "warning" | "error");
            if findings.iter().any(weighs) { Ok(()) } else { Err(format!("no warning; due: {}", due["expect"])) }
        }
        other => Err(format!("the list of bad inputs has an unknown kind `{other}`")),
    }
}

fn judge_refusal(path: &Path, outcome: &Outcome) -> Result<(), String> {
    if outcome.status != Some(2) {
        return Err(format!("status {:?} and not 2; it said: {}", outcome.status, beginning(&outcome.stderr)));
    }
    if outcome.saved.is_some() {
        return Err("refused, but a file was saved".to_owned());
    }
    if outcome.stderr.contains("panicked") || outcome.stderr.trim().is_empty() {
        return Err(format!("no clear message: `{}`", outcome.stderr));
    }
    let file = path.file_name().and_then(|name| name.to_str()).unwrap_or_default();
    let errors = outcome.stderr.lines().filter(|line| line.contains(file)).count();
    if errors == 1 { Ok(()) } else { Err(format!("names the file {errors} times and not once: {}", outcome.stderr)) }
}

/// The first lines, which hold the message of a panic as well.
fn beginning(stderr: &str) -> String {
    stderr.lines().filter(|line| !line.trim().is_empty()).take(3).collect::<Vec<_>>().join("; ")
}

fn judge_takeoff(due: &Value, outcome: &Outcome) -> Result<Value, String> {
    if outcome.status != Some(0) {
        return Err(format!("status {:?} and not 0; it said: {}", outcome.status, beginning(&outcome.stderr)));
    }
    let saved = outcome.saved.as_deref().ok_or("nothing was saved")?;
    if ["NaN", "Infinity", "inf,", "inf}"].iter().any(|word| saved.contains(&format!(":{word}"))) {
        return Err("the saved file holds a number that is none".to_owned());
    }
    let takeoff: Value = serde_json::from_str(saved).map_err(|error| format!("no JSON was saved: {error}"))?;
    every_area_is_a_number(&takeoff)?;
    let balance = &takeoff["balance"];
    let net = number(balance, "gross_area_m2") - number(balance, "opening_area_m2");
    if let Some(due_net) = due["net_m2"].as_f64()
        && (net - due_net).abs() > TOLERANCE_M2
    {
        return Err(format!("net {net} m2; due: {}", due["expect"]));
    }
    if text(due, "expect").contains(REST_COUNTS) && !surfaces(&takeoff).iter().any(is_the_sound_wall) {
        return Err("the sound wall is not measured".to_owned());
    }
    Ok(takeoff)
}

/// A number that is not finite is written as null.
fn every_area_is_a_number(takeoff: &Value) -> Result<(), String> {
    for surface in surfaces(takeoff) {
        for key in ["gross_area_m2", "opening_area_m2", "member_area_m2", "bay_area_m2", "left_out_area_m2"] {
            if surface[key].as_f64().is_none_or(|area| area < 0.0) {
                return Err(format!("{key} of {} is {}", surface["id"], surface[key]));
            }
        }
    }
    Ok(())
}

fn is_the_sound_wall(surface: &Value) -> bool {
    let net = number(surface, "gross_area_m2") - number(surface, "opening_area_m2");
    text(surface, "name") == "Wall B" && (net - 10.0).abs() <= TOLERANCE_M2
}
