//! Currents, voltages, power and wire sizes as people write them: `11 A`, `120 V`, `6.5 kW`, `12 AWG`.

use super::pressure_text::plain;
use super::quantity_text::{Quantity, parse};

/// Reads a current in amperes.
///
/// # Errors
/// What was found and what was expected.
pub fn parse_current(text: &str) -> Result<Quantity, String> {
    parse(text, "a current with its unit, such as `11 A`", |unit| match plain(unit).as_str() {
        "a" | "amp" | "amps" | "ampere" | "amperes" => Some(1.0),
        _ => None,
    })
}

/// Reads a voltage in volts.
///
/// # Errors
/// What was found and what was expected.
pub fn parse_voltage(text: &str) -> Result<Quantity, String> {
    parse(text, "a voltage with its unit, such as `120 V`", |unit| match plain(unit).as_str() {
        "v" | "volt" | "volts" => Some(1.0),
        _ => None,
    })
}

/// Reads a power in watts.
///
/// # Errors
/// What was found and what was expected.
pub fn parse_power(text: &str) -> Result<Quantity, String> {
    parse(text, "a power with its unit, such as `6.5 kW` or `6500 W`", |unit| match plain(unit).as_str() {
        "kw" | "kva" => Some(1000.0),
        "w" | "va" | "watt" | "watts" => Some(1.0),
        _ => None,
    })
}

/// Reads a wire size of the American wire gauge: `12 AWG`, `12/3` or `#12`.
///
/// # Errors
/// What was found and what was expected.
pub fn parse_wire_gauge(text: &str) -> Result<u8, String> {
    let trimmed = text.trim().trim_start_matches('#').trim_start();
    let digits: String = trimmed.chars().take_while(char::is_ascii_digit).collect();
    let rest = trimmed.get(digits.len()..).unwrap_or_default().trim().to_lowercase();
    let is_known = matches!(rest.as_str(), "awg" | "ga" | "gauge") || rest.starts_with('/') || text.contains('#');
    digits
        .parse()
        .ok()
        .filter(|gauge: &u8| is_known && (6..=18).contains(gauge) && gauge.is_multiple_of(2))
        .ok_or_else(|| format!("`{}` is not the size of a cord: expected 18 to 6 AWG, such as `12 AWG`", text.trim()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn electric_quantities_are_read_with_their_unit() {
        assert!((parse_current("7.3 A").unwrap().si - 7.3).abs() < 1e-12);
        assert!((parse_voltage("120 V").unwrap().si - 120.0).abs() < 1e-12);
        assert!((parse_power("6.5 kW").unwrap().si - 6500.0).abs() < 1e-9);
        assert_eq!(["12 AWG", "#10", "14/3", "8 ga"].map(|text| parse_wire_gauge(text).unwrap()), [12, 10, 14, 8]);
        for text in ["12", "13 AWG", "4 AWG", "AWG", "", "999 AWG", "#"] {
            assert!(parse_wire_gauge(text).is_err(), "{text}");
        }
        assert!(parse_current("11").unwrap_err().contains("no unit"));
        assert!(parse_voltage("120 A").is_err() && parse_power("5 hp").is_err());
    }
}
