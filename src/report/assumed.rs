//! Values that were taken for granted, as people read them.

use super::text::printable;
use crate::model::Assumption;
use crate::units::{UnitSystem, restate};

/// What the values of some sources are in, whatever units were asked for.
pub(super) const AS_WRITTEN: &str =
    "values of the job file, of options and of sheets, and texts, stand in the units that they were written in";

/// What was taken, in the units asked for; what somebody wrote stays as it was written.
pub(super) fn taken_as(assumption: &Assumption, units: UnitSystem) -> String {
    let Assumption { value, unit, source, .. } = assumption;
    let is_written = ["job file", "--", "input"].iter().any(|start| source.starts_with(start));
    let text = if is_written { format!("{value} {unit}") } else { restate(value, unit, units) };
    printable(text.trim_end())
}
