//! From the file as it is written to the job.

use super::assembly::{Known, resolve_assembly};
use super::built_in::built_in;
use super::defaults::{self, JOB_FILE, PRACTICE, RETROFIT_ALLOWANCE};
use super::file::{ExposureFile, JobFile, LayerFile, parse};
use super::fill_file::FillFile;
use super::heat::{HeatChoice, LayerHeatRule, layer_heat_rules, parse_fill_conductivity};
use super::method::FillingChoice;
use super::reader::Reader;
use super::rules::{FillChoice, Job, parse_bag};
use super::{ExposureRule, Glob, LayoutChoice};
use crate::model::{Assumption, Exposure, LayerRule};
use crate::refusal::Refusal;
use crate::units::{POUND_PER_CUBIC_FOOT_KG_M3, Quantity, parse_density};
use std::collections::BTreeMap;
use toml::Spanned;

/// Densest that loose fibre is blown: beyond this a density is a slip, in kilograms per cubic metre.
const DENSEST_KG_M3: f64 = 10.0 * POUND_PER_CUBIC_FOOT_KG_M3;

/// Reads a job file.
///
/// # Errors
/// Everything in it that cannot be used, each with its line and column.
pub fn read_job(path: &str, text: &str) -> Result<Job, Vec<Refusal>> {
    let mut reader = Reader::new(path, text);
    let Some(file) = parse(text, &mut reader) else { return Err(reader.refusals) };
    let job = resolve(path, file, &mut reader);
    reader.refusals.sort_by_key(|refusal| (refusal.place.line, refusal.place.column));
    if reader.refusals.is_empty() { Ok(job) } else { Err(reader.refusals) }
}

fn resolve(path: &str, file: JobFile, reader: &mut Reader<'_>) -> Job {
    let mut layout = LayoutChoice::default();
    layout.take(&file.layout, reader);
    let mut fills: Vec<FillChoice> =
        in_order(file.fill).iter().map(|(name, fill)| resolve_fill(name.get_ref(), fill, reader)).collect();
    if fills.is_empty() {
        fills.push(defaults::default_fill());
    }
    let built_in = built_in(&fills, &layout);
    let mut filling = FillingChoice::default();
    filling.take(&file.filling, reader);
    let mut heat = HeatChoice::default();
    heat.take(&file.heat, reader);
    let (layer_rules, layer_heat) = layer_rules(&file.layer, reader);
    let mut assemblies = Vec::new();
    for (name, assembly) in in_order(file.assembly) {
        let known = Known { fills: &fills, layout: &layout, own: &assemblies, built_in: &built_in, origin: JOB_FILE };
        let resolved = resolve_assembly(&name, &assembly, &known, reader);
        assemblies.extend(resolved);
    }
    Job {
        project: file.project.name,
        layout,
        fills,
        filling,
        assemblies,
        built_in,
        frames: Vec::new(),
        exposure: file.exposure.count.unwrap_or_default(),
        exposure_source: if file.exposure.count.is_some() { JOB_FILE } else { PRACTICE }.to_owned(),
        exposure_rules: exposure_rules(&file.exposure),
        layer_rules,
        heat,
        layer_heat,
        keep_going: false,
        path: path.to_owned(),
    }
}

/// Named tables as they stand in the file, from its top.
pub(super) fn in_order<T>(tables: BTreeMap<Spanned<String>, T>) -> Vec<(Spanned<String>, T)> {
    let mut tables: Vec<_> = tables.into_iter().collect();
    tables.sort_by_key(|(name, _)| name.span().start);
    tables
}

fn exposure_rules(file: &ExposureFile) -> Vec<ExposureRule> {
    let rules = |patterns: &[String], exposure: Exposure| -> Vec<ExposureRule> {
        patterns.iter().map(|pattern| ExposureRule { pattern: Glob::new(pattern), exposure }).collect()
    };
    let mut all = rules(&file.exterior, Exposure::Exterior);
    all.extend(rules(&file.unconditioned, Exposure::Unconditioned));
    all.extend(rules(&file.interior, Exposure::Interior));
    all
}

/// What layers are, and what they conduct.
fn layer_rules(layers: &[Spanned<LayerFile>], reader: &mut Reader<'_>) -> (Vec<LayerRule>, Vec<LayerHeatRule>) {
    let (mut rules, mut heat_rules) = (Vec::new(), Vec::new());
    for layer in layers {
        let LayerFile { r#match, is, .. } = layer.get_ref();
        let Some(of_heat) = layer_heat_rules(layer, reader) else { continue };
        let says_heat = layer.get_ref().conductivity.is_some() || layer.get_ref().resistance.is_some();
        heat_rules.extend(of_heat);
        let (Some(patterns), Some(is)) = (r#match, is) else {
            if r#match.is_none() || !says_heat {
                let help = "write `match.layer = \"Spruce*\"` and `is = \"studs\"`, or what it conducts: `conductivity = \
                            \"0.12 W/(m K)\"`";
                reader.refuse(layer.span(), "`[[layer]]` needs both `match` and `is`", help);
            }
            continue;
        };
        let place = reader.place(layer.span().start);
        let rule = |pattern| LayerRule { pattern, is: *is, place: place.clone() };
        rules.extend(patterns.patterns().into_iter().map(rule));
    }
    (rules, heat_rules)
}

fn resolve_fill(name: &str, file: &FillFile, reader: &mut Reader<'_>) -> FillChoice {
    let mut fill = defaults::named_fill(name);
    let given = |key: &str, value: &str, unit: &str| Assumption {
        key: format!("fill.{name}.{key}"),
        value: value.to_owned(),
        unit: unit.to_owned(),
        source: JOB_FILE.to_owned(),
    };
    if let Some((density, text)) = read_density(file.density.as_ref(), reader) {
        fill.rules.density_kg_m3 = density;
        fill.density_source = given("density", &text.number, &text.unit);
    }
    if let Some((density, text)) = read_density(file.deep_density.as_ref(), reader) {
        fill.rules.deep_density_kg_m3 = density;
        replace(&mut fill.deep_sources, given("deep_density", &text.number, &text.unit));
    }
    if let Some((density, text)) = read_density(file.open_density.as_ref(), reader) {
        fill.rules.open_density_kg_m3 = density;
        fill.open_source = given("open_density", &text.number, &text.unit);
    }
    if let Some(text) = &file.deep_from
        && let Some(depth_m) = reader.length_m(text)
    {
        fill.rules.deep_from_m = depth_m;
        replace(&mut fill.deep_sources, given("deep_from", text.get_ref(), ""));
    }
    if let Some(text) = &file.conductivity
        && let Some(conductivity) = reader.quantity(text, parse_fill_conductivity)
    {
        fill.conductivity_w_mk = Some(conductivity.si);
        fill.conductivity_source = Some(given("conductivity", &conductivity.number, &conductivity.unit));
    }
    if let Some(text) = &file.bag
        && let Some(bag) = reader.quantity(text, parse_bag)
    {
        fill.bag_kg = Some(bag.si);
        fill.order_sources.push(given("bag", &bag.number, &bag.unit));
    }
    allowance(name, file, &mut fill, reader);
    fill.is_retrofit = file.retrofit == Some(true);
    fill
}

fn allowance(name: &str, file: &FillFile, fill: &mut FillChoice, reader: &mut Reader<'_>) {
    let key = format!("fill.{name}.allowance");
    let of = |value: f64, source: &str| Assumption {
        key: key.clone(),
        value: value.to_string(),
        unit: String::new(),
        source: source.to_owned(),
    };
    if let Some(allowance) = &file.allowance {
        if !(0.0..=1.0).contains(allowance.get_ref()) {
            let message = format!("`allowance` is {}: expected a fraction from 0 to 1", allowance.get_ref());
            reader.refuse(allowance.span(), message, "5 % is written `0.05`");
        }
        fill.allowance = *allowance.get_ref();
        replace(&mut fill.order_sources, of(fill.allowance, JOB_FILE));
    } else if file.retrofit == Some(true) {
        fill.allowance = RETROFIT_ALLOWANCE;
        replace(&mut fill.order_sources, of(fill.allowance, &format!("{PRACTICE}, for `retrofit`")));
    }
}

fn replace(sources: &mut [Assumption], given: Assumption) {
    if let Some(source) = sources.iter_mut().find(|source| source.key == given.key) {
        *source = given;
    }
}

fn read_density(text: Option<&Spanned<String>>, reader: &mut Reader<'_>) -> Option<(f64, Quantity)> {
    let text = text?;
    let density = reader.quantity(text, parse_density)?;
    if density.si > DENSEST_KG_M3 {
        let message = format!("`{}` is denser than loose fibre is blown", text.get_ref());
        reader.refuse(text.span(), message, "walls take about `3.5 lb/ft3` (56 kg/m3)");
        return None;
    }
    Some((density.si, density))
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = r#"
[project]
name = "Test house"
[exposure]
count = "all"
interior = ["Partition*"]
[fill.wool]
density = "40 kg/m3"
bag = "30 lb"
[fill.cellulose]
retrofit = true
[assembly.outer]
framing = "2x6 @ 24 in"
fill = "cellulose"
match = ["EXT*"]
[assembly.inner]
framing = "2x4 @ 16 in"
depth = "92 mm"
layout.top_plates = 1
"#;

    #[test]
    fn a_job_file_is_resolved_in_its_own_order() {
        let job = read_job("job.toml", TEXT).unwrap();
        assert_eq!(job.fills.iter().map(|f| f.rules.name.as_str()).collect::<Vec<_>>(), ["wool", "cellulose"]);
        assert_eq!(job.assemblies.iter().map(|a| a.name.as_str()).collect::<Vec<_>>(), ["outer", "inner"]);
        assert!((job.fills[0].rules.density_kg_m3 - 40.0).abs() < 1e-12);
        assert!((job.fills[0].bag_kg.unwrap() - 13.607_771_1).abs() < 1e-9);
        assert!((job.fills[1].allowance - 0.10).abs() < 1e-12);
        assert_eq!((job.assemblies[0].fill, job.assemblies[1].fill), (1, 0));
        assert!((job.assemblies[1].framing.depth_m - 0.092).abs() < 1e-12);
        assert_eq!((job.assemblies[0].layout.top_plates, job.assemblies[1].layout.top_plates), (2, 1));
    }

    proptest::proptest! {
        // No text whatever ends the program.
        #[test]
        fn any_text_is_read_or_refused(text in "(\\PC|[\\[\\]=\"\n.{}#])*", key in "[a-z_]{0,12}", value in "\\PC{0,20}") {
            let _ = read_job("job.toml", &text);
            let _ = read_job("job.toml", &format!("[layout]\n{key} = \"{value}\"\n[fill.x]\nbag = \"{value}\"\n"));
            let _ = super::super::parse_frame(&value);
        }
    }

    #[test]
    fn every_slip_is_refused_at_its_place_with_help() {
        let refused = |text: &str| read_job("job.toml", text).unwrap_err();
        let all = refused("[layout]\ntop_plats = 1\nsil_plates = 1\n");
        assert_eq!(all.len(), 2);
        assert_eq!(all[0].to_string(), "job.toml:2:1: `[layout]` has no key `top_plats`");
        assert_eq!(all[0].help, "did you mean `top_plates`?");
        let excerpt = all[1].excerpt.as_ref().unwrap();
        assert_eq!(&excerpt.text[excerpt.from..excerpt.to], "sil_plates");
        for (text, found) in [
            ("[fill.x]\nbag = \"25\"", "no unit"),
            ("[fill.x]\nallowance = 5.0", "fraction"),
            ("[fill.x]\ndensity = \"35 lb/ft3\"", "denser"),
            ("[assembly.x]\nfill = \"wool\"", "framed"),
            ("[assembly.x]\nframing = \"2x4 @ 16 in\"\nfill = \"wool\"", "no fill"),
            ("[layout]\nwall_fraction = 23.0", "fraction"),
            ("[layout]\ntop_plates = 200", "0 to 10"),
            ("[layout]\ntop_plates = \"two\"", "invalid type"),
            ("[layout]\ntube_width = \"1\"", "unit"),
            ("layout = 3", "invalid type"),
            ("[layout", ""),
            ("\u{feff}[[[", ""),
        ] {
            let refusals = refused(text);
            assert!(refusals[0].message.contains(found), "{text}: {}", refusals[0].message);
        }
    }
}
