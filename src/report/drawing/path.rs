//! Outlines as path data, short: hundredths of a pixel, upright rectangles by their sides.

use super::scale::Scale;
use crate::geometry::{Point, Polygon};
use std::fmt::Write;

/// A number to the hundredth without trailing zeros.
pub(super) fn px(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// A number to the tenth: text needs no more.
pub(super) fn tenth_px(value: f64) -> String {
    let text = format!("{value:.1}");
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}

/// All outlines as one path.
pub(super) fn path<'p>(polygons: impl IntoIterator<Item = &'p Polygon>, scale: &Scale) -> String {
    let mut data = String::new();
    for polygon in polygons {
        for ring in &polygon.rings {
            add_ring(ring, scale, &mut data);
        }
    }
    data
}

/// A ring that is given in pixels already.
fn add_ring(ring: &[Point], scale: &Scale, data: &mut String) {
    let points: Vec<Point> = ring.iter().map(|point| scale.at(*point)).collect();
    if let &[a, b, c, d] = points.as_slice()
        && is_upright([a, b, c, d])
    {
        // Writing to a string cannot fail.
        let _ = write!(data, "M{} {}", px(a[0].min(c[0])), px(a[1].min(c[1])));
        let (w, h) = (px((c[0] - a[0]).abs()), px((c[1] - a[1]).abs()));
        let _ = write!(data, "h{w}v{h}h-{w}z");
        return;
    }
    for (index, point) in points.iter().enumerate() {
        let _ = write!(data, "{}{} {}", if index == 0 { 'M' } else { 'L' }, px(point[0]), px(point[1]));
    }
    if !points.is_empty() {
        data.push('z');
    }
}

/// Whether four corners are those of an upright rectangle.
fn is_upright([a, b, c, d]: [Point; 4]) -> bool {
    let same = |p: f64, q: f64| (p - q).abs() < 1e-6;
    let x_first = same(a[1], b[1]) && same(b[0], c[0]) && same(c[1], d[1]) && same(d[0], a[0]);
    let y_first = same(a[0], b[0]) && same(b[1], c[1]) && same(c[0], d[0]) && same(d[1], a[1]);
    x_first || y_first
}

/// Round marks of a radius at places in pixels.
pub(super) fn circles(places: &[Point], radius_px: f64) -> String {
    let mut data = String::new();
    let (r, across) = (px(radius_px), px(2.0 * radius_px));
    for place in places {
        let _ = write!(
            data,
            "M{} {}a{r} {r} 0 1 0 {across} 0a{r} {r} 0 1 0-{across} 0",
            px(place[0] - radius_px),
            px(place[1])
        );
    }
    data
}

/// Upright strokes of a length at places in pixels.
pub(super) fn strokes(places: &[Point], length_px: f64) -> String {
    let mut data = String::new();
    for place in places {
        let _ = write!(data, "M{} {}v{}", px(place[0]), px(place[1] - length_px / 2.0), px(length_px));
    }
    data
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short_and_rectangles_go_by_their_sides() {
        assert_eq!([1.0, 0.126, -0.001, 20.5].map(px), ["1", "0.13", "0", "20.5"]);
        let scale = Scale { from_m: 0.0, to_m: 4.0, length_m: 4.0, height_m: 2.0, px_per_m: 10.0, is_mirrored: false };
        let bay = Polygon::rectangle(1.0, 0.5, 2.0, 1.5);
        assert_eq!(path([&bay], &scale), "M10 5h10v10h-10z");
        let mirrored = Scale { is_mirrored: true, ..scale };
        assert_eq!(path([&bay], &mirrored), "M20 5h10v10h-10z");
        let triangle = Polygon::from_ring(vec![[0.0, 0.0], [4.0, 0.0], [2.0, 2.0]]);
        assert_eq!(path([&triangle], &mirrored), "M40 20L0 20L20 0z");
    }
}
