//! Pages painted: vectors and text that can be selected, numbered, with what they were made from in the footer.

use super::flow::{Flow, Mark, Sheet};
use super::fonts::Fonts;
use krilla::Document;
use krilla::color::rgb;
use krilla::destination::XyzDestination;
use krilla::geom::{PathBuilder, Point, Rect, Size, Transform};
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, Stroke};
use krilla::surface::Surface;
use krilla::text::TextDirection;
use krilla_svg::{SurfaceExt, SvgSettings};
use std::io;

const FOOT_PT: f32 = 9.0;

/// Space between two lines of the foot.
const FOOT_LEADING: f32 = 1.2;
/// Where the last line of the foot stands in the margin.
const FOOT_SHARE: f32 = 0.55;

/// The lines of a foot beside the number of the page.
fn foot_lines(foot: &[String], fonts: &Fonts, sheet: Sheet) -> Vec<String> {
    let number_pt = fonts.width_pt("999 of 999", FOOT_PT, false);
    let room_pt = sheet.room_pt() - number_pt - FOOT_PT;
    foot.iter().flat_map(|text| fonts.wrapped(text, FOOT_PT, false, room_pt)).collect()
}

/// The sheet with so much of it kept free as the foot takes beyond the margin.
#[allow(clippy::cast_precision_loss, reason = "a foot has few lines")]
pub(super) fn with_room_for(foot: &[String], fonts: &Fonts, sheet: Sheet) -> Sheet {
    let lines = foot_lines(foot, fonts, sheet).len() as f32;
    let needed_pt = sheet.margin_pt * FOOT_SHARE + FOOT_PT * FOOT_LEADING * lines;
    // A foot that reaches above the margin stands a line clear of what is above it.
    let beyond_pt = needed_pt - sheet.margin_pt;
    Sheet { foot_pt: if beyond_pt > 0.0 { beyond_pt + FOOT_PT } else { 0.0 }, ..sheet }
}

/// Paints the pages of a paper.
///
/// # Errors
/// What the library says of a page or a file that cannot be made.
pub(super) fn paint(flow: Flow<'_>, fonts: &Fonts, sheet: Sheet, title: &str, foot: &[String]) -> io::Result<Vec<u8>> {
    let refuse = |what: &str| io::Error::other(what.to_owned());
    let mut document = Document::new();
    document.set_metadata(
        Metadata::new().title(title.to_owned()).language("en".to_owned()).creator("cavitally".to_owned()),
    );
    let mut outline = Outline::new();
    for place in &flow.places {
        let at = Point::from_xy(sheet.margin_pt, place.y_pt);
        outline.push_child(OutlineNode::new(place.text.clone(), XyzDestination::new(place.page, at)));
    }
    document.set_outline(outline);
    let pages = flow.pages.len();
    for (index, marks) in flow.pages.into_iter().enumerate() {
        let settings = PageSettings::from_wh(sheet.width_pt, sheet.height_pt).ok_or_else(|| refuse("no page size"))?;
        let mut page = document.start_page_with(settings);
        let mut surface = page.surface();
        for mark in marks {
            put(mark, &mut surface, fonts);
        }
        let y_pt = sheet.height_pt - sheet.margin_pt * FOOT_SHARE;
        let number = format!("{} of {pages}", index + 1);
        let right_pt = sheet.width_pt - sheet.margin_pt - fonts.width_pt(&number, FOOT_PT, false);
        let lines = foot_lines(foot, fonts, sheet).into_iter().rev();
        let (mut texts, mut up_pt) = (vec![(right_pt, y_pt, number)], 0.0);
        for line in lines {
            texts.push((sheet.margin_pt, y_pt - up_pt, line));
            up_pt += FOOT_PT * FOOT_LEADING;
        }
        for (x_pt, y_pt, text) in texts {
            put(Mark::Text { x_pt, y_pt, size_pt: FOOT_PT, is_bold: false, text }, &mut surface, fonts);
        }
        surface.finish();
        page.finish();
    }
    document.finish().map_err(|error| io::Error::other(format!("the paper cannot be made: {error:?}")))
}

fn put(mark: Mark, surface: &mut Surface<'_>, fonts: &Fonts) {
    match mark {
        Mark::Text { x_pt, y_pt, size_pt, is_bold, text } => {
            surface.set_stroke(None);
            surface.set_fill(Some(Fill { paint: rgb::Color::new(0, 0, 0).into(), ..Fill::default() }));
            let at = Point::from_xy(x_pt, y_pt);
            surface.draw_text(at, fonts.font(is_bold), size_pt, &text, false, TextDirection::LeftToRight);
        }
        Mark::Rule { from_pt, to_pt } => {
            let mut path = PathBuilder::new();
            path.move_to(from_pt[0], from_pt[1]);
            path.line_to(to_pt[0], to_pt[1]);
            outline(path, surface, 0.5);
        }
        Mark::Frame { at_pt, size_pt } => {
            let mut path = PathBuilder::new();
            if let Some(frame) = Rect::from_xywh(at_pt[0], at_pt[1], size_pt[0], size_pt[1]) {
                path.push_rect(frame);
            }
            outline(path, surface, 0.9);
        }
        Mark::Drawing { at_pt, size_pt, tree } => {
            let Some(size) = Size::from_wh(size_pt[0], size_pt[1]) else { return };
            surface.push_transform(&Transform::from_translate(at_pt[0], at_pt[1]));
            // A drawing that the library cannot paint leaves its place empty; its figures stand in the table beside it.
            let _ = surface.draw_svg(&tree, size, SvgSettings::default());
            surface.pop();
        }
    }
}

fn outline(path: PathBuilder, surface: &mut Surface<'_>, width: f32) {
    let Some(path) = path.finish() else { return };
    surface.set_fill(None);
    surface.set_stroke(Some(Stroke { paint: rgb::Color::new(60, 60, 60).into(), width, ..Stroke::default() }));
    surface.draw_path(&path);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_foot_keeps_its_room_and_a_short_one_takes_none() {
        let fonts = Fonts::read().unwrap();
        assert_eq!(with_room_for(&["short".to_owned()], &fonts, Sheet::LETTER), Sheet::LETTER);
        let foot = ["address and who measured ".repeat(16), "files and checksums ".repeat(12)];
        let sheet = with_room_for(&foot, &fonts, Sheet::LETTER);
        let lines = foot_lines(&foot, &fonts, sheet).len();
        assert!(lines >= 5 && sheet.foot_pt > 20.0, "{lines} lines, {} pt", sheet.foot_pt);
        // A line is free between the foot and what is above it.
        let lines_pt: f32 = (0..lines).map(|_| FOOT_PT * FOOT_LEADING).sum();
        let taken_pt = sheet.margin_pt * FOOT_SHARE + lines_pt + FOOT_PT;
        assert!(sheet.margin_pt + sheet.foot_pt >= taken_pt - 0.01, "{} pt", sheet.foot_pt);
    }
}
