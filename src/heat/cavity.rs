//! The cavity layer by layer: which share of it is framing, and what stands behind what.

use crate::framing::PartialMember;
use crate::geometry::tolerance::{COINCIDENT_M, NEGLIGIBLE_AREA_M2};
use crate::geometry::{Polygon, difference, intersection, total_area_m2};

/// More layers through the depth than this are no framing.
const MOST_SLICES: usize = 64;
/// More ways than this are merged into those that there are.
const MOST_WAYS: usize = 64;

/// A way straight through the cavity.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// Share of the area of members and bays.
    pub fraction: f64,
    /// Share of each slice that is framing, as it was laid out: 1 in a member, nought in fill, between them where a member
    /// is not solid, such as a web of diagonals.
    pub solid_share: Vec<f64>,
}

/// The cavity as it was laid out: slices through its depth, and the ways through them.
///
/// It holds members and bays; what stays empty is no part of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Cavity {
    /// Thickness of each slice, from one face to the other, in metres.
    pub slices_m: Vec<f64>,
    /// The ways; their fractions sum to 1.
    pub ways: Vec<Way>,
}

/// A piece of the surface with the same framing behind it.
struct Piece {
    outline: Vec<Polygon>,
    solid: Vec<f64>,
}

impl Cavity {
    /// Framing that goes through the whole depth, as a fraction of the area.
    pub fn of_fraction(fraction: f64, depth_m: f64) -> Self {
        let way = |fraction, solid| Way { fraction, solid_share: vec![solid] };
        Self { slices_m: vec![depth_m], ways: vec![way(fraction, 1.0), way(1.0 - fraction, 0.0)] }
    }

    /// The cavity of a layout: `through_m2` is the area of the members that go through the whole depth, `bays_m2` that of
    /// the bays, `left_out` what stays empty. `None` where there is neither member nor bay.
    ///
    /// A member that takes a part of the depth is followed to what stands before and behind it, by their outlines.
    pub fn laid_out(
        depth_m: f64,
        through_m2: f64,
        bays_m2: f64,
        partial: &[PartialMember],
        left_out: &[Polygon],
    ) -> Option<Self> {
        let whole_m2 = through_m2 + bays_m2;
        if whole_m2 <= 0.0 || depth_m <= 0.0 {
            return None;
        }
        let cuts_m = cuts_m(depth_m, partial);
        let slices: Vec<[f64; 2]> =
            cuts_m.iter().zip(cuts_m.iter().skip(1)).map(|(from_m, to_m)| [*from_m, *to_m]).collect();
        let pieces = pieces(&slices, partial, left_out);
        let through = Way { fraction: through_m2 / whole_m2, solid_share: vec![1.0; slices.len()] };
        let mut ways = vec![through];
        for piece in pieces {
            let fraction = total_area_m2(&piece.outline) / whole_m2;
            match ways.iter_mut().find(|way| way.solid_share == piece.solid) {
                Some(way) => way.fraction += fraction,
                None => ways.push(Way { fraction, solid_share: piece.solid }),
            }
        }
        let framed = ways.iter().fold(0.0, |sum, way| sum + way.fraction);
        ways.push(Way { fraction: (1.0 - framed).max(0.0), solid_share: vec![0.0; slices.len()] });
        Some(Self { slices_m: slices.iter().map(|[from_m, to_m]| to_m - from_m).collect(), ways })
    }

    /// Depth, in metres.
    pub fn depth_m(&self) -> f64 {
        self.slices_m.iter().fold(0.0, |sum, slice_m| sum + slice_m)
    }

    /// Framing in each slice, as a fraction of the area.
    pub fn fractions(&self) -> Vec<f64> {
        let of_slice = |index: usize| {
            let solid = self.ways.iter().filter_map(|way| Some(way.fraction * way.solid_share.get(index)?));
            solid.fold(0.0, |sum, fraction| sum + fraction)
        };
        (0..self.slices_m.len()).map(of_slice).collect()
    }

    /// Framing as a fraction of the volume.
    pub fn framing_fraction(&self) -> f64 {
        let volumes = self.fractions().into_iter().zip(&self.slices_m).map(|(fraction, slice_m)| fraction * slice_m);
        volumes.fold(0.0, |sum, volume| sum + volume) / self.depth_m()
    }
}

/// Where framing begins and ends, and both faces.
fn cuts_m(depth_m: f64, partial: &[PartialMember]) -> Vec<f64> {
    let mut all: Vec<f64> = partial.iter().flat_map(|piece| [piece.from_m, piece.to_m]).collect();
    all.retain(|at_m| *at_m > COINCIDENT_M && *at_m < depth_m - COINCIDENT_M);
    all.sort_by(f64::total_cmp);
    let mut cuts_m = vec![0.0];
    for at_m in all {
        if cuts_m.last().is_none_or(|last_m| at_m - last_m > COINCIDENT_M) && cuts_m.len() < MOST_SLICES {
            cuts_m.push(at_m);
        }
    }
    cuts_m.push(depth_m);
    cuts_m
}

/// The partial members, parted where what stands behind them changes.
fn pieces(slices: &[[f64; 2]], partial: &[PartialMember], left_out: &[Polygon]) -> Vec<Piece> {
    let mut pieces: Vec<Piece> = Vec::new();
    for (index, [from_m, to_m]) in slices.iter().enumerate() {
        let middle_m = f64::midpoint(*from_m, *to_m);
        for (share, outlines) in members_at(middle_m, partial, left_out) {
            pieces = lay_over(pieces, &outlines, (index, share), slices.len());
        }
    }
    pieces
}

/// Outlines of the partial members at a depth, by the share of them that is solid.
fn members_at(at_m: f64, partial: &[PartialMember], left_out: &[Polygon]) -> Vec<(f64, Vec<Polygon>)> {
    let mut by_share: Vec<(f64, Vec<Polygon>)> = Vec::new();
    for member in partial.iter().filter(|member| member.from_m < at_m && at_m < member.to_m) {
        match by_share.iter_mut().find(|(share, _)| share.total_cmp(&member.solid_share).is_eq()) {
            Some((_, outlines)) => outlines.push(member.outline.clone()),
            None => by_share.push((member.solid_share, vec![member.outline.clone()])),
        }
    }
    if !left_out.is_empty() {
        for (_, outlines) in &mut by_share {
            *outlines = difference(outlines, left_out);
        }
    }
    by_share
}

/// Lays the members of one slice over the pieces: what they cover gets their share there, the rest of them is new.
fn lay_over(pieces: Vec<Piece>, members: &[Polygon], (index, share): (usize, f64), slices: usize) -> Vec<Piece> {
    let mut laid: Vec<Piece> = Vec::new();
    let mut rest = members.to_vec();
    let is_full = pieces.len() >= MOST_WAYS;
    for piece in pieces {
        let covered = if is_full { Vec::new() } else { intersection(&piece.outline, members) };
        if total_area_m2(&covered) <= NEGLIGIBLE_AREA_M2 {
            laid.push(piece);
            continue;
        }
        rest = difference(&rest, &covered);
        let uncovered = difference(&piece.outline, members);
        let mut solid = piece.solid.clone();
        if let Some(own) = solid.get_mut(index) {
            *own = share;
        }
        add(&mut laid, covered, solid);
        add(&mut laid, uncovered, piece.solid);
    }
    let solid = (0..slices).map(|slice| if slice == index { share } else { 0.0 }).collect();
    add(&mut laid, rest, solid);
    laid
}

/// Adds a piece to those of the same framing.
fn add(pieces: &mut Vec<Piece>, outline: Vec<Polygon>, solid: Vec<f64>) {
    if total_area_m2(&outline) <= NEGLIGIBLE_AREA_M2 {
        return;
    }
    match pieces.iter_mut().find(|piece| piece.solid == solid) {
        Some(piece) => piece.outline.extend(outline),
        None => pieces.push(Piece { outline, solid }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::framing::MemberRole;

    fn member(box_m: [f64; 4], depth_m: [f64; 2], solid_share: f64) -> PartialMember {
        let outline = Polygon::rectangle(box_m[0], box_m[1], box_m[2], box_m[3]);
        let [from_m, to_m] = depth_m;
        let area_m2 = outline.area_m2();
        PartialMember { role: MemberRole::Stud, area_m2, outline, from_m, to_m, solid_share }
    }

    fn near(found: f64, expected: f64) {
        assert!((found - expected).abs() < 1e-9, "found {found}, expected {expected}");
    }

    /// Fraction of the way of such framing; nought where there is none.
    fn way(cavity: &Cavity, solid: &[f64]) -> f64 {
        cavity.ways.iter().find(|way| way.solid_share == solid).map_or(0.0, |way| way.fraction)
    }

    #[test]
    fn members_through_the_depth_are_one_way_and_bays_the_other() {
        let cavity = Cavity::laid_out(0.14, 0.25, 0.75, &[], &[]).unwrap();
        assert_eq!(cavity.slices_m, [0.14]);
        near(way(&cavity, &[1.0]), 0.25);
        near(way(&cavity, &[0.0]), 0.75);
        assert_eq!(cavity, Cavity::of_fraction(0.25, 0.14));
        near(cavity.framing_fraction(), 0.25);
        assert_eq!(Cavity::laid_out(0.14, 0.0, 0.0, &[], &[]), None);
    }

    // By hand, on 1 m2: a flange of 0.06 m over the whole height at both faces, the web of 0.01 m between them goes
    // through. What is left of a flange, 0.05 m2, has fill behind it and the other flange behind that.
    #[test]
    fn flanges_stand_before_each_other() {
        let flanges = [[0.0, 0.04], [0.26, 0.30]]
            .into_iter()
            .flat_map(|depth| [[0.0, 0.0, 0.02, 1.0], [0.03, 0.0, 0.06, 1.0]].map(|b| member(b, depth, 1.0)));
        let cavity = Cavity::laid_out(0.30, 0.01, 0.99, &flanges.collect::<Vec<_>>(), &[]).unwrap();
        assert_eq!(cavity.slices_m.len(), 3);
        near(way(&cavity, &[1.0, 1.0, 1.0]), 0.01);
        near(way(&cavity, &[1.0, 0.0, 1.0]), 0.05);
        near(way(&cavity, &[0.0, 0.0, 0.0]), 0.94);
        // 0.01 of all, and 0.05 over 0.08 of 0.30 m.
        near(cavity.framing_fraction(), 0.01 + 0.05 * 0.08 / 0.30);
    }

    // By hand, on 1 m2: studs of 0.04 m at the outer face and battens of 0.05 m across them at the inner one: 0.04 x 0.05
    // is both, as a product of fractions has it.
    #[test]
    fn battens_cross_studs_by_the_product_of_their_fractions() {
        let stud = member([0.3, 0.0, 0.34, 1.0], [0.0, 0.1], 1.0);
        let batten = member([0.0, 0.2, 1.0, 0.25], [0.1, 0.14], 1.0);
        let cavity = Cavity::laid_out(0.14, 0.0, 1.0, &[stud, batten], &[]).unwrap();
        near(way(&cavity, &[1.0, 1.0]), 0.04 * 0.05);
        near(way(&cavity, &[1.0, 0.0]), 0.04 * 0.95);
        near(way(&cavity, &[0.0, 1.0]), 0.05 * 0.96);
        near(way(&cavity, &[0.0, 0.0]), 0.96 * 0.95);
        near(cavity.fractions()[0], 0.04);
        near(cavity.fractions()[1], 0.05);
    }

    #[test]
    fn what_stays_empty_is_no_part_of_it() {
        let stud = member([0.0, 0.0, 0.1, 1.0], [0.0, 0.1], 1.0);
        let duct = Polygon::rectangle(0.0, 0.0, 1.0, 0.5);
        let cavity = Cavity::laid_out(0.2, 0.0, 0.5, &[stud], &[duct]).unwrap();
        near(way(&cavity, &[1.0, 0.0]), 0.1);
        near(way(&cavity, &[0.0, 0.0]), 0.9);
    }

    #[test]
    fn an_open_web_keeps_its_share() {
        let chord = member([0.0, 0.0, 0.1, 1.0], [0.0, 0.05], 1.0);
        let web = member([0.0, 0.0, 0.1, 1.0], [0.05, 0.3], 0.25);
        let cavity = Cavity::laid_out(0.3, 0.0, 1.0, &[chord, web], &[]).unwrap();
        near(way(&cavity, &[1.0, 0.25]), 0.1);
        near(cavity.fractions()[1], 0.025);
    }
}
