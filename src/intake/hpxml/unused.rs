//! What of a file is not used: said once a kind, with the place of the first.

use super::document::{Document, child, name};
use super::element::text;
use super::part::{GROUPS, OPENINGS};
use crate::finding::{Code, Finding};
use crate::source::Place;
use roxmltree::Node;
use std::collections::BTreeMap;

/// What is used of a surface.
const USED: [&str; 11] = [
    "SystemIdentifier",
    "ExteriorAdjacentTo",
    "InteriorAdjacentTo",
    "FloorOrCeiling",
    "WallType",
    "Area",
    "Pitch",
    "Insulation",
    "AttachedToWall",
    "AttachedToRoof",
    "AttachedToSpace",
];

/// Buildings, groups and elements that are not used.
pub(super) fn unused(document: &Document<'_>) -> Vec<Finding> {
    let mut all = Vec::new();
    for building in document.other_buildings() {
        let status = child(building, "ProjectStatus").and_then(|status| child(status, "EventType"));
        let event = status.map_or_else(|| "no event named".to_owned(), text);
        let message = format!("the file has several buildings; this one ({event}) is not used");
        all.push(Finding::note(Code::NotUsed, &document.place(building), message));
    }
    let Some(enclosure) = document.enclosure() else { return all };
    let mut groups: Vec<&str> = Vec::new();
    let mut elements: BTreeMap<String, (Place, Vec<String>)> = BTreeMap::new();
    for group in enclosure.children().filter(Node::is_element) {
        let surfaces =
            GROUPS.iter().find(|(word, ..)| *word == name(group)).map(|(_, element, framing)| (*element, *framing));
        let openings =
            OPENINGS.iter().find(|(word, ..)| *word == name(group)).map(|(_, element, ..)| (*element, &[][..]));
        let Some((element, framing)) = surfaces.or(openings) else {
            groups.push(name(group));
            continue;
        };
        for one in group.children().filter(|node| node.is_element() && name(*node) == element) {
            let is_used = |node: &Node<'_, '_>| {
                let word = name(*node);
                USED.contains(&word) || framing.contains(&word) || (element == "FoundationWall" && word == "Type")
            };
            let idle = one.children().filter(|node| node.is_element() && !is_used(node));
            let entry = elements.entry(element.to_owned()).or_insert_with(|| (document.place(one), Vec::new()));
            for node in idle {
                if !entry.1.iter().any(|known| known == name(node)) {
                    entry.1.push(name(node).to_owned());
                }
            }
        }
    }
    groups.dedup();
    if !groups.is_empty() {
        let message = format!("not used of the enclosure: {}", groups.join(", "));
        all.push(Finding::note(Code::NotUsed, &document.place(enclosure), message));
    }
    for (element, (place, words)) in elements.iter().filter(|(_, (_, words))| !words.is_empty()) {
        let message = format!("not used of each `{element}`: {}", words.join(", "));
        all.push(Finding::note(Code::NotUsed, place, message));
    }
    all
}
