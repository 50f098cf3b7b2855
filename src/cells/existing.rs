//! `existing`: `glass fibre batt 50 %`, `cellulose 3.5 in`, `cellulose 6 in R-19`, `cellulose 3.5 in removed`, or `none`.

use super::Misread;
use crate::model::{ExistingExtent, ExistingFill};
use crate::units::{LengthUnit, parse_length, parse_resistance};

const HELP: &str = "write what it is and how much of the cavity it takes, in per cent or as its thickness, and `removed` where it is \
                               taken out first: `glass fibre batt 50 %`, `cellulose 3.5 in`, `cellulose 6 in R-19`, `cellulose 3.5 in removed`";
/// Thicker than any fill that is there (m).
const THICKEST_M: f64 = 1.0;
/// Thinner than any fill that is there (m).
const THINNEST_M: f64 = 0.001;

/// A longer text, in bytes, is no name and no amount.
const LONGEST_TEXT: usize = 300;

/// Reads what is there already; `None` where it says `none`.
///
/// # Errors
/// Text that does not say what is there, or how much.
pub fn read_existing(text: &str, unit: Option<LengthUnit>, has_comma: bool) -> Result<Option<ExistingFill>, Misread> {
    read(text, unit, has_comma).map_err(|message| Misread::new(message, HELP))
}

fn read(text: &str, unit: Option<LengthUnit>, has_comma: bool) -> Result<Option<ExistingFill>, String> {
    let text = text.trim();
    if text.eq_ignore_ascii_case("none") {
        return Ok(None);
    }
    if text.len() > LONGEST_TEXT {
        return Err(format!("the text is {} bytes long; at most {LONGEST_TEXT} are read", text.len()));
    }
    let (text, is_removed) = without_removed(text);
    let (text, r_m2k_w) = without_resistance(text);
    let (what, extent) = match text.strip_suffix('%') {
        Some(behind) => share_of(text, behind.trim_end(), has_comma)?,
        None => thickness_of(text, unit, has_comma)?,
    };
    let what = what.trim_end_matches([',', ':', ';', ' ']).trim();
    if what.is_empty() {
        return Err(format!("`{text}` does not say what is there"));
    }
    Ok(Some(ExistingFill { what: what.to_owned(), extent, is_removed, r_m2k_w, density_kg_m3: None }))
}

/// The text without an R such as `R-19` at its end, and that R.
fn without_resistance(text: &str) -> (&str, Option<f64>) {
    let parts = text.rsplit_once(char::is_whitespace).filter(|(_, last)| last.starts_with(['R', 'r']));
    match parts.and_then(|(before, last)| Some((before, parse_resistance(last).ok()?))) {
        Some((before, r)) => (before.trim_end_matches([',', ';', ' ']), Some(r.si)),
        None => (text, None),
    }
}

/// The text without `removed` at its end, and whether it was there.
fn without_removed(text: &str) -> (&str, bool) {
    const REMOVED: &str = "removed";
    let at = text.len().saturating_sub(REMOVED.len());
    match (text.get(..at), text.get(at..)) {
        (Some(before), Some(last)) if last.eq_ignore_ascii_case(REMOVED) => {
            (before.trim_end_matches([',', ';', ' ', '\n']), true)
        }
        _ => (text, false),
    }
}

fn share_of<'t>(text: &str, behind: &'t str, has_comma: bool) -> Result<(&'t str, ExistingExtent), String> {
    let is_part = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',');
    let what = behind.trim_end_matches(is_part);
    let number = behind.get(what.len()..).unwrap_or_default();
    let is_apart = what.is_empty() || what.ends_with(|c: char| c.is_whitespace() || matches!(c, ':' | ';'));
    let plain = if has_comma { number.replace(',', ".") } else { number.to_owned() };
    match plain.parse::<f64>() {
        Ok(percent) if is_apart && (1.0..=100.0).contains(&percent) => {
            Ok((what, ExistingExtent::Share(percent / 100.0)))
        }
        Ok(_) if is_apart => Err(format!("`{number} %` is not from 1 to 100 %")),
        Ok(_) | Err(_) => Err(format!("`{text}` has no number before its `%`")),
    }
}

/// The longest end of a text that is a length, from a word that begins with a digit.
fn thickness_of(text: &str, unit: Option<LengthUnit>, has_comma: bool) -> Result<(&str, ExistingExtent), String> {
    let is_start = |&(at, c): &(usize, char)| {
        let is_first = text.get(..at).is_none_or(|before| before.is_empty() || before.ends_with(char::is_whitespace));
        is_first && (c.is_numeric() || c == '.')
    };
    let mut problem = None;
    for (at, _) in text.char_indices().filter(is_start) {
        let (what, end) = text.split_at(at);
        match parse_length(end, unit, has_comma) {
            Ok(thickness_m) if (THINNEST_M..=THICKEST_M).contains(&thickness_m) => {
                return Ok((what, ExistingExtent::ThicknessM(thickness_m)));
            }
            Ok(_) => return Err(format!("`{end}` is no thickness of a fill")),
            Err(error) => problem = Some(error.message),
        }
    }
    Err(problem.map_or_else(
        || format!("`{text}` does not say how much is there"),
        |message| format!("`{text}` does not say how much is there: {message}"),
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::INCH_M;

    fn parts(text: &str) -> (String, ExistingExtent, bool) {
        let fill = read_existing(text, None, false).unwrap().unwrap();
        (fill.what, fill.extent, fill.is_removed)
    }

    #[test]
    fn shares_and_thicknesses_are_read() {
        let batt = "glass fibre batt".to_owned();
        assert_eq!(parts("glass fibre batt 50 %"), (batt.clone(), ExistingExtent::Share(0.5), false));
        assert_eq!(parts("glass fibre batt: 50%, Removed"), (batt, ExistingExtent::Share(0.5), true));
        let thick = |inches: f64| ExistingExtent::ThicknessM(inches * INCH_M);
        assert_eq!(parts("cellulose 3.5 in"), ("cellulose".to_owned(), thick(3.5), false));
        assert_eq!(parts("cellulose 3 1/2\" removed"), ("cellulose".to_owned(), thick(3.5), true));
        assert_eq!(parts("R-11 batt, 2 layers, 7 in"), ("R-11 batt, 2 layers".to_owned(), thick(7.0), false));
        let with_r = read_existing("cellulose 6 in, R-19", None, false).unwrap().unwrap();
        assert_eq!((with_r.what.as_str(), with_r.extent), ("cellulose", thick(6.0)));
        assert!((with_r.r_m2k_w.unwrap() - 19.0 * crate::units::HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W).abs() < 1e-12);
        assert_eq!(read_existing(" None ", None, false), Ok(None));
        let comma = read_existing("cellulose 90", Some(LengthUnit::Millimetre), true).unwrap().unwrap();
        assert_eq!(comma.extent, ExistingExtent::ThicknessM(0.09));
        let comma = read_existing("batt 12,5 %", None, true).unwrap().unwrap();
        assert_eq!(comma.extent, ExistingExtent::Share(0.125));
    }

    #[test]
    fn what_does_not_say_what_or_how_much_is_refused() {
        let refused = |text: &str| read_existing(text, None, false).unwrap_err().message;
        assert!(refused("cellulose").contains("how much"));
        assert!(refused("cellulose 3.5").contains("no unit"));
        assert!(refused("50 %").contains("what is there"));
        assert!(refused("batt 0 %").contains("1 to 100"));
        assert!(refused("batt 150 %").contains("1 to 100"));
        assert!(refused("batt %").contains("no number"));
        assert!(refused("batt R11%").contains("no number"));
        assert!(refused("batt 40 ft").contains("no thickness"));
        assert!(refused("removed").contains("how much"));
    }
}
