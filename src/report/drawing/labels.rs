//! Text in bays and openings: what fits is written, in the largest form that does.

use super::path::tenth_px;
use super::scale::Scale;
use super::{TEXT_PX, text_px};
use crate::geometry::{Point, Polygon};
use maud::{Markup, html};

/// Where text is tried in a piece, as shares of its width and height: upright in its middle first, off the holes.
const PLACES: [[f64; 2]; 11] = [
    [0.5, 0.5],
    [0.5, 0.3],
    [0.5, 0.25],
    [0.5, 0.75],
    [0.5, 0.72],
    [0.5, 0.18],
    [0.5, 0.85],
    [0.22, 0.5],
    [0.78, 0.5],
    [0.22, 0.2],
    [0.78, 0.2],
];
/// Room around a hole's place that stays free of text.
const HOLE_PX: f64 = 6.0;

/// A way to write: its lines, and whether they run upward.
pub(super) struct Form {
    pub lines: Vec<String>,
    pub is_turned: bool,
}

impl Form {
    pub fn level(lines: &[&str]) -> Self {
        Self { lines: lines.iter().map(|&line| line.to_owned()).collect(), is_turned: false }
    }

    pub fn turned(line: &str) -> Self {
        Self { lines: vec![line.to_owned()], is_turned: true }
    }

    /// Half of its width and height on paper.
    #[allow(clippy::cast_precision_loss, reason = "texts are short")]
    fn half_px(&self) -> [f64; 2] {
        let longest_px = self.lines.iter().map(|line| text_px(line)).fold(0.0, f64::max);
        let (along, across) = (longest_px / 2.0, self.lines.len() as f64 * TEXT_PX * 1.15 / 2.0);
        if self.is_turned { [across, along] } else { [along, across] }
    }
}

/// The first form that has room in a piece, off the holes, written there; `None` where none has.
pub(super) fn write_in(piece: &Polygon, forms: &[Form], holes_px: &[Point], scale: &Scale) -> Option<Markup> {
    let drawn =
        Polygon { rings: piece.rings.iter().map(|ring| ring.iter().map(|point| scale.at(*point)).collect()).collect() };
    let bounds = drawn.bounds()?;
    for form in forms {
        let half = form.half_px();
        if 2.0 * half[0] > bounds.width_px() + 0.5 || 2.0 * half[1] > bounds.height_px() + 0.5 {
            continue;
        }
        for share in PLACES {
            let at = [bounds.min_x + share[0] * bounds.width_m(), bounds.min_y + share[1] * bounds.height_m()];
            let is_on_paper = at[0] - half[0] > -1.0 && at[0] + half[0] < scale.width_px() + 1.0;
            if is_on_paper && has_room(&drawn, at, half) && is_free(holes_px, at, half) {
                return Some(written(form, at));
            }
        }
    }
    None
}

/// A place within a piece, in its middle where that lies within.
pub(super) fn place_in(piece: &Polygon, scale: &Scale) -> Option<Point> {
    let drawn =
        Polygon { rings: piece.rings.iter().map(|ring| ring.iter().map(|point| scale.at(*point)).collect()).collect() };
    let bounds = drawn.bounds()?;
    let of =
        |share: [f64; 2]| [bounds.min_x + share[0] * bounds.width_m(), bounds.min_y + share[1] * bounds.height_m()];
    let middle = of([0.5, 0.5]);
    Some(PLACES.into_iter().map(of).find(|at| is_inside(&drawn, *at)).unwrap_or(middle))
}

/// Pixels stand where metres do elsewhere.
trait InPixels {
    fn width_px(&self) -> f64;
    fn height_px(&self) -> f64;
}

impl InPixels for crate::geometry::Bounds {
    fn width_px(&self) -> f64 {
        self.width_m()
    }

    fn height_px(&self) -> f64 {
        self.height_m()
    }
}

fn has_room(piece: &Polygon, at: Point, half: [f64; 2]) -> bool {
    // A little of the box may lie over the edge: text has air around it.
    let (x, y) = (half[0] * 0.96, half[1] * 0.85);
    let corners = [[-x, -y], [x, -y], [x, y], [-x, y], [0.0, 0.0]];
    corners.iter().all(|off| is_inside(piece, [at[0] + off[0], at[1] + off[1]]))
}

fn is_free(holes_px: &[Point], at: Point, half: [f64; 2]) -> bool {
    holes_px.iter().all(|hole| {
        (hole[0] - at[0]).abs() > half[0] + HOLE_PX - 2.0 || (hole[1] - at[1]).abs() > half[1] + HOLE_PX - 2.0
    })
}

/// Whether a point lies in a polygon.
fn is_inside(polygon: &Polygon, [x, y]: Point) -> bool {
    let mut inside = false;
    for ring in &polygon.rings {
        for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            if (a[1] > y) != (b[1] > y) && x < a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]) {
                inside = !inside;
            }
        }
    }
    inside
}

/// Lines of text around a place; the group that they stand in centres them.
fn written(form: &Form, at: Point) -> Markup {
    if form.is_turned {
        let line = form.lines.first().map(String::as_str).unwrap_or_default();
        let turn = format!("translate({} {})rotate(-90)", tenth_px(at[0] + TEXT_PX * 0.35), tenth_px(at[1]));
        return html! { text transform=(turn) { (line) } };
    }
    #[allow(clippy::cast_precision_loss, reason = "a few lines")]
    let first = at[1] - (form.lines.len() as f64 - 1.0) * TEXT_PX * 1.15 / 2.0 + TEXT_PX * 0.35;
    #[allow(clippy::cast_precision_loss, reason = "a few lines")]
    let line_at = |index: usize| tenth_px(first + index as f64 * TEXT_PX * 1.15);
    html! {
        @for (index, line) in form.lines.iter().enumerate() {
            text x=(tenth_px(at[0])) y=(line_at(index)) { (line) }
        }
    }
}
