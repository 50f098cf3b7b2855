//! What the label says of closed cavities, one line for all that are alike.

use super::WIDTH;
use crate::fill::FillUse;
use crate::report::text::{named, printable, shorten, wrap};
use crate::takeoff::{LabelTakeoff, Names, SurfaceTakeoff, Takeoff};
use crate::units::UnitSystem;

/// Most surfaces that a line names.
const NAMED: usize = 6;
/// What the sentences are about.
pub(in crate::report) const LABELS_TITLE: &str = "Closed cavities by the label; its R is the fill's alone";

/// Nothing where no closed cavity goes by a label.
pub(super) fn labels(takeoff: &Takeoff, units: UnitSystem) -> Vec<String> {
    let sentences = label_words(takeoff, units);
    if sentences.is_empty() {
        return Vec::new();
    }
    let mut all = vec![LABELS_TITLE.to_owned()];
    all.extend(sentences.iter().flat_map(|text| wrap(&format!("  {text}"), WIDTH, "    ")));
    all
}

/// A sentence for all that are alike.
pub(in crate::report) fn label_words(takeoff: &Takeoff, units: UnitSystem) -> Vec<String> {
    let mut groups: Vec<(&SurfaceTakeoff, &LabelTakeoff, Vec<&SurfaceTakeoff>)> = Vec::new();
    for surface in takeoff.surfaces.iter().filter(|surface| surface.r#use == Some(FillUse::ClosedCavity)) {
        let Some(label) = &surface.label else { continue };
        let is_alike = |(first, _, _): &&mut (&SurfaceTakeoff, &LabelTakeoff, Vec<&SurfaceTakeoff>)| {
            first.label == surface.label && first.fill == surface.fill && first.depth_m == surface.depth_m
        };
        match groups.iter_mut().find(is_alike) {
            Some((_, _, group)) => group.push(surface),
            None => groups.push((surface, label, vec![surface])),
        }
    }
    let mut all = Vec::new();
    for (first, label, group) in groups {
        let row = if label.is_printed { "printed row" } else { "between two rows, an estimate" };
        all.push(format!(
            "{}: {} in {} of {}, {} ({row}; coverage {})",
            named(&Names::of(group, NAMED), |name| shorten(name, 20)),
            units.show_resistance(label.r_m2k_w),
            first.depth_m.map(|depth_m| units.show_section(depth_m)).unwrap_or_default(),
            first.fill.as_deref().map(printable).unwrap_or_default(),
            units.show_mass_per_area(label.mass_kg_m2),
            printable(&label.basis)
        ));
    }
    all
}
