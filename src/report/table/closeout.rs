//! The closeout at 80 columns.

use super::WIDTH;
use super::columns::lines;
use crate::closeout::{AtticBlown, Closeout, FillCloseout, GradeSeen, GradedHeat, Reached, RunningCheck, Zone};
use crate::fill::FillUse;
use crate::report::figure::show;
use crate::report::text::{printable, shorten, shorten_middle, wrap};
use crate::units::UnitSystem;
use crate::units::display::grouped;

/// Surfaces that a line names.
const NAMED: usize = 12;

/// The whole closeout.
pub fn render_closeout(closeout: &Closeout, units: UnitSystem) -> String {
    let what = closeout.project.as_deref().map_or_else(|| "a job".to_owned(), printable);
    let log = closeout.inputs.iter().find(|input| input.schema.as_deref() == Some("log"));
    let path = log.map(|input| shorten_middle(&input.path, 50)).unwrap_or_default();
    let mut out = wrap(&format!("Closeout of {what}: {path}"), WIDTH, "  ");
    out.push(String::new());
    for fill in &closeout.overall {
        for (index, text) in fill_sentences(fill, closeout, units).iter().enumerate() {
            let (indent, next) = if index == 0 { ("  ", "    ") } else { ("    ", "      ") };
            out.extend(wrap(&format!("{indent}{text}"), WIDTH, next));
        }
    }
    out.extend(zones(closeout, units));
    out.extend(running(&closeout.running));
    out.extend(rest(closeout));
    out.extend(finish(closeout));
    let mut text = out.iter().map(|line| line.trim_end()).collect::<Vec<_>>().join("\n");
    text.push('\n');
    text
}

/// What is said of a fill over all places, the verdict and the short places first.
pub(in crate::report) fn fill_sentences(fill: &FillCloseout, closeout: &Closeout, units: UnitSystem) -> Vec<String> {
    let order = match (fill.bags_order, fill.left_exact) {
        (Some(order), Some(left)) => format!("; {order} were ordered, {} are left", grouped(left, 1)),
        _ => String::new(),
    };
    let is_open = fill.uses.iter().all(|own| own.r#use == FillUse::OpenBlown);
    let use_of = fill.uses.first().filter(|_| is_open).map(|own| own.r#use);
    let words = if fill.uses.len() > 1 && fill.verdict == Reached::Reached {
        "average density, and of open-blown fill thickness and mass, reached"
    } else {
        fill.verdict.words(use_of)
    };
    let mut all = vec![format!("{}: {words}; {}", printable(&fill.fill), printable(&fill.reason))];
    if !fill.uses.is_empty() {
        all.push(format!("{} bags{order}", grouped(fill.bags_exact, 1)));
    }
    let confidence = closeout.zones.first().map_or(0.9, |zone| zone.confidence_share);
    all.extend(fill.uses.iter().map(|own| {
        format!(
            "{}: {} in place of {} promised here: {} % ({} to {} % at {} %): {}; {}",
            if own.r#use == FillUse::OpenBlown { "open-blown" } else { "closed cavities" },
            show(own.net_kg, "kg", units),
            show(own.promised_kg, "kg", units),
            grouped(own.mass_ratio * 100.0, 1),
            grouped(own.least_ratio * 100.0, 1),
            grouped(own.most_ratio * 100.0, 1),
            grouped(confidence * 100.0, 0),
            own.verdict.words(Some(own.r#use)),
            printable(&own.reason),
        )
    }));
    all
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
pub(in crate::report) fn sentences(zone: &Zone, units: UnitSystem) -> Vec<String> {
    let mut all = vec![format!(
        "{}: {}; {}",
        printable(&zone.name),
        zone.verdict.words(Some(zone.r#use)),
        printable(&zone.reason)
    )];
    all.extend(blown(zone, units));
    all.extend(seen(zone, units));
    all
}

/// What was blown, and what it comes to in the bays or over the area of an attic.
fn blown(zone: &Zone, units: UnitSystem) -> Vec<String> {
    if !zone.is_blown {
        return vec![format!("promised {}", show(zone.promised_kg_m3, "kg/m3", units))];
    }
    let density = |kg_m3: Option<f64>| kg_m3.map_or_else(|| "-".to_owned(), |kg_m3| show(kg_m3, "kg/m3", units));
    let out = zone.taken_out.iter().map(|taken| format!("less {} {}", show(taken.mass_kg, "kg", units), taken.what));
    let blown = std::iter::once(format!("{} blown", show(zone.blown_kg, "kg", units))).chain(out).collect::<Vec<_>>();
    let blown = blown.join(", ");
    let Some(bags) = zone.bags_used_exact.filter(|_| zone.is_closed_off) else {
        return vec![format!(
            "{} bags, {blown}: {} in {} of bays, if all of it were there; promised {}",
            grouped(zone.bags_exact, 1),
            density(zone.density_kg_m3),
            show(zone.bay_volume_m3, "m3", units),
            show(zone.promised_kg_m3, "kg/m3", units),
        )];
    };
    let blown = format!("{blown}: {}, {} bags,", show(zone.net_kg, "kg", units), grouped(bags, 1));
    let confidence = zone.confidence_share * 100.0;
    let Some(attic) = &zone.attic else {
        let limit = zone.limit_kg_m3.filter(|limit| zone.least_kg_m3.is_some_and(|least| least > *limit));
        let limit = limit.map(|limit| format!(", at most {}", show(limit, "kg/m3", units))).unwrap_or_default();
        return vec![format!(
            "{blown} in {} of bays is {}, {} to {} at {confidence:.0} %; promised {}{limit}",
            show(zone.bay_volume_m3, "m3", units),
            density(zone.density_kg_m3),
            density(zone.least_kg_m3),
            density(zone.most_kg_m3),
            show(zone.promised_kg_m3, "kg/m3", units),
        )];
    };
    let mut all = vec![format!(
        "{blown} over {} is {}, {} to {} at {confidence:.0} %; the minimum is {}",
        coverage(attic, units),
        show(attic.mass_kg_m2, "kg/m2", units),
        show(attic.least_kg_m2, "kg/m2", units),
        show(attic.most_kg_m2, "kg/m2", units),
        show(attic.minimum_kg_m2, "kg/m2", units)
    )];
    all.extend(
        attic
            .initial_kg_m3
            .map(|density| format!("{} as blown, over the mean of the depths read", show(density, "kg/m3", units))),
    );
    all
}

/// An attic's area, with what it is.
pub(in crate::report) fn coverage(attic: &AtticBlown, units: UnitSystem) -> String {
    let basis = match attic.basis.as_str() {
        "net" => "net of openings, and of framing to its own depth",
        other => other,
    };
    format!("{} {basis}", show(attic.coverage_area_m2, "m2", units))
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
        let figure = match (heat.u_w_m2k, heat.r_m2k_w, &heat.reason) {
            (Some(u_w_m2k), Some(r_m2k_w), _) => {
                format!("{}, {} of the whole assembly", show(r_m2k_w, "m2K/W", units), show(u_w_m2k, "W/(m2K)", units))
            }
            (_, _, reason) => format!("not computed, since {}", reason.as_deref().unwrap_or("nothing is known of it")),
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
                format!(
                    ", {} to {} by Student's t, scale, depth and cutter",
                    show(least, "kg/m3", units),
                    show(most, "kg/m3", units)
                )
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
        let word = if cores.samples.len() == 1 { "core" } else { "cores" };
        all.push(format!(
            "{} {word}: mean {}{spread}{range}{below}",
            cores.samples.len(),
            show(cores.mean_kg_m3, "kg/m3", units)
        ));
    }
    if let Some(readings) = &zone.readings {
        let due =
            readings.promised_m.map(|due_m| format!("; promised {}", show(due_m, "m", units))).unwrap_or_default();
        let spread =
            readings.spread_m.map(|spread| format!(", spread {}", show(spread, "m", units))).unwrap_or_default();
        all.push(format!(
            "{} depth readings: mean {}, least {}{spread}{due}",
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
        out.extend(wrap(
            &format!("Counted, and nothing blown into by the log: {}{more}", shown.join(", ")),
            WIDTH,
            "  ",
        ));
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
