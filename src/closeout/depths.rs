//! Depths that were measured in closed cavities stand in for the drawn ones, each on the surfaces that its row names.

use super::cores::mean_and_spread;
use crate::intake::log::{Entry, What};
use crate::job::Tolerances;
use crate::takeoff::SurfaceTakeoff;

/// Tolerances are two standard deviations.
const DEVIATIONS: f64 = 2.0;
/// Depths that differ by less are one: a tenth of a millimetre.
const ALIKE_M: f64 = 1e-4;

/// A row of a depth, with the surfaces of the place that it names.
#[derive(Clone)]
pub(super) struct DepthRow<'a> {
    pub entry: &'a Entry,
    pub parts: Vec<&'a SurfaceTakeoff>,
}

impl DepthRow<'_> {
    fn depth_m(&self) -> Option<f64> {
        match self.entry.what {
            What::Depth { depth_m } => Some(depth_m),
            _ => None,
        }
    }

    fn names(&self, part: &SurfaceTakeoff) -> bool {
        self.parts.iter().any(|own| std::ptr::eq(*own, part))
    }
}

/// Bays of closed cavities at the depths that were measured in them, else at the drawn ones.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Depths {
    pub volume_m3: f64,
    /// Mass that gives each of them the density that was promised.
    pub mass_kg: f64,
    /// One standard deviation of the volume by the depths that were measured, as a share; `None` where none was.
    pub measured_share: Option<f64>,
    /// By those that were not; `None` where all were.
    pub drawn_share: Option<f64>,
}

/// The bays of some surfaces. Parts without a reading stay as they are drawn.
pub(super) fn depths(parts: &[&SurfaceTakeoff], rows: &[DepthRow<'_>], tolerances: &Tolerances) -> Depths {
    let mut all = Depths::default();
    let (mut measured_m3, mut drawn_m3) = (None, None);
    for part in parts {
        let drawn_m = part.depth_m.unwrap_or(0.0);
        let read: Vec<f64> = rows.iter().filter(|row| row.names(part)).filter_map(DepthRow::depth_m).collect();
        let measured = mean_and_spread(&read).filter(|(mean_m, _)| *mean_m > 0.0 && drawn_m > 0.0);
        let ratio = measured.map_or(1.0, |(mean_m, _)| mean_m / drawn_m);
        let volume_m3 = part.bay_volume_m3.unwrap_or(0.0) * ratio;
        all.volume_m3 += volume_m3;
        all.mass_kg += part.mass_kg.unwrap_or(0.0) * ratio;
        let (sum_m3, share) = match measured {
            Some((mean_m, spread_m)) => {
                (&mut measured_m3, mean_share(mean_m, spread_m, read.len(), tolerances.depth_m))
            }
            None => (&mut drawn_m3, tolerances.depth_m / DEVIATIONS / part.depth_m.unwrap_or(1.0).max(0.01)),
        };
        *sum_m3 = Some(sum_m3.unwrap_or(0.0) + volume_m3 * share);
    }
    let share = |off_m3: Option<f64>| off_m3.filter(|_| all.volume_m3 > 0.0).map(|off_m3| off_m3 / all.volume_m3);
    Depths { measured_share: share(measured_m3), drawn_share: share(drawn_m3), ..all }
}

/// One standard deviation of the mean of depth readings, as a share of it: by the tape, or by how they spread where that is more.
fn mean_share(mean_m: f64, spread_m: Option<f64>, count: usize, tolerance_m: f64) -> f64 {
    let each_m = spread_m.unwrap_or(0.0).max(tolerance_m / DEVIATIONS);
    each_m / f64::from(u32::try_from(count).unwrap_or(u32::MAX)).sqrt() / mean_m
}

/// The depth of some surfaces, where all have the same.
pub(super) fn one_depth_m(parts: &[&SurfaceTakeoff]) -> Option<f64> {
    let first_m = parts.first()?.depth_m?;
    let is_same = |part: &&SurfaceTakeoff| part.depth_m.is_some_and(|depth_m| (depth_m - first_m).abs() < ALIKE_M);
    parts.iter().all(is_same).then_some(first_m)
}

/// Whether open-blown surfaces are due at one thickness, settled and as blown.
pub(super) fn is_one_thickness(parts: &[&SurfaceTakeoff]) -> bool {
    let open = |part: &SurfaceTakeoff| part.open_blown.as_ref().map(|open| (open.settled_m, open.initial_m));
    let is_same = |a: f64, b: f64| (a - b).abs() < ALIKE_M;
    let mut all = parts.iter().map(|part| open(part));
    let Some(first) = all.next() else { return true };
    all.all(|one| match (first, one) {
        (Some((settled_m, initial_m)), Some((own_m, own_initial_m))) => {
            let is_initial = match (initial_m, own_initial_m) {
                (Some(a), Some(b)) => is_same(a, b),
                (a, b) => a == b,
            };
            is_same(settled_m, own_m) && is_initial
        }
        (a, b) => a.is_none() && b.is_none(),
    })
}
