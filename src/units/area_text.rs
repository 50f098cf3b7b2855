//! Areas as people write them: `1310 ft2`, `122 sq ft`, `12.5 m²`.

use super::SQUARE_FOOT_M2;
use super::text::{TextError, is_negative, scan_number, unit_word};

/// A unit that an area, or the heading of a column of areas, may name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AreaUnit {
    /// Square metres.
    SquareMetre,
    /// Square feet.
    SquareFoot,
}

impl AreaUnit {
    /// The unit that a word names: `ft2`, `sq ft`, `SF`, `m²`.
    pub fn from_word(word: &str) -> Option<Self> {
        Some(match unit_word(word).as_str() {
            "m2" | "sqm" | "squaremetre" | "squaremetres" | "squaremeter" | "squaremeters" => Self::SquareMetre,
            "ft2" | "sqft" | "sf" | "squarefoot" | "squarefeet" => Self::SquareFoot,
            _ => return None,
        })
    }
}

/// Reads an area, in square metres; a bare number takes `default`, the unit of the column.
///
/// # Errors
/// A text that is no area, is negative or not finite, or has no unit where `default` has none.
pub fn parse_area(text: &str, default: Option<AreaUnit>, decimal_comma: bool) -> Result<f64, TextError> {
    let help = "write it as `1310 ft2` or `121.7 m2`, or name the unit in the heading, such as `area (ft2)`";
    let trimmed = text.trim();
    let fail = |message: String| TextError::new(message, help, 0..text.len());
    if is_negative(trimmed) {
        return Err(fail(format!("`{trimmed}` is negative")));
    }
    let Some(number) = scan_number(trimmed, 0, decimal_comma)? else {
        return Err(fail(format!("`{trimmed}` is not an area")));
    };
    let word = trimmed.get(number.len..).unwrap_or_default().trim();
    let unit = match (AreaUnit::from_word(word), default) {
        (Some(unit), _) => unit,
        (None, Some(unit)) if word.is_empty() => unit,
        (None, _) if word.is_empty() => return Err(fail(format!("`{trimmed}` has no unit"))),
        (None, _) => return Err(fail(format!("`{word}` is no unit of area"))),
    };
    let area_m2 = match unit {
        AreaUnit::SquareMetre => number.value,
        AreaUnit::SquareFoot => number.value * SQUARE_FOOT_M2,
    };
    if area_m2.is_finite() { Ok(area_m2) } else { Err(fail(format!("`{trimmed}` is too large to be measured"))) }
}

#[cfg(test)]
mod tests {
    use super::*;

    // 1 ft2 = 0.09290304 m2, exact (NIST SP 811 app. B.8).
    #[test]
    fn areas_are_read_with_their_unit() {
        for text in ["100 ft2", "100 ft²", "100 sq ft", "100 SF", "100 sq. ft.", "100ft^2", "100 square feet"] {
            assert!((parse_area(text, None, false).unwrap() - 9.290_304).abs() < 1e-12, "{text}");
        }
        assert_eq!(parse_area("12,5 m²", None, true), Ok(12.5));
        assert_eq!(parse_area("12.5", Some(AreaUnit::SquareMetre), false), Ok(12.5));
    }

    #[test]
    fn what_is_no_area_is_refused() {
        for text in ["", "100", "100 ft", "-1 m2", "1,310 ft2", "1e400 m2", "ten m2"] {
            assert!(parse_area(text, None, false).is_err(), "{text}");
        }
    }
}
