//! What stands in the inputs, word for word, at the places that surfaces and openings were read from.

use super::csv::SheetFile;
use super::{csv, ifc};
use crate::source::Source;

/// What a cell was read as.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reading {
    /// A length, in metres.
    LengthM(f64),
    /// An area, in square metres.
    AreaM2(f64),
    /// A slope, in degrees.
    PitchDeg(f64),
}

/// A cell of a sheet, or a record of a model.
#[derive(Clone, Debug, PartialEq)]
pub struct WrittenCell {
    /// Heading of the cell's column; of a record its instance name.
    pub heading: String,
    /// Its text.
    pub text: String,
    /// What it was read as, where that is one measure.
    pub reading: Option<Reading>,
}

/// What stands at each of some places; nothing for a place that cannot be read any more.
pub fn as_written(sources: &[Source]) -> Vec<Vec<WrittenCell>> {
    let mut all = vec![Vec::new(); sources.len()];
    let mut inputs: Vec<&str> = sources.iter().map(|source| source.input.as_str()).collect();
    inputs.sort_unstable();
    inputs.dedup();
    for input in inputs {
        let Ok(bytes) = std::fs::read(input) else { continue };
        let own: Vec<(usize, &Source)> =
            sources.iter().enumerate().filter(|(_, source)| source.input == input).collect();
        let lines: Vec<u64> = own.iter().filter_map(|(_, source)| source.line).collect();
        let found = if lines.len() == own.len() {
            csv::written(&SheetFile { path: input.to_owned(), bytes }, &lines)
        } else {
            let entity = |(_, source): &(usize, &Source)| source.entity.as_ref()?.strip_prefix('#')?.parse().ok();
            ifc::written(input, &bytes, &own.iter().map(|one| entity(one).unwrap_or(0)).collect::<Vec<u64>>())
        };
        for ((index, _), cells) in own.iter().zip(found) {
            if let Some(place) = all.get_mut(*index) {
                *place = cells;
            }
        }
    }
    all
}
