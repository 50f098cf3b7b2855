//! Heat at the grade that a rater entered: what the takeoff computed for that share of void, or why it did not.
//!
//! # Source
//! ANSI/RESNET/ICC 301, grades of installation, from memory: the share of void that each allows.

use super::bays::name;
use super::contract::{GradeSeen, GradedHeat};
use crate::heat::Grade;
use crate::intake::log::{Entry, What};
use crate::takeoff::SurfaceTakeoff;

/// The grade that was entered last.
pub(super) fn grade(entries: &[&Entry], parts: &[&SurfaceTakeoff]) -> Option<GradeSeen> {
    entries.iter().rev().find_map(|entry| {
        let What::Grade { grade, method } = &entry.what else { return None };
        let known = [Grade::I, Grade::Ii, Grade::Iii].into_iter().find(|one| one.word() == grade)?;
        Some(GradeSeen {
            grade: grade.clone(),
            method: method.word().to_owned(),
            by: entry.by.clone(),
            void_share: known.void_share(),
            heat: parts.iter().map(|part| heat(part, known)).collect(),
        })
    })
}

/// Never an average over parts: each has its own layers.
fn heat(part: &SurfaceTakeoff, grade: Grade) -> GradedHeat {
    let of = |u_w_m2k: Option<f64>, reason: Option<String>| GradedHeat { surface: name(part), u_w_m2k, reason };
    match &part.heat {
        Some(heat) if heat.void_share.total_cmp(&grade.void_share()).is_eq() => of(Some(heat.combined.u_w_m2k), None),
        Some(heat) => {
            let (taken, word) = (heat.grade.map_or("no grade", Grade::word), grade.word());
            let reason =
                format!("the takeoff was made for {taken}: `grade = \"{word}\"` under `[heat]` makes it for this one");
            of(None, Some(reason))
        }
        None => of(None, Some(part.heat_reason.clone().unwrap_or_else(|| "the takeoff computed no heat".to_owned()))),
    }
}
