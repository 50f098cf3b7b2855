//! Reading framing as people write it: `2x6 @ 24 in`, `60x240 mm @ 625 mm`.

use super::Framing;
use super::lumber::{dressed_m, known_sizes};
use crate::units::{FOOT_M, INCH_M};
use std::fmt;
use thiserror::Error;

/// Smallest and largest width of a member in the plane, in metres.
const WIDTHS_M: [f64; 2] = [0.001, 0.4];
/// Smallest and largest depth of a member, in metres.
const DEPTHS_M: [f64; 2] = [0.01, 1.0];
/// Largest spacing, in metres.
const WIDEST_SPACING_M: f64 = 3.1;
/// What every refusal shows.
const EXAMPLES: &str = "`2x6 @ 24 in`, `60x240 mm @ 625 mm` or `1.5 x 5.5 in actual @ 16 in`";

/// Framing text that cannot be read.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{message}")]
pub struct FramingTextError {
    /// What was found and what was expected.
    pub message: String,
    /// How to mend it, with an example.
    pub help: String,
}

impl fmt::Display for Framing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

/// Reads framing as people write it.
///
/// Before the `@` stands the size: nominal inches without a unit (`2x6`), actual millimetres (or
/// `cm`, `m`) with it (`45x195 mm`), or actual inches with `in actual` (`1.5 x 5.5 in actual`). The
/// width in the surface's plane comes first; `flat` behind the size lays a member on its wide face.
/// Behind the `@` stands the spacing with its unit, and `o.c.` if you like.
///
/// # Errors
/// Says what cannot be read: no `@`, a size that no one saws, a number without a unit, a spacing
/// that is not wider than a member or beyond what is built.
pub fn parse_framing(text: &str) -> Result<Framing, FramingTextError> {
    let tidy = tidied(text);
    let parts: Vec<&str> = tidy.split('@').collect();
    let [size, spacing] = parts.as_slice() else {
        return Err(refused(format!("`{}` is not framing: a size, one `@` and a spacing were expected", text.trim())));
    };
    let size = read_size(size.trim())?;
    let spacing = read_spacing(spacing.trim())?;
    if spacing.metres <= size.width_m + 1e-9 {
        return Err(refused(format!(
            "the spacing `{}` leaves no bay: it must be wider than a member (`{}`)",
            spacing.text, size.text
        )));
    }
    if spacing.metres > WIDEST_SPACING_M {
        return Err(refused(format!("the spacing `{}` is beyond what is built (10 ft or 3.05 m)", spacing.text)));
    }
    let text = format!("{} @ {}", size.text, spacing.text);
    Ok(Framing::solid(text, size.width_m, size.depth_m, spacing.metres))
}

struct Size {
    text: String,
    width_m: f64,
    depth_m: f64,
}

struct Length {
    text: String,
    metres: f64,
}

/// Lower case, with plain marks for the typographic ones, `@` for `at`, and even spaces.
fn tidied(text: &str) -> String {
    let plain: String = text
        .chars()
        .map(|c| match c {
            '×' | '✕' | '*' | 'X' => 'x',
            '″' | '”' | '“' => '"',
            '′' | '’' | '‘' => '\'',
            c if c.is_whitespace() => ' ',
            c => c.to_ascii_lowercase(),
        })
        .collect();
    let plain = plain.replace("''", "\"").replace(" at ", " @ ");
    plain.split(' ').filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ")
}

fn read_size(text: &str) -> Result<Size, FramingTextError> {
    let (text, is_flat) = strip_word(text, "flat");
    let (text, is_actual) = strip_word(text, "actual");
    let Some((first, rest)) = text.split_once('x') else {
        return Err(refused(format!("`{text}` is not the size of a member: two numbers with an `x` were expected")));
    };
    let (first_number, first_unit) = split_number(first);
    let (second_number, unit) = split_number(rest);
    if !first_unit.is_empty() && first_unit != unit {
        return Err(refused(format!(
            "`{text}` is not the size of a member: the unit stands once, behind both numbers"
        )));
    }
    let (first, second) = (read_number(first_number, text)?, read_number(second_number, text)?);
    if first > second && !is_flat {
        return Err(refused(format!(
            "`{text}` has the larger number first: the width in the surface's plane comes first, then the depth; for a \
             member on its wide face write `flat` behind the size"
        )));
    }
    let pair = [first, second];
    let mut size = if unit.is_empty() { nominal(pair, is_actual)? } else { actual(pair, unit, is_actual)? };
    if is_flat {
        (size.width_m, size.depth_m) = (size.width_m.max(size.depth_m), size.width_m.min(size.depth_m));
        size.text.push_str(" flat");
    }
    let within = |value: f64, [least, most]: [f64; 2]| (least..=most).contains(&value);
    if !within(size.width_m, WIDTHS_M) || !within(size.depth_m, DEPTHS_M) {
        return Err(refused(format!("`{text}` is not the size of a member: no framing is that small or large")));
    }
    Ok(size)
}

fn nominal([width, depth]: [f64; 2], is_actual: bool) -> Result<Size, FramingTextError> {
    if is_actual {
        return Err(refused(format!("`{width} x {depth} actual` has no unit")));
    }
    let dressed = |nominal: f64| {
        dressed_m(nominal).ok_or_else(|| FramingTextError {
            message: format!("`{nominal}` is not a nominal size of lumber (known: {})", known_sizes()),
            help: format!("write {EXAMPLES}; actual sizes need their unit"),
        })
    };
    Ok(Size { text: format!("{width}x{depth}"), width_m: dressed(width)?, depth_m: dressed(depth)? })
}

fn actual([width, depth]: [f64; 2], unit: &str, is_actual: bool) -> Result<Size, FramingTextError> {
    let Some((name, unit_m)) = unit_of(unit) else {
        return Err(refused(format!("`{unit}` is not a unit of length: `mm`, `cm`, `m` or `in` was expected")));
    };
    if name == "in" && !is_actual {
        return Err(FramingTextError {
            message: format!("`{width}x{depth} in` can be a nominal or an actual size"),
            help: format!(
                "for the nominal size write `{width}x{depth}` without a unit; for the actual one write `{width}x{depth} in \
                 actual`"
            ),
        });
    }
    let word = if name == "in" { " actual" } else { "" };
    Ok(Size { text: format!("{width}x{depth} {name}{word}"), width_m: width * unit_m, depth_m: depth * unit_m })
}

fn read_spacing(text: &str) -> Result<Length, FramingTextError> {
    let ways = ["o.c.", "o.c", "oc.", "oc", "c/c", "on centre", "on center", "on centres", "on centers"];
    let bare = ways.iter().find_map(|way| text.strip_suffix(way)).unwrap_or(text).trim();
    let (number, unit) = split_number(bare);
    if unit.is_empty() {
        return Err(refused(format!("the spacing `{bare}` has no unit: `in`, `ft`, `mm`, `cm` or `m` was expected")));
    }
    let Some((name, unit_m)) = unit_of(unit) else {
        return Err(refused(format!("the spacing `{bare}` is not a length: one number with its unit was expected")));
    };
    let value = read_number(number, bare)?;
    Ok(Length { text: format!("{value} {name}"), metres: value * unit_m })
}

/// The number at the beginning, with its sign and fraction, and the unit behind it.
fn split_number(text: &str) -> (&str, &str) {
    let text = text.trim();
    let end = text.find(|c: char| !(c.is_ascii_digit() || "+-./, ".contains(c))).unwrap_or(text.len());
    let (number, unit) = text.split_at_checked(end).unwrap_or((text, ""));
    (number.trim(), unit.trim().trim_end_matches('.'))
}

/// A number above nothing: `16`, `19.2`, `1/2`, `1 1/2` or `1-1/2`.
fn read_number(number: &str, whole: &str) -> Result<f64, FramingTextError> {
    let value = match number.rsplit_once([' ', '-']) {
        Some((whole_part, fraction)) if fraction.contains('/') && !whole_part.is_empty() => {
            plain_number(whole_part.trim()).zip(fraction_of(fraction)).map(|(a, b)| a + b)
        }
        _ => plain_number(number).or_else(|| fraction_of(number)),
    };
    match value {
        Some(value) if value.is_finite() && value > 0.0 => Ok(value),
        Some(_) => Err(refused(format!("`{number}` in `{whole}` is not above zero"))),
        None => Err(refused(format!("`{number}` in `{whole}` is not a number"))),
    }
}

fn plain_number(text: &str) -> Option<f64> {
    text.parse().ok()
}

fn fraction_of(text: &str) -> Option<f64> {
    let (over, under) = text.split_once('/')?;
    let (over, under): (u16, u16) = (over.parse().ok()?, under.parse().ok()?);
    (under > 0 && over < under).then(|| f64::from(over) / f64::from(under))
}

fn unit_of(text: &str) -> Option<(&'static str, f64)> {
    match text {
        "in" | "inch" | "inches" | "\"" => Some(("in", INCH_M)),
        "ft" | "foot" | "feet" | "'" => Some(("ft", FOOT_M)),
        "mm" => Some(("mm", 0.001)),
        "cm" => Some(("cm", 0.01)),
        "m" => Some(("m", 1.0)),
        _ => None,
    }
}

/// The text without a word at its end, and whether it stood there.
fn strip_word<'a>(text: &'a str, word: &str) -> (&'a str, bool) {
    text.strip_suffix(word).map_or((text, false), |rest| (rest.trim_end(), true))
}

fn refused(message: String) -> FramingTextError {
    FramingTextError { message, help: format!("write {EXAMPLES}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> (f64, f64, f64, String) {
        let framing = parse_framing(text).unwrap_or_else(|e| panic!("{text}: {e}"));
        (framing.rows[0].member_width_m, framing.depth_m, framing.rows[0].spacing_m, framing.to_string())
    }

    fn near(text: &str, millimetres: [f64; 3], shown: &str) {
        let (width, depth, spacing, display) = read(text);
        for (found, expected) in [width, depth, spacing].into_iter().zip(millimetres) {
            assert!((found * 1000.0 - expected).abs() < 1e-9, "{text}: {found} {expected}");
        }
        assert_eq!(display, shown);
    }

    // Dressed sizes: PS 20 (2x4 is 38.1 x 88.9 mm, 2x6 38.1 x 139.7 mm).
    #[test]
    fn framing_is_read_as_people_write_it() {
        near("2x6 @ 24 in", [38.1, 139.7, 609.6], "2x6 @ 24 in");
        near("2x4@16\"", [38.1, 88.9, 406.4], "2x4 @ 16 in");
        near("2 x 4 @ 16 in o.c.", [38.1, 88.9, 406.4], "2x4 @ 16 in");
        near("2X4 at 16 in. O.C.", [38.1, 88.9, 406.4], "2x4 @ 16 in");
        near("2x6 @ 2 ft", [38.1, 139.7, 609.6], "2x6 @ 2 ft");
        near("2x6 @ 2′", [38.1, 139.7, 609.6], "2x6 @ 2 ft");
        near("2×6 @ 19.2 in", [38.1, 139.7, 487.68], "2x6 @ 19.2 in");
        near("60x240 mm @ 625 mm", [60.0, 240.0, 625.0], "60x240 mm @ 625 mm");
        near("45x195mm @ 600mm", [45.0, 195.0, 600.0], "45x195 mm @ 600 mm");
        near("45mm x 195mm @ 60 cm", [45.0, 195.0, 600.0], "45x195 mm @ 60 cm");
        near("1.5 x 5.5 in actual @ 16 in", [38.1, 139.7, 406.4], "1.5x5.5 in actual @ 16 in");
        near("1 5/8 x 3-5/8 in actual @ 16 in", [41.275, 92.075, 406.4], "1.625x3.625 in actual @ 16 in");
        near("2x4 flat @ 24 in", [88.9, 38.1, 609.6], "2x4 flat @ 24 in");
    }

    #[test]
    fn shown_text_reads_back_the_same() {
        for text in ["2x4 flat @ 24 in", "1 5/8 x 3-5/8 in actual @ 16 in", "45x195mm @ 600mm", "2x6@2ft"] {
            let once = parse_framing(text).unwrap();
            assert_eq!(parse_framing(&once.text).unwrap(), once);
        }
    }

    #[test]
    fn what_cannot_be_meant_is_refused_with_an_example() {
        let bad = [
            "",
            "2x6",
            "@",
            "2x6 @",
            "2x7 @ 16 in",
            "2x6 @ 24",
            "2x6 @ 0 in",
            "2x6 @ -16 in",
            "2x6 @ 1.5 in",
            "2x6 @ 1 in",
            "2x6 @ 240 ft",
            "2x6 @ 16 furlongs",
            "6x2 @ 16 in",
            "2x6 in @ 16 in",
            "60x240 @ 625 mm",
            "60x240 mm @ 625",
            "0x240 mm @ 625 mm",
            "2x6 @ 16 in @ 24 in",
            "2x6 @ nan in",
            "2x6 @ 1e9 in",
            "x @ 16 in",
            "2xx6 @ 16 in",
            "2x6 @ 16,5 in",
            "1.5 x 5.5 actual @ 16 in",
            "2x6 @ 1/0 in",
            "é x é @ é",
        ];
        for text in bad {
            let error = parse_framing(text).expect_err(text);
            assert!(error.help.contains('`'), "{text}: {}", error.help);
            assert!(!error.message.ends_with('.'), "{}", error.message);
        }
    }
}
