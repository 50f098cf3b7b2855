//! An element, and the objects of other buildings of the file that it is said to be the same as.

use super::document::{Document, child, children, name};
use roxmltree::Node;
use std::collections::HashMap;

/// References that are followed one after another; more go in a circle.
const MOST_REFERENCES: usize = 16;

/// An element. `sameas` means `the identical object on another Building element` (documentation of the XML Schema), so that
/// object says what the element does not say itself.
pub(super) struct Element<'a, 't> {
    pub own: Node<'a, 't>,
    same: Vec<Node<'a, 't>>,
}

/// The objects of a file by their ids.
pub(super) struct Objects<'a, 't> {
    by_id: HashMap<&'a str, Node<'a, 't>>,
}

impl<'a, 't> Objects<'a, 't> {
    /// Of all buildings; of an id that comes twice, the first.
    pub fn of(document: &'a Document<'t>) -> Self {
        let mut by_id = HashMap::new();
        for node in document.root().descendants().filter(|node| node.is_element() && name(*node) == "SystemIdentifier")
        {
            if let (Some(id), Some(object)) = (node.attribute("id"), node.parent_element()) {
                by_id.entry(id).or_insert(object);
            }
        }
        Self { by_id }
    }

    /// An element with what it is the same as.
    pub fn element(&self, own: Node<'a, 't>) -> Element<'a, 't> {
        let mut same = Vec::new();
        let mut last = own;
        while let Some(next) = same_as(last).and_then(|id| self.by_id.get(id)) {
            if name(*next) != name(own) || same.contains(next) || *next == own || same.len() >= MOST_REFERENCES {
                break;
            }
            same.push(*next);
            last = *next;
        }
        Element { own, same }
    }
}

/// The id that an element is said to be the same as.
fn same_as<'a>(node: Node<'a, '_>) -> Option<&'a str> {
    child(node, "SystemIdentifier").and_then(|node| node.attribute("sameas"))
}

impl<'a, 't> Element<'a, 't> {
    /// The first child of a name, else that of what it is the same as.
    pub fn child(&self, word: &str) -> Option<Node<'a, 't>> {
        std::iter::once(self.own).chain(self.same.iter().copied()).find_map(|node| child(node, word))
    }

    /// Text of a child, trimmed; empty where there is none.
    pub fn text(&self, word: &str) -> String {
        self.child(word).map(text).unwrap_or_default()
    }

    /// Its own id.
    pub fn id(&self) -> Option<&'a str> {
        child(self.own, "SystemIdentifier").and_then(|node| node.attribute("id"))
    }

    /// Ids that it is said to be the same as, also where the file does not hold them.
    pub fn same_ids(&self) -> Vec<String> {
        let all = std::iter::once(self.own).chain(self.same.iter().copied());
        all.filter_map(same_as).map(str::to_owned).collect()
    }

    /// The id that it is said to be the same as, where the file holds no such object.
    pub fn missing(&self) -> Option<&'a str> {
        same_as(self.own).filter(|_| self.same.is_empty())
    }

    /// What it does not say itself and takes from there.
    pub fn taken(&self) -> Vec<&'a str> {
        let is_own = |word: &str| self.own.children().any(|node| node.is_element() && name(node) == word);
        let mut taken: Vec<&'a str> = Vec::new();
        for node in self.same.iter().flat_map(Node::children).filter(Node::is_element) {
            let word = name(node);
            if word != "SystemIdentifier" && !is_own(word) && !taken.contains(&word) {
                taken.push(word);
            }
        }
        taken
    }
}

/// All text of an element itself, also around comments; trimmed.
pub(super) fn text(node: Node<'_, '_>) -> String {
    let parts: String = node.children().filter(Node::is_text).filter_map(|part| part.text()).collect();
    parts.trim().to_owned()
}

/// Layers of the insulation of an element.
pub(super) fn layers<'a, 't>(insulation: Option<Node<'a, 't>>) -> impl Iterator<Item = Node<'a, 't>> {
    insulation.into_iter().flat_map(|node| children(node, "Layer"))
}
