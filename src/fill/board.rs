//! What a ceiling's board carries.

use crate::geometry::tolerance::COINCIDENT_M;
use crate::units::{INCH_M, POUND_PER_SQUARE_FOOT_KG_M2};

/// What board of 1/2 in. carries at 24 in. on centre, in lb/ft2.
const HALF_AT_24_LB_FT2: f64 = 1.3;

/// Gypsum board of a ceiling.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CeilingBoard {
    /// 1/2 in.
    Half,
    /// 1/2 in., made not to sag.
    HalfSagResistant,
    /// 5/8 in.
    FiveEighths,
}

impl CeilingBoard {
    /// All of them, with the word a job file has for each.
    pub const ALL: [(&'static str, Self); 3] =
        [("1/2 in", Self::Half), ("1/2 in sag-resistant", Self::HalfSagResistant), ("5/8 in", Self::FiveEighths)];

    /// As a job file has it.
    pub fn word(self) -> &'static str {
        Self::ALL.iter().find(|(_, board)| *board == self).map_or("", |(word, _)| word)
    }
}

/// Most dry fill that a board carries between members at a spacing; `None` where no figure is published for it.
///
/// # Source
/// 1/2 in. at 24 in. on centre 1.3 lb/ft2, at 16 in. 2.2; 5/8 in. at 24 in. 2.2; sag-resistant 1/2 in. at 24 in. 2.2:
/// the US Department of Energy's fact sheet on loose fill, as copied by others; GA-216 and ASTM C840, from memory. A
/// board carries at a closer spacing what it carries at a wider one.
pub fn board_limit_kg_m2(board: CeilingBoard, spacing_m: f64) -> Option<f64> {
    let is_within = |inches: f64| spacing_m <= inches * INCH_M + COINCIDENT_M;
    let limit_lb_ft2 = match board {
        CeilingBoard::Half if is_within(16.0) => 2.2,
        CeilingBoard::Half if is_within(24.0) => HALF_AT_24_LB_FT2,
        CeilingBoard::FiveEighths | CeilingBoard::HalfSagResistant if is_within(24.0) => 2.2,
        CeilingBoard::Half | CeilingBoard::FiveEighths | CeilingBoard::HalfSagResistant => return None,
    };
    Some(limit_lb_ft2 * POUND_PER_SQUARE_FOOT_KG_M2)
}

/// Most that any board carries at a spacing, where nobody says which board it is: that of 1/2 in., the least stiff one, with
/// the spacing for which it is published; at an unknown or a wider spacing what it carries at 24 in.
pub fn least_board_limit_kg_m2(spacing_m: Option<f64>) -> (f64, f64) {
    let widest_m = 24.0 * INCH_M;
    let spacing_m = spacing_m.filter(|spacing_m| *spacing_m <= widest_m).unwrap_or(widest_m);
    let limit =
        board_limit_kg_m2(CeilingBoard::Half, spacing_m).unwrap_or(HALF_AT_24_LB_FT2 * POUND_PER_SQUARE_FOOT_KG_M2);
    (limit, spacing_m)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_board_carries_less_at_a_wider_spacing() {
        let limit = |board, spacing_in: f64| {
            board_limit_kg_m2(board, spacing_in * INCH_M).map(|limit| limit / POUND_PER_SQUARE_FOOT_KG_M2)
        };
        assert!((limit(CeilingBoard::Half, 24.0).unwrap() - 1.3).abs() < 1e-12);
        assert!((limit(CeilingBoard::Half, 16.0).unwrap() - 2.2).abs() < 1e-12);
        assert!((limit(CeilingBoard::Half, 19.2).unwrap() - 1.3).abs() < 1e-12);
        assert!((limit(CeilingBoard::FiveEighths, 12.0).unwrap() - 2.2).abs() < 1e-12);
        assert_eq!(limit(CeilingBoard::Half, 24.5), None);
        let least = |spacing_in: Option<f64>| {
            let (limit, spacing_m) = least_board_limit_kg_m2(spacing_in.map(|inches| inches * INCH_M));
            (limit / POUND_PER_SQUARE_FOOT_KG_M2, spacing_m / INCH_M)
        };
        let near = |(a, b): (f64, f64), (c, d): (f64, f64)| assert!((a - c).abs() < 1e-12 && (b - d).abs() < 1e-12);
        near(least(Some(16.0)), (2.2, 16.0));
        near(least(Some(24.0)), (1.3, 24.0));
        near(least(Some(48.0)), (1.3, 24.0));
        near(least(None), (1.3, 24.0));
        assert_eq!(CeilingBoard::HalfSagResistant.word(), "1/2 in sag-resistant");
    }
}
