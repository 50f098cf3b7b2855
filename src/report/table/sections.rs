//! What proves and qualifies the figures: framing, balance, what is not counted, assumptions, cautions.

use super::WIDTH;
use super::columns::lines;
use super::surfaces::percent;
use crate::model::Assumption;
use crate::report::text::{printable, shorten, wrap};
use crate::takeoff::{NotCounted, PublishedFraction, Takeoff, not_counted_by_reason};
use crate::units::UnitSystem;
use crate::units::display::grouped;

/// Most assumptions that are shown; the JSON has them all.
const MOST_ASSUMPTIONS: usize = 40;

pub(super) fn framing(takeoff: &Takeoff, units: UnitSystem) -> Vec<String> {
    let Some(framing) = &takeoff.framing else { return Vec::new() };
    let decimals = usize::from(units == UnitSystem::Si);
    let row = |published: &PublishedFraction| {
        let difference_kg = published.mass_kg - framing.mass_kg;
        vec![
            shorten(&published.source, 42),
            percent(published.fraction),
            grouped(units.mass(published.mass_kg), decimals),
            signed(units.mass(difference_kg), decimals),
            published.bags_difference.map_or_else(|| "-".to_owned(), |bags| signed(bags, 1)),
        ]
    };
    let laid_out = vec![
        "as laid out".to_owned(),
        percent(framing.laid_out_fraction),
        grouped(units.mass(framing.mass_kg), decimals),
        String::new(),
        String::new(),
    ];
    let rows = std::iter::once(laid_out).chain(framing.published.iter().map(row)).collect();
    let mut all = vec!["Framing of the laid-out walls, beside published fractions for studs at 16 in".to_owned()];
    all.extend(lines(&["", "framing", units.mass_symbol(), "differs", "in bags"], 1, rows));
    all
}

fn signed(value: f64, decimals: usize) -> String {
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
        let more = one.count.saturating_sub(one.names.len() as u64);
        let names = one.names.join(", ");
        vec![
            shorten(&one.reason, 30),
            if more > 0 { format!("{}, {more} more", shorten(&names, 20)) } else { shorten(&names, 30) },
            one.count.to_string(),
            match (one.area_m2, one.volume_m3) {
                (Some(area_m2), _) => grouped(units.area(area_m2), if units == UnitSystem::Us { 1 } else { 2 }),
                (None, Some(volume_m3)) => units.show_volume(volume_m3),
                (None, None) => "-".to_owned(),
            },
        ]
    };
    let mut all = vec!["Not counted, or left out of a counted surface".to_owned()];
    all.extend(lines(&["reason", "which", "number", units.area_symbol()], 2, reasons.iter().map(row).collect()));
    all
}

/// By source, since many values share one.
pub(super) fn assumptions(takeoff: &Takeoff) -> Vec<String> {
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
        let values: Vec<String> = list.iter().map(|assumption| value_words(assumption)).collect();
        all.extend(wrap(&format!("  {}: {}", printable(source), values.join("; ")), WIDTH, "    "));
    }
    if takeoff.assumptions.len() > MOST_ASSUMPTIONS {
        all.push(format!("  … and {} more (all in the JSON)", takeoff.assumptions.len() - MOST_ASSUMPTIONS));
    }
    all
}

fn value_words(assumption: &Assumption) -> String {
    let text = format!("{} {} {}", assumption.key, assumption.value, assumption.unit);
    printable(text.trim_end())
}

/// Hazards of blowing walls, in short.
const HAZARDS: &str = "Before blowing: knob-and-tube wiring is live until an electrician says otherwise; bays used as \
                       air ducts, recessed lights that are not rated for it, flues and chimneys stay clear; leaks and \
                       wet basements are mended first; vermiculite and asbestos stay undisturbed, asbestos-cement \
                       siding is not drilled; lead paint, dust and bulging finishes are looked out for; combustion \
                       appliances are tested before and after.";
const ESTIMATE: &str = "These figures are estimates. The label on the bag, the local code and the licensed trades \
                        decide.";

pub(super) fn cautions(takeoff: &Takeoff) -> Vec<String> {
    let mut all = wrap(ESTIMATE, WIDTH, "");
    if !takeoff.fills.is_empty() {
        all.extend(wrap(HAZARDS, WIDTH, ""));
    }
    all.iter().map(|line| printable(line)).collect()
}
