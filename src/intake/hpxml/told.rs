//! What a reader must know of the file: like things are said once, with the place of the first.

use super::element::Element;
use super::side::no_room;
use crate::finding::{Code, Finding};
use crate::source::Place;
use std::collections::BTreeMap;

/// Ids that a sentence names.
const NAMED: usize = 6;

/// What was seen on the way.
#[derive(Default)]
pub(super) struct Told {
    /// By element, the ids in which it is nought.
    noughts: BTreeMap<String, (Place, Vec<String>)>,
    /// Surfaces that bound no heated room.
    no_room: Option<(Place, Vec<String>)>,
    /// By what they take from there, the surfaces that are the same as others.
    same: BTreeMap<String, (Place, Vec<String>)>,
    others: Vec<Finding>,
}

impl Told {
    /// Says something by itself.
    pub fn say(&mut self, finding: Finding) {
        self.others.push(finding);
    }

    /// An element of nought says nothing.
    pub fn nought(&mut self, element: &str, id: &str, place: &Place) {
        let entry = self.noughts.entry(element.to_owned()).or_insert_with(|| (place.clone(), Vec::new()));
        entry.1.push(format!("`{id}`"));
    }

    /// A surface that bounds no heated room.
    pub fn no_room(&mut self, id: &str, place: &Place) {
        self.no_room.get_or_insert_with(|| (place.clone(), Vec::new())).1.push(format!("`{id}`"));
    }

    /// What a surface takes from another building of the file, or would.
    pub fn same(&mut self, element: &Element<'_, '_>, place: &Place) {
        let id = element.id().unwrap_or_default();
        if let Some(named) = element.missing() {
            let message = format!("`{id}` is said to be the same as `{named}`, which the file does not hold");
            self.say(Finding::warning(Code::RowDoubt, place, message));
        }
        let taken = element.taken();
        if let (false, Some(named)) = (taken.is_empty(), element.same_ids().first()) {
            let entry = self.same.entry(taken.join(", ")).or_insert_with(|| (place.clone(), Vec::new()));
            entry.1.push(format!("`{id}` (of `{named}`)"));
        }
    }

    /// All of it.
    pub fn findings(self) -> Vec<Finding> {
        let mut all = self.others;
        for (taken, (place, ids)) in self.same {
            let message =
                format!("said to be the same in another building, which gives them {taken}: {}", listed(&ids));
            all.push(Finding::note(Code::RowDoubt, &place, message));
        }
        for (element, (place, ids)) in self.noughts {
            let message = format!("`{element}` is 0 and taken as not given: {}", listed(&ids));
            all.push(Finding::note(Code::NotUsed, &place, message));
        }
        all.extend(self.no_room.map(|(place, ids)| no_room(&listed(&ids), ids.len(), &place)));
        all
    }
}

fn listed(ids: &[String]) -> String {
    let shown = ids.iter().take(NAMED).map(String::as_str).collect::<Vec<_>>().join(", ");
    let more = ids.len().saturating_sub(NAMED);
    if more > 0 { format!("{shown} and {more} more") } else { shown }
}
