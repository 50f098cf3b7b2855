//! Friction of a straight pipe: Reynolds number, friction factor, loss of pressure.

/// Reynolds number up to which a flow is laminar.
const LAMINAR: f64 = 2300.0;
/// Most steps of Newton's method; from its start it takes about four.
const MOST_STEPS: usize = 50;

/// Reynolds number of a flow.
pub fn reynolds_number(density_kg_m3: f64, speed_m_s: f64, diameter_m: f64, viscosity_pa_s: f64) -> f64 {
    density_kg_m3 * speed_m_s * diameter_m / viscosity_pa_s
}

/// Darcy friction factor: 64 / Re where the flow is laminar, else that of Colebrook.
///
/// `roughness_ratio` is the roughness by the diameter; nought is smooth. Between laminar flow and a Reynolds number of
/// 4000 the factor is not well known; Colebrook's is the greater one.
///
/// # Source
/// Colebrook, Journal of the Institution of Civil Engineers 11 (1939): 1/sqrt(f) = -2 log10(e/3.7 + 2.51/(Re sqrt(f))),
/// the turbulent part of the Moody chart. It is solved by Newton's method, from the explicit formula of Haaland (1983).
pub fn friction_factor(reynolds_number: f64, roughness_ratio: f64) -> f64 {
    if reynolds_number <= 0.0 {
        return 0.0;
    }
    if reynolds_number < LAMINAR {
        return 64.0 / reynolds_number;
    }
    let (rough, smooth) = (roughness_ratio / 3.7, 2.51 / reynolds_number);
    let mut x = -1.8 * (rough.powf(1.11) + 6.9 / reynolds_number).log10();
    for _ in 0..MOST_STEPS {
        let inner = rough + smooth * x;
        let step = (x + 2.0 * inner.log10()) / (1.0 + 2.0 * smooth / (std::f64::consts::LN_10 * inner));
        x -= step;
        if step.abs() <= 1e-14 * x.abs() {
            break;
        }
    }
    1.0 / (x * x)
}

/// Loss of pressure along a straight pipe, by Darcy and Weisbach.
pub fn darcy_weisbach_pa(
    friction_factor: f64,
    length_m: f64,
    diameter_m: f64,
    density_kg_m3: f64,
    speed_m_s: f64,
) -> f64 {
    friction_factor * length_m / diameter_m * velocity_pressure_pa(density_kg_m3, speed_m_s)
}

/// Pressure that a flow would have if it were stopped.
pub(super) fn velocity_pressure_pa(density_kg_m3: f64, speed_m_s: f64) -> f64 {
    density_kg_m3 * speed_m_s * speed_m_s / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    proptest::proptest! {
        #[test]
        fn the_factor_solves_the_equation(exponent in 3.4_f64..8.0, roughness in 0.0_f64..0.05) {
            let reynolds = 10.0_f64.powf(exponent);
            let x = 1.0 / friction_factor(reynolds, roughness).sqrt();
            let right = -2.0 * (roughness / 3.7 + 2.51 / reynolds * x).log10();
            proptest::prop_assert!((x - right).abs() < 1e-11 * x);
        }
    }

    #[test]
    fn still_air_and_slow_air_have_their_own_factors() {
        assert!(friction_factor(0.0, 0.0).abs() < 1e-15);
        assert!((friction_factor(1000.0, 0.01) - 0.064).abs() < 1e-15);
    }
}
