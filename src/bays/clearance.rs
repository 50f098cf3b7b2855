//! Rings around flues, chimneys and lights that stay empty.

use super::cut::{BayCut, LeftOut};
use super::do_not_fill::leave_out;
use crate::finding::{Code, Finding};
use crate::framing::{Clearances, LayoutRules, place_of};
use crate::geometry::{Bounds, Polygon, outset, total_area_m2};
use crate::model::{Assumption, FlueKind, Opening, OpeningKind, Surface};
use crate::units::INCH_M;
use crate::units::display::section_both_ways;

/// How far fill stays off an opening, and where that comes from.
struct Clearance {
    width_m: f64,
    key: &'static str,
    source: &'static str,
    is_guessed: bool,
}

const NEC: &str = "NEC 410.116(B): none above or within 3 in.";
const LISTING: &str = "its listing, from memory";
const IRC: &str = "IRC R1003.18, from memory";
const WIDEST: &str = "the widest of flues, single wall, from memory";
const INPUT: &str = "input";
const JOB_FILE: &str = "job file";

/// Moves the rings around flues, chimneys and lights from the bays to `left_out`; they hold no fill through the whole thickness.
///
/// Framing that stands in a ring stays a member, and what is left out already stays so. The fill
/// stays off what is above a light as well, since an opening is open through the thickness.
pub(super) fn keep_clear(surface: &Surface, rules: &LayoutRules, cut: &mut BayCut) {
    for opening in &surface.openings {
        let Some(clearance) = clearance_of(opening, &rules.clearances) else { continue };
        if clearance.is_guessed {
            cut.findings.push(not_named(surface, opening, &clearance));
        }
        cut.assume(assumption(&clearance));
        if clearance.width_m <= 0.0 {
            continue;
        }
        let reason = format!("clearance around {}", word(opening.kind));
        let shapes: Vec<Polygon> =
            opening.outline.iter().flat_map(|outline| outset(outline, clearance.width_m)).collect();
        if cut.bays.iter().any(|bay| bay.outline.rings.is_empty()) {
            leave_area_out(opening, &shapes, clearance.width_m, surface, &reason, cut);
        } else if let Some(bounds) = Bounds::of_polygons(&shapes) {
            leave_out(cut, &reason, rules, |bay| meets(bay, &bounds).then(|| shapes.clone()));
        }
    }
}

/// How far fill stays off an opening: as the input says, else as the rules say of its kind, else by what it is; `None` for what needs no clearance.
///
/// # Source
/// Recessed lights: NEC 410.116(B). Type B vents, single-wall pipes and chimneys: from memory, as named.
fn clearance_of(opening: &Opening, rules: &Clearances) -> Option<Clearance> {
    let given = |width_m: f64, key: &'static str, source: &'static str| {
        let width_m = if width_m.is_finite() { width_m.max(0.0) } else { 0.0 };
        Some(Clearance { width_m, key, source, is_guessed: false })
    };
    let of = |own: Option<f64>, inches: f64, key: &'static str, source: &'static str| match own {
        Some(width_m) => given(width_m, key, JOB_FILE),
        None => given(inches * INCH_M, key, source),
    };
    if let Some(width_m) = opening.clearance_m {
        return given(width_m, "given", INPUT);
    }
    match (opening.kind, opening.flue) {
        (OpeningKind::Flue | OpeningKind::Chimney, Some(FlueKind::TypeB)) => {
            of(rules.type_b_vent_m, 1.0, "type_b_vent", LISTING)
        }
        (OpeningKind::Flue | OpeningKind::Chimney, Some(FlueKind::SingleWall)) => {
            of(rules.single_wall_flue_m, 6.0, "single_wall_flue", LISTING)
        }
        (OpeningKind::Flue | OpeningKind::Chimney, Some(FlueKind::Masonry)) | (OpeningKind::Chimney, None) => {
            of(rules.masonry_chimney_m, 2.0, "masonry_chimney", IRC)
        }
        (OpeningKind::Flue, None) => {
            let clearance = of(rules.unnamed_flue_m, 6.0, "flue_not_named", WIDEST);
            clearance.map(|clearance| Clearance { is_guessed: rules.unnamed_flue_m.is_none(), ..clearance })
        }
        (OpeningKind::Light, _) => of(rules.recessed_light_m, 3.0, "recessed_light", NEC),
        (
            OpeningKind::Window | OpeningKind::Door | OpeningKind::Hatch | OpeningKind::Skylight | OpeningKind::Other,
            _,
        ) => None,
    }
}

fn word(kind: OpeningKind) -> &'static str {
    match kind {
        OpeningKind::Flue => "flue",
        OpeningKind::Chimney => "chimney",
        OpeningKind::Light => "light",
        OpeningKind::Window => "window",
        OpeningKind::Door => "door",
        OpeningKind::Hatch => "hatch",
        OpeningKind::Skylight => "skylight",
        OpeningKind::Other => "opening",
    }
}

fn assumption(clearance: &Clearance) -> Assumption {
    Assumption {
        key: format!("clearance.{}", clearance.key),
        value: section_both_ways(clearance.width_m),
        unit: String::new(),
        source: clearance.source.to_owned(),
    }
}

fn not_named(surface: &Surface, opening: &Opening, clearance: &Clearance) -> Finding {
    let message = format!(
        "the flue `{}` is of no known kind, so that the widest ring stays empty around it ({}); say whether it is type B, \
         single wall or masonry, or give its clearance",
        opening.id,
        section_both_ways(clearance.width_m)
    );
    Finding::warning(Code::FlueNotNamed, &place_of(surface), message)
}

/// Where only areas are known: the ring's area, of an opening without outline as if it were square, less the share
/// that framing takes.
fn leave_area_out(
    opening: &Opening,
    shapes: &[Polygon],
    width_m: f64,
    surface: &Surface,
    reason: &str,
    cut: &mut BayCut,
) {
    let ring_m2 = if shapes.is_empty() {
        let side_m = opening.area_m2.max(0.0).sqrt();
        (side_m + 2.0 * width_m).powi(2) - opening.area_m2
    } else {
        total_area_m2(shapes) - opening.area_m2
    };
    let net_m2 = surface.gross_area_m2() - surface.opening_area_m2();
    let Some(bay) = cut.bays.first_mut().filter(|_| net_m2 > 0.0) else { return };
    let area_m2 = (ring_m2.max(0.0) * (bay.area_m2 / net_m2)).min(bay.area_m2);
    bay.area_m2 -= area_m2;
    cut.left_out.push(LeftOut { reason: reason.to_owned(), area_m2, displaced_m3: 0.0, outline: Polygon::default() });
}

fn meets(outline: &Polygon, other: &Bounds) -> bool {
    outline.bounds().is_some_and(|own| {
        own.min_x < other.max_x && other.min_x < own.max_x && own.min_y < other.max_y && other.min_y < own.max_y
    })
}
