//! What fills one surface, and how dense: by the label's table where it has one, else by the rules of the fill.

use super::sum::total;
use super::{LabelTakeoff, OpenBlownTakeoff, SurfaceTakeoff};
use crate::bays::BayCut;
use crate::fill::{
    ClosedUse, CoverageBasis, FillMethod, board_limit_kg_m2, density_kg_m3, depth_markers, initial_thickness_m,
    material_named,
};
use crate::framing::Layout;
use crate::job::{Assigned, FillChoice, Filling, Job, Labelled, OpenFill};
use crate::model::{Surface, SurfaceKind};

/// What fills a surface.
pub(super) struct Filler<'j> {
    pub fill: &'j FillChoice,
    /// How it lies open; `None` in a closed cavity.
    pub open: Option<OpenFill<'j>>,
    /// What the label says.
    pub label: Option<Labelled<'j>>,
    /// Density before framing that is in the coverage is taken into account.
    rule_kg_m3: f64,
}

impl<'j> Filler<'j> {
    /// `depth_m` is the filled depth of a closed cavity.
    pub(super) fn of(
        surface: &'j Surface,
        assigned: &Assigned<'_>,
        (fill, filling): (&'j FillChoice, &Filling<'_>),
        open: Option<OpenFill<'j>>,
        (job, depth_m): (&'j Job, f64),
    ) -> Self {
        if let Some(open) = open {
            return Self { fill, label: open.label, rule_kg_m3: open.density_kg_m3, open: Some(open) };
        }
        let label = job.closed_label_of(assigned, depth_m);
        let of_label = label.map(|label| label.figure.mass_kg_m2 / depth_m);
        let closed_use = closed_use(surface.kind, filling.method);
        let rule_kg_m3 = of_label.unwrap_or_else(|| density_kg_m3(&fill.rules, closed_use, depth_m));
        Self { fill, open: None, label, rule_kg_m3 }
    }

    /// Density of the fill in the bays: where the label's coverage has framing in it, the mass for the framing's area goes
    /// into the bays beside it.
    pub(super) fn density_kg_m3(&self, layout: &Layout, cut: &BayCut, depth_m: f64) -> f64 {
        let has_framing =
            self.label.is_some_and(|label| matches!(label.coverage.table.basis, CoverageBasis::WithFraming(_)));
        let bays_m3 = total(cut.bays.iter().map(|bay| bay.room_m3(depth_m)));
        if !has_framing || bays_m3 <= 0.0 {
            return self.rule_kg_m3;
        }
        let members_m3 = total(layout.members.iter().map(|member| member.area_m2 * layout.depth_m));
        let partial_m3 = total(layout.partial.iter().map(|piece| piece.volume_of_m3(piece.area_m2)));
        self.rule_kg_m3 * (bays_m3 + members_m3 + partial_m3) / bays_m3
    }

    /// Writes what the label says, and how open-blown fill lies.
    pub(super) fn note(&self, assigned: &Assigned<'_>, job: &Job, takeoff: &mut SurfaceTakeoff) {
        takeoff.label = self.label.map(|label| LabelTakeoff {
            source: label.coverage.source.clone(),
            basis: match &label.coverage.table.basis {
                CoverageBasis::Net => "net".to_owned(),
                CoverageBasis::WithFraming(framing) => format!("with framing {framing}"),
            },
            r_m2k_w: label.figure.r_m2k_w,
            mass_kg_m2: label.figure.mass_kg_m2,
            is_printed: label.figure.is_printed,
        });
        takeoff.open_blown = self.open.map(|open| self.open_blown(&open, assigned, job, takeoff));
    }

    fn open_blown(
        &self,
        open: &OpenFill<'_>,
        assigned: &Assigned<'_>,
        job: &Job,
        takeoff: &SurfaceTakeoff,
    ) -> OpenBlownTakeoff {
        let by_settling = self.fill.settling_fraction.map(|settling| initial_thickness_m(open.new_m, settling));
        let of_label = open.label.and_then(|label| label.figure.initial_m);
        let mass_kg_m2 = open.label.map_or(open.density_kg_m3 * open.new_m, |label| label.figure.mass_kg_m2);
        let board = job.assembly_of(assigned).and_then(|assembly| assembly.board);
        let spacing_m = assigned.framing.rows.iter().map(|row| row.spacing_m).reduce(f64::min);
        // Of surfaces that are alike each has its own markers, in whole numbers.
        let count = f64::from(takeoff.count.max(1));
        let of_one = depth_markers((takeoff.gross_area_m2 - takeoff.opening_area_m2) / count);
        OpenBlownTakeoff {
            settled_m: open.new_m,
            initial_m: of_label.or(by_settling),
            settling_fraction: self.fill.settling_fraction.filter(|_| of_label.is_none()),
            mass_kg_m2,
            markers: of_one.saturating_mul(u64::from(takeoff.count.max(1))),
            target_m2k_w: open.target_m2k_w,
            existing_m: open.existing_m,
            existing_m2k_w: open.existing.and_then(|existing| existing.r_m2k_w),
            existing_kg_m2: existing_kg_m2(open),
            board: board.map(|board| board.word().to_owned()),
            board_limit_kg_m2: board.zip(spacing_m).and_then(|(board, spacing_m)| board_limit_kg_m2(board, spacing_m)),
        }
    }
}

/// Mass per area of the fill that is there: `None` where its density is neither given nor published for what it is.
fn existing_kg_m2(open: &OpenFill<'_>) -> Option<f64> {
    let Some(existing) = open.existing else { return Some(0.0) };
    let what = existing.what.to_lowercase();
    let published = || {
        let material = material_named(&what)
            .or_else(|| crate::fill::MATERIALS.iter().find(|one| one.names.iter().any(|name| what.starts_with(name))));
        material.and_then(|material| material.open_density).map(|figure| figure.si)
    };
    existing.density_kg_m3.or_else(published).map(|density| density * open.existing_m)
}

/// What kind of closed cavity a surface is, as far as its density may follow from it.
pub fn closed_use(kind: SurfaceKind, method: FillMethod) -> ClosedUse {
    match (kind, method) {
        (_, FillMethod::Netting) => ClosedUse::Netted,
        (SurfaceKind::Roof, _) => ClosedUse::Sloped,
        (SurfaceKind::Wall | SurfaceKind::Ceiling | SurfaceKind::Floor, _) => ClosedUse::Plain,
    }
}
