//! Framing by fraction, where only an area is known.

use super::{Framing, Layout, LayoutRules, Member, MemberRole};
use crate::geometry::Polygon;
use crate::model::{Assumption, Surface, SurfaceKind};

const HOME_MODELS: &str = "defaults of open home energy models, from memory";

/// One member without outline, a fraction of the area less its openings: that of the input, else the usual one; `layout` gets it and the assumption.
///
/// A rim has the ends of joists alone, as wide as one for each spacing.
pub(super) fn frame_by_fraction(surface: &Surface, framing: &Framing, rules: &LayoutRules, layout: &mut Layout) {
    let of_rim = rules.is_rim.then(|| framing.rows.first()).flatten();
    let of_rim = of_rim.filter(|row| row.spacing_m > 0.0).map(|row| (row.member_width_m / row.spacing_m).min(1.0));
    let (kind, usual) = match surface.kind {
        SurfaceKind::Wall if of_rim.is_some() => ("rim", of_rim.unwrap_or(rules.wall_fraction)),
        SurfaceKind::Wall => ("wall", rules.wall_fraction),
        SurfaceKind::Roof => ("roof", rules.roof_fraction),
        SurfaceKind::Ceiling => ("ceiling", rules.ceiling_fraction),
        SurfaceKind::Floor => ("floor", rules.floor_fraction),
    };
    let fraction = surface.framing_fraction.unwrap_or(usual);
    let area_m2 = (surface.gross_area_m2() - surface.opening_area_m2()) * fraction;
    if area_m2 > 0.0 {
        layout.members.push(Member { role: MemberRole::Fraction, area_m2, outline: Polygon::default() });
    }
    layout.assumptions.push(Assumption {
        key: format!("layout.{kind}_fraction"),
        value: fraction.to_string(),
        unit: String::new(),
        source: match surface.framing_fraction {
            Some(_) => format!("given by {}", surface.source.input),
            None if kind == "rim" => "width of the joists by their spacing".to_owned(),
            None => source_of(surface.kind, usual).to_owned(),
        },
    });
}

fn source_of(kind: SurfaceKind, fraction: f64) -> &'static str {
    let default = LayoutRules::default();
    let (published, source) = match kind {
        SurfaceKind::Wall => (default.wall_fraction, "WAC 51-11-1005: .19 + .04"),
        SurfaceKind::Roof => (default.roof_fraction, HOME_MODELS),
        SurfaceKind::Ceiling => (default.ceiling_fraction, HOME_MODELS),
        SurfaceKind::Floor => (default.floor_fraction, HOME_MODELS),
    };
    if published.total_cmp(&fraction).is_eq() { source } else { "job file" }
}
