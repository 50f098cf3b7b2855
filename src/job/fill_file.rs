//! A fill material as it is written.

use super::file::{check_keys, in_order};
use super::reader::Reader;
use schemars::JsonSchema;
use serde::Deserialize;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A fill material. One that is not generic needs a `density` and a `bag`.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct FillFile {
    /// Generic material that it is: `cellulose`, `glass fibre` or `mineral wool`; of a fill with such a name it need not
    /// be said.
    #[schemars(with = "Option<String>")]
    pub material: Option<Spanned<String>>,
    /// Installed density in closed cavities, such as `3.5 lb/ft3` or `56 kg/m3`.
    #[schemars(with = "Option<String>")]
    pub density: Option<Spanned<String>>,
    /// Installed density in deep bays.
    #[schemars(with = "Option<String>")]
    pub deep_density: Option<Spanned<String>>,
    /// Depth from which a bay is deep.
    #[schemars(with = "Option<String>")]
    pub deep_from: Option<Spanned<String>>,
    /// Installed densities from several depths on, in place of `deep_density`.
    #[schemars(with = "Vec<DepthDensityFile>")]
    pub depth_density: Vec<Spanned<DepthDensityFile>>,
    /// Installed density behind netting, whatever the depth.
    #[schemars(with = "Option<String>")]
    pub netted_density: Option<Spanned<String>>,
    /// Installed density in roof slopes, whatever the depth.
    #[schemars(with = "Option<String>")]
    pub sloped_density: Option<Spanned<String>>,
    /// Settled density of open-blown fill on ceilings, for an estimate where no coverage table of the label is given.
    #[schemars(with = "Option<String>")]
    pub open_density: Option<Spanned<String>>,
    /// What open-blown fill settles, as a share of its initial thickness, such as `13 %`.
    #[schemars(with = "Option<String>")]
    pub settling: Option<Spanned<String>>,
    /// Humidity of the air that the fill of walls meets: `steady` (about 50 %) or `changing` (up to 80 %).
    #[schemars(with = "Option<String>")]
    pub humidity: Option<Spanned<String>>,
    /// Conductivity at the installed density, such as `0.27 Btu in/(h ft2 F)` or `0.039 W/(m K)`.
    #[schemars(with = "Option<String>")]
    pub conductivity: Option<Spanned<String>>,
    /// Net mass of a bag, from its label, such as `25 lb` or `11.3 kg`.
    #[schemars(with = "Option<String>")]
    pub bag: Option<Spanned<String>>,
    /// Price of a bag, such as `18.50 USD`.
    #[schemars(with = "Option<String>")]
    pub price: Option<Spanned<String>>,
    /// Bags on a pallet.
    #[schemars(with = "Option<u32>")]
    pub pallet: Option<Spanned<u32>>,
    /// Bags in a bundle.
    #[schemars(with = "Option<u32>")]
    pub bundle: Option<Spanned<u32>>,
    /// Coverage tables of the label, one a use.
    #[schemars(with = "Vec<CoverageFile>")]
    pub coverage: Vec<Spanned<CoverageFile>>,
    /// Fraction added for spill, hopper and run-through.
    #[schemars(with = "Option<f64>")]
    pub allowance: Option<Spanned<f64>>,
    /// Who makes it, for the papers.
    pub manufacturer: Option<String>,
    /// The machine that blows it, and its settings, for the papers.
    pub machine: Option<String>,
    /// Whether existing walls are filled through drilled holes, which spills more.
    pub retrofit: Option<bool>,
}

/// Keys of a fill.
pub(super) const FILL: &[&str] = &[
    "material",
    "density",
    "deep_density",
    "deep_from",
    "depth_density",
    "netted_density",
    "sloped_density",
    "open_density",
    "settling",
    "humidity",
    "conductivity",
    "bag",
    "price",
    "pallet",
    "bundle",
    "coverage",
    "allowance",
    "manufacturer",
    "machine",
    "retrofit",
];

/// An installed density from a depth on.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct DepthDensityFile {
    /// Depth from which it holds.
    #[schemars(with = "Option<String>")]
    pub from: Option<Spanned<String>>,
    /// Density.
    #[schemars(with = "Option<String>")]
    pub density: Option<Spanned<String>>,
}

/// Keys of an entry of `depth_density`.
pub(super) const DEPTH_DENSITY: &[&str] = &["from", "density"];

/// A coverage table of a label: in a file, or by rows.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct CoverageFile {
    /// What it is for: `open-blown` or `closed cavity`.
    #[schemars(with = "Option<String>")]
    pub r#use: Option<Spanned<String>>,
    /// What its coverage is the area of: `net`, or the framing that is in it, such as `2x4 @ 16 in`.
    #[schemars(with = "Option<String>")]
    pub basis: Option<Spanned<String>>,
    /// Path of a sheet with the rows, from the folder of the job file.
    #[schemars(with = "Option<String>")]
    pub file: Option<Spanned<String>>,
    /// The rows, as printed, in place of `file`.
    #[schemars(with = "Vec<CoverageRowFile>")]
    pub rows: Vec<Spanned<CoverageRowFile>>,
    /// Which label it is, printed with what follows from it.
    pub source: Option<String>,
}

/// Keys of a coverage table.
pub(super) const COVERAGE: &[&str] = &["use", "basis", "file", "rows", "source"];

/// A row of a coverage table, as printed.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct CoverageRowFile {
    /// Thermal resistance, such as `R-38` or `6.7 m2K/W`.
    pub r_value: Option<String>,
    /// Minimum settled thickness; of a closed cavity its depth.
    pub settled_thickness: Option<String>,
    /// Initial installed thickness.
    pub initial_thickness: Option<String>,
    /// Maximum net coverage of one bag, such as `52.5 ft2`.
    pub coverage: Option<String>,
    /// Bags for 1,000 ft2.
    pub bags_per_1000_ft2: Option<f64>,
    /// Minimum mass per area, such as `0.591 lb/ft2`.
    pub mass_per_area: Option<String>,
}

/// Keys of a row.
pub(super) const COVERAGE_ROW: &[&str] =
    &["r_value", "settled_thickness", "initial_thickness", "coverage", "bags_per_1000_ft2", "mass_per_area"];

/// Keys of the tables in the lists of a fill.
pub(super) fn check_lists(name: &str, table: &DeTable<'_>, reader: &mut Reader<'_>) {
    for (key, list) in in_order(table) {
        for entry in tables_in(list.get_ref()) {
            match key.get_ref().as_ref() {
                "depth_density" => {
                    check_keys(entry, &format!("`depth_density` of `[fill.{name}]`"), DEPTH_DENSITY, reader);
                }
                "coverage" => {
                    check_keys(entry, &format!("`[[fill.{name}.coverage]]`"), COVERAGE, reader);
                    for row in entry.get("rows").into_iter().flat_map(|rows| tables_in(rows.get_ref())) {
                        check_keys(row, &format!("a row of `[[fill.{name}.coverage]]`"), COVERAGE_ROW, reader);
                    }
                }
                _ => {}
            }
        }
    }
}

/// The tables of a list; none where it is no list.
fn tables_in<'t, 'i>(list: &'t DeValue<'i>) -> Vec<&'t DeTable<'i>> {
    list.as_array().map(|list| list.iter().filter_map(|one| one.get_ref().as_table()).collect()).unwrap_or_default()
}
