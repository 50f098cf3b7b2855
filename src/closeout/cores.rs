//! Cores and readings of a zone.

use super::contract::{CoreSample, CoresTaken, Readings};
use crate::intake::log::{Entry, What};
use crate::order::student_t;
use std::f64::consts::PI;

/// Density of a core: its mass over the cylinder that the cutter takes.
pub(super) fn core_density_kg_m3(diameter_m: f64, depth_m: f64, mass_kg: f64) -> f64 {
    mass_kg / (PI / 4.0 * diameter_m * diameter_m * depth_m)
}

/// Mean and standard deviation; the latter needs two.
pub(super) fn mean_and_spread(values: &[f64]) -> Option<(f64, Option<f64>)> {
    let count = f64::from(u32::try_from(values.len()).ok()?);
    if values.is_empty() {
        return None;
    }
    let mean = values.iter().sum::<f64>() / count;
    let squares: f64 = values.iter().map(|value| (value - mean).powi(2)).sum();
    Some((mean, (values.len() > 1).then(|| (squares / (count - 1.0)).sqrt())))
}

/// The cores of a zone, against what was promised; `None` where there are none.
pub(super) fn cores(entries: &[&Entry], promised_kg_m3: f64, confidence_share: f64) -> Option<CoresTaken> {
    let sample = |entry: &&Entry| match entry.what {
        What::Core { diameter_m, depth_m, mass_kg } => Some(CoreSample {
            r#where: entry.place.to_string(),
            density_kg_m3: core_density_kg_m3(diameter_m, depth_m, mass_kg),
        }),
        _ => None,
    };
    let samples: Vec<CoreSample> = entries.iter().filter_map(sample).collect();
    let densities: Vec<f64> = samples.iter().map(|sample| sample.density_kg_m3).collect();
    let (mean, spread) = mean_and_spread(&densities)?;
    let count = u32::try_from(densities.len()).ok()?;
    let half =
        spread.and_then(|spread| Some(student_t(confidence_share, count - 1)? * spread / f64::from(count).sqrt()));
    let is_below = |sample: &&CoreSample| sample.density_kg_m3 < promised_kg_m3;
    Some(CoresTaken {
        mean_kg_m3: mean,
        spread_kg_m3: spread,
        least_kg_m3: half.map(|half| (mean - half).max(0.0)),
        most_kg_m3: half.map(|half| mean + half),
        below: samples.iter().filter(is_below).map(|sample| sample.r#where.clone()).collect(),
        samples,
    })
}

/// The depth readings of a zone; `None` where there are none.
pub(super) fn readings(entries: &[&Entry], promised_m: Option<f64>, tolerance_m: f64) -> Option<Readings> {
    let all: Vec<(String, f64)> = entries
        .iter()
        .filter_map(|entry| match entry.what {
            What::Depth { depth_m } => Some((entry.place.to_string(), depth_m)),
            _ => None,
        })
        .collect();
    let depths: Vec<f64> = all.iter().map(|(_, depth_m)| *depth_m).collect();
    let (mean_m, _) = mean_and_spread(&depths)?;
    let is_below = |(_, depth_m): &&(String, f64)| promised_m.is_some_and(|due_m| *depth_m < due_m - tolerance_m);
    Some(Readings {
        count: u32::try_from(depths.len()).unwrap_or(u32::MAX),
        mean_m,
        least_m: depths.iter().copied().fold(f64::INFINITY, f64::min),
        promised_m,
        below: all.iter().filter(is_below).map(|(place, _)| place.clone()).collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{INCH_M, POUND_PER_CUBIC_FOOT_KG_M3};

    // A core of 2 in. through 3.5 in. at 3.5 lb/ft3 is 10.996 in3 and 10.10 g; of 12.0 g it is at 4.158 lb/ft3. One of 3 in. through
    // 5.5 in. is 38.877 in3 and 35.72 g. Geometry, computed by hand.
    #[test]
    fn a_core_is_a_cylinder() {
        let density = |diameter: f64, depth: f64, grams: f64| {
            core_density_kg_m3(diameter * INCH_M, depth * INCH_M, grams / 1000.0) / POUND_PER_CUBIC_FOOT_KG_M3
        };
        assert!((density(2.0, 3.5, 10.10) - 3.5).abs() < 0.002);
        assert!((density(2.0, 3.5, 12.0) - 4.158).abs() < 0.001);
        assert!((density(3.0, 5.5, 35.72) - 3.5).abs() < 0.001);
    }

    #[test]
    fn one_value_has_no_spread() {
        assert_eq!(mean_and_spread(&[]), None);
        assert_eq!(mean_and_spread(&[3.0]), Some((3.0, None)));
        let (mean, spread) = mean_and_spread(&[2.0, 4.0, 6.0]).unwrap();
        assert!((mean - 4.0).abs() < 1e-12 && (spread.unwrap() - 2.0).abs() < 1e-12);
    }
}
