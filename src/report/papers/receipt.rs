//! The installer's receipt.
//!
//! # Source
//! 16 CFR 460.17: for loose fill it shows coverage area, initial installed thickness, minimum settled thickness, R-value and
//! number of bags, each part of the house by itself, dated and signed; areas and R-values of parts are not added up, and R is
//! not multiplied from R per inch.

use super::shell::{facts, fields, photos, sources};
use crate::closeout::{Closeout, Zone};
use crate::job::PaperFacts;
use crate::report::figure::show;
use crate::report::files::read_files;
use crate::units::UnitSystem;
use crate::units::display::grouped;
use maud::{Markup, html};

/// Said where the label's table prints no R for a part.
pub(super) const NO_R: &str = "not printed here: no row of a label's coverage table gives it";

/// The receipt, one block a part of the house.
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
        @for zone in &closeout.zones { (part(zone, papers, units)) }
        p.small {
            "Each part of the house stands by itself: neither areas nor R-values of different parts are added up. R is \
             what the label on the bag prints for the thickness, and is not multiplied from an R per inch."
        }
        (fields(&[("Installer's signature", None), ("Date", None)]))
        (sources(&read_files(&closeout.inputs, &closeout.job_files), &["16 CFR 460.17"]))
    }
}

fn part(zone: &Zone, papers: &PaperFacts, units: UnitSystem) -> Markup {
    let label = zone.label.as_ref();
    let thickness = |value: Option<f64>| value.map(|value_m| show(value_m, "m", units));
    let is_open = label.is_some_and(|label| label.settled_m.is_some());
    html! {
        div.block {
            h3 { (part_name(zone)) }
            table {
                tbody {
                    tr { th { "Type of insulation" } td { (zone.fill) ", loose fill" } }
                    tr { th { "Manufacturer" } td { (manufacturer(zone, papers)) } }
                    tr { th { "Coverage area" } td { (show(zone.bay_area_m2, "m2", units)) " net of framing and openings" } }
                    @if is_open {
                        tr { th { "Initial installed thickness" } td { (or_blank(thickness(label.and_then(|label| label.initial_m)))) } }
                        tr { th { "Minimum settled thickness" } td { (or_blank(thickness(label.and_then(|label| label.settled_m)))) } }
                    } @else {
                        tr { th { "Initial installed thickness" } td { "the depth of the closed cavity: " (depth(zone, units)) } }
                        tr { th { "Minimum settled thickness" } td { "the same" } }
                    }
                    tr { th { "R-value" } td { (r_value(zone)) } }
                    tr { th { "Number of bags used" } td { (grouped(zone.bags_exact, 1)) } }
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

/// What was measured, or a blank.
pub(super) fn or_blank(text: Option<String>) -> Markup {
    html! { @if let Some(text) = text { (text) } @else { span.blank {} } }
}

/// Who makes the fill, or a blank.
pub(super) fn manufacturer(zone: &Zone, papers: &PaperFacts) -> Markup {
    or_blank(papers.of_fill(&zone.fill).and_then(|fill| fill.manufacturer.clone()))
}

/// Depth of a closed cavity: area and volume of its bays say it, as a mean.
pub(super) fn depth(zone: &Zone, units: UnitSystem) -> String {
    if zone.bay_area_m2 <= 0.0 {
        return String::new();
    }
    show(zone.bay_volume_m3 / zone.bay_area_m2, "m", units)
}

/// The label's R, as it prints it; never one that its table does not carry.
pub(super) fn r_value(zone: &Zone) -> String {
    match zone.label.as_ref().and_then(|label| Some((label.r_m2k_w?, &label.source))) {
        Some((r_m2k_w, source)) => format!(
            "{} ({}), by {source}",
            UnitSystem::Us.show_resistance(r_m2k_w),
            UnitSystem::Si.show_resistance(r_m2k_w)
        ),
        None => NO_R.to_owned(),
    }
}
