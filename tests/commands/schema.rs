//! `cavitally schema`

use super::support::Run;
use serde_json::Value;

#[test]
fn every_schema_is_printed_as_json() {
    for (name, key) in [("job", "/properties/assembly"), ("takeoff", "/properties/balance"), ("sheet", "/0/fields")] {
        let outcome = Run::new("schema").arg(name).status(0);
        let value: Value = serde_json::from_str(&outcome.stdout).unwrap();
        assert!(value.pointer(key).is_some(), "{name} has no {key}");
        assert_eq!(outcome.stderr, "");
    }
}

#[test]
fn an_unknown_schema_is_refused_with_the_names() {
    let outcome = Run::new("schema").arg("takeof").status(2);
    assert_eq!(outcome.stdout, "");
    for name in ["job", "sheet", "takeoff"] {
        assert!(outcome.stderr.contains(name), "{}", outcome.stderr);
    }
}
