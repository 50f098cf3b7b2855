//! One surface from its outline to its mass.

use super::by_label::Filler;
use super::heat::{Heated, NOT_COUNTED, Of, heat_through};
use super::plan::Plan;
use super::sum::total;
use super::{BayTakeoff, LeftOutTakeoff, MemberTakeoff, OpeningTakeoff, PartialMemberTakeoff, SurfaceTakeoff};
use crate::bays::{BayCut, TakenUp, cut_bays, take_up};
use crate::fill::{FillUse, Filled, HoleRules, fill_bays, place_holes};
use crate::finding::Finding;
use crate::framing::{Layout, LayoutRules, PartialMember, lay_out};
use crate::geometry::{Polygon, difference};
use crate::job::{Assigned, FillChoice, Filling, Job, OpenFill};
use crate::model::{Assumption, Extent, Opening, OpeningKind, Surface, SurfaceKind};
use std::borrow::Cow;

/// A surface taken off, and what was seen on the way.
pub(super) struct Measured {
    /// The figures.
    pub takeoff: SurfaceTakeoff,
    /// What was seen on the way.
    pub seen: Seen,
}

/// What was seen while a surface was measured.
#[derive(Default)]
pub(super) struct Seen {
    /// What a person must know.
    pub findings: Vec<Finding>,
    /// Values that the inputs did not give.
    pub assumptions: Vec<Assumption>,
}

/// Measures one surface; one that is not counted keeps its areas alone.
pub(super) fn measure(surface: &Surface, plan: &Plan<'_>, job: &Job) -> Measured {
    let fill = |assigned: &Assigned<'_>| job.fills.get(assigned.fill);
    match (&plan.assigned, plan.assigned.as_ref().and_then(fill), plan.reason) {
        (Some(assigned), Some(fill), None) => counted(surface, plan, (assigned, fill), job),
        _ => uncounted(surface, plan),
    }
}

/// What every surface has, counted or not; all else is zero or null.
fn bare(surface: &Surface, plan: &Plan<'_>) -> SurfaceTakeoff {
    let count = f64::from(surface.count);
    SurfaceTakeoff {
        id: surface.id.clone(),
        part: surface.part,
        source: surface.source.clone(),
        name: surface.name.clone(),
        r#type: surface.type_name.clone(),
        storey: surface.storey.clone(),
        zone: surface.zone.clone(),
        count: surface.count,
        kind: surface.kind,
        exposure: plan.exposure,
        assembly: plan.assigned.as_ref().map(|assigned| assembly_words(assigned, plan)),
        thickness_m: surface.thickness_m,
        depth_m: None,
        pitch_deg: surface.pitch_deg,
        plan_m: surface.standing.as_ref().map(|standing| standing.plan_m.clone()),
        level_m: surface.standing.as_ref().map(|standing| standing.level_m),
        outline_m: match &surface.extent {
            Extent::Outline(polygons) => polygons.iter().flat_map(|polygon| polygon.rings.iter().cloned()).collect(),
            Extent::AreaM2(_) => Vec::new(),
        },
        gross_area_m2: surface.gross_area_m2() * count,
        opening_area_m2: surface.opening_area_m2() * count,
        member_area_m2: 0.0,
        bay_area_m2: 0.0,
        left_out_area_m2: 0.0,
        gross_volume_m3: None,
        opening_volume_m3: None,
        member_volume_m3: None,
        bay_volume_m3: None,
        left_out_volume_m3: None,
        framing_fraction: None,
        fill: None,
        density_kg_m3: None,
        mass_kg: None,
        method: None,
        netting_bulge_m: None,
        holes: None,
        surveyed: None,
        r#use: None,
        label: None,
        open_blown: None,
        vent_gap_m: None,
        unvented: None,
        baffles: None,
        dam_length_m: None,
        shallow_area_m2: None,
        heat: None,
        heat_reason: Some(NOT_COUNTED.to_owned()),
        counted: false,
        reason: plan.reason.map(str::to_owned),
        openings: openings(surface),
        members: Vec::new(),
        partial_members: Vec::new(),
        bays: Vec::new(),
        left_out: Vec::new(),
    }
}

fn assembly_words(assigned: &Assigned<'_>, plan: &Plan<'_>) -> String {
    let is_rim = plan.is_rim || assigned.layout.is_rim;
    if is_rim { format!("rim: {}", assigned.words) } else { assigned.words.clone() }
}

/// Openings of one; one in several pieces gives an entry for each.
fn openings(surface: &Surface) -> Vec<OpeningTakeoff> {
    let mut entries = Vec::new();
    for opening in &surface.openings {
        let entry = |area_m2: f64, outline: &Polygon| OpeningTakeoff {
            id: opening.id.clone(),
            kind: opening.kind,
            area_m2,
            outline_m: outline.clone(),
        };
        match opening.outline.as_slice() {
            [] => entries.push(entry(opening.area_m2, &Polygon::default())),
            [one] => entries.push(entry(opening.area_m2, one)),
            pieces => entries.extend(pieces.iter().map(|piece| entry(piece.area_m2(), piece))),
        }
    }
    entries
}

fn uncounted(surface: &Surface, plan: &Plan<'_>) -> Measured {
    let mut takeoff = bare(surface, plan);
    takeoff.left_out_area_m2 = takeoff.gross_area_m2 - takeoff.opening_area_m2;
    let reason = plan.reason.unwrap_or_default();
    let rest_m2 = surface.gross_area_m2() - surface.opening_area_m2();
    let entry = |area_m2: f64, outline_m: Polygon| LeftOutTakeoff {
        reason: reason.to_owned(),
        area_m2,
        volume_m3: None,
        bay: None,
        outline_m,
    };
    let mut pieces = rest_of(surface);
    takeoff.left_out = match pieces.len() {
        // A surface that its openings take whole has nothing to leave out.
        0 if rest_m2 <= 0.0 => Vec::new(),
        0 => vec![entry(rest_m2, Polygon::default())],
        1 => pieces.pop().into_iter().map(|piece| entry(rest_m2, piece)).collect(),
        _ => pieces.into_iter().map(|piece| entry(piece.area_m2(), piece)).collect(),
    };
    Measured { takeoff, seen: Seen::default() }
}

/// The outline less the openings; nothing where one of them has no outline.
fn rest_of(surface: &Surface) -> Vec<Polygon> {
    let Extent::Outline(polygons) = &surface.extent else { return Vec::new() };
    if surface.openings.iter().any(|opening| opening.outline.is_empty() && opening.area_m2 > 0.0) {
        return Vec::new();
    }
    let holes: Vec<Polygon> = surface.openings.iter().flat_map(|opening| opening.outline.iter().cloned()).collect();
    difference(polygons, &holes)
}

/// Rules of the layout of this surface: a rim strip's, and the thickness of open-blown fill that follows from its R.
fn layout_rules<'r>(
    surface: &Surface,
    plan: &Plan<'_>,
    (assigned, job): (&'r Assigned<'_>, &Job),
    open: Option<&OpenFill<'_>>,
) -> Cow<'r, LayoutRules> {
    let mut rules = Cow::Borrowed(assigned.layout);
    if plan.is_rim {
        rules.to_mut().is_rim = true;
    }
    if rules.is_rim && rules.rim_joist_m.is_some() && !plan.is_rim_behind_band(surface, job) {
        rules.to_mut().rim_joist_m = None;
    }
    if let Some(open) = open
        && rules.enclosure.open_thickness_m != Some(open.total_m())
    {
        rules.to_mut().enclosure.open_thickness_m = Some(open.total_m());
    }
    rules
}

fn counted(surface: &Surface, plan: &Plan<'_>, (assigned, fill): (&Assigned<'_>, &FillChoice), job: &Job) -> Measured {
    let filling = job.filling_of(surface, assigned);
    let open = job.open_fill_of(surface, assigned).ok().flatten();
    let layout_rules = layout_rules(surface, plan, (assigned, job), open.as_ref());
    let layout_rules = layout_rules.as_ref();
    let layout = lay_out(surface, &assigned.framing, layout_rules);
    let mut cut = cut_bays(surface, &layout, layout_rules);
    // Netting bulges over the bays alone: it is held at the members.
    let depth_m = layout.depth_m + filling.netting_bulge_m;
    let taken = TakenUp { existing: filling.existing, allowances: filling.displaced, lies_open: layout.is_open };
    take_up(surface, &mut cut, &layout.partial, &taken, depth_m);
    let filler = Filler::of(surface, assigned, (fill, &filling), open, (job, depth_m));
    let filled = fill_bays(&cut.bays, depth_m, filler.density_kg_m3(&layout, &cut, depth_m));
    let mut takeoff = bare(surface, plan);
    let count = f64::from(surface.count);
    takeoff.counted = true;
    takeoff.depth_m = Some(layout.depth_m);
    takeoff.member_area_m2 = total(layout.members.iter().map(|member| member.area_m2)) * count;
    takeoff.bay_area_m2 = total(cut.bays.iter().map(|bay| bay.area_m2)) * count;
    takeoff.left_out_area_m2 = total(cut.left_out.iter().map(|piece| piece.area_m2)) * count;
    let volume = |area_m2: f64| Some(area_m2 * layout.depth_m);
    let bulge_m3 = takeoff.bay_area_m2 * filling.netting_bulge_m;
    takeoff.gross_volume_m3 = volume(takeoff.gross_area_m2).map(|volume_m3| volume_m3 + bulge_m3);
    takeoff.opening_volume_m3 = volume(takeoff.opening_area_m2);
    let partial_m3 = total(layout.partial.iter().map(|piece| piece.volume_of_m3(piece.area_m2))) * count;
    let member_m3 = takeoff.member_area_m2 * layout.depth_m + partial_m3;
    let kept_empty_m3 = total(cut.left_out.iter().map(|piece| piece.area_m2 * layout.depth_m - piece.displaced_m3));
    takeoff.member_volume_m3 = Some(member_m3);
    let in_bays_m3 = total(cut.empty_volumes.iter().map(|empty| empty.volume_m3));
    takeoff.left_out_volume_m3 = Some((kept_empty_m3 + in_bays_m3) * count);
    takeoff.bay_volume_m3 = Some(filled.volume_m3 * count);
    let net_m3 = (takeoff.gross_area_m2 - takeoff.opening_area_m2) * layout.depth_m;
    takeoff.framing_fraction = (net_m3 > 0.0).then(|| member_m3 / net_m3);
    takeoff.fill = Some(fill.rules.name.clone());
    takeoff.density_kg_m3 = Some(filled.density_kg_m3);
    takeoff.mass_kg = Some(filled.mass_kg * count);
    besides_fill(surface, layout_rules, &layout, &cut, &mut takeoff);
    filler.note(assigned, job, &mut takeoff);
    takeoff.bays = bays(&cut, &filled);
    fill_in_holes(&mut takeoff, &filling, &job.filling.holes, assigned.layout.tube_width_m);
    takeoff.members = members(&layout);
    takeoff.partial_members = partial_members(&layout);
    takeoff.left_out = left_out(&cut, layout.depth_m);
    let of = Of { surface, plan, assigned, filling: &filling, layout: &layout, cut: &cut, label: filler.label };
    let Heated { outcome, assumptions: of_heat } = heat_through(&of, job);
    takeoff.heat_reason = outcome.as_ref().err().cloned();
    takeoff.heat = outcome.ok();
    let mut findings = layout.findings;
    findings.extend(cut.findings);
    let mut assumptions = layout.assumptions;
    assumptions.extend(cut.assumptions);
    assumptions.extend(of_heat);
    Measured { takeoff, seen: Seen { findings, assumptions } }
}

/// How the fill is held, and what an attic or a roof needs besides it.
fn besides_fill(surface: &Surface, rules: &LayoutRules, layout: &Layout, cut: &BayCut, takeoff: &mut SurfaceTakeoff) {
    let count = f64::from(surface.count);
    takeoff.r#use = Some(if layout.is_open { FillUse::OpenBlown } else { FillUse::ClosedCavity });
    takeoff.baffles = cut.baffles.map(|baffles| u64::from(baffles) * u64::from(surface.count));
    if surface.kind == SurfaceKind::Roof {
        takeoff.vent_gap_m = rules.enclosure.vent_gap_m;
        takeoff.unvented = rules.enclosure.unvented.clone().filter(|_| rules.enclosure.vent_gap_m.is_none());
    }
    if layout.is_open {
        let hatches = surface.openings.iter().filter(|opening| opening.kind == OpeningKind::Hatch);
        takeoff.dam_length_m = Some(total(hatches.map(perimeter_m)) * count);
        takeoff.shallow_area_m2 = Some(cut.shallow_area_m2 * count);
    }
}

/// Length of an opening's edge, in metres; of one without outline as if it were square.
fn perimeter_m(opening: &Opening) -> f64 {
    if opening.outline.is_empty() {
        return 4.0 * opening.area_m2.max(0.0).sqrt();
    }
    let outer = opening.outline.iter().filter_map(|polygon| polygon.rings.first());
    total(outer.flat_map(|ring| {
        let edges = ring.iter().zip(ring.iter().cycle().skip(1));
        edges.map(|(a, b)| (b[0] - a[0]).hypot(b[1] - a[1]))
    }))
}

/// How the fill gets in, and the holes of each bay.
fn fill_in_holes(takeoff: &mut SurfaceTakeoff, filling: &Filling<'_>, rules: &HoleRules, tube_width_m: f64) {
    takeoff.method = Some(filling.method);
    takeoff.netting_bulge_m = Some(filling.netting_bulge_m);
    takeoff.surveyed = filling.is_surveyed;
    for bay in &mut takeoff.bays {
        let holes = place_holes(&bay.outline_m, filling.method, rules, tube_width_m);
        bay.holes = holes.as_ref().and_then(|holes| u32::try_from(holes.len()).ok());
        bay.holes_m = holes.unwrap_or_default();
    }
    // Unknown as soon as those of one bay are.
    let holes: Option<u64> = takeoff.bays.iter().map(|bay| bay.holes.map(u64::from)).sum();
    takeoff.holes = holes.map(|holes| holes.saturating_mul(u64::from(takeoff.count)));
}

fn members(layout: &Layout) -> Vec<MemberTakeoff> {
    let entry = |member: &crate::framing::Member| MemberTakeoff {
        role: member.role.word().to_owned(),
        area_m2: member.area_m2,
        outline_m: member.outline.clone(),
    };
    layout.members.iter().map(entry).collect()
}

fn partial_members(layout: &Layout) -> Vec<PartialMemberTakeoff> {
    let entry = |piece: &PartialMember| PartialMemberTakeoff {
        role: piece.role.word().to_owned(),
        area_m2: piece.area_m2,
        from_m: piece.from_m,
        to_m: piece.to_m,
        solid_share: piece.solid_share,
        volume_m3: piece.volume_of_m3(piece.area_m2),
        outline_m: piece.outline.clone(),
    };
    layout.partial.iter().map(entry).collect()
}

fn bays(cut: &BayCut, filled: &Filled) -> Vec<BayTakeoff> {
    let entry = |(bay, fill): (&crate::bays::Bay, &crate::fill::FilledBay)| {
        let bounds = bay.outline.bounds();
        BayTakeoff {
            id: bay.number.to_string(),
            width_m: bounds.map(|bounds| bounds.width_m()),
            height_m: bounds.map(|bounds| bounds.height_m()),
            area_m2: bay.area_m2,
            depth_m: filled.depth_m,
            displaced_m3: bay.displaced_m3,
            empty_m3: bay.empty_m3,
            volume_m3: fill.volume_m3,
            density_kg_m3: filled.density_kg_m3,
            mass_kg: fill.mass_kg,
            holes: None,
            holes_m: Vec::new(),
            outline_m: bay.outline.clone(),
        }
    };
    cut.bays.iter().zip(&filled.bays).map(entry).collect()
}

/// Pieces of the area that stay empty, then parts of the bays' volume that do.
fn left_out(cut: &BayCut, depth_m: f64) -> Vec<LeftOutTakeoff> {
    let pieces = cut.left_out.iter().map(|piece| LeftOutTakeoff {
        reason: piece.reason.clone(),
        area_m2: piece.area_m2,
        volume_m3: Some(piece.area_m2 * depth_m - piece.displaced_m3),
        bay: None,
        outline_m: piece.outline.clone(),
    });
    let volumes = cut.empty_volumes.iter().map(|empty| LeftOutTakeoff {
        reason: empty.reason.clone(),
        area_m2: 0.0,
        volume_m3: Some(empty.volume_m3),
        bay: empty.bay.map(|number| number.to_string()),
        outline_m: Polygon::default(),
    });
    pieces.chain(volumes).collect()
}
