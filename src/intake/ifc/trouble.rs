//! A trouble with one record: it stops what needs the record, and nothing else.

use crate::finding::{Code, Severity};

/// Why a record cannot be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Trouble {
    /// Code of the finding that it becomes.
    pub code: Code,
    /// The record.
    pub entity: u64,
    /// What was found and what was expected.
    pub message: String,
    /// How much it weighs.
    pub severity: Severity,
}

impl Trouble {
    /// A trouble with a record.
    pub fn new(code: Code, entity: u64, message: impl Into<String>) -> Self {
        Self { code, entity, message: message.into(), severity: Severity::Warning }
    }

    /// Something worth knowing about a record, with which nothing is wrong.
    pub fn note(code: Code, entity: u64, message: impl Into<String>) -> Self {
        Self { severity: Severity::Note, ..Self::new(code, entity, message) }
    }
}
