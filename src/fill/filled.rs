//! Bays with what goes into them.

use crate::bays::Bay;

/// What goes into one bay.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FilledBay {
    /// Area times depth less what framing displaces in the bay, in cubic metres.
    pub volume_m3: f64,
    /// Volume times density, in kilograms.
    pub mass_kg: f64,
}

/// What goes into the bays of one surface; `bays` stands in the order of the bays.
#[derive(Clone, Debug, PartialEq)]
pub struct Filled {
    /// Depth, in metres.
    pub depth_m: f64,
    /// Installed density, in kilograms per cubic metre.
    pub density_kg_m3: f64,
    /// One entry a bay.
    pub bays: Vec<FilledBay>,
    /// Sum of the volumes, in cubic metres.
    pub volume_m3: f64,
    /// Sum of the masses, in kilograms.
    pub mass_kg: f64,
}

/// Fills bays of one depth at a density: volume = area x depth less what is displaced and what stays empty, mass =
/// volume x density. Of fill that lies open on a ceiling both are the settled ones.
pub fn fill_bays(bays: &[Bay], depth_m: f64, density_kg_m3: f64) -> Filled {
    let filled: Vec<FilledBay> = bays
        .iter()
        .map(|bay| {
            let volume_m3 = bay.room_m3(depth_m);
            FilledBay { volume_m3, mass_kg: volume_m3 * density_kg_m3 }
        })
        .collect();
    Filled {
        depth_m,
        density_kg_m3,
        volume_m3: filled.iter().fold(0.0, |sum_m3, bay| sum_m3 + bay.volume_m3),
        mass_kg: filled.iter().fold(0.0, |sum_kg, bay| sum_kg + bay.mass_kg),
        bays: filled,
    }
}
