//! A trouble with one record: it stops what needs the record, and nothing else.

use crate::finding::Code;

/// Why a record cannot be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Trouble {
    /// Code of the finding that it becomes.
    pub code: Code,
    /// The record.
    pub entity: u64,
    /// What was found and what was expected.
    pub message: String,
}

impl Trouble {
    /// A trouble with a record.
    pub fn new(code: Code, entity: u64, message: impl Into<String>) -> Self {
        Self { code, entity, message: message.into() }
    }
}
