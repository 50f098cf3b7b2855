//! What a layer is made of, as far as heat goes, by its name.

use super::words::{Meanings, Remembered, Words, remember};
use super::{is_insulation, is_steel};
use std::sync::OnceLock;

/// What a layer is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LayerMaterial {
    /// Sawn softwood, boards of it, and timber glued up from it.
    Wood,
    /// Gypsum board.
    GypsumBoard,
    /// Plywood.
    Plywood,
    /// Oriented strand board.
    Osb,
    /// Lapped siding of wood, with the air behind it.
    WoodSiding,
    /// Brick.
    Brick,
    /// Particleboard.
    Particleboard,
    /// Dense concrete.
    Concrete,
    /// Render of cement and sand.
    CementRender,
    /// Plaster of gypsum.
    GypsumPlaster,
    /// A thin membrane.
    Membrane,
    /// Air, still or not.
    Air,
    /// What has the name of one of these in its own and is none: aerated concrete, wood fibre.
    Other,
}

impl LayerMaterial {
    const ALL: [(&'static str, Self); 13] = [
        ("wood", Self::Wood),
        ("gypsum board", Self::GypsumBoard),
        ("plywood", Self::Plywood),
        ("OSB", Self::Osb),
        ("wood siding", Self::WoodSiding),
        ("brick", Self::Brick),
        ("particleboard", Self::Particleboard),
        ("concrete", Self::Concrete),
        ("cement render", Self::CementRender),
        ("gypsum plaster", Self::GypsumPlaster),
        ("membrane", Self::Membrane),
        ("air", Self::Air),
        ("other", Self::Other),
    ];

    /// The material of a word of the tables.
    pub fn of_word(word: &str) -> Option<Self> {
        Self::ALL.iter().find(|(known, _)| *known == word).map(|(_, material)| *material)
    }

    /// The word that people read.
    pub fn word(self) -> &'static str {
        Self::ALL.iter().find(|(_, material)| *material == self).map_or("", |(word, _)| word)
    }
}

/// What a layer is made of; `None` where its name says nothing, or more than one thing. Insulation and metal are never
/// told by a name: what they conduct is their maker's to say.
pub fn layer_material(name: &str) -> Option<LayerMaterial> {
    static WORDS: OnceLock<Words> = OnceLock::new();
    thread_local! {
        static KNOWN: Remembered = Remembered::default();
    }
    if is_insulation(name) || is_steel(name) {
        return None;
    }
    let words = WORDS.get_or_init(|| Words::read(include_str!("words/layers.csv"), bit));
    let said = KNOWN.with(|known| remember(known, name, |name| words.meanings(name)));
    let mut found = LayerMaterial::ALL.iter().filter(|(word, _)| said & bit(word) != 0).map(|(_, material)| *material);
    let only = found.next()?;
    found.next().is_none().then_some(only).filter(|material| *material != LayerMaterial::Other)
}

fn bit(meaning: &str) -> Meanings {
    LayerMaterial::ALL.iter().position(|(word, _)| *word == meaning).map_or(0, |index| 1 << index)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_say_what_a_layer_is_made_of() {
        use LayerMaterial::{Air, Brick, Concrete, GypsumBoard, Membrane, Osb, Plywood, Wood, WoodSiding};
        for (names, expected) in [
            (
                &["Gypsum Board 12.7", "drywall", "Gypsum wallboard", "GWB", "Gipskartonplatte", "placo BA13"][..],
                GypsumBoard,
            ),
            (
                &["cartongesso", "placa de yeso laminado", "gipsplaat", "gipsplade", "Gipsskiva", "kipsilevy"],
                GypsumBoard,
            ),
            (&["OSB/3", "Oriented strand board", "OSB-Platte 15mm"], Osb),
            (&["Plywood sheathing", "Sperrholz", "contreplaqué", "contrachapado", "compensato", "kryssfiner"], Plywood),
            (&["Softwood, timber", "Spruce", "Holzschalung", "bois massif", "madera", "legno", "CLT"], Wood),
            (&["Wood siding", "Lap siding"], WoodSiding),
            (&["Common brick", "Klinker", "brique", "ladrillo", "baksteen"], Brick),
            (&["Concrete, cast in situ", "Stahlbeton", "béton", "hormigón", "beton"], Concrete),
            (&["Vapour barrier", "Dampfbremse", "pare-vapeur", "membrana"], Membrane),
            (&["Air space", "Luftschicht", "lame d'air"], Air),
        ] {
            for name in names {
                assert_eq!(layer_material(name), Some(expected), "{name}");
            }
        }
    }

    #[test]
    fn what_is_not_plain_is_not_guessed() {
        for name in [
            "",
            "X-17",
            "Siding",
            "Cladding",
            "Aerated concrete",
            "Porenbeton",
            "Wood fibre insulation",
            "Holzfaserdämmplatte",
            "EPS",
            "Mineral wool",
            "Steel sheet",
            "Gypsum board on OSB",
            "Brick and concrete",
            "Hollow brick",
            "Air barrier foam",
        ] {
            assert_eq!(layer_material(name), None, "{name}");
        }
    }
}
