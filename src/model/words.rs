//! Tables of words, and which meanings a name has by them.
//!
//! The tables are files that people read and extend: `words/*.csv`, which say how a word is written there.

use std::cell::RefCell;
use std::collections::HashMap;

/// Most names whose meanings are remembered; a model has far fewer materials.
const MOST_REMEMBERED: usize = 4096;
/// No name of a material or a space is longer, in characters; what follows is not looked at.
const LONGEST: usize = 400;

/// Meanings of a name, one bit each.
pub(super) type Meanings = u32;

/// A table of words.
pub(super) struct Words {
    entries: Vec<Entry>,
}

/// A word or phrase, with its accents dropped or written out.
struct Entry {
    parts: Vec<Part>,
    meaning: Meanings,
}

/// One word of a phrase.
struct Part {
    text: String,
    /// Whether letters may stand before it.
    open_before: bool,
    /// Whether letters may follow.
    open_after: bool,
}

impl Part {
    fn new(word: &str, fold: fn(char, &mut String)) -> Self {
        let mut text = String::new();
        word.trim_matches('*').chars().for_each(|c| fold(c, &mut text));
        Self { text, open_before: word.starts_with('*'), open_after: word.ends_with('*') }
    }

    fn fits(&self, word: &str) -> bool {
        match (self.open_before, self.open_after) {
            (false, false) => word == self.text,
            (false, true) => word.starts_with(&self.text),
            (true, false) => word.ends_with(&self.text),
            (true, true) => word.contains(&self.text),
        }
    }
}

impl Words {
    /// Reads a table; `bit` gives the meaning of a word of its last column, 0 for an unknown one.
    pub(super) fn read(table: &str, bit: fn(&str) -> Meanings) -> Self {
        let rows = table.lines().filter(|line| !line.starts_with('#')).skip(1);
        let mut entries = Vec::new();
        for row in rows {
            let mut cells = row.split(',').map(str::trim).skip(1);
            let (Some(phrase), Some(meaning)) = (cells.next(), cells.next()) else { continue };
            for fold in [fold_short, fold_long] {
                let parts: Vec<Part> = phrase.split_whitespace().map(|word| Part::new(word, fold)).collect();
                entries.push(Entry { parts, meaning: bit(meaning) });
            }
        }
        Self { entries }
    }

    /// All that a name means. Of two phrases in one place the longer one counts.
    pub(super) fn meanings(&self, name: &str) -> Meanings {
        let words = split(name);
        let mut found: Vec<(usize, usize, Meanings)> = Vec::new();
        for entry in &self.entries {
            let length = entry.parts.len();
            for (at, window) in words.windows(length.max(1)).enumerate() {
                if entry.parts.iter().zip(window).all(|(part, word)| part.fits(word)) {
                    found.push((at, at + length, entry.meaning));
                }
            }
        }
        let is_covered = |(from, to, _): &(usize, usize, Meanings)| {
            found.iter().any(|(a, b, _)| a <= from && b >= to && b - a > to - from)
        };
        found.iter().filter(|one| !is_covered(one)).fold(0, |all, (_, _, meaning)| all | meaning)
    }
}

/// Meanings that were looked up before, by name; one store a thread.
pub(super) type Remembered = RefCell<HashMap<String, Meanings>>;

/// Looks a name up once.
pub(super) fn remember(store: &Remembered, name: &str, look_up: impl Fn(&str) -> Meanings) -> Meanings {
    if let Some(known) = store.borrow().get(name) {
        return *known;
    }
    let found = look_up(name);
    let mut store = store.borrow_mut();
    if store.len() >= MOST_REMEMBERED {
        store.clear();
    }
    store.insert(name.to_owned(), found);
    found
}

/// The words of a name, in lower case and without accents; `OakStud_60` holds three.
fn split(name: &str) -> Vec<String> {
    let mut words = Vec::new();
    let mut word = String::new();
    let mut before = ' ';
    // Accents may be characters of their own.
    for character in name.chars().take(LONGEST).filter(|c| !('\u{300}'..='\u{36f}').contains(c)) {
        let is_edge = !character.is_alphanumeric()
            || character.is_numeric() != before.is_numeric()
            || (character.is_uppercase() && before.is_lowercase());
        if is_edge && !word.is_empty() {
            words.push(std::mem::take(&mut word));
        }
        if character.is_alphanumeric() {
            character.to_lowercase().for_each(|c| fold_short(c, &mut word));
        }
        before = character;
    }
    if !word.is_empty() {
        words.push(word);
    }
    words
}

/// A letter without its accent, in lower case: the way that names are looked up.
fn fold_short(letter: char, out: &mut String) {
    let plain = match letter {
        'à'..='å' | 'ā' | 'ă' | 'ą' => 'a',
        'ç' | 'ć' | 'č' => 'c',
        'ď' | 'đ' | 'ð' => 'd',
        'è'..='ë' | 'ē' | 'ę' | 'ě' => 'e',
        'ì'..='ï' | 'ı' => 'i',
        'ł' | 'ĺ' | 'ľ' => 'l',
        'ñ' | 'ń' | 'ň' => 'n',
        'ò'..='ö' | 'ø' | 'ő' => 'o',
        'ŕ' | 'ř' => 'r',
        'ś' | 'š' | 'ş' => 's',
        'ť' | 'ţ' => 't',
        'ù'..='ü' | 'ů' | 'ű' => 'u',
        'ý' | 'ÿ' => 'y',
        'ź' | 'ż' | 'ž' => 'z',
        'ß' => return out.push_str("ss"),
        'æ' => return out.push_str("ae"),
        'œ' => return out.push_str("oe"),
        other if ('\u{300}'..='\u{36f}').contains(&other) => return,
        other => other,
    };
    out.push(plain);
}

/// A letter with its accent written out, as German and the Nordic languages do.
fn fold_long(letter: char, out: &mut String) {
    match letter {
        'ä' => out.push_str("ae"),
        'ö' | 'ø' => out.push_str("oe"),
        'ü' => out.push_str("ue"),
        'å' => out.push_str("aa"),
        other => fold_short(other, out),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_falls_into_words_at_case_digits_and_signs() {
        assert_eq!(split("OakStud_60"), ["oak", "stud", "60"]);
        assert_eq!(split("Türrahmen (groß)"), ["turrahmen", "gross"]);
        assert_eq!(split("Sta\u{308}nder"), ["stander"]);
        assert!(split("  -- ").is_empty());
    }

    #[test]
    fn the_longer_phrase_counts_and_stars_stand_for_letters() {
        let bit = |meaning: &str| if meaning == "a" { 1 } else { 2 };
        let words = Words::read("# x\nlanguage,word,meaning\nen,frame,a\nen,door frame,b\nde,*ständer,a\n", bit);
        assert_eq!(words.meanings("Door - Frame"), 2);
        assert_eq!(words.meanings("frame of a door"), 1);
        assert_eq!(words.meanings("Door frame in a frame"), 3);
        assert_eq!(words.meanings("HOLZSTAENDER"), 1);
        assert_eq!(words.meanings("Holzständerwand"), 0);
    }
}
