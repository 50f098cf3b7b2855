//! Masses of a zone from its rows: bags, hopper before and after, and what did not stay.

use super::contract::{TakenOut, UncertaintyInput};
use super::sure::{PART_BAG, RUN_DOWN_KG, SCALE_KG, TAKEN_SHARE, of_mass};
use crate::intake::log::{Entry, Hopper, Taken, What};
use crate::refusal::Refusal;

/// What the mass of a bag is called among the inputs of a range.
pub(super) const BAG_MASS: &str = "mass of a bag";

/// Masses of a zone.
#[derive(Clone, Debug, Default)]
pub(super) struct Blown {
    /// Bags that it took of the stock: those of its rows, and what was weighed beside them by the mass of a bag, less those
    /// that went back.
    pub bags_exact: f64,
    pub gross_kg: f64,
    pub taken: Vec<TakenOut>,
    pub net_kg: f64,
    /// Whether the hopper is known at both ends of every run of rows.
    pub is_closed_off: bool,
    /// Two standard deviations of each input's mass; the bag's own, which is alike in all bags, apart.
    pub twice_kg: Vec<(&'static str, f64)>,
    pub from_bags_kg: f64,
}

/// Adds up the rows of a zone. `runs` are its rows of bags in stretches that no other zone interrupts, of which only the ends
/// need to be known.
///
/// # Errors
/// More left in the hopper than there can be, and more taken out than was blown.
pub(super) fn add_up(runs: &[Vec<&Entry>], taken: &[&Entry], bag_kg: f64) -> Result<Blown, Box<Refusal>> {
    let mut blown = Blown { is_closed_off: !runs.is_empty(), ..Blown::default() };
    for run in runs {
        add_run(&mut blown, run, bag_kg)?;
    }
    for entry in taken {
        let What::Taken { taken, bags, mass_kg } = &entry.what else { continue };
        let out_kg = bags * bag_kg + mass_kg;
        if *taken == Taken::Returned {
            blown.bags_exact -= out_kg / bag_kg;
        }
        blown.taken.push(TakenOut { what: taken.word().to_owned(), mass_kg: out_kg });
        let is_counted = *taken == Taken::Returned && *mass_kg == 0.0;
        blown.twice_kg.push((taken.word(), if is_counted { 0.0 } else { out_kg * TAKEN_SHARE }));
    }
    let out_kg: f64 = blown.taken.iter().map(|out| out.mass_kg).sum();
    blown.net_kg = blown.gross_kg - out_kg;
    if blown.net_kg < 0.0
        && let Some(entry) = taken.last()
    {
        let message = "more is taken out of this place than was blown into it";
        return Err(Box::new(Refusal::new(entry.place.clone(), message, "check the masses and the place of both")));
    }
    Ok(blown)
}

fn add_run(blown: &mut Blown, run: &[&Entry], bag_kg: f64) -> Result<(), Box<Refusal>> {
    let mut run_kg = 0.0;
    for entry in run {
        let What::Blown { bags, mass_kg, .. } = &entry.what else { continue };
        blown.bags_exact += bags + mass_kg / bag_kg;
        blown.from_bags_kg += bags * bag_kg;
        run_kg += bags * bag_kg + mass_kg;
        if bags.fract() > 1e-9 {
            blown.twice_kg.push(("parts of bags", PART_BAG * bag_kg));
        }
        if *mass_kg > 0.0 {
            blown.twice_kg.push(("scale", SCALE_KG));
        }
    }
    let (start, end) = ends(run);
    run_kg += hopper(blown, start, 1.0);
    run_kg += hopper(blown, end, -1.0);
    if run_kg < -1e-9
        && let Some(last) = run.last()
    {
        let message = "more is left in the hopper than was put into it";
        return Err(Box::new(Refusal::new(
            last.place.clone(),
            message,
            "check `hopper before`, `hopper after` and bags",
        )));
    }
    blown.gross_kg += run_kg.max(0.0);
    Ok(())
}

/// Hopper before the first row and after the last.
pub(super) fn ends(run: &[&Entry]) -> (Option<Hopper>, Option<Hopper>) {
    let hopper = |entry: Option<&&Entry>, is_start: bool| match entry.map(|entry| &entry.what) {
        Some(What::Blown { start, end, .. }) => {
            if is_start {
                *start
            } else {
                *end
            }
        }
        _ => None,
    };
    (hopper(run.first(), true), hopper(run.last(), false))
}

/// What an end adds to the mass blown; notes how sure it is.
fn hopper(blown: &mut Blown, hopper: Option<Hopper>, sign: f64) -> f64 {
    match hopper {
        Some(Hopper::RunDown) => {
            blown.twice_kg.push(("hopper and hose, run down", RUN_DOWN_KG));
            0.0
        }
        Some(Hopper::Weighed(mass_kg)) => {
            blown.twice_kg.push(("hopper, weighed", SCALE_KG));
            sign * mass_kg
        }
        None => {
            blown.is_closed_off = false;
            0.0
        }
    }
}

/// The inputs as shares of the net mass: like ones by the root of the sum of their squares.
pub(super) fn uncertainty(blown: &Blown, bag_share: f64) -> Vec<UncertaintyInput> {
    let mut words: Vec<&'static str> = blown.twice_kg.iter().map(|(what, _)| *what).collect();
    words.sort_unstable();
    words.dedup();
    let mut all: Vec<UncertaintyInput> = words
        .into_iter()
        .map(|word| {
            let own = blown.twice_kg.iter().filter(|(what, _)| *what == word).map(|(_, twice_kg)| *twice_kg);
            of_mass(word, crate::order::combined(own), blown.net_kg)
        })
        .collect();
    all.push(of_mass(BAG_MASS, blown.from_bags_kg * bag_share, blown.net_kg));
    all
}
