//! The schemas are those of the types, and what is written keeps to them.

use crate::commands::support::{Run, sample};
use serde_json::Value;
use std::path::PathBuf;

fn stored(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("schemas").join(name)
}

/// `UPDATE_SCHEMAS=1` writes them anew.
fn is_current(name: &str, schema: &schemars::Schema) {
    let text = format!("{:#}\n", schema.as_value());
    if std::env::var_os("UPDATE_SCHEMAS").is_some() {
        std::fs::write(stored(name), &text).unwrap();
    }
    let found = std::fs::read_to_string(stored(name)).unwrap();
    assert!(found == text, "schemas/{name} is not what the types say; UPDATE_SCHEMAS=1 writes it");
}

#[test]
fn the_stored_schemas_are_current() {
    is_current("takeoff.schema.json", &cavitally::takeoff::takeoff_schema());
    is_current("rig.schema.json", &cavitally::rig::rig_schema());
    is_current("job.schema.json", &cavitally::job::job_schema());
    is_current("audit.schema.json", &cavitally::audit::audit_schema());
    is_current("closeout.schema.json", &cavitally::closeout::closeout_schema());
}

fn keeps_to(schema: &Value, value: &Value) {
    let validator = jsonschema::draft202012::new(schema).unwrap();
    let errors: Vec<String> =
        validator.iter_errors(value).map(|error| format!("{}: {error}", error.instance_path())).collect();
    assert!(errors.is_empty(), "{errors:#?}");
}

fn schema(name: &str) -> Value {
    serde_json::from_str(&std::fs::read_to_string(stored(name)).unwrap()).unwrap()
}

#[test]
fn every_saved_takeoff_keeps_to_its_schema() {
    let schema = schema("takeoff.schema.json");
    jsonschema::meta::validate(&schema).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let with_openings = [sample("start/surfaces.csv"), sample("start/openings.csv")];
    let house = [sample("house-surfaces.csv"), sample("house-openings.csv")];
    let job = sample("house.toml").to_string_lossy().into_owned();
    for (name, inputs, more) in [
        ("start.json", with_openings.as_slice(), ["--bag", "25 lb"].as_slice()),
        ("house.json", house.as_slice(), &["--exposure", "interior", "--job", &job]),
    ] {
        let path = folder.path().join(name);
        let mut run = Run::new("takeoff").args(inputs).args(more).arg("--save").arg(&path);
        run.status(0);
        let value = serde_json::from_slice(&std::fs::read(&path).unwrap()).unwrap();
        keeps_to(&schema, &value);
    }
}

#[test]
fn every_saved_check_of_a_rig_keeps_to_its_schema() {
    let schema = schema("rig.schema.json");
    jsonschema::meta::validate(&schema).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let job = sample("house.toml").to_string_lossy().into_owned();
    let house = sample("house.ifc");
    for (name, inputs, rig, status) in [
        ("a.json", [&house].as_slice(), "portable", 1),
        ("b.json", &[&house], "trailer", 0),
        ("c.json", &[], "trailer", 0),
    ] {
        let path = folder.path().join(name);
        let run = Run::new("rig").args(inputs).args(["--job", &job, "--rig", rig, "--save"]);
        run.arg(&path).status(status);
        let mut value: Value = serde_json::from_slice(&std::fs::read(&path).unwrap()).unwrap();
        keeps_to(&schema, &value);
        value["pressure"]["air_pa"] = Value::from("1 atm");
        assert!(!jsonschema::draft202012::new(&schema).unwrap().is_valid(&value));
    }
}

#[test]
fn every_saved_audit_and_closeout_keeps_to_its_schema() {
    let folder = tempfile::tempdir().unwrap();
    let house = [sample("house-surfaces.csv"), sample("house-openings.csv")];
    for (command, option, input, name) in [
        ("audit", "--claims", "house-claims.csv", "audit.schema.json"),
        ("audit", "--claims", "house-plan.xml", "audit.schema.json"),
        ("closeout", "--log", "house-log.csv", "closeout.schema.json"),
        ("closeout with checks", "--log", "house-log.csv", "closeout.schema.json"),
    ] {
        let path = folder.path().join("x.json");
        let (command, has_checks) = command.split_once(' ').map_or((command, false), |(command, _)| (command, true));
        let run = Run::new(command).args(&house).arg("--job").arg(sample("house.toml"));
        let run = if has_checks { run.arg("--finish").arg(sample("house-finish.csv")) } else { run };
        run.arg(option).arg(sample(input)).arg("--save").arg(&path).status(1);
        let schema = schema(name);
        jsonschema::meta::validate(&schema).unwrap();
        keeps_to(&schema, &serde_json::from_slice(&std::fs::read(&path).unwrap()).unwrap());
    }
}

#[test]
fn a_takeoff_with_a_wrong_unit_does_not_keep_to_it() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("x.json");
    Run::new("takeoff").arg(sample("start/surfaces.csv")).arg("--save").arg(&path).status(0);
    let mut value: Value = serde_json::from_slice(&std::fs::read(&path).unwrap()).unwrap();
    value["surfaces"][0]["gross_area_m2"] = Value::from("12 m2");
    assert!(!jsonschema::draft202012::new(&schema("takeoff.schema.json")).unwrap().is_valid(&value));
}

#[test]
fn the_example_job_file_keeps_to_its_schema() {
    let text = std::fs::read_to_string(sample("start/job.toml")).unwrap();
    let job: toml::Table = toml::from_str(&text).unwrap();
    let schema = schema("job.schema.json");
    keeps_to(&schema, &serde_json::to_value(job).unwrap());
    let wrong = serde_json::json!({"layout": {"top_plats": 1}});
    assert!(!jsonschema::draft202012::new(&schema).unwrap().is_valid(&wrong));
}
