//! How sure a quantity is: standard uncertainties of its inputs combined to first order.

/// Confidences that may be asked for, each with the standard deviations to both sides that hold it.
///
/// # Source
/// Quantiles of the normal distribution, as in table G.1 of JCGM 100:2008.
pub const CONFIDENCES: [(f64, f64); 4] = [(0.80, 1.281_552), (0.90, 1.644_854), (0.95, 1.959_964), (0.99, 2.575_829)];

/// A range about a quantity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// Its lower end; not below nought.
    pub least_ratio: f64,
    /// Its upper end.
    pub most_ratio: f64,
}

/// Standard uncertainty of a sum or product from those of independent inputs, each as what it changes of the result: the root
/// of the sum of their squares.
///
/// # Source
/// JCGM 100:2008, 5.1.2, equation 10, terms of first order.
pub fn combined(changes: impl Iterator<Item = f64>) -> f64 {
    changes.map(|change| change * change).sum::<f64>().sqrt()
}

/// The range that holds the true value with a confidence, as ratios to the estimate: `standard_ratio` is the combined standard
/// uncertainty as a ratio to it. `None` for a confidence that is not in [`CONFIDENCES`].
pub fn range_of(standard_ratio: f64, confidence_share: f64) -> Option<Range> {
    let (_, deviations) = CONFIDENCES.iter().find(|(share, _)| (share - confidence_share).abs() < 1e-9)?;
    let half = standard_ratio * deviations;
    Some(Range { least_ratio: (1.0 - half).max(0.0), most_ratio: 1.0 + half })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn squares_add_up() {
        assert!((combined([3.0, 4.0].into_iter()) - 5.0).abs() < 1e-12);
        let range = range_of(0.03, 0.90).unwrap();
        assert!((range.most_ratio - 1.049_345_62).abs() < 1e-8 && (range.least_ratio - 0.950_654_38).abs() < 1e-8);
        assert_eq!(range_of(0.03, 0.77), None);
        assert!(range_of(2.0, 0.90).unwrap().least_ratio.abs() < 1e-12);
    }
}
