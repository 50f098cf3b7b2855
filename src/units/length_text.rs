//! Lengths as people write them: `8'-1 1/8"`, `97 1/8`, `8.09 ft`, `2467 mm`.
//!
//! Input: a text, the unit of its column, the sheet's decimal mark. Output: metres.
//! Invariant: knows nothing of sheets.

use super::text::{Scanned, TextError, is_negative, scan_number, unit_word};
use super::{FOOT_M, INCH_M};
use std::ops::Range;

/// An example of every way to write a length, for help texts.
const EXAMPLES: &str = "write it as `8'-1 1/8\"`, `97 1/8 in`, `8.09 ft` or `2467 mm`";

/// A unit that a length, or the heading of a column of lengths, may name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LengthUnit {
    /// Metres.
    Metre,
    /// Centimetres.
    Centimetre,
    /// Millimetres.
    Millimetre,
    /// Feet.
    Foot,
    /// Inches.
    Inch,
    /// Feet and inches joined by a hyphen, `8-1 1/8`; of a heading only.
    FeetAndInches,
}

impl LengthUnit {
    /// The unit that a word names, as in a heading: `ft`, `Feet`, `in.`, `mm`, `ft-in`.
    pub fn from_word(word: &str) -> Option<Self> {
        Some(match unit_word(word).as_str() {
            "m" | "metre" | "metres" | "meter" | "meters" => Self::Metre,
            "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Self::Centimetre,
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Self::Millimetre,
            "ft" | "foot" | "feet" | "'" | "′" | "’" => Self::Foot,
            "in" | "inch" | "inches" | "\"" | "″" | "”" => Self::Inch,
            "ft-in" | "ft/in" | "ftin" | "ft+in" | "feet-inches" | "feetandinches" | "ft&in" | "'-\"" => {
                Self::FeetAndInches
            }
            _ => return None,
        })
    }

    /// A number of this unit in metres.
    ///
    /// Millimetres and centimetres are divided, not multiplied, so that `2467 mm` is the f64 nearest to 2.467 m.
    fn metres(self, number: f64) -> f64 {
        match self {
            Self::Metre => number,
            Self::Centimetre => number / 100.0,
            Self::Millimetre => number / 1000.0,
            Self::Foot => number * FOOT_M,
            Self::Inch | Self::FeetAndInches => number * INCH_M,
        }
    }
}

/// Reads a length, in metres; zero is a length.
///
/// A unit in the text wins over `default`, the unit of the column. Feet and inches are added in
/// inches before the one conversion, so that halves to sixty-fourths stay exact. A hyphen between
/// parts separates them; a number after feet without a mark is in inches.
///
/// # Errors
/// A text that is no length, is negative or not finite, or has no unit where `default` has none.
///
/// ```
/// use cavitally::units::{LengthUnit, parse_length};
/// let length_m = parse_length("8'-1 1/8\"", None, false)?;
/// assert!((length_m - 97.125 * 0.0254).abs() < 1e-15);
/// assert_eq!(parse_length("2467", Some(LengthUnit::Millimetre), false)?, 2.467);
/// # Ok::<(), cavitally::units::TextError>(())
/// ```
pub fn parse_length(text: &str, default: Option<LengthUnit>, decimal_comma: bool) -> Result<f64, TextError> {
    let all = 0..text.len();
    let trimmed = text.trim();
    if trimmed.is_empty() {
        return Err(TextError::new("a length is missing", EXAMPLES, all));
    }
    if is_negative(trimmed) {
        return Err(TextError::new(format!("`{trimmed}` is negative"), "write a length of zero or more", all));
    }
    let mut parts = Parts { tokens: tokens(text, decimal_comma)?, next: 0, all };
    let first = parts.mixed_number()?;
    let metres = match parts.unit() {
        Some(LengthUnit::Foot) => parts.inches_after_feet(first)?,
        Some(unit) => unit.metres(first.value),
        None => parts.without_unit(first, default, trimmed)?,
    };
    parts.end()?;
    if metres.is_finite() { Ok(metres) } else { Err(parts.error("the length is too large to be measured")) }
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Token {
    Number(Scanned),
    /// A vulgar fraction in one character.
    Vulgar(f64),
    Slash,
    Hyphen,
    Unit(LengthUnit),
}

/// A number as it is measured: whole, with a fraction, or decimal.
#[derive(Clone, Copy)]
struct Mixed {
    value: f64,
    has_fraction: bool,
    is_decimal: bool,
    /// A hyphen stands between the whole number and its fraction.
    has_hyphen: bool,
}

struct Parts {
    tokens: Vec<(Token, Range<usize>)>,
    next: usize,
    all: Range<usize>,
}

impl Parts {
    fn peek(&self, ahead: usize) -> Option<Token> {
        self.tokens.get(self.next + ahead).map(|(token, _)| *token)
    }

    fn error(&self, message: impl Into<String>) -> TextError {
        let span = self.tokens.get(self.next).map_or(self.all.clone(), |(_, span)| span.clone());
        TextError::new(message, EXAMPLES, span)
    }

    /// A whole number before a slash and one behind it, `ahead` of the next token.
    fn fraction(&self, ahead: usize) -> Result<Option<f64>, TextError> {
        let (Some(Token::Number(over)), Some(Token::Slash)) = (self.peek(ahead), self.peek(ahead + 1)) else {
            return Ok(None);
        };
        let Some(Token::Number(under)) = self.peek(ahead + 2) else {
            return Err(self.error("a fraction has nothing under its stroke"));
        };
        if !over.is_whole || !under.is_whole || under.value <= 0.0 {
            return Err(self.error("a fraction is not of whole numbers, or has zero under its stroke"));
        }
        Ok(Some(over.value / under.value))
    }

    fn mixed_number(&mut self) -> Result<Mixed, TextError> {
        if let Some(fraction) = self.fraction(0)? {
            self.next += 3;
            return Ok(Mixed { value: fraction, has_fraction: true, is_decimal: false, has_hyphen: false });
        }
        if let Some(Token::Vulgar(fraction)) = self.peek(0) {
            self.next += 1;
            return Ok(Mixed { value: fraction, has_fraction: true, is_decimal: false, has_hyphen: false });
        }
        let Some(Token::Number(whole)) = self.peek(0) else { return Err(self.error("a number is missing")) };
        let hyphen = usize::from(self.peek(1) == Some(Token::Hyphen));
        let (fraction, taken) = match self.peek(1 + hyphen) {
            Some(Token::Vulgar(fraction)) => (Some(fraction), 1),
            _ => (self.fraction(1 + hyphen)?, 3),
        };
        let Some(fraction) = fraction else {
            self.next += 1;
            return Ok(Mixed {
                value: whole.value,
                has_fraction: false,
                is_decimal: !whole.is_whole,
                has_hyphen: false,
            });
        };
        if !whole.is_whole || fraction >= 1.0 {
            return Err(
                self.error("a whole number is followed by a fraction of one or more, or a decimal by a fraction")
            );
        }
        self.next += 1 + hyphen + taken;
        Ok(Mixed { value: whole.value + fraction, has_fraction: true, is_decimal: false, has_hyphen: hyphen == 1 })
    }

    fn unit(&mut self) -> Option<LengthUnit> {
        let Some(Token::Unit(unit)) = self.peek(0) else { return None };
        self.next += 1;
        Some(unit)
    }

    /// What follows feet: nothing, or inches with or without their mark.
    fn inches_after_feet(&mut self, feet: Mixed) -> Result<f64, TextError> {
        if self.peek(0).is_none() {
            return Ok(feet.value * FOOT_M);
        }
        if feet.is_decimal || feet.has_fraction {
            return Err(self.error("inches follow feet that are not whole"));
        }
        if self.peek(0) == Some(Token::Hyphen) {
            self.next += 1;
        }
        let inches = self.mixed_number()?;
        if inches.value >= 12.0 {
            self.next = self.next.saturating_sub(1);
            return Err(self.error("12 or more inches follow the feet"));
        }
        match self.unit() {
            None | Some(LengthUnit::Inch) => Ok((feet.value * 12.0 + inches.value) * INCH_M),
            Some(_) => {
                self.next = self.next.saturating_sub(1);
                Err(self.error("what follows the feet is not in inches"))
            }
        }
    }

    /// A number without a unit takes the unit of its column.
    fn without_unit(&mut self, first: Mixed, default: Option<LengthUnit>, text: &str) -> Result<f64, TextError> {
        match default {
            Some(LengthUnit::FeetAndInches) => self.feet_hyphen_inches(first, text),
            Some(unit) => Ok(unit.metres(first.value)),
            None if matches!(self.peek(0), Some(Token::Number(_) | Token::Vulgar(_))) => {
                self.end().map(|()| first.value)
            }
            None if self.peek(0).is_some() => Err(self.error(format!("`{text}` is not a length"))),
            None => Err(TextError::new(
                format!("`{text}` has no unit"),
                format!(
                    "name the unit in the cell (`{text} in`, `{text} mm`) or in the column's heading (`length (in)`)"
                ),
                self.all.clone(),
            )),
        }
    }

    fn feet_hyphen_inches(&mut self, feet: Mixed, text: &str) -> Result<f64, TextError> {
        if self.peek(0) == Some(Token::Hyphen) && !feet.has_fraction && !feet.is_decimal {
            return self.inches_after_feet(feet);
        }
        let problem = if feet.has_hyphen { "can be read in two ways" } else { "does not say which part is feet" };
        Err(TextError::new(
            format!("`{text}` {problem} in a column of feet and inches"),
            "write feet, a hyphen and inches, such as `8-0` or `8-1 1/8`, or name the unit in the cell",
            self.all.clone(),
        ))
    }

    fn end(&self) -> Result<(), TextError> {
        match self.peek(0) {
            None => Ok(()),
            Some(Token::Number(_) | Token::Vulgar(_)) => {
                Err(self.error("a second number follows, and nothing says what it is"))
            }
            Some(_) => Err(self.error("something follows the length")),
        }
    }
}

fn tokens(text: &str, decimal_comma: bool) -> Result<Vec<(Token, Range<usize>)>, TextError> {
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(rest) = text.get(at..).filter(|rest| !rest.is_empty()) {
        let Some(first) = rest.chars().next() else { break };
        let mut len = first.len_utf8();
        if first.is_whitespace() {
            at += len;
            continue;
        }
        let token = if let Some(number) = scan_number(rest, at, decimal_comma)? {
            len = number.len;
            Token::Number(number)
        } else if let Some(fraction) = vulgar_fraction(first) {
            Token::Vulgar(fraction)
        } else if let Some(mark) = foot_or_inch_mark(rest) {
            len = mark.1;
            Token::Unit(mark.0)
        } else {
            match first {
                '/' | '\u{2044}' | '\u{2215}' => Token::Slash,
                '-' | '\u{2010}' | '\u{2011}' | '\u{2013}' | '\u{2212}' => Token::Hyphen,
                _ => {
                    let (unit, taken) = word_unit(rest, at)?;
                    len = taken;
                    Token::Unit(unit)
                }
            }
        };
        found.push((token, at..at + len));
        at += len;
    }
    Ok(found)
}

fn word_unit(rest: &str, at: usize) -> Result<(LengthUnit, usize), TextError> {
    let letters: usize = rest.chars().take_while(|c| c.is_alphabetic()).map(char::len_utf8).sum();
    let word = rest.get(..letters).unwrap_or_default();
    let stop = usize::from(letters > 0 && rest.get(letters..).is_some_and(|r| r.starts_with('.')));
    if let Some(unit) = LengthUnit::from_word(word) {
        return Ok((unit, letters + stop));
    }
    let len = letters.max(rest.chars().next().map_or(0, char::len_utf8));
    let found = rest.get(..len).unwrap_or(rest);
    let message = match found {
        "O" | "o" | "l" | "I" => format!("a letter `{found}` stands where a digit belongs"),
        _ if letters > 0 => format!("`{found}` is no unit of length"),
        _ => format!("`{found}` is no part of a length"),
    };
    Err(TextError::new(message, EXAMPLES, at..at + len))
}

/// The mark of feet or inches that a text begins with, and its bytes; two foot marks are an inch mark.
fn foot_or_inch_mark(rest: &str) -> Option<(LengthUnit, usize)> {
    const FEET: [char; 6] = ['\'', '\u{2032}', '\u{2019}', '\u{2018}', '\u{b4}', '\u{2b9}'];
    const INCHES: [char; 5] = ['"', '\u{2033}', '\u{201d}', '\u{201c}', '\u{2ba}'];
    let mut chars = rest.chars();
    let first = chars.next()?;
    if INCHES.contains(&first) {
        return Some((LengthUnit::Inch, first.len_utf8()));
    }
    if !FEET.contains(&first) {
        return None;
    }
    match chars.next().filter(|second| FEET.contains(second)) {
        Some(second) => Some((LengthUnit::Inch, first.len_utf8() + second.len_utf8())),
        None => Some((LengthUnit::Foot, first.len_utf8())),
    }
}

/// The vulgar fractions of Unicode that a tape measure can show.
fn vulgar_fraction(c: char) -> Option<f64> {
    Some(match c {
        '½' => 1.0 / 2.0,
        '¼' => 1.0 / 4.0,
        '¾' => 3.0 / 4.0,
        '⅛' => 1.0 / 8.0,
        '⅜' => 3.0 / 8.0,
        '⅝' => 5.0 / 8.0,
        '⅞' => 7.0 / 8.0,
        '⅓' => 1.0 / 3.0,
        '⅔' => 2.0 / 3.0,
        _ => return None,
    })
}

#[cfg(test)]
mod tests;
