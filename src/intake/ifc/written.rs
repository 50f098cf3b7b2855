//! Records as they stand in the file.

use super::container::unpack;
use super::file::File;
use crate::intake::WrittenCell;

/// Bytes of a record that are shown at most.
const LONGEST: usize = 400;

/// Some records of a model; nothing for one that it does not hold, and nothing at all of a file that cannot be read.
pub fn written(path: &str, bytes: &[u8], entities: &[u64]) -> Vec<Vec<WrittenCell>> {
    let none = || vec![Vec::new(); entities.len()];
    let Ok(bytes) = unpack(path, bytes) else { return none() };
    let Ok(file) = File::open(path, &bytes) else { return none() };
    let of_entity = |entity: &u64| {
        let cell = |text| WrittenCell { heading: format!("#{entity}"), text, reading: None };
        file.text_of(*entity, LONGEST).map(cell).into_iter().collect()
    };
    entities.iter().map(of_entity).collect()
}
