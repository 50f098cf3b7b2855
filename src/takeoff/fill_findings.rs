//! What a person must know of the fill: densities that settle or bulge, labels that do not reach, boards that sag.

use super::plan::Plan;
use super::words::{area, gross_m2, mass, place, surfaces as how_many, types};
use super::{FillTakeoff, OpenBlownTakeoff, SurfaceTakeoff};
use crate::fill::{CoverageBasis, FillMethod, FillUse, Humidity, least_board_limit_kg_m2, least_density_kg_m3};
use crate::finding::{Code, Finding, Severity};
use crate::framing::Framing;
use crate::job::{ENOUGH_ALREADY, FillChoice, Job, NO_OPEN_DENSITY, NO_TABLE, R_NOT_IN_TABLE, is_about_open_fill};
use crate::model::Surface;
use crate::source::Place;
use crate::units::display::{grouped, resistance_both_ways, section_both_ways};
use crate::units::{POUND_KG, POUND_PER_SQUARE_FOOT_KG_M2};

/// Slack in comparing densities and loads, as a ratio: what figures in two unit systems differ by.
const ALIKE: f64 = 1e-6;
/// Half of the last digit that a label prints of a mass per area, 0.001 lb/ft2 (common practice, no source), in kg/m2.
const PRINT_ROUNDING_KG_M2: f64 = 0.0005 * POUND_PER_SQUARE_FOOT_KG_M2;

/// Least and greatest net mass of a bag of loose fill, in pounds (common practice, no source).
const LEAST_BAG_LB: f64 = 10.0;
const MOST_BAG_LB: f64 = 60.0;

/// A surface that is filled, and its fill.
type Filled<'a> = (&'a SurfaceTakeoff, &'a FillChoice, &'a Plan<'a>);

/// Collects them, one finding a kind.
pub(super) fn findings(
    modelled: &[Surface],
    surfaces: &[SurfaceTakeoff],
    plans: &[Plan<'_>],
    job: &Job,
) -> Vec<Finding> {
    let of = |(surface, plan)| filled(surface, plan, job);
    let all: Vec<Filled<'_>> = surfaces.iter().zip(plans).filter_map(of).collect();
    let mut found = not_told(modelled, surfaces, plans, job);
    found.extend(densities(&all));
    found.extend(labels(&all, job));
    found.extend(all.iter().filter_map(board));
    found
}

fn filled<'a>(surface: &'a SurfaceTakeoff, plan: &'a Plan<'a>, job: &'a Job) -> Option<Filled<'a>> {
    let fill = job.fills.get(plan.assigned.as_ref()?.fill)?;
    surface.counted.then_some((surface, fill, plan))
}

/// One finding for all surfaces of a kind; none where there are none.
fn of_group(code: Code, severity: Severity, group: &[&SurfaceTakeoff], what: &str) -> Option<Finding> {
    let first = group.first()?;
    let place = if group.len() == 1 { place(first) } else { Place::input(&first.source.input) };
    let message = format!("{} with {} ({}): {what}", how_many(group), area(gross_m2(group)), types(group));
    Some(match severity {
        Severity::Note => Finding::note(code, &place, message),
        Severity::Warning => Finding::warning(code, &place, message),
        Severity::Error => Finding::error(code, &place, message),
    })
}

/// Attics that are not counted since nobody can tell what they take, or since they need nothing.
fn not_told(modelled: &[Surface], surfaces: &[SurfaceTakeoff], plans: &[Plan<'_>], job: &Job) -> Vec<Finding> {
    let mut reasons: Vec<&str> = surfaces.iter().filter_map(|surface| surface.reason.as_deref()).collect();
    reasons.retain(|reason| is_about_open_fill(reason));
    reasons.sort_unstable();
    reasons.dedup();
    let looked_up = |surface: &Surface, plan: &Plan<'_>| job.missing_r_m2k_w(surface, plan.assigned.as_ref()?);
    let of = |reason: &str| {
        let is_meant = |surface: &SurfaceTakeoff| surface.reason.as_deref() == Some(reason);
        let group: Vec<&SurfaceTakeoff> = surfaces.iter().filter(|surface| is_meant(surface)).collect();
        let severity = if reason == ENOUGH_ALREADY { Severity::Note } else { Severity::Warning };
        let own = modelled.iter().zip(plans).zip(surfaces).filter(|(_, surface)| is_meant(surface));
        let missing = own.filter_map(|((surface, plan), _)| looked_up(surface, plan));
        let help =
            if reason == R_NOT_IN_TABLE { over_existing(missing) + NOT_IN_TABLE } else { help_for(reason).to_owned() };
        of_group(Code::OpenFillUnknown, severity, &group, &format!("{reason}, so not counted; {help}"))
    };
    reasons.into_iter().filter_map(of).collect()
}

/// What was looked up in the table where it is not the R that is asked for.
fn over_existing(missing_m2k_w: impl Iterator<Item = f64>) -> String {
    let mut words: Vec<String> = missing_m2k_w.map(resistance_both_ways).collect();
    words.dedup();
    if words.is_empty() {
        return String::new();
    }
    format!("over the existing fill {} is missing to the `r_value`, and that is looked up; ", words.join(", "))
}

fn help_for(reason: &str) -> &'static str {
    match reason {
        NO_TABLE => "give the label's table as `[[fill.NAME.coverage]]` in the job file, or a `thickness`",
        ENOUGH_ALREADY => "nothing is blown over it: ask for a greater `r_value` where more is wanted",
        NO_OPEN_DENSITY => "give `open_density` of the fill, or its label's table as `[[fill.NAME.coverage]]`",
        _ => {
            "give the existing fill's `thickness` and `r_value` in the assembly, as `existing = { what = \"cellulose\", \
             thickness = \"6 in\", r_value = \"R-19\" }`, or a `thickness` in place of an `r_value`"
        }
    }
}

const NOT_IN_TABLE: &str =
    "nothing is said beyond the rows of a label: ask for an R that it prints, or give its whole table";

/// Closed cavities whose density is low or high.
fn densities(all: &[Filled<'_>]) -> Vec<Finding> {
    let those = |is_meant: &dyn Fn(&SurfaceTakeoff, &FillChoice, f64) -> bool| -> Vec<&SurfaceTakeoff> {
        let closed = all.iter().filter(|(surface, _, _)| surface.r#use == Some(FillUse::ClosedCavity));
        closed
            .filter(|(surface, fill, _)| surface.density_kg_m3.is_some_and(|density| is_meant(surface, fill, density)))
            .map(|(surface, _, _)| *surface)
            .collect()
    };
    // A label's mass per area is rounded as it is printed: what reaches a limit but for that reaches it.
    let rounding = |surface: &SurfaceTakeoff| {
        let depth_m = surface.filled_depth_m().filter(|depth_m| surface.label.is_some() && *depth_m > 0.0);
        depth_m.map_or(0.0, |depth_m| PRINT_ROUNDING_KG_M2 / depth_m)
    };
    let is_cellulose = |fill: &FillChoice| fill.material.is_some_and(|material| material.least_density.is_some());
    let settles = those(&|surface, fill, density| {
        let least = surface.filled_depth_m().and_then(|depth_m| least_density_kg_m3(depth_m, fill.humidity));
        is_cellulose(fill) && least.is_some_and(|least| density + rounding(surface) < least * (1.0 - ALIKE))
    });
    let is_humid = all.iter().any(|(surface, fill, _)| {
        fill.humidity == Humidity::Changing && settles.iter().any(|one| std::ptr::eq(*one, *surface))
    });
    let light = those(&|surface, fill, density| {
        let least = fill.material.and_then(|material| material.least_density);
        least.is_some_and(|least| density + rounding(surface) < least.si * (1.0 - ALIKE))
    });
    let dense = those(&|surface, fill, density| {
        let most = fill.material.and_then(|material| material.most_density);
        surface.method != Some(FillMethod::Netting)
            && most.is_some_and(|most| density - rounding(surface) > most.si * (1.0 + ALIKE))
    });
    let bulging = those(&|surface, fill, density| {
        let limit = fill.material.and_then(|material| material.deep).map(|(deep, _)| deep.si);
        surface.method == Some(FillMethod::Netting)
            && limit.is_some_and(|limit| density - rounding(surface) > limit * (1.0 + ALIKE))
    });
    let humid = if is_humid { " where humidity changes from 50 to 80 %" } else { " at 50 % humidity" };
    let settling = format!(
        "filled below the density at which a wall of that thickness was found not to settle{humid} (48 kg/m3 at 0.1 m, 53 \
         at 0.3 m, 10 more in changing humidity: Danish Building Research Institute, settling of loose-fill insulation \
         in walls); the fill may sink and leave a gap at the top"
    );
    [
        of_group(Code::MaySettle, Severity::Warning, &settles, &settling),
        of_group(Code::BelowWorkSpecification, Severity::Warning, &light, LIGHT),
        of_group(Code::DenseForFinish, Severity::Warning, &dense, DENSE),
        of_group(Code::DenseForFinish, Severity::Warning, &bulging, BULGING),
    ]
    .into_iter()
    .flatten()
    .collect()
}

const LIGHT: &str = "filled below 3.5 lb/ft3 (56 kg/m3), which the US Standard Work Specifications (4.1103.1) ask of cellulose \
                     in closed cavities";
const DENSE: &str = "filled above 4.5 lb/ft3 (72 kg/m3), the end of the range that crews are trained to (US weatherization \
                     curriculum, 2012): board and lath may bulge or come off, and material is wasted; try one bay first, \
                     with the machine turned down";
const BULGING: &str = "filled behind netting above 4.0 lb/ft3 (64 kg/m3), where netting bulges and staples pull out (common \
                       practice, no source): staple closely, try one bay, and trim before the board goes on";

/// What labels say and do not say.
fn labels(all: &[Filled<'_>], job: &Job) -> Vec<Finding> {
    let those = |is_meant: &dyn Fn(&Filled<'_>) -> bool| -> Vec<&SurfaceTakeoff> {
        all.iter().filter(|one| is_meant(one)).map(|(surface, _, _)| *surface).collect()
    };
    let has_table = |fill: &FillChoice, surface: &SurfaceTakeoff| {
        surface.r#use.is_some_and(|fill_use| fill.coverage_for(fill_use).is_some())
    };
    let is_open = |surface: &SurfaceTakeoff| surface.r#use == Some(FillUse::OpenBlown);
    let no_table = those(&|(surface, fill, _)| is_open(surface) && !has_table(fill, surface));
    let not_reached = those(&|(surface, fill, _)| has_table(fill, surface) && surface.label.is_none());
    let between = those(&|(surface, _, _)| surface.label.as_ref().is_some_and(|label| !label.is_printed));
    let asked = |plan: &Plan<'_>| {
        let assembly = plan.assigned.as_ref().and_then(|assigned| job.assembly_of(assigned));
        assembly.and_then(|assembly| assembly.r_m2k_w)
    };
    let no_r = those(&|(surface, _, plan)| !is_open(surface) && asked(plan).is_some() && surface.label.is_none());
    let below_r = those(&|(surface, _, plan)| {
        let of_label = surface.label.as_ref().map(|label| label.r_m2k_w);
        !is_open(surface) && asked(plan).zip(of_label).is_some_and(|(asked, label)| label < asked * (1.0 - ALIKE))
    });
    let other_framing = those(&|(surface, fill, plan)| {
        let Some(coverage) = surface.r#use.and_then(|fill_use| fill.coverage_for(fill_use)) else { return false };
        let CoverageBasis::WithFraming(stated) = &coverage.table.basis else { return false };
        surface.label.is_some()
            && plan.assigned.as_ref().is_some_and(|assigned| !is_same_framing(&assigned.framing, stated))
    });
    [
        of_group(Code::NoCoverageTable, Severity::Warning, &no_table, ESTIMATE),
        of_group(Code::LabelNotReached, Severity::Warning, &not_reached, NOT_REACHED),
        of_group(Code::LabelInterpolated, Severity::Note, &between, BETWEEN),
        of_group(Code::LabelNotReached, Severity::Warning, &no_r, NO_R),
        of_group(Code::RNotReached, Severity::Warning, &below_r, BELOW_R),
        of_group(Code::LabelFramingDiffers, Severity::Note, &other_framing, OTHER_FRAMING),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Whether framing has the size and spacing that a label states.
fn is_same_framing(framing: &Framing, stated: &str) -> bool {
    framing.text.eq_ignore_ascii_case(stated)
}

const ESTIMATE: &str = "no coverage table of a label is given for open-blown fill, so its mass is a range: an estimate, not an \
                        order and not for the receipt (16 CFR 460.17 takes R and bags from the label); give \
                        `[[fill.NAME.coverage]]` with `use = \"open-blown\"` in the job file";
const NOT_REACHED: &str = "the label's coverage table has no rows about this thickness, and nothing is said beyond them: its \
                           density is that of the rules, and its R is not known";
const BETWEEN: &str = "lies between two printed rows of the coverage table: mass per area is interpolated, an estimate; papers \
                       use printed rows alone, so ask for one of these";
const NO_R: &str = "an `r_value` is asked for, and no coverage table for closed cavities says what the fill has there (one for \
                    open-blown fill does not serve)";
const BELOW_R: &str = "the label gives the fill a smaller R in this depth than the `r_value` asked for: a deeper cavity or \
                       another layer is for the designer";
const OTHER_FRAMING: &str = "the label's coverage has framing of another size or spacing in it than stands here: bags go by the \
                             label as printed";

/// Fills of whose order what stays in hopper and hose is more than the allowance.
pub(super) fn machine(fills: &[FillTakeoff], job: &Job) -> Vec<Finding> {
    let Some(left_kg) = job.order.left_in_machine_kg else { return Vec::new() };
    let short = fills.iter().filter(|fill| fill.bags_order.is_some() && fill.mass_kg * fill.allowance < left_kg);
    let message = |fill: &FillTakeoff| {
        format!(
            "{} stay in hopper and hose, more than the allowance of `{}`, {}: raise `allowance`, or run the hopper down into \
             the last bays",
            mass(left_kg),
            fill.name,
            mass(fill.mass_kg * fill.allowance)
        )
    };
    let warning = |fill| Finding::warning(Code::AllowanceTooSmall, &Place::input(&job.path), message(fill));
    short.map(warning).collect()
}

/// Bags that are lighter or heavier than bags of loose fill are: a slip of the unit or of a digit.
pub(super) fn odd_bags(fills: &[FillTakeoff], job: &Job) -> Vec<Finding> {
    let is_odd = |bag_kg: &f64| !(LEAST_BAG_LB..=MOST_BAG_LB).contains(&(bag_kg / POUND_KG));
    let message = |fill: &FillTakeoff| {
        let bag_kg = fill.bag_kg.filter(is_odd)?;
        Some(format!(
            "a bag of `{}` is {} net: bags of loose fill hold {LEAST_BAG_LB:.0} to {MOST_BAG_LB:.0} lb (common practice, no \
             source); check the net weight and its unit on the label",
            fill.name,
            bag_words(bag_kg)
        ))
    };
    let warning = |message| Finding::warning(Code::BagUnlikely, &Place::input(&job.path), message);
    fills.iter().filter_map(message).map(warning).collect()
}

fn bag_words(bag_kg: f64) -> String {
    format!("{} lb ({} kg)", grouped(bag_kg / POUND_KG, 1), grouped(bag_kg, 1))
}

/// What the board of a ceiling carries.
fn board((surface, _, plan): &Filled<'_>) -> Option<Finding> {
    let open = surface.open_blown.as_ref()?;
    let place = place(surface);
    let load = load_words(open);
    let deferred = "the board's maker and the local code decide";
    if let (Some(limit), Some(board)) = (open.board_limit_kg_m2, &open.board) {
        let is_over = open.load_kg_m2() > limit * (1.0 + ALIKE);
        let message = format!(
            "{load} on {board} board, which carries {} at this spacing (US Department of Energy on loose fill, as copied by \
             others): it may sag or come down; use less or lighter fill, stiffer board or closer framing; {deferred}",
            per_area(limit)
        );
        return is_over.then(|| Finding::warning(Code::BoardOverloaded, &place, message));
    }
    if let Some(board) = &open.board {
        let message = format!("{load} on {board} board at a spacing for which no limit is published; {deferred}");
        return Some(Finding::warning(Code::BoardOverloaded, &place, message));
    }
    let rows = plan.assigned.as_ref().map(|assigned| assigned.framing.rows.as_slice()).unwrap_or_default();
    let spacing_m = rows.iter().map(|row| row.spacing_m).reduce(f64::min);
    let (least, at_m) = least_board_limit_kg_m2(spacing_m);
    if open.load_kg_m2() <= least * (1.0 + ALIKE) {
        return None;
    }
    let message = format!(
        "{load}, and nothing says which board carries it: 1/2 in. at {} on centre carries {} (US Department of Energy on \
         loose fill, as copied by others); give `board = \"5/8 in\"` in the assembly; {deferred}",
        section_both_ways(at_m),
        per_area(least)
    );
    Some(Finding::warning(Code::BoardOverloaded, &place, message))
}

fn load_words(open: &OpenBlownTakeoff) -> String {
    let existing = match open.existing_kg_m2 {
        Some(existing) if existing > 0.0 => {
            format!(" ({} there already and {} new)", per_area(existing), per_area(open.mass_kg_m2))
        }
        Some(_) => String::new(),
        None => {
            let thickness = section_both_ways(open.existing_m);
            format!(" and {thickness} of existing fill of unknown density (give its `density`)")
        }
    };
    format!("the fill weighs {}{existing}", per_area(open.load_kg_m2()))
}

fn per_area(kg_m2: f64) -> String {
    format!("{:.2} lb/ft2 ({kg_m2:.1} kg/m2)", kg_m2 / POUND_PER_SQUARE_FOOT_KG_M2)
}
