//! The tally: every element or row that is read is either counted or left out with a reason.

use crate::source::Source;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// An element or a row that gives no surface, and why.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct LeftOutElement {
    /// GlobalId, or the row's own id.
    pub id: String,
    /// Class of the element (`IfcWall`) or kind of the row (`wall`).
    pub class: String,
    /// Name, where it has one.
    pub name: Option<String>,
    /// Why it gives no surface.
    pub reason: String,
    /// Where it was read.
    pub source: Source,
}
