//! What attics and roof slopes need besides fill, and the cautions that go with the order.

use super::WIDTH;
use super::summary::noun;
use super::surfaces::area;
use crate::fill::FillUse;
use crate::report::text::{printable, shorten, wrap};
use crate::takeoff::{CautionTakeoff, LabelTakeoff, OpenBlownTakeoff, SurfaceTakeoff, Takeoff};
use crate::units::UnitSystem;

/// Most surfaces that are listed; the JSON has them all.
const MOST: usize = 40;
/// Most surfaces that a caution names.
const NAMED: usize = 5;

/// One line a surface that has something to say.
pub(super) fn attics(takeoff: &Takeoff, units: UnitSystem) -> Vec<String> {
    let lines = attic_words(takeoff, units);
    if lines.is_empty() {
        return Vec::new();
    }
    let mut all = vec!["Attics and roof slopes".to_owned()];
    for line in lines.iter().take(MOST) {
        all.extend(wrap(&format!("  {line}"), WIDTH, "    "));
    }
    if lines.len() > MOST {
        all.push(format!("  … and {} more (all in the JSON)", lines.len() - MOST));
    }
    all
}

/// A sentence a surface that has something to say.
pub(in crate::report) fn attic_words(takeoff: &Takeoff, units: UnitSystem) -> Vec<String> {
    takeoff.surfaces.iter().filter_map(|surface| line(surface, units)).collect()
}

fn line(s: &SurfaceTakeoff, units: UnitSystem) -> Option<String> {
    let mut parts = Vec::new();
    if s.r#use == Some(FillUse::OpenBlown) {
        let thickness = s.depth_m.map(|depth_m| units.show_section(depth_m)).unwrap_or_default();
        parts.push(format!("open-blown, {thickness} settled"));
        parts.extend(s.open_blown.as_ref().map(|open| open_words(open, s.label.as_ref(), units)).unwrap_or_default());
    }
    if let Some(gap_m) = s.vent_gap_m {
        parts.push(format!("vent gap {}, not filled", units.show_section(gap_m)));
    }
    if let Some(reason) = &s.unvented {
        parts.push(format!("no vent gap ({}): see the caution under the order", shorten(reason, 40)));
    }
    parts.extend(s.baffles.map(|baffles| noun(baffles, "baffle")));
    let dam_m = s.dam_length_m.filter(|dam_m| *dam_m > 0.0);
    parts.extend(dam_m.map(|dam_m| format!("{} of dam around hatches", units.show_length(dam_m))));
    if let Some(shallow_m2) = s.shallow_area_m2.filter(|shallow_m2| *shallow_m2 > 0.0) {
        parts.push(format!("{} {} cannot reach full depth", area(shallow_m2, units), units.area_symbol()));
    }
    (!parts.is_empty()).then(|| format!("{}: {}", shorten(s.label(), 30), parts.join("; ")))
}

/// How open-blown fill lies, part by part.
fn open_words(open: &OpenBlownTakeoff, label: Option<&LabelTakeoff>, units: UnitSystem) -> Vec<String> {
    let mut parts = Vec::new();
    if open.existing_m > 0.0 {
        let (old, new) = (units.show_section(open.existing_m), units.show_section(open.settled_m));
        let r = open.existing_m2k_w.map(|r| format!(" of {}", units.show_resistance(r))).unwrap_or_default();
        parts.push(format!("{old}{r} there already, {new} new"));
    }
    parts.extend(label.map(|label| {
        let by = if label.is_printed { "by the label" } else { "between two rows of the label" };
        format!("{} new, {by}", units.show_resistance(label.r_m2k_w))
    }));
    parts.extend(open.initial_m.map(|initial_m| format!("{} as blown", units.show_section(initial_m))));
    parts.push(units.show_mass_per_area(open.mass_kg_m2));
    parts.push(noun(open.markers, "depth marker"));
    parts
}

/// The cautions of the order.
pub(super) fn order_cautions(takeoff: &Takeoff) -> Vec<String> {
    takeoff.cautions.iter().map(caution).collect()
}

fn caution(caution: &CautionTakeoff) -> String {
    let named: Vec<String> = caution.surfaces.iter().take(NAMED).map(|name| shorten(name, 30)).collect();
    let more = caution.surfaces.len().saturating_sub(NAMED);
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    format!("Caution, {}{more}: {}", named.join(", "), printable(&caution.message))
}
