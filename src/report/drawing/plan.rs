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
const OFF_PX: f64 = 14.0;
/// Numbers that a part of the plan has room for.
const NUMBERS_A_TILE: usize = 36;
/// Most parts along a side.
const MOST_A_SIDE: usize = 8;
/// Ways in which a number moves aside.
const WAYS: [Point; 8] =
    [[0.0, 1.0], [1.0, 0.0], [0.0, -1.0], [-1.0, 0.0], [0.7, 0.7], [0.7, -0.7], [-0.7, -0.7], [-0.7, 0.7]];

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

/// A part of the plan on paper.
struct Tile {
    min: Point,
    max: Point,
    per_m: f64,
}

impl Tile {
    /// A point of the world on paper.
    fn at(&self, point: Point) -> Point {
        [(point[0] - self.min[0]) * self.per_m + MARGIN_PX, (self.max[1] - point[1]) * self.per_m + MARGIN_PX]
    }

    fn size_px(&self) -> Point {
        [0, 1].map(|axis: usize| {
            let span = |point: &Point| point.get(axis).copied().unwrap_or(0.0);
            (span(&self.max) - span(&self.min)) * self.per_m + 2.0 * MARGIN_PX
        })
    }

    fn holds(&self, place: Point) -> bool {
        let size = self.size_px();
        let within =
            |value: f64, most: f64| value >= MARGIN_PX - OFF_PX - 1.0 && value <= most - MARGIN_PX + OFF_PX + 1.0;
        within(place[0], size[0]) && within(place[1], size[1])
    }
}

/// The plan, in several parts where its numbers would not find room in one; none where nothing has a place.
pub fn key_plan(id: &str, title: &str, surfaces: &[PlanSurface]) -> Vec<Markup> {
    let Some(bounds) = Bounds::of(surfaces.iter().flat_map(|surface| &surface.plan_m)) else { return Vec::new() };
    let tiles = tiles(&bounds, surfaces.iter().filter(|surface| surface.number.is_some()).count());
    let mut left: Vec<&PlanSurface> = surfaces.iter().filter(|surface| surface.number.is_some()).collect();
    let mut drawn: Vec<(&Tile, Vec<(&PlanSurface, Point)>)> = Vec::new();
    for tile in &tiles {
        let (own, others) =
            left.into_iter().partition(|surface| anchor(surface, tile).is_some_and(|at| tile.holds(at)));
        left = others;
        let own: Vec<&PlanSurface> = own;
        if !own.is_empty() {
            drawn.push((tile, numbered(&own, tile)));
        }
    }
    let number = drawn.len();
    let part = |index: usize| if number > 1 { format!(", part {} of {number}", index + 1) } else { String::new() };
    let parts = drawn.iter().enumerate();
    parts
        .map(|(index, (tile, places))| {
            one(&format!("{id}-{index}"), &format!("{title}{}", part(index)), surfaces, (tile, places))
        })
        .collect()
}

/// As many parts a side as keep the numbers of each to what has room; from the upper left.
fn tiles(bounds: &Bounds, numbers: usize) -> Vec<Tile> {
    let side = (1..MOST_A_SIDE).find(|side| side * side * NUMBERS_A_TILE >= numbers).unwrap_or(MOST_A_SIDE);
    #[allow(clippy::cast_precision_loss, reason = "a few parts")]
    let (width_m, height_m) = (bounds.width_m().max(0.1) / side as f64, bounds.height_m().max(0.1) / side as f64);
    let per_m = ((WIDTH_PX - 2.0 * MARGIN_PX) / width_m).min((HEIGHT_PX - 2.0 * MARGIN_PX) / height_m);
    let mut tiles = Vec::new();
    for row in 0..side {
        for column in 0..side {
            #[allow(clippy::cast_precision_loss, reason = "a few parts")]
            let (x, y) = (bounds.min_x + column as f64 * width_m, bounds.max_y - row as f64 * height_m);
            tiles.push(Tile { min: [x, y - height_m], max: [x + width_m, y], per_m });
        }
    }
    tiles
}

fn one(id: &str, title: &str, surfaces: &[PlanSurface], (tile, places): (&Tile, &[(&PlanSurface, Point)])) -> Markup {
    let [width, height] = tile.size_px().map(px);
    let title_id = format!("t-{id}");
    let (walls, flat): (Vec<&PlanSurface>, Vec<&PlanSurface>) = surfaces.iter().partition(|surface| surface.is_wall);
    html! {
        svg.drawing xmlns="http://www.w3.org/2000/svg" viewBox=(format!("0 0 {width} {height}")) width=(width)
            height=(height) role="group" aria-labelledby=(title_id)
            font-family="system-ui, 'DejaVu Sans', Arial, sans-serif" font-size=(px(TEXT_PX)) text-anchor="middle" {
            title id=(title_id) { (title) }
            @for surface in flat {
                path.p-flat d=(line(surface, tile)) fill="none" stroke="#888" stroke-width="0.8" stroke-dasharray="5 3" {}
            }
            @for surface in walls {
                @let (class, stroke, wide, dash) = if surface.number.is_some() {
                    ("p-wall", "#1f4f82", "4", None)
                } else {
                    ("p-rest", "#888", "1.5", Some("2 2"))
                };
                path class=(class) d=(line(surface, tile)) fill="none" stroke=(stroke) stroke-width=(wide)
                    stroke-dasharray=[dash] {}
            }
            @for (surface, place) in places {
                a href=(surface.link) {
                    title { (surface.number.unwrap_or_default()) ": " (surface.name) }
                    circle.p-dot cx=(px(place[0])) cy=(px(place[1])) r="10.5" fill="#fff" stroke="#1f4f82" {}
                    text.p-text x=(px(place[0])) y=(px(place[1] + TEXT_PX * 0.35)) fill="#111" {
                        (surface.number.unwrap_or_default())
                    }
                }
            }
        }
    }
}

fn line(surface: &PlanSurface, tile: &Tile) -> String {
    let points = surface.plan_m.iter().map(|point| tile.at(*point));
    let points: Vec<String> = points.map(|point| format!("{} {}", px(point[0]), px(point[1]))).collect();
    format!("M{}{}", points.join("L"), if surface.is_wall { "" } else { "z" })
}

/// Where a number belongs: beside the middle of a wall, in the middle of an outline.
fn anchor(surface: &PlanSurface, tile: &Tile) -> Option<Point> {
    let points: Vec<Point> = surface.plan_m.iter().map(|point| tile.at(*point)).collect();
    if surface.is_wall { beside(&points) } else { middle(&points) }
}

/// Where the numbers stand, moved on where one stands already.
fn numbered<'s>(surfaces: &[&'s PlanSurface], tile: &Tile) -> Vec<(&'s PlanSurface, Point)> {
    let mut places: Vec<(&PlanSurface, Point)> = Vec::new();
    let size = tile.size_px();
    for &surface in surfaces {
        let Some(place) = anchor(surface, tile) else { continue };
        let is_free = |place: Point| {
            let is_on_paper =
                place[0] > 11.0 && place[1] > 11.0 && place[0] < size[0] - 11.0 && place[1] < size[1] - 11.0;
            is_on_paper && places.iter().all(|(_, other)| distance(*other, place) >= 21.5)
        };
        let around = (0..=5).flat_map(|ring| {
            let off = f64::from(ring) * 11.0;
            WAYS.map(|way| [place[0] + off * way[0], place[1] + off * way[1]])
        });
        let free = { around }.find(|place| is_free(*place)).unwrap_or(place);
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
