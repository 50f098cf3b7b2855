//! Framing fractions that are published as defaults.

use super::Confidence;
use crate::model::SurfaceKind;
use crate::units::INCH_M;

/// How far a spacing may be from the published one, in metres: 600 and 625 mm stand for 24 in.
const SAME_SPACING_M: f64 = INCH_M;

/// A framing fraction that is published as a default, for wood framing.
pub(super) struct Published {
    pub kind: SurfaceKind,
    /// Spacing that it is published for; `None` where it is for any.
    pub spacing_m: Option<f64>,
    pub fraction: f64,
    pub source: &'static str,
    pub confidence: Confidence,
}

impl Published {
    /// Whether it is published for framing of such a spacing.
    pub fn is_for(&self, spacing_m: Option<f64>) -> bool {
        match (self.spacing_m, spacing_m) {
            (None, _) => true,
            (Some(own_m), Some(spacing_m)) => (own_m - spacing_m).abs() <= SAME_SPACING_M,
            (Some(_), None) => false,
        }
    }
}

/// The default that is usual for framing of a kind and spacing: the first that is published for it, else the first for
/// the kind.
pub(super) fn usual(kind: SurfaceKind, spacing_m: Option<f64>) -> Option<&'static Published> {
    let of_kind = || PUBLISHED.iter().filter(|one| one.kind == kind);
    of_kind().find(|one| one.is_for(spacing_m)).or_else(|| of_kind().next())
}

const fn published(
    kind: SurfaceKind,
    spacing_m: Option<f64>,
    fraction: f64,
    source: &'static str,
    confidence: Confidence,
) -> Published {
    Published { kind, spacing_m, fraction, source, confidence }
}

const AT_16_IN: Option<f64> = Some(16.0 * INCH_M);
const AT_24_IN: Option<f64> = Some(24.0 * INCH_M);
const HOME_MODELS: &str = "open home energy models";

/// The defaults: those of walls are studs, plates and sills + headers where the source parts them.
///
/// # Source
/// WAC 51-11-1005.2 (read in the code's own text, but for the advanced figures); ASHRAE 90.1 A3.4 and
/// the Handbook of Fundamentals (from memory); the California energy code by a trade paper, its
/// advanced wall by Joint Appendix 4 (from memory); the National Building Code of Canada, A-9.36.2.4
/// (from memory); the tables of an open library for home energy models.
pub(super) const PUBLISHED: &[Published] = {
    use Confidence::{FromMemory, Read};
    use SurfaceKind::{Ceiling, Floor, Roof, Wall};
    &[
        published(Wall, AT_16_IN, 0.23, "WAC 51-11-1005 standard: .19 + .04", Read),
        published(Wall, AT_16_IN, 0.25, "ASHRAE 90.1 A3.4: .21 + .04", FromMemory),
        published(Wall, AT_16_IN, 0.25, "California energy code, conventional", Read),
        published(Wall, AT_16_IN, 0.22, "WAC 51-11-1005 intermediate: .18 + .04", Read),
        published(Wall, AT_16_IN, 0.23, HOME_MODELS, Read),
        published(Wall, AT_16_IN, 0.23, "NBC of Canada A-9.36.2.4", FromMemory),
        published(Wall, AT_24_IN, 0.17, "WAC 51-11-1005 advanced: .13 + .04", FromMemory),
        published(Wall, AT_24_IN, 0.22, "ASHRAE 90.1 A3.4: .18 + .04", FromMemory),
        published(Wall, AT_24_IN, 0.22, "California energy code, 2x6", Read),
        published(Wall, AT_24_IN, 0.17, "California JA4, advanced", FromMemory),
        published(Wall, AT_24_IN, 0.20, HOME_MODELS, Read),
        published(Wall, AT_24_IN, 0.20, "NBC of Canada A-9.36.2.4", FromMemory),
        published(Roof, None, 0.07, HOME_MODELS, Read),
        published(Floor, AT_16_IN, 0.13, HOME_MODELS, Read),
        published(Floor, AT_24_IN, 0.10, HOME_MODELS, Read),
        published(Ceiling, None, 0.10, HOME_MODELS, FromMemory),
    ]
};
