//! What a bag's label states, as people write it: `R-38`, `0.591 lb/ft2`, `52.5 ft2`, `13 %`.

use super::quantity_text::{Quantity, parse};
use super::{BRITISH_THERMAL_UNIT_J, FOOT_M, HOUR_S, KELVIN_PER_FAHRENHEIT, POUND_KG, SQUARE_FOOT_M2};

/// One h·ft2·°F/Btu in m2·K/W: 0.176 110.
///
/// # Source
/// NIST SP 811, appendix B.8, from its factors for the foot, the hour and the Btu (IT).
pub const R_US_M2K_W: f64 = HOUR_S * SQUARE_FOOT_M2 * KELVIN_PER_FAHRENHEIT / BRITISH_THERMAL_UNIT_J;

/// One Btu·in/(h·ft2·°F) in W/(m·K): 0.144 228.
///
/// # Source
/// The same.
pub const K_US_W_MK: f64 = BRITISH_THERMAL_UNIT_J * (FOOT_M / 12.0) / (HOUR_S * SQUARE_FOOT_M2 * KELVIN_PER_FAHRENHEIT);

const R_EXPECTED: &str = "a thermal resistance with its unit, such as `R-38` or `6.7 m2K/W`";

/// Reads a thermal resistance in m2·K/W: `R-38` and `R38` are h·ft2·°F/Btu, as labels in the United States print them.
///
/// # Errors
/// What was found and what was expected.
pub fn parse_resistance(text: &str) -> Result<Quantity, String> {
    let trimmed = text.trim();
    let after_r =
        trimmed.strip_prefix(['R', 'r']).map(|rest| rest.strip_prefix(['-', '–']).unwrap_or(rest).trim_start());
    match after_r {
        Some(number) if number.starts_with(|c: char| c.is_ascii_digit() || c == '.') => {
            let with_unit = format!("{number} h ft2 F/Btu");
            let quantity = parse(&with_unit, R_EXPECTED, resistance_factor).map_err(|_| not_r(trimmed))?;
            Ok(Quantity { number: trimmed.to_owned(), unit: String::new(), si: quantity.si })
        }
        _ => parse(trimmed, R_EXPECTED, resistance_factor),
    }
}

fn not_r(text: &str) -> String {
    format!("`{text}` is not {R_EXPECTED}")
}

fn resistance_factor(unit: &str) -> Option<f64> {
    match plain(unit).as_str() {
        "hft2f/btu" | "ft2hf/btu" | "ft2fh/btu" | "hrft2f/btu" => Some(R_US_M2K_W),
        "m2k/w" => Some(1.0),
        _ => None,
    }
}

/// Reads a thermal conductivity in W/(m·K): `0.28 Btu in/(h ft2 F)`, `0.040 W/(m K)`.
///
/// # Errors
/// What was found and what was expected.
pub fn parse_conductivity(text: &str) -> Result<Quantity, String> {
    let expected = "a thermal conductivity with its unit, such as `0.28 Btu in/(h ft2 F)` or `0.040 W/(m K)`";
    parse(text, expected, |unit| match plain(unit).as_str() {
        "btuin/hft2f" | "btuin/hrft2f" => Some(K_US_W_MK),
        "w/mk" => Some(1.0),
        _ => None,
    })
}

/// Reads a mass per area in kg/m2.
///
/// # Errors
/// What was found and what was expected.
pub fn parse_mass_per_area(text: &str) -> Result<Quantity, String> {
    let expected = "a mass per area with its unit, such as `0.591 lb/ft2` or `2.9 kg/m2`";
    parse(text, expected, |unit| match plain(unit).as_str() {
        "lb/ft2" | "lbs/ft2" | "lb/sqft" | "psf" => Some(POUND_KG / SQUARE_FOOT_M2),
        "kg/m2" => Some(1.0),
        _ => None,
    })
}

/// Reads a share of a whole, `13 %` or `13%`, as a number from 0 to less than 1.
///
/// # Errors
/// What was found and what was expected.
pub fn parse_percent(text: &str) -> Result<Quantity, String> {
    let wrong = || format!("`{}` is not a share: expected a number and `%` such as `13 %`, under 100 %", text.trim());
    let number = text.trim().strip_suffix('%').map(str::trim_end).ok_or_else(wrong)?;
    let is_plain = number.chars().all(|c| c.is_ascii_digit() || c == '.');
    let percent: f64 = number.parse().ok().filter(|_| is_plain).ok_or_else(wrong)?;
    if !(0.0..100.0).contains(&percent) {
        return Err(wrong());
    }
    Ok(Quantity { number: number.to_owned(), unit: "%".to_owned(), si: percent / 100.0 })
}

/// A unit without what people write between its parts.
fn plain(unit: &str) -> String {
    let lower =
        unit.to_lowercase().replace('²', "2").replace("sq ft", "ft2").replace("ft^2", "ft2").replace("m^2", "m2");
    lower.chars().filter(|c| !matches!(c, ' ' | '(' | ')' | '·' | '.' | '*' | '-' | '°')).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    // NIST SP 811, appendix B.8: 1 h·ft2·°F/Btu (IT) = 1.761 102 E-01 m2·K/W; 1 Btu·in/(h·ft2·°F) = 1.442 279 E-01 W/(m·K);
    // 1 lb/ft2 = 4.882 428 kg/m2.
    #[test]
    fn factors_are_those_of_the_guide() {
        assert!((R_US_M2K_W - 0.176_110_2).abs() < 5e-8);
        assert!((K_US_W_MK - 0.144_227_9).abs() < 5e-8);
        assert!((parse_mass_per_area("1 lb/ft2").unwrap().si - 4.882_428).abs() < 5e-7);
    }

    #[test]
    fn resistances_are_read_as_labels_print_them() {
        for text in ["R-38", "R38", "r 38", "38 h ft2 F/Btu", "38 ft²·h·°F/Btu", "38 h·ft2·F/Btu"] {
            assert!((parse_resistance(text).unwrap().si - 38.0 * R_US_M2K_W).abs() < 1e-12, "{text}");
        }
        assert!((parse_resistance("6.7 m2K/W").unwrap().si - 6.7).abs() < 1e-12);
        assert!((parse_resistance("6.7 m²·K/W").unwrap().si - 6.7).abs() < 1e-12);
        for text in ["38", "R", "R-", "R-0", "R--38", "U-0.05", "R-38 m2K/W", ""] {
            assert!(parse_resistance(text).is_err(), "{text}");
        }
    }

    #[test]
    fn conductivities_and_shares_are_read_with_their_unit() {
        assert!((parse_conductivity("0.28 Btu in/(h ft2 F)").unwrap().si - 0.28 * K_US_W_MK).abs() < 1e-12);
        assert!((parse_conductivity("0.040 W/(m·K)").unwrap().si - 0.04).abs() < 1e-12);
        assert!(parse_conductivity("0.28").is_err());
        assert!((parse_percent("13 %").unwrap().si - 0.13).abs() < 1e-15);
        for text in ["13", "100 %", "-1 %", "% 3", "1e1 %", "nan %"] {
            assert!(parse_percent(text).is_err(), "{text}");
        }
    }
}
