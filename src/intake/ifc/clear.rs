//! Whether members frame a surface: how far apart they leave what lies between them.

use crate::geometry::{Polygon, difference, total_area_m2};
use crate::model::{GivenMember, Opening};

/// What lies clear between neighbouring members of framing, at most, in metres: studs stand 16 or 24 in. apart, posts, rafters and
/// trusses up to 48 in. Common practice, no source.
const CLEAR_M: f64 = 1.25;
/// A surface is framed where no more than this share of it lies in wider gaps: pieces over and under openings whose cripples
/// nobody modelled do not unmake framing.
const WIDE_SHARE: f64 = 0.25;

/// How far members leave a surface clear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clear {
    /// Whether they frame it.
    pub is_framed: bool,
    /// The widest clear distance between them, along the surface, in metres.
    pub widest_m: f64,
}

/// How far members leave a surface clear outside its openings, whichever way they run.
pub fn clear_between(gross: &[Polygon], openings: &[Opening], members: &[GivenMember]) -> Clear {
    let outlines = |pieces: &[Opening]| pieces.iter().flat_map(|o| o.outline.clone()).collect::<Vec<Polygon>>();
    let net = difference(gross, &outlines(openings));
    let taken: Vec<Polygon> = members.iter().flat_map(|member| member.outline.iter().cloned()).collect();
    let bays = difference(&net, &taken);
    let along = runs(&bays, &taken, |[x, y]| [x, y]);
    let upwards = runs(&bays, &taken, |[x, y]| [y, x]);
    let most_m2 = WIDE_SHARE * total_area_m2(&net);
    let is_framed = along.wide_m2.min(upwards.wide_m2) <= most_m2;
    Clear { is_framed, widest_m: along.widest_m }
}

/// What level lines over a surface run through.
struct Runs {
    /// Area in runs over the limit, in square metres.
    wide_m2: f64,
    /// The longest run, in metres.
    widest_m: f64,
}

/// Cuts bays into bands between the levels of their corners, and measures the runs in the middle of each. A run that no member
/// ends, between an opening and the end of a wall, is as wide as any, unless hardly a stud has room in it.
fn runs(bays: &[Polygon], members: &[Polygon], turned: fn([f64; 2]) -> [f64; 2]) -> Runs {
    let rings_of = |polygons: &[Polygon]| -> Vec<Vec<[f64; 2]>> {
        let rings = polygons.iter().flat_map(|polygon| &polygon.rings);
        rings.map(|ring| ring.iter().map(|p| turned(*p)).collect()).collect()
    };
    let (rings, members) = (rings_of(bays), rings_of(members));
    let mut levels: Vec<f64> = rings.iter().flatten().map(|p| p[1]).collect();
    levels.sort_by(f64::total_cmp);
    let mut found = Runs { wide_m2: 0.0, widest_m: 0.0 };
    for (low, high) in levels.iter().zip(levels.iter().skip(1)) {
        let height_m = high - low;
        if height_m < THIN_M {
            continue;
        }
        let level = f64::midpoint(*low, *high);
        let ends = crossings(&members, level);
        let is_end = |at: f64| ends.iter().any(|end| (end - at).abs() < THIN_M);
        for pair in crossings(&rings, level).chunks_exact(2) {
            let &[from, to] = pair else { continue };
            found.widest_m = found.widest_m.max(to - from);
            let is_wide = to - from > CLEAR_M || (to - from > PIER_M && !is_end(from) && !is_end(to));
            found.wide_m2 += if is_wide { (to - from) * height_m } else { 0.0 };
        }
    }
    found
}

/// A piece of wall narrower than this between an opening and an end needs no stud of its own, in metres.
const PIER_M: f64 = 0.1;
/// A band lower than this holds no bay, in metres.
const THIN_M: f64 = 1e-3;

/// Where a level line enters and leaves, from left to right.
fn crossings(rings: &[Vec<[f64; 2]>], level: f64) -> Vec<f64> {
    let mut at = Vec::new();
    for ring in rings {
        for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            if (a[1] > level) != (b[1] > level) {
                at.push(a[0] + (level - a[1]) / (b[1] - a[1]) * (b[0] - a[0]));
            }
        }
    }
    at.sort_by(f64::total_cmp);
    at
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::OpeningKind;
    use crate::source::Source;

    fn member(outline: Polygon) -> GivenMember {
        GivenMember { id: "m".to_owned(), source: Source::of_entity("m.ifc", 1), outline: vec![outline] }
    }

    /// Uprights 45 mm wide in a wall 2.7 m high, every so far from centre to centre, one at each end.
    fn uprights(length_m: f64, every_m: f64) -> Vec<GivenMember> {
        let mut members = Vec::new();
        let mut at_m = 0.0225;
        while at_m < length_m {
            members.push(member(Polygon::rectangle(at_m - 0.0225, 0.0, at_m + 0.0225, 2.7)));
            at_m += every_m;
        }
        members.push(member(Polygon::rectangle(length_m - 0.045, 0.0, length_m, 2.7)));
        members
    }

    fn clear(members: &[GivenMember]) -> Clear {
        clear_between(&[Polygon::rectangle(0.0, 0.0, 12.0, 2.7)], &[], members)
    }

    #[test]
    fn studs_frame_a_wall_and_posts_far_apart_do_not() {
        // Between centres 600 mm apart lie 600 - 45 = 555 mm.
        for (every_m, is_framed) in [(0.6, true), (1.2, true), (2.0, false), (4.0, false)] {
            let found = clear(&uprights(12.0, every_m));
            assert_eq!(found.is_framed, is_framed, "{every_m}: {found:?}");
            assert!((found.widest_m - (every_m - 0.045)).abs() < 1e-9, "{every_m}: {found:?}");
        }
        assert!(!clear(&[]).is_framed);
    }

    #[test]
    fn what_no_member_ends_is_wide() {
        // A wall of 4 by 2.7 m with a window of 2.4 by 2.1 m under one lintel: piers of 0.8 m without a stud.
        let window = Opening {
            id: "w".to_owned(),
            name: None,
            kind: OpeningKind::Window,
            source: None,
            area_m2: 2.4 * 2.1,
            flue: None,
            clearance_m: None,
            outline: vec![Polygon::rectangle(0.8, 0.0, 3.2, 2.1)],
        };
        let lintel = [member(Polygon::rectangle(0.6, 2.1, 3.4, 2.3))];
        assert!(!clear_between(&[Polygon::rectangle(0.0, 0.0, 4.0, 2.7)], &[window], &lintel).is_framed);
    }

    #[test]
    fn members_may_run_either_way() {
        let level = |y: f64| member(Polygon::rectangle(0.0, y, 12.0, y + 0.045));
        let girts: Vec<GivenMember> = [0.0, 0.6, 1.2, 1.8, 2.4].into_iter().map(level).collect();
        assert!(clear(&girts).is_framed);
    }
}
