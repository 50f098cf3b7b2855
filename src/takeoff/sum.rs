//! Sums in sequence.

/// Adds up in the order given. Unlike the standard library's, a sum of nothing is nought and not
/// minus nought, which would show in every file.
pub(super) fn total(values: impl IntoIterator<Item = f64>) -> f64 {
    values.into_iter().fold(0.0, |sum, value| sum + value)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sum_of_nothing_is_nought() {
        assert!(total([]).is_sign_positive());
        assert_eq!(total([1.0, 2.5]), 3.5);
    }
}
