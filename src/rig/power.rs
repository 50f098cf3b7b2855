//! Power: circuits, cords, generator.

use super::cord::{
    ADVISED_DROP, MOST_DROP, cord_capacity_a, length_at_drop_m, resistance_ohm_per_m, thinnest_awg, voltage_drop_v,
};
use super::load::{breaker_load_a, is_carried, names, running_a, split_in_two, standard_breaker_a};
use super::notes::Notes;
use super::{Status, Topic};
use crate::job::{Circuit, Leg, Load, Rig, Site};
use crate::units::display_flow::{amperes, percent, trimmed, volts};
use crate::units::{FOOT_M, UnitSystem};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Voltage where nobody gives it: nominal, NEC 220.5(A), from memory.
const VOLTAGE_V: f64 = 120.0;
const CORD_SOURCE: &str = "resistance: NEC chapter 9, table 8, stranded uncoated copper at 75 C; capacity, uncoiled: NEC \
                           400.5, from memory; 3 % and 5 % are advice of informational notes, from memory, no rules";

/// A cord with what runs on it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CordFigures {
    /// What runs on it.
    pub loads: Vec<String>,
    /// Current while all of it runs.
    pub running_a: f64,
    /// Size that its breaker must have: 125 % of what is continuous, and the rest.
    pub breaker_load_a: f64,
    /// Its breaker.
    pub breaker_a: f64,
    /// Wire size, AWG; null where nobody gives it.
    pub awg: Option<u8>,
    /// What it carries, uncoiled.
    pub capacity_a: Option<f64>,
    /// Voltage drop along it.
    pub drop_v: Option<f64>,
    /// The same as a share of the voltage.
    pub drop_share: Option<f64>,
    /// Voltage that is left at the motor.
    pub motor_v: Option<f64>,
    /// Length at which the drop is 3 %.
    pub advised_length_m: Option<f64>,
}

/// Voltage of the rig.
pub(super) fn voltage_v(rig: &Rig) -> f64 {
    rig.voltage_v.unwrap_or(VOLTAGE_V)
}

/// Checks circuits, cords and generator.
pub(super) fn check(rig: &Rig, site: &Site, notes: &mut Notes) -> Vec<CordFigures> {
    if rig.circuits.is_empty() {
        let action = "Write the currents of blower, agitator, vacuum and lights under `circuit` of the rig, from their \
                      plates or measured.";
        notes.point(Topic::Power, Status::NotShown, "no circuit is given.", action);
        return Vec::new();
    }
    let is_seen = rig.circuits.len() == 1 || rig.circuits.iter().all(|circuit| circuit.panel_breaker.is_some());
    for circuits in breakers(rig, is_seen) {
        check_breaker(&circuits, is_seen, notes);
    }
    let cords: Vec<CordFigures> = rig.circuits.iter().map(|circuit| figures(circuit, voltage_v(rig))).collect();
    for (circuit, cord) in rig.circuits.iter().zip(&cords) {
        check_cord(circuit, cord, rig, notes);
    }
    check_unsaid(rig, notes);
    check_legs(rig, notes);
    super::generator::check(rig, site, notes);
    cords
}

/// Circuits that hang on one breaker together; all of them where somebody has not looked at the panel.
fn breakers(rig: &Rig, is_seen: bool) -> Vec<Vec<&Circuit>> {
    let mut all: Vec<Vec<&Circuit>> = Vec::new();
    for circuit in &rig.circuits {
        let is_same = |group: &&mut Vec<&Circuit>| {
            !is_seen || group.iter().any(|other| other.panel_breaker == circuit.panel_breaker)
        };
        match all.iter_mut().find(is_same) {
            Some(group) => group.push(circuit),
            None => all.push(vec![circuit]),
        }
    }
    all
}

fn check_breaker(circuits: &[&Circuit], is_seen: bool, notes: &mut Notes) {
    let topic = Topic::Power;
    let loads: Vec<&Load> = circuits.iter().flat_map(|circuit| &circuit.loads).collect();
    let breaker_a = circuits.iter().map(|circuit| circuit.breaker_a).fold(f64::INFINITY, f64::min);
    let (running, needed_a) = (amperes(running_a(loads.iter().copied())), breaker_load_a(loads.iter().copied()));
    let what = names(&loads);
    explain_breaker(&loads, breaker_a, notes);
    let breaker = amperes(breaker_a);
    let found =
        format!("{what}: {running} together, which asks for a breaker of {}; theirs is {breaker}", amperes(needed_a));
    if is_carried(breaker_a, loads.iter().copied()) {
        let found =
            format!("{what}: {running}, which asks for a breaker of {}; {breaker} is enough.", amperes(needed_a));
        return notes.holds(topic, found);
    }
    let each_alone = circuits.iter().all(|circuit| is_carried(circuit.breaker_a, &circuit.loads));
    if circuits.len() > 1 && !is_seen && each_alone {
        let found = format!("{found}, unless each cord hangs on its own.");
        let action =
            "Look in the panel: two cords are two circuits only on two breakers. Write which under `panel_breaker`.";
        return notes.point(topic, Status::NotShown, found, action);
    }
    let action = match split_in_two(breaker_a, &loads) {
        Some([first, second]) => format!(
            "Do not run them on one circuit for long. Two circuits of {breaker}: {} on one, {} on the other, each with its own breaker.",
            names(&first),
            names(&second)
        ),
        None => standard_breaker_a(needed_a).map_or_else(
            || "Ask an electrician for a supply of its own, or bring a generator.".to_owned(),
            |size_a| {
                format!("A circuit of {} is needed, or fewer motors at once: ask an electrician.", amperes(size_a))
            },
        ),
    };
    notes.point(topic, Status::FallsShort, format!("{found}: too small for hours on end."), &action);
}

/// What a cord does.
pub(super) fn figures(circuit: &Circuit, voltage_v: f64) -> CordFigures {
    let running_a = running_a(&circuit.loads);
    let drop_v = circuit
        .cord_awg
        .zip(circuit.cord_length_m)
        .and_then(|(awg, length_m)| voltage_drop_v(awg, length_m, running_a));
    CordFigures {
        loads: circuit.loads.iter().map(|load| load.what.clone()).collect(),
        running_a,
        breaker_load_a: breaker_load_a(&circuit.loads),
        breaker_a: circuit.breaker_a,
        awg: circuit.cord_awg,
        capacity_a: circuit.cord_awg.and_then(cord_capacity_a),
        drop_v,
        drop_share: drop_v.map(|drop_v| drop_v / voltage_v),
        motor_v: drop_v.map(|drop_v| voltage_v - drop_v),
        advised_length_m: circuit.cord_awg.and_then(|awg| length_at_drop_m(awg, running_a, voltage_v, ADVISED_DROP)),
    }
}

/// Checks a cord. What may burn or kill is said whatever its load, and whether or not its size is known.
fn check_cord(circuit: &Circuit, cord: &CordFigures, rig: &Rig, notes: &mut Notes) {
    check_load(circuit, cord, rig, notes);
    let what = cord.loads.join(", ");
    let name = match cord.awg.zip(circuit.cord_length_m) {
        Some((awg, length_m)) => cord_name(awg, length_m, &what, notes.units),
        None => format!("the cord of {what}"),
    };
    if circuit.is_coiled == Some(true) {
        let found = format!("{name} is partly coiled, where it cannot get rid of its heat.");
        notes.point(Topic::Power, Status::FallsShort, found, "Uncoil all of it.");
    }
    if circuit.has_ground_fault == Some(false) {
        let action = "Put a ground-fault circuit interrupter at the start of the cord (NEC 590.6, from memory).";
        notes.point(Topic::Power, Status::FallsShort, format!("{name} has no ground-fault protection."), action);
    }
}

fn cord_name(awg: u8, length_m: f64, what: &str, units: UnitSystem) -> String {
    format!("{} of {awg} AWG for {what}", units.show_distance(length_m))
}

/// What a cord carries, and what it loses on the way.
fn check_load(circuit: &Circuit, cord: &CordFigures, rig: &Rig, notes: &mut Notes) {
    let (topic, units, what) = (Topic::Power, notes.units, cord.loads.join(", "));
    let (Some(awg), Some(capacity_a), Some(length_m)) = (cord.awg, cord.capacity_a, circuit.cord_length_m) else {
        let found = format!("the cord of {what} is not known.");
        return notes.point(
            topic,
            Status::NotShown,
            found,
            "Write `cord` (`12 AWG`) and `cord_length` of each circuit.",
        );
    };
    explain_cord(circuit, cord, rig, notes);
    let name = cord_name(awg, length_m, &what, units);
    let better = thinnest_awg(length_m, cord.running_a, voltage_v(rig));
    let thicker = better.map_or_else(
        || "Move the machine closer to its supply.".to_owned(),
        |better| format!("Take {better} AWG at this length, or move the machine closer."),
    );
    let thicker = match on_its_own(circuit, length_m, rig) {
        Some((what, awg)) => format!("{thicker} On a circuit and cord of its own, {what} takes {awg} AWG."),
        None => thicker,
    };
    if cord.running_a > capacity_a {
        let found =
            format!("{name}: {} is more than its {} (NEC 400.5).", amperes(cord.running_a), amperes(capacity_a));
        return notes.point(topic, Status::FallsShort, found, &thicker);
    }
    let (Some(drop_v), Some(share), Some(motor_v)) = (cord.drop_v, cord.drop_share, cord.motor_v) else { return };
    let found = format!("{name} loses {} ({}): {} at the motor.", volts(drop_v), percent(share), volts(motor_v));
    if share > MOST_DROP {
        let action = format!("{thicker} A motor on low voltage turns slowly, and packs too loosely.");
        notes.point(topic, Status::FallsShort, found, &action);
    } else if share > ADVISED_DROP {
        notes.point(topic, Status::Holds, found, &format!("Better: {}", lower_first(&thicker)));
    } else {
        notes.holds(topic, found);
    }
}

/// What the greatest load of an overloaded circuit would take for a cord of its own, where the loads can be parted.
fn on_its_own(circuit: &Circuit, length_m: f64, rig: &Rig) -> Option<(String, u8)> {
    let loads: Vec<&Load> = circuit.loads.iter().collect();
    if is_carried(circuit.breaker_a, &circuit.loads) {
        return None;
    }
    split_in_two(circuit.breaker_a, &loads)?;
    let greatest = loads.iter().max_by(|a, b| a.current_a.total_cmp(&b.current_a))?;
    Some((greatest.what.clone(), thinnest_awg(length_m, greatest.current_a, voltage_v(rig))?))
}

fn lower_first(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

/// What must be looked at on site, in one point.
fn check_unsaid(rig: &Rig, notes: &mut Notes) {
    let with_cord = || rig.circuits.iter().filter(|circuit| circuit.cord_awg.is_some());
    let mut unsaid = Vec::new();
    if with_cord().any(|circuit| circuit.is_coiled.is_none()) {
        unsaid.push("all cords are uncoiled");
    }
    if with_cord().any(|circuit| circuit.has_ground_fault.is_none()) {
        unsaid.push("they have ground-fault protection");
    }
    if !unsaid.is_empty() {
        let found = format!("nobody says whether {}.", unsaid.join(" and whether "));
        notes.point(
            Topic::Power,
            Status::NotShown,
            found,
            "Look, and write `coiled` and `ground_fault` of each circuit.",
        );
    }
}

fn explain_breaker(loads: &[&Load], breaker_a: f64, notes: &mut Notes) {
    let needed_a = breaker_load_a(loads.iter().copied());
    let mut inputs: Vec<(&str, String)> = Vec::new();
    for load in loads {
        let kind = if load.is_continuous { "continuous" } else { "not continuous" };
        inputs.push((load.what.as_str(), format!("{} ({kind})", amperes(load.current_a))));
    }
    inputs.push(("breaker", amperes(breaker_a)));
    let what = format!("breaker that {} need", names(loads));
    let formula = "1.25 x continuous (3 h or more) + the rest";
    let source = "NEC 210.19(A)(1) and 210.20(A)";
    notes.step(Topic::Power, [&what, &amperes(needed_a), formula], &inputs, source);
}

fn explain_cord(circuit: &Circuit, cord: &CordFigures, rig: &Rig, notes: &mut Notes) {
    let (Some(awg), Some(length_m), Some(drop_v)) = (cord.awg, circuit.cord_length_m, cord.drop_v) else { return };
    let units = notes.units;
    let ohm_per_m = resistance_ohm_per_m(awg).unwrap_or(0.0);
    let resistance = match units {
        UnitSystem::Us => format!("{} ohm per 1000 ft", trimmed(ohm_per_m * 1000.0 * FOOT_M, 3)),
        UnitSystem::Si => format!("{} ohm per km", trimmed(ohm_per_m * 1000.0, 3)),
    };
    let given = if rig.voltage_v.is_some() { "job file" } else { "not given: nominal" };
    let inputs = [
        ("length L", units.show_distance(length_m)),
        ("current I", amperes(cord.running_a)),
        ("resistance R of a conductor", format!("{resistance}, {awg} AWG")),
        ("voltage", format!("{} ({given})", volts(voltage_v(rig)))),
        ("capacity", cord.capacity_a.map(amperes).unwrap_or_default()),
        ("length at 3 %", cord.advised_length_m.map(|m| units.show_distance(m)).unwrap_or_default()),
    ];
    let what = format!("voltage drop of the cord of {}", cord.loads.join(", "));
    notes.step(Topic::Power, [&what, &volts(drop_v), "2 L I R"], &inputs, CORD_SOURCE);
}

/// Currents by the legs of a 120/240 V service, where the job file says which circuit is on which.
fn check_legs(rig: &Rig, notes: &mut Notes) {
    let mut words = Vec::new();
    for (leg, name) in [(Leg::A, "current on leg A"), (Leg::B, "current on leg B")] {
        let own: Vec<&Load> =
            rig.circuits.iter().filter(|circuit| circuit.leg == Some(leg)).flat_map(|circuit| &circuit.loads).collect();
        if own.is_empty() {
            continue;
        }
        let inputs: Vec<(&str, String)> =
            own.iter().map(|load| (load.what.as_str(), amperes(load.current_a))).collect();
        let total = amperes(running_a(own.iter().copied()));
        notes.step(Topic::Power, [name, &total, "sum of what runs on it"], &inputs, "job file");
        words.push(format!("{total} on leg {leg:?}"));
    }
    if !words.is_empty() {
        notes.holds(Topic::Power, format!("{}.", words.join(", ")));
    }
}
