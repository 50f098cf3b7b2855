//! Generator: what it must give while motors run and while one starts, and where it stands.

use super::load::CONTINUOUS;
use super::notes::Notes;
use super::power::voltage_v;
use super::{Status, Topic};
use crate::job::{Load, Rig, Site};
use crate::units::FOOT_M;
use crate::units::display_flow::{kilowatts, volts};

/// What a motor takes while it starts, by what it takes while it runs: common practice, no source.
const START: f64 = 3.0;
/// What a generator loses of its power in 1000 ft of height: 3 to 4 %, from memory; the greater.
const LOSS_PER_1000_FT: f64 = 0.04;
/// Least distance from doors, windows and vents: US Consumer Product Safety Commission, from memory.
const LEAST_DISTANCE_M: f64 = 20.0 * FOOT_M;

/// Power that loads need as long as they run, and while the one with the greatest surge starts last, in watts.
pub fn generator_power_w(loads: &[&Load], voltage_v: f64) -> (f64, f64) {
    let running_a = loads.iter().fold(0.0, |sum, load| sum + load.current_a);
    let surge = |load: &&Load| load.start_a.unwrap_or(START * load.current_a) - load.current_a;
    let greatest_a = loads.iter().map(surge).fold(0.0, f64::max);
    let steady =
        loads.iter().fold(0.0, |sum, load| sum + load.current_a * if load.is_continuous { CONTINUOUS } else { 1.0 });
    (steady * voltage_v, (running_a + greatest_a) * voltage_v)
}

/// Checks the generator, where there is one.
pub(super) fn check(rig: &Rig, site: &Site, notes: &mut Notes) {
    let Some(generator) = &rig.generator else { return };
    let topic = Topic::Power;
    let loads: Vec<&Load> = rig.circuits.iter().flat_map(|circuit| &circuit.loads).collect();
    let (steady_w, start_w) = generator_power_w(&loads, voltage_v(rig));
    let height_ft = site.altitude_m.unwrap_or(0.0) / FOOT_M;
    let left = (1.0 - LOSS_PER_1000_FT * height_ft / 1000.0).max(0.0);
    let given = (generator.power_w * left, generator.start_power_w.unwrap_or(generator.power_w) * left);
    let found = format!(
        "the generator gives {} and {} for a moment; the motors need {} and {} while the largest starts",
        kilowatts(given.0),
        kilowatts(given.1),
        kilowatts(steady_w),
        kilowatts(start_w)
    );
    if given.0 < steady_w || given.1 < start_w {
        let action = format!(
            "Bring a generator that gives {} and {} for a moment at this height, or run fewer motors on it.",
            kilowatts(steady_w),
            kilowatts(start_w)
        );
        notes.point(topic, Status::FallsShort, format!("{found}."), &action);
    } else {
        notes.holds(topic, format!("{found}."));
    }
    let inputs = [
        ("voltage", volts(voltage_v(rig))),
        ("largest surge", "that of its plate, else 3 x what it takes running (common practice, no source)".to_owned()),
        ("left at this height", format!("{:.0} % (4 % less every 1000 ft, from memory)", left * 100.0)),
    ];
    let value = format!("{} running, {} starting", kilowatts(steady_w), kilowatts(start_w));
    let formula = "voltage x (1.25 x continuous + the rest); voltage x (all running + largest surge)";
    let source = "NEC 210.20(A) for the 125 %; surge and height: as marked";
    notes.step(topic, ["power that a generator must give", &value, formula], &inputs, source);
    check_place(rig, notes);
}

fn check_place(rig: &Rig, notes: &mut Notes) {
    let Some(generator) = &rig.generator else { return };
    let topic = Topic::Power;
    let least = notes.units.show_distance(LEAST_DISTANCE_M);
    let action = format!("Run it outdoors only, {least} or more from doors, windows and vents: its exhaust kills.");
    let is_near = generator.distance_m.is_some_and(|distance_m| distance_m < LEAST_DISTANCE_M);
    if generator.is_outdoors == Some(false) || is_near {
        let place = if is_near { "too close to the house" } else { "indoors" };
        notes.point(topic, Status::FallsShort, format!("the generator stands {place}."), &action);
    } else if generator.is_outdoors.is_none() || generator.distance_m.is_none() {
        let found = if generator.is_outdoors.is_none() {
            "nobody says where the generator stands."
        } else {
            "nobody says how far from the house the generator stands."
        };
        notes.point(topic, Status::NotShown, found, &action);
    }
}
