//! A fill material as it is written.

use schemars::JsonSchema;
use serde::Deserialize;
use toml::Spanned;

/// A fill material.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct FillFile {
    /// Installed density, such as `3.5 lb/ft3` or `56 kg/m3`.
    #[schemars(with = "Option<String>")]
    pub density: Option<Spanned<String>>,
    /// Installed density in deep bays.
    #[schemars(with = "Option<String>")]
    pub deep_density: Option<Spanned<String>>,
    /// Settled density of open-blown fill on ceilings.
    #[schemars(with = "Option<String>")]
    pub open_density: Option<Spanned<String>>,
    /// Depth from which a bay is deep.
    #[schemars(with = "Option<String>")]
    pub deep_from: Option<Spanned<String>>,
    /// Conductivity at the installed density, such as `0.27 Btu in/(h ft2 F)` or `0.039 W/(m K)`.
    #[schemars(with = "Option<String>")]
    pub conductivity: Option<Spanned<String>>,
    /// Net mass of a bag, from its label, such as `25 lb` or `11.3 kg`.
    #[schemars(with = "Option<String>")]
    pub bag: Option<Spanned<String>>,
    /// Fraction added for spill, hopper and run-through.
    #[schemars(with = "Option<f64>")]
    pub allowance: Option<Spanned<f64>>,
    /// Whether existing walls are filled through drilled holes, which spills more.
    pub retrofit: Option<bool>,
}

/// Keys of a fill.
pub(super) const FILL: &[&str] =
    &["density", "deep_density", "open_density", "deep_from", "conductivity", "bag", "allowance", "retrofit"];
