//! The printed row of a label's table that what was installed reaches: papers print its R, and no other.
//!
//! # Source
//! 16 CFR 460.17: the receipt says what was installed. 16 CFR 460.12(b)(2): a row holds by its thickness and by its mass per
//! area, both.

use super::attic::{is_thick, volume_at_m3};
use super::contract::{Reached, RowReached};
use super::zone::{Figures, Known};
use crate::fill::{CoverageBasis, CoverageRow, CoverageTable, FillUse};
use crate::job::{Coverage, Tolerances};

/// Said where the label's table prints no R for a part.
const NO_ROW: &str = "no row of a label's coverage table gives it";

/// The highest row that is reached, else why there is none.
pub(super) fn label_row(
    known: &Known<'_>,
    figures: &Figures,
    verdict: Reached,
    tolerances: &Tolerances,
) -> Result<RowReached, String> {
    let coverage = known.choice.and_then(|choice| choice.coverage_for(known.use_of)).ok_or(NO_ROW)?;
    let row = if known.use_of == FillUse::OpenBlown {
        open_row(known, figures, &coverage.table, tolerances)?
    } else {
        closed_row(known, &coverage.table, verdict)?
    };
    Ok(of_row(row, coverage))
}

fn of_row(row: &CoverageRow, coverage: &Coverage) -> RowReached {
    RowReached {
        source: coverage.source.clone(),
        r_m2k_w: row.r_m2k_w,
        settled_m: row.settled_m,
        initial_m: row.initial_m,
        mass_kg_m2: row.mass_kg_m2,
    }
}

/// Of a closed cavity its own depth's row alone: what a thinner row asks for would lie less dense in a deeper cavity.
fn closed_row<'t>(
    known: &Known<'_>,
    table: &'t CoverageTable,
    verdict: Reached,
) -> Result<&'t CoverageRow, &'static str> {
    let first = known.parts.first().and_then(|part| part.label.as_ref()).filter(|label| label.is_printed);
    let ordered = first.ok_or(NO_ROW)?;
    let is_same = |part: &&crate::takeoff::SurfaceTakeoff| part.label.as_ref().is_some_and(|label| label == ordered);
    if !known.parts.iter().all(is_same) {
        return Err("the parts have several rows of the label's table: log them apart");
    }
    let row = table.rows.iter().find(|row| (row.r_m2k_w - ordered.r_m2k_w).abs() < 1e-9).ok_or(NO_ROW)?;
    match verdict {
        Reached::Reached => Ok(row),
        Reached::Short => Err("the mass of the label's row for this depth is not reached"),
        Reached::CannotTell => Err("whether the label's row for this depth is reached can't be told"),
    }
}

fn open_row<'t>(
    known: &Known<'_>,
    figures: &Figures,
    table: &'t CoverageTable,
    tolerances: &Tolerances,
) -> Result<&'t CoverageRow, &'static str> {
    if !known.blown.is_closed_off {
        return Err("which mass lies here can't be told, since the hopper is not known at both ends");
    }
    if known.twins.any() {
        return Err("which mass lies here can't be told, since two rows of the log say the same");
    }
    let Some(readings) = &figures.readings else {
        return Err("no depth was read");
    };
    let ratio = if figures.density_kg_m3 > 0.0 { figures.least_kg_m3 / figures.density_kg_m3 } else { 0.0 };
    let least_kg = known.blown.net_kg * ratio;
    let is_reached = |row: &&CoverageRow| {
        let initial_m = row.initial_m.or_else(|| ordered_initial_m(known, row));
        let is_there = initial_m.is_some_and(|initial_m| is_thick(readings, initial_m, tolerances.depth_m));
        is_there && needed_kg(known, table, row).is_some_and(|needed_kg| least_kg >= needed_kg * (1.0 - 1e-9))
    };
    table
        .rows
        .iter()
        .rev()
        .find(is_reached)
        .ok_or("no printed row of the label's table is reached, by thickness and mass both")
}

/// Where the label prints no initial thickness: that which the takeoff has for the row that was ordered.
fn ordered_initial_m(known: &Known<'_>, row: &CoverageRow) -> Option<f64> {
    let open = known.parts.first()?.open_blown.as_ref()?;
    ((open.settled_m - row.settled_m).abs() < 1e-9).then_some(open.initial_m)?
}

/// What a row needs here: its mass per area over the area that its coverage is of.
fn needed_kg(known: &Known<'_>, table: &CoverageTable, row: &CoverageRow) -> Option<f64> {
    let volume_m3 = volume_at_m3(&known.parts, row.settled_m);
    match table.basis {
        CoverageBasis::Net => (volume_m3 > 0.0).then(|| row.mass_kg_m2 * volume_m3 / row.settled_m),
        CoverageBasis::WithFraming(_) => {
            Some(row.mass_kg_m2 * known.parts.iter().map(|part| part.bay_area_m2 + part.member_area_m2).sum::<f64>())
        }
    }
}
