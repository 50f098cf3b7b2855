//! Sheets as plain data, and their writing.

use crate::report::text::{printable, shorten};
use rust_xlsxwriter::{Color, Format, FormatBorder, Formula, Worksheet, XlsxError};

/// Characters of a text that a cell holds at most, and a few fewer: ECMA-376 sets 32,767.
const LONGEST_TEXT: usize = 32_000;
/// Narrowest and widest column, in characters.
const WIDTHS: (usize, usize) = (8, 48);
/// What stands in place of bags where no bag is given.
pub(super) const NO_BAG: &str = "no bag";
/// Rows that are looked at for the widths.
const LOOKED_AT: usize = 200;

/// A cell.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Cell {
    /// Nothing.
    Empty,
    /// A text.
    Text(String),
    /// A heading.
    Heading(String),
    /// A number with so many decimals shown; all of them are kept.
    Number(f64, u8),
    /// The same, to be changed by whoever works with the sheet; nothing stands in it where it is not known.
    Input(Option<f64>, u8),
    /// A formula, what it comes to, and how many decimals are shown.
    Formula(String, f64, u8),
    /// A formula that comes to [`NO_BAG`] as long as no bag is given.
    Pending(String, u8),
}

impl Cell {
    pub(super) fn text(text: impl AsRef<str>) -> Self {
        let text = text.as_ref();
        if text.is_empty() { Self::Empty } else { Self::Text(text.to_owned()) }
    }

    pub(super) fn text_or_none(text: Option<&str>) -> Self {
        text.map_or(Self::Empty, Self::text)
    }

    pub(super) fn number(value: Option<f64>, decimals: u8) -> Self {
        value.map_or(Self::Empty, |value| Self::Number(value, decimals))
    }

    pub(super) fn whole(value: impl TryInto<u32>) -> Self {
        value.try_into().map_or(Self::Empty, |value| Self::Number(f64::from(value), 0))
    }

    /// A kind or another word that is a text in the contract.
    pub(super) fn word(value: &impl serde::Serialize) -> Self {
        let value = serde_json::to_value(value).ok();
        Self::text_or_none(value.as_ref().and_then(|value| value.as_str()))
    }
}

/// A row that is all headings.
pub(super) fn headings<T: AsRef<str>>(names: impl IntoIterator<Item = T>) -> Vec<Cell> {
    names.into_iter().map(|name| Cell::Heading(name.as_ref().to_owned())).collect()
}

/// A sheet.
pub(super) struct Sheet {
    pub name: &'static str,
    /// Rows that stay in sight.
    pub frozen_rows: u32,
    pub rows: Vec<Vec<Cell>>,
}

/// Writes a sheet.
pub(super) fn write(worksheet: &mut Worksheet, sheet: &Sheet) -> Result<(), XlsxError> {
    worksheet.set_name(sheet.name)?;
    worksheet.set_landscape().set_print_fit_to_pages(1, 0);
    if sheet.frozen_rows > 0 {
        worksheet.set_freeze_panes(sheet.frozen_rows, 0)?;
        worksheet.set_repeat_rows(0, sheet.frozen_rows - 1)?;
    }
    for (column, width) in (0_u16..).zip(widths(sheet)) {
        worksheet.set_column_width(column, width)?;
    }
    for (row, cells) in (0_u32..).zip(&sheet.rows) {
        for (column, cell) in (0_u16..).zip(cells) {
            write_cell(worksheet, (row, column), cell)?;
        }
    }
    Ok(())
}

fn write_cell(worksheet: &mut Worksheet, (row, column): (u32, u16), cell: &Cell) -> Result<(), XlsxError> {
    let input =
        |decimals| number_format(decimals).set_background_color(Color::RGB(0xFF_F6_D6)).set_border(FormatBorder::Thin);
    match cell {
        Cell::Empty => return Ok(()),
        Cell::Text(text) => worksheet.write_string(row, column, shorten(text, LONGEST_TEXT))?,
        Cell::Heading(text) => {
            let format = Format::new().set_bold().set_text_wrap().set_border_bottom(FormatBorder::Thin);
            worksheet.write_string_with_format(row, column, printable(text), &format)?
        }
        Cell::Number(value, decimals) => {
            worksheet.write_number_with_format(row, column, *value, &number_format(*decimals))?
        }
        Cell::Input(Some(value), decimals) => {
            worksheet.write_number_with_format(row, column, *value, &input(*decimals))?
        }
        Cell::Input(None, decimals) => worksheet.write_blank(row, column, &input(*decimals))?,
        Cell::Formula(formula, value, decimals) => {
            let formula = Formula::new(formula).set_result(value.to_string());
            worksheet.write_formula_with_format(row, column, formula, &number_format(*decimals))?
        }
        Cell::Pending(formula, decimals) => {
            let formula = Formula::new(formula).set_result(NO_BAG);
            worksheet.write_formula_with_format(row, column, formula, &number_format(*decimals))?
        }
    };
    Ok(())
}

fn number_format(decimals: u8) -> Format {
    let zeros = "0".repeat(usize::from(decimals));
    let point = if decimals > 0 { "." } else { "" };
    Format::new().set_num_format(format!("#,##0{point}{zeros}"))
}

/// Widths of the columns, by the first rows.
fn widths(sheet: &Sheet) -> Vec<f64> {
    let mut widths: Vec<usize> = Vec::new();
    let looked_at = sheet.rows.iter().take(LOOKED_AT).filter(|row| row.len() > 1);
    for row in looked_at {
        widths.resize(widths.len().max(row.len()), WIDTHS.0);
        for (width, cell) in widths.iter_mut().zip(row) {
            let own = match cell {
                Cell::Text(text) => text.chars().count(),
                // A heading may take two lines.
                Cell::Heading(text) => text.split(' ').map(str::len).max().unwrap_or(0).max(text.len() / 2),
                Cell::Number(..) | Cell::Input(..) | Cell::Formula(..) | Cell::Pending(..) => 10,
                Cell::Empty => 0,
            };
            *width = (*width).max(own + 2).min(WIDTHS.1);
        }
    }
    widths.iter().map(|width| f64::from(u32::try_from(*width).unwrap_or(8))).collect()
}
