//! What the name of a material says: framing, masonry or concrete, insulation, steel.

use super::SurfaceKind;
use super::words::{Meanings, Remembered, Words, remember};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::sync::OnceLock;

const STUD: Meanings = 1;
const RAFTER: Meanings = 1 << 1;
const JOIST: Meanings = 1 << 2;
const FRAME: Meanings = 1 << 3;
const NO_FRAME: Meanings = 1 << 4;
const STEEL: Meanings = 1 << 5;
const WOOD: Meanings = 1 << 6;
const MASS_TIMBER: Meanings = 1 << 7;
const INSULATION: Meanings = 1 << 8;
const NO_INSULATION: Meanings = 1 << 9;
const MASONRY: Meanings = 1 << 10;
const NO_MASONRY: Meanings = 1 << 11;
const OTHER: Meanings = 1 << 12;

/// What a layer is, as far as its cavity goes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum LayerKind {
    /// Framing of timber or steel, with a cavity between its members.
    Studs,
    /// Insulation, whatever its form.
    Insulation,
    /// Masonry or concrete: solid, without a cavity to blow.
    Masonry,
    /// Air, boards, membranes and all else.
    #[default]
    Other,
}

/// What a model says of a layer beside its name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LayerCategory {
    /// It bears load (`LoadBearing`).
    LoadBearing,
    /// It insulates (`Insulation`).
    Insulation,
}

impl LayerCategory {
    /// The category by the words of the standard; `None` for others.
    ///
    /// # Source
    /// ISO 16739-1:2024, `IfcMaterialLayer.Category` (from memory).
    pub fn of_text(text: &str) -> Option<Self> {
        let text: String = text.chars().filter(|c| c.is_alphabetic()).flat_map(char::to_lowercase).collect();
        match text.as_str() {
            "loadbearing" => Some(Self::LoadBearing),
            "insulation" => Some(Self::Insulation),
            _ => None,
        }
    }
}

/// What a layer is, by the name of its material, for a surface of a kind.
///
/// Studs frame walls; rafters, joists and studs frame what lies. A category counts only where the name leaves it open.
pub fn layer_kind(name: &str, surface: SurfaceKind, category: Option<LayerCategory>) -> LayerKind {
    let said = meanings(name);
    let framing = if surface == SurfaceKind::Wall { STUD | FRAME } else { STUD | FRAME | RAFTER | JOIST };
    if is_framing(said, framing) {
        return LayerKind::Studs;
    }
    if insulates(said) {
        return LayerKind::Insulation;
    }
    if is_solid(said) {
        return LayerKind::Masonry;
    }
    match category {
        Some(LayerCategory::Insulation) if said & (OTHER | WOOD | MASS_TIMBER) == 0 => LayerKind::Insulation,
        Some(LayerCategory::LoadBearing) if said & WOOD != 0 && said & (OTHER | MASS_TIMBER) == 0 => LayerKind::Studs,
        _ => LayerKind::Other,
    }
}

/// Whether a material is framing with a cavity between its members, of timber or steel.
pub fn is_stud(material: &str) -> bool {
    is_framing(meanings(material), STUD | FRAME | RAFTER | JOIST)
}

/// Whether a material is masonry or concrete; insulation named after stone is not.
pub fn is_masonry(material: &str) -> bool {
    let said = meanings(material);
    is_solid(said) && !insulates(said)
}

/// Whether a material is insulation.
pub fn is_insulation(material: &str) -> bool {
    insulates(meanings(material))
}

/// Whether a material is steel or other metal; reinforced concrete is not.
pub fn is_steel(material: &str) -> bool {
    let said = meanings(material);
    said & STEEL != 0 && !is_solid(said)
}

fn is_framing(said: Meanings, framing: Meanings) -> bool {
    said & framing != 0 && said & NO_FRAME == 0 && !is_solid(said)
}

fn insulates(said: Meanings) -> bool {
    said & INSULATION != 0 && said & NO_INSULATION == 0
}

fn is_solid(said: Meanings) -> bool {
    said & MASONRY != 0 && said & NO_MASONRY == 0
}

fn meanings(name: &str) -> Meanings {
    static WORDS: OnceLock<Words> = OnceLock::new();
    thread_local! {
        static KNOWN: Remembered = Remembered::default();
    }
    let words = WORDS.get_or_init(|| Words::read(include_str!("words/materials.csv"), bit));
    KNOWN.with(|known| remember(known, name, |name| words.meanings(name)))
}

fn bit(meaning: &str) -> Meanings {
    match meaning {
        "stud" => STUD,
        "rafter" => RAFTER,
        "joist" => JOIST,
        "frame" => FRAME,
        "no frame" => NO_FRAME,
        "steel" => STEEL,
        "wood" => WOOD,
        "mass timber" => MASS_TIMBER,
        "insulation" => INSULATION,
        "no insulation" => NO_INSULATION,
        "masonry" => MASONRY,
        "no masonry" => NO_MASONRY,
        "air" | "board" | "membrane" => OTHER,
        _ => 0,
    }
}

#[cfg(test)]
mod tests;
