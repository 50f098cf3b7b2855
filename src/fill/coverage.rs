//! The coverage table of a bag's label: what a thermal resistance takes of the material.

use super::FillUse;
use crate::geometry::tolerance::COINCIDENT_M;

/// How far `bags per area x coverage` may miss one bag: bags per 1,000 ft2 are printed with one decimal.
const BAGS_SHARE: f64 = 0.01;
/// How far `mass per area x coverage` may miss the bag.
const MASS_SHARE: f64 = 0.005;
/// How close two resistances are to be the same row's, in m2·K/W.
const SAME_R_M2K_W: f64 = 1e-6;

/// One row of a coverage table, as printed.
///
/// # Source
/// The columns are those that 16 CFR 460.12(b)(2) and ASTM C1630 ask for.
#[derive(Clone, Debug, PartialEq)]
pub struct CoverageRow {
    /// Thermal resistance.
    pub r_m2k_w: f64,
    /// Minimum settled thickness; in a closed cavity its depth.
    pub settled_m: f64,
    /// Initial installed thickness, where the label prints it.
    pub initial_m: Option<f64>,
    /// Maximum net coverage of one bag.
    pub coverage_m2: f64,
    /// Bags per square metre, where the label prints its number per 1,000 ft2.
    pub bags_per_m2: Option<f64>,
    /// Minimum mass per area.
    pub mass_kg_m2: f64,
}

/// What the coverage of a table is the area of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CoverageBasis {
    /// The net area, framing deducted (ASTM C1630).
    Net,
    /// The area with framing of a stated size and spacing in it: framing is not deducted again.
    WithFraming(String),
}

/// A coverage table.
#[derive(Clone, Debug, PartialEq)]
pub struct CoverageTable {
    /// What it is for.
    pub fill_use: FillUse,
    /// What its coverage is the area of.
    pub basis: CoverageBasis,
    /// Rows, by rising resistance.
    pub rows: Vec<CoverageRow>,
}

/// What a table asks for, at one of its rows or between two.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LabelFigure {
    /// Thermal resistance.
    pub r_m2k_w: f64,
    /// Minimum settled thickness.
    pub settled_m: f64,
    /// Initial installed thickness, where the label prints it.
    pub initial_m: Option<f64>,
    /// Minimum mass per area.
    pub mass_kg_m2: f64,
    /// Whether it is a printed row: papers use no other.
    pub is_printed: bool,
}

impl LabelFigure {
    /// Settled density that is implied.
    pub fn density_kg_m3(&self) -> f64 {
        self.mass_kg_m2 / self.settled_m
    }
}

/// What is wrong with a row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RowFault {
    /// `bags per area x coverage`, which must be one within 1 %.
    Bags(f64),
    /// `mass per area x coverage`, which must be the bag within 0.5 %, in kilograms.
    Mass(f64),
    /// The initial thickness is less than the settled one.
    Initial,
    /// Resistance, thickness or mass do not rise from the row before it.
    Order,
}

impl CoverageTable {
    /// Checks each row by itself and against the one before it: index of the row and what is wrong with it.
    ///
    /// # Source
    /// The products follow from what the columns mean; their tolerances are the roundings of printed tables.
    pub fn faults(&self, bag_kg: f64) -> Vec<(usize, RowFault)> {
        let mut faults = Vec::new();
        for (index, row) in self.rows.iter().enumerate() {
            let bags_ratio = row.bags_per_m2.map(|bags| bags * row.coverage_m2);
            if let Some(ratio) = bags_ratio.filter(|ratio| (ratio - 1.0).abs() > BAGS_SHARE) {
                faults.push((index, RowFault::Bags(ratio)));
            }
            let mass_kg = row.mass_kg_m2 * row.coverage_m2;
            if (mass_kg / bag_kg - 1.0).abs() > MASS_SHARE {
                faults.push((index, RowFault::Mass(mass_kg)));
            }
            if row.initial_m.is_some_and(|initial_m| initial_m < row.settled_m - COINCIDENT_M) {
                faults.push((index, RowFault::Initial));
            }
        }
        let pairs = self.rows.iter().zip(self.rows.iter().skip(1));
        let falls = |(low, high): &(&CoverageRow, &CoverageRow)| {
            high.r_m2k_w <= low.r_m2k_w || high.settled_m <= low.settled_m || high.mass_kg_m2 <= low.mass_kg_m2
        };
        let wrong = pairs.enumerate().filter(|(_, pair)| falls(pair));
        faults.extend(wrong.map(|(index, _)| (index + 1, RowFault::Order)));
        faults.sort_by_key(|(index, _)| *index);
        faults
    }

    /// What a resistance takes; between rows mass per area and thickness are interpolated; `None` beyond the table.
    pub fn at_resistance(&self, r_m2k_w: f64) -> Option<LabelFigure> {
        self.at(r_m2k_w, |row| row.r_m2k_w, SAME_R_M2K_W)
    }

    /// What a settled thickness gives; `None` beyond the table.
    pub fn at_thickness(&self, settled_m: f64) -> Option<LabelFigure> {
        self.at(settled_m, |row| row.settled_m, COINCIDENT_M)
    }

    /// Interpolates mass per area, never density: denser rows are thicker ones, so that density times thickness would be
    /// of a higher degree than the label's own figures.
    fn at(&self, value: f64, of: impl Fn(&CoverageRow) -> f64, same: f64) -> Option<LabelFigure> {
        if let Some(row) = self.rows.iter().find(|row| (of(row) - value).abs() <= same) {
            return Some(printed(row));
        }
        let mut pairs = self.rows.iter().zip(self.rows.iter().skip(1));
        let (low, high) = pairs.find(|(low, high)| of(low) < value && value < of(high))?;
        let share = (value - of(low)) / (of(high) - of(low));
        let between = |low: f64, high: f64| low + share * (high - low);
        Some(LabelFigure {
            r_m2k_w: between(low.r_m2k_w, high.r_m2k_w),
            settled_m: between(low.settled_m, high.settled_m),
            initial_m: low.initial_m.zip(high.initial_m).map(|(low_m, high_m)| between(low_m, high_m)),
            mass_kg_m2: between(low.mass_kg_m2, high.mass_kg_m2),
            is_printed: false,
        })
    }
}

fn printed(row: &CoverageRow) -> LabelFigure {
    LabelFigure {
        r_m2k_w: row.r_m2k_w,
        settled_m: row.settled_m,
        initial_m: row.initial_m,
        mass_kg_m2: row.mass_kg_m2,
        is_printed: true,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(r: f64, settled_m: f64, mass_kg_m2: f64) -> CoverageRow {
        CoverageRow {
            r_m2k_w: r,
            settled_m,
            initial_m: Some(settled_m / 0.87),
            coverage_m2: 10.0 / mass_kg_m2,
            bags_per_m2: Some(mass_kg_m2 / 10.0),
            mass_kg_m2,
        }
    }

    fn table() -> CoverageTable {
        let rows = vec![row(2.0, 0.1, 2.5), row(4.0, 0.2, 5.5), row(6.0, 0.3, 9.0)];
        CoverageTable { fill_use: FillUse::OpenBlown, basis: CoverageBasis::Net, rows }
    }

    #[test]
    fn between_rows_mass_per_area_is_interpolated() {
        let figure = table().at_resistance(5.0).unwrap();
        assert!((figure.mass_kg_m2 - 7.25).abs() < 1e-12 && (figure.settled_m - 0.25).abs() < 1e-12);
        assert!(!figure.is_printed);
        // Density times thickness would give 28.75 x 0.25 = 7.19.
        assert!((figure.density_kg_m3() - 29.0).abs() < 1e-9);
        assert!(table().at_resistance(4.0).unwrap().is_printed);
        assert!((table().at_thickness(0.15).unwrap().r_m2k_w - 3.0).abs() < 1e-12);
    }

    #[test]
    fn nothing_is_said_beyond_the_table() {
        assert_eq!(table().at_resistance(1.99), None);
        assert_eq!(table().at_resistance(6.01), None);
        assert_eq!(table().at_thickness(0.31), None);
    }

    #[test]
    fn a_row_that_does_not_hold_together_is_named() {
        assert!(table().faults(10.0).is_empty());
        let mut wrong = table();
        wrong.rows[1].bags_per_m2 = Some(0.56);
        assert!(matches!(wrong.faults(10.0).as_slice(), [(1, RowFault::Bags(_))]));
        let mut wrong = table();
        wrong.rows[2].coverage_m2 *= 1.006;
        assert!(matches!(wrong.faults(10.0).as_slice(), [(2, RowFault::Mass(_))]));
        let mut wrong = table();
        wrong.rows[0].initial_m = Some(0.05);
        wrong.rows.swap(1, 2);
        assert_eq!(wrong.faults(10.0), [(0, RowFault::Initial), (2, RowFault::Order)]);
        assert_eq!(table().faults(11.0).len(), 3);
    }
}
