//! `floors`: `8' 1-1/8" to 9' 0-3/8"; 17' to 17' 11"`, heights above the bottom of a wall.

use super::Misread;
use crate::geometry::tolerance::COINCIDENT_M;
use crate::model::FloorBand;
use crate::units::{LengthUnit, parse_length};

/// How to write it.
pub(super) const HELP: &str = "write the underside and the top of each floor's structure, above the bottom of the wall and from the lowest up: \
                    `8' 1-1/8\" to 9' 0-3/8\"; 17' to 17' 11\"`";
/// Most floors that may run into one wall.
const MOST_FLOORS: usize = 200;

/// Reads where floors run into a wall, from the lowest up.
///
/// # Errors
/// What is no stretch of height, and stretches that are out of order.
pub fn read_floor_bands(text: &str, unit: Option<LengthUnit>, has_comma: bool) -> Result<Vec<FloorBand>, Misread> {
    bands_of(text, unit, has_comma).map_err(|message| Misread::new(message, HELP))
}

fn bands_of(text: &str, unit: Option<LengthUnit>, has_comma: bool) -> Result<Vec<FloorBand>, String> {
    let entries: Vec<&str> = text.split([';', '\n']).map(str::trim).filter(|entry| !entry.is_empty()).collect();
    if entries.is_empty() || entries.len() > MOST_FLOORS {
        return Err(format!("{} floors are named; 1 to {MOST_FLOORS} are read", entries.len()));
    }
    let mut bands: Vec<FloorBand> = Vec::new();
    for entry in entries {
        let band = band_of(entry, unit, has_comma)?;
        if let Some(below) = bands.last()
            && band.from_m < below.to_m - COINCIDENT_M
        {
            return Err(format!("`{entry}` begins below the top of the floor before it"));
        }
        bands.push(band);
    }
    Ok(bands)
}

fn band_of(entry: &str, unit: Option<LengthUnit>, has_comma: bool) -> Result<FloorBand, String> {
    let lower = entry.to_ascii_lowercase();
    let Some((from, to)) = lower.split_once(" to ") else {
        return Err(format!("`{entry}` is not two heights with `to` between"));
    };
    let length =
        |text: &str| parse_length(text, unit, has_comma).map_err(|error| format!("in `{entry}`, {}", error.message));
    let (from_m, to_m) = (length(from)?, length(to)?);
    if to_m - from_m < COINCIDENT_M {
        return Err(format!("`{entry}` ends before it begins"));
    }
    Ok(FloorBand { from_m, to_m, source: None })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::INCH_M;

    // In inches: 8' 1-1/8" is 97.125, 9' 0-3/8" is 108.375 (arithmetic).
    #[test]
    fn bands_are_read_from_the_lowest_up() {
        let bands = bands_of("8' 1-1/8\" to 9' 0-3/8\";\n17' TO 17' 11\"", None, false).unwrap();
        let metres: Vec<[f64; 2]> = bands.iter().map(|band| [band.from_m, band.to_m]).collect();
        for (found, inches) in metres.iter().flatten().zip([97.125, 108.375, 204.0, 215.0]) {
            assert!((found - inches * INCH_M).abs() < 1e-12, "{metres:?}");
        }
        let bands = bands_of("2,47 to 2,75", Some(LengthUnit::Metre), true).unwrap();
        assert_eq!((bands[0].from_m, bands[0].to_m), (2.47, 2.75));
    }

    #[test]
    fn bands_that_are_none_or_out_of_order_are_refused() {
        let refused = |text: &str| bands_of(text, None, false).unwrap_err();
        assert!(refused("8'").contains("`to` between"));
        assert!(refused("9' to 8'").contains("ends before it begins"));
        assert!(refused("17' to 18'; 8' to 9'").contains("begins below"));
        assert!(refused("8' to 9'; 8'6\" to 10'").contains("begins below"));
        assert!(refused("8' to x").contains("in `8' to x`"));
        assert!(refused(";").contains("0 floors"));
    }
}
