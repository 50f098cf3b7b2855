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

/// Whether a pattern fits the type or the name of a surface.
pub(super) fn fits(pattern: &Glob, surface: &Surface) -> bool {
    let name = surface.name.as_deref();
    let type_name = surface.type_name.as_deref();
    // A surface without a type or a name still is fitted by `*`.
    [type_name, name].into_iter().flatten().any(|text| pattern.is_match(text))
        || (name.is_none() && type_name.is_none() && pattern.is_match(""))
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
