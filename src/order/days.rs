//! Which day's work a place's mass falls on.

/// Most days that a plan has: beyond this a rate is a slip.
const MOST_DAYS: usize = 10_000;

/// Shares of work by days: for each piece of work in its order, the days it falls on, from 0, with the hours of each.
///
/// A piece that a day does not finish goes on in the next. `None` where a day has no hours or the work has no end.
pub fn split_by_days(hours_h: &[f64], day_h: f64) -> Option<Vec<Vec<(usize, f64)>>> {
    let total_h: f64 = hours_h.iter().sum();
    if day_h <= 0.0 || !day_h.is_finite() || !total_h.is_finite() {
        return None;
    }
    let mut all = Vec::with_capacity(hours_h.len());
    let (mut day, mut left_h) = (0_usize, day_h);
    for piece_h in hours_h {
        let mut rest_h = *piece_h;
        let mut days = Vec::new();
        while rest_h > 0.0 {
            if day >= MOST_DAYS {
                return None;
            }
            let worked_h = rest_h.min(left_h);
            days.push((day, worked_h));
            rest_h -= worked_h;
            left_h -= worked_h;
            // What is left of a day by rounding alone is none of it.
            if left_h <= day_h * 1e-9 {
                (day, left_h) = (day + 1, day_h);
            }
        }
        all.push(days);
    }
    Some(all)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn work_goes_on_the_next_day() {
        let days = split_by_days(&[4.0, 5.0, 0.0, 3.0], 6.0).unwrap();
        assert_eq!(days, [vec![(0, 4.0)], vec![(0, 2.0), (1, 3.0)], vec![], vec![(1, 3.0)]]);
        assert_eq!(split_by_days(&[1.0], 0.0), None);
        assert_eq!(split_by_days(&[1e9], 1.0), None);
    }

    proptest::proptest! {
        #[test]
        fn no_hour_is_lost(hours in proptest::collection::vec(0.0_f64..40.0, 0..20), day_h in 1.0_f64..12.0) {
            let days = split_by_days(&hours, day_h).unwrap();
            for (piece_h, days) in hours.iter().zip(&days) {
                let worked_h: f64 = days.iter().map(|(_, worked_h)| worked_h).sum();
                proptest::prop_assert!((worked_h - piece_h).abs() < 1e-9);
            }
            let mut by_day = std::collections::BTreeMap::new();
            for (day, worked_h) in days.iter().flatten() {
                *by_day.entry(day).or_insert(0.0) += worked_h;
            }
            proptest::prop_assert!(by_day.values().all(|worked_h: &f64| *worked_h <= day_h + 1e-6));
        }
    }
}
