//! A log as a sheet: a row an entry.

use super::{BayList, Entry, Hopper, Log, Method, Taken, What};
use crate::finding::{Code, Finding};
use crate::intake::csv::table::{Column, Holds, Row, Table};
use crate::intake::selection::{KINDS, Selection};
use crate::model::Glob;
use crate::refusal::Refusal;
use crate::units::parse_mass;

/// Frictionless Table Schema (Data Package v2) of a log.
pub const LOG_SCHEMA: &str = include_str!("../../../schemas/log.table.json");

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Key {
    What,
    Date,
    Surface,
    Type,
    Storey,
    Zone,
    Kind,
    Fill,
    Bags,
    Mass,
    Start,
    End,
    Diameter,
    Depth,
    Bays,
    Method,
    Found,
    Grade,
    By,
    Photos,
    Note,
}

const fn column(key: Key, heading: &'static str, holds: Holds, others: &'static [&'static str]) -> Column<Key> {
    Column { key, heading, others, holds }
}

const COLUMNS: &[Column<Key>] = &[
    column(Key::What, "what", Holds::Text, &["entry"]),
    column(Key::Date, "date", Holds::Text, &["day"]),
    column(Key::Surface, "surface", Holds::Text, &["id", "surfaces"]),
    column(Key::Type, "type", Holds::Text, &[]),
    column(Key::Storey, "storey", Holds::Text, &["story"]),
    column(Key::Zone, "zone", Holds::Text, &[]),
    column(Key::Kind, "kind", Holds::Text, &[]),
    column(Key::Fill, "fill", Holds::Text, &["material"]),
    column(Key::Bags, "bags", Holds::Number, &[]),
    column(Key::Mass, "mass", Holds::Mass, &["weight"]),
    column(Key::Start, "hopper before", Holds::Text, &["before", "hopper at start"]),
    column(Key::End, "hopper after", Holds::Text, &["after", "hopper at end", "remainder"]),
    column(Key::Diameter, "diameter", Holds::Length, &["core diameter"]),
    column(Key::Depth, "depth", Holds::Length, &["reading"]),
    column(Key::Bays, "bays", Holds::Text, &["bay"]),
    column(Key::Method, "method", Holds::Text, &["seen by"]),
    column(Key::Found, "found", Holds::Text, &["result"]),
    column(Key::Grade, "grade", Holds::Text, &[]),
    column(Key::By, "by", Holds::Text, &["who"]),
    column(Key::Photos, "photos", Holds::Text, &["photo"]),
    column(Key::Note, "note", Holds::Text, &["notes"]),
];

const ENTRIES: &str =
    "write `blown`, `spilled`, `vacuumed`, `returned`, `in machine`, `core`, `depth`, `inspection` or `grade`";

/// Reads a log.
///
/// # Errors
/// Every cell that cannot be read, with its line and column, and every entry that lacks what it needs.
pub fn read_log_sheet(path: &str, bytes: &[u8]) -> Result<Log, Vec<Refusal>> {
    let table = Table::open(path, bytes, COLUMNS, &[])?;
    if !table.has(Key::What) {
        return Err(vec![Refusal::new(table.heading_place(), "the log has no column `what`", ENTRIES)]);
    }
    let mut findings = table.findings.clone();
    let entries = table.read_rows(("log", "give a row an entry"), |row, earlier: &[Entry]| {
        let entry = read_row(row)?;
        let before = earlier.iter().rev().find_map(|earlier| earlier.date);
        if let (Some(before), Some(date)) = (before, entry.date)
            && date < before
        {
            let message = format!("{date} stands below {before}; entries are taken in the order of the rows");
            findings.push(Finding::warning(Code::LogDoubt, &row.place(Key::Date), message));
        }
        Some(entry)
    })?;
    let input = table.input(bytes, "log");
    Ok(Log { input, entries, findings })
}

fn read_row(row: &mut Row<'_, '_, Key>) -> Option<Entry> {
    let date = row.date(Key::Date);
    let selection = read_selection(row);
    let what = read_what(row);
    if selection.is_empty() && row.faults.is_empty() {
        row.fault(
            Key::Surface,
            "the entry names no surface",
            "give an id, a pattern such as `G-*`, a storey or a zone",
        );
    }
    let text = |key: Key| row.text(key).map(str::to_owned);
    Some(Entry {
        place: row.place(Key::What),
        date,
        selection,
        fill: text(Key::Fill),
        by: text(Key::By),
        photos: text(Key::Photos),
        what: what.filter(|_| row.faults.is_empty())?,
    })
}

fn read_selection(row: &mut Row<'_, '_, Key>) -> Selection {
    let word = row.text(Key::Kind).map(str::to_lowercase);
    let kind = word.as_deref().and_then(|word| KINDS.iter().find(|(known, _)| *known == word));
    if let Some(word) = word.as_deref().filter(|_| kind.is_none()) {
        row.fault(Key::Kind, format!("`{word}` is no kind of surface"), "write `wall`, `ceiling`, `roof` or `floor`");
    }
    let glob = |key: Key| row.text(key).map(Glob::new);
    Selection {
        surfaces: row.text(Key::Surface).map(Selection::patterns).unwrap_or_default(),
        r#type: glob(Key::Type),
        storey: glob(Key::Storey),
        zone: glob(Key::Zone),
        kind: kind.map(|(_, kind)| *kind),
    }
}

fn read_what(row: &mut Row<'_, '_, Key>) -> Option<What> {
    let word = row.text(Key::What).map(str::to_lowercase).unwrap_or_default();
    let taken = match word.as_str() {
        "blown" => return read_blown(row),
        "core" => {
            let diameter_m = needed(row, Key::Diameter, "a core needs a `diameter`");
            let depth_m = needed(row, Key::Depth, "a core needs a `depth`");
            let mass_kg = needed(row, Key::Mass, "a core needs a `mass`");
            return Some(What::Core { diameter_m: diameter_m?, depth_m: depth_m?, mass_kg: mass_kg? });
        }
        "depth" => return Some(What::Depth { depth_m: needed(row, Key::Depth, "a reading needs a `depth`")? }),
        "inspection" => return read_inspection(row),
        "grade" => return read_grade(row),
        "spilled" => Taken::Spilled,
        "vacuumed" => Taken::Vacuumed,
        "returned" => Taken::Returned,
        "in machine" => Taken::InMachine,
        _ => {
            row.fault(Key::What, format!("`{word}` is no entry of a log"), ENTRIES);
            return None;
        }
    };
    let (bags, mass_kg) = amount(row)?;
    Some(What::Taken { taken, bags, mass_kg })
}

/// A measure above nought that must be there.
fn needed(row: &mut Row<'_, '_, Key>, key: Key, message: &str) -> Option<f64> {
    let is_there = row.text(key).is_some();
    let value = row.measure(key).map(|written| written.si);
    if !is_there {
        row.fault(Key::What, message, "give it in its own column, with its unit");
    } else if value.is_some_and(|value| value <= 0.0) {
        row.fault(key, "it is nought", "give what was measured");
    }
    value.filter(|value| *value > 0.0)
}

/// Bags, mass, or both.
fn amount(row: &mut Row<'_, '_, Key>) -> Option<(f64, f64)> {
    let bags = row.measure(Key::Bags).map(|written| written.si);
    let mass_kg = row.measure(Key::Mass).map(|written| written.si);
    if bags.is_none() && mass_kg.is_none() && row.faults.is_empty() {
        row.fault(
            Key::What,
            "the entry says neither bags nor mass",
            "give `bags` such as `12 1/2`, or `mass` such as `40 lb`",
        );
    }
    row.faults.is_empty().then(|| (bags.unwrap_or(0.0), mass_kg.unwrap_or(0.0)))
}

fn read_blown(row: &mut Row<'_, '_, Key>) -> Option<What> {
    let start = read_hopper(row, Key::Start);
    let end = read_hopper(row, Key::End);
    let (bags, mass_kg) = amount(row)?;
    Some(What::Blown { bags, mass_kg, start, end })
}

fn read_hopper(row: &mut Row<'_, '_, Key>, key: Key) -> Option<Hopper> {
    let text = row.text(key)?.to_owned();
    let help = "write `run down`, or what was weighed, such as `12 lb`";
    match text.to_lowercase().as_str() {
        "run down" | "empty" | "0" | "0 lb" | "0 kg" => return Some(Hopper::RunDown),
        _ => {}
    }
    if text.starts_with(['-', '−', '–']) {
        row.fault(key, format!("a remainder of `{text}` is below nought"), help);
        return None;
    }
    match parse_mass(&text) {
        Ok(mass) => Some(Hopper::Weighed(mass.si)),
        Err(message) => {
            row.fault(key, message, help);
            None
        }
    }
}

fn read_grade(row: &mut Row<'_, '_, Key>) -> Option<What> {
    let grade = row.text(Key::Grade).map(str::to_uppercase).unwrap_or_default();
    if !["I", "II", "III"].contains(&grade.as_str()) {
        row.fault(Key::Grade, format!("`{grade}` is no grade"), "write `I`, `II` or `III`, as the rater graded it");
    }
    let method = read_method(row);
    Some(What::Grade { grade, method: method? })
}

fn read_method(row: &mut Row<'_, '_, Key>) -> Option<Method> {
    let word = row.text(Key::Method).map(str::to_lowercase).unwrap_or_default();
    let method = match word.as_str() {
        "infrared" => Some(Method::Infrared),
        "borescope" => Some(Method::Borescope),
        "probe" => Some(Method::Probe),
        "smoke" | "smoke at 50 pa" => Some(Method::Smoke),
        _ => None,
    };
    if method.is_none() {
        let help = "write `infrared`, `borescope`, `probe` or `smoke` (chemical smoke at 50 Pa)";
        row.fault(Key::Method, format!("`{word}` is no way to look into a bay"), help);
    }
    method
}

fn read_inspection(row: &mut Row<'_, '_, Key>) -> Option<What> {
    let method = read_method(row);
    let bays = match BayList::parse(row.text(Key::Bays).unwrap_or_default()) {
        Ok(BayList::Ranges(ranges)) if ranges.is_empty() => Err("the inspection names no bays".to_owned()),
        other => other,
    };
    let bays = bays.map_err(|message| row.fault(Key::Bays, message, "write `all`, or numbers such as `1-5; 8`")).ok();
    let is_filled = match row.text(Key::Found).map(str::to_lowercase).as_deref() {
        Some("filled" | "full") => Some(true),
        Some("void" | "empty") => Some(false),
        _ => {
            row.fault(Key::Found, "the inspection does not say what was found", "write `filled` or `void`");
            None
        }
    };
    Some(What::Inspection { method: method?, bays: bays?, is_filled: is_filled? })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn refused(text: &str) -> String {
        let refusals = read_log_sheet("log.csv", text.as_bytes()).unwrap_err();
        refusals.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
    }

    #[test]
    fn entries_are_read() {
        let text = "what,date,surface,bags,hopper before,hopper after,mass,diameter,depth,method,bays,found\n\
                    blown,2026-05-12,G-*,12 1/2,run down,8 lb,,,,,,\n\
                    core,2026-05-12,G-S,,,,10.1 g,2 in,3 1/2 in,,,\n\
                    inspection,2026-05-13,G-S,,,,,,,infrared,1-5; 8,filled\n";
        let log = read_log_sheet("log.csv", text.as_bytes()).unwrap();
        assert_eq!(log.entries.len(), 3);
        assert!(matches!(
            log.entries[0].what,
            What::Blown { bags: 12.5, start: Some(Hopper::RunDown), end: Some(Hopper::Weighed(_)), .. }
        ));
        assert!(matches!(log.entries[1].what, What::Core { mass_kg, .. } if (mass_kg - 0.0101).abs() < 1e-12));
        assert!(matches!(log.entries[2].what, What::Inspection { is_filled: true, .. }));
    }

    #[test]
    fn each_slip_gets_its_place() {
        assert!(refused("what,surface,bags\nblew,G,1\n").starts_with("log.csv:2:1: `blew` is no entry"));
        assert!(refused("what,surface,bags\nblown,,1\n").contains("names no surface"));
        assert!(refused("what,surface,bags\nblown,G,\n").contains("neither bags nor mass"));
        assert!(refused("what,surface,bags\nblown,G,-1\n").contains("log.csv:2:9"));
        assert!(refused("what,surface,bags,hopper after\nblown,G,1,-3 lb\n").contains("below nought"));
        assert!(refused("what,surface,bags,hopper after\nblown,G,1,3\n").contains("no unit"));
        assert!(refused("what,date,surface,bags\nblown,12 May,G,1\n").contains("no date"));
        assert!(refused("what,date,surface,bags\nblown,2026-02-30,G,1\n").contains("no date"));
        assert!(refused("what,surface,depth\ncore,G,3 in\n").contains("needs a `diameter`"));
        assert!(refused("what,surface,method,bays,found\ninspection,G,hand,1,filled\n").contains("no way to look"));
        assert!(refused("what,surface,method,bays,found\ninspection,G,probe,,filled\n").contains("names no bays"));
        assert!(refused("what,surface,method,bays,found\ninspection,G,probe,1,\n").contains("what was found"));
        assert!(refused("surface,bags\nG,1\n").contains("no column `what`"));
    }

    #[test]
    fn days_out_of_order_are_named() {
        let text = "what,date,surface,bags\nblown,2026-05-12,G,1\nblown,2026-05-11,G,1\n";
        assert_eq!(read_log_sheet("log.csv", text.as_bytes()).unwrap().findings.len(), 1);
    }
}
