//! Roof slopes: what must be given before they count, and what is printed where they have no vent channel.

use super::plan::Plan;
use super::words::{area, gross_m2, place, surfaces as how_many, types};
use super::{CautionTakeoff, SurfaceTakeoff};
use crate::finding::{Code, Finding};
use crate::framing::LEAST_VENT_GAP_M;
use crate::geometry::tolerance::COINCIDENT_M;
use crate::job::{VENT_GAP_NOT_GIVEN, VENT_GAP_TAKES_ALL};
use crate::source::Place;
use crate::units::display::section_both_ways;

/// How the vent channel is given.
pub(super) const GIVE_VENT_GAP: &str = "give `vent_gap = \"1 in\"` under `[layout]` or in their assembly of a job file \
                                        (`--job`), or say there why they have none, with `unvented = \"reason\"` in the \
                                        assembly; `--frame` alone cannot say it";

/// What a roof without a vent channel can come to.
///
/// # Source
/// IRC R806.5, from memory, in our own words.
const UNVENTED: &str = "indoor moisture that reaches a cold roof deck wets the deck and the fill, and without a vent \
                        channel it does not dry out; loose fibre alone against the deck is generally not allowed: IRC R806.5 \
                        (from memory) asks for insulation at the deck that air does not pass, or enough of it above the \
                        deck, and for vapour control by climate zone; the local code and a licensed designer decide \
                        before this roof is filled";

/// Findings about roof slopes.
pub(super) fn findings(surfaces: &[SurfaceTakeoff], plans: &[Plan<'_>]) -> Vec<Finding> {
    let mut findings = Vec::new();
    findings.extend(not_given(surfaces));
    for (surface, plan) in surfaces.iter().zip(plans) {
        let Some(enclosure) = plan.assigned.as_ref().map(|assigned| &assigned.layout.enclosure) else { continue };
        let gap = enclosure.vent_gap_m.map(section_both_ways).unwrap_or_default();
        if surface.reason.as_deref() == Some(VENT_GAP_TAKES_ALL) {
            let message = format!("a vent gap of {gap} leaves nothing of the depth to fill; not counted; check both");
            findings.push(Finding::warning(Code::VentGapDoubt, &place(surface), message));
        }
        if surface.vent_gap_m.is_some_and(|gap_m| gap_m < LEAST_VENT_GAP_M - COINCIDENT_M) {
            let message = format!(
                "a vent gap of {gap} is less than the 1 in. (25 mm) of IRC R806.3 (from memory): taken as given; check \
                 it against the local code"
            );
            findings.push(Finding::warning(Code::VentGapDoubt, &place(surface), message));
        }
        if let Some(reason) = &surface.unvented {
            let message = format!("filled to the deck without a vent channel (`{reason}`): {UNVENTED}");
            findings.push(Finding::warning(Code::UnventedRoof, &place(surface), message));
        }
    }
    findings
}

fn not_given(surfaces: &[SurfaceTakeoff]) -> Option<Finding> {
    let without: Vec<&SurfaceTakeoff> =
        surfaces.iter().filter(|surface| surface.reason.as_deref() == Some(VENT_GAP_NOT_GIVEN)).collect();
    let place = match without.as_slice() {
        [] => return None,
        [only] => place(only),
        [first, ..] => Place::input(&first.source.input),
    };
    let message = format!(
        "nothing says what vents {} with {}, so that none of it is counted ({}): {GIVE_VENT_GAP}",
        how_many(&without),
        area(gross_m2(&without)),
        types(&without)
    );
    Some(Finding::warning(Code::VentGapNotGiven, &place, message))
}

/// What goes with the order: one caution for all roofs without a vent channel.
pub(super) fn cautions(surfaces: &[SurfaceTakeoff]) -> Vec<CautionTakeoff> {
    let unvented: Vec<&SurfaceTakeoff> = surfaces.iter().filter(|surface| surface.unvented.is_some()).collect();
    if unvented.is_empty() {
        return Vec::new();
    }
    let names = unvented.iter().map(|surface| surface.label().to_owned()).collect();
    vec![CautionTakeoff { code: Code::UnventedRoof, surfaces: names, message: UNVENTED.to_owned() }]
}
