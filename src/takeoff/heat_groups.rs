//! Surfaces of like assemblies, for people: side by side, from the least to the greatest, never as a sum or a mean.

use super::heat::NOT_ASKED;
use super::{HeatTakeoff, Names, SurfaceTakeoff, UsualHeat};
use crate::model::SurfaceKind;

/// Surfaces of one kind and assembly between the same layers.
#[derive(Clone, Debug, PartialEq)]
pub struct HeatGroup<'t> {
    /// Their kind.
    pub kind: SurfaceKind,
    /// How they are framed, in words.
    pub assembly: &'t str,
    /// How many.
    pub count: u64,
    /// Which.
    pub names: Names,
    /// Depth of their cavity, in metres.
    pub depth_m: f64,
    /// Least and greatest framing fraction.
    pub framing_fractions: [f64; 2],
    /// Greatest share of the area of one of them that stays empty.
    pub most_left_out_share: f64,
    /// The one with the least combined resistance.
    pub least: &'t HeatTakeoff,
    /// The one with the greatest.
    pub greatest: &'t HeatTakeoff,
}

/// Groups the surfaces whose heat is computed, in the order in which they are first met.
pub fn group_heat(surfaces: &[SurfaceTakeoff]) -> Vec<HeatGroup<'_>> {
    let mut groups: Vec<HeatGroup<'_>> = Vec::new();
    for surface in surfaces {
        let (Some(heat), assembly) = (&surface.heat, surface.assembly.as_deref().unwrap_or_default()) else { continue };
        let is_alike = |group: &&mut HeatGroup<'_>| {
            group.kind == surface.kind && group.assembly == assembly && is_between_same(group.least, heat)
        };
        let count = u64::from(surface.count);
        let Some(group) = groups.iter_mut().find(is_alike) else {
            let most_left_out_share = heat.left_out_share;
            let (kind, framing_fractions) = (surface.kind, [heat.framing_fraction; 2]);
            let mut names = Names::default();
            names.add_part(surface, NAMED);
            groups.push(HeatGroup {
                kind,
                assembly,
                count,
                names,
                depth_m: depth_m(heat),
                framing_fractions,
                most_left_out_share,
                least: heat,
                greatest: heat,
            });
            continue;
        };
        group.count += count;
        group.names.add_part(surface, NAMED);
        let [low, high] = group.framing_fractions;
        group.framing_fractions = [low.min(heat.framing_fraction), high.max(heat.framing_fraction)];
        group.most_left_out_share = group.most_left_out_share.max(heat.left_out_share);
        if heat.combined.r_m2k_w < group.least.combined.r_m2k_w {
            group.least = heat;
        }
        if heat.combined.r_m2k_w > group.greatest.combined.r_m2k_w {
            group.greatest = heat;
        }
    }
    groups
}

/// Whether two surfaces have the same layers, fill and default, so that they differ by their framing alone.
fn is_between_same(a: &HeatTakeoff, b: &HeatTakeoff) -> bool {
    let usual = |heat: &HeatTakeoff| heat.usual.as_ref().map(|usual: &UsualHeat| usual.framing_fraction);
    a.layers == b.layers
        && a.fill_w_mk.total_cmp(&b.fill_w_mk).is_eq()
        && (depth_m(a) - depth_m(b)).abs() < 1e-6
        && usual(a) == usual(b)
}

/// Depth of the cavity, in metres.
fn depth_m(heat: &HeatTakeoff) -> f64 {
    heat.cavity.iter().fold(0.0, |sum_m, slice| sum_m + slice.thickness_m)
}

/// Counted surfaces whose heat is not computed, for one reason.
#[derive(Clone, Debug, PartialEq)]
pub struct NoHeat<'t> {
    /// Why.
    pub reason: &'t str,
    /// Which.
    pub names: Names,
}

const NAMED: usize = 4;

/// Counted surfaces whose heat is asked for and not computed, by reason, in the order in which the reasons are first met.
pub fn no_heat_by_reason(surfaces: &[SurfaceTakeoff]) -> Vec<NoHeat<'_>> {
    let mut all: Vec<NoHeat<'_>> = Vec::new();
    for surface in surfaces.iter().filter(|surface| surface.counted) {
        let Some(reason) = surface.heat_reason.as_deref().filter(|reason| *reason != NOT_ASKED) else { continue };
        if let Some(one) = all.iter_mut().find(|one| one.reason == reason) {
            one.names.add_part(surface, NAMED);
        } else {
            let mut names = Names::default();
            names.add_part(surface, NAMED);
            all.push(NoHeat { reason, names });
        }
    }
    all
}
