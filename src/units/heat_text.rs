//! Thermal conductivities and resistances as people write them: `0.12 W/(m K)`, `0.8 Btu in/(h ft2 F)`, `R-13`.

use super::quantity_text::{Quantity, parse};
use super::{
    BTU_INCH_PER_HOUR_SQUARE_FOOT_F_W_MK, BTU_PER_HOUR_SQUARE_FOOT_F_W_M2K, FOOT_M, HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W,
    INCH_M,
};

/// Btu ft/(h ft2 F) in Btu in/(h ft2 F).
const INCHES_IN_A_FOOT: f64 = FOOT_M / INCH_M;

/// Reads a thermal conductivity in watts per metre and kelvin.
///
/// # Errors
/// What was found and what was expected, where there is no number, no unit, or an unknown one.
pub fn parse_conductivity(text: &str) -> Result<Quantity, String> {
    let expected = "a thermal conductivity with its unit, such as `0.8 Btu in/(h ft2 F)` or `0.12 W/(m K)`";
    parse(text, expected, |unit| match word(unit).as_str() {
        "w/mk" => Some(1.0),
        "mw/mk" => Some(0.001),
        "btuin/hft2f" => Some(BTU_INCH_PER_HOUR_SQUARE_FOOT_F_W_MK),
        "btu/hftf" | "btuft/hft2f" => Some(BTU_INCH_PER_HOUR_SQUARE_FOOT_F_W_MK * INCHES_IN_A_FOOT),
        _ => None,
    })
}

/// Reads a thermal resistance in square metres and kelvins per watt: `0.08 m2 K/W`, `0.45 h ft2 F/Btu`, or, as the
/// trade writes the latter, `R-0.45`.
///
/// # Errors
/// What was found and what was expected, where there is no number, no unit, or an unknown one.
pub fn parse_resistance(text: &str) -> Result<Quantity, String> {
    let expected = "a thermal resistance, such as `R-0.45`, `0.45 h ft2 F/Btu` or `0.08 m2 K/W`";
    let trimmed = text.trim();
    if let Some(number) = trimmed.strip_prefix(['R', 'r']) {
        let number = number.trim_start_matches(['-', ' ']);
        let is_number = number.chars().all(|c| c.is_ascii_digit() || c == '.');
        let refused = || format!("`{trimmed}` is not {expected}");
        return if is_number { parse_resistance(&format!("{number} h ft2 F/Btu")) } else { Err(refused()) };
    }
    parse(trimmed, expected, |unit| match word(unit).as_str() {
        "m2k/w" => Some(1.0),
        "hft2f/btu" => Some(HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W),
        _ => None,
    })
}

/// Reads a thermal transmittance in watts per square metre and kelvin: `0.34 W/(m2 K)`, `0.06 Btu/(h ft2 F)`, or, as the
/// trade writes the latter, `U-0.06`.
///
/// # Errors
/// What was found and what was expected, where there is no number, no unit, or an unknown one.
pub fn parse_transmittance(text: &str) -> Result<Quantity, String> {
    let expected = "a thermal transmittance, such as `U-0.06`, `0.06 Btu/(h ft2 F)` or `0.34 W/(m2 K)`";
    let trimmed = text.trim();
    if let Some(number) = trimmed.strip_prefix(['U', 'u']) {
        let number = number.trim_start_matches(['-', ' ']);
        let is_number = number.chars().all(|c| c.is_ascii_digit() || c == '.');
        let refused = || format!("`{trimmed}` is not {expected}");
        return if is_number { parse_transmittance(&format!("{number} Btu/(h ft2 F)")) } else { Err(refused()) };
    }
    parse(trimmed, expected, |unit| match word(unit).as_str() {
        "w/m2k" => Some(1.0),
        "btu/hft2f" => Some(BTU_PER_HOUR_SQUARE_FOOT_F_W_M2K),
        _ => None,
    })
}

/// A unit in one form: `Btu·in/(hr·ft²·°F)` and `Btu in/h ft2 F` are `btuin/hft2f`.
fn word(unit: &str) -> String {
    let plain: String = unit
        .chars()
        .filter(|c| !c.is_whitespace() && !matches!(c, '(' | ')' | '·' | '⋅' | '*' | '.' | '-' | '°' | '^'))
        .flat_map(char::to_lowercase)
        .map(|c| if c == '²' { '2' } else { c })
        .collect();
    plain.replace("hr", "h").replace("sqft", "ft2").replace("degf", "f").replace("inch", "in")
}

#[cfg(test)]
mod tests {
    use super::*;

    // 1 Btu(IT) in/(h ft2 F) = 1.442 279 E-01 W/(m K), 1 Btu ft/(h ft2 F) = 1.730 735 W/(m K), 1 h ft2 F/Btu =
    // 1.761 102 E-01 m2 K/W: NIST SP 811, appendix B.8.
    #[test]
    fn conductivities_and_resistances_are_read_in_both_systems() {
        for text in ["1 Btu in/(h ft2 F)", "1 Btu·in/(h·ft²·°F)", "1.0 BTU-in/hr-ft^2-F", "1 Btu*in/(hr*sq.ft*degF)"]
        {
            assert!((parse_conductivity(text).unwrap().si - 0.144_227_9).abs() < 5e-8, "{text}");
        }
        assert!((parse_conductivity("1 Btu/(h ft F)").unwrap().si - 1.730_735).abs() < 5e-7);
        assert!((parse_conductivity("0.12 W/(m K)").unwrap().si - 0.12).abs() < 1e-15);
        assert!((parse_conductivity("40 mW/mK").unwrap().si - 0.04).abs() < 1e-15);
        for text in ["R-10", "R10", "r 10", "10 h ft2 F/Btu", "10 hr·ft²·°F/Btu"] {
            assert!((parse_resistance(text).unwrap().si - 1.761_102).abs() < 5e-7, "{text}");
        }
        assert!((parse_resistance("0.18 m²K/W").unwrap().si - 0.18).abs() < 1e-15);
    }

    // 1 Btu(IT)/(h ft2 F) = 5.678 263 W/(m2 K): NIST SP 811, appendix B.8.
    #[test]
    fn transmittances_are_read_in_both_systems() {
        for text in ["U-0.1", "u0.1", "0.1 Btu/(h ft2 F)", "0.1 Btu/hr·ft²·°F"] {
            assert!((parse_transmittance(text).unwrap().si - 0.567_826_3).abs() < 1e-6, "{text}");
        }
        assert!((parse_transmittance("0.34 W/(m2 K)").unwrap().si - 0.34).abs() < 1e-12);
        assert!(parse_transmittance("0.34").is_err() && parse_transmittance("U").is_err());
    }

    #[test]
    fn a_bare_number_is_never_guessed() {
        for text in ["0.04", "", "W/(m K)", "0.04 W/m", "R-13", "-0.1 W/(m K)", "0 W/(m K)", "1e9 W/mK"] {
            assert!(parse_conductivity(text).is_err(), "{text}");
        }
        for text in ["13", "", "R", "R-", "RSI", "R-13 per inch", "0 m2 K/W", "13 W/(m K)", "Rr1", "R--"] {
            assert!(parse_resistance(text).is_err(), "{text}");
        }
        assert!(parse_conductivity("0.04").unwrap_err().contains("no unit"));
    }
}
