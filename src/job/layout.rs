//! Rules of the layout, as the job file changes them.

use super::defaults::{JOB_FILE, LAYOUT, When, when_of};
use super::layout_file::LayoutFile;
use super::layout_more::{by_width, clearances, junctions, places, rows};
use super::layout_preset::{preset_of, source_in};
use super::reader::Reader;
use crate::framing::LayoutRules;
use crate::model::Assumption;
use toml::Spanned;

/// Rules of the layout, and where each of them comes from.
#[derive(Clone, Debug, PartialEq)]
pub struct LayoutChoice {
    /// The rules.
    pub rules: LayoutRules,
    /// Every value with its source, and when it bears on a takeoff.
    pub sources: Vec<(When, Assumption)>,
}

impl Default for LayoutChoice {
    fn default() -> Self {
        let source = |preset: &super::defaults::Preset| {
            let assumption = Assumption {
                key: format!("layout.{}", preset.key),
                value: preset.value.to_owned(),
                unit: preset.unit.to_owned(),
                source: preset.source.to_owned(),
            };
            (preset.when, assumption)
        };
        Self { rules: LayoutRules::default(), sources: LAYOUT.iter().map(source).collect() }
    }
}

impl LayoutChoice {
    /// Takes the values that the job file gives under `[layout]`.
    pub(super) fn take(&mut self, file: &LayoutFile, reader: &mut Reader<'_>) {
        if let Some(rim) = file.rim.as_ref().filter(|rim| *rim.get_ref()) {
            let message = "`rim = true` under `[layout]` would take plates, headers, kings and jacks out of every wall of the job";
            let help = "write it in the assembly of the rims: `[assembly.rim]` with `layout.rim = true`; a wall's strips at \
                        floors are rims without it";
            reader.refuse(rim.span(), message, help);
        }
        for Said { key, value, source } in apply(file, &mut self.rules, reader) {
            // Framing by fraction and what fill stays off report their own assumptions.
            if key.ends_with("_fraction") || (key.ends_with("_clearance") && key != "opening_clearance") {
                continue;
            }
            let when = when_of(key);
            let key = format!("layout.{key}");
            let given = Assumption { key: key.clone(), value, unit: String::new(), source: source.to_owned() };
            match self.sources.iter_mut().find(|(_, assumption)| assumption.key == key) {
                Some((_, assumption)) => *assumption = given,
                None => self.sources.push((when, given)),
            }
        }
    }
}

/// A value that the job file gives, or a preset that it names.
pub(super) struct Said {
    pub key: &'static str,
    pub value: String,
    pub source: &'static str,
}

/// Sets what the file gives, on top of the preset that it names; returns each key with its value as written.
pub(super) fn apply(file: &LayoutFile, rules: &mut LayoutRules, reader: &mut Reader<'_>) -> Vec<Said> {
    let mut said = Vec::new();
    if let Some(preset) = file.preset.as_ref().and_then(|name| preset_of(name, reader)) {
        let source_of = |key: &'static str| source_in(&preset, key);
        let given = own(&preset.file, rules, reader).into_iter();
        said.extend(given.map(|(key, value)| Said { key, value, source: source_of(key) }));
    }
    for (key, value) in own(file, rules, reader) {
        said.retain(|other| other.key != key);
        said.push(Said { key, value, source: JOB_FILE });
    }
    said
}

/// Sets what the file itself gives.
fn own(file: &LayoutFile, rules: &mut LayoutRules, reader: &mut Reader<'_>) -> Given {
    let mut given = Vec::new();
    places(file, rules, reader, &mut given);
    counts(file, rules, reader, &mut given);
    lengths(file, rules, reader, &mut given);
    blocking_at(file, rules, reader, &mut given);
    by_width(file, rules, reader, &mut given);
    junctions(file, rules, reader, &mut given);
    rows(file, rules, reader, &mut given);
    clearances(file, rules, reader, &mut given);
    fractions(file, rules, reader, &mut given);
    given
}

/// Keys with their values as written.
pub(super) type Given = Vec<(&'static str, String)>;

fn counts(file: &LayoutFile, rules: &mut LayoutRules, reader: &mut Reader<'_>, given: &mut Given) {
    let mut set = |key, value: &Option<Spanned<u32>>, target: &mut u32| {
        if let Some(count) = reader.pieces(key, value.as_ref()) {
            *target = count;
            given.push((key, count.to_string()));
        }
    };
    set("bottom_plates", &file.bottom_plates, &mut rules.bottom_plates);
    set("top_plates", &file.top_plates, &mut rules.top_plates);
    set("king_studs", &file.king_studs, &mut rules.king_studs);
    set("jack_studs", &file.jack_studs, &mut rules.jack_studs);
    set("jack_studs_wide", &file.jack_studs_wide, &mut rules.jack_studs_wide);
    set("sill_plates", &file.sill_plates, &mut rules.sill_plates);
    set("mid_blocking", &file.mid_blocking, &mut rules.mid_blocking);
    set("corner_post_studs", &file.corner_post_studs, &mut rules.corner_post_studs);
    set("partition_studs", &file.partition_studs, &mut rules.partition_studs);
}

fn lengths(file: &LayoutFile, rules: &mut LayoutRules, reader: &mut Reader<'_>, given: &mut Given) {
    let mut set = |key, value: &Option<Spanned<String>>, target: &mut f64| {
        let Some(value) = value else { return };
        if let Some(length_m) = reader.length_m(value) {
            *target = length_m;
        }
        given.push((key, value.get_ref().clone()));
    };
    set("plate_thickness", &file.plate_thickness, &mut rules.plate_thickness_m);
    set("wide_opening", &file.wide_opening, &mut rules.wide_opening_m);
    set("header_height", &file.header_height, &mut rules.header_height_m);
    set("tube_width", &file.tube_width, &mut rules.tube_width_m);
    set("ridge_board", &file.ridge_board, &mut rules.ridge_board_m);
    let mut gap_m = 0.0;
    set("vent_gap", &file.vent_gap, &mut gap_m);
    if gap_m > 0.0 {
        rules.enclosure.vent_gap_m = Some(gap_m);
    }
    set("ladder_every", &file.ladder_every, &mut rules.ladder_every_m);
    let mut blocking_m = 0.0;
    set("blocking_every", &file.blocking_every, &mut blocking_m);
    if blocking_m > 0.0 {
        rules.blocking_every_m = Some(blocking_m);
    }
}

/// Rows of blocking at places of their own; these take the place of the job's.
fn blocking_at(file: &LayoutFile, rules: &mut LayoutRules, reader: &mut Reader<'_>, given: &mut Given) {
    if file.blocking_at.is_empty() {
        return;
    }
    rules.blocking_at_m = file.blocking_at.iter().filter_map(|text| reader.length_m(text)).collect();
    let texts: Vec<&str> = file.blocking_at.iter().map(|text| text.get_ref().as_str()).collect();
    given.push(("blocking_at", texts.join(", ")));
}

fn fractions(file: &LayoutFile, rules: &mut LayoutRules, reader: &mut Reader<'_>, given: &mut Given) {
    let mut set = |key, value: &Option<Spanned<f64>>, target: &mut f64| {
        let Some(value) = value else { return };
        if !(0.0..1.0).contains(value.get_ref()) {
            let message = format!("`{key}` is {}: expected a fraction from 0 to less than 1", value.get_ref());
            reader.refuse(value.span(), message, "23 % is written `0.23`");
        }
        *target = *value.get_ref();
        given.push((key, value.get_ref().to_string()));
    };
    set("wall_fraction", &file.wall_fraction, &mut rules.wall_fraction);
    set("roof_fraction", &file.roof_fraction, &mut rules.roof_fraction);
    set("ceiling_fraction", &file.ceiling_fraction, &mut rules.ceiling_fraction);
    set("floor_fraction", &file.floor_fraction, &mut rules.floor_fraction);
}

#[cfg(test)]
mod tests {
    use super::super::read_job;
    use super::*;

    #[test]
    fn rims_are_those_of_an_assembly() {
        let refusal = read_job("job.toml", "[layout]\nrim = true\n").unwrap_err().remove(0);
        assert!(refusal.message.contains("every wall") && refusal.help.contains("layout.rim = true"), "{refusal}");
        assert_eq!(refusal.place.line, Some(2));
        assert!(!read_job("job.toml", "[layout]\nrim = false\n").unwrap().layout.rules.is_rim);
        let text = "[assembly.rim]\nframing = \"2x10 @ 16 in\"\nlayout.rim = true\nlayout.rim_joist = \"none\"\n";
        let rules = read_job("job.toml", text).unwrap().assemblies.remove(0).layout;
        assert_eq!((rules.is_rim, rules.rim_joist_m), (true, None));
    }

    #[test]
    fn the_table_of_defaults_says_what_the_rules_are() {
        let mut text = String::from("[layout]\n");
        for preset in LAYOUT {
            let value = match (preset.unit, preset.value) {
                ("", number) if number.parse::<f64>().is_ok() || number == "false" => number.to_owned(),
                ("", word) => format!("\"{word}\""),
                (unit, number) => format!("\"{number} {unit}\""),
            };
            text.push_str(&format!("{} = {value}\n", preset.key));
        }
        let rules = read_job("job.toml", &text).unwrap().layout.rules;
        let defaults = LayoutRules::default();
        let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-12, "{a} {b}");
        near(rules.plate_thickness_m, defaults.plate_thickness_m);
        near(rules.wide_opening_m, defaults.wide_opening_m);
        near(rules.header_height_m, defaults.header_height_m);
        near(rules.tube_width_m, defaults.tube_width_m);
        near(rules.ridge_board_m, defaults.ridge_board_m);
        near(rules.ladder_every_m, defaults.ladder_every_m);
        near(rules.fire_board_m.unwrap(), defaults.fire_board_m.unwrap());
        let same_lengths = LayoutRules {
            plate_thickness_m: defaults.plate_thickness_m,
            wide_opening_m: defaults.wide_opening_m,
            header_height_m: defaults.header_height_m,
            tube_width_m: defaults.tube_width_m,
            ridge_board_m: defaults.ridge_board_m,
            ladder_every_m: defaults.ladder_every_m,
            fire_board_m: defaults.fire_board_m,
            ..rules
        };
        assert_eq!(same_lengths, defaults);
    }

    #[test]
    fn a_value_of_the_file_carries_the_file_as_its_source() {
        let job = read_job("job.toml", "[layout]\ntop_plates = 1\nblocking_every = \"4 ft\"\n").unwrap();
        assert_eq!(job.layout.rules.top_plates, 1);
        assert!((job.layout.rules.blocking_every_m.unwrap() - 1.2192).abs() < 1e-12);
        let source = |key: &str| {
            job.layout.sources.iter().find(|(_, a)| a.key == key).map(|(_, a)| (a.value.as_str(), a.source.as_str()))
        };
        assert_eq!(source("layout.top_plates"), Some(("1", "job file")));
        assert_eq!(source("layout.blocking_every"), Some(("4 ft", "job file")));
        assert_eq!(source("layout.bottom_plates"), Some(("1", "common practice, no source")));
    }
}
