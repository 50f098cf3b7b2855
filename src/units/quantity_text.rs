//! Masses and densities as people write them: `25 lb`, `11.3 kg`, `3.5 lb/ft3`, `56 kg/m3`.

use super::{POUND_KG, POUND_PER_CUBIC_FOOT_KG_M3};

/// A quantity as it was written, and what it is in SI.
#[derive(Clone, Debug, PartialEq)]
pub struct Quantity {
    /// The number, as it was written.
    pub number: String,
    /// The unit, as it was written.
    pub unit: String,
    /// The value in SI.
    pub si: f64,
}

/// Reads a mass in kilograms.
///
/// # Errors
/// What was found and what was expected, where there is no number, no unit, or an unknown one.
pub fn parse_mass(text: &str) -> Result<Quantity, String> {
    parse(text, "a mass with its unit, such as `25 lb` or `11.3 kg`", |unit| match unit {
        "lb" | "lbs" | "lb." | "lbs." | "pound" | "pounds" => Some(POUND_KG),
        "kg" | "kilogram" | "kilograms" => Some(1.0),
        "g" | "gram" | "grams" => Some(0.001),
        _ => None,
    })
}

/// Reads a density in kilograms per cubic metre.
///
/// # Errors
/// What was found and what was expected, where there is no number, no unit, or an unknown one.
pub fn parse_density(text: &str) -> Result<Quantity, String> {
    parse(text, "a density with its unit, such as `3.5 lb/ft3` or `56 kg/m3`", |unit| match unit {
        "lb/ft3" | "lb/ft^3" | "lb/ft³" | "lbs/ft3" | "lb/cu ft" | "lb/cuft" | "pcf" => {
            Some(POUND_PER_CUBIC_FOOT_KG_M3)
        }
        "kg/m3" | "kg/m^3" | "kg/m³" => Some(1.0),
        _ => None,
    })
}

pub(super) fn parse(text: &str, expected: &str, factor: impl Fn(&str) -> Option<f64>) -> Result<Quantity, String> {
    let text = text.trim();
    let end = text.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(text.len());
    let (number, unit) = text.split_at(end);
    let unit = unit.trim();
    let wrong = || format!("`{text}` is not {expected}");
    let value: f64 = number.parse().map_err(|_| wrong())?;
    if unit.is_empty() {
        return Err(format!("`{text}` has no unit: expected {expected}"));
    }
    let factor = factor(&unit.to_lowercase()).ok_or_else(wrong)?;
    if value <= 0.0 || !value.is_finite() {
        return Err(format!("`{text}` must be more than zero"));
    }
    Ok(Quantity { number: number.to_owned(), unit: unit.to_owned(), si: value * factor })
}

#[cfg(test)]
mod tests {
    use super::*;

    // 1 lb = 0.453 592 37 kg and 1 lb/ft3 = 16.018 463 kg/m3: NIST SP 811, appendix B.8.
    #[test]
    fn pounds_and_kilograms_are_read() {
        assert!((parse_mass("25 lb").unwrap().si - 11.339_809_25).abs() < 1e-12);
        assert!((parse_mass("11.3kg").unwrap().si - 11.3).abs() < 1e-12);
        assert!((parse_density("3.5 lb/ft3").unwrap().si / 3.5 - 16.018_463).abs() < 1e-6);
        assert!((parse_density("56 kg/m3").unwrap().si - 56.0).abs() < 1e-12);
    }

    #[test]
    fn a_bare_number_is_never_guessed() {
        assert!(parse_mass("25").unwrap_err().contains("no unit"));
        for text in ["", "lb", "-25 lb", "0 lb", "25 stone", "1.2.3 lb", "1e9 lb", "NaN lb"] {
            assert!(parse_mass(text).is_err(), "{text}");
        }
        assert!(parse_density("3.5 lb").is_err());
    }
}
