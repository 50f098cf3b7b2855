//! `--save takeoff.xlsx`, read back by calamine.

use super::{HOUSE, save};
use calamine::{Data, Range, Reader, Xlsx, open_workbook};
use serde_json::Value;
use std::path::Path;

type Workbook = Xlsx<std::io::BufReader<std::fs::File>>;

fn open(path: &Path) -> Workbook {
    open_workbook(path).unwrap()
}

fn sheet(workbook: &mut Workbook, name: &str) -> Range<Data> {
    workbook.worksheet_range(name).unwrap()
}

/// Index of the column whose heading begins so.
fn column(range: &Range<Data>, row: usize, heading: &str) -> usize {
    let cells = range.rows().nth(row).unwrap();
    cells.iter().position(|cell| cell.to_string().starts_with(heading)).unwrap_or_else(|| panic!("no `{heading}`"))
}

#[track_caller]
fn number(cell: &Data) -> f64 {
    match cell {
        Data::Float(value) => *value,
        other => panic!("{other:?} is no number"),
    }
}

fn is_near(one: f64, other: f64) -> bool {
    (one - other).abs() <= 1e-12 * other.abs().max(1.0)
}

/// Saves the house and holds the stored results of all formulas against the JSON; a pound is 0.45359237 kg and a foot
/// 0.3048 m, NIST SP 811 app. B.8.
#[test]
fn stored_results_are_those_of_the_json() {
    for (units, kg, m3) in [("si", 1.0, 1.0), ("us", 0.453_592_37, 0.3048_f64.powi(3))] {
        let folder = tempfile::tempdir().unwrap();
        let arguments: Vec<&str> = HOUSE.into_iter().chain(["--units", units]).collect();
        let (takeoff, paths) = save(folder.path(), &arguments, &["takeoff.xlsx"]);
        let mut workbook = open(&paths[0]);
        let order = sheet(&mut workbook, "Order");
        let fills = takeoff["fills"].as_array().unwrap();
        let lines: Vec<&[Data]> = order.rows().skip(3).take(fills.len()).collect();
        for (line, fill) in lines.iter().zip(fills) {
            assert!(is_near(number(&line[1]) * m3, fill["volume_m3"].as_f64().unwrap()), "{line:?}");
            assert!(is_near(number(&line[2]) * kg, fill["mass_kg"].as_f64().unwrap()), "{line:?}");
            assert!(is_near(number(&line[3]) * kg, fill["bag_kg"].as_f64().unwrap()), "{line:?}");
            assert!(is_near(number(&line[4]), fill["bags_exact"].as_f64().unwrap()), "{line:?}");
            assert!(is_near(number(&line[6]), fill["bags_order"].as_f64().unwrap()), "{line:?}");
        }
        let surfaces = sheet(&mut workbook, "Surfaces");
        let mass = column(&surfaces, 0, "mass");
        let all = takeoff["surfaces"].as_array().unwrap();
        assert_eq!(surfaces.rows().count(), all.len() + 1);
        for (row, surface) in surfaces.rows().skip(1).zip(all) {
            match surface["mass_kg"].as_f64() {
                Some(mass_kg) => assert!(is_near(number(&row[mass]) * kg, mass_kg), "{row:?}"),
                None => assert_eq!(row[mass], Data::Empty),
            }
        }
        let bays = sheet(&mut workbook, "Bays");
        let (mass, alike) = (column(&bays, 0, "mass"), column(&bays, 0, "surfaces alike"));
        let sum_kg: f64 = bays.rows().skip(1).map(|row| number(&row[mass]) * number(&row[alike]) * kg).sum();
        let of_fills: f64 = fills.iter().map(|fill| fill["mass_kg"].as_f64().unwrap()).sum();
        assert!((sum_kg - of_fills).abs() <= 1e-9 * of_fills, "{sum_kg} {of_fills}");
        let count = |name: &str, key: &str, workbook: &mut Workbook| {
            assert_eq!(sheet(workbook, name).rows().count(), takeoff[key].as_array().unwrap().len() + 1, "{name}");
        };
        count("Assumptions", "assumptions", &mut workbook);
        count("Findings", "findings", &mut workbook);
    }
}

/// Masses and bags are formulas that lead back to the cells that may be changed; those hold plain numbers.
#[test]
fn what_may_be_changed_is_a_number_and_what_follows_a_formula() {
    let folder = tempfile::tempdir().unwrap();
    let (takeoff, paths) = save(folder.path(), &HOUSE, &["takeoff.xlsx"]);
    let mut workbook = open(&paths[0]);
    let formulas = workbook.worksheet_formula("Order").unwrap();
    let order = sheet(&mut workbook, "Order");
    let fills = takeoff["fills"].as_array().unwrap().len();
    for row in 3..3 + fills {
        let at = |column: u32| formulas.get_value((u32::try_from(row).unwrap(), column)).cloned().unwrap_or_default();
        assert!(at(2).starts_with("SUMIF(Surfaces!"), "{}", at(2));
        assert!(at(6).contains("ROUNDUP("), "{}", at(6));
        assert!(at(3).is_empty() && at(5).is_empty(), "bag and allowance are given");
    }
    let densities: Vec<&[Data]> = order.rows().skip(3 + fills + 2).take_while(|row| row[0] != Data::Empty).collect();
    assert!(densities.iter().filter(|row| matches!(row[1], Data::Float(_))).count() >= 4, "{densities:?}");
    let formulas = workbook.worksheet_formula("Surfaces").unwrap();
    let of_density = formulas.rows().flatten().filter(|formula| formula.starts_with("Order!$B$")).count();
    let counted = takeoff["surfaces"].as_array().unwrap().iter().filter(|surface| surface["counted"] == true).count();
    assert_eq!(of_density, counted);
}

#[test]
fn without_a_bag_the_order_waits_for_one() {
    let folder = tempfile::tempdir().unwrap();
    let (takeoff, paths) =
        save(folder.path(), &["samples/start/surfaces.csv", "samples/start/openings.csv"], &["x.xlsx"]);
    assert_eq!(takeoff["fills"][0]["bags_order"], Value::Null);
    let order = sheet(&mut open(&paths[0]), "Order");
    let line: Vec<Data> = order.rows().nth(3).unwrap().to_vec();
    assert!(line[3] == Data::Empty && line[6] == Data::String("no bag".to_owned()), "{line:?}");
    assert!(line[9].to_string().contains("not an order"), "{line:?}");
}

#[test]
fn no_name_runs_as_a_formula() {
    let folder = tempfile::tempdir().unwrap();
    let input = folder.path().join("sheet.csv");
    let text =
        "id,kind,storey,zone,assembly,length,height\n=1+1,wall,@SUM(A1),\"+\u{1b}[31m\",2x4 @ 16 in,10 ft,8 ft\n";
    std::fs::write(&input, text).unwrap();
    let (_, paths) = save(folder.path(), &[input.to_str().unwrap(), "--bag", "25 lb"], &["x.xlsx"]);
    let mut workbook = open(&paths[0]);
    let surfaces = sheet(&mut workbook, "Surfaces");
    let row: Vec<Data> = surfaces.rows().nth(1).unwrap().to_vec();
    assert_eq!(row[0], Data::String("=1+1".to_owned()));
    assert_eq!(row[4], Data::String("@SUM(A1)".to_owned()));
    assert_eq!(row[5], Data::String("+\\u{1b}[31m".to_owned()));
    let formulas = workbook.worksheet_formula("Surfaces").unwrap();
    assert!(formulas.rows().flatten().all(|formula| !formula.contains("1+1") && !formula.contains("SUM(A1)")));
}

#[test]
fn the_same_takeoff_gives_the_same_bytes() {
    let folder = tempfile::tempdir().unwrap();
    let (_, paths) = save(folder.path(), &HOUSE, &["a.xlsx"]);
    std::thread::sleep(std::time::Duration::from_millis(1100));
    let (_, again) = save(folder.path(), &HOUSE, &["b.xlsx"]);
    assert!(std::fs::read(&paths[0]).unwrap() == std::fs::read(&again[0]).unwrap());
}
