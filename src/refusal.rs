//! Refusals: an input or an argument cannot be used, and the run ends with exit status 2.

use crate::source::Place;
use std::fmt;

/// One reason why an input, an argument or an output file cannot be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// Where it is.
    pub place: Place,
    /// What was found and what was expected.
    pub message: String,
    /// How to mend it; empty where the message says it all.
    pub help: String,
    /// The line of the input that is meant, to show beside the message.
    pub excerpt: Option<Excerpt>,
}

/// A line of an input, and the part of it that is meant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Excerpt {
    /// The line, without its end.
    pub text: String,
    /// First byte of the part.
    pub from: usize,
    /// Byte behind the part.
    pub to: usize,
}

impl Refusal {
    /// A refusal at a place.
    pub fn new(place: Place, message: impl Into<String>, help: impl Into<String>) -> Self {
        Self { place, message: message.into(), help: help.into(), excerpt: None }
    }

    /// The same refusal, with the line that is meant.
    pub fn with_excerpt(self, excerpt: Excerpt) -> Self {
        Self { excerpt: Some(excerpt), ..self }
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let place = self.place.to_string();
        if !place.is_empty() {
            write!(f, "{place}: ")?;
        }
        f.write_str(&self.message)
    }
}

impl std::error::Error for Refusal {}
