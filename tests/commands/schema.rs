//! `cavitally schema`

use super::support::Run;
use serde_json::Value;

#[test]
fn every_schema_is_printed_as_json() {
    for (name, key) in [
        ("job", "/properties/assembly"),
        ("takeoff", "/properties/balance"),
        ("rig", "/properties/points"),
        ("sheet", "/0/fields"),
        ("claims", "/fields"),
        ("log", "/fields"),
        ("survey", "/fields"),
        ("finish", "/fields"),
        ("audit", "/properties/claims"),
        ("closeout", "/properties/zones"),
    ] {
        let outcome = Run::new("schema").arg(name).status(0);
        let value: Value = serde_json::from_str(&outcome.stdout).unwrap();
        assert!(value.pointer(key).is_some(), "{name} has no {key}");
        assert_eq!(outcome.stderr, "");
    }
}

// Whether the text is a valid specification, `tests/differential/ids_check.py` asks another program.
#[test]
fn the_delivery_specification_is_printed_as_it_is_kept() {
    let outcome = Run::new("schema").arg("ids").status(0);
    let kept = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/schemas/takeoff.ids")).unwrap();
    assert_eq!(outcome.stdout, kept);
    assert!(outcome.stdout.contains("xmlns=\"http://standards.buildingsmart.org/IDS\""));
    assert_eq!(outcome.stderr, "");
}

#[test]
fn an_unknown_schema_is_refused_with_the_names() {
    let outcome = Run::new("schema").arg("takeof").status(2);
    assert_eq!(outcome.stdout, "");
    for name in ["ids", "job", "rig", "sheet", "takeoff"] {
        assert!(outcome.stderr.contains(name), "{}", outcome.stderr);
    }
}
