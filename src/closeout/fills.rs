//! A fill over all zones: the job as a whole.

use super::blown::ends;
use super::contract::{FillCloseout, Reached, UncertaintyInput, Zone};
use super::sure::{RUN_DOWN_KG, SCALE_KG, of_mass, of_volume, together};
use crate::fill::FillUse;
use crate::intake::log::{Entry, Hopper};
use crate::job::Tolerances;
use crate::order::range_of;
use crate::takeoff::{FillTakeoff, SurfaceTakeoff};

/// What the job as a whole rests on.
pub(super) struct Whole<'a> {
    pub fill: &'a FillTakeoff,
    pub bag_kg: f64,
    /// Zones of the fill.
    pub zones: Vec<&'a Zone>,
    /// Their surfaces.
    pub parts: Vec<&'a SurfaceTakeoff>,
    /// All rows of bags of the fill, in their order.
    pub rows: Vec<&'a Entry>,
}

/// What a fill comes to.
pub(super) fn overall(whole: &Whole<'_>, tolerances: &Tolerances) -> FillCloseout {
    let sum = |of: fn(&Zone) -> f64| whole.zones.iter().map(|zone| of(zone)).sum::<f64>();
    let (bags, net_kg, promised_kg) =
        (sum(|zone| zone.bags_exact), sum(|zone| zone.net_kg), sum(|zone| zone.promised_kg));
    let inputs = inputs(whole, net_kg, tolerances);
    let ratio = if promised_kg > 0.0 { net_kg / promised_kg } else { 0.0 };
    let range = range_of(together(&inputs), tolerances.confidence_share);
    let (least, most) =
        range.map_or((0.0, f64::INFINITY), |range| (ratio * range.least_ratio, ratio * range.most_ratio));
    let (verdict, reason) = if least >= 1.0 - 1e-9 {
        (Reached::Reached, "what was promised lies below the range".to_owned())
    } else if most < 1.0 {
        (Reached::Short, "what was promised lies above the range".to_owned())
    } else {
        let first = inputs.iter().max_by(|a, b| a.standard_share.total_cmp(&b.standard_share));
        let first = first.map(|input| format!("; it rests most on: {}", input.what)).unwrap_or_default();
        (Reached::CannotTell, format!("what was promised lies within the range{first}"))
    };
    FillCloseout {
        fill: whole.fill.name.clone(),
        bags_order: whole.fill.bags_order,
        bags_exact: bags,
        left_exact: whole.fill.bags_order.and_then(|order| Some(f64::from(u32::try_from(order).ok()?) - bags)),
        net_kg,
        promised_kg,
        mass_ratio: ratio,
        least_ratio: least,
        most_ratio: most,
        verdict,
        reason,
    }
}

/// What goes from one zone to the next in the hopper cancels: only the job's two ends count.
fn inputs(whole: &Whole<'_>, net_kg: f64, tolerances: &Tolerances) -> Vec<UncertaintyInput> {
    let (start, end) = ends(&whole.rows);
    let of_end = |hopper: Option<Hopper>| match hopper {
        Some(Hopper::RunDown) => RUN_DOWN_KG,
        Some(Hopper::Weighed(_)) => SCALE_KG,
        None => whole.bag_kg,
    };
    let bags: f64 = whole.zones.iter().map(|zone| zone.bags_exact).sum();
    let mut all = vec![
        of_mass("hopper before", if start.is_none() { 0.0 } else { of_end(start) }, net_kg),
        of_mass("hopper after", of_end(end), net_kg),
        of_mass("mass of a bag", bags * whole.bag_kg * tolerances.bag_share, net_kg),
    ];
    let is_own = |input: &&UncertaintyInput| {
        ["spilled", "vacuumed", "in machine", "parts of bags", "scale"].contains(&input.what.as_str())
    };
    for zone in &whole.zones {
        let share = if net_kg > 0.0 { zone.net_kg / net_kg } else { 0.0 };
        all.extend(
            zone.uncertainty.iter().filter(is_own).map(|input| UncertaintyInput {
                what: input.what.clone(),
                standard_share: input.standard_share * share,
            }),
        );
    }
    let is_open = whole.zones.iter().all(|zone| zone.r#use == FillUse::OpenBlown);
    let use_of = if is_open { FillUse::OpenBlown } else { FillUse::ClosedCavity };
    all.extend(of_volume(&whole.parts, use_of, None, tolerances));
    all
}
