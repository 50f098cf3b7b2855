//! Each figure with its formula, what goes into it, and its source.

use super::WIDTH;
use crate::report::text::{printable, wrap};
use crate::rig::RigCheck;

pub(super) fn steps(check: &RigCheck) -> Vec<String> {
    let mut all = vec!["Where the figures come from".to_owned()];
    let mut last = None;
    for step in &check.steps {
        if last != Some(step.topic) {
            all.push(format!("  {}", step.topic.word()));
            last = Some(step.topic);
        }
        all.extend(wrap(&printable(&format!("    {} = {}", step.what, step.value)), WIDTH, "      "));
        all.extend(wrap(&printable(&format!("      by: {}", step.formula)), WIDTH, "        "));
        if !step.inputs.is_empty() {
            all.extend(wrap(&printable(&format!("      with: {}", step.inputs.join("; "))), WIDTH, "        "));
        }
        all.extend(wrap(&printable(&format!("      source: {}", step.source)), WIDTH, "        "));
    }
    all
}
