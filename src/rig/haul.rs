//! Hauling: bags against the truck, the hopper and the dry storage on site.

use super::notes::Notes;
use super::time::DayBags;
use super::{Status, TimeFigures, Topic};
use crate::job::{Rig, Site};
use crate::takeoff::{FillTakeoff, Takeoff};
use crate::units::display_flow::trimmed;

/// Bags of all orders.
struct Order {
    bags: u64,
    mass_kg: f64,
    /// Volume of the bags; `None` where that of a bag is not given.
    volume_m3: Option<f64>,
    /// Volume of a bag of each fill, as far as it is given.
    bag_m3: Vec<(String, f64)>,
}

impl Order {
    /// Volume of the one bag that all fills have.
    fn only_bag_m3(&self) -> Option<f64> {
        let (_, first_m3) = self.bag_m3.first()?;
        let is_same = |(_, bag_m3): &(String, f64)| (bag_m3 - first_m3).abs() <= 1e-9 * first_m3;
        self.bag_m3.iter().all(is_same).then_some(*first_m3)
    }

    /// Volumes of bags in words: one, or one a fill.
    fn bag_words(&self, notes: &Notes) -> String {
        match (self.only_bag_m3(), self.bag_m3.as_slice()) {
            (Some(bag_m3), _) => notes.units.show_volume(bag_m3),
            (None, []) => "not given".to_owned(),
            (None, several) => {
                let words = several.iter().map(|(fill, m3)| format!("{fill} {}", notes.units.show_volume(*m3)));
                words.collect::<Vec<_>>().join(", ")
            }
        }
    }
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
    let Some(order) = order_of(&fills, rig) else {
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
fn order_of(fills: &[&FillTakeoff], rig: &Rig) -> Option<Order> {
    let each: Option<Vec<(u64, f64)>> = fills.iter().map(|fill| fill.bags_order.zip(fill.bag_kg)).collect();
    let each = each.filter(|each| !each.is_empty())?;
    let bags = each.iter().fold(0, |sum: u64, (bags, _)| sum.saturating_add(*bags));
    let mass_kg = each.iter().fold(0.0, |sum, (bags, bag_kg)| sum + real(*bags) * bag_kg);
    let of_bag = |fill: &&&FillTakeoff| Some((fill.name.clone(), rig.truck.bag_m3_of(&fill.name)?));
    let bag_m3: Vec<(String, f64)> = fills.iter().filter_map(|fill| of_bag(&fill)).collect();
    let is_known = bag_m3.len() == fills.len();
    let volume_m3 = each.iter().zip(&bag_m3).fold(0.0, |sum, ((bags, _), (_, m3))| sum + real(*bags) * m3);
    Some(Order { bags, mass_kg, volume_m3: is_known.then_some(volume_m3), bag_m3 })
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
    let volume_m3 = order.volume_m3;
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
    if truck.volume_m3.is_some() && volume_m3.is_none() {
        let found = "the size of a bag is not given: room in the truck is not checked.";
        notes.point(topic, Status::NotShown, found, "Write `bag_volume` of `truck`, such as `2.6 ft3`.");
    }
    let inputs = [
        ("bags", order.bags.to_string()),
        ("payload", truck.payload_kg.map_or_else(|| "not given".to_owned(), |kg| units.show_mass(kg))),
        ("volume", truck.volume_m3.map_or_else(|| "not given".to_owned(), |m3| units.show_volume(m3))),
        ("volume of a bag", order.bag_words(notes)),
    ];
    let formula = "the greater of mass / payload and volume / room, each rounded up";
    notes.step(topic, ["loads of the truck", &format!("{trips}"), formula], &inputs, "job file, order of the takeoff");
}

fn storage(order: &Order, rig: &Rig, site: &Site, time: Option<&TimeFigures>, notes: &mut Notes) {
    let Some((storage_m3, volume_m3)) = site.dry_storage_m3.zip(order.volume_m3) else { return };
    let (topic, units) = (Topic::Haul, notes.units);
    let holds = |bags_m3: f64| bags_m3 <= storage_m3 * (1.0 + 1e-9);
    let inputs = [("dry storage", units.show_volume(storage_m3)), ("volume of a bag", order.bag_words(notes))];
    let (room, all) = if let Some(bag_m3) = order.only_bag_m3() {
        let bags = trimmed((storage_m3 / bag_m3 + 1e-9).floor(), 0);
        let what = ["bags that the dry storage takes", &bags, "storage / bag, rounded down"];
        notes.step(topic, what, &inputs, "job file");
        (format!("dry storage of {} takes {bags} bags", units.show_volume(storage_m3)), order.bags.to_string())
    } else {
        let bags = units.show_volume(volume_m3);
        let what = ["volume of the bags", &bags, "sum of bags x volume of a bag, by fill"];
        notes.step(topic, what, &inputs, "job file, order of the takeoff");
        (format!("dry storage takes {}", units.show_volume(storage_m3)), bags)
    };
    if holds(volume_m3) {
        return notes.holds(topic, format!("{room}: all of them."));
    }
    let of_day = |bags: &[DayBags]| {
        bags.iter().fold(0.0, |sum, bags| sum + real(bags.bags) * rig.truck.bag_m3_of(&bags.fill).unwrap_or(0.0))
    };
    let days: Vec<f64> = time.into_iter().flat_map(|time| &time.days).map(|day| of_day(&day.bags)).collect();
    let takes_each_day = !days.is_empty() && days.iter().all(|bags_m3| holds(*bags_m3));
    let (status, found, action) = if takes_each_day {
        let found = format!("{room} of {all}: a day's bags, not all.");
        (Status::Holds, found, "Bring the bags day by day, as the plan below has them.")
    } else {
        let found = format!("{room} of {all}: not a day's work.");
        (Status::FallsShort, found, "Find a dry place for more, or leave the bags on the truck.")
    };
    notes.point(topic, status, found, action);
}
