//! Dimensions: the openings and the whole along the bottom, heights at the sides.

use super::path::px;
use super::scale::Scale;
use super::{TEXT_PX, text_px};
use crate::geometry::Bounds;
use crate::units::UnitSystem;
use maud::{Markup, html};

/// From the drawing to its first line of dimensions, and from there to the next.
const LINE_PX: f64 = 20.0;

/// Height that the dimensions below a drawing take.
pub(super) fn below_px(has_openings: bool) -> f64 {
    if has_openings { 2.0 * LINE_PX + 10.0 } else { LINE_PX + 10.0 }
}

/// Dimensions along the bottom of a stretch, below its foot: from edge to edge of the openings, then the stretch itself.
pub(super) fn along(openings: &[Bounds], scale: &Scale, foot: f64, units: UnitSystem) -> Markup {
    let mut edges: Vec<f64> = openings
        .iter()
        .flat_map(|opening| [scale.along_m(opening.min_x), scale.along_m(opening.max_x)])
        .filter(|edge| *edge > scale.from_m && *edge < scale.to_m)
        .collect();
    edges.sort_by(f64::total_cmp);
    edges.dedup_by(|a, b| (*a - *b).abs() < 1e-3);
    let ends = [scale.from_m, scale.to_m];
    let chain: Vec<f64> = std::iter::once(ends[0]).chain(edges.iter().copied()).chain([ends[1]]).collect();
    let at = |along_m: f64| (along_m - scale.from_m) * scale.px_per_m;
    let line = |stops: &[f64], y: f64| {
        html! {
            @for pair in stops.windows(2) {
                @if let &[a, b] = pair { (level(at(a), at(b), y, &units.show_length(b - a))) }
            }
        }
    };
    html! {
        @if edges.is_empty() {
            (line(&ends, foot + LINE_PX))
        } @else {
            (line(&chain, foot + LINE_PX))
            (line(&ends, foot + 2.0 * LINE_PX))
        }
    }
}

/// Heights: the whole at the left, the right end at the right, with sill and head of the first opening where there are any.
pub(super) fn up(openings: &[Bounds], right_m: f64, scale: &Scale, units: UnitSystem) -> Markup {
    let width = scale.width_px();
    let at = |up_m: f64| (scale.height_m - up_m) * scale.px_per_m;
    let mut stops = vec![0.0];
    let first = openings.iter().min_by(|a, b| scale.along_m(b.min_x).total_cmp(&scale.along_m(a.min_x)));
    if let Some(opening) = first {
        stops.extend([opening.min_y, opening.max_y].into_iter().filter(|y| *y > 1e-3 && *y < right_m - 1e-3));
    }
    stops.push(right_m);
    html! {
        (upright(at(0.0), at(scale.height_m), -LINE_PX, &units.show_length(scale.height_m)))
        @for pair in stops.windows(2) {
            @if let &[a, b] = pair { (upright(at(a), at(b), width + LINE_PX, &units.show_length(b - a))) }
        }
    }
}

fn fits(text: &str, room_px: f64) -> bool {
    text_px(text) <= room_px.abs() + 2.0
}

/// A level dimension line with ticks; its text stands over it where there is room.
fn level(a: f64, b: f64, y: f64, text: &str) -> Markup {
    let data = format!("M{} {}v8M{} {}v8M{} {}h{}", px(a), px(y - 4.0), px(b), px(y - 4.0), px(a), px(y), px(b - a));
    html! {
        path d=(data) {}
        @if fits(text, b - a) {
            text x=(px(f64::midpoint(a, b))) y=(px(y - 3.0)) fill="#222" stroke="none" { (text) }
        }
    }
}

/// An upright dimension line; its text runs upward at its left.
fn upright(a: f64, b: f64, x: f64, text: &str) -> Markup {
    let data = format!("M{} {}h8M{} {}h8M{} {}v{}", px(x - 4.0), px(a), px(x - 4.0), px(b), px(x), px(a), px(b - a));
    let turn = format!("translate({} {})rotate(-90)", px(x - 3.0), px(f64::midpoint(a, b)));
    html! {
        path d=(data) {}
        @if fits(text, b - a) {
            text transform=(turn) fill="#222" stroke="none" { (text) }
        }
    }
}

/// Room above a drawing: half a line of text.
pub(super) const ABOVE_PX: f64 = TEXT_PX / 2.0;
