//! What openings are called, and what is known of flues and lights.

use super::Misread;
use crate::model::{FlueKind, OpeningKind};
use crate::units::display::both_ways;

/// More than fill stays off anything (m).
const WIDEST_CLEARANCE_M: f64 = 1.0;

/// Words for openings.
pub const OPENING_KINDS: [(&str, OpeningKind); 8] = [
    ("window", OpeningKind::Window),
    ("door", OpeningKind::Door),
    ("hatch", OpeningKind::Hatch),
    ("skylight", OpeningKind::Skylight),
    ("chimney", OpeningKind::Chimney),
    ("flue", OpeningKind::Flue),
    ("light", OpeningKind::Light),
    ("other", OpeningKind::Other),
];

/// Words for how a flue or a chimney is built.
pub const FLUE_KINDS: [(&str, FlueKind); 3] =
    [("type B", FlueKind::TypeB), ("single wall", FlueKind::SingleWall), ("masonry", FlueKind::Masonry)];

/// How a flue is built is said of flues and chimneys; `None` is a platform.
///
/// # Errors
/// Anything else.
pub fn flue_fits(kind: Option<OpeningKind>) -> Result<(), Misread> {
    if matches!(kind, Some(OpeningKind::Chimney | OpeningKind::Flue)) {
        return Ok(());
    }
    let message = "`flue` says how a chimney or a flue is built, and this row is neither";
    Err(Misread::new(message, "leave the cell empty, or write `chimney` or `flue` as the kind"))
}

/// A clearance is kept from what gets hot or is hung in a ceiling; `None` is a platform.
///
/// # Errors
/// Windows, doors and platforms.
pub fn clearance_fits(kind: Option<OpeningKind>) -> Result<(), Misread> {
    if !matches!(kind, None | Some(OpeningKind::Window | OpeningKind::Door)) {
        return Ok(());
    }
    Err(Misread::new(
        "`clearance` is how far fill stays off a chimney, a flue, a light or the like",
        "leave the cell empty; where the size of the unit is known, `unit width` and `unit height` add the room around it",
    ))
}

/// A clearance is as wide as one may be.
///
/// # Errors
/// A wider one.
pub fn clearance_is_likely(clearance_m: f64) -> Result<(), Misread> {
    if clearance_m <= WIDEST_CLEARANCE_M {
        return Ok(());
    }
    let message = format!("a clearance of {} is more than fill stays off anything", both_ways(clearance_m));
    Err(Misread::new(message, "check the unit: around a masonry chimney it is some inches, such as `2 in`"))
}
