//! The types found, with their layers: what a person needs to say how they are framed.

use super::WIDTH;
use super::summary::{kind_word, noun};
use super::surfaces::area;
use crate::job::NOT_KNOWN;
use crate::report::text::{printable, shorten, wrap};
use crate::takeoff::{Takeoff, TypeTakeoff};
use crate::units::UnitSystem;

/// Longest name of a type that is shown whole; most exports stay below.
const LONGEST: usize = 70;
/// Most types that are listed.
const MOST: usize = 20;

/// The types that are not counted since their framing is not known; none where all is known.
pub(super) fn types(takeoff: &Takeoff, units: UnitSystem) -> Vec<String> {
    let unknown = |found: &&TypeTakeoff| found.reasons.iter().any(|reason| reason == NOT_KNOWN);
    let mut listed: Vec<&TypeTakeoff> = takeoff.types.iter().filter(unknown).collect();
    if listed.is_empty() {
        return Vec::new();
    }
    // The largest first: a frame for these counts most.
    listed.sort_by(|a, b| b.gross_area_m2.total_cmp(&a.gross_area_m2));
    let mut all =
        wrap("Types whose framing is not known; `--frame \"NAME*: 2x6 @ 16 in\"` or an assembly gives it", WIDTH, "  ");
    for found in listed.iter().take(MOST) {
        let name = found.r#type.as_deref().map_or_else(|| "without a type".to_owned(), |name| shorten(name, LONGEST));
        all.push(format!("  {name}"));
        let size = format!("{} {}", area(found.gross_area_m2, units), units.area_symbol());
        let layers: Vec<String> = found.layers.iter().map(|layer| printable(layer)).collect();
        let layers = if layers.is_empty() { "no layers".to_owned() } else { layers.join(" | ") };
        let number = noun(u64::from(found.count), kind_word(found.kind));
        all.extend(wrap(&format!("    {number}, {size}: {layers}"), WIDTH, "      "));
    }
    if listed.len() > MOST {
        all.push(format!("  and {} more, all in the JSON", listed.len() - MOST));
    }
    all
}
