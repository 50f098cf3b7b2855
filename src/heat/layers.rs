//! Layers of an assembly, from outside inwards, as far as heat goes.

/// What is known of a layer's heat flow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LayerHeat {
    /// Its conductivity, in watts per metre and kelvin; the thickness makes a resistance of it.
    ConductivityWMk(f64),
    /// Its resistance whatever its thickness, in square metres and kelvins per watt.
    ResistanceM2kW(f64),
}

impl LayerHeat {
    /// Resistance at a thickness in metres; `None` where a conductivity has no thickness.
    pub fn resistance_m2k_w(self, thickness_m: Option<f64>) -> Option<f64> {
        match self {
            Self::ConductivityWMk(conductivity_w_mk) => {
                thickness_m.filter(|thickness_m| *thickness_m > 0.0).map(|thickness_m| thickness_m / conductivity_w_mk)
            }
            Self::ResistanceM2kW(resistance_m2k_w) => Some(resistance_m2k_w),
        }
    }

    /// The conductivity, where that is what is known.
    pub fn conductivity_w_mk(self) -> Option<f64> {
        match self {
            Self::ConductivityWMk(conductivity_w_mk) => Some(conductivity_w_mk),
            Self::ResistanceM2kW(_) => None,
        }
    }
}

/// A layer that is the same all over.
#[derive(Clone, Debug, PartialEq)]
pub struct HeatLayer {
    /// Name, as the model, the job file or the table of films has it.
    pub name: String,
    /// Thickness, in metres; `None` of a film, and where only a resistance is known.
    pub thickness_m: Option<f64>,
    /// Conductivity, in watts per metre and kelvin; `None` where only a resistance is known.
    pub conductivity_w_mk: Option<f64>,
    /// Resistance, in square metres and kelvins per watt.
    pub resistance_m2k_w: f64,
    /// Where its conductivity or resistance comes from.
    pub source: String,
}

/// What stands and lies in the cavity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CavityLayer {
    /// Conductivity of the framing, in watts per metre and kelvin.
    pub framing_w_mk: f64,
    /// Conductivity of the fill at its installed density, in watts per metre and kelvin.
    pub fill_w_mk: f64,
}
