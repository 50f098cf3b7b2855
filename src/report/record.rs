//! Audits and closeouts as JSON.

use serde::Serialize;
use std::io;

/// A record as JSON, indented, with a line end behind it.
///
/// # Errors
/// None that a record can bring about; the writer's error is passed on all the same.
pub fn record_json<T: Serialize>(record: &T) -> io::Result<Vec<u8>> {
    let mut bytes = serde_json::to_vec_pretty(record).map_err(io::Error::from)?;
    bytes.push(b'\n');
    Ok(bytes)
}
