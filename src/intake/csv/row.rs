//! A row and its cells, read by type; every fault becomes a refusal with its place.

use super::field::Field;
use super::page::shortened;
use super::sheet::Sheet;
use super::split::{Cell, Record};
use super::suggest::did_you_mean;
use crate::cells::{Misread, read_whole};
use crate::refusal::Refusal;
use crate::source::{Place, Source};
use crate::units::{TextError, parse_area, parse_length, parse_pitch};

/// Longer than any building (m): a unit is wrong, or a zero too many.
const LONGEST_M: f64 = 1000.0;
/// Shorter than anything that is measured on a building (m).
const SHORTEST_M: f64 = 0.001;
/// Faults of quotation marks that are named for one row.
const MOST_QUOTE_FAULTS: usize = 5;
/// Larger than any surface (m2).
const LARGEST_M2: f64 = 1e6;

/// A row of a sheet.
#[derive(Clone, Copy)]
pub(super) struct Row<'s> {
    pub sheet: &'s Sheet<'s>,
    pub record: &'s Record,
}

impl<'s> Row<'s> {
    /// The cell of a column, unless nothing stands in it.
    pub fn cell(self, field: Field) -> Option<&'s Cell> {
        let cell = self.record.cells.get(self.sheet.columns.index(field)?)?;
        (!cell.value.trim().is_empty()).then_some(cell)
    }

    /// What stands in a column, spaces at its ends taken off.
    pub fn word(self, field: Field) -> Option<&'s str> {
        self.cell(field).map(|cell| cell.value.trim())
    }

    /// What stands in a column, as it is.
    pub fn text(self, field: Field) -> Option<String> {
        self.cell(field).map(|cell| cell.value.clone())
    }

    /// Whether the row is an opening.
    pub fn is_opening(self) -> bool {
        match self.sheet.holds {
            super::sheet::Holds::Openings => true,
            super::sheet::Holds::Both => self.cell(Field::Surface).is_some(),
            super::sheet::Holds::Surfaces => false,
        }
    }

    /// Where the row was read.
    pub fn source(self) -> Source {
        Source::of_line(self.sheet.path, self.record.line)
    }

    /// The place of the row.
    pub fn place(self) -> Place {
        Place { id: self.word(Field::Id).map(str::to_owned), ..Place::line(self.sheet.path, self.record.line) }
    }

    /// A refusal of a field's cell, or of the row's first where it has none.
    pub fn refuse(self, field: Field, message: impl Into<String>, help: &str) -> Refusal {
        let id = self.word(Field::Id);
        let own = self.sheet.columns.index(field).and_then(|index| self.record.cells.get(index));
        match own.or_else(|| self.record.cells.first()) {
            Some(cell) => self.sheet.at(cell, id, message.into(), help),
            None => Refusal::new(self.place(), message, help),
        }
    }

    /// The cells of columns that are not known, with their headings.
    pub fn notes(self) -> Vec<String> {
        let cell = |index: usize| self.record.cells.get(index).filter(|cell| !cell.value.trim().is_empty());
        let unknown = &self.sheet.columns.unknown;
        unknown
            .iter()
            .filter_map(|(index, heading)| cell(*index).map(|cell| format!("{heading}: {}", cell.value)))
            .collect()
    }

    /// A reader of its cells, which begins with what is wrong with the row as a whole.
    pub fn reader(self) -> Reader<'s> {
        let mut faults: Vec<Refusal> = self
            .record
            .cells
            .iter()
            .filter(|cell| cell.fault.is_some())
            .take(MOST_QUOTE_FAULTS)
            .map(|cell| self.sheet.quote_refusal(cell, self.word(Field::Id)))
            .collect();
        let mut extra =
            self.record.cells.iter().skip(self.sheet.columns.len).filter(|cell| !cell.value.trim().is_empty());
        if let Some(cell) = extra.next() {
            let message = format!(
                "the row has {} cells, and there are {} headings",
                self.record.cells.len(),
                self.sheet.columns.len
            );
            let help = "put a cell that holds a comma between quotation marks, or give the column a heading";
            faults.push(self.sheet.at(cell, self.word(Field::Id), message, help));
        }
        Reader { row: self, faults }
    }
}

/// Reads the cells of a row by type and keeps what is wrong with them.
pub(super) struct Reader<'s> {
    pub row: Row<'s>,
    pub faults: Vec<Refusal>,
}

impl<'s> Reader<'s> {
    /// Notes a fault of a field's cell.
    pub fn fault(&mut self, field: Field, message: impl Into<String>, help: &str) {
        self.faults.push(self.row.refuse(field, message, help));
    }

    /// Notes what is wrong with the value of a field's cell.
    pub fn misread(&mut self, field: Field, fault: Misread) {
        self.fault(field, fault.message, fault.help);
    }

    /// A fault of a part of a field's cell, or of the whole where the part is empty.
    pub fn part_fault(&mut self, field: Field, part: &str, message: impl Into<String>, help: &str) {
        let refusal = self.row.refuse(field, message, help);
        self.faults.push(match self.row.cell(field).filter(|_| !part.is_empty()) {
            Some(cell) => refusal.with_excerpt(self.row.sheet.excerpt(cell, Some(part))),
            None => refusal,
        });
    }

    /// A fault of a cell of which a measure cannot be read.
    fn text_fault(&mut self, cell: &Cell, error: &TextError) {
        let sheet = self.row.sheet;
        let part = cell.value.get(error.span.clone());
        let refusal = Refusal::new(
            sheet.place(cell, self.row.word(Field::Id)),
            shortened(error.message.clone()),
            shortened(error.help.clone()),
        );
        self.faults.push(refusal.with_excerpt(sheet.excerpt(cell, part)));
    }

    /// A word that must be there.
    pub fn required(&mut self, field: Field, help: &str) -> Option<&'s str> {
        let word = self.row.word(field);
        if word.is_none() {
            self.fault(field, format!("`{}` is empty", field.heading()), help);
        }
        word
    }

    /// One of a few words, in any case; `None` where the cell is empty or at fault.
    pub fn one_of<T: Copy>(&mut self, field: Field, words: &[(&str, T)]) -> Option<T> {
        let word = self.row.word(field)?;
        let found = words.iter().find(|(known, _)| known.eq_ignore_ascii_case(word)).map(|(_, value)| *value);
        if found.is_none() {
            let help = did_you_mean(word, words.iter().map(|(known, _)| *known));
            self.fault(field, format!("`{word}` is no {}", field.heading()), &help);
        }
        found
    }

    /// A length, zero or more.
    pub fn length_or_zero(&mut self, field: Field) -> Option<f64> {
        let cell = self.row.cell(field)?;
        let sheet = self.row.sheet;
        match parse_length(&cell.value, sheet.columns.length_unit(field), sheet.has_decimal_comma) {
            Ok(length_m) if length_m > LONGEST_M => {
                let message = format!("`{}` is longer than any building", cell.value.trim());
                self.fault(field, message, "check the unit, in the cell or in the heading");
                None
            }
            Ok(length_m) => Some(length_m),
            Err(error) => {
                self.text_fault(cell, &error);
                None
            }
        }
    }

    /// A length of a millimetre or more.
    pub fn length(&mut self, field: Field) -> Option<f64> {
        let length_m = self.length_or_zero(field)?;
        if length_m >= SHORTEST_M {
            return Some(length_m);
        }
        let found = self.row.word(field).unwrap_or_default();
        self.fault(
            field,
            format!("`{found}` is no {} of anything", field.heading()),
            "write a length above zero, with its unit",
        );
        None
    }

    /// An area above zero.
    pub fn area(&mut self, field: Field) -> Option<f64> {
        let cell = self.row.cell(field)?;
        let sheet = self.row.sheet;
        match parse_area(&cell.value, sheet.columns.area_unit(field), sheet.has_decimal_comma) {
            Ok(area_m2) if area_m2 > LARGEST_M2 => {
                let message = format!("`{}` is larger than any surface", cell.value.trim());
                self.fault(field, message, "check the unit, in the cell or in the heading");
                None
            }
            Ok(area_m2) if area_m2 >= SHORTEST_M * SHORTEST_M => Some(area_m2),
            Ok(_) => {
                self.fault(
                    field,
                    format!("`{}` is no area of anything", cell.value.trim()),
                    "write an area above zero",
                );
                None
            }
            Err(error) => {
                self.text_fault(cell, &error);
                None
            }
        }
    }

    /// A pitch, in degrees.
    pub fn pitch(&mut self) -> Option<f64> {
        let cell = self.row.cell(Field::Pitch)?;
        let sheet = self.row.sheet;
        parse_pitch(&cell.value, sheet.columns.pitch_unit(), sheet.has_decimal_comma)
            .map_err(|error| self.text_fault(cell, &error))
            .ok()
    }

    /// A whole number within bounds; `default` where the cell is empty.
    pub fn whole(&mut self, field: Field, default: u32, least: u32, most: u32) -> u32 {
        let Some(word) = self.row.word(field) else { return default };
        read_whole(word, least, most).unwrap_or_else(|fault| {
            self.misread(field, fault);
            default
        })
    }
}
