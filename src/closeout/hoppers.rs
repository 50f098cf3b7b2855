//! What is in the hopper between two rows of a fill.

use super::run::parts_of;
use super::sure::{RUN_DOWN_KG, SCALE_KG};
use crate::finding::{Code, Finding};
use crate::intake::log::{Entry, Hopper, What};
use crate::order::combined;
use crate::takeoff::Takeoff;
use std::collections::BTreeMap;

/// What one row leaves in the hopper is what the next of the same fill finds there, where only one of them says. Each fill has
/// its own machine, so that rows of another may stand between. Where both say, and say different things, a finding names them.
pub(super) fn with_known_hoppers(takeoff: &Takeoff, entries: &[Entry]) -> (Vec<Entry>, Vec<Finding>) {
    let mut all = entries.to_vec();
    let mut findings = Vec::new();
    for rows in by_fill(takeoff, entries).values() {
        for pair in rows.windows(2) {
            let [first, second] = *pair else { continue };
            let (Some(before), Some(after)) = (entries.get(first), entries.get(second)) else { continue };
            let (What::Blown { end: left, .. }, What::Blown { start: found, .. }) = (&before.what, &after.what) else {
                continue;
            };
            findings.extend(left.zip(*found).and_then(|hoppers| differ(before, after, hoppers)));
            let known = left.or(*found);
            if let Some(What::Blown { end, .. }) = all.get_mut(first).map(|entry| &mut entry.what) {
                *end = known;
            }
            if let Some(What::Blown { start, .. }) = all.get_mut(second).map(|entry| &mut entry.what) {
                *start = found.or(known);
            }
        }
    }
    (all, findings)
}

/// Rows of bags by the fill of the surfaces that each names; those that name none, or several, are refused elsewhere.
fn by_fill(takeoff: &Takeoff, entries: &[Entry]) -> BTreeMap<String, Vec<usize>> {
    let mut all: BTreeMap<String, Vec<usize>> = BTreeMap::new();
    for (at, entry) in entries.iter().enumerate().filter(|(_, entry)| matches!(entry.what, What::Blown { .. })) {
        let Ok(parts) = parts_of(takeoff, entry) else { continue };
        if let Some(fill) = parts.first().and_then(|part| part.fill.clone()) {
            all.entry(fill).or_default().push(at);
        }
    }
    all
}

/// A finding where the hopper changed between two rows by more than both of them may be off.
fn differ(before: &Entry, after: &Entry, (left, found): (Hopper, Hopper)) -> Option<Finding> {
    let of = |hopper: Hopper| match hopper {
        Hopper::RunDown => (0.0, RUN_DOWN_KG),
        Hopper::Weighed(mass_kg) => (mass_kg, SCALE_KG),
    };
    let ((left_kg, left_off_kg), (found_kg, found_off_kg)) = (of(left), of(found));
    if (left_kg - found_kg).abs() <= combined([left_off_kg, found_off_kg].into_iter()) {
        return None;
    }
    let what = if found_kg < left_kg { "less" } else { "more" };
    let message = format!(
        "{what} is in the hopper here than {} left in it, and no row says where it went or came from: correct one of the two, or log \
         the difference",
        before.place.clone().without_column()
    );
    Some(Finding::warning(Code::LogDoubt, &after.place, message))
}
