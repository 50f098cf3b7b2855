//! Heat at the grade that a rater entered: computed anew for that share of void, or why it is not.
//!
//! # Source
//! ANSI/RESNET/ICC 301, grades of installation, from memory: the share of void that each allows.

use super::bays::name;
use super::contract_seen::{GradeSeen, GradedHeat};
use crate::heat::Grade;
use crate::intake::log::{Entry, Log, What};
use crate::takeoff::{SurfaceTakeoff, Takeoff};

/// The same takeoff with the heat of a grade.
#[derive(Clone, Copy, Debug)]
pub struct Graded<'a> {
    /// The grade.
    pub grade: Grade,
    /// The takeoff.
    pub takeoff: &'a Takeoff,
}

fn grade_of(word: &str) -> Option<Grade> {
    [Grade::I, Grade::Ii, Grade::Iii].into_iter().find(|grade| grade.word() == word)
}

/// Grades that a log enters, each once.
pub fn grades_entered(log: &Log) -> Vec<Grade> {
    let mut all: Vec<Grade> = Vec::new();
    for entry in &log.entries {
        let What::Grade { grade, .. } = &entry.what else { continue };
        all.extend(grade_of(grade).filter(|grade| !all.contains(grade)));
    }
    all
}

/// The grade that was entered last.
pub(super) fn grade(entries: &[&Entry], parts: &[&SurfaceTakeoff], graded: &[Graded<'_>]) -> Option<GradeSeen> {
    entries.iter().rev().find_map(|entry| {
        let What::Grade { grade, method } = &entry.what else { return None };
        let known = grade_of(grade)?;
        let own = graded.iter().find(|one| one.grade == known).map(|one| one.takeoff);
        Some(GradeSeen {
            grade: grade.clone(),
            method: method.word().to_owned(),
            by: entry.by.clone(),
            void_share: known.void_share(),
            heat: parts.iter().map(|part| heat(part, known, own)).collect(),
        })
    })
}

/// Never an average over parts: each has its own layers.
fn heat(part: &SurfaceTakeoff, grade: Grade, graded: Option<&Takeoff>) -> GradedHeat {
    let is_same =
        |other: &&SurfaceTakeoff| (&other.id, other.part, &other.source) == (&part.id, part.part, &part.source);
    let at_grade = graded.and_then(|takeoff| takeoff.surfaces.iter().find(is_same)).unwrap_or(part);
    let of = |r_m2k_w: Option<f64>, u_w_m2k: Option<f64>, reason: Option<String>| GradedHeat {
        surface: name(part),
        r_m2k_w,
        u_w_m2k,
        reason,
    };
    match &at_grade.heat {
        Some(heat) if heat.void_share.total_cmp(&grade.void_share()).is_eq() => {
            of(Some(heat.combined.r_m2k_w), Some(heat.combined.u_w_m2k), None)
        }
        Some(_) => of(None, None, Some(format!("the heat at grade {} was not asked for", grade.word()))),
        None => {
            let reason = at_grade.heat_reason.clone().unwrap_or_else(|| "the takeoff computed no heat".to_owned());
            of(None, None, Some(reason))
        }
    }
}
