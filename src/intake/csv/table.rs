//! A table with columns of its own: claims, logs. The same machinery as the measured sheets, without what is of buildings.

use super::decode::decode;
use super::page::{Page, shortened};
use super::split::{Cell, Record, split};
use super::suggest::nearest;
use crate::digest::sha256;
use crate::finding::{Code, Finding};
use crate::model::{Input, InputKind};
use crate::refusal::Refusal;
use crate::source::Place;
use crate::units::{
    AreaUnit, LengthUnit, Written, parse_area, parse_density, parse_length, parse_mass, parse_number, parse_resistance,
    parse_share, parse_transmittance,
};
use jiff::civil::Date;

/// More headings than this are no table of this kind.
const MOST_COLUMNS: usize = 200;

/// What the cells of a column hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Holds {
    /// Words.
    Text,
    /// A number without a unit, such as of bags.
    Number,
    /// A length, in metres.
    Length,
    /// An area, in square metres.
    Area,
    /// A mass, in kilograms.
    Mass,
    /// A density, in kilograms per cubic metre.
    Density,
    /// A share of a whole.
    Share,
    /// A thermal resistance, in square metres and kelvins per watt.
    Resistance,
    /// A thermal transmittance, in watts per square metre and kelvin.
    Transmittance,
}

/// A column that a table may have.
pub(crate) struct Column<K> {
    /// Which one.
    pub key: K,
    /// Its heading, in small letters and spaces.
    pub heading: &'static str,
    /// Other headings that mean it.
    pub others: &'static [&'static str],
    /// What its cells hold.
    pub holds: Holds,
}

/// A table, opened.
pub(crate) struct Table<'f, K: 'static> {
    page: Page<'f>,
    spec: &'static [Column<K>],
    /// Index in the spec, index of the column, unit of the heading.
    columns: Vec<(usize, usize, String)>,
    rows: Vec<Record>,
    headings: usize,
    has_decimal_comma: bool,
    /// What was odd and could be read.
    pub findings: Vec<Finding>,
}

/// A row of a table.
pub(crate) struct Row<'t, 'f, K: 'static> {
    table: &'t Table<'f, K>,
    record: &'t Record,
    /// What is wrong with it.
    pub faults: Vec<Refusal>,
}

impl<'f, K: Copy + PartialEq + 'static> Table<'f, K> {
    /// Opens a table: decodes it, tells its delimiter and reads its headings.
    ///
    /// # Errors
    /// Bytes that are no text, a heading that names a wrong unit or comes twice, and `wrong`: a heading that this table may
    /// not have, with the help for it.
    pub fn open(
        path: &'f str,
        bytes: &[u8],
        spec: &'static [Column<K>],
        wrong: &[(&str, &str)],
    ) -> Result<Self, Vec<Refusal>> {
        let decoded = decode(path, bytes).map_err(|refusal| vec![*refusal])?;
        let first = decoded.text.lines().find(|line| !line.trim().is_empty()).unwrap_or_default();
        let known = |delimiter: char| {
            let cells = split(first, delimiter).into_iter().next().map(|record| record.cells).unwrap_or_default();
            cells.iter().filter(|cell| find(spec, &cell.value).is_some()).count()
        };
        let delimiter = [',', ';', '\t'].into_iter().rev().max_by_key(|delimiter| known(*delimiter)).unwrap_or(',');
        let mut records = split(&decoded.text, delimiter).into_iter();
        let headings = records.next().map(|record| record.cells).unwrap_or_default();
        let page = Page { path, text: decoded.text };
        if headings.len() > MOST_COLUMNS {
            let message = format!("the table has {} headings; at most {MOST_COLUMNS} are read", headings.len());
            return Err(vec![Refusal::new(Place::line(path, 1), message, "keep the columns that are asked for")]);
        }
        let mut table = Self {
            page,
            spec,
            columns: Vec::new(),
            rows: records.collect(),
            headings: headings.len(),
            has_decimal_comma: false,
            findings: Vec::new(),
        };
        let refusals = table.read_headings(&headings, wrong);
        if !refusals.is_empty() {
            return Err(refusals);
        }
        table.has_decimal_comma = delimiter != ',' && table.finds_decimal_commas();
        if decoded.is_guessed {
            let message =
                "the table is not in UTF-8 and was read as Windows-1252; check names, or save it as `CSV UTF-8`";
            table.findings.push(Finding::warning(Code::EncodingGuessed, &Place::input(path), message));
        }
        Ok(table)
    }

    fn read_headings(&mut self, headings: &[Cell], wrong: &[(&str, &str)]) -> Vec<Refusal> {
        let mut refusals = Vec::new();
        for (index, cell) in headings.iter().enumerate() {
            let text = cell.value.trim();
            if let Some((_, help)) = wrong.iter().find(|(name, _)| plain(name) == plain(bare(text))) {
                refusals.push(self.page.at(cell, None, format!("the heading `{text}` does not say which one"), help));
                continue;
            }
            let Some((at, unit)) = find(self.spec, text) else {
                if !text.is_empty() {
                    self.name_unknown(cell, text);
                }
                continue;
            };
            let Some(column) = self.spec.get(at) else { continue };
            if self.columns.iter().any(|(other, ..)| *other == at) {
                let message = format!("`{text}` is the second column for `{}`", column.heading);
                refusals.push(self.page.at(cell, None, message, "keep one of the two"));
            } else if !unit.is_empty() && read(column.holds, &format!("1 {unit}"), "", false).is_err() {
                let message = format!("`{unit}` is no unit of the column `{}`", column.heading);
                refusals.push(self.page.at(cell, None, message, example(column.holds)));
            } else {
                self.columns.push((at, index, unit));
            }
        }
        if self.columns.is_empty()
            && refusals.is_empty()
            && let Some(first) = headings.first()
        {
            let names: Vec<String> = self.spec.iter().take(12).map(|column| format!("`{}`", column.heading)).collect();
            let help = format!("known are {}", names.join(", "));
            refusals.push(self.page.at(first, None, "no heading of this table is known".to_owned(), &help));
        }
        refusals
    }

    fn name_unknown(&mut self, cell: &Cell, text: &str) {
        let message = format!("the column `{}` is not known and is not read", shortened(text.to_owned()));
        let near = nearest(bare(text), self.spec.iter().map(|column| column.heading));
        let place = self.page.place(cell, None);
        self.findings.push(match near {
            Some(near) => Finding::warning(Code::UnknownColumn, &place, format!("{message}; did you mean `{near}`?")),
            None => Finding::note(Code::UnknownColumn, &place, message),
        });
    }

    fn finds_decimal_commas(&self) -> bool {
        let has_comma = |cell: &Cell| {
            let bytes = cell.value.as_bytes();
            bytes.windows(3).any(|w| matches!(w, [a, b',', b] if a.is_ascii_digit() && b.is_ascii_digit()))
        };
        let is_measured = |at: &usize| self.spec.get(*at).is_some_and(|column| column.holds != Holds::Text);
        let measured: Vec<usize> =
            self.columns.iter().filter(|(at, ..)| is_measured(at)).map(|(_, index, _)| *index).collect();
        self.rows.iter().any(|row| measured.iter().any(|&index| row.cells.get(index).is_some_and(has_comma)))
    }

    /// Whether the table has a column.
    pub fn has(&self, key: K) -> bool {
        self.columns.iter().any(|(at, ..)| self.spec.get(*at).is_some_and(|column| column.key == key))
    }

    /// The table among the inputs, and what it holds in a word.
    pub fn input(&self, bytes: &[u8], holds: &str) -> Input {
        Input {
            path: self.page.path.to_owned(),
            sha256: sha256(bytes),
            kind: InputKind::Csv,
            schema: Some(holds.to_owned()),
            length_unit: None,
        }
    }

    /// The place of the headings.
    pub fn heading_place(&self) -> Place {
        Place::line(self.page.path, 1)
    }

    /// Rows below the headings, blank ones left out; each begins with what is wrong with it as a whole.
    pub fn rows(&self) -> impl Iterator<Item = Row<'_, 'f, K>> {
        self.rows.iter().map(|record| {
            let quotes = record.cells.iter().filter(|cell| cell.fault.is_some()).take(3);
            let mut faults: Vec<Refusal> = quotes.map(|cell| self.page.quote_refusal(cell, None)).collect();
            if let Some(cell) = record.cells.iter().skip(self.headings).find(|cell| !cell.value.trim().is_empty()) {
                let message =
                    format!("the row has {} cells, and there are {} headings", record.cells.len(), self.headings);
                let help = "put a cell that holds a comma between quotation marks";
                faults.push(self.page.at(cell, None, message, help));
            }
            Row { table: self, record, faults }
        })
    }
}

impl<K: Copy + PartialEq + 'static> Row<'_, '_, K> {
    fn column(&self, key: K) -> Option<(&Column<K>, &Cell, &str)> {
        let of = |(at, ..): &&(usize, usize, String)| self.table.spec.get(*at).is_some_and(|column| column.key == key);
        let (at, index, unit) = self.table.columns.iter().find(of)?;
        let cell = self.record.cells.get(*index).filter(|cell| !cell.value.trim().is_empty())?;
        Some((self.table.spec.get(*at)?, cell, unit))
    }

    /// The place of a cell, else of the row.
    pub fn place(&self, key: K) -> Place {
        match self.column(key) {
            Some((_, cell, _)) => self.table.page.place(cell, None),
            None => Place::line(self.table.page.path, self.record.line),
        }
    }

    /// The words of a cell.
    pub fn text(&self, key: K) -> Option<&str> {
        self.column(key).map(|(_, cell, _)| cell.value.trim())
    }

    /// A day, as year, month and day; what is none becomes a fault.
    pub fn date(&mut self, key: K) -> Option<Date> {
        let text = self.text(key)?.to_owned();
        match text.parse::<Date>() {
            Ok(date) if text.len() == 10 => Some(date),
            _ => {
                self.fault(key, format!("`{text}` is no date"), "write year, month and day: `2026-05-12`");
                None
            }
        }
    }

    /// A measure, with the words it was read from; what cannot be read becomes a fault.
    pub fn measure(&mut self, key: K) -> Option<Written> {
        let (column, cell, unit) = self.column(key)?;
        match read(column.holds, &cell.value, unit, self.table.has_decimal_comma) {
            Ok(written) => Some(written),
            Err(message) => {
                let message = format!("`{}`: {message}", column.heading);
                let fault = self.table.page.at(cell, None, message, example(column.holds));
                self.faults.push(fault);
                None
            }
        }
    }

    /// Notes a fault of a cell, or of the row where it has none.
    pub fn fault(&mut self, key: K, message: impl Into<String>, help: &str) {
        let refusal = match self.column(key).map(|(_, cell, _)| cell).or_else(|| self.record.cells.first()) {
            Some(cell) => self.table.page.at(cell, None, message.into(), help),
            None => Refusal::new(Place::line(self.table.page.path, self.record.line), message, help),
        };
        self.faults.push(refusal);
    }
}

/// Reads a cell; a bare number takes the unit of its heading.
fn read(holds: Holds, cell: &str, unit: &str, decimal_comma: bool) -> Result<Written, String> {
    let text = cell.trim();
    let with_point = if decimal_comma { text.replace(',', ".") } else { text.to_owned() };
    let is_bare = !with_point.is_empty() && with_point.chars().all(|c| c.is_ascii_digit() || c == '.');
    let whole = if is_bare && !unit.is_empty() { format!("{with_point} {unit}") } else { with_point };
    let quantity = |read: Result<crate::units::Quantity, String>| read.map(|quantity| quantity.si);
    let si = match holds {
        Holds::Text => return Err("words are no measure".to_owned()),
        Holds::Number => parse_number(&whole)?,
        Holds::Length => {
            parse_length(text, LengthUnit::from_word(unit), decimal_comma).map_err(|error| error.message)?
        }
        Holds::Area => parse_area(text, AreaUnit::from_word(unit), decimal_comma).map_err(|error| error.message)?,
        Holds::Mass => quantity(parse_mass(&whole))?,
        Holds::Density => quantity(parse_density(&whole))?,
        Holds::Share => quantity(parse_share(&whole))?,
        Holds::Resistance => quantity(parse_resistance(&whole))?,
        Holds::Transmittance => quantity(parse_transmittance(&whole))?,
    };
    let shown = if is_bare && !unit.is_empty() { format!("{text} {unit}") } else { text.to_owned() };
    Ok(Written::new(si, shown))
}

/// How a cell is written.
fn example(holds: Holds) -> &'static str {
    match holds {
        Holds::Text => "write words",
        Holds::Number => "write a number such as `12`, `12.5` or `12 1/2`",
        Holds::Length => {
            "write a length with its unit, such as `5 1/2 in` or `140 mm`, or name the unit in the heading"
        }
        Holds::Area => "write an area with its unit, such as `252 ft2` or `23.4 m2`, or name the unit in the heading",
        Holds::Mass => "write a mass with its unit, such as `25 lb` or `11.3 kg`, or name the unit in the heading",
        Holds::Density => "write a density with its unit, such as `3.5 lb/ft3` or `56 kg/m3`",
        Holds::Share => "write a share such as `23 %` or `0.23`",
        Holds::Resistance => "write a resistance such as `R-13`, `13 h ft2 F/Btu` or `2.29 m2 K/W`",
        Holds::Transmittance => "write a transmittance such as `U-0.06`, `0.06 Btu/(h ft2 F)` or `0.34 W/(m2 K)`",
    }
}

/// A heading without the unit in brackets.
fn bare(text: &str) -> &str {
    text.split(['(', '[']).next().unwrap_or(text).trim()
}

/// Small letters and digits alone.
fn plain(text: &str) -> String {
    text.chars().filter(char::is_ascii_alphanumeric).map(|c| c.to_ascii_lowercase()).collect()
}

/// The column of a heading, as an index, and the unit that it names.
fn find<K>(spec: &[Column<K>], text: &str) -> Option<(usize, String)> {
    if text.len() > 200 {
        return None;
    }
    let of = |name: &str| {
        let name = plain(name);
        let is = |column: &Column<K>| {
            plain(column.heading) == name || column.others.iter().any(|other| plain(other) == name)
        };
        if name.is_empty() { None } else { spec.iter().position(is) }
    };
    let trimmed = text.trim();
    if let Some((name, rest)) = trimmed.split_once(['(', '[']) {
        // `h ft2 F/Btu` may have brackets of its own.
        let unit = rest.trim_end().strip_suffix([')', ']']).unwrap_or(rest).trim();
        return of(name).map(|at| (at, unit.to_owned()));
    }
    if let Some(at) = of(trimmed) {
        return Some((at, String::new()));
    }
    let (stem, unit) = trimmed.rsplit_once(['_', ' ', ','])?;
    of(stem).map(|at| (at, unit.trim().to_owned()))
}

#[cfg(test)]
mod tests {
    use super::*;

    const SPEC: &[Column<u8>] = &[
        Column { key: 0, heading: "surface", others: &[], holds: Holds::Text },
        Column { key: 1, heading: "gross area", others: &[], holds: Holds::Area },
        Column { key: 2, heading: "r value", others: &["r"], holds: Holds::Resistance },
    ];

    fn first(text: &str, key: u8) -> Result<f64, String> {
        let table = Table::open("x.csv", text.as_bytes(), SPEC, &[]).map_err(|refusals| refusals[0].to_string())?;
        let mut row = table.rows().next().unwrap();
        row.measure(key).map(|written| written.si).ok_or_else(|| row.faults[0].to_string())
    }

    // 1 ft2 = 0.09290304 m2 and 1 h ft2 F/Btu = 0.176 110 2 m2 K/W: NIST SP 811, appendix B.8.
    #[test]
    fn a_unit_stands_in_the_cell_or_in_the_heading() {
        for text in
            ["Gross area\n100 ft2", "gross_area (ft2)\n100", "gross area ft2\n100", "surface;gross_area_ft2\na;100,0"]
        {
            assert!((first(text, 1).unwrap() - 9.290_304).abs() < 1e-9, "{text}");
        }
        for text in ["R value\nR-10", "r (h ft2 F/Btu)\n10", "R value (h·ft²·°F/Btu)\n10"] {
            assert!((first(text, 2).unwrap() - 1.761_102).abs() < 1e-6, "{text}");
        }
    }

    #[test]
    fn what_cannot_be_read_is_refused_at_its_place() {
        assert!(first("gross area\n100", 1).unwrap_err().starts_with("x.csv:2:1: `gross area`: `100` has no unit"));
        assert!(first("surface,gross area\nG,100 acres", 1).unwrap_err().starts_with("x.csv:2:3: "));
        assert!(first("gross area (hides)\n1", 1).unwrap_err().starts_with("x.csv:1:1: `hides` is no unit"));
        assert!(first("gross area,gross_area\n1,2", 1).unwrap_err().contains("second column"));
        assert!(first("colour\nred", 1).unwrap_err().contains("no heading"));
        let table = Table::open("x.csv", b"surface,areas\nG,1\n", SPEC, &[]).unwrap();
        assert_eq!(table.findings.len(), 1);
    }
}
