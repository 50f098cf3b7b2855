//! From a surface and its framing to a layout.

use super::around_opening::rough_openings;
use super::carve::Carve;
use super::crossing::{crossing, has_fire_boards};
use super::enclosure::{assumed, filled_depth_m, free_above_framing, rows_within};
use super::flat::lay_out_flat;
use super::fraction::frame_by_fraction;
use super::given::{lay_out_given, take_given};
use super::header_depth::free_behind_headers;
use super::ladder::add_ladders;
use super::rim::{LEAST_BEHIND_M, all_band, band_m, joists_through, lay_out_rim, rows_behind};
use super::site::{Site, polygon_of};
use super::studs::{MOST_MEMBERS, has_sane_count};
use super::through_depth::through_depth;
use super::too_many::within_reason;
use super::wall::{Shallow, lay_out_wall};
use super::{
    Framing, Layout, LayoutEnd, LayoutRules, Member, MemberRole, MemberRow, PartitionBuild, PartitionRows, RowRun,
    depth_of,
};
use crate::finding::{Code, Finding};
use crate::geometry::tolerance::COINCIDENT_M;
use crate::geometry::{Bounds, Polygon};
use crate::model::{Extent, JunctionKind, Opening, Surface, SurfaceKind};
use crate::source::Place;
use crate::units::display::both_ways;

/// Lays out the framing of one surface.
///
/// A wall gets plates, studs and the framing around its openings; a ceiling, roof or floor gets
/// joists or rafters, rims and trimmers; a surface of which only the area is known gets framing by
/// fraction. No two members overlap, none lies in an opening or outside the outline.
pub fn lay_out(surface: &Surface, framing: &Framing, rules: &LayoutRules) -> Layout {
    let (framing_depth_m, finding) = depth_of(surface, framing);
    let band_m = band_m(surface, rules);
    let is_all_band = band_m > 0.0 && framing_depth_m - band_m < LEAST_BEHIND_M;
    let (depth_m, is_open) = match filled_depth_m(surface, framing_depth_m, rules) {
        (depth_m, is_open) if !is_all_band => (depth_m - band_m, is_open),
        all => all,
    };
    let spacing_m = framing.rows.iter().map(|row| row.spacing_m).fold(0.0, f64::max);
    let mut layout = Layout { depth_m, framing_depth_m, spacing_m, is_open, ..Layout::default() };
    layout.findings.extend(finding);
    layout.assumptions.extend(assumed(surface, rules));
    let place = place_of(surface);
    let Some(outline) = outline_of(surface) else {
        frame_by_fraction(surface, framing, rules, &mut layout);
        free_above_framing(&mut layout);
        if matches!(surface.extent, Extent::Outline(_)) {
            layout.findings.push(opening_without_outline(&place));
        }
        return layout;
    };
    let Some(site) = Site::of(outline) else { return layout };
    if surface.framing_is_given {
        lay_out_given(&site, surface, &mut layout);
        free_above_framing(&mut layout);
        return layout;
    }
    if is_all_band {
        all_band(&site, surface, &mut layout);
        return layout;
    }
    let (rules, doubts) = within_reason(&site, surface, framing, rules);
    let rules = rules.as_ref();
    layout.findings.extend(doubts);
    layout.assumptions.extend(framing.assumptions.iter().cloned());
    layout.dividers_m = dividers_m(&site, framing, rules);
    let mut rows = rows_within(rows_behind(framing.at_depth(framing_depth_m).rows, band_m), depth_m);
    if surface.kind == SurfaceKind::Wall && rules.is_rim {
        rows = joists_through(rows, depth_m);
    }
    if !rows.iter().all(|row| has_sane_count(&site, row, rules)) {
        layout.findings.push(too_many_members(&site, framing, &place));
    }
    let mut shallow = Shallow::default();
    let across = crossing(&site, surface, framing, rules);
    let row_rules = RowRules::of(surface, framing, rules);
    let through = through_depth(&rows, depth_m, &across, row_rules.apart(), |row| {
        let framed = frame_row(&site, surface, row, row_rules.for_row(row), &place, &mut shallow);
        take_over(&mut layout, framed)
    });
    layout.members = through.members;
    layout.partial = through.partial;
    free_behind_headers(&mut layout, &shallow.headers, rules.tube_width_m);
    let spacing_m = rows.iter().map(|row| row.spacing_m).fold(0.0, f64::max);
    add_ladders(&site, surface, &mut layout, &shallow.ladders, spacing_m, rules);
    layout
}

/// The rules of each row of a wall that has several.
struct RowRules<'r> {
    plain: &'r LayoutRules,
    inner_frame: u32,
    /// Where boards part the whole depth, rows have no fire blocks of their own.
    boarded: Option<LayoutRules>,
    /// Rows that no partition meets.
    unmet: Option<LayoutRules>,
}

impl<'r> RowRules<'r> {
    fn of(surface: &Surface, framing: &Framing, rules: &'r LayoutRules) -> Self {
        let boarded =
            has_fire_boards(surface, framing, rules).then(|| LayoutRules { fire_blocking_m: None, ..rules.clone() });
        let has_partitions = surface.partition_junctions > 0
            || surface.junctions.iter().any(|junction| junction.kind == JunctionKind::Partition);
        let is_met_alone =
            framing.has_parallel_rows() && rules.partition_rows == PartitionRows::Inner && has_partitions;
        let unmet = is_met_alone.then(|| LayoutRules {
            partition_build: PartitionBuild::Bare,
            ..boarded.as_ref().unwrap_or(rules).clone()
        });
        Self { plain: rules, inner_frame: framing.inner_frame(), boarded, unmet }
    }

    /// The frame that has rules of its own.
    fn apart(&self) -> Option<u32> {
        self.unmet.is_some().then_some(self.inner_frame)
    }

    fn for_row(&self, row: &MemberRow) -> &LayoutRules {
        let unmet = self.unmet.as_ref().filter(|_| row.frame != self.inner_frame);
        unmet.or(self.boarded.as_ref()).unwrap_or(self.plain)
    }
}

/// The members of one row, as if they went through the whole depth.
fn frame_row(
    site: &Site,
    surface: &Surface,
    row: &MemberRow,
    rules: &LayoutRules,
    place: &Place,
    shallow: &mut Shallow,
) -> Layout {
    let mut framed = Layout::default();
    let own_band;
    let rules = match row.plate_thickness_m {
        Some(plate_thickness_m) => {
            own_band = LayoutRules { plate_thickness_m, bottom_plates: 1, top_plates: 1, ..rules.clone() };
            &own_band
        }
        None => rules,
    };
    match (row.run, surface.kind) {
        (RowRun::Across, _) => lay_strapping(site, surface, row, rules, &mut framed),
        (RowRun::Up, SurfaceKind::Wall) if rules.is_rim => lay_out_rim(site, surface, row, rules, &mut framed),
        (RowRun::Up, SurfaceKind::Wall) => {
            *shallow = lay_out_wall(site, surface, row, rules, place, &mut framed);
        }
        (RowRun::Up, SurfaceKind::Ceiling | SurfaceKind::Roof | SurfaceKind::Floor) => {
            lay_out_flat(site, surface, row, rules, &mut framed);
        }
    }
    framed
}

/// Where dividers stand, from the end that the layout is measured from.
fn dividers_m(site: &Site, framing: &Framing, rules: &LayoutRules) -> Vec<f64> {
    let length_m = site.bounds.width_m();
    let Some(every_m) = framing.dividers_every_m.filter(|every_m| length_m / every_m <= MOST_MEMBERS) else {
        return Vec::new();
    };
    let steps = (1_u32..).map(|k| f64::from(k) * every_m).take_while(|x| *x < length_m - COINCIDENT_M);
    let mut places: Vec<f64> = match rules.layout_end {
        LayoutEnd::Left => steps.map(|x| site.bounds.min_x + x).collect(),
        LayoutEnd::Right => steps.map(|x| site.bounds.max_x - x).collect(),
    };
    places.sort_by(f64::total_cmp);
    places
}

/// Takes over what one row has to say, once; returns its members.
fn take_over(layout: &mut Layout, framed: Layout) -> Vec<Member> {
    for finding in framed.findings {
        if !layout.findings.contains(&finding) {
            layout.findings.push(finding);
        }
    }
    for assumption in framed.assumptions {
        if !layout.assumptions.contains(&assumption) {
            layout.assumptions.push(assumption);
        }
    }
    if layout.rough_openings.is_empty() {
        layout.rough_openings = framed.rough_openings;
    }
    if layout.eaves.is_empty() {
        layout.eaves = framed.eaves;
    }
    framed.members
}

/// Battens across the surface, their middles on every multiple of the spacing, from the lowest point up.
fn lay_strapping(site: &Site, surface: &Surface, row: &MemberRow, rules: &LayoutRules, framed: &mut Layout) {
    let openings = rough_openings(surface, rules);
    let mut carve = Carve::of(site);
    carve.block(openings.iter().flat_map(|opening| opening.shape.iter().cloned()));
    carve.block(openings.iter().map(|opening| polygon_of(&opening.rough)));
    take_given(&mut carve, surface);
    if row.spacing_m > 0.0 && site.bounds.height_m() / row.spacing_m <= MOST_MEMBERS {
        let half_m = row.member_width_m / 2.0;
        let bounds = &site.bounds;
        let middles = (0_u32..).map(|k| bounds.min_y + row.shift_m + f64::from(k) * row.spacing_m);
        let rows = middles.take_while(|y| *y - half_m < bounds.max_y);
        let boxes: Vec<Bounds> =
            rows.filter_map(|y| site.rectangle([bounds.min_x, bounds.max_x], [y - half_m, y + half_m])).collect();
        carve.take_boxes(MemberRole::Strapping, &boxes);
    }
    framed.members = carve.members();
    framed.rough_openings = openings.iter().map(|opening| polygon_of(&opening.rough)).collect();
}

/// The outline that a surface is laid out on; `None` where only an area is known of it, or of one of its openings.
pub(crate) fn outline_of(surface: &Surface) -> Option<&[Polygon]> {
    let has_no_place = |opening: &Opening| opening.outline.is_empty() && opening.area_m2 > 0.0;
    match &surface.extent {
        Extent::Outline(outline) if !surface.openings.iter().any(has_no_place) => Some(outline),
        Extent::Outline(_) | Extent::AreaM2(_) => None,
    }
}

/// Place of a surface, as findings name it.
pub(crate) fn place_of(surface: &Surface) -> Place {
    let entity = surface.source.entity.as_deref().and_then(|name| name.trim_start_matches('#').parse().ok());
    Place {
        input: surface.source.input.clone(),
        line: surface.source.line,
        column: None,
        entity,
        id: Some(surface.id.clone()),
    }
}

fn opening_without_outline(place: &Place) -> Finding {
    let message = "an opening has an area but no width and height, so that framing cannot go around it: this surface is \
                   framed by fraction; give the size of every opening";
    Finding::warning(Code::LayoutDoubt, place, message)
}

fn too_many_members(site: &Site, framing: &Framing, place: &Place) -> Finding {
    let message = format!(
        "a surface of {} x {} cannot be laid out with `{}`: no members on the layout are drawn; check its size, \
         the unit and the spacing",
        both_ways(site.bounds.width_m()),
        both_ways(site.bounds.height_m()),
        framing.text
    );
    Finding::error(Code::LayoutDoubt, place, message)
}
