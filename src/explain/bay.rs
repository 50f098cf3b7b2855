//! The derivation of one bay.

use super::area;
use super::step::{Explanation, Figure, Line, Operation, Section};
use super::{KEPT_EMPTY, Subject, WITHIN, empty, fill, name_of, order, partial, surface};
use crate::geometry::Bounds;
use crate::takeoff::{BayTakeoff, SurfaceTakeoff};

/// What stands closer to a bay's edge than this stands at it, in metres.
const AT_M: f64 = 1e-6;

pub(super) fn explain(subject: &Subject<'_>, bay: &BayTakeoff) -> Explanation {
    let owner = subject.surface;
    let mass = Line::step(
        "volume x density",
        Figure::volume(bay.volume_m3),
        [(Operation::Times, Figure::density(bay.density_kg_m3))],
        Figure::mass(bay.mass_kg),
    );
    let sections = vec![
        Section::new("As read", surface::as_read(subject)),
        Section::new("Place and area", place(owner, bay)),
        Section::new("Depth", fill::depth(subject)),
        Section::new(WITHIN, partial::of_bay(subject, bay)),
        Section::new(KEPT_EMPTY, empty::of_bay(subject, bay)),
        Section::new("Volume", vec![volume(bay)]),
        Section::new("Density", fill::density(subject)),
        Section::new("Mass", vec![mass]),
        Section::new("Order", order::of_bay(subject, bay)),
    ];
    Explanation { title: format!("{}, bay {}", name_of(owner), bay.id), sections }
}

/// Area times depth, less what framing takes and what stays empty.
pub(super) fn volume(bay: &BayTakeoff) -> Line {
    let mut rest = vec![(Operation::Times, Figure::length(bay.depth_m))];
    for taken_m3 in [bay.displaced_m3, bay.empty_m3] {
        if taken_m3 > 0.0 {
            rest.push((Operation::Minus, Figure::volume(taken_m3)));
        }
    }
    let less = match (bay.displaced_m3 > 0.0, bay.empty_m3 > 0.0) {
        (false, false) => "",
        (true, false) => " less framing",
        (false, true) => " less what stays empty",
        (true, true) => " less framing and what stays empty",
    };
    let what = format!("bay {}: area x depth{less}", bay.id);
    Line::step(what, Figure::area(bay.area_m2), rest, Figure::volume(bay.volume_m3))
}

/// Where it lies, what it lies between, and its area.
fn place(owner: &SurfaceTakeoff, bay: &BayTakeoff) -> Vec<Line> {
    let mut lines = Vec::new();
    if let Some(bounds) = bay.outline_m.bounds() {
        let (left, right) = (Figure::length(bounds.min_x), Figure::length(bounds.max_x));
        let (low, high) = (Figure::length(bounds.min_y), Figure::length(bounds.max_y));
        lines.push(Line::given("left edge, from the surface's left end", left, beside(owner, &bounds, Side::Left)));
        lines.push(Line::given("right edge", right, beside(owner, &bounds, Side::Right)));
        lines.push(Line::step("width", right, [(Operation::Minus, left)], Figure::length(bounds.width_m())));
        lines.push(Line::given("lower edge, from the surface's foot", low, beside(owner, &bounds, Side::Below)));
        lines.push(Line::given("upper edge", high, beside(owner, &bounds, Side::Above)));
        lines.push(Line::step("height", high, [(Operation::Minus, low)], Figure::length(bounds.height_m())));
    }
    lines.extend(area::lines("area", &bay.outline_m.rings, bay.area_m2));
    lines
}

#[derive(Clone, Copy)]
enum Side {
    Left,
    Right,
    Below,
    Above,
}

/// `at a stud`: the members that touch a side of a bay; empty where none does.
fn beside(owner: &SurfaceTakeoff, bay: &Bounds, side: Side) -> String {
    let touches = |member: &Bounds| {
        let near = |a: f64, b: f64| (a - b).abs() < AT_M;
        let runs = |low: f64, high: f64, other_low: f64, other_high: f64| low < other_high && other_low < high;
        let along = runs(bay.min_y, bay.max_y, member.min_y, member.max_y);
        let across = runs(bay.min_x, bay.max_x, member.min_x, member.max_x);
        match side {
            Side::Left => near(member.max_x, bay.min_x) && along,
            Side::Right => near(member.min_x, bay.max_x) && along,
            Side::Below => near(member.max_y, bay.min_y) && across,
            Side::Above => near(member.min_y, bay.max_y) && across,
        }
    };
    let mut roles: Vec<&str> = owner
        .members
        .iter()
        .filter(|member| member.outline_m.bounds().is_some_and(|bounds| touches(&bounds)))
        .map(|member| member.role.as_str())
        .collect();
    roles.dedup();
    if roles.is_empty() { String::new() } else { format!("at the {}", roles.join(" and the ")) }
}
