//! Texts, numbers and lengths inside framing as people write it.

use super::FramingTextError;
use crate::units::{FOOT_M, INCH_M};

/// Largest spacing, in metres.
const WIDEST_SPACING_M: f64 = 3.1;
/// Largest distance between dividers, in metres.
const WIDEST_DIVIDERS_M: f64 = 30.0;
/// What a refusal shows where nothing fits better.
pub(super) const EXAMPLES: &str = "`2x6 @ 24 in`, `60x240 mm @ 625 mm` or `1.5 x 5.5 in actual @ 16 in`";

/// A length as it was written, and in metres.
pub(super) struct Length {
    pub(super) text: String,
    pub(super) metres: f64,
}

/// Lower case, with plain marks for the typographic ones, `@` for `at`, and even spaces.
pub(super) fn tidied(text: &str) -> String {
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

/// Reads a spacing that members of a width leave room in.
pub(super) fn read_spacing(text: &str, member_width_m: f64, member: &str) -> Result<Length, FramingTextError> {
    let ways = ["o.c.", "o.c", "oc.", "oc", "c/c", "on centre", "on center", "on centres", "on centers"];
    let bare = ways.iter().find_map(|way| text.strip_suffix(way)).unwrap_or(text).trim();
    let spacing = read_length(bare, "spacing")?;
    if spacing.metres <= member_width_m + 1e-9 {
        return Err(refused(format!(
            "the spacing `{}` leaves no bay: it must be wider than a member (`{member}`)",
            spacing.text
        )));
    }
    if spacing.metres > WIDEST_SPACING_M {
        return Err(refused(format!("the spacing `{}` is beyond what is built (10 ft or 3.05 m)", spacing.text)));
    }
    Ok(spacing)
}

/// Reads the distance between dividers.
pub(super) fn read_dividers(text: &str) -> Result<Length, FramingTextError> {
    let every = read_length(text.strip_prefix("every ").unwrap_or(text), "distance between dividers")?;
    if (0.1..=WIDEST_DIVIDERS_M).contains(&every.metres) {
        return Ok(every);
    }
    let message = format!("dividers `{}` apart are not built: expected 0.1 m to 30 m (4 in to 98 ft)", every.text);
    Err(refused_for(message, "`... + dividers @ 8 ft`"))
}

/// Reads one number with its unit; `what` names it in a refusal.
pub(super) fn read_length(text: &str, what: &str) -> Result<Length, FramingTextError> {
    let (number, unit) = split_number(text);
    if unit.is_empty() {
        return Err(refused(format!("the {what} `{text}` has no unit: `in`, `ft`, `mm`, `cm` or `m` was expected")));
    }
    let Some((name, unit_m)) = unit_of(unit) else {
        return Err(refused(format!("the {what} `{text}` is not a length: one number with its unit was expected")));
    };
    let value = read_number(number, text)?;
    Ok(Length { text: format!("{value} {name}"), metres: value * unit_m })
}

/// Reads two measured sizes with their unit, `2.5 x 1.5 in`, in metres.
pub(super) fn read_pair(text: &str, what: &str) -> Result<([f64; 2], String), FramingTextError> {
    let example = format!("the {what} as width x thickness, such as `2.5 x 1.5 in`");
    let Some((first, second)) = text.split_once('x') else {
        return Err(refused_for(format!("`{text}` is not the size of a {what}"), &example));
    };
    let ((first, first_unit), (second, unit)) = (split_number(first), split_number(second));
    let unit = unit_of(unit).filter(|_| first_unit.is_empty() || first_unit == unit);
    let Some((name, unit_m)) = unit else {
        return Err(refused_for(format!("`{text}` needs one unit of length behind both numbers"), &example));
    };
    let (width, thickness) = (read_number(first, text)?, read_number(second, text)?);
    Ok(([width * unit_m, thickness * unit_m], format!("{width}x{thickness} {name}")))
}

/// The number at the beginning, with its sign and fraction, and the unit behind it.
pub(super) fn split_number(text: &str) -> (&str, &str) {
    let text = text.trim();
    let end = text.find(|c: char| !(c.is_ascii_digit() || "+-./, ".contains(c))).unwrap_or(text.len());
    let (number, unit) = text.split_at_checked(end).unwrap_or((text, ""));
    (number.trim(), unit.trim().trim_end_matches('.'))
}

/// A number above nothing: `16`, `19.2`, `1/2`, `1 1/2` or `1-1/2`.
pub(super) fn read_number(number: &str, whole: &str) -> Result<f64, FramingTextError> {
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

pub(super) fn unit_of(text: &str) -> Option<(&'static str, f64)> {
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
pub(super) fn strip_word<'a>(text: &'a str, word: &str) -> (&'a str, bool) {
    text.strip_suffix(word).map_or((text, false), |rest| (rest.trim_end(), true))
}

/// The text without a word, wherever it stands, and whether it stood there.
pub(super) fn without_word(text: &str, words: &[&str]) -> (String, bool) {
    let all: Vec<&str> = text.split(' ').filter(|word| !word.is_empty()).collect();
    let kept: Vec<&str> = all.iter().copied().filter(|word| !words.contains(word)).collect();
    (kept.join(" "), kept.len() < all.len())
}

/// A refusal that shows framing of the plain kind.
pub(super) fn refused(message: String) -> FramingTextError {
    refused_for(message, EXAMPLES)
}

/// A refusal that shows what was meant.
pub(super) fn refused_for(message: String, example: &str) -> FramingTextError {
    FramingTextError { message, help: format!("write {example}") }
}
