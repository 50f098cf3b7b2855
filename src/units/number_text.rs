//! Numbers without a unit: counts with parts (`12 1/2`), and shares (`23 %`, `0.23`).

use super::label_text::parse_percent;
use super::quantity_text::Quantity;

/// Reads a number, nought or more: `12`, `12.5`, `12 1/2`, `1/2`.
///
/// # Errors
/// What was found and what was expected.
pub fn parse_number(text: &str) -> Result<f64, String> {
    let text = text.trim();
    let wrong = || format!("`{text}` is not a number, nought or more");
    let plain = |part: &str| -> Option<f64> {
        let is_plain = !part.is_empty() && part.chars().all(|c| c.is_ascii_digit() || c == '.');
        part.parse::<f64>().ok().filter(|value| is_plain && value.is_finite())
    };
    let fraction = |part: &str| -> Option<f64> {
        let (above, below) = part.split_once('/')?;
        Some(plain(above.trim())? / plain(below.trim()).filter(|below| *below > 0.0)?)
    };
    if let Some(value) = plain(text).or_else(|| fraction(text)) {
        return Ok(value);
    }
    let (whole, part) = text.split_once([' ', '-']).ok_or_else(wrong)?;
    Ok(plain(whole).ok_or_else(wrong)? + fraction(part).ok_or_else(wrong)?)
}

/// Reads a share of a whole: `23 %`, or `0.23`, which is below one.
///
/// # Errors
/// What was found and what was expected; a bare number of one and more may be either and is refused.
pub fn parse_share(text: &str) -> Result<Quantity, String> {
    if text.trim().ends_with('%') {
        return parse_percent(text);
    }
    match parse_number(text) {
        Ok(share) if share < 1.0 => Ok(Quantity { number: text.trim().to_owned(), unit: String::new(), si: share }),
        _ => Err(format!("`{}` is not a share: expected `23 %` or `0.23`", text.trim())),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_with_parts_are_read() {
        for (text, due) in [("12", 12.0), ("12.5", 12.5), ("12 1/2", 12.5), ("1/2", 0.5), ("0", 0.0), ("3-1/4", 3.25)] {
            assert!((parse_number(text).unwrap() - due).abs() < 1e-12, "{text}");
        }
        for text in ["", "-1", "1e3", "NaN", "inf", "1/0", "twelve", "1 2", "1 1/0", "1.2.3", "1/2/3"] {
            assert!(parse_number(text).is_err(), "{text}");
        }
        assert!((parse_share("23 %").unwrap().si - 0.23).abs() < 1e-12);
        assert!((parse_share("0.23").unwrap().si - 0.23).abs() < 1e-12);
        assert!(parse_share("23").is_err() && parse_share("1").is_err() && parse_share("130 %").is_err());
    }
}
