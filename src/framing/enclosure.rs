//! What bounds the fill of a roof, a ceiling or a floor besides its framing: vent gap, settled thickness, eaves, what holds it.

use super::{Layout, LayoutRules, MemberRow, PartialMember};
use crate::geometry::tolerance::COINCIDENT_M;
use crate::model::{Assumption, EaveSides, Surface, SurfaceKind};
use crate::units::display::section_both_ways;

/// Least height of a vent channel between the fill and the roof deck, in metres: 1 in.
///
/// # Source
/// IRC R806.3, from memory.
pub const LEAST_VENT_GAP_M: f64 = 0.0254;

/// What holds the fill of a floor from below.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HeldBelow {
    /// Netting.
    Netting,
    /// Board.
    Board,
}

/// What bounds the fill of a roof, a ceiling or a floor besides its framing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Enclosure {
    /// Height of the vent channel of a roof, between the fill and the deck, in metres; `None` where nobody gave it.
    pub vent_gap_m: Option<f64>,
    /// Why a roof has no vent channel; then all of its depth is filled.
    pub unvented: Option<String>,
    /// Settled thickness of open-blown fill on a ceiling, in metres; `None` where its cavity is closed.
    pub open_thickness_m: Option<f64>,
    /// Height from the top of the ceiling board to the underside of the roof deck above the outer edge of the ceiling, in metres.
    pub heel_height_m: Option<f64>,
    /// Slope of the roof above a ceiling, in degrees.
    pub roof_pitch_deg: Option<f64>,
    /// Height of the vent channel that baffles keep at the eaves of a ceiling, measured plumb, in metres; 1 in. where nobody gave it.
    pub baffle_gap_m: Option<f64>,
    /// Which edges of a ceiling lie under eaves.
    pub eaves: Option<EaveSides>,
    /// What holds the fill of a floor from below.
    pub below: Option<HeldBelow>,
}

/// Depth that is filled in a cavity, in metres, and whether the fill is open-blown.
///
/// A roof loses its vent channel. A ceiling with a settled thickness is filled to that, be it more or
/// less than its framing is deep. All else is filled whole.
pub(super) fn filled_depth_m(surface: &Surface, framing_m: f64, rules: &LayoutRules) -> (f64, bool) {
    let enclosure = &rules.enclosure;
    match (surface.kind, enclosure.vent_gap_m, enclosure.open_thickness_m) {
        (SurfaceKind::Roof, Some(gap_m), _) => ((framing_m - gap_m).max(0.0), false),
        (SurfaceKind::Ceiling, _, Some(thickness_m)) => (thickness_m, true),
        (SurfaceKind::Wall | SurfaceKind::Floor | SurfaceKind::Roof | SurfaceKind::Ceiling, _, _) => (framing_m, false),
    }
}

/// What of the rows lies in the filled depth, from the underside up.
pub(super) fn rows_within(rows: Vec<MemberRow>, depth_m: f64) -> Vec<MemberRow> {
    let cut = rows.into_iter().map(|row| MemberRow { to_m: row.to_m.min(depth_m), ..row });
    cut.filter(|row| row.to_m - row.from_m > COINCIDENT_M).collect()
}

/// Members of framing that is not as deep as the fill take only their own depth.
///
/// # Source
/// ASTM C1630: coverage is by net area, framing deducted; the fill above the framing is continuous.
pub(super) fn free_above_framing(layout: &mut Layout) {
    if layout.framing_depth_m > layout.depth_m - COINCIDENT_M {
        return;
    }
    let to_m = layout.framing_depth_m;
    let members = std::mem::take(&mut layout.members);
    layout.partial.extend(members.into_iter().map(|member| PartialMember {
        role: member.role,
        area_m2: member.area_m2,
        outline: member.outline,
        from_m: 0.0,
        to_m,
        solid_share: 1.0,
    }));
}

/// What is taken for granted of the enclosure of a surface.
pub(super) fn assumed(surface: &Surface, rules: &LayoutRules) -> Option<Assumption> {
    let of = |key: &str, value: String, source: &str| {
        Some(Assumption { key: key.to_owned(), value, unit: String::new(), source: source.to_owned() })
    };
    let enclosure = &rules.enclosure;
    match surface.kind {
        SurfaceKind::Roof => {
            let gap = section_both_ways(enclosure.vent_gap_m?);
            let value = format!("{gap} between fill and deck, held open by baffles and not filled");
            of("roof.vent_channel", value, "job file; IRC R806.3, at least 1 in., from memory")
        }
        SurfaceKind::Floor => match enclosure.below {
            Some(HeldBelow::Netting) => of("floor.below", "netting".to_owned(), "job file"),
            Some(HeldBelow::Board) => of("floor.below", "board".to_owned(), "job file"),
            None => of("floor.below", "board".to_owned(), "common practice, no source"),
        },
        SurfaceKind::Ceiling => {
            let thickness = section_both_ways(enclosure.open_thickness_m?);
            of("ceiling.thickness", format!("{thickness} settled, from the top of the ceiling board"), "job file")
        }
        SurfaceKind::Wall => None,
    }
}
