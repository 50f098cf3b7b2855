//! The proof that nothing was lost.

use super::sum::total;
use super::{Balance, SurfaceTakeoff};
use crate::finding::{Code, Finding};
use crate::geometry::tolerance::BALANCE_RELATIVE;
use crate::source::{Place, Source};
use std::collections::HashMap;

/// Adds up areas and elements. An element is counted when one of its surfaces is.
pub(super) fn add_up(surfaces: &[SurfaceTakeoff], left_out_elements: usize) -> Balance {
    let sum = |area: fn(&SurfaceTakeoff) -> f64| total(surfaces.iter().map(area));
    let gross = sum(|s| s.gross_area_m2);
    let (opening, member) = (sum(|s| s.opening_area_m2), sum(|s| s.member_area_m2));
    let (bay, left_out) = (sum(|s| s.bay_area_m2), sum(|s| s.left_out_area_m2));
    let mut elements: HashMap<Element<'_>, bool> = HashMap::new();
    for surface in surfaces {
        *elements.entry(element(&surface.source, &surface.id)).or_default() |= surface.counted;
    }
    let counted = elements.values().filter(|counted| **counted).count() as u64;
    let elements_left_out = elements.len() as u64 - counted + left_out_elements as u64;
    Balance {
        gross_area_m2: gross,
        opening_area_m2: opening,
        member_area_m2: member,
        bay_area_m2: bay,
        left_out_area_m2: left_out,
        residual_m2: gross - opening - member - bay - left_out,
        elements_read: counted + elements_left_out,
        elements_counted: counted,
        elements_left_out,
    }
}

/// Input, line, entity and id, which tell elements apart.
type Element<'s> = (&'s str, Option<u64>, Option<&'s str>, &'s str);

fn element<'s>(source: &'s Source, id: &'s str) -> Element<'s> {
    (&source.input, source.line, source.entity.as_deref(), id)
}

/// Findings where a balance does not close, which only a fault of this program can bring about.
pub(super) fn check(surfaces: &[SurfaceTakeoff], balance: &Balance) -> Vec<Finding> {
    let mut findings: Vec<Finding> = surfaces.iter().filter_map(check_one).collect();
    if balance.residual_m2.abs() > BALANCE_RELATIVE * balance.gross_area_m2 {
        findings.push(Finding::error(Code::BalanceOpen, &Place::default(), message(balance.residual_m2)));
    }
    findings
}

fn check_one(s: &SurfaceTakeoff) -> Option<Finding> {
    let residual_m2 = s.gross_area_m2 - s.opening_area_m2 - s.member_area_m2 - s.bay_area_m2 - s.left_out_area_m2;
    if residual_m2.abs() > BALANCE_RELATIVE * s.gross_area_m2 || !residual_m2.is_finite() {
        return Some(Finding::error(Code::BalanceOpen, &super::words::place(s), message(residual_m2)));
    }
    let gross_m3 = s.gross_volume_m3?;
    let parts_m3 = [s.opening_volume_m3, s.member_volume_m3, s.bay_volume_m3, s.left_out_volume_m3];
    let residual_m3 = gross_m3 - total(parts_m3.into_iter().flatten());
    let is_open = residual_m3.abs() > BALANCE_RELATIVE * gross_m3 || !residual_m3.is_finite();
    is_open.then(|| Finding::error(Code::BalanceOpen, &super::words::place(s), volume_message(residual_m3)))
}

fn volume_message(residual_m3: f64) -> String {
    format!(
        "an internal check failed: gross volume less openings, members, bays and left out is {residual_m3:e} m3 and \
         should be nought; do not use these figures, and report the input as a fault of the program"
    )
}

fn message(residual_m2: f64) -> String {
    format!(
        "an internal check failed: gross less openings, members, bays and left out is {residual_m2:e} m2 and should be \
         nought; do not use these figures, and report the input as a fault of the program"
    )
}
