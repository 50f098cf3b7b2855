//! Measures as people read them. The only place where numbers are rounded.
//!
//! Halves are rounded away from zero.

use super::{
    BTU_PER_HOUR_SQUARE_FOOT_F_W_M2K, CUBIC_FOOT_M3, HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W, INCH_M, POUND_KG,
    POUND_PER_CUBIC_FOOT_KG_M3, POUND_PER_SQUARE_FOOT_KG_M2, SQUARE_FOOT_M2,
};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The units that people read; files for machines are SI.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum UnitSystem {
    /// Feet, inches, pounds.
    #[default]
    Us,
    /// Metres, kilograms.
    Si,
}

impl UnitSystem {
    /// Symbol of the unit of area.
    pub fn area_symbol(self) -> &'static str {
        match self {
            Self::Us => "ft2",
            Self::Si => "m2",
        }
    }

    /// Symbol of the unit of a section, such as a bay's width.
    pub fn section_symbol(self) -> &'static str {
        match self {
            Self::Us => "in",
            Self::Si => "mm",
        }
    }

    /// Symbol of the unit of volume.
    pub fn volume_symbol(self) -> &'static str {
        match self {
            Self::Us => "ft3",
            Self::Si => "m3",
        }
    }

    /// Symbol of the unit of mass.
    pub fn mass_symbol(self) -> &'static str {
        match self {
            Self::Us => "lb",
            Self::Si => "kg",
        }
    }

    /// Symbol of the unit of density.
    pub fn density_symbol(self) -> &'static str {
        match self {
            Self::Us => "lb/ft3",
            Self::Si => "kg/m3",
        }
    }

    /// Symbol of the unit of thermal resistance.
    pub fn resistance_symbol(self) -> &'static str {
        match self {
            Self::Us => "h ft2 F/Btu",
            Self::Si => "m2 K/W",
        }
    }

    /// Symbol of the unit of thermal transmittance.
    pub fn transmittance_symbol(self) -> &'static str {
        match self {
            Self::Us => "Btu/(h ft2 F)",
            Self::Si => "W/(m2 K)",
        }
    }

    /// A length of a section in this system's unit.
    pub fn section(self, length_m: f64) -> f64 {
        match self {
            Self::Us => length_m / INCH_M,
            Self::Si => length_m * 1000.0,
        }
    }

    /// An area in this system's unit.
    pub fn area(self, area_m2: f64) -> f64 {
        match self {
            Self::Us => area_m2 / SQUARE_FOOT_M2,
            Self::Si => area_m2,
        }
    }

    /// A volume in this system's unit.
    pub fn volume(self, volume_m3: f64) -> f64 {
        match self {
            Self::Us => volume_m3 / CUBIC_FOOT_M3,
            Self::Si => volume_m3,
        }
    }

    /// A mass in this system's unit.
    pub fn mass(self, mass_kg: f64) -> f64 {
        match self {
            Self::Us => mass_kg / POUND_KG,
            Self::Si => mass_kg,
        }
    }

    /// A density in this system's unit.
    pub fn density(self, density_kg_m3: f64) -> f64 {
        match self {
            Self::Us => density_kg_m3 / POUND_PER_CUBIC_FOOT_KG_M3,
            Self::Si => density_kg_m3,
        }
    }

    /// A thermal resistance in this system's unit.
    pub fn resistance(self, resistance_m2k_w: f64) -> f64 {
        match self {
            Self::Us => resistance_m2k_w / HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W,
            Self::Si => resistance_m2k_w,
        }
    }

    /// A thermal transmittance in this system's unit.
    pub fn transmittance(self, u_w_m2k: f64) -> f64 {
        match self {
            Self::Us => u_w_m2k / BTU_PER_HOUR_SQUARE_FOOT_F_W_M2K,
            Self::Si => u_w_m2k,
        }
    }

    /// A length of a building: `8'-1 1/8"`, `2.467 m`.
    pub fn show_length(self, length_m: f64) -> String {
        match self {
            Self::Us => feet_inches(length_m),
            Self::Si => format!("{} m", grouped(length_m, 3)),
        }
    }

    /// A length of a section, such as a depth or a bay's width: `14 1/2"`, `368 mm`.
    pub fn show_section(self, length_m: f64) -> String {
        match self {
            Self::Us => inches(length_m),
            Self::Si => format!("{} mm", grouped(length_m * 1000.0, 0)),
        }
    }

    /// An area with its unit: `1,310 ft2` to the foot, `121.7 m2` to the tenth.
    pub fn show_area(self, area_m2: f64) -> String {
        let decimals = usize::from(self != Self::Us);
        format!("{} {}", grouped(self.area(area_m2), decimals), self.area_symbol())
    }

    /// A volume with its unit: `224.6 ft3`, `6.36 m3`.
    pub fn show_volume(self, volume_m3: f64) -> String {
        let decimals = if self == Self::Us { 1 } else { 2 };
        format!("{} {}", grouped(self.volume(volume_m3), decimals), self.volume_symbol())
    }

    /// A mass with its unit: `786 lb`, `356.5 kg`.
    pub fn show_mass(self, mass_kg: f64) -> String {
        let decimals = usize::from(self != Self::Us);
        format!("{} {}", grouped(self.mass(mass_kg), decimals), self.mass_symbol())
    }

    /// The mass of one bay with its unit: `11.4 lb`, `5.17 kg`.
    pub fn show_bay_mass(self, mass_kg: f64) -> String {
        let decimals = if self == Self::Us { 1 } else { 2 };
        format!("{} {}", grouped(self.mass(mass_kg), decimals), self.mass_symbol())
    }

    /// A thermal resistance with its unit: `R-38`, `R-13.5`, `6.69 m2K/W`.
    pub fn show_resistance(self, r_m2k_w: f64) -> String {
        match self {
            Self::Us => {
                let tenths = grouped(r_m2k_w / HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W, 1);
                format!("R-{}", tenths.strip_suffix(".0").unwrap_or(&tenths))
            }
            Self::Si => format!("{} m2K/W", grouped(r_m2k_w, 2)),
        }
    }

    /// A mass per area with its unit: `1.76 lb/ft2`, `8.6 kg/m2`.
    pub fn show_mass_per_area(self, mass_kg_m2: f64) -> String {
        match self {
            Self::Us => format!("{} lb/ft2", grouped(mass_kg_m2 / POUND_PER_SQUARE_FOOT_KG_M2, 2)),
            Self::Si => format!("{} kg/m2", grouped(mass_kg_m2, 1)),
        }
    }

    /// A density with its unit: `3.5 lb/ft3`, `56 kg/m3`.
    pub fn show_density(self, density_kg_m3: f64) -> String {
        let decimals = usize::from(self == Self::Us);
        format!("{} {}", grouped(self.density(density_kg_m3), decimals), self.density_symbol())
    }
}

/// A length in feet and inches to the nearest sixteenth of an inch, with carry: `5'-11 31/32"` is `6'-0"`. A fraction alone
/// has its zero before it, as on drawings: `12'-0 3/4"`.
///
/// # Source
/// Common practice, no source.
pub fn feet_inches(length_m: f64) -> String {
    let (sign, sixteenths) = sixteenths(length_m);
    let feet = (sixteenths / 192.0).floor();
    let beyond = sixteenths - feet * 192.0;
    let zero = if beyond > 0.0 && beyond < 16.0 { "0 " } else { "" };
    format!("{sign}{feet}'-{zero}{}\"", inch_words(beyond))
}

/// A length in inches alone, to the nearest sixteenth: `14 1/2"`.
pub fn inches(length_m: f64) -> String {
    let (sign, sixteenths) = sixteenths(length_m);
    format!("{sign}{}\"", inch_words(sixteenths))
}

/// A length both ways, for messages that must serve whoever wrote the sheet: `8'-1 1/8" (2.467 m)`.
pub fn both_ways(length_m: f64) -> String {
    format!("{} ({length_m:.3} m)", feet_inches(length_m))
}

/// A length of a section both ways: `1 1/2" (38 mm)`.
pub fn section_both_ways(length_m: f64) -> String {
    format!("{} ({:.0} mm)", inches(length_m), length_m * 1000.0)
}

/// An area both ways: `1,310 ft2 (121.7 m2)`.
pub fn area_both_ways(area_m2: f64) -> String {
    format!("{} ({})", UnitSystem::Us.show_area(area_m2), UnitSystem::Si.show_area(area_m2))
}

/// An area that may be far below a square foot, both ways: `0.3 ft2 (0.03 m2)`.
pub fn small_area_both_ways(area_m2: f64) -> String {
    format!("{} ft2 ({} m2)", grouped(UnitSystem::Us.area(area_m2), 1), grouped(area_m2, 2))
}

/// A volume both ways: `224.6 ft3 (6.36 m3)`.
pub fn volume_both_ways(volume_m3: f64) -> String {
    format!("{} ({})", UnitSystem::Us.show_volume(volume_m3), UnitSystem::Si.show_volume(volume_m3))
}

/// A thermal resistance both ways: `R-19 (3.35 m2K/W)`.
pub fn resistance_both_ways(r_m2k_w: f64) -> String {
    format!("{} ({})", UnitSystem::Us.show_resistance(r_m2k_w), UnitSystem::Si.show_resistance(r_m2k_w))
}

/// Sign and whole sixteenths of an inch. Whole numbers stay in f64, which has room for any length.
fn sixteenths(length_m: f64) -> (&'static str, f64) {
    // A length that is exact in halves of a sixteenth must not fall below the half by its conversion.
    let rounded = (length_m.abs() / INCH_M * 16.0 + 1e-9).round();
    (if length_m < 0.0 && rounded > 0.0 { "-" } else { "" }, rounded)
}

fn inch_words(sixteenths: f64) -> String {
    let whole = (sixteenths / 16.0).floor();
    let over = sixteenths - whole * 16.0;
    let reduced = [1.0, 2.0, 4.0, 8.0].into_iter().rev().find(|by| over % by == 0.0).unwrap_or(1.0);
    match (whole > 0.0, over > 0.0) {
        (_, false) => whole.to_string(),
        (false, true) => format!("{}/{}", over / reduced, 16.0 / reduced),
        (true, true) => format!("{whole} {}/{}", over / reduced, 16.0 / reduced),
    }
}

/// A number with so many decimals and commas between the thousands: `1,310`.
pub fn grouped(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return "not a number".to_owned();
    }
    // Formatting rounds the exact binary value; the nudge brings `2.675` up as a person expects.
    let nudged = value + value.signum() * value.abs() * 1e-14;
    let plain = format!("{:.decimals$}", nudged.abs());
    let (whole, fraction) = plain.split_once('.').map_or((plain.as_str(), ""), |(w, f)| (w, f));
    let mut digits = String::with_capacity(plain.len() + plain.len() / 3);
    for (index, digit) in whole.chars().enumerate() {
        if index > 0 && (whole.len() - index).is_multiple_of(3) {
            digits.push(',');
        }
        digits.push(digit);
    }
    let is_zero = plain.chars().all(|c| matches!(c, '0' | '.'));
    let sign = if value < 0.0 && !is_zero { "-" } else { "" };
    let point = if fraction.is_empty() { "" } else { "." };
    format!("{sign}{digits}{point}{fraction}")
}

#[cfg(test)]
mod tests {
    use super::super::FOOT_M;
    use super::*;

    // 5'-11 31/32" to the nearest 1/16 is 6'-0" (common practice, no source).
    #[test]
    fn sixteenths_carry_into_inches_and_feet() {
        assert_eq!(feet_inches((71.0 + 31.0 / 32.0) * INCH_M), "6'-0\"");
        assert_eq!(feet_inches((71.0 + 15.0 / 16.0) * INCH_M), "5'-11 15/16\"");
        assert_eq!(feet_inches(97.125 * INCH_M), "8'-1 1/8\"");
        assert_eq!(feet_inches(0.5 * INCH_M), "0'-0 1/2\"");
        assert_eq!(feet_inches(144.75 * INCH_M), "12'-0 3/4\"");
        assert_eq!(feet_inches(0.0), "0'-0\"");
        assert_eq!(feet_inches(-1.5 * FOOT_M), "-1'-6\"");
        assert_eq!(inches(14.5 * INCH_M), "14 1/2\"");
        assert_eq!(inches(92.625 * INCH_M), "92 5/8\"");
    }

    #[test]
    fn thousands_are_grouped_and_halves_go_away_from_zero() {
        assert_eq!(grouped(1310.0, 0), "1,310");
        assert_eq!(grouped(1_234_567.891, 2), "1,234,567.89");
        assert_eq!(grouped(999.96, 1), "1,000.0");
        assert_eq!(grouped(2.675, 2), "2.68");
        assert_eq!(grouped(-0.001, 1), "0.0");
        assert_eq!(grouped(-1234.5, 1), "-1,234.5");
        assert_eq!(grouped(f64::NAN, 1), "not a number");
    }

    // 1 lb = 0.45359237 kg, 1 ft2 = 0.09290304 m2 (NIST SP 811 app. B.8); 3.5 lb/ft3 is 56.06 kg/m3.
    #[test]
    fn people_read_their_own_units() {
        assert_eq!(UnitSystem::Us.show_area(1310.0 * 0.092_903_04), "1,310 ft2");
        assert_eq!(UnitSystem::Si.show_area(121.7), "121.7 m2");
        assert_eq!(UnitSystem::Us.show_mass(0.453_592_37 * 786.0), "786 lb");
        assert_eq!(UnitSystem::Us.show_density(56.064_6), "3.5 lb/ft3");
        assert_eq!(UnitSystem::Si.show_section(0.368_3), "368 mm");
        assert_eq!(UnitSystem::Si.show_length(2.467), "2.467 m");
        assert_eq!(both_ways(2.466_975), "8'-1 1/8\" (2.467 m)");
    }
}
