//! What proves and qualifies the figures: framing, balance, what is not counted, assumptions, cautions.

use super::WIDTH;
use super::columns::lines;
use super::summary::kind_word;
use super::surfaces::percent;
use crate::model::Assumption;
use crate::report::assumed::{AS_WRITTEN, taken_as};
use crate::report::text::{printable, shorten, shorten_middle, wrap};
use crate::takeoff::{
    Confidence, FramingComparison, Names, NotCounted, PublishedFraction, Takeoff, not_counted_by_reason,
};
use crate::units::UnitSystem;
use crate::units::display::grouped;

/// Most assumptions that are shown; the JSON has them all.
const MOST_ASSUMPTIONS: usize = 40;

/// Most published fractions that are shown of a kind and spacing; the JSON has them all.
const MOST_PUBLISHED: usize = 3;
/// Most kinds and spacings that are shown.
const MOST_COMPARED: usize = 8;

pub(super) fn framing(takeoff: &Takeoff, units: UnitSystem) -> Vec<String> {
    if takeoff.framing.is_empty() {
        return Vec::new();
    }
    let mut rows = Vec::new();
    for group in takeoff.framing.iter().take(MOST_COMPARED) {
        rows.push(laid_out(group, units));
        let shown = group.published.iter().filter(|one| one.applies).take(MOST_PUBLISHED);
        rows.extend(shown.map(|one| published(one, group, units)));
    }
    let whole = takeoff.framing_fraction.map(|fraction| format!(" ({} of all)", percent(fraction)));
    let title = format!("Framing as laid out{}, beside published defaults", whole.unwrap_or_default());
    let mut all = wrap(&title, WIDTH, "  ");
    all.extend(lines(&["", "framing", units.mass_symbol(), "differs", "in bags"], 1, rows));
    if takeoff.framing.len() > MOST_COMPARED {
        all.push(format!("  and {} more, all in the JSON", takeoff.framing.len() - MOST_COMPARED));
    }
    all
}

fn laid_out(group: &FramingComparison, units: UnitSystem) -> Vec<String> {
    let spacing = group.spacing_m.map_or_else(|| "as modelled".to_owned(), |m| format!("at {}", units.show_section(m)));
    vec![
        format!("{}, {spacing}", kind_word(group.kind)),
        percent(group.laid_out_fraction),
        grouped(units.mass(group.mass_kg), mass_decimals(group, units)),
        String::new(),
        String::new(),
    ]
}

fn published(one: &PublishedFraction, group: &FramingComparison, units: UnitSystem) -> Vec<String> {
    let decimals = mass_decimals(group, units);
    let recalled = if one.confidence == Confidence::FromMemory { ", from memory" } else { "" };
    vec![
        format!("  {}", shorten(&format!("{}{recalled}", one.source), 41)),
        percent(one.fraction),
        grouped(units.mass(one.mass_kg), decimals),
        signed(units.mass(one.mass_kg - group.mass_kg), decimals),
        one.bags_difference.map_or_else(|| "-".to_owned(), |bags| signed(bags, 1)),
    ]
}

/// Tenths of kilograms, as long as they leave the room that the columns have.
fn mass_decimals(group: &FramingComparison, units: UnitSystem) -> usize {
    usize::from(units == UnitSystem::Si && group.mass_kg < 1e4)
}

pub(in crate::report) fn signed(value: f64, decimals: usize) -> String {
    let text = grouped(value, decimals);
    if value > 0.0 && !text.chars().all(|c| matches!(c, '0' | '.')) { format!("+{text}") } else { text }
}

pub(super) fn balance(takeoff: &Takeoff, units: UnitSystem) -> Vec<String> {
    let b = &takeoff.balance;
    let figure = |area_m2: f64| grouped(units.area(area_m2), 1);
    let heading = ["gross", "=", "openings", "+", "members", "+", "bays", "+", "left out"];
    let row = [
        figure(b.gross_area_m2),
        "=".to_owned(),
        figure(b.opening_area_m2),
        "+".to_owned(),
        figure(b.member_area_m2),
        "+".to_owned(),
        figure(b.bay_area_m2),
        "+".to_owned(),
        figure(b.left_out_area_m2),
    ];
    let mut all = vec![format!("Balance, in {}", units.area_symbol())];
    all.extend(lines(&heading, 0, vec![row.to_vec()]));
    all.push(format!(
        "  elements and rows: {} read = {} counted + {} left out",
        b.elements_read, b.elements_counted, b.elements_left_out
    ));
    all
}

pub(super) fn not_counted(takeoff: &Takeoff, units: UnitSystem) -> Vec<String> {
    let reasons = not_counted_by_reason(takeoff);
    if reasons.is_empty() {
        return Vec::new();
    }
    let row = |one: &NotCounted| {
        vec![shorten(&one.reason, 30), which(&one.names), one.count.to_string(), how_much(one, units)]
    };
    let mut all = vec!["Not counted, or left out of a counted surface".to_owned()];
    all.extend(lines(&["reason", "which", "number", "how much"], 2, reasons.iter().map(row).collect()));
    all
}

/// Names within thirty columns.
fn which(names: &Names) -> String {
    const WIDEST: usize = 30;
    let more = if names.more() > 0 { format!(" and {} more", names.more()) } else { String::new() };
    let room = WIDEST - more.len();
    let joined = names.shown().join(", ");
    // One long name is cut in its middle: names in a model often differ at their ends only.
    let is_one = names.shown().len() == 1;
    format!("{}{more}", if is_one { shorten_middle(&joined, room) } else { shorten(&joined, room) })
}

/// An area; a volume for what has no area of its own.
pub(in crate::report) fn how_much(one: &NotCounted, units: UnitSystem) -> String {
    let decimals = if units == UnitSystem::Us { 1 } else { 2 };
    let area = |area_m2: f64| format!("{} {}", grouped(units.area(area_m2), decimals), units.area_symbol());
    let volume = format!("{} {}", grouped(units.volume(one.volume_m3), decimals), units.volume_symbol());
    match one.area_m2 {
        None => "-".to_owned(),
        Some(area_m2) if one.volume_m3 > 0.0 && area_m2 > 0.0 => format!("{}, {volume}", area(area_m2)),
        Some(_) if one.volume_m3 > 0.0 => volume,
        Some(area_m2) => area(area_m2),
    }
}

/// By source, since many values share one.
pub(super) fn assumptions(takeoff: &Takeoff, units: UnitSystem) -> Vec<String> {
    let mut by_source: Vec<(&str, Vec<&Assumption>)> = Vec::new();
    for assumption in takeoff.assumptions.iter().take(MOST_ASSUMPTIONS) {
        match by_source.iter_mut().find(|(source, _)| *source == assumption.source) {
            Some((_, list)) => list.push(assumption),
            None => by_source.push((&assumption.source, vec![assumption])),
        }
    }
    let mut all = Vec::new();
    if !by_source.is_empty() {
        all.push("Taken as, by source".to_owned());
    }
    for (source, list) in by_source {
        let value = |one: &&Assumption| format!("{} {}", printable(&one.key), taken_as(one, units));
        let values: Vec<String> = list.iter().map(value).collect();
        all.extend(wrap(&format!("  {}: {}", printable(source), values.join("; ")), WIDTH, "    "));
    }
    if takeoff.assumptions.len() > MOST_ASSUMPTIONS {
        all.push(format!("  … and {} more (all in the JSON)", takeoff.assumptions.len() - MOST_ASSUMPTIONS));
    }
    if units == UnitSystem::Si && !all.is_empty() {
        all.extend(wrap(&format!("  {AS_WRITTEN}"), WIDTH, "    "));
    }
    all
}

/// Hazards of blowing walls, in short.
pub(in crate::report) const HAZARDS: &str = "Before blowing: knob-and-tube wiring is live until an electrician says otherwise; bays used as \
                       air ducts, recessed lights that are not rated for it, flues and chimneys stay clear; leaks and \
                       wet basements are mended first; vermiculite and asbestos stay undisturbed, asbestos-cement \
                       siding is not drilled; lead paint, dust and bulging finishes are looked out for; combustion \
                       appliances are tested before and after.";
pub(in crate::report) const ESTIMATE: &str = "These figures are estimates. The label on the bag, the local code and the licensed trades \
                        decide.";

pub(super) fn cautions(takeoff: &Takeoff) -> Vec<String> {
    let mut all = wrap(ESTIMATE, WIDTH, "");
    if !takeoff.fills.is_empty() {
        all.extend(wrap(HAZARDS, WIDTH, ""));
    }
    all.iter().map(|line| printable(line)).collect()
}
