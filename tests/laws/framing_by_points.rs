//! The plain wall of the contract, point by point: for any point of a level wall the rules say
//! whether it is opening, framing or bay, without any polygon.

use crate::surfaces::{INCH, holds, level_wall_in, plain};
use proptest::prelude::*;

const STUD: f64 = 1.5;
const HEADER: f64 = 9.25;

#[derive(Debug, PartialEq, Clone, Copy)]
enum What {
    Opening,
    Member,
    Empty,
}

/// What the contract says about a point of a wall, all in inches.
fn by_rule([x, y]: [f64; 2], length: f64, height: f64, spacing: f64, openings: &[[f64; 4]]) -> What {
    let inside = |o: &&[f64; 4]| o[0] < x && x < o[2] && o[1] < y && y < o[3];
    if openings.iter().any(|o| inside(&o)) {
        return What::Opening;
    }
    let is_plate = y < STUD || y > height - 2.0 * STUD;
    let is_end = x < STUD || x > length - STUD;
    let from_layout = (x / spacing).round().max(1.0) * spacing;
    let is_stud = (x - from_layout).abs() < STUD / 2.0 && from_layout < length;
    if is_plate || is_end || is_stud || openings.iter().any(|o| is_around([x, y], *o)) {
        What::Member
    } else {
        What::Empty
    }
}

/// Whether a point lies in the king, jack, header or sill of an opening.
fn is_around([x, y]: [f64; 2], [x0, y0, x1, y1]: [f64; 4]) -> bool {
    let jacks = if x1 - x0 > 72.0 { 2.0 * STUD } else { STUD };
    let beside = (x0 - x).max(x - x1);
    let is_king = beside > jacks && beside < jacks + STUD;
    let is_jack = beside > 0.0 && beside < jacks && y < y1;
    let is_header = beside < jacks && y > y1 && y < y1 + HEADER;
    let is_sill = beside < 0.0 && y0 > STUD && y < y0 && y > y0 - STUD;
    is_king || is_jack || is_header || is_sill
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_point_is_what_the_contract_says(
        length in 20.0..300.0_f64,
        height in 90.0..120.0_f64,
        by_24 in any::<bool>(),
        wish in (0.0..1.0_f64, 20.0..80.0_f64, any::<bool>(), 20.0..60.0_f64),
        second in any::<bool>(),
    ) {
        let (spacing, framing) = if by_24 { (24.0, "2x6 @ 24 in") } else { (16.0, "2x4 @ 16 in") };
        let (place, width, is_door, sill) = wish;
        let sill = if is_door { 0.0 } else { sill };
        // Room for king and jacks on both sides, and for a second opening that is not crowded.
        let room = (length - 12.0 - width) / if second { 2.0 } else { 1.0 } - if second { width } else { 0.0 };
        let mut openings = Vec::new();
        if room > 0.0 {
            let x = 6.0 + place * room;
            openings.push([x, sill, x + width, 82.5]);
            if second {
                openings.push([length - 6.0 - width, 30.0, length - 6.0, 70.0]);
            }
        }
        prop_assume!(openings.len() < 2 || openings[1][0] - openings[0][2] > 12.0);
        let (layout, cut) = plain(&level_wall_in(length, height, &openings), framing);
        for column in 0..61 {
            for row in 0..31 {
                let point = [length * (f64::from(column) + 0.5123) / 61.0, height * (f64::from(row) + 0.4877) / 31.0];
                let metres = point.map(|v| v * INCH);
                let is_member = layout.members.iter().any(|m| holds(&m.outline, metres));
                let is_bay = cut.bays.iter().map(|b| &b.outline).chain(cut.left_out.iter().map(|p| &p.outline));
                let is_empty = is_bay.clone().any(|outline| holds(outline, metres));
                let found = match (is_member, is_empty) {
                    (true, false) => What::Member,
                    (false, true) => What::Empty,
                    (false, false) => What::Opening,
                    (true, true) => return Err(TestCaseError::fail("both bay and member")),
                };
                prop_assert_eq!(found, by_rule(point, length, height, spacing, &openings), "at {:?}", point);
            }
        }
    }
}
