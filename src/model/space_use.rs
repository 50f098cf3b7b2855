//! What the name of a space says of it: unheated, outdoors, or a room.

use super::words::{Meanings, Remembered, Words, remember};
use std::sync::OnceLock;

const UNHEATED: Meanings = 1;
const OUTDOORS: Meanings = 2;
const HEATED: Meanings = 4;

/// What a space is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SpaceUse {
    /// A heated room; also where nothing is said.
    Room,
    /// A garage, an unheated attic, a crawl space.
    Unheated,
    /// A terrace, a garden: no room at all.
    Outdoors,
}

/// What a space is, by its name.
pub fn space_use(name: &str) -> SpaceUse {
    static WORDS: OnceLock<Words> = OnceLock::new();
    thread_local! {
        static KNOWN: Remembered = Remembered::default();
    }
    let words = WORDS.get_or_init(|| Words::read(include_str!("words/spaces.csv"), bit));
    let said = KNOWN.with(|known| remember(known, name, |name| words.meanings(name)));
    if said & HEATED != 0 {
        SpaceUse::Room
    } else if said & UNHEATED != 0 {
        SpaceUse::Unheated
    } else if said & OUTDOORS != 0 {
        SpaceUse::Outdoors
    } else {
        SpaceUse::Room
    }
}

fn bit(meaning: &str) -> Meanings {
    match meaning {
        "unheated" => UNHEATED,
        "outdoors" => OUTDOORS,
        "heated" => HEATED,
        _ => 0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Names as plans commonly carry them: common practice, no source.
    #[test]
    fn garages_attics_and_crawl_spaces_are_unheated() {
        for name in [
            "Garage 1",
            "Double garage",
            "Attic",
            "Crawl space",
            "Doppelgarage",
            "Dachboden",
            "Kriechkeller",
            "Comble perdu",
            "Vide sanitaire",
            "Garaje",
            "Autorimessa",
            "Sottotetto",
            "Kruipruimte",
            "Garasje",
            "Kaldtloft",
            "Kallvind",
            "Autotalli",
            "Ryömintätila",
            "Garáž",
            "Strych",
            "Garaż",
            "Local non chauffé",
            "Room, unheated",
            "Krybekælder",
        ] {
            assert_eq!(space_use(name), SpaceUse::Unheated, "{name}");
        }
    }

    #[test]
    fn terraces_and_gardens_are_outdoors_and_rooms_are_rooms() {
        for name in
            ["Terrace", "Dachterrasse", "Balcon", "Jardín", "Cortile", "Terras", "Altan", "Uteplass", "Piha", "Taras"]
        {
            assert_eq!(space_use(name), SpaceUse::Outdoors, "{name}");
        }
        for name in [
            "",
            "Living room",
            "Garage (heated)",
            "Attic bedroom",
            "Küche",
            "Salle de bain",
            "Stue",
            "Makuuhuone",
            "Keller",
        ] {
            assert_eq!(space_use(name), SpaceUse::Room, "{name}");
        }
    }

    #[test]
    fn every_row_of_the_table_has_a_known_meaning() {
        for row in include_str!("words/spaces.csv").lines().filter(|line| !line.starts_with('#')).skip(1) {
            assert!(row.split(',').nth(2).is_some_and(|meaning| bit(meaning) != 0), "{row}");
        }
    }
}
