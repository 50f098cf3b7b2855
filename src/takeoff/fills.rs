//! What each fill comes to: volume, mass, bags, reach and staging.

use super::plan::Plan;
use super::range::range;
use super::staging::{stage, worked_h};
use super::sum::total;
use super::{EstimateTakeoff, FillTakeoff, PackTakeoff, PriceTakeoff, ReachedTakeoff, SurfaceTakeoff};
use crate::job::{FillChoice, Job};
use crate::model::SurfaceKind;
use crate::order::{Bags, Packs, count_bags, packs_of, reached_ratio};

/// Adds up the fills that something is filled with, in the order of the job.
///
/// Open-blown fill without a label's coverage table is an entry of its own, without bags. What is asked for and not counted
/// stands with one of the entries, so that the reach of all is all that was asked for.
pub(super) fn add_up(surfaces: &[SurfaceTakeoff], plans: &[Plan<'_>], job: &Job) -> Vec<FillTakeoff> {
    let mut entries: Vec<Entry<'_>> = Vec::new();
    for (index, fill) in job.fills.iter().enumerate() {
        let is_own = |plan: &Plan<'_>| plan.is_counted() && plan.assigned.as_ref().is_some_and(|a| a.fill == index);
        let own = surfaces.iter().zip(plans).filter(|(_, plan)| is_own(plan));
        let (estimated, ordered): (Vec<Filled<'_>>, Vec<Filled<'_>>) =
            own.partition(|(surface, _)| surface.is_estimate());
        let estimate = estimate_of(fill, &estimated);
        for (filled, estimate) in [(ordered, None), (estimated, estimate)] {
            if !filled.is_empty() {
                entries.push(Entry { index, fill, filled, estimate, idle: Vec::new() });
            }
        }
    }
    let is_idle = |plan: &Plan<'_>| plan.is_asked && !plan.is_counted();
    for (surface, plan) in surfaces.iter().zip(plans).filter(|(_, plan)| is_idle(plan)) {
        if let Some(entry) = entry_for(&mut entries, surface, plan) {
            entry.idle.push(surface);
        }
    }
    let mut before_h = 0.0;
    entries.into_iter().map(|entry| add_up_one(entry, &mut before_h, job)).collect()
}

/// One fill, or the part of it that is an estimate, and what it is for.
struct Entry<'a> {
    index: usize,
    fill: &'a FillChoice,
    filled: Vec<Filled<'a>>,
    estimate: Option<EstimateTakeoff>,
    /// What is asked for and not counted.
    idle: Vec<&'a SurfaceTakeoff>,
}

impl Entry<'_> {
    fn fills_kind(&self, kind: SurfaceKind) -> bool {
        self.filled.iter().any(|(surface, _)| surface.kind == kind)
    }
}

/// The entry that a surface nobody counts stands with: of its own fill, of a fill of its kind, else the first.
fn entry_for<'e, 'a>(
    entries: &'e mut [Entry<'a>],
    surface: &SurfaceTakeoff,
    plan: &Plan<'_>,
) -> Option<&'e mut Entry<'a>> {
    let own = plan.assigned.as_ref().map(|assigned| assigned.fill);
    let best = entries.iter().enumerate().min_by_key(|(_, entry)| {
        let is_own = own == Some(entry.index);
        // The order of what fits best; of those that fit alike the first is taken.
        (!(is_own && entry.fills_kind(surface.kind)), !is_own, !entry.fills_kind(surface.kind))
    });
    let place = best.map(|(place, _)| place)?;
    entries.get_mut(place)
}

/// A surface that is filled, and what was planned of it.
type Filled<'a> = (&'a SurfaceTakeoff, &'a Plan<'a>);

fn estimate_of(fill: &FillChoice, filled: &[Filled<'_>]) -> Option<EstimateTakeoff> {
    let volume_m3 = total(filled.iter().filter_map(|(surface, _)| surface.bay_volume_m3));
    let mass_kg = total(filled.iter().filter_map(|(surface, _)| surface.mass_kg));
    let range = fill.open_range_kg_m3.as_ref();
    let of = |density: Option<f64>| density.map_or(mass_kg, |density| volume_m3 * density);
    (!filled.is_empty()).then(|| EstimateTakeoff {
        least_kg: of(range.map(|range| range.least_kg_m3)),
        most_kg: of(range.map(|range| range.most_kg_m3)),
        source: range.map_or_else(String::new, |range| range.source.clone()),
    })
}

fn add_up_one(entry: Entry<'_>, before_h: &mut f64, job: &Job) -> FillTakeoff {
    let Entry { fill, filled, estimate, idle, .. } = entry;
    let surfaces: Vec<&SurfaceTakeoff> = filled.iter().map(|(surface, _)| *surface).collect();
    let surfaces = surfaces.as_slice();
    let sum = |value: fn(&SurfaceTakeoff) -> Option<f64>| total(surfaces.iter().filter_map(|s| value(s)));
    let mass_kg = sum(|s| s.mass_kg);
    let bag_kg = fill.bag_kg.filter(|_| estimate.is_none());
    let bags = bag_kg.and_then(|bag_kg| count_bags(mass_kg, bag_kg, fill.allowance));
    let is_estimate = estimate.is_some();
    let range = range(&filled, fill, (bag_kg, bags.as_ref()), &job.tolerances);
    let mut kinds: Vec<SurfaceKind> = surfaces.iter().chain(&idle).map(|s| s.kind).collect();
    kinds.sort_unstable();
    kinds.dedup();
    let counted_area_m2 = sum(|s| Some(s.gross_area_m2));
    let idle_area_m2 = total(idle.iter().map(|s| s.gross_area_m2));
    let staging = stage(surfaces, fill, &job.order, (bags.map(|bags| bags.order), *before_h));
    *before_h += worked_h(surfaces, fill, &job.order);
    FillTakeoff {
        name: fill.rules.name.clone(),
        volume_m3: sum(|s| s.bay_volume_m3),
        mass_kg,
        estimate,
        bag_kg: fill.bag_kg,
        bags_exact: bags.map(|bags| bags.exact),
        allowance: fill.allowance,
        bags_order: bags.map(|bags| bags.order),
        counted_area_m2,
        asked_area_m2: counted_area_m2 + idle_area_m2,
        kinds,
        staging,
        reached: bags.as_ref().and_then(|bags| reached(bags, fill, surfaces)),
        packs: bags.as_ref().map(|bags| packs(bags.order, fill)).unwrap_or_default(),
        range: range.filter(|_| !is_estimate),
        price: bags.as_ref().and_then(|bags| price(bags.order, fill)),
    }
}

/// What is still reached when all of the allowance is lost.
fn reached(bags: &Bags, fill: &FillChoice, surfaces: &[&SurfaceTakeoff]) -> Option<ReachedTakeoff> {
    let mass_ratio = reached_ratio(bags, fill.allowance)?;
    let least_kg_m3 = surfaces.iter().filter_map(|surface| surface.density_kg_m3).reduce(f64::min)?;
    Some(ReachedTakeoff { mass_ratio, least_density_kg_m3: least_kg_m3 * mass_ratio })
}

fn packs(order: u64, fill: &FillChoice) -> Vec<PackTakeoff> {
    let of = |(pack, bags): (&str, Option<u64>)| {
        let Packs { whole, loose } = packs_of(order, bags?)?;
        Some(PackTakeoff { pack: pack.to_owned(), bags: bags?, whole, loose })
    };
    [("pallet", fill.pallet_bags), ("bundle", fill.bundle_bags)].into_iter().filter_map(of).collect()
}

fn price(order: u64, fill: &FillChoice) -> Option<PriceTakeoff> {
    let each = fill.price.as_ref()?;
    let total = each.times(order)?;
    Some(PriceTakeoff { each: each.amount_text(), total: total.amount_text(), currency: total.currency })
}
