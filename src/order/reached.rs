//! What an order still reaches when all of its allowance is lost.

use super::Bags;

/// Mass that is left for the bays as a ratio to the mass they take, when as much is lost as the allowance adds.
///
/// Whole bags are rounded up, so that it is one or a little more. `None` where nothing is filled.
pub fn reached_ratio(bags: &Bags, allowance: f64) -> Option<f64> {
    #[allow(clippy::cast_precision_loss, reason = "an order is far below 2^52 bags")]
    let loaded = bags.order as f64;
    (bags.exact > 0.0).then(|| (loaded - allowance * bags.exact) / bags.exact)
}

#[cfg(test)]
mod tests {
    use super::super::count_bags;
    use super::*;

    #[test]
    fn the_mass_is_reached_when_the_allowance_is_lost() {
        // 100 kg in bags of 12 kg with 5 %: 8.333 bags, 8.75 with the allowance, 9 loaded; 108 - 5 = 103 kg are left
        let bags = count_bags(100.0, 12.0, 0.05).unwrap();
        assert!((reached_ratio(&bags, 0.05).unwrap() - 1.03).abs() < 1e-12);
        assert_eq!(reached_ratio(&count_bags(0.0, 12.0, 0.05).unwrap(), 0.05), None);
    }

    proptest::proptest! {
        #[test]
        fn no_order_falls_short_of_its_mass(mass_kg in 0.1_f64..1e5, bag_kg in 1.0_f64..50.0, allowance in 0.0_f64..0.5) {
            let bags = count_bags(mass_kg, bag_kg, allowance).unwrap();
            proptest::prop_assert!(reached_ratio(&bags, allowance).unwrap() >= 1.0 - 1e-8);
        }
    }
}
