//! What the readers of written measures share: their error, and how a number is scanned.

use std::fmt;
use std::ops::Range;

/// A measure that cannot be read as it is written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TextError {
    /// What was found and what was expected.
    pub message: String,
    /// How to mend it.
    pub help: String,
    /// The bytes of the text that are meant.
    pub span: Range<usize>,
}

impl TextError {
    /// An error about a part of the text.
    pub(crate) fn new(message: impl Into<String>, help: impl Into<String>, span: Range<usize>) -> Self {
        Self { message: message.into(), help: help.into(), span }
    }
}

impl fmt::Display for TextError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for TextError {}

/// A number at the beginning of a text.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Scanned {
    /// Its value, finite.
    pub value: f64,
    /// Whether it is written without a decimal mark or an exponent.
    pub is_whole: bool,
    /// Bytes that it takes.
    pub len: usize,
}

/// Scans the number that `rest` begins with; `at` is where `rest` stands in the whole text.
///
/// `Ok(None)` where `rest` does not begin with a number.
pub(crate) fn scan_number(rest: &str, at: usize, decimal_comma: bool) -> Result<Option<Scanned>, TextError> {
    let (mark, other) = if decimal_comma { (',', '.') } else { ('.', ',') };
    let whole = leading_digits(rest);
    let mut len = whole;
    let mut plain = rest.get(..whole).unwrap_or_default().to_owned();
    let mut is_whole = true;
    if let Some(behind) = rest.get(len..).and_then(|r| r.strip_prefix(mark)) {
        let digits = leading_digits(behind);
        if whole + digits > 0 {
            plain = format!("{plain}.{}", behind.get(..digits).unwrap_or_default());
            len += mark.len_utf8() + digits;
            is_whole = false;
        }
    }
    if len == 0 {
        return Ok(None);
    }
    let tail = rest.get(len..).unwrap_or_default();
    let has_second_mark = tail.starts_with([mark, other]) && leading_digits(tail.get(1..).unwrap_or_default()) > 0;
    if has_second_mark {
        let end = len + 1 + leading_digits(tail.get(1..).unwrap_or_default());
        return Err(marks(rest.get(..end).unwrap_or(rest), at..at + end, mark, other));
    }
    let exponent = exponent_len(tail);
    if exponent > 0 {
        plain.push_str(tail.get(..exponent).unwrap_or_default());
        len += exponent;
        is_whole = false;
    }
    match plain.parse::<f64>() {
        Ok(value) if value.is_finite() => Ok(Some(Scanned { value, is_whole, len })),
        _ => {
            let found = rest.get(..len).unwrap_or(rest);
            Err(TextError::new(
                format!("`{found}` is too large to be measured"),
                "write the measure again",
                at..at + len,
            ))
        }
    }
}

fn marks(found: &str, span: Range<usize>, mark: char, other: char) -> TextError {
    let named = |c: char| if c == ',' { "comma" } else { "point" };
    TextError::new(
        format!("`{found}` has a {} where this sheet's decimal mark is a {}", named(other), named(mark)),
        format!("write numbers without marks between the thousands and with a decimal {}", named(mark)),
        span,
    )
}

/// Bytes of the ASCII digits that a text begins with.
pub(crate) fn leading_digits(text: &str) -> usize {
    text.bytes().take_while(u8::is_ascii_digit).count()
}

fn exponent_len(text: &str) -> usize {
    let Some(behind) = text.strip_prefix(['e', 'E']) else { return 0 };
    let sign = usize::from(behind.starts_with(['+', '-']));
    match leading_digits(behind.get(sign..).unwrap_or_default()) {
        0 => 0,
        digits => 1 + sign + digits,
    }
}

/// Whether a text begins with a minus sign, which no measure of a building has.
pub(crate) fn is_negative(text: &str) -> bool {
    text.starts_with(['-', '\u{2212}', '\u{2013}'])
}

/// A word for a unit in one form: small letters, without spaces, points and carets, `²` as `2`.
pub(crate) fn unit_word(text: &str) -> String {
    text.chars()
        .filter(|c| !c.is_whitespace() && !matches!(c, '.' | '^'))
        .flat_map(char::to_lowercase)
        .map(|c| if c == '²' { '2' } else { c })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_takes_only_its_own_bytes() {
        let scanned = scan_number("8.09 ft", 0, false).unwrap().unwrap();
        assert_eq!((scanned.value, scanned.is_whole, scanned.len), (8.09, false, 4));
        assert_eq!(scan_number("ft", 0, false).unwrap(), None);
    }

    #[test]
    fn one_sheet_has_one_decimal_mark() {
        assert_eq!(scan_number("2,467", 0, true).unwrap().unwrap().value, 2.467);
        assert!(scan_number("2.467", 0, true).is_err());
        assert!(scan_number("1,310", 0, false).unwrap_err().message.contains("comma"));
        assert!(scan_number("1.310.5", 0, false).is_err());
    }

    #[test]
    fn a_number_beyond_all_measure_is_refused() {
        assert!(scan_number("1e400", 0, false).unwrap_err().message.contains("too large"));
        assert_eq!(scan_number("2.5E+03", 0, false).unwrap().unwrap().value, 2500.0);
    }
}
