//! The audit at 80 columns.

use super::WIDTH;
use super::columns::lines;
use crate::audit::{Audit, JudgedClaim, Verdict};
use crate::report::figure::{quantity_words, show, show_difference};
use crate::report::text::{printable, shorten, shorten_middle, wrap};
use crate::units::UnitSystem;

/// Columns of the surfaces' names.
const NAMES: usize = 20;
/// Surfaces that a line names.
const NAMED: usize = 12;

/// The whole audit: what falls short first, with its cause and how ours was derived.
pub fn render_audit(audit: &Audit, units: UnitSystem) -> String {
    let what = audit.project.as_deref().map_or_else(|| "a plan".to_owned(), printable);
    let path = audit.inputs.last().map(|input| shorten_middle(&input.path, 50)).unwrap_or_default();
    let mut out = wrap(&format!("Audit of {what}: {path}"), WIDTH, "  ");
    out.push(String::new());
    let count = |is: fn(Verdict) -> bool| audit.claims.iter().filter(|claim| is(claim.verdict)).count();
    let holding = count(|verdict| verdict == Verdict::Holds);
    let uncompared = count(|verdict| verdict == Verdict::NotCompared);
    out.push(format!(
        "  {} claims: {holding} hold, {} fall short, {uncompared} not compared",
        audit.claims.len(),
        audit.fell_short
    ));
    out.extend(short(audit, units));
    out.extend(table("Not compared", audit, units, |verdict| verdict == Verdict::NotCompared));
    out.extend(table("Hold", audit, units, |verdict| verdict == Verdict::Holds));
    out.extend(lists(audit));
    out.extend(tolerances(audit));
    out.push(String::new());
    let caution = "This is an opinion on figures, and no inspection: it says nothing of what is in the building. The label on \
                   the bag, the local code and the licensed trades decide.";
    out.extend(wrap(caution, WIDTH, ""));
    let mut text = out.iter().map(|line| line.trim_end()).collect::<Vec<_>>().join("\n");
    text.push('\n');
    text
}

fn names(claim: &JudgedClaim) -> String {
    shorten(&claim.surfaces, NAMES)
}

fn ours(claim: &JudgedClaim, units: UnitSystem) -> String {
    match (claim.ours_si, claim.ours_most_si) {
        (Some(least), Some(most)) => {
            format!("{} to {}", show(least, &claim.unit, units), show(most, &claim.unit, units))
        }
        (Some(one), None) => show(one, &claim.unit, units),
        (None, _) => "-".to_owned(),
    }
}

/// What falls short, a paragraph each.
fn short(audit: &Audit, units: UnitSystem) -> Vec<String> {
    let mut out = Vec::new();
    for claim in audit.claims.iter().filter(|claim| claim.verdict.is_short()) {
        if out.is_empty() {
            out.extend([String::new(), "Fall short".to_owned()]);
        }
        out.extend(wrap(&format!("  {}", sentence(claim, units)), WIDTH, "    "));
        let cause = match &claim.cause {
            Some(found) => Some(format!("likely cause: {}", printable(&found.message))),
            None if !claim.undecided.is_empty() => {
                let of = |cause: &crate::audit::Cause| {
                    audit
                        .causes
                        .iter()
                        .find(|one| one.cause == *cause)
                        .map_or("", |one| one.meaning.as_str())
                        .to_owned()
                };
                let all: Vec<String> = claim.undecided.iter().map(of).collect();
                Some(format!("no cause is named, since these fit equally: {}", all.join("; ")))
            }
            None => None,
        };
        out.extend(cause.iter().flat_map(|text| wrap(&format!("    {text}"), WIDTH, "      ")));
        if !claim.derivation.is_empty() {
            let steps: Vec<String> = claim
                .derivation
                .iter()
                .map(|step| format!("{} {}", printable(&step.what), show(step.value_si, &step.unit, units)))
                .collect();
            out.extend(wrap(&format!("    ours: {}", steps.join("; ")), WIDTH, "      "));
        }
    }
    out
}

fn sentence(claim: &JudgedClaim, units: UnitSystem) -> String {
    let what = quantity_words(claim.quantity, claim.basis);
    let surfaces = printable(&claim.surfaces);
    let claimed = printable(&claim.claimed);
    if claim.verdict == Verdict::NoSurface {
        return format!("{surfaces}: {what} {claimed}: no surface fits ({})", printable(&claim.r#where));
    }
    let difference = claim.difference_si.unwrap_or(0.0);
    let apart = if difference == 0.0 {
        String::new()
    } else {
        format!(" ({})", show_difference(difference, &claim.unit, units))
    };
    let reason = claim.reason.as_deref().map(|reason| format!("; {}", printable(reason))).unwrap_or_default();
    format!("{surfaces}: {what} {claimed} is {}: ours is {}{apart}{reason}", claim.verdict.words(), ours(claim, units))
}

fn table(title: &str, audit: &Audit, units: UnitSystem, is: fn(Verdict) -> bool) -> Vec<String> {
    let claims: Vec<&JudgedClaim> = audit.claims.iter().filter(|claim| is(claim.verdict)).collect();
    if claims.is_empty() {
        return Vec::new();
    }
    let mut out = vec![String::new(), title.to_owned()];
    if title == "Not compared" {
        for claim in claims {
            let what = quantity_words(claim.quantity, claim.basis);
            let reason = printable(claim.reason.as_deref().unwrap_or(""));
            let text = format!("  {}: {what} {}: {reason}", printable(&claim.surfaces), printable(&claim.claimed));
            out.extend(wrap(&text, WIDTH, "    "));
        }
        return out;
    }
    let row = |claim: &&JudgedClaim| {
        let within = match (claim.least_si, claim.most_si) {
            (Some(least), Some(most)) => {
                format!("{}-{}", show(least, &claim.unit, units), show(most, &claim.unit, units))
            }
            _ => "-".to_owned(),
        };
        vec![
            names(claim),
            quantity_words(claim.quantity, claim.basis),
            shorten(&claim.claimed, 10),
            shorten(&ours(claim, units), 13),
            shorten(&within, 23),
        ]
    };
    let rows = claims.iter().map(row).collect();
    out.extend(lines(&["surfaces", "figure", "claimed", "ours", "holds from to"], 2, rows));
    out
}

fn lists(audit: &Audit) -> Vec<String> {
    let mut out = Vec::new();
    let all = [
        ("Rows that no surface fits", &audit.claims_without_surface),
        ("Counted surfaces without a claim", &audit.surfaces_without_claim),
    ];
    for (title, list) in all {
        if list.is_empty() {
            continue;
        }
        let shown: Vec<String> = list.iter().take(NAMED).map(|name| printable(name)).collect();
        let more = list.len().saturating_sub(NAMED);
        let more = if more > 0 { format!(" and {more} more (all in the JSON)") } else { String::new() };
        out.push(String::new());
        out.extend(wrap(&format!("{title}: {}{more}", shown.join(", ")), WIDTH, "  "));
    }
    out
}

fn tolerances(audit: &Audit) -> Vec<String> {
    let mut out = vec![String::new(), "Tolerances, two standard deviations each".to_owned()];
    let mut by_source: Vec<(&str, Vec<String>)> = Vec::new();
    for one in &audit.tolerances {
        let key = one.key.rsplit('.').next().unwrap_or(&one.key);
        let text = format!("{key} {} {}", one.value, one.unit).trim_end().to_owned();
        match by_source.iter_mut().find(|(source, _)| *source == one.source) {
            Some((_, texts)) => texts.push(text),
            None => by_source.push((&one.source, vec![text])),
        }
    }
    for (source, texts) in by_source {
        out.extend(wrap(&format!("  {}: {}", printable(source), texts.join("; ")), WIDTH, "    "));
    }
    out
}
