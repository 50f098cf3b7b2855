//! Coverage tables of labels as they stand in public records, and the arithmetic of open-blown fill.

use cavitally::fill::{
    CeilingBoard, CoverageBasis, CoverageRow, CoverageTable, FillUse, Humidity, RowFault, board_limit_kg_m2,
    depth_markers, initial_thickness_m, least_density_kg_m3, settled_thickness_m,
};
use cavitally::order::count_bags;
use cavitally::units::{
    BTU_INCH_PER_HOUR_SQUARE_FOOT_F_W_MK, HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W, INCH_M, POUND_KG,
    POUND_PER_CUBIC_FOOT_KG_M3, POUND_PER_SQUARE_FOOT_KG_M2, SQUARE_FOOT_M2,
};

/// A glass-fibre label in a county's building-permit record (Garfield County, Colorado, document 4074606), bag of 31.0 lb: R, bags
/// for 1,000 ft2, ft2 a bag, lb/ft2, initial and settled thickness in inches.
const COUNTY: [[f64; 6]; 10] = [
    [60.0, 31.4, 31.9, 0.972, 22.0, 22.0],
    [49.0, 25.2, 39.7, 0.780, 18.5, 18.5],
    [44.0, 22.4, 44.6, 0.695, 16.75, 16.75],
    [38.0, 19.1, 52.5, 0.591, 14.5, 14.5],
    [30.0, 14.9, 67.1, 0.462, 11.75, 11.75],
    [26.0, 12.8, 77.9, 0.398, 10.25, 10.25],
    [22.0, 10.8, 92.9, 0.334, 8.75, 8.75],
    [19.0, 9.3, 107.4, 0.289, 7.75, 7.75],
    [13.0, 6.2, 161.7, 0.192, 5.25, 5.25],
    [11.0, 5.3, 190.5, 0.163, 4.5, 4.5],
];

/// Another in a city's record (Springfield, Oregon, document 337345), bag of 28 lb: R, bags for 1,000 ft2, ft2 a bag, lb/ft2. Its
/// thicknesses are not in the record.
const CITY: [[f64; 4]; 10] = [
    [60.0, 37.8, 26.5, 1.058],
    [50.0, 31.0, 32.2, 0.869],
    [44.0, 26.9, 37.2, 0.753],
    [38.0, 22.9, 43.6, 0.642],
    [30.0, 17.9, 55.9, 0.501],
    [26.0, 15.5, 64.6, 0.433],
    [22.0, 12.7, 78.4, 0.357],
    [19.0, 10.9, 92.0, 0.304],
    [13.0, 7.6, 131.6, 0.213],
    [11.0, 6.2, 161.3, 0.174],
];

fn row(
    r: f64,
    bags: f64,
    coverage_ft2: f64,
    mass_lb_ft2: f64,
    initial_in: Option<f64>,
    settled_in: f64,
) -> CoverageRow {
    CoverageRow {
        r_m2k_w: r * HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W,
        settled_m: settled_in * INCH_M,
        initial_m: initial_in.map(|initial| initial * INCH_M),
        coverage_m2: coverage_ft2 * SQUARE_FOOT_M2,
        bags_per_m2: Some(bags / (1000.0 * SQUARE_FOOT_M2)),
        mass_kg_m2: mass_lb_ft2 * POUND_PER_SQUARE_FOOT_KG_M2,
    }
}

fn table(rows: impl Iterator<Item = CoverageRow>) -> CoverageTable {
    let mut rows: Vec<CoverageRow> = rows.collect();
    rows.reverse();
    CoverageTable { fill_use: FillUse::OpenBlown, basis: CoverageBasis::Net, rows }
}

fn county() -> CoverageTable {
    table(
        COUNTY.iter().map(|[r, bags, coverage, mass, initial, settled]| {
            row(*r, *bags, *coverage, *mass, Some(*initial), *settled)
        }),
    )
}

fn near(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((found - expected).abs() <= tolerance, "{what}: found {found}, expected {expected} within {tolerance}");
}

#[test]
fn published_labels_hold_together_and_a_changed_digit_does_not() {
    assert_eq!(county().faults(31.0 * POUND_KG), []);
    // A thickness that rises with R stands in for those that are not in the record.
    let city = table(CITY.iter().map(|[r, bags, coverage, mass]| row(*r, *bags, *coverage, *mass, None, *r * 0.3)));
    assert_eq!(city.faults(28.0 * POUND_KG), []);
    let mut changed = county();
    changed.rows[6].mass_kg_m2 = 0.519 * POUND_PER_SQUARE_FOOT_KG_M2;
    assert!(matches!(changed.faults(31.0 * POUND_KG).as_slice(), [(6, RowFault::Mass(_))]));
    let mut changed = county();
    changed.rows[6].bags_per_m2 = Some(19.4 / (1000.0 * SQUARE_FOOT_M2));
    assert!(matches!(changed.faults(31.0 * POUND_KG).as_slice(), [(6, RowFault::Bags(_))]));
}

/// 1,500 ft2 at R-38 by the county's label: 1500 / 52.5 = 28.57 by coverage, 19.1 x 1.5 = 28.65 by bags for 1,000 ft2 and .591 x 1500 /
/// 31 = 28.60 by mass are all 29 bags.
#[test]
fn all_three_routes_of_a_label_give_the_same_bags() {
    let figure = county().at_resistance(38.0 * HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W).unwrap();
    assert!(figure.is_printed);
    let mass_kg = figure.mass_kg_m2 * 1500.0 * SQUARE_FOOT_M2;
    let by_mass = count_bags(mass_kg, 31.0 * POUND_KG, 0.0).unwrap();
    near(by_mass.exact, 28.60, 0.005, "by mass");
    let by_coverage = count_bags(1500.0, 52.5, 0.0).unwrap();
    let by_thousand = count_bags(19.1 * 1.5, 1.0, 0.0).unwrap();
    assert_eq!([by_mass.order, by_coverage.order, by_thousand.order], [29, 29, 29]);
}

/// Between mass per area is interpolated: .643 lb/ft2 at R-41. The implied density rises from row to row, as it does in the record.
#[test]
fn between_printed_rows_a_label_gives_an_estimate() {
    let figure = county().at_resistance(41.0 * HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W).unwrap();
    near(figure.mass_kg_m2 / POUND_PER_SQUARE_FOOT_KG_M2, 0.643, 1e-9, "mass per area");
    assert!(!figure.is_printed);
    assert_eq!(county().at_resistance(61.0 * HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W), None);
    let densities: Vec<f64> = county().rows.iter().map(|row| row.mass_kg_m2 / row.settled_m).collect();
    near(densities[0] / POUND_PER_CUBIC_FOOT_KG_M3, 0.435, 0.001, "thinnest");
    near(densities[9] / POUND_PER_CUBIC_FOOT_KG_M3, 0.530, 0.001, "thickest");
}

/// An attic of 1,200 ft2 net by arithmetic alone: R, k in Btu in/(h ft2 F), settled density in lb/ft3, settling, bag in lb; settled thickness in
/// inches, lb/ft2, initial thickness in inches, bags for 1,000 ft2, bags.
const ATTICS: [([f64; 5], [f64; 4], u64); 3] = [
    ([49.0, 0.27, 1.6, 0.15, 25.0], [13.23, 1.764, 15.565, 70.56], 85),
    ([60.0, 0.27, 1.6, 0.20, 25.0], [16.20, 2.160, 20.25, 86.40], 104),
    ([30.0, 0.28, 1.5, 0.13, 30.0], [8.40, 1.050, 9.655, 35.0], 42),
];

#[test]
fn attics_by_arithmetic() {
    for ([r, k, density, settling, bag], [settled, mass, initial, bags_per_1000], bags) in ATTICS {
        let settled_m =
            settled_thickness_m(r * HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W, k * BTU_INCH_PER_HOUR_SQUARE_FOOT_F_W_MK);
        near(settled_m / INCH_M, settled, settled * 1e-3, "settled");
        let mass_kg_m2 = settled_m * density * POUND_PER_CUBIC_FOOT_KG_M3;
        near(mass_kg_m2 / POUND_PER_SQUARE_FOOT_KG_M2, mass, mass * 1e-3, "mass per area");
        near(initial_thickness_m(settled_m, settling) / INCH_M, initial, initial * 1e-3, "initial");
        let bag_kg = bag * POUND_KG;
        near(mass_kg_m2 * 1000.0 * SQUARE_FOOT_M2 / bag_kg, bags_per_1000, bags_per_1000 * 1e-3, "bags for 1,000 ft2");
        // 42.0 bags exactly are 42 and not 43.
        assert_eq!(count_bags(mass_kg_m2 * 1200.0 * SQUARE_FOOT_M2, bag_kg, 0.0).unwrap().order, bags);
        assert_eq!(depth_markers(1200.0 * SQUARE_FOOT_M2), 4);
    }
}

/// Loads on a ceiling's board at 1.6 lb/ft3 and k .27: R-38 is 1.368 lb/ft2, too much for 1/2 in. at 24 in. on centre and not at 16; R-60
/// is 2.16, which 5/8 in. carries at 24. US Department of Energy on loose fill.
#[test]
fn boards_carry_what_is_published() {
    let load = |r: f64| {
        settled_thickness_m(r * HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W, 0.27 * BTU_INCH_PER_HOUR_SQUARE_FOOT_F_W_MK)
            * 1.6
            * POUND_PER_CUBIC_FOOT_KG_M3
    };
    let carries = |board, spacing_in: f64, r: f64| load(r) <= board_limit_kg_m2(board, spacing_in * INCH_M).unwrap();
    near(load(38.0) / POUND_PER_SQUARE_FOOT_KG_M2, 1.368, 0.0005, "R-38");
    near(load(60.0) / POUND_PER_SQUARE_FOOT_KG_M2, 2.16, 0.0005, "R-60");
    assert!(!carries(CeilingBoard::Half, 24.0, 38.0));
    assert!(carries(CeilingBoard::Half, 16.0, 38.0));
    assert!(carries(CeilingBoard::FiveEighths, 24.0, 60.0));
    assert!(carries(CeilingBoard::Half, 24.0, 36.0) && !carries(CeilingBoard::Half, 24.0, 36.2));
}

/// Danish Building Research Institute, settling of loose-fill insulation in walls: 48 kg/m3 at 0.1 m and 53 at 0.3 m are 2.997 and 3.309 lb/ft3; 63
/// in changing humidity is 3.933. 3.5 lb/ft3 holds at 50 % humidity up to 0.3 m, and not where it changes to 80 %.
#[test]
fn settling_in_walls() {
    let least =
        |thickness_m: f64, humidity| least_density_kg_m3(thickness_m, humidity).unwrap() / POUND_PER_CUBIC_FOOT_KG_M3;
    near(least(0.1, Humidity::Steady), 2.997, 0.001, "0.1 m");
    near(least(0.3, Humidity::Steady), 3.309, 0.001, "0.3 m");
    near(least(0.3, Humidity::Changing), 3.933, 0.001, "0.3 m, changing");
    assert!(least(0.3, Humidity::Steady) < 3.5 && least(0.3, Humidity::Changing) > 3.5);
}
