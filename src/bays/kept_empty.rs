//! Volume inside bays that stays empty though their area is filled: the wedge under an eave, fill that is there already.

use super::cut::{Bay, BayCut};

/// A part of the volume of bays that stays empty; it has no area of its own.
#[derive(Clone, Debug, PartialEq)]
pub struct EmptyVolume {
    /// Why.
    pub reason: String,
    /// How much, in cubic metres.
    pub volume_m3: f64,
    /// The bay that it lies in; `None` where it is shared over all of them.
    pub bay: Option<u32>,
}

impl Bay {
    /// What can still be filled of it at a depth: area times depth, less what framing and empty parts take, in cubic metres.
    pub fn room_m3(&self, depth_m: f64) -> f64 {
        self.area_m2 * depth_m - self.displaced_m3 - self.empty_m3
    }
}

impl BayCut {
    /// Takes a volume out of one bay, or out of all of them in proportion to their room; returns what was taken.
    ///
    /// No bay gives more than its room. A volume of nothing, and one for a bay that is not there,
    /// takes nothing. To be called once framing is displaced.
    pub fn keep_volume_empty(&mut self, reason: &str, volume_m3: f64, bay: Option<u32>, depth_m: f64) -> f64 {
        let is_meant = |own: &&mut Bay| bay.is_none_or(|number| own.number == number);
        let meant: Vec<&mut Bay> = self.bays.iter_mut().filter(is_meant).collect();
        let room_m3 = meant.iter().fold(0.0, |sum_m3, bay| sum_m3 + bay.room_m3(depth_m).max(0.0));
        if !(volume_m3 > 0.0 && room_m3 > 0.0) {
            return 0.0;
        }
        let share = (volume_m3 / room_m3).min(1.0);
        let mut taken_m3 = 0.0;
        for bay in meant {
            let own_m3 = bay.room_m3(depth_m).max(0.0) * share;
            bay.empty_m3 += own_m3;
            taken_m3 += own_m3;
        }
        self.empty_volumes.push(EmptyVolume { reason: reason.to_owned(), volume_m3: taken_m3, bay });
        taken_m3
    }

    /// Takes a volume out of each bay, but no more than it has room for; all of them are one entry. Returns what was taken.
    pub(super) fn keep_empty_in_each(&mut self, reason: &str, volumes_m3: &[f64], depth_m: f64) -> f64 {
        let mut taken_m3 = 0.0;
        for (bay, volume_m3) in self.bays.iter_mut().zip(volumes_m3) {
            let own_m3 = volume_m3.min(bay.room_m3(depth_m)).max(0.0);
            bay.empty_m3 += own_m3;
            taken_m3 += own_m3;
        }
        if taken_m3 > 0.0 {
            self.empty_volumes.push(EmptyVolume { reason: reason.to_owned(), volume_m3: taken_m3, bay: None });
        }
        taken_m3
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Polygon;

    fn cut() -> BayCut {
        let bay = |number: u32, area_m2: f64, displaced_m3: f64| Bay {
            number,
            area_m2,
            displaced_m3,
            empty_m3: 0.0,
            outline: Polygon::default(),
        };
        BayCut { bays: vec![bay(1, 2.0, 0.0), bay(2, 1.0, 0.02)], ..BayCut::default() }
    }

    // By hand: at 0.1 m the bays have room for 0.2 and 0.08 m3.
    #[test]
    fn a_volume_is_taken_from_its_bay_or_shared_by_room() {
        let mut one = cut();
        assert!((one.keep_volume_empty("pipe", 0.03, Some(2), 0.1) - 0.03).abs() < 1e-15);
        assert!((one.bays[1].room_m3(0.1) - 0.05).abs() < 1e-15);
        let mut all = cut();
        all.keep_volume_empty("batt", 0.07, None, 0.1);
        assert!((all.bays[0].empty_m3 - 0.05).abs() < 1e-15 && (all.bays[1].empty_m3 - 0.02).abs() < 1e-15);
    }

    #[test]
    fn no_bay_gives_more_than_it_holds() {
        let mut full = cut();
        assert!((full.keep_volume_empty("batt", 5.0, None, 0.1) - 0.28).abs() < 1e-15);
        assert_eq!(full.keep_volume_empty("batt", 5.0, None, 0.1), 0.0);
        assert_eq!(full.keep_volume_empty("batt", 5.0, Some(9), 0.1), 0.0);
        assert_eq!(full.keep_volume_empty("batt", -1.0, None, 0.1), 0.0);
        assert_eq!(full.empty_volumes.len(), 1);
    }
}
