//! Roof pitches as people write them: `6:12`, `6/12`, `6 in 12`, `30 deg`, `30°`, `50 %`.

use super::text::{Scanned, TextError, is_negative, scan_number, unit_word};

/// What a bare number in a column of pitches means, where the heading says so.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PitchUnit {
    /// Degrees against the level.
    Degree,
    /// Rise over a run of twelve, in the same unit.
    RiseOverTwelve,
    /// Rise over run, in per cent.
    Percent,
}

impl PitchUnit {
    /// The meaning that a word names: `deg`, `°`, `in 12`, `:12`, `%`.
    pub fn from_word(word: &str) -> Option<Self> {
        Some(match unit_word(word).as_str() {
            "deg" | "degs" | "degree" | "degrees" | "°" | "º" => Self::Degree,
            ":12" | "/12" | "x:12" | "x/12" | "in12" | "on12" | "in/ft" | "over12" => Self::RiseOverTwelve,
            "%" | "percent" | "pct" => Self::Percent,
            _ => return None,
        })
    }

    fn degrees(self, number: f64) -> f64 {
        match self {
            Self::Degree => number,
            Self::RiseOverTwelve => (number / 12.0).atan().to_degrees(),
            Self::Percent => (number / 100.0).atan().to_degrees(),
        }
    }
}

/// Reads a pitch, in degrees against the level, from 0 to less than 90.
///
/// # Errors
/// A text that is no pitch; a bare number where `default` is `None`, with both readings shown.
pub fn parse_pitch(text: &str, default: Option<PitchUnit>, decimal_comma: bool) -> Result<f64, TextError> {
    let trimmed = text.trim();
    let fail = |message: String| {
        TextError::new(message, "write rise and run, such as `6:12`, or degrees, such as `26.6 deg`", 0..text.len())
    };
    if is_negative(trimmed) {
        return Err(fail(format!("`{trimmed}` is negative")));
    }
    let Some(first) = scan_number(trimmed, 0, decimal_comma)? else {
        return Err(fail(format!("`{trimmed}` is not a pitch")));
    };
    let behind = trimmed.get(first.len..).unwrap_or_default().trim();
    let degrees = if let Some(run) = run_of(behind, decimal_comma)? {
        (first.value / run).atan().to_degrees()
    } else if let Some(unit) = PitchUnit::from_word(behind) {
        unit.degrees(first.value)
    } else if !behind.is_empty() {
        return Err(fail(format!("`{trimmed}` is not a pitch")));
    } else {
        default.ok_or_else(|| two_readings(trimmed, first, text.len()))?.degrees(first.value)
    };
    if (0.0..90.0).contains(&degrees) {
        Ok(degrees)
    } else {
        Err(fail(format!("`{trimmed}` is not between level and upright")))
    }
}

/// The run behind `:`, `/`, `in` or `on`.
fn run_of(behind: &str, decimal_comma: bool) -> Result<Option<f64>, TextError> {
    let Some(rest) = [":", "/", "in", "on"].iter().find_map(|sign| behind.strip_prefix(sign)).map(str::trim) else {
        return Ok(None);
    };
    let run = scan_number(rest, 0, decimal_comma)?.filter(|run| run.len == rest.len() && run.value > 0.0);
    Ok(run.map(|run| run.value))
}

fn two_readings(text: &str, number: Scanned, len: usize) -> TextError {
    let slope = PitchUnit::RiseOverTwelve.degrees(number.value);
    let degrees = if number.value < 90.0 {
        let rise = number.value.to_radians().tan() * 12.0;
        format!("{text} degrees (a rise of {rise:.1} in 12)")
    } else {
        format!("{text} degrees (no roof)")
    };
    TextError::new(
        format!("`{text}` can be {text}:12 (which is {slope:.1} degrees) or {degrees}"),
        format!("write `{text}:12` or `{text} deg`, or name the unit in the heading: `pitch (deg)`, `pitch (in 12)`"),
        0..len,
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    // A slope of 6 in 12 is atan(1/2) = 26.565 degrees (trigonometry).
    #[test]
    fn pitches_are_read() {
        for text in ["6:12", "6/12", "6 in 12", "6 : 12", "1:2", "50 %", "26.565051177078 deg", "26.565051177078°"] {
            assert!((parse_pitch(text, None, false).unwrap() - 26.565_051_177_078).abs() < 1e-9, "{text}");
        }
        assert_eq!(parse_pitch("30", Some(PitchUnit::Degree), false), Ok(30.0));
        assert!((parse_pitch("6", Some(PitchUnit::RiseOverTwelve), false).unwrap() - 26.565).abs() < 1e-3);
    }

    // 6 degrees is a rise of 12 tan 6 = 1.26 in 12.
    #[test]
    fn a_bare_number_is_refused_with_both_readings() {
        let error = parse_pitch("6", None, false).unwrap_err();
        assert!(error.message.contains("6:12 (which is 26.6 degrees)"), "{error}");
        assert!(error.message.contains("6 degrees (a rise of 1.3 in 12)"), "{error}");
    }

    #[test]
    fn what_is_no_pitch_is_refused() {
        for text in ["", "-6:12", "6:0", "6:", "90 deg", "120 deg", "six", "6:12:12"] {
            assert!(parse_pitch(text, None, false).is_err(), "{text}");
        }
    }
}
