//! Rows of a log that say the same: nothing is counted twice without a word.

use crate::finding::{Code, Finding};
use crate::intake::log::{Entry, What};

/// Kinds of a place's rows that say the same as another.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Twins {
    /// Rows of bags: less may lie there than is counted.
    pub of_blown: bool,
    /// Rows of what was taken out: more may lie there than is counted.
    pub of_taken: bool,
}

impl Twins {
    /// Those among some rows of bags and of what was taken out.
    pub(super) fn among(twins: &[(&Entry, &Entry)], blown: &[&Entry], taken: &[&Entry]) -> Self {
        let has = |rows: &[&Entry]| rows.iter().any(|row| twins.iter().any(|(_, twin)| twin.place == row.place));
        Self { of_blown: has(blown), of_taken: has(taken) }
    }

    pub(super) fn any(self) -> bool {
        self.of_blown || self.of_taken
    }
}

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
