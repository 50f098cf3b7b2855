//! Pressures, flows of air, volumes and temperatures as people write them: `80 in. w.c.`, `2.9 psi`, `100 ft3/min`.

use super::quantity_text::{Quantity, parse};
use super::{CUBIC_FOOT_M3, INCH_WATER_4C_PA, INCH_WATER_60F_PA, POUND_KG, PSI_PA};

/// Reads a pressure in pascals. An inch of water is that at 4 °C unless the text says `at 60 F`.
///
/// # Errors
/// What was found and what was expected.
pub fn parse_pressure(text: &str) -> Result<Quantity, String> {
    let expected = "a pressure with its unit, such as `2.9 psi`, `80 in. w.c.`, `80 in. w.c. at 60 F`, `20 kPa` or \
                    `200 mbar`";
    parse(text, expected, |unit| match plain(unit).as_str() {
        "psi" | "psig" | "lb/in2" => Some(PSI_PA),
        "inwc" | "inwg" | "inh2o" | "iwc" | "inwcat4c" | "inwgat4c" | "inh2oat4c" => Some(INCH_WATER_4C_PA),
        "inwcat60f" | "inwgat60f" | "inh2oat60f" => Some(INCH_WATER_60F_PA),
        "kpa" => Some(1000.0),
        "pa" => Some(1.0),
        "mbar" | "hpa" => Some(100.0),
        "bar" => Some(100_000.0),
        _ => None,
    })
}

/// Reads a flow of air in cubic metres per second.
///
/// # Errors
/// What was found and what was expected.
pub fn parse_air_flow(text: &str) -> Result<Quantity, String> {
    parse(text, "a flow of air with its unit, such as `100 ft3/min` or `170 m3/h`", |unit| match plain(unit).as_str() {
        "ft3/min" | "cfm" => Some(CUBIC_FOOT_M3 / 60.0),
        "m3/h" => Some(1.0 / 3600.0),
        "m3/s" => Some(1.0),
        "l/s" => Some(0.001),
        _ => None,
    })
}

/// Reads a volume in cubic metres.
///
/// # Errors
/// What was found and what was expected.
pub fn parse_volume(text: &str) -> Result<Quantity, String> {
    parse(text, "a volume with its unit, such as `2.6 ft3` or `0.07 m3`", |unit| match plain(unit).as_str() {
        "ft3" | "cuft" => Some(CUBIC_FOOT_M3),
        "m3" => Some(1.0),
        "l" | "litre" | "litres" | "liter" | "liters" => Some(0.001),
        _ => None,
    })
}

/// Reads a mass flow, `1000 lb/h` or `450 kg/h`, in kilograms per second.
///
/// # Errors
/// What was found and what was expected.
pub fn parse_mass_flow(text: &str) -> Result<Quantity, String> {
    parse(text, "a mass an hour, such as `1000 lb/h` or `450 kg/h`", |unit| match plain(unit).as_str() {
        "lb/h" | "lb/hour" | "lbs/h" => Some(POUND_KG / 3600.0),
        "kg/h" | "kg/hour" => Some(1.0 / 3600.0),
        "lb/min" => Some(POUND_KG / 60.0),
        "kg/min" => Some(1.0 / 60.0),
        _ => None,
    })
}

/// Reads a temperature of outdoor air in kelvins: `68 F` or `20 C`, from -40 to 60 °C.
///
/// # Errors
/// What was found and what was expected.
pub fn parse_temperature(text: &str) -> Result<Quantity, String> {
    let wrong = || format!("`{}` is not a temperature of air: expected `68 F` or `20 C`", text.trim());
    let letters = text.trim().find(|c: char| !c.is_ascii_digit() && !matches!(c, '.' | '-')).ok_or_else(wrong)?;
    let (number, unit) = text.trim().split_at(letters);
    let value: f64 = number.parse().map_err(|_| wrong())?;
    let kelvin = match plain(unit).as_str() {
        "f" => (value - 32.0) / 1.8 + 273.15,
        "c" => value + 273.15,
        _ => return Err(wrong()),
    };
    if !(233.15..=333.15).contains(&kelvin) {
        return Err(wrong());
    }
    Ok(Quantity { number: number.to_owned(), unit: unit.trim().to_owned(), si: kelvin })
}

/// A unit in lower case, without what people write between its parts.
pub(super) fn plain(unit: &str) -> String {
    let lower = unit.to_lowercase().replace('³', "3").replace('²', "2").replace("inches", "in").replace("inch", "in");
    let lower = lower.replace('"', "in").replace("water column", "wc").replace("water", "wc").replace("of wc", "wc");
    lower.chars().filter(|c| !matches!(c, ' ' | '(' | ')' | '.' | '^' | '°' | ',')).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    // 1 psi = 6 894.757 Pa, 1 in. of water = 249.088 9 Pa (conventional) and 248.84 Pa (60 F): NIST SP 811, appendix B.8.
    #[test]
    fn pressures_are_read_in_the_units_of_gauges() {
        let of = |text: &str| parse_pressure(text).unwrap().si;
        assert!((of("1 psi") - 6_894.757).abs() < 1e-3);
        assert!((of("1 in. w.c.") - 249.088_9).abs() < 1e-4);
        assert!((of("1 in. w.c. at 60 F") - 248.84).abs() < 1e-2);
        assert!((of("1 in. w.c. (at 4 °C)") - of("1 inH2O")).abs() < 1e-9);
        assert!((of("20 kPa") - of("200 mbar")).abs() < 1e-9);
        for text in ["80", "80 in", "-2 psi", "0 psi", "2 psi gauge wrong", "80 in. w.c. at 20 C"] {
            assert!(parse_pressure(text).is_err(), "{text}");
        }
    }

    #[test]
    fn flows_volumes_and_temperatures_are_read() {
        assert!((parse_air_flow("100 ft3/min").unwrap().si - 0.047_194_745).abs() < 1e-9);
        assert!((parse_air_flow("100 cfm").unwrap().si - parse_air_flow("100 ft³/min").unwrap().si).abs() < 1e-15);
        assert!((parse_volume("1 cu ft").unwrap().si - CUBIC_FOOT_M3).abs() < 1e-15);
        assert!((parse_mass_flow("1000 lb/h").unwrap().si - 0.125_997_9).abs() < 1e-7);
        assert!((parse_temperature("68 F").unwrap().si - 293.15).abs() < 1e-9);
        assert!((parse_temperature("-5 °C").unwrap().si - 268.15).abs() < 1e-9);
        for text in ["68", "500 F", "F", "", "1.2.3 F", "--1 F"] {
            assert!(parse_temperature(text).is_err(), "{text}");
        }
    }
}
