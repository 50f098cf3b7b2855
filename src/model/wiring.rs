//! Wiring that stands in a cavity.

/// Wiring that somebody saw in a cavity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wiring {
    /// None.
    None,
    /// Cable or conduit.
    Cable,
    /// Knob-and-tube: live until an electrician says otherwise.
    KnobAndTube,
    /// Nobody saw.
    NotSeen,
}

impl Wiring {
    /// All of them, with the word for each.
    pub const WORDS: [(&'static str, Self); 5] = [
        ("none", Self::None),
        ("cable", Self::Cable),
        ("conduit", Self::Cable),
        ("knob-and-tube", Self::KnobAndTube),
        ("not seen", Self::NotSeen),
    ];
}
