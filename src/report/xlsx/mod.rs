//! The takeoff as a workbook: densities, bags and allowances are cells that may be changed, and masses and bags follow.
//!
//! Every text is written as a text, so that none runs as a formula; every number is a number.

mod bays;
mod cell;
mod lists;
mod order;
mod surfaces;

use crate::takeoff::{FillTakeoff, SurfaceTakeoff, Takeoff};
use crate::units::UnitSystem;
use rust_xlsxwriter::{DocProperties, ExcelDateTime, Workbook, XlsxError};
use std::io;

/// Names of the sheets that formulas refer to.
const ORDER: &str = "Order";
const SURFACES: &str = "Surfaces";

/// The workbook. People read it, so that it is in their units.
///
/// # Errors
/// More rows than a sheet holds (1,048,576, ECMA-376).
pub fn workbook(takeoff: &Takeoff, units: UnitSystem) -> io::Result<Vec<u8>> {
    make(takeoff, units).map_err(|error| io::Error::other(error.to_string()))
}

fn make(takeoff: &Takeoff, units: UnitSystem) -> Result<Vec<u8>, XlsxError> {
    let book = Book { takeoff, units, densities: densities(takeoff) };
    let sheets = [
        order::sheet(&book),
        surfaces::sheet(&book),
        bays::sheet(&book),
        lists::assumptions(takeoff),
        lists::findings(takeoff),
    ];
    let mut workbook = Workbook::new();
    // The same takeoff gives the same bytes, whatever the clock says.
    let made = ExcelDateTime::from_ymd(2000, 1, 1)?;
    workbook.set_properties(&DocProperties::new().set_title("Takeoff").set_creation_datetime(&made));
    for sheet in &sheets {
        cell::write(workbook.add_worksheet(), sheet)?;
    }
    workbook.save_to_buffer()
}

/// What the sheets are made of.
struct Book<'t> {
    takeoff: &'t Takeoff,
    units: UnitSystem,
    densities: Vec<Density<'t>>,
}

/// A density of a fill, and the surfaces that are filled at it.
struct Density<'t> {
    fill: &'t str,
    kg_m3: f64,
    surfaces: Vec<&'t SurfaceTakeoff>,
}

/// Every density of every fill, in the order of the surfaces.
fn densities(takeoff: &Takeoff) -> Vec<Density<'_>> {
    let mut all: Vec<Density<'_>> = Vec::new();
    for surface in &takeoff.surfaces {
        let (Some(fill), Some(kg_m3)) = (surface.fill.as_deref(), surface.density_kg_m3) else { continue };
        match all.iter_mut().find(|one| is_of(one, fill, kg_m3)) {
            Some(own) => own.surfaces.push(surface),
            None => all.push(Density { fill, kg_m3, surfaces: vec![surface] }),
        }
    }
    all
}

fn is_of(density: &Density<'_>, fill: &str, kg_m3: f64) -> bool {
    density.fill == fill && density.kg_m3.total_cmp(&kg_m3).is_eq()
}

impl Book<'_> {
    /// The cell that holds a surface's density.
    fn density_cell(&self, surface: &SurfaceTakeoff) -> Option<String> {
        let (fill, kg_m3) = (surface.fill.as_deref()?, surface.density_kg_m3?);
        let index = self.densities.iter().position(|one| is_of(one, fill, kg_m3))?;
        Some(order::density_cell(self.takeoff, index))
    }

    /// Number of the line of the order that a surface is in, from 1.
    fn order_line(&self, surface: &SurfaceTakeoff) -> Option<usize> {
        let fill = surface.fill.as_ref()?;
        let is_own = |line: &FillTakeoff| line.name == *fill && line.estimate.is_some() == surface.is_estimate();
        self.takeoff.fills.iter().position(is_own).map(|index| index + 1)
    }

    /// A depth or a width in the unit of `section_symbol`.
    fn section(&self, length_m: f64) -> f64 {
        match self.units {
            UnitSystem::Us => length_m / crate::units::INCH_M,
            UnitSystem::Si => length_m * 1000.0,
        }
    }

    fn section_symbol(&self) -> &'static str {
        match self.units {
            UnitSystem::Us => "in",
            UnitSystem::Si => "mm",
        }
    }
}
