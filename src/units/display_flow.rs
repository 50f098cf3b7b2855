//! Pressures, flows, rates and electric quantities as people read them.

use super::display::grouped;
use super::{CUBIC_FOOT_M3, FOOT_M, INCH_WATER_4C_PA, POUND_KG, PSI_PA, UnitSystem};

impl UnitSystem {
    /// A pressure: `80.0 in. w.c. (2.89 psi)`, water at 4 °C, or `19.93 kPa (199 mbar)`.
    pub fn show_pressure(self, pressure_pa: f64) -> String {
        match self {
            Self::Us => {
                format!(
                    "{} in. w.c. ({} psi)",
                    grouped(pressure_pa / INCH_WATER_4C_PA, 1),
                    grouped(pressure_pa / PSI_PA, 2)
                )
            }
            Self::Si => format!("{} kPa ({} mbar)", grouped(pressure_pa / 1000.0, 2), grouped(pressure_pa / 100.0, 0)),
        }
    }

    /// A small pressure, such as what friction takes: `7.6 in. w.c.`, `1,899 Pa`.
    pub fn show_loss(self, pressure_pa: f64) -> String {
        match self {
            Self::Us => format!("{} in. w.c.", grouped(pressure_pa / INCH_WATER_4C_PA, 1)),
            Self::Si => format!("{} Pa", grouped(pressure_pa, 0)),
        }
    }

    /// A range of small pressures: `6.7 to 11.6 in. w.c.`.
    pub fn show_loss_range(self, least_pa: f64, most_pa: f64) -> String {
        let (least, most) = (self.show_loss(least_pa), self.show_loss(most_pa));
        if least == most {
            return most;
        }
        let number = least.split(' ').next().unwrap_or_default();
        format!("{number} to {most}")
    }

    /// A flow of air: `100 ft3/min`, `170 m3/h`.
    pub fn show_air_flow(self, flow_m3_s: f64) -> String {
        match self {
            Self::Us => format!("{} ft3/min", grouped(flow_m3_s * 60.0 / CUBIC_FOOT_M3, 0)),
            Self::Si => format!("{} m3/h", grouped(flow_m3_s * 3600.0, 0)),
        }
    }

    /// A speed: `48.9 ft/s`, `14.90 m/s`.
    pub fn show_speed(self, speed_m_s: f64) -> String {
        match self {
            Self::Us => format!("{} ft/s", grouped(speed_m_s / FOOT_M, 1)),
            Self::Si => format!("{} m/s", grouped(speed_m_s, 2)),
        }
    }

    /// A mass an hour: `450 lb/h`, `204 kg/h`.
    pub fn show_rate(self, kg_per_h: f64) -> String {
        match self {
            Self::Us => format!("{} lb/h", grouped(kg_per_h / POUND_KG, 0)),
            Self::Si => format!("{} kg/h", grouped(kg_per_h, 0)),
        }
    }

    /// A length on the ground, such as a hose: `150 ft`, `45.7 m`.
    pub fn show_distance(self, length_m: f64) -> String {
        match self {
            Self::Us => format!("{} ft", grouped(length_m / FOOT_M, 0)),
            Self::Si => format!("{} m", grouped(length_m, 1)),
        }
    }

    /// A mass that is weighed: `6.7 lb`, `3.04 kg`.
    pub fn show_weighed(self, mass_kg: f64) -> String {
        match self {
            Self::Us => format!("{} lb", grouped(mass_kg / POUND_KG, 1)),
            Self::Si => format!("{} kg", grouped(mass_kg, 2)),
        }
    }

    /// A density that is measured: `3.50 lb/ft3`, `56.1 kg/m3`.
    pub fn show_measured_density(self, density_kg_m3: f64) -> String {
        let decimals = if self == Self::Us { 2 } else { 1 };
        format!("{} {}", grouped(self.density(density_kg_m3), decimals), self.density_symbol())
    }
}

/// A current: `18.3 A`.
pub fn amperes(current_a: f64) -> String {
    format!("{} A", trimmed(current_a, 1))
}

/// A voltage: `110.5 V`.
pub fn volts(voltage_v: f64) -> String {
    format!("{} V", trimmed(voltage_v, 1))
}

/// A power: `6.5 kW`.
pub fn kilowatts(power_w: f64) -> String {
    format!("{} kW", grouped(power_w / 1000.0, 1))
}

/// Hours: `6.5 h`.
pub fn hours(time_h: f64) -> String {
    format!("{} h", grouped(time_h, 1))
}

/// A share of a whole: `7.9 %`.
pub fn percent(share: f64) -> String {
    format!("{} %", grouped(share * 100.0, 1))
}

/// A number with so many decimals at most, noughts at its end left out.
pub fn trimmed(value: f64, decimals: usize) -> String {
    let text = grouped(value, decimals);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    // 80 in. w.c. is 2.890 psi, and 19,927 Pa: the pair of the US Standard Work Specifications, 4.1101.5.
    #[test]
    fn pressures_are_shown_as_gauges_have_them() {
        assert_eq!(UnitSystem::Us.show_pressure(19_927.1), "80.0 in. w.c. (2.89 psi)");
        assert_eq!(UnitSystem::Si.show_pressure(19_927.1), "19.93 kPa (199 mbar)");
        assert_eq!(UnitSystem::Us.show_loss(1899.0), "7.6 in. w.c.");
        assert_eq!((amperes(20.0), amperes(18.3), volts(110.496)), ("20 A".into(), "18.3 A".into(), "110.5 V".into()));
        assert_eq!((trimmed(0.0, 1), trimmed(1200.0, 0)), ("0".into(), "1,200".into()));
    }
}
