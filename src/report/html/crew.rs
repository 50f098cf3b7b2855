//! The crew sheet: key plans, what comes before the first bay, the bag marks, then stop by stop.

use super::bits::{begun, plain, section, table};
use super::stop::{name, stop};
use crate::crew::{CrewSheet, FillMarks, Mark, Stop};
use crate::job::SeenFrom;
use crate::model::SurfaceKind;
use crate::report::drawing::{PlanSurface, key_plan, legend};
use crate::report::table::{HAZARDS, noun};
use crate::takeoff::{SurfaceTakeoff, Takeoff};
use crate::units::UnitSystem;
use crate::units::display::grouped;
use maud::{Markup, html};
use std::collections::HashMap;

/// The key plan of every storey, and what its numbers mean.
pub(super) fn plans(takeoff: &Takeoff, sheet: &CrewSheet) -> Markup {
    let numbers: HashMap<usize, &Stop> = sheet.stops.iter().map(|stop| (stop.surface, stop)).collect();
    let mut storeys: Vec<(Option<&str>, Vec<PlanSurface>)> = Vec::new();
    let stops = sheet.stops.iter().map(|stop| stop.surface);
    let others = (0..takeoff.surfaces.len()).filter(|index| !numbers.contains_key(index));
    for index in stops.chain(others) {
        let Some(surface) = takeoff.surfaces.get(index) else { continue };
        let Some(plan_m) = &surface.plan_m else { continue };
        let number = numbers.get(&index).map(|stop| stop.number);
        let on_plan = PlanSurface {
            number,
            link: number.map(|number| format!("#stop-{number}")).unwrap_or_default(),
            name: name(surface),
            is_wall: surface.kind == SurfaceKind::Wall,
            plan_m: plan_m.clone(),
        };
        match storeys.iter_mut().find(|(storey, _)| *storey == surface.storey.as_deref()) {
            Some((_, list)) => list.push(on_plan),
            None => storeys.push((surface.storey.as_deref(), vec![on_plan])),
        }
    }
    let drawn = storeys.iter().enumerate().filter(|(_, (_, list))| list.iter().any(|one| one.number.is_some()));
    let body = html! {
        @if storeys.is_empty() {
            p { "There is no key plan: the inputs do not say where their surfaces stand." }
        }
        @for (index, (storey, list)) in drawn {
            @let heading = storey.map_or_else(|| "No storey named".to_owned(), plain);
            h3 { (heading) }
            @let title = format!("Key plan: {heading}");
            figure {
                @for part in key_plan(&format!("plan-{index}"), &title, list) {
                    div.scroll role="region" aria-label=(title) tabindex="0" { (part) }
                }
                figcaption {
                    "Thick lines with a number are filled, in the order of the numbers; dotted lines are not counted; \
                     dashed outlines are floors, ceilings and roofs. Up is the y axis of the model."
                }
            }
            ul.key {
                @for one in list.iter().filter(|one| one.number.is_some()) {
                    li { (one.number.unwrap_or_default()) ": " a href=(one.link) { (one.name) } }
                }
            }
        }
    };
    section("plan", "Key plans of the storeys", &body)
}

pub(super) fn crew(takeoff: &Takeoff, sheet: &CrewSheet, units: UnitSystem) -> Markup {
    let from = match sheet.seen_from {
        SeenFrom::Outside => "outside",
        SeenFrom::Inside => "inside",
    };
    let body = html! {
        @if sheet.stops.is_empty() { p { "Nothing is counted, so there is nothing to fill." } }
        @else {
            p {
                "Stops come in walking order, bays from the left as the crew sees them from " (from)
                " (`[crew] seen_from` in the job file). Masses are net: spill, hopper and run-through are not in them."
            }
            (before(sheet))
            (marks(takeoff, sheet, units))
            h3 { "What the drawings show" }
            (legend())
            @let storeys = by_storey(takeoff, sheet);
            @for (storey, stops) in &storeys {
                h3 { (storey.map_or_else(|| "No storey named".to_owned(), plain)) }
                @for (one, surface) in stops { (stop(one, surface, sheet, units)) }
            }
        }
    };
    html! { div.sheet { (section("crew", "Crew sheet", &body)) } }
}

/// A storey with its stops.
type StopsOf<'t> = (Option<&'t str>, Vec<(&'t Stop, &'t SurfaceTakeoff)>);

/// The stops under their storeys, both in walking order.
fn by_storey<'t>(takeoff: &'t Takeoff, sheet: &'t CrewSheet) -> Vec<StopsOf<'t>> {
    let mut storeys: Vec<StopsOf<'t>> = Vec::new();
    for stop in &sheet.stops {
        let Some(surface) = takeoff.surfaces.get(stop.surface) else { continue };
        match storeys.last_mut() {
            Some((storey, stops)) if *storey == surface.storey.as_deref() => stops.push((stop, surface)),
            _ => storeys.push((surface.storey.as_deref(), vec![(stop, surface)])),
        }
    }
    storeys
}

/// What is looked at before the first bay.
fn before(sheet: &CrewSheet) -> Markup {
    let unsurveyed = sheet.stops.iter().filter(|stop| stop.is_to_survey).count();
    let (_, hazards) = HAZARDS.split_once(": ").unwrap_or(("", HAZARDS));
    html! {
        div.caution {
            h3 { "Before the first bay" }
            @if unsurveyed > 0 {
                p {
                    strong { "Bays not surveyed. " }
                    "Nobody has said which bays of " (noun(unsurveyed as u64, "stop"))
                    " must stay empty. Look first, and fill none that holds a duct, live or old wiring, a flue, or is open \
                     at the bottom."
                }
            }
            ul { @for hazard in hazards.split(';') { li { (begun(hazard.trim().trim_end_matches('.'))) "." } } }
            p { "Heating and cooling stay off with returns covered while fill is blown; wear a respirator. The local code and \
                 the licensed trades decide." }
        }
    }
}

/// Where the crew should be, wall by wall.
fn marks(takeoff: &Takeoff, sheet: &CrewSheet, units: UnitSystem) -> Markup {
    let has_bags = sheet.fills.iter().any(|fill| fill.bag_kg.is_some());
    // Each fill has a count of its own.
    let has_fills = sheet.fills.len() > 1;
    let rows: Vec<Vec<String>> = sheet
        .stops
        .iter()
        .filter_map(|stop| Some(mark_row(stop, takeoff.surfaces.get(stop.surface)?, has_fills, units)))
        .collect();
    let mut headings =
        vec!["stop", "surface", units.mass_symbol(), "bags", "bags by its end", "counted at the machine", "at most"];
    if has_fills {
        headings.insert(2, "fill");
    }
    html! {
        h3 { "Bag marks" }
        @if has_bags {
            p { (machine(sheet, units)) }
            p {
                "Count the bags at each mark. Fewer than " em { "counted at the machine" } " means that the bays behind are \
                 packed too loosely: go back before going on. More than " em { "at most" } " means that fill goes where it \
                 should not, or that bays are overpacked: stop and look."
            }
            @for fill in &sheet.fills { (first_mark(fill, takeoff, sheet, units)) }
        } @else {
            p { "The net weight on the bag's label is not given, so there are no bags and no marks; `--bag \"25 lb\"` gives it." }
        }
        (table("Stops, in walking order", &headings, if has_fills { 3 } else { 2 }, &rows))
    }
}

/// What is done about material that has left the bags and is not in a bay yet.
fn machine(sheet: &CrewSheet, units: UnitSystem) -> String {
    match sheet.left_in_machine_kg {
        Some(left_kg) => format!(
            "Hopper and hose hold {} at each mark, which is not in a bay yet: that much is added to the bags that are counted \
             at the machine (`left_in_machine` of the job file).",
            units.show_mass(left_kg)
        ),
        None => "Run the hopper down at each mark: what is still in it has left the bag and is not in a bay. \
                 `left_in_machine` under `[order]` of the job file adds its content to the count instead."
            .to_owned(),
    }
}

fn first_mark(fill: &FillMarks, takeoff: &Takeoff, sheet: &CrewSheet, units: UnitSystem) -> Markup {
    let named = takeoff.fills.get(fill.fill).map(|fill| plain(&fill.name)).unwrap_or_default();
    let Some(first) = &fill.first else { return Markup::default() };
    let stop = sheet.stops.iter().find(|stop| stop.number == first.stop);
    let surface = stop.and_then(|stop| takeoff.surfaces.get(stop.surface));
    html! {
        p.mark {
            strong { "First mark, " (named) ": " }
            "at the end of bay " (first.bay) " of stop " a href=(format!("#stop-{}", first.stop)) { (first.stop) }
            @if let Some(surface) = surface {
                " (" (name(surface)) @if surface.count > 1 { ", number " (first.copy) " of " (surface.count) } ")"
            }
            ", " (units.show_mass(first.mark.mass_kg)) " are blown: " (tenth(first.mark.opened_bags_exact))
            " bags counted at the machine, at most " (tenth(first.mark.most_bags_exact)) "."
        }
    }
}

fn mark_row(stop: &Stop, surface: &SurfaceTakeoff, has_fills: bool, units: UnitSystem) -> Vec<String> {
    let dash = || "-".to_owned();
    let of = |pick: fn(&Mark) -> f64| stop.end.as_ref().map_or_else(dash, |mark| tenth(pick(mark)));
    let mut row = vec![
        stop.number.to_string(),
        if surface.count > 1 { format!("{} ({} alike)", name(surface), surface.count) } else { name(surface) },
        grouped(units.mass(stop.mass_kg), usize::from(units == UnitSystem::Si)),
        stop.bags_exact.map_or_else(dash, tenth),
        of(|mark| mark.bags_exact),
        of(|mark| mark.opened_bags_exact),
        of(|mark| mark.most_bags_exact),
    ];
    if has_fills {
        row.insert(2, surface.fill.as_deref().map(plain).unwrap_or_default());
    }
    row
}

/// Bags to the tenth.
pub(super) fn tenth(bags: f64) -> String {
    grouped(bags, 1)
}
