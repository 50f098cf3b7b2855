//! The certificate of the energy code.
//!
//! # Source
//! IECC R303.1.1 and IRC N1101.10.1, from memory: type, manufacturer and R-value of each element; for blown fill initial
//! installed thickness, settled thickness, settled R-value, installed density, coverage area and number of bags; signed, dated
//! and posted on site. R303.1.1.1 and N1101.10.1.1: a thickness marker for each 300 ft2, facing the attic access.

use super::receipt::{depth, manufacturer, or_blank, part_name, r_value};
use super::shell::{facts, fields, photos, sources};
use crate::closeout::{Closeout, Zone};
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
        @for zone in &closeout.zones { (element(zone, papers, units)) }
        (fields(&[("Installer's signature", None), ("Date", None)]))
        (sources(&read_files(&closeout.inputs, &closeout.job_files), &["IECC R303.1.1 and IRC N1101.10.1, from memory: the edition that the local code adopts decides"]))
    }
}

fn element(zone: &Zone, papers: &PaperFacts, units: UnitSystem) -> Markup {
    let label = zone.label.as_ref();
    let show_m = |value_m: Option<f64>| or_blank(value_m.map(|value_m| show(value_m, "m", units)));
    let is_open = label.is_some_and(|label| label.settled_m.is_some());
    html! {
        div.block {
            h3 { (part_name(zone)) }
            table {
                tbody {
                    tr { th { "Type" } td { (zone.fill) ", loose fill" } }
                    tr { th { "Manufacturer" } td { (manufacturer(zone, papers)) } }
                    @if is_open {
                        tr { th { "Initial installed thickness" } td { (show_m(label.and_then(|label| label.initial_m))) } }
                        tr { th { "Settled thickness" } td { (show_m(label.and_then(|label| label.settled_m))) } }
                        tr { th { "Settled R-value" } td { (r_value(zone)) } }
                        tr { th { "Depth markers" } td { (label.and_then(|label| label.markers).unwrap_or(0)) ", facing the attic access" } }
                    } @else {
                        tr { th { "Thickness, the depth of the closed cavity" } td { (depth(zone, units)) } }
                        tr { th { "R-value" } td { (r_value(zone)) } }
                    }
                    tr {
                        th { "Installed density" }
                        td {
                            @if zone.is_closed_off {
                                (show(zone.density_kg_m3, "kg/m3", units)) " average, " (show(zone.least_kg_m3, "kg/m3", units))
                                " to " (show(zone.most_kg_m3, "kg/m3", units)) ": " (zone.verdict.words(Some(zone.r#use)))
                            } @else {
                                "can't tell: the hopper was neither run down nor weighed at both ends"
                            }
                        }
                    }
                    tr { th { "Coverage area" } td { (show(zone.bay_area_m2, "m2", units)) } }
                    tr { th { "Number of bags" } td { (grouped(zone.bags_exact, 1)) } }
                    tr {
                        th { "Grade of installation" }
                        td {
                            @if let Some(grade) = &zone.grade {
                                (grade.grade) ", seen by " (grade.method)
                                @if let Some(by) = &grade.by { ", entered by " (by) }
                                "; up to " (grouped(grade.void_share * 100.0, 0)) " % of the cavity is void"
                            } @else { "not graded" }
                        }
                    }
                    @if zone.bays.every_bay_filled { tr { th { "Bays" } td { "every bay filled, seen by " (zone.bays.methods.join(", ")) } } }
                }
            }
        }
    }
}
