//! Blocking that no building has: more pieces than anyone cuts, or rows that leave nothing between them.

use super::crossing::has_fire_boards;
use super::lay_out::place_of;
use super::site::Site;
use super::{Framing, LayoutRules, MemberRow, PartitionBuild, RowRun};
use crate::finding::{Code, Finding};
use crate::model::{JunctionKind, Surface, SurfaceKind};
use crate::units::display::both_ways;
use crate::units::display::section_both_ways;
use std::borrow::Cow;

/// More pieces of blocking than this in one surface are a slip in a length or a unit.
pub(super) const MOST_BLOCKS: f64 = 20_000.0;

/// The same rules without what of their blocking cannot be meant, and a finding for each of it; numbers are
/// reckoned before anything is laid out.
pub(super) fn within_reason<'r>(
    site: &Site,
    surface: &Surface,
    framing: &Framing,
    rules: &'r LayoutRules,
) -> (Cow<'r, LayoutRules>, Vec<Finding>) {
    let mut kept = Cow::Borrowed(rules);
    let mut findings = Vec::new();
    let mut doubt = |message: String| findings.push(Finding::error(Code::LayoutDoubt, &place_of(surface), message));
    for (key, every_m, least_m) in rows_without_room(surface, framing, rules) {
        doubt(format!(
            "`{key}` is {:.1} mm, but rows of blocking closer than {} leave no bays: none of them is drawn; check the unit",
            every_m * 1000.0,
            section_both_ways(least_m)
        ));
        match key {
            "blocking_every" => kept.to_mut().blocking_every_m = None,
            _ => kept.to_mut().fire_blocking_m = None,
        }
    }
    let blocks = blocks(site, surface, framing, &kept);
    if surface.kind == SurfaceKind::Wall && blocks > MOST_BLOCKS {
        doubt(too_many(site, blocks, "blocking", "`blocking_every`, `mid_blocking` and `fire_blocking`"));
        let rules = kept.to_mut();
        (rules.blocking_every_m, rules.mid_blocking, rules.fire_blocking_m) = (None, 0, None);
    }
    let in_ladders = ladder_blocks(site, surface, &kept);
    if in_ladders > MOST_BLOCKS {
        doubt(too_many(site, in_ladders, "the ladders behind partitions", "`ladder_every`"));
        kept.to_mut().partition_build = PartitionBuild::Bare;
    }
    (kept, findings)
}

fn too_many(site: &Site, blocks: f64, what: &str, keys: &str) -> String {
    format!(
        "{blocks:.0} pieces of {what} in a surface of {} x {} are more than a building has: none is drawn; check its \
         size, the unit, and {keys}",
        both_ways(site.bounds.width_m()),
        both_ways(site.bounds.height_m())
    )
}

fn studs(framing: &Framing) -> impl Iterator<Item = &MemberRow> {
    framing.rows.iter().filter(|row| row.run == RowRun::Up)
}

/// Rows that are asked for so close that nothing is left between them: the key, what it says and the least that leaves
/// something, in metres.
fn rows_without_room(surface: &Surface, framing: &Framing, rules: &LayoutRules) -> Vec<(&'static str, f64, f64)> {
    let is_wall = surface.kind == SurfaceKind::Wall;
    let thickness_m = |row: &MemberRow| if is_wall { rules.plate_m(row) } else { row.member_width_m };
    let least_m = 2.0 * studs(framing).map(thickness_m).fold(0.0, f64::max);
    let board_m = rules.fire_board_m.filter(|_| framing.is_open_past_studs());
    let fire_least_m = board_m.map_or(least_m, |board_m| 2.0 * board_m);
    let every = rules.blocking_every_m.filter(|_| surface.kind != SurfaceKind::Roof);
    let fire = rules.fire_blocking_m.filter(|_| is_wall);
    let asked = [("blocking_every", every, least_m), ("fire_blocking", fire, fire_least_m)];
    asked
        .into_iter()
        .filter_map(|(key, asked_m, least_m)| Some((key, asked_m.filter(|m| *m <= least_m)?, least_m)))
        .collect()
}

/// Pieces of blocking in a wall at most: rows times bays, and boards.
fn blocks(site: &Site, surface: &Surface, framing: &Framing, rules: &LayoutRules) -> f64 {
    let (length_m, height_m) = (site.bounds.width_m(), site.bounds.height_m());
    let times = |size_m: f64, every_m: Option<f64>| every_m.map_or(0.0, |every_m| (size_m / every_m).floor());
    let has_boards = has_fire_boards(surface, framing, rules);
    let own_fire_m = rules.fire_blocking_m.filter(|_| !has_boards);
    let at_floors = own_fire_m.filter(|_| rules.keeps_whole).map_or(0, |_| 2 * surface.floor_bands.len());
    let at_floors = f64::from(u32::try_from(at_floors).unwrap_or(u32::MAX));
    let rows = times(height_m, rules.blocking_every_m)
        + f64::from(rules.mid_blocking)
        + times(height_m, own_fire_m)
        + at_floors;
    let bays = |row: &MemberRow| times(length_m, Some(row.spacing_m)) + times(length_m, rules.panel_width_m) + 1.0;
    let in_rows = rows * studs(framing).map(bays).fold(0.0, f64::max);
    // Boards along the wall cut those across it, and the other way round.
    let boards = |limit_m: f64| (times(length_m, Some(limit_m)) + 1.0) * (times(height_m, Some(limit_m)) + 1.0) - 1.0;
    in_rows + rules.fire_blocking_m.filter(|_| has_boards).map_or(0.0, boards)
}

fn ladder_blocks(site: &Site, surface: &Surface, rules: &LayoutRules) -> f64 {
    if rules.partition_build != PartitionBuild::Ladder || rules.ladder_every_m <= 0.0 {
        return 0.0;
    }
    let given = surface.junctions.iter().filter(|junction| junction.kind == JunctionKind::Partition).count();
    let places = f64::from(surface.partition_junctions) + f64::from(u32::try_from(given).unwrap_or(u32::MAX));
    places * (site.bounds.height_m() / rules.ladder_every_m).floor()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::framing::{lay_out, parse_framing};
    use crate::geometry::Polygon;
    use crate::model::Extent;
    use crate::source::Source;

    fn doubts(size_m: [f64; 2], framing: &str, rules: &LayoutRules) -> Vec<String> {
        let outline = vec![Polygon::rectangle(0.0, 0.0, size_m[0], size_m[1])];
        let source = Source::of_line("h.csv", 2);
        let mut wall = Surface::new("W1", source, SurfaceKind::Wall, Extent::Outline(outline));
        wall.partition_junctions = 3;
        let layout = lay_out(&wall, &parse_framing(framing).unwrap(), rules);
        assert!(layout.members.len() + layout.partial.len() < 30_000);
        let doubts = layout.findings.into_iter().filter(|finding| finding.code == Code::LayoutDoubt);
        doubts.map(|finding| finding.message).collect()
    }

    // By hand: 40 m at 0.4064 m has 98 whole spacings, 99 bays; rows every 10 cm in 30 m: 300; 29,700. 2,000 m: 4,921 and 10
    // rows: 49,220. Boards every 4 cm in 2,000 x 3 m: 50,001 x 76 pieces
    // of cavity. Ladders: 3 places, 30 m / 4 mm, 22,500, are refused before they are drawn.
    #[test]
    fn blocking_beyond_reason_is_refused_before_it_is_drawn() {
        let of = |set: &dyn Fn(&mut LayoutRules)| {
            let mut rules = LayoutRules::default();
            set(&mut rules);
            rules
        };
        let every = of(&|rules| rules.blocking_every_m = Some(0.1));
        assert!(doubts([40.0, 30.0], "2x4 @ 16 in", &every)[0].contains("29700 pieces of blocking"));
        let mid = of(&|rules| rules.mid_blocking = 10);
        assert!(doubts([2000.0, 3.0], "2x4 @ 16 in", &mid)[0].contains("49220 pieces"));
        assert!(doubts([40.0, 3.0], "2x4 @ 16 in", &mid).is_empty());
        let tiny = of(&|rules| {
            rules.blocking_every_m = Some(0.0001);
            rules.fire_blocking_m = Some(0.0001);
        });
        let found = doubts([40.0, 3.0], "2x4 @ 16 in", &tiny);
        assert!(
            found[0].contains("`blocking_every` is 0.1 mm") && found[1].contains("`fire_blocking` is"),
            "{found:?}"
        );
        let boards = of(&|rules| rules.fire_blocking_m = Some(0.04));
        assert!(doubts([2000.0, 3.0], "2x4 @ 16 in staggered on 2x6", &boards)[0].contains("3800075 pieces"));
        let ladders = of(&|rules| {
            rules.partition_build = PartitionBuild::Ladder;
            rules.ladder_every_m = 0.004;
        });
        assert!(doubts([40.0, 30.0], "2x4 @ 16 in", &ladders)[0].contains("22500 pieces of the ladders"));
    }

    #[test]
    fn a_wall_longer_than_any_has_no_members_on_the_layout_and_says_so() {
        let doubts = doubts([10_000.0, 3.0], "2x4 @ 16 in", &LayoutRules::default());
        assert!(doubts[0].contains("no members on the layout are drawn"), "{doubts:?}");
    }
}
