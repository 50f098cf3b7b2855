//! Framing by fraction, where only an area is known.

use super::{Layout, LayoutRules, Member, MemberRole};
use crate::geometry::Polygon;
use crate::model::{Assumption, Surface, SurfaceKind};

/// One member without outline, a fraction of the area less its openings; `layout` gets it and the assumption.
pub(super) fn frame_by_fraction(surface: &Surface, rules: &LayoutRules, layout: &mut Layout) {
    let (kind, fraction) = match surface.kind {
        SurfaceKind::Wall => ("wall", rules.wall_fraction),
        SurfaceKind::Roof => ("roof", rules.roof_fraction),
        SurfaceKind::Ceiling => ("ceiling", rules.ceiling_fraction),
        SurfaceKind::Floor => ("floor", rules.floor_fraction),
    };
    let area_m2 = (surface.gross_area_m2() - surface.opening_area_m2()) * fraction;
    if area_m2 > 0.0 {
        layout.members.push(Member { role: MemberRole::Fraction, area_m2, outline: Polygon::default() });
    }
    layout.assumptions.push(Assumption {
        key: format!("framing.fraction.{kind}"),
        value: fraction.to_string(),
        unit: String::new(),
        source: source_of(surface.kind, fraction).to_owned(),
    });
}

fn source_of(kind: SurfaceKind, fraction: f64) -> &'static str {
    let default = LayoutRules::default();
    let is = |published: f64| (published - fraction).abs() < 1e-12;
    match kind {
        SurfaceKind::Wall if is(default.wall_fraction) => {
            "WAC 51-11-1005, standard framing: .19 studs and plates + .04 headers"
        }
        SurfaceKind::Roof if is(default.roof_fraction) => {
            "common practice in energy rating (0.07 of a roof), no source"
        }
        SurfaceKind::Ceiling if is(default.ceiling_fraction) => {
            "common practice in energy rating (0.10 of a ceiling), no source"
        }
        SurfaceKind::Floor if is(default.floor_fraction) => {
            "common practice in energy rating (0.13 of a floor), no source"
        }
        SurfaceKind::Wall | SurfaceKind::Roof | SurfaceKind::Ceiling | SurfaceKind::Floor => "job file",
    }
}
