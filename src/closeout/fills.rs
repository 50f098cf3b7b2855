//! A fill over all zones: the job as a whole, closed cavities and open-blown fill apart.

use super::blown::{BAG_MASS, ends};
use super::contract::{Doubt, FillCloseout, Reached, UncertaintyInput, UseCloseout, Zone};
use super::outcome::of_range;
use super::sure::{DEPTH, FRAMING, MEASURED_DEPTH, RUN_DOWN_KG, SCALE_KG, SIDES, of_mass, together};
use crate::fill::FillUse;
use crate::intake::log::{Entry, Hopper};
use crate::job::Tolerances;
use crate::order::{combined, range_of};
use crate::takeoff::FillTakeoff;

/// What the job as a whole rests on.
pub(super) struct Whole<'a> {
    pub fill: &'a FillTakeoff,
    pub bag_kg: f64,
    /// Zones of the fill.
    pub zones: Vec<&'a Zone>,
    /// What each use of it rests on.
    pub uses: Vec<OfUse<'a>>,
}

/// What the zones of one use rest on that the log blows the fill into.
pub(super) struct OfUse<'a> {
    pub use_of: FillUse,
    pub zones: Vec<&'a Zone>,
    /// Their rows of bags in the order of the log, in stretches that no other use of the fill interrupts.
    pub stretches: Vec<Vec<&'a Entry>>,
    /// Whether the first of them is the first of the fill.
    pub is_first: bool,
}

/// What a fill comes to.
pub(super) fn overall(whole: &Whole<'_>, tolerances: &Tolerances) -> FillCloseout {
    let bags: f64 = whole.zones.iter().map(|zone| zone.bags_exact).sum();
    let uses: Vec<UseCloseout> = whole.uses.iter().map(|own| use_closeout(own, whole.bag_kg, tolerances)).collect();
    let is_of =
        |verdict: Reached| whole.zones.iter().filter(move |zone| zone.verdict == verdict).map(|zone| zone.name.clone());
    let (short, open): (Vec<String>, Vec<String>) =
        (is_of(Reached::Short).collect(), is_of(Reached::CannotTell).collect());
    // Of places that nothing is blown into, each stands for itself.
    let alone = whole.zones.iter().filter(|zone| !zone.is_blown).map(|zone| zone.verdict);
    let verdicts: Vec<Reached> = uses.iter().map(|own| own.verdict).chain(alone).collect();
    let (verdict, reason) = if !short.is_empty() {
        (Reached::Short, format!("namely {}", short.join(", ")))
    } else if verdicts.contains(&Reached::Short) {
        (Reached::Short, "no place by itself is shown to be, and all of them together are".to_owned())
    } else if verdicts.contains(&Reached::CannotTell) {
        let of_use = || uses.iter().filter(|own| own.verdict == Reached::CannotTell).map(|own| own.reason.clone());
        let places = format!("not settled: {}", open.join(", "));
        (Reached::CannotTell, if open.is_empty() { of_use().collect::<Vec<_>>().join("; ") } else { places })
    } else if open.is_empty() {
        (Reached::Reached, "every place of the log is at what was promised or above".to_owned())
    } else {
        (Reached::Reached, format!("over all places together; not settled by itself: {}", open.join(", ")))
    };
    let voids: Vec<String> = whole.zones.iter().flat_map(|zone| zone.bays.voids.iter().cloned()).collect();
    let reason = if voids.is_empty() { reason } else { format!("{reason}; a void was seen in {}", voids.join(", ")) };
    let order = whole.fill.bags_order.filter(|_| !whole.uses.is_empty());
    FillCloseout {
        fill: whole.fill.name.clone(),
        bags_order: whole.fill.bags_order,
        bags_exact: bags,
        left_exact: order.and_then(|order| Some(f64::from(u32::try_from(order).ok()?) - bags)),
        net_kg: uses.iter().map(|own| own.net_kg).sum(),
        promised_kg: uses.iter().map(|own| own.promised_kg).sum(),
        verdict,
        reason,
        short,
        uses,
    }
}

fn use_closeout(own: &OfUse<'_>, bag_kg: f64, tolerances: &Tolerances) -> UseCloseout {
    let net_kg: f64 = own.zones.iter().map(|zone| zone.net_kg).sum();
    let promised_kg: f64 = own.zones.iter().map(|zone| needed_kg(zone)).sum();
    let inputs = inputs(own, bag_kg, net_kg, promised_kg);
    let ratio = if promised_kg > 0.0 { net_kg / promised_kg } else { 0.0 };
    let range = range_of(together(&inputs), tolerances.confidence_share);
    let (least, most) =
        range.map_or((0.0, f64::INFINITY), |range| (ratio * range.least_ratio, ratio * range.most_ratio));
    let first = inputs.iter().max_by(|a, b| a.standard_share.total_cmp(&b.standard_share));
    let first = first.map(|input| format!("; it rests most on: {}", input.what)).unwrap_or_default();
    let (verdict, reason) = verdict_of(own, of_range(least, most, 1.0), &first);
    UseCloseout {
        r#use: own.use_of,
        net_kg,
        promised_kg,
        mass_ratio: ratio,
        least_ratio: least,
        most_ratio: most,
        verdict,
        reason,
    }
}

/// What the mass in all comes to, and what is known of the places besides: an attic needs its thickness too, what lies in one
/// closed cavity beyond what it takes is in no other, and mass in all says nothing of a place whose rows or cores are in doubt.
fn verdict_of(own: &OfUse<'_>, by_mass: Reached, first: &str) -> (Reached, String) {
    let names = |is: &dyn Fn(&Zone) -> bool| {
        let of: Vec<&str> = own.zones.iter().filter(|zone| is(zone)).map(|zone| zone.name.as_str()).collect();
        (!of.is_empty()).then(|| of.join(", "))
    };
    let enough = if by_mass == Reached::Reached { "there is mass enough in all, and " } else { "" };
    let cannot_tell = |names: &str| (Reached::CannotTell, format!("{enough}it can't be told of {names}"));
    if by_mass == Reached::Short {
        return match names(&|zone| zone.doubts.contains(&Doubt::TakenTwice)) {
            Some(names) if own.zones.iter().all(|zone| zone.verdict != Reached::Short) => cannot_tell(&names),
            _ => (Reached::Short, "what was promised lies above the range".to_owned()),
        };
    }
    if let Some(names) = names(&|zone| zone.verdict == Reached::Short) {
        return (Reached::Short, format!("{enough}it is short in {names}"));
    }
    if own.zones.iter().all(|zone| zone.verdict == Reached::Reached) {
        let reason = "every place of it is at what was promised or above";
        return (Reached::Reached, reason.to_owned());
    }
    if let Some(names) = names(&is_too_much) {
        return (Reached::CannotTell, format!("more is logged than closed cavities take in {names}"));
    }
    let is_open = own.use_of == FillUse::OpenBlown;
    let is_doubtful = |zone: &Zone| {
        let is_less = |doubt: &Doubt| matches!(doubt, Doubt::BlownTwice | Doubt::CoresContradict);
        zone.doubts.iter().any(is_less) || (is_open && zone.verdict == Reached::CannotTell)
    };
    match (by_mass, names(&is_doubtful)) {
        (Reached::Reached, Some(names)) => cannot_tell(&names),
        (Reached::Reached, None) => (Reached::Reached, "what was promised lies below the range".to_owned()),
        _ => (Reached::CannotTell, format!("what was promised lies within the range{first}")),
    }
}

fn is_too_much(zone: &Zone) -> bool {
    let least_over = zone.least_kg_m3.zip(zone.limit_kg_m3);
    zone.is_closed_off && least_over.is_some_and(|(least_kg_m3, limit_kg_m3)| least_kg_m3 > limit_kg_m3)
}

/// What goes from one zone to the next in the hopper cancels: only the ends of stretches count. Before the first of the
/// fill nothing is taken to be in it.
fn inputs(own: &OfUse<'_>, bag_kg: f64, net_kg: f64, promised_kg: f64) -> Vec<UncertaintyInput> {
    let of_end = |hopper: Option<Hopper>| match hopper {
        Some(Hopper::RunDown) => RUN_DOWN_KG,
        Some(Hopper::Weighed(_)) => SCALE_KG,
        None => bag_kg,
    };
    let share_of = |zone: &Zone| if net_kg > 0.0 { zone.net_kg / net_kg } else { 0.0 };
    let mut all = Vec::new();
    for (at, stretch) in own.stretches.iter().enumerate() {
        let (start, end) = ends(stretch);
        all.push(of_mass(
            "hopper before",
            if at == 0 && own.is_first && start.is_none() { 0.0 } else { of_end(start) },
            net_kg,
        ));
        all.push(of_mass("hopper after", of_end(end), net_kg));
    }
    // Bags are off alike in all zones.
    let of_bag = own.zones.iter().map(|zone| input_share(zone, BAG_MASS) * share_of(zone));
    all.push(UncertaintyInput { what: BAG_MASS.to_owned(), standard_share: of_bag.sum() });
    let is_own = |input: &&UncertaintyInput| {
        ["spilled", "vacuumed", "returned", "in machine", "parts of bags", "scale"].contains(&input.what.as_str())
    };
    for zone in &own.zones {
        let share = share_of(zone);
        all.extend(
            zone.uncertainty.iter().filter(is_own).map(|input| UncertaintyInput {
                what: input.what.clone(),
                standard_share: input.standard_share * share,
            }),
        );
    }
    all.extend(of_volumes(own, promised_kg));
    all
}

/// How sure the volumes are: drawn depths and framing are off alike in all zones, the rest in each by itself.
fn of_volumes(own: &OfUse<'_>, promised_kg: f64) -> impl Iterator<Item = UncertaintyInput> {
    let in_zones = |what: &'static str| -> Vec<f64> {
        let weight = |zone: &Zone| if promised_kg > 0.0 { needed_kg(zone) / promised_kg } else { 0.0 };
        own.zones.iter().map(|zone| input_share(zone, what) * weight(zone)).collect()
    };
    let alike = [DEPTH, FRAMING].map(|what| (what, in_zones(what).iter().sum()));
    let apart = [SIDES, MEASURED_DEPTH].map(|what| (what, combined(in_zones(what).into_iter())));
    let input = |(what, standard_share): (&str, f64)| UncertaintyInput { what: what.to_owned(), standard_share };
    alike.into_iter().chain(apart).map(input)
}

fn input_share(zone: &Zone, what: &str) -> f64 {
    zone.uncertainty.iter().find(|input| input.what == what).map_or(0.0, |input| input.standard_share)
}

/// Mass that gives a zone's volume the density that was promised: by its measured depths, where they are.
fn needed_kg(zone: &Zone) -> f64 {
    zone.promised_kg_m3 * zone.bay_volume_m3
}
