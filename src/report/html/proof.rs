//! What proves and qualifies the figures: the balance, what was left out, findings, assumptions.

use super::bits::{begun, plain, section, table};
use crate::finding::{Code, Severity};
use crate::model::Assumption;
use crate::report::assumed::{AS_WRITTEN, taken_as};
use crate::report::table::how_much;
use crate::report::text::named;
use crate::takeoff::{CostedFinding, NotCounted, Takeoff, findings_by_cost, not_counted_by_reason};
use crate::units::UnitSystem;
use crate::units::display::grouped;
use maud::{Markup, html};

/// Most findings of one code that are shown; the JSON has them all.
const MOST_FINDINGS: usize = 10;

pub(super) fn balance(takeoff: &Takeoff, units: UnitSystem) -> Markup {
    let b = &takeoff.balance;
    let figure = |area_m2: f64| grouped(units.area(area_m2), 1);
    let caption = format!("Areas in {}: gross = openings + members + bays + left out", units.area_symbol());
    let areas_m2 = [b.gross_area_m2, b.opening_area_m2, b.member_area_m2, b.bay_area_m2, b.left_out_area_m2];
    let row: Vec<String> = areas_m2.into_iter().map(figure).collect();
    let body = html! {
        div data-gross-area-m2=(b.gross_area_m2) data-opening-area-m2=(b.opening_area_m2)
            data-member-area-m2=(b.member_area_m2) data-bay-area-m2=(b.bay_area_m2)
            data-left-out-area-m2=(b.left_out_area_m2) {
            (table(&caption, &["gross", "openings", "members", "bays", "left out"], 0, &[row]))
        }
        p {
            "Elements and rows: " (b.elements_read) " read = " (b.elements_counted) " counted + "
            (b.elements_left_out) " left out."
        }
    };
    section("balance", "Balance", &body)
}

pub(super) fn left_out(takeoff: &Takeoff, units: UnitSystem) -> Markup {
    let reasons = not_counted_by_reason(takeoff);
    let row = |one: &NotCounted| {
        vec![plain(&one.reason), named(&one.names, plain), one.count.to_string(), how_much(one, units)]
    };
    let rows: Vec<Vec<String>> = reasons.iter().map(row).collect();
    let body = html! {
        @if rows.is_empty() { p { "Nothing was left out." } }
        @else {
            (table(
                "Not counted, or left out of a counted surface",
                &["reason", "which", "number", "how much"],
                2,
                &rows,
            ))
        }
    };
    section("left-out", "What was left out", &body)
}

pub(super) fn findings(takeoff: &Takeoff, units: UnitSystem) -> Markup {
    let all = findings_by_cost(takeoff);
    let mut shown: Vec<&CostedFinding<'_>> = Vec::new();
    let mut codes: Vec<(Code, usize)> = Vec::new();
    for one in &all {
        let code = one.finding.code;
        let place = codes.iter().position(|(other, _)| *other == code).unwrap_or_else(|| {
            codes.push((code, 0));
            codes.len() - 1
        });
        if let Some((_, count)) = codes.get_mut(place) {
            *count += 1;
            if *count <= MOST_FINDINGS {
                shown.push(one);
            }
        }
    }
    let more = all.len() - shown.len();
    let body = html! {
        @if all.is_empty() { p { "There are no findings." } }
        @else {
            p { "The gravest first, then those about the most fill and the largest area." }
            div.scroll role="region" aria-label="Findings" tabindex="0" {
                table {
                    caption { "Findings" }
                    thead { tr {
                        th scope="col" { "severity" }
                        th.t scope="col" { "what, where" }
                        th scope="col" { "fill" }
                        th scope="col" { "area" }
                    } }
                    tbody { @for one in shown { (finding(one, units)) } }
                }
            }
            @if more > 0 { p { (more) " more of kinds that are shown above; the JSON has them all." } }
        }
    };
    section("findings", "Findings, by what they cost", &body)
}

fn finding(one: &CostedFinding<'_>, units: UnitSystem) -> Markup {
    let severity = match one.finding.severity {
        Severity::Note => "note",
        Severity::Warning => "warning",
        Severity::Error => "error",
    };
    let dash = || "-".to_owned();
    html! {
        tr {
            th.severe[one.finding.severity > Severity::Note] scope="row" { (severity) }
            td.t {
                @if !one.names.shown().is_empty() { strong { (named(&one.names, plain)) } ": " }
                (plain(&one.finding.message)) ". "
                span.soft { (plain(&one.finding.r#where)) }
            }
            td { (one.mass_kg.map_or_else(dash, |mass_kg| units.show_mass(mass_kg))) }
            td { (one.area_m2.map_or_else(dash, |area_m2| units.show_area(area_m2))) }
        }
    }
}

/// By source, since many values share one.
pub(super) fn assumptions(takeoff: &Takeoff, units: UnitSystem) -> Markup {
    let mut sources: Vec<(&str, Vec<&Assumption>)> = Vec::new();
    for assumption in &takeoff.assumptions {
        match sources.iter_mut().find(|(source, _)| *source == assumption.source) {
            Some((_, list)) => list.push(assumption),
            None => sources.push((&assumption.source, vec![assumption])),
        }
    }
    let rows: Vec<Vec<String>> = sources
        .iter()
        .flat_map(|(source, list)| list.iter().map(move |one| (one, source)))
        .map(|(one, source)| vec![plain(&one.key), taken_as(one, units), plain(source)])
        .collect();
    let body = html! {
        @if rows.is_empty() { p { "None was needed." } }
        @else { (table("Values that the inputs did not give", &["value of", "taken as", "source"], 3, &rows)) }
        @if units == UnitSystem::Si && !rows.is_empty() { p.soft { (begun(AS_WRITTEN)) "." } }
    };
    section("assumptions", "Assumptions, with their sources", &body)
}
