//! Surfaces to lay out.

use cavitally::bays::{BayCut, cut_bays};
use cavitally::framing::{Layout, LayoutRules, MemberRole, lay_out, parse_framing};
use cavitally::geometry::{Polygon, Ring, total_area_m2};
use cavitally::model::{Exposure, Extent, Opening, OpeningKind, Surface, SurfaceKind};
use cavitally::source::Source;

/// Metres in an inch.
pub const INCH: f64 = 0.0254;

/// A surface with an outline in metres.
pub fn surface(kind: SurfaceKind, outline: Vec<Polygon>, openings: Vec<Opening>) -> Surface {
    Surface {
        exposure: Exposure::Exterior,
        openings,
        ..Surface::new("W1", Source::of_line("house.csv", 2), kind, Extent::Outline(outline))
    }
}

/// A wall with a top given by points from right to left, in metres.
pub fn wall(ring: Ring, openings: Vec<Opening>) -> Surface {
    surface(SurfaceKind::Wall, vec![Polygon::from_ring(ring)], openings)
}

/// A level wall, in inches.
pub fn level_wall_in(length: f64, height: f64, openings: &[[f64; 4]]) -> Surface {
    let openings =
        openings.iter().map(|o| opening(Polygon::rectangle(o[0] * INCH, o[1] * INCH, o[2] * INCH, o[3] * INCH)));
    let openings = openings.collect();
    surface(SurfaceKind::Wall, vec![Polygon::rectangle(0.0, 0.0, length * INCH, height * INCH)], openings)
}

/// An opening of any shape, in metres.
pub fn opening(outline: Polygon) -> Opening {
    let kind = OpeningKind::Window;
    Opening {
        id: "O1".to_owned(),
        name: None,
        kind,
        source: None,
        area_m2: outline.area_m2(),
        flue: None,
        clearance_m: None,
        outline: vec![outline],
    }
}

/// Lays out and cuts with the plain rules.
pub fn plain(surface: &Surface, framing: &str) -> (Layout, BayCut) {
    with_rules(surface, framing, &LayoutRules::default())
}

/// Lays out and cuts.
pub fn with_rules(surface: &Surface, framing: &str, rules: &LayoutRules) -> (Layout, BayCut) {
    let layout = lay_out(surface, &parse_framing(framing).unwrap(), rules);
    let cut = cut_bays(surface, &layout, rules);
    (layout, cut)
}

/// Area of a role in square inches.
pub fn role_in2(layout: &Layout, role: MemberRole) -> f64 {
    let pieces: Vec<Polygon> = layout.members.iter().filter(|m| m.role == role).map(|m| m.outline.clone()).collect();
    total_area_m2(&pieces) / (INCH * INCH)
}

/// Area of all members, in square metres.
pub fn members_m2(layout: &Layout) -> f64 {
    layout.members.iter().map(|member| member.area_m2).sum()
}

/// Area of all bays, in square metres.
pub fn bays_m2(cut: &BayCut) -> f64 {
    cut.bays.iter().map(|bay| bay.area_m2).sum()
}

/// Whether a point lies in a polygon (even-odd), in metres.
pub fn holds(polygon: &Polygon, [x, y]: [f64; 2]) -> bool {
    let mut is_inside = false;
    for ring in &polygon.rings {
        for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            if (a[1] > y) != (b[1] > y) && x < a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0]) {
                is_inside = !is_inside;
            }
        }
    }
    is_inside
}

/// Fails when two figures differ by more than a tolerance.
pub fn near(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((found - expected).abs() <= tolerance, "{what}: found {found}, expected {expected}");
}
