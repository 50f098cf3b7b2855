//! What a contractor acts on: the order with its reach, its cautions, and where the bags go.

use super::bits::{begun, plain, section, table};
use crate::report::table::{ESTIMATE, OrderWords, Staged, has_days, order_words, staged};
use crate::takeoff::{FillTakeoff, StageTakeoff, Takeoff};
use crate::units::UnitSystem;
use crate::units::display::grouped;
use maud::{Markup, html};

pub(super) fn order(takeoff: &Takeoff, units: UnitSystem) -> Markup {
    let OrderWords { fills, holes, labour, cautions } = order_words(takeoff, units);
    let named: Vec<&FillTakeoff> = takeoff.fills.iter().filter(|fill| fill.mass_kg > 0.0).collect();
    let body = html! {
        @if fills.is_empty() {
            p.big { "Nothing is counted, so there is no order." }
            p { "What was left out, below, says why." }
        }
        @for (sentences, fill) in fills.iter().zip(&named) { (headline(sentences, fill)) }
        div.caution {
            p { (ESTIMATE) }
            @for caution in &cautions {
                @let (head, rest) = caution.split_once(": ").unwrap_or(("Caution", caution));
                p { strong { (head) ": " } (rest) "." }
            }
        }
        @for (sentences, _) in fills.iter().zip(&named) {
            ul { @for sentence in sentences.iter().skip(1) { li { (begun(sentence)) "." } } }
        }
        @if holes.is_some() || labour.is_some() {
            ul { @for sentence in holes.iter().chain(&labour) { li { (begun(sentence)) "." } } }
        }
        (staging(takeoff, units))
    };
    section("order", "Order", &body)
}

/// The order, or what stands in its place, and its reach below it.
fn headline(sentences: &[String], fill: &FillTakeoff) -> Markup {
    let first = sentences.first().map(String::as_str).unwrap_or_default();
    let (what, reach) = first.split_once(" for ").unwrap_or((first, ""));
    html! {
        p.big data-fill=(fill.name) data-mass-kg=(fill.mass_kg) data-volume-m3=(fill.volume_m3)
            data-bags-order=[fill.bags_order] data-is-estimate=[fill.estimate.as_ref().map(|_| "true")] {
            (what)
            @if !reach.is_empty() { small { "for " (reach) } }
        }
    }
}

/// Where the bags are set down, where there is more than one place.
fn staging(takeoff: &Takeoff, units: UnitSystem) -> Markup {
    let staged = staged(takeoff);
    let has_days = has_days(&staged);
    let headings: &[&str] =
        if has_days { &["day", units.mass_symbol(), "bags"] } else { &["storey", "zone", units.mass_symbol(), "bags"] };
    html! {
        @for Staged { fill, stages } in &staged {
            @let rows: Vec<Vec<String>> = stages.iter().map(|stage| stage_row(stage, has_days, units)).collect();
            @let estimate = if fill.estimate.is_some() { ", open-blown: an estimate" } else { "" };
            (table(&format!("Where it goes: {}{estimate}", plain(&fill.name)), headings, headings.len() - 2, &rows))
        }
    }
}

fn stage_row(stage: &StageTakeoff, has_days: bool, units: UnitSystem) -> Vec<String> {
    let word = |text: &Option<String>| text.as_deref().map_or_else(|| "not named".to_owned(), plain);
    let place = if has_days {
        vec![stage.day.map_or_else(|| "no rate given".to_owned(), |day| day.to_string())]
    } else {
        vec![word(&stage.storey), word(&stage.zone)]
    };
    let mass = grouped(units.mass(stage.mass_kg), usize::from(units == UnitSystem::Si));
    let bags = stage.bags.map_or_else(|| "-".to_owned(), |bags| bags.to_string());
    place.into_iter().chain([mass, bags]).collect()
}
