//! An open-data house that a development dependency carries among its resources: 13 walls, gables and openings.

use crate::support::assert_near;
use crate::support::run::{number, saved_takeoff, surfaces, text};
use std::path::PathBuf;
use std::process::Command;

/// GlobalId, gross area and opening area in m² of each wall, at mid thickness.
///
/// Source: computed from the solid geometry by ifcopenshell 0.9 (open source geometry kernel), slices by shapely 2.2.
const WALLS: [(&str, f64, f64); 13] = [
    ("0knNIAVBPBFvBy_m5QVHsU", 19.27076, 0.78508),
    ("1$wmdwWPjDYuku_ghVkynE", 8.75000, 0.00000),
    ("16DNNqzfP2thtfaOflvsKA", 31.59000, 9.57375),
    ("1bzfVsJqn8De5PukCrqylz", 31.59000, 7.20000),
    ("25OWQvmXj5BPgyergP43tY", 6.86325, 0.00000),
    ("25fsbPyk15VvuXI$yNKenK", 26.19000, 4.80000),
    ("2XPyKWY018sA1ygZKgQPtU", 10.42500, 0.00000),
    ("2ptk1k7qn8_Qk22vjh$0DE", 9.27500, 0.00000),
    ("3PfS__Y_DBAfq5naM6zD2Z", 13.92500, 1.77885),
    ("3Ttjr$59XEWfWN1WUHjelZ", 6.86325, 0.00000),
    ("3VCarUKgH1buLo22Ozxe6J", 19.27076, 0.78508),
    ("3jjW3rL656ex34Gws22EfM", 17.77500, 3.55770),
    ("3rPX_Juz59peXXY6wDJl18", 26.19000, 6.83010),
];

#[test]
fn walls_of_the_open_data_house() {
    let model = packaged_house();
    let takeoff = saved_takeoff(&[&model], &["--exposure", "all"]);
    let walls: Vec<_> = surfaces(&takeoff).iter().filter(|surface| text(surface, "kind") == "wall").collect();
    assert_eq!(walls.len(), WALLS.len());
    for (id, gross_m2, opening_m2) in WALLS {
        let wall = walls.iter().find(|wall| text(wall, "id") == id).unwrap_or_else(|| panic!("no wall `{id}`"));
        assert_near!(number(wall, "gross_area_m2"), gross_m2, 1e-4, "gross of {id}");
        assert_near!(number(wall, "opening_area_m2"), opening_m2, 1e-4, "openings of {id}");
    }
}

/// Where the package manager keeps the resources of `ifc_rs`.
fn packaged_house() -> PathBuf {
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let version = run(Command::new(&cargo).arg("-vV"));
    let host = version.lines().find_map(|line| line.strip_prefix("host: ")).expect("cargo names its host");
    let metadata = run(Command::new(&cargo)
        .args(["metadata", "--format-version", "1", "--offline", "--locked"])
        .args(["--filter-platform", host, "--manifest-path"])
        .arg(crate::support::project_file("Cargo.toml")));
    let metadata: serde_json::Value = serde_json::from_str(&metadata).expect("cargo writes JSON");
    let packages = metadata["packages"].as_array().expect("cargo lists packages");
    let package = packages.iter().find(|package| package["name"] == "ifc_rs").expect("the house's package is there");
    let manifest = PathBuf::from(package["manifest_path"].as_str().expect("a package has a path"));
    manifest.with_file_name("resources").join("AC20-FZK-Haus.ifc")
}

fn run(command: &mut Command) -> String {
    let output = command.output().expect("cargo runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).expect("cargo writes text")
}
