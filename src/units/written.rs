//! A measure with the words it was read from, which say how finely it was written.

/// A measure as it was written, and what it is in SI.
#[derive(Clone, Debug, PartialEq)]
pub struct Written {
    /// The measure in SI.
    pub si: f64,
    /// The words.
    pub text: String,
    /// Half a step of the last digit that was written: `252 ft2` stands for anything from 251.5 to 252.5. Nought where
    /// the number is no plain decimal, as `8'-1 1/8"` is.
    pub half_step_si: f64,
}

impl Written {
    /// A measure and its words.
    pub fn new(si: f64, text: String) -> Self {
        let half_step_si =
            half_step_of(&text).map_or(0.0, |(number, half)| if number > 0.0 { si / number * half } else { 0.0 });
        Self { si, text, half_step_si }
    }
}

/// The one plain decimal in a text, and half a step of its last digit.
fn half_step_of(text: &str) -> Option<(f64, f64)> {
    let begins = text.find(|c: char| c.is_ascii_digit())?;
    let rest = text.get(begins..)?;
    let ends = rest.find(|c: char| !c.is_ascii_digit() && c != '.' && c != ',').unwrap_or(rest.len());
    let number = rest.get(..ends)?.trim_end_matches(['.', ',']).replace(',', ".");
    let behind = rest.get(ends..)?.trim_start();
    if behind.starts_with(['\'', '"', '′', '″', '-', '/']) || behind.starts_with(|c: char| c.is_numeric()) {
        return None;
    }
    let decimals = number.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    let half = 0.5 * 10_f64.powi(-i32::try_from(decimals).ok()?);
    Some((number.parse().ok()?, half))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_says_how_finely() {
        let half = |si: f64, text: &str| Written::new(si, text.to_owned()).half_step_si;
        assert!((half(252.0, "252 ft2") - 0.5).abs() < 1e-12);
        assert!((half(0.23, "23 %") - 0.005).abs() < 1e-12);
        assert!((half(0.23, "0.23") - 0.005).abs() < 1e-12);
        assert!((half(49.0, "R-49") - 0.5).abs() < 1e-12 && (half(5.5, "5,5 in") - 0.05).abs() < 1e-12);
        for text in ["8'-1 1/8\"", "5 1/2 in", "97\"", "n/a", "1/2 in"] {
            assert!(half(1.0, text).abs() < 1e-12, "{text}");
        }
    }
}
