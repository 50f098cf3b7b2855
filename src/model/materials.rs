//! What the name of a material says: studs, masonry or concrete, insulation, steel.
//!
//! Plain tables of words, to be extended by language. A space in an entry stands for the edge of a
//! word, so that ` stud ` is not found in `studio`, while `ziegel` is found in `Hochlochziegel`.

/// Framing that a cavity lies between.
const STUD: &[&str] = &[
    // English
    " stud ",
    " studs ",
    "studwork",
    "stud work",
    " frame ",
    " frames ",
    " framing ",
    " rafter ",
    " rafters ",
    " joist ",
    " joists ",
    " furring ", // German
    "ständer",
    "staender",
    "holzrahmen",
    "rahmenwerk",
    "fachwerk",
    "sparren",
    "holzbalken",
    "deckenbalken",
    "cw profil",
    "uw profil",
];

/// Masonry and concrete: solid, without a cavity to blow.
const MASONRY: &[&str] = &[
    // English
    " brick ",
    " bricks ",
    "brickwork",
    "masonry",
    "concrete",
    " cmu ",
    "blockwork",
    "block wall",
    " stone ",
    "stonework",
    "limestone",
    "sandstone",
    " adobe ",
    "rammed earth", // German
    "mauerwerk",
    "ziegel",
    "klinker",
    "beton",
    "kalksandstein",
    "naturstein",
    "sandstein",
    "lehmstein",
    "bimsstein",
];

/// Insulation, whatever its form.
const INSULATION: &[&str] = &[
    // English
    "insulation",
    "insulating",
    " wool ",
    "cellulose",
    "fibreglass",
    "fiberglass",
    "glass fibre",
    "glass fiber",
    "polystyrene",
    "polyurethane",
    "polyiso",
    " foam ",
    " eps ",
    " xps ",
    " pir ",
    " pur ",
    " batt ",
    " batts ",
    // German
    "dämm",
    "daemm",
    "wärmeschutz",
    "isolierung",
    "wolle",
    "zellulose",
    "polystyrol",
    "polyurethan",
    "schaum",
    "holzfaser",
];

/// Steel and other metal.
const STEEL: &[&str] = &[
    // English
    " steel ",
    " metal ",
    "light gauge",
    "galvanized",
    "galvanised", // German
    "stahl",
    "metall",
    "cw profil",
    "uw profil",
    "verzinkt",
];

/// Whether a material is framing with a cavity between its members, of timber or steel.
pub fn is_stud(material: &str) -> bool {
    has_any(material, STUD) && !has_any(material, MASONRY)
}

/// Whether a material is masonry or concrete; insulation named after stone is not.
pub fn is_masonry(material: &str) -> bool {
    has_any(material, MASONRY) && !is_insulation(material)
}

/// Whether a material is insulation.
pub fn is_insulation(material: &str) -> bool {
    has_any(material, INSULATION)
}

/// Whether a material is steel or other metal; reinforced concrete is not.
pub fn is_steel(material: &str) -> bool {
    has_any(material, STEEL) && !has_any(material, MASONRY)
}

fn has_any(text: &str, words: &[&str]) -> bool {
    let text = spaced(text);
    words.iter().any(|word| text.contains(word))
}

/// Lower case, one space for everything that is no letter or digit, a space at both ends.
fn spaced(text: &str) -> String {
    let mut out = String::from(" ");
    for character in text.chars().flat_map(char::to_lowercase) {
        if character.is_alphanumeric() {
            out.push(character);
        } else if !out.ends_with(' ') {
            out.push(' ');
        }
    }
    if !out.ends_with(' ') {
        out.push(' ');
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    // Names as layer sets commonly carry them: common practice, no source.
    #[test]
    fn studs_are_told_by_whole_words() {
        for name in
            ["Wood Stud", "2x6 studs @ 16 in", "Timber-Frame", "Steel stud 92", "Holzständerwerk", "CW-Profil 75"]
        {
            assert!(is_stud(name), "{name}");
        }
        for name in ["Studio plaster", "Gypsum Wall Board", "Concrete frame", "Mauerwerk", ""] {
            assert!(!is_stud(name), "{name}");
        }
    }

    #[test]
    fn masonry_is_not_stone_wool_and_steel_is_not_reinforced_concrete() {
        for name in ["Concrete, Cast-in-Place", "Brick, Common", "Stahlbeton C25/30", "Kalksandstein", "Hochlochziegel"]
        {
            assert!(is_masonry(name), "{name}");
        }
        for name in ["Stone wool", "Steinwolle", "Holzfaserdämmung", "Gipskarton"] {
            assert!(!is_masonry(name), "{name}");
        }
        assert!(is_insulation("Mineral Wool") && is_insulation("Zellulose"));
        assert!(is_steel("Metal stud layer") && !is_steel("Stahlbeton"));
    }
}
