//! The `corners` and `partitions` cells: how many, or where.
//!
//! Corners are a number, `left`, `right` or `both`; partitions a number, or `at 4', 10' 6"` from the left end.

use super::extent::Measured;
use super::field::Field;
use super::row::Reader;
use crate::geometry::tolerance::COINCIDENT_M;
use crate::model::{Junction, JunctionKind, SurfaceKind};
use crate::units::display::both_ways;
use crate::units::{LengthUnit, parse_length};

/// Most corner posts or junctions a row may name.
const MOST_POSTS: u32 = 1000;
const CORNERS_HELP: &str = "write how many, such as `2`, or where: `left`, `right` or `both`";
const PARTITIONS_HELP: &str = "write how many, such as `2`, or where, from the left end: `at 4', 10' 6\"`";

/// Junctions of a surface: those that have a place, and numbers of those that have none.
#[derive(Debug, Default)]
pub(super) struct Junctions {
    pub placed: Vec<Junction>,
    pub corner_posts: u32,
    pub partitions: u32,
}

/// Reads both cells.
pub(super) fn read_junctions(
    reader: &mut Reader<'_>,
    kind: Option<SurfaceKind>,
    measured: Option<&Measured>,
) -> Junctions {
    let mut junctions = Junctions::default();
    if let Some(word) = reader.row.word(Field::Corners) {
        match ends_of(word) {
            Some(ends) => {
                let length_m = placed_length_m(reader, Field::Corners, kind, measured).unwrap_or_default();
                let junction = |share: &f64| Junction {
                    kind: JunctionKind::Corner,
                    at_m: share * length_m,
                    reach_m: None,
                    source: None,
                };
                junctions.placed.extend(ends.iter().map(junction));
            }
            None if is_number(word) => junctions.corner_posts = reader.whole(Field::Corners, 0, 0, MOST_POSTS),
            None => reader.fault(Field::Corners, format!("`{word}` is neither a number nor an end"), CORNERS_HELP),
        }
    }
    if let Some(word) = reader.row.word(Field::Partitions) {
        match word.get(..2).filter(|at| at.eq_ignore_ascii_case("at")).and_then(|_| word.get(2..)) {
            Some(places) => {
                let length_m = placed_length_m(reader, Field::Partitions, kind, measured);
                junctions.placed.extend(read_places(reader, places, length_m));
            }
            None if is_number(word) => {
                junctions.partitions = reader.whole(Field::Partitions, 0, 0, MOST_POSTS);
            }
            None => {
                let message = format!("`{word}` is neither a number of partitions nor places");
                reader.fault(Field::Partitions, message, PARTITIONS_HELP);
            }
        }
    }
    junctions
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

/// Length of a wall that something has its place on; a fault where it is none, or has no shape.
fn placed_length_m(
    reader: &mut Reader<'_>,
    field: Field,
    kind: Option<SurfaceKind>,
    measured: Option<&Measured>,
) -> Option<f64> {
    if kind? != SurfaceKind::Wall {
        let message = format!("places of {} are for walls alone", field.heading());
        reader.fault(field, message, "leave the cell empty, or write `wall` as the kind");
        return None;
    }
    let shape = measured?.shape.as_ref();
    if shape.is_none() {
        let message = "a place cannot be found on a surface of which only the area is known";
        reader.fault(field, message, "give length and height, or write how many there are, such as `2`");
    }
    shape.map(|shape| shape.length_m)
}

fn read_places(reader: &mut Reader<'_>, text: &str, length_m: Option<f64>) -> Vec<Junction> {
    let sheet = reader.row.sheet;
    let unit = sheet.columns.length_unit(Field::Partitions);
    let mut places_m = match lengths(text, unit, sheet.has_decimal_comma) {
        Ok(places_m) => places_m,
        Err(message) => {
            reader.fault(Field::Partitions, message, PARTITIONS_HELP);
            return Vec::new();
        }
    };
    if let (Some(length_m), Some(&beyond_m)) = (length_m, places_m.iter().max_by(|a, b| a.total_cmp(b)))
        && beyond_m > length_m + COINCIDENT_M
    {
        let message = format!(
            "a partition meets the wall at {}, and the wall ends at {}",
            both_ways(beyond_m),
            both_ways(length_m)
        );
        reader.fault(Field::Partitions, message, "measure from the wall's left end, as seen from outside");
        return Vec::new();
    }
    places_m.sort_by(f64::total_cmp);
    if let Some(pair) = places_m.windows(2).find(|pair| matches!(pair, [a, b] if b - a < COINCIDENT_M)) {
        let at = pair.first().copied().map(both_ways).unwrap_or_default();
        reader.fault(Field::Partitions, format!("two partitions meet the wall at {at}"), "name each place once");
        return Vec::new();
    }
    let junction = |at_m: f64| Junction { kind: JunctionKind::Partition, at_m, reach_m: None, source: None };
    places_m.into_iter().map(junction).collect()
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
