//! `eaves` in words: which edges of a ceiling lie under eaves, or how long they are.

use super::Misread;
use crate::model::EaveSides;
use crate::units::parse_length;

const HELP: &str = "write `all`, `long sides`, `short sides` or the length of the edges under eaves, such as `62 ft`";

/// Reads which edges lie under eaves.
///
/// # Errors
/// What is neither a word for them nor a length above zero.
pub fn read_eaves(text: &str) -> Result<EaveSides, Misread> {
    let word = text.trim().to_lowercase();
    match word.as_str() {
        "all" => Ok(EaveSides::All),
        "long sides" => Ok(EaveSides::LongSides),
        "short sides" => Ok(EaveSides::ShortSides),
        other if other.starts_with(|c: char| c.is_ascii_digit()) => match parse_length(other, None, false) {
            Ok(length_m) if length_m > 0.0 => Ok(EaveSides::LengthM(length_m)),
            Ok(_) => Err(Misread::new(format!("`{other}` must be more than zero"), HELP)),
            Err(error) => Err(Misread::new(error.message, HELP)),
        },
        other => Err(Misread::new(format!("`{other}` does not say where the eaves are"), HELP)),
    }
}
