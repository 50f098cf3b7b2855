//! Drawings of the crew sheet: every bay is found in the drawing of its surface.

use super::support::{Run, sample};
use std::collections::BTreeMap;
use std::fs;
use tempfile::TempDir;

/// Texts of an element of the page that stand between a mark and the end of an element.
fn between<'p>(page: &'p str, begin: &str, end: &str) -> Vec<&'p str> {
    page.split(begin).skip(1).map(|part| part.split(end).next().unwrap()).collect()
}

/// Numbers of bays in the drawings of a stop, with how often each stands there: `12`, or `12: 3.4 lb`.
fn drawn(article: &str) -> BTreeMap<u32, usize> {
    let mut numbers = BTreeMap::new();
    for text in between(article, "<text", "</text>") {
        let text = text.split_once('>').unwrap().1;
        let is_bay = |number: &str, rest: &str| !number.is_empty() && (rest.is_empty() || rest.starts_with(':'));
        let digits = text.chars().take_while(char::is_ascii_digit).count();
        if is_bay(&text[..digits], &text[digits..]) {
            *numbers.entry(text[..digits].parse().unwrap()).or_insert(0) += 1;
        }
    }
    numbers
}

/// Every bay of every stop that has a drawing, on a page.
fn check(page: &str) -> usize {
    let mut bays = 0;
    for article in between(page, "<article", "</article>").iter().filter(|article| article.contains("<svg")) {
        let id = between(article, " id=\"", "\"")[0].to_owned();
        let mut rows: Vec<u32> = between(article, "<tr data-kg", "</th>")
            .iter()
            .flat_map(|row| numbers_of(row.rsplit_once('>').unwrap().1))
            .collect();
        rows.sort_unstable();
        let numbers = drawn(article);
        let drawn: Vec<u32> = numbers.keys().copied().collect();
        assert_eq!(drawn, rows, "{id}");
        assert!(numbers.values().all(|times| *times == 1), "{id}: {numbers:?}");
        bays += rows.len();
    }
    bays
}

/// `4`, or `4-7` for bays that are alike, and `7-4` where they are filled from the right.
fn numbers_of(cell: &str) -> Vec<u32> {
    let (from, to) = cell.split_once('-').unwrap_or((cell, cell));
    let (from, to): (u32, u32) = (from.parse().unwrap(), to.parse().unwrap());
    (from.min(to)..=from.max(to)).collect()
}

/// By hand: 10 ft of studs at 16 in. have bays of 13 3/4 in., then six of 14 1/2 in. from 1'-4 3/4" on, then the rest, of 6 3/4 in.
#[test]
fn bays_that_are_alike_are_one_row_of_the_crew_s_table() {
    let folder = TempDir::new().unwrap();
    let sheet = folder.path().join("walls.csv");
    fs::write(&sheet, "id,kind,assembly,length (ft),height (in)\nA,wall,2x6 @ 16 in,10,97.125\n").unwrap();
    let page = page(Run::new("takeoff").arg(&sheet).args(["--bag", "25 lb"]));
    let rows: Vec<&str> = between(&page, "<tr data-kg", "</tr>");
    assert_eq!(rows.len(), 3, "{rows:?}");
    for part in [">2-7</th>", ">1'-4 3/4\", every 16\"</td>", ">14 1/2\"</td>", ">1 each</td>", ">15.0 each</td>"] {
        let row = rows[1].replace("&quot;", "\"");
        assert!(row.contains(part), "{part}: {row}");
    }
    // 14.5 x 92.625 x 5.5 / 1728 x 3.5 lb, six times, in kilograms.
    let kg: f64 = rows[1].split('"').nth(1).unwrap().parse().unwrap();
    assert!((kg - 6.0 * 14.5 * 92.625 * 5.5 / 1728.0 * 3.5 * 0.453_592_37).abs() < 1e-4, "{kg}");
    check(&page);
}

fn page(run: Run) -> String {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("report.html");
    run.arg("--save").arg(&path).status(0);
    fs::read_to_string(path).unwrap()
}

#[test]
fn every_bay_has_its_number_in_a_drawing() {
    let house = page(Run::new("takeoff").arg(sample("house.ifc")).arg("--job").arg(sample("house.toml")));
    assert!(check(&house) > 300);
    let start = page(Run::new("takeoff").args([sample("start/surfaces.csv"), sample("start/openings.csv")]));
    assert!(check(&start) > 50);
}

/// A long wall takes several drawings; over each opening stand bays of 14 1/2 by 2 in., too small for any text.
#[test]
fn bays_that_are_too_small_are_numbered_outside() {
    let folder = TempDir::new().unwrap();
    let sheet = folder.path().join("walls.csv");
    let window = |index: u32| format!("W{index},window,,,4,A,5,2.75,{}\n", 3 + 7 * index);
    let windows: String = (0..9).map(window).collect();
    let heading = "id,kind,assembly,length (ft),height (ft),surface,width (ft),sill (ft),offset (ft)";
    let text = format!("{heading}\nA,wall,2x6 @ 16 in,70,8,,,,\n{windows}");
    fs::write(&sheet, text).unwrap();
    for from in ["outside", "inside"] {
        let job = folder.path().join("job.toml");
        fs::write(&job, format!("[crew]\nseen_from = \"{from}\"\n")).unwrap();
        let page = page(Run::new("takeoff").arg(&sheet).arg("--job").arg(&job));
        assert!(page.matches("<svg class=\"drawing\"").count() > 1, "several drawings");
        assert!(check(&page) > 80);
    }
}
