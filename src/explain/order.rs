//! What a surface or a bay is of the order.

use super::Subject;
use super::step::{Figure, Line, Operation};
use crate::takeoff::{BayTakeoff, FillTakeoff};

pub(super) fn of_surface(subject: &Subject<'_>) -> Vec<Line> {
    let mass_kg = subject.surface.mass_kg.unwrap_or(0.0);
    of_mass(subject, mass_kg, "this surface")
}

pub(super) fn of_bay(subject: &Subject<'_>, bay: &BayTakeoff) -> Vec<Line> {
    let mut lines = of_mass(subject, bay.mass_kg, "this bay");
    if subject.surface.count > 1 {
        lines.push(Line::text(format!("there are {} surfaces alike, each with such a bay", subject.surface.count)));
    }
    lines
}

fn of_mass(subject: &Subject<'_>, mass_kg: f64, what: &str) -> Vec<Line> {
    let Some(fill) = fill_of(subject) else { return vec![Line::text("it is in no order")] };
    let mass = Figure::mass(mass_kg);
    let mut lines =
        vec![Line::given(format!("all of {}", fill.name), Figure::mass(fill.mass_kg), "sum of its surfaces")];
    if fill.mass_kg > 0.0 {
        let share = Figure::number(mass_kg / fill.mass_kg);
        lines.push(Line::step(
            format!("share of {what}"),
            mass,
            [(Operation::Over, Figure::mass(fill.mass_kg))],
            share,
        ));
    }
    if fill.estimate.is_some() {
        lines.push(Line::text("an estimate without a label's coverage table: no order"));
        return lines;
    }
    let (Some(bag_kg), Some(exact), Some(order)) = (fill.bag_kg, fill.bags_exact, fill.bags_order) else {
        lines.push(Line::text("no bag is given, so there is no order: the net weight on the label decides"));
        return lines;
    };
    let bag = Figure::mass(bag_kg);
    lines.push(Line::given("bag", bag, "net weight on its label"));
    lines.push(Line::step(
        format!("bags of {what}, not rounded"),
        mass,
        [(Operation::Over, bag)],
        Figure::number(mass_kg / bag_kg),
    ));
    let all = Figure::mass(fill.mass_kg);
    lines.push(Line::step("bags of all, not rounded", all, [(Operation::Over, bag)], Figure::number(exact)));
    let allowance = Figure::number(1.0 + fill.allowance);
    let with_allowance = Figure::number(exact * (1.0 + fill.allowance));
    lines.push(Line::step(
        "with the allowance",
        Figure::number(exact),
        [(Operation::Times, allowance)],
        with_allowance,
    ));
    #[allow(clippy::cast_precision_loss, reason = "orders stay far below 2^53 bags")]
    let whole = Figure::number(order as f64);
    lines.push(Line::RoundedUp { what: "order, rounded up once for all".to_owned(), exact: with_allowance, whole });
    lines
}

/// The entry of the order that the surface is in.
fn fill_of<'t>(subject: &Subject<'t>) -> Option<&'t FillTakeoff> {
    let name = subject.surface.fill.as_ref()?;
    let is_estimate = subject.surface.is_estimate();
    subject.takeoff.fills.iter().find(|fill| fill.name == *name && fill.estimate.is_some() == is_estimate)
}
