//! `--save x.takeoff.ifc`: the model as it was, and behind it what the takeoff says.

use super::{HOUSE, save};
use crate::commands::support::Run;
use crate::support::run::{number, surfaces, text};
use crate::support::{assert_near, models};
use serde_json::Value;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// The takeoff without what names the file.
fn plain(mut takeoff: Value, path: &str) -> String {
    takeoff["inputs"] = Value::Null;
    takeoff.to_string().replace(path, "MODEL")
}

/// Saves a takeoff into its model, and takes the saved one off again in the same way.
fn round(model: &str, options: &[&str]) -> (Value, Vec<u8>, Vec<u8>) {
    let folder = tempfile::tempdir().unwrap();
    let first: Vec<&str> = std::iter::once(model).chain(options.iter().copied()).collect();
    let (takeoff, paths) = save(folder.path(), &first, &["x.takeoff.ifc"]);
    let saved = paths[0].to_str().unwrap();
    let second: Vec<&str> = std::iter::once(saved).chain(options.iter().copied()).collect();
    let (again, _) = save(folder.path(), &second, &[]);
    assert!(plain(takeoff.clone(), model) == plain(again, saved), "{model}: another takeoff than before");
    (takeoff, std::fs::read(model).unwrap(), std::fs::read(saved).unwrap())
}

/// Whether every byte of the one stands in the other, in one piece before and one behind what was added.
fn added<'s>(before: &[u8], saved: &'s [u8]) -> &'s str {
    let same = before.iter().zip(saved).take_while(|(a, b)| a == b).count();
    let head = before[..same].iter().rposition(|byte| *byte == b';').unwrap() + 1;
    let rest = &before[head..];
    let tail = &rest[rest.windows(6).position(|window| window.eq_ignore_ascii_case(b"ENDSEC")).unwrap()..];
    assert!(saved.ends_with(tail), "what follows the data is as it was");
    std::str::from_utf8(&saved[head..saved.len() - tail.len()]).unwrap()
}

/// The values of one name among the added records, in their order.
fn values(records: &str, class: &str, name: &str, place: usize) -> Vec<f64> {
    let begin = format!("{class}('{name}',");
    let value = |line: &str| line.split_once(begin.as_str())?.1.split([',', ')']).nth(place)?.parse().ok();
    records.lines().filter_map(value).collect()
}

#[test]
fn the_sample_model_keeps_every_byte_and_gives_the_same_takeoff() {
    let (takeoff, before, saved) = round(HOUSE[0], &HOUSE[1..]);
    let records = added(&before, &saved);
    let mut by_element: BTreeMap<&str, (f64, f64, f64)> = BTreeMap::new();
    let mut order = Vec::new();
    for surface in surfaces(&takeoff).iter().filter(|surface| surface["counted"] == true) {
        let entity = text(&surface["source"], "entity");
        let sums = by_element.entry(entity).or_insert_with(|| {
            order.push(entity);
            (0.0, 0.0, 0.0)
        });
        sums.0 += number(surface, "gross_area_m2");
        sums.1 += number(surface, "bay_volume_m3");
        sums.2 += number(surface, "mass_kg");
    }
    let areas = values(records, "IFCQUANTITYAREA", "GrossArea", 2);
    let volumes = values(records, "IFCQUANTITYVOLUME", "BayVolume", 2);
    let masses = values(records, "IFCQUANTITYWEIGHT", "FillMass", 2);
    assert_eq!((areas.len(), volumes.len(), masses.len()), (order.len(), order.len(), order.len()));
    for (index, entity) in order.iter().enumerate() {
        let (area, volume, mass) = by_element[entity];
        assert_near!(areas[index], area, 1e-9, "{entity}");
        assert_near!(volumes[index], volume, 1e-9, "{entity}");
        assert_near!(masses[index], mass, 1e-9, "{entity}");
        assert_eq!(records.matches(&format!("({entity}),#")).count(), 2, "{entity} has two sets");
    }
    let of_fills: f64 = takeoff["fills"].as_array().unwrap().iter().map(|fill| number(fill, "mass_kg")).sum();
    assert_near!(masses.iter().sum::<f64>(), of_fills, 1e-6);
}

#[test]
fn models_by_others_keep_every_byte_and_give_the_same_takeoff() {
    let Some(models) = models("models with their takeoff") else { return };
    let mut paths: Vec<PathBuf> =
        std::fs::read_dir(models.join("ifc")).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.retain(|path| path.extension().is_some_and(|ending| ending == "ifc"));
    paths.retain(|path| std::fs::metadata(path).unwrap().len() < 3_000_000);
    paths.sort();
    let mut framed = 0;
    for path in &paths {
        let folder = tempfile::tempdir().unwrap();
        let probe = Run::new("takeoff").arg(path).args(["--frame", "*: 2x6 @ 16 in", "--exposure", "all"]).outcome();
        if probe.status != 0 {
            continue;
        }
        let (takeoff, before, saved) =
            round(path.to_str().unwrap(), &["--frame", "*: 2x6 @ 16 in", "--exposure", "all"]);
        let counted = surfaces(&takeoff).iter().any(|surface| surface["counted"] == true);
        if counted {
            assert!(added(&before, &saved).contains("'Cavitally_Takeoff'"), "{}", path.display());
            framed += 1;
        }
        drop(folder);
    }
    assert!(framed > 5, "{framed} of {} models have framed surfaces", paths.len());
}

#[test]
fn an_archive_is_saved_as_a_plain_model() {
    use std::io::Write;
    let folder = tempfile::tempdir().unwrap();
    let packed = folder.path().join("house.ifczip");
    let model = std::fs::read(HOUSE[0]).unwrap();
    let mut writer = zip_writer(&packed);
    writer.start_file("house.ifc", zip::write::SimpleFileOptions::default()).unwrap();
    writer.write_all(&model).unwrap();
    writer.finish().unwrap();
    let arguments = [packed.to_str().unwrap(), "--job", "samples/house.toml"];
    let (_, paths) = save(folder.path(), &arguments, &["model.ifc"]);
    assert!(added(&model, &std::fs::read(&paths[0]).unwrap()).contains("IFCELEMENTQUANTITY"));
}

fn zip_writer(path: &Path) -> zip::ZipWriter<std::fs::File> {
    zip::ZipWriter::new(std::fs::File::create(path).unwrap())
}

#[test]
fn only_one_model_takes_a_takeoff_and_only_once() {
    let folder = tempfile::tempdir().unwrap();
    let saved = folder.path().join("x.takeoff.ifc");
    let run = |inputs: &[&str], to: &Path| Run::new("takeoff").args(inputs).arg("--save").arg(to).outcome();
    let sheet = run(&["samples/cabin.csv"], &saved);
    assert_eq!(sheet.status, 2);
    assert!(sheet.stderr.contains("not one model"), "{}", sheet.stderr);
    let both = run(&["samples/house.ifc", "samples/cabin.csv"], &saved);
    assert_eq!(both.status, 2);
    assert!(!saved.exists());
    assert_eq!(run(&HOUSE, &saved).status, 0);
    let twice = run(&[saved.to_str().unwrap(), "--job", "samples/house.toml"], &folder.path().join("y.ifc"));
    assert_eq!(twice.status, 2);
    assert!(twice.stderr.contains("holds a saved takeoff already"), "{}", twice.stderr);
    let onto_itself = run(&HOUSE, Path::new("samples/house.ifc"));
    assert_eq!(onto_itself.status, 2);
}
