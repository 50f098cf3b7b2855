//! Tables: pressure by depth, hours, days; and the checklist of hazards.

use super::WIDTH;
use crate::report::table::columns::lines;
use crate::report::text::{printable, shorten, wrap};
use crate::rig::{DayFigures, PressureNeed, RigCheck, StageFigures, Status};
use crate::units::UnitSystem;
use crate::units::display::grouped;
use crate::units::display_flow::hours;

/// Most days that are shown; the JSON has them all.
const MOST_DAYS: usize = 30;

fn status_word(status: Status) -> String {
    match status {
        Status::Holds => "holds",
        Status::NotShown => "not shown",
        Status::FallsShort => "FALLS SHORT",
    }
    .to_owned()
}

/// What each fill needs at each depth of the takeoff.
pub(super) fn pressure(check: &RigCheck, units: UnitSystem) -> Vec<String> {
    let needs: Vec<&PressureNeed> = check.pressure.needs.iter().filter(|need| need.depth_m.is_some()).collect();
    if needs.is_empty() {
        return Vec::new();
    }
    let decimals = usize::from(units == UnitSystem::Us);
    let row = |need: &&PressureNeed| {
        vec![
            shorten(&need.fill, 20),
            units.show_section(need.depth_m.unwrap_or(0.0)),
            grouped(units.density(need.density_kg_m3), decimals),
            grouped(units.mass(need.mass_kg), 0),
            need.required_pa.map_or_else(|| "not given".to_owned(), |pa| units.show_loss(pa)),
            status_word(need.status),
        ]
    };
    let mut all = vec!["Pressure at the hose end, by fill and depth of bay".to_owned()];
    let heading = ["fill", "depth", units.density_symbol(), units.mass_symbol(), "needs", "result"];
    all.extend(lines(&heading, 1, needs.iter().map(row).collect()));
    all
}

/// Hours by stage.
pub(super) fn stages(check: &RigCheck) -> Vec<String> {
    let Some(time) = check.time.as_ref().filter(|time| !time.stages.is_empty()) else { return Vec::new() };
    let row = |stage: &StageFigures| vec![shorten(&stage.what, 28), shorten(&stage.rate, 38), hours(stage.work_h)];
    let mut rows: Vec<Vec<String>> = time.stages.iter().map(row).collect();
    rows.push(vec!["all".to_owned(), String::new(), hours(time.total_h)]);
    let mut all = vec!["Hours by stage".to_owned()];
    all.extend(lines(&["stage", "rate", "hours"], 2, rows));
    all
}

/// The plan by day, with the bags to set down.
pub(super) fn days(check: &RigCheck) -> Vec<String> {
    let Some(time) = check.time.as_ref().filter(|time| !time.days.is_empty()) else { return Vec::new() };
    let mut all = vec!["Plan by day, with the bags to set down".to_owned()];
    for day in time.days.iter().take(MOST_DAYS) {
        all.extend(wrap(&format!("  day {}: {}", day.day, printable(&day_words(day))), WIDTH, "         "));
    }
    if time.days.len() > MOST_DAYS {
        all.push(format!("  and {} more days, all in the JSON", time.days.len() - MOST_DAYS));
    }
    all
}

fn day_words(day: &DayFigures) -> String {
    let work: Vec<String> = day.work.iter().map(|work| format!("{} {}", work.what, hours(work.work_h))).collect();
    let bags: Vec<String> = day.bags.iter().map(|bags| format!("{} of {}", bags.bags, bags.fill)).collect();
    let bags = if bags.is_empty() { "none".to_owned() } else { bags.join(", ") };
    format!("{}; bags: {bags}", work.join(", "))
}

/// The checklist.
pub(super) fn hazards(check: &RigCheck) -> Vec<String> {
    let mut all = vec!["Before blowing: go through the house with this list".to_owned()];
    for hazard in &check.hazards {
        let seen = hazard.seen.as_ref().map_or_else(String::new, |seen| format!(" ({seen})"));
        let text = format!("  [ ] {}{seen}: {} [{}]", hazard.what, hazard.action, hazard.rule);
        all.extend(wrap(&printable(&text), WIDTH, "      "));
    }
    all
}
