//! How one surface is filled: the method, and what is in its bays already.

use super::defaults::JOB_FILE;
use super::method::default_method;
use super::retrofit::is_nominal;
use super::{Assembly, Assigned, Job, Rule};
use crate::bays::Allowance;
use crate::fill::FillMethod;
use crate::framing::HeldBelow;
use crate::model::{ExistingFill, Surface, SurfaceKey, SurfaceKind};

/// What says how the fill gets into a surface.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SaidBy {
    /// Its assembly.
    Assembly,
    /// The job file, for all surfaces.
    JobFile,
    /// Nobody: it is the default of the kind of job.
    Default,
}

/// How one surface is filled.
#[derive(Clone, Debug, PartialEq)]
pub struct Filling<'j> {
    /// How the fill gets in.
    pub method: FillMethod,
    /// Where that comes from.
    pub said_by: SaidBy,
    /// How far netting bulges beyond the framing, in metres; nought where there is no netting.
    pub netting_bulge_m: f64,
    /// Whether the bulge is the job's and not one of the assembly.
    pub is_bulge_of_job: bool,
    /// Fill that is there already: that of the surface itself, else that of its assembly.
    pub existing: Option<&'j ExistingFill>,
    /// What else takes room in the bays.
    pub displaced: &'j [Allowance],
    /// Whether existing bays are filled.
    pub is_retrofit: bool,
    /// Whether somebody looked for bays that must stay empty; `None` for new work of which nobody says.
    pub is_surveyed: Option<bool>,
    /// Whether the depth is that of a nominal size of lumber or of a drawing, and nobody measured it.
    pub is_depth_nominal: bool,
}

impl Filling<'_> {
    /// Where a method that no assembly names comes from; `None` where one does, since it lists that itself.
    pub fn method_source(&self) -> Option<&'static str> {
        match (self.said_by, self.is_retrofit) {
            (SaidBy::Assembly, _) => None,
            (SaidBy::JobFile, _) => Some(JOB_FILE),
            (SaidBy::Default, true) => Some("common practice, no source; for `retrofit`"),
            (SaidBy::Default, false) => Some("common practice, no source; for new work"),
        }
    }
}

impl Job {
    /// How a surface is filled.
    pub fn filling_of<'j>(&'j self, surface: &'j Surface, assigned: &Assigned<'_>) -> Filling<'j> {
        let assembly = self.assembly_of(assigned);
        let retrofit = assembly.map(|assembly| &assembly.retrofit);
        let is_retrofit = self.fills.get(assigned.fill).is_some_and(|fill| fill.is_retrofit);
        let own_bulge_m = assembly.and_then(|assembly| assembly.netting_bulge_m);
        // Who gives a bulge of an assembly's netting says that it has netting.
        let of_assembly = assembly.and_then(|one| one.method).or(own_bulge_m.map(|_| FillMethod::Netting));
        let (method, said_by) = match (said_of(surface, assigned, assembly, of_assembly), self.filling.method) {
            (Some(method), _) => (method, SaidBy::Assembly),
            (None, Some(method)) => (method, SaidBy::JobFile),
            (None, None) => (default_method(surface.kind, is_retrofit), SaidBy::Default),
        };
        let bulge_m = own_bulge_m.unwrap_or(self.filling.netting_bulge_m);
        let is_surveyed =
            surface.is_surveyed || !surface.do_not_fill.is_empty() || retrofit.is_some_and(|one| one.is_surveyed);
        let is_given = surface.measured_depth_m.is_some() || retrofit.is_some_and(|one| one.is_depth_given);
        // Who says of a surface that nothing is there is believed.
        let is_said = surface.said.contains(&SurfaceKey::Existing);
        let of_assembly_fill = retrofit.filter(|_| !is_said).and_then(|one| one.existing.as_ref());
        Filling {
            method,
            said_by,
            netting_bulge_m: if method == FillMethod::Netting { bulge_m } else { 0.0 },
            is_bulge_of_job: own_bulge_m.is_none(),
            existing: surface.existing_fill.as_ref().or(of_assembly_fill),
            displaced: retrofit.map(|one| one.displaced.as_slice()).unwrap_or_default(),
            is_retrofit,
            is_surveyed: (is_retrofit || is_surveyed).then_some(is_surveyed),
            is_depth_nominal: !is_given && (assigned.rule == Rule::Model || is_nominal(&assigned.framing)),
        }
    }
}

/// The method that follows from what is said of a ceiling or a floor: a settled thickness is blown open, netting or a
/// board below a floor holds what goes through slits or through holes.
fn said_of(
    surface: &Surface,
    assigned: &Assigned<'_>,
    assembly: Option<&Assembly>,
    of_assembly: Option<FillMethod>,
) -> Option<FillMethod> {
    let enclosure = &assigned.layout.enclosure;
    let is_open = enclosure.open_thickness_m.is_some() || assembly.is_some_and(|assembly| assembly.r_m2k_w.is_some());
    match surface.kind {
        SurfaceKind::Ceiling if is_open => Some(FillMethod::Open),
        SurfaceKind::Floor => of_assembly.or(enclosure.below.map(|below| match below {
            HeldBelow::Netting => FillMethod::Netting,
            HeldBelow::Board => FillMethod::Tube,
        })),
        SurfaceKind::Wall | SurfaceKind::Roof | SurfaceKind::Ceiling => of_assembly,
    }
}
