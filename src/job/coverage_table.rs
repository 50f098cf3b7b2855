//! A label's coverage table, read from a job file or from a sheet, and checked.

use super::coverage_sheet::read_rows;
use super::fill_file::{CoverageFile, CoverageRowFile};
use super::reader::Reader;
use crate::fill::{CoverageBasis, CoverageRow, CoverageTable, FillUse, RowFault};
use crate::framing::parse_framing;
use crate::refusal::Refusal;
use crate::units::{
    HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W, POUND_KG, SQUARE_FOOT_M2, parse_area, parse_length, parse_mass_per_area,
    parse_resistance,
};
use std::ops::Range;
use toml::Spanned;

/// A coverage table and where it comes from.
#[derive(Clone, Debug, PartialEq)]
pub struct Coverage {
    /// The table.
    pub table: CoverageTable,
    /// Where it comes from.
    pub source: String,
}

/// Where a row stands.
enum RowAt {
    /// In the job file.
    Job(Range<usize>),
    /// On a line of a sheet.
    Sheet(u64),
}

/// Reads the tables of a fill; what is wrong with them becomes refusals. `bag_kg` is the label's.
pub(super) fn read_coverages(
    name: &str,
    files: &[Spanned<CoverageFile>],
    bag_kg: Option<f64>,
    reader: &mut Reader<'_>,
) -> Vec<Coverage> {
    let mut all: Vec<Coverage> = Vec::new();
    for file in files {
        let Some(bag_kg) = bag_kg else {
            let message = format!("`[fill.{name}]` has a coverage table and no `bag`");
            reader.refuse(file.span(), message, "give the net mass on the same label, such as `bag = \"25 lb\"`");
            return all;
        };
        let Some(coverage) = read_coverage(name, file, bag_kg, reader) else { continue };
        if all.iter().any(|other| other.table.fill_use == coverage.table.fill_use) {
            let message = format!("`[fill.{name}]` has two coverage tables for one use");
            reader.refuse(file.span(), message, "one table counts for `open-blown`, one for `closed cavity`");
        }
        all.push(coverage);
    }
    all
}

fn read_coverage(name: &str, file: &Spanned<CoverageFile>, bag_kg: f64, reader: &mut Reader<'_>) -> Option<Coverage> {
    let CoverageFile { r#use, basis, file: path, rows, source } = file.get_ref();
    let section = format!("`[[fill.{name}.coverage]]`");
    let Some(fill_use) = r#use else {
        let help = "a label prints one table for attics (`use = \"open-blown\"`), another for walls (`use = \"closed cavity\"`)";
        reader.refuse(file.span(), format!("{section} does not say what it is for"), help);
        return None;
    };
    let words = [("open-blown", FillUse::OpenBlown), ("closed cavity", FillUse::ClosedCavity)];
    let fill_use = reader.word("use", fill_use, &words)?;
    let Some(basis) = basis else {
        let help = "write `basis = \"net\"` where framing is deducted, or the framing that the label says is in the \
                    coverage, such as `basis = \"2x4 @ 16 in\"`";
        reader.refuse(file.span(), format!("{section} does not say what its coverage is the area of"), help);
        return None;
    };
    let basis = read_basis(basis, reader)?;
    let before = reader.refusals.len();
    let (rows, from) = match (path, rows.as_slice()) {
        (Some(path), []) => (sheet_rows(path, reader)?, format!("coverage table `{}`", path.get_ref())),
        (None, [_, ..]) => {
            let at_rows = rows.iter().filter_map(|row| {
                let read = read_row(row.get_ref());
                let row_at = RowAt::Job(row.span());
                read.map_err(|(message, help)| reader.refuse(row.span(), message, help)).ok().map(|row| (row, row_at))
            });
            (at_rows.collect(), "coverage table in the job file".to_owned())
        }
        (Some(_), [_, ..]) => {
            reader.refuse(file.span(), format!("{section} has both `file` and `rows`"), "one of them counts");
            return None;
        }
        (None, []) => {
            let help = "give the label's rows in a sheet (`file = \"label.csv\"`) or as `rows = [ { … } ]`";
            reader.refuse(file.span(), format!("{section} has no rows"), help);
            return None;
        }
    };
    let table = checked(fill_use, basis, rows, bag_kg, path.as_ref(), reader);
    let source = source.as_ref().map_or(from.clone(), |label| format!("{from}: {}", label.trim()));
    (reader.refusals.len() == before).then_some(Coverage { table, source })
}

fn read_basis(text: &Spanned<String>, reader: &mut Reader<'_>) -> Option<CoverageBasis> {
    let trimmed = text.get_ref().trim();
    if trimmed.eq_ignore_ascii_case("net") {
        return Some(CoverageBasis::Net);
    }
    match parse_framing(trimmed) {
        Ok(framing) => Some(CoverageBasis::WithFraming(framing.text)),
        Err(error) => {
            let message = format!("`basis` is neither `net` nor framing: {}", error.message);
            reader.refuse(text.span(), message, "write `net`, or the framing in the coverage such as `2x4 @ 16 in`");
            None
        }
    }
}

fn sheet_rows(path: &Spanned<String>, reader: &mut Reader<'_>) -> Option<Vec<(CoverageRow, RowAt)>> {
    let full = reader.beside(path.get_ref());
    match read_rows(&full) {
        Ok((rows, source)) => {
            if !reader.sources.contains(&source) {
                reader.sources.push(source);
            }
            let mut all = Vec::new();
            for (line, row) in rows {
                match read_row(&row) {
                    Ok(row) => all.push((row, RowAt::Sheet(line))),
                    Err((message, help)) => {
                        let place = crate::source::Place::line(&full.to_string_lossy(), line);
                        reader.refusals.push(Refusal::new(place, message, help));
                    }
                }
            }
            Some(all)
        }
        Err(refusals) => {
            reader.refusals.extend(refusals);
            None
        }
    }
}

/// Reads a row's texts.
fn read_row(row: &CoverageRowFile) -> Result<CoverageRow, (String, String)> {
    let missing = |what: &str, example: &str| {
        (format!("a row of the coverage table has no `{what}`"), format!("labels print it, such as {example}"))
    };
    let quantity = |read: Result<crate::units::Quantity, String>| {
        read.map(|quantity| quantity.si).map_err(|message| (message, String::new()))
    };
    let length = |text: &str| match parse_length(text, None, false) {
        Ok(length_m) if length_m > 0.0 => Ok(length_m),
        Ok(_) => Err((format!("`{text}` must be more than zero"), String::new())),
        Err(error) => Err((error.message, error.help)),
    };
    let r_value = row.r_value.as_deref().ok_or_else(|| missing("r_value", "`R-38`"))?;
    let settled = row.settled_thickness.as_deref().ok_or_else(|| missing("settled_thickness", "`14.5 in`"))?;
    let coverage = row.coverage.as_deref().ok_or_else(|| missing("coverage", "`52.5 ft2`"))?;
    let mass = row.mass_per_area.as_deref().ok_or_else(|| missing("mass_per_area", "`0.591 lb/ft2`"))?;
    let coverage_m2 = parse_area(coverage, None, false).map_err(|error| (error.message, error.help))?;
    if coverage_m2 <= 0.0 {
        return Err((format!("`{coverage}` must be more than zero"), String::new()));
    }
    let bags_per_m2 = match row.bags_per_1000_ft2 {
        Some(bags) if bags > 0.0 && bags.is_finite() => Some(bags / (1000.0 * SQUARE_FOOT_M2)),
        Some(bags) => return Err((format!("`bags_per_1000_ft2` is {bags}: expected more than zero"), String::new())),
        None => None,
    };
    Ok(CoverageRow {
        r_m2k_w: quantity(parse_resistance(r_value))?,
        settled_m: length(settled)?,
        initial_m: row.initial_thickness.as_deref().map(length).transpose()?,
        coverage_m2,
        bags_per_m2,
        mass_kg_m2: quantity(parse_mass_per_area(mass))?,
    })
}

/// The table with its rows by rising resistance; rows that do not hold together are refused by name.
fn checked(
    fill_use: FillUse,
    basis: CoverageBasis,
    mut rows: Vec<(CoverageRow, RowAt)>,
    bag_kg: f64,
    path: Option<&Spanned<String>>,
    reader: &mut Reader<'_>,
) -> CoverageTable {
    rows.sort_by(|(a, _), (b, _)| a.r_m2k_w.total_cmp(&b.r_m2k_w));
    let (rows, places): (Vec<CoverageRow>, Vec<RowAt>) = rows.into_iter().unzip();
    let table = CoverageTable { fill_use, basis, rows };
    for (index, fault) in table.faults(bag_kg) {
        let (Some(row), Some(at)) = (table.rows.get(index), places.get(index)) else { continue };
        let message = fault_words(row, fault, bag_kg);
        let help = "copy the row from the label again; all of its figures belong to one bag";
        match (at, path) {
            (RowAt::Sheet(line), Some(path)) => {
                let place = crate::source::Place::line(&reader.beside(path.get_ref()).to_string_lossy(), *line);
                reader.refusals.push(Refusal::new(place, message, help));
            }
            (RowAt::Job(span), _) => reader.refuse(span.clone(), message, help),
            (RowAt::Sheet(_), None) => {}
        }
    }
    table
}

fn fault_words(row: &CoverageRow, fault: RowFault, bag_kg: f64) -> String {
    let r = row.r_m2k_w / HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W;
    match fault {
        RowFault::Bags(ratio) => {
            let found = 1000.0 * ratio;
            format!(
                "the row of R-{r:.0} does not hold together: bags per 1,000 ft2 times coverage is {found:.0} ft2, expected 1,000 within 1 %"
            )
        }
        RowFault::Mass(mass_kg) => format!(
            "the row of R-{r:.0} does not hold together: mass per area times coverage is {:.2} lb, expected the bag of \
             {:.2} lb within 0.5 %",
            mass_kg / POUND_KG,
            bag_kg / POUND_KG
        ),
        RowFault::Initial => format!("the row of R-{r:.0} has an initial thickness below its settled one"),
        RowFault::Order => format!("the row of R-{r:.0} does not take more thickness and mass than the row below it"),
    }
}
