//! Claims that published rules and tables make or forbid.

use crate::commands::support::Run;
use serde_json::Value;
use std::path::PathBuf;

struct Case {
    folder: tempfile::TempDir,
}

impl Case {
    fn new() -> Self {
        Self { folder: tempfile::tempdir().unwrap() }
    }

    fn write(&self, name: &str, text: &str) -> PathBuf {
        let path = self.folder.path().join(name);
        std::fs::write(&path, text).unwrap();
        path
    }

    /// The claims of a plan, judged.
    fn claims(&self, sheet: &str, plan: &str, more: &[&str]) -> Vec<Value> {
        let path = self.folder.path().join("x.json");
        let sheet = self.write("surfaces.csv", sheet);
        let run = Run::new("audit").arg(sheet).arg("--claims").arg(self.write("plan.csv", plan)).args(more);
        let outcome = run.arg("--save").arg(&path).outcome();
        assert!(outcome.status < 2, "{}", outcome.stderr);
        let audit: Value = serde_json::from_slice(&std::fs::read(path).unwrap()).unwrap();
        audit["claims"].as_array().unwrap().clone()
    }
}

// A wall of 16 ft by 97 1/8 in. with studs at 16 in., three plates and no openings has 14.32 % of framing by the plain layout (13
// studs), by hand. WAC 51-11-1005.2 publishes .19 + .04 = 23 % for such a wall with openings and corners.
#[test]
fn the_published_default_is_not_the_framing_of_a_plain_wall() {
    let sheet = "id,kind,length,height,assembly\nA,wall,16 ft,97.125 in,2x4 @ 16 in\n";
    let claims = Case::new().claims(sheet, "surface,framing fraction\nA,14.3 %\nA,23 %\n", &["--bag", "25 lb"]);
    assert_eq!(claims[0]["verdict"], "holds");
    assert!((claims[0]["ours_si"].as_f64().unwrap() - 0.1432).abs() < 0.0001);
    assert_eq!(
        (&claims[1]["verdict"], &claims[1]["cause"]["cause"]),
        (&Value::from("too-high"), &Value::from("default-framing"))
    );
    assert!(claims[1]["cause"]["message"].as_str().unwrap().contains("WAC 51-11-1005"));
}

// A glass-fibre label in a county's building-permit record (Garfield County, Colorado, document 4074606), bag of 31.0 lb. R-38:
// 19.1 bags for 1,000 ft2, 52.5 ft2 a bag, 0.591 lb/ft2, 14.5 in.; 1,500 ft2 take 29 bags by all three.
const COUNTY: &str = "r value,settled thickness,initial thickness,coverage,bags per 1000 ft2,mass per area\n\
    R-30,11.75 in,11.75 in,67.1 ft2,14.9,0.462 lb/ft2\nR-38,14.5 in,14.5 in,52.5 ft2,19.1,0.591 lb/ft2\n\
    R-49,18.5 in,18.5 in,39.7 ft2,25.2,0.780 lb/ft2\n";

const ATTIC: &str = "[fill.\"glass fibre\"]\nbag = \"31 lb\"\n\n[[fill.\"glass fibre\".coverage]]\nuse = \"open-blown\"\nbasis = \"net\"\n\
    file = \"label.csv\"\n\n[assembly.attic]\nframing = \"2x4 @ 24 in\"\nr_value = \"R-38\"\n";

fn attic(plan: &str) -> Vec<Value> {
    let case = Case::new();
    case.write("label.csv", COUNTY);
    let job = case.write("job.toml", ATTIC);
    // Of a ceiling of which only the area is known 10 % is framing, to its own depth of 3.5 in 14.5 in.: 1,500 ft2 are left.
    let gross_ft2 = 1500.0 / (1.0 - 0.10 * 3.5 / 14.5);
    let sheet = &format!("id,kind,area,assembly,eaves\nA,ceiling,{gross_ft2} ft2,attic,0\n");
    case.claims(sheet, plan, &["--job", job.to_str().unwrap()])
}

#[test]
fn a_published_label_is_what_claims_on_an_attic_are_held_against() {
    let claims = attic("surface,bags,bag,settled thickness,r value,basis\nA,29,31 lb,14.5 in,R-38,label\n");
    for claim in &claims {
        assert_eq!(claim["verdict"], "holds", "{claim:#}");
    }
    let bags = claims.iter().find(|claim| claim["quantity"] == "bags").unwrap();
    // 28.57 by coverage, 28.65 by the table, 28.60 by weight.
    assert!((bags["ours_si"].as_f64().unwrap() - 28.60).abs() < 0.06, "{bags:#}");
}

// 16 CFR 460.17: `Do not multiply the R-value for one inch by the number of inches`. 14.5 in. at 2.9 an inch are 42, where the label
// prints R-38.
#[test]
fn r_per_inch_times_inches_is_found() {
    let claims = attic("surface,settled thickness,r value,basis,r per inch\nA,14.5 in,R-42,label,R-2.9\n");
    let r = claims.iter().find(|claim| claim["quantity"] == "r-value").unwrap();
    assert_eq!((&r["verdict"], &r["cause"]["cause"]), (&Value::from("too-high"), &Value::from("r-per-inch")));
}

// The label decides how many bags a mass is: the same attic in bags of 28 lb, the city record's (Springfield, Oregon, document
// 337345), takes 28.6 x 31 / 28 = 31.7 of them.
#[test]
fn bags_of_another_mass_are_found() {
    let claims = attic("surface,bags\nA,33\n");
    assert_eq!(
        (&claims[0]["verdict"], &claims[0]["cause"]["cause"]),
        (&Value::from("too-high"), &Value::from("other-bag"))
    );
}

// US national Standard Work Specifications 4.1103.1: cellulose at 3.5 lb/ft3 or more. 109.9 ft2 of bays at 3.5 in. take 112 lb.
#[test]
fn bags_below_the_minimum_density_are_found() {
    let sheet = "id,kind,length,height,assembly\nA,wall,16 ft,97.125 in,2x4 @ 16 in\n";
    let claims = Case::new().claims(sheet, "surface,bags,bag\nA,3,25 lb\n", &["--bag", "25 lb"]);
    let bags = claims.iter().find(|claim| claim["quantity"] == "bags").unwrap();
    assert_eq!(
        (&bags["verdict"], &bags["cause"]["cause"]),
        (&Value::from("too-low"), &Value::from("density-below-minimum"))
    );
    // 3 x 25 lb over the bays' volume, by hand: 16 ft x 97.125 in. x 3.5 in. less 14.32 %.
    let implied = 75.0 / (16.0 * 97.125 / 12.0 * 3.5 / 12.0 * (1.0 - 0.1432));
    assert!(bags["cause"]["message"].as_str().unwrap().contains(&format!("{implied:.1} lb/ft3")), "{bags:#}");
}
