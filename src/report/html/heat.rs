//! Framing beside published defaults, what labels say, what attics need, and heat.

use super::bits::{plain, section, table};
use crate::report::table::{
    GIVE_LAYERS, LABELS_TITLE, attic_words, head_words, heat_headings, heat_rows, kind_word, label_words, percent,
    signed,
};
use crate::report::text::named;
use crate::takeoff::{Confidence, FramingComparison, HEAT_MARK, Takeoff, group_heat, no_heat_by_reason};
use crate::units::UnitSystem;
use crate::units::display::grouped;
use maud::{Markup, html};

pub(super) fn framing_and_heat(takeoff: &Takeoff, units: UnitSystem) -> Markup {
    let (labels, attics) = (label_words(takeoff, units), attic_words(takeoff, units));
    let body = html! {
        (framing(takeoff, units))
        (list(LABELS_TITLE, &labels))
        (list("Attics and roof slopes", &attics))
        (heat(takeoff, units))
    };
    section("framing", "Framing, labels and heat", &body)
}

fn list(heading: &str, sentences: &[String]) -> Markup {
    html! {
        @if !sentences.is_empty() {
            h3 { (heading) }
            ul { @for sentence in sentences { li { (sentence) "." } } }
        }
    }
}

fn framing(takeoff: &Takeoff, units: UnitSystem) -> Markup {
    let rows: Vec<Vec<String>> = takeoff.framing.iter().flat_map(|group| compared(group, units)).collect();
    let all = takeoff.framing_fraction.map(|fraction| format!(" ({} of all)", percent(fraction)));
    let caption = format!("Framing as laid out{}, beside published defaults", all.unwrap_or_default());
    html! {
        @if rows.is_empty() { p { "No framing was laid out." } }
        @else { (table(&caption, &["", "framing", units.mass_symbol(), "differs", "in bags"], 1, &rows)) }
    }
}

fn compared(group: &FramingComparison, units: UnitSystem) -> Vec<Vec<String>> {
    let decimals = usize::from(units == UnitSystem::Si);
    let spacing = group.spacing_m.map_or_else(|| "as modelled".to_owned(), |m| format!("at {}", units.show_section(m)));
    let mut rows = vec![vec![
        format!("{}, {spacing}", kind_word(group.kind)),
        percent(group.laid_out_fraction),
        grouped(units.mass(group.mass_kg), decimals),
        String::new(),
        String::new(),
    ]];
    rows.extend(group.published.iter().filter(|one| one.applies).map(|one| {
        let recalled = if one.confidence == Confidence::FromMemory { ", from memory" } else { "" };
        vec![
            format!("published: {}{recalled}", plain(&one.source)),
            percent(one.fraction),
            grouped(units.mass(one.mass_kg), decimals),
            signed(units.mass(one.mass_kg - group.mass_kg), decimals),
            one.bags_difference.map_or_else(|| "-".to_owned(), |bags| signed(bags, 1)),
        ]
    }));
    rows
}

fn heat(takeoff: &Takeoff, units: UnitSystem) -> Markup {
    let groups = group_heat(&takeoff.surfaces);
    let without = no_heat_by_reason(&takeoff.surfaces);
    let headings = heat_headings(units);
    let headings: Vec<&str> = std::iter::once("").chain(headings.iter().map(String::as_str)).collect();
    html! {
        @if !groups.is_empty() {
            h3 { "Heat, whole assembly: " (HEAT_MARK) }
            @for group in &groups {
                @let (what, layers) = head_words(group, units);
                (table(&what, &headings, 1, &heat_rows(group, units)))
                p.soft { (layers) "." }
            }
        }
        @if !without.is_empty() {
            h3 { "Heat not computed" }
            ul {
                @for one in &without {
                    li { (plain(one.reason)) ": " (named(&one.names, plain)) }
                }
            }
            p.soft { (GIVE_LAYERS) "." }
        }
    }
}
