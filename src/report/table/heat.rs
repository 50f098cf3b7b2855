//! Heat through like surfaces, from the least to the greatest, and what it is not computed for.

use super::WIDTH;
use super::columns::lines;
use super::summary::{kind_word, noun};
use super::surfaces::percent;
use crate::report::text::{named, printable, shorten, shorten_middle, wrap};
use crate::takeoff::{
    Confidence, HEAT_MARK, HeatGroup, HeatTakeoff, NoHeat, ResistanceTakeoff, Takeoff, group_heat, no_heat_by_reason,
};
use crate::units::UnitSystem;
use crate::units::display::grouped;

/// Most groups that are shown; the JSON has each surface.
const MOST: usize = 12;
pub(in crate::report) const GIVE_LAYERS: &str = "`layers` of an assembly in the job file gives layers from outside inwards, `conductivity` or \
                           `resistance` of a `[[layer]]` what a model's layers conduct";

/// The section; nothing where heat is not asked for.
pub(super) fn heat(takeoff: &Takeoff, units: UnitSystem) -> Vec<String> {
    let groups = group_heat(&takeoff.surfaces);
    let without = no_heat_by_reason(&takeoff.surfaces);
    let mut all = Vec::new();
    if !groups.is_empty() {
        all.push(format!("Heat, whole assembly: {HEAT_MARK}"));
        all.extend(under_one_heading(&groups, units));
        if groups.len() > MOST {
            all.push(format!("  … and {} more (all in the JSON)", groups.len() - MOST));
        }
    }
    if !without.is_empty() {
        all.extend(not_computed(&without));
    }
    all
}

/// The groups with their rows in the columns of one table.
fn under_one_heading(groups: &[HeatGroup<'_>], units: UnitSystem) -> Vec<String> {
    let rows: Vec<Vec<Vec<String>>> = groups.iter().take(MOST).map(|group| rows(group, units)).collect();
    let symbols = headings(units);
    let heading: Vec<&str> = std::iter::once("").chain(symbols.iter().map(String::as_str)).collect();
    let mut table = lines(&heading, 1, rows.iter().flatten().cloned().collect()).into_iter();
    let mut all: Vec<String> = table.next().into_iter().collect();
    for (group, rows) in groups.iter().zip(&rows) {
        let (what, layers) = head_words(group, units);
        all.extend(wrap(&format!("  {what}"), WIDTH, "    "));
        all.extend(wrap(&format!("    {layers}"), WIDTH, "      "));
        all.extend(table.by_ref().take(rows.len()));
    }
    all
}

/// Headings of the figures, in both systems of units.
pub(in crate::report) fn headings(units: UnitSystem) -> Vec<String> {
    let of =
        |units: UnitSystem| [format!("R {}", units.resistance_symbol()), format!("U {}", units.transmittance_symbol())];
    of(units).into_iter().chain(of(other(units))).collect()
}

/// What a group is: its framing, its layers, and the default that is usual for it.
pub(in crate::report) fn head_words(group: &HeatGroup<'_>, units: UnitSystem) -> (String, String) {
    let heat = group.least;
    let [low, high] = group.framing_fractions;
    let framing = range(low, high, |fraction| grouped(fraction * 100.0, 1));
    let number = noun(group.count, kind_word(group.kind));
    let names = named(&group.names, |name| shorten_middle(name, 24));
    let depth = units.show_section(group.depth_m);
    let mut parts =
        vec![format!("{}, {depth} deep, {number}: {names}", printable(group.assembly)), format!("framing {framing} %")];
    if let Some(usual) = &heat.usual {
        let recalled = if usual.confidence == Confidence::FromMemory { ", from memory" } else { "" };
        let fraction = percent(usual.framing_fraction);
        parts.push(format!("usual {fraction} ({}{recalled})", printable(&usual.source)));
    }
    if let Some(grade) = heat.grade {
        parts.push(format!("grade {}: {} of the bays void at R-1", grade.word(), percent(heat.void_share)));
    }
    if group.most_left_out_share > 0.0 {
        let share = percent(group.most_left_out_share);
        parts.push(format!("up to {share} of the area stays empty and is not in these figures"));
    }
    (parts.join("; "), layers(heat, units))
}

pub(in crate::report) fn rows(group: &HeatGroup<'_>, units: UnitSystem) -> Vec<Vec<String>> {
    let row = |name: &str, of: &dyn Fn(&HeatTakeoff) -> ResistanceTakeoff| {
        figures(name, of(group.least), of(group.greatest), units)
    };
    let mut rows = vec![
        row("parallel path", &|heat| heat.parallel_path),
        row("isothermal planes", &|heat| heat.isothermal_planes),
        row("combined (ISO 6946)", &|heat| heat.combined),
    ];
    let usual = group.least.usual.as_ref();
    rows.extend(usual.map(|usual| figures("the same at usual", usual.combined, usual.combined, units)));
    rows
}

fn other(units: UnitSystem) -> UnitSystem {
    match units {
        UnitSystem::Us => UnitSystem::Si,
        UnitSystem::Si => UnitSystem::Us,
    }
}

/// The layers besides the cavity, with their resistances.
fn layers(heat: &HeatTakeoff, units: UnitSystem) -> String {
    let layer = |layer: &crate::takeoff::HeatLayerTakeoff| {
        format!("{} {}", shorten(&layer.name, 40), resistance(layer.resistance_m2k_w, units))
    };
    let layers: Vec<String> = heat.layers.iter().map(layer).collect();
    format!("R of layers, {}: {}", units.resistance_symbol(), layers.join("; "))
}

fn figures(name: &str, least: ResistanceTakeoff, greatest: ResistanceTakeoff, units: UnitSystem) -> Vec<String> {
    let of = |units: UnitSystem| {
        [
            range(least.r_m2k_w, greatest.r_m2k_w, |r| resistance(r, units)),
            range(least.u_w_m2k, greatest.u_w_m2k, |u| transmittance(u, units)),
        ]
    };
    std::iter::once(format!("  {name}")).chain(of(units)).chain(of(other(units))).collect()
}

/// Both ends, or one figure where they read alike.
fn range(from: f64, to: f64, show: impl Fn(f64) -> String) -> String {
    let (from, to) = (show(from), show(to));
    if from == to { from } else { format!("{from}-{to}") }
}

fn resistance(r_m2k_w: f64, units: UnitSystem) -> String {
    grouped(units.resistance(r_m2k_w), if units == UnitSystem::Us { 2 } else { 3 })
}

fn transmittance(u_w_m2k: f64, units: UnitSystem) -> String {
    grouped(units.transmittance(u_w_m2k), if units == UnitSystem::Us { 4 } else { 3 })
}

/// One line a reason.
fn not_computed(without: &[NoHeat<'_>]) -> Vec<String> {
    let mut all = vec!["Heat not computed".to_owned()];
    for one in without.iter().take(MOST) {
        let names = named(&one.names, |name| shorten_middle(name, 24));
        all.extend(wrap(&format!("  {}: {names}", printable(one.reason)), WIDTH, "    "));
    }
    all.extend(wrap(&format!("  {GIVE_LAYERS}"), WIDTH, "    "));
    all
}
