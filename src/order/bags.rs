//! Whole bags for a mass.

/// Slack that keeps a count which is whole but for its last digits from being rounded up.
const WHOLE: f64 = 1e-9;

/// Bags for one material.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bags {
    /// Mass divided by the bag.
    pub exact: f64,
    /// Whole bags to load, allowance included.
    pub order: u64,
}

/// Bags for a mass: `ceil(mass / bag x (1 + allowance) - 1e-9)`, rounded once.
///
/// A bag that is not more than zero gives no bags at all: `None`.
pub fn count_bags(mass_kg: f64, bag_kg: f64, allowance: f64) -> Option<Bags> {
    if bag_kg <= 0.0 || !bag_kg.is_finite() || !mass_kg.is_finite() {
        return None;
    }
    let exact = mass_kg / bag_kg;
    let order = (exact * (1.0 + allowance) - WHOLE).ceil().max(0.0);
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a whole number, not negative; the cast saturates far beyond any order"
    )]
    Some(Bags { exact, order: order as u64 })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_whole_count_is_not_rounded_up() {
        // 42 bags from 30 x 1.4, which is 42.00000000000001 in f64
        assert_eq!(count_bags(1.4 * 30.0, 1.0, 0.0).unwrap().order, 42);
        assert_eq!(count_bags(42.001, 1.0, 0.0).unwrap().order, 43);
        assert_eq!(count_bags(100.0, 10.0, 0.05).unwrap().order, 11);
        assert_eq!(count_bags(0.0, 10.0, 0.05).unwrap().order, 0);
    }

    #[test]
    fn without_a_bag_there_is_no_count() {
        assert_eq!(count_bags(10.0, 0.0, 0.05), None);
        assert_eq!(count_bags(10.0, f64::NAN, 0.05), None);
    }
}
