//! What the name of an opening in a floor, ceiling or roof says of it.

use super::words::{Meanings, Remembered, Words, remember};
use super::{FlueKind, OpeningKind};
use std::sync::OnceLock;

const CHIMNEY: Meanings = 1;
const FLUE: Meanings = 2;
const LIGHT: Meanings = 4;
const HATCH: Meanings = 8;
const SKYLIGHT: Meanings = 16;
const TYPE_B: Meanings = 32;
const SINGLE_WALL: Meanings = 64;
const MASONRY: Meanings = 128;
const OTHER: Meanings = 256;

/// What an opening is by its name, or by the name of what stands in it, and how its flue is built.
///
/// The kind is `None` where the name does not say; the flue is that of a chimney or flue alone.
pub fn opening_use(name: &str) -> (Option<OpeningKind>, Option<FlueKind>) {
    static WORDS: OnceLock<Words> = OnceLock::new();
    thread_local! {
        static KNOWN: Remembered = Remembered::default();
    }
    let words = WORDS.get_or_init(|| Words::read(include_str!("words/openings.csv"), bit));
    let said = KNOWN.with(|known| remember(known, name, |name| words.meanings(name)));
    let has = |meaning: Meanings| said & meaning != 0;
    let kind = if has(SKYLIGHT) {
        Some(OpeningKind::Skylight)
    } else if has(CHIMNEY) {
        Some(OpeningKind::Chimney)
    } else if has(FLUE) || has(TYPE_B) {
        Some(OpeningKind::Flue)
    } else if has(HATCH) {
        Some(OpeningKind::Hatch)
    } else if has(LIGHT) {
        Some(OpeningKind::Light)
    } else {
        None
    };
    (kind, flue(kind, has))
}

fn flue(kind: Option<OpeningKind>, has: impl Fn(Meanings) -> bool) -> Option<FlueKind> {
    if !matches!(kind, Some(OpeningKind::Chimney | OpeningKind::Flue)) {
        None
    } else if has(SINGLE_WALL) {
        Some(FlueKind::SingleWall)
    } else if has(TYPE_B) {
        Some(FlueKind::TypeB)
    } else if has(MASONRY) {
        Some(FlueKind::Masonry)
    } else {
        None
    }
}

fn bit(meaning: &str) -> Meanings {
    match meaning {
        "chimney" => CHIMNEY,
        "flue" => FLUE,
        "light" => LIGHT,
        "hatch" => HATCH,
        "skylight" => SKYLIGHT,
        "type b" => TYPE_B,
        "single wall" => SINGLE_WALL,
        "masonry" => MASONRY,
        "other" => OTHER,
        _ => 0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Names as models and plans commonly carry them: common practice, no source.
    #[test]
    fn names_in_several_languages_say_what_an_opening_is() {
        for (name, kind) in [
            ("Chimney 1", OpeningKind::Chimney),
            ("Schornstein", OpeningKind::Chimney),
            ("Souche de cheminée", OpeningKind::Chimney),
            ("Savupiippu", OpeningKind::Chimney),
            ("Gas flue", OpeningKind::Flue),
            ("B-vent 4in", OpeningKind::Flue),
            ("Rökkanal", OpeningKind::Flue),
            ("Attic hatch", OpeningKind::Hatch),
            ("Bodentreppe 70x120", OpeningKind::Hatch),
            ("Trappe d'accès", OpeningKind::Hatch),
            ("Loftslem", OpeningKind::Hatch),
            ("Downlight LED", OpeningKind::Light),
            ("Einbauleuchte", OpeningKind::Light),
            ("Oprawa oświetleniowa", OpeningKind::Light),
            ("Skylight 24x48", OpeningKind::Skylight),
            ("Roof light", OpeningKind::Skylight),
            ("Dachflächenfenster", OpeningKind::Skylight),
            ("Světlík", OpeningKind::Skylight),
        ] {
            assert_eq!(opening_use(name).0, Some(kind), "{name}");
        }
        for name in ["", "Opening 3", "Stair", "Light well", "Shaft", "Lightweight"] {
            assert_eq!(opening_use(name), (None, None), "{name}");
        }
    }

    #[test]
    fn a_flue_is_built_as_its_name_says_and_not_otherwise() {
        for (name, flue) in [
            ("Brick chimney", Some(FlueKind::Masonry)),
            ("Schornstein, gemauert", Some(FlueKind::Masonry)),
            ("Type B gas vent", Some(FlueKind::TypeB)),
            ("Flue, single-wall", Some(FlueKind::SingleWall)),
            ("Chimney", None),
            ("Flue pipe", None),
            ("Brick arch", None),
        ] {
            assert_eq!(opening_use(name).1, flue, "{name}");
        }
    }

    #[test]
    fn every_row_of_the_table_has_a_known_meaning() {
        for row in include_str!("words/openings.csv").lines().filter(|line| !line.starts_with('#')).skip(1) {
            assert!(row.split(',').nth(2).is_some_and(|meaning| bit(meaning) != 0), "{row}");
        }
    }
}
