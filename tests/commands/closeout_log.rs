//! `cavitally closeout`: what a log says twice, not at all, or besides its bags.

use super::closeout::of;
use super::support::Run;
use serde_json::Value;

const LB: f64 = 0.453_592_37;
const LB_FT3: f64 = 16.018_463;
const HEAD: &str = "what,date,surface,bags,mass,hopper before,hopper after,diameter,depth,photos\n";

fn rows(rows: &str) -> String {
    format!("{HEAD}{rows}")
}

fn zone(closeout: &Value, at: usize) -> &Value {
    &closeout["zones"][at]
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

fn input_share(zone: &Value, what: &str) -> f64 {
    let inputs = zone["uncertainty"].as_array().unwrap();
    number(&inputs.iter().find(|input| input["what"] == what).unwrap_or_else(|| panic!("{zone:#}"))["standard_share"])
}

// US weatherization training curriculum, 2012: walls are packed to 3.5 to 4.5 lb/ft3. 20 bags of 25 lb in wall A, about 32 ft3, are
// over 15 lb/ft3.
#[test]
fn more_than_a_wall_takes_is_no_proof() {
    let closeout = of(&rows("blown,2026-05-12,A,20,,run down,run down,,,\n"), 0);
    let zone = zone(&closeout, 0);
    assert!((number(&zone["limit_kg_m3"]) / LB_FT3 - 4.5).abs() < 1e-6);
    assert_eq!((&zone["verdict"], &zone["judged_by"]), (&Value::from("cannot-tell"), &Value::Null));
    let settles = zone["settles"].to_string();
    assert!(settles.contains("check the count") && settles.contains("a way out of the cavity"), "{settles}");
    assert_eq!(closeout["overall"][0]["verdict"], "cannot-tell");
}

#[test]
fn rows_that_say_the_same_are_named_with_both_places() {
    let row = "blown,2026-05-12,A,,62 lb,run down,run down,,,1\n";
    let closeout = of(&rows(&format!("{row}{row}")), 0);
    let finding = &closeout["findings"][0];
    assert_eq!(finding["code"], "log-doubt");
    assert!(finding["where"].as_str().unwrap().contains("log.csv:3"), "{finding}");
    assert!(finding["message"].as_str().unwrap().contains("log.csv:2"), "{finding}");
    // 124 lb in 32.4 ft3 are 3.83 lb/ft3, and half of it is short: whether it is reached hangs on which it was.
    assert_eq!(zone(&closeout, 0)["verdict"], "cannot-tell");
    let apart = of(&rows(&format!("{row}{}", row.replace(",1\n", ",2\n"))), 0);
    assert_eq!(
        (apart["findings"].as_array().unwrap().len(), &zone(&apart, 0)["verdict"]),
        (0, &Value::from("reached"))
    );
}

// 8 bags less the one that went back are 7, by the count; 175 lb of 25 lb a bag are 7 too.
#[test]
fn bags_that_went_back_are_not_used_and_weighed_fill_is() {
    let back = of(&rows("blown,,A,8,,run down,run down,,,\nreturned,,A,1,,,,,,\n"), 0);
    let weighed = of(&rows("blown,,A,,175 lb,run down,run down,,,\n"), 0);
    for closeout in [&back, &weighed] {
        let zone = zone(closeout, 0);
        assert!(
            (number(&zone["bags_exact"]) - 7.0).abs() < 1e-9 && (number(&zone["bags_used_exact"]) - 7.0).abs() < 1e-9
        );
        let overall = &closeout["overall"][0];
        let left = number(&overall["bags_order"]) - 7.0;
        assert!((number(&overall["left_exact"]) - left).abs() < 1e-9, "{overall:#}");
    }
    // 100 lb of 7 bags are still in the hopper: 75 lb are 3 bags.
    let half = of(&rows("blown,,A,7,,run down,100 lb,,,\n"), 1);
    assert!((number(&zone(&half, 0)["bags_used_exact"]) - 3.0).abs() < 1e-9);
    let open = of(&rows("blown,,A,7,,,,,,\n"), 0);
    assert!(zone(&open, 0)["bags_used_exact"].is_null());
}

#[test]
fn the_running_check_knows_the_hopper_and_what_was_taken_out() {
    let log = rows(
        "blown,2026-05-12,A,3,,10 lb,20 lb,,,\nspilled,2026-05-12,A,,5 lb,,,,,\nblown,2026-05-13,A,4,,20 lb,15 lb,,,\n\
         returned,2026-05-13,A,1,,,,,,\n",
    );
    let closeout = of(&log, 0);
    let pounds: Vec<f64> =
        closeout["running"].as_array().unwrap().iter().map(|check| number(&check["mass_kg"]) / LB).collect();
    // By hand: 75 + 10 - 20 - 5 = 60; then 60 + 100 + 20 - 15 - 25 = 140, which is what stays.
    assert!((pounds[0] - 60.0).abs() < 1e-9 && (pounds[1] - 140.0).abs() < 1e-9, "{pounds:?}");
    assert!((number(&zone(&closeout, 0)["net_kg"]) / LB - 140.0).abs() < 1e-9);
}

// By hand, two cores of 36.0 g, 3 in. and 3.5 in.: one standard deviation of each is 0.25/36 of scale, 0.0625/3.5 of depth and 2.5 % of
// sampling (ASTM C687), 3.15 % together; Student's t of one degree at 90 % is 6.314 (JCGM 100:2008, table G.2), so 6.314 x 3.15 % / 1.414 =
// 14.06 %; the cutter adds 1.645 x (1/32)/3 = 1.71 %: 14.2 %.
#[test]
fn cores_are_as_sure_as_their_scale_cutter_and_number() {
    let core = "core,,A,,36.0 g,,,3 in,3.5 in,\n";
    let closeout = of(&rows(&format!("blown,,A,7,,,,,,\n{core}{core}")), 0);
    let cores = &zone(&closeout, 0)["cores"];
    let half = (number(&cores["most_kg_m3"]) - number(&cores["mean_kg_m3"])) / number(&cores["mean_kg_m3"]);
    assert!((half - 0.142).abs() < 0.001, "{half}");
    // At 5.5 lb/ft3 that is still above 3.5, and above what a wall takes.
    assert_eq!(zone(&closeout, 0)["verdict"], "cannot-tell");
    let near = "core,,A,,23.5 g,,,3 in,3.5 in,\n";
    let closeout = of(&rows(&format!("blown,,A,7,,,,,,\n{near}{near}")), 0);
    assert_eq!(zone(&closeout, 0)["verdict"], "cannot-tell", "3.62 lb/ft3 by two cores shows nothing");
}

// Six cores of 26.5 g, 3 in. and 3.5 in. are 24.74 in3 each: 4.08 lb/ft3; 2.015 x 3.2 % / 2.449 = 2.6 % and 1.7 % of the cutter leave 3.9 and more.
#[test]
fn a_place_is_judged_by_its_cores_where_nobody_says_what_was_blown() {
    let cores = "core,,A,,26.5 g,,,3 in,3.5 in,\n".repeat(6);
    let closeout = of(&rows(&cores), 0);
    let zone = zone(&closeout, 0);
    assert_eq!((&zone["verdict"], &zone["judged_by"]), (&Value::from("reached"), &Value::from("cores")), "{zone:#}");
    assert_eq!((&zone["is_blown"], closeout["findings"].as_array().unwrap().len()), (&Value::from(false), 1));
    assert_eq!(closeout["not_logged"], serde_json::json!(["A", "B"]));
    assert!(closeout["overall"][0]["left_exact"].is_null());
    let short = of(&rows(&cores.replace("26.5", "18")), 1);
    assert_eq!(
        (&short["overall"][0]["verdict"], &short["overall"][0]["short"]),
        (&Value::from("short"), &serde_json::json!(["A"]))
    );
}

// 4 1/2 and 6 1/2 in. spread by 1.414 in.: their mean is known to 1 in. of 5.5, 18.2 %. One of 1/8 in. tolerance is not.
#[test]
fn depths_that_spread_are_as_unsure_as_they_spread() {
    let of_depths = |first: &str, second: &str| {
        let depth = |depth: &str| format!("depth,,A,,,,,,{depth},\n");
        let log = rows(&format!("blown,,A,8,,run down,run down,,,\n{}{}", depth(first), depth(second)));
        let closeout = of(&log, 0);
        (input_share(zone(&closeout, 0), "measured depth"), zone(&closeout, 0)["verdict"].clone(), closeout)
    };
    let (share, verdict, closeout) = of_depths("4 1/2 in", "6 1/2 in");
    assert!((share - 1.0 / 5.5).abs() < 1e-9, "{share}");
    assert_eq!(
        (&verdict, &closeout["overall"][0]["verdict"]),
        (&Value::from("cannot-tell"), &Value::from("cannot-tell"))
    );
    let (share, ..) = of_depths("3 1/2 in", "3 1/2 in");
    assert!((share - 0.0625 / 2.0_f64.sqrt() / 3.5).abs() < 1e-9, "{share}");
}

// Lengths and heights are off by 1/2 in., two standard deviations: of 16 ft by 97 1/8 in. that is the root of (0.25/192)2 + (0.25/97.125)2.
#[test]
fn lengths_are_as_sure_as_the_real_sides() {
    let closeout = of(&rows("blown,,A,7,,run down,run down,,,\n"), 0);
    let by_hand = ((0.25_f64 / 192.0).powi(2) + (0.25_f64 / 97.125).powi(2)).sqrt();
    assert!((input_share(zone(&closeout, 0), "length and height") - by_hand).abs() < 1e-9);
}

#[test]
fn a_type_is_an_assemblys_name_too_and_photos_stand_once() {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| {
        let path = folder.path().join(name);
        std::fs::write(&path, text).unwrap();
        path
    };
    let sheet =
        write("s.csv", "id,kind,length,height,assembly\nA,wall,16 ft,8 ft,outer wall\nB,wall,16 ft,8 ft,2x4 @ 16 in\n");
    let job =
        write("job.toml", "[fill.cellulose]\nbag = \"25 lb\"\n[assembly.\"outer wall\"]\nframing = \"2x6 @ 16 in\"\n");
    let log = write(
        "log.csv",
        "what,type,surface,bags,hopper before,hopper after,photos\nblown,outer wall,,10,run down,run down,7\n\
         blown,,B,7,run down,run down,7\n",
    );
    let (json, page) = (folder.path().join("x.json"), folder.path().join("x.html"));
    Run::new("closeout")
        .arg(&sheet)
        .arg("--job")
        .arg(&job)
        .arg("--log")
        .arg(&log)
        .arg("--save")
        .arg(&json)
        .arg("--save")
        .arg(&page)
        .status(0);
    let closeout: Value = serde_json::from_slice(&std::fs::read(json).unwrap()).unwrap();
    assert_eq!(zone(&closeout, 0)["parts"], serde_json::json!(["A"]));
    let page = std::fs::read_to_string(page).unwrap();
    assert_eq!(page.matches("<span>Photo numbers</span><span>7</span>").count(), 3, "once on each paper");
}
