//! `corners` and `partitions`: how many, or where.
//!
//! Corners are a number, `left`, `right` or `both`; partitions a number, or `at 4', 10' 6"` from the left end.

use super::{Misread, read_whole};
use crate::geometry::tolerance::COINCIDENT_M;
use crate::units::display::both_ways;
use crate::units::{LengthUnit, parse_length};

/// Most corner posts or junctions a surface may have.
const MOST_POSTS: u32 = 1000;
const CORNERS_HELP: &str = "write how many, such as `2`, or where: `left`, `right` or `both`";
const PARTITIONS_HELP: &str = "write how many, such as `2`, or where, from the left end: `at 4', 10' 6\"`";

/// Corners of a surface.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Corners {
    /// How many.
    Number(u32),
    /// At which ends, as shares of its length.
    At(&'static [f64]),
}

/// Partitions that meet a surface.
#[derive(Clone, Debug, PartialEq)]
pub enum Partitions {
    /// How many.
    Number(u32),
    /// Where, in metres from its left end, from the left.
    At(Vec<f64>),
}

/// Reads how many corners there are, or at which ends.
///
/// # Errors
/// What is neither.
pub fn read_corners(word: &str) -> Result<Corners, Misread> {
    match ends_of(word) {
        Some(ends) => Ok(Corners::At(ends)),
        None if is_number(word) => read_whole(word, 0, MOST_POSTS).map(Corners::Number),
        None => Err(Misread::new(format!("`{word}` is neither a number nor an end"), CORNERS_HELP)),
    }
}

/// Reads how many partitions there are, or where.
///
/// # Errors
/// What is neither, and a place that is named twice.
pub fn read_partitions(word: &str, unit: Option<LengthUnit>, has_comma: bool) -> Result<Partitions, Misread> {
    match word.get(..2).filter(|at| at.eq_ignore_ascii_case("at")).and_then(|_| word.get(2..)) {
        Some(places) => read_places(places, unit, has_comma).map(Partitions::At),
        None if is_number(word) => read_whole(word, 0, MOST_POSTS).map(Partitions::Number),
        None => {
            let message = format!("`{word}` is neither a number of partitions nor places");
            Err(Misread::new(message, PARTITIONS_HELP))
        }
    }
}

fn is_number(word: &str) -> bool {
    word.bytes().all(|byte| byte.is_ascii_digit() || matches!(byte, b'.' | b',' | b'-'))
}

/// Where along the wall the ends lie that a word names, as shares of its length.
fn ends_of(word: &str) -> Option<&'static [f64]> {
    match word.to_lowercase().as_str() {
        "left" => Some(&[0.0]),
        "right" => Some(&[1.0]),
        "both" => Some(&[0.0, 1.0]),
        _ => None,
    }
}

fn read_places(text: &str, unit: Option<LengthUnit>, has_comma: bool) -> Result<Vec<f64>, Misread> {
    let mut places_m = lengths(text, unit, has_comma).map_err(|message| Misread::new(message, PARTITIONS_HELP))?;
    places_m.sort_by(f64::total_cmp);
    if let Some(pair) = places_m.windows(2).find(|pair| matches!(pair, [a, b] if b - a < COINCIDENT_M)) {
        let at = pair.first().copied().map(both_ways).unwrap_or_default();
        return Err(Misread::new(format!("two partitions meet the wall at {at}"), "name each place once"));
    }
    Ok(places_m)
}

/// Lengths apart by commas or semicolons. A comma between two digits is the decimal mark where the sheet has that one;
/// elsewhere nothing says what it is.
fn lengths(text: &str, unit: Option<LengthUnit>, has_comma: bool) -> Result<Vec<f64>, String> {
    let mut words = vec![String::new()];
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let mut before = None;
    let mut rest = text.chars();
    while let Some(c) = rest.next() {
        let is_within = c == ',' && digit(before) && digit(rest.clone().next());
        if is_within && !has_comma {
            return Err(format!(
                "`{}` can be one length or two: put a space behind a comma that parts two",
                text.trim()
            ));
        }
        if matches!(c, ';' | '\n' | ',') && !is_within {
            words.push(String::new());
        } else if let Some(word) = words.last_mut() {
            word.push(c);
        }
        before = Some(c);
    }
    let places: Vec<&str> = words.iter().map(|word| word.trim()).filter(|word| !word.is_empty()).collect();
    if places.is_empty() {
        return Err("`at` is followed by no place".to_owned());
    }
    if places.len() > MOST_POSTS as usize {
        return Err(format!("{} places are named; at most {MOST_POSTS} are read", places.len()));
    }
    let length = |place: &&str| parse_length(place, unit, has_comma).map_err(|error| error.message);
    places.iter().map(length).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{FOOT_M, INCH_M};

    #[test]
    fn places_are_parted_by_commas_or_semicolons() {
        let expected = vec![4.0 * FOOT_M, 126.0 * INCH_M];
        for text in [" 4', 10' 6\"", "4';10'-6\"", " 4 ft , 126 in,"] {
            assert_eq!(lengths(text, None, false), Ok(expected.clone()), "{text}");
        }
        assert_eq!(lengths(" 4, 10 1/2", Some(LengthUnit::Foot), false), Ok(vec![4.0 * FOOT_M, 10.5 * FOOT_M]));
        assert_eq!(lengths("1,2, 3,4", Some(LengthUnit::Metre), true), Ok(vec![1.2, 3.4]));
    }

    #[test]
    fn what_names_no_place_or_may_name_two_is_refused() {
        assert!(lengths(" 4,10", Some(LengthUnit::Foot), false).unwrap_err().contains("one length or two"));
        assert!(lengths("  ", None, false).unwrap_err().contains("no place"));
        assert!(lengths("4, 8'", None, false).unwrap_err().contains("no unit"));
        assert!(lengths("door", None, false).is_err());
    }

    #[test]
    fn ends_are_read_in_any_case() {
        assert_eq!(ends_of("Both"), Some(&[0.0, 1.0][..]));
        assert_eq!(ends_of("middle"), None);
    }
}
