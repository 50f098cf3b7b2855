//! The record of a closeout: what the verdicts rest on.

use super::shell::{facts, photos, sources};
use crate::closeout::{Closeout, Zone};
use crate::job::FillFacts;
use crate::report::files::read_files;
use crate::report::table::{fill_sentences, sentences};
use crate::units::UnitSystem;
use maud::{Markup, html};

/// The record.
pub(super) fn record(closeout: &Closeout, units: UnitSystem) -> Markup {
    let papers = &closeout.papers;
    let machine = |fill: &FillFacts| fill.machine.as_ref().map(|machine| format!("{}: {machine}", fill.fill));
    let machines = papers.fills.iter().filter_map(machine).collect::<Vec<_>>().join("; ");
    html! {
        h1 { "Record of what was blown" }
        p { (closeout.project.as_deref().unwrap_or("")) }
        (facts(
            &[
                ("Installer", papers.installer.as_deref()),
                ("Licence number", papers.installer_licence.as_deref()),
                ("Machine and its settings", Some(machines.as_str()).filter(|text| !text.is_empty())),
                ("Lot numbers of the bags", None),
            ],
            papers,
            &photos(closeout),
        ))
        @for fill in &closeout.overall {
            p { (fill_sentences(fill, closeout, units).join(". ")) "." }
        }
        @for zone in &closeout.zones { (block(zone, units)) }
        @if !closeout.not_logged.is_empty() { p { "Counted, and nothing blown into by the log: " (closeout.not_logged.join(", ")) "." } }
        @if let Some(finish) = &closeout.finish {
            h2 { "Checks after the work" }
            p { (finish.verdict) "." }
            ul { @for check in &finish.checks { li { (check.sentence()) " (" (check.source) ")" } } }
        }
        p {
            "A bag count gives an average and cannot show an empty bay. That every bay is filled is said only where each was \
             looked into, by infrared, borescope, probe or smoke at 50 Pa. The label on the bag, the local code and the \
             licensed trades decide."
        }
        h2 { "What the ranges rest on" }
        ul.small { @for one in &closeout.assumptions { li { (one.key) ": " (one.value) " " (one.unit) " (" (one.source) ")" } } }
        (sources(&read_files(&closeout.inputs, &closeout.job_files), &[]))
    }
}

fn block(zone: &Zone, units: UnitSystem) -> Markup {
    let mut all = sentences(zone, units).into_iter();
    let first = all.next().unwrap_or_default();
    html! {
        div.block {
            h3 { (first) }
            @for text in all { p { (text) "." } }
            p.small {
                @if !zone.days.is_empty() { "Blown on " (zone.days.join(", ")) ". " }
                @if !zone.by.is_empty() { "By " (zone.by.join(", ")) ". " }
                @if !zone.photos.is_empty() { "Photos " (zone.photos.join(", ")) "." }
            }
        }
    }
}
