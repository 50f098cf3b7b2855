//! Numbers of bays that are too small to write in: outside the drawing, each with a line to its bay.

use super::path::{circles, px, tenth_px};
use super::scale::Scale;
use super::{TEXT_PX, text_px};
use crate::geometry::Point;
use maud::{Markup, html};

/// Height of a row of numbers.
const ROW_PX: f64 = TEXT_PX * 1.25;
/// Between the drawing and its first row.
const GAP_PX: f64 = 8.0;
/// Between two numbers of a row.
const BETWEEN_PX: f64 = 5.0;
/// Radius of the dot in a bay.
const DOT_PX: f64 = 1.6;

/// A number and where its line ends, in the pixels of the stretch.
pub(super) struct Callout {
    pub number: String,
    pub at_px: Point,
}

/// A number with the middle of its place along the stretch.
struct Placed {
    callout: Callout,
    x_px: f64,
}

/// Numbers above the drawing and below it, by rows from the drawing outwards.
pub(super) struct Callouts {
    above: Vec<Vec<Placed>>,
    below: Vec<Vec<Placed>>,
}

impl Callouts {
    /// Each number on the nearer side, beside its bay where there is room.
    pub(super) fn place(all: Vec<Callout>, scale: &Scale) -> Self {
        let middle_px = scale.height_px() / 2.0;
        let (above, below) = all.into_iter().partition(|callout: &Callout| callout.at_px[1] <= middle_px);
        Self { above: rows(above, scale.width_px()), below: rows(below, scale.width_px()) }
    }

    /// Height that the rows above take.
    pub(super) fn above_px(&self) -> f64 {
        height_px(&self.above)
    }

    /// Height that the rows below take.
    pub(super) fn below_px(&self) -> f64 {
        height_px(&self.below)
    }

    /// Lines and numbers, from the upper left of the stretch.
    pub(super) fn draw(&self, scale: &Scale) -> Markup {
        let foot_px = scale.height_px();
        let above = |row: f64| (-GAP_PX - row * ROW_PX, -GAP_PX - row * ROW_PX + 2.0);
        let below = |row: f64| {
            let base_px = foot_px + GAP_PX + (row + 1.0) * ROW_PX - TEXT_PX * 0.3;
            (base_px, base_px - TEXT_PX * 0.8)
        };
        let numbered = |rows: &'_ [Vec<Placed>], at: &dyn Fn(f64) -> (f64, f64)| -> Vec<(String, Point, Point, f64)> {
            let mut all = Vec::new();
            for (row, placed) in (0_u32..).zip(rows) {
                let (base_px, end_px) = at(f64::from(row));
                let one = |one: &Placed| (one.callout.number.clone(), one.callout.at_px, [one.x_px, end_px], base_px);
                all.extend(placed.iter().map(one));
            }
            all
        };
        let all: Vec<_> = numbered(&self.above, &above).into_iter().chain(numbered(&self.below, &below)).collect();
        if all.is_empty() {
            return Markup::default();
        }
        let line = |(_, to, from, _): &(String, Point, Point, f64)| {
            format!("M{} {}L{} {}", px(from[0]), px(from[1]), px(to[0]), px(to[1]))
        };
        let lines = all.iter().map(line).collect::<Vec<_>>().concat();
        let dots = circles(&all.iter().map(|(_, to, _, _)| *to).collect::<Vec<_>>(), DOT_PX);
        html! {
            path.d-dim d=(lines) fill="none" stroke="#555" stroke-width="0.7" {}
            path.d-dim d=(dots) fill="none" stroke="#555" stroke-width="1.2" {}
            g.d-text.d-halo fill="#111" stroke="#fff" stroke-width="2.5" stroke-linejoin="round" paint-order="stroke" {
                @for (number, _, from, base_px) in &all {
                    text x=(tenth_px(from[0])) y=(tenth_px(*base_px)) { (number) }
                }
            }
        }
    }
}

#[allow(clippy::cast_precision_loss, reason = "a few rows")]
fn height_px(rows: &[Vec<Placed>]) -> f64 {
    if rows.is_empty() { 0.0 } else { GAP_PX + rows.len() as f64 * ROW_PX }
}

fn wide_px(callout: &Callout) -> f64 {
    text_px(&callout.number) + BETWEEN_PX
}

/// As many rows as the numbers need, each from the left.
fn rows(mut all: Vec<Callout>, width_px: f64) -> Vec<Vec<Placed>> {
    if all.is_empty() {
        return Vec::new();
    }
    all.sort_by(|a, b| a.at_px[0].total_cmp(&b.at_px[0]).then(b.at_px[1].total_cmp(&a.at_px[1])));
    let needed_px: f64 = all.iter().map(wide_px).sum();
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few rows")]
    let number = (needed_px / width_px.max(1.0)).ceil().clamp(1.0, 20.0) as usize;
    let mut rows: Vec<Vec<Callout>> = (0..number).map(|_| Vec::new()).collect();
    for (index, callout) in all.into_iter().enumerate() {
        // By turns, so that all rows spread over the whole width.
        if let Some(row) = rows.get_mut(index % number) {
            row.push(callout);
        }
    }
    rows.into_iter().map(|row| spread(row, width_px)).collect()
}

/// Numbers of a row side by side: over their bays, pushed to the right by those before them and back from the end.
fn spread(row: Vec<Callout>, width_px: f64) -> Vec<Placed> {
    let mut free_px = f64::NEG_INFINITY;
    let mut placed: Vec<Placed> = Vec::new();
    for callout in row {
        let half_px = wide_px(&callout) / 2.0;
        let x_px = callout.at_px[0].max(free_px + half_px).max(half_px);
        free_px = x_px + half_px;
        placed.push(Placed { callout, x_px });
    }
    let mut end_px = width_px;
    for one in placed.iter_mut().rev() {
        let half_px = wide_px(&one.callout) / 2.0;
        one.x_px = one.x_px.min(end_px - half_px);
        end_px = one.x_px - half_px;
    }
    placed
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(number: u32, x_px: f64, y_px: f64) -> Callout {
        Callout { number: number.to_string(), at_px: [x_px, y_px] }
    }

    #[test]
    fn numbers_of_a_row_do_not_overlap_and_stay_on_the_paper() {
        let scale = Scale { from_m: 0.0, to_m: 5.0, length_m: 5.0, height_m: 2.0, px_per_m: 20.0, is_mirrored: false };
        let all = (1..=9).map(|number| at(number, 90.0 + f64::from(number), 5.0)).chain([at(10, 50.0, 39.0)]).collect();
        let callouts = Callouts::place(all, &scale);
        assert_eq!((callouts.above.len(), callouts.below.len()), (2, 1));
        for row in callouts.above.iter().chain(&callouts.below) {
            assert!(row.iter().all(|one| one.x_px >= 0.0 && one.x_px <= 100.0));
            for pair in row.windows(2) {
                let least_px = f64::midpoint(wide_px(&pair[0].callout), wide_px(&pair[1].callout));
                assert!(pair[1].x_px - pair[0].x_px >= least_px - 1e-9);
            }
        }
        assert!(callouts.below_px() > 0.0 && callouts.above_px() > callouts.below_px());
    }
}
