//! `cavitally closeout`: what a fill comes to over all places, and what is in doubt there.

use super::closeout::of;
use serde_json::Value;

const HEAD: &str = "what,surface,bags,mass,hopper before,hopper after,diameter,depth,photos,method,bays,found\n";

fn rows(rows: &str) -> String {
    format!("{HEAD}{rows}")
}

fn blown(surface: &str, pounds: &str, photos: &str) -> String {
    format!("blown,{surface},,{pounds} lb,run down,run down,,,{photos},,,\n")
}

fn taken(what: &str, surface: &str, pounds: &str, photos: &str) -> String {
    format!("{what},{surface},,{pounds} lb,,,,,{photos},,,\n")
}

/// Six cores of 3 in. through 3.5 in.: 24.74 in3 each, by hand. Of 21 g they are at 3.23 lb/ft3, of 26.5 g at 4.08, to within 3.1 %.
fn cores(surface: &str, grams: &str) -> String {
    format!("core,{surface},,{grams} g,,,3 in,3.5 in,,,,\n").repeat(6)
}

fn verdicts(closeout: &Value) -> (Vec<&str>, &str, &str) {
    let zones = closeout["zones"].as_array().unwrap().iter().map(|zone| zone["verdict"].as_str().unwrap()).collect();
    let fill = &closeout["overall"][0];
    (zones, fill["uses"][0]["verdict"].as_str().unwrap(), fill["verdict"].as_str().unwrap())
}

// Wall A has 32.4 ft3, of which 3.5 lb/ft3 are 113 lb: 124 lb reach it, and cores at 3.23 lb/ft3 do not. The mass in all says nothing
// of which is wrong.
#[test]
fn a_place_that_its_cores_contradict_is_not_reached_by_the_mass_in_all() {
    let closeout = of(&rows(&format!("{}{}", blown("A", "124", "1"), cores("A", "21"))), 0);
    assert_eq!(verdicts(&closeout), (vec!["cannot-tell"], "cannot-tell", "cannot-tell"));
    assert_eq!(closeout["zones"][0]["doubts"], serde_json::json!(["cores-contradict"]));
    let reason = closeout["overall"][0]["uses"][0]["reason"].as_str().unwrap();
    assert!(reason.contains("can't be told of A"), "{reason}");
}

#[test]
fn a_place_counted_twice_is_not_reached_by_the_mass_in_all() {
    let row = blown("A", "62", "1");
    let closeout = of(&rows(&format!("{row}{row}")), 0);
    assert_eq!(verdicts(&closeout), (vec!["cannot-tell"], "cannot-tell", "cannot-tell"));
    assert_eq!(closeout["zones"][0]["doubts"], serde_json::json!(["blown-twice"]));
}

// 60 lb in the 24 ft3 of wall B are 2.5 lb/ft3.
#[test]
fn a_place_that_is_short_stands_before_one_that_is_in_doubt() {
    let log = rows(&format!("{}{}{}", blown("A", "150", "1"), cores("A", "21"), blown("B", "60", "2")));
    assert_eq!(verdicts(&of(&log, 1)), (vec!["cannot-tell", "short"], "short", "short"));
}

// 124 lb less 15 are 109 lb, 3.36 lb/ft3, which may be 3.5; less 15 twice they are 94 lb, 2.90 lb/ft3, which is short.
#[test]
fn what_was_taken_out_twice_leaves_it_open_whether_a_place_is_short() {
    let log = |second: &str| {
        let (first, second) = (taken("spilled", "A", "15", "1"), taken("spilled", "A", "15", second));
        rows(&format!("{}{first}{second}", blown("A", "124", "1")))
    };
    let twice = of(&log("1"), 0);
    assert_eq!(verdicts(&twice), (vec!["cannot-tell"], "cannot-tell", "cannot-tell"));
    assert_eq!(twice["zones"][0]["doubts"], serde_json::json!(["taken-twice"]));
    assert!(twice["zones"][0]["settles"].to_string().contains("take out one of the rows"), "{twice:#}");
    assert_eq!(verdicts(&of(&log("2"), 1)), (vec!["short"], "short", "short"));
}

// 116 lb in 32.4 ft3 are 3.58 lb/ft3, too near to 3.5 for a count; its cores are at 4.08.
#[test]
fn a_fill_is_reached_where_each_of_its_places_is() {
    let closeout = of(&rows(&format!("{}{}{}", blown("A", "116", "1"), cores("A", "26.5"), cores("B", "26.5"))), 0);
    assert_eq!(verdicts(&closeout), (vec!["reached", "reached"], "reached", "reached"));
}

// A fill with one place is as sure as that place: what went back is weighed in both.
#[test]
fn what_went_back_is_as_unsure_in_all_as_in_its_place() {
    let closeout = of(&rows(&format!("{}{}", blown("A", "165", "1"), taken("returned", "A", "45", "1"))), 0);
    let (zone, own) = (&closeout["zones"][0], &closeout["overall"][0]["uses"][0]);
    let least = zone["least_kg_m3"].as_f64().unwrap() / zone["promised_kg_m3"].as_f64().unwrap();
    assert!((own["least_ratio"].as_f64().unwrap() - least).abs() < 1e-9, "{own:#}");
}
