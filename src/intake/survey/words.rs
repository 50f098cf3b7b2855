//! Words for what was seen.

use crate::cells::plain_word;

/// The finish inside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Finish {
    /// Plaster on lath.
    Plaster,
    /// A board that bulges or breaks, such as fibreboard or thin panelling.
    WeakBoard,
    /// Any other, or none.
    Other,
}

/// The siding.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Siding {
    /// Asbestos-cement.
    AsbestosCement,
    /// Any other, or none.
    Other,
}

/// How wet it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Moisture {
    /// Dry.
    Dry,
    /// Damp, wet, stained or leaking.
    Wet,
    /// Nobody looked.
    NotSeen,
}

/// Lead in the paint.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lead {
    /// None was found.
    None,
    /// There is some.
    There,
    /// Nobody tested.
    NotTested,
}

/// A word of a column, and what it means.
pub(super) type Word<T> = (&'static str, T);

pub(super) const FINISHES: &[Word<Finish>] = &[
    ("gypsum board", Finish::Other),
    ("lath and plaster", Finish::Plaster),
    ("plaster", Finish::Plaster),
    ("weak board", Finish::WeakBoard),
    ("panelling", Finish::WeakBoard),
    ("paneling", Finish::WeakBoard),
    ("none", Finish::Other),
    ("other", Finish::Other),
];

pub(super) const SIDINGS: &[Word<Siding>] = &[
    ("wood", Siding::Other),
    ("vinyl", Siding::Other),
    ("metal", Siding::Other),
    ("brick", Siding::Other),
    ("stone", Siding::Other),
    ("stucco", Siding::Other),
    ("fibre cement", Siding::Other),
    ("fiber cement", Siding::Other),
    ("asbestos-cement", Siding::AsbestosCement),
    ("none", Siding::Other),
    ("other", Siding::Other),
];

pub(super) const MOISTURES: &[Word<Moisture>] = &[
    ("dry", Moisture::Dry),
    ("damp", Moisture::Wet),
    ("wet", Moisture::Wet),
    ("stained", Moisture::Wet),
    ("leak", Moisture::Wet),
    ("not seen", Moisture::NotSeen),
];

pub(super) const LEADS: &[Word<Lead>] =
    &[("none", Lead::None), ("no", Lead::None), ("yes", Lead::There), ("not tested", Lead::NotTested)];

/// What a word of a column means.
pub(super) fn meaning<T: Copy>(words: &[Word<T>], text: &str) -> Option<T> {
    let word = plain_word(text);
    words.iter().find(|(known, _)| plain_word(known) == word).map(|(_, value)| *value)
}
