//! Pressure: what was measured against what each fill needs.

use super::air::standard_pressure_pa;
use super::needs::Need;
use super::notes::Notes;
use super::{Status, Topic};
use crate::job::{Gauge, GaugeAt, Rig, Site};
use crate::units::{INCH_WATER_4C_PA, INCH_WATER_60F_PA, UnitSystem};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Pressure that dense-packed cellulose needs at the end of the hose, in pascals: 80 in. w.c. or 2.9 psi, which agree to
/// rounding; the former, water at 4 °C, is 2.890 psi.
///
/// # Source
/// US Standard Work Specifications 4.1101.5, by the numbers of the edition that numbers its details so.
pub const CELLULOSE_PA: f64 = 80.0 * INCH_WATER_4C_PA;

/// Where that comes from.
pub const CELLULOSE_SOURCE: &str = "US Standard Work Specifications 4.1101.5 (edition that numbers wall details 4.1103): \
                                    80 in. w.c. or 2.9 psi at the hose outlet, air at its highest, feed off, gate closed";

/// An inch of water at 60 F by one at 4 °C: nobody says which of them a gauge shows, and the specification does not either. Its
/// 2.9 psi are 80.3 in. w.c., so that they lower nothing.
const WATER_RATIO: f64 = INCH_WATER_60F_PA / INCH_WATER_4C_PA;

const HOW: &str = "at the hose end, air at its highest, feed off, gate closed";

/// Pressure that was measured, and what is needed.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PressureFigures {
    /// The reading; null where there is none.
    pub measured_pa: Option<f64>,
    /// What of it is left at the height of the work, at the least.
    pub at_site_pa: Option<f64>,
    /// Pressure of the air at the place of the work, by the standard atmosphere.
    pub air_pa: f64,
    /// What each fill needs at each depth.
    pub needs: Vec<PressureNeed>,
}

/// What a fill needs at a depth.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PressureNeed {
    /// Name of the fill.
    pub fill: String,
    /// Depth of the bays; null without a takeoff.
    pub depth_m: Option<f64>,
    /// Density that they take.
    pub density_kg_m3: f64,
    /// Mass that goes into them.
    pub mass_kg: f64,
    /// Pressure that it needs; null where nobody says.
    pub required_pa: Option<f64>,
    /// Where that comes from.
    pub source: String,
    /// How it turned out.
    pub status: Status,
}

/// Least that the blower gives at the place of the work by the reading elsewhere: a fan's pressure falls with the
/// density of the air; nothing is gained lower down.
fn at_site_pa(gauge: &Gauge, site: &Site) -> f64 {
    let heights = gauge.altitude_m.zip(site.altitude_m);
    let ratio = heights.map_or(1.0, |(read_m, site_m)| standard_pressure_pa(site_m) / standard_pressure_pa(read_m));
    gauge.pressure_pa * ratio.min(1.0)
}

/// What a fill needs, and where that comes from. Of cellulose the greater of the maker's and the specification's.
fn required(need: &Need, rig: &Rig) -> (Option<f64>, String) {
    let makers = rig.required.iter().find(|(fill, _)| *fill == need.fill).map(|(_, pressure_pa)| *pressure_pa);
    match (makers, need.is_cellulose) {
        (Some(makers_pa), true) if makers_pa > CELLULOSE_PA => (Some(makers_pa), "job file, from the maker".to_owned()),
        (_, true) => (Some(CELLULOSE_PA), CELLULOSE_SOURCE.to_owned()),
        (Some(makers_pa), false) => (Some(makers_pa), "job file, from the maker".to_owned()),
        (None, false) => (None, "not given: only the maker says".to_owned()),
    }
}

/// What the reading shows of one need.
fn judge(required_pa: f64, gauge: &Gauge, at_site_pa: f64) -> Status {
    let reaches = |pressure_pa: f64| pressure_pa >= required_pa * WATER_RATIO * (1.0 - 1e-9);
    let reads_low = [gauge.is_feed_off, gauge.is_gate_closed, gauge.is_air_highest].contains(&Some(false));
    if !reaches(gauge.pressure_pa) {
        return if reads_low { Status::NotShown } else { Status::FallsShort };
    }
    let is_as_asked = is_at_end(gauge)
        && [gauge.is_feed_off, gauge.is_gate_closed, gauge.is_air_highest].iter().all(|way| *way == Some(true));
    if reaches(at_site_pa) && is_as_asked { Status::Holds } else { Status::NotShown }
}

fn is_at_end(gauge: &Gauge) -> bool {
    gauge.at == Some(GaugeAt::HoseEnd)
}

/// Checks the pressure.
pub(super) fn check(needs: &[Need], rig: &Rig, site: &Site, notes: &mut Notes) -> PressureFigures {
    let units = notes.units;
    let air_pa = standard_pressure_pa(site.altitude_m.unwrap_or(0.0));
    let left_pa = rig.gauge.as_ref().map(|gauge| at_site_pa(gauge, site));
    let mut figures = PressureFigures {
        measured_pa: rig.gauge.as_ref().map(|gauge| gauge.pressure_pa),
        at_site_pa: left_pa,
        air_pa,
        needs: Vec::new(),
    };
    for need in needs {
        let (required_pa, source) = required(need, rig);
        let status = match (required_pa, &rig.gauge, left_pa) {
            (Some(required_pa), Some(gauge), Some(left_pa)) => judge(required_pa, gauge, left_pa),
            _ => Status::NotShown,
        };
        figures.needs.push(PressureNeed {
            fill: need.fill.clone(),
            depth_m: need.depth_m,
            density_kg_m3: need.density_kg_m3,
            mass_kg: need.mass_kg,
            required_pa,
            source,
            status,
        });
    }
    for fill in fills_of(&figures.needs) {
        if let Some(worst) = figures.needs.iter().filter(|need| need.fill == fill).max_by_key(|need| need.status) {
            say(worst, rig, &figures, notes);
        }
    }
    check_finish(&figures, site, notes);
    explain(&figures, rig, site, units, notes);
    figures
}

/// Names of the fills, each once.
fn fills_of(needs: &[PressureNeed]) -> Vec<String> {
    let mut names: Vec<String> = needs.iter().map(|need| need.fill.clone()).collect();
    names.dedup();
    names
}

/// Says how one fill turned out.
fn say(need: &PressureNeed, rig: &Rig, figures: &PressureFigures, notes: &mut Notes) {
    let (topic, units, fill) = (Topic::Pressure, notes.units, &need.fill);
    let Some(required_pa) = need.required_pa else {
        let found = format!("{fill}: nobody says what pressure it needs.");
        let action = format!(
            "Ask the maker of the {fill} what pressure it needs, and write it under `required` of the rig, such as \
             `\"{fill}\" = \"2 psi\"`."
        );
        return notes.point(topic, Status::NotShown, found, &action);
    };
    let needed = units.show_pressure(required_pa);
    let Some((gauge, left_pa)) = rig.gauge.as_ref().zip(figures.at_site_pa) else {
        let found = format!("{fill} needs {needed}; no gauge reading is given.");
        return notes.point(topic, Status::NotShown, found, &format!("Read the gauge {HOW}."));
    };
    let read = units.show_pressure(gauge.pressure_pa);
    match need.status {
        Status::Holds => notes.holds(topic, format!("{fill} needs {needed}; the gauge reads {read}.")),
        Status::FallsShort => {
            let found = format!("{fill} needs {needed}; the gauge reads only {read}: too weak to pack it.");
            let weak = "Do not pack with it as it is. Look for leaks in hose and couplings, clogged filters, a worn \
                        seal and low voltage, and read the gauge again; else bring a stronger blower.";
            notes.point(topic, Status::FallsShort, found, weak);
        }
        Status::NotShown => {
            let why = why_not_shown(gauge, required_pa, left_pa, units);
            let found = format!("{fill} needs {needed}; the gauge reads {read}, but {why}.");
            notes.point(topic, Status::NotShown, found, &format!("Read it again on site {HOW}."));
        }
    }
}

/// Why a reading shows nothing.
fn why_not_shown(gauge: &Gauge, required_pa: f64, left_pa: f64, units: UnitSystem) -> String {
    let ways = [
        (gauge.is_feed_off, "fill was fed", "whether the feed was off"),
        (gauge.is_gate_closed, "the gate was open", "whether the gate was closed"),
        (gauge.is_air_highest, "the air was not at its highest", "whether the air was at its highest"),
    ];
    let mut wrong: Vec<String> =
        ways.iter().filter(|(way, ..)| *way == Some(false)).map(|(_, wrong, _)| (*wrong).to_owned()).collect();
    match gauge.at {
        Some(GaugeAt::BlowerOutlet) => wrong.push("it was read at the blower".to_owned()),
        Some(GaugeAt::HoseEnd) => {}
        None => wrong.push("nobody says where it was read".to_owned()),
    }
    let unsaid: Vec<&str> = ways.iter().filter(|(way, ..)| way.is_none()).map(|(.., unsaid)| *unsaid).collect();
    if !unsaid.is_empty() {
        wrong.push(format!("nobody says {}", unsaid.join(" or ")));
    }
    if left_pa < required_pa && left_pa < gauge.pressure_pa {
        wrong.push(format!("at the height of the house it may give only {}", units.show_pressure(left_pa)));
    }
    wrong.join(", and ")
}

/// Holds what the walls stand against what is needed and what there is.
fn check_finish(figures: &PressureFigures, site: &Site, notes: &mut Notes) {
    let Some(limit_pa) = site.finish_limit_pa else { return };
    let limit = notes.units.show_pressure(limit_pa);
    let needed_pa = figures.needs.iter().filter_map(|need| need.required_pa).fold(0.0, f64::max);
    if needed_pa > limit_pa {
        let found = format!("the finish stands {limit}, less than the fill needs.");
        let action = "Do not pack these walls behind this finish: open them, or choose another way to fill them.";
        notes.point(Topic::Pressure, Status::FallsShort, found, action);
    } else if figures.measured_pa.is_some_and(|measured_pa| measured_pa > limit_pa) {
        let found = format!("the finish stands {limit}, less than the blower gives.");
        let action = format!("Turn the air down below {limit} at the hose end, fill one bay, and watch the wall.");
        notes.point(Topic::Pressure, Status::Holds, found, &action);
    }
}

fn explain(figures: &PressureFigures, rig: &Rig, site: &Site, units: UnitSystem, notes: &mut Notes) {
    let topic = Topic::Pressure;
    for fill in fills_of(&figures.needs) {
        let own: Vec<&PressureNeed> = figures.needs.iter().filter(|need| need.fill == fill).collect();
        let Some((first, required_pa)) = own.first().and_then(|first| Some((first, first.required_pa?))) else {
            continue;
        };
        let depths: Vec<String> = own.iter().filter_map(|need| need.depth_m).map(|m| units.show_section(m)).collect();
        let inputs = [("depths of the bays", if depths.is_empty() { "any".to_owned() } else { depths.join(", ") })];
        let what = format!("pressure that {fill} needs");
        let formula = "as published; the same at every depth and height";
        notes.step(topic, [&what, &units.show_pressure(required_pa), formula], &inputs, &first.source);
    }
    if let Some((gauge, left_pa)) = rig.gauge.as_ref().zip(figures.at_site_pa) {
        let height =
            |height_m: Option<f64>| height_m.map_or_else(|| "not given".to_owned(), |m| units.show_distance(m));
        let inputs = [
            ("reading", format!("{} = {}", gauge.text, units.show_pressure(gauge.pressure_pa))),
            ("inches of water", "at 4 C unless the reading says 60 F".to_owned()),
            ("read at a height of", height(gauge.altitude_m)),
            ("height of the house", height(site.altitude_m)),
            ("air at the house", format!("{:.0} Pa", figures.air_pa)),
        ];
        let formula = "reading x air pressure at the house / where it was read, never more than the reading";
        let source = "a fan's pressure falls with the density of air: fan laws, from memory; air: U.S. Standard Atmosphere, 1976";
        notes.step(topic, ["least pressure at the house", &units.show_pressure(left_pa), formula], &inputs, source);
    }
}
