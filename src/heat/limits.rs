//! Resistance of layers that are not the same all over: parallel path, isothermal planes, and both combined.

/// Ratio of the upper limit to the lower one up to which the combined method holds.
///
/// # Source
/// ISO 6946:2017, 6.7.2.1 (in the edition of 2007: 6.2.1), from memory; it excludes layers bridged by metal as well.
pub const MOST_RATIO: f64 = 1.5;
/// What rounding may add to a ratio that is just the greatest.
const ROUNDING: f64 = 1e-9;

/// A part of a layer, side by side with others.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// Share of the layer's area.
    pub fraction: f64,
    /// Its resistance, in square metres and kelvins per watt.
    pub resistance_m2k_w: f64,
}

/// A way straight through all layers.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// Share of the area.
    pub fraction: f64,
    /// Resistance of each layer, films among them, in square metres and kelvins per watt; in the same order in every
    /// section.
    pub layers_m2k_w: Vec<f64>,
}

impl Section {
    /// Resistance from end to end.
    fn resistance_m2k_w(&self) -> f64 {
        self.layers_m2k_w.iter().fold(0.0, |sum, layer| sum + layer)
    }
}

/// Resistance by both limits, in square metres and kelvins per watt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Combined {
    /// Upper limit, by parallel path.
    pub upper_m2k_w: f64,
    /// Lower limit, by isothermal planes.
    pub lower_m2k_w: f64,
    /// Their mean.
    pub mean_m2k_w: f64,
    /// Most that the mean may be off, as a share of it.
    pub error_share: f64,
}

impl Combined {
    /// Upper limit by the lower one.
    pub fn ratio(&self) -> f64 {
        self.upper_m2k_w / self.lower_m2k_w
    }

    /// Whether the mean may be used.
    pub fn holds(&self) -> bool {
        self.ratio() <= MOST_RATIO * (1.0 + ROUNDING)
    }
}

/// Sections through layers whose parts lie by chance one behind another: each part of one behind each of the other, by
/// the product of their fractions. A layer that is the same all over is one part.
///
/// # Source
/// ISO 6946:2017, 6.7.2.3, for layers that are bridged independently, from memory.
pub fn by_product(layers: &[Vec<Part>]) -> Vec<Section> {
    let first = vec![Section { fraction: 1.0, layers_m2k_w: Vec::new() }];
    layers.iter().fold(first, |sections, parts| {
        let with = |section: &Section, part: &Part| {
            let mut layers_m2k_w = section.layers_m2k_w.clone();
            layers_m2k_w.push(part.resistance_m2k_w);
            Section { fraction: section.fraction * part.fraction, layers_m2k_w }
        };
        sections.iter().flat_map(|section| parts.iter().map(move |part| with(section, part))).collect()
    })
}

/// Resistance by parallel path: no heat goes sideways. `1 / R = sum of f / R` over the sections.
///
/// # Source
/// ISO 6946:2017, 6.7.2.3, upper limit (2007: 6.2.3); ASHRAE Handbook of Fundamentals, parallel path; both from memory.
pub fn parallel_path(sections: &[Section]) -> f64 {
    let conductances = taken(sections).map(|section| section.fraction / section.resistance_m2k_w());
    1.0 / conductances.fold(0.0, |sum, conductance| sum + conductance)
}

/// Resistance by isothermal planes: every plane between two layers has one temperature. `1 / R = sum of f / R` in each
/// layer, and the layers in series.
///
/// # Source
/// ISO 6946:2017, 6.7.2.4, lower limit (2007: 6.2.4); ASHRAE Handbook of Fundamentals, isothermal planes; both from
/// memory.
pub fn isothermal_planes(sections: &[Section]) -> f64 {
    let layers = sections.first().map_or(0, |section| section.layers_m2k_w.len());
    let of_layer = |index: usize| {
        let parts = taken(sections).filter_map(|s| Some(s.fraction / s.layers_m2k_w.get(index)?));
        1.0 / parts.fold(0.0, |sum, conductance| sum + conductance)
    };
    (0..layers).map(of_layer).fold(0.0, |sum, layer| sum + layer)
}

fn taken(sections: &[Section]) -> impl Iterator<Item = &Section> {
    sections.iter().filter(|section| section.fraction > 0.0)
}

/// Resistance by both limits, their mean, and how far it may be off: `e = (R' - R'') / (2 R)`. `None` where the layers
/// have no resistance.
///
/// # Source
/// ISO 6946:2017, 6.7.2.2 and 6.7.2.5 (2007: 6.2.2 and 6.2.5), from memory.
pub fn combined(sections: &[Section]) -> Option<Combined> {
    let (upper_m2k_w, lower_m2k_w) = (parallel_path(sections), isothermal_planes(sections));
    let mean_m2k_w = f64::midpoint(upper_m2k_w, lower_m2k_w);
    let error_share = (upper_m2k_w - lower_m2k_w) / (2.0 * mean_m2k_w);
    let is_sound = lower_m2k_w > 0.0 && upper_m2k_w.is_finite() && error_share.is_finite();
    is_sound.then_some(Combined { upper_m2k_w, lower_m2k_w, mean_m2k_w, error_share })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn part(fraction: f64, resistance_m2k_w: f64) -> Part {
        Part { fraction, resistance_m2k_w }
    }

    #[test]
    fn a_layer_that_is_the_same_all_over_only_adds_up() {
        let whole = combined(&by_product(&[vec![part(1.0, 0.5)], vec![part(1.0, 2.0)]])).unwrap();
        assert!((whole.upper_m2k_w - 2.5).abs() < 1e-12 && (whole.lower_m2k_w - 2.5).abs() < 1e-12);
        assert!(whole.error_share.abs() < 1e-12 && whole.holds());
        assert_eq!(combined(&[]), None);
        assert_eq!(combined(&by_product(&[vec![part(1.0, 0.0)]])), None);
    }

    #[test]
    fn a_membrane_without_resistance_changes_nothing() {
        let wall = vec![vec![part(0.8, 3.0), part(0.2, 1.0)], vec![part(1.0, 0.3)]];
        let with: Vec<Vec<Part>> = wall.iter().cloned().chain([vec![part(1.0, 0.0)]]).collect();
        assert_eq!(combined(&by_product(&wall)), combined(&by_product(&with)));
    }

    // By hand, a layer of halves of `cold` and 4, and a film. Film 2, cold 1: 1 / (0.5 / 3 + 0.5 / 6) = 4 against 1 /
    // (0.5 / 1 + 0.5 / 4) + 2 = 3.6. Film 1, and a bridge of nothing: 1 / (0.5 / 1 + 0.5 / 5) = 5/3 against 1.
    #[test]
    fn the_ratio_says_whether_the_mean_may_be_used() {
        let with = |film: f64, cold: f64| {
            combined(&by_product(&[vec![part(0.5, cold), part(0.5, 4.0)], vec![part(1.0, film)]])).unwrap()
        };
        let sound = with(2.0, 1.0);
        assert!((sound.upper_m2k_w - 4.0).abs() < 1e-12 && (sound.lower_m2k_w - 3.6).abs() < 1e-12);
        assert!(sound.holds() && (sound.error_share - 0.4 / 7.6).abs() < 1e-12);
        let bridged = with(1.0, 1e-9);
        assert!((bridged.ratio() - 5.0 / 3.0).abs() < 1e-6 && !bridged.holds());
    }

    fn layers() -> impl Strategy<Value = Vec<Vec<Part>>> {
        let bridged = (0.0..1.0_f64, 0.01..5.0_f64, 0.01..5.0_f64)
            .prop_map(|(fraction, a, b)| vec![part(fraction, a), part(1.0 - fraction, b)]);
        let plain = (0.0..5.0_f64).prop_map(|resistance| vec![part(1.0, resistance)]);
        proptest::collection::vec(prop_oneof![bridged, plain], 1..5)
            .prop_map(|layers| layers.into_iter().chain([vec![part(1.0, 0.17)]]).collect())
    }

    proptest! {
        // The mean lies between its limits, and the lower one is never above the upper (ISO 6946 calls them so).
        #[test]
        fn the_limits_enclose_the_mean(layers in layers()) {
            let of = combined(&by_product(&layers)).unwrap();
            let slack = 1e-12 * of.upper_m2k_w;
            prop_assert!(of.lower_m2k_w <= of.mean_m2k_w + slack && of.mean_m2k_w <= of.upper_m2k_w + slack);
            prop_assert!((-1e-12..1.0).contains(&of.error_share));
        }

        // Layers may be counted from either side.
        #[test]
        fn the_order_of_layers_does_not_matter(layers in layers()) {
            let turned: Vec<Vec<Part>> = layers.iter().rev().cloned().collect();
            let (a, b) = (combined(&by_product(&layers)).unwrap(), combined(&by_product(&turned)).unwrap());
            prop_assert!((a.upper_m2k_w - b.upper_m2k_w).abs() < 1e-9 * a.upper_m2k_w);
            prop_assert!((a.lower_m2k_w - b.lower_m2k_w).abs() < 1e-9 * a.lower_m2k_w);
        }
    }
}
