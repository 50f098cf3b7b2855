//! Values that a sheet did not give: the same value is one entry, with the ids that it stands for.

use crate::model::Assumption;

/// Ids that an entry names before it only counts them.
const NAMED_IDS: usize = 12;

/// The values that were filled in, in the order in which they first came up.
#[derive(Default)]
pub(super) struct Assumed {
    entries: Vec<(Assumption, Vec<String>)>,
}

impl Assumed {
    /// Notes that a value was filled in by common practice.
    pub fn common_practice(&mut self, key: &str, value: &str, unit: &str, id: &str) {
        let assumption = Assumption {
            key: key.to_owned(),
            value: value.to_owned(),
            unit: unit.to_owned(),
            source: "common practice, no source".to_owned(),
        };
        match self.entries.iter_mut().find(|(known, _)| *known == assumption) {
            Some((_, ids)) => ids.push(id.to_owned()),
            None => self.entries.push((assumption, vec![id.to_owned()])),
        }
    }

    /// The entries, each with the number of rows and their ids in its source.
    pub fn into_assumptions(self) -> Vec<Assumption> {
        let named = |ids: &[String]| {
            let names = ids.iter().take(NAMED_IDS).map(String::as_str).collect::<Vec<_>>().join(", ");
            let more = ids.len().saturating_sub(NAMED_IDS);
            if more > 0 { format!("{names} and {more} more") } else { names }
        };
        self.entries
            .into_iter()
            .map(|(assumption, ids)| Assumption {
                source: format!("{}; for {}: {}", assumption.source, ids.len(), named(&ids)),
                ..assumption
            })
            .collect()
    }
}
