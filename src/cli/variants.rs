//! Takeoffs of several values side by side: `--set KEY="A | B"`, `--bag "A | B"`.

use super::args::JobArgs;
use super::options;
use crate::job::{Job, Setting, parse_settings};
use crate::refusal::Refusal;
use crate::source::Place;

/// Most takeoffs that stand side by side.
const MOST: usize = 12;

/// A job, and the values that tell it from the others.
pub(super) struct Variant {
    /// What is set in this one and differs among them, as it was typed.
    pub values: Vec<String>,
    /// The job.
    pub job: Job,
}

/// All jobs that the options ask for; one where no option gives several values.
pub(super) struct Variants {
    /// What differs, a word each.
    pub keys: Vec<String>,
    /// The jobs, at least one.
    pub all: Vec<Variant>,
}

/// Reads the job file once for each combination of the values that `--set` and `--bag` give.
///
/// # Errors
/// All that is wrong with the job file and the options, and too many combinations.
pub(super) fn read(args: &JobArgs) -> Result<Variants, Vec<Refusal>> {
    let mut choices: Vec<(String, Vec<Choice>)> = Vec::new();
    for text in &args.set {
        let settings = parse_settings(text).map_err(|refusal| vec![*refusal])?;
        let key = settings.first().map(Setting::key).unwrap_or_default();
        choices.push((key, settings.into_iter().map(Choice::Set).collect()));
    }
    if let Some(bags) = &args.bag {
        let bags = bags.split('|').map(|bag| Choice::Bag(bag.trim().to_owned()));
        choices.push(("--bag".to_owned(), bags.collect()));
    }
    let count = choices.iter().fold(1_usize, |count, (_, values)| count.saturating_mul(values.len()));
    if count > MOST {
        let message = format!("the values give {count} takeoffs side by side; at most {MOST} are made");
        return Err(vec![Refusal::new(Place::input("--set"), message, "give fewer values")]);
    }
    let differs = |(_, values): &&(String, Vec<Choice>)| values.len() > 1;
    let keys = choices.iter().filter(differs).map(|(key, _)| key.clone()).collect();
    let combinations = combine(&choices);
    let all = combinations.into_iter().map(|combination| variant(args, &choices, &combination));
    Ok(Variants { keys, all: all.collect::<Result<_, _>>()? })
}

/// One value of an option.
#[derive(Clone)]
enum Choice {
    Set(Setting),
    Bag(String),
}

impl Choice {
    fn text(&self) -> &str {
        match self {
            Self::Set(setting) => &setting.text,
            Self::Bag(text) => text,
        }
    }
}

/// Every combination, the last option's values first.
fn combine(choices: &[(String, Vec<Choice>)]) -> Vec<Vec<Choice>> {
    let extend = |all: Vec<Vec<Choice>>, (_, values): &(String, Vec<Choice>)| {
        let with = |one: &Vec<Choice>| -> Vec<Vec<Choice>> {
            values.iter().map(|value| one.iter().chain([value]).cloned().collect()).collect()
        };
        all.iter().flat_map(with).collect()
    };
    choices.iter().fold(vec![Vec::new()], extend)
}

fn variant(args: &JobArgs, choices: &[(String, Vec<Choice>)], combination: &[Choice]) -> Result<Variant, Vec<Refusal>> {
    let settings: Vec<Setting> = combination
        .iter()
        .filter_map(|choice| match choice {
            Choice::Set(setting) => Some(setting.clone()),
            Choice::Bag(_) => None,
        })
        .collect();
    let bag = combination.iter().find_map(|choice| match choice {
        Choice::Bag(text) => Some(text.as_str()),
        Choice::Set(_) => None,
    });
    let job = options::job(args, &settings, bag)?;
    let differing = combination.iter().zip(choices).filter(|(_, (_, values))| values.len() > 1);
    Ok(Variant { values: differing.map(|(choice, _)| choice.text().to_owned()).collect(), job })
}
