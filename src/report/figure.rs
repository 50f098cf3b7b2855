//! Figures that carry their SI unit as a word, as people read them.

use crate::intake::claims::{Basis, Quantity};
use crate::units::UnitSystem;
use crate::units::display::grouped;

/// A figure with its unit; `unit` is the SI unit that it is in.
pub(super) fn show(value_si: f64, unit: &str, units: UnitSystem) -> String {
    match unit {
        "m2" => format!("{} {}", grouped(units.area(value_si), 1), units.area_symbol()),
        "m3" => units.show_volume(value_si),
        "m" => units.show_section(value_si),
        "kg" => format!("{} {}", grouped(units.mass(value_si), 1), units.mass_symbol()),
        "kg/m3" => format!("{} {}", grouped(units.density(value_si), 2), units.density_symbol()),
        "kg/m2" => units.show_mass_per_area(value_si),
        "m2K/W" => units.show_resistance(value_si),
        "W/(m2K)" => format!("U-{}", grouped(units.transmittance(value_si), 4)),
        "1" => format!("{} %", grouped(value_si * 100.0, 1)),
        other => format!("{} {other}", grouped(value_si, 1)),
    }
}

/// A difference, with its sign.
pub(super) fn show_difference(value_si: f64, unit: &str, units: UnitSystem) -> String {
    let sign = if value_si < 0.0 { "-" } else { "+" };
    format!("{sign}{}", show(value_si.abs(), unit, units))
}

/// What a figure is of.
pub(super) fn quantity_words(quantity: Quantity, basis: Option<Basis>) -> String {
    let words = match quantity {
        Quantity::GrossArea => "gross area",
        Quantity::NetArea => "net area",
        Quantity::BayArea => "bay area",
        Quantity::FramingFraction => "framing fraction",
        Quantity::Depth => "depth",
        Quantity::SettledThickness => "settled thickness",
        Quantity::InitialThickness => "initial thickness",
        Quantity::Density => "density",
        Quantity::Mass => "mass",
        Quantity::Bags => "bags",
        Quantity::BagMass => "bag",
        Quantity::RValue => "R",
        Quantity::UValue => "U",
    };
    match basis {
        Some(Basis::Label) => format!("{words}, label"),
        Some(Basis::WholeAssembly) => format!("{words}, assembly"),
        None => words.to_owned(),
    }
}
