//! Filling holes of all surfaces.

use super::sum::total;
use super::{HolesTakeoff, SurfaceTakeoff};
use crate::fill::FillMethod;
use crate::job::Job;

/// Adds up the holes.
pub(super) fn add_up(surfaces: &[SurfaceTakeoff], job: &Job) -> HolesTakeoff {
    let of = |is_meant: fn(FillMethod) -> bool| -> u64 {
        let meant = surfaces.iter().filter(|surface| surface.method.is_some_and(is_meant));
        meant.filter_map(|surface| surface.holes).fold(0, u64::saturating_add)
    };
    let drilled = of(FillMethod::is_drilled);
    let unknown = surfaces.iter().filter(|s| s.counted && s.holes.is_none());
    HolesTakeoff {
        holes_to_drill: drilled,
        holes_to_plug: drilled,
        slits_in_netting: of(|method| method == FillMethod::Netting),
        hole_diameter_m: job.filling.holes.hole_diameter_m,
        not_counted_area_m2: total(unknown.map(|surface| surface.gross_area_m2)),
    }
}
