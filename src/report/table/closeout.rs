//! The closeout at 80 columns.

use super::WIDTH;
use super::columns::lines;
use crate::closeout::{Closeout, GradeSeen, GradedHeat, Reached, RunningCheck, Zone};
use crate::fill::FillUse;
use crate::report::figure::show;
use crate::report::text::{printable, shorten, wrap};
use crate::units::UnitSystem;
use crate::units::display::grouped;

/// Surfaces that a line names.
const NAMED: usize = 12;

/// The whole closeout.
pub fn render_closeout(closeout: &Closeout, units: UnitSystem) -> String {
    let what = closeout.project.as_deref().map_or_else(|| "a job".to_owned(), printable);
    let path = closeout.inputs.last().map(|input| shorten(&input.path, 50)).unwrap_or_default();
    let mut out = wrap(&format!("Closeout of {what}: {path}"), WIDTH, "  ");
    out.push(String::new());
    for fill in &closeout.overall {
        let order = match (fill.bags_order, fill.left_exact) {
            (Some(order), Some(left)) => format!("; {order} were ordered, {} are left", grouped(left, 1)),
            _ => String::new(),
        };
        let text = format!(
            "  {}: {} bags, {} in place of {} promised here: {} % ({} to {} % at {} %): {}; {}{order}",
            printable(&fill.fill),
            grouped(fill.bags_exact, 1),
            show(fill.net_kg, "kg", units),
            show(fill.promised_kg, "kg", units),
            grouped(fill.mass_ratio * 100.0, 1),
            grouped(fill.least_ratio * 100.0, 1),
            grouped(fill.most_ratio * 100.0, 1),
            grouped(closeout.zones.first().map_or(0.9, |zone| zone.confidence_share) * 100.0, 0),
            fill.verdict.words(None),
            printable(&fill.reason),
        );
        out.extend(wrap(&text, WIDTH, "    "));
    }
    out.extend(zones(closeout, units));
    out.extend(running(&closeout.running));
    out.extend(rest(closeout));
    out.extend(finish(closeout));
    let mut text = out.iter().map(|line| line.trim_end()).collect::<Vec<_>>().join("\n");
    text.push('\n');
    text
}

/// Finished checks, the verdict first.
fn finish(closeout: &Closeout) -> Vec<String> {
    let Some(finish) = &closeout.finish else { return Vec::new() };
    let mut out = vec![String::new()];
    out.extend(wrap(&format!("Finish: {}", finish.verdict), WIDTH, "  "));
    for check in &finish.checks {
        out.extend(wrap(&format!("  {}", printable(&check.sentence())), WIDTH, "    "));
    }
    out
}

fn zones(closeout: &Closeout, units: UnitSystem) -> Vec<String> {
    let mut out = vec![String::new(), "Places".to_owned()];
    for zone in &closeout.zones {
        for (index, text) in sentences(zone, units).iter().enumerate() {
            let (indent, next) = if index == 0 { ("  ", "    ") } else { ("    ", "      ") };
            out.extend(wrap(&format!("{indent}{text}"), WIDTH, next));
        }
    }
    out
}

/// What is said of a place, the verdict first.
pub(crate) fn sentences(zone: &Zone, units: UnitSystem) -> Vec<String> {
    let mut all = vec![format!(
        "{}: {}; {}",
        printable(&zone.name),
        zone.verdict.words(Some(zone.r#use)),
        printable(&zone.reason)
    )];
    let out: Vec<String> = zone
        .taken_out
        .iter()
        .map(|taken| format!("less {} {}", show(taken.mass_kg, "kg", units), taken.what))
        .collect();
    let less = if out.is_empty() { String::new() } else { format!(", {}", out.join(", ")) };
    if !zone.is_closed_off {
        all.push(format!(
            "{} bags, {} blown{less}: {} in {} of bays, if all of it were there; promised {}",
            grouped(zone.bags_exact, 1),
            show(zone.blown_kg, "kg", units),
            show(zone.density_kg_m3, "kg/m3", units),
            show(zone.bay_volume_m3, "m3", units),
            show(zone.promised_kg_m3, "kg/m3", units),
        ));
        all.extend(seen(zone, units));
        return all;
    }
    all.push(format!(
        "{} bags, {} blown{less}: {} in {} of bays is {}, {} to {} at {:.0} %; promised {}",
        grouped(zone.bags_exact, 1),
        show(zone.blown_kg, "kg", units),
        show(zone.net_kg, "kg", units),
        show(zone.bay_volume_m3, "m3", units),
        show(zone.density_kg_m3, "kg/m3", units),
        show(zone.least_kg_m3, "kg/m3", units),
        show(zone.most_kg_m3, "kg/m3", units),
        zone.confidence_share * 100.0,
        show(zone.promised_kg_m3, "kg/m3", units),
    ));
    if zone.r#use == FillUse::OpenBlown && zone.bay_area_m2 > 0.0 {
        let least = zone.label.as_ref().map_or(zone.promised_kg / zone.bay_area_m2, |label| label.mass_kg_m2);
        all.push(format!(
            "{} over {}; the minimum is {}",
            show(zone.net_kg / zone.bay_area_m2, "kg/m2", units),
            show(zone.bay_area_m2, "m2", units),
            show(least, "kg/m2", units)
        ));
    }
    all.extend(seen(zone, units));
    all
}

/// What was measured and looked into, and what would settle a place that can't be told.
fn seen(zone: &Zone, units: UnitSystem) -> Vec<String> {
    let mut all = measured(zone, units);
    let bays = &zone.bays;
    if bays.every_bay_filled {
        all.push(format!("every bay filled: {} of {} seen by {}", bays.filled, bays.bays, bays.methods.join(", ")));
    } else if !bays.methods.is_empty() {
        let voids = if bays.voids.is_empty() {
            String::new()
        } else {
            format!("; a void in {}", printable(&bays.voids.join(", ")))
        };
        all.push(format!(
            "{} of {} bays seen to be filled, by {}{voids}",
            bays.filled,
            bays.bays,
            bays.methods.join(", ")
        ));
    }
    if let Some(grade) = &zone.grade {
        all.push(graded(grade, units));
    }
    if !zone.settles.is_empty() {
        all.push(format!("what would settle it: {}", zone.settles.join("; or ")));
    }
    all
}

/// The void that a grade allows, and the heat at it, surface by surface.
fn graded(grade: &GradeSeen, units: UnitSystem) -> String {
    let one = |heat: &GradedHeat| {
        let figure = match (heat.u_w_m2k, &heat.reason) {
            (Some(u_w_m2k), _) => format!("{} of the whole assembly", show(u_w_m2k, "W/(m2K)", units)),
            (None, reason) => format!("not computed, since {}", reason.as_deref().unwrap_or("nothing is known of it")),
        };
        format!("{} {}", printable(&heat.surface), printable(&figure))
    };
    let parts: Vec<String> = grade.heat.iter().map(one).collect();
    format!(
        "grade {}, as the rater entered it: up to {:.0} % of the cavity is void; heat at that share: {}",
        grade.grade,
        grade.void_share * 100.0,
        parts.join("; ")
    )
}

fn measured(zone: &Zone, units: UnitSystem) -> Vec<String> {
    let mut all = Vec::new();
    if let Some(cores) = &zone.cores {
        let range = match (cores.least_kg_m3, cores.most_kg_m3) {
            (Some(least), Some(most)) => {
                format!(", {} to {} by Student's t", show(least, "kg/m3", units), show(most, "kg/m3", units))
            }
            _ => String::new(),
        };
        let spread =
            cores.spread_kg_m3.map(|spread| format!(", spread {}", show(spread, "kg/m3", units))).unwrap_or_default();
        let below = if cores.below.is_empty() {
            String::new()
        } else {
            format!("; {} below what was promised", cores.below.len())
        };
        all.push(format!(
            "{} cores: mean {}{spread}{range}{below}",
            cores.samples.len(),
            show(cores.mean_kg_m3, "kg/m3", units)
        ));
    }
    if let Some(readings) = &zone.readings {
        let due =
            readings.promised_m.map(|due_m| format!("; promised {}", show(due_m, "m", units))).unwrap_or_default();
        all.push(format!(
            "{} depth readings: mean {}, least {}{due}",
            readings.count,
            show(readings.mean_m, "m", units),
            show(readings.least_m, "m", units)
        ));
    }
    all
}

fn running(checks: &[RunningCheck]) -> Vec<String> {
    if checks.is_empty() {
        return Vec::new();
    }
    let row = |check: &RunningCheck| {
        vec![
            check.date.clone().unwrap_or_default(),
            shorten(&check.zone, 24),
            grouped(check.bags_exact, 1),
            format!("{} of {}", check.bays_filled, check.bays),
            shorten(check.up_to.as_deref().unwrap_or("-"), 18),
        ]
    };
    let mut out =
        vec![String::new(), "As the bags went: bays that should be filled by then, in the takeoff's order".to_owned()];
    out.extend(lines(&["day", "place", "bags so far", "bays", "up to"], 2, checks.iter().map(row).collect()));
    out
}

fn rest(closeout: &Closeout) -> Vec<String> {
    let mut out = Vec::new();
    if !closeout.not_logged.is_empty() {
        let shown: Vec<String> = closeout.not_logged.iter().take(NAMED).map(|name| printable(name)).collect();
        let more = closeout.not_logged.len().saturating_sub(NAMED);
        let more = if more > 0 { format!(" and {more} more (all in the JSON)") } else { String::new() };
        out.push(String::new());
        out.extend(wrap(&format!("Counted, and not in the log: {}{more}", shown.join(", ")), WIDTH, "  "));
    }
    out.push(String::new());
    let is_open = closeout.zones.iter().any(|zone| zone.verdict == Reached::CannotTell);
    let caution = "A bag count gives an average and cannot show an empty bay: infrared, borescope, probe or smoke at 50 Pa does, \
                   bay by bay. Mask and eye protection at every opening; wiring is live until an electrician says otherwise; \
                   combustion appliances are tested afterwards. The label on the bag, the local code and the licensed trades decide.";
    out.extend(wrap(caution, WIDTH, ""));
    if is_open {
        out.extend(wrap("Where it says `can't tell`, nothing is proven either way.", WIDTH, ""));
    }
    out
}
