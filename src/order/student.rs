//! Student's t: how far the mean of a few samples may be from the true mean.

/// Samples beyond which nobody goes on.
pub const MOST_SAMPLES: u32 = 400;

/// Probability that |t| stays below a value, with so many degrees of freedom.
///
/// # Source
/// M. Abramowitz and I. Stegun, Handbook of Mathematical Functions, 26.7.3 and 26.7.4.
fn within(t: f64, freedom: u32) -> f64 {
    let nu = f64::from(freedom);
    let theta = (t / nu.sqrt()).atan();
    let (sin, cos) = theta.sin_cos();
    let is_odd = freedom % 2 == 1;
    let (mut term, mut sum) = if is_odd { (cos, if freedom == 1 { 0.0 } else { cos }) } else { (1.0, 1.0) };
    let mut step = if is_odd { 3 } else { 2 };
    while step < freedom {
        let k = f64::from(step);
        term *= (k - 1.0) / k * cos * cos;
        sum += term;
        step += 2;
    }
    if is_odd { std::f64::consts::FRAC_2_PI * (theta + sin * sum) } else { sin * sum }
}

/// Quantile of Student's t to both sides; `None` without a degree of freedom, and for a confidence that is no share.
pub fn student_t(confidence_share: f64, freedom: u32) -> Option<f64> {
    if freedom == 0 || !(confidence_share > 0.0 && confidence_share < 1.0) {
        return None;
    }
    let (mut low, mut high) = (0.0, 1.0e4);
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        if within(middle, freedom) < confidence_share { low = middle } else { high = middle }
    }
    Some(f64::midpoint(low, high))
}

/// Samples after which the mean is known to within a share of it, when they spread by `spread_share` (one standard deviation);
/// `None` where that takes more than [`MOST_SAMPLES`].
pub fn samples_needed(spread_share: f64, wanted_share: f64, confidence_share: f64) -> Option<u32> {
    (2..=MOST_SAMPLES).find(|count| {
        student_t(confidence_share, count - 1)
            .is_some_and(|t| t * spread_share / f64::from(*count).sqrt() <= wanted_share)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    // Table of Student's t, as in table G.2 of JCGM 100:2008 (95 %: 12.71, 4.30, 3.18, 2.78, 2.26, 2.09, 2.01 for 1, 2, 3, 4, 9,
    // 20 and 50 degrees of freedom; 90 %: 6.31, 2.92, 2.35, 2.13, 1.83, 1.72, 1.68).
    #[test]
    fn quantiles_are_those_of_the_table() {
        let degrees = [1, 2, 3, 4, 9, 20, 50];
        let table =
            [(0.95, [12.71, 4.30, 3.18, 2.78, 2.26, 2.09, 2.01]), (0.90, [6.31, 2.92, 2.35, 2.13, 1.83, 1.72, 1.68])];
        for (share, row) in table {
            for (freedom, due) in degrees.into_iter().zip(row) {
                let found = student_t(share, freedom).unwrap();
                assert!((found - due).abs() <= 0.0051, "{share} {freedom}: {found} {due}");
            }
        }
        assert_eq!(student_t(0.9, 0), None);
        assert_eq!(student_t(1.0, 3), None);
    }

    #[test]
    fn more_spread_takes_more_samples() {
        // 90 %, spread 10 %, to within 5 %: t(12) = 1.782 gives 4.94 % at 13, t(11) = 1.796 gives 5.18 % at 12.
        assert_eq!(samples_needed(0.10, 0.05, 0.90), Some(13));
        assert_eq!(samples_needed(0.0, 0.05, 0.90), Some(2));
        assert_eq!(samples_needed(5.0, 0.01, 0.90), None);
    }
}
