//! Which surfaces are asked for, by what lies on the other side.

use super::Glob;
use crate::model::{Exposure, Surface};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Which exposures are asked for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum ExposureAsked {
    /// Exterior and unconditioned.
    #[default]
    Exterior,
    /// Interior and unknown ones too.
    All,
    /// Interior ones alone.
    Interior,
}

impl ExposureAsked {
    /// Why a surface is not asked for; `None` where it is.
    pub fn reason_against(self, exposure: Exposure) -> Option<&'static str> {
        let outer = matches!(exposure, Exposure::Exterior | Exposure::Unconditioned);
        match (self, exposure) {
            (Self::All, _) | (Self::Interior, Exposure::Interior) => None,
            (Self::Exterior, _) if outer => None,
            (_, Exposure::Unknown) => Some("exposure not known"),
            (Self::Exterior, _) => Some("interior"),
            (Self::Interior, _) => Some("not interior"),
        }
    }

    /// The word before the kind, as people read it; empty for all.
    pub fn word(self) -> &'static str {
        match self {
            Self::Exterior => "exterior",
            Self::All => "",
            Self::Interior => "interior",
        }
    }
}

/// A pattern that says what lies on the other side of the surfaces that it fits.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ExposureRule {
    /// Pattern on type or name.
    pub pattern: Glob,
    /// What lies on the other side.
    pub exposure: Exposure,
}

impl ExposureRule {
    /// Whether the rule is about a surface.
    pub fn fits(&self, surface: &Surface) -> bool {
        fits(&self.pattern, surface)
    }
}

/// Whether a pattern fits the type or the name of a surface, or the id of a sheet's row, which is
/// its name; a `GlobalId` is nobody's name.
pub(super) fn fits(pattern: &Glob, surface: &Surface) -> bool {
    let id = surface.source.line.map(|_| surface.id.as_str());
    let mut names = [surface.type_name.as_deref(), surface.name.as_deref(), id].into_iter().flatten().peekable();
    // What has no name at all still is fitted by `*`.
    if names.peek().is_none() {
        return pattern.is_match("");
    }
    names.any(|name| pattern.is_match(name))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_unheated_garage_is_asked_for_and_an_unknown_wall_is_not() {
        assert_eq!(ExposureAsked::Exterior.reason_against(Exposure::Unconditioned), None);
        assert_eq!(ExposureAsked::Exterior.reason_against(Exposure::Unknown), Some("exposure not known"));
        assert_eq!(ExposureAsked::Interior.reason_against(Exposure::Exterior), Some("not interior"));
        assert_eq!(ExposureAsked::All.reason_against(Exposure::Unknown), None);
    }
}
