//! The running check: how far the bags so far should have gone.

use super::bays::name;
use super::blown::ends;
use super::contract::RunningCheck;
use crate::intake::log::{Entry, Hopper, Taken, What};
use crate::takeoff::SurfaceTakeoff;

/// Rows of a zone.
pub(super) struct Rows<'a> {
    /// Rows of bags, in stretches that no other zone interrupts.
    pub runs: &'a [Vec<&'a Entry>],
    /// What did not stay.
    pub taken: &'a [&'a Entry],
    pub bag_kg: f64,
}

impl Rows<'_> {
    /// What the first rows of a run blew, by the hopper before the first and after the last as far as each is known.
    fn blown(&self, run: &[&Entry]) -> (f64, f64) {
        let mass = |hopper: Option<Hopper>| match hopper {
            Some(Hopper::Weighed(mass_kg)) => mass_kg,
            Some(Hopper::RunDown) | None => 0.0,
        };
        let (start, end) = ends(run);
        run.iter().fold((0.0, mass(start) - mass(end)), |(all, all_kg), entry| match &entry.what {
            What::Blown { bags, mass_kg, .. } => {
                (all + bags + mass_kg / self.bag_kg, all_kg + bags * self.bag_kg + mass_kg)
            }
            _ => (all, all_kg),
        })
    }

    /// What was taken out by the time of a row: rows above the next row of bags are about the bags before it.
    fn out(&self, before_line: Option<u64>) -> (f64, f64) {
        let is_by_then = |entry: &&&Entry| before_line.is_none() || entry.place.line < before_line;
        self.taken.iter().filter(is_by_then).fold((0.0, 0.0), |(all, all_kg), entry| match &entry.what {
            What::Taken { taken, bags, mass_kg } => {
                let out_kg = bags * self.bag_kg + mass_kg;
                let back = if *taken == Taken::Returned { out_kg / self.bag_kg } else { 0.0 };
                (all + back, all_kg + out_kg)
            }
            _ => (all, all_kg),
        })
    }
}

/// One check a row of a zone, in the order of the rows. Bays are taken in the order of the takeoff.
pub(super) fn checks(zone: &str, parts: &[&SurfaceTakeoff], rows: &Rows<'_>) -> Vec<RunningCheck> {
    let bays = in_order(parts);
    let promised_kg: f64 = bays.iter().map(|(_, mass_kg)| mass_kg).sum();
    let lines: Vec<Option<u64>> = rows.runs.iter().flatten().map(|entry| entry.place.line).collect();
    let mut next_lines = lines.into_iter().skip(1);
    let (mut bags_before, mut before_kg) = (0.0, 0.0);
    let mut all = Vec::new();
    for run in rows.runs {
        for (at, entry) in run.iter().enumerate() {
            let (bags, blown_kg) = rows.blown(run.get(..=at).unwrap_or_default());
            let (bags_out, out_kg) = rows.out(next_lines.next().flatten());
            let mass_kg = (before_kg + blown_kg - out_kg).max(0.0);
            let full = full_bays(&bays, mass_kg);
            all.push(RunningCheck {
                r#where: entry.place.to_string(),
                date: entry.date.map(|date| date.to_string()),
                zone: zone.to_owned(),
                bags_exact: bags_before + bags - bags_out,
                mass_kg,
                promised_kg,
                bays_filled: u64::try_from(full.len()).unwrap_or(u64::MAX),
                bays: u64::try_from(bays.len()).unwrap_or(u64::MAX),
                up_to: full.last().map(|(bay, _)| bay.clone()),
            });
        }
        let (bags, blown_kg) = rows.blown(run);
        bags_before += bags;
        before_kg += blown_kg;
    }
    all
}

/// The bays that a mass fills, from the first on.
fn full_bays(bays: &[(String, f64)], mass_kg: f64) -> &[(String, f64)] {
    let mut used_kg = 0.0;
    let is_full = |(_, bay_kg): &&(String, f64)| {
        used_kg += bay_kg;
        used_kg <= mass_kg * (1.0 + 1e-9)
    };
    let count = bays.iter().take_while(is_full).count();
    bays.get(..count).unwrap_or_default()
}

/// Bays with their masses; of several surfaces alike, one after the other.
fn in_order(parts: &[&SurfaceTakeoff]) -> Vec<(String, f64)> {
    let of = |surface: &SurfaceTakeoff| {
        let name = name(surface);
        let one: Vec<(String, f64)> =
            surface.bays.iter().map(|bay| (format!("{name} bay {}", bay.id), bay.mass_kg)).collect();
        vec![one; usize::try_from(surface.count.clamp(1, 1000)).unwrap_or(1)].concat()
    };
    parts.iter().flat_map(|surface| of(surface)).collect()
}
