//! Generic materials, with what is published of each. Never a brand: the label on the bag wins over all of it.

use crate::units::{BTU_INCH_PER_HOUR_SQUARE_FOOT_F_W_MK, INCH_M, POUND_PER_CUBIC_FOOT_KG_M3};

/// A published figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figure {
    /// In SI.
    pub si: f64,
    /// The number as published.
    pub number: &'static str,
    /// Its unit.
    pub unit: &'static str,
    /// Where it comes from, and how sure that is.
    pub source: &'static str,
}

/// A generic material.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Material {
    /// Names, the usual one first.
    pub names: &'static [&'static str],
    /// Installed density in closed cavities; `None` where only the maker says.
    pub density: Option<Figure>,
    /// Installed density in deep ones, and the depth from which they are deep.
    pub deep: Option<(Figure, Figure)>,
    /// Settled density where it lies open.
    pub open_density: Option<Figure>,
    /// Least and greatest settled density that products of the kind have where they lie open.
    pub open_range: Option<(Figure, Figure)>,
    /// Settling as a share of the initial thickness.
    pub settling: Option<Figure>,
    /// Thermal conductivity in closed cavities, at the installed density.
    pub conductivity: Option<Figure>,
    /// The same of fill that lies open and thick.
    pub open_conductivity: Option<Figure>,
    /// Least installed density of the US Standard Work Specifications in closed cavities.
    pub least_density: Option<Figure>,
    /// Installed density beyond which finishes bulge and material is wasted.
    pub most_density: Option<Figure>,
}

impl Material {
    /// The usual name.
    pub fn name(&self) -> &'static str {
        self.names.first().copied().unwrap_or_default()
    }
}

const PRACTICE: &str = "common practice, no source";
const LIBRARY: &str = "loose fill in a national laboratory's open simulation library (confidence: medium)";
const DOE: &str =
    "US Department of Energy, fact sheet on loose-fill insulation, as copied by others (confidence: medium)";

const fn density(si_lb_ft3: f64, number: &'static str, source: &'static str) -> Figure {
    Figure { si: si_lb_ft3 * POUND_PER_CUBIC_FOOT_KG_M3, number, unit: "lb/ft3", source }
}

const fn percent(share: f64, number: &'static str, source: &'static str) -> Figure {
    Figure { si: share, number, unit: "%", source }
}

/// The generic materials.
pub const MATERIALS: [Material; 3] = [CELLULOSE, GLASS_FIBRE, MINERAL_WOOL];

const CELLULOSE: Material = Material {
    names: &["cellulose"],
    density: Some(density(3.5, "3.5", PRACTICE)),
    deep: Some((
        density(4.0, "4.0", PRACTICE),
        Figure { si: 9.25 * INCH_M, number: "9.25", unit: "in", source: PRACTICE },
    )),
    open_density: Some(density(1.5, "1.5", LIBRARY)),
    open_range: Some((
        density(1.2, "1.2", "ASHRAE Fundamentals, loose fill in thick attics, from memory (confidence: medium)"),
        density(2.0, "2.0", DOE),
    )),
    settling: Some(percent(0.20, "20", DOE)),
    conductivity: Some(Figure {
        si: 0.28 * BTU_INCH_PER_HOUR_SQUARE_FOOT_F_W_MK,
        number: "0.28",
        unit: "Btu in/(h ft2 F)",
        source: "ASHRAE Fundamentals, dense-packed wall, the greater of two, from memory (confidence: medium)",
    }),
    open_conductivity: Some(Figure {
        si: 0.28 * BTU_INCH_PER_HOUR_SQUARE_FOOT_F_W_MK,
        number: "0.28",
        unit: "Btu in/(h ft2 F)",
        source: "ASHRAE Fundamentals, loose fill in thick attics, the greater of two, from memory (confidence: medium)",
    }),
    least_density: Some(density(3.5, "3.5", "US Standard Work Specifications 4.1103.1 (confidence: high)")),
    most_density: Some(density(
        4.5,
        "4.5",
        "US weatherization training curriculum, 2012: 3.5 to 4.5 lb/ft3 (confidence: high)",
    )),
};

const GLASS_FIBRE: Material = Material {
    names: &["glass fibre", "glass fiber", "fibreglass", "fiberglass", "fibre glass", "fiber glass"],
    density: Some(density(
        2.2,
        "2.2",
        "a utility programme's specification of closed walls, with the density of the label (confidence: high)",
    )),
    deep: None,
    open_density: Some(density(0.5, "0.5", LIBRARY)),
    open_range: Some((
        density(
            0.43,
            "0.43",
            "coverage table in a public building-permit record, least implied density (confidence: high)",
        ),
        density(
            0.55,
            "0.55",
            "coverage tables in public building-permit records, greatest implied density (confidence: high)",
        ),
    )),
    settling: Some(percent(0.04, "4", DOE)),
    conductivity: None,
    open_conductivity: None,
    least_density: None,
    most_density: None,
};

const MINERAL_WOOL: Material = Material {
    names: &["mineral wool", "rock wool", "slag wool", "stone wool"],
    density: None,
    deep: None,
    open_density: None,
    open_range: None,
    settling: Some(percent(0.02, "2", DOE)),
    conductivity: None,
    open_conductivity: None,
    least_density: None,
    most_density: None,
};

/// The generic material of a name, in any case.
pub fn material_named(name: &str) -> Option<&'static Material> {
    let plain = name.trim().to_lowercase();
    MATERIALS.iter().find(|material| material.names.contains(&plain.as_str()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn materials_are_found_by_all_their_names() {
        assert_eq!(material_named(" Cellulose ").unwrap().name(), "cellulose");
        assert_eq!(material_named("fiberglass").unwrap().name(), "glass fibre");
        assert_eq!(material_named("rock wool").unwrap().name(), "mineral wool");
        assert!(material_named("straw").is_none());
    }

    #[test]
    fn every_figure_is_what_its_text_says() {
        for material in &MATERIALS {
            let figures = [material.density, material.open_density, material.settling, material.least_density];
            for figure in figures.into_iter().flatten() {
                let number: f64 = figure.number.parse().unwrap();
                let factor = if figure.unit == "%" { 0.01 } else { POUND_PER_CUBIC_FOOT_KG_M3 };
                assert!((figure.si - number * factor).abs() < 1e-12, "{} {}", material.name(), figure.number);
            }
        }
    }
}
