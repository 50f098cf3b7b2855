//! An attic: thickness by readings and mass by bags; both must hold.

use super::contract::{AtticBlown, Reached};
use super::contract_seen::Readings;
use super::zone::{Figures, Known};
use crate::takeoff::SurfaceTakeoff;

/// Whether readings show a thickness: their mean is that or more, and none lies below it by more than the tape is off.
pub(super) fn is_thick(readings: &Readings, due_m: f64, tolerance_m: f64) -> bool {
    readings.mean_m >= due_m * (1.0 - 1e-9) && readings.least_m >= due_m - tolerance_m
}

/// What readings and the mass's verdict come to, with the reason.
pub(super) fn judge(readings: Option<&Readings>, mass: Reached, tolerance_m: f64) -> (Reached, String) {
    let thickness = readings.and_then(|readings| Some(is_thick(readings, readings.promised_m?, tolerance_m)));
    let of_mass = match mass {
        Reached::Reached => "the minimum mass per area is there",
        Reached::Short => "the mass per area is below the minimum",
        Reached::CannotTell => "whether the minimum mass per area is there can't be told",
    };
    let of_thickness = match (thickness, readings) {
        (Some(true), _) => "the initial thickness is there by mean and by each reading".to_owned(),
        (Some(false), Some(readings)) if readings.below.is_empty() => {
            "the mean of the readings is below the initial thickness".to_owned()
        }
        (Some(false), Some(readings)) => {
            format!("readings are below the initial thickness: {}", readings.below.join(", "))
        }
        (_, Some(_)) => "the initial thickness is not known: the label's table gives it".to_owned(),
        (_, None) => "no depth was read".to_owned(),
    };
    let verdict = match (thickness, mass) {
        (Some(false), _) | (_, Reached::Short) => Reached::Short,
        (Some(true), Reached::Reached) => Reached::Reached,
        _ => Reached::CannotTell,
    };
    (verdict, format!("{of_mass}; {of_thickness}"))
}

/// Volume of the bays where the fill lies at another thickness than it was ordered at: what is more or less of it lies over
/// bays and framing alike.
pub(super) fn volume_at_m3(parts: &[&SurfaceTakeoff], thickness_m: f64) -> f64 {
    let of = |part: &SurfaceTakeoff| {
        let settled_m = part.open_blown.as_ref().map_or(0.0, |open| open.settled_m);
        part.bay_volume_m3.unwrap_or(0.0) + part.bay_area_m2 * (thickness_m - settled_m)
    };
    parts.iter().map(|part| of(part)).sum()
}

/// The area that the minimum mass per area is the minimum over: that of each part for which the label's mass per area gives
/// the mass that was ordered. With a coverage that is net of framing, framing is taken off to its own depth, since fill lies
/// over it.
///
/// # Source
/// ASTM C1630: maximum net coverages are of the net floor area, framing deducted; as quoted.
fn coverage_area_m2(parts: &[&SurfaceTakeoff]) -> f64 {
    let of = |part: &SurfaceTakeoff| {
        let open = part.open_blown.as_ref().map(|open| open.mass_kg_m2);
        open.filter(|mass| *mass > 0.0).map_or(part.bay_area_m2, |mass_kg_m2| part.mass_kg.unwrap_or(0.0) / mass_kg_m2)
    };
    parts.iter().map(|part| of(part)).sum()
}

/// Mass per area and density as blown.
pub(super) fn attic_of(known: &Known<'_>, figures: &Figures) -> AtticBlown {
    let coverage_area_m2 = coverage_area_m2(&known.parts);
    let over = |mass_kg: f64| if coverage_area_m2 > 0.0 { mass_kg / coverage_area_m2 } else { 0.0 };
    let mass_kg_m2 = over(known.blown.net_kg);
    let ratio = |end_kg_m3: f64| if figures.density_kg_m3 > 0.0 { end_kg_m3 / figures.density_kg_m3 } else { 0.0 };
    let volume_m3 = figures.readings.as_ref().map(|read| volume_at_m3(&known.parts, read.mean_m));
    let bases = known.parts.iter().map(|part| part.label.as_ref().map_or("net", |label| label.basis.as_str()));
    AtticBlown {
        coverage_area_m2,
        basis: super::bays::each_once(bases).join(", "),
        mass_kg_m2,
        least_kg_m2: mass_kg_m2 * ratio(figures.least_kg_m3),
        most_kg_m2: mass_kg_m2 * ratio(figures.most_kg_m3),
        minimum_kg_m2: over(figures.promised_kg),
        initial_kg_m3: volume_m3
            .filter(|volume_m3| known.blown.is_closed_off && *volume_m3 > 0.0)
            .map(|volume_m3| known.blown.net_kg / volume_m3),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn readings(mean_m: f64, below: &[&str]) -> Readings {
        let below: Vec<String> = below.iter().map(|place| (*place).to_owned()).collect();
        // One that is named lies below what is due by more than the tape is off.
        let least_m = if below.is_empty() { mean_m } else { 0.36 };
        Readings { count: 3, mean_m, least_m, spread_m: Some(0.01), promised_m: Some(0.38), below }
    }

    #[test]
    fn both_must_hold() {
        let of = |readings: Option<&Readings>, mass: Reached| judge(readings, mass, 0.003).0;
        let good = readings(0.40, &[]);
        assert_eq!(of(Some(&good), Reached::Reached), Reached::Reached);
        assert_eq!(of(Some(&good), Reached::Short), Reached::Short);
        assert_eq!(of(Some(&readings(0.40, &["log.csv:3:1"])), Reached::Reached), Reached::Short);
        assert_eq!(of(Some(&readings(0.37, &[])), Reached::Reached), Reached::Short);
        assert_eq!(of(Some(&good), Reached::CannotTell), Reached::CannotTell);
        assert_eq!(of(None, Reached::Reached), Reached::CannotTell);
    }
}
