//! Masses per area and shares, as labels state them: `0.591 lb/ft2`, `13 %`.

use super::POUND_PER_SQUARE_FOOT_KG_M2;
use super::quantity_text::{Quantity, parse};

/// Reads a mass per area in kg/m2.
///
/// # Errors
/// What was found and what was expected.
pub fn parse_mass_per_area(text: &str) -> Result<Quantity, String> {
    let expected = "a mass per area with its unit, such as `0.591 lb/ft2` or `2.9 kg/m2`";
    parse(text, expected, |unit| match plain(unit).as_str() {
        "lb/ft2" | "lbs/ft2" | "lb/sqft" | "psf" => Some(POUND_PER_SQUARE_FOOT_KG_M2),
        "kg/m2" => Some(1.0),
        _ => None,
    })
}

/// Reads a share of a whole, `13 %` or `13%`, as a number from 0 to 1.
///
/// # Errors
/// What was found and what was expected.
pub fn parse_percent(text: &str) -> Result<Quantity, String> {
    let wrong = || format!("`{}` is not a share: expected a number and `%` such as `13 %`, up to 100 %", text.trim());
    let number = text.trim().strip_suffix('%').map(str::trim_end).ok_or_else(wrong)?;
    let is_plain = number.chars().all(|c| c.is_ascii_digit() || c == '.');
    let percent: f64 = number.parse().ok().filter(|_| is_plain).ok_or_else(wrong)?;
    if !(0.0..=100.0).contains(&percent) {
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

    // 1 lb/ft2 = 4.882 428 kg/m2: NIST SP 811, appendix B.8.
    #[test]
    fn masses_per_area_are_read_with_their_unit() {
        assert!((parse_mass_per_area("1 lb/ft2").unwrap().si - 4.882_428).abs() < 5e-7);
        assert!((parse_mass_per_area("2.9 kg/m²").unwrap().si - 2.9).abs() < 1e-12);
        assert!(parse_mass_per_area("0.591").unwrap_err().contains("no unit"));
        assert!(parse_mass_per_area("0.591 lb").is_err());
    }

    #[test]
    fn shares_are_read_with_their_sign() {
        assert!((parse_percent("13 %").unwrap().si - 0.13).abs() < 1e-15);
        for text in ["13", "100.1 %", "-1 %", "% 3", "1e1 %", "nan %"] {
            assert!(parse_percent(text).is_err(), "{text}");
        }
    }
}
