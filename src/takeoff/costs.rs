//! Findings by what they cost: the gravest first, then those about the most fill, then about the most area.

use super::{Names, Takeoff};
use crate::finding::Finding;
use std::collections::HashMap;

/// A finding with what is at stake in it.
#[derive(Clone, Debug, PartialEq)]
pub struct CostedFinding<'t> {
    /// The finding.
    pub finding: &'t Finding,
    /// The surfaces that it is about.
    pub names: Names,
    /// Mass of the fill of the surfaces that it is about; `None` where it names none.
    pub mass_kg: Option<f64>,
    /// Their gross area.
    pub area_m2: Option<f64>,
}

/// Most surfaces that a finding names.
const NAMED: usize = 4;

/// All findings with what they cost, the dearest first; equals keep their order.
pub fn findings_by_cost(takeoff: &Takeoff) -> Vec<CostedFinding<'_>> {
    let mut by_place: HashMap<String, (Names, f64, f64)> = HashMap::new();
    for surface in &takeoff.surfaces {
        for key in [surface.id.clone(), surface.source.to_string()] {
            let (names, mass_kg, area_m2) = by_place.entry(key).or_default();
            names.add_surface(surface, NAMED);
            *mass_kg += surface.mass_kg.unwrap_or(0.0);
            *area_m2 += surface.gross_area_m2;
        }
    }
    let mut all: Vec<CostedFinding<'_>> = takeoff
        .findings
        .iter()
        .map(|finding| {
            let found = keys(&finding.r#where).into_iter().find_map(|key| by_place.get(key));
            let names = found.map(|(names, ..)| names.clone()).unwrap_or_default();
            let (mass_kg, area_m2) = found.map(|(_, mass_kg, area_m2)| (*mass_kg, *area_m2)).unzip();
            CostedFinding { finding, names, mass_kg, area_m2 }
        })
        .collect();
    let order = |value: Option<f64>| value.unwrap_or(0.0);
    all.sort_by(|a, b| {
        let by_severity = b.finding.severity.cmp(&a.finding.severity);
        let by_mass = order(b.mass_kg).total_cmp(&order(a.mass_kg));
        by_severity.then(by_mass).then(order(b.area_m2).total_cmp(&order(a.area_m2)))
    });
    all
}

/// What a place may be known by: the id in its brackets, and the line of its sheet.
fn keys(place: &str) -> Vec<&str> {
    let mut keys = Vec::new();
    let (before, id) = match place.strip_suffix(')').and_then(|rest| rest.rsplit_once(" (")) {
        Some((before, id)) => (before, Some(id)),
        None => (place, None),
    };
    keys.extend(id);
    keys.push(before);
    // A column behind the line says where in the row.
    keys.extend(before.rsplit_once(':').map(|(line, _)| line));
    keys
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_is_known_by_its_id_and_by_its_line() {
        assert_eq!(keys("a.csv:12:5 (W1)"), ["W1", "a.csv:12:5", "a.csv:12"]);
        assert_eq!(keys("a.csv:12"), ["a.csv:12", "a.csv"]);
        assert_eq!(keys("house (1).ifc"), ["house (1).ifc"]);
    }
}
