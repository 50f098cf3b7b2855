//! The check of a rig at 80 columns, for the crew: the verdict, what to do next, then the figures.

mod explain;
mod figures;
mod verdict;

use super::text::wrap;
use crate::rig::RigCheck;
use crate::units::UnitSystem;
use std::io;

/// Columns of the page.
const WIDTH: usize = 80;

const CAUTION: &str = "These figures are a check before the truck leaves, and no permit. A licensed electrician, a \
                       licensed technician for combustion appliances, the label on the bag, the maker of the machine \
                       and the local code decide.";

/// The page; with `with_steps` each figure with its formula, what goes into it and its source.
pub fn render_rig(check: &RigCheck, units: UnitSystem, with_steps: bool) -> String {
    let mut parts = vec![
        verdict::title(check),
        verdict::next_steps(check),
        verdict::points(check),
        figures::pressure(check, units),
        figures::stages(check),
        figures::days(check),
        figures::hazards(check),
    ];
    if with_steps {
        parts.push(explain::steps(check));
    }
    parts.push(wrap(CAUTION, WIDTH, ""));
    let mut out = String::new();
    for part in parts.iter().filter(|part| !part.is_empty()) {
        if !out.is_empty() {
            out.push('\n');
        }
        for line in part {
            out.push_str(line.trim_end());
            out.push('\n');
        }
    }
    out
}

/// The check as JSON.
///
/// # Errors
/// None that a check can bring about; the writer's error is passed on all the same.
pub fn render_rig_json(check: &RigCheck) -> io::Result<Vec<u8>> {
    let mut out = serde_json::to_vec_pretty(check).map_err(io::Error::from)?;
    out.push(b'\n');
    Ok(out)
}
