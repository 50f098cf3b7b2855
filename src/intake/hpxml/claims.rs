//! What an HPXML file claims of its surfaces.

use super::part::Part;
use crate::finding::{Code, Finding};
use crate::intake::Selection;
use crate::intake::claims::{Basis, Claim, ClaimGroup, Quantity};
use crate::model::Glob;
use crate::source::Place;
use crate::units::Written;

/// One group a surface: gross area, framing, and R by its basis.
pub(super) fn groups(parts: &[Part], findings: &mut Vec<Finding>) -> Vec<ClaimGroup> {
    let mut all = Vec::new();
    for part in parts {
        let claims = claims(part, findings);
        if claims.is_empty() {
            let message = format!("`{}` claims neither area, framing nor R", part.id);
            findings.push(Finding::note(Code::NotUsed, &part.place, message));
            continue;
        }
        let surfaces = std::iter::once(&part.id).chain(&part.same_as).map(|id| Glob::new(id)).collect();
        all.push(ClaimGroup {
            place: part.place.clone(),
            selection: Selection { surfaces, ..Selection::default() },
            r_per_inch_m2k_w: None,
            claims,
        });
    }
    all
}

fn claims(part: &Part, findings: &mut Vec<Finding>) -> Vec<Claim> {
    let claim = |quantity: Quantity, basis: Option<Basis>, (place, value): &(Place, Written)| Claim {
        place: place.clone(),
        quantity,
        value: value.clone(),
        basis,
    };
    let mut all = Vec::new();
    all.extend(part.area.as_ref().map(|area| claim(Quantity::GrossArea, None, area)));
    all.extend(part.studs.factor.as_ref().map(|factor| claim(Quantity::FramingFraction, None, factor)));
    let assembly = part.assembly_r.as_ref();
    all.extend(assembly.map(|r| claim(Quantity::RValue, Some(Basis::WholeAssembly), r)));
    match part.nominal_r.as_slice() {
        [] => {}
        [only] => all.push(claim(Quantity::RValue, Some(Basis::Label), only)),
        several => {
            let message = format!(
                "`{}` has {} layers that are not continuous; their R is not added up, and none is used",
                part.id,
                several.len()
            );
            findings.push(Finding::warning(Code::NotUsed, &part.place, message));
        }
    }
    if part.continuous > 0 {
        let message =
            format!("`{}` has {} continuous layers, which are not blown and not used", part.id, part.continuous);
        findings.push(Finding::note(Code::NotUsed, &part.place, message));
    }
    all
}
