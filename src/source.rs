//! Where something stands in an input: the file, then a line and column, or an entity.
//!
//! Invariant: knows nothing of formats or of insulation; it only names places.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::fmt;

/// The place that a surface or an opening was read from.
///
/// A row of a sheet has a `line`; an element of a building model has an `entity`.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Source {
    /// Path of the input, as it was given.
    pub input: String,
    /// Line in a sheet, counted from 1.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub line: Option<u64>,
    /// Instance name in a building model, such as `#105`.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub entity: Option<String>,
}

impl Source {
    /// A row of a sheet.
    pub fn of_line(input: &str, line: u64) -> Self {
        Self { input: input.to_owned(), line: Some(line), entity: None }
    }

    /// An element of a building model.
    pub fn of_entity(input: &str, id: u64) -> Self {
        Self { input: input.to_owned(), line: None, entity: Some(format!("#{id}")) }
    }
}

impl fmt::Display for Source {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.input)?;
        if let Some(line) = self.line {
            write!(f, ":{line}")?;
        }
        if let Some(entity) = &self.entity {
            write!(f, " {entity}")?;
        }
        Ok(())
    }
}

/// A place as people read it in a finding or an error; every part but the input may be missing.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Place {
    /// Path of the input; empty where the place is no file (an argument, say).
    pub input: String,
    /// Line, counted from 1.
    pub line: Option<u64>,
    /// Column, counted from 1 in characters.
    pub column: Option<u64>,
    /// Instance name in a building model.
    pub entity: Option<u64>,
    /// GlobalId of the element, or the id of a row.
    pub id: Option<String>,
}

impl Place {
    /// A whole input.
    pub fn input(input: &str) -> Self {
        Self { input: input.to_owned(), ..Self::default() }
    }

    /// The same place by its line alone.
    #[must_use]
    pub fn without_column(self) -> Self {
        Self { column: None, ..self }
    }

    /// A line of an input.
    pub fn line(input: &str, line: u64) -> Self {
        Self { input: input.to_owned(), line: Some(line), ..Self::default() }
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.input)?;
        if let Some(line) = self.line {
            write!(f, ":{line}")?;
            if let Some(column) = self.column {
                write!(f, ":{column}")?;
            }
        }
        if let Some(entity) = self.entity {
            write!(f, " #{entity}")?;
        }
        if let Some(id) = &self.id {
            write!(f, " ({id})")?;
        }
        Ok(())
    }
}
