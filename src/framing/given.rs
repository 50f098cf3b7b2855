//! Members that the model gives: they are taken out as they are.

use super::carve::Carve;
use super::site::Site;
use super::{Framing, Layout, MemberRole};
use crate::geometry::Polygon;
use crate::model::Surface;

impl Framing {
    /// Framing that the model gives member by member, of a depth in metres: nothing is laid out.
    pub fn as_modelled(depth_m: f64) -> Self {
        Self {
            text: "as modelled".to_owned(),
            depth_m,
            rows: Vec::new(),
            dividers_every_m: None,
            assumptions: Vec::new(),
        }
    }
}

/// Takes the given members, so that laid-out ones keep off them.
pub(super) fn take_given(carve: &mut Carve, surface: &Surface) {
    let shapes: Vec<Polygon> = surface.given_members.iter().flat_map(|member| member.outline.iter().cloned()).collect();
    carve.take(MemberRole::Modelled, &shapes);
}

/// The layout of a surface whose framing the model gives whole.
pub(super) fn lay_out_given(site: &Site, surface: &Surface, layout: &mut Layout) {
    let mut carve = Carve::of(site);
    carve.block(surface.openings.iter().flat_map(|opening| opening.outline.iter().cloned()));
    take_given(&mut carve, surface);
    layout.members = carve.members();
}
