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

/// `4`, or `4-7` for several bays in one row.
fn numbers_of(cell: &str) -> Vec<u32> {
    match cell.split_once('-') {
        Some((from, to)) => (from.parse().unwrap()..=to.parse().unwrap()).collect(),
        None => vec![cell.parse().unwrap()],
    }
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
