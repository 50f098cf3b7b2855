//! The key plan of a storey: where its surfaces stand, by number.

use super::path::px;
use super::{TEXT_PX, WIDTH_PX};
use crate::geometry::{Bounds, Point};
use maud::{Markup, html};

/// Height that a plan keeps to.
const HEIGHT_PX: f64 = 460.0;
/// Room around it for the numbers.
const MARGIN_PX: f64 = 26.0;
/// From a wall's line to its number.
const OFF_PX: f64 = 13.0;

/// A surface on the plan.
#[derive(Clone, Debug)]
pub struct PlanSurface {
    /// Its number, where it is one of the crew's stops.
    pub number: Option<u32>,
    /// What a number leads to.
    pub link: String,
    /// What it is called.
    pub name: String,
    /// Whether it is a wall: a line; all else is an outline.
    pub is_wall: bool,
    /// Its line or outline in the world, in metres.
    pub plan_m: Vec<Point>,
}

/// The plan; `None` where nothing has a place.
pub fn key_plan(id: &str, title: &str, surfaces: &[PlanSurface]) -> Option<Markup> {
    let bounds = Bounds::of(surfaces.iter().flat_map(|surface| &surface.plan_m))?;
    let (width_m, height_m) = (bounds.width_m().max(0.1), bounds.height_m().max(0.1));
    let per_m = ((WIDTH_PX - 2.0 * MARGIN_PX) / width_m).min((HEIGHT_PX - 2.0 * MARGIN_PX) / height_m);
    let at = |point: &Point| -> Point {
        [(point[0] - bounds.min_x) * per_m + MARGIN_PX, (bounds.max_y - point[1]) * per_m + MARGIN_PX]
    };
    let (width, height) = (width_m * per_m + 2.0 * MARGIN_PX, height_m * per_m + 2.0 * MARGIN_PX);
    let title_id = format!("t-{id}");
    let places = numbered(surfaces, &at);
    Some(html! {
        svg.drawing xmlns="http://www.w3.org/2000/svg" viewBox=(format!("0 0 {} {}", px(width), px(height)))
            width=(px(width)) height=(px(height)) role="group" aria-labelledby=(title_id)
            font-family="system-ui, 'DejaVu Sans', Arial, sans-serif" font-size=(px(TEXT_PX)) text-anchor="middle" {
            title id=(title_id) { (title) }
            @for surface in surfaces.iter().filter(|surface| !surface.is_wall) {
                path.p-flat d=(line(surface, &at)) fill="none" stroke="#888" stroke-width="0.8" stroke-dasharray="5 3" {}
            }
            @for surface in surfaces.iter().filter(|surface| surface.is_wall) {
                @let (class, stroke, wide, dash) = if surface.number.is_some() {
                    ("p-wall", "#1f4f82", "4", None)
                } else {
                    ("p-rest", "#888", "1.5", Some("2 2"))
                };
                path class=(class) d=(line(surface, &at)) fill="none" stroke=(stroke) stroke-width=(wide)
                    stroke-dasharray=[dash] {}
            }
            @for (surface, place) in &places {
                a href=(surface.link) {
                    title { (surface.number.unwrap_or_default()) ": " (surface.name) }
                    circle.p-dot cx=(px(place[0])) cy=(px(place[1])) r="9.5" fill="#fff" stroke="#1f4f82" {}
                    text.p-text x=(px(place[0])) y=(px(place[1] + TEXT_PX * 0.35)) fill="#111" {
                        (surface.number.unwrap_or_default())
                    }
                }
            }
        }
    })
}

fn line(surface: &PlanSurface, at: &impl Fn(&Point) -> Point) -> String {
    let points: Vec<String> =
        surface.plan_m.iter().map(at).map(|point| format!("{} {}", px(point[0]), px(point[1]))).collect();
    format!("M{}{}", points.join("L"), if surface.is_wall { "" } else { "z" })
}

/// Where the numbers stand: beside the middle of a wall, in the middle of an outline, moved on where one stands already.
fn numbered<'s>(surfaces: &'s [PlanSurface], at: &impl Fn(&Point) -> Point) -> Vec<(&'s PlanSurface, Point)> {
    let mut places: Vec<(&PlanSurface, Point)> = Vec::new();
    for surface in surfaces.iter().filter(|surface| surface.number.is_some()) {
        let points: Vec<Point> = surface.plan_m.iter().map(at).collect();
        let Some(place) = (if surface.is_wall { beside(&points) } else { middle(&points) }) else { continue };
        let is_taken = |place: Point| places.iter().any(|(_, other)| distance(*other, place) < 18.0);
        let around = (0..=4).flat_map(|ring| {
            let off = f64::from(ring) * 20.0;
            [[0.0, off], [off, 0.0], [0.0, -off], [-off, 0.0]]
        });
        let mut tries = around.map(|off| [place[0] + off[0], place[1] + off[1]]);
        let free = tries.find(|place| !is_taken(*place)).unwrap_or(place);
        places.push((surface, free));
    }
    places
}

/// Beside the middle of a line, at its right: a model's walls are seen from there.
fn beside(points: &[Point]) -> Option<Point> {
    let pair = points.windows(2).nth((points.len().saturating_sub(1)) / 2)?;
    let &[a, b] = pair else { return None };
    let length = distance(a, b).max(1e-9);
    let right = [-(b[1] - a[1]) / length, (b[0] - a[0]) / length];
    let middle = [f64::midpoint(a[0], b[0]), f64::midpoint(a[1], b[1])];
    Some([middle[0] + right[0] * OFF_PX, middle[1] + right[1] * OFF_PX])
}

fn middle(points: &[Point]) -> Option<Point> {
    let bounds = Bounds::of(points)?;
    Some([f64::midpoint(bounds.min_x, bounds.max_x), f64::midpoint(bounds.min_y, bounds.max_y)])
}

fn distance(a: Point, b: Point) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}
