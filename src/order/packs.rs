//! Bags by the pallet or the bundle.

/// Bags as they are handed over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Packs {
    /// Whole packs.
    pub whole: u64,
    /// Bags beside them.
    pub loose: u64,
}

/// Whole packs of `per_pack` bags, and the bags beside them; `None` for packs without bags.
pub fn packs_of(bags: u64, per_pack: u64) -> Option<Packs> {
    Some(Packs { whole: bags.checked_div(per_pack)?, loose: bags.checked_rem(per_pack)? })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn packs_and_loose_bags_are_the_order() {
        assert_eq!(packs_of(94, 40), Some(Packs { whole: 2, loose: 14 }));
        assert_eq!(packs_of(80, 40), Some(Packs { whole: 2, loose: 0 }));
        assert_eq!(packs_of(80, 0), None);
    }
}
