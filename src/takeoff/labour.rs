//! Hours of the work, from the rates of the job: a basis, and not an offer.

use super::sum::total;
use super::{LabourTakeoff, PriceTakeoff, SurfaceTakeoff};
use crate::fill::FillUse;
use crate::job::{Job, Labour};

/// Hours in which a surface is filled, what the allowance adds included; `None` where no rate of its use is given.
pub(super) fn hours_of(surface: &SurfaceTakeoff, allowance: f64, labour: &Labour) -> Option<f64> {
    let rate_kg_per_h = match surface.r#use? {
        FillUse::ClosedCavity => labour.closed_kg_per_h?,
        FillUse::OpenBlown => labour.open_kg_per_h?,
    };
    Some(surface.mass_kg? * (1.0 + allowance) / rate_kg_per_h)
}

/// All of it; `None` where the job gives no rate.
pub(super) fn add_up(surfaces: &[SurfaceTakeoff], job: &Job) -> Option<LabourTakeoff> {
    let labour = job.order.labour.as_ref()?;
    let allowance_of = |surface: &SurfaceTakeoff| {
        let own = job.fills.iter().find(|fill| Some(&fill.rules.name) == surface.fill.as_ref());
        own.map_or(0.0, |fill| fill.allowance)
    };
    let hours = |fill_use: FillUse| {
        let own = surfaces.iter().filter(|surface| surface.r#use == Some(fill_use));
        let each: Option<Vec<f64>> = own.map(|surface| hours_of(surface, allowance_of(surface), labour)).collect();
        each.map(total)
    };
    let (closed_h, open_h) = (hours(FillUse::ClosedCavity), hours(FillUse::OpenBlown));
    let machine_h = closed_h.unwrap_or(0.0) + open_h.unwrap_or(0.0);
    let person_h = machine_h * f64::from(labour.crew);
    let cost = labour.wage.as_ref().and_then(|wage| wage.for_hours(person_h));
    Some(LabourTakeoff {
        closed_h,
        open_h,
        machine_h,
        crew: labour.crew,
        person_h,
        days_exact: labour.day_h.map(|day_h| machine_h / day_h),
        price: cost.zip(labour.wage.as_ref()).map(|(cost, wage)| PriceTakeoff {
            each: wage.amount_text(),
            total: cost.amount_text(),
            currency: cost.currency,
        }),
    })
}
