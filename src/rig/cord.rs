//! Cords: resistance, voltage drop and capacity by wire size.

use crate::units::FOOT_M;

/// A wire size.
struct Wire {
    awg: u8,
    /// Stranded uncoated copper at 75 °C, in thousandths of an ohm per 1000 ft.
    milliohm_per_kft: f64,
    /// Capacity of a cord with two current-carrying conductors, in amperes.
    capacity_a: f64,
}

/// Wire sizes from the thinnest.
///
/// # Source
/// Resistance: NEC chapter 9, table 8; 18 and 16 AWG from memory. Capacity: NEC table 400.5(A)(1), column B: 18 to 12 AWG
/// as an appliance standard quotes it, the others from memory.
const WIRES: [Wire; 7] = [
    Wire { awg: 18, milliohm_per_kft: 7950.0, capacity_a: 10.0 },
    Wire { awg: 16, milliohm_per_kft: 4990.0, capacity_a: 13.0 },
    Wire { awg: 14, milliohm_per_kft: 3140.0, capacity_a: 18.0 },
    Wire { awg: 12, milliohm_per_kft: 1980.0, capacity_a: 25.0 },
    Wire { awg: 10, milliohm_per_kft: 1240.0, capacity_a: 30.0 },
    Wire { awg: 8, milliohm_per_kft: 778.0, capacity_a: 40.0 },
    Wire { awg: 6, milliohm_per_kft: 491.0, capacity_a: 55.0 },
];

/// Voltage drop of a branch circuit beyond which the NEC advises a thicker wire, and that of feeder and branch together:
/// informational notes to 210.19 and 215.2, from memory, and no rules.
pub const ADVISED_DROP: f64 = 0.03;
/// The latter.
pub const MOST_DROP: f64 = 0.05;

fn wire(awg: u8) -> Option<&'static Wire> {
    WIRES.iter().find(|wire| wire.awg == awg)
}

/// Resistance of one conductor, in ohms per metre; `None` of a size that no cord has here.
pub fn resistance_ohm_per_m(awg: u8) -> Option<f64> {
    wire(awg).map(|wire| wire.milliohm_per_kft / (1e6 * FOOT_M))
}

/// Current that a cord of two current-carrying conductors carries, uncoiled, in amperes.
pub fn cord_capacity_a(awg: u8) -> Option<f64> {
    wire(awg).map(|wire| wire.capacity_a)
}

/// Voltage drop along a cord, there and back: 2 L I R.
pub fn voltage_drop_v(awg: u8, length_m: f64, current_a: f64) -> Option<f64> {
    resistance_ohm_per_m(awg).map(|ohm_per_m| 2.0 * length_m * current_a * ohm_per_m)
}

/// Length of a cord at which the drop is a share of the voltage, in metres.
pub fn length_at_drop_m(awg: u8, current_a: f64, voltage_v: f64, drop_share: f64) -> Option<f64> {
    let per_m_v = voltage_drop_v(awg, 1.0, current_a).filter(|per_m_v| *per_m_v > 0.0)?;
    Some(voltage_v * drop_share / per_m_v)
}

/// The thinnest cord that carries a current over a length within the drop that is advised.
pub fn thinnest_awg(length_m: f64, current_a: f64, voltage_v: f64) -> Option<u8> {
    let is_enough = |wire: &&Wire| {
        wire.capacity_a >= current_a
            && voltage_drop_v(wire.awg, length_m, current_a).is_some_and(|drop_v| drop_v <= voltage_v * ADVISED_DROP)
    };
    WIRES.iter().find(is_enough).map(|wire| wire.awg)
}
