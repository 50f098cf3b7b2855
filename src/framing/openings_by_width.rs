//! What stands around an opening, by its width.

use super::LayoutRules;
use crate::geometry::tolerance::COINCIDENT_M;

/// The rule that holds for one opening, nothing left open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct OwnRule {
    pub(super) header_height_m: f64,
    /// `None` where the header is solid over the wall's depth.
    pub(super) header_depth_m: Option<f64>,
    pub(super) jack_studs: u32,
    pub(super) king_studs: u32,
    pub(super) sill_plates: u32,
}

/// The first entry that the width fits, else the plain rules; what the entry leaves open is the plain rules' too.
pub(super) fn opening_rule(rules: &LayoutRules, width_m: f64) -> OwnRule {
    let is_wide = width_m > rules.wide_opening_m + COINCIDENT_M;
    let entry = rules.openings_by_width.iter().find(|entry| width_m <= entry.up_to_m + COINCIDENT_M);
    let entry = entry.copied().unwrap_or_default();
    OwnRule {
        header_height_m: entry.header_height_m.unwrap_or(rules.header_height_m),
        header_depth_m: entry.header_depth_m.or(rules.header_depth_m),
        jack_studs: entry.jack_studs.unwrap_or(if is_wide { rules.jack_studs_wide } else { rules.jack_studs }),
        king_studs: entry.king_studs.unwrap_or(rules.king_studs),
        sill_plates: entry.sill_plates.unwrap_or(rules.sill_plates),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::framing::OpeningRule;

    // By hand: up to 1 m no jack, up to 2 m two; a wider one is wide by the plain rules (6 ft = 1.8288 m): two.
    #[test]
    fn the_first_entry_that_fits_counts() {
        let entry = |up_to_m, jacks| OpeningRule { up_to_m, jack_studs: Some(jacks), ..OpeningRule::default() };
        let rules = LayoutRules { openings_by_width: vec![entry(1.0, 0), entry(2.0, 3)], ..LayoutRules::default() };
        assert_eq!([0.9, 1.0, 1.1, 2.0, 2.1].map(|width_m| opening_rule(&rules, width_m).jack_studs), [0, 0, 3, 3, 2]);
        assert_eq!(opening_rule(&rules, 1.0).king_studs, 1);
    }
}
