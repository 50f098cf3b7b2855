//! A rig and the place of its work, as the job file writes them: `[rig.NAME]` and `[site]`.

use super::file::{check_keys, in_order};
use super::reader::Reader;
use schemars::JsonSchema;
use serde::Deserialize;
use std::collections::BTreeMap;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// The place of the work: `[site]`.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct SiteFile {
    /// Height above the sea, such as `5200 ft`.
    #[schemars(with = "Option<String>")]
    pub altitude: Option<Spanned<String>>,
    /// Temperature of the air that is blown, such as `68 F`.
    #[schemars(with = "Option<String>")]
    pub air: Option<Spanned<String>>,
    /// Year in which the building was built.
    #[schemars(with = "Option<u32>")]
    pub built: Option<Spanned<u32>>,
    /// Volume under a roof where bags can lie dry, such as `120 ft3`.
    #[schemars(with = "Option<String>")]
    pub dry_storage: Option<Spanned<String>>,
    /// Most pressure that the finish of the walls stands, such as `3.5 psi`: of a test on this house.
    #[schemars(with = "Option<String>")]
    pub finish_limit: Option<Spanned<String>>,
}

/// Keys of it.
pub(super) const SITE: &[&str] = &["altitude", "air", "built", "dry_storage", "finish_limit"];

/// A rig: blower, hose and circuit.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct RigFile {
    /// What the pressure gauge said, and how it was read.
    #[schemars(with = "Option<GaugeFile>")]
    pub gauge: Option<Spanned<GaugeFile>>,
    /// Pressure that the maker of a fill asks for, by the name of the fill.
    #[schemars(with = "BTreeMap<String, String>")]
    pub required: BTreeMap<Spanned<String>, Spanned<String>>,
    /// The hose, from the blower to the nozzle.
    #[schemars(with = "Option<HoseFile>")]
    pub hose: Option<Spanned<HoseFile>>,
    /// Pressure of the blower by its flow, at its outlet: two points or more.
    #[schemars(with = "Vec<CurvePointFile>")]
    pub curve: Vec<Spanned<CurvePointFile>>,
    /// A box that was filled as a trial.
    #[schemars(with = "Option<TrialBoxFile>")]
    pub trial_box: Option<Spanned<TrialBoxFile>>,
    /// Voltage at the panel or the generator, such as `120 V`.
    #[schemars(with = "Option<String>")]
    pub voltage: Option<Spanned<String>>,
    /// Circuits, each with its cord and what runs on it.
    #[schemars(with = "Vec<CircuitFile>")]
    pub circuit: Vec<Spanned<CircuitFile>>,
    /// A generator, where the power comes from one.
    #[schemars(with = "Option<GeneratorFile>")]
    pub generator: Option<Spanned<GeneratorFile>>,
    /// Fill that this machine blows into closed cavities in an hour, such as `450 lb/h`, holes not included; else that of `[labour]`.
    #[schemars(with = "Option<String>")]
    pub closed_rate: Option<Spanned<String>>,
    /// The same of open-blown fill.
    #[schemars(with = "Option<String>")]
    pub open_rate: Option<Spanned<String>>,
    /// Holes that one person drills and plugs in an hour.
    #[schemars(with = "Option<f64>")]
    pub holes_per_hour: Option<Spanned<f64>>,
    /// Hours of each day for setting up and cleaning.
    #[schemars(with = "Option<f64>")]
    pub set_up: Option<Spanned<f64>>,
    /// Fill that the hopper holds, such as `50 lb`.
    #[schemars(with = "Option<String>")]
    pub hopper: Option<Spanned<String>>,
    /// What the truck carries.
    #[schemars(with = "Option<TruckFile>")]
    pub truck: Option<Spanned<TruckFile>>,
}

/// Keys of it.
pub(super) const RIG: &[&str] = &[
    "gauge",
    "required",
    "hose",
    "curve",
    "trial_box",
    "voltage",
    "circuit",
    "generator",
    "closed_rate",
    "open_rate",
    "holes_per_hour",
    "set_up",
    "hopper",
    "truck",
];

/// What the pressure gauge said, and how it was read.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct GaugeFile {
    /// The reading: `2.9 psi`, `80 in. w.c.`, `80 in. w.c. at 60 F`, `20 kPa` or `200 mbar`.
    #[schemars(with = "Option<String>")]
    pub pressure: Option<Spanned<String>>,
    /// Where: `hose end` or `blower outlet`.
    #[schemars(with = "Option<String>")]
    pub at: Option<Spanned<String>>,
    /// Whether fill was fed: `off` or `on`.
    #[schemars(with = "Option<String>")]
    pub feed: Option<Spanned<String>>,
    /// The gate of the hopper: `closed` or `open`.
    #[schemars(with = "Option<String>")]
    pub gate: Option<Spanned<String>>,
    /// The air setting: `highest` or `lower`.
    #[schemars(with = "Option<String>")]
    pub air: Option<Spanned<String>>,
    /// Height above the sea at which it was read, such as `800 ft`.
    #[schemars(with = "Option<String>")]
    pub altitude: Option<Spanned<String>>,
}

/// Keys of it.
pub(super) const GAUGE: &[&str] = &["pressure", "at", "feed", "gate", "air", "altitude"];

/// The hose, from the blower to the nozzle.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct HoseFile {
    /// Its lengths from the blower on; a reducer stands wherever the diameter gets smaller.
    #[schemars(with = "Vec<HoseSectionFile>")]
    pub section: Vec<Spanned<HoseSectionFile>>,
    /// Air that still flows while a bay is packed, such as `100 ft3/min`.
    #[schemars(with = "Option<String>")]
    pub air_flow: Option<Spanned<String>>,
    /// Fill that flows, such as `1000 lb/h`.
    #[schemars(with = "Option<String>")]
    pub solids: Option<Spanned<String>>,
    /// Bends of 90 degrees with a long radius.
    #[schemars(with = "Option<u32>")]
    pub bends: Option<Spanned<u32>>,
    /// Height of the nozzle above the blower.
    #[schemars(with = "Option<String>")]
    pub lift: Option<Spanned<String>>,
    /// Roughness of its inner wall; smooth unless given.
    #[schemars(with = "Option<String>")]
    pub roughness: Option<Spanned<String>>,
    /// Times its own length that a smooth pipe of the same friction would be long: 1 for a smooth bore, up to 5 for ribbed hose; both unless given.
    #[schemars(with = "Option<f64>")]
    pub length_factor: Option<Spanned<f64>>,
}

/// Keys of it.
pub(super) const HOSE: &[&str] = &["section", "air_flow", "solids", "bends", "lift", "roughness", "length_factor"];

/// A length of hose.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct HoseSectionFile {
    /// Inner diameter, such as `3 in`.
    #[schemars(with = "Option<String>")]
    pub diameter: Option<Spanned<String>>,
    /// Length, such as `100 ft`.
    #[schemars(with = "Option<String>")]
    pub length: Option<Spanned<String>>,
}

/// Keys of it.
pub(super) const HOSE_SECTION: &[&str] = &["diameter", "length"];

/// A point of the blower's curve.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct CurvePointFile {
    /// Air that flows, such as `100 ft3/min`; `0` with the outlet shut.
    #[schemars(with = "Option<String>")]
    pub flow: Option<Spanned<String>>,
    /// Pressure at the outlet, such as `2.5 psi`.
    #[schemars(with = "Option<String>")]
    pub pressure: Option<Spanned<String>>,
}

/// Keys of it.
pub(super) const CURVE_POINT: &[&str] = &["flow", "pressure"];

/// A box that was filled as a trial.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct TrialBoxFile {
    /// Inner width.
    #[schemars(with = "Option<String>")]
    pub width: Option<Spanned<String>>,
    /// Inner height.
    #[schemars(with = "Option<String>")]
    pub height: Option<Spanned<String>>,
    /// Inner depth: that of the bays that it stands for.
    #[schemars(with = "Option<String>")]
    pub depth: Option<Spanned<String>>,
    /// Mass of the empty box.
    #[schemars(with = "Option<String>")]
    pub before: Option<Spanned<String>>,
    /// Mass of the filled box.
    #[schemars(with = "Option<String>")]
    pub after: Option<Spanned<String>>,
    /// How far the scale may be off, such as `0.1 lb`.
    #[schemars(with = "Option<String>")]
    pub scale: Option<Spanned<String>>,
    /// How far the tape may be off, such as `1/16 in`.
    #[schemars(with = "Option<String>")]
    pub tape: Option<Spanned<String>>,
    /// Name of the fill; the first unless given.
    #[schemars(with = "Option<String>")]
    pub fill: Option<Spanned<String>>,
}

/// Keys of it.
pub(super) const TRIAL_BOX: &[&str] = &["width", "height", "depth", "before", "after", "scale", "tape", "fill"];

/// A circuit with its cord.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct CircuitFile {
    /// Its breaker, such as `20 A`.
    #[schemars(with = "Option<String>")]
    pub breaker: Option<Spanned<String>>,
    /// Which breaker of the panel that is, as somebody saw it there: two cords on one breaker are one circuit.
    #[schemars(with = "Option<String>")]
    pub panel_breaker: Option<Spanned<String>>,
    /// Leg of a 120/240 V service: `A` or `B`.
    #[schemars(with = "Option<String>")]
    pub leg: Option<Spanned<String>>,
    /// Wire size of the cord, such as `12 AWG`.
    #[schemars(with = "Option<String>")]
    pub cord: Option<Spanned<String>>,
    /// Length of the cord, such as `100 ft`.
    #[schemars(with = "Option<String>")]
    pub cord_length: Option<Spanned<String>>,
    /// Whether a part of the cord stays on its reel or coiled.
    #[schemars(with = "Option<bool>")]
    pub coiled: Option<Spanned<bool>>,
    /// Whether it has ground-fault protection.
    #[schemars(with = "Option<bool>")]
    pub ground_fault: Option<Spanned<bool>>,
    /// What runs on it.
    #[schemars(with = "Vec<LoadFile>")]
    pub load: Vec<Spanned<LoadFile>>,
}

/// Keys of it.
pub(super) const CIRCUIT: &[&str] =
    &["breaker", "panel_breaker", "leg", "cord", "cord_length", "coiled", "ground_fault", "load"];

/// What runs on a circuit.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct LoadFile {
    /// What it is, such as `blower`, `agitator`, `vacuum` or `lights`.
    #[schemars(with = "Option<String>")]
    pub what: Option<Spanned<String>>,
    /// Current while it runs, such as `11 A`, as measured or from its plate.
    #[schemars(with = "Option<String>")]
    pub current: Option<Spanned<String>>,
    /// Current while it starts; three times that of a motor that runs unless given.
    #[schemars(with = "Option<String>")]
    pub start: Option<Spanned<String>>,
    /// Whether it runs for three hours or more at a time; so it is taken unless given.
    #[schemars(with = "Option<bool>")]
    pub continuous: Option<Spanned<bool>>,
}

/// Keys of it.
pub(super) const LOAD: &[&str] = &["what", "current", "start", "continuous"];

/// A generator.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct GeneratorFile {
    /// Power that it gives as long as it runs, such as `6.5 kW`.
    #[schemars(with = "Option<String>")]
    pub power: Option<Spanned<String>>,
    /// Power that it gives for a moment.
    #[schemars(with = "Option<String>")]
    pub start_power: Option<Spanned<String>>,
    /// Where it stands: `outdoors` or `indoors`.
    #[schemars(with = "Option<String>")]
    pub place: Option<Spanned<String>>,
    /// Distance from doors, windows and vents, such as `20 ft`.
    #[schemars(with = "Option<String>")]
    pub distance: Option<Spanned<String>>,
}

/// Keys of it.
pub(super) const GENERATOR: &[&str] = &["power", "start_power", "place", "distance"];

/// What the truck carries.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct TruckFile {
    /// Mass that it may still carry, such as `3000 lb`.
    #[schemars(with = "Option<String>")]
    pub payload: Option<Spanned<String>>,
    /// Volume for bags, such as `500 ft3`.
    #[schemars(with = "Option<String>")]
    pub volume: Option<Spanned<String>>,
    /// Volume of one bag, such as `2.6 ft3`.
    #[schemars(with = "Option<String>")]
    pub bag_volume: Option<Spanned<String>>,
    /// Volume of one bag by fill, such as `"glass fibre" = "3.9 ft3"`; of those that are not named, `bag_volume`.
    #[schemars(with = "BTreeMap<String, String>")]
    pub bag_volumes: BTreeMap<Spanned<String>, Spanned<String>>,
}

/// Keys of it.
pub(super) const TRUCK: &[&str] = &["payload", "volume", "bag_volume", "bag_volumes"];

/// Tables and lists within `[rig.NAME]`, with their keys.
const WITHIN: &[(&str, &[&str])] = &[
    ("gauge", GAUGE),
    ("hose", HOSE),
    ("curve", CURVE_POINT),
    ("trial_box", TRIAL_BOX),
    ("circuit", CIRCUIT),
    ("generator", GENERATOR),
    ("truck", TRUCK),
    ("section", HOSE_SECTION),
    ("load", LOAD),
];

/// Checks the keys of all rigs.
pub(super) fn check_rigs(rigs: &DeTable<'_>, reader: &mut Reader<'_>) {
    for (name, value) in in_order(rigs) {
        let Some(table) = value.get_ref().as_table() else { continue };
        check_table(table, &format!("rig.{}", name.get_ref()), RIG, reader);
    }
}

/// Checks the keys of a table and of those within it.
fn check_table(table: &DeTable<'_>, section: &str, known: &[&str], reader: &mut Reader<'_>) {
    check_keys(table, &format!("`[{section}]`"), known, reader);
    for (key, value) in in_order(table) {
        let key = key.get_ref().as_ref();
        let Some((_, keys)) = WITHIN.iter().find(|(name, _)| *name == key && known.contains(name)) else { continue };
        let section = format!("{section}.{key}");
        for inner in tables_of(value.get_ref()) {
            check_table(inner, &section, keys, reader);
        }
    }
}

/// A table, or the tables of a list.
fn tables_of<'t, 'i>(value: &'t DeValue<'i>) -> Vec<&'t DeTable<'i>> {
    match (value.as_table(), value.as_array()) {
        (Some(table), _) => vec![table],
        (None, Some(list)) => list.iter().filter_map(|entry| entry.get_ref().as_table()).collect(),
        (None, None) => Vec::new(),
    }
}

/// Every table with its keys, to be held against the schema.
#[cfg(test)]
pub(super) const ALL_KEYS: &[(&str, &[&str])] = &[
    ("SiteFile", SITE),
    ("RigFile", RIG),
    ("GaugeFile", GAUGE),
    ("HoseFile", HOSE),
    ("HoseSectionFile", HOSE_SECTION),
    ("CurvePointFile", CURVE_POINT),
    ("TrialBoxFile", TRIAL_BOX),
    ("CircuitFile", CIRCUIT),
    ("LoadFile", LOAD),
    ("GeneratorFile", GENERATOR),
    ("TruckFile", TRUCK),
];
