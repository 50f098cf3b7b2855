//! Rows of a log that say the same: nothing is counted twice without a word.

use crate::finding::{Code, Finding};
use crate::intake::log::{Entry, What};

/// Rows of bags, or of what was taken out, that say the same as one above them: place, day, amount, hopper, who and photos.
pub(super) fn twins(entries: &[Entry]) -> Vec<(&Entry, &Entry)> {
    let is_amount = |entry: &&Entry| matches!(entry.what, What::Blown { .. } | What::Taken { .. });
    let says = |entry: &Entry| Entry { place: crate::source::Place::default(), ..entry.clone() };
    let mut all = Vec::new();
    for (at, entry) in entries.iter().enumerate().filter(|(_, entry)| is_amount(entry)) {
        let before = entries.get(..at).unwrap_or_default();
        all.extend(before.iter().find(|other| says(other) == says(entry)).map(|first| (first, entry)));
    }
    all
}

/// The finding of it, with both places.
pub(super) fn said_twice((first, second): &(&Entry, &Entry)) -> Finding {
    let message = format!(
        "the same as {}: both are counted, and nothing should be counted twice; take one out, or give each its photo numbers",
        first.place.clone().without_column()
    );
    Finding::warning(Code::LogDoubt, &second.place, message)
}
