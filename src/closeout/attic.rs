//! An attic: thickness by readings and mass by bags; both must hold.

use super::contract::{Reached, Readings};

/// What readings and the mass's verdict come to, with the reason.
pub(super) fn judge(readings: Option<&Readings>, mass: Reached) -> (Reached, String) {
    let thickness = match readings {
        Some(readings) if readings.promised_m.is_some() => {
            let is_full =
                readings.below.is_empty() && readings.promised_m.is_some_and(|due_m| readings.mean_m >= due_m);
            Some(is_full || (readings.below.is_empty() && readings.least_m >= readings.promised_m.unwrap_or(0.0)))
        }
        _ => None,
    };
    let of_mass = match mass {
        Reached::Reached => "the minimum mass per area is there",
        Reached::Short => "the mass per area is below the minimum",
        Reached::CannotTell => "whether the minimum mass per area is there can't be told",
    };
    let of_thickness = match (thickness, readings) {
        (Some(true), _) => "the initial thickness is there by mean and by each reading".to_owned(),
        (Some(false), Some(readings)) if readings.below.is_empty() => {
            "the mean of the readings is below the initial thickness".to_owned()
        }
        (Some(false), Some(readings)) => {
            format!("readings are below the initial thickness: {}", readings.below.join(", "))
        }
        (_, Some(_)) => "the initial thickness is not known: the label's table gives it".to_owned(),
        (_, None) => "no depth was read".to_owned(),
    };
    let verdict = match (thickness, mass) {
        (Some(false), _) | (_, Reached::Short) => Reached::Short,
        (Some(true), Reached::Reached) => Reached::Reached,
        _ => Reached::CannotTell,
    };
    (verdict, format!("{of_mass}; {of_thickness}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn readings(mean_m: f64, below: &[&str]) -> Readings {
        let below: Vec<String> = below.iter().map(|place| (*place).to_owned()).collect();
        Readings { count: 3, mean_m, least_m: mean_m - 0.02, promised_m: Some(0.38), below }
    }

    #[test]
    fn both_must_hold() {
        let good = readings(0.40, &[]);
        assert_eq!(judge(Some(&good), Reached::Reached).0, Reached::Reached);
        assert_eq!(judge(Some(&good), Reached::Short).0, Reached::Short);
        assert_eq!(judge(Some(&readings(0.40, &["log.csv:3:1"])), Reached::Reached).0, Reached::Short);
        assert_eq!(judge(Some(&readings(0.37, &[])), Reached::Reached).0, Reached::Short);
        assert_eq!(judge(Some(&good), Reached::CannotTell).0, Reached::CannotTell);
        assert_eq!(judge(None, Reached::Reached).0, Reached::CannotTell);
    }
}
