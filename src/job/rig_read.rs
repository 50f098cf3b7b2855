//! From `[rig.NAME]` and `[site]` as they are written to plain data; what cannot be is refused at its place.

use super::reader::Reader;
use super::rig::{CurvePoint, Gauge, GaugeAt, Hose, HoseSection, Rig, Site, TrialBox, Truck};
use super::rig_circuits::{read_circuits, read_generator};
use super::rig_file::{CurvePointFile, GaugeFile, HoseFile, RigFile, SiteFile, TrialBoxFile, TruckFile};
use crate::units::{
    CUBIC_FOOT_M3, INCH_M, POUND_KG, Quantity, parse_air_flow, parse_length, parse_mass, parse_mass_flow,
    parse_pressure, parse_temperature, parse_voltage, parse_volume,
};
use std::collections::BTreeMap;
use toml::Spanned;

/// Highest place of work; more is a slip.
const HIGHEST_M: f64 = 6000.0;
/// Least and greatest inner diameter of a hose.
const DIAMETERS_M: (f64, f64) = (0.5 * INCH_M, 12.0 * INCH_M);
/// Longest hose, and greatest height of a nozzle above its blower.
const LONGEST_M: f64 = 1000.0;
/// Least and greatest flow of air through a hose: 1 and 10,000 ft3/min.
const FLOWS_M3_S: (f64, f64) = (CUBIC_FOOT_M3 / 60.0, 10_000.0 * CUBIC_FOOT_M3 / 60.0);
/// Most pressure that a blower of loose fill could have: what is read as more is a slip.
const MOST_PA: f64 = 200_000.0;
/// How far a scale and a tape may be off where nobody says: common practice, no source.
const SCALE_KG: f64 = 0.1 * POUND_KG;
const TAPE_M: f64 = INCH_M / 16.0;

type Text = Option<Spanned<String>>;

/// Reads a quantity where it is given.
pub(super) fn given(
    text: &Text,
    parse: impl Fn(&str) -> Result<Quantity, String>,
    reader: &mut Reader<'_>,
) -> Option<f64> {
    reader.quantity(text.as_ref()?, parse).map(|quantity| quantity.si)
}

/// Reads the place of the work.
pub(super) fn read_site(file: &SiteFile, reader: &mut Reader<'_>) -> Site {
    if let Some(built) = &file.built
        && !(1000..=2200).contains(built.get_ref())
    {
        reader.refuse(built.span(), format!("`built` is {}: expected a year such as 1962", built.get_ref()), "");
    }
    Site {
        altitude_m: altitude(&file.altitude, reader),
        air_k: given(&file.air, parse_temperature, reader),
        built: file.built.as_ref().map(|built| *built.get_ref()),
        dry_storage_m3: given(&file.dry_storage, parse_volume, reader),
        finish_limit_pa: given(&file.finish_limit, parse_pressure, reader),
    }
}

/// Reads a height above the sea; `0` is the sea's own.
fn altitude(text: &Text, reader: &mut Reader<'_>) -> Option<f64> {
    length(text.as_ref()?, 0.0, HIGHEST_M, "a height above the sea", reader)
}

/// Reads a length within limits, both included.
pub(super) fn length(
    text: &Spanned<String>,
    least_m: f64,
    most_m: f64,
    what: &str,
    reader: &mut Reader<'_>,
) -> Option<f64> {
    match parse_length(text.get_ref(), None, false) {
        Ok(length_m) if (least_m..=most_m).contains(&length_m) => Some(length_m),
        Ok(_) => {
            let message = format!("`{}` is not {what}", text.get_ref().trim());
            reader.refuse(text.span(), message, format!("expected {least_m:.3} m to {most_m:.0} m"));
            None
        }
        Err(error) => {
            reader.refuse(text.span(), error.message, error.help);
            None
        }
    }
}

/// Reads all rigs, in the order of the file.
pub(super) fn read_rigs(rigs: BTreeMap<Spanned<String>, RigFile>, reader: &mut Reader<'_>) -> Vec<Rig> {
    super::resolve::in_order(rigs).iter().map(|(name, file)| read_rig(name.get_ref(), file, reader)).collect()
}

fn read_rig(name: &str, file: &RigFile, reader: &mut Reader<'_>) -> Rig {
    let per_hour = |flow: Option<f64>| flow.map(|kg_s| kg_s * 3600.0);
    let required = by_fill(&file.required, parse_pressure, reader);
    Rig {
        name: name.to_owned(),
        gauge: file.gauge.as_ref().and_then(|gauge| read_gauge(gauge, reader)),
        required,
        hose: file.hose.as_ref().map(|hose| read_hose(hose, reader)),
        curve: read_curve(&file.curve, reader),
        trial_box: file.trial_box.as_ref().and_then(|trial| read_trial_box(trial, reader)),
        voltage_v: given(&file.voltage, parse_voltage, reader),
        circuits: read_circuits(&file.circuit, reader),
        generator: file.generator.as_ref().and_then(|generator| read_generator(generator, reader)),
        closed_kg_per_h: per_hour(given(&file.closed_rate, parse_mass_flow, reader)),
        open_kg_per_h: per_hour(given(&file.open_rate, parse_mass_flow, reader)),
        holes_per_h: number(file.holes_per_hour.as_ref(), "holes_per_hour", 1.0, 1000.0, reader),
        set_up_h: number(file.set_up.as_ref(), "set_up", 0.0, 12.0, reader),
        hopper_kg: given(&file.hopper, parse_mass, reader),
        truck: file.truck.as_ref().map(|truck| read_truck(truck.get_ref(), reader)).unwrap_or_default(),
    }
}

/// A number within limits.
fn number(value: Option<&Spanned<f64>>, key: &str, least: f64, most: f64, reader: &mut Reader<'_>) -> Option<f64> {
    let value = value?;
    if !(least..=most).contains(value.get_ref()) {
        reader.refuse(value.span(), format!("`{key}` is {}: expected {least} to {most}", value.get_ref()), "");
    }
    Some(*value.get_ref())
}

/// One of two words, as whether it is the first.
pub(super) fn is_first(text: &Text, key: &str, words: [&str; 2], reader: &mut Reader<'_>) -> Option<bool> {
    let [first, second] = words;
    reader.word(key, text.as_ref()?, &[(first, true), (second, false)])
}

fn read_gauge(gauge: &Spanned<GaugeFile>, reader: &mut Reader<'_>) -> Option<Gauge> {
    let file = gauge.get_ref();
    let at = is_first(&file.at, "at", ["hose end", "blower outlet"], reader);
    let (feed, gate) =
        (is_first(&file.feed, "feed", ["off", "on"], reader), is_first(&file.gate, "gate", ["closed", "open"], reader));
    let air = is_first(&file.air, "air", ["highest", "lower"], reader);
    let altitude_m = altitude(&file.altitude, reader);
    let Some(text) = &file.pressure else {
        reader.refuse(gauge.span(), "`gauge` has no `pressure`", "write the reading: `pressure = \"2.9 psi\"`");
        return None;
    };
    let pressure_pa = reader.quantity(text, parse_pressure)?.si;
    if pressure_pa > MOST_PA {
        reader.refuse(text.span(), "no blower of loose fill has this pressure", "is the unit right?");
    }
    Some(Gauge {
        pressure_pa,
        text: text.get_ref().trim().to_owned(),
        at: at.map(|is_end| if is_end { GaugeAt::HoseEnd } else { GaugeAt::BlowerOutlet }),
        is_feed_off: feed,
        is_gate_closed: gate,
        is_air_highest: air,
        altitude_m,
    })
}

fn read_hose(hose: &Spanned<HoseFile>, reader: &mut Reader<'_>) -> Hose {
    let file = hose.get_ref();
    let mut sections = Vec::new();
    for section in &file.section {
        let (Some(diameter), Some(length_text)) = (&section.get_ref().diameter, &section.get_ref().length) else {
            let help = "write `{ diameter = \"3 in\", length = \"100 ft\" }`";
            reader.refuse(section.span(), "a section of the hose has no diameter or no length", help);
            continue;
        };
        let diameter_m = length(diameter, DIAMETERS_M.0, DIAMETERS_M.1, "the inner diameter of a hose", reader);
        let length_m = length(length_text, 0.0, LONGEST_M, "the length of a hose", reader);
        sections.extend(diameter_m.zip(length_m).map(|(diameter_m, length_m)| HoseSection { diameter_m, length_m }));
    }
    if file.section.is_empty() {
        let help = "write `section = [{ diameter = \"3 in\", length = \"100 ft\" }]`";
        reader.refuse(hose.span(), "the hose has no section", help);
    }
    if let Some(bends) = file.bends.as_ref().filter(|bends| *bends.get_ref() > 100) {
        reader.refuse(bends.span(), format!("`bends` is {}: expected 0 to 100", bends.get_ref()), "");
    }
    let zero_to = |text: &Text, most_m: f64, what: &str, reader: &mut Reader<'_>| {
        text.as_ref().and_then(|text| length(text, 0.0, most_m, what, reader)).unwrap_or(0.0)
    };
    Hose {
        sections,
        air_flow_m3_s: file.air_flow.as_ref().and_then(|flow| air_flow(flow, reader)),
        solids_kg_s: given(&file.solids, parse_mass_flow, reader),
        bends: file.bends.as_ref().map_or(0, |bends| *bends.get_ref()),
        lift_m: zero_to(&file.lift, LONGEST_M, "the height of a nozzle above its blower", reader),
        roughness_m: zero_to(&file.roughness, 0.005, "the roughness of a hose", reader),
        length_factor: number(file.length_factor.as_ref(), "length_factor", 1.0, 20.0, reader),
    }
}

/// A flow of air through a hose.
fn air_flow(text: &Spanned<String>, reader: &mut Reader<'_>) -> Option<f64> {
    let flow_m3_s = reader.quantity(text, parse_air_flow)?.si;
    if !(FLOWS_M3_S.0..=FLOWS_M3_S.1).contains(&flow_m3_s) {
        let message = format!("`{}` is not the air that a blower of loose fill moves", text.get_ref().trim());
        reader.refuse(text.span(), message, "expected 1 to 10000 ft3/min");
    }
    Some(flow_m3_s)
}

fn read_curve(points: &[Spanned<CurvePointFile>], reader: &mut Reader<'_>) -> Vec<CurvePoint> {
    let mut curve: Vec<CurvePoint> = Vec::new();
    for point in points {
        let (Some(flow), Some(pressure)) = (&point.get_ref().flow, &point.get_ref().pressure) else {
            let help = "write `{ flow = \"100 ft3/min\", pressure = \"2.5 psi\" }`";
            reader.refuse(point.span(), "a point of the curve has no flow or no pressure", help);
            continue;
        };
        let is_shut = flow.get_ref().trim() == "0";
        let flow_m3_s = if is_shut { Some(0.0) } else { reader.quantity(flow, parse_air_flow).map(|flow| flow.si) };
        let pressure_pa = reader.quantity(pressure, parse_pressure).map(|pressure| pressure.si);
        let Some((flow_m3_s, pressure_pa)) = flow_m3_s.zip(pressure_pa) else { continue };
        if let Some(last) = curve.last() {
            if flow_m3_s <= last.flow_m3_s {
                reader.refuse(flow.span(), "the points of the curve go on by rising flow", "put them in order");
            } else if pressure_pa > last.pressure_pa {
                let help = "a blower gives less pressure the more air flows: is it read at the outlet?";
                reader.refuse(pressure.span(), "the pressure rises with the flow", help);
            }
        }
        curve.push(CurvePoint { flow_m3_s, pressure_pa });
    }
    if let [only] = points {
        let help = "add a second point at another flow, or leave the curve out: `gauge` takes a single reading";
        reader.refuse(only.span(), "a curve has two points or more", help);
    }
    curve
}

fn read_trial_box(trial: &Spanned<TrialBoxFile>, reader: &mut Reader<'_>) -> Option<TrialBox> {
    let file = trial.get_ref();
    let mut sides =
        [&file.width, &file.height, &file.depth].map(|side| side.as_ref().and_then(|side| reader.length_m(side)));
    let [width, height, depth] = [sides[0].take(), sides[1].take(), sides[2].take()];
    let mut mass = |text: &Text| given(text, parse_mass, reader);
    let (before, after, scale) = (mass(&file.before), mass(&file.after), mass(&file.scale));
    let tape = file.tape.as_ref().and_then(|tape| reader.length_m(tape));
    let (Some(width_m), Some(height_m), Some(depth_m), Some(after_kg)) = (width, height, depth, after) else {
        if [&file.width, &file.height, &file.depth, &file.after].iter().any(|text| text.is_none()) {
            let help =
                "give `width`, `height`, `depth`, `before` and `after`; without `before`, `after` is the fill alone";
            reader.refuse(trial.span(), "the trial box lacks a side or its mass", help);
        }
        return None;
    };
    let before_kg = before.unwrap_or(0.0);
    if let Some(text) = file.after.as_ref().filter(|_| after_kg <= before_kg) {
        reader.refuse(
            text.span(),
            "the filled box is not heavier than the empty one",
            "are `before` and `after` swapped?",
        );
        return None;
    }
    Some(TrialBox {
        sides_m: [width_m, height_m, depth_m],
        before_kg,
        after_kg,
        scale_kg: scale.unwrap_or(SCALE_KG),
        tape_m: tape.unwrap_or(TAPE_M),
        is_uncertainty_given: scale.is_some() && tape.is_some(),
        fill: file.fill.as_ref().map(|fill| fill.get_ref().trim().to_owned()),
    })
}

/// Values by the names of fills, in the order of the file.
fn by_fill(
    file: &BTreeMap<Spanned<String>, Spanned<String>>,
    parse: fn(&str) -> Result<Quantity, String>,
    reader: &mut Reader<'_>,
) -> Vec<(String, f64)> {
    let mut entries: Vec<_> = file.iter().collect();
    entries.sort_by_key(|(fill, _)| fill.span().start);
    let mut all = Vec::new();
    for (fill, text) in entries {
        if let Some(value) = reader.quantity(text, parse) {
            all.push((fill.get_ref().trim().to_owned(), value.si));
        }
    }
    all
}

fn read_truck(file: &TruckFile, reader: &mut Reader<'_>) -> Truck {
    Truck {
        payload_kg: given(&file.payload, parse_mass, reader),
        volume_m3: given(&file.volume, parse_volume, reader),
        bag_m3: given(&file.bag_volume, parse_volume, reader),
        bag_m3_by_fill: by_fill(&file.bag_volumes, parse_volume, reader),
    }
}
