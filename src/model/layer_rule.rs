//! What a user says of layers, in place of what their names say.

use super::{Exposure, Glob, Layer, LayerKind, Surface};
use crate::source::Place;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What a layer is taken for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum LayerUse {
    /// It holds the cavity, whatever the other layers are.
    Cavity,
    /// It is framing.
    Studs,
    /// It is insulation.
    Insulation,
    /// It is masonry or concrete.
    Masonry,
    /// It is none of these.
    None,
}

impl LayerUse {
    /// What kind of layer that makes it.
    pub fn kind(self) -> LayerKind {
        match self {
            Self::Cavity | Self::Studs => LayerKind::Studs,
            Self::Insulation => LayerKind::Insulation,
            Self::Masonry => LayerKind::Masonry,
            Self::None => LayerKind::Other,
        }
    }
}

/// Which surfaces, or layers of surfaces, are meant. What is empty is not asked for; all else must fit.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pattern {
    /// One of these fits the type or the name.
    pub either: Vec<Glob>,
    /// One of these fits the type.
    pub type_name: Vec<Glob>,
    /// One of these fits the name.
    pub name: Vec<Glob>,
    /// One of these fits a layer.
    pub layer: Vec<Glob>,
    /// One of these fits the storey.
    pub storey: Vec<Glob>,
    /// The exposure is one of these.
    pub exposure: Vec<Exposure>,
}

/// What a pattern is held against.
#[derive(Clone, Copy, Debug)]
pub struct Subject<'a> {
    /// Type.
    pub type_name: Option<&'a str>,
    /// Name.
    pub name: Option<&'a str>,
    /// Id of a sheet's row, which is its name as well; `None` in a model, where an id is nobody's name.
    pub id: Option<&'a str>,
    /// Storey.
    pub storey: Option<&'a str>,
    /// What lies on the other side.
    pub exposure: Exposure,
}

impl<'a> Subject<'a> {
    /// What a surface is called, with an exposure that may differ from its own.
    pub fn of(surface: &'a Surface, exposure: Exposure) -> Self {
        let Surface { type_name, name, storey, .. } = surface;
        let id = surface.source.line.map(|_| surface.id.as_str());
        Self { type_name: type_name.as_deref(), name: name.as_deref(), id, storey: storey.as_deref(), exposure }
    }
}

impl Pattern {
    /// A pattern on type or name.
    pub fn on_type_or_name(text: &str) -> Self {
        Self { either: vec![Glob::new(text)], ..Self::default() }
    }

    /// Whether it fits a surface; `layers` are the names of its layers, of which one must fit where layers are asked for.
    pub fn fits<'l>(&self, subject: &Subject<'_>, mut layers: impl Iterator<Item = &'l str>) -> bool {
        let some = |globs: &[Glob], text: Option<&str>| {
            // What has no type or no name is still fitted by `*`.
            globs.is_empty() || globs.iter().any(|glob| glob.is_match(text.unwrap_or_default()))
        };
        let one_of = |globs: &[Glob], names: &[Option<&str>]| {
            let mut known = names.iter().copied().flatten().peekable();
            if known.peek().is_none() { some(globs, None) } else { known.any(|name| some(globs, Some(name))) }
        };
        one_of(&self.either, &[subject.type_name, subject.name, subject.id])
            && some(&self.type_name, subject.type_name)
            && one_of(&self.name, &[subject.name, subject.id])
            && some(&self.storey, subject.storey)
            && (self.exposure.is_empty() || self.exposure.contains(&subject.exposure))
            && (self.layer.is_empty() || layers.any(|layer| some(&self.layer, Some(layer))))
    }
}

/// What a user says of some layers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LayerRule {
    /// Which layers.
    pub pattern: Pattern,
    /// What they are taken for.
    pub is: LayerUse,
    /// Where it is said.
    pub place: Place,
}

impl LayerRule {
    /// Whether the rule is about a layer of a surface.
    pub fn fits(&self, subject: &Subject<'_>, layer: &Layer) -> bool {
        self.pattern.fits(subject, std::iter::once(layer.material.as_str()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn globs(text: &str) -> Vec<Glob> {
        vec![Glob::new(text)]
    }

    #[test]
    fn all_that_is_asked_for_must_fit() {
        let subject = Subject {
            type_name: Some("EXT 1"),
            name: None,
            id: None,
            storey: Some("Ground"),
            exposure: Exposure::Exterior,
        };
        let fits = |pattern: &Pattern| pattern.fits(&subject, ["Spruce", "Wool"].into_iter());
        let base = Pattern { type_name: globs("EXT*"), layer: globs("spruce"), ..Pattern::default() };
        assert!(fits(&Pattern::default()) && fits(&base));
        assert!(fits(&Pattern { storey: globs("ground"), exposure: vec![Exposure::Exterior], ..base.clone() }));
        assert!(!fits(&Pattern { storey: globs("Upper"), ..base.clone() }));
        assert!(!fits(&Pattern { exposure: vec![Exposure::Interior], ..base.clone() }));
        assert!(!fits(&Pattern { layer: globs("Oak"), ..base }));
        assert!(fits(&Pattern::on_type_or_name("ext*")) && !fits(&Pattern::on_type_or_name("INT*")));
        assert!(fits(&Pattern { name: globs("*"), ..Pattern::default() }));
    }

    #[test]
    fn the_id_of_a_row_is_a_name_of_it_and_a_global_id_is_none() {
        let fits = |id, pattern: &Pattern| {
            let subject =
                Subject { type_name: None, name: Some("south"), id, storey: None, exposure: Exposure::Exterior };
            pattern.fits(&subject, std::iter::empty())
        };
        let by_name = Pattern { name: globs("W1"), ..Pattern::default() };
        for pattern in [Pattern::on_type_or_name("w?"), by_name] {
            assert!(fits(Some("W1"), &pattern) && !fits(None, &pattern));
        }
        assert!(fits(Some("W1"), &Pattern::on_type_or_name("South")));
    }
}
