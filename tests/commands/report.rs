//! The report as a page and the crew sheet: well formed, escaped, in order, and with the figures of the takeoff.

use super::support::{Run, sample};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use tempfile::TempDir;

/// Elements that have no end.
const VOID: [&str; 3] = ["meta", "link", "br"];

/// A tag of the page with its attributes.
struct Tag {
    name: String,
    attributes: BTreeMap<String, String>,
}

/// The tags that open, in their order. Every one must be closed in turn and have quoted attributes.
fn tags(page: &str) -> Vec<Tag> {
    let body = page.strip_prefix("<!DOCTYPE html>").expect("a page begins with its type");
    let mut rest = body;
    let (mut open, mut found) = (Vec::new(), Vec::new());
    while let Some(at) = rest.find('<') {
        let inner = &rest[at + 1..];
        let end = inner.find('>').expect("a tag ends");
        let (tag, after) = (&inner[..end], &inner[end + 1..]);
        rest = after;
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop().as_deref(), Some(name), "closed out of turn");
            continue;
        }
        let name: String = tag.chars().take_while(char::is_ascii_alphanumeric).collect();
        let attributes = attributes(&tag[name.len()..]);
        if name == "style" {
            rest = &rest[rest.find("</style>").unwrap()..];
        }
        if !VOID.contains(&name.as_str()) {
            open.push(name.clone());
        }
        found.push(Tag { name, attributes });
    }
    assert!(open.is_empty(), "not closed: {open:?}");
    found
}

fn attributes(text: &str) -> BTreeMap<String, String> {
    let mut all = BTreeMap::new();
    let mut rest = text.trim_start();
    while !rest.is_empty() {
        let (name, after) = rest.split_once("=\"").unwrap_or_else(|| panic!("`{rest}` has no quoted value"));
        let (value, after) = after.split_once('"').expect("a value ends");
        assert!(all.insert(name.to_owned(), value.to_owned()).is_none(), "`{name}` twice");
        rest = after.trim_start();
    }
    all
}

/// A folder with a takeoff in it, saved as `report.html`, `x.json` and `crew.csv`.
fn saved(run: impl FnOnce(&TempDir) -> Run) -> (String, Value, Vec<BTreeMap<String, String>>) {
    let folder = TempDir::new().unwrap();
    let path = |name: &str| folder.path().join(name);
    let mut run = run(&folder);
    for name in ["report.html", "x.json", "crew.csv"] {
        run = run.arg("--save").arg(path(name));
    }
    run.status(0);
    let page = fs::read_to_string(path("report.html")).unwrap();
    let takeoff = serde_json::from_slice(&fs::read(path("x.json")).unwrap()).unwrap();
    (page, takeoff, rows(&fs::read(path("crew.csv")).unwrap()))
}

fn rows(table: &[u8]) -> Vec<BTreeMap<String, String>> {
    csv::Reader::from_reader(table).deserialize().map(Result::unwrap).collect()
}

fn house() -> (String, Value, Vec<BTreeMap<String, String>>) {
    saved(|_| Run::new("takeoff").arg(sample("house.ifc")).arg("--job").arg(sample("house.toml")))
}

fn of_sheet(sheet: &str, job: &str) -> (String, Value, Vec<BTreeMap<String, String>>) {
    saved(|folder| {
        fs::write(folder.path().join("surfaces.csv"), sheet).unwrap();
        fs::write(folder.path().join("job.toml"), job).unwrap();
        let run = Run::new("takeoff").arg(folder.path().join("surfaces.csv"));
        run.arg("--job").arg(folder.path().join("job.toml"))
    })
}

fn number(text: &str) -> f64 {
    text.parse().unwrap_or_else(|_| panic!("`{text}` is no number"))
}

#[test]
fn the_page_is_well_formed_and_asks_for_nothing() {
    let (page, ..) = house();
    let tags = tags(&page);
    let mut ids = BTreeSet::new();
    for id in tags.iter().filter_map(|tag| tag.attributes.get("id")) {
        assert!(ids.insert(id.as_str()), "`{id}` twice");
    }
    for tag in &tags {
        for names in ["aria-labelledby"].iter().filter_map(|name| tag.attributes.get(*name)) {
            assert!(names.split(' ').all(|name| ids.contains(name)), "`{names}` names nothing");
        }
        if let Some(link) = tag.attributes.get("href").filter(|link| *link != "data:,") {
            assert!(link.strip_prefix('#').is_some_and(|id| ids.contains(id)), "`{link}` leads nowhere");
        }
        assert!(!["script", "img", "iframe", "object", "image", "use"].contains(&tag.name.as_str()), "{}", tag.name);
        assert!(tag.attributes.keys().all(|name| !name.starts_with("on") && name != "src"));
        let fills = tag.attributes.get("fill").and_then(|fill| fill.strip_prefix("url(#")?.strip_suffix(')'));
        assert!(fills.is_none_or(|id| ids.contains(id)), "{fills:?}");
    }
    let elsewhere = page.replace("http://www.w3.org/2000/svg", "");
    assert!(!elsewhere.contains("http") && !elsewhere.contains("@import") && !elsewhere.contains("url(//"));
    let has = |name: &str| tags.iter().any(|tag| tag.name == name);
    assert!(["main", "nav", "header", "footer", "caption", "title", "desc", "h1"].into_iter().all(has));
    let without_scope = tags.iter().filter(|tag| tag.name == "th" && !tag.attributes.contains_key("scope")).count();
    assert_eq!(without_scope, 0);
}

#[test]
fn what_is_acted_on_comes_first() {
    let (page, ..) = house();
    let place = |text: &str| page.find(text).unwrap_or_else(|| panic!("`{text}` is missing"));
    let sections = ["order", "balance", "left-out", "findings", "assumptions", "framing", "plan", "crew"];
    let places: Vec<usize> = sections.iter().map(|id| place(&format!("<section id=\"{id}\""))).collect();
    assert!(places.is_sorted(), "{places:?}");
    assert!(place("322 bags") < place("not counted") && place("not counted") < place("class=\"caution\""));
    assert!(place("Before the first bay") < place("Bag marks") && place("Bag marks") < place("id=\"stop-1\""));
    let first = page.split("<article").nth(9).unwrap();
    assert!(first.find("Do not fill").unwrap() < first.find("<svg").unwrap(), "the bays that stay empty come first");
}

/// Everything that the order says at the terminal stands on the page too.
#[test]
fn the_page_says_all_that_the_order_says() {
    let folder = TempDir::new().unwrap();
    let saved = folder.path().join("report.html");
    let run = Run::new("takeoff").arg(sample("house.ifc")).arg("--job").arg(sample("house.toml"));
    let said = run.arg("--save").arg(&saved).status(0).stderr;
    let page = fs::read_to_string(saved).unwrap();
    for fact in [
        "322 bags",
        "57 bags",
        "308 to 335 at 90 %",
        "8 pallets of 40 and 2 bags",
        "5,602.80 USD",
        "126 holes",
        "126 to plug",
        "hours of blowing",
        "15 lb stay in hopper and hose",
        "331 ft2 not counted",
    ] {
        let plain = said.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(plain.contains(fact) && page.contains(fact), "{fact}");
    }
}

#[test]
fn figures_on_the_page_are_those_of_the_takeoff() {
    let (page, takeoff, rows) = house();
    let tags = tags(&page);
    let sum = |values: Vec<f64>| values.into_iter().sum::<f64>();
    let of = |name: &str, key: &str| -> Vec<f64> {
        tags.iter()
            .filter(|tag| tag.name == name)
            .filter_map(|tag| tag.attributes.get(key))
            .map(|v| number(v))
            .collect()
    };
    let counted: Vec<&Value> =
        takeoff["surfaces"].as_array().unwrap().iter().filter(|surface| surface["counted"] == true).collect();
    let mass_kg = sum(counted.iter().filter_map(|surface| surface["mass_kg"].as_f64()).collect());
    assert_eq!(of("article", "data-mass-kg").len(), counted.len());
    assert!((sum(of("article", "data-mass-kg")) - mass_kg).abs() < 1e-6);
    assert!((sum(of("p", "data-mass-kg")) - mass_kg).abs() < 1e-6, "headlines");
    assert!((of("div", "data-gross-area-m2")[0] - takeoff["balance"]["gross_area_m2"].as_f64().unwrap()).abs() < 1e-9);
    // Pounds of the crew's table, to the hundredth of each bay.
    let pounds = sum(rows.iter().filter(|row| row["do"] == "fill").map(|row| number(&row["mass_lb"])).collect());
    let bays = rows.iter().filter(|row| row["do"] == "fill").count();
    assert!((pounds - mass_kg / 0.453_592_37).abs() < 0.005 * bays as f64, "{pounds}");
    let holes: u64 = rows.iter().filter_map(|row| row["holes"].parse::<u64>().ok()).sum();
    assert_eq!(holes, counted.iter().filter_map(|surface| surface["holes"].as_u64()).sum::<u64>());
}

#[test]
fn holes_are_placed_in_their_bays_as_many_as_are_counted() {
    let (_, takeoff, _) = house();
    let mut placed = 0;
    for bay in takeoff["surfaces"].as_array().unwrap().iter().flat_map(|surface| surface["bays"].as_array().unwrap()) {
        let holes = bay["holes_m"].as_array().unwrap();
        assert_eq!(bay["holes"].as_u64(), Some(holes.len() as u64));
        let ring = bay["outline_m"][0].as_array().unwrap();
        let edge = |axis: usize, pick: fn(f64, f64) -> f64| {
            ring.iter().map(|point| point[axis].as_f64().unwrap()).reduce(pick).unwrap()
        };
        for hole in holes {
            let [x, y] = [0, 1].map(|axis| hole[axis].as_f64().unwrap());
            assert!(x > edge(0, f64::min) && x < edge(0, f64::max), "{hole}");
            assert!(y > edge(1, f64::min) && y < edge(1, f64::max), "{hole}");
            placed += 1;
        }
    }
    assert!(placed > 100);
}

#[test]
fn names_cannot_become_markup() {
    let sheet = "id,kind,storey,zone,assembly,length (ft),height (ft),do_not_fill\n\
                 \"<script>alert(1)</script>\",wall,\"</title><b>\",\"\"\" onload=\"\"x\",2x6 @ 16 in,12,8,1 ft to 2 ft: <img src=x>\n\
                 =1+1,wall,A&B,,2x6 @ 16 in,8,8,\n";
    let (page, _, rows) = of_sheet(
        sheet,
        "[project]\nname = \"<i>Site & Co</i>\"\n[fill.\"<u>fibre\"]\nmaterial = \"cellulose\"\nbag = \"25 lb\"\n",
    );
    for bad in ["<script", "<img", "<i>", "<b>", "<u>", "</title><b>"] {
        assert!(!page.contains(bad), "{bad}");
    }
    tags(&page);
    assert!(page.contains("&lt;script&gt;alert(1)&lt;/script&gt;") && page.contains("&lt;i&gt;Site &amp; Co"));
    assert!(rows.iter().any(|row| row["surface"] == "'=1+1"), "no cell begins like a formula");
}

/// The plain wall, 10 ft long and 97 1/8 in. high, bays of 2x6 at 16 in. filled at 3.5 lb/ft3. By hand: between plates 92 5/8
/// in. by 5 1/2 in.; widths 13 3/4, then 14 1/2 six times, then what is left before the end stud. A bay of 14 1/2 in. takes
/// 14.5 x 92.625 x 5.5 / 1728 x 3.5 = 14.96 lb, the first 14.19 lb. Two bags of 25 lb are first reached at the end of the
/// fourth bay: 14.19 + 3 x 14.96 = 59.07 lb, 2.4 bags.
#[test]
fn the_first_mark_stands_where_it_does_by_hand() {
    let sheet = "id,kind,assembly,length (ft),height (in)\nA,wall,2x6 @ 16 in,10,97.125\n";
    let (page, _, rows) = of_sheet(sheet, "[fill.cellulose]\nbag = \"25 lb\"\n");
    let fills: Vec<_> = rows.iter().filter(|row| row["do"] == "fill").collect();
    assert_eq!((fills[0]["mass_lb"].as_str(), fills[1]["mass_lb"].as_str()), ("14.19", "14.96"));
    let at = rows.iter().position(|row| row["do"] == "first mark").unwrap();
    assert_eq!((rows[at]["bay"].as_str(), rows[at]["blown_lb"].as_str()), ("4", "59.07"));
    assert_eq!((rows[at]["bags_at_machine"].as_str(), rows[at]["bags_at_most"].as_str()), ("2.4", "2.5"));
    assert_eq!(rows[at - 1]["bay"], "4");
    assert!(page.contains("Run the hopper down at each mark") && page.contains("no key plan"));
    // What hopper and hose hold has left the bags: 10 lb are 0.4 bags more.
    let (page, _, rows) = of_sheet(sheet, "[fill.cellulose]\nbag = \"25 lb\"\n[order]\nleft_in_machine = \"10 lb\"\n");
    let mark = rows.iter().find(|row| row["do"] == "first mark").unwrap();
    assert_eq!(mark["bags_at_machine"], "2.8");
    assert!(page.contains("Hopper and hose hold 10 lb"));
}

#[test]
fn from_inside_everything_is_the_other_way_round() {
    let sheet =
        "id,kind,assembly,length (ft),height (ft),do_not_fill\nA,wall,2x4 @ 24 in,10,8,1 ft to 2 ft: air duct\n";
    let of =
        |from: &str| of_sheet(sheet, &format!("[fill.cellulose]\nbag = \"25 lb\"\n[crew]\nseen_from = \"{from}\"\n"));
    let ((outside, _, from_outside), (inside, _, from_inside)) = (of("outside"), of("inside"));
    let bays = |rows: &[BTreeMap<String, String>]| -> Vec<String> {
        rows.iter().filter(|row| row["do"] == "fill").map(|row| row["bay"].clone()).collect()
    };
    let mut turned = bays(&from_inside);
    turned.reverse();
    assert_eq!(bays(&from_outside), turned);
    assert!(turned.len() > 3);
    let empty = |rows: &[BTreeMap<String, String>]| {
        let row = rows.iter().find(|row| row["do"] == "keep empty").unwrap();
        (number(&row["from_left_in"]), number(&row["width_in"]))
    };
    let ((left, wide), (mirrored, _)) = (empty(&from_outside), empty(&from_inside));
    assert!((left + wide + mirrored - 120.0).abs() < 0.03, "{left} {wide} {mirrored}");
    assert!(outside.contains("seen from outside") && inside.contains("seen from inside"));
    let order = |rows: &[BTreeMap<String, String>]| rows.iter().position(|row| row["do"] == "keep empty");
    assert_eq!((order(&from_outside), order(&from_inside)), (Some(0), Some(0)), "before any bay is filled");
}

#[test]
fn bays_that_nobody_surveyed_are_named_before_the_first() {
    let sheet = "id,kind,assembly,length (ft),height (ft)\nA,wall,old wall,10,8\n";
    let job =
        "[fill.cellulose]\nbag = \"25 lb\"\nretrofit = true\n[assembly.\"old wall\"]\nframing = \"2x4 @ 16 in\"\n";
    let (page, _, rows) = of_sheet(sheet, job);
    assert_eq!(rows[0]["do"], "survey");
    assert!(page.find("Bays not surveyed").unwrap() < page.find("id=\"stop-1\"").unwrap());
}

/// Sheets give walls as seen from outside. The model says nothing of that, and must come to the same.
#[test]
fn a_model_s_walls_are_seen_as_the_sheet_has_them() {
    let (_, takeoff, model) = house();
    let (_, _, sheet) = saved(|_| {
        let run = Run::new("takeoff").arg(sample("house-surfaces.csv")).arg(sample("house-openings.csv"));
        run.arg("--job").arg(sample("house.toml"))
    });
    for wall in ["G-S", "G-E", "G-N", "G-W", "U-S", "U-E", "U-N", "U-W", "O-N", "O-W"] {
        let of = |rows: &[BTreeMap<String, String>], key: &str| -> Vec<[String; 3]> {
            let own = rows.iter().filter(|row| row["do"] == "fill" && row[key] == wall);
            own.map(|row| ["bay", "from_left_in", "mass_lb"].map(|column| row[column].clone())).collect()
        };
        let (by_model, by_sheet) = (of(&model, "name"), of(&sheet, "surface"));
        assert!(!by_model.is_empty());
        assert_eq!(by_model, by_sheet, "{wall}");
        let seen = &model.iter().find(|row| row["name"] == wall).unwrap()["seen"];
        assert_eq!(seen, "seen from outside", "{wall}");
    }
    // The line of a wall in plan is as long as its outline.
    for surface in takeoff["surfaces"].as_array().unwrap().iter().filter(|surface| surface["kind"] == "wall") {
        let points: Vec<[f64; 2]> = serde_json::from_value(surface["plan_m"].clone()).unwrap();
        let length_m = (points[1][0] - points[0][0]).hypot(points[1][1] - points[0][1]);
        let rings: Vec<Vec<[f64; 2]>> = serde_json::from_value(surface["outline_m"].clone()).unwrap();
        let width_m = rings.iter().flatten().map(|point| point[0]).fold(0.0, f64::max);
        assert!((length_m - width_m).abs() < 1e-6, "{}", surface["name"]);
    }
}

#[test]
fn people_read_the_units_that_they_asked_for() {
    let folder = TempDir::new().unwrap();
    let path = |name: &str| folder.path().join(name);
    let run =
        Run::new("takeoff").arg(sample("house.ifc")).arg("--job").arg(sample("house.toml")).args(["--units", "si"]);
    run.arg("--save").arg(path("r.html")).arg("--save").arg(path("crew.csv")).status(0);
    let page = fs::read_to_string(path("r.html")).unwrap();
    assert!(page.contains("kg/m3") && page.contains(" mm<") && !page.contains("lb/ft3</dd>"));
    let rows = rows(&fs::read(path("crew.csv")).unwrap());
    assert!(rows[0].contains_key("mass_kg") && rows[0].contains_key("width_mm"));
}

/// A wall with a window, a gap too narrow for the tube, and a bay that stays empty, one element a line.
#[test]
fn a_drawing_stands_alone() {
    let sheet = "id,kind,assembly,length (ft),height (ft),do_not_fill,surface,width (ft),sill (ft),offset (ft)\n\
                 A,wall,2x6 @ 16 in,8,8,0 ft to 1 ft: air duct,,,,\n\
                 W,window,,,3,,A,3,3,3.5\n";
    let (_, takeoff, _) = of_sheet(sheet, "[fill.cellulose]\nbag = \"25 lb\"\n");
    let takeoff: cavitally::takeoff::Takeoff = serde_json::from_value(takeoff).unwrap();
    let drawing = cavitally::report::Elevation {
        surface: &takeoff.surfaces[0],
        id: "a",
        title: "Wall A",
        description: "A wall with a window.",
        is_mirrored: false,
        units: cavitally::units::UnitSystem::Us,
        defs: cavitally::report::Defs::Own,
    };
    let drawn = cavitally::report::elevation(&drawing);
    assert_eq!(drawn.len(), 1);
    let text = drawn[0].clone().into_string();
    assert!(text.starts_with("<svg class=\"drawing\" xmlns=\"http://www.w3.org/2000/svg\""));
    tags(&format!("<!DOCTYPE html>{text}"));
    insta::with_settings!({ prepend_module_to_snapshot => false, snapshot_path => "../snapshots", omit_expression => true }, {
        insta::assert_snapshot!("drawing", text.replace("><", ">\n<"));
    });
}
