//! Which surfaces a row of a plan or of a log is about.

use crate::model::{Glob, SurfaceKind};

/// What is chosen by: all that is given must fit.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Selection {
    /// Patterns on id, name, or id and part (`O-S/2`); any of them. Empty where nothing is said.
    pub surfaces: Vec<Glob>,
    /// Pattern on the name of the type, else of the assembly.
    pub r#type: Option<Glob>,
    /// Pattern on the storey.
    pub storey: Option<Glob>,
    /// Pattern on the zone.
    pub zone: Option<Glob>,
    /// Kind.
    pub kind: Option<SurfaceKind>,
}

/// What of a surface is chosen by.
#[derive(Clone, Copy, Debug)]
pub struct Chosen<'s> {
    /// Id.
    pub id: &'s str,
    /// Part, nought where there is only one.
    pub part: u32,
    /// Name.
    pub name: Option<&'s str>,
    /// Name of its type.
    pub r#type: Option<&'s str>,
    /// Its assembly: a name with its framing (`outer wall: 2x6 @ 16 in`), or framing alone. Chosen by, by either, where it
    /// has no type.
    pub assembly: Option<&'s str>,
    /// Storey.
    pub storey: Option<&'s str>,
    /// Zone.
    pub zone: Option<&'s str>,
    /// Kind.
    pub kind: SurfaceKind,
}

impl Selection {
    /// Patterns of a cell, parted by semicolons.
    pub fn patterns(text: &str) -> Vec<Glob> {
        text.split(';').map(str::trim).filter(|part| !part.is_empty()).map(Glob::new).collect()
    }

    /// Whether nothing is chosen by.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// Whether it names one surface by its id alone, whatever is counted.
    pub fn is_one_id(&self, id: &str) -> bool {
        matches!(self.surfaces.as_slice(), [only] if only.text().eq_ignore_ascii_case(id))
    }

    /// Whether a surface is chosen.
    pub fn fits(&self, surface: Chosen<'_>) -> bool {
        let part = format!("{}/{}", surface.id, surface.part);
        let names = |glob: &Glob| {
            glob.is_match(surface.id) || glob.is_match(&part) || surface.name.is_some_and(|name| glob.is_match(name))
        };
        let is = |glob: &Option<Glob>, word: Option<&str>| {
            glob.as_ref().is_none_or(|glob| word.is_some_and(|word| glob.is_match(word)))
        };
        let is_type = |glob: &Glob| match (surface.r#type, surface.assembly) {
            (Some(name), _) => glob.is_match(name),
            (None, Some(assembly)) => {
                let name = assembly.rsplit_once(": ").map(|(name, _framing)| name);
                glob.is_match(assembly) || name.is_some_and(|name| glob.is_match(name))
            }
            (None, None) => false,
        };
        (self.surfaces.is_empty() || self.surfaces.iter().any(names))
            && self.r#type.as_ref().is_none_or(is_type)
            && is(&self.storey, surface.storey)
            && is(&self.zone, surface.zone)
            && self.kind.is_none_or(|kind| kind == surface.kind)
    }

    /// As people read it: `G-*, storey Upper floor`.
    pub fn words(&self) -> String {
        let mut words: Vec<String> = Vec::new();
        if !self.surfaces.is_empty() {
            words.push(self.surfaces.iter().map(Glob::text).collect::<Vec<_>>().join("; "));
        }
        let named = [("type", &self.r#type), ("storey", &self.storey), ("zone", &self.zone)];
        words.extend(named.into_iter().filter_map(|(name, glob)| Some(format!("{name} {}", glob.as_ref()?.text()))));
        words.extend(self.kind.map(|kind| format!("{}s", kind_word(kind))));
        words.join(", ")
    }
}

/// The words of the kinds.
pub(super) const KINDS: [(&str, SurfaceKind); 4] = [
    ("wall", SurfaceKind::Wall),
    ("ceiling", SurfaceKind::Ceiling),
    ("roof", SurfaceKind::Roof),
    ("floor", SurfaceKind::Floor),
];

fn kind_word(kind: SurfaceKind) -> &'static str {
    KINDS.iter().find(|(_, known)| *known == kind).map_or("surface", |(word, _)| word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_that_is_given_must_fit() {
        let surface = Chosen {
            id: "O-S",
            part: 2,
            name: None,
            r#type: Some("Outer wall"),
            assembly: None,
            storey: Some("Ground floor"),
            zone: None,
            kind: SurfaceKind::Wall,
        };
        let of = |patterns: &str| Selection { surfaces: Selection::patterns(patterns), ..Selection::default() };
        assert!(of("O-S").fits(surface) && of("o-*").fits(surface) && of("G-S; O-S/2").fits(surface));
        assert!(!of("O-S/1").fits(surface));
        let more = Selection { storey: Some(Glob::new("Upper*")), ..of("*") };
        assert!(!more.fits(surface));
        assert!(!Selection { zone: Some(Glob::new("*")), ..of("*") }.fits(surface));
        assert_eq!(more.words(), "*, storey Upper*");
        let of_type = |pattern: &str| Selection { r#type: Some(Glob::new(pattern)), ..Selection::default() };
        assert!(of_type("outer wall").fits(surface) && !of_type("2x6*").fits(surface));
        // A sheet's surface has no type: then its assembly is meant, by its name or with its framing.
        let framed = Chosen { r#type: None, assembly: Some("outer wall: 2x6 @ 16 in"), ..surface };
        for pattern in ["outer wall", "Outer*", "outer wall: 2x6 @ 16 in"] {
            assert!(of_type(pattern).fits(framed), "{pattern}");
        }
        assert!(!of_type("2x6 @ 16 in").fits(framed));
        assert!(of_type("2x6 @ 16 in").fits(Chosen { assembly: Some("2x6 @ 16 in"), ..framed }));
        assert!(Selection::default().is_empty() && !of("*").is_empty());
    }
}
