//! The rater's opinion on a plan: each claim, ours, the difference, the likely cause, and how ours was derived.

use super::Papers;
use super::shell::{facts, fields, sources};
use crate::audit::{Audit, JudgedClaim, Verdict};
use crate::report::figure::{quantity_words, show, show_difference};
use crate::report::files::read_files;
use crate::units::UnitSystem;
use maud::{Markup, html};

/// The opinion, to sign; the rater alone signs it.
pub fn opinion(audit: &Audit, units: UnitSystem) -> Papers {
    let project = audit.project.as_deref().unwrap_or("a building");
    let count = |is: fn(Verdict) -> bool| audit.claims.iter().filter(|claim| is(claim.verdict)).count();
    let paper = html! {
        h1 { "Opinion on a retrofit plan" }
        p { (project) }
        (facts(&[("Plan by, dated", audit.papers.plan_by.as_deref())], &audit.papers, &[]))
        p {
            (audit.claims.len()) " claims: " (count(|verdict| verdict == Verdict::Holds)) " hold, "
            (audit.fell_short) " fall short, " (count(|verdict| verdict == Verdict::NotCompared)) " could not be compared."
        }
        h2 { "Claims that fall short" }
        @if audit.fell_short == 0 { p { "None." } }
        @for claim in audit.claims.iter().filter(|claim| claim.verdict.is_short()) { (short(audit, claim, units)) }
        h2 { "All claims" }
        (table(audit, units))
        (lists(audit))
        h2 { "Tolerances" }
        p.small { "Two standard deviations each; what was measured twice may differ by both." }
        ul.small { @for one in &audit.tolerances { li { (one.key) ": " (one.value) " " (one.unit) " (" (one.source) ")" } } }
        h2 { "Causes that are looked for" }
        p.small { "A cause is named where the claim is what the mistake would have given; none where two fit equally." }
        ul.small { @for cause in &audit.causes { li { (cause.meaning) ": " (cause.test) } } }
        p {
            "This is an opinion on figures and no inspection: it does not say what is in the building. The label on the \
             bag, the local code and the licensed trades decide. Resistances of different parts are not added up."
        }
        (fields(&[
            ("Rater", audit.papers.rater.as_deref()),
            ("Licence number", audit.papers.rater_licence.as_deref()),
            ("Signature", None),
            ("Date", None),
        ]))
        (sources(&read_files(&audit.inputs, &audit.job_files), &[]))
    };
    Papers::new(
        "Opinion on a retrofit plan",
        (audit.project.as_deref(), &audit.papers),
        read_files(&audit.inputs, &audit.job_files),
        vec![paper],
    )
}

fn ours(claim: &JudgedClaim, units: UnitSystem) -> String {
    match (claim.ours_si, claim.ours_most_si) {
        (Some(least), Some(most)) => {
            format!("{} to {}", show(least, &claim.unit, units), show(most, &claim.unit, units))
        }
        (Some(one), None) => show(one, &claim.unit, units),
        (None, _) => "–".to_owned(),
    }
}

fn short(audit: &Audit, claim: &JudgedClaim, units: UnitSystem) -> Markup {
    let equal = claim.undecided.iter().filter_map(|cause| audit.causes.iter().find(|one| one.cause == *cause));
    let equal: Vec<&str> = equal.map(|one| one.meaning.as_str()).collect();
    html! {
        div.block {
            h3 { (claim.surfaces) ": " (quantity_words(claim.quantity, claim.basis)) " " (claim.claimed) " is " (claim.verdict.words()) }
            @if claim.verdict != Verdict::NoSurface {
                p {
                    "Ours: " (ours(claim, units))
                    @if let Some(difference) = claim.difference_si.filter(|difference| *difference != 0.0) {
                        "; difference " (show_difference(difference, &claim.unit, units))
                    }
                    "."
                }
            }
            @if let Some(reason) = &claim.reason { p { (reason) "." } }
            @if let Some(cause) = &claim.cause { p { "Likely cause: " (cause.message) "." } }
            @if !equal.is_empty() { p { "No cause is named, since these fit equally: " (equal.join("; ")) "." } }
            @if !claim.derivation.is_empty() {
                p.small {
                    "How ours was derived: "
                    @for (index, step) in claim.derivation.iter().enumerate() {
                        @if index > 0 { "; " }
                        (step.what) " " (show(step.value_si, &step.unit, units))
                    }
                    "."
                }
            }
            p.small { (claim.r#where) }
        }
    }
}

fn table(audit: &Audit, units: UnitSystem) -> Markup {
    html! {
        table {
            thead { tr { th { "Surfaces" } th { "Figure" } th.n { "Claimed" } th.n { "Ours" } th { "Verdict" } } }
            tbody {
                @for claim in &audit.claims {
                    tr {
                        td { (claim.surfaces) }
                        td { (quantity_words(claim.quantity, claim.basis)) }
                        td.n { (claim.claimed) }
                        td.n { (ours(claim, units)) }
                        td.short[claim.verdict.is_short()] {
                            (claim.verdict.words())
                            @if claim.verdict == Verdict::NotCompared {
                                @if let Some(reason) = &claim.reason { ": " (reason) }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn lists(audit: &Audit) -> Markup {
    html! {
        @if !audit.claims_without_surface.is_empty() {
            p { "Rows that no surface fits: " (audit.claims_without_surface.join(", ")) "." }
        }
        @if !audit.surfaces_without_claim.is_empty() {
            p { "Counted surfaces without a claim: " (audit.surfaces_without_claim.join(", ")) "." }
        }
    }
}
