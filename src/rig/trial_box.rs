//! Trial box: the density that a filled box reached, and a box for the deepest bay.

use super::needs::{deepest_bay, target_kg_m3};
use super::notes::Notes;
use super::{Status, Topic};
use crate::job::{FillChoice, Job, Rig, TrialBox};
use crate::takeoff::Takeoff;
use crate::units::display_flow::percent;
use crate::units::{CUBIC_FOOT_M3, INCH_M};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Volume of a trial box, about: common practice, no source.
const USUAL_M3: f64 = 2.0 * CUBIC_FOOT_M3;
/// Least and greatest height of a box that is suggested.
const HEIGHTS_M: (f64, f64) = (24.0 * INCH_M, 96.0 * INCH_M);
/// Greatest width of a box that is suggested: that of a bay at 16 in., so that it can be lifted
const WIDEST_M: f64 = 14.5 * INCH_M;

/// A trial box that was filled.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TrialBoxFigures {
    /// Name of the fill.
    pub fill: String,
    /// Volume.
    pub volume_m3: f64,
    /// Mass of the fill in it.
    pub mass_kg: f64,
    /// Density that was reached.
    pub density_kg_m3: f64,
    /// How far that may be off, by scale and tape.
    pub uncertainty_kg_m3: f64,
    /// Density that a bay of its depth must have.
    pub target_kg_m3: f64,
}

/// Density that a box reached, and how far that may be off: the parts of scale and tape combined as squares.
///
/// # Source
/// JCGM 100:2008 (GUM), clause 5.1: uncorrelated inputs. The box is weighed twice.
pub fn trial_density_kg_m3(trial: &TrialBox) -> (f64, f64) {
    let volume_m3: f64 = trial.sides_m.iter().product();
    let mass_kg = trial.after_kg - trial.before_kg;
    let of_scale = (if trial.before_kg > 0.0 { 2.0_f64.sqrt() } else { 1.0 }) * trial.scale_kg / mass_kg;
    let of_tape = trial.sides_m.iter().fold(0.0, |sum, side_m| sum + (trial.tape_m / side_m).powi(2));
    let density_kg_m3 = mass_kg / volume_m3;
    (density_kg_m3, density_kg_m3 * (of_scale.powi(2) + of_tape).sqrt())
}

/// Checks the trial box, and suggests one for the deepest bay.
pub(super) fn check(takeoff: Option<&Takeoff>, job: &Job, rig: &Rig, notes: &mut Notes) -> Option<TrialBoxFigures> {
    let suggested = takeoff.and_then(|takeoff| suggest(takeoff, job, notes));
    let Some(trial) = &rig.trial_box else {
        let action =
            suggested.unwrap_or_else(|| "Fill a box as deep as the deepest bay, about 2 ft3, and weigh it.".to_owned());
        notes.point(Topic::TrialBox, Status::NotShown, "no box has been filled yet.", &action);
        return None;
    };
    let by_name = |name: &String| job.fills.iter().find(|fill| fill.rules.name == *name);
    let Some(fill) = trial.fill.as_ref().map_or_else(|| job.fills.first(), by_name) else {
        let found =
            format!("the box holds `{}`, which the job has no fill of.", trial.fill.as_deref().unwrap_or_default());
        notes.point(Topic::TrialBox, Status::NotShown, found, "Name a fill of the job file.");
        return None;
    };
    let [_, _, depth_m] = trial.sides_m;
    let (density_kg_m3, uncertainty_kg_m3) = trial_density_kg_m3(trial);
    let figures = TrialBoxFigures {
        fill: fill.rules.name.clone(),
        volume_m3: trial.sides_m.iter().product(),
        mass_kg: trial.after_kg - trial.before_kg,
        density_kg_m3,
        uncertainty_kg_m3,
        target_kg_m3: target_kg_m3(fill, depth_m),
    };
    say(&figures, fill, depth_m, notes);
    say_of_deeper(takeoff, job, &figures, depth_m, suggested, notes);
    explain(trial, &figures, notes);
    Some(figures)
}

fn say(figures: &TrialBoxFigures, fill: &FillChoice, depth_m: f64, notes: &mut Notes) {
    let (topic, units) = (Topic::TrialBox, notes.units);
    let reached = format!(
        "{}, give or take {}",
        units.show_measured_density(figures.density_kg_m3),
        units.show_measured_density(figures.uncertainty_kg_m3)
    );
    let target = units.show_density(figures.target_kg_m3);
    let found =
        format!("{} reached {reached}, {} deep; {target} are needed", figures.fill, units.show_section(depth_m));
    let (least, most) =
        (figures.density_kg_m3 - figures.uncertainty_kg_m3, figures.density_kg_m3 + figures.uncertainty_kg_m3);
    let too_much = fill.material.and_then(|material| material.most_density).filter(|limit| least > limit.si);
    if let Some(limit) = too_much {
        let action = format!(
            "Turn the air down and fill another box: beyond {} finishes bulge and fill is wasted.",
            units.show_density(limit.si)
        );
        notes.point(topic, Status::Holds, format!("{found}: more than is good for the walls."), &action);
    } else if least >= figures.target_kg_m3 {
        notes.holds(topic, format!("{found}: go on."));
    } else if most < figures.target_kg_m3 {
        let action = "Do not go on to the walls. More air, less feed, a shorter hose; then fill and weigh another box.";
        notes.point(topic, Status::FallsShort, format!("{found}."), action);
    } else {
        let action = "Weigh it again on a better scale, or fill a larger box: this one does not settle it.";
        notes.point(topic, Status::NotShown, format!("{found}: scale and tape leave it open."), action);
    }
}

/// A box shows nothing of bays that are deeper and must be denser than it.
fn say_of_deeper(
    takeoff: Option<&Takeoff>,
    job: &Job,
    figures: &TrialBoxFigures,
    depth_m: f64,
    suggested: Option<String>,
    notes: &mut Notes,
) {
    let Some((name, bay)) = takeoff.and_then(deepest_bay) else { return };
    let Some(fill) = job.fills.iter().find(|fill| fill.rules.name == name) else { return };
    let is_denser = target_kg_m3(fill, bay.depth_m) > figures.target_kg_m3 + 1e-6 || name != figures.fill;
    if bay.depth_m > depth_m + INCH_M / 2.0 && is_denser {
        let found = format!(
            "the deepest bays, {} of {name} at {}, have no box of their own.",
            notes.units.show_section(bay.depth_m),
            notes.units.show_density(bay.density_kg_m3)
        );
        notes.point(Topic::TrialBox, Status::NotShown, found, &suggested.unwrap_or_default());
    }
}

/// A box for the deepest bay, in words.
fn suggest(takeoff: &Takeoff, job: &Job, notes: &mut Notes) -> Option<String> {
    let (name, bay) = deepest_bay(takeoff)?;
    let fill = job.fills.iter().find(|fill| fill.rules.name == name)?;
    let width_m = bay.width_m?.min(WIDEST_M);
    let height_m = ((USUAL_M3 / (width_m * bay.depth_m) / INCH_M).round() * INCH_M).clamp(HEIGHTS_M.0, HEIGHTS_M.1);
    let volume_m3 = width_m * height_m * bay.depth_m;
    let mass_kg = volume_m3 * bay.density_kg_m3;
    let units = notes.units;
    let sides = [width_m, height_m, bay.depth_m].map(|side_m| units.show_section(side_m));
    let inputs = [
        ("deepest bay", sides[2].clone()),
        ("its width, up to 14 1/2 in.", sides[0].clone()),
        ("volume, about 2 ft3", units.show_volume(volume_m3)),
        ("density", units.show_density(bay.density_kg_m3)),
    ];
    let what = ["mass that a box of the deepest bay takes", &units.show_weighed(mass_kg), "volume x density"];
    notes.step(Topic::TrialBox, what, &inputs, "geometry; the volume of a box is common practice, no source");
    Some(format!(
        "Build a box {} wide, {} high and {} deep inside, fill it with {} until it stops, and weigh it: it must take {} or more.",
        sides[0],
        sides[1],
        sides[2],
        fill.rules.name,
        units.show_weighed(mass_kg)
    ))
}

fn explain(trial: &TrialBox, figures: &TrialBoxFigures, notes: &mut Notes) {
    let units = notes.units;
    let [width, height, depth] = trial.sides_m.map(|side_m| units.show_section(side_m));
    let default = if trial.is_uncertainty_given { "" } else { " (not given: common practice, no source)" };
    let inputs = [
        ("box inside", format!("{width} x {height} x {depth}, {:.3} m3", figures.volume_m3)),
        ("before", units.show_weighed(trial.before_kg)),
        ("after", units.show_weighed(trial.after_kg)),
        ("scale within", format!("{}{default}", units.show_weighed(trial.scale_kg))),
        ("tape within", format!("{}{default}", units.show_section(trial.tape_m))),
        ("off by", percent(figures.uncertainty_kg_m3 / figures.density_kg_m3)),
    ];
    let value = units.show_measured_density(figures.density_kg_m3);
    let formula = "(after - before) / (width x height x depth)";
    let source = "EN 15101-2, annex D, a test box before the wall; uncertainty as squares, JCGM 100:2008";
    notes.step(Topic::TrialBox, ["density that the box reached", &value, formula], &inputs, source);
}
