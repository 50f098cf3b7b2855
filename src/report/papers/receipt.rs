//! The installer's receipt.
//!
//! # Source
//! 16 CFR 460.17: for loose fill it shows coverage area, initial installed thickness, minimum settled thickness, R-value and
//! number of bags, each part of the house by itself, dated and signed; areas and R-values of parts are not added up, and R is
//! not multiplied from R per inch. All of it is of what was installed: of what was ordered nothing is said but where it can't be
//! told, and then as ordered.

use super::shell::{facts, fields, photos, sources};
use crate::closeout::{Closeout, Labelled, Reached, Zone};
use crate::job::PaperFacts;
use crate::report::figure::show;
use crate::report::files::read_files;
use crate::report::table::coverage;
use crate::units::UnitSystem;
use crate::units::display::grouped;
use maud::{Markup, html};

/// The receipt, one block a part of the house that something is blown into.
pub(super) fn receipt(closeout: &Closeout, units: UnitSystem) -> Markup {
    let papers = &closeout.papers;
    html! {
        h1 { "Receipt for insulation" }
        p { (closeout.project.as_deref().unwrap_or("")) }
        (facts(
            &[
                ("Customer", papers.client.as_deref()),
                ("Installer", papers.installer.as_deref()),
                ("Licence number", papers.installer_licence.as_deref()),
            ],
            papers,
            &photos(closeout),
        ))
        @for zone in blown(closeout) { (part(zone, papers, units)) }
        @if blown(closeout).next().is_none() { p { (NOTHING_BLOWN) } }
        p.small {
            "Each part of the house stands by itself: neither areas nor R-values of different parts are added up. R is \
             what the label on the bag prints for the thickness and the mass per area that are there, both, and is not \
             multiplied from an R per inch."
        }
        (fields(&[("Installer's signature", None), ("Date", None)]))
        (sources(&read_files(&closeout.inputs, &closeout.job_files), &["16 CFR 460.17"]))
    }
}

/// Said where the log blows nothing.
pub(super) const NOTHING_BLOWN: &str = "The log says of no part of the house what was blown into it.";

/// Places that something is blown into: of others nobody says what was installed.
pub(super) fn blown(closeout: &Closeout) -> impl Iterator<Item = &Zone> {
    closeout.zones.iter().filter(|zone| zone.is_blown)
}

fn part(zone: &Zone, papers: &PaperFacts, units: UnitSystem) -> Markup {
    html! {
        div.block {
            h3 { (part_name(zone)) }
            table {
                tbody {
                    tr { th { "Type of insulation" } td { (zone.fill) ", loose fill" } }
                    tr { th { "Manufacturer" } td { (manufacturer(zone, papers)) } }
                    tr { th { "Coverage area" } td { (area(zone, units)) } }
                    tr { th { "Initial installed thickness" } td { (installed_thickness(zone, units)) } }
                    tr { th { "Minimum settled thickness" } td { (settled_thickness(zone, units)) } }
                    tr { th { "R-value" } td { (r_value(zone)) } }
                    tr { th { "Number of bags used" } td { (bags_used(zone, units)) } }
                    (ordered_row(zone, units))
                }
            }
        }
    }
}

/// As the log names it, with its surfaces where that does not say them.
pub(super) fn part_name(zone: &Zone) -> String {
    let parts = zone.parts.join(", ");
    if zone.parts.iter().all(|part| zone.name.contains(part.as_str())) {
        zone.name.clone()
    } else {
        format!("{}: {parts}", zone.name)
    }
}

fn blank() -> Markup {
    html! { span.blank {} }
}

/// What was measured, or a blank.
pub(super) fn or_blank(text: Option<String>) -> Markup {
    html! { @if let Some(text) = text { (text) } @else { (blank()) } }
}

/// Who makes the fill, or a blank.
pub(super) fn manufacturer(zone: &Zone, papers: &PaperFacts) -> Markup {
    or_blank(papers.of_fill(&zone.fill).and_then(|fill| fill.manufacturer.clone()))
}

/// The area that was covered, with what it is net of.
pub(super) fn area(zone: &Zone, units: UnitSystem) -> String {
    match &zone.attic {
        Some(attic) => coverage(attic, units),
        None => format!("{} net of framing and openings", show(zone.bay_area_m2, "m2", units)),
    }
}

/// Thickness as it was read; of a closed cavity its depth.
pub(super) fn installed_thickness(zone: &Zone, units: UnitSystem) -> Markup {
    let text = match (&zone.attic, &zone.readings) {
        (None, _) => Some(format!("the depth of the closed cavity: {}", depth(zone, units))),
        (Some(_), Some(read)) => Some(format!(
            "{} as read, mean of {}; the least {}",
            show(read.mean_m, "m", units),
            read.count,
            show(read.least_m, "m", units)
        )),
        (Some(_), None) => None,
    };
    or_blank(text)
}

/// Of open-blown fill that of the row of the label's table that is reached.
pub(super) fn settled_thickness(zone: &Zone, units: UnitSystem) -> Markup {
    match (&zone.attic, &zone.row) {
        (None, _) => html! { "the same" },
        (Some(_), Some(row)) => html! { (show(row.settled_m, "m", units)) },
        (Some(_), None) => blank(),
    }
}

/// Depth of a closed cavity: area and volume of its bays say it, as a mean.
pub(super) fn depth(zone: &Zone, units: UnitSystem) -> String {
    if zone.bay_area_m2 <= 0.0 {
        return String::new();
    }
    show(zone.bay_volume_m3 / zone.bay_area_m2, "m", units)
}

fn resistance(r_m2k_w: f64) -> String {
    format!("{} ({})", UnitSystem::Us.show_resistance(r_m2k_w), UnitSystem::Si.show_resistance(r_m2k_w))
}

/// The R that the label's table prints for what is there; never one that it does not carry, or that was ordered alone.
pub(super) fn r_value(zone: &Zone) -> Markup {
    html! {
        @if let Some(row) = &zone.row { (resistance(row.r_m2k_w)) ", by " (row.source) } @else {
            "not printed here: " (zone.no_row_reason.as_deref().unwrap_or_default())
            @if zone.label.is_some() { " " (blank()) }
        }
    }
}

/// Bags by the mass that stayed, and how many it took where these are others.
pub(super) fn bags_used(zone: &Zone, units: UnitSystem) -> Markup {
    let taken = grouped(zone.bags_exact, 1);
    match zone.bags_used_exact {
        Some(used) => html! {
            (grouped(used, 1))
            @if grouped(used, 1) != taken { ", by the " (show(zone.net_kg, "kg", units)) " that stayed; " (taken) " were taken" }
        },
        None => {
            html! { (blank()) " " (taken) " were taken; how many are here can't be told, since the hopper is not known at both ends" }
        }
    }
}

/// What was ordered, said only where what was installed can't be told.
pub(super) fn ordered_row(zone: &Zone, units: UnitSystem) -> Markup {
    let label = zone.label.as_ref().filter(|_| zone.verdict == Reached::CannotTell);
    html! { @if let Some(label) = label { tr { th { "Ordered, not shown to be there" } td { (ordered(label, units)) } } } }
}

fn ordered(label: &Labelled, units: UnitSystem) -> String {
    let mut all: Vec<String> = label.r_m2k_w.map(resistance).into_iter().collect();
    all.extend(label.initial_m.map(|initial_m| format!("{} as blown", show(initial_m, "m", units))));
    all.extend(label.settled_m.map(|settled_m| format!("{} settled", show(settled_m, "m", units))));
    all.push(format!("{} at least", show(label.mass_kg_m2, "kg/m2", units)));
    all.join(", ")
}
