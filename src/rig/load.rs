//! Loads on breakers.

use crate::job::Load;

/// What a breaker must carry of a load that runs three hours or more.
///
/// # Source
/// NEC 210.19(A)(1) and 210.20(A).
pub const CONTINUOUS: f64 = 1.25;
/// Standard sizes of breakers, in amperes.
///
/// # Source
/// NEC 240.6(A), from memory.
const BREAKERS_A: [f64; 12] = [15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 100.0];
/// Slack that keeps a sum which is the breaker's but for its last digits from being too much.
const EQUAL: f64 = 1e-9;

/// Current of all loads while they run.
pub fn running_a<'l>(loads: impl IntoIterator<Item = &'l Load>) -> f64 {
    loads.into_iter().fold(0.0, |sum, load| sum + load.current_a)
}

/// Size that a breaker must have for some loads: 125 % of those that are continuous, and the others.
pub fn breaker_load_a<'l>(loads: impl IntoIterator<Item = &'l Load>) -> f64 {
    let share = |load: &Load| if load.is_continuous { CONTINUOUS } else { 1.0 };
    loads.into_iter().fold(0.0, |sum, load| sum + load.current_a * share(load))
}

/// Whether a breaker carries some loads.
pub fn is_carried<'l>(breaker_a: f64, loads: impl IntoIterator<Item = &'l Load>) -> bool {
    breaker_load_a(loads) <= breaker_a * (1.0 + EQUAL)
}

/// The smallest standard breaker of at least a size.
pub fn standard_breaker_a(least_a: f64) -> Option<f64> {
    BREAKERS_A.into_iter().find(|size_a| *size_a * (1.0 + EQUAL) >= least_a)
}

/// Loads on two circuits of a size: the most even way that both carry; `None` where there is none.
pub fn split_in_two<'l>(breaker_a: f64, loads: &[&'l Load]) -> Option<[Vec<&'l Load>; 2]> {
    // The first stays on the first circuit: the two are alike. A circuit has at most a dozen loads, two cords two dozen.
    let ways = 1_u32.checked_shl(u32::try_from(loads.len().saturating_sub(1)).ok()?).filter(|_| loads.len() <= 16)?;
    let mut best: Option<(f64, [Vec<&'l Load>; 2])> = None;
    for way in 1..ways {
        let mut halves: [Vec<&'l Load>; 2] = [Vec::new(), Vec::new()];
        for (place, load) in loads.iter().enumerate() {
            let [first, second] = &mut halves;
            let is_second = place > 0 && way >> (place - 1) & 1 == 1;
            if is_second { second.push(load) } else { first.push(load) }
        }
        let [first, second] = halves.each_ref().map(|half| breaker_load_a(half.iter().copied()));
        let most_a = first.max(second);
        if most_a <= breaker_a * (1.0 + EQUAL) && best.as_ref().is_none_or(|(other_a, _)| most_a < *other_a) {
            best = Some((most_a, halves));
        }
    }
    best.map(|(_, halves)| halves)
}

/// Names of loads in a row.
pub(super) fn names(loads: &[&Load]) -> String {
    let names: Vec<&str> = loads.iter().map(|load| load.what.as_str()).collect();
    match names.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        _ => names.concat(),
    }
}
