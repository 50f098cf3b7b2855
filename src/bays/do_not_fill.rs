//! What the sheet, or the job file, says must stay empty.

use super::cut::{Bay, BayCut, TOO_NARROW, is_too_narrow, left_out};
use crate::finding::{Code, Finding};
use crate::framing::{LayoutRules, place_of, polygon_of};
use crate::geometry::tolerance::COINCIDENT_M;
use crate::geometry::{Bounds, Point, Polygon, difference, intersection};
use crate::model::{DoNotFill, DoNotFillExtent, Surface};
use crate::units::display::{both_ways, small_area_both_ways};

/// Moves bays, or the part of them in a stretch, to `left_out`.
///
/// Bays are meant by the number that they have before any is cut; those that stay keep it. Where a
/// stretch leaves two pieces of one bay, the left one keeps the number and the other gets the next
/// number that is free.
pub(super) fn keep_empty(surface: &Surface, rules: &LayoutRules, cut: &mut BayCut) {
    let by_number = |entry: &&DoNotFill| matches!(entry.extent, DoNotFillExtent::All | DoNotFillExtent::Bays { .. });
    let (whole, stretches): (Vec<_>, Vec<_>) = surface.do_not_fill.iter().partition(by_number);
    let mut emptied = Vec::new();
    for entry in whole.into_iter().chain(stretches) {
        let before = left_out_area_m2(cut);
        let followed = match entry.extent {
            DoNotFillExtent::All => {
                empty_bays(cut, (1, u32::MAX), &entry.reason, &mut emptied);
                Followed::AsWritten
            }
            DoNotFillExtent::Bays { first, last } => empty_bays(cut, (first, last), &entry.reason, &mut emptied),
            DoNotFillExtent::Stretch { from_m, to_m } => {
                let stretch = [[from_m, f64::NEG_INFINITY], [to_m, f64::INFINITY]];
                empty_box(cut, stretch, &entry.reason, rules)
            }
            DoNotFillExtent::Box { from_m, to_m } => empty_box(cut, [from_m, to_m], &entry.reason, rules),
        };
        let emptied_m2 = left_out_area_m2(cut) - before;
        cut.findings.push(report(surface, entry, &followed, emptied_m2));
    }
}

/// How far an entry could be followed.
enum Followed {
    /// As it is written.
    AsWritten,
    /// It asks for no more than another entry, of this reason.
    Already(String),
    /// Why it could not.
    Not(String),
}

/// A bay that was emptied whole: its number and the reason.
type Emptied = (u32, String);

fn empty_bays(cut: &mut BayCut, (first, last): (u32, u32), reason: &str, emptied: &mut Vec<Emptied>) -> Followed {
    let filled = cut.bays.iter().map(|bay| bay.number);
    let highest = filled.chain(emptied.iter().map(|(number, _)| *number)).max().unwrap_or(0);
    let meant = first..=last;
    let (named, others): (Vec<Bay>, Vec<Bay>) =
        std::mem::take(&mut cut.bays).into_iter().partition(|bay| meant.contains(&bay.number));
    cut.bays = others;
    let before = emptied.iter().find(|(number, _)| meant.contains(number)).map(|(_, reason)| reason.clone());
    let is_some = !named.is_empty();
    for bay in named {
        let (area_m2, outline) = (bay.area_m2, bay.outline);
        emptied.push((bay.number, reason.to_owned()));
        cut.left_out.push(super::LeftOut { reason: reason.to_owned(), area_m2, displaced_m3: 0.0, outline });
    }
    match (is_some, before) {
        (false, None) => Followed::Not(format!("no bay has such a number (the last one is {highest})")),
        _ if last > highest && last < u32::MAX => Followed::Not(format!("the last bay is {highest}")),
        (false, Some(before)) => Followed::Already(before),
        (true, _) => Followed::AsWritten,
    }
}

fn empty_box(cut: &mut BayCut, corners: [Point; 2], reason: &str, rules: &LayoutRules) -> Followed {
    if cut.bays.iter().any(|bay| bay.outline.rings.is_empty()) {
        return Followed::Not(
            "only the area of this surface is known, so that a stretch has no place in it; give length and height, \
                    or `all`"
                .to_owned(),
        );
    }
    let is_hit = leave_out(cut, reason, rules, |bay| box_in(bay, corners).map(|stretch| vec![polygon_of(&stretch)]));
    if is_hit { Followed::AsWritten } else { Followed::Not("no bay lies in it".to_owned()) }
}

/// Moves what of each bay lies in some shapes to `left_out`; returns whether any bay is hit.
///
/// `shapes_at` gives the shapes that a bay may meet. Of a bay that falls into pieces the left one keeps the number.
pub(super) fn leave_out(
    cut: &mut BayCut,
    reason: &str,
    rules: &LayoutRules,
    shapes_at: impl Fn(&Polygon) -> Option<Vec<Polygon>>,
) -> bool {
    let mut next_number = cut.bays.iter().map(|bay| bay.number).max().unwrap_or(0) + 1;
    let mut is_hit = false;
    let mut spares = Vec::new();
    for bay in std::mem::take(&mut cut.bays) {
        let own = std::slice::from_ref(&bay.outline);
        let shapes = shapes_at(&bay.outline).unwrap_or_default();
        let emptied = if shapes.is_empty() { Vec::new() } else { intersection(own, &shapes) };
        if emptied.is_empty() {
            cut.bays.push(bay);
            continue;
        }
        is_hit = true;
        cut.left_out.extend(emptied.into_iter().map(|piece| left_out(reason, piece)));
        let mut rest = difference(own, &shapes);
        rest.sort_by(crate::framing::from_the_left);
        let (narrow, kept): (Vec<_>, Vec<_>) = rest.into_iter().partition(|piece| is_too_narrow(piece, rules));
        cut.left_out.extend(narrow.into_iter().map(|piece| left_out(TOO_NARROW, piece)));
        for (k, outline) in kept.into_iter().enumerate() {
            let number = if k == 0 { bay.number } else { next_number };
            next_number += u32::from(k > 0);
            let piece = Bay::of(number, outline.area_m2(), outline);
            if k == 0 { cut.bays.push(piece) } else { spares.push(piece) }
        }
    }
    cut.bays.extend(spares);
    is_hit
}

/// The box of the part of a piece inside a larger box; `None` where they share no more than an edge.
fn box_in(outline: &Polygon, [from, to]: [Point; 2]) -> Option<Bounds> {
    let bounds = outline.bounds()?;
    let shared = Bounds {
        min_x: from[0].max(bounds.min_x),
        min_y: from[1].max(bounds.min_y),
        max_x: to[0].min(bounds.max_x),
        max_y: to[1].min(bounds.max_y),
    };
    (shared.width_m() > COINCIDENT_M && shared.height_m() > COINCIDENT_M).then_some(shared)
}

fn report(surface: &Surface, entry: &DoNotFill, followed: &Followed, emptied_m2: f64) -> Finding {
    let (part, stays) = match entry.extent {
        DoNotFillExtent::All => ("all of it".to_owned(), "stays"),
        DoNotFillExtent::Bays { first, last } if first == last => (format!("bay {first}"), "stays"),
        DoNotFillExtent::Bays { first, last } => (format!("bays {first} to {last}"), "stay"),
        DoNotFillExtent::Stretch { from_m, to_m } => {
            (format!("the stretch from {} to {}", both_ways(from_m), both_ways(to_m)), "stays")
        }
        DoNotFillExtent::Box { from_m: [x, y], to_m: [to_x, to_y] } => {
            let at = |x: f64, y: f64| format!("{}, {}", both_ways(x), both_ways(y));
            (format!("the box from {} to {}", at(x, y), at(to_x, to_y)), "stays")
        }
    };
    let (place, reason) = (place_of(surface), &entry.reason);
    let said_by = entry.said_by.as_deref().unwrap_or("the sheet");
    match followed {
        Followed::AsWritten => {
            let area = small_area_both_ways(emptied_m2);
            let message = format!("{part} {stays} empty, as {said_by} says (`{reason}`): {area} of bays");
            Finding::note(Code::DoNotFill, &place, message)
        }
        Followed::Already(before) => {
            let message = format!("{part} {stays} empty for `{before}`; `{reason}` takes nothing more of it");
            Finding::note(Code::DoNotFill, &place, message)
        }
        Followed::Not(doubt) => {
            let mend = place_to_mend(entry);
            let message = format!("{part} should stay empty (`{reason}`), but {doubt}; mend {mend}");
            Finding::warning(Code::DoNotFill, &place, message)
        }
    }
}

fn place_to_mend(entry: &DoNotFill) -> String {
    match &entry.said_by {
        Some(place) => format!("`do_not_fill` at {place}"),
        None => "the cell `do_not_fill`".to_owned(),
    }
}

fn left_out_area_m2(cut: &BayCut) -> f64 {
    cut.left_out.iter().map(|piece| piece.area_m2).sum()
}
