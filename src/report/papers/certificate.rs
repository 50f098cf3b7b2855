//! The certificate of the energy code.
//!
//! # Source
//! IECC R303.1.1 and IRC N1101.10.1, from memory: type, manufacturer and R-value of each element; for blown fill initial
//! installed thickness, settled thickness, settled R-value, installed density, coverage area and number of bags; signed, dated
//! and posted on site. R303.1.1.1 and N1101.10.1.1: a thickness marker for each 300 ft2, facing the attic access.

use super::receipt::{
    NOTHING_BLOWN, area, bags_used, blown, depth, installed_thickness, manufacturer, ordered_row, part_name, r_value,
    settled_thickness,
};
use super::shell::{facts, fields, photos, sources};
use crate::closeout::{AtticBlown, Closeout, JudgedBy, Reached, Zone};
use crate::job::PaperFacts;
use crate::report::figure::show;
use crate::report::files::read_files;
use crate::units::UnitSystem;
use crate::units::display::grouped;
use maud::{Markup, html};

/// The certificate, one block an element of the envelope.
pub(super) fn certificate(closeout: &Closeout, units: UnitSystem) -> Markup {
    let papers = &closeout.papers;
    html! {
        h1 { "Insulation certificate" }
        p { "To be posted in a conspicuous place on site." }
        p { (closeout.project.as_deref().unwrap_or("")) }
        (facts(
            &[
                ("Installer", papers.installer.as_deref()),
                ("Licence number", papers.installer_licence.as_deref()),
            ],
            papers,
            &photos(closeout),
        ))
        @for zone in blown(closeout) { (element(zone, papers, units)) }
        @if blown(closeout).next().is_none() { p { (NOTHING_BLOWN) } }
        (fields(&[("Installer's signature", None), ("Date", None)]))
        (sources(&read_files(&closeout.inputs, &closeout.job_files), &["IECC R303.1.1 and IRC N1101.10.1, from memory: the edition that the local code adopts decides"]))
    }
}

fn element(zone: &Zone, papers: &PaperFacts, units: UnitSystem) -> Markup {
    html! {
        div.block {
            h3 { (part_name(zone)) }
            table {
                tbody {
                    tr { th { "Type" } td { (zone.fill) ", loose fill" } }
                    tr { th { "Manufacturer" } td { (manufacturer(zone, papers)) } }
                    @if zone.attic.is_some() {
                        tr { th { "Initial installed thickness" } td { (installed_thickness(zone, units)) } }
                        tr { th { "Settled thickness" } td { (settled_thickness(zone, units)) } }
                        tr { th { "Settled R-value" } td { (r_value(zone)) } }
                        tr {
                            th { "Depth markers" }
                            td { (zone.label.as_ref().and_then(|label| label.markers).unwrap_or(0)) ", facing the attic access" }
                        }
                    } @else {
                        tr { th { "Thickness, the depth of the closed cavity" } td { (depth(zone, units)) } }
                        tr { th { "R-value" } td { (r_value(zone)) } }
                    }
                    tr { th { "Installed density" } td { (installed_density(zone, units)) } }
                    @if let Some(attic) = &zone.attic {
                        tr { th { "Mass per area" } td { (mass_per_area(zone, attic, units)) } }
                    }
                    tr { th { "Coverage area" } td { (area(zone, units)) } }
                    tr { th { "Number of bags" } td { (bags_used(zone, units)) } }
                    (ordered_row(zone, units))
                    tr { th { "Grade of installation" } td { (grade(zone)) } }
                    @if zone.bays.every_bay_filled { tr { th { "Bays" } td { "every bay filled, seen by " (zone.bays.methods.join(", ")) } } }
                }
            }
        }
    }
}

/// Density as it lies there: of open-blown fill as blown; of a closed cavity by what its verdict rests on.
fn installed_density(zone: &Zone, units: UnitSystem) -> String {
    let density = |density_kg_m3: f64| show(density_kg_m3, "kg/m3", units);
    let blown = |density_kg_m3: Option<f64>| density_kg_m3.map_or_else(|| "not known".to_owned(), density);
    let verdict = zone.verdict.words(Some(zone.r#use));
    if let Some(attic) = &zone.attic {
        return match (attic.initial_kg_m3, zone.is_closed_off) {
            (Some(initial), _) => {
                let settled = if zone.verdict == Reached::Reached {
                    format!("; {} over the settled volume that was ordered", blown(zone.density_kg_m3))
                } else {
                    String::new()
                };
                format!("{} as blown, over the mean of the depths read{settled}", density(initial))
            }
            (None, true) => "can't tell: no depth was read".to_owned(),
            (None, false) => NOT_CLOSED_OFF.to_owned(),
        };
    }
    match (&zone.cores, zone.judged_by) {
        (Some(cores), Some(JudgedBy::Cores)) => {
            let range = match (cores.least_kg_m3, cores.most_kg_m3) {
                (Some(least), Some(most)) => format!(", {} to {}", density(least), density(most)),
                _ => String::new(),
            };
            format!("{} average of {} cores{range}: {verdict}", density(cores.mean_kg_m3), cores.samples.len())
        }
        _ if zone.is_closed_off => format!(
            "{} average, {} to {}: {verdict}",
            blown(zone.density_kg_m3),
            blown(zone.least_kg_m3),
            blown(zone.most_kg_m3)
        ),
        _ => NOT_CLOSED_OFF.to_owned(),
    }
}

const NOT_CLOSED_OFF: &str = "can't tell: the hopper was neither run down nor weighed at both ends";

fn mass_per_area(zone: &Zone, attic: &AtticBlown, units: UnitSystem) -> String {
    if !zone.is_closed_off {
        return NOT_CLOSED_OFF.to_owned();
    }
    let show = |mass_kg_m2: f64| show(mass_kg_m2, "kg/m2", units);
    let (mass, least, most) = (show(attic.mass_kg_m2), show(attic.least_kg_m2), show(attic.most_kg_m2));
    format!("{mass}, {least} to {most}: {}", zone.verdict.words(Some(zone.r#use)))
}

fn grade(zone: &Zone) -> Markup {
    html! {
        @if let Some(grade) = &zone.grade {
            (grade.grade) ", seen by " (grade.method)
            @if let Some(by) = &grade.by { ", entered by " (by) }
            "; up to " (grouped(grade.void_share * 100.0, 0)) " % of the cavity is void"
        } @else { "not graded" }
    }
}
