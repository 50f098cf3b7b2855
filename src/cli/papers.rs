//! Saving an audit or a closeout: its record, or its papers.

use super::options::{self, PaperFormat, Save};
use super::{terminal, write};
use crate::refusal::Refusal;
use crate::report::{Papers, papers_pdf};
use crate::units::UnitSystem;
use std::io;

/// Makes every file before any is written, and says which were saved.
///
/// # Errors
/// A file that cannot be made or written; then none is left.
pub(super) fn save(
    saves: Vec<Save<PaperFormat>>,
    record: impl Fn() -> io::Result<Vec<u8>>,
    papers: impl Fn() -> Papers,
    units: UnitSystem,
) -> Result<(), Vec<Refusal>> {
    let mut files = Vec::new();
    for save in saves {
        let made = match save.format {
            PaperFormat::Json => record(),
            PaperFormat::Html => Ok(papers().html().into_bytes()),
            PaperFormat::Pdf => papers_pdf(&papers(), units),
        };
        let bytes = made.map_err(|error| vec![options::cannot_make(&save.path, &error)])?;
        files.push((save.path, vec![bytes]));
    }
    write::all(&files)?;
    terminal::say(&write::saved(&files));
    Ok(())
}
