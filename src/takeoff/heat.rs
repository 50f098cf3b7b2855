//! Heat through one counted surface, or why it is not computed.

use super::heat_contract::{HEAT_BASIS, HEAT_MARK, ResistanceTakeoff, UsualHeat};
use super::heat_layers::{Layers, layers_of};
use super::plan::Plan;
use super::published::usual;
use super::sum::total;
use super::{HeatLayerTakeoff, HeatSliceTakeoff, HeatTakeoff};
use crate::bays::BayCut;
use crate::framing::{Layout, RowRun};
use crate::geometry::Polygon;
use crate::heat::{Cavity, CavityLayer, Combined, Grade, HeatLayer, Transmitted, transmit};
use crate::job::{Assigned, FillChoice, Filling, Job, Labelled};
use crate::model::{Assumption, Surface, is_steel};

/// Why a surface that is not counted has no R.
pub(super) const NOT_COUNTED: &str = "not counted";
/// Why no surface has one.
pub(super) const NOT_ASKED: &str = "not asked for: `enabled = false` under `[heat]`";
const METAL: &str = "bridged by metal: these methods do not hold";
const OPEN: &str = "open-blown without a label's table, which says what its R is at its thickness";
const EXISTING: &str = "fill that is there already: what it conducts is not known";
const EXISTING_R: &str =
    "fill that is there already, whose R is given, beside the new fill: two fills in one cavity are not computed";
const RIM: &str = "strip at a floor's structure: what lies behind it is no wall";
const NOTHING: &str = "neither members nor bays";
const RATIO: &str = "upper limit more than 1.5 times the lower: the combined method does not hold";

/// Heat through a surface, or why it is not computed, and the assumptions of it.
pub(super) struct Heated {
    pub outcome: Result<HeatTakeoff, String>,
    pub assumptions: Vec<Assumption>,
}

/// What was measured of a surface.
pub(super) struct Of<'a> {
    pub surface: &'a Surface,
    pub plan: &'a Plan<'a>,
    pub assigned: &'a Assigned<'a>,
    pub filling: &'a Filling<'a>,
    pub layout: &'a Layout,
    pub cut: &'a BayCut,
    /// What the label says of the fill, which wins over its conductivity.
    pub label: Option<Labelled<'a>>,
}

/// Computes it.
pub(super) fn heat_through(of: &Of<'_>, job: &Job) -> Heated {
    let mut assumptions = Vec::new();
    let outcome = compute(of, job, &mut assumptions);
    if outcome.is_err() {
        assumptions.clear();
    }
    Heated { outcome, assumptions }
}

fn compute(of: &Of<'_>, job: &Job, assumptions: &mut Vec<Assumption>) -> Result<HeatTakeoff, String> {
    if let Some(reason) = reason_against(of, job) {
        return Err(reason.to_owned());
    }
    let Layers { layers, assumptions: of_layers } = layers_of(of.surface, of.plan, of.assigned, job)?;
    let fill = job.fills.get(of.assigned.fill).ok_or_else(|| NOTHING.to_owned())?;
    let (fill_w_mk, fill_source) = conductivity(of, fill)?;
    let cavity_layer = CavityLayer { framing_w_mk: job.heat.framing_w_mk, fill_w_mk };
    let left_out: Vec<Polygon> = of.cut.left_out.iter().map(|piece| piece.outline.clone()).collect();
    let through_m2 = total(of.layout.members.iter().map(|member| member.area_m2));
    let bays_m2 = total(of.cut.bays.iter().map(|bay| bay.area_m2));
    let cavity = Cavity::laid_out(of.layout.depth_m, through_m2, bays_m2, &of.layout.partial, &left_out)
        .ok_or_else(|| NOTHING.to_owned())?;
    let void_share = job.heat.grade.map_or(0.0, Grade::void_share);
    let series: Vec<f64> = layers.iter().map(|layer| layer.resistance_m2k_w).collect();
    let found = transmit(&cavity, cavity_layer, void_share, &series).ok_or_else(|| NOTHING.to_owned())?;
    if !found.combined.holds() {
        return Err(RATIO.to_owned());
    }
    assumptions.push(job.heat.films_source.clone());
    assumptions.extend(of_layers);
    assumptions.push(job.heat.framing_source.clone());
    assumptions.extend(fill_source);
    assumptions.extend(job.heat.grade.map(|grade| Assumption {
        key: "heat.void_share".to_owned(),
        value: format!("{} of the bays' area at R-1", grade.void_share()),
        unit: String::new(),
        source: format!("job file: grade {}; ANSI/RESNET/ICC 301, from memory", grade.word()),
    }));
    let usual = usual_heat(of, cavity_layer, void_share, &series);
    let left_out_m2 = total(of.cut.left_out.iter().map(|piece| piece.area_m2));
    let Transmitted { combined, framing_fraction, slice_fraction } = found;
    Ok(HeatTakeoff {
        basis: HEAT_BASIS.to_owned(),
        mark: HEAT_MARK.to_owned(),
        parallel_path: resistance(combined.upper_m2k_w),
        isothermal_planes: resistance(combined.lower_m2k_w),
        combined: resistance(combined.mean_m2k_w),
        error_share: combined.error_share,
        framing_fraction,
        cavity: slices(&cavity, &slice_fraction),
        framing_w_mk: cavity_layer.framing_w_mk,
        fill_w_mk,
        layers: layers.into_iter().map(layer).collect(),
        films: job.heat.films,
        grade: job.heat.grade,
        void_share,
        left_out_share: left_out_m2 / (through_m2 + bays_m2 + left_out_m2),
        usual,
    })
}

/// What the fill conducts, and where that comes from: of a label what its R is at the thickness that lies there, since R is
/// not thickness times a figure per inch (16 CFR 460.20).
fn conductivity(of: &Of<'_>, fill: &FillChoice) -> Result<(f64, Option<Assumption>), String> {
    if let Some(label) = of.label {
        let conductivity_w_mk = of.layout.depth_m / label.figure.r_m2k_w;
        let source = Assumption {
            key: format!("heat.fill.{}", fill.rules.name),
            value: format!("{conductivity_w_mk:.4}"),
            unit: "W/(m K)".to_owned(),
            source: format!("R and thickness of the {}", label.coverage.source),
        };
        return Ok((conductivity_w_mk, Some(source)));
    }
    let missing = || format!("conductivity of the fill `{}` not given", fill.rules.name);
    Ok((fill.conductivity_w_mk.ok_or_else(missing)?, fill.conductivity_source.clone()))
}

/// Why the methods do not hold for a surface, or do not say what it is worth.
fn reason_against(of: &Of<'_>, job: &Job) -> Option<&'static str> {
    let surface = of.surface;
    let cavity_layer = surface.cavity_layer.and_then(|index| surface.layers.get(index));
    let is_metal = of.assigned.framing.is_sheet_metal() || cavity_layer.is_some_and(|layer| is_steel(&layer.material));
    if !job.heat.is_enabled {
        Some(NOT_ASKED)
    } else if is_metal {
        Some(METAL)
    } else if of.layout.is_open && of.label.is_none() {
        Some(OPEN)
    } else if let Some(existing) = of.filling.existing.filter(|existing| !existing.is_removed) {
        Some(if existing.r_m2k_w.is_some() { EXISTING_R } else { EXISTING })
    } else if of.plan.is_rim {
        Some(RIM)
    } else {
        None
    }
}

fn resistance(r_m2k_w: f64) -> ResistanceTakeoff {
    ResistanceTakeoff { r_m2k_w, u_w_m2k: 1.0 / r_m2k_w }
}

fn slices(cavity: &Cavity, fractions: &[f64]) -> Vec<HeatSliceTakeoff> {
    let slice = |(thickness_m, fraction): (&f64, &f64)| HeatSliceTakeoff {
        thickness_m: *thickness_m,
        framing_fraction: *fraction,
    };
    cavity.slices_m.iter().zip(fractions).map(slice).collect()
}

fn layer(layer: HeatLayer) -> HeatLayerTakeoff {
    let HeatLayer { name, thickness_m, conductivity_w_mk, resistance_m2k_w, source } = layer;
    HeatLayerTakeoff { name, thickness_m, conductivity_w_mk, resistance_m2k_w, source }
}

/// What the published default for such framing would have given.
fn usual_heat(of: &Of<'_>, layer: CavityLayer, void_share: f64, series: &[f64]) -> Option<UsualHeat> {
    let rows = &of.assigned.framing.rows;
    let spacing_m = rows.iter().find(|row| row.run == RowRun::Up && row.spacing_m > 0.0).map(|row| row.spacing_m);
    let published = usual(of.surface.kind, spacing_m)?;
    let cavity = Cavity::of_fraction(published.fraction, of.layout.depth_m);
    let Combined { upper_m2k_w, lower_m2k_w, mean_m2k_w, .. } = transmit(&cavity, layer, void_share, series)?.combined;
    Some(UsualHeat {
        framing_fraction: published.fraction,
        source: published.source.to_owned(),
        confidence: published.confidence,
        parallel_path: resistance(upper_m2k_w),
        isothermal_planes: resistance(lower_m2k_w),
        combined: resistance(mean_m2k_w),
    })
}
