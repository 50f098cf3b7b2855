//! Cores and readings of a zone.

use super::contract_seen::{CoreSample, CoresTaken, Readings};
use super::sure::{CORE_SCALE_KG, CUTTER_M};
use crate::intake::log::{Entry, What};
use crate::job::Tolerances;
use crate::order::{combined, range_of, samples_needed, student_t};
use std::f64::consts::PI;

/// Spread of cores that is reckoned with before two are cut: twice what samples of ASTM C687 differ by.
const SPREAD_SHARE: f64 = 0.10;
/// Tolerances are two standard deviations.
const DEVIATIONS: f64 = 2.0;

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

/// A core that was cut.
#[derive(Clone, Copy, Debug)]
struct Cut {
    diameter_m: f64,
    depth_m: f64,
    mass_kg: f64,
}

/// How far cores may be off, one standard deviation as a share.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Off {
    /// Each by itself: scale and depth, and that no two samples of a fill are alike.
    each: f64,
    /// All of them alike: the cutter.
    alike: f64,
}

/// The cores of a zone, against what was promised there, of open-blown fill as blown; `None` where there are none.
pub(super) fn cores(entries: &[&Entry], promised_kg_m3: Option<f64>, tolerances: &Tolerances) -> Option<CoresTaken> {
    let cut = |entry: &&Entry| match entry.what {
        What::Core { diameter_m, depth_m, mass_kg } => {
            Some((entry.place.to_string(), Cut { diameter_m, depth_m, mass_kg }))
        }
        _ => None,
    };
    let (places, cuts): (Vec<String>, Vec<Cut>) = entries.iter().filter_map(cut).unzip();
    let density = |cut: &Cut| core_density_kg_m3(cut.diameter_m, cut.depth_m, cut.mass_kg);
    let densities: Vec<f64> = cuts.iter().map(density).collect();
    let (mean, spread) = mean_and_spread(&densities)?;
    let off = off(&cuts, tolerances);
    let each_share = off.each.max(spread.map_or(0.0, |spread| spread / mean));
    let half = half_share(each_share, off.alike, cuts.len(), tolerances.confidence_share).map(|half| mean * half);
    let samples: Vec<CoreSample> = places
        .into_iter()
        .zip(&densities)
        .map(|(r#where, density_kg_m3)| CoreSample { r#where, density_kg_m3: *density_kg_m3 })
        .collect();
    let is_below = |sample: &&CoreSample| promised_kg_m3.is_some_and(|due_kg_m3| sample.density_kg_m3 < due_kg_m3);
    Some(CoresTaken {
        mean_kg_m3: mean,
        spread_kg_m3: spread,
        each_share,
        cutter_share: off.alike,
        least_kg_m3: half.map(|half| (mean - half).max(0.0)),
        most_kg_m3: half.map(|half| mean + half),
        below: samples.iter().filter(is_below).map(|sample| sample.r#where.clone()).collect(),
        samples,
    })
}

/// Mass goes by the square of the diameter, so that half a tolerance of it counts twice.
fn off(cuts: &[Cut], tolerances: &Tolerances) -> Off {
    let number = f64::from(u32::try_from(cuts.len()).unwrap_or(u32::MAX)).max(1.0);
    let mean_square = |of: &dyn Fn(&Cut) -> f64| (cuts.iter().map(|cut| of(cut).powi(2)).sum::<f64>() / number).sqrt();
    let scale = mean_square(&|cut| CORE_SCALE_KG / DEVIATIONS / cut.mass_kg);
    let depth = mean_square(&|cut| tolerances.depth_m / DEVIATIONS / cut.depth_m);
    Off {
        each: combined([scale, depth, tolerances.density_share / DEVIATIONS].into_iter()),
        alike: mean_square(&|cut| 2.0 * CUTTER_M / DEVIATIONS / cut.diameter_m),
    }
}

/// Half the range of the mean, as a share of it: what each core is off by itself by Student's t of their number, what all are
/// off alike by the normal distribution. `None` of a single one.
fn half_share(each_share: f64, alike_share: f64, count: usize, confidence_share: f64) -> Option<f64> {
    let count = u32::try_from(count).ok()?;
    let each = student_t(confidence_share, count.checked_sub(1)?)? * each_share / f64::from(count).sqrt();
    Some(combined([each, normal_share(alike_share, confidence_share)].into_iter()))
}

/// Half the range of what is off by a standard deviation, by the normal distribution.
fn normal_share(standard_share: f64, confidence_share: f64) -> f64 {
    range_of(standard_share, confidence_share).map_or(0.0, |range| range.most_ratio - 1.0)
}

/// How many cores would settle a place, in words; `None` where no number does.
pub(super) fn samples_wanted(cores: Option<&CoresTaken>, tolerances: &Tolerances) -> Option<String> {
    let known = cores.filter(|cores| cores.spread_kg_m3.is_some());
    let spread_share = known.map_or(SPREAD_SHARE, |cores| cores.each_share);
    let cutter = cores.map_or(0.0, |cores| normal_share(cores.cutter_share, tolerances.confidence_share));
    let left_share = (tolerances.density_share.powi(2) - cutter.powi(2)).max(0.0).sqrt();
    let needed = samples_needed(spread_share, left_share, tolerances.confidence_share)?;
    let count = needed.max(cores.map_or(2, |cores| u32::try_from(cores.samples.len() + 1).unwrap_or(u32::MAX)));
    let is_seen =
        |cores: &&CoresTaken| cores.spread_kg_m3.is_some_and(|spread| spread >= cores.each_share * cores.mean_kg_m3);
    let of_spread = match known {
        Some(cores) if is_seen(&cores) => "as those so far spread".to_owned(),
        Some(cores) => {
            format!("if they spread by {:.0} %, as scale, depth and sampling let them", cores.each_share * 100.0)
        }
        None => "if they spread by 10 %, as is assumed".to_owned(),
    };
    Some(format!(
        "{count} cores in all: they give the mean to within {:.0} % at {:.0} %, {of_spread}",
        tolerances.density_share * 100.0,
        tolerances.confidence_share * 100.0
    ))
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
    let (mean_m, spread_m) = mean_and_spread(&depths)?;
    let is_below = |(_, depth_m): &&(String, f64)| promised_m.is_some_and(|due_m| *depth_m < due_m - tolerance_m);
    Some(Readings {
        count: u32::try_from(depths.len()).unwrap_or(u32::MAX),
        mean_m,
        spread_m,
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

    // Cores of fill that spreads by 2.5 %, cut with a cutter that is off by itself once for all: of 4,000 places the range must hold
    // the true density in nine of ten or more, since it is reckoned from a spread that is never below that of sampling.
    #[test]
    fn the_range_of_a_few_cores_holds_what_it_says() {
        let mut state = 9_u64;
        let mut uniform = || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            f64::from(u32::try_from(state >> 32).unwrap()) / f64::from(u32::MAX)
        };
        let mut normal = || (-2.0 * uniform().max(1e-300).ln()).sqrt() * (std::f64::consts::TAU * uniform()).cos();
        let (sampling, cutter) = (0.025, 0.0104);
        for count in [2_usize, 3, 6] {
            let mut within = 0;
            for _ in 0..4000 {
                let alike = cutter * normal();
                let cut: Vec<f64> = (0..count).map(|_| 1.0 + alike + sampling * normal()).collect();
                let (mean, spread) = mean_and_spread(&cut).unwrap();
                let half = half_share(spread.unwrap().max(sampling), cutter, count, 0.90).unwrap();
                within += u32::from((mean - 1.0).abs() <= mean * half);
            }
            assert!(within >= 3600, "{count}: {within}");
        }
    }

    #[test]
    fn one_value_has_no_spread() {
        assert_eq!(mean_and_spread(&[]), None);
        assert_eq!(mean_and_spread(&[3.0]), Some((3.0, None)));
        let (mean, spread) = mean_and_spread(&[2.0, 4.0, 6.0]).unwrap();
        assert!((mean - 4.0).abs() < 1e-12 && (spread.unwrap() - 2.0).abs() < 1e-12);
    }
}
