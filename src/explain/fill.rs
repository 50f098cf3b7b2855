//! Where the depth and the density of a surface come from.

use super::step::{Figure, Line, Operation};
use super::{Subject, assigned_of, read_of};
use crate::fill::ClosedUse;
use crate::framing::{Framing, depth_of};
use crate::job::{Assigned, FillChoice, Rule};
use crate::model::{Assumption, Surface, SurfaceKey, SurfaceKind};
use crate::takeoff::{LabelTakeoff, OpenBlownTakeoff, SurfaceTakeoff, closed_use};

/// Depths that differ by less are the same, in metres.
const SAME_M: f64 = 1e-9;

/// The depth, and what it rests on.
pub(super) fn depth(subject: &Subject<'_>) -> Vec<Line> {
    let surface = subject.surface;
    let Some(depth_m) = surface.depth_m else { return vec![Line::text("not known")] };
    let mut lines = match &surface.open_blown {
        Some(open) => open_depth(open, depth_m),
        None => closed_depth(subject, depth_m),
    };
    if let Some(bulge_m) = surface.netting_bulge_m.filter(|bulge_m| *bulge_m > 0.0) {
        let filled = Figure::length(depth_m + bulge_m);
        let bulge = [(Operation::Plus, Figure::length(bulge_m))];
        lines.push(Line::step("depth and what netting bulges", Figure::length(depth_m), bulge, filled));
    }
    lines
}

fn open_depth(open: &OpenBlownTakeoff, depth_m: f64) -> Vec<Line> {
    let from = if open.target_m2k_w.is_some() { "for the R asked for" } else { "thickness of the job file" };
    let mut lines = vec![Line::given("settled thickness of the new fill", Figure::length(open.settled_m), from)];
    if open.existing_m > 0.0 {
        let depth = Figure::length(open.settled_m + open.existing_m);
        let below = [(Operation::Plus, Figure::length(open.existing_m))];
        lines.push(Line::step("with the fill below it", Figure::length(open.settled_m), below, depth));
    } else if (open.settled_m - depth_m).abs() > SAME_M {
        lines.push(Line::given("depth", Figure::length(depth_m), "what is below it included"));
    }
    lines
}

fn closed_depth(subject: &Subject<'_>, depth_m: f64) -> Vec<Line> {
    let surface = subject.surface;
    let assigned = subject.read.zip(assigned_of(subject));
    let cavity = assigned
        .as_ref()
        .map(|(read, assigned)| (depth_of(read, &assigned.framing).0, depth_source(subject, read, assigned)));
    let vent = surface.vent_gap_m.map(|gap_m| (gap_m, "vent channel, which is not filled", "job file"));
    let band = assigned.as_ref().and_then(|(_, assigned)| assigned.layout.rim_joist_m);
    let band = band.map(|band_m| (band_m, "rim joist across the strip", "job file, else common practice, no source"));
    match (cavity, vent.or(band)) {
        (Some((cavity_m, from)), Some((less_m, what, source))) if (cavity_m - less_m - depth_m).abs() < SAME_M => vec![
            Line::given("depth of the cavity", Figure::length(cavity_m), from),
            Line::given(what, Figure::length(less_m), source),
            Line::step(
                "depth that is filled",
                Figure::length(cavity_m),
                [(Operation::Minus, Figure::length(less_m))],
                Figure::length(depth_m),
            ),
        ],
        (Some((cavity_m, from)), _) if (cavity_m - depth_m).abs() < SAME_M => {
            vec![Line::given("depth", Figure::length(depth_m), from)]
        }
        _ => vec![Line::given(
            "depth that is filled",
            Figure::length(depth_m),
            surface.assembly.clone().unwrap_or_default(),
        )],
    }
}

/// What a depth was taken from, in the order of [`depth_of`].
fn depth_source(subject: &Subject<'_>, read: &Surface, assigned: &Assigned<'_>) -> String {
    let framing = &assigned.framing;
    if read.framing_is_given && !read.said.contains(&SurfaceKey::Depth) {
        return "depth of the members that the model gives".to_owned();
    }
    if read.measured_depth_m.is_some() {
        // What the job file or the survey says stands in the surface as it is taken off, not as it was read.
        let as_read = read_of(subject.origin.building, subject.surface);
        return match as_read.map(|as_read| as_read.measured_depth_m.is_some()) {
            Some(true) => "measured: it stands in the input",
            Some(false) | None => "measured: a `[[surface]]` of the job file, or the survey",
        }
        .to_owned();
    }
    let layer = read.cavity_layer.and_then(|index| read.layers.get(index));
    if let Some(layer) = layer.filter(|layer| layer.thickness_m < framing.depth_m - SAME_M) {
        return format!("thickness of the cavity layer `{}`", layer.material);
    }
    if layer.is_none() && is_wall_thinner(read, framing) {
        return "thickness of the wall's body".to_owned();
    }
    match subject.origin.job.assembly_of(assigned) {
        Some(assembly) if assembly.retrofit.is_depth_given => {
            format!("`depth` of the assembly `{}`", assembly.name)
        }
        _ if assigned.rule == Rule::Model => "the members and layers of the model".to_owned(),
        _ if subject.origin.job.filling_of(read, assigned).is_depth_nominal => {
            format!("dressed depth of `{}`", framing.text)
        }
        _ => format!("depth of `{}`", framing.text),
    }
}

fn is_wall_thinner(read: &Surface, framing: &Framing) -> bool {
    read.kind == SurfaceKind::Wall && read.thickness_m.is_some_and(|body_m| body_m < framing.depth_m - SAME_M)
}

/// The density, and the rule or the row of the label that gives it.
pub(super) fn density(subject: &Subject<'_>) -> Vec<Line> {
    let surface = subject.surface;
    let (Some(density), Some(name)) = (surface.density_kg_m3, surface.fill.as_ref()) else {
        return vec![Line::text("nothing is filled")];
    };
    let result = Figure::density(density);
    let mut lines = vec![Line::text(format!("filled with {name}"))];
    if let Some(label) = &surface.label {
        lines.extend(by_label(surface, label, result));
        return lines;
    }
    let fill = subject.origin.job.fills.iter().find(|fill| fill.rules.name == *name);
    match fill.and_then(|fill| rule_of(fill, surface)) {
        Some((why, source)) => {
            let value = format!("{} {}", source.value, source.unit);
            let from = format!("{why}: {} `{}`, {}", source.key, value.trim(), source.source);
            lines.push(Line::given("density", result, from));
        }
        None => lines.push(Line::given("density", result, "")),
    }
    lines
}

/// The rule that a density follows from, in the order of `fill::density_kg_m3`.
fn rule_of<'f>(fill: &'f FillChoice, surface: &SurfaceTakeoff) -> Option<(String, &'f Assumption)> {
    if surface.open_blown.is_some() {
        return Some(("open-blown, settled".to_owned(), fill.open_source.as_ref()?));
    }
    let closed_use = closed_use(surface.kind, surface.method?);
    if let Some((_, source)) = fill.use_sources.iter().find(|(own, _)| *own == closed_use) {
        let why = if closed_use == ClosedUse::Netted { "behind netting" } else { "in a roof slope" };
        return Some((why.to_owned(), source));
    }
    let density = surface.density_kg_m3?;
    // The sources stand as the file has them, a depth and a density each; the density's own is of the deepest.
    let is_stepped = fill.rules.steps.iter().any(|step| (step.density_kg_m3 - density).abs() < SAME_M)
        && (fill.rules.density_kg_m3 - density).abs() > SAME_M;
    if !is_stepped {
        return Some(("by depth".to_owned(), &fill.density_source));
    }
    let of_density = fill.step_sources.iter().find(|source| source.key.ends_with("density"));
    Some(("by depth, deep".to_owned(), of_density.or(fill.step_sources.first())?))
}

/// Mass per area of the label's row over the depth; with framing in the coverage, into the bays beside it.
fn by_label(surface: &SurfaceTakeoff, label: &LabelTakeoff, result: Figure) -> Vec<Line> {
    let row = if label.is_printed { "a printed row" } else { "between two printed rows, an estimate" };
    let from = format!("label, {row}, coverage {}: {}", label.basis, label.source);
    let mut lines = vec![Line::given("minimum mass per area", Figure::mass_per_area(label.mass_kg_m2), from)];
    let thickness_m = surface.open_blown.as_ref().map(|open| open.settled_m).or(surface.filled_depth_m());
    let Some(thickness_m) = thickness_m.filter(|thickness_m| *thickness_m > 0.0) else { return lines };
    let over = (Operation::Over, Figure::length(thickness_m));
    let first = Figure::mass_per_area(label.mass_kg_m2);
    let plain = label.mass_kg_m2 / thickness_m;
    if (plain - result.si).abs() <= SAME_M * result.si {
        lines.push(Line::step("density", first, [over], result));
        return lines;
    }
    let (Some(bays_m3), Some(members_m3)) = (surface.bay_volume_m3, surface.member_volume_m3) else { return lines };
    let all = Figure::volume(bays_m3 + members_m3);
    lines.push(Line::step("density of all that the coverage spans", first, [over], Figure::density(plain)));
    let members = [(Operation::Plus, Figure::volume(members_m3))];
    lines.push(Line::step("bays and members", Figure::volume(bays_m3), members, all));
    let into_bays = [(Operation::Times, all), (Operation::Over, Figure::volume(bays_m3))];
    lines.push(Line::step("density in the bays alone", Figure::density(plain), into_bays, result));
    lines
}
