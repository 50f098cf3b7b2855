//! `cavitally explain`: every figure can be computed again from those that are printed before it.

use super::support::{Run, sample};
use cavitally::explain::{Origin, explain};
use cavitally::intake::{IntakeOptions, Progress, as_written, read};
use cavitally::job::{Job, read_job};
use cavitally::model::Building;
use cavitally::report::render_explanations;
use cavitally::takeoff::{Takeoff, build};
use cavitally::units::UnitSystem;
use std::path::PathBuf;

/// What rounding of the printed figures may come to.
fn is_near(again: f64, printed: f64) -> bool {
    (again - printed).abs() <= 5e-6 * printed.abs() + 1e-5
}

/// Lines of a derivation, those that run on put together.
fn lines(text: &str) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for line in text.lines() {
        match (line.strip_prefix("      "), all.last_mut()) {
            (Some(more), Some(last)) => {
                last.push(' ');
                last.push_str(more);
            }
            _ => all.push(line.to_owned()),
        }
    }
    all
}

/// The number at the beginning of a text such as `5.5 ft2`.
fn number(text: &str) -> f64 {
    let word = text.split_whitespace().next().unwrap_or_default();
    word.parse().unwrap_or_else(|_| panic!("`{text}` begins with no number"))
}

/// An expression of `+`, `-`, `x` and `/`, with products before sums.
fn value(expression: &str) -> f64 {
    let mut total = 0.0;
    let mut words = expression.split_whitespace().peekable();
    let (mut sign, mut product) = (1.0, number(words.next().unwrap()));
    while let Some(word) = words.next() {
        match word {
            "+" | "-" => {
                total += sign * product;
                sign = if word == "+" { 1.0 } else { -1.0 };
                product = number(words.next().unwrap());
            }
            "x" => product *= number(words.next().unwrap()),
            "/" => product /= number(words.next().unwrap()),
            // A unit.
            _ => {}
        }
    }
    total + sign * product
}

/// Area within corners such as `(0, 4) (10, 0)`: the surveyor's formula, common practice, no source.
fn enclosed(corners: &str) -> f64 {
    let points: Vec<(f64, f64)> = corners
        .split(')')
        .filter_map(|corner| corner.trim().strip_prefix('(')?.split_once(','))
        .map(|(x, y)| (number(x), number(y)))
        .collect();
    assert!(points.len() >= 3, "{corners}");
    let next = points.iter().cycle().skip(1);
    points.iter().zip(next).map(|((x1, y1), (x2, y2))| x1 * y2 - x2 * y1).sum::<f64>().abs() / 2.0
}

/// Computes every step again; how many there were.
fn recompute(text: &str) -> usize {
    let mut steps = 0;
    let mut results: Vec<f64> = Vec::new();
    for line in lines(text) {
        let behind = line.rsplit_once(": ").map(|(_, behind)| behind).unwrap_or_default();
        if let Some((corners, area)) = line.split_once(" enclose ") {
            let corners = &corners[corners.find('(').unwrap()..];
            assert!(is_near(enclosed(corners), number(area)), "{line}");
        } else if let Some(sum) = behind.strip_prefix("the sum of the ") {
            let (count, result) = sum.split_once(" above = ").unwrap();
            let count: usize = count.parse().unwrap();
            let again: f64 = results[results.len() - count..].iter().sum();
            assert!(is_near(again, number(result)), "{line}: {again}");
        } else if let Some((exact, whole)) = behind.split_once(" gives ") {
            assert_eq!((number(exact) - 1e-9).ceil(), number(whole), "{line}");
        } else if let Some((expression, result)) = behind.split_once(" = ") {
            let again = value(expression);
            assert!(is_near(again, number(result)), "{line}: {again}");
            results.push(number(result));
        } else {
            continue;
        }
        steps += 1;
    }
    steps
}

fn takeoff(inputs: &[PathBuf], job: Option<&str>) -> (Building, Job, Takeoff) {
    let job = job.map_or_else(Job::default, |name| {
        let path = sample(name);
        read_job(&path.to_string_lossy(), &std::fs::read_to_string(&path).unwrap()).unwrap()
    });
    let options = IntakeOptions { keep_going: false, layer_rules: job.layer_rules.clone() };
    let building = read(inputs, &options, &Progress::default()).unwrap();
    let takeoff = build(&building, &job).unwrap();
    (building, job, takeoff)
}

fn check(inputs: &[PathBuf], job: Option<&str>) {
    let (building, job, takeoff) = takeoff(inputs, job);
    let origin = Origin { building: &building, job: &job, written: &as_written };
    for surface in &takeoff.surfaces {
        let part = if surface.part > 0 { format!("/{}", surface.part) } else { String::new() };
        let own = format!("{}{part}", surface.id);
        let ids =
            std::iter::once(own.clone()).chain(surface.bays.iter().take(3).map(|bay| format!("{own}#{}", bay.id)));
        for (index, id) in ids.enumerate() {
            for (units, per_kg) in [(UnitSystem::Us, 1.0 / 0.453_592_37), (UnitSystem::Si, 1.0)] {
                let text = render_explanations(&explain(&takeoff, &origin, &id).unwrap(), units);
                assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
                assert!(recompute(&text) >= if surface.counted { 5 } else { 1 }, "{id}:\n{text}");
                let mass_kg = if index == 0 { surface.mass_kg } else { Some(surface.bays[index - 1].mass_kg) };
                let shown = lines(&text).into_iter().find(|line| line.starts_with("  volume x density"));
                assert_eq!(shown.is_some(), mass_kg.is_some(), "{id}");
                let shown = shown.map(|line| number(line.rsplit_once("= ").unwrap().1));
                assert!(shown.zip(mass_kg).is_none_or(|(shown, kg)| is_near(kg * per_kg, shown)), "{id}: {shown:?}");
            }
        }
    }
}

#[test]
fn every_step_of_the_sample_model_can_be_computed_again() {
    check(&[sample("house.ifc")], Some("house.toml"));
}

#[test]
fn every_step_of_the_sample_sheets_can_be_computed_again() {
    check(&[sample("house-surfaces.csv"), sample("house-openings.csv")], Some("house.toml"));
    check(&[sample("cabin.csv")], Some("cabin-job.toml"));
    check(&[sample("start/surfaces.csv"), sample("start/openings.csv")], Some("start/job.toml"));
}

/// A step that does not come out must not pass.
#[test]
fn a_wrong_step_is_seen() {
    let wrong = std::panic::catch_unwind(|| recompute("  area: 2 ft x 3 ft = 6.1 ft2"));
    assert!(wrong.is_err());
    assert_eq!(recompute("  area: 2 ft x 3 ft + 1 ft2 = 7 ft2"), 1);
}

#[test]
fn a_bay_is_explained_from_its_cells_to_the_order() {
    let inputs = ["samples/house-surfaces.csv", "samples/house-openings.csv", "--job", "samples/house.toml"];
    for (name, units) in [("us", "us"), ("si", "si")] {
        let outcome = Run::new("explain").args(inputs).args(["--units", units, "O-S/1#2"]).status(0);
        insta::with_settings!({snapshot_path => "../snapshots", prepend_module_to_snapshot => false}, {
            insta::assert_snapshot!(format!("explain-bay-{name}"), outcome.stdout);
        });
    }
    let surface = Run::new("explain").args(inputs).arg("O-S/1").status(0);
    insta::with_settings!({snapshot_path => "../snapshots", prepend_module_to_snapshot => false}, {
        insta::assert_snapshot!("explain-surface-us", surface.stdout);
    });
}

#[test]
fn what_an_id_may_name() {
    let explain =
        |id: &str| Run::new("explain").arg("samples/house.ifc").args(["--job", "samples/house.toml", id]).outcome();
    let by_name = explain("O-S/1#2");
    assert_eq!(by_name.status, 0, "{}", by_name.stderr);
    assert_eq!(explain("3_SilaE9w$9fm7thhkD0nT/1#2").stdout, by_name.stdout);
    // All parts of one element.
    assert_eq!(explain("O-S").stdout.matches("As read").count(), 3);
    let several = explain("O-S#2");
    assert_eq!(several.status, 2);
    assert!(several.stderr.contains("3 parts") && several.stderr.contains("/2#2`"), "{}", several.stderr);
    let masonry = explain("O-E");
    assert!(masonry.stdout.contains("masonry or concrete"), "{}", masonry.stdout);
    for (id, near) in [("O-S/9", "O-S"), ("N-Z", "N-A"), ("O-S/1#99", "#1` to `#19"), ("O-E#1", "masonry or concrete")]
    {
        let unknown = explain(id);
        assert_eq!((unknown.status, unknown.stdout.as_str()), (2, ""), "{id}");
        assert!(unknown.stderr.contains(near), "{id}: {}", unknown.stderr);
    }
    let alone = Run::new("explain").arg("samples/house.ifc").status(2);
    assert!(alone.stderr.contains("behind it the id"), "{}", alone.stderr);
    let beside = Run::new("explain").args(["samples/cabin.csv", "--bag", "25 lb | 30 lb", "W1"]).status(2);
    assert!(beside.stderr.contains("one takeoff is explained"), "{}", beside.stderr);
}
