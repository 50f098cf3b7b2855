//! How sure a density is that follows from bags.

use super::contract::UncertaintyInput;
use super::depths::Depths;
use crate::fill::FillUse;
use crate::job::{FillChoice, Tolerances};
use crate::model::Assumption;
use crate::order::combined;
use crate::takeoff::SurfaceTakeoff;
use crate::units::{INCH_M, POUND_KG};

/// What a scale on site may be off, two standard deviations.
pub(super) const SCALE_KG: f64 = 0.5 * POUND_KG;
/// What may stay in hopper and hose when they are run down.
pub(super) const RUN_DOWN_KG: f64 = 1.0 * POUND_KG;
/// What an amount that was spilled, vacuumed or left may be off, as a share of it.
pub(super) const TAKEN_SHARE: f64 = 0.20;
/// What the scale of cores may be off: read to the gram.
pub(super) const CORE_SCALE_KG: f64 = 0.0005;
/// What the diameter of a cutter may be off: read to 1/16 in.
pub(super) const CUTTER_M: f64 = INCH_M / 32.0;
/// The most that closed cavities take of a fill of which nobody publishes it, as a multiple of what was promised.
const MOST_RATIO: f64 = 1.25;
/// What a part of a bag may be off that nobody weighed, in bags.
pub(super) const PART_BAG: f64 = 0.25;
/// Tolerances are two standard deviations.
const DEVIATIONS: f64 = 2.0;

/// Names of inputs of a range: of the depth that was drawn, of depths that were measured, of sides and of framing.
pub(super) const DEPTH: &str = "depth";
pub(super) const MEASURED_DEPTH: &str = "measured depth";
pub(super) const SIDES: &str = "length and height";
pub(super) const FRAMING: &str = "framing that cannot be seen";

/// What the judgement rests on.
pub(super) fn sources(tolerances: &Tolerances, fills: &[FillChoice]) -> Vec<Assumption> {
    let own = |key: &str, value: &str, unit: &str| Assumption {
        key: format!("closeout.{key}"),
        value: value.to_owned(),
        unit: unit.to_owned(),
        source: "common practice, no source".to_owned(),
    };
    let used = ["tolerance.length", "tolerance.depth", "tolerance.density", "tolerance.bag", "tolerance.confidence"];
    let mut all: Vec<Assumption> =
        tolerances.sources.iter().filter(|one| used.contains(&one.key.as_str())).cloned().collect();
    all.push(own("scale", "1/2", "lb"));
    all.push(own("run_down", "1", "lb in hopper and hose at each end"));
    all.push(own(
        "hopper_not_known",
        "1",
        "bag at each end, of the job as a whole alone; nothing before the first row of a fill",
    ));
    all.push(own("part_bag", "1/4", "bag, of a part that nobody weighed"));
    all.push(own("core_scale", "1/2", "g"));
    all.push(own("core_diameter", "1/32", "in, of the cutter"));
    all.extend(fills.iter().filter_map(|fill| {
        let most = fill.material?.most_density?;
        Some(Assumption {
            key: format!("closeout.most_density.{}", fill.rules.name),
            value: most.number.to_owned(),
            unit: most.unit.to_owned(),
            source: most.source.to_owned(),
        })
    }));
    all.push(own("most_density", "125", "% of what was promised, of a fill of which none is published"));
    all.push(own("taken_out", "20", "% of what was spilled, vacuumed or left"));
    all.extend(tolerances.judged_sources.iter().filter(|one| one.key == "tolerance.framing").cloned());
    all
}

/// An input by two standard deviations of its mass.
pub(super) fn of_mass(what: impl Into<String>, twice_kg: f64, net_kg: f64) -> UncertaintyInput {
    let standard_share = if net_kg > 0.0 { twice_kg / DEVIATIONS / net_kg } else { 0.0 };
    UncertaintyInput { what: what.into(), standard_share }
}

/// How sure the volume of bays is. Depth is off alike in all of a zone, unless it was measured there; lengths and heights each
/// by themselves; of open-blown fill the depth is read, and no part of this.
pub(super) fn of_volume(
    parts: &[&SurfaceTakeoff],
    use_of: FillUse,
    depths: &Depths,
    tolerances: &Tolerances,
) -> Vec<UncertaintyInput> {
    let volume_m3: f64 = parts.iter().filter_map(|surface| surface.bay_volume_m3).sum();
    if volume_m3 <= 0.0 {
        return Vec::new();
    }
    let area = combined(parts.iter().map(|surface| {
        let share = surface.bay_volume_m3.unwrap_or(0.0) / volume_m3;
        share * combined(sides_m(surface).into_iter().map(|side_m| tolerances.length_m / side_m / DEVIATIONS))
    }));
    let mut all = vec![UncertaintyInput { what: SIDES.to_owned(), standard_share: area }];
    if use_of == FillUse::OpenBlown {
        return all;
    }
    let by_depth = [(MEASURED_DEPTH, depths.measured_share), (DEPTH, depths.drawn_share)];
    all.extend(
        by_depth
            .into_iter()
            .filter_map(|(what, share)| Some(UncertaintyInput { what: what.to_owned(), standard_share: share? })),
    );
    let weighted = |of: &dyn Fn(&SurfaceTakeoff) -> f64| {
        let sum: f64 = parts.iter().map(|surface| surface.bay_volume_m3.unwrap_or(0.0) * of(surface)).sum();
        sum / volume_m3
    };
    let framing = weighted(&|surface| {
        tolerances.framing_share / DEVIATIONS / (1.0 - surface.framing_fraction.unwrap_or(0.0)).max(0.1)
    });
    all.push(UncertaintyInput { what: FRAMING.to_owned(), standard_share: framing });
    all
}

/// Length and height of one surface, of the box around its outline; of an area alone the sides of a square.
fn sides_m(surface: &SurfaceTakeoff) -> [f64; 2] {
    let side = |axis: usize| {
        let along = surface.outline_m.iter().flatten().filter_map(move |corner| corner.get(axis).copied());
        along.clone().fold(f64::NEG_INFINITY, f64::max) - along.fold(f64::INFINITY, f64::min)
    };
    let sides = [side(0), side(1)];
    if sides.iter().all(|side_m| side_m.is_finite() && *side_m > 0.0) {
        return sides;
    }
    [(surface.gross_area_m2 / f64::from(surface.count.max(1))).max(f64::MIN_POSITIVE).sqrt(); 2]
}

/// The most that closed cavities take of a fill: what is published of its material, where that is above what was promised.
pub(super) fn most_kg_m3(choice: Option<&FillChoice>, promised_kg_m3: f64) -> f64 {
    let published = choice.and_then(|choice| choice.material?.most_density);
    published.map(|most| most.si).filter(|most| *most > promised_kg_m3).unwrap_or(promised_kg_m3 * MOST_RATIO)
}

/// All inputs together, as one standard deviation.
pub(super) fn together(inputs: &[UncertaintyInput]) -> f64 {
    combined(inputs.iter().map(|input| input.standard_share))
}
