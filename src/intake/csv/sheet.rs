//! A sheet opened: its text, dialect, columns and rows, before any cell is read.

use super::SheetFile;
use super::columns::{Columns, Heading, read_heading};
use super::decode::decode;
use super::dialect::{delimiter_of, is_separator_line, titles_above};
use super::field::{Field, Measure};
use super::page::{Page, shortened};
use super::split::{Cell, Record, split};
use crate::finding::{Code, Finding};
use crate::refusal::{Excerpt, Refusal};
use crate::source::Place;
use crate::units::LengthUnit;

/// More headings than this are no sheet of surfaces.
pub(super) const MOST_COLUMNS: usize = 500;

/// Columns of which a sheet of surfaces has one.
const EXTENTS: [Field; 6] =
    [Field::Length, Field::PlanLength, Field::Outline, Field::PlanOutline, Field::Area, Field::PlanArea];

/// A sheet, opened.
pub(super) struct Sheet<'f> {
    pub path: &'f str,
    page: Page<'f>,
    pub columns: Columns,
    /// Rows below the headings, blank ones left out.
    pub rows: Vec<Record>,
    pub has_decimal_comma: bool,
    pub holds: Holds,
    pub findings: Vec<Finding>,
}

/// What the rows of a sheet are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Holds {
    Surfaces,
    Openings,
    Both,
}

impl Holds {
    /// As the list of inputs names it.
    pub fn words(self) -> &'static str {
        match self {
            Self::Surfaces => "surfaces",
            Self::Openings => "openings",
            Self::Both => "surfaces and openings",
        }
    }
}

impl<'f> Sheet<'f> {
    /// Opens a sheet: decodes it, tells its dialect and reads its headings.
    pub fn open(file: &'f SheetFile) -> Result<Self, Vec<Refusal>> {
        let decoded = decode(&file.path, &file.bytes).map_err(|refusal| vec![*refusal])?;
        let delimiter = delimiter_of(&decoded.text);
        let mut records = split(&decoded.text, delimiter);
        if records.first().is_some_and(is_separator_line) {
            records.remove(0);
        }
        let mut findings = Vec::new();
        records.drain(..titles_above(&file.path, &records, &mut findings));
        let mut records = records.into_iter();
        let headings = records.next().map(|record| record.cells).unwrap_or_default();
        if headings.len() > MOST_COLUMNS {
            let message = format!("the sheet has {} headings; at most {MOST_COLUMNS} are read", headings.len());
            return Err(vec![Refusal::new(Place::line(&file.path, 1), message, "keep the columns that are measured")]);
        }
        let columns = Columns::of(&headings);
        let mut sheet = Self {
            path: &file.path,
            holds: holds(&columns),
            page: Page { path: &file.path, text: decoded.text },
            columns,
            rows: records.collect(),
            has_decimal_comma: false,
            findings,
        };
        sheet.drop_repeated_headings(&headings);
        let twice = sheet.take_units();
        sheet.has_decimal_comma = delimiter != ',' && sheet.finds_decimal_commas();
        let mut refusals = sheet.check_headings(&headings);
        refusals.extend(twice);
        if !refusals.is_empty() {
            return Err(refusals);
        }
        if decoded.is_guessed {
            let message = "the sheet is not in UTF-8 and was read as Windows-1252; check names and fractions, or save it as `CSV UTF-8`";
            sheet.findings.push(Finding::warning(Code::EncodingGuessed, &Place::input(&file.path), message));
        }
        Ok(sheet)
    }

    /// Headings that come again, as they do where printed pages were put together, are no rows.
    fn drop_repeated_headings(&mut self, headings: &[Cell]) {
        let is_repeat = |row: &Record| {
            row.cells.len() == headings.len()
                && row.cells.iter().zip(headings).all(|(cell, heading)| cell.value.trim() == heading.value.trim())
        };
        let path = self.path;
        for row in self.rows.iter().filter(|row| is_repeat(row)) {
            let message = "the headings stand here again; the row was skipped";
            self.findings.push(Finding::note(Code::RowDoubt, &Place::line(path, row.line), message));
        }
        self.rows.retain(|row| !is_repeat(row));
    }

    /// Units may stand in a row of their own below the headings.
    fn take_units(&mut self) -> Option<Refusal> {
        let units = self.rows.first()?;
        match self.columns.take_units(&units.cells)? {
            Ok(()) => {
                self.rows.remove(0);
                None
            }
            Err(column) => {
                let cell = units.cells.get(column)?;
                let message = format!("`{}` is another unit than the heading above names", cell.value.trim());
                Some(self.at(cell, None, message, "name the unit once, such as `length (ft)`"))
            }
        }
    }

    /// One decimal mark a sheet: a comma, where any measured cell has one between digits. Never in a comma-separated
    /// sheet, where a comma in a number is a mark between thousands or a slip.
    fn finds_decimal_commas(&self) -> bool {
        let has_comma = |cell: &Cell| {
            let bytes = cell.value.as_bytes();
            bytes.windows(3).any(|w| matches!(w, [a, b',', b] if a.is_ascii_digit() && b.is_ascii_digit()))
        };
        let measured: Vec<usize> = self.columns.measured().collect();
        self.rows.iter().any(|row| measured.iter().any(|&index| row.cells.get(index).is_some_and(has_comma)))
    }

    fn check_headings(&mut self, headings: &[Cell]) -> Vec<Refusal> {
        let mut refusals = Vec::new();
        let mut seen: Vec<(Field, &Cell)> = Vec::new();
        for cell in headings {
            let text = cell.value.trim();
            match read_heading(text) {
                _ if cell.fault.is_some() => refusals.push(self.quote_refusal(cell, None)),
                Heading::Known(field, _) => {
                    if seen.iter().any(|(known, _)| *known == field) {
                        let message = format!("`{text}` is the second column for `{}`", field.heading());
                        let help =
                            "keep one of the two; feet and inches of one length stand in one cell, such as `12'-6\"`";
                        refusals.push(self.at(cell, None, message, help));
                    }
                    seen.push((field, cell));
                }
                Heading::CeilingHeight => {
                    let message = format!("`{text}` stops at the finished ceiling, and the framing does not");
                    let help = "measure the wall outside of framing, plates included (with pre-cut studs, a nominal 8 ft ceiling is a wall of \
                                8'-1 1/8\"), and name the column `height`";
                    refusals.push(self.at(cell, None, message, help));
                }
                Heading::Unknown(near) => self.name_unknown(cell, near),
                Heading::Empty => {
                    let index = headings.iter().position(|other| std::ptr::eq(other, cell)).unwrap_or_default();
                    refusals.extend(self.name_empty(index, headings));
                }
            }
        }
        if refusals.is_empty() {
            refusals.extend(self.missing_columns(headings));
        }
        refusals
    }

    /// A column without a heading is named only where something stands below it; refused where it seems to be the
    /// second half of a heading that was merged over feet and inches, which as a note would be lost.
    fn name_empty(&mut self, index: usize, headings: &[Cell]) -> Option<Refusal> {
        let heading = headings.get(index)?;
        let words: Vec<&str> = self
            .rows
            .iter()
            .filter_map(|row| row.cells.get(index).map(|cell| cell.value.trim()))
            .filter(|word| !word.is_empty())
            .collect();
        if words.is_empty() {
            return None;
        }
        let before = index.checked_sub(1).and_then(|before| headings.get(before)).map(|cell| read_heading(&cell.value));
        let is_inches =
            |word: &&str| word.starts_with(|c: char| c.is_numeric()) || LengthUnit::from_word(word).is_some();
        if let Some(Heading::Known(field, _)) = before
            && field.measure() == Measure::Length
            && words.iter().all(is_inches)
        {
            let message =
                format!("column {} holds measures and has no heading, right of `{}`", index + 1, field.heading());
            let help = "write feet and inches in one cell, such as `12'-6\"`, or give the column a heading of its own";
            return Some(self.at(heading, None, message, help));
        }
        let message = format!("column {} has no heading and is kept as a note", index + 1);
        self.findings.push(Finding::warning(Code::UnknownColumn, &self.place(heading, None), message));
        None
    }

    fn name_unknown(&mut self, cell: &Cell, near: Option<&str>) {
        let message =
            format!("the column `{}` is not known and is kept as a note", shortened(cell.value.trim().to_owned()));
        let place = self.place(cell, None);
        self.findings.push(match near {
            Some(near) => Finding::warning(Code::UnknownColumn, &place, format!("{message}; did you mean `{near}`?")),
            None => Finding::note(Code::UnknownColumn, &place, message),
        });
    }

    fn missing_columns(&self, headings: &[Cell]) -> Vec<Refusal> {
        let Some(first) = headings.first() else { return Vec::new() };
        let surfaces = "`id`, `kind`, and `length` with `height`, or `outline`, or `area`";
        let openings = "`surface`, `id`, `kind`, `width` and `height`";
        if self.columns.known_count() == 0 {
            let help = format!("a sheet of surfaces has {surfaces}; a sheet of openings has {openings}");
            return vec![self.at(first, None, "no heading of this sheet is known".to_owned(), &help)];
        }
        let has_any = |fields: &[Field]| fields.iter().any(|field| self.columns.has(*field));
        let needs_surfaces: [&[Field]; 3] = [&[Field::Id], &[Field::Kind], &EXTENTS];
        let needs_openings: [&[Field]; 4] =
            [&[Field::Id], &[Field::Kind], &[Field::Width, Field::UnitWidth], &[Field::Height, Field::UnitHeight]];
        let mut missing: Vec<Field> = Vec::new();
        let mut look = |needs: &[&[Field]]| {
            missing.extend(needs.iter().filter(|n| !has_any(n)).filter_map(|n| n.first().copied()));
        };
        match self.holds {
            Holds::Surfaces => look(&needs_surfaces),
            Holds::Openings => look(&needs_openings),
            Holds::Both => {
                look(&needs_surfaces);
                look(&needs_openings);
            }
        }
        missing.sort_unstable();
        missing.dedup();
        let help = if self.holds == Holds::Openings { openings } else { surfaces };
        let refuse = |field: &Field| {
            let message =
                format!("the column `{}` is missing from this sheet of {}", field.heading(), self.holds.words());
            self.at(first, None, message, &format!("such a sheet has {help}"))
        };
        if self.rows.is_empty() && missing.is_empty() && self.holds != Holds::Openings {
            let message = "the sheet has headings and no rows".to_owned();
            return vec![self.at(first, None, message, "give a row for each surface")];
        }
        missing.iter().map(refuse).collect()
    }

    /// The place of a cell.
    pub fn place(&self, cell: &Cell, id: Option<&str>) -> Place {
        self.page.place(cell, id)
    }

    /// A refusal of a whole cell.
    pub fn at(&self, cell: &Cell, id: Option<&str>, message: String, help: &str) -> Refusal {
        self.page.at(cell, id, message, help)
    }

    /// A refusal of a cell whose quotation marks are at fault.
    pub fn quote_refusal(&self, cell: &Cell, id: Option<&str>) -> Refusal {
        self.page.quote_refusal(cell, id)
    }

    /// The line of a cell, with the cell or a part of its value marked.
    pub fn excerpt(&self, cell: &Cell, part: Option<&str>) -> Excerpt {
        self.page.excerpt(cell, part)
    }
}

/// What a sheet holds, told from its columns.
fn holds(columns: &Columns) -> Holds {
    let mut of_surfaces = EXTENTS.iter().chain(&[Field::Assembly, Field::Exposure]);
    match (columns.has(Field::Surface), of_surfaces.any(|field| columns.has(*field))) {
        (true, true) => Holds::Both,
        (true, false) => Holds::Openings,
        (false, _) => Holds::Surfaces,
    }
}
