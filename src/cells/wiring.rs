//! `wiring`: `knob-and-tube`, `cable`, `conduit`, `none` or `not seen`.

use super::Misread;
use crate::model::Wiring;

/// Reads which wiring stands in a cavity.
///
/// # Errors
/// Any other word.
pub fn read_wiring(text: &str) -> Result<Wiring, Misread> {
    let word = plain_word(text);
    let known = Wiring::WORDS.iter().find(|(known, _)| plain_word(known) == word);
    known.map(|(_, wiring)| *wiring).ok_or_else(|| {
        let help = "write `none`, `cable`, `conduit`, `knob-and-tube` or `not seen`";
        Misread::new(format!("`{}` is no wiring that is known", text.trim()), help)
    })
}

/// A word as it is compared: small letters, and a space for each run of spaces and hyphens.
pub fn plain_word(text: &str) -> String {
    let parted = text.split(|c: char| c.is_whitespace() || c == '-' || c == '_').filter(|part| !part.is_empty());
    parted.collect::<Vec<_>>().join(" ").to_lowercase()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wiring_is_read_in_any_case_and_a_slip_is_refused() {
        assert_eq!(read_wiring(" Knob and tube "), Ok(Wiring::KnobAndTube));
        assert_eq!(read_wiring("not-seen"), Ok(Wiring::NotSeen));
        assert!(read_wiring("knob and tub").unwrap_err().help.contains("knob-and-tube"));
        assert!(read_wiring("").is_err());
    }
}
