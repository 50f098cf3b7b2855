//! What is left at the nozzle, by the blower's curve, and the hose checked by it.

use super::air::standard_pressure_pa;
use super::hose::{HoseFigures, LossRange, hose_figures, length_factors, pa_per_m, solids_multipliers};
use super::notes::Notes;
use super::{Status, Topic};
use crate::job::{CurvePoint, Hose, Rig, Site};
use crate::units::display_flow::{percent, trimmed};

/// Pressure that a blower gives at a flow, between the points of its curve; `None` beyond them.
pub fn curve_pressure_pa(curve: &[CurvePoint], flow_m3_s: f64) -> Option<f64> {
    let pairs = curve.iter().zip(curve.iter().skip(1));
    let (a, b) = pairs.into_iter().find(|(a, b)| (a.flow_m3_s..=b.flow_m3_s).contains(&flow_m3_s))?;
    let share = (flow_m3_s - a.flow_m3_s) / (b.flow_m3_s - a.flow_m3_s);
    Some(a.pressure_pa + share * (b.pressure_pa - a.pressure_pa))
}

/// Checks the hose; `required_pa` is the most that any fill needs.
pub(super) fn check(required_pa: Option<f64>, rig: &Rig, site: &Site, notes: &mut Notes) -> Option<HoseFigures> {
    let topic = Topic::Hose;
    let Some(hose) = &rig.hose else {
        notes.point(
            topic,
            Status::NotShown,
            "no hose is given.",
            "Write its lengths and diameters under `hose` of the rig.",
        );
        return None;
    };
    let Some(mut figures) = hose_figures(hose, site) else {
        let action = "Write the air that still flows while a bay is packed: `air_flow = \"60 ft3/min\"`.";
        notes.point(topic, Status::NotShown, "no flow of air is given: its friction is not known.", action);
        return None;
    };
    let outlet = outlet_pa(rig, site, figures.air_flow_m3_s);
    if let Some((least_pa, most_pa)) = outlet {
        let loss = figures.with_fill;
        let air_pa = standard_pressure_pa(site.altitude_m.unwrap_or(0.0));
        figures.denser_share = Some(1.0 - air_pa / (air_pa + most_pa));
        figures.nozzle = Some(LossRange { least_pa: least_pa - loss.most_pa, most_pa: most_pa - loss.least_pa });
        figures.longest_m = required_pa.and_then(|needed_pa| longest_m(hose, &figures, (least_pa, most_pa), needed_pa));
    }
    say(required_pa, rig, &figures, notes);
    explain(hose, rig, site, &figures, outlet, notes);
    Some(figures)
}

/// What the blower gives at its outlet, least and most: at the height of the house it may give less.
fn outlet_pa(rig: &Rig, site: &Site, flow_m3_s: f64) -> Option<(f64, f64)> {
    let pressure_pa = curve_pressure_pa(&rig.curve, flow_m3_s)?;
    let read_m = rig.gauge.as_ref().and_then(|gauge| gauge.altitude_m);
    let ratio = read_m
        .zip(site.altitude_m)
        .map_or(1.0, |(read_m, site_m)| (standard_pressure_pa(site_m) / standard_pressure_pa(read_m)).min(1.0));
    Some((pressure_pa * ratio, pressure_pa))
}

/// Longest hose, by the most and the least friction: its longest section longer or shorter, all else as it is.
fn longest_m(hose: &Hose, figures: &HoseFigures, outlet_pa: (f64, f64), needed_pa: f64) -> Option<[f64; 2]> {
    let factors = length_factors(hose);
    let multipliers = solids_multipliers(figures.solids_ratio);
    let longest = figures.sections.iter().max_by(|a, b| a.length_m.total_cmp(&b.length_m))?;
    let all_m = figures.sections.iter().fold(0.0, |sum, section| sum + section.length_m);
    let each = |outlet_pa: f64, loss_pa: f64, factor: f64, multiplier: f64| {
        let per_m = pa_per_m(longest, figures.air_density_kg_m3) * factor * multiplier;
        let spare_m = (outlet_pa - loss_pa - needed_pa) / per_m;
        (per_m > 0.0 && longest.length_m + spare_m >= 0.0).then_some(all_m + spare_m)
    };
    let most = each(outlet_pa.1, figures.with_fill.least_pa, factors.0, multipliers.0)?;
    let least = each(outlet_pa.0, figures.with_fill.most_pa, factors.1, multipliers.1);
    Some([least.unwrap_or(0.0), most])
}

fn say(required_pa: Option<f64>, rig: &Rig, figures: &HoseFigures, notes: &mut Notes) {
    let (topic, units) = (Topic::Hose, notes.units);
    let flow = units.show_air_flow(figures.air_flow_m3_s);
    let loss = units.show_loss_range(figures.with_fill.least_pa, figures.with_fill.most_pa);
    let Some(nozzle) = figures.nozzle else {
        let why = if rig.curve.is_empty() {
            "no curve of the blower is given"
        } else {
            "the blower's curve does not reach it"
        };
        let found = format!("the hose takes {loss} at {flow}; what is left at the nozzle is not known: {why}.");
        let action = "Read the blower's outlet at two flows or more, and write them under `curve` of the rig.";
        return notes.point(topic, Status::NotShown, found, action);
    };
    let range = units.show_loss_range(nozzle.least_pa.max(0.0), nozzle.most_pa.max(0.0));
    let found = format!("at {flow} the hose takes {loss} and leaves {range} at the nozzle");
    let Some(needed_pa) = required_pa else { return notes.holds(topic, format!("{found}.")) };
    let needed = units.show_loss(needed_pa);
    let longest =
        figures.longest_m.map(|[least_m, most_m]| (units.show_distance(least_m), units.show_distance(most_m)));
    let at_most = longest.map_or_else(
        || "Even without its longest section it would not: a wider hose or a stronger blower is needed.".to_owned(),
        |(least, most)| format!("By friction alone, which is rough, it still packs through {least} to {most} of hose."),
    );
    if nozzle.least_pa >= needed_pa {
        notes.point(topic, Status::Holds, format!("{found}; {needed} are needed."), &at_most);
    } else if nozzle.most_pa < needed_pa {
        let action = format!("{at_most} Shorten the hose, use a wider one, or move the machine closer.");
        notes.point(topic, Status::FallsShort, format!("{found}; {needed} are needed."), &action);
    } else {
        let action = format!("{at_most} Fill one bay at the far end and weigh what it takes, before going on.");
        let found = format!("{found}; {needed} are needed: it depends on the hose.");
        notes.point(topic, Status::NotShown, found, &action);
    }
}

fn explain(hose: &Hose, rig: &Rig, site: &Site, figures: &HoseFigures, outlet: Option<(f64, f64)>, notes: &mut Notes) {
    let (topic, units) = (Topic::Hose, notes.units);
    explain_air(site, figures, notes);
    for section in &figures.sections {
        let inputs = [
            ("inner diameter", units.show_section(section.diameter_m)),
            ("length", units.show_distance(section.length_m)),
            ("flow", units.show_air_flow(figures.air_flow_m3_s)),
            ("speed v", units.show_speed(section.speed_m_s)),
            ("Reynolds number", format!("{:.0}", section.reynolds_number)),
            ("roughness / diameter", trimmed(section.roughness_ratio, 6)),
            ("friction factor f", format!("{:.5}", section.friction_factor)),
        ];
        let value = units.show_loss(section.straight_pa);
        let source = "Darcy and Weisbach; f by Colebrook (1939), the turbulent part of the Moody chart";
        notes.step(topic, ["friction of a section, air alone, as pipe", &value, "f (L/D) rho v2/2"], &inputs, source);
    }
    let factors = length_factors(hose);
    let multipliers = solids_multipliers(figures.solids_ratio);
    let range = |a: String, b: String| if a == b { a } else { format!("{a} to {b}") };
    let losses = |loss: LossRange| units.show_loss_range(loss.least_pa, loss.most_pa);
    let inputs = [
        ("times its length", range(trimmed(factors.0, 2), trimmed(factors.1, 2))),
        ("reducers", units.show_loss(figures.reducers_pa)),
        ("bends", format!("{}, {}", hose.bends, losses(figures.bends))),
        ("air alone", losses(figures.air)),
        ("mass of fill / mass of air", format!("{:.3}", figures.solids_ratio)),
        ("1 + K x that, K 0.5 to 1.0", range(format!("{:.2}", multipliers.0), format!("{:.2}", multipliers.1))),
        ("lift of the fill", losses(figures.lift)),
    ];
    let formula = "(sections x length factor + bends + reducers) x (1 + K x ratio) + lift";
    let source = "guides to pneumatic conveying; ribbed hose is worth up to 5 times its length; a bend 40 diameters to 20 ft; \
                  reducers: Crane TP 410, from memory; K for cellulose was not found: rough";
    notes.step(topic, ["what the hose takes, with fill", &losses(figures.with_fill), formula], &inputs, source);
    if let Some(((least_pa, most_pa), nozzle)) = outlet.zip(figures.nozzle) {
        let points: Vec<String> = rig
            .curve
            .iter()
            .map(|p| format!("{} at {}", units.show_loss(p.pressure_pa), units.show_air_flow(p.flow_m3_s)))
            .collect();
        let outlet = units.show_loss_range(least_pa, most_pa);
        let inputs = [("curve", points.join(", ")), ("at this flow, straight between points", outlet)];
        notes.step(topic, ["left at the nozzle", &losses(nozzle), "curve - what the hose takes"], &inputs, "job file");
    }
}

fn explain_air(site: &Site, figures: &HoseFigures, notes: &mut Notes) {
    let or = |given: bool| if given { "job file" } else { "not given" };
    let kelvin = site.air_k.unwrap_or(super::hose::AIR_K);
    let inputs = [
        (
            "height above the sea",
            format!(
                "{} ({})",
                notes.units.show_distance(site.altitude_m.unwrap_or(0.0)),
                or(site.altitude_m.is_some())
            ),
        ),
        ("temperature", format!("{:.2} K ({})", kelvin, or(site.air_k.is_some()))),
        ("viscosity", format!("{:.3e} Pa s", figures.viscosity_pa_s)),
    ];
    let value = format!("{:.3} kg/m3", figures.air_density_kg_m3);
    let by = figures.denser_share.map_or_else(String::new, |share| format!(" by up to {}", percent(share)));
    let source = format!(
        "U.S. Standard Atmosphere, 1976; the pressure within the hose, which makes air denser and lowers its friction{by}, is \
         left out"
    );
    notes.step(Topic::Hose, ["density of the air", &value, "p / (R T)"], &inputs, &source);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_curve_says_nothing_beyond_its_points() {
        let point = |flow_m3_s: f64, pressure_pa: f64| CurvePoint { flow_m3_s, pressure_pa };
        let curve = [point(0.0, 300.0), point(0.1, 200.0), point(0.2, 50.0)];
        assert_eq!(curve_pressure_pa(&curve, 0.05), Some(250.0));
        assert_eq!(curve_pressure_pa(&curve, 0.2), Some(50.0));
        assert_eq!([curve_pressure_pa(&curve, 0.3), curve_pressure_pa(&[], 0.1)], [None, None]);
    }
}
