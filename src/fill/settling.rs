//! The least density at which fill in a closed cavity was found not to settle.

/// Humidity of the air that a wall's fill meets.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Humidity {
    /// 50 % all the time.
    #[default]
    Steady,
    /// From 50 % to 80 % and back.
    Changing,
}

/// Thicknesses between which the tests were made, in metres.
pub const TESTED_M: (f64, f64) = (0.1, 0.3);
/// What a thickness may be beyond them and still be compared, in metres: dressed 2x4 and 2x12 are.
const NEAR_TESTED_M: f64 = 0.015;

/// Least density of cellulose that did not settle in a wall 1 m wide lined with gypsum board, in kg/m3, by thickness;
/// `None` where no test is near.
///
/// # Source
/// Rasmussen, "Settling of loose-fill insulation materials in walls" (Danish Building Research Institute): 48 kg/m3 at
/// 0.1 m and 53 at 0.3 m at 50 % relative humidity, 63 at 0.3 m where it changes from 50 to 80 %. Between them a
/// straight line is ours, and so is the same step of 10 at every thickness.
pub fn least_density_kg_m3(thickness_m: f64, humidity: Humidity) -> Option<f64> {
    let (thin_m, thick_m) = TESTED_M;
    if !(thin_m - NEAR_TESTED_M..=thick_m + NEAR_TESTED_M).contains(&thickness_m) {
        return None;
    }
    let steady_kg_m3 = 45.5 + 25.0 * thickness_m.clamp(thin_m, thick_m);
    Some(match humidity {
        Humidity::Steady => steady_kg_m3,
        Humidity::Changing => steady_kg_m3 + 10.0,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_tested_walls_come_back() {
        let least = |thickness_m: f64, humidity| least_density_kg_m3(thickness_m, humidity).unwrap();
        assert!((least(0.1, Humidity::Steady) - 48.0).abs() < 1e-12);
        assert!((least(0.3, Humidity::Steady) - 53.0).abs() < 1e-12);
        assert!((least(0.3, Humidity::Changing) - 63.0).abs() < 1e-12);
    }

    #[test]
    fn nothing_is_said_far_from_the_tests() {
        assert_eq!(least_density_kg_m3(0.05, Humidity::Steady), None);
        assert_eq!(least_density_kg_m3(0.4, Humidity::Steady), None);
        assert!(least_density_kg_m3(0.0889, Humidity::Steady).is_some());
    }
}
