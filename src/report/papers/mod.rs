//! Papers to print, fill in and sign: self-contained pages, one file each, without script or anything from elsewhere.

mod certificate;
mod opinion;
mod receipt;
mod record;
mod shell;

pub use opinion::opinion_html;

use crate::closeout::Closeout;
use crate::units::UnitSystem;

/// Receipt, certificate and record of a closeout, one page each.
pub fn closeout_html(closeout: &Closeout, units: UnitSystem) -> String {
    let papers =
        [receipt::receipt(closeout, units), certificate::certificate(closeout, units), record::record(closeout, units)];
    shell::pages("Papers of an insulation job", &papers)
}
