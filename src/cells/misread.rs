//! What is wrong with a value.

/// Why a value cannot be used: by itself, or of the surface that it is for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Misread {
    /// What was found.
    pub message: String,
    /// How to write it, with an example.
    pub help: &'static str,
}

impl Misread {
    pub(super) fn new(message: impl Into<String>, help: &'static str) -> Self {
        Self { message: message.into(), help }
    }
}

/// Reads a whole number within bounds.
///
/// # Errors
/// Text that is no such number.
pub fn read_whole(word: &str, least: u32, most: u32) -> Result<u32, Misread> {
    // Programs that keep numbers in floating point write `2.0`.
    let digits = word.strip_suffix(".0").or_else(|| word.strip_suffix(",0")).unwrap_or(word);
    match digits.parse::<u32>() {
        Ok(number) if (least..=most).contains(&number) => Ok(number),
        _ => {
            let message = format!("`{word}` is no whole number from {least} to {most}");
            Err(Misread::new(message, "write digits alone, such as `2`, or leave the cell empty"))
        }
    }
}
