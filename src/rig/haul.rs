//! Hauling: bags against the truck, the hopper and the dry storage on site.

use super::notes::Notes;
use super::{Status, TimeFigures, Topic};
use crate::job::{Rig, Site};
use crate::takeoff::{FillTakeoff, Takeoff};
use crate::units::display_flow::trimmed;

/// Bags of all orders.
struct Order {
    bags: u64,
    mass_kg: f64,
}

/// A whole number of bags, loads or trips as a figure to compute with.
#[allow(clippy::cast_precision_loss, reason = "no job has 2^52 of them")]
fn real(count: u64) -> f64 {
    count as f64
}

/// Checks truck, hopper and storage.
pub(super) fn check(takeoff: Option<&Takeoff>, rig: &Rig, site: &Site, time: Option<&TimeFigures>, notes: &mut Notes) {
    let Some(takeoff) = takeoff else { return };
    let fills: Vec<&FillTakeoff> =
        takeoff.fills.iter().filter(|fill| fill.estimate.is_none() && fill.mass_kg > 0.0).collect();
    hopper(&fills, rig, time, notes);
    let Some(order) = order_of(&fills) else {
        let action = "Give the bag: `bag = \"25 lb\"` of each fill.";
        return notes.point(
            Topic::Haul,
            Status::NotShown,
            "no order of bags: truck and storage are not checked.",
            action,
        );
    };
    truck(&order, rig, notes);
    storage(&order, rig, site, time, notes);
}

/// All bags; `None` where a fill has no bag.
fn order_of(fills: &[&FillTakeoff]) -> Option<Order> {
    let each: Option<Vec<(u64, f64)>> = fills.iter().map(|fill| fill.bags_order.zip(fill.bag_kg)).collect();
    let each = each.filter(|each| !each.is_empty())?;
    let bags = each.iter().fold(0, |sum: u64, (bags, _)| sum.saturating_add(*bags));
    Some(Order { bags, mass_kg: each.iter().fold(0.0, |sum, (bags, bag_kg)| sum + real(*bags) * bag_kg) })
}

fn hopper(fills: &[&FillTakeoff], rig: &Rig, time: Option<&TimeFigures>, notes: &mut Notes) {
    let Some(hopper_kg) = rig.hopper_kg else { return };
    let units = notes.units;
    for fill in fills {
        let mass_kg = fill.mass_kg * (1.0 + fill.allowance);
        let loads = (mass_kg / hopper_kg - 1e-9).ceil();
        let bags =
            fill.bag_kg.map_or_else(String::new, |bag_kg| format!(", {} bags each", trimmed(hopper_kg / bag_kg, 1)));
        let stages =
            time.into_iter().flat_map(|time| &time.stages).filter(|stage| stage.fill.as_ref() == Some(&fill.name));
        let blown_h = stages.fold(0.0, |sum, stage| sum + stage.work_h);
        let every = if blown_h > 0.0 {
            format!(", one every {} min", trimmed(blown_h * 60.0 / loads, 0))
        } else {
            String::new()
        };
        notes.holds(
            Topic::Haul,
            format!("{}: {loads} hoppers of {}{bags}{every}.", fill.name, units.show_mass(hopper_kg)),
        );
        let inputs = [("mass, allowance included", units.show_mass(mass_kg)), ("hopper", units.show_mass(hopper_kg))];
        let what = format!("hoppers of {}", fill.name);
        notes.step(Topic::Haul, [&what, &format!("{loads}"), "mass / hopper, rounded up"], &inputs, "job file");
    }
}

fn truck(order: &Order, rig: &Rig, notes: &mut Notes) {
    let (topic, units, truck) = (Topic::Haul, notes.units, &rig.truck);
    if truck.payload_kg.is_none() && truck.volume_m3.is_none() {
        let action = "Write `payload` and `volume` of `truck`, and `bag_volume`.";
        return notes.point(topic, Status::NotShown, "nobody says what the truck carries.", action);
    }
    let volume_m3 = truck.bag_m3.map(|bag_m3| bag_m3 * real(order.bags));
    let by_mass = truck.payload_kg.map_or(1.0, |payload_kg| (order.mass_kg / payload_kg - 1e-9).ceil());
    let by_volume =
        volume_m3.zip(truck.volume_m3).map_or(1.0, |(bags_m3, truck_m3)| (bags_m3 / truck_m3 - 1e-9).ceil());
    let size = volume_m3.map_or_else(String::new, |volume_m3| format!(" and {}", units.show_volume(volume_m3)));
    let found = format!("{} bags are {}{size}", order.bags, units.show_mass(order.mass_kg));
    let trips = by_mass.max(by_volume).max(1.0);
    let limit = match (by_mass >= by_volume, truck.payload_kg, truck.volume_m3) {
        (true, Some(payload_kg), _) => units.show_mass(payload_kg),
        (_, _, Some(volume_m3)) => units.show_volume(volume_m3),
        _ => String::new(),
    };
    if trips > 1.0 {
        let action = format!("Plan {trips} loads, or have bags delivered to the site.");
        notes.point(topic, Status::FallsShort, format!("{found}: more than the truck's {limit}."), &action);
    } else {
        notes.holds(topic, format!("{found}: one load of the truck."));
    }
    if truck.volume_m3.is_some() && truck.bag_m3.is_none() {
        let found = "the size of a bag is not given: room in the truck is not checked.";
        notes.point(topic, Status::NotShown, found, "Write `bag_volume` of `truck`, such as `2.6 ft3`.");
    }
    let inputs = [
        ("bags", order.bags.to_string()),
        ("payload", truck.payload_kg.map_or_else(|| "not given".to_owned(), |kg| units.show_mass(kg))),
        ("volume", truck.volume_m3.map_or_else(|| "not given".to_owned(), |m3| units.show_volume(m3))),
        ("volume of a bag", truck.bag_m3.map_or_else(|| "not given".to_owned(), |m3| units.show_volume(m3))),
    ];
    let formula = "the greater of mass / payload and volume / room, each rounded up";
    notes.step(topic, ["loads of the truck", &format!("{trips}"), formula], &inputs, "job file, order of the takeoff");
}

fn storage(order: &Order, rig: &Rig, site: &Site, time: Option<&TimeFigures>, notes: &mut Notes) {
    let Some((storage_m3, bag_m3)) = site.dry_storage_m3.zip(rig.truck.bag_m3) else { return };
    let (topic, units) = (Topic::Haul, notes.units);
    let holds = (storage_m3 / bag_m3 + 1e-9).floor();
    let room = format!("dry storage of {} takes {} bags", units.show_volume(storage_m3), trimmed(holds, 0));
    let inputs = [("dry storage", units.show_volume(storage_m3)), ("volume of a bag", units.show_volume(bag_m3))];
    let what = ["bags that the dry storage takes", &trimmed(holds, 0), "storage / bag, rounded down"];
    notes.step(topic, what, &inputs, "job file");
    if real(order.bags) <= holds {
        return notes.holds(topic, format!("{room}: all of them."));
    }
    let days = time.into_iter().flat_map(|time| &time.days);
    let most = days.map(|day| day.bags.iter().fold(0, |sum: u64, bags| sum.saturating_add(bags.bags))).max();
    let (found, action) = match most {
        Some(most) if real(most) <= holds => (
            format!("{room} of {}: a day's bags, not all.", order.bags),
            "Bring the bags day by day, as the plan below has them.",
        ),
        _ => (
            format!("{room} of {}: not a day's work.", order.bags),
            "Find a dry place for more, or leave the bags on the truck.",
        ),
    };
    let status = if most.is_some_and(|most| real(most) <= holds) { Status::Holds } else { Status::FallsShort };
    notes.point(topic, status, found, action);
}
