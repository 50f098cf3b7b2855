//! Units: exact constants, lengths as people write them, and numbers as people read them.
//!
//! Everything inside the program is SI in f64; conversion happens here and at the edges only.
//! Invariant: knows nothing of buildings.

mod area_text;
pub mod display;
mod label_text;
mod length_text;
mod pitch_text;
mod quantity_text;
mod text;

pub use area_text::{AreaUnit, parse_area};
pub use display::UnitSystem;
pub use label_text::{K_US_W_MK, R_US_M2K_W, parse_conductivity, parse_mass_per_area, parse_percent, parse_resistance};
pub use length_text::{LengthUnit, parse_length};
pub use pitch_text::{PitchUnit, parse_pitch};
pub use quantity_text::{Quantity, parse_density, parse_mass};
pub use text::TextError;

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
/// Joules in a British thermal unit (International Table), exact (NIST SP 811 app. B.8).
pub const BRITISH_THERMAL_UNIT_J: f64 = 1_055.055_852_62;
/// Kelvins in a difference of one degree Fahrenheit.
pub const KELVIN_PER_FAHRENHEIT: f64 = 5.0 / 9.0;
/// Seconds in an hour.
pub const HOUR_S: f64 = 3_600.0;
/// Kilograms per square metre in a pound per square foot, exact.
pub const POUND_PER_SQUARE_FOOT_KG_M2: f64 = POUND_KG / SQUARE_FOOT_M2;
