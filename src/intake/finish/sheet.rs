//! Finished checks as a sheet: a row a check.

use super::{Check, Checked, FinishSheet, Stand};
use crate::cells::plain_word;
use crate::intake::csv::table::{Column, Holds, Row, Table};
use crate::refusal::Refusal;
use crate::units::parse_number;

/// Frictionless Table Schema (Data Package v2) of the checks.
pub const FINISH_SCHEMA: &str = include_str!("../../../schemas/finish.table.json");

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Key {
    Check,
    State,
    Value,
    Fill,
    Date,
    By,
    Note,
}

const fn text(key: Key, heading: &'static str, others: &'static [&'static str]) -> Column<Key> {
    Column { key, heading, others, holds: Holds::Text }
}

const COLUMNS: &[Column<Key>] = &[
    text(Key::Check, "check", &["what"]),
    text(Key::State, "state", &["done"]),
    text(Key::Value, "value", &["found"]),
    text(Key::Fill, "fill", &["material"]),
    text(Key::Date, "date", &["day"]),
    text(Key::By, "by", &["who"]),
    text(Key::Note, "note", &["notes"]),
];

const CHECKS: &str = "write `holes plugged`, `registers checked`, `vents clear`, `combustion appliances tested`, \
                      `blower-door test`, `bags left` or `labels kept`";
const STATES: &str = "write `done`, `not done`, or `not needed` with the reason as its `note`";

/// Reads finished checks.
///
/// # Errors
/// Every cell that cannot be read, with its line and column, and every check that comes twice.
pub fn read_finish_sheet(path: &str, bytes: &[u8]) -> Result<FinishSheet, Vec<Refusal>> {
    let table = Table::open(path, bytes, COLUMNS, &[])?;
    if !table.has(Key::Check) {
        return Err(vec![Refusal::new(table.heading_place(), "the sheet has no column `check`", CHECKS)]);
    }
    let help = "give a row a check, or leave `--finish` out";
    let rows = table.read_rows(("sheet", help), |row, earlier: &[Checked]| {
        let checked = read_row(row)?;
        let is_same = |other: &&Checked| other.check == checked.check && other.fill == checked.fill;
        if let Some(other) = earlier.iter().find(is_same) {
            let line = other.place.line.unwrap_or_default();
            let message = format!("`{}` comes twice; line {line} has it too", checked.check.word());
            row.fault(Key::Check, message, "keep the row that holds");
        }
        Some(checked)
    })?;
    let input = table.input(bytes, "finish");
    Ok(FinishSheet { input, rows, findings: table.findings.clone() })
}

fn read_row(row: &mut Row<'_, '_, Key>) -> Option<Checked> {
    let word = plain_word(row.text(Key::Check).unwrap_or_default());
    let check = Check::ALL.into_iter().find(|check| plain_word(check.word()) == word);
    if check.is_none() {
        row.fault(Key::Check, format!("`{word}` is no check that is known"), CHECKS);
    }
    let check = check?;
    let value_number = read_number(row, check);
    let stand = read_stand(row, check, value_number.is_some());
    let date = row.date(Key::Date);
    let text = |key: Key| row.text(key).map(str::to_owned);
    let (value, fill, by, note) = (text(Key::Value), text(Key::Fill), text(Key::By), text(Key::Note));
    if stand == Some(Stand::NotNeeded) && note.is_none() {
        row.fault(Key::State, "a check that is not needed gives no reason", "write the reason as its `note`");
    }
    if fill.is_some() && check != Check::BagsLeft {
        row.fault(Key::Fill, "a fill is named for `bags left` alone", "leave the cell empty");
    }
    let place = row.place(Key::Check);
    Some(Checked { place, check, stand: stand?, value, value_number, fill, date, by, note })
}

fn read_number(row: &mut Row<'_, '_, Key>, check: Check) -> Option<f64> {
    let text = row.text(Key::Value).filter(|_| check.is_counted())?.to_owned();
    match parse_number(&text) {
        Ok(number) => Some(number),
        Err(message) => {
            row.fault(Key::Value, message, "write how many were counted, such as `48` or `12 1/2`");
            None
        }
    }
}

/// A number says by itself that somebody counted.
fn read_stand(row: &mut Row<'_, '_, Key>, check: Check, has_number: bool) -> Option<Stand> {
    let word = plain_word(row.text(Key::State).unwrap_or_default());
    let stand = match word.as_str() {
        "done" | "yes" => Stand::Done,
        "not done" | "no" => Stand::NotDone,
        "not needed" => Stand::NotNeeded,
        "" if has_number => Stand::Done,
        _ => {
            let message = if word.is_empty() {
                format!("`{}` does not say how it stands", check.word())
            } else {
                format!("`{word}` is no state of a check")
            };
            row.fault(Key::State, message, STATES);
            return None;
        }
    };
    if stand == Stand::Done && check.is_counted() && !has_number {
        let message = format!("`{}` gives no number", check.word());
        row.fault(Key::Value, message, "write how many were counted as its `value`");
    }
    Some(stand)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn refused(text: &str) -> String {
        let refusals = read_finish_sheet("finish.csv", text.as_bytes()).unwrap_err();
        refusals.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
    }

    #[test]
    fn checks_are_read() {
        let text = "what,state,value,note\nHoles plugged,,48,\nvents clear,not needed,,no attic\nblower door test,done,1450 cfm at 50 Pa,\n";
        let sheet = read_finish_sheet("finish.csv", text.as_bytes()).unwrap();
        assert_eq!((sheet.rows[0].stand, sheet.rows[0].value_number), (Stand::Done, Some(48.0)));
        assert_eq!(sheet.rows[1].stand, Stand::NotNeeded);
        assert_eq!(sheet.rows[2].value.as_deref(), Some("1450 cfm at 50 Pa"));
    }

    #[test]
    fn each_slip_gets_its_place_and_what_to_write() {
        assert!(refused("check,state\nholes,done\n").starts_with("finish.csv:2:1: `holes` is no check"));
        assert!(refused("check,state\nvents clear,maybe\n").contains("finish.csv:2:13"));
        assert!(refused("check,state\nvents clear,\n").contains("how it stands"));
        assert!(refused("check,state\nvents clear,not needed\n").contains("no reason"));
        assert!(refused("check,state\nholes plugged,done\n").contains("no number"));
        assert!(refused("check,value\nholes plugged,-4\n").contains("finish.csv:2:15"));
        assert!(refused("check,value\nbags left,some\n").contains("not a number"));
        assert!(refused("check,state\nlabels kept,done\nlabels kept,no\n").contains("line 2 has it too"));
        assert!(refused("check,state,date\nlabels kept,done,12 May\n").contains("no date"));
        assert!(refused("check,state,fill\nlabels kept,done,cellulose\n").contains("`bags left` alone"));
        assert!(refused("state\ndone\n").contains("no column `check`"));
        assert!(refused("check,state\n").contains("no rows"));
    }
}
