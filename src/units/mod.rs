//! Units: exact constants, lengths as people write them, and numbers as people read them.
//!
//! Everything inside the program is SI in f64; conversion happens here and at the edges only.
//! Invariant: knows nothing of buildings.

mod area_text;
pub mod display;
pub mod display_flow;
mod electric_text;
mod heat_text;
mod label_text;
mod length_text;
mod number_text;
mod pitch_text;
mod pressure_text;
mod quantity_text;
mod restate;
mod text;
mod written;

pub use area_text::{AreaUnit, parse_area};
pub use display::UnitSystem;
pub use electric_text::{parse_current, parse_power, parse_voltage, parse_wire_gauge};
pub use heat_text::{parse_conductivity, parse_resistance, parse_transmittance};
pub use label_text::{parse_mass_per_area, parse_percent};
pub use length_text::{LengthUnit, parse_length};
pub use number_text::{parse_number, parse_share};
pub use pitch_text::{PitchUnit, parse_pitch};
pub use pressure_text::{parse_air_flow, parse_mass_flow, parse_pressure, parse_temperature, parse_volume};
pub use quantity_text::{Quantity, parse_density, parse_mass};
pub use restate::restate;
pub use text::TextError;
pub use written::Written;

/// Metres in a foot, exact (international foot, NIST SP 811 app. B.8).
pub const FOOT_M: f64 = 0.3048;
/// Metres in an inch, exact.
pub const INCH_M: f64 = 0.0254;
/// Kilograms in a pound, exact (avoirdupois pound, NIST SP 811 app. B.8).
pub const POUND_KG: f64 = 0.453_592_37;
/// Square metres in a square foot, exact.
pub const SQUARE_FOOT_M2: f64 = FOOT_M * FOOT_M;
/// Cubic metres in a cubic foot, exact.
pub const CUBIC_FOOT_M3: f64 = FOOT_M * FOOT_M * FOOT_M;
/// Kilograms per cubic metre in a pound per cubic foot, exact.
pub const POUND_PER_CUBIC_FOOT_KG_M3: f64 = POUND_KG / CUBIC_FOOT_M3;
/// Kilograms per square metre in a pound per square foot, exact.
pub const POUND_PER_SQUARE_FOOT_KG_M2: f64 = POUND_KG / SQUARE_FOOT_M2;
/// Joules in a British thermal unit (International Table), NIST SP 811 app. B.8.
const BTU_J: f64 = 1_055.055_852_62;
/// Kelvins in a degree Fahrenheit, exact.
const FAHRENHEIT_K: f64 = 5.0 / 9.0;
/// Watts per square metre and kelvin in a Btu/(h ft2 F); `5.678 263` in NIST SP 811 app. B.8.
pub const BTU_PER_HOUR_SQUARE_FOOT_F_W_M2K: f64 = BTU_J / (3600.0 * SQUARE_FOOT_M2 * FAHRENHEIT_K);
/// Square metres and kelvins per watt in an h ft2 F/Btu; `1.761 102 E-01` in NIST SP 811 app. B.8.
pub const HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W: f64 = 1.0 / BTU_PER_HOUR_SQUARE_FOOT_F_W_M2K;
/// Watts per metre and kelvin in a Btu in/(h ft2 F); `1.442 279 E-01` in NIST SP 811 app. B.8.
pub const BTU_INCH_PER_HOUR_SQUARE_FOOT_F_W_MK: f64 = BTU_PER_HOUR_SQUARE_FOOT_F_W_M2K * INCH_M;
/// Pascals in a pound-force per square inch; `6.894 757 E+03` in NIST SP 811 app. B.8.
pub const PSI_PA: f64 = POUND_KG * 9.806_65 / (INCH_M * INCH_M);
/// Pascals in an inch of water, conventional, water at 4 °C; `2.490 889 E+02` in NIST SP 811 app. B.8.
pub const INCH_WATER_4C_PA: f64 = 249.088_91;
/// Pascals in an inch of water at 60 F; `2.4884 E+02` in NIST SP 811 app. B.8.
pub const INCH_WATER_60F_PA: f64 = 248.84;
