//! A derivation as people read it: figures with so many digits that a pocket calculator gives the same results.

use super::text::{printable, wrap};
use crate::explain::{Explanation, Figure, Line, Measure, Operation, Section};
use crate::units::display::grouped;
use crate::units::{FOOT_M, POUND_PER_SQUARE_FOOT_KG_M2, UnitSystem};

const WIDTH: usize = 80;
/// Figures below this are rounding.
const NOTHING: f64 = 1e-9;
const ESTIMATE: &str =
    "These figures are estimates. The label on the bag, the local code and the licensed trades decide.";

/// Derivations one below the other.
pub fn render_explanations(explanations: &[Explanation], units: UnitSystem) -> String {
    let mut out = String::new();
    for explanation in explanations {
        if !out.is_empty() {
            out.push('\n');
        }
        push(&mut out, &printable(&explanation.title), "  ");
        for section in explanation.sections.iter().filter(|section| !section.lines.is_empty()) {
            out.push('\n');
            self::section(&mut out, section, units);
        }
    }
    out.push('\n');
    push(&mut out, ESTIMATE, "");
    out
}

fn section(out: &mut String, section: &Section, units: UnitSystem) {
    push(out, &printable(&section.title), "  ");
    for line in &section.lines {
        push(out, &format!("  {}", printable(&words(line, units))), "      ");
    }
}

fn push(out: &mut String, text: &str, indent: &str) {
    for line in wrap(text, WIDTH, indent) {
        // A word without spaces, such as a record of a model, may be longer than a line.
        let mut rest = line.as_str();
        while let Some((at, _)) = rest.char_indices().nth(WIDTH) {
            let (head, tail) = rest.split_at(at);
            out.push_str(head);
            out.push('\n');
            out.push_str(indent);
            rest = tail;
        }
        out.push_str(rest);
        out.push('\n');
    }
}

fn words(line: &Line, units: UnitSystem) -> String {
    match line {
        Line::Text(text) => text.clone(),
        Line::Given { what, figure, from } => {
            let source = if from.is_empty() { String::new() } else { format!("; {from}") };
            format!("{what}: {}{}{source}", show(*figure, units), as_built(*figure, units))
        }
        Line::Corners { what, points, area } => {
            let corner = |[x, y]: &[f64; 2]| {
                let length = |si: f64| number(Figure { measure: Measure::Length, si }, units);
                format!("({}, {})", length(*x), length(*y))
            };
            let corners: Vec<String> = points.iter().map(corner).collect();
            let unit = symbol(Measure::Length, units);
            format!("{what}, by its corners in {unit}: {} enclose {}", corners.join(" "), show(*area, units))
        }
        Line::Step(step) => {
            let mut words = vec![show(step.first, units)];
            words.extend(step.rest.iter().flat_map(|(op, figure)| [sign(*op).to_owned(), show(*figure, units)]));
            format!("{}: {} = {}", step.what, words.join(" "), show(step.result, units))
        }
        Line::SumAbove { what, lines, result } => {
            format!("{what}: the sum of the {lines} above = {}", show(*result, units))
        }
        Line::RoundedUp { what, exact, whole } => {
            format!("{what}: {} gives {}", show(*exact, units), show(*whole, units))
        }
    }
}

fn sign(operation: Operation) -> &'static str {
    match operation {
        Operation::Plus => "+",
        Operation::Minus => "-",
        Operation::Times => "x",
        Operation::Over => "/",
    }
}

fn show(figure: Figure, units: UnitSystem) -> String {
    let unit = symbol(figure.measure, units);
    let space = if unit.is_empty() { "" } else { " " };
    format!("{}{space}{unit}", number(figure, units))
}

/// A length as people build it: ` (5 1/2")`; nothing for all else.
fn as_built(figure: Figure, units: UnitSystem) -> String {
    match (figure.measure, units) {
        (Measure::Length, UnitSystem::Us) if figure.si < FOOT_M * 4.0 => {
            format!(" ({})", units.show_section(figure.si))
        }
        (Measure::Length, UnitSystem::Us) => format!(" ({})", units.show_length(figure.si)),
        _ => String::new(),
    }
}

fn converted(figure: Figure, units: UnitSystem) -> f64 {
    match (figure.measure, units) {
        (Measure::Length, UnitSystem::Us) => figure.si / FOOT_M,
        (Measure::MassPerArea, UnitSystem::Us) => figure.si / POUND_PER_SQUARE_FOOT_KG_M2,
        (Measure::Length | Measure::MassPerArea | Measure::Number, _) => figure.si,
        (Measure::Area, _) => units.area(figure.si),
        (Measure::Volume, _) => units.volume(figure.si),
        (Measure::Mass, _) => units.mass(figure.si),
        (Measure::Density, _) => units.density(figure.si),
    }
}

fn symbol(measure: Measure, units: UnitSystem) -> &'static str {
    match (measure, units) {
        (Measure::Length, UnitSystem::Us) => "ft",
        (Measure::Length, UnitSystem::Si) => "m",
        (Measure::MassPerArea, UnitSystem::Us) => "lb/ft2",
        (Measure::MassPerArea, UnitSystem::Si) => "kg/m2",
        (Measure::Area, _) => units.area_symbol(),
        (Measure::Volume, _) => units.volume_symbol(),
        (Measure::Mass, _) => units.mass_symbol(),
        (Measure::Density, _) => units.density_symbol(),
        (Measure::Number, _) => "",
    }
}

/// Decimals at most: a cubic metre holds 35 cubic feet and needs more of them for the same accuracy.
fn decimals(measure: Measure, units: UnitSystem) -> usize {
    match (measure, units) {
        (Measure::Volume, UnitSystem::Si) => 8,
        (Measure::Area, UnitSystem::Si) => 7,
        _ => 6,
    }
}

/// Decimals of small figures, which keep six digits that count, such as the thickness of a steel stud in feet.
fn decimals_of_small(value: f64) -> usize {
    const DIGITS: usize = 6;
    const MOST: usize = 12;
    let noughts = std::iter::successors(Some(value.abs()), |rest| Some(rest * 10.0)).skip(1).take(MOST);
    DIGITS + noughts.take_while(|rest| *rest < 1.0).count()
}

/// A number as one types it into a calculator: without commas between thousands and noughts at the end.
fn number(figure: Figure, units: UnitSystem) -> String {
    let value = converted(figure, units);
    // What is nothing but rounding has no digits that count.
    let decimals = match decimals(figure.measure, units) {
        plain if value.abs() < NOTHING => plain,
        plain => plain.max(decimals_of_small(value)),
    };
    let plain = grouped(value, decimals).replace(',', "");
    if plain.contains('.') { plain.trim_end_matches('0').trim_end_matches('.').to_owned() } else { plain }
}
