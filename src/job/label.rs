//! What the label on the bag says of one surface: how thick open-blown fill lies, and what it weighs.

use super::coverage_table::Coverage;
use super::rules::{Assembly, FillChoice, Job};
use super::{Assigned, Rule};
use crate::fill::{FillUse, LabelFigure, settled_thickness_m};
use crate::geometry::tolerance::COINCIDENT_M;
use crate::model::{ExistingExtent, ExistingFill, Surface, SurfaceKind};

/// Why an attic is not counted whose R the label's table does not reach.
pub const R_NOT_IN_TABLE: &str = "R not within the coverage table";
/// Why an attic is not counted of which an R is asked for and no label tells what it takes.
pub const NO_TABLE: &str = "no coverage table for the R asked for";
/// Why an attic is not counted that has fill of an unknown R.
pub const EXISTING_R_NOT_GIVEN: &str = "R of the existing fill not given";
/// Why an attic is not counted that has fill of an unknown thickness.
pub const EXISTING_THICKNESS_NOT_GIVEN: &str = "thickness of the existing fill not given";
/// Why an attic is not counted that needs no more.
pub const ENOUGH_ALREADY: &str = "existing fill has the R asked for";
/// Why an attic is not counted whose fill has no settled density.
pub const NO_OPEN_DENSITY: &str = "settled density of the fill not given";

/// Whether a reason for not counting a surface is one of these.
pub fn is_about_open_fill(reason: &str) -> bool {
    let all =
        [R_NOT_IN_TABLE, NO_TABLE, EXISTING_R_NOT_GIVEN, EXISTING_THICKNESS_NOT_GIVEN, ENOUGH_ALREADY, NO_OPEN_DENSITY];
    all.contains(&reason)
}

/// A figure of a label's table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Labelled<'j> {
    /// The table.
    pub coverage: &'j Coverage,
    /// What it says.
    pub figure: LabelFigure,
}

/// Open-blown fill on one ceiling.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OpenFill<'j> {
    /// Settled thickness of the new fill, in metres.
    pub new_m: f64,
    /// Thickness of the fill below it that is there already.
    pub existing_m: f64,
    /// That fill.
    pub existing: Option<&'j ExistingFill>,
    /// Resistance that is asked for, of old and new fill together.
    pub target_m2k_w: Option<f64>,
    /// What the label says of the new fill; `None` where no table reaches it.
    pub label: Option<Labelled<'j>>,
    /// Settled density of the new fill.
    pub density_kg_m3: f64,
}

impl OpenFill<'_> {
    /// Settled thickness of all that lies there, in metres.
    pub fn total_m(&self) -> f64 {
        self.existing_m + self.new_m
    }
}

/// Why the fill of a surface cannot be told; `None` where it can.
pub fn reason_against_fill(surface: &Surface, assigned: &Assigned<'_>, job: &Job) -> Option<&'static str> {
    job.open_fill_of(surface, assigned).err()
}

impl Job {
    /// The assembly that a surface got; `None` where its framing alone was said.
    pub fn assembly_of<'j>(&'j self, assigned: &Assigned<'_>) -> Option<&'j Assembly> {
        match assigned.rule {
            Rule::Assembly(index) => self.assemblies.get(index),
            Rule::BuiltIn(index) => self.built_in.get(index),
            Rule::Frame(index) => self.frames.get(index)?.assembly.as_ref(),
            Rule::Sheet | Rule::Model => None,
        }
    }

    /// How open-blown fill lies on a ceiling; `None` for all that is a closed cavity.
    ///
    /// What is asked for is an R (`r_value`), a settled thickness (`thickness`) or both, of which the greater counts: the
    /// label's minimum thickness and its minimum mass per area must both be met. Existing fill is taken off, by its R or
    /// by its thickness.
    ///
    /// # Errors
    /// Why that cannot be told.
    pub fn open_fill_of<'j>(
        &'j self,
        surface: &'j Surface,
        assigned: &Assigned<'_>,
    ) -> Result<Option<OpenFill<'j>>, &'static str> {
        if surface.kind != SurfaceKind::Ceiling {
            return Ok(None);
        }
        let assembly = self.assembly_of(assigned);
        let target_m2k_w = assembly.and_then(|assembly| assembly.r_m2k_w);
        let thickness_m = assigned.layout.enclosure.open_thickness_m;
        if target_m2k_w.is_none() && thickness_m.is_none() {
            return Ok(None);
        }
        let Some(fill) = self.fills.get(assigned.fill) else { return Ok(None) };
        let existing = self.filling_of(surface, assigned).existing.filter(|existing| !existing.is_removed);
        let existing_m = existing_thickness_m(existing, thickness_m)?;
        let asked_m = thickness_m.map(|thickness_m| (thickness_m - existing_m).max(0.0));
        let mut label = None;
        let mut new_m = asked_m.unwrap_or(0.0);
        if let Some(target_m2k_w) = target_m2k_w {
            let added_m2k_w = missing_m2k_w(target_m2k_w, existing)?;
            let by_r = by_resistance(fill, added_m2k_w)?;
            if by_r.0 >= new_m - COINCIDENT_M {
                (new_m, label) = by_r;
            }
        }
        if label.is_none() && fill.coverage_for(FillUse::OpenBlown).is_some() {
            label = at_thickness(fill, FillUse::OpenBlown, new_m);
        }
        let of_label = label.map(|label| label.figure.density_kg_m3());
        let density_kg_m3 = of_label.or(fill.rules.open_density_kg_m3).ok_or(NO_OPEN_DENSITY)?;
        Ok(Some(OpenFill { new_m, existing_m, existing, target_m2k_w, label, density_kg_m3 }))
    }

    /// What is missing to the resistance that is asked for of a ceiling, over fill that is there; `None` without such fill.
    pub fn missing_r_m2k_w(&self, surface: &Surface, assigned: &Assigned<'_>) -> Option<f64> {
        let target_m2k_w = self.assembly_of(assigned)?.r_m2k_w?;
        let existing = self.filling_of(surface, assigned).existing.filter(|existing| !existing.is_removed)?;
        missing_m2k_w(target_m2k_w, Some(existing)).ok()
    }

    /// What the label says of a closed cavity of a depth; `None` where it has no table for one, or none that reaches it.
    pub fn closed_label_of<'j>(&'j self, assigned: &Assigned<'_>, depth_m: f64) -> Option<Labelled<'j>> {
        at_thickness(self.fills.get(assigned.fill)?, FillUse::ClosedCavity, depth_m)
    }
}

fn existing_thickness_m(existing: Option<&ExistingFill>, total_m: Option<f64>) -> Result<f64, &'static str> {
    match (existing.map(|existing| existing.extent), total_m) {
        (None, _) => Ok(0.0),
        (Some(ExistingExtent::ThicknessM(thickness_m)), _) => Ok(thickness_m),
        (Some(ExistingExtent::Share(share)), Some(total_m)) => Ok(share * total_m),
        (Some(ExistingExtent::Share(_)), None) => Err(EXISTING_THICKNESS_NOT_GIVEN),
    }
}

/// Target less existing; more than nought.
fn missing_m2k_w(target_m2k_w: f64, existing: Option<&ExistingFill>) -> Result<f64, &'static str> {
    let Some(existing) = existing else { return Ok(target_m2k_w) };
    let missing_m2k_w = target_m2k_w - existing.r_m2k_w.ok_or(EXISTING_R_NOT_GIVEN)?;
    if missing_m2k_w > 0.0 { Ok(missing_m2k_w) } else { Err(ENOUGH_ALREADY) }
}

/// Settled thickness for an R: by the label's table, else from the conductivity that is published of the material.
fn by_resistance(fill: &FillChoice, r_m2k_w: f64) -> Result<(f64, Option<Labelled<'_>>), &'static str> {
    if let Some(coverage) = fill.coverage_for(FillUse::OpenBlown) {
        let figure = coverage.table.at_resistance(r_m2k_w).ok_or(R_NOT_IN_TABLE)?;
        return Ok((figure.settled_m, Some(Labelled { coverage, figure })));
    }
    let conductivity = fill.material.and_then(|material| material.open_conductivity).ok_or(NO_TABLE)?;
    Ok((settled_thickness_m(r_m2k_w, conductivity.si), None))
}

fn at_thickness(fill: &FillChoice, fill_use: FillUse, thickness_m: f64) -> Option<Labelled<'_>> {
    let coverage = fill.coverage_for(fill_use)?;
    Some(Labelled { coverage, figure: coverage.table.at_thickness(thickness_m)? })
}
