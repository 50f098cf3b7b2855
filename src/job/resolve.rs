//! From the file as it is written to the job.

use super::assembly::{Known, resolve_assembly};
use super::built_in::built_in;
use super::crew_file::read_crew;
use super::defaults::{self, JOB_FILE, PRACTICE};
use super::file::{ExposureFile, JobFile, LayerFile, parse};
use super::fill_resolve::resolve_fill;
use super::heat::{HeatChoice, LayerHeatRule, layer_heat_rules};
use super::method::FillingChoice;
use super::order_file::read_order;
use super::papers_file::paper_facts;
use super::reader::Reader;
use super::rig_read::{read_rigs, read_site};
use super::rules::{FillChoice, Job};
use super::surface_file::read_surfaces;
use super::tolerance_file::read_tolerances;
use super::{ExposureRule, Glob, LayoutChoice};
use crate::model::{Exposure, LayerRule};
use crate::refusal::Refusal;
use std::collections::BTreeMap;
use toml::Spanned;

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
    let papers = paper_facts(&file);
    let mut layout = LayoutChoice::default();
    layout.take(&file.layout, reader);
    let mut fills: Vec<FillChoice> =
        in_order(file.fill).iter().filter_map(|(name, fill)| resolve_fill(name, fill, reader)).collect();
    if fills.is_empty() {
        fills.push(defaults::default_fill());
    }
    let built_in = built_in(&fills, &layout);
    let mut filling = FillingChoice::default();
    filling.take(&file.filling, reader);
    let order = read_order(&file.order, &file.labour, reader);
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
        papers,
        layout,
        fills,
        filling,
        order,
        crew: read_crew(&file.crew, reader),
        tolerances: read_tolerances(&file.tolerance, reader),
        assemblies,
        built_in,
        frames: Vec::new(),
        exposure: file.exposure.count.unwrap_or_default(),
        exposure_source: if file.exposure.count.is_some() { JOB_FILE } else { PRACTICE }.to_owned(),
        exposure_rules: exposure_rules(&file.exposure),
        surface_rules: read_surfaces(&file.surface, reader),
        survey: None,
        layer_rules,
        heat,
        layer_heat,
        rigs: read_rigs(file.rig, reader),
        site: read_site(&file.site, reader),
        keep_going: false,
        path: path.to_owned(),
        sources: std::mem::take(&mut reader.sources),
        set_keys: Vec::new(),
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
            ("[fill.cellulose]\nbag = \"25\"", "no unit"),
            ("[fill.cellulose]\nallowance = 5.0", "fraction"),
            ("[fill.cellulose]\nsettling = \"100 %\"", "leaves nothing"),
            ("[fill.cellulose]\ndensity = \"35 lb/ft3\"", "denser"),
            ("[assembly.x]\nfill = \"wool\"", "framed"),
            ("[assembly.x]\nframing = \"2x4 @ 16 in\"\nfill = \"wool\"", "no fill"),
            ("[layout]\nwall_fraction = 23.0", "fraction"),
            ("[layout]\ntop_plates = 200", "0 to 10"),
            ("[layout]\ntop_plates = \"two\"", "expected a whole number"),
            ("[layout]\ntube_width = \"1\"", "unit"),
            ("layout = 3", "expected a table"),
            ("[layout", ""),
            ("\u{feff}[[[", ""),
        ] {
            let refusals = refused(text);
            assert!(refusals[0].message.contains(found), "{text}: {}", refusals[0].message);
        }
    }
}
