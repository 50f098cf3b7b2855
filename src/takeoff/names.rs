//! Names of the first few surfaces that something is about, each once, and how many there are besides.

use super::SurfaceTakeoff;
use std::collections::BTreeSet;

/// Names of surfaces or elements for people: each once, however many copies or pieces of it there are.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Names {
    shown: Vec<String>,
    seen: BTreeSet<String>,
}

impl Names {
    /// The first few of some surfaces, all parts of one together.
    pub fn of<'s>(surfaces: impl IntoIterator<Item = &'s SurfaceTakeoff>, most: usize) -> Self {
        let mut names = Self::default();
        surfaces.into_iter().for_each(|surface| names.add_surface(surface, most));
        names
    }

    /// Adds a name under what tells it apart from all others; shows it while fewer than `most` are shown.
    pub(super) fn add(&mut self, own: &str, name: &str, most: usize) {
        if self.seen.insert(own.to_owned()) && self.shown.len() < most && !self.shown.iter().any(|one| one == name) {
            self.shown.push(name.to_owned());
        }
    }

    /// Adds a surface, all parts of it as one.
    pub(super) fn add_surface(&mut self, surface: &SurfaceTakeoff, most: usize) {
        self.add(&format!("{} {}", surface.source.input, surface.id), surface.label(), most);
    }

    /// Adds a part of a surface.
    pub(super) fn add_part(&mut self, surface: &SurfaceTakeoff, most: usize) {
        let part = if surface.part > 0 { format!("/{}", surface.part) } else { String::new() };
        let own = format!("{} {}{part}", surface.source.input, surface.id);
        self.add(&own, &format!("{}{part}", surface.label()), most);
    }

    /// The first few.
    pub fn shown(&self) -> &[String] {
        &self.shown
    }

    /// How many there are besides.
    pub fn more(&self) -> usize {
        self.seen.len().saturating_sub(self.shown.len())
    }
}
