//! Circuits and generators of `[rig.NAME]`, read.

use super::reader::Reader;
use super::rig::{Circuit, Generator, Leg, Load};
use super::rig_file::{CircuitFile, GeneratorFile, LoadFile};
use super::rig_read::{given, is_first, length};
use crate::units::{parse_current, parse_power, parse_wire_gauge};
use toml::Spanned;

/// Most loads on one circuit; more is a slip.
const MOST_LOADS: usize = 12;

/// Reads the circuits.
pub(super) fn read_circuits(circuits: &[Spanned<CircuitFile>], reader: &mut Reader<'_>) -> Vec<Circuit> {
    circuits.iter().filter_map(|circuit| read_circuit(circuit, reader)).collect()
}

fn read_circuit(circuit: &Spanned<CircuitFile>, reader: &mut Reader<'_>) -> Option<Circuit> {
    let file = circuit.get_ref();
    let loads: Vec<Load> = file.load.iter().filter_map(|load| read_load(load, reader)).collect();
    if file.load.is_empty() || file.load.len() > MOST_LOADS {
        let help = "write `load = [{ what = \"blower\", current = \"11 A\" }]`";
        reader.refuse(circuit.span(), format!("a circuit has 1 to {MOST_LOADS} loads"), help);
    }
    let leg = is_first(&file.leg, "leg", ["a", "b"], reader).map(|is_a| if is_a { Leg::A } else { Leg::B });
    let cord_awg = file.cord.as_ref().and_then(|cord| reader.quantity(cord, parse_wire_gauge));
    let cord_length_m =
        file.cord_length.as_ref().and_then(|text| length(text, 0.0, 500.0, "the length of a cord", reader));
    let Some(breaker) = &file.breaker else {
        reader.refuse(
            circuit.span(),
            "a circuit has no `breaker`",
            "write what its breaker says: `breaker = \"20 A\"`",
        );
        return None;
    };
    Some(Circuit {
        breaker_a: reader.quantity(breaker, parse_current)?.si,
        panel_breaker: file.panel_breaker.as_ref().map(|text| text.get_ref().trim().to_owned()),
        leg,
        cord_awg,
        cord_length_m,
        is_coiled: file.coiled.as_ref().map(|is| *is.get_ref()),
        has_ground_fault: file.ground_fault.as_ref().map(|has| *has.get_ref()),
        loads,
    })
}

fn read_load(load: &Spanned<LoadFile>, reader: &mut Reader<'_>) -> Option<Load> {
    let file = load.get_ref();
    let (Some(what), Some(current)) = (&file.what, &file.current) else {
        let help = "write `{ what = \"blower\", current = \"11 A\" }`";
        reader.refuse(load.span(), "a load has no name or no current", help);
        return None;
    };
    let current_a = reader.quantity(current, parse_current)?.si;
    let start_a = given(&file.start, parse_current, reader);
    if let Some(start) = file.start.as_ref().filter(|_| start_a.is_some_and(|start_a| start_a < current_a)) {
        reader.refuse(start.span(), "a motor takes no less current while it starts than while it runs", "");
    }
    Some(Load {
        what: what.get_ref().trim().to_owned(),
        current_a,
        start_a,
        is_continuous: file.continuous.as_ref().is_none_or(|is| *is.get_ref()),
    })
}

/// Reads a generator.
pub(super) fn read_generator(generator: &Spanned<GeneratorFile>, reader: &mut Reader<'_>) -> Option<Generator> {
    let file = generator.get_ref();
    let Some(power) = &file.power else {
        reader.refuse(
            generator.span(),
            "the generator has no `power`",
            "write what its plate says: `power = \"6.5 kW\"`",
        );
        return None;
    };
    let distance = file.distance.as_ref();
    Some(Generator {
        power_w: reader.quantity(power, parse_power)?.si,
        start_power_w: given(&file.start_power, parse_power, reader),
        is_outdoors: is_first(&file.place, "place", ["outdoors", "indoors"], reader),
        distance_m: distance.and_then(|text| length(text, 0.0, 1000.0, "a distance from the house", reader)),
    })
}

#[cfg(test)]
mod tests {
    use super::super::read_job;
    use super::super::rig::{GaugeAt, Leg};
    use crate::units::{FOOT_M, PSI_PA};

    const TEXT: &str = r#"
[site]
altitude = "5200 ft"
air = "68 F"
built = 1962
[rig.second]
[rig.first]
voltage = "118 V"
hopper = "50 lb"
[rig.first.gauge]
pressure = "2.9 psi"
at = "hose end"
feed = "off"
[rig.first.hose]
section = [{ diameter = "3 in", length = "100 ft" }, { diameter = "2.5 in", length = "50 ft" }]
air_flow = "100 ft3/min"
[[rig.first.curve]]
flow = "0"
pressure = "4 psi"
[[rig.first.curve]]
flow = "100 ft3/min"
pressure = "2 psi"
[[rig.first.circuit]]
breaker = "20 A"
leg = "B"
cord = "12 AWG"
load = [{ what = "blower", current = "11 A" }, { what = "lights", current = "1 A", continuous = false }]
[rig.first.generator]
power = "6.5 kW"
place = "outdoors"
"#;

    #[test]
    fn rigs_are_read_in_the_order_of_the_file() {
        let job = read_job("job.toml", TEXT).unwrap();
        assert_eq!(job.rigs.iter().map(|rig| rig.name.as_str()).collect::<Vec<_>>(), ["second", "first"]);
        assert!((job.site.altitude_m.unwrap() - 5200.0 * FOOT_M).abs() < 1e-9 && job.site.built == Some(1962));
        let rig = &job.rigs[1];
        let gauge = rig.gauge.as_ref().unwrap();
        assert!((gauge.pressure_pa - 2.9 * PSI_PA).abs() < 1e-6);
        assert_eq!((gauge.at, gauge.is_feed_off, gauge.is_gate_closed), (Some(GaugeAt::HoseEnd), Some(true), None));
        assert_eq!((rig.hose.as_ref().unwrap().sections.len(), rig.curve.len()), (2, 2));
        let circuit = &rig.circuits[0];
        assert_eq!((circuit.leg, circuit.cord_awg), (Some(Leg::B), Some(12)));
        assert!(circuit.loads[0].is_continuous && !circuit.loads[1].is_continuous);
        assert_eq!(rig.generator.as_ref().unwrap().is_outdoors, Some(true));
    }

    #[test]
    fn what_cannot_be_used_is_refused_at_its_place() {
        for (text, found) in [
            ("[rig.x.gauge]\nat = \"hose end\"", "no `pressure`"),
            ("[rig.x.gauge]\npressure = \"80\"", "no unit"),
            ("[rig.x.gauge]\npressure = \"80 psi\"", "no blower"),
            ("[rig.x.gauge]\npressure = \"3 psi\"\nat = \"hose\"", "`at` cannot be"),
            ("[rig.x.gauge]\npresure = \"3 psi\"", "no key `presure`"),
            ("[rig.x]\nblower = 3", "no key `blower`"),
            ("[rig.x.hose]\nbends = 2", "no section"),
            ("[rig.x.hose]\nsection = [{ diameter = \"3 in\" }]", "no diameter or no length"),
            ("[rig.x.hose]\nsection = [{ diametre = \"3 in\", length = \"9 ft\" }]", "no key `diametre`"),
            ("[rig.x.hose]\nsection = [{ diameter = \"3 ft\", length = \"9 ft\" }]", "inner diameter"),
            (
                "[rig.x.hose]\nair_flow = \"0.001 ft3/min\"\nsection = [{ diameter = \"3 in\", length = \"9 ft\" }]",
                "not the air",
            ),
            ("[[rig.x.curve]]\nflow = \"0\"\npressure = \"4 psi\"", "two points"),
            (
                "[rig.x]\ncurve = [{ flow = \"9 cfm\", pressure = \"2 psi\" }, { flow = \"0\", pressure = \"3 psi\" }]",
                "rising flow",
            ),
            (
                "[rig.x]\ncurve = [{ flow = \"0\", pressure = \"2 psi\" }, { flow = \"9 cfm\", pressure = \"3 psi\" }]",
                "rises",
            ),
            ("[rig.x.trial_box]\nwidth = \"14 in\"", "lacks"),
            (
                "[rig.x.trial_box]\nwidth = \"14 in\"\nheight = \"40 in\"\ndepth = \"5 in\"\nbefore = \"9 lb\"\nafter = \"8 lb\"",
                "not heavier",
            ),
            ("[[rig.x.circuit]]\nload = [{ what = \"blower\", current = \"11 A\" }]", "no `breaker`"),
            ("[[rig.x.circuit]]\nbreaker = \"20 A\"", "1 to 12 loads"),
            ("[[rig.x.circuit]]\nbreaker = \"20 A\"\nload = [{ what = \"x\" }]", "no current"),
            (
                "[[rig.x.circuit]]\nbreaker = \"20 A\"\ncord = \"12\"\nload = [{ what = \"x\", current = \"1 A\" }]",
                "size of a cord",
            ),
            ("[rig.x.generator]\nplace = \"outdoors\"", "no `power`"),
            ("[rig.x]\nholes_per_hour = 0", "1 to 1000"),
            ("[site]\nbuilt = 62", "a year"),
            ("[site]\naltitude = \"30000 ft\"", "height above the sea"),
            ("[site]\nair = \"68\"", "temperature"),
        ] {
            let refusals = read_job("job.toml", text).expect_err(text);
            assert!(refusals[0].message.contains(found), "{text}: {}", refusals[0].message);
            assert!(refusals[0].place.line.is_some(), "{text}");
        }
    }
}
