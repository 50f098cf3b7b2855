//! Air at a height above the sea: pressure, density and viscosity.

/// Pressure at sea level, in pascals.
const SEA_LEVEL_PA: f64 = 101_325.0;
/// Temperature at sea level, in kelvins, and what it falls by a metre of height.
const SEA_LEVEL_K: f64 = 288.15;
const LAPSE_K_PER_M: f64 = 0.0065;
/// Standard gravity, in metres per second squared.
pub(super) const GRAVITY_M_S2: f64 = 9.806_65;
/// Gas constant of dry air, in joules per kilogram and kelvin: 8314.32 / 28.9644.
const AIR_J_KGK: f64 = 8_314.32 / 28.964_4;
/// Radius of the earth that turns a height into a geopotential one, in metres.
const EARTH_M: f64 = 6_356_766.0;

/// Pressure of the standard atmosphere at a height above the sea, up to 11 km.
///
/// # Source
/// U.S. Standard Atmosphere, 1976, part 1, equations 18 and 33a.
pub fn standard_pressure_pa(altitude_m: f64) -> f64 {
    let geopotential_m = EARTH_M * altitude_m / (EARTH_M + altitude_m);
    let ratio = 1.0 - LAPSE_K_PER_M * geopotential_m / SEA_LEVEL_K;
    SEA_LEVEL_PA * ratio.powf(GRAVITY_M_S2 / (AIR_J_KGK * LAPSE_K_PER_M))
}

/// Density of dry air, by the law of ideal gases.
pub fn air_density_kg_m3(pressure_pa: f64, temperature_k: f64) -> f64 {
    pressure_pa / (AIR_J_KGK * temperature_k)
}

/// Dynamic viscosity of air, by Sutherland's formula.
///
/// # Source
/// U.S. Standard Atmosphere, 1976, equation 51.
pub fn air_viscosity_pa_s(temperature_k: f64) -> f64 {
    1.458e-6 * temperature_k.powf(1.5) / (temperature_k + 110.4)
}

#[cfg(test)]
mod tests {
    use super::*;

    // U.S. Standard Atmosphere, 1976, table I, geometric height: 1000 m 8.9876 E+4 Pa, 3000 m 7.0121 E+4 Pa.
    #[test]
    fn pressure_is_that_of_the_table() {
        for (altitude_m, pressure_pa) in [(0.0, 101_325.0), (1000.0, 89_876.0), (3000.0, 70_121.0)] {
            assert!((standard_pressure_pa(altitude_m) - pressure_pa).abs() < 1.0, "{altitude_m}");
        }
    }

    // 1.225 0 kg/m3 and 1.789 4 E-5 Pa s at sea level: the same, table I.
    #[test]
    fn density_and_viscosity_are_those_at_sea_level() {
        assert!((air_density_kg_m3(SEA_LEVEL_PA, SEA_LEVEL_K) - 1.225).abs() < 1e-4);
        assert!((air_viscosity_pa_s(SEA_LEVEL_K) - 1.7894e-5).abs() < 1e-9);
    }
}
