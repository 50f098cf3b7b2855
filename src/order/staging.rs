//! Whole bags per place, which sum to the order.

/// Shares whole bags out by mass with the largest remainder; the shares sum to `bags`.
///
/// Places with equal remainders are served in their own order. Where all masses are zero nothing
/// is shared out.
///
/// # Source
/// Largest remainder (Hamilton's method of apportionment), from memory.
pub fn stage_bags(bags: u64, masses_kg: &[f64]) -> Vec<u64> {
    let total_kg: f64 = masses_kg.iter().sum();
    if total_kg <= 0.0 || !total_kg.is_finite() {
        return vec![0; masses_kg.len()];
    }
    #[allow(clippy::cast_precision_loss, reason = "an order is far below 2^52 bags")]
    let ideal: Vec<f64> = masses_kg.iter().map(|mass_kg| bags as f64 * mass_kg / total_kg).collect();
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "floor of a number from 0 to the order")]
    let mut shares: Vec<u64> = ideal.iter().map(|share| share.floor() as u64).collect();
    let missing = bags.saturating_sub(shares.iter().sum());
    let mut by_remainder: Vec<usize> = (0..ideal.len()).collect();
    let remainder = |index: &usize| ideal.get(*index).map_or(0.0, |share| share - share.floor());
    by_remainder.sort_by(|a, b| remainder(b).total_cmp(&remainder(a)).then(a.cmp(b)));
    for index in by_remainder.into_iter().cycle().take(usize::try_from(missing).unwrap_or(usize::MAX)) {
        if let Some(share) = shares.get_mut(index) {
            *share += 1;
        }
    }
    shares
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn the_largest_remainder_gets_the_spare_bag() {
        // 10 bags over 1 : 2 : 4 are 1.43, 2.86 and 5.71: the spare two go to .86 and .71
        assert_eq!(stage_bags(10, &[1.0, 2.0, 4.0]), [1, 3, 6]);
        assert_eq!(stage_bags(3, &[1.0, 1.0]), [2, 1]);
        assert_eq!(stage_bags(5, &[0.0, 2.0]), [0, 5]);
        assert_eq!(stage_bags(5, &[]), Vec::<u64>::new());
    }

    proptest! {
        #[test]
        fn staged_bags_sum_to_the_order(bags in 0_u64..5000, masses in proptest::collection::vec(0.001_f64..1e4, 1..20)) {
            prop_assert_eq!(stage_bags(bags, &masses).iter().sum::<u64>(), bags);
        }
    }
}
