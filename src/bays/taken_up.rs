//! What is in bays already: fill that is there, and an allowance for keys, pipes, ducts and boxes.

use super::cut::{BayCut, LeftOut};
use super::displaced::{Part, volumes_by_piece};
use crate::finding::{Code, Finding};
use crate::framing::{PartialMember, place_of};
use crate::geometry::tolerance::COINCIDENT_M;
use crate::geometry::{Polygon, total_area_m2};
use crate::model::{ExistingExtent, ExistingFill, Surface};

/// A share of the bays' volume that something takes: plaster keys, pipes, ducts, boxes.
#[derive(Clone, Debug, PartialEq)]
pub struct Allowance {
    /// What takes it.
    pub what: String,
    /// Share of the volume between the framing, from 0 to 1.
    pub share: f64,
}

/// What is in the bays of a surface already.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct TakenUp<'a> {
    /// Fill that is there.
    pub existing: Option<&'a ExistingFill>,
    /// What else takes room.
    pub allowances: &'a [Allowance],
    /// Whether the new fill lies open: what is there then lies below all of it, and its share is one of the thickness.
    pub lies_open: bool,
}

/// Takes what is in the bays already out of them.
///
/// Existing fill takes its share of each bay's volume, or all that lies between the outer face of the
/// cavity (of a ceiling, roof or floor: its underside) and its thickness; bays that it fills go to
/// `left_out` whole. Then each allowance takes its share of the volume that the bay has between the
/// framing, but never more than is left. `depth_m` is the depth that is filled. To be called once
/// framing is displaced.
pub fn take_up(surface: &Surface, cut: &mut BayCut, partial: &[PartialMember], taken: &TakenUp<'_>, depth_m: f64) {
    if let Some(existing) = taken.existing {
        cut.findings.push(report(surface, existing));
        take_existing(cut, partial, (existing, taken.lies_open), depth_m);
    }
    for allowance in taken.allowances {
        let volumes_m3: Vec<f64> = framed_m3(cut, depth_m).map(|volume_m3| volume_m3 * allowance.share).collect();
        cut.keep_empty_in_each(&allowance.what, &volumes_m3, depth_m);
    }
}

/// Volume of each bay between the framing, in cubic metres, whatever is in it.
fn framed_m3(cut: &BayCut, depth_m: f64) -> impl Iterator<Item = f64> {
    cut.bays.iter().map(move |bay| bay.area_m2 * depth_m - bay.displaced_m3)
}

/// Reason of what existing fill takes.
fn reason_of(existing: &ExistingFill) -> String {
    format!("filled already: {}", existing.what)
}

fn take_existing(
    cut: &mut BayCut,
    partial: &[PartialMember],
    (existing, lies_open): (&ExistingFill, bool),
    depth_m: f64,
) {
    if existing.is_removed {
        return;
    }
    let reason = reason_of(existing);
    let fills_all = match existing.extent {
        ExistingExtent::Share(share) => share >= 1.0,
        ExistingExtent::ThicknessM(thickness_m) => thickness_m >= depth_m - COINCIDENT_M,
    };
    if fills_all {
        let bays = std::mem::take(&mut cut.bays);
        // All of the bays is left out now, and with it what stayed empty in them.
        cut.empty_volumes.clear();
        cut.shallow_area_m2 = 0.0;
        cut.left_out.extend(bays.into_iter().map(|bay| LeftOut {
            reason: reason.clone(),
            area_m2: bay.area_m2,
            displaced_m3: bay.displaced_m3,
            outline: bay.outline,
        }));
        return;
    }
    let volumes_m3: Vec<f64> = match existing.extent {
        ExistingExtent::Share(share) if lies_open => below(cut, partial, share * depth_m),
        ExistingExtent::Share(share) => framed_m3(cut, depth_m).map(|volume_m3| volume_m3 * share).collect(),
        ExistingExtent::ThicknessM(thickness_m) => below(cut, partial, thickness_m),
    };
    cut.keep_empty_in_each(&reason, &volumes_m3, depth_m);
}

/// Volume of each bay between the outer face and a depth, less the framing in it and what lies above the roof.
fn below(cut: &BayCut, partial: &[PartialMember], thickness_m: f64) -> Vec<f64> {
    let above_roof_m3 = |shapes: &[Polygon], from_m: f64, to_m: f64| {
        cut.roof.as_ref().map_or(0.0, |roof| roof.above_m3(shapes, from_m, to_m))
    };
    let framed_m3 = volumes_by_piece(partial, cut, |piece, part| {
        let to_m = piece.to_m.min(thickness_m);
        let (shapes, area_m2) = match part {
            Part::Whole => (std::slice::from_ref(&piece.outline), piece.area_m2),
            Part::In(shapes) => (shapes, total_area_m2(shapes)),
        };
        let low_m3 = area_m2 * (to_m - piece.from_m).max(0.0) - above_roof_m3(shapes, piece.from_m, to_m);
        low_m3 * piece.solid_share
    });
    let own_m3 = |bay: &super::Bay| {
        bay.area_m2 * thickness_m - above_roof_m3(std::slice::from_ref(&bay.outline), 0.0, thickness_m)
    };
    cut.bays.iter().zip(framed_m3).map(|(bay, framed_m3)| own_m3(bay) - framed_m3).collect()
}

fn report(surface: &Surface, existing: &ExistingFill) -> Finding {
    let what = &existing.what;
    let message = if existing.is_removed {
        format!("the `{what}` that is there is taken out before the new fill goes in: nothing is deducted for it")
    } else {
        format!("the `{what}` that is there stays: its volume is left out of the bays")
    };
    Finding::note(Code::ExistingFill, &place_of(surface), message)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bays::Bay;
    use crate::framing::MemberRole;
    use crate::model::{Extent, SurfaceKind};
    use crate::source::Source;

    fn taken(existing: Option<&ExistingFill>, shares: &[f64]) -> BayCut {
        let outline = Polygon::rectangle(0.0, 0.0, 1.0, 1.0);
        let surface = Surface::new(
            "W",
            Source::of_line("house.csv", 2),
            SurfaceKind::Wall,
            Extent::Outline(vec![outline.clone()]),
        );
        let partial = PartialMember {
            role: MemberRole::Stud,
            area_m2: 0.1,
            outline: Polygon::rectangle(0.4, 0.0, 0.5, 1.0),
            from_m: 0.0,
            to_m: 0.1,
            solid_share: 1.0,
        };
        let bay = Bay { number: 1, area_m2: 1.0, displaced_m3: 0.01, empty_m3: 0.0, outline };
        let mut cut = BayCut { bays: vec![bay], ..BayCut::default() };
        let allowances: Vec<Allowance> =
            shares.iter().map(|share| Allowance { what: "pipes".to_owned(), share: *share }).collect();
        take_up(&surface, &mut cut, &[partial], &TakenUp { existing, allowances: &allowances, lies_open: false }, 0.3);
        cut
    }

    fn batt(extent: ExistingExtent) -> ExistingFill {
        ExistingFill { what: "batt".to_owned(), extent, is_removed: false, r_m2k_w: None, density_kg_m3: None }
    }

    // By hand: 1 m2 at 0.3 m with 0.01 m3 of studs in its outer 0.1 m has 0.29 m3.
    #[test]
    fn a_thickness_takes_what_framing_leaves_of_it() {
        let empty = |cut: &BayCut| cut.empty_volumes.iter().map(|one| one.volume_m3).sum::<f64>();
        let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-12, "{a} {b}");
        near(empty(&taken(Some(&batt(ExistingExtent::ThicknessM(0.15))), &[])), 0.14);
        near(empty(&taken(Some(&batt(ExistingExtent::ThicknessM(0.05))), &[])), 0.045);
        near(empty(&taken(Some(&batt(ExistingExtent::Share(0.5))), &[])), 0.145);
        near(empty(&taken(None, &[0.1, 0.2])), 0.087);
        let full = taken(Some(&batt(ExistingExtent::ThicknessM(0.3))), &[0.1]);
        assert!(full.bays.is_empty() && full.empty_volumes.is_empty());
        assert_eq!(full.left_out[0].reason, "filled already: batt");
        near(full.left_out[0].displaced_m3, 0.01);
    }

    proptest::proptest! {
        // Whatever is said to be there, no bay holds less than nothing, and what is taken is listed.
        #[test]
        fn no_bay_gives_more_than_it_has(share in 0.0..=1.0_f64, thickness_m in 0.0..0.5_f64, more in 0.0..1.0_f64) {
            for extent in [ExistingExtent::Share(share), ExistingExtent::ThicknessM(thickness_m)] {
                let cut = taken(Some(&batt(extent)), &[more, more]);
                for bay in &cut.bays {
                    let room_m3 = bay.room_m3(0.3);
                    proptest::prop_assert!(room_m3 >= -1e-12);
                    let listed: f64 = cut.empty_volumes.iter().map(|one| one.volume_m3).sum();
                    proptest::prop_assert!((room_m3 + listed - 0.29).abs() < 1e-12);
                }
            }
        }
    }
}
