//! A value with its unit, stated in the units that people asked for.

use super::display::grouped;
use super::{
    BTU_INCH_PER_HOUR_SQUARE_FOOT_F_W_MK, HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W, LengthUnit, POUND_KG,
    POUND_PER_CUBIC_FOOT_KG_M3, UnitSystem, parse_length,
};

const CONDUCTIVITY_US: &str = "Btu in/(h ft2 F)";
const CONDUCTIVITY_SI: &str = "W/(m K)";
const RESISTANCE_US: &str = "h ft2 F/Btu";
const RESISTANCE_SI: &str = "m2 K/W";

/// A value in these units, with its unit: `235 mm` of `9.25` and `in`. What is in them already, what is no number and what
/// has another unit stays as it is, but for digits that nobody needs.
pub fn restate(value: &str, unit: &str, units: UnitSystem) -> String {
    restated(value, unit, units).unwrap_or_else(|| {
        let value = short(value);
        if unit.is_empty() { value } else { format!("{value} {unit}") }
    })
}

fn restated(value: &str, unit: &str, units: UnitSystem) -> Option<String> {
    let number = || value.trim().parse::<f64>().ok();
    let length_m = |unit| parse_length(value, Some(unit), false).ok();
    match (unit, units) {
        ("in", UnitSystem::Si) => length_m(LengthUnit::Inch).map(millimetres),
        ("ft", UnitSystem::Si) => length_m(LengthUnit::Foot).map(|length_m| units.show_length(length_m)),
        ("lb", UnitSystem::Si) => number().map(|pounds| units.show_mass(pounds * POUND_KG)),
        ("lb/ft3", UnitSystem::Si) => number().map(|density| units.show_density(density * POUND_PER_CUBIC_FOOT_KG_M3)),
        (CONDUCTIVITY_US | CONDUCTIVITY_SI, _) => {
            let per_si = BTU_INCH_PER_HOUR_SQUARE_FOOT_F_W_MK;
            let si = number()? * if unit == CONDUCTIVITY_US { per_si } else { 1.0 };
            Some(match units {
                UnitSystem::Us => format!("{} {CONDUCTIVITY_US}", trimmed(si / per_si, 3)),
                UnitSystem::Si => format!("{} {CONDUCTIVITY_SI}", trimmed(si, 4)),
            })
        }
        (RESISTANCE_US | RESISTANCE_SI, _) => {
            let si = number()? * if unit == RESISTANCE_US { HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W } else { 1.0 };
            Some(match units {
                UnitSystem::Us => format!("{} {RESISTANCE_US}", trimmed(units.resistance(si), 2)),
                UnitSystem::Si => format!("{} {RESISTANCE_SI}", trimmed(si, 3)),
            })
        }
        _ => None,
    }
}

fn millimetres(length_m: f64) -> String {
    let decimals = match length_m {
        thin if thin < 0.01 => 2,
        small if small < 0.1 => 1,
        _ => 0,
    };
    format!("{} mm", trimmed(length_m * 1000.0, decimals))
}

/// A number with so many decimals at most.
fn trimmed(value: f64, decimals: usize) -> String {
    let text = grouped(value, decimals);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// A number of many decimals to the sixth of them.
fn short(value: &str) -> String {
    const DECIMALS: usize = 6;
    let is_long = value.split_once('.').is_some_and(|(_, decimals)| decimals.len() > DECIMALS);
    value.trim().parse::<f64>().ok().filter(|_| is_long).map_or_else(|| value.to_owned(), |one| trimmed(one, DECIMALS))
}

#[cfg(test)]
mod tests {
    use super::*;

    // Exact: 1 in = 25.4 mm, 1 ft = 0.3048 m, 1 lb = 0.45359237 kg. Conductivity and resistance by the International Table Btu:
    // 1 Btu in/(h ft2 F) = 0.144228 W/(m K), 1 h ft2 F/Btu = 0.176110 m2 K/W (NIST SP 811, appendix B.8).
    #[test]
    fn values_are_stated_in_the_units_asked_for() {
        let si = |value, unit| restate(value, unit, UnitSystem::Si);
        assert_eq!(si("9.25", "in"), "235 mm");
        assert_eq!(si("82 1/2", "in"), "2,096 mm");
        assert_eq!(si("0.0451", "in"), "1.15 mm");
        assert_eq!(si("1.5", "in"), "38.1 mm");
        assert_eq!(si("8", "ft"), "2.438 m");
        assert_eq!(si("3.5", "lb/ft3"), "56 kg/m3");
        assert_eq!(si("0.28", "Btu in/(h ft2 F)"), "0.0404 W/(m K)");
        assert_eq!(si("0.68", "h ft2 F/Btu"), "0.12 m2 K/W");
        assert_eq!(restate("0.0390", "W/(m K)", UnitSystem::Us), "0.27 Btu in/(h ft2 F)");
        assert_eq!(restate("0.109", "m2 K/W", UnitSystem::Us), "0.62 h ft2 F/Btu");
    }

    #[test]
    fn all_else_stays_as_it_is() {
        assert_eq!(restate("9.25", "in", UnitSystem::Us), "9.25 in");
        assert_eq!(restate("studs", "", UnitSystem::Si), "studs");
        assert_eq!(restate("90", "%", UnitSystem::Si), "90 %");
        assert_eq!(restate("odd", "in", UnitSystem::Si), "odd in");
        assert_eq!(restate("0.1928473039599675", "", UnitSystem::Us), "0.192847");
    }
}
