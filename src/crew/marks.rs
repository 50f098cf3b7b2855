//! Bag marks: how many bags must be gone where the crew stands, so that packing too loosely shows early.

use crate::takeoff::{FillTakeoff, SurfaceTakeoff, Takeoff};

/// Bags after which the first mark stands, at the end of a bay.
const FIRST_MARK_BAGS: f64 = 2.0;
/// Slack that keeps a sum which is two bags but for its last digits from missing the mark.
const WHOLE: f64 = 1e-9;

/// Where the crew should be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mark {
    /// What the bays up to here take.
    pub mass_kg: f64,
    /// That in bags.
    pub bags_exact: f64,
    /// Bags in the machine and gone, with what hopper and hose hold; equal to `bags_exact` where the hopper is run down.
    pub opened_bags_exact: f64,
    /// The most that may be gone, when all of the allowance is spilled evenly.
    pub most_bags_exact: f64,
}

/// The first mark of a fill.
#[derive(Clone, Debug, PartialEq)]
pub struct FirstMark {
    /// Number of the stop.
    pub stop: u32,
    /// Which of the surfaces that are alike, from 1.
    pub copy: u32,
    /// Number of the bay at whose end it stands.
    pub bay: String,
    /// How far the work is then.
    pub mark: Mark,
}

/// Bags of one fill, as the crew meets them.
#[derive(Clone, Debug, PartialEq)]
pub struct FillMarks {
    /// Index among the fills of the takeoff.
    pub fill: usize,
    /// Net mass of a bag; `None` where nobody gave it: then there are no marks.
    pub bag_kg: Option<f64>,
    /// After two or three bags; `None` where the whole job takes fewer.
    pub first: Option<FirstMark>,
    /// What is blown so far.
    blown_kg: f64,
    allowance: f64,
    left_in_machine_kg: f64,
}

impl FillMarks {
    pub(super) fn of(takeoff: &Takeoff) -> Vec<Self> {
        let marks = |(fill, of): (usize, &FillTakeoff)| Self {
            fill,
            bag_kg: of.bag_kg.filter(|bag_kg| *bag_kg > 0.0),
            first: None,
            blown_kg: 0.0,
            allowance: of.allowance,
            left_in_machine_kg: takeoff.left_in_machine_kg.unwrap_or(0.0),
        };
        takeoff.fills.iter().enumerate().map(marks).collect()
    }

    /// The mark when so much is blown.
    fn mark(&self, mass_kg: f64) -> Option<Mark> {
        let bag_kg = self.bag_kg?;
        let bags_exact = mass_kg / bag_kg;
        let in_machine = self.left_in_machine_kg / bag_kg;
        Some(Mark {
            mass_kg,
            bags_exact,
            opened_bags_exact: bags_exact + in_machine,
            most_bags_exact: bags_exact * (1.0 + self.allowance) + in_machine,
        })
    }

    /// Blows the bays of a stop, given with their numbers as the crew meets them, `copies` times over; the mark at its end.
    pub(super) fn blow(&mut self, stop: u32, copies: u32, bays: &[(String, f64)]) -> Option<Mark> {
        let start_kg = self.blown_kg;
        let once_kg: f64 = bays.iter().map(|(_, mass_kg)| mass_kg).sum();
        if self.first.is_none()
            && let Some(bag_kg) = self.bag_kg
        {
            let due_kg = FIRST_MARK_BAGS * bag_kg * (1.0 - WHOLE);
            self.first = first_at(start_kg, due_kg, copies, bays)
                .and_then(|(copy, bay, mass_kg)| Some(FirstMark { stop, copy, bay, mark: self.mark(mass_kg)? }));
        }
        self.blown_kg = start_kg + once_kg * f64::from(copies);
        self.mark(self.blown_kg)
    }
}

/// The bay at whose end so much is blown: which copy, its number, and the mass then.
fn first_at(start_kg: f64, due_kg: f64, copies: u32, bays: &[(String, f64)]) -> Option<(u32, String, f64)> {
    let mut blown_kg = start_kg;
    for copy in 1..=copies {
        for (bay, mass_kg) in bays {
            blown_kg += mass_kg;
            if blown_kg >= due_kg {
                return Some((copy, bay.clone(), blown_kg));
            }
        }
        if blown_kg <= start_kg {
            return None;
        }
    }
    None
}

/// Index of the fill that a surface belongs to.
pub(super) fn fill_of(surface: &SurfaceTakeoff, takeoff: &Takeoff) -> Option<usize> {
    let is_estimate = surface.open_blown.is_some() && surface.label.is_none();
    let is_its =
        |fill: &FillTakeoff| surface.fill.as_ref() == Some(&fill.name) && fill.estimate.is_some() == is_estimate;
    takeoff.fills.iter().position(is_its)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn marks() -> FillMarks {
        FillMarks { fill: 0, bag_kg: Some(10.0), first: None, blown_kg: 0.0, allowance: 0.1, left_in_machine_kg: 5.0 }
    }

    // By hand: bays of 6, 6, 6 and 6 kg; 20 kg, two bags of 10 kg, are first reached at the end of the fourth, with 24 kg.
    #[test]
    fn the_first_mark_stands_at_the_bay_that_ends_the_second_bag() {
        let bays: Vec<(String, f64)> = (1..=5).map(|n| (n.to_string(), 6.0)).collect();
        let mut marks = marks();
        let end = marks.blow(1, 1, &bays).unwrap();
        let first = marks.first.clone().unwrap();
        assert_eq!((first.stop, first.copy, first.bay.as_str()), (1, 1, "4"));
        assert!((first.mark.bags_exact - 2.4).abs() < 1e-12 && (first.mark.opened_bags_exact - 2.9).abs() < 1e-12);
        assert!((end.bags_exact - 3.0).abs() < 1e-12 && (end.most_bags_exact - 3.8).abs() < 1e-12);
        // The next wall goes on from there; the first mark stays.
        let end = marks.blow(2, 2, &bays).unwrap();
        assert!((end.bags_exact - 9.0).abs() < 1e-12);
        assert_eq!(marks.first.unwrap().stop, 1);
    }

    #[test]
    fn alike_walls_are_told_apart_and_no_bag_gives_no_mark() {
        let bays = [("1".to_owned(), 8.0)];
        let mut two = marks();
        assert!(two.blow(7, 4, &bays).is_some());
        assert_eq!(two.first.map(|first| (first.stop, first.copy)), Some((7, 3)));
        let mut none = FillMarks { bag_kg: None, ..marks() };
        assert_eq!(none.blow(1, 1, &bays), None);
        assert_eq!(none.first, None);
    }
}
